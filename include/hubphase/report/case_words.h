/*
 * The advice of a case in words: the step alone, or with all that stands behind it; and as JSON.
 */
#ifndef HUBPHASE_REPORT_CASE_WORDS_H
#define HUBPHASE_REPORT_CASE_WORDS_H

#include "hubphase/base/api.h"
#include "hubphase/base/text.h"
#include "hubphase/record/case.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

HP_API_BEGIN

/* Text is for a terminal of 80 columns; `colour` only makes the title bold. */

/* A step: title, reason, how-to, cautions, what to expect and to write down; entries of the log
 * that contradict one another. `advice` comes from hp_case_next. */
void hp_step_print(const hp_case *c, const hp_advice *advice, const hp_screen *out);
/* How-to and cautions of a kind of entry that was not advised. A wiring or a repair of one's own
 * choice has the general cautions only. */
void hp_how_to_print(const hp_case *c, const hp_reading *kind, const hp_screen *out);

/* The command that logs a step, with places left for what was seen: the words `begin` (NULL-ended),
 * then kind and options, "park", "--plus-lead=blue", "--code=CODE". Each word is terminated, and an
 * empty one stands at the end; what does not fit whole is left out. Empty when the step leaves
 * nothing to write down. Returns out. */
char *hp_step_log_line(const hp_case *c, const hp_advice *advice, const char *const *begin,
                       char *out, size_t size);

/* ---- where things stand ---------------------------------------------------------------------- */

typedef struct hp_case_report_options {
    bool json; /* an object with the fields of docs/json.md, else text */
    bool why;  /* with the hypotheses left, and how each entry moved them */
} hp_case_report_options;

typedef struct hp_case_report hp_case_report;

/* Reckons the next step, which wirings can still be right, what may be broken. The case stays
 * borrowed and must not be read again meanwhile. NULL and err (HP_FAIL_MEMORY) on failure. */
hp_case_report *hp_case_report_create(hp_case *c, const hp_case_report_options *options,
                                      hp_error *err);
void hp_case_report_free(hp_case_report *report);

/* The step; borrowed. */
const hp_advice *hp_case_report_advice(const hp_case_report *report);

/* Writes the report as its options say. `log_line`: the command that logs the step, as words each
 * terminated and an empty one at the end; NULL: none is named. JSON: HP_FAIL_MEMORY, or HP_FAIL_IO
 * when `out` cannot be written; of text the stream itself says so. */
hp_result hp_case_report_write(const hp_case_report *report, const char *log_line,
                               const hp_screen *out, hp_error *err);

HP_API_END

#endif
