/*
 * Sections of the page for the bench that have a source of their own.
 */
#ifndef HUBPHASE_SRC_REPORT_PAGE_PAGE_SECTIONS_H
#define HUBPHASE_SRC_REPORT_PAGE_PAGE_SECTIONS_H

#include "report/page/page_plan.h"

#include <stdbool.h>
#include <stdio.h>

/* The map of the 36 and, for each, what opens when it is touched (page_map.c). */
void hp_page_put_map(const hp_bench_page *page, FILE *out);
/* The plan as a numbered list for paper (page_flow.c); false when memory is short. */
bool hp_page_put_flow(const hp_bench_page *page, const hp_page_plan *plan, FILE *out);

#endif
