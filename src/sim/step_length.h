/*
 * How long the next step may be: to the next known time, and not far into what is another circuit.
 */
#ifndef HUBPHASE_SRC_SIM_STEP_LENGTH_H
#define HUBPHASE_SRC_SIM_STEP_LENGTH_H

#include "sim/run_clock.h"

/* Nearer than rounding. */
static inline bool hp_is_come(double t, double known)
{
    return known - t <= 1e-13 * (t > 1.0 ? t : 1.0);
}

/* Time at which the next step has to end at the latest: the soonest known one; and not far past the
 * next boundary of angle, for what lies beyond it is another circuit. */
double hp_step_length_aim(const hp_run *run);
/* First step in a new mode: the last good one, but not far past the moment at which a lead would
 * change by itself. */
double hp_step_length_first(const hp_run *run);
/* Keeps the step that accuracy would allow after the one just taken, but not one from a step cut so
 * short that its error says nothing, nor with real edges a shorter one from a step that ran over an
 * event. */
void hp_step_length_keep(hp_run *run, bool cut);

#endif
