/*
 * An estimate of the steps that a drive asks for: see the header.
 *
 * An explicit method of fifth order cannot step further than its stability allows, some 3.7 time
 * constants of what decays fastest (Cash & Karp's fifth-order formula on the negative real axis;
 * worked out from its polynomial), nor further than its error allows where something swings or
 * turns: there the steps go with the fifth root of the tolerance. The factors of the latter are
 * fitted to runs at both ends of what each key of a scenario may be.
 */
#include "sim/step_rate.h"

#include "base/elementary.h"

#include <math.h>

#define STABLE_TIME_CONSTANTS 3.7
/* Steps a radian of a swing, and an electrical turn, at this tolerance. */
#define TOLERANCE       1e-7
#define STEPS_A_RADIAN  2.3
#define STEPS_A_TURN    60.0
#define STEPS_A_COGGING 1.0
#define STEPS_AN_EDGE   2.0

static double decay_steps(const hp_drive *d, double inertia)
{
    const hp_stand_params *s = &d->stand;
    double resistance = hp_motor_resistance(&d->motor) + d->controller.switch_resistance_ohm +
                        0.5 * d->supply.resistance_ohm;
    double winding = resistance / d->motor.inductance_h;
    double filter = 1.0 / d->controller.filter_s;
    double wheel = s->wheel.viscous_nm_s_rad / (s->gear_ratio * s->gear_ratio);
    double friction = (s->rotor.viscous_nm_s_rad + wheel) / inertia;
    return (winding + filter + friction) / STABLE_TIME_CONSTANTS;
}

/* The rotor against the field, as a spring; and the turning, free of load. */
static double swing_steps(const hp_drive *d, double inertia, double tolerance)
{
    double spring = d->motor.ke * sqrt(1.5 / (inertia * d->motor.inductance_h));
    double duty = fmin(d->controller.throttle, d->controller.speed_cap);
    double turns = d->motor.pole_pairs * duty * d->supply.emf_v / (2.0 * d->motor.ke) / HP_TWO_PI;
    double cogging = d->motor.cogging_nm > 0.0 ? STEPS_A_COGGING * d->motor.cogging_order : 0.0;
    double finer = fmax(1.0, hp_inverse_fifth_root(tolerance / TOLERANCE));
    return (STEPS_A_RADIAN * spring + (STEPS_A_TURN + cogging) * turns) * finer;
}

double hp_step_rate(const hp_drive *drive, const hp_run_options *options)
{
    double gear = drive->stand.gear_ratio;
    double inertia =
        drive->motor.rotor_inertia_kg_m2 + drive->stand.wheel_inertia_kg_m2 / (gear * gear);
    double edges = drive->controller.pwm == HP_PWM_AVERAGED ? 0.0 : 2.0 * drive->controller.pwm_hz;
    return decay_steps(drive, inertia) + swing_steps(drive, inertia, options->tolerance) +
           STEPS_AN_EDGE * edges;
}
