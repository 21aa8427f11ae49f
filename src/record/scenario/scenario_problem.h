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
} hp_problem;

typedef struct hp_problems {
    int count; /* all that were found */
    hp_problem item[HP_PROBLEMS_SHOWN];
} hp_problems;

void hp_problems_add(hp_problems *problems, hp_place place, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Writes every block; sorts the list by place. On a screen with columns, words are filled and lines
 * of the file cut to them; where `columns` is 0, each text is one line. */
void hp_problems_print(hp_problems *problems, const hp_source *source, const hp_screen *out);

#endif
