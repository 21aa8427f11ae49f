/*
 * What is said of a trial: how likely its words and counts are, given what was simulated.
 *
 * Given a case and a motor, starts from different rest angles are independent draws from the shares
 * of the sights. The number that turned is binomial; of those, all may go forward, all backward, or
 * some each way; and the trial feels smooth if all of them did. What the person then says of it is
 * read off the model of the person.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_TRIAL_SAID_H
#define HUBPHASE_SRC_DECIDE_READING_TRIAL_SAID_H

#include "decide/reading/weigh.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

/* Weight of the pool in a share, in runs. */
#define HP_POOL_RUNS 6.0

/* Shares of a case over all motors. */
void hp_shares_pool(const hp_likelihood *table, int level, int behaviour,
                    double pool[HP_SIGHT_COUNT]);
/* Shares of one record, smoothed by the pool of its case. */
hp_shares hp_shares_smoothed(const hp_record *own, const double pool[HP_SIGHT_COUNT]);

/* What is the same for all records: probability of the words given what happened, [1] for those who
 * see forward and backward exchanged, and of the count given the starts. */
typedef struct hp_trial_words {
    int tried;
    double turning[2][HP_HAPPENED_COUNT][2];
    double standing[HP_HAPPENED_COUNT];
    double count[HP_STARTS_MAX + 1];
} hp_trial_words;

/* silky: share of the rough runs that feel smooth, to anybody. growls: the smooth ones feel rough.
 */
hp_trial_words hp_trial_words_of(const hp_person *person, const hp_trial *trial, double silky,
                                 bool growls);
/* chosen: driven by a sine, more than half of them. */
#define HP_SINE_SILKY 0.6
/* chosen: held at a limit, with little torque to feel, half of them. */
#define HP_LIMIT_SILKY 0.5

/* Probability of the words of a trial in which all starts stood, or in which some turned; the
 * latter as simulated and mirrored. */
typedef struct hp_trial_told {
    double standing;
    double turning[2];
} hp_trial_told;

/* For each of `count` words, hp_trial_words_of the same person and trial: result[count]. */
void hp_trial_tell(const hp_person *person, const hp_trial *trial, const hp_trial_words *words,
                   int count, const hp_shares *shares, hp_trial_told *result);

#endif
