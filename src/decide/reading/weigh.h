/*
 * Weighing: how likely an entry of the log is, given what may be true.
 *
 * A trial is weighed against what the simulated ensemble shows, a reading against what the parts
 * give by their definition; both through the model of the person.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_WEIGH_H
#define HUBPHASE_SRC_DECIDE_READING_WEIGH_H

#include "decide/advise/likelihood.h"
#include "decide/reading/reading.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/decide/person.h"

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

/* Relative scatter of a wheel speed or battery current about the nearest motor of an ensemble. */
#define HP_KERNEL_SPEED   0.04
#define HP_KERNEL_CURRENT 0.15

/* Weights of a trial: [ (2 * behaviour + mirrored) * motors + motor ], a density in the numbers
 * that were read; fills 2 * cases * motors values. `earlier`: trials of the same wiring at the same
 * level, up to HP_EARLIER_MAX. What a specimen does there has then been seen already: numbers and
 * counts that repeat say little more, while slips of the person are as new each time. */
#define HP_EARLIER_MAX 16
void hp_weigh_trial(const hp_likelihood *table, const hp_person *person, const hp_trial *trial,
                    const hp_trial *const *earlier, int earlier_count, double *weight);

/* Weight of an entry that is no trial, for one hypothesis and one motor of the ensemble. Entries
 * that say nothing about the hypotheses weigh 1. */
double hp_weigh_reading(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                        const hp_hypothesis *hypothesis, int motor);

#endif
