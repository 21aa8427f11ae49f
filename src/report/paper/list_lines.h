/*
 * Which steps go on paper, and their lines there.
 */
#ifndef HUBPHASE_SRC_REPORT_PAPER_LIST_LINES_H
#define HUBPHASE_SRC_REPORT_PAPER_LIST_LINES_H

#include "report/paper/list_steps.h"
#include "report/paper/plan_list.h"

#include <stdbool.h>
#include <stdio.h>

/* The list, and how each sort of step in it is done; false when memory is short. */
bool hp_list_lines_put(const hp_plan_list *list, const hp_list_steps *steps, FILE *out);

#endif
