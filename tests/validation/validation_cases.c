/* Drives held against outside programs: see the header. */
#include "validation_cases.h"

#include <string.h>

const char *validation_case_name(validation_case which)
{
    static const char *const name[CASE_COUNT] = {
        "full-trapezoid",    "full-sine",     "bench-trapezoid", "bench-sine",
        "pwm-complementary", "pwm-one-sided", "pwm-averaged"};
    return which < CASE_COUNT ? name[which] : "unknown";
}

validation_case validation_case_find(const char *name)
{
    int which = 0;
    while (which < CASE_COUNT && strcmp(name, validation_case_name((validation_case)which)) != 0)
        which++;
    return (validation_case)which;
}

/* A direct-drive hub whose flats are narrower than a sector pair, so that flanks count too. */
static hp_drive trapezoid(void)
{
    hp_drive d = hp_drive_default();
    d.motor.pole_pairs = 23;
    d.motor.resistance_ohm = 0.11;
    d.motor.inductance_h = 0.20e-3;
    d.motor.ke = 0.8;
    d.motor.backemf = hp_backemf_trapezoidal(115.0 * HP_DEG);
    d.motor.winding_c = 40.0;
    d.motor.cogging_nm = 0.12;
    d.sensors.hysteresis_rad = 2.0 * HP_DEG;
    d.supply = (hp_supply_params){.emf_v = 36.0, .resistance_ohm = 0.1};
    d.stand.wheel_inertia_kg_m2 = 0.06;
    d.stand.rotor = (hp_friction){0.3, 0.42, 0.006};
    return d;
}

static hp_drive sine(void)
{
    hp_drive d = trapezoid();
    d.motor.pole_pairs = 16;
    d.motor.resistance_ohm = 0.15;
    d.motor.inductance_h = 0.30e-3;
    d.motor.ke = 0.55;
    d.motor.backemf = hp_backemf_sinusoidal();
    d.motor.winding_c = 20.0;
    d.motor.cogging_nm = 0.08;
    d.motor.cogging_phase_rad = 0.5;
    d.sensors.placement_rad[HP_U] = 5.0 * HP_DEG;
    d.sensors.placement_rad[HP_V] = -4.0 * HP_DEG;
    d.sensors.placement_rad[HP_W] = 2.0 * HP_DEG;
    d.supply = (hp_supply_params){.emf_v = 24.0, .resistance_ohm = 0.08};
    d.stand.wheel_inertia_kg_m2 = 0.04;
    d.stand.rotor = (hp_friction){0.2, 0.3, 0.004};
    return d;
}

/* The controller at work: limiters bite in the rough wirings. */
static void whole(hp_drive *d)
{
    d->controller.throttle = 0.5;
    d->controller.ramp_per_s = 5.0;
    d->controller.battery_limit_a = 9.0;
    d->controller.phase_limit_a = 25.0;
    d->controller.limiter_per_s = 20.0;
    d->controller.stall_cutout_s = 0.0;
}

/* A plain bench supply; nothing in the controller but the table. The friction's corner lies far
 * below any running speed. */
static void bench(hp_drive *d, double volts)
{
    d->controller.throttle = 1.0;
    d->controller.ramp_per_s = 0.0;
    d->controller.battery_limit_a = 0.0;
    d->controller.phase_limit_a = 0.0;
    d->controller.stall_cutout_s = 0.0;
    d->controller.switch_resistance_ohm = 0.01;
    d->supply.emf_v = volts;
    d->stand.smooth_rad_s = 0.05;
}

hp_drive validation_case_drive(validation_case which)
{
    bool is_sine = which == CASE_FULL_SINE || which == CASE_BENCH_SINE;
    hp_drive d = is_sine ? sine() : trapezoid();
    if (which == CASE_FULL_TRAPEZOID || which == CASE_FULL_SINE) {
        whole(&d);
        return d;
    }
    bench(&d, is_sine ? 12.0 : 18.0);
    if (which >= CASE_PWM_COMPLEMENTARY) {
        d.supply.emf_v = 36.0;
        d.controller.throttle = 0.5;
        d.controller.pwm = which == CASE_PWM_AVERAGED    ? HP_PWM_AVERAGED
                           : which == CASE_PWM_ONE_SIDED ? HP_PWM_ONE_SIDED
                                                         : HP_PWM_COMPLEMENTARY;
        d.controller.pwm_hz = 16000.0;
    }
    return d;
}

hp_run_options validation_case_options(validation_case which)
{
    hp_run_options o = hp_run_options_default();
    bool full = which == CASE_FULL_TRAPEZOID || which == CASE_FULL_SINE;
    o.seconds = full ? 0.4 : 0.3;
    o.settle_s = full ? 0.25 : 0.15;
    /* 40 degrees: ten away from the nearest ideal sensor edge. */
    o.start_angle = 40.0 * HP_DEG;
    o.tolerance = 1e-10;
    return o;
}
