/*
 * The plan ahead as a numbered list for paper: one document of HTML with cautions, log, the
 * likeliest steps on at most two pages of A4, and how each sort of step is done.
 *
 * It runs nothing and needs nothing beside it; its Content-Security-Policy allows its own style
 * sheet alone, named by its hash. Every text that comes from a file stays text. The same input
 * gives the same bytes.
 */
#ifndef HUBPHASE_SRC_REPORT_PAPER_PLAN_LIST_H
#define HUBPHASE_SRC_REPORT_PAPER_PLAN_LIST_H

#include "decide/advise/plan_tree.h"
#include "hubphase/report/tables.h"
#include "report/words/card.h"

/* All borrowed. */
typedef struct hp_plan_list {
    hp_report_case subject;
    hp_card_context words;
    const hp_plan_tree *tree;
    const hp_entry *entry; /* of the log, in order */
    int entries;
} hp_plan_list;

/* HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot be written. */
hp_result hp_plan_list_put(const hp_plan_list *list, FILE *out, hp_error *err);

#endif
