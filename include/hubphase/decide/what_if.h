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
    hp_control_reason reason_before; /* why it is asked to drive or not, just before */
    hp_control_reason reason;        /* ... at the end */
    double duty_before;              /* asked for, just before */
    double duty_after;               /* ... at the end */
    double wheel_before;             /* [rad/s] wheel, just before */
    double wheel_after;              /* ... at the end */
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
    double full_rad_s; /* of the wheel at full duty, loss-free */
    hp_trace trace;    /* owned; HP_COURSE_SAMPLES + 1 samples over all of it */
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
    HP_WHAT_IF_PEDAL_SIDE_BACK,
    HP_WHAT_IF_PEDAL_LEAD,
    HP_WHAT_IF_SPEED_LEAD,
    HP_WHAT_IF_COUNT
} hp_what_if;

/* "brake_other_sort": for options and JSON. HP_WHAT_IF_COUNT: there is none of that name. */
const char *hp_what_if_name(hp_what_if what);
hp_what_if hp_what_if_find(const char *name);
/* Whether it asks what would be if a part were another one than is stated: that is told beside what
 * this machine does, and is no stop of it. */
bool hp_what_if_supposes(hp_what_if what);
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

/* What holds the drive off, so that a case cannot show what it asks. What a case is about itself
 * never holds it: a lever that stops nothing is told of the lever. */
typedef enum hp_hold {
    HP_HOLD_NOTHING,
    HP_HOLD_BRAKE,          /* the brake input says pulled with the lever let go */
    HP_HOLD_THROTTLE_FAULT, /* the controller takes the throttle for broken */
    HP_HOLD_THROTTLE_OPEN,  /* ... never sees the grip let go */
    HP_HOLD_THROTTLE_REST,  /* ... sees nothing asked for by half a grip */
    HP_HOLD_PEDALS,         /* ... does not see the pedals turn forward, or asks for nothing then */
    HP_HOLD_MOTOR,          /* it drives, and no current flows */
    HP_HOLD_COUNT
} hp_hold;

/* "brake", "throttle fault", "throttle open", "throttle rest", "pedals", "motor"; "nothing". */
const char *hp_hold_name(hp_hold hold);

typedef struct hp_what_if_result {
    hp_what_if what;
    hp_moment moment;   /* of the action that it is about */
    hp_hold hold;       /* HP_HOLD_NOTHING: that moment shows what was asked */
    unsigned put_right; /* set of holds, 1u << hold, that were put right for `right`; 0: there is
                           none, no repair of the controls lets it be shown */
    hp_moment right;    /* that moment of the machine with these put right */
    bool lacks;         /* the part that would answer is not fitted: nothing is wrong with it */
} hp_what_if_result;

/* What came of that action means for a machine that is to be ridden: good; look: mend it, or know
 * of it, such as a part that is not fitted, or another one than is stated; stop: not before it is
 * mended; untested: something else holds the drive off. */
hp_finding hp_what_if_finding(const hp_what_if_result *result);

/* The result of the machine with all put right that holds its drive off. There must be one. */
hp_what_if_result hp_what_if_once_right(const hp_what_if_result *result);

/* Whether it drives before the action though nothing asks for it yet: then the action shows
 * nothing more. */
bool hp_what_if_drives_already(const hp_what_if_result *result);

/* Simulates one, and the same with all put right that holds the drive off. `run` (may be NULL) is
 * the one that shows what is asked, for the caller to free: of the machine with these put right
 * where result->put_right has any, else of the machine as stated. Fails as hp_course_run_make does.
 */
hp_result hp_what_if_run(const hp_drive *drive, const hp_wiring *wiring,
                         const hp_controls_params *controls, hp_what_if what,
                         hp_what_if_result *result, hp_course_run *run, hp_error *err);

/* Simulates all that apply, in order; *count says how many. Fails as hp_course_run_make does. */
hp_result hp_what_if_run_all(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_controls_params *controls,
                             hp_what_if_result result[HP_WHAT_IF_COUNT], int *count, hp_error *err);

HP_API_END

#endif
