/*
 * An independent plain simulator of the drive, the oracle of the tests and the floor of the
 * benchmark.
 *
 * The same physics as the engine, written a second time from the model's equations and sharing no
 * code with it: circuit, mechanics, sensors and controller are all hand-written here, and the
 * integrator is the classical fourth-order Runge-Kutta method. Two ways to drive it:
 *
 * - brute: fixed fine steps, every mode re-examined after every step; a step in which a mode ends
 * is halved until the end is known to a millionth of the step. Nothing clever, slow, trustworthy.
 * - floor: long steps that are aimed at the next event, coefficients made ready once a mode: about
 *   as fast as a plain C loop can do this job.
 */
#ifndef HUBPHASE_TESTS_REFERENCE_H
#define HUBPHASE_TESTS_REFERENCE_H

#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"
#include "hubphase/sim/figures.h"

/* Runs one wiring with fixed steps of `step_s` [s]. `options->tolerance`, `max_step_s` and
 * `max_events` are not used. `trace` may be NULL; else samples (interval > 0 only) and events are
 * added as its fields ask. figures->balance_error covers the last part of the run only.
 * A course of demands is followed (events of its own are not logged).
 * HP_FAIL_NUMBER when a state stops being finite, HP_FAIL_MEMORY when the trace cannot grow. */
hp_result hp_reference_brute(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_run_options *options, double step_s, hp_trace *trace,
                             hp_figures *figures);

/* The same with steps of at most `step_s`, aimed at events; no course is followed. Events go into
 * `trace`, samples do not; figures->balance_error and corner events are left out. HP_FAIL_CHATTER
 * when events pass `options->max_events` a simulated second. */
hp_result hp_reference_floor(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_run_options *options, double step_s, hp_trace *trace,
                             hp_figures *figures);

#endif
