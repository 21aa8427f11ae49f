/*
 * A run's bookkeeping, and the times that are known beforehand: PWM edges, stall deadline,
 * checkpoints, looks for calm, the end.
 */
#ifndef HUBPHASE_SRC_SIM_RUN_CLOCK_H
#define HUBPHASE_SRC_SIM_RUN_CLOCK_H

#include "sim/calm.h"
#include "sim/machine.h"
#include "sim/measure.h"
#include "sim/path.h"
#include "sim/step.h"
#include "sim/vector.h"

#include <string.h>

typedef struct hp_run hp_run;

struct hp_engine {
    SUNContext context;
    hp_vector_stock vectors;
    N_Vector state;
    void *arkode;
    double tolerance;
    double step_wanted; /* by the error of the last step */
    bool step_bounded;  /* ... to the most that may follow: the error was too small to tell */
    long rhs;           /* our own count: a reset of the integrator zeroes its own */
    hp_machine machine; /* of the run going on */
    /* The latest instant, kept because integrator, guards and measurement ask for the same state
     * one after another. A change of mode makes it invalid. */
    hp_instant instant;
    double instant_y[HP_STATE_DYNAMIC];
    bool instant_valid;
    bool starved; /* a run broke off for want of memory, see pool.h */
    hp_measure measure;
    hp_calm calm;
    hp_step step;
    hp_paths paths; /* of the row of runs going on */
    hp_run *run;    /* the run going on; borrowed */
};

/* One run's bookkeeping, on the stack. */
struct hp_run {
    hp_engine *engine;
    hp_machine *m;
    const hp_run_options *options;
    hp_trace *trace;
    hp_figures *figures;
    double *y;
    double t;
    double step_hint;   /* last step that nothing cut short */
    double first_step;  /* asked of an integrator just started; 0: it goes on */
    double next_sample; /* index-free time of the next sample, trace only */
    long sample_index;
    double checkpoint_gap;
    long checkpoint; /* index of the next one */
    double next_checkpoint;
    int next_demand;      /* index of the next one of the course */
    bool demanded;        /* the latest known time that was passed was one that changed something */
    hp_response response; /* on the latest one */
    double torque_integral; /* when it came */
    double next_pwm;        /* INFINITY: no PWM edges wanted */
    long pwm_period;
    bool measuring;   /* false once the controller has cut out: figures are closed */
    double speed_max; /* [rad/s] beyond it the rotor has run away */
    double end;       /* of the run; earlier than asked once it is calm */
    double next_look; /* next even time to ask whether it is; INFINITY: never */
    double swing_end; /* ends with the first swing in this sense from here on; INFINITY: not so */
    int swing_sense;
    hp_paths *paths; /* watched for the way of an earlier run; NULL: not */
    int moved;       /* sense in which the rotor moved last; 0: not yet */
    long events, steps;
    long firings; /* of guards; counts towards the cap even where nothing changed */
    /* The step going on and what it brought */
    double stop; /* it ends here at the latest */
    bool aimed;  /* the integrator knows that already */
    bool taken;  /* it has been looked into ... */
    bool found;  /* ... and holds an event, at this time and state, of these guards */
    double event_time;
    double event_y[HP_STATE_COUNT];
    int fired[HP_GUARD_COUNT];
    bool passed;      /* its end was a PWM edge, which has been passed */
    bool switched;    /* another mode begins at its end */
    hp_result result; /* of what it brought */
};

/* The instant of a state in the present mode, taken anew unless it is the latest; borrowed. */
static inline const hp_instant *hp_engine_instant(hp_engine *e, const double *y)
{
    bool same = e->instant_valid;
    for (int k = 0; k < HP_STATE_DYNAMIC && same; k++)
        same = e->instant_y[k] == y[k];
    if (!same) {
        hp_machine_instant(&e->machine, y, &e->instant);
        memcpy(e->instant_y, y, sizeof e->instant_y);
        e->instant_valid = true;
    }
    return &e->instant;
}

/* Neither is a NaN: not fmin, which would be a call. */
static inline double hp_lesser(double a, double b)
{
    return b < a ? b : a;
}

/* When the controller will give up for want of sensor edges; INFINITY: not. */
double hp_run_stall_deadline(const hp_run *run);
/* The soonest known time. */
double hp_run_next_stop(const hp_run *run);
/* Begins the PWM period with index pwm_period at the present duty, or moves on inside it. */
void hp_run_step_pwm(hp_run *run, bool begin);
/* Lets the controls ask for what they do at this time; *changed: another mode begins. */
hp_result hp_run_follow_course(hp_run *run, bool *changed);
/* Notes how the machine responds to the latest demand, at every step's end. */
void hp_run_note_response(hp_run *run);
/* The response ends here, with the next demand or the run. */
hp_result hp_run_end_response(hp_run *run);
/* Ends the measurement, once. */
void hp_run_close_figures(hp_run *run);
/* The next checkpoint after t; the last part begins exactly at its own time. */
void hp_run_set_checkpoint(hp_run *run);
/* Asks whether the run has become calm; if so, measures from here on and ends soon. The moment is
 * that of t and y, the latest known or inside the step just taken. */
void hp_run_look_for_calm(hp_run *run, double t, const double *y, hp_calm_moment moment);
/* Notes in which sense the rotor moves now, and a swing that has come to its end. */
void hp_run_note_sense(hp_run *run);
/* Notes a moment at which paths may meet; ends the run when it goes the way of an earlier one. */
void hp_run_note_path(hp_run *run, double t, const double *y, hp_calm_moment moment);
/* The same inside the step just taken, where no event tells. */
void hp_run_note_crossing(hp_run *run);
/* Handles every known time that has come. Sets *switched when the integrator must restart. */
hp_result hp_run_pass_known_times(hp_run *run, bool *switched);

#endif
