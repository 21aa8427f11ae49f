/*
 * The motors that verdict_spread draws: what salvaged hub motors and foreign controllers span.
 */
#ifndef HUBPHASE_TESTS_VERDICT_SPREAD_DRAW_H
#define HUBPHASE_TESTS_VERDICT_SPREAD_DRAW_H

#include "base/random.h"
#include "hubphase/model/drive.h"

#include <math.h>

static inline double log_between(hp_random *random, double low, double high)
{
    return low * pow(high / low, hp_random_unit(random));
}

static inline bool chance(hp_random *random, double share)
{
    return hp_random_unit(random) < share;
}

/* Shape: sinusoidal, trapezoidal, or a trapezoid's first harmonics with some of its own. */
static inline hp_backemf draw_shape(hp_random *random)
{
    double kind = hp_random_unit(random);
    if (kind < 0.35)
        return hp_backemf_sinusoidal();
    if (kind < 0.80)
        return hp_backemf_trapezoidal(hp_random_between(random, 90.0, 140.0) * HP_DEG);
    hp_backemf shape = hp_backemf_sinusoidal();
    shape.kind = HP_BACKEMF_FOURIER;
    shape.harmonics = 7;
    shape.sine[3] = hp_random_between(random, -0.25, 0.05);
    shape.sine[5] = hp_random_between(random, -0.06, 0.08);
    shape.sine[7] = hp_random_between(random, -0.03, 0.03);
    hp_backemf_normalise(&shape);
    return shape;
}

static inline void draw_motor(hp_random *random, hp_drive *d, bool geared)
{
    static const double volts[] = {24.0, 36.0, 48.0, 60.0};
    double nominal = volts[hp_random_below(random, 4)];
    d->supply.emf_v = nominal * hp_random_between(random, 0.9, 1.12);
    d->supply.resistance_ohm = log_between(random, 0.03, 0.25);
    d->stand.gear_ratio = geared ? hp_random_between(random, 3.8, 5.5) : 1.0;
    d->stand.clutch = geared && chance(random, 0.8);
    d->motor.pole_pairs =
        geared ? 5 + (int)hp_random_below(random, 8) : 15 + (int)hp_random_below(random, 16);
    d->motor.backemf = draw_shape(random);
    d->motor.resistance_ohm = log_between(random, 0.03, 0.25);
    d->motor.winding_c = hp_random_between(random, 0.0, 90.0);
    d->motor.inductance_h = d->motor.resistance_ohm * log_between(random, 0.4e-3, 3e-3);
    double wheel_speed = hp_random_between(random, 150.0, 380.0) * HP_RPM;
    d->motor.ke = 1.0; /* hp_drive_ideal_speed is in proportion to 1 / ke */
    d->controller.throttle = d->controller.speed_cap = 1.0;
    d->motor.ke =
        hp_drive_ideal_speed(d) * (nominal / d->supply.emf_v) / (wheel_speed * d->stand.gear_ratio);
    d->motor.rotor_inertia_kg_m2 = geared ? log_between(random, 4e-4, 4e-3) : 0.0;
    d->stand.wheel_inertia_kg_m2 = log_between(random, 0.03, 0.25);
}

static inline void draw_controller(hp_random *random, hp_drive *d)
{
    hp_controller_params *c = &d->controller;
    c->throttle = hp_random_between(random, 0.1, 1.0);
    c->ramp_per_s = hp_random_between(random, 1.0, 4.0);
    c->battery_limit_a = hp_random_between(random, 7.0, 30.0);
    c->phase_limit_a = c->battery_limit_a * hp_random_between(random, 1.5, 3.5);
    if (chance(random, 0.15))
        c->phase_limit_a = 0.0; /* as simple controllers do */
    c->limiter_per_s = log_between(random, 2.0, 20.0);
    c->stall_cutout_s = chance(random, 0.5) ? hp_random_between(random, 0.8, 3.0) : 0.0;
    c->switch_resistance_ohm = log_between(random, 0.002, 0.012);
    c->diode_drop_v = hp_random_between(random, 0.6, 1.1);
}

static inline void draw_sensors(hp_random *random, hp_drive *d)
{
    /* Most carriers are good, some are poor: how poor is drawn first. */
    double severity = hp_random_unit(random) * 10.0 * HP_DEG;
    double common = hp_random_between(random, -severity, severity);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double own = hp_random_between(random, -severity, severity);
        d->sensors.placement_rad[k] = common + own;
    }
    d->sensors.hysteresis_rad = log_between(random, 0.5, 5.0) * HP_DEG;
}

/* Torque [N m, rotor] that the drive can give at rest at its throttle, limits counted. */
static inline double stall_torque(const hp_drive *d)
{
    double duty = hp_drive_duty(d), volts = duty * d->supply.emf_v;
    double amps =
        volts / (2.0 * (hp_motor_resistance(&d->motor) + d->controller.switch_resistance_ohm) +
                 duty * duty * d->supply.resistance_ohm);
    if (d->controller.phase_limit_a > 0.0)
        amps = fmin(amps, d->controller.phase_limit_a);
    if (d->controller.battery_limit_a > 0.0)
        amps = fmin(amps, d->controller.battery_limit_a / duty);
    return volts / hp_drive_ideal_speed(d) * amps;
}

/* Friction as a share of that torque, Coulomb and viscous; a wheel takes a part of it in a geared
 * hub. Cogging up to the breakaway level. Returns the share. */
static inline double draw_friction(hp_random *random, hp_drive *d, bool geared, double most)
{
    double share = log_between(random, 0.02, most), total = share * stall_torque(d);
    double breakaway = hp_random_between(random, 1.0, 1.6);
    double viscous = hp_random_between(random, 0.0, 0.5);
    double wheel = geared ? hp_random_between(random, 0.2, 0.8) : 0.0, g = d->stand.gear_ratio;
    double speed = hp_drive_ideal_speed(d);
    double coulomb = total * (1.0 - viscous);
    d->stand.rotor = (hp_friction){(1.0 - wheel) * coulomb, (1.0 - wheel) * coulomb * breakaway,
                                   (1.0 - wheel) * total * viscous / speed};
    d->stand.wheel = (hp_friction){wheel * coulomb * g, wheel * coulomb * breakaway * g,
                                   wheel * total * viscous / speed * g * g};
    d->motor.cogging_nm = hp_random_unit(random) * (1.0 - wheel) * coulomb;
    d->motor.cogging_order = chance(random, 0.5) ? 6 : 12;
    d->motor.cogging_phase_rad = hp_random_between(random, 0.0, HP_TWO_PI);
    return share;
}

/* Motor number `index` of a seed. */
static inline hp_drive draw_drive(uint64_t seed, int index, double *friction_share)
{
    hp_random random = hp_random_init(seed, (uint64_t)index);
    hp_drive d = hp_drive_default();
    bool geared = chance(&random, 0.45);
    draw_motor(&random, &d, geared);
    draw_controller(&random, &d);
    draw_sensors(&random, &d);
    *friction_share = draw_friction(&random, &d, geared, 0.25);
    return d;
}

/* ---- the wide ranges --------------------------------------------------------------------------
 */

/* The same machines stretched to what a scenario may reasonably state: 24 to 200 V, up to 100 pole
 * pairs, L/R up to 10 ms, a battery of up to 0.5 ohm, three in ten at full throttle, friction up to
 * 30 % of the torque at rest. */
static inline void widen(hp_random *random, hp_drive *d, bool geared)
{
    static const double volts[] = {24.0, 36.0, 48.0, 60.0, 72.0, 96.0, 144.0, 200.0};
    double nominal = volts[hp_random_below(random, 8)];
    d->supply.emf_v = fmin(200.0, nominal * hp_random_between(random, 0.9, 1.12));
    d->supply.resistance_ohm = log_between(random, 0.03, 0.5);
    d->motor.pole_pairs =
        (int)(geared ? log_between(random, 4.0, 30.99) : log_between(random, 10.0, 100.99));
    d->motor.resistance_ohm = log_between(random, 0.03, 0.5);
    d->motor.inductance_h = d->motor.resistance_ohm * log_between(random, 0.3e-3, 10e-3);
    double wheel_speed = log_between(random, 120.0, 600.0) * HP_RPM;
    d->motor.ke = 1.0;
    d->controller.throttle = d->controller.speed_cap = 1.0;
    d->motor.ke =
        hp_drive_ideal_speed(d) * (nominal / d->supply.emf_v) / (wheel_speed * d->stand.gear_ratio);
}

/* Motor number `index` of a seed over the wide ranges. */
static inline hp_drive draw_wide(uint64_t seed, int index, double *friction_share)
{
    hp_random random = hp_random_init(seed, (uint64_t)index);
    hp_drive d = hp_drive_default();
    bool geared = chance(&random, 0.45);
    draw_motor(&random, &d, geared);
    widen(&random, &d, geared);
    draw_controller(&random, &d);
    if (chance(&random, 0.3))
        d.controller.throttle = 1.0;
    double more = log_between(&random, 1.0, 3.0);
    d.controller.battery_limit_a *= more;
    d.controller.phase_limit_a *= more;
    draw_sensors(&random, &d);
    *friction_share = draw_friction(&random, &d, geared, 0.30);
    return d;
}

/* Puts one fault in, by number 0 .. FAULT_COUNT - 1. */
#define FAULT_COUNT 5
static inline const char *put_fault(hp_random *random, hp_drive *d, int fault)
{
    int where = (int)hp_random_below(random, HP_PHASE_COUNT);
    switch (fault) {
    case 0: d->sensors.fault[where] = HP_SENSOR_STUCK_HIGH; return "sensor stuck high";
    case 1: d->sensors.fault[where] = HP_SENSOR_STUCK_LOW; return "sensor stuck low";
    case 2: d->sensors.fault[where] = HP_SENSOR_INVERTED; return "sensor inverted";
    case 3: d->motor.lead_open[where] = true; return "open lead";
    default: d->sensors.no_supply = true; return "no supply";
    }
}

#endif
