/*
 * Plan tree: the whole plan from a belief on, as a finite tree of advice and what it may show.
 *
 * For a sheet of paper. Each node is an advice; its branches are the showings likely enough to be
 * drawn, each with the node that follows. Ends are nodes whose advice asks for nothing (done,
 * repair, give up) and those cut off by a limit.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_PLAN_TREE_H
#define HUBPHASE_SRC_DECIDE_ADVISE_PLAN_TREE_H

#include "decide/advise/plan.h"
#include "hubphase/sim/engine.h"

typedef struct hp_plan_branch {
    hp_showing showing; /* probability: given that its node was reached */
    int node;           /* what follows */
} hp_plan_branch;

typedef struct hp_plan_node {
    hp_advice advice;
    double reached; /* probability of coming here from the root */
    int depth;      /* steps from the root */
    int branches;
    hp_plan_branch *branch; /* owned */
    bool cut;               /* goes on, but beyond a limit */
} hp_plan_node;

typedef struct hp_plan_tree {
    hp_plan_node *node; /* owned; the root is 0, children come after their parents */
    int count;
    int capacity;
} hp_plan_tree;

typedef struct hp_plan_tree_options {
    double least_showing; /* showings less likely than this at their node are not drawn */
    double least_reached; /* nodes less likely than this are cut */
    int depth_max;
    int nodes_max;        /* a node whose branches would pass this is cut */
    hp_progress progress; /* may be NULL; told in thousandths, stopping gives HP_FAIL_CANCELLED */
    void *progress_user;
} hp_plan_tree_options;

hp_plan_tree_options hp_plan_tree_options_default(void);

/* Builds the tree from the belief on, which stays as it is. Free with hp_plan_tree_free. */
hp_result hp_plan_tree_build(hp_planner *planner, const hp_belief *belief,
                             const hp_plan_tree_options *options, hp_plan_tree *tree,
                             hp_error *err);
void hp_plan_tree_free(hp_plan_tree *tree);

#endif
