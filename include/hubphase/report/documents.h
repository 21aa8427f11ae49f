/*
 * Two documents of a case that need no other file and no network: the plan on paper, and the
 * wiring sheet.
 */
#ifndef HUBPHASE_REPORT_DOCUMENTS_H
#define HUBPHASE_REPORT_DOCUMENTS_H

#include "hubphase/base/result.h"
#include "hubphase/decide/advice.h"
#include "hubphase/record/case.h"
#include "hubphase/sim/engine.h"

#include <stdio.h>

HP_API_BEGIN

/* ---- the plan on paper ----------------------------------------------------------------------- */

/* The plan from the case's log on as a numbered list of its likeliest steps, for two pages of A4,
 * with how each sort of step is done: one file of HTML. Takes seconds, of which `progress` (may be
 * NULL) is told. The case must not be read again meanwhile. HP_FAIL_MEMORY, HP_FAIL_CANCELLED when
 * it was stopped, HP_FAIL_IO when `out` cannot be written. */
hp_result hp_plan_list_write(hp_case *c, hp_progress progress, void *progress_user, FILE *out,
                             hp_error *err);

/* ---- the wiring sheet ------------------------------------------------------------------------ */

/* The wiring sheet: what whoever opens this hub next wants to know, as HTML or on A4.
 *
 * Everything on it was stated in the scenario or entered in the bench log; what was not is a line
 * to fill in by hand. */

typedef enum hp_sheet_form {
    HP_SHEET_HTML, /* one file that needs nothing else, for a phone or a printer */
    HP_SHEET_PDF,
    HP_SHEET_FORM_COUNT
} hp_sheet_form;

typedef struct hp_sheet_options {
    hp_sheet_form form;
    int wiring;       /* 1..36: the one that works; 0: the log's last smooth forward trial */
    const char *date; /* borrowed; NULL: of the log's last entry */
    /* The case's advice, which says whether a run at full throttle drew too much; borrowed; NULL:
     * not reckoned, the sheet then judges none. */
    const hp_advice *advice;
} hp_sheet_options;

/* HTML, everything from the log. */
hp_sheet_options hp_sheet_options_default(void);

/* Whether the log holds a run at full throttle that an advice may call too much. */
bool hp_sheet_wants_advice(const hp_bench_log *log);

/* `log`: of the scenario, from hp_bench_log_load or hp_case_log. HP_FAIL_INPUT for bad options;
 * HP_FAIL_IO when the stream did not take everything; HP_FAIL_LIBRARY, HP_FAIL_MEMORY when a
 * picture could not be drawn. */
hp_result hp_sheet_write(const hp_scenario *scenario, const hp_bench_log *log,
                         const hp_sheet_options *options, FILE *out, hp_error *err);

HP_API_END

#endif
