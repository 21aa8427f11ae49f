/* The plan of a case as a numbered list: see hubphase/report/documents.h. */
#include "hubphase/report/documents.h"

#include "record/case/case_parts.h"
#include "report/paper/plan_list.h"
#include "report/words/case_card.h"

/* Showings at a step that are less likely, and ways that fewer people go, have no room on two
 * pages. */
#define LEAST_SHOWING 0.005
#define LEAST_REACHED 0.02
#define NODES_MAX     20000

hp_result hp_plan_list_write(hp_case *c, hp_progress progress, void *progress_user, FILE *out,
                             hp_error *err)
{
    hp_plan_tree tree;
    hp_plan_tree_options options = hp_plan_tree_options_default();
    options.least_showing = LEAST_SHOWING;
    options.least_reached = LEAST_REACHED;
    options.nodes_max = NODES_MAX;
    options.progress = progress;
    options.progress_user = progress_user;
    hp_result result = hp_plan_tree_build(c->planner, &c->belief, &options, &tree, err);
    if (result != HP_OK)
        return result;
    const hp_plan_list list = {.subject = hp_report_case_of(c->scenario),
                               .words = hp_case_card_context(c),
                               .tree = &tree,
                               .entry = c->belief.entry,
                               .entries = c->belief.entries};
    result = hp_plan_list_put(&list, out, err);
    hp_plan_tree_free(&tree);
    return result;
}
