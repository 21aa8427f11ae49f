/*
 * The problems found in one file, shown together in the order of the file.
 *
 * Each is one block, in the form that YAML parsers and compilers use:
 *
 *     barrow.yaml:7:14: error: supply.battery_v is "36 V", must be ...
 *       battery_v: 36 V
 *                  ^~~~
 *
 * The problems that libfyaml finds and our own go through the same printer. It cuts long lines and
 * keeps control characters off the terminal, and it can point at bytes that no parser accepts.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_PROBLEM_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_PROBLEM_H

#include "hubphase/base/text.h"
#include "record/scenario/scenario_source.h"

#include <stdio.h>

#define HP_PROBLEMS_SHOWN 40 /* later ones are counted only */

typedef struct hp_problem {
    hp_place place;
    int order; /* found as the n-th */
    char text[720];
    char key[96]; /* of the scenario that it is about; empty: not known */
} hp_problem;

typedef struct hp_problems {
    int count; /* all that were found */
    hp_problem item[HP_PROBLEMS_SHOWN];
} hp_problems;

void hp_problems_add(hp_problems *problems, hp_place place, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The same about a key of the scenario. */
void hp_problems_add_key(hp_problems *problems, hp_place place, const char *key, const char *format,
                         ...) __attribute__((format(printf, 4, 5)));

/* Adds to the text of the problem of that key, where one is kept. */
void hp_problems_amend(hp_problems *problems, const char *key, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Is told of each problem of a file. */
typedef struct hp_problem_ear {
    void (*tell)(void *user, const hp_problem *problem, const hp_source *source);
    void *user;
} hp_problem_ear;

/* Tells of every one that is kept; sorts the list by place. */
void hp_problems_tell(hp_problems *problems, const hp_source *source, const hp_problem_ear *ear);
/* Writes the block of one problem, as hp_problems_print does. */
void hp_problem_print(const hp_problem *problem, const hp_source *source, const hp_screen *out);

/* Writes every block; sorts the list by place. On a screen with columns, words are filled and lines
 * of the file cut to them; where `columns` is 0, each text is one line. */
void hp_problems_print(hp_problems *problems, const hp_source *source, const hp_screen *out);

#endif
