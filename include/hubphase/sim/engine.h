/*
 * The event-driven simulation of one drive with one wiring.
 *
 * An engine is an integrator with its workspace; it is made once a thread and runs many times.
 * SUNDIALS ARKODE (ERKStep, Cash-Karp 5(4)) integrates between events; each event is a root of a
 * signed guard function, or a known time; the mode switches there and the integrator restarts.
 */
#ifndef HUBPHASE_SIM_ENGINE_H
#define HUBPHASE_SIM_ENGINE_H

#include "hubphase/base/result.h"
#include "hubphase/model/course.h"
#include "hubphase/model/drive.h"
#include "hubphase/sim/figures.h"

#include <stddef.h>

HP_API_BEGIN

/*
 * A run whose controls follow a course (hubphase/model/course.h) goes on to its end. A demand for
 * nothing switches every leg off: the wheel coasts. One that lowers the duty without ending it
 * lowers it by the ramp. Asked for again while the wheel turns, the controller takes up at the duty
 * that this speed stands for, as a motor joined at less would brake. One that has cut out (stall,
 * volts) stays off.
 */

typedef struct hp_run_options {
    double seconds;     /* simulated time; > 0 */
    double settle_s;    /* the last part, over which figures are measured, begins here; < seconds */
    double start_angle; /* [rad electrical] rotor at rest here at time 0 */
    double start_speed; /* [rad/s] rotor speed at time 0; usually 0 */
    double start_duty;  /* duty at time 0; usually 0; without a ramp the throttle's is taken */
    double tolerance;   /* relative error per step; 1e-12..1e-2 */
    double max_step_s;  /* longest step, at least 1e-8; 0: no bound */
    long max_events;    /* cap of events a simulated second, beyond which the run is chatter; PWM
                           edges do not count */
    long max_steps;     /* cap of the integrator's steps, beyond which the run is too slow */
    double calm_share;  /* 0: run to the end. Above 0, at most 0.1: once the means over blocks of
                           whole turns move by less than this share, measure at once over a tenth of
                           a second and end there (never later than without; not with a trace) */
    const hp_control_demand *demand; /* [demands] what the controls ask for, in the order of time,
                                        the first at 0; in place of the drive's throttle. Borrowed;
                                        NULL: that throttle all along */
    int demands;                     /* 0..HP_DEMANDS_MAX */
    int (*stop)(void *user); /* asked every few milliseconds of work, on any thread; a return other
                                than 0 ends the run with HP_FAIL_CANCELLED. May be NULL */
    void *stop_user;         /* borrowed; handed to stop */
} hp_run_options;

/* 2 s of which the last 0.8 s is measured, from rest, tolerance 1e-7. */
hp_run_options hp_run_options_default(void);
hp_result hp_run_options_check(const hp_run_options *options, hp_error *err);

/* ---- what work on many runs has in common ---------------------------------------------------- */

#define HP_JOBS_MAX 256 /* threads */

/* Called after each task of such work, never two at once; a return other than 0 stops it. */
typedef int (*hp_progress)(void *user, int done, int total);

/* ---- trace: samples of one run at even times ------------------------------------------------- */

/* For pictures, CSV and sample-by-sample comparison. */

typedef struct hp_sample {
    double time;                     /* [s] */
    double theta;                    /* [rad electrical], unwrapped from the start */
    double speed;                    /* [rad/s] rotor */
    double wheel_speed;              /* [rad/s] wheel */
    double current[HP_PHASE_COUNT];  /* [A] into the motor lead */
    double backemf[HP_PHASE_COUNT];  /* [V] */
    double terminal[HP_PHASE_COUNT]; /* [V] lead against battery minus */
    double torque;                   /* [N m] electromagnetic */
    double duty;                     /* 0..1 */
    double bus_voltage;              /* [V] */
    double battery_current;          /* [A] */
    int code;                        /* as the controller sees it, 0..7 */
    int drive[HP_PHASE_COUNT];       /* command per motor lead: +1 high, -1 low, 0 off */
} hp_sample;

typedef enum hp_event_kind {
    HP_EVENT_SENSOR, /* the controller's code changed */
    HP_EVENT_CORNER, /* the back-EMF's slope jumped */
    HP_EVENT_DIODE,  /* an off lead began or ceased to conduct */
    HP_EVENT_STICK,  /* a body came to rest */
    HP_EVENT_SLIP,   /* a body broke away, or turned round */
    HP_EVENT_CLUTCH, /* the clutch engaged or let go */
    HP_EVENT_DUTY,   /* the duty met the throttle's, left it, or met zero */
    HP_EVENT_PWM,    /* a real PWM edge */
    HP_EVENT_CUTOUT, /* stall or under-voltage cut-out */
    HP_EVENT_DEMAND, /* the controls ask for something else */
    HP_EVENT_KIND_COUNT
} hp_event_kind;

typedef struct hp_event {
    double time; /* [s] */
    hp_event_kind kind;
    int which; /* lead, sensor code or body, by kind */
} hp_event;

/* What the machine did from one demand of a course until the next, or the end. */
typedef struct hp_response {
    double time;            /* [s] of the demand */
    double torque;          /* [N m] electromagnetic, just before it */
    double wheel_speed;     /* [rad/s] just before it */
    double end;             /* [s] of the next demand, or of the run */
    double end_wheel_speed; /* [rad/s] then */
    double torque_mean;     /* [N m] from the one to the other; 0 where no time lies between */
    double no_current_s;    /* [s] time from which on no lead carried current until the end;
                               INFINITY: one did */
    double standstill_s; /* [s] time from which on the wheel stood until the end; INFINITY: not */
} hp_response;

/* A trace owns its arrays. Zero-initialise before use; free when done. */
typedef struct hp_trace {
    double from;     /* [s] first time wanted */
    double interval; /* [s] between samples; 0: one sample at every integrator step instead */
    double until;    /* [s] last time wanted */
    hp_sample *sample;
    size_t count;
    size_t capacity;
    hp_event *event; /* every event of the run, when keep_events is set */
    size_t event_count;
    size_t event_capacity;
    int keep_events;
    hp_response *response; /* one a demand of the run's course, whatever samples are wanted */
    size_t response_count; /* those whose time came */
    size_t response_capacity;
} hp_trace;

/* An empty trace that wants samples every `interval` seconds in [from, until]. */
hp_trace hp_trace_init(double from, double until, double interval);
/* Short name such as "sensor"; static storage. */
const char *hp_event_name(hp_event_kind kind);
void hp_trace_free(hp_trace *trace);

/* ---- one run --------------------------------------------------------------------------------- */

typedef struct hp_engine hp_engine;

/* A new engine, owned by the caller; NULL and err set when memory or the library fails. */
hp_engine *hp_engine_create(hp_error *err);
void hp_engine_free(hp_engine *engine);

/* Runs one wiring. `drive` and `options` must have passed their checks; `wiring` must be one
 * (asserted). `trace` may be NULL; else it is filled as its fields ask. A run that breaks off
 * (step collapse, not a number, chatter) returns its code, sets figures->status and reason and
 * leaves the engine usable. Memory failure while recording returns HP_FAIL_MEMORY.
 *
 * The same input gives the same bytes, whatever ran on this engine before. */
hp_result hp_engine_run(hp_engine *engine, const hp_drive *drive, const hp_wiring *wiring,
                        const hp_run_options *options, hp_trace *trace, hp_figures *figures,
                        hp_error *err);

/* Which stretch of a run its waveforms show, when nobody said [s]: the last electrical turns of a
 * rotor that turned, or the last moment of one that did not. `figures`: of such a run. */
void hp_wave_window(const hp_run_options *run, int pole_pairs, const hp_figures *figures,
                    double *from, double *until);

/* Rest angle k of a survey [rad, 0..2 pi): a golden-section sequence, so that any number of angles
 * covers both the turn and the place inside a sector, and more angles only add to the set. */
double hp_rest_angle(int k);

HP_API_END

#endif
