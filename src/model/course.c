/*
 * A course of the controls: see the header.
 *
 * Between actions only three things happen by themselves: the brake input is acted on after its
 * delay, pulses of the pedals become enough, pulses stay away for too long. Each is a known time.
 */
#include "hubphase/model/course.h"

#include <assert.h>
#include <math.h>

const char *hp_action_name(hp_action_kind kind)
{
    static const char *const name[HP_ACTION_KIND_COUNT] = {"key",   "grip", "brake", "pedals",
                                                           "speed", "off",  "on"};
    return (int)kind >= 0 && kind < HP_ACTION_KIND_COUNT ? name[kind] : "unknown";
}

/* ---- check ----------------------------------------------------------------------------------- */

/* Least and most value of an action; *whole: it has no parts. */
static void range_of(hp_action_kind kind, const hp_controls_params *controls, double *low,
                     double *high, bool *whole)
{
    *low = 0.0;
    *high = 1.0;
    *whole = kind != HP_ACTION_GRIP && kind != HP_ACTION_PEDALS;
    if (kind == HP_ACTION_PEDALS) {
        *low = -5.0;
        *high = 5.0;
    } else if (kind == HP_ACTION_SPEED) {
        *low = 1.0;
        *high = controls->speed.steps;
    } else if (kind == HP_ACTION_LEAD_OFF || kind == HP_ACTION_LEAD_ON) {
        *high = HP_CONTROL_LEAD_COUNT - 1;
    }
}

hp_result hp_course_check(const hp_course *course, const hp_controls_params *controls,
                          hp_error *err)
{
    if (course->count < 0 || course->count > HP_ACTIONS_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "a course has %d actions, must have at most %d",
                            course->count, HP_ACTIONS_MAX);
    for (int k = 0; k < course->count; k++) {
        const hp_action *a = &course->action[k];
        double low, high, least = k > 0 ? course->action[k - 1].time : 0.0;
        bool whole;
        if ((int)a->kind < 0 || a->kind >= HP_ACTION_KIND_COUNT)
            return hp_error_set(err, HP_FAIL_INPUT, "action %d is of kind %d, not a known one",
                                k + 1, (int)a->kind);
        if (!(a->time >= least && a->time <= 3600.0))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "action %d is at %g s, must be from %g, the one before it, to 3600",
                                k + 1, a->time, least);
        range_of(a->kind, controls, &low, &high, &whole);
        if (!(a->value >= low && a->value <= high) || (whole && a->value != floor(a->value)))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "action %d has the value %g, must be %g to %g%s", k + 1, a->value,
                                low, high, whole ? ", whole" : "");
    }
    return HP_OK;
}

/* ---- the course ------------------------------------------------------------------------------ */

/* What is due by itself, and on account of which action; INFINITY: nothing. */
typedef struct due {
    double time;
    int action;
} due;

static const due nothing = {INFINITY, -1};

typedef struct course_run {
    const hp_controls_params *controls;
    hp_controls_state state;
    due brake, start, stop;
    /* Pedals: since when they turn as they do, and the pulses that count */
    double since, interval; /* INFINITY: no pulse comes */
    bool forward;
    int pulses;
    double last_pulse;
    hp_control_demand *demand;
    int count;
} course_run;

static void put(course_run *c, double time, int action)
{
    assert(c->count < HP_DEMANDS_MAX);
    hp_controls_remember(c->controls, &c->state);
    hp_control_demand demand = hp_controls_demand(c->controls, &c->state);
    demand.time = time;
    demand.action = action;
    c->demand[c->count++] = demand;
}

/* Counts the pulses up to now. */
static void count_pulses(course_run *c, double now)
{
    double pulses = floor((now - c->since) / c->interval);
    if (!c->forward || !(pulses >= 1.0))
        return;
    c->last_pulse = c->since + pulses * c->interval;
    c->pulses += (int)fmin(pulses, 1e6);
}

/* The crank begins to turn as the state says: the next pulse is a whole one away. A pulse of the
 * wrong sense, as one that stays away, ends the pedalling. */
static void pedal(course_run *c, double now, int action)
{
    const hp_pedal_params *p = &c->controls->pedal;
    count_pulses(c, now);
    double speed = fabs(c->state.crank_turns_s);
    bool turns = speed > 0.0 && !c->state.off[HP_CONTROL_LEAD_PEDAL];
    c->since = now;
    c->interval = turns ? 1.0 / (p->pulses_per_turn * speed) : (double)INFINITY;
    c->forward = hp_pedal_says_forward(p, &c->state);
    c->start = c->stop = nothing;

    double missed = c->last_pulse + p->off_s, next = now + c->interval;
    bool goes_on = c->forward && next <= missed;
    if (!goes_on && c->state.pedalled)
        c->stop = (due){turns && !c->forward ? fmin(next, missed) : missed, action};
    if (!goes_on)
        c->pulses = 0;
    if (c->forward && c->interval <= p->off_s && !(goes_on && c->state.pedalled)) {
        int wanted = p->start_pulses > c->pulses ? p->start_pulses - c->pulses : 0;
        c->start = (due){now + wanted * c->interval, action};
    }
}

/* The brake input has changed, or has not: a change that is gone before the delay is over has never
 * been. */
static void look_at_brake(course_run *c, double now, int action)
{
    bool pulled = hp_brake_says_pulled(&c->controls->brake, &c->state);
    double delay = c->controls->brake.delay_s;
    if (pulled == c->state.cut_seen)
        c->brake = nothing;
    else if (delay <= 0.0)
        c->state.cut_seen = pulled;
    else if (c->brake.time == (double)INFINITY)
        c->brake = (due){now + delay, action};
}

static void act(course_run *c, const hp_action *action, int index)
{
    hp_controls_state *s = &c->state;
    switch (action->kind) {
    case HP_ACTION_KEY: s->key = action->value != 0.0; break;
    case HP_ACTION_GRIP: s->grip = action->value; break;
    case HP_ACTION_LEVER: s->lever = action->value != 0.0; break;
    case HP_ACTION_PEDALS: s->crank_turns_s = action->value; break;
    case HP_ACTION_SPEED: s->speed_step = (int)action->value; break;
    case HP_ACTION_LEAD_OFF: s->off[(int)action->value] = true; break;
    case HP_ACTION_LEAD_ON: s->off[(int)action->value] = false; break;
    case HP_ACTION_KIND_COUNT: break;
    }
    bool lead = action->kind == HP_ACTION_LEAD_OFF || action->kind == HP_ACTION_LEAD_ON;
    if (action->kind == HP_ACTION_PEDALS || (lead && action->value == HP_CONTROL_LEAD_PEDAL))
        pedal(c, action->time, index);
    look_at_brake(c, action->time, index);
    put(c, action->time, index);
}

/* What is due by this time happens, the soonest first. */
static void let_happen(course_run *c, double until)
{
    for (;;) {
        due *next = c->stop.time <= c->start.time ? &c->stop : &c->start;
        if (c->brake.time < next->time)
            next = &c->brake;
        if (!(next->time <= until) || next->time == (double)INFINITY)
            return;
        due now = *next;
        if (next == &c->brake)
            c->state.cut_seen = !c->state.cut_seen;
        else
            c->state.pedalled = next == &c->start;
        *next = nothing;
        put(c, now.time, now.action);
    }
}

int hp_course_demands(const hp_course *course, const hp_controls_params *controls,
                      hp_control_demand demand[HP_DEMANDS_MAX])
{
    course_run c = {.controls = controls,
                    .state = hp_controls_state_rest(controls),
                    .brake = nothing,
                    .start = nothing,
                    .stop = nothing,
                    .interval = INFINITY,
                    .last_pulse = -INFINITY,
                    .demand = demand};
    put(&c, 0.0, -1);
    for (int k = 0; k < course->count; k++) {
        let_happen(&c, course->action[k].time);
        act(&c, &course->action[k], k);
    }
    let_happen(&c, INFINITY);
    return c.count;
}
