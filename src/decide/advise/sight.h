/*
 * What one run shows to somebody who stands by and watches, hears and feels.
 *
 * Told from figures alone; slips of the person come later (hubphase/decide/assumptions.h).
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_SIGHT_H
#define HUBPHASE_SRC_DECIDE_ADVISE_SIGHT_H

#include "hubphase/decide/verdict.h"

typedef enum hp_sight {
    HP_SIGHT_FORWARD_SMOOTH, /* the wheel turns forward, evenly, at little current */
    HP_SIGHT_FORWARD_ROUGH,
    HP_SIGHT_BACKWARD_SMOOTH,
    HP_SIGHT_BACKWARD_ROUGH,
    HP_SIGHT_HUM_SMOOTH, /* the rotor is heard to turn, the wheel stays */
    HP_SIGHT_HUM_ROUGH,
    HP_SIGHT_SHIVER, /* moves to and fro about a place */
    HP_SIGHT_STILL,
    HP_SIGHT_NONE, /* the run failed: it shows nothing */
    HP_SIGHT_COUNT = HP_SIGHT_NONE
} hp_sight;

typedef struct hp_sight_params {
    hp_thresholds thresholds; /* of the verdicts: when a run turns, and when it is smooth */
    double swing_min;         /* [rad electrical] a shiver swings at least so far, peak to peak */
    bool wheel_free; /* the clutch does not hold: the wheel stays whatever the rotor does */
} hp_sight_params;

/* For a drive whose clutch holds. */
hp_sight_params hp_sight_params_of(void);

hp_sight hp_sight_of(const hp_figures *figures, const hp_sight_params *params);

/* Whether the wheel turns, or at least the rotor. */
bool hp_sight_turns(hp_sight sight);
/* Whether it turns without roughness. */
bool hp_sight_smooth(hp_sight sight);

#endif
