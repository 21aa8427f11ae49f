/*
 * Words of the fit: what each rule and each figure is called, why the rule stands, what to do when
 * a part does not fit.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_FIT_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_FIT_WORDS_H

#include "hubphase/decide/fit.h"
#include "hubphase/model/labels.h"

#include <stddef.h>

#define HP_FIT_CODES 7

#define HP_FIT_SOURCES 10

/* Where a rule or its figures come from, with its status; bit 0 .. HP_FIT_SOURCES - 1. */
const char *hp_fit_source_text(int bit);

typedef struct hp_fit_rule_words {
    const char *name; /* in JSON */
    const char *title;
    const char *rule;
    unsigned sources;                 /* set of bits for hp_fit_source_text */
    const char *advice[HP_FIT_CODES]; /* by the line's code; NULL: nothing to say */
} hp_fit_rule_words;

const hp_fit_rule_words *hp_fit_words_of(hp_fit_rule_id rule);

typedef struct hp_fit_figure_words {
    const char *name; /* in JSON, with its unit */
    const char *words;
    const char *unit;    /* for people */
    double factor;       /* from SI to that unit, also in JSON */
    const char *endless; /* what an infinite value means; NULL: "no limit" */
} hp_fit_figure_words;

const hp_fit_figure_words *hp_fit_figure_words_of(hp_fit_what what);

/* What to mind with a battery of such cells. */
char *hp_fit_battery_caution(hp_cell cell, char *out, size_t size); /* Returns out. */

/* Path of the scenario's key that would fill this gap; `bit` of HP_FIT_LACKS_... NULL: no key does.
 */
const char *hp_fit_lack_key(int bit);
/* A number with three figures, or as many as stand before its point. Returns out. */
char *hp_fit_number(double value, char *out, size_t size);
/* "battery full 42 V", with its band. Returns out. */
char *hp_fit_figure_text(const hp_fit_figure *figure, char *out, size_t size);
/* All figures of a line. Returns out. */
char *hp_fit_figures_text(const hp_fit_line *line, char *out, size_t size);
/* What a gap is called; `bit` as for hp_fit_lack_key, NULL where nothing fills it. */
typedef const char *(*hp_fit_namer)(int bit);

/* What to do about a line, or what is missing, by these names (NULL: by the scenario's keys); empty
 * where nothing is to be done. Returns out. */
char *hp_fit_advice_text(const hp_fit *fit, const hp_fit_line *line, const hp_labels *labels,
                         hp_fit_namer namer, char *out, size_t size);
/* What all lines come to: "14 of 21 lines are ok, 3 to look at, ...". Returns out. */
char *hp_fit_summary_text(const hp_fit *fit, char *out, size_t size);

#endif
