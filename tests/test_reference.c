/*
 * The reference simulator's own sanity: closed forms, power balance, convergence, its two ways of
 * stepping against each other. What the engine is held against must itself stand on something.
 */
#include "check.h"
#include "model/stand.h"
#include "reference.h"
#include "reference_drives.h"

/* A bare bridge: no limits, no cut-out, full duty at once, ideal sensors. */
static hp_drive bare_drive(void)
{
    hp_drive d = hp_drive_default();
    d.motor.cogging_nm = 0.0;
    d.sensors.hysteresis_rad = 0.0;
    d.controller.throttle = 1.0;
    d.controller.ramp_per_s = 0.0;
    d.controller.battery_limit_a = 0.0;
    d.controller.phase_limit_a = 0.0;
    d.controller.stall_cutout_s = 0.0;
    return d;
}

static hp_run_options options_for(double seconds, double settle)
{
    hp_run_options o = hp_run_options_default();
    o.seconds = seconds;
    o.settle_s = settle;
    o.start_angle = 0.7; /* within the sector of code 110, 10 degrees past its edge */
    return o;
}

static hp_figures run_brute(const hp_drive *d, int wiring, const hp_run_options *o, double step,
                            hp_trace *trace)
{
    hp_wiring w = hp_wiring_from_number(wiring);
    hp_figures f;
    check_int(hp_reference_brute(d, &w, o, step, trace, &f), HP_OK);
    return f;
}

static hp_figures run_floor(const hp_drive *d, int wiring, const hp_run_options *o, double step,
                            hp_trace *trace)
{
    hp_wiring w = hp_wiring_from_number(wiring);
    hp_figures f;
    check_int(hp_reference_floor(d, &w, o, step, trace, &f), HP_OK);
    return f;
}

static size_t count_events(const hp_trace *trace, hp_event_kind kind)
{
    size_t count = 0;
    for (size_t k = 0; k < trace->event_count; k++)
        count += trace->event[k].kind == kind;
    return count;
}

/* Two leads in series behind the battery, rotor held: i = E/r (1 - exp(-r t / 2L)) with
 * r = 2 (R + R_switch) + R_battery; the stall torque is 2 ke E / r on the flats. */
static void locked_rotor_current_rises_exponentially(void **state)
{
    (void)state;
    hp_drive d = bare_drive();
    d.stand.rotor.breakaway_nm = 1000.0;
    hp_run_options o = options_for(0.05, 0.04);
    hp_trace trace = hp_trace_init(0.0, 0.05, 0.0005);
    hp_figures f = run_brute(&d, 1, &o, 2e-6, &trace);

    double r = 2.0 * (d.motor.resistance_ohm + d.controller.switch_resistance_ohm) +
               d.supply.resistance_ohm;
    double rate = r / (2.0 * d.motor.inductance_h);
    check_true(trace.count > 90, "%zu samples", trace.count);
    for (size_t k = 0; k < trace.count; k++) {
        const hp_sample *s = &trace.sample[k];
        double expected = d.supply.emf_v / r * (1.0 - exp(-rate * s->time));
        check_close(s->current[HP_V], expected, 1e-9, "fourth order at 1/700 of L/R, rounding");
        check_close(s->current[HP_U], -expected, 1e-9, "the currents add up to zero");
        check_close(s->current[HP_W], 0.0, 0.0, "the floating lead carries nothing");
        check_close(s->bus_voltage, d.supply.emf_v - d.supply.resistance_ohm * expected, 1e-9,
                    "the battery's drop follows the current");
    }
    double stall = 2.0 * d.motor.ke * d.supply.emf_v / r;
    check_relative(f.torque_mean, stall, 1e-9, "40 ms are more than 30 time constants");
    check_true(f.at_rest, "the rotor must stick");
    hp_trace_free(&trace);
}

/* J dw/dt = -(Tc + B w): w = (w0 + Tc/B) exp(-B t / J) - Tc/B, at rest at J/B ln(1 + B w0 / Tc). */
static void coasting_stops_when_it_must(void **state)
{
    (void)state;
    hp_drive d = bare_drive();
    d.controller.table = hp_commutation_table_empty();
    d.stand.rotor = (hp_friction){0.5, 0.8, 0.04};
    d.stand.wheel = (hp_friction){0.3, 0.3, 0.01};
    double inertia = hp_stand_inertia(&d.stand, d.motor.rotor_inertia_kg_m2);
    hp_run_options o = options_for(1.5, 1.2);
    o.start_speed = 9.0;
    double stop = inertia / 0.05 * log(1.0 + 0.05 * 9.0 / 0.8);
    hp_trace trace = hp_trace_init(0.0, 1.5, 0.05);
    trace.keep_events = 1;
    hp_figures f = run_brute(&d, 1, &o, 20e-6, &trace);
    for (size_t k = 0; k < trace.count; k++) {
        double t = trace.sample[k].time;
        double expected = fmax(0.0, (9.0 + 16.0) * exp(-0.05 * t / inertia) - 16.0);
        check_close(trace.sample[k].speed, expected, 1e-10, "fourth order, slow motion: rounding");
    }
    check_int((long long)count_events(&trace, HP_EVENT_STICK), 1);
    for (size_t k = 0; k < trace.event_count; k++)
        if (trace.event[k].kind == HP_EVENT_STICK)
            check_close(trace.event[k].time, stop, 1e-8, "event known to 20 us / 4096 = 5 ns");
    check_true(f.at_rest && f.speed == 0.0, "speed %g", f.speed);
    hp_trace_free(&trace);
}

/* With L/R far below a sector's time the line current is that of a d.c. motor: duty E = 2 ke w +
 * i (2 (R + R_s) + duty^2 R_b), 2 ke i = Tc + B w. */
static void steady_speed_of_a_dc_equivalent(void **state)
{
    (void)state;
    hp_drive d = bare_drive();
    d.motor.inductance_h = 1e-6;
    d.controller.throttle = 0.5;
    d.stand.wheel_inertia_kg_m2 = 0.004;
    d.stand.rotor = (hp_friction){1.0, 1.0, 0.05};
    d.stand.wheel = (hp_friction){0.0, 0.0, 0.0};
    hp_run_options o = options_for(0.5, 0.3);
    hp_figures f = run_brute(&d, 1, &o, 4e-6, NULL);
    double ke = 2.0 * d.motor.ke, duty = 0.5;
    double r = 2.0 * (d.motor.resistance_ohm + d.controller.switch_resistance_ohm) +
               duty * duty * d.supply.resistance_ohm;
    double speed = (duty * d.supply.emf_v - r * 1.0 / ke) / (ke + r * 0.05 / ke);
    double current = (1.0 + 0.05 * speed) / ke;
    /* The third phase conducts for about L/R = 10 us after each edge, a sector lasts 4.4 ms. */
    check_relative(f.speed, speed, 3e-3, "share of time spent in commutation, 10 us of 4.4 ms");
    check_relative(f.torque_mean, 1.0 + 0.05 * speed, 3e-3, "steady: torque is friction");
    check_relative(f.battery_current, duty * current, 1e-2, "three phases hand over at each edge");
    check_true(f.window_turns > 5, "%d turns", f.window_turns);
}

/* sum e i = T_e w holds in every term, so what is left over is the error of steps and of Simpson's
 * rule, both of fourth order. */
static void energy_balances_for_all_wirings(void **state)
{
    (void)state;
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        hp_run_options o = options_for(0.2, 0.1);
        double coarse = 0.0, fine = 0.0;
        for (int wiring = 1; wiring <= HP_WIRING_COUNT; wiring++) {
            coarse = fmax(coarse, run_brute(&d, wiring, &o, 40e-6, NULL).balance_error);
            fine = fmax(fine, run_brute(&d, wiring, &o, 20e-6, NULL).balance_error);
        }
        check_close(fine, 0.0, 1e-7, "electrical time constants are 100 steps: (1/100)^4 = 1e-8");
        check_true(fine < coarse / 8.0, "%g at 40 us, %g at 20 us: not of fourth order", coarse,
                   fine);
    }
}

static void compare_figures(const hp_figures *f, const hp_figures *g)
{
    const char *reason = "200 us against 20 us steps: error of the long ones, seen to be below";
    check_close(f->net_turn, g->net_turn, 2e-4 * (1.0 + fabs(g->net_turn)), reason);
    check_close(f->speed, g->speed, 5e-4 * (1.0 + fabs(g->speed)), reason);
    check_close(f->torque_mean, g->torque_mean, 1e-3 * g->torque_rms + 1e-3, reason);
    check_relative(f->torque_rms, g->torque_rms, 2e-3, reason);
    check_close(f->battery_current, g->battery_current, 1e-3 * (1.0 + g->battery_current), reason);
    check_relative(f->phase_rms, g->phase_rms, 1e-3, reason);
    check_relative(f->copper_power, g->copper_power, 2e-3, reason);
    check_close(f->friction_power, g->friction_power, 1e-3 * (1.0 + g->friction_power), reason);
}

/* Long aimed steps find the same events as fine blind ones. */
static void floor_agrees_with_brute(void **state)
{
    (void)state;
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        hp_run_options o = options_for(0.3, 0.15);
        for (int wiring = 1; wiring <= HP_WIRING_COUNT; wiring++) {
            hp_trace fast = {.keep_events = 1}, fine = {.keep_events = 1};
            hp_figures f = run_floor(&d, wiring, &o, 200e-6, &fast);
            hp_figures g = run_brute(&d, wiring, &o, 20e-6, &fine);
            for (int kind = 0; kind < HP_EVENT_KIND_COUNT; kind++) {
                if (kind == HP_EVENT_CORNER)
                    continue; /* the floor does not report these */
                size_t a = count_events(&fast, (hp_event_kind)kind);
                size_t b = count_events(&fine, (hp_event_kind)kind);
                check_true(a == b, "%s wiring %d: %zu %s events, brute has %zu",
                           hp_reference_drive_name((hp_reference_drive)which), wiring, a,
                           hp_event_name((hp_event_kind)kind), b);
            }
            compare_figures(&f, &g);
            hp_trace_free(&fast);
            hp_trace_free(&fine);
        }
    }
}

/* The same with real PWM edges, both kinds. */
static void floor_agrees_with_brute_under_pwm(void **state)
{
    (void)state;
    static const hp_pwm_kind pwm[] = {HP_PWM_COMPLEMENTARY, HP_PWM_ONE_SIDED};
    static const int wiring[] = {1, 2, 4, 5};
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_run_options o = options_for(0.12, 0.06);
    for (int p = 0; p < 2; p++) {
        d.controller.pwm = pwm[p];
        for (int k = 0; k < 4; k++) {
            hp_trace fast = {.keep_events = 1}, fine = {.keep_events = 1};
            hp_figures f = run_floor(&d, wiring[k], &o, 60e-6, &fast);
            hp_figures g = run_brute(&d, wiring[k], &o, 2e-6, &fine);
            check_int((long long)count_events(&fast, HP_EVENT_PWM),
                      (long long)count_events(&fine, HP_EVENT_PWM));
            check_int((long long)count_events(&fast, HP_EVENT_SENSOR),
                      (long long)count_events(&fine, HP_EVENT_SENSOR));
            check_int((long long)count_events(&fast, HP_EVENT_DIODE),
                      (long long)count_events(&fine, HP_EVENT_DIODE));
            compare_figures(&f, &g);
            hp_trace_free(&fast);
            hp_trace_free(&fine);
        }
    }
}

/* Classical Runge-Kutta is of fourth order; halving the step must gain at least eight. */
static void floor_converges_at_fourth_order(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    d.controller.battery_limit_a = d.controller.phase_limit_a = 0.0;
    hp_run_options o = options_for(0.4, 0.2);
    double exact = run_floor(&d, 4, &o, 10e-6, NULL).net_turn;
    double error[3];
    for (int k = 0; k < 3; k++)
        error[k] = fabs(run_floor(&d, 4, &o, 800e-6 / (1 << k), NULL).net_turn - exact);
    check_true(error[1] < error[0] / 8.0 && error[2] < error[1] / 8.0,
               "errors %g, %g, %g at 800, 400, 200 us", error[0], error[1], error[2]);
    check_true(error[0] > 1e-9, "error %g leaves nothing to compare", error[0]);
}

/* A rotor that runs backward behind a one-way clutch leaves the wheel at rest. */
static void backward_rotor_leaves_the_wheel(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_GEARED);
    hp_run_options o = options_for(0.5, 0.25);
    hp_figures back = run_brute(&d, 8, &o, 10e-6, NULL);
    check_true(back.speed < -10.0, "speed %g", back.speed);
    check_close(back.wheel_speed, 0.0, 0.0, "nothing moves the wheel");
    hp_figures ahead = run_brute(&d, 1, &o, 10e-6, NULL);
    check_relative(ahead.wheel_speed, ahead.speed / d.stand.gear_ratio, 1e-3,
                   "wheel runs free only for instants");
}

/* The theory of the ideal motor: 3 smooth forward, 3 smooth backward, 12 rough, 18 locked. */
static void classes_of_the_36_wirings(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_run_options o = options_for(1.5, 0.9);
    int forward = 0, backward = 0, rough = 0, locked = 0;
    for (int wiring = 1; wiring <= HP_WIRING_COUNT; wiring++) {
        hp_figures f = run_floor(&d, wiring, &o, 200e-6, NULL);
        bool smooth = f.battery_power < 3.0 * f.friction_power;
        if (fabs(f.window_turn) < HP_PI)
            locked++;
        else if (!smooth)
            rough++;
        else if (f.speed > 0.0)
            forward++;
        else
            backward++;
    }
    check_int(forward, 3);
    check_int(backward, 3);
    check_int(rough, 12);
    check_int(locked, 18);
}

/* The stall cut-out comes exactly its time after the last edge, and all legs go off. */
static void cut_out_switches_everything_off(void **state)
{
    (void)state;
    hp_drive d = bare_drive();
    d.stand.rotor.breakaway_nm = 1000.0;
    d.controller.stall_cutout_s = 0.03;
    hp_run_options o = options_for(0.1, 0.01);
    hp_trace trace = hp_trace_init(0.0, 0.1, 0.01);
    trace.keep_events = 1;
    hp_figures f = run_brute(&d, 1, &o, 5e-6, &trace);
    check_true(f.cut_out && !f.cut_out_voltage, "no stall cut-out");
    check_close(f.seconds, 0.03, 0.0, "a known time");
    const hp_sample *last = &trace.sample[trace.count - 1];
    check_close(last->time, 0.1, 1e-15, "the last sample asked for");
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        check_close(last->current[k], 0.0, 0.0, "diodes have emptied the winding");
        check_int(last->drive[k], 0);
    }
    check_int((long long)count_events(&trace, HP_EVENT_CUTOUT), 1);
    hp_trace_free(&trace);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(locked_rotor_current_rises_exponentially),
        cmocka_unit_test(coasting_stops_when_it_must),
        cmocka_unit_test(steady_speed_of_a_dc_equivalent),
        cmocka_unit_test(energy_balances_for_all_wirings),
        cmocka_unit_test(floor_agrees_with_brute),
        cmocka_unit_test(floor_agrees_with_brute_under_pwm),
        cmocka_unit_test(floor_converges_at_fourth_order),
        cmocka_unit_test(backward_rotor_leaves_the_wheel),
        cmocka_unit_test(classes_of_the_36_wirings),
        cmocka_unit_test(cut_out_switches_everything_off),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
