/*
 * The planner's tables, shared by the sources of the plan.
 *
 * A trial is condensed to one of HP_SYMBOLS symbols, a reading to one of a few typical entries. The
 * tables give the probability of each under each case or hypothesis, so that an action is judged by
 * sums over the belief.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_PLANNER_H
#define HUBPHASE_SRC_DECIDE_ADVISE_PLANNER_H

#include "decide/advise/full_check.h"
#include "decide/advise/hypothesis.h"
#include "decide/advise/plan.h"
#include "hubphase/decide/assumptions.h"

/* chosen: what two looks that agree are worth at least. */
#define HP_TWO_LOOKS 0.99

/* What a trial shows, in coarse words: three motions, each with nine manners, and three more. */
enum {
    HP_SYMBOL_FORWARD = 0,
    HP_SYMBOL_BACKWARD = 9,
    HP_SYMBOL_HUM = 18,
    HP_SYMBOL_BOTH = 27,
    HP_SYMBOL_SHIVER,
    HP_SYMBOL_STILL,
    HP_SYMBOLS
};

/* Manners, added to a motion. */
enum {
    HP_MANNER_SMOOTH,      /* smooth, from every rest angle, at little current if that is read */
    HP_MANNER_SMOOTH_SOME, /* smooth, not from every rest angle */
    HP_MANNER_ODD,         /* smooth at a large current, or rough at a small one */
    HP_MANNER_ROUGH_SLOW,  /* rough from every rest angle, slower than smooth */
    HP_MANNER_ROUGH_EVEN,  /* ... about as fast, or the speed is not read */
    HP_MANNER_ROUGH_FAST,  /* ... faster */
    HP_MANNER_SOME_SLOW,   /* rough, not from every rest angle */
    HP_MANNER_SOME_EVEN,
    HP_MANNER_SOME_FAST,
    HP_MANNERS
};

/* Sets of right wirings: twelve of three with the table's sense, twelve with the other; and one of
 * each wiring alone, where hub and controller are made for 60 degrees. */
#define HP_SET_COUNT (24 + HP_WIRING_COUNT)
/* What value is put on: the sets with all sound, then the broken parts. */
#define HP_GROUP_COUNT (HP_SET_COUNT + HP_PART_COUNT)

/* A reading that may be advised; one that is taken for each lead has a place for each. */
typedef struct hp_plan_reading {
    const hp_reading *reading;
    int lead; /* -1: taken once for all */
    double cost;
    int count; /* typical entries */
    hp_entry entry[HP_SHOWING_MAX];
    double *probability; /* owned; [entry * hypotheses + h] */
} hp_plan_reading;

/* Places; with all wirings they must fit into the exact plan. */
#define HP_PLAN_READINGS_MAX (HP_SEARCH_ACTIONS - HP_WIRING_COUNT)

struct hp_planner {
    const hp_likelihood *table;
    const hp_person *person;
    hp_plan_params params;
    hp_search *search;
    hp_full_limits limits; /* of runs at full throttle; high 0: the ensemble's */
    hp_plan_beside beside; /* heed NULL: nobody else has a say */
    int level;             /* of the throttle at which trials are advised */
    double
        *symbol; /* owned; [(row * motors + motor) * HP_SYMBOLS + symbol], rows of hp_weigh_trial */
    uint8_t *sharp; /* owned; [2 * case + mirrored] the likeliest symbol of all motors */
    /* For the hypotheses of the belief met last: */
    hp_hypothesis *hypothesis; /* owned copy, to know them again */
    int count;
    int *group; /* owned; [h] */
    int reading_count;
    hp_plan_reading reading[HP_PLAN_READINGS_MAX];
    int set_hypothesis[HP_SET_COUNT]; /* a hypothesis that stands for the set, -1: none */
    int set_wiring[HP_SET_COUNT][3];  /* right wirings; 0 in place of those that are none */
    double *posterior;                /* owned; [h] scratch */
    double *by_motor;                 /* owned; [h * motors + motor] scratch */
};

/* Whether a trial tells a large current from a small one, by a meter or a limit. */
bool hp_planner_knows_current(const hp_planner *planner);
/* Whether a person would write down the same. */
bool hp_planner_same_entry(const hp_entry *a, const hp_entry *b);
/* Fills symbol and sharp. */
hp_result hp_planner_fill_symbols(hp_planner *planner, hp_error *err);
/* Makes the tables fit the belief's hypotheses; cheap when they are those met last. */
hp_result hp_planner_meet(hp_planner *planner, const hp_belief *belief, hp_error *err);
/* ---- the cost of the rest (plan_rest.c) ------------------------------------------------------ */

/* The sharp problem as seen with one wiring joined. */
typedef struct hp_rest {
    hp_planner *planner;
    int present; /* number of the wiring joined; 0: none */
    int sets;    /* kept */
    int set[HP_SET_COUNT];
    int actions;
    int wiring[HP_WIRING_COUNT]; /* number of an action; readings come after them */
    int wirings;
    uint8_t outcome[HP_SEARCH_ACTIONS][HP_SET_COUNT]; /* by set, not by kept place */
    double cost[HP_SEARCH_ACTIONS];
    double risk[HP_SEARCH_ACTIONS][HP_SET_COUNT];
} hp_rest;

/* Whether a wiring is one of a set's. */
bool hp_set_is_right(const hp_planner *planner, int set, int number);
/* Risk of what a trial shows [min]. */
double hp_plan_risk(const hp_costs *costs, int symbol);
/* Price of trying a wiring with another joined (0: none). */
double hp_plan_trial_cost(const hp_planner *planner, int present, int number);
/* Sets up the sharp problem for the sets that have some weight in group[]. */
void hp_rest_prepare(hp_rest *rest, hp_planner *planner, const hp_belief *belief, int present,
                     const double *group);
/* Exact cost of the sharp problem under weights group[set], or the trials in it; 0 when no set has
 * any weight. */
double hp_rest_sharp(const hp_rest *rest, const double *group, bool count_trials);
/* J of a belief given by its groups, any scale. `tried`: the wiring just seen to run forward
 * smoothly from every rest angle, 0 when it was not. */
double hp_rest_cost(const hp_rest *rest, const double *group, int tried);

/* ---- judging actions (plan_judge.c) ---------------------------------------------------------- */

/* chosen: a wiring less likely to be correct than this is not looked at again where it stood or
 * another ran, and is no reason to leave one that ran forward. */
#define HP_HARDLY_CORRECT 0.02

/* What is the same for all actions of one decision. */
typedef struct hp_outlook {
    hp_planner *planner;
    const hp_belief *belief;
    double *probability;    /* [h] */
    const double *by_motor; /* [h * motors + motor] */
    int motors;
    double group[HP_GROUP_COUNT];
    int present;
    hp_rest rest; /* with the wiring joined now */
    double stay;  /* J of learning nothing */
} hp_outlook;

/* Looks at a belief with one wiring joined (0: none). */
void hp_outlook_fill(hp_outlook *outlook, hp_planner *planner, const hp_belief *belief,
                     int present);
/* Groups after each symbol of trying a wiring, not normalised; manners that a wiring tried before
 * shows again are put together. */
void hp_outlook_trial(const hp_outlook *outlook, int number,
                      double group[HP_SYMBOLS][HP_GROUP_COUNT]);
double hp_group_sum(const double group[HP_GROUP_COUNT]);
/* Takes for each wiring that is right alone the likeliest hypothesis to stand for it: unlike those
 * of a set of three they do not show the same. probability[h]. */
void hp_planner_stand(hp_planner *planner, const hp_belief *belief, const double *probability);
/* Sets kind, reading, lead, number and expected cost of the best action; *worth: what it saves of
 * the rest, over its price. False when there is none. */
bool hp_outlook_choose(const hp_outlook *outlook, hp_advice *advice, double *worth);

/* Whether the last word on a wiring (0: on whatever was tried last) is that it ran forward and not
 * roughly, off its limit or wherever. */
bool hp_plan_ran_well(const hp_belief *belief, int number);
bool hp_plan_ran_forward(const hp_belief *belief, int number);
/* Whether the last two looks at a wiring said the same: a third would say it again. */
bool hp_plan_looked_enough(const hp_belief *belief, int number);

/* The wiring joined last, by the log; 0: none. */
int hp_plan_present(const hp_belief *belief);
/* Leads and pins that differ between two wirings (numbers). */
void hp_planner_moves(int from, int to, int *phase, int *sensor);

#endif
