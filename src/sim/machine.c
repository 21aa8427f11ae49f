/*
 * The machine between two events: commands, instant, guards, and what an event changes.
 *
 * Electrical: di/dt from the circuit (model/circuit). Mechanical: see motion. Controller: the law
 * in model/controller.
 */
#include "sim/machine.h"

#include "base/sine.h"
#include "model/sensors.h"
#include "model/stand.h"
#include "sim/motion.h"
#include "sim/rotor_angle.h"
#include "sim/trace.h"

#include <math.h>
#include <string.h>

/* Duty past its limit by this much has met it. */
#define DUTY_SLACK 1e-12

/* ---- sensors and commutation ---------------------------------------------------------------- */

static int read_code(const hp_machine *m)
{
    int bit[HP_PHASE_COUNT];
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int sensor = m->wiring.sensor[j];
        bit[j] = hp_sensor_output(&m->drive->sensors, sensor, m->inside[sensor]);
    }
    return hp_code(bit[HP_U], bit[HP_V], bit[HP_W]);
}

/* Commands of the motor leads for the present code. */
static void set_commands(hp_machine *m)
{
    memset(m->command, 0, sizeof m->command);
    const hp_commutation_row *row = &m->drive->controller.table.row[m->code];
    if (m->cut_out || m->coasting || row->high < 0 || row->low < 0)
        return;
    m->command[m->wiring.phase[row->high]] = 1;
    m->command[m->wiring.phase[row->low]] = -1;
}

/* Share of the bus voltage at a leg that is driven high. */
static double applied_duty(const hp_machine *m, const double *y)
{
    return m->drive->controller.pwm == HP_PWM_AVERAGED ? y[HP_Y_DUTY] : 1.0;
}

/* Legs from commands and PWM, off leads by what conducts with these back-EMFs. */
static void set_legs(hp_machine *m, double *y, const double backemf[HP_PHASE_COUNT])
{
    hp_pwm_kind pwm = m->drive->controller.pwm;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (m->drive->motor.lead_open[k])
            m->leg[k] = HP_LEG_BROKEN;
        else if (m->command[k] < 0)
            m->leg[k] = HP_LEG_LOW;
        else if (m->command[k] == 0)
            m->leg[k] = HP_LEG_FLOAT;
        else if (pwm == HP_PWM_AVERAGED || m->pwm_high)
            m->leg[k] = HP_LEG_HIGH;
        else
            m->leg[k] = pwm == HP_PWM_COMPLEMENTARY ? HP_LEG_LOW : HP_LEG_FLOAT;
    }
    hp_circuit_settle_law(&m->circuit, m->leg, &y[HP_Y_CURRENT], backemf, applied_duty(m, y),
                          &m->law);
}

/* ---- the instant ---------------------------------------------------------------------------- */

/* 1 minus the larger share of its limit that a filtered current takes. */
static double margin(const hp_machine *m, const double *y)
{
    double battery = y[HP_Y_BATTERY_FILTER] * m->battery_share;
    double phase = y[HP_Y_PHASE_FILTER] * m->phase_share;
    return 1.0 - (battery > phase ? battery : phase);
}

static double duty_slope(const hp_machine *m, const double *y)
{
    if (m->duty_mode != HP_DUTY_MOVING && m->duty_mode != HP_DUTY_FALLING)
        return 0.0;
    double ramp = m->duty_mode == HP_DUTY_FALLING ? -m->ramp : m->ramp;
    if (m->battery_share == 0.0 && m->phase_share == 0.0)
        return ramp;
    double pull = m->drive->controller.limiter_per_s * margin(m, y);
    return pull < ramp ? pull : ramp;
}

static void take_shapes(const hp_machine *m, const double *y, hp_instant *now)
{
    double *f = now->shape, w = y[HP_Y_SPEED];
    hp_rotor_angle_shapes(m, y[HP_Y_THETA], f);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        now->backemf[k] = m->ke * w * f[k];
}

/* Torques, from shapes that are taken. */
static void take_torque(const hp_machine *m, const double *y, hp_instant *now)
{
    const double *i = &y[HP_Y_CURRENT], *f = now->shape;
    now->torque = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        now->torque += m->ke * f[k] * i[k];
    now->rotor_torque = now->torque;
    if (m->drive->motor.cogging_nm > 0.0)
        now->rotor_torque += hp_motor_cogging(&m->drive->motor, y[HP_Y_THETA]);
}

void hp_machine_instant(const hp_machine *m, const double y[HP_STATE_COUNT], hp_instant *now)
{
    const double *i = &y[HP_Y_CURRENT];
    take_shapes(m, y, now);
    take_torque(m, y, now);
    now->phase_current = 0.5 * (fabs(i[HP_U]) + fabs(i[HP_V]) + fabs(i[HP_W]));
    hp_circuit_apply(&m->law, i, now->backemf, applied_duty(m, y), &now->circuit);
    hp_motion_slopes(m, y, now);
    now->duty_slope = duty_slope(m, y);
}

void hp_machine_slope(const hp_machine *m, const double y[HP_STATE_COUNT], const hp_instant *now,
                      double slope[HP_STATE_COUNT])
{
    const hp_circuit *c = &now->circuit;
    double w = y[HP_Y_SPEED];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        slope[HP_Y_CURRENT + k] = c->slope[k];
    slope[HP_Y_SPEED] = now->rotor_slope;
    slope[HP_Y_WHEEL] = now->wheel_slope;
    slope[HP_Y_THETA] = m->pole_pairs * w;
    slope[HP_Y_DUTY] = now->duty_slope;
    slope[HP_Y_BATTERY_FILTER] = (c->battery_current - y[HP_Y_BATTERY_FILTER]) * m->per_filter;
    /* Without a limit nobody asks for it, and its kinks would cost steps. */
    slope[HP_Y_PHASE_FILTER] =
        m->phase_share > 0.0 ? (now->phase_current - y[HP_Y_PHASE_FILTER]) * m->per_filter : 0.0;

    slope[HP_Q_CHARGE] = c->battery_current;
    slope[HP_Q_BUS] = c->bus_voltage * c->battery_current;
    slope[HP_Q_TORQUE] = now->torque;
    slope[HP_Q_TORQUE_SQUARE] = now->torque * now->torque;
    slope[HP_Q_SPEED] = w;
    slope[HP_Q_SPEED_SQUARE] = w * w;
    slope[HP_Q_WHEEL] = y[HP_Y_WHEEL];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        slope[HP_Q_CURRENT_SQUARE + k] = y[HP_Y_CURRENT + k] * y[HP_Y_CURRENT + k];
    slope[HP_Q_FRICTION] = now->friction_power;
    slope[HP_Q_COPPER] = c->copper_power;
    slope[HP_Q_DIODE] = c->diode_power;
    slope[HP_Q_VOLTAGE] = c->bus_voltage;
    slope[HP_Q_DUTY] = y[HP_Y_DUTY];
}

/* ---- guards --------------------------------------------------------------------------------- */

static double duty_guard(const hp_machine *m, const double *y)
{
    bool limits = m->battery_share > 0.0 || m->phase_share > 0.0;
    switch (m->duty_mode) {
    case HP_DUTY_MOVING: {
        double above = m->duty_target - y[HP_Y_DUTY] + DUTY_SLACK;
        double below = y[HP_Y_DUTY] + DUTY_SLACK;
        return above < below ? above : below;
    }
    case HP_DUTY_HELD: return limits && m->duty_target > 0.0 ? margin(m, y) + DUTY_SLACK : 1.0;
    case HP_DUTY_FLOOR: return DUTY_SLACK - margin(m, y);
    case HP_DUTY_FALLING: return y[HP_Y_DUTY] - m->duty_target + DUTY_SLACK;
    case HP_DUTY_OFF:
    case HP_DUTY_MODE_COUNT: break;
    }
    return 1.0;
}

void hp_machine_guards(const hp_machine *m, const double y[HP_STATE_COUNT], const hp_instant *now,
                       double guard[HP_GUARD_COUNT])
{
    guard[HP_GUARD_FORWARD] = m->bound_forward - y[HP_Y_THETA];
    guard[HP_GUARD_BACKWARD] = y[HP_Y_THETA] - m->bound_backward;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        guard[HP_GUARD_LEAD + k] =
            hp_circuit_guard(&m->circuit, m->leg, &y[HP_Y_CURRENT], &now->circuit, k);
    guard[HP_GUARD_PAIR] = hp_circuit_pair_guard(&m->circuit, m->leg, now->backemf, &now->circuit);
    hp_motion_guards(m, y, now, guard);
    guard[HP_GUARD_DUTY] = duty_guard(m, y);
    double floor = m->drive->controller.undervoltage_v;
    guard[HP_GUARD_VOLTAGE] =
        floor > 0.0 && !m->cut_out
            ? m->circuit.emf_v - m->circuit.battery_ohm * y[HP_Y_BATTERY_FILTER] - floor
            : 1.0;
}

/* Of margin(). */
static double margin_rate(const hp_machine *m, const double *y, const double *slope)
{
    bool battery =
        y[HP_Y_BATTERY_FILTER] * m->battery_share > y[HP_Y_PHASE_FILTER] * m->phase_share;
    return battery ? -m->battery_share * slope[HP_Y_BATTERY_FILTER]
                   : -m->phase_share * slope[HP_Y_PHASE_FILTER];
}

static double duty_guard_rate(const hp_machine *m, const double *y, const double *slope)
{
    switch (m->duty_mode) {
    case HP_DUTY_MOVING:
        return m->duty_target - y[HP_Y_DUTY] < y[HP_Y_DUTY] ? -slope[HP_Y_DUTY] : slope[HP_Y_DUTY];
    case HP_DUTY_HELD: return m->duty_target > 0.0 ? margin_rate(m, y, slope) : 0.0;
    case HP_DUTY_FLOOR: return -margin_rate(m, y, slope);
    case HP_DUTY_FALLING: return slope[HP_Y_DUTY];
    case HP_DUTY_OFF:
    case HP_DUTY_MODE_COUNT: break;
    }
    return 0.0;
}

void hp_machine_guard_rates(const hp_machine *m, const double y[HP_STATE_COUNT],
                            const hp_instant *now, const double slope[HP_STATE_COUNT],
                            double rate[HP_GUARD_COUNT], double *torque_rate)
{
    const double *i = &y[HP_Y_CURRENT], *i_rate = &slope[HP_Y_CURRENT], *f = now->shape;
    double f_rate[HP_PHASE_COUNT], e_rate[HP_PHASE_COUNT], w = y[HP_Y_SPEED];
    hp_rotor_angle_shape_slopes(m, y[HP_Y_THETA], f, f_rate);
    *torque_rate = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        f_rate[k] *= slope[HP_Y_THETA];
        e_rate[k] = m->ke * (slope[HP_Y_SPEED] * f[k] + w * f_rate[k]);
        *torque_rate += m->ke * (f_rate[k] * i[k] + f[k] * i_rate[k]);
    }
    hp_circuit_rates circuit;
    bool averaged = m->drive->controller.pwm == HP_PWM_AVERAGED;
    hp_circuit_rates_of(&m->law, &now->circuit, i, i_rate, e_rate, applied_duty(m, y),
                        averaged ? slope[HP_Y_DUTY] : 0.0, &circuit);

    rate[HP_GUARD_FORWARD] = -slope[HP_Y_THETA];
    rate[HP_GUARD_BACKWARD] = slope[HP_Y_THETA];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        rate[HP_GUARD_LEAD + k] = hp_circuit_guard_rate(m->leg, i_rate, &now->circuit, &circuit, k);
    rate[HP_GUARD_PAIR] =
        hp_circuit_pair_guard_rate(m->leg, now->backemf, e_rate, &now->circuit, &circuit);
    hp_motion_guard_rates(m, y, now, slope, *torque_rate, rate);
    rate[HP_GUARD_DUTY] = duty_guard_rate(m, y, slope);
    bool watched = m->drive->controller.undervoltage_v > 0.0 && !m->cut_out;
    rate[HP_GUARD_VOLTAGE] = watched ? -m->circuit.battery_ohm * slope[HP_Y_BATTERY_FILTER] : 0.0;
}

/* ---- events --------------------------------------------------------------------------------- */

/* Legs first, then who sticks and who slips with the currents that they leave. */
static void settle(hp_machine *m, double *y)
{
    hp_instant now;
    take_shapes(m, y, &now);
    set_legs(m, y, now.backemf);
    if (hp_motion_settle_turning(m, y))
        return;
    take_torque(m, y, &now);
    hp_motion_settle(m, y, &now);
}

static void settle_duty(hp_machine *m, double *y)
{
    if (m->duty_mode == HP_DUTY_OFF)
        return;
    double d = y[HP_Y_DUTY], room = margin(m, y);
    bool limits = m->battery_share > 0.0 || m->phase_share > 0.0;
    if (d >= m->duty_target - 2.0 * DUTY_SLACK &&
        (!limits || room > 0.0 || m->duty_target == 0.0)) {
        y[HP_Y_DUTY] = m->duty_target;
        m->duty_mode = HP_DUTY_HELD;
    } else if (d <= 2.0 * DUTY_SLACK && room < 0.0) {
        y[HP_Y_DUTY] = 0.0;
        m->duty_mode = HP_DUTY_FLOOR;
    } else {
        /* A limiter that has only just begun to pull lets the integrator's own error carry the duty
         * past its bound: back to it, or the guard would stay negative. */
        y[HP_Y_DUTY] = fmin(fmax(d, 0.0), m->duty_target);
        m->duty_mode = HP_DUTY_MOVING;
    }
}

void hp_machine_set_pwm(hp_machine *m, bool high, double y[HP_STATE_COUNT],
                        const hp_instant *before)
{
    m->pwm_high = high;
    set_legs(m, y, before->backemf);
    if (hp_motion_settle_turning(m, y))
        return;
    hp_instant now = *before;
    take_torque(m, y, &now);
    hp_motion_settle(m, y, &now);
}

void hp_machine_cut_out(hp_machine *m, double y[HP_STATE_COUNT])
{
    m->cut_out = true;
    m->duty_mode = HP_DUTY_OFF;
    set_commands(m);
    settle(m, y);
}

/* Duty at which a motor of this speed neither pulls nor brakes. */
static double duty_of_speed(const hp_machine *m, const double *y)
{
    hp_drive full = *m->drive;
    full.controller.throttle = full.controller.speed_cap = 1.0;
    return fabs(y[HP_Y_SPEED]) / hp_drive_ideal_speed(&full);
}

bool hp_machine_follow(hp_machine *m, double t, double duty, double y[HP_STATE_COUNT])
{
    bool begins = m->coasting && duty > 0.0;
    if (m->cut_out || (duty == m->duty_target && !begins && m->coasting == !(duty > 0.0)))
        return false;
    m->duty_target = duty;
    m->coasting = !(duty > 0.0);
    if (m->coasting) {
        y[HP_Y_DUTY] = 0.0;
        m->duty_mode = HP_DUTY_OFF;
    } else {
        if (begins) {
            y[HP_Y_DUTY] = fmin(duty_of_speed(m, y), duty);
            m->last_edge = t;
        }
        if (m->ramp == (double)INFINITY)
            y[HP_Y_DUTY] = duty;
        m->duty_mode = y[HP_Y_DUTY] > duty + 2.0 * DUTY_SLACK ? HP_DUTY_FALLING : HP_DUTY_MOVING;
        if (m->duty_mode == HP_DUTY_MOVING)
            settle_duty(m, y);
    }
    set_commands(m);
    settle(m, y);
    return true;
}

/* Records what happened; counts it. */
typedef struct tally {
    hp_trace *trace;
    double time;
    int count;
    bool failed;
} tally;

static void note(tally *t, hp_event_kind kind, int which)
{
    t->count++;
    if (t->trace && t->trace->keep_events &&
        hp_trace_add_event(t->trace, t->time, kind, which) != HP_OK)
        t->failed = true;
}

static void fire_mechanics(hp_machine *m, double *y, tally *t)
{
    hp_body_motion rotor = m->rotor_motion, wheel = m->wheel_motion;
    double rotor_sign = m->rotor_sign;
    bool joint = m->joint;
    settle(m, y);
    if (joint != m->joint)
        note(t, HP_EVENT_CLUTCH, m->joint);
    /* A smoothed law has no turning point to speak of. */
    bool sticks = m->drive->stand.smooth_rad_s == 0.0;
    if (rotor != m->rotor_motion ||
        (sticks && m->rotor_motion == HP_MOTION_SLIP && rotor_sign != m->rotor_sign))
        note(t, m->rotor_motion == HP_MOTION_STICK ? HP_EVENT_STICK : HP_EVENT_SLIP, 0);
    bool changed = !joint && !m->joint && wheel != m->wheel_motion;
    /* A wheel that comes to rest under a resting rotor is joined to it at once. */
    bool rested =
        !joint && m->joint && wheel == HP_MOTION_SLIP && m->rotor_motion == HP_MOTION_STICK;
    if (changed || rested)
        note(t, rested || m->wheel_motion == HP_MOTION_STICK ? HP_EVENT_STICK : HP_EVENT_SLIP, 1);
}

int hp_machine_fire(hp_machine *m, double time, const int fired[HP_GUARD_COUNT],
                    double y[HP_STATE_COUNT], hp_trace *trace)
{
    tally t = {.trace = trace, .time = time};
    int code = m->code;

    if (fired[HP_GUARD_VOLTAGE]) {
        m->cut_out_voltage = true;
        hp_machine_cut_out(m, y);
        note(&t, HP_EVENT_CUTOUT, 1);
    }
    if (fired[HP_GUARD_DUTY]) {
        if (m->duty_mode == HP_DUTY_HELD || m->duty_mode == HP_DUTY_FLOOR)
            m->duty_mode = HP_DUTY_MOVING; /* a limiter takes over, or lets go */
        else
            settle_duty(m, y);
        note(&t, HP_EVENT_DUTY, (int)m->duty_mode);
    }
    if (fired[HP_GUARD_FORWARD] || fired[HP_GUARD_BACKWARD]) {
        if (hp_rotor_angle_cross(m, y, fired[HP_GUARD_FORWARD] ? 1 : -1))
            note(&t, HP_EVENT_CORNER, m->segment);
        m->code = read_code(m);
        if (m->code != code) {
            note(&t, HP_EVENT_SENSOR, m->code);
            m->last_edge = time;
            set_commands(m);
        }
    }
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (!fired[HP_GUARD_LEAD + k])
            continue;
        if (m->leg[k] == HP_LEG_UPPER || m->leg[k] == HP_LEG_LOWER)
            y[HP_Y_CURRENT + k] = 0.0;
        note(&t, HP_EVENT_DIODE, k);
    }
    if (fired[HP_GUARD_PAIR])
        note(&t, HP_EVENT_DIODE, HP_PHASE_COUNT);

    fire_mechanics(m, y, &t);
    hp_rotor_angle_bounds(m, y[HP_Y_THETA]);
    return t.failed ? -1 : t.count;
}

/* ---- start ---------------------------------------------------------------------------------- */

static void set_constants(hp_machine *m)
{
    const hp_drive *d = m->drive;
    const hp_controller_params *c = &d->controller;
    m->circuit = hp_circuit_params_of(d);
    m->ke = d->motor.ke;
    m->pole_pairs = d->motor.pole_pairs;
    m->gear = d->stand.gear_ratio;
    m->inertia_rotor = d->motor.rotor_inertia_kg_m2;
    m->inertia_wheel = d->stand.wheel_inertia_kg_m2;
    m->inertia_joint = hp_stand_inertia(&d->stand, m->inertia_rotor);
    m->friction_joint = hp_stand_friction(&d->stand);
    m->per_gear = 1.0 / m->gear;
    m->per_inertia_joint = 1.0 / m->inertia_joint;
    m->per_inertia_rotor = 1.0 / m->inertia_rotor;
    m->per_inertia_wheel = 1.0 / m->inertia_wheel;
    m->per_filter = 1.0 / c->filter_s;
    m->duty_target = hp_drive_duty(d);
    m->ramp = c->ramp_per_s > 0.0 ? c->ramp_per_s : INFINITY;
    m->battery_share = c->battery_limit_a > 0.0 ? 1.0 / c->battery_limit_a : 0.0;
    m->phase_share = c->phase_limit_a > 0.0 ? 1.0 / c->phase_limit_a : 0.0;
}

void hp_machine_start(hp_machine *m, const hp_drive *drive, const hp_wiring *wiring,
                      const hp_run_options *options, double y[HP_STATE_COUNT])
{
    memset(m, 0, sizeof *m);
    memset(y, 0, HP_STATE_COUNT * sizeof y[0]);
    m->drive = drive;
    m->wiring = *wiring;
    set_constants(m);

    double theta = hp_angle_wrap(options->start_angle);
    y[HP_Y_THETA] = theta;
    y[HP_Y_SPEED] = options->start_speed;
    y[HP_Y_WHEEL] = options->start_speed / m->gear;
    if (drive->stand.clutch && options->start_speed < 0.0)
        y[HP_Y_WHEEL] = 0.0;
    y[HP_Y_DUTY] = drive->controller.ramp_per_s > 0.0 ? fmin(options->start_duty, m->duty_target)
                                                      : m->duty_target;

    hp_rotor_angle_start(m, theta);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        m->inside[k] = hp_sensor_inside(&drive->sensors, k, theta);
    m->code = read_code(m);
    m->pwm_high = true;
    set_commands(m);
    settle_duty(m, y);
    settle(m, y);
    hp_rotor_angle_bounds(m, theta);
}

double hp_machine_energy(const hp_machine *m, const double y[HP_STATE_COUNT])
{
    const hp_motor_params *motor = &m->drive->motor;
    double energy = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        energy += 0.5 * motor->inductance_h * y[HP_Y_CURRENT + k] * y[HP_Y_CURRENT + k];
    energy += 0.5 * m->inertia_rotor * y[HP_Y_SPEED] * y[HP_Y_SPEED];
    energy += 0.5 * m->inertia_wheel * y[HP_Y_WHEEL] * y[HP_Y_WHEEL];
    /* The potential whose slope over the rotor's angle is minus the cogging torque. */
    if (motor->cogging_nm > 0.0)
        energy += motor->cogging_nm / (motor->cogging_order * m->pole_pairs) *
                  hp_cosine(motor->cogging_order * y[HP_Y_THETA] + motor->cogging_phase_rad);
    return energy;
}
