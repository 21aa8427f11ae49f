/*
 * Trace: samples of one run at even times, for pictures, CSV and sample-by-sample comparison.
 */
#ifndef HUBPHASE_SIM_TRACE_H
#define HUBPHASE_SIM_TRACE_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/phase.h"

#include <stddef.h>

HP_API_BEGIN

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
    HP_EVENT_KIND_COUNT
} hp_event_kind;

typedef struct hp_event {
    double time; /* [s] */
    hp_event_kind kind;
    int which; /* lead, sensor code or body, by kind */
} hp_event;

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
} hp_trace;

/* An empty trace that wants samples every `interval` seconds in [from, until]. */
hp_trace hp_trace_init(double from, double until, double interval);
/* Reserves room so that recording does not allocate; HP_FAIL_MEMORY when it cannot. */
hp_result hp_trace_reserve(hp_trace *trace, size_t samples, size_t events, hp_error *err);
hp_result hp_trace_add_sample(hp_trace *trace, const hp_sample *sample);
hp_result hp_trace_add_event(hp_trace *trace, double time, hp_event_kind kind, int which);
/* Short name such as "sensor"; static storage. */
const char *hp_event_name(hp_event_kind kind);
void hp_trace_free(hp_trace *trace);

HP_API_END

#endif
