/* See the header. */
#include "world_drive.h"

world_machine world_of_drive(const hp_drive *d)
{
    const hp_motor_params *motor = &d->motor;
    const hp_controller_params *c = &d->controller;
    world_machine m = {.pole_pairs = motor->pole_pairs,
                       .resistance = motor->resistance_ohm *
                                     (1.0 + motor->copper_per_k * (motor->winding_c - 20.0)),
                       .inductance = motor->inductance_h,
                       .ke = motor->ke,
                       .sinusoidal = motor->backemf.kind == HP_BACKEMF_SINUSOIDAL,
                       .flat = motor->backemf.flat_rad,
                       .rotor_inertia = motor->rotor_inertia_kg_m2,
                       .wheel_inertia = d->stand.wheel_inertia_kg_m2,
                       .gear_ratio = d->stand.gear_ratio,
                       .clutch = d->stand.clutch,
                       .cogging = motor->cogging_nm,
                       .cogging_phase = motor->cogging_phase_rad,
                       .cogging_order = motor->cogging_order,
                       .hysteresis = d->sensors.hysteresis_rad,
                       .duty = c->throttle * c->speed_cap,
                       .ramp = c->ramp_per_s,
                       .battery_limit = c->battery_limit_a,
                       .phase_limit = c->phase_limit_a,
                       .filter = c->filter_s,
                       .limiter = c->limiter_per_s,
                       .stall_cutout = c->stall_cutout_s,
                       .switch_ohm = c->switch_resistance_ohm,
                       .diode_drop = c->diode_drop_v,
                       .pwm_hz = c->pwm_hz,
                       .pwm = c->pwm == HP_PWM_ONE_SIDED ? WORLD_ONE_SIDED : WORLD_AVERAGED,
                       .emf = d->supply.emf_v,
                       .emf_ohm = d->supply.resistance_ohm};
    const hp_friction *body[] = {&d->stand.rotor, &d->stand.wheel};
    world_friction *into[] = {&m.rotor, &m.wheel};
    for (int k = 0; k < 2; k++)
        *into[k] =
            (world_friction){body[k]->coulomb_nm, body[k]->breakaway_nm, body[k]->viscous_nm_s_rad};
    for (int k = 0; k < 3; k++) {
        m.placement[k] = d->sensors.placement_rad[k];
        m.stuck[k] = -1;
        m.open[k] = motor->lead_open[k];
    }
    for (int code = 0; code < 8; code++) {
        m.high[code] = c->table.row[code].high;
        m.low[code] = c->table.row[code].low;
    }
    return m;
}
