/*
 * The step just taken: the states inside it, and the first event among them.
 *
 * Inside a step the state is a quartic through value and slope at both ends and the slope two
 * thirds on (of fifth order locally, as ARKODE's own interpolant for this method); the one
 * right-hand side that it costs is taken only in steps that are looked into. An event is where a
 * guard turns negative: at the end of the step, or between its ends only.
 */
#ifndef HUBPHASE_SRC_SIM_STEP_H
#define HUBPHASE_SRC_SIM_STEP_H

#include "sim/dip.h"
#include "sim/machine.h"

typedef struct hp_step_end {
    hp_dip guards; /* with the time */
    double y[HP_STATE_COUNT];
    double slope[HP_STATE_COUNT];
} hp_step_end;

typedef struct hp_step {
    hp_step_end *begin, *end; /* of these two */
    hp_step_end ends[2];
    double third[HP_STATE_COUNT]; /* slope two thirds on */
    bool has_third;
    long rhs; /* right-hand sides taken here since the run began */
} hp_step;

/* A run begins: no step has been taken, and none looked into. */
void hp_step_start(hp_step *step);
/* The integrator starts here: the next step begins at this state. */
void hp_step_restart(hp_step *step, const hp_machine *machine, double t, const double *y,
                     const hp_instant *instant);
/* A step has ended here. */
void hp_step_take(hp_step *step, const hp_machine *machine, double t, const double *y,
                  const hp_instant *instant);

/* State at a time inside the step. */
void hp_step_state(hp_step *step, const hp_machine *machine, double t, double y[HP_STATE_COUNT]);

/* The first moment inside the step at which a guard is negative: its time, its state, and which
 * guards are; false when there is none. */
bool hp_step_find_event(hp_step *step, const hp_machine *machine, double *t,
                        double y[HP_STATE_COUNT], int fired[HP_GUARD_COUNT]);

#endif
