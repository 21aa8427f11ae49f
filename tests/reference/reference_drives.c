/*
 * Three unlike drives: see the header. The values are chosen so that all 36 wirings show every kind
 * of event within half a second.
 */
#include "reference_drives.h"

static void make_geared(hp_drive *d)
{
    d->motor.pole_pairs = 10;
    d->motor.resistance_ohm = 0.08;
    d->motor.inductance_h = 0.12e-3;
    d->motor.ke = 0.13;
    d->motor.backemf = hp_backemf_trapezoidal(100.0 * HP_DEG);
    d->motor.rotor_inertia_kg_m2 = 0.0012;
    d->motor.cogging_nm = 0.02;
    d->sensors.hysteresis_rad = 3.0 * HP_DEG;
    d->controller.battery_limit_a = 18.0;
    d->supply = (hp_supply_params){.emf_v = 48.0, .resistance_ohm = 0.12};
    d->stand.gear_ratio = 4.4;
    d->stand.clutch = true;
    d->stand.wheel_inertia_kg_m2 = 0.09;
    d->stand.rotor = (hp_friction){0.06, 0.08, 0.0004};
    d->stand.wheel = (hp_friction){0.08, 0.12, 0.003};
}

static void make_sine(hp_drive *d)
{
    d->motor.pole_pairs = 15;
    d->motor.resistance_ohm = 0.14;
    d->motor.inductance_h = 0.35e-3;
    d->motor.ke = 0.42;
    d->motor.backemf = hp_backemf_sinusoidal();
    d->motor.winding_c = 45.0;
    d->motor.cogging_nm = 0.05;
    d->motor.cogging_phase_rad = 0.4;
    d->sensors.placement_rad[HP_U] = 5.0 * HP_DEG;
    d->sensors.placement_rad[HP_V] = -3.0 * HP_DEG;
    d->sensors.placement_rad[HP_W] = 1.5 * HP_DEG;
    d->sensors.hysteresis_rad = 1.5 * HP_DEG;
    d->supply = (hp_supply_params){.emf_v = 24.0, .resistance_ohm = 0.06};
    d->stand.wheel_inertia_kg_m2 = 0.05;
    d->stand.rotor = (hp_friction){0.2, 0.3, 0.004};
}

hp_drive hp_reference_drive_make(hp_reference_drive which)
{
    hp_drive d = hp_drive_default();
    d.controller.throttle = 0.4;
    d.controller.ramp_per_s = 2.5;
    d.controller.battery_limit_a = 15.0;
    d.controller.phase_limit_a = 30.0;
    d.controller.limiter_per_s = 10.0;
    d.controller.stall_cutout_s = 0.0;
    d.stand.wheel_inertia_kg_m2 = 0.08;
    if (which == HP_DRIVE_GEARED)
        make_geared(&d);
    else if (which == HP_DRIVE_SINE)
        make_sine(&d);
    return d;
}

const char *hp_reference_drive_name(hp_reference_drive which)
{
    static const char *const name[HP_DRIVE_COUNT] = {"direct", "geared", "sine"};
    return which < HP_DRIVE_COUNT ? name[which] : "unknown";
}
