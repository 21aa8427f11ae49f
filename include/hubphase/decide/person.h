/*
 * The person at the bench: how often they slip, and how good their meters are.
 *
 * Every entry of the log is what a person says they saw. This model says how that can differ from
 * what there was to see. Each slip is independent of the others, given the truth. Nothing said can
 * therefore rule anything out for good, and a log that contradicts itself still has a best
 * explanation.
 */
#ifndef HUBPHASE_DECIDE_PERSON_H
#define HUBPHASE_DECIDE_PERSON_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"

HP_API_BEGIN

typedef struct hp_person {
    double
        wrong_entry; /* probability that a whole entry is worthless: another motor, another day */
    /* ---- trials: probabilities ---- */
    double wrong_direction; /* says backward for forward, or the other way round */
    double rough_as_smooth; /* calls a rough run smooth */
    double smooth_as_rough; /* calls a smooth run rough */
    double noisy;           /* says "noisy" instead of what they would else say, on a rough run; a
                               quarter of it on a smooth one */
    double missed_motion;   /* says it did not turn although it did, or the other way round */
    double shiver_as_still; /* overlooks a shiver */
    double still_as_shiver; /* takes a jerk at switching on for a shiver */
    double miscounted;      /* counts the starts wrong */
    double wrong_wiring;    /* joined the leads otherwise than written down */
    double cut_out_missed;  /* says no cut-out for one, or the other way round */
    /* ---- readings: probabilities ---- */
    double code_misread; /* one sensor code read or written down wrong */
    double turned_back;  /* turned the wheel the other way than written down */
    double code_skipped; /* turned past a code without noticing */
    double wrong_lead;   /* parked on another lead than written down */
    double pair_misread; /* says open for closed or the other way round, of one pair */
    double row_misread;  /* one row of a probed table wrong */
    /* ---- meters ---- */
    double value_misread;    /* probability that a number is worthless: wrong range, wrong digit */
    double current_relative; /* standard deviation over value: battery current */
    double current_zero_a;   /* [A] standard deviation of its zero */
    double speed_relative;   /* wheel speed */
    double volt_relative;
    double ohm_relative;
    double ohm_zero; /* [ohm] leads and contacts that were not subtracted */
} hp_person;

/* Somebody careful who works with dirty hands; every number is a chosen one, reasons in the source.
 */
hp_person hp_person_default(void);
/* Somebody who never slips and whose meters are good: slips of one in a million, so that a
 * contradictory log still has an explanation. */
hp_person hp_person_sharp(void);
/* Every probability of a slip set to the same value; meters as the default's. */
hp_person hp_person_slipping(double probability);

/* HP_FAIL_INPUT naming the field when a probability is outside 0..0.5 or an error not above 0. */
hp_result hp_person_check(const hp_person *person, hp_error *err);

HP_API_END

#endif
