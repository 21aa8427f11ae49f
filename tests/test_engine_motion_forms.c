/*
 * Closed forms of the motion: coasting, sticking, breaking away, steady running, the one-way
 * clutch. Every oracle is derived in its comment.
 */
#include "runs.h"

#define FINE        1e-8
#define FINE_REASON "some hundred steps of relative error 1e-10"

/* Middle of the sector of code 100, where the usual table drives V high and W low. */
#define SECTOR_MIDDLE 0.0

static hp_run_options fine_run(double seconds, double angle)
{
    hp_run_options o = run_for(seconds, angle);
    o.tolerance = 1e-10;
    return o;
}

/* No current at all: nothing but mechanics is left. */
static hp_drive coasting_drive(void)
{
    hp_drive d = bare_drive();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        d.motor.lead_open[k] = true;
    d.stand.rotor = (hp_friction){0.35, 0.5, 0.02};
    return d;
}

/* J dw/dt = -T_c - b w: w = (w_0 + T_c / b) exp(-b t / J) - T_c / b, and rest at
 * J / b ln(1 + b w_0 / T_c); the angle is the integral of w. */
static void coasting_rotor_slows_and_sticks_in_closed_form(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = coasting_drive();
    const double w0 = 21.0, inertia = d.stand.wheel_inertia_kg_m2, b = 0.02, tc = 0.35;
    double stop = inertia / b * log(1.0 + b * w0 / tc);
    for (int sign = -1; sign <= 1; sign += 2) {
        hp_run_options o = fine_run(1.2 * stop, 0.0);
        o.start_speed = sign * w0;
        hp_trace trace = full_trace(o.seconds, 0.01);
        hp_figures f = run_wiring(engine, &d, 1, &o, &trace);
        for (size_t k = 0; k < trace.count; k++) {
            double t = fmin(trace.sample[k].time, stop), fall = exp(-b * t / inertia);
            double w = (w0 + tc / b) * fall - tc / b;
            double turned = (w0 + tc / b) * inertia / b * (1.0 - fall) - tc / b * t;
            check_close(trace.sample[k].speed, sign * w, FINE * w0, FINE_REASON);
            check_close(trace.sample[k].theta, sign * d.motor.pole_pairs * turned,
                        FINE * d.motor.pole_pairs * w0, FINE_REASON);
        }
        hp_event rest = first_event(&trace, HP_EVENT_STICK, 0);
        check_close(rest.time, stop, 1e-8, "speed error 1e-8 of 21 rad/s over 2.9 rad/s^2");
        check_true(f.at_rest, "at rest");
        /* All of the kinetic energy went into friction. */
        check_close(trace.sample[trace.count - 1].speed, 0.0, 0.0, "rest is exact");
        hp_trace_free(&trace);
    }
    hp_engine_free(engine);
}

/* With the smoothed law alone J dw/dt = -T_c tanh(w / s): sinh(w / s) = sinh(w_0 / s) exp(-T_c t /
 * (J s)). */
static void smoothed_friction_slows_without_sticking(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = coasting_drive();
    d.stand.rotor.viscous_nm_s_rad = 0.0;
    d.stand.smooth_rad_s = 0.5;
    hp_run_options o = fine_run(2.0, 0.0);
    o.start_speed = 4.0;
    hp_trace trace = full_trace(o.seconds, 0.01);
    hp_figures f = run_wiring(engine, &d, 1, &o, &trace);
    for (size_t k = 0; k < trace.count; k++) {
        double decay = exp(-0.35 * trace.sample[k].time / (d.stand.wheel_inertia_kg_m2 * 0.5));
        check_close(trace.sample[k].speed, 0.5 * asinh(sinh(4.0 / 0.5) * decay), FINE * 4.0,
                    FINE_REASON);
    }
    check_true(!f.at_rest, "no sticking");
    check_true(first_event(&trace, HP_EVENT_STICK, -1).time < 0.0, "no event of sticking");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* Without friction the rotor swings in the cogging torque about a rest angle x_0 with
 * J x'' = p A cos(pi) n x = -p A n x (x electrical, small): period 2 pi sqrt(J / (p A n)). */
static void cogging_alone_swings_like_a_pendulum(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = coasting_drive();
    d.stand.rotor = (hp_friction){0.0, 0.0, 0.0};
    d.motor.cogging_nm = 0.8;
    d.motor.cogging_order = 6;
    double p = d.motor.pole_pairs;
    double period = HP_TWO_PI * sqrt(d.stand.wheel_inertia_kg_m2 / (p * 0.8 * 6.0));
    double rest = HP_PI / 6.0, swing = 0.01 * HP_DEG;
    hp_run_options o = fine_run(10.25 * period, rest + swing);
    hp_trace trace = full_trace(o.seconds, 0.125 * period);
    run_wiring(engine, &d, 1, &o, &trace);
    for (size_t k = 0; k < trace.count; k++)
        check_close(trace.sample[k].theta,
                    rest + swing * cos(HP_TWO_PI / period * trace.sample[k].time), 1e-4 * swing,
                    "some hundred steps of 1e-10 rad each");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* A ramp of duty r t into a loop R, L without battery resistance gives
 * i = r E / R (t - tau (1 - exp(-t / tau))); the rotor breaks away when 2 ke i meets the level. */
static void rotor_breaks_away_when_torque_meets_the_level(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    d.supply.resistance_ohm = 0.0;
    d.controller.ramp_per_s = 1.5;
    d.stand.rotor = (hp_friction){2.0, 9.0, 0.0};
    hp_run_options o = fine_run(0.2, SECTOR_MIDDLE);
    hp_trace trace = event_trace();
    run_wiring(engine, &d, 1, &o, &trace);

    double ohm = 2.0 * (d.motor.resistance_ohm + d.controller.switch_resistance_ohm);
    double tau = 2.0 * d.motor.inductance_h / ohm, low = 0.0, high = 0.2;
    for (int k = 0; k < 60; k++) {
        double t = 0.5 * (low + high);
        double amps = 1.5 * d.supply.emf_v / ohm * (t - tau * (1.0 - exp(-t / tau)));
        if (2.0 * d.motor.ke * amps < 9.0)
            low = t;
        else
            high = t;
    }
    hp_event slip = first_event(&trace, HP_EVENT_SLIP, 0);
    check_close(slip.time, low, 1e-8, "torque known to 1e-8 of 9 N m, rising at 400 N m/s");
    check_true(trace.event[0].kind == HP_EVENT_SLIP, "nothing happens before");
    hp_trace_free(&trace);

    /* A level just above the stall torque holds the rotor for good, one just below lets it go. */
    double stall = 2.0 * d.motor.ke * d.supply.emf_v / ohm;
    o.seconds = 3.0;
    d.stand.rotor.breakaway_nm = stall * 1.0001;
    check_true(run_wiring(engine, &d, 1, &o, NULL).at_rest, "held at %g N m", stall);
    d.stand.rotor.breakaway_nm = stall * 0.9999;
    check_true(fabs(run_wiring(engine, &d, 1, &o, NULL).net_turn) > HP_TWO_PI, "lets go");
    hp_engine_free(engine);
}

/* Flat back-EMF under ideal commutation is a d.c. machine: d E = R i + 2 ke w, 2 ke i = T_f(w).
 * Commutation takes a time of about L i / (d E), so the difference falls in proportion to L. */
static double speed_at_inductance(hp_engine *engine, double inductance)
{
    hp_drive d = bare_drive();
    d.controller.throttle = 0.5;
    d.supply.resistance_ohm = 0.0;
    d.sensors.hysteresis_rad = 0.0;
    d.motor.inductance_h = inductance;
    d.stand.rotor = (hp_friction){2.0, 2.5, 0.1};
    hp_run_options o = run_for(1.0, SECTOR_MIDDLE);
    o.tolerance = 1e-9;
    return run_wiring(engine, &d, 1, &o, NULL).speed;
}

static void steady_speed_is_that_of_a_dc_machine(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    double k = 2.0 * d.motor.ke;
    double ohm = 2.0 * (d.motor.resistance_ohm + d.controller.switch_resistance_ohm);
    double expected = (0.5 * d.supply.emf_v * k / ohm - 2.0) / (k * k / ohm + 0.1);
    double coarse = speed_at_inductance(engine, 40e-6) - expected;
    double middle = speed_at_inductance(engine, 20e-6) - expected;
    double fine = speed_at_inductance(engine, 10e-6) - expected;
    check_close(coarse, 0.0, 0.005 * expected, "commutation, see above");
    check_close(coarse / middle, 2.0, 0.1, "first order in the inductance");
    check_close(middle / fine, 2.0, 0.05, "first order in the inductance");
    check_close(2.0 * fine - middle, 0.0, 1e-4 * expected,
                "what is left after extrapolation is of second order");
    hp_engine_free(engine);
}

/* Off legs and a rotor driven beyond the battery's voltage: current flows back through the diodes
 * until the line back-EMF has fallen to bus plus two drops; afterwards the rotor coasts freely. */
static void fast_coasting_rotor_charges_the_battery(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    d.sensors.no_supply = true; /* reads 111: all legs off */
    d.stand.rotor = (hp_friction){0.0, 0.0, 0.0};
    hp_run_options o = fine_run(2.0, SECTOR_MIDDLE);
    o.start_speed = 60.0;
    hp_trace trace = full_trace(o.seconds, 1e-3);
    hp_figures f = run_wiring(engine, &d, 1, &o, &trace);
    double line = d.supply.emf_v + 2.0 * d.controller.diode_drop_v;
    check_relative(f.speed, line / (2.0 * d.motor.ke), 2e-3,
                   "the last current dies away as the speed nears its end");
    check_true(f.speed >= line / (2.0 * d.motor.ke) * (1.0 - 1e-9), "approached from above: %g",
               f.speed);
    double charge = 0.0;
    for (size_t k = 1; k < trace.count; k++)
        charge += 0.5e-3 * (trace.sample[k - 1].battery_current + trace.sample[k].battery_current);
    check_true(charge < -1.0, "%g A s drawn", charge);
    check_true(first_event(&trace, HP_EVENT_DIODE, -1).time > 0.0, "diodes were seen to end");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

static hp_drive geared_drive(void)
{
    hp_drive d = bare_drive();
    d.motor.pole_pairs = 8;
    d.motor.ke = 0.15;
    d.motor.rotor_inertia_kg_m2 = 0.002;
    d.controller.throttle = 0.4;
    d.controller.ramp_per_s = 2.0;
    d.stand.gear_ratio = 5.0;
    d.stand.clutch = true;
    d.stand.wheel_inertia_kg_m2 = 0.09;
    d.stand.rotor = (hp_friction){0.05, 0.08, 1e-4};
    d.stand.wheel = (hp_friction){0.1, 0.15, 0.004};
    return d;
}

static void clutch_drives_the_wheel_forward_only(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = geared_drive();
    hp_run_options o = run_for(1.5, SECTOR_MIDDLE);
    hp_figures forward = run_wiring(engine, &d, 1, &o, NULL);
    check_true(forward.speed > 10.0, "%g rad/s", forward.speed);
    check_relative(forward.wheel_speed, forward.speed / 5.0, 5e-3,
                   "the wheel overruns a little between the pulses of torque");
    check_true(forward.wheel_speed >= forward.speed / 5.0 * (1.0 - 1e-9), "never slower");

    hp_trace trace = event_trace();
    hp_figures reverse = run_wiring(engine, &d, 8, &o, &trace);
    check_true(reverse.speed < -10.0, "%g rad/s", reverse.speed);
    check_close(reverse.wheel_speed, 0.0, 0.0, "the wheel never moves");
    check_close(reverse.torque_mean, -0.05 - 1e-4 * fabs(reverse.speed), 1e-3,
                "rotor friction alone; whole turns, so only what is left of the run-up");
    /* The wheel stands from the first instant: it never sticks or slips. */
    for (size_t k = 0; k < trace.event_count; k++)
        check_true(trace.event[k].which != 1 || (trace.event[k].kind != HP_EVENT_STICK &&
                                                 trace.event[k].kind != HP_EVENT_SLIP),
                   "the wheel moved at %g s", trace.event[k].time);
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* The rotor is held by its own friction, the wheel overruns and coasts by itself. */
static void overrunning_wheel_coasts_in_closed_form(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = geared_drive();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        d.motor.lead_open[k] = true;
    d.stand.rotor = (hp_friction){0.5, 0.5, 0.0}; /* 250 rad/s^2, the wheel's 2 */
    const double b = 0.004, tc = 0.1, inertia = 0.09, w0 = 8.0;
    double stop = inertia / b * log(1.0 + b * w0 / tc);
    hp_run_options o = fine_run(1.1 * stop, 0.0);
    o.start_speed = 5.0 * w0;
    hp_trace trace = full_trace(o.seconds, 0.02);
    hp_figures f = run_wiring(engine, &d, 1, &o, &trace);
    double rotor_stop = 40.0 * 0.002 / 0.5;
    for (size_t k = 0; k < trace.count; k++) {
        double t = trace.sample[k].time, wheel_t = fmin(t, stop);
        check_close(trace.sample[k].wheel_speed,
                    (w0 + tc / b) * exp(-b * wheel_t / inertia) - tc / b, FINE * w0, FINE_REASON);
        check_close(trace.sample[k].speed, fmax(0.0, 40.0 - 0.5 / 0.002 * t), FINE * 40.0,
                    FINE_REASON);
    }
    check_close(first_event(&trace, HP_EVENT_STICK, 0).time, rotor_stop, 1e-9, FINE_REASON);
    check_close(first_event(&trace, HP_EVENT_STICK, 1).time, stop, 1e-7,
                "speed error 1e-8 of 8 rad/s over 1 rad/s^2");
    check_true(f.at_rest, "all at rest");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* A load that beats the wheel's breakaway pulls wheel and rotor backward together through the
 * clutch: a = -(load / g - T_c) / J, all referred to the rotor. */
static void strong_load_pulls_both_backward(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = geared_drive();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        d.motor.lead_open[k] = true;
    d.stand.rotor.viscous_nm_s_rad = d.stand.wheel.viscous_nm_s_rad = 0.0;
    d.stand.load_nm = 3.0;
    hp_run_options o = fine_run(0.5, 0.0);
    hp_trace trace = full_trace(o.seconds, 0.01);
    run_wiring(engine, &d, 1, &o, &trace);
    double friction = 0.05 + 0.1 / 5.0, inertia = 0.002 + 0.09 / 25.0;
    double acceleration = -(3.0 / 5.0 - friction) / inertia;
    for (size_t k = 0; k < trace.count; k++) {
        check_close(trace.sample[k].speed, acceleration * trace.sample[k].time, 1e-6, FINE_REASON);
        check_close(trace.sample[k].wheel_speed, trace.sample[k].speed / 5.0, 1e-9, "one body");
    }
    hp_trace_free(&trace);

    /* A load within the breakaway of both moves nothing. */
    d.stand.load_nm = 5.0 * 0.08 + 0.15 - 0.01;
    check_close(run_wiring(engine, &d, 1, &o, NULL).net_turn, 0.0, 0.0, "at rest");
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coasting_rotor_slows_and_sticks_in_closed_form),
        cmocka_unit_test(smoothed_friction_slows_without_sticking),
        cmocka_unit_test(cogging_alone_swings_like_a_pendulum),
        cmocka_unit_test(rotor_breaks_away_when_torque_meets_the_level),
        cmocka_unit_test(steady_speed_is_that_of_a_dc_machine),
        cmocka_unit_test(fast_coasting_rotor_charges_the_battery),
        cmocka_unit_test(clutch_drives_the_wheel_forward_only),
        cmocka_unit_test(overrunning_wheel_coasts_in_closed_form),
        cmocka_unit_test(strong_load_pulls_both_backward),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
