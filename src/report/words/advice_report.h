/*
 * The next step and where things stand, as text for a terminal and as JSON (docs/json.md).
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_ADVICE_REPORT_H
#define HUBPHASE_SRC_REPORT_WORDS_ADVICE_REPORT_H

#include "decide/advise/advice_standing.h"
#include "hubphase/base/text.h"
#include "hubphase/report/tables.h"
#include "report/words/card.h"

#include <stdio.h>

/* All borrowed. */
typedef struct hp_advice_report {
    const hp_report_case *subject;
    const hp_card_context *context;
    const hp_belief *belief;
    const hp_advice *advice; /* thorough: with its contradiction */
    const hp_standing *standing;
    const char *log_file; /* as the user named it, or beside the scenario */
    const char *log_line; /* command that logs the step: words, each terminated, and an empty one
                             at the end; may be empty */
    const double *slip;   /* [entries] probability of each entry being a slip; may be NULL */
    const hp_showing *showing; /* what the step may show, likeliest first */
    int showings;
    const hp_standing_course *course; /* NULL: --why was not asked for */
} hp_advice_report;

/* The step alone: title, what makes it safe now, reason, actions with their cautions, what to
 * expect and to write down; then what helps with the actions. Colour only marks the title, when
 * `colour`.
 */
#define HP_CARD_INDENT 14 /* columns of the titles at the left */
void hp_card_print(const hp_card *words, const hp_screen *out);
void hp_card_print_details(const hp_card *words, const hp_screen *out);
/* A command, its words each terminated and an empty one at the end, in one or several lines, ready
 * for a shell. */
void hp_command_print(const char *title, const char *command, const hp_screen *out);
/* The step and all that stands behind it. */
void hp_advice_print(const hp_advice_report *report, const hp_screen *out);

/* What entry number `step` (from 1) told, in one or two sentences; empty without a course. Returns
 * out. */
char *hp_advice_meant(const hp_advice_report *report, int step, char *out, size_t size);
/* How many yes-or-no questions it answered; empty without a course. Returns out. */
char *hp_advice_counted(const hp_advice_report *report, int step, char *out, size_t size);

/* HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot be written. */
hp_result hp_advice_json_write(const hp_advice_report *report, FILE *out, hp_error *err);

/* "Entries 4 and 7 cannot both be right; 7 is the likelier slip." Empty when nothing contradicts.
 * Returns out. */
char *hp_contradiction_words(const hp_belief *belief, const hp_contradiction *contradiction,
                             char *out, size_t size);

#endif
