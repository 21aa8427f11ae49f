/* Plan tree: see the header. Built depth first, so that only the beliefs of one path are alive. */
#include "decide/advise/plan_tree.h"

#include <stdlib.h>
#include <string.h>

hp_plan_tree_options hp_plan_tree_options_default(void)
{
    return (hp_plan_tree_options){
        .least_showing = 0.02, /* chosen: one time in fifty */
        .least_reached = 2e-3, /* chosen: every path that one in five hundred people takes */
        .depth_max = 20,
        .nodes_max = 1000,
    };
}

static bool asks(const hp_advice *advice)
{
    return advice->kind <= HP_ADVICE_LEARN;
}

/* Adds a node with its advice. */
static hp_result add_node(hp_plan_tree *tree, hp_planner *planner, const hp_belief *belief,
                          double reached, int depth, int *index, hp_error *err)
{
    if (tree->count == tree->capacity) {
        int capacity = tree->capacity ? 2 * tree->capacity : 64;
        hp_plan_node *node = realloc(tree->node, (size_t)capacity * sizeof *node);
        if (!node)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan tree");
        tree->node = node;
        tree->capacity = capacity;
    }
    hp_plan_node *node = &tree->node[tree->count];
    memset(node, 0, sizeof *node);
    node->reached = reached;
    node->depth = depth;
    *index = tree->count++;
    return hp_plan_next(planner, belief, false, &node->advice, err);
}

typedef struct builder {
    hp_planner *planner;
    const hp_plan_tree_options *options;
    hp_plan_tree *tree;
    int promised; /* nodes there are or will be: brothers of a path come after all that follows it
                   */
} builder;

/* How far the whole is when a node is begun, and when all that follows it is there: 0..1. */
typedef struct stretch {
    double from;
    double to;
} stretch;

#define PROGRESS_PARTS 1000
/* Of a stretch the share that its first step takes to work out; chosen, so that time and progress
 * go together on the demo machines. */
#define OWN_SHARE 0.02

static hp_result tell(const builder *w, double done, hp_error *err)
{
    const hp_plan_tree_options *o = w->options;
    if (o->progress &&
        o->progress(o->progress_user, (int)(PROGRESS_PARTS * done), PROGRESS_PARTS) != 0)
        return hp_error_set(err, HP_FAIL_CANCELLED, "stopped");
    return HP_OK;
}

static hp_result grow(builder *w, const hp_belief *belief, int at, stretch part, hp_error *err);

/* One branch and all that follows it. */
static hp_result grow_branch(builder *w, const hp_belief *belief, int at, hp_showing *showing,
                             stretch part, hp_error *err)
{
    hp_belief next;
    hp_result result = hp_belief_copy(belief, &next, err);
    if (result != HP_OK)
        return result;
    showing->entry.number = next.entries + 1;
    result = hp_belief_add(&next, &showing->entry, err);
    const hp_plan_node *parent = &w->tree->node[at];
    int child = -1;
    if (result == HP_OK)
        result = add_node(w->tree, w->planner, &next, parent->reached * showing->probability,
                          parent->depth + 1, &child, err);
    part.from += OWN_SHARE * (part.to - part.from);
    if (result == HP_OK)
        result = tell(w, part.from, err);
    if (result == HP_OK) {
        hp_plan_node *node = &w->tree->node[at];
        node->branch[node->branches++] = (hp_plan_branch){*showing, child};
        result = grow(w, &next, child, part, err);
    }
    hp_belief_free(&next);
    return result;
}

/* The share of a branch in the work is taken to be that of the people who go along it. */
static hp_result grow_all(builder *w, const hp_belief *belief, int at, hp_showing *showing,
                          int count, stretch part, hp_error *err)
{
    double all = 0.0, before = 0.0;
    hp_result result = HP_OK;
    for (int k = 0; k < count; k++)
        all += showing[k].probability;
    for (int k = 0; k < count && result == HP_OK; k++) {
        double after = before + showing[k].probability, width = (part.to - part.from) / all;
        stretch own = {part.from + before * width, part.from + after * width};
        result = grow_branch(w, belief, at, &showing[k], own, err);
        before = after;
    }
    return result;
}

static hp_result grow(builder *w, const hp_belief *belief, int at, stretch part, hp_error *err)
{
    hp_plan_node *node = &w->tree->node[at];
    if (!asks(&node->advice))
        return tell(w, part.to, err);
    if (node->reached < w->options->least_reached || node->depth >= w->options->depth_max) {
        node->cut = true;
        return tell(w, part.to, err);
    }
    hp_showing showing[HP_SHOWING_MAX];
    int count =
        hp_plan_showings(w->planner, belief, &node->advice, w->options->least_showing, showing);
    if (w->promised + count > w->options->nodes_max) {
        node->cut = true;
        return tell(w, part.to, err);
    }
    w->promised += count;
    node->branch = calloc((size_t)count + 1, sizeof *node->branch);
    if (!node->branch)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan tree");
    return grow_all(w, belief, at, showing, count, part, err);
}

hp_result hp_plan_tree_build(hp_planner *planner, const hp_belief *belief,
                             const hp_plan_tree_options *options, hp_plan_tree *tree, hp_error *err)
{
    memset(tree, 0, sizeof *tree);
    builder w = {planner, options, tree, 1};
    int root = 0;
    hp_result result = add_node(tree, planner, belief, 1.0, 0, &root, err);
    if (result == HP_OK)
        result = grow(&w, belief, root, (stretch){0.0, 1.0}, err);
    if (result != HP_OK)
        hp_plan_tree_free(tree);
    return result;
}

void hp_plan_tree_free(hp_plan_tree *tree)
{
    if (!tree)
        return;
    for (int k = 0; k < tree->count; k++)
        free(tree->node[k].branch);
    free(tree->node);
    memset(tree, 0, sizeof *tree);
}
