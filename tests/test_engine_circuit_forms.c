/*
 * Closed forms of the circuit and the controller with a held rotor: every oracle here is derived in
 * its comment.
 *
 * A held rotor carries one current i through two leads: d E = (2 R + 2 R_s + d^2 R_b) i + 2 L di/dt
 * for the averaged duty d, since the battery carries d i and its sag reaches the lead times d.
 */
#include "runs.h"

/* Sector of code 100 with the 120-degree table: V high, W low, U off; and its middle. */
#define SECTOR_MIDDLE 0.0

/* The integrator's relative error a step is 1e-10; a hundred steps add up to less than this. */
#define FINE        1e-8
#define FINE_REASON "a hundred steps of relative error 1e-10"

static double loop_ohm(const hp_drive *d, double duty)
{
    return 2.0 * (hp_motor_resistance(&d->motor) + d->controller.switch_resistance_ohm) +
           duty * duty * d->supply.resistance_ohm;
}

static hp_run_options fine_run(double seconds, double angle)
{
    hp_run_options o = run_for(seconds, angle);
    o.tolerance = 1e-10;
    return o;
}

static void current_of_a_held_rotor_rises_exponentially(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.controller.throttle = 0.6;
    d.motor.winding_c = 70.0;
    hp_run_options o = fine_run(0.02, SECTOR_MIDDLE);
    hp_trace trace = full_trace(o.seconds, 1e-4);
    run_wiring(engine, &d, 1, &o, &trace);

    double ohm = loop_ohm(&d, 0.6), tau = 2.0 * d.motor.inductance_h / ohm;
    double end = 0.6 * d.supply.emf_v / ohm;
    check_int((long long)trace.count, 201);
    for (size_t k = 0; k < trace.count; k++) {
        const hp_sample *s = &trace.sample[k];
        double expected = end * (1.0 - exp(-s->time / tau));
        check_close(s->current[HP_V], expected, FINE * end, FINE_REASON);
        check_close(s->current[HP_W], -expected, FINE * end, FINE_REASON);
        check_close(s->current[HP_U], 0.0, 0.0, "an undriven lead at rest floats");
        check_close(s->battery_current, 0.6 * expected, FINE * end, FINE_REASON);
        check_close(s->bus_voltage, d.supply.emf_v - 0.6 * expected * d.supply.resistance_ohm,
                    FINE * d.supply.emf_v, FINE_REASON);
        /* The neutral stands half way between the driven leads, and so does the floating lead. */
        check_close(s->terminal[HP_U], 0.5 * (s->terminal[HP_V] + s->terminal[HP_W]), 1e-9,
                    "rounding");
    }
    check_close(trace.sample[200].time, 0.02, 1e-15, "rounding");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

static void stall_torque_is_twice_ke_times_the_current(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    hp_run_options o = fine_run(0.1, SECTOR_MIDDLE + 10.0 * HP_DEG);
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    double amps = d.supply.emf_v / loop_ohm(&d, 1.0);
    check_relative(f.torque_mean, 2.0 * d.motor.ke * amps, FINE, FINE_REASON);
    check_relative(f.battery_current, amps, FINE, FINE_REASON);
    check_relative(f.phase_rms, amps, FINE, FINE_REASON);
    check_relative(f.phase_peak, amps, FINE, FINE_REASON);
    check_relative(f.copper_power, amps * amps * (loop_ohm(&d, 1.0) - d.supply.resistance_ohm),
                   FINE, FINE_REASON);
    check_true(f.at_rest && f.window_turns == 0, "a held rotor");

    /* Sinusoidal: (f(x - 120) - f(x - 240)) = sqrt 3 cos x in this sector, so at x = 10 degrees
     * T = sqrt 3 ke i cos 10. */
    d.motor.backemf = hp_backemf_sinusoidal();
    f = run_wiring(engine, &d, 1, &o, NULL);
    check_relative(f.torque_mean, sqrt(3.0) * d.motor.ke * amps * cos(10.0 * HP_DEG), FINE,
                   FINE_REASON);
    hp_engine_free(engine);
}

static void ramp_raises_the_duty_in_a_straight_line(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.controller.throttle = 0.8;
    d.controller.speed_cap = 0.5;
    d.controller.ramp_per_s = 3.0;
    hp_run_options o = fine_run(0.3, SECTOR_MIDDLE);
    hp_trace trace = full_trace(o.seconds, 1e-3);
    run_wiring(engine, &d, 1, &o, &trace);
    for (size_t k = 0; k < trace.count; k++)
        check_close(trace.sample[k].duty, fmin(3.0 * trace.sample[k].time, 0.4), 1e-11,
                    "rounding of sums of steps and the slack of the guard, 1e-12");
    check_close(first_event(&trace, HP_EVENT_DUTY, -1).time, 0.4 / 3.0, 1e-11,
                "the guard's slack of 1e-12 over the ramp");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* A battery current limit alone: at stall duty * i stands at the limit, so the phases carry
 * limit / duty. The duty follows from duty^2 E / (2 R + 2 R_s + duty^2 R_b) = limit. */
static void battery_limit_alone_lets_phase_current_exceed_it_by_one_over_duty(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.controller.battery_limit_a = 5.0;
    hp_run_options o = fine_run(6.0, SECTOR_MIDDLE);
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    double duty = sqrt(5.0 * loop_ohm(&d, 0.0) / (d.supply.emf_v - 5.0 * d.supply.resistance_ohm));
    const char *reason = "the limiter's approach, exp(-2 * 5 / s * 3.6 s), and the integrator";
    check_relative(f.battery_current, 5.0, 1e-7, reason);
    check_relative(f.duty, duty, 1e-7, reason);
    check_relative(f.phase_rms, 5.0 / duty, 1e-7, reason);
    check_true(f.phase_rms > 4.0 * f.battery_current, "phases carry %g A", f.phase_rms);
    check_true(f.limited, "the limiter works and says so, without a ramp too");
    hp_engine_free(engine);
}

static void phase_limit_holds_the_phase_current(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.controller.phase_limit_a = 25.0;
    d.controller.battery_limit_a = 1000.0;
    d.controller.ramp_per_s = 2.0;
    hp_run_options o = fine_run(6.0, SECTOR_MIDDLE);
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    const char *reason = "the limiter's approach and the integrator";
    check_relative(f.phase_rms, 25.0, 1e-7, reason);
    check_relative(f.torque_mean, 2.0 * d.motor.ke * 25.0, 1e-7, reason);
    check_true(f.limited, "the limiter works and says so");

    /* Far from its limit a limiter is not said to work, although the duty rises a little later. */
    d.controller.phase_limit_a = 2000.0;
    f = run_wiring(engine, &d, 1, &o, NULL);
    check_true(!f.limited, "no limiter at work");
    check_relative(f.duty, 1.0, 1e-12, "the throttle's duty, set exactly");
    hp_engine_free(engine);
}

static void stall_cutout_comes_exactly_at_its_time(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.controller.stall_cutout_s = 0.123;
    hp_run_options o = fine_run(0.5, SECTOR_MIDDLE);
    hp_trace trace = full_trace(o.seconds, 1e-3);
    hp_figures f;
    run_into(engine, &d, 1, &o, &trace, &f);
    hp_event cut = first_event(&trace, HP_EVENT_CUTOUT, -1);
    check_close(cut.time, 0.123, 1e-15, "a known time, not a root");
    check_int(cut.which, 0);
    check_true(f.cut_out && !f.cut_out_voltage, "stall cut-out");
    check_close(f.seconds, 0.123, 1e-15, "figures end with the cut-out");
    check_true(f.phase_rms > 100.0, "figures are those before the cut-out: %g A", f.phase_rms);
    /* Afterwards every leg is off and the current dies through two diodes within
     * tau ln(1 + i R / (E + 2 drop)): about a millisecond. */
    for (size_t k = 0; k < trace.count; k++)
        if (trace.sample[k].time > 0.13)
            check_close(trace.sample[k].current[HP_V], 0.0, 0.0, "off");

    /* A run that nobody traces ends with the cut-out and says the same. */
    hp_figures bare;
    run_into(engine, &d, 1, &o, NULL, &bare);
    f.steps = bare.steps, f.rhs = bare.rhs, f.events = bare.events;
    check_int(memcmp(&f, &bare, sizeof f), 0);
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* The wait begins anew with every edge: a turning rotor that is then braked to rest. */
static void stall_cutout_waits_from_the_last_edge(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    d.controller.throttle = 0.02;
    d.controller.stall_cutout_s = 0.25;
    d.stand.rotor = (hp_friction){4.0, 6.0, 0.0};
    hp_run_options o = fine_run(2.0, SECTOR_MIDDLE);
    o.start_speed = 10.0;
    hp_trace trace = event_trace();
    run_wiring(engine, &d, 1, &o, &trace);
    double last = -1.0;
    for (size_t k = 0; k < trace.event_count; k++)
        if (trace.event[k].kind == HP_EVENT_SENSOR)
            last = trace.event[k].time;
    check_true(last > 0.0, "the rotor passed an edge");
    check_close(first_event(&trace, HP_EVENT_CUTOUT, 0).time, last + 0.25, 1e-14, "a known time");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* The filter of the battery current sees I (1 - exp(-t / tau)): its output is
 * I (1 - (tau exp(-t / tau) - filter exp(-t / filter)) / (tau - filter)). */
static double filtered(double t, double end, double tau, double filter)
{
    return end * (1.0 - (tau * exp(-t / tau) - filter * exp(-t / filter)) / (tau - filter));
}

static void undervoltage_cutout_comes_when_the_filtered_bus_meets_it(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.supply.resistance_ohm = 0.2;
    d.controller.undervoltage_v = 30.0;
    hp_run_options o = fine_run(0.5, SECTOR_MIDDLE);
    hp_trace trace = event_trace();
    hp_figures f = run_wiring(engine, &d, 1, &o, &trace);

    double ohm = loop_ohm(&d, 1.0), tau = 2.0 * d.motor.inductance_h / ohm;
    double wanted = (d.supply.emf_v - 30.0) / d.supply.resistance_ohm, low = 0.0, high = 0.5;
    for (int k = 0; k < 60; k++) {
        double middle = 0.5 * (low + high);
        if (filtered(middle, d.supply.emf_v / ohm, tau, d.controller.filter_s) < wanted)
            low = middle;
        else
            high = middle;
    }
    check_close(first_event(&trace, HP_EVENT_CUTOUT, 1).time, low, 1e-9,
                "the root of a guard known to 1e-10 of 7 V, falling at 500 V/s");
    check_true(f.cut_out && f.cut_out_voltage, "under-voltage cut-out");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

static void each_part_can_be_left_out(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hp_run_options o = run_for(0.5, SECTOR_MIDDLE);
    hp_trace trace = event_trace();
    hp_figures f = run_wiring(engine, &d, 1, &o, &trace);
    check_close(f.duty, 1.0, 1e-12, "rounding of an integral: full duty from the first instant");
    check_true(!f.limited && !f.cut_out, "no limiter, no cut-out");
    for (size_t k = 0; k < trace.event_count; k++)
        check_true(trace.event[k].kind != HP_EVENT_DUTY && trace.event[k].kind != HP_EVENT_CUTOUT &&
                       trace.event[k].kind != HP_EVENT_STICK,
                   "event %s", hp_event_name(trace.event[k].kind));
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(current_of_a_held_rotor_rises_exponentially),
        cmocka_unit_test(stall_torque_is_twice_ke_times_the_current),
        cmocka_unit_test(ramp_raises_the_duty_in_a_straight_line),
        cmocka_unit_test(battery_limit_alone_lets_phase_current_exceed_it_by_one_over_duty),
        cmocka_unit_test(phase_limit_holds_the_phase_current),
        cmocka_unit_test(stall_cutout_comes_exactly_at_its_time),
        cmocka_unit_test(stall_cutout_waits_from_the_last_edge),
        cmocka_unit_test(undervoltage_cutout_comes_when_the_filtered_bus_meets_it),
        cmocka_unit_test(each_part_can_be_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
