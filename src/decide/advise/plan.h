/*
 * Plan: the one thing to do next.
 *
 * Each possible next action is judged by its cost, and by what is then still to be paid in the mean
 * over what it may show: one step of look-ahead through the noisy model, with the exact plan for
 * sharp observations (decide/advise/search.h) as the cost of the rest. Where observations are sharp
 * this is the optimal plan. The method in numbered steps: docs/advisor.md.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_PLAN_H
#define HUBPHASE_SRC_DECIDE_ADVISE_PLAN_H

#include "decide/advise/belief.h"
#include "decide/advise/full_check.h"
#include "decide/advise/search.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"

typedef struct hp_planner hp_planner;

/* A planner for a table and a person; everything borrowed stays so. NULL and err on failure. */
hp_planner *hp_planner_create(const hp_likelihood *table, const hp_person *person,
                              const hp_plan_params *params, hp_error *err);
void hp_planner_free(hp_planner *planner);
const hp_plan_params *hp_planner_params(const hp_planner *planner);

/* What runs at full throttle are held against from now on, in place of what the ensemble says: one
 * run has one limit, whoever is asked. */
void hp_planner_hold_against(hp_planner *planner, const hp_full_limits *limits);

/* Who else has a say in every advice: of a case the steps of commissioning, which know of runs that
 * are no trials. Asked for each belief that is planned from, those still to come as well. */
typedef struct hp_plan_beside {
    hp_result (*heed)(void *user, const hp_belief *belief, hp_advice *advice, hp_error *err);
    void *user;
} hp_plan_beside;
void hp_planner_heed(hp_planner *planner, hp_plan_beside beside);

/* What to do next: the one place that makes an advice, for a log, a list on paper, a hand-out and
 * trials alike. The contradiction is looked for only when `thorough`. */
hp_result hp_plan_next(hp_planner *planner, const hp_belief *belief, bool thorough,
                       hp_advice *advice, hp_error *err);

/* What stands of the runs at full throttle (advice->failed, decide/advise/full_check.h) is not
 * passed over, whatever gentle runs say: an end with the wiring `present`, or, where it is more
 * than a cut-out, a gentle look at it becomes PROBABLY with its reason. Other advices stay. */
void hp_plan_fail_check(hp_advice *advice, int present);

/* Makes of an advice that a reading is taken in its place: what the log and the bands say stays,
 * what the advice itself said goes. */
void hp_plan_ask_instead(hp_advice *advice, const hp_reading *reading);

/* The reading that shows a trouble by itself; NULL: none does. */
const hp_reading *hp_plan_proof(int trouble);

/* ---- what an action may show ----------------------------------------------------------------- */

/* Fills showing[] for a READ, TRY, LOOK or LEARN advice, likeliest first, leaving out what is less
 * likely than `least` (a tenth of it where a reading proves a part); returns their number. Dangers
 * that a check may find come last and are never left out. */
int hp_plan_showings(hp_planner *planner, const hp_belief *belief, const hp_advice *advice,
                     double least, hp_showing showing[HP_SHOWING_MAX]);

#endif
