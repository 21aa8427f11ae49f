/*
 * Belief: what can still be true after the entries of a log, by Bayes' rule.
 *
 * The unknown is a hypothesis together with a *member*: a motor of the ensemble on a bench that
 * adds what benches add (nuisance.h). So a measured back-EMF or a smooth run's current narrows what
 * later trials are weighed against, and a throttle that gives less than it says is learnt once. No
 * entry ever makes anything impossible: the person may have slipped.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_BELIEF_H
#define HUBPHASE_SRC_DECIDE_ADVISE_BELIEF_H

#include "decide/advise/hypothesis.h"
#include "decide/advise/trouble.h"
#include "decide/reading/weigh.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"

/* Weights of one entry, up to a factor: hypotheses of which it says the same share a row. */
typedef struct hp_weights {
    int *row;  /* owned; [h]; NULL: the entry says nothing */
    int width; /* members, or 1 where they are all alike */
    int rows;
    double *value; /* owned; [row * width + member] */
    double scale;  /* logarithm of what they were divided by */
} hp_weights;

static inline double hp_weight_of(const hp_weights *w, int h, int member)
{
    return w->value[w->row[h] * w->width + (w->width > 1 ? member : 0)];
}
void hp_weights_free(hp_weights *weights);

/* What came of an entry that changes parts, such as a mend. */
typedef enum hp_mending {
    HP_MENDING_HELPED,
    HP_MENDING_IN_VAIN, /* all is as it was before */
    HP_MENDING_ANOTHER, /* of the controller: the new one drives nothing */
    HP_MENDING_COUNT
} hp_mending;

/* What the rest of the log tells of the moment of an entry. */
typedef struct hp_circumstance {
    bool unsensed; /* the controller of then runs without Hall sensors: a smooth run may be one of
                      those, and is weighed by the order of the phase leads, too */
    double begins; /* how much less likely it is that a controller that drove before is held off
                      from this entry on than that it was all along; 1: nothing begins here */
} hp_circumstance;

typedef struct hp_belief {
    const hp_likelihood *table;          /* borrowed */
    const hp_person *person;             /* borrowed */
    hp_hypothesis *hypothesis;           /* owned; every one with a prior */
    int count;                           /* hypotheses */
    hp_members members;                  /* owned */
    double *weight;                      /* owned; [h * members.count + m]; adds up to one */
    double *prior;                       /* owned; [h] */
    double log_evidence;                 /* log probability (density) of all entries */
    hp_entry *entry;                     /* owned; copies, in order */
    hp_weights *entry_weight;            /* owned; [entry] */
    int *entry_now;                      /* owned; [entry * count + h] what h had become by then */
    hp_mending *entry_mending;           /* owned; [entry] what came of a mend */
    hp_circumstance *entry_circumstance; /* owned; [entry] */
    int entries;
    int capacity;
    bool unsensed;    /* hp_circumstance of the controller that is there now */
    int *now;         /* owned; [h] index of what h is after the mends so far */
    short *behaviour; /* owned; [h * 36 + number - 1] row of hp_weigh_trial */
    double *scratch;  /* owned; weights of a trial */
} hp_belief;

/* The belief before any entry. table and person stay borrowed. Free with hp_belief_free. */
hp_result hp_belief_create(const hp_likelihood *table, const hp_person *person,
                           const hp_prior_params *prior, hp_belief *belief, hp_error *err);
void hp_belief_free(hp_belief *belief);
/* A belief of its own with the same entries; HP_FAIL_MEMORY. */
hp_result hp_belief_copy(const hp_belief *belief, hp_belief *copy, hp_error *err);

/* Takes an entry in. HP_FAIL_INPUT for an entry that fails its check: the belief is unchanged. */
hp_result hp_belief_add(hp_belief *belief, const hp_entry *entry, hp_error *err);

/* Of a machine that can be asked for no more than this, 0..1: its no-load runs, before and after,
 * are weighed as runs of so much. HP_FAIL_MEMORY. */
hp_result hp_belief_ask_most(hp_belief *belief, double most, hp_error *err);

/* Takes an entry in and says what came of it. */
hp_result hp_belief_add_as(hp_belief *belief, const hp_entry *entry, hp_mending mending,
                           hp_error *err);
/* Finds the mends of which the entries behind them say that they did not help, and counts them so.
 * `prior`: the one that the belief was created with. */
hp_result hp_belief_doubt_mends(hp_belief *belief, const hp_prior_params *prior, hp_error *err);

/* Number of the newest entry that mended something, if that is so of it; else 0. `another`: a
 * controller that was mended or exchanged, and drives nothing since. */
int hp_belief_vain_mend(const hp_belief *belief, bool *another);

/* Whether an entry changed something: parts were mended by it, or put right. */
bool hp_belief_changes(const hp_belief *belief, int entry);

/* Whether an entry, which is at this place or is to come there, saw the controller drive the motor,
 * or stand though it was asked to: nothing turned, and no limit held it. */
hp_tell hp_belief_drives(const hp_belief *belief, const hp_entry *entry, int place);

/* Probability of each hypothesis. */
void hp_belief_hypotheses(const hp_belief *belief, double *probability);
/* Probability of each trouble that is present now. */
void hp_belief_troubles(const hp_belief *belief, double probability[HP_TROUBLE_COUNT]);
/* Probability that everything is sound and wiring number n right; index n, 0 unused. Adds up to
 * three times the probability that all is sound, once where both parts are made for 60 degrees. */
void hp_belief_wirings(const hp_belief *belief, double probability[HP_WIRING_COUNT + 1]);
/* Probability that wiring number n is right once every trouble is mended. */
void hp_belief_wirings_mended(const hp_belief *belief, double probability[HP_WIRING_COUNT + 1]);
/* Probability of each controller table. */
void hp_belief_tables(const hp_belief *belief, double probability[HP_TABLE_COUNT]);
/* Weight of each motor of the ensemble, and of each member. */
void hp_belief_motors(const hp_belief *belief, double *weight);
void hp_belief_members(const hp_belief *belief, double *weight);
/* Weight of each hypothesis with each motor, whatever the bench adds; [h * motors + motor]. */
void hp_belief_by_motor(const hp_belief *belief, double *weight);

/* How each entry moved things: the probability of each hypothesis before the log and after each
 * entry; [(entries + 1) * count]. In one go, since each step begins where the one before ended.
 * HP_FAIL_MEMORY. */
hp_result hp_belief_course(const hp_belief *belief, double *probability, hp_error *err);

/* ---- contradictions -------------------------------------------------------------------------- */

/* Looks for slips. slip[entries], may be NULL, gets the probability of each entry being one.
 * HP_FAIL_MEMORY when there is none. */
hp_result hp_belief_contradiction(const hp_belief *belief, hp_contradiction *contradiction,
                                  double *slip, hp_error *err);

#endif
