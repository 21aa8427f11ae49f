/*
 * What if: a machine whose controls follow a course, simulated, and what came of each action; and a
 * list of what can be wrong with the controls, each with the course that shows it.
 *
 * What came of it is told from the simulated currents and speeds alone. Whether that is well is the
 * list's to say.
 */
#ifndef HUBPHASE_DECIDE_WHAT_IF_H
#define HUBPHASE_DECIDE_WHAT_IF_H

#include "hubphase/base/result.h"
#include "hubphase/decide/commission.h"
#include "hubphase/model/course.h"
#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"

HP_API_BEGIN

/* ---- one course ------------------------------------------------------------------------------ */

/* What came of an action until the next, or the end: no current at all, or current. */
typedef enum hp_outcome {
    HP_OUTCOME_STAYS_OFF, /* none before, none after */
    HP_OUTCOME_STARTS,    /* none before, some after */
    HP_OUTCOME_STOPS,     /* some before, none after */
    HP_OUTCOME_GOES_ON,   /* some before and after, and the wheel as fast */
    HP_OUTCOME_FASTER,    /* ... by more than a tenth */
    HP_OUTCOME_SLOWER,    /* ... by more than a tenth */
    HP_OUTCOME_COUNT
} hp_outcome;

/* "stays off" ... */
const char *hp_outcome_name(hp_outcome outcome);

typedef struct hp_moment {
    hp_action action;
    hp_outcome outcome;
    hp_control_reason reason; /* why it drives or not, at the end */
    double duty_before;       /* asked for, just before */
    double duty_after;        /* ... at the end */
    double wheel_before;      /* [rad/s] wheel, just before */
    double wheel_after;       /* ... at the end */
    double acts_s; /* [s] from the action until what is asked for changed last; INFINITY: never */
    double no_torque_s;  /* [s] from the action until no lead carried current; INFINITY: one does */
    double standstill_s; /* [s] from the action until the wheel stood; INFINITY: it still turns */
} hp_moment;

typedef struct hp_course_run {
    hp_course course;
    hp_controls_params controls;
    hp_control_demand demand[HP_DEMANDS_MAX]; /* those within the run */
    int demands;
    hp_moment moment[HP_ACTIONS_MAX]; /* one an action within the run */
    int moments;
    double seconds;
    hp_trace trace; /* owned; HP_COURSE_SAMPLES + 1 samples over all of it */
    hp_figures figures;
} hp_course_run;

#define HP_COURSE_SAMPLES     1200
#define HP_COURSE_SECONDS_MAX 600.0 /* of one that a person asks for */

/* Simulates `seconds` of one wiring under a course; all must have passed their checks. An action at
 * or after the end is left out. A run that breaks off fails as hp_engine_run does. Free with
 * hp_course_run_free, which is safe on a zeroed one. */
hp_result hp_course_run_make(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_controls_params *controls, const hp_course *course,
                             double seconds, hp_course_run *run, hp_error *err);
void hp_course_run_free(hp_course_run *run);

/* ---- what can be wrong with the controls ----------------------------------------------------- */

typedef enum hp_what_if {
    HP_WHAT_IF_KEY_OFF,
    HP_WHAT_IF_OPEN_GRIP,
    HP_WHAT_IF_BRAKE,
    HP_WHAT_IF_BRAKE_SORT,
    HP_WHAT_IF_BRAKE_LEVEL,
    HP_WHAT_IF_BRAKE_LEAD,
    HP_WHAT_IF_THROTTLE_SUPPLY,
    HP_WHAT_IF_THROTTLE_GROUND,
    HP_WHAT_IF_THROTTLE_SIGNAL,
    HP_WHAT_IF_REST_SUPPLY,
    HP_WHAT_IF_REST_GROUND,
    HP_WHAT_IF_REST_SIGNAL,
    HP_WHAT_IF_PEDALS_STOP,
    HP_WHAT_IF_PEDALS_BACK,
    HP_WHAT_IF_PEDAL_SIDE,
    HP_WHAT_IF_PEDAL_LEAD,
    HP_WHAT_IF_SPEED_LEAD,
    HP_WHAT_IF_COUNT
} hp_what_if;

/* "brake_other_sort": for options and JSON. HP_WHAT_IF_COUNT: there is none of that name. */
const char *hp_what_if_name(hp_what_if what);
hp_what_if hp_what_if_find(const char *name);
/* Whether these controls have the part that it is about. */
bool hp_what_if_applies(hp_what_if what, const hp_controls_params *controls);

/* The controls with what is supposed, the course that shows it, how long to simulate, and which of
 * its actions it is about, from 0. */
typedef struct hp_what_if_plan {
    hp_controls_params controls;
    hp_course course;
    double seconds;
    int focus;
} hp_what_if_plan;

hp_what_if_plan hp_what_if_plan_make(hp_what_if what, const hp_controls_params *controls);

/* The same of a case by its name. HP_FAIL_INPUT says what is wrong with it, and which cases there
 * are with these controls. */
hp_result hp_what_if_plan_find(const char *name, const hp_controls_params *controls,
                               hp_what_if *what, hp_what_if_plan *plan, hp_error *err);

/* What the outcome of that action means for a machine that is to be ridden: good; look: mend it, or
 * know of it; stop: not before it is mended. */
hp_finding hp_what_if_finding(hp_what_if what, hp_outcome outcome);

typedef struct hp_what_if_result {
    hp_what_if what;
    hp_moment moment; /* of the action that it is about */
} hp_what_if_result;

/* Simulates all that apply, in order; *count says how many. Fails as hp_course_run_make does. */
hp_result hp_what_if_run_all(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_controls_params *controls,
                             hp_what_if_result result[HP_WHAT_IF_COUNT], int *count, hp_error *err);

HP_API_END

#endif
