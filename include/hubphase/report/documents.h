/*
 * Documents that need no other file and no network: of a case the plan on paper and the wiring
 * sheet; of a machine what a club evening shows and hands out.
 */
#ifndef HUBPHASE_REPORT_DOCUMENTS_H
#define HUBPHASE_REPORT_DOCUMENTS_H

#include "hubphase/base/result.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/lesson.h"
#include "hubphase/record/case.h"
#include "hubphase/report/tables.h"
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
    int wiring;       /* 1..36: the one that works; 0: the one that the log comes to */
    const char *date; /* borrowed; NULL: of the log's last entry */
    /* The case's advice: it says whether a wiring is correct, and whether a run at full throttle
     * drew too much; borrowed; NULL: not reckoned, the sheet then calls no wiring correct. */
    const hp_advice *advice;
} hp_sheet_options;

/* HTML, everything from the log. */
hp_sheet_options hp_sheet_options_default(void);

/* Whether the log names a wiring that was tried: only the advice says whether it is correct. */
bool hp_sheet_wants_advice(const hp_bench_log *log);

/* `log`: of the scenario, from hp_bench_log_load or hp_case_log. HP_FAIL_INPUT for bad options;
 * HP_FAIL_IO when the stream did not take everything; HP_FAIL_LIBRARY, HP_FAIL_MEMORY when a
 * picture could not be drawn. */
hp_result hp_sheet_write(const hp_scenario *scenario, const hp_bench_log *log,
                         const hp_sheet_options *options, FILE *out, hp_error *err);

/* ---- the wall of a club evening -------------------------------------------------------------- */

/* What the wall shows of a lesson of this scenario, its own fault where it has one: the answer to
 * request `lesson` of docs/face.md as one line of JSON. Owned by the caller; NULL when there is no
 * memory. */
char *hp_evening_text(const hp_lesson *lesson, const hp_scenario *scenario);

/* ---- hand-outs of a club evening ------------------------------------------------------------- */

/* Sheets of A4 for the people at the tables, drawn from one machine: a work sheet and a six-step
 * table for each group, a dial to cut out, a bench card, and the leader's answers. Each is a file
 * of its own, as PDF and as HTML. A seed says which wirings a group predicts and which cells of its
 * table it fills in: groups differ, and the answers match. The same input gives the same bytes. */

#define HP_HANDOUT_GROUPS 24 /* most groups of an evening */
#define HP_HANDOUT_NAME   64

typedef enum hp_handout_form {
    HP_HANDOUT_PDF,
    HP_HANDOUT_HTML,
    HP_HANDOUT_FORM_COUNT
} hp_handout_form;

/* All borrowed. */
typedef struct hp_handout_source {
    hp_report_case subject;  /* its drive as the evening shows it: mended, if it was faulty */
    const hp_survey *survey; /* of that drive; one wiring at least is correct */
    hp_case *bench;          /* of the same machine, for the bench card, which begins where nothing
                                is known; not read meanwhile. NULL: there is no bench card */
    unsigned long long seed;
    int groups; /* 1..HP_HANDOUT_GROUPS */
} hp_handout_source;

/* HP_FAIL_INPUT when there are too few or too many groups, or no wiring is correct. */
hp_result hp_handout_source_check(const hp_handout_source *source, hp_error *err);
/* How many files there are in one form. */
int hp_handout_count(const hp_handout_source *source);
/* The name of file k (0..count - 1), "work-sheet-group-2.pdf". Returns out[HP_HANDOUT_NAME]. */
char *hp_handout_name(const hp_handout_source *source, int k, hp_handout_form form, char *out);
/* Writes file k. HP_FAIL_IO when `out` did not take it; HP_FAIL_LIBRARY, HP_FAIL_ABSENT,
 * HP_FAIL_MEMORY when it could not be drawn. */
hp_result hp_handout_write(const hp_handout_source *source, int k, hp_handout_form form, FILE *out,
                           hp_error *err);

HP_API_END

#endif
