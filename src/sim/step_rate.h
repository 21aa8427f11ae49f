/*
 * How many steps a simulated second takes: what it may take at most, and an estimate of what a
 * drive asks for.
 *
 * Steps are counted and not seconds, so that the same run ends the same way on every machine. A
 * step takes some two to four microseconds of work on a computer of the 2020s.
 */
#ifndef HUBPHASE_SRC_SIM_STEP_RATE_H
#define HUBPHASE_SRC_SIM_STEP_RATE_H

#include "hubphase/sim/engine.h"

/* Steps a simulated second, edges apart. chosen: what the shortest L/R that a scenario may have (a
 * microsecond) takes at the finest tolerance, 450 000; a usual machine takes 4000. */
#define HP_STEPS_PER_SECOND 5e5
/* An estimate of the steps a simulated second [1/s], right within a factor of three or so where one
 * thing rules: to tell what makes a drive slow to simulate, not to foresee the time. */
double hp_step_rate(const hp_drive *drive, const hp_run_options *options);

#endif
