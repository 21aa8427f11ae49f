/*
 * Measuring while a run goes on: snapshots of the integrals, extremes, and the window they give.
 *
 * Integrals ride along in the state, so any mean over [a, b] is a difference of two snapshots. A
 * snapshot is taken when the last part begins, at every whole electrical turn and every swing
 * inside it, at a few times before it (should the controller cut out early) and at the end.
 */
#ifndef HUBPHASE_SRC_SIM_MEASURE_H
#define HUBPHASE_SRC_SIM_MEASURE_H

#include "sim/machine.h"
#include "sim/step.h"

typedef struct hp_snapshot {
    double time;
    double angle; /* [rad electrical] unwrapped */
    double y[HP_STATE_COUNT];
} hp_snapshot;

#define HP_CHECKPOINT_COUNT 16

/* Reversals of the speed in one direction. */
typedef struct hp_swings {
    int count;
    hp_snapshot first, last;
} hp_swings;

typedef struct hp_measure {
    double settle_s, seconds; /* when the last part begins and when the run should end */
    hp_snapshot begin;        /* of the run */
    hp_snapshot part;         /* start of the last part */
    hp_snapshot first_turn;   /* first and latest whole turn inside the last part */
    hp_snapshot last_turn;
    hp_swings swings[2]; /* in it: to backward, to forward */
    bool has_part, has_turn;
    hp_snapshot checkpoint[HP_CHECKPOINT_COUNT]; /* a ring, oldest overwritten */
    int checkpoint_count;
    /* Extremes and sums since the last part began */
    double torque_min, torque_max, current_peak, angle_min, angle_max;
    double field_x, field_y; /* integral of the field in the rotor's frame */
    double field_time;       /* time and values of the previous point, for the trapezium rule */
    double field_x_last, field_y_last;
    bool has_field;
    long edges;
    double energy_begin, balance_error;
    bool limited;
} hp_measure;

void hp_measure_start(hp_measure *measure, const hp_machine *machine, const hp_run_options *options,
                      const double *y);
/* The end of every accepted step, before events. */
void hp_measure_point(hp_measure *measure, const hp_machine *machine, double t, const double *y,
                      const hp_instant *instant);
/* Extremes between the ends of the step just taken, up to a time in it. */
void hp_measure_inside(hp_measure *measure, const hp_machine *machine, hp_step *step, double until);
/* A whole turn was completed. */
void hp_measure_turn(hp_measure *measure, const hp_machine *machine, double t, const double *y);
/* The rotor begins to move in this sense, +1 forward, -1 backward, having moved in the other. */
void hp_measure_swing(hp_measure *measure, const hp_machine *machine, double t, const double *y,
                      int sense);
/* A checkpoint's time has come; also begins the last part when t has reached it. */
void hp_measure_checkpoint(hp_measure *measure, const hp_machine *machine, double t,
                           const double *y);
/* The last part begins now and will end at `until`, whatever the options said. */
void hp_measure_begin_part(hp_measure *measure, const hp_machine *machine, double t, double until,
                           const double *y);
/* Ends the measurement at t and fills the figures but for status, reason and work counters. */
void hp_measure_end(hp_measure *measure, const hp_machine *machine, double t, const double *y,
                    hp_figures *figures);

#endif
