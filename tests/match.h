/*
 * Engine against the reference's brute run: both lists of events matched kind by kind in order of
 * time, and the figures compared. Include after or in place of check.h, in one test program each.
 *
 * The reference shares no code with the engine and looks at every mode after every 10 us step.
 */
#ifndef HUBPHASE_TESTS_MATCH_H
#define HUBPHASE_TESTS_MATCH_H

#include "check.h"
#include "reference.h"
#include "reference_drives.h"

#define STEP_S 10e-6 /* of the brute runs */

/* One brute step: the engine runs at its default tolerance, and an event's time is a root of a
 * guard that may be shallow; within a step the two cannot be taken for different events. */
#define TIME_TOLERANCE_S STEP_S

static inline hp_run_options options_for(double seconds, double start_angle)
{
    hp_run_options o = hp_run_options_default();
    o.seconds = seconds;
    o.settle_s = 0.5 * seconds;
    o.start_angle = start_angle;
    return o;
}

/* Both runs of one wiring. Traces keep events only. */
typedef struct pair {
    hp_trace engine, brute;
    hp_figures found, expected;
} pair;

static inline hp_trace events_only(void)
{
    hp_trace trace = hp_trace_init(0.0, -1.0, 1.0);
    trace.keep_events = 1;
    return trace;
}

static inline pair run_pair(hp_engine *engine, const hp_drive *d, int number,
                            const hp_run_options *o)
{
    pair p = {.engine = events_only(), .brute = events_only()};
    hp_wiring w = hp_wiring_from_number(number);
    hp_error err = hp_error_none();
    hp_result result = hp_engine_run(engine, d, &w, o, &p.engine, &p.found, &err);
    check_true(result == HP_OK, "wiring %d: %s", number, err.text);
    check_int(hp_reference_brute(d, &w, o, STEP_S, &p.brute, &p.expected), HP_OK);
    return p;
}

static inline void free_pair(pair *p)
{
    hp_trace_free(&p->engine);
    hp_trace_free(&p->brute);
}

/* Index of the next event of this kind at or after k; event_count when there is none. */
static inline size_t next_of(const hp_trace *trace, hp_event_kind kind, size_t k)
{
    while (k < trace->event_count && trace->event[k].kind != kind)
        k++;
    return k;
}

/* The two number duty modes and corners each in their own way, and two diodes that end together,
 * HP_PHASE_COUNT here, may go by the name of either lead. */
static inline bool says_same(const hp_event *engine, const hp_event *brute)
{
    return engine->which == brute->which || engine->kind == HP_EVENT_DUTY ||
           engine->kind == HP_EVENT_CORNER ||
           (engine->kind == HP_EVENT_DIODE && brute->which == HP_PHASE_COUNT);
}

/* A diode's event that coincides with a switched edge, or with another diode's, may count as part
 * of that; and a PWM pulse below a millionth of its period may be left out. */
static inline bool may_be_left_out(const hp_trace *trace, const hp_event *event)
{
    for (size_t k = 0; k < trace->event_count; k++) {
        const hp_event *other = &trace->event[k];
        double apart = fabs(other->time - event->time);
        bool edge = other->kind == HP_EVENT_PWM || other->kind == HP_EVENT_SENSOR;
        if (other == event)
            continue;
        if (event->kind == HP_EVENT_DIODE && (edge || other->kind == HP_EVENT_DIODE) &&
            apart < 1e-8)
            return true;
        if (event->kind == HP_EVENT_PWM && other->kind == HP_EVENT_PWM && apart < 1e-10)
            return true;
    }
    return false;
}

typedef struct mismatch {
    int missed, extra; /* the engine lacks, the engine alone has */
    double worst;      /* [s] largest difference in time of matched events */
} mismatch;

/* An event of one list only. */
static inline void report(const char *label, int wiring, const char *who, const hp_event *event)
{
    print_message("  %s, wiring %d: %s alone has %s %d at %.9f s\n", label, wiring, who,
                  hp_event_name(event->kind), event->which, event->time);
}

static inline mismatch match(const pair *p, const char *label, int wiring)
{
    mismatch m = {0};
    for (int k = 0; k < HP_EVENT_KIND_COUNT; k++) {
        hp_event_kind kind = (hp_event_kind)k;
        size_t i = next_of(&p->engine, kind, 0), j = next_of(&p->brute, kind, 0);
        while (i < p->engine.event_count || j < p->brute.event_count) {
            const hp_event *a = i < p->engine.event_count ? &p->engine.event[i] : NULL;
            const hp_event *b = j < p->brute.event_count ? &p->brute.event[j] : NULL;
            if (a && b && fabs(a->time - b->time) <= TIME_TOLERANCE_S && says_same(a, b)) {
                m.worst = fmax(m.worst, fabs(a->time - b->time));
                i = next_of(&p->engine, kind, i + 1);
                j = next_of(&p->brute, kind, j + 1);
            } else if (b && (!a || b->time <= a->time)) {
                if (!may_be_left_out(&p->brute, b)) {
                    m.missed++;
                    report(label, wiring, "brute", b);
                }
                j = next_of(&p->brute, kind, j + 1);
            } else {
                if (!may_be_left_out(&p->engine, a)) {
                    m.extra++;
                    report(label, wiring, "engine", a);
                }
                i = next_of(&p->engine, kind, i + 1);
            }
        }
    }
    return m;
}

static inline void check_matched(const pair *p, const char *label, int wiring)
{
    mismatch m = match(p, label, wiring);
    check_true(m.missed == 0 && m.extra == 0, "%s, wiring %d: %d missed, %d extra", label, wiring,
               m.missed, m.extra);
}

/* |value - expected| within `share` of the size that matters. */
static inline void near(double value, double expected, double size, double share, const char *what,
                        const char *label, int wiring)
{
    double tolerance = share * (fabs(expected) + size);
    check_true(fabs(value - expected) <= tolerance, "%s, wiring %d: %s is %.12g, brute %.12g",
               label, wiring, what, value, expected);
}

/* Figures of both; floors are the sizes below which a figure no longer matters. */
static inline void check_figures(const pair *p, double share, const char *label, int wiring)
{
    const hp_figures *f = &p->found, *g = &p->expected;
    near(f->net_turn, g->net_turn, 1.0, share, "net turn", label, wiring);
    check_int(f->at_rest, g->at_rest);
    check_int(f->cut_out, g->cut_out);
    check_int(f->cut_out_voltage, g->cut_out_voltage);
    if (g->window_s == 0.0)
        return; /* cut out early: the reference then measures nothing */
    near(f->window_turn, g->window_turn, 1.0, share, "turn in the last part", label, wiring);
    near(f->wheel_turn, g->wheel_turn, 1.0, share, "turn of the wheel", label, wiring);
    check_int(f->sensor_edges, g->sensor_edges);
    check_int(f->window_turns, g->window_turns);
    check_int(f->window_swings, g->window_swings);
    near(f->window_s, g->window_s, 0.0, share, "window", label, wiring);
    near(f->speed, g->speed, 1.0, share, "speed", label, wiring);
    near(f->speed_sd, g->speed_sd, 0.1, share, "speed sd", label, wiring);
    near(f->wheel_speed, g->wheel_speed, 1.0, share, "wheel speed", label, wiring);
    near(f->torque_mean, g->torque_mean, g->torque_rms + 0.1, share, "torque mean", label, wiring);
    /* Judged as ripple, against the mean: it is small where a drive runs smoothly. */
    near(f->torque_rms, g->torque_rms, fabs(g->torque_mean), share, "torque rms", label, wiring);
    near(f->torque_able, g->torque_able, 0.1, share, "torque able", label, wiring);
    near(f->battery_current, g->battery_current, 0.1, share, "battery current", label, wiring);
    near(f->battery_power, g->battery_power, 4.0, share, "battery power", label, wiring);
    near(f->friction_power, g->friction_power, 1.0, share, "friction power", label, wiring);
    near(f->copper_power, g->copper_power, 1.0, share, "copper power", label, wiring);
    near(f->diode_power, g->diode_power, 1.0, share, "diode power", label, wiring);
    near(f->phase_rms, g->phase_rms, 0.1, share, "phase rms", label, wiring);
    near(f->bus_voltage, g->bus_voltage, 0.0, share, "bus voltage", label, wiring);
    near(f->duty, g->duty, 0.0, share, "duty", label, wiring);
}

static inline hp_engine *make_engine(void)
{
    hp_engine *engine = hp_engine_create(NULL);
    check_true(engine != NULL, "no engine");
    return engine;
}

#endif
