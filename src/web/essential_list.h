/*
 * Which keys of a scenario the page's form asks for, in order, with what a person calls them and
 * how each is found. Unit, range, default and its reason are the key's own (scenario_keys.h).
 */
#ifndef HUBPHASE_SRC_WEB_ESSENTIAL_LIST_H
#define HUBPHASE_SRC_WEB_ESSENTIAL_LIST_H

#include "record/scenario/scenario_keys.h"

#include <stdbool.h>

typedef struct hp_web_essential {
    hp_key_id key;
    const char *label;
    const char *hint;   /* how it is found, or what to take meanwhile; NULL: the default's reason */
    const char *preset; /* what the form states unless it is changed; NULL: the default */
} hp_web_essential;

#define HP_WEB_ESSENTIALS_MAX 14 /* fields of a group */

typedef struct hp_web_essential_group {
    const char *title; /* says what they are for */
    bool rare;         /* seldom known, or asked for later: folded */
    const char *of;    /* what alone reckons with them: "fit", "controls"; NULL: the simulation */
    hp_web_essential field[HP_WEB_ESSENTIALS_MAX]; /* up to the first without a label */
} hp_web_essential_group;

extern const hp_web_essential_group hp_web_essentials_list[];
extern const int hp_web_essentials_groups;

/* A word that a key may have, as a fitter says it: "lithium-ion" for "li_ion". */
const char *hp_web_choice_said(const char *word);
/* The field of a key's path, or NULL. */
const hp_web_essential *hp_web_essential_find(const char *path);

#endif
