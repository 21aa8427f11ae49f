/* The known times of a run: see the header. */
#include "sim/run_clock.h"

#include "sim/trace.h"

#include <math.h>
#include <string.h>

/* A lead that carries less than this carries none [A]: far above the integrator's error, far below
 * what makes a torque that anybody feels. */
#define NO_CURRENT_A 1e-4
/* A PWM pulse or gap shorter than this share of the period is left out. */
#define PWM_SHARE_MIN 1e-6
/* A calm run is measured over at least this time and so many electrical turns. */
#define CALM_MEASURED_S     0.1
#define CALM_TURNS_MEASURED 6
/* A moment at which the speed passes zero is known to this. */
#define CROSSING_S     1e-10
#define CROSSING_LOOKS 50

double hp_run_stall_deadline(const hp_run *r)
{
    double wait = r->m->drive->controller.stall_cutout_s;
    return wait > 0.0 && !r->m->cut_out && r->m->duty_target > 0.0 ? r->m->last_edge + wait
                                                                   : (double)INFINITY;
}

static double next_demand(const hp_run *r)
{
    return r->next_demand < r->options->demands ? r->options->demand[r->next_demand].time
                                                : (double)INFINITY;
}

double hp_run_next_stop(const hp_run *r)
{
    double stop = hp_lesser(hp_lesser(r->end, r->next_look), r->next_checkpoint);
    stop = hp_lesser(stop, next_demand(r));
    return hp_lesser(stop, hp_lesser(r->next_pwm, hp_run_stall_deadline(r)));
}

/* Another mode, or the same again: what was known of this instant no longer counts. */
static void set_pwm(hp_run *r, bool high)
{
    hp_machine_set_pwm(r->m, high, r->y, hp_engine_instant(r->engine, r->y));
    r->engine->instant_valid = false;
}

void hp_run_step_pwm(hp_run *r, bool begin)
{
    const hp_controller_params *c = &r->m->drive->controller;
    double period = 1.0 / c->pwm_hz;
    double start = (double)r->pwm_period * period;
    double share = r->y[HP_Y_DUTY];
    /* Inside a period, not at its start: the high part is over. The high state alone does not tell,
     * for at full duty it lasts from one period into the next. */
    if (!begin && r->t - start > 0.5 * PWM_SHARE_MIN * period) {
        set_pwm(r, false);
        r->pwm_period++;
        r->next_pwm = start + period;
        return;
    }
    if (share > 1.0 - PWM_SHARE_MIN || share < PWM_SHARE_MIN) {
        set_pwm(r, share > 0.5);
        r->pwm_period++;
        r->next_pwm = start + period;
        return;
    }
    set_pwm(r, true);
    r->next_pwm = start + share * period;
}

static hp_result note_event(hp_run *r, hp_event_kind kind, int which)
{
    r->events++;
    if (r->trace && r->trace->keep_events)
        return hp_trace_add_event(r->trace, r->t, kind, which);
    return HP_OK;
}

/* ---- the course of the controls -------------------------------------------------------------- */

void hp_run_note_response(hp_run *r)
{
    hp_response *response = &r->response;
    if (!r->trace || r->next_demand == 0)
        return;
    bool flows = false;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        flows = flows || fabs(r->y[HP_Y_CURRENT + k]) > NO_CURRENT_A;
    if (flows)
        response->no_current_s = INFINITY;
    else if (response->no_current_s == (double)INFINITY)
        response->no_current_s = r->t;
    if (r->y[HP_Y_WHEEL] != 0.0)
        response->standstill_s = INFINITY;
    else if (response->standstill_s == (double)INFINITY)
        response->standstill_s = r->t;
}

hp_result hp_run_end_response(hp_run *r)
{
    hp_response *response = &r->response;
    if (!r->trace || r->next_demand == 0)
        return HP_OK;
    double span = r->t - response->time;
    response->end = r->t;
    response->end_wheel_speed = r->y[HP_Y_WHEEL];
    response->torque_mean = span > 0.0 ? (r->y[HP_Q_TORQUE] - r->torque_integral) / span : 0.0;
    return hp_trace_add_response(r->trace, response);
}

static void begin_response(hp_run *r)
{
    const hp_instant *now = hp_engine_instant(r->engine, r->y);
    r->response = (hp_response){.time = r->t,
                                .torque = now->torque,
                                .wheel_speed = r->y[HP_Y_WHEEL],
                                .no_current_s = INFINITY,
                                .standstill_s = INFINITY};
    r->torque_integral = r->y[HP_Q_TORQUE];
}

/* With real edges: none while every leg is off. The period in which the legs come on again is a low
 * part to its end. */
static void follow_edges(hp_run *r, bool coasted)
{
    double period = 1.0 / r->m->drive->controller.pwm_hz;
    if (r->m->coasting) {
        r->next_pwm = INFINITY;
    } else if (coasted) {
        r->pwm_period = (long)floor(r->t / period) + 1;
        r->next_pwm = (double)r->pwm_period * period;
    }
}

hp_result hp_run_follow_course(hp_run *r, bool *changed)
{
    const hp_control_demand *demand = &r->options->demand[r->next_demand];
    hp_result result = hp_run_end_response(r);
    r->next_demand++;
    begin_response(r);
    bool coasted = r->m->coasting, edges = r->m->drive->controller.pwm != HP_PWM_AVERAGED;
    if (edges && coasted)
        r->m->pwm_high = false;
    if (result == HP_OK && hp_machine_follow(r->m, r->t, demand->duty, r->y)) {
        r->engine->instant_valid = false;
        if (edges)
            follow_edges(r, coasted);
        if (r->t > 0.0) /* what a run begins with is no event */
            result = note_event(r, HP_EVENT_DEMAND, demand->action);
        *changed = true;
    }
    hp_run_note_response(r);
    return result;
}

void hp_run_close_figures(hp_run *r)
{
    if (r->measuring)
        hp_measure_end(&r->engine->measure, r->m, r->t, r->y, r->figures);
    r->measuring = false;
}

void hp_run_set_checkpoint(hp_run *r)
{
    double settle = r->options->settle_s;
    while ((double)r->checkpoint * r->checkpoint_gap <= r->t)
        r->checkpoint++;
    r->next_checkpoint = (double)r->checkpoint * r->checkpoint_gap;
    if (r->t < settle && r->next_checkpoint > settle)
        r->next_checkpoint = settle;
}

void hp_run_look_for_calm(hp_run *r, double t, const double *y, hp_calm_moment moment)
{
    if (r->next_look == (double)INFINITY || !hp_calm_look(&r->engine->calm, r->m, t, y, moment))
        return;
    double speed = fabs(r->m->pole_pairs * y[HP_Y_SPEED]);
    double turns = speed > 0.0 ? CALM_TURNS_MEASURED * HP_TWO_PI / speed : 0.0;
    double end = t + fmax(CALM_MEASURED_S, turns);
    r->next_look = INFINITY;
    if (end >= r->options->seconds)
        return;
    r->next_checkpoint = INFINITY;
    if (moment == HP_CALM_AT_SWING || moment == HP_CALM_AT_SWING_BACK) {
        r->swing_end = t + CALM_MEASURED_S;
        r->swing_sense = moment == HP_CALM_AT_SWING ? 1 : -1;
    } else {
        r->end = end;
    }
    hp_measure_begin_part(&r->engine->measure, r->m, t, end, y);
    if (moment == HP_CALM_AT_TURN)
        hp_measure_turn(&r->engine->measure, r->m, t, y);
}

/* ---- swings ---------------------------------------------------------------------------------- */

void hp_run_note_path(hp_run *r, double t, const double *y, hp_calm_moment moment)
{
    if (!r->paths || !hp_paths_take(r->paths, r->m, t, y, moment))
        return;
    r->end = r->t;
    r->next_look = INFINITY;
}

/* The rotor moves in this sense from t on. */
static void note_sense(hp_run *r, double t, const double *y, int sense)
{
    bool swung = sense * r->moved < 0;
    r->moved = sense;
    if (!swung || !r->measuring)
        return;
    hp_calm_moment moment = sense > 0 ? HP_CALM_AT_SWING : HP_CALM_AT_SWING_BACK;
    if (sense > 0)
        hp_run_note_path(r, t, y, moment);
    hp_run_look_for_calm(r, t, y, moment);
    hp_measure_swing(&r->engine->measure, r->m, t, y, sense);
    if (t >= r->swing_end && sense == r->swing_sense)
        r->end = r->t;
}

static bool is_smooth(const hp_run *r)
{
    return r->m->drive->stand.smooth_rad_s > 0.0;
}

void hp_run_note_sense(hp_run *r)
{
    if (!is_smooth(r) && r->m->rotor_motion == HP_MOTION_SLIP)
        note_sense(r, r->t, r->y, r->m->rotor_sign < 0.0 ? -1 : 1);
}

/* Where the speed passes zero between two times inside the step: regula falsi, the end that stays
 * put halved (Illinois). */
static double speed_root(hp_run *r, double from, double to, double y[HP_STATE_COUNT])
{
    hp_step *step = &r->engine->step;
    double a = step->begin->y[HP_Y_SPEED], b = r->y[HP_Y_SPEED], t = to;
    for (int n = 0, side = 0; n < CROSSING_LOOKS && to - from > CROSSING_S; n++) {
        t = (from * b - to * a) / (b - a);
        hp_step_state(step, r->m, t, y);
        if (y[HP_Y_SPEED] * r->moved > 0.0) {
            from = t;
            a = y[HP_Y_SPEED];
            b = side < 0 ? 0.5 * b : b;
            side = -1;
        } else {
            to = t;
            b = y[HP_Y_SPEED];
            a = side > 0 ? 0.5 * a : a;
            side = 1;
        }
    }
    return t;
}

void hp_run_note_crossing(hp_run *r)
{
    if (!is_smooth(r))
        return;
    double before = r->engine->step.begin->y[HP_Y_SPEED], now = r->y[HP_Y_SPEED];
    if (now * r->moved < 0.0) {
        double y[HP_STATE_COUNT], t = r->t;
        memcpy(y, r->y, sizeof y);
        if (before * r->moved > 0.0)
            t = speed_root(r, r->engine->step.begin->guards.time, r->t, y);
        note_sense(r, t, y, now > 0.0 ? 1 : -1);
        r->moved = 0;
    }
    /* Slower than this the law has it creep, not move. */
    if (fabs(now) > r->m->drive->stand.smooth_rad_s)
        r->moved = now > 0.0 ? 1 : -1;
}

/* ---- known times ----------------------------------------------------------------------------- */

hp_result hp_run_pass_known_times(hp_run *r, bool *switched)
{
    hp_result result = HP_OK;
    if (r->t >= r->next_checkpoint) {
        if (r->measuring)
            hp_measure_checkpoint(&r->engine->measure, r->m, r->t, r->y);
        hp_run_set_checkpoint(r);
    }
    if (r->t >= r->next_look) {
        r->next_look = r->t + HP_CALM_BLOCK_S;
        if (r->next_look > r->options->settle_s)
            r->next_look = INFINITY;
        hp_run_look_for_calm(r, r->t, r->y, HP_CALM_AT_TIME);
    }
    if (r->t >= r->next_pwm) {
        bool was_high = r->m->pwm_high;
        hp_run_step_pwm(r, false);
        if (r->m->pwm_high != was_high) {
            result = note_event(r, HP_EVENT_PWM, r->m->pwm_high);
            *switched = true;
        }
    }
    while (result == HP_OK && r->t >= next_demand(r)) {
        bool changed = false;
        result = hp_run_follow_course(r, &changed);
        r->demanded = r->demanded || changed;
        *switched = *switched || changed;
    }
    if (result == HP_OK && r->t >= hp_run_stall_deadline(r)) {
        hp_run_close_figures(r);
        r->figures->cut_out = true;
        hp_machine_cut_out(r->m, r->y);
        r->next_pwm = INFINITY;
        result = note_event(r, HP_EVENT_CUTOUT, 0);
        *switched = true;
    }
    return result;
}
