/*
 * Search: the exact plan of least expected cost where observations are sharp.
 *
 * Finitely many hypotheses with weights; each action has a known outcome under each hypothesis and
 * a cost that may depend on where one stands (which wiring is joined now). An action whose outcome
 * is HP_SEARCH_GOAL ends the work. Dynamic programming over the sets of hypotheses that are left:
 *
 *   J(set, place) = min over actions of  cost(place, action) * weight(set)
 *                   + sum over hypotheses in the set of weight * cost of its outcome
 *                   + sum over outcomes other than the goal of J(subset with it, new place).
 *
 * Sets are bit masks, values are kept in a table; only sets that can be reached are visited.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_SEARCH_H
#define HUBPHASE_SRC_DECIDE_ADVISE_SEARCH_H

#include "hubphase/base/result.h"

#include <stdint.h>

#define HP_SEARCH_HYPOTHESES 32
#define HP_SEARCH_ACTIONS    64
#define HP_SEARCH_GOAL       255

typedef struct hp_search_problem {
    int hypotheses;             /* 1..HP_SEARCH_HYPOTHESES */
    int actions;                /* 1..HP_SEARCH_ACTIONS */
    int places;                 /* >= 1 */
    const double *weight;       /* [hypothesis], > 0 */
    const uint8_t *outcome;     /* [action * hypotheses + hypothesis], 0..63 or HP_SEARCH_GOAL */
    const double *cost;         /* [place * actions + action], > 0 */
    const double *outcome_cost; /* [action * hypotheses + hypothesis], or NULL: none */
    const int *next;            /* [action] place after it, -1: it stays; or NULL: it stays */
} hp_search_problem;

typedef struct hp_search hp_search; /* the table of values; reused from problem to problem */

hp_search *hp_search_create(hp_error *err);
void hp_search_free(hp_search *search);

/* Solves from all hypotheses at `place`. *value: expected cost, INFINITY when the goal cannot be
 * reached for some hypothesis. *action: the first action. HP_FAIL_MEMORY when the table cannot
 * grow. The arrays of the problem must stay until the walks below are done. */
hp_result hp_search_solve(hp_search *search, const hp_search_problem *problem, int place,
                          double *value, int *action, hp_error *err);

/* The best action for a set of hypotheses (bit mask) at a place, after hp_search_solve: -1 when the
 * plan never comes there. */
int hp_search_action(const hp_search *search, uint32_t set, int place);

/* Follows the plan when `hypothesis` is the true one: actions taken, the last of which reaches the
 * goal, into step[limit]; returns their number, or -1 when it does not end within limit. */
int hp_search_walk(const hp_search *search, const hp_search_problem *problem, int place,
                   int hypothesis, int *step, int limit);

#endif
