/*
 * A course of the controls: what hands and feet do, and which leads come off, at stated times; and
 * what the controller asks of the bridge in consequence, from when on.
 *
 * The controls do not look at the machine, so the whole course is worked out beforehand: pulses of
 * the pedal sensor, its time-out, the delay of the brake input. The engine follows the list.
 */
#ifndef HUBPHASE_MODEL_COURSE_H
#define HUBPHASE_MODEL_COURSE_H

#include "hubphase/model/ride_controls.h"

HP_API_BEGIN

typedef enum hp_action_kind {
    HP_ACTION_KEY,      /* value 1 on, 0 off */
    HP_ACTION_GRIP,     /* value 0..1 */
    HP_ACTION_LEVER,    /* value 1 pulled, 0 let go */
    HP_ACTION_PEDALS,   /* value: turns of the crank a second, backward negative; -5..5 */
    HP_ACTION_SPEED,    /* value: position of the speed switch, from 1 */
    HP_ACTION_LEAD_OFF, /* value: an hp_control_lead */
    HP_ACTION_LEAD_ON,  /* the same, joined again */
    HP_ACTION_KIND_COUNT
} hp_action_kind;

/* "key", "grip", "brake", "pedals", "speed", "off", "on": for options and JSON. */
const char *hp_action_name(hp_action_kind kind);

typedef struct hp_action {
    double time; /* [s]; >= 0, none before the one above it */
    hp_action_kind kind;
    double value;
} hp_action;

#define HP_ACTIONS_MAX 32
/* Each action leads to a change at its time and at most two more: a delay, a time-out, a start. */
#define HP_DEMANDS_MAX (1 + 3 * HP_ACTIONS_MAX)

typedef struct hp_course {
    hp_action action[HP_ACTIONS_MAX];
    int count;
} hp_course;

/* HP_FAIL_INPUT names the action, from 1, and what is wrong with it. */
hp_result hp_course_check(const hp_course *course, const hp_controls_params *controls,
                          hp_error *err);

/* The demands that follow from a course, in the order of time, the first at time 0, where every
 * control is at rest and the key on. Every action has one of its own at its time, also where
 * nothing changes. Both must have passed their checks. Returns how many. */
int hp_course_demands(const hp_course *course, const hp_controls_params *controls,
                      hp_control_demand demand[HP_DEMANDS_MAX]);

HP_API_END

#endif
