/*
 * Two documents of a case that need no other file and no network: the page for the bench, and the
 * wiring sheet.
 */
#ifndef HUBPHASE_REPORT_DOCUMENTS_H
#define HUBPHASE_REPORT_DOCUMENTS_H

#include "hubphase/base/result.h"
#include "hubphase/decide/survey.h"
#include "hubphase/record/case.h"

#include <stdio.h>

HP_API_BEGIN

/* ---- the page for the bench ------------------------------------------------------------------ */

/* The page for the bench: one HTML file to take along on a phone. Cautions, the plan with a button
 * for everything that may be seen, the map of all 36 wirings with their pictures; printed, it is a
 * numbered list. It needs no network and no other file. What stands on it: docs/page.md.
 *
 *     hp_page *page = hp_page_create(bench, &options, &err);
 *     hp_page_draw(page, &survey, &err);
 *     hp_page_write(page, out, &err);
 *     hp_page_free(page); */

#define HP_PAGE_ONE_IN_MAX 100000

typedef struct hp_page_options {
    int one_in; /* ways that fewer than one in so many people go are left out of the plan;
                   2..HP_PAGE_ONE_IN_MAX, more takes longer */
    /* Commands that the page names, as typed; borrowed until the page is freed. */
    const char *add; /* adds an entry to the log */
    const char *ask; /* asks what to do next */
} hp_page_options;

/* One in 1000; no commands. */
hp_page_options hp_page_options_default(void);

typedef struct hp_page hp_page;

/* Works the plan out from the case's log on: takes from seconds to half a minute. The case stays
 * borrowed and must not be read again meanwhile. NULL and err on failure: HP_FAIL_INPUT for bad
 * options, HP_FAIL_MEMORY. Free with hp_page_free. */
hp_page *hp_page_create(hp_case *c, const hp_page_options *options, hp_error *err);
void hp_page_free(hp_page *page);

/* Draws the pictures of a survey of the case's drive, with its runs; it stays borrowed.
 * HP_FAIL_LIBRARY, HP_FAIL_MEMORY, or what broke a run off. */
hp_result hp_page_draw(hp_page *page, const hp_survey *survey, hp_error *err);

/* HP_FAIL_INPUT before hp_page_draw, HP_FAIL_MEMORY, HP_FAIL_IO when `out` cannot be written. */
hp_result hp_page_write(hp_page *page, FILE *out, hp_error *err);

/* The plan alone, as a numbered list of its likeliest steps for two pages of A4; hp_page_draw is
 * not needed. HP_FAIL_MEMORY, HP_FAIL_IO when `out` cannot be written. */
hp_result hp_page_write_paper(hp_page *page, FILE *out, hp_error *err);

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
} hp_sheet_options;

/* HTML, everything from the log. */
hp_sheet_options hp_sheet_options_default(void);

/* `log`: of the scenario, from hp_bench_log_load or hp_case_log. HP_FAIL_INPUT for bad options;
 * HP_FAIL_IO when the stream did not take everything; HP_FAIL_LIBRARY, HP_FAIL_MEMORY when a
 * picture could not be drawn. */
hp_result hp_sheet_write(const hp_scenario *scenario, const hp_bench_log *log,
                         const hp_sheet_options *options, FILE *out, hp_error *err);

HP_API_END

#endif
