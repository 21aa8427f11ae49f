/*
 * The plan's decisions, each in a source of its own: what comes first (plan_first.c), what ends the
 * work (plan_end.c), and what both ask the log (plan_log.c) and the bands (plan_bands.c).
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_PLAN_PARTS_H
#define HUBPHASE_SRC_DECIDE_ADVISE_PLAN_PARTS_H

#include "decide/advise/planner.h"

/* ---- the log so far (plan_log.c) ------------------------------------------------------------- */

int hp_plan_count(const hp_belief *belief, const hp_reading *kind);
/* Entries of a kind since the newest trial. */
int hp_plan_count_since_trial(const hp_belief *belief, const hp_reading *kind);
/* ... and of the parts as they are. */
int hp_plan_count_since_mend(const hp_belief *belief, const hp_reading *kind);
/* ... and since the controller last drove. */
int hp_plan_count_since_drive(const hp_belief *belief, const hp_reading *kind);
/* The newest trial before entry `end`, of any wiring (0) or of one; NULL: none. */
const hp_trial *hp_plan_last_trial(const hp_belief *belief, int end, int number);
/* Whether the controller was mended or exchanged, and nothing was tried since. */
bool hp_plan_fresh_controller(const hp_belief *belief);
/* The first entry that tells of the parts as they are: after the last mend. */
int hp_plan_since_mend(const hp_belief *belief);
/* Powered trials of the parts as they are. */
int hp_plan_trials_since_mend(const hp_belief *belief);
/* What shows that a wiring draws little: HP_WHY_GOES_ON where nothing does. */
hp_why hp_plan_current_shown(const hp_belief *belief, int number);

/* ---- signs in the trials (plan_signs.c) ------------------------------------------------------ */

/* Whether a wiring does not do the same each time, since leads were last tugged or mended.
 * lowest_step: as of hp_plan_params; a run that another position of the speed switch explains is as
 * steady as any. */
bool hp_plan_unsteady(const hp_belief *belief, double lowest_step);
/* Runs that turned, where every one of them was cut out; 0: one was not. */
int hp_plan_cut_outs(const hp_belief *belief);
/* chosen: so many cut-outs, and nothing else, are no accident. */
#define HP_PLAN_CUT_OUTS 2

/* ---- bands (plan_bands.c) -------------------------------------------------------------------- */

/* Fills the bands of an advice. */
void hp_plan_bands(const hp_planner *planner, const hp_belief *belief, hp_advice *advice);
/* Finds what stands of the runs at full throttle, and fails the advice for it. */
void hp_plan_heed_check(const hp_planner *planner, const hp_belief *belief, int present,
                        hp_advice *advice);
/* What the final check at full throttle should show, and whether it was made, for an advice that
 * ends well. */
void hp_plan_final_check(const hp_planner *planner, const hp_belief *belief, hp_advice *advice);
/* Whether the figures read last lie far outside the bands of the advice. */
bool hp_plan_far_out(const hp_planner *planner, const hp_belief *belief, const hp_advice *advice);

/* ---- decisions ------------------------------------------------------------------------------- */

void hp_plan_advise_reading(hp_advice *advice, const hp_reading *reading);
void hp_plan_set_wiring(hp_advice *advice, int number);

/* Whether the controller's table is not known and can be asked for; true when it is asked for. */
bool hp_plan_probe(const hp_planner *planner, const hp_belief *belief, hp_advice *advice);
/* Entries of a kind since the controller was exchanged. */
int hp_plan_count_of_controller(const hp_belief *belief, const hp_reading *kind);

/* What comes before any arithmetic; true when it decides (plan_first.c). */
bool hp_plan_first(const hp_planner *planner, const hp_belief *belief, hp_advice *advice);
/* Questions that settle what a figure or a standing wheel is made of; true when one is asked. */
bool hp_plan_settle(const hp_planner *planner, const hp_belief *belief, hp_advice *advice);

/* A question that comes before an end without a right wiring; true when one is asked. */
bool hp_plan_settle_end(const hp_planner *planner, const hp_belief *belief, hp_advice *advice);

/* An end that names a wiring of which runs alone say that its Hall leads are right becomes a
 * question after the Hall plug, once its final check was made, or says that the question comes
 * then, or that nobody can answer it (plan_plug.c). HP_FAIL_MEMORY. */
hp_result hp_plan_heed_plug(const hp_planner *planner, const hp_belief *belief, hp_advice *advice,
                            hp_error *err);

/* Whether the log ends the work; true when it does (plan_end.c). */
bool hp_plan_end(const hp_planner *planner, const hp_belief *belief, int present,
                 hp_advice *advice);
/* Whether the joined wiring, which ran forward twice the same, is to be called probably correct
 * rather than left for one that hardly can be; true when it is. right[]: of each wiring. */
bool hp_plan_end_in_doubt(const hp_belief *belief, int present, const double *right,
                          hp_advice *advice);
/* What is likeliest to be broken of what no reading contradicts: *trouble (-1: nothing), and the
 * probability that it is, whatever else is. */
double hp_plan_likeliest_trouble(const hp_belief *belief, int *trouble);
/* `broken`: of the advice's trouble; right[]: of each wiring. */
void hp_plan_give_up(const hp_planner *planner, hp_advice *advice, double broken,
                     const double *right, int present, hp_why why);
/* The wiring joined is named where it is as likely as any. */
void hp_plan_end_unsensed(const hp_planner *planner, const double *right, int present,
                          hp_advice *advice);
/* The likeliest wiring is named, for where it can be tried. */
void hp_plan_end_unpowered(const hp_planner *planner, const double *right, int present,
                           hp_advice *advice);

#endif
