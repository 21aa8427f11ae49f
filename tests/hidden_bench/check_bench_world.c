/*
 * The hidden bench's simulator held against the library's engine: two that share no line.
 *
 *   check_bench_world [MOTORS]
 *
 * Random motors, all twelve distinct wirings of each, one rest angle; then one-sided PWM edges, a
 * geared hub behind a clutch, an open lead. Then machines of the hidden bench, all 36 wirings:
 * three are right by statics, and these alone run forward on a small current. Exit status 1 when a
 * figure differs by more than its tolerance. Chosen: 1 % of speed and current, which is a third of
 * what a meter errs; torque ripple, by which a person feels, within 5 %.
 */
#include "bench_person.h"
#include "decide/judge/ensemble.h"

#include <hubphase.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SECONDS 2.0
#define WINDOW  0.8

static int compared, differ;

static world_machine machine_of(const hp_drive *d)
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

static void hold(const char *name, int number, const char *what, double here, double there,
                 double tolerance)
{
    compared++;
    if (fabs(here - there) <= tolerance)
        return;
    differ++;
    printf("%s, wiring %d: %s %.6g here, %.6g by the engine, tolerance %.2g\n", name, number, what,
           here, there, tolerance);
}

static void compare(const char *name, hp_engine *engine, const hp_drive *drive, int number,
                    double angle)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_run_options options = hp_run_options_default();
    hp_figures f;
    hp_error err = hp_error_none();
    options.seconds = SECONDS;
    options.settle_s = SECONDS - WINDOW;
    options.start_angle = angle;
    if (hp_engine_run(engine, drive, &wiring, &options, NULL, &f, &err) != HP_OK) {
        printf("%s, wiring %d: %s\n", name, number, err.text);
        differ++;
        return;
    }
    world_machine m = machine_of(drive);
    world_joined joined;
    memcpy(joined.sensor, wiring.sensor, sizeof joined.sensor);
    memcpy(joined.phase, wiring.phase, sizeof joined.phase);
    world_run r = world_spin(&m, &joined, angle, SECONDS, WINDOW, false);
    bool turns = fabs(f.window_turn) > HP_TWO_PI;
    double top = hp_drive_ideal_speed(drive);
    hold(name, number, "battery current [A]", r.meter_a, f.battery_current,
         0.01 * f.battery_current + 0.01);
    hold(name, number, "torque ripple [N m]", r.torque_rms, f.torque_rms,
         0.05 * f.torque_rms + 0.002);
    /* Of a rotor that shivers the mean speed hangs on where the window ends. */
    if (turns) {
        hold(name, number, "speed [rad/s]", r.speed, f.speed, 0.01 * fabs(f.speed) + 1e-3 * top);
        hold(name, number, "wheel speed [rad/s]", r.wheel_speed, f.wheel_speed,
             0.01 * fabs(f.wheel_speed) + 1e-3 * top);
        hold(name, number, "turn [rad]", r.net_turn, f.net_turn, 0.01 * fabs(f.net_turn) + 0.5);
    }
    hold(name, number, "at rest", r.at_rest, f.at_rest, 0.5);
    hold(name, number, "cut out", r.cut_out, f.cut_out, 0.5);
}

static void random_motors(hp_engine *engine, int count)
{
    hp_variation_params widths = hp_variation_default();
    static const int distinct[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};
    for (int k = 0; k < count; k++) {
        char name[32];
        hp_drive nominal = hp_drive_default();
        /* Every third motor has a sinusoidal back-EMF. */
        if (k % 3 == 2)
            nominal.motor.backemf = hp_backemf_sinusoidal();
        hp_drive drive = hp_ensemble_draw(&nominal, &widths, 20261129, k, count);
        snprintf(name, sizeof name, "motor %d", k + 1);
        for (size_t n = 0; n < sizeof distinct / sizeof distinct[0]; n++)
            compare(name, engine, &drive, distinct[n], 0.3 + 0.7 * k);
    }
}

/* Three wirings are right by statics, and they alone turn the wheel forward on a small current. */
static void right_ones_run(unsigned out, int index)
{
    static const int order[6][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                    {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    person p = person_draw(out, true, 20261129, index);
    int right = 0;
    for (int number = 1; number <= 36; number++) {
        person_step step = {.number = number};
        world_joined joined;
        world_machine m = p.machine;
        memcpy(step.sensor, order[(number - 1) / 6], sizeof step.sensor);
        memcpy(step.phase, order[(number - 1) % 6], sizeof step.phase);
        for (int k = 0; k < 3; k++) {
            joined.sensor[k] = p.sensor_axis[step.sensor[k]];
            joined.phase[k] = p.phase_axis[step.phase[k]];
        }
        m.duty = 0.35;
        world_run r = world_spin(&m, &joined, 0.4, 2.0, 0.25, true);
        bool is_right = person_wiring_right(&p, &step);
        right += is_right;
        /* Amperes: half of the least that a rough wiring was seen to draw. */
        bool runs = r.wheel_speed > 3.0 && r.meter_a < 1.2;
        hold("hidden bench", number, "right by statics, and runs so", runs, is_right, 0.5);
    }
    hold("hidden bench", 0, "right wirings of a machine", right, 3.0, 0.5);
}

int main(int argc, char **argv)
{
    int motors = argc > 1 ? atoi(argv[1]) : 12;
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    if (!engine || motors < 1) {
        fputs("usage: check_bench_world [MOTORS]\n", stderr);
        return 2;
    }
    random_motors(engine, motors);
    static const int all[] = {1, 2, 4, 5, 8, 9, 12};
    hp_drive one_sided = hp_drive_default(), geared = hp_drive_default(), open = one_sided;
    one_sided.controller.pwm = HP_PWM_ONE_SIDED;
    one_sided.controller.pwm_hz = 8000.0;
    geared.motor.pole_pairs = 8;
    geared.motor.ke = 0.16;
    geared.motor.rotor_inertia_kg_m2 = 0.0008;
    geared.stand.gear_ratio = 4.8;
    geared.stand.clutch = true;
    geared.stand.rotor = (hp_friction){0.04, 0.06, 0.0002};
    geared.stand.wheel = (hp_friction){0.15, 0.2, 0.002};
    geared.motor.cogging_nm = 0.02;
    open.motor.lead_open[1] = true;
    for (size_t n = 0; n < sizeof all / sizeof all[0]; n++) {
        compare("one-sided PWM", engine, &one_sided, all[n], 0.5);
        compare("geared hub", engine, &geared, all[n], 1.1);
        compare("open lead", engine, &open, all[n], 2.0);
    }
    static const unsigned outside[] = {0, OUT_TABLE, OUT_GEARED, OUT_SINE | OUT_TABLE};
    for (int k = 0; k < 4; k++)
        right_ones_run(outside[k], k);
    hp_engine_free(engine);
    printf("%d figures compared, %d differ\n", compared, differ);
    return differ > 0;
}
