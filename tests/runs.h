/*
 * Helpers of the engine's tests: runs that must succeed, bare drives, the classes of wirings.
 * Include in place of check.h, in one test program each.
 */
#ifndef HUBPHASE_TESTS_RUNS_H
#define HUBPHASE_TESTS_RUNS_H

#include "check.h"

#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"

static inline hp_engine *make_engine(void)
{
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    check_true(engine != NULL, "no engine: %s", err.text);
    return engine;
}

/* Options of a run of this length, the last 0.4 of it measured. */
static inline hp_run_options run_for(double seconds, double start_angle)
{
    hp_run_options o = hp_run_options_default();
    o.seconds = seconds;
    o.settle_s = 0.6 * seconds;
    o.start_angle = start_angle;
    return o;
}

/* A run that must succeed; trace may be NULL. The figures are set byte for byte, padding too. */
static inline void run_into(hp_engine *engine, const hp_drive *drive, int number,
                            const hp_run_options *options, hp_trace *trace, hp_figures *figures)
{
    hp_error err = hp_error_none();
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_result result = hp_drive_check(drive, &err);
    check_true(result == HP_OK, "drive refused: %s", err.text);
    result = hp_run_options_check(options, &err);
    check_true(result == HP_OK, "options refused: %s", err.text);
    result = hp_engine_run(engine, drive, &wiring, options, trace, figures, &err);
    check_true(result == HP_OK, "wiring %d: %s", number, err.text);
    check_int(figures->status, HP_OK);
}

static inline hp_figures run_wiring(hp_engine *engine, const hp_drive *drive, int number,
                                    const hp_run_options *options, hp_trace *trace)
{
    hp_figures figures;
    run_into(engine, drive, number, options, trace, &figures);
    return figures;
}

/* A trace with samples all through and every event. */
static inline hp_trace full_trace(double seconds, double interval)
{
    hp_trace trace = hp_trace_init(0.0, seconds, interval);
    trace.keep_events = 1;
    return trace;
}

/* Events only. */
static inline hp_trace event_trace(void)
{
    return full_trace(-1.0, 1.0);
}

/* The first event of a kind (which < 0: any), or a time of -1. */
static inline hp_event first_event(const hp_trace *trace, hp_event_kind kind, int which)
{
    for (size_t k = 0; k < trace->event_count; k++)
        if (trace->event[k].kind == kind && (which < 0 || trace->event[k].which == which))
            return trace->event[k];
    return (hp_event){.time = -1.0, .kind = kind, .which = which};
}

/* The default drive with everything off that a closed form leaves out: ramp, limiters, cut-outs,
 * cogging. Full duty from the first instant. */
static inline hp_drive bare_drive(void)
{
    hp_drive d = hp_drive_default();
    d.motor.cogging_nm = 0.0;
    d.controller.throttle = 1.0;
    d.controller.speed_cap = 1.0;
    d.controller.ramp_per_s = 0.0;
    d.controller.battery_limit_a = d.controller.phase_limit_a = 0.0;
    d.controller.stall_cutout_s = 0.0;
    d.controller.undervoltage_v = 0.0;
    return d;
}

/* Nothing moves the rotor. */
static inline void hold_rotor(hp_drive *drive)
{
    drive->stand.rotor.breakaway_nm = 1000.0;
}

/* What theory says of a wiring of an ideal motor, from its permutations: see docs/verdicts.md. */
typedef enum wiring_class { CLASS_SMOOTH, CLASS_OFF_BY_120, CLASS_OPPOSED } wiring_class;

static inline bool is_even(const int order[HP_PHASE_COUNT])
{
    /* An order is a rotation of 0 1 2 or a rotation of 0 2 1. */
    return order[1] == (order[0] + 1) % HP_PHASE_COUNT;
}

static inline wiring_class class_of(int number)
{
    hp_wiring w = hp_wiring_from_number(number);
    if (memcmp(w.sensor, w.phase, sizeof w.sensor) == 0)
        return CLASS_SMOOTH;
    return is_even(w.sensor) == is_even(w.phase) ? CLASS_OFF_BY_120 : CLASS_OPPOSED;
}

/* Direction in which theory says a wiring turns: 1, -1, or 0 for an opposed one. */
static inline int direction_of_class(int number)
{
    int even = is_even(hp_wiring_from_number(number).sensor) ? 1 : -1;
    wiring_class class = class_of(number);
    return class == CLASS_OPPOSED ? 0 : class == CLASS_SMOOTH ? even : -even;
}

#endif
