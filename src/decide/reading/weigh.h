/*
 * Weighing: how likely an entry of the log is, given what may be true.
 *
 * A trial is weighed against what the simulated ensemble shows, a reading against what the parts
 * give by their definition; both through the model of the person.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_WEIGH_H
#define HUBPHASE_SRC_DECIDE_READING_WEIGH_H

#include "decide/advise/hypothesis.h"
#include "decide/advise/likelihood.h"
#include "decide/advise/nuisance.h"
#include "decide/reading/reading.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

/* Shares of the sights in one record, smoothed by the pool of all motors: a few runs that never
 * showed something do not make it impossible. */
typedef struct hp_shares {
    double sight[HP_SIGHT_COUNT]; /* add up to one */
    double cut_out;               /* of a start that does not turn */
} hp_shares;

hp_shares hp_shares_of(const hp_likelihood *table, int level, int behaviour, int motor);
/* The same with forward and backward exchanged. */
hp_shares hp_shares_mirrored(const hp_shares *shares);

/* What happened in a trial of several starts, before anybody says anything. */
typedef enum hp_happening {
    HP_HAPPENED_FORWARD,
    HP_HAPPENED_BACKWARD,
    HP_HAPPENED_BOTH,
    HP_HAPPENED_HUM,
    HP_HAPPENED_SHIVER,
    HP_HAPPENED_STILL,
    HP_HAPPENED_COUNT
} hp_happening;

/* Probability that a number of `tried` starts (up to HP_STARTS_MAX) turned, that this happened, and
 * smoothly ([1]) or not: happened[starts][happening][smooth], for 0 to `tried` starts. */
void hp_happenings(const hp_shares *shares, int tried, double (*happened)[HP_HAPPENED_COUNT][2]);
/* Probability that a person says this motion of what happened. */
double hp_said_motion(const hp_person *person, hp_happening happening, hp_motion said);
/* Probability that a person says this feel of a smooth or a rough run. */
double hp_said_feel(const hp_person *person, bool smooth, hp_feel said);

/* chosen: a cut-out is told that was none. Missing one is commoner (hp_person.cut_out_missed). */
#define HP_CUT_OUT_IMAGINED 0.03

/* Relative scatter of a wheel speed or battery current about the nearest motor of an ensemble. */
#define HP_KERNEL_SPEED   0.04
#define HP_KERNEL_CURRENT 0.15

/* Behaviours that are reckoned, behind those of the table: nothing is driven; anything at all. */
enum { HP_RECKONED_SILENT, HP_RECKONED_ANYTHING, HP_RECKONED };

/* chosen: this much beyond the levels' throttles a current and a speed are compared with them. */
#define HP_LEVEL_WITHIN 1.25

/* Rows of hp_weigh_trial. */
static inline int hp_weigh_rows(const hp_likelihood *table)
{
    return 2 * table->map.count + HP_RECKONED;
}

/* Weights of a trial: [(2 * behaviour + mirrored) * members + member], then HP_RECKONED more rows;
 * a density in the numbers that were read. Fills hp_weigh_rows() * members values. `earlier`:
 * trials of the same wiring at about the same throttle, up to HP_EARLIER_MAX, the newest first.
 * What a specimen does there has then been seen already: numbers and counts that repeat say little
 * more, while slips of the person are as new each time. A number that comes back is a fact about
 * the parts, whatever the ensemble holds: it is not taken for a second slip. */
#define HP_EARLIER_MAX 16
void hp_weigh_trial(const hp_members *members, const hp_person *person, const hp_trial *trial,
                    const hp_trial *const *earlier, int earlier_count, double *weight);
/* The same, what was said of a cut-out left out, and what a cut-out spoils. */
hp_trial hp_trial_until_cut(const hp_trial *trial);
/* Whether two trials are looks at the same thing. */
bool hp_trials_alike(const hp_members *members, const hp_trial *a, const hp_trial *b);

/* Weight of an entry that is no trial, for one hypothesis, one motor of the ensemble, and what a
 * bench adds to it (NULL: nothing). Entries that say nothing about the hypotheses weigh 1. */
double hp_weigh_reading(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                        const hp_hypothesis *hypothesis, int motor, const hp_nuisance *nuisance);

/* Whether such an entry meets a lead that makes contact only now and then, and this hypothesis has
 * one: any of the six by hp_weigh_reading, by hp_weigh_loose this one, 0..HP_LOOSE_LEADS - 1. */
bool hp_weighs_loose(const hp_entry *entry, const hp_hypothesis *hypothesis);
double hp_weigh_loose(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                      const hp_hypothesis *hypothesis, int lead);

#endif
