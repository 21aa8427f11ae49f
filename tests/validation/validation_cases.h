/*
 * The drives that are held against outside programs, and how each is run.
 *
 * Two motors: one trapezoidal, one sinusoidal with misplaced sensors. Each stands twice: with its
 * whole controller, and bare at a plain bench supply, where a circuit simulator can follow.
 */
#ifndef HUBPHASE_TESTS_VALIDATION_CASES_H
#define HUBPHASE_TESTS_VALIDATION_CASES_H

#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"

typedef enum validation_case {
    CASE_FULL_TRAPEZOID, /* ramp, limiters, sticking friction, cogging */
    CASE_FULL_SINE,
    CASE_BENCH_TRAPEZOID, /* duty 1, no limiter, no ramp, smoothed friction */
    CASE_BENCH_SINE,
    CASE_PWM_COMPLEMENTARY, /* the bench trapezoid at half duty with real edges */
    CASE_PWM_ONE_SIDED,
    CASE_PWM_AVERAGED, /* the same at half duty without edges, as the program runs by default */
    CASE_COUNT
} validation_case;

const char *validation_case_name(validation_case which);
/* The case of this name, or CASE_COUNT. */
validation_case validation_case_find(const char *name);
/* The drive; passes hp_drive_check. Every value is a chosen one. */
hp_drive validation_case_drive(validation_case which);
hp_run_options validation_case_options(validation_case which);

#endif
