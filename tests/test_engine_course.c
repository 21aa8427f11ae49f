/*
 * The engine on a course of the controls: demands that change at known times. Every oracle is
 * derived in its comment.
 */
#include "runs.h"

#include "hubphase/model/course.h"
#include "sim/machine.h"
#include "sim/row.h"

#define WIRING 1 /* smooth for an ideal motor, from theory */

/* A demand of a list that the test makes up itself. */
static hp_control_demand demand(double time, double duty)
{
    return (hp_control_demand){.time = time, .duty = duty, .action = -1};
}

static void follow(hp_run_options *o, const hp_control_demand *list, int count)
{
    o->demand = list;
    o->demands = count;
}

/* The same demand from the beginning as the throttle's: the same run, byte for byte. */
static void a_course_that_asks_for_the_throttle_all_along_changes_nothing(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    for (int pwm = 0; pwm < HP_PWM_KIND_COUNT; pwm++) {
        hp_drive d = hp_drive_default();
        d.controller.pwm = (hp_pwm_kind)pwm;
        hp_run_options o = run_for(pwm == HP_PWM_AVERAGED ? 1.0 : 0.2, hp_rest_angle(0));
        hp_figures plain, followed;
        run_into(engine, &d, WIRING, &o, NULL, &plain);
        const hp_control_demand list[] = {demand(0.0, hp_drive_duty(&d))};
        follow(&o, list, 1);
        run_into(engine, &d, WIRING, &o, NULL, &followed);
        assert_memory_equal(&plain, &followed, sizeof plain);
    }
    hp_engine_free(engine);
}

/* The drive's own throttle has no say where a course is followed. */
static void the_course_stands_in_place_of_the_throttle(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hp_run_options o = run_for(1.0, hp_rest_angle(0));
    const hp_control_demand list[] = {demand(0.0, 0.0), demand(0.1, 0.5)};
    follow(&o, list, 2);
    hp_figures f[2];
    for (int k = 0; k < 2; k++) {
        d.controller.throttle = k ? 0.9 : 0.1;
        run_into(engine, &d, WIRING, &o, NULL, &f[k]);
    }
    assert_memory_equal(&f[0], &f[1], sizeof f[0]);
    hp_engine_free(engine);
}

/* Held rotor, no back-EMF, full duty of a pair: i = V / (2 R + 2 R_s + R_b). All legs off: two
 * diodes carry it back into the battery, 2 L di/dt = -(V + 2 V_d) - (2 R + R_b) i, which is nought
 * after 2 L / (2 R + R_b) ln(1 + i (2 R + R_b) / (V + 2 V_d)). */
static void a_current_that_is_cut_off_dies_through_the_diodes_in_closed_form(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    hp_run_options o = run_for(0.1, 0.0);
    o.tolerance = 1e-10;
    const double at = 0.05;
    const hp_control_demand list[] = {demand(0.0, 1.0), demand(at, 0.0)};
    follow(&o, list, 2);
    hp_trace trace = full_trace(o.seconds, 1e-3);
    run_wiring(engine, &d, WIRING, &o, &trace);
    double r = 2.0 * hp_motor_resistance(&d.motor), l = 2.0 * d.motor.inductance_h;
    double rb = d.supply.resistance_ohm, v = d.supply.emf_v;
    double current = v / (r + 2.0 * d.controller.switch_resistance_ohm + rb);
    double time =
        l / (r + rb) * log(1.0 + current * (r + rb) / (v + 2.0 * d.controller.diode_drop_v));
    check_int((long long)trace.response_count, 2);
    check_close(trace.response[1].time, at, 0.0, "a known time");
    /* Up to the least current that counts, 1e-4 A at (V + 2 V_d) / 2 L. */
    check_close(trace.response[1].no_current_s - at, time, 1e-4 * l / v + 1e-9,
                "the least current");
    check_true(isinf(trace.response[0].no_current_s), "current flowed");
    check_close(trace.sample[trace.count - 1].torque, 0.0, 0.0, "no current at all");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* Cut off at speed, only friction is left: J dw/dt = -T_c - b w; w(t) and the moment of standstill
 * as in test_engine_motion_forms.c. Averaged and with real edges: w from when no current flows. */
static void a_wheel_cut_off_coasts_to_rest_in_closed_form(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    for (int pwm = 0; pwm < HP_PWM_KIND_COUNT; pwm++) {
        hp_drive d = bare_drive();
        d.controller.pwm = (hp_pwm_kind)pwm;
        d.controller.pwm_hz = 4000.0;
        d.stand.rotor = (hp_friction){0.35, 0.5, 0.02};
        const double at = 0.25, b = 0.02, tc = 0.35, j = d.stand.wheel_inertia_kg_m2;
        hp_run_options o = run_for(4.0, hp_rest_angle(1));
        const hp_control_demand list[] = {demand(0.0, 0.4), demand(at, 0.0)};
        follow(&o, list, 2);
        hp_trace trace = full_trace(o.seconds, 1e-3);
        hp_figures f = run_wiring(engine, &d, WIRING, &o, &trace);
        const hp_response *r = &trace.response[1];
        double t0 = -1.0, w0 = 0.0;
        for (size_t k = 0; k < trace.count; k++) {
            const hp_sample *s = &trace.sample[k];
            if (s->time < r->no_current_s)
                continue;
            if (t0 < 0.0) {
                t0 = s->time;
                w0 = s->speed;
                check_true(w0 > 5.0, "at speed: %g rad/s", w0);
            }
            double w = (w0 + tc / b) * exp(-b * (s->time - t0) / j) - tc / b;
            check_close(s->speed, fmax(w, 0.0), 1e-5 * w0, "a hundred steps of 1e-7");
        }
        double rest = t0 + j / b * log(1.0 + b * w0 / tc);
        check_close(r->standstill_s, rest, 1e-4, "1e-5 of the speed over 3 rad/s^2");
        check_true(r->no_current_s - at < 2e-3, "%g s", r->no_current_s - at);
        check_close(r->end, 4.0, 0.0, "the end of the run");
        check_close(r->end_wheel_speed, 0.0, 0.0, "at rest");
        check_true(f.balance_error < 1e-5, "power balance: %g", f.balance_error);
        hp_trace_free(&trace);
    }
    hp_engine_free(engine);
}

/* The ramp, up and down, is a straight line; the duty asked for is held exactly. */
static void the_duty_falls_by_the_ramp_to_what_is_asked_for(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.controller.battery_limit_a = d.controller.phase_limit_a = 0.0;
    d.controller.ramp_per_s = 2.0;
    hp_run_options o = run_for(1.2, hp_rest_angle(0));
    const hp_control_demand list[] = {demand(0.0, 0.6), demand(0.7, 0.4)};
    follow(&o, list, 2);
    hp_trace trace = full_trace(o.seconds, 1e-3);
    run_wiring(engine, &d, WIRING, &o, &trace);
    for (size_t k = 0; k < trace.count; k++) {
        double t = trace.sample[k].time;
        double duty = t < 0.7 ? fmin(2.0 * t, 0.6) : fmax(0.6 - 2.0 * (t - 0.7), 0.4);
        check_close(trace.sample[k].duty, duty, 1e-9, "a straight line");
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* A limiter pulls harder than the ramp falls: the slower of both never counts. Stalled, the phase
 * filter settles on i, and the duty falls by gain * (1 - i / limit) where that is the steeper. */
static void a_limiter_may_pull_the_duty_down_faster_than_the_ramp(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hold_rotor(&d);
    d.controller.stall_cutout_s = 0.0;
    d.controller.battery_limit_a = 0.0;
    d.controller.phase_limit_a = 10.0;
    d.controller.ramp_per_s = 0.05;
    d.controller.limiter_per_s = 1.0;
    hp_run_options o = run_for(1.0, 0.0);
    o.start_duty = 0.6;
    const hp_control_demand list[] = {demand(0.0, 0.6), demand(0.05, 0.02)};
    follow(&o, list, 2);
    hp_trace trace = full_trace(o.seconds, 1e-3);
    run_wiring(engine, &d, WIRING, &o, &trace);
    bool steeper = false;
    double last = trace.sample[0].duty;
    for (size_t k = 1; k < trace.count; k++) {
        double fall = (last - trace.sample[k].duty) / 1e-3;
        last = trace.sample[k].duty;
        steeper = steeper || (trace.sample[k].time > 0.06 && fall > 0.5);
        if (trace.sample[k].time > 0.06 && last > 0.021)
            check_true(fall > 0.05 - 1e-6, "falls at %g s by %g a second", trace.sample[k].time,
                       fall);
    }
    check_true(steeper, "the limiter pulled");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* Cut and asked for again at speed: the duty begins where the motor neither pulls nor brakes, and
 * no torque against the wheel ever comes. */
static void a_motor_taken_up_at_speed_does_not_brake(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hp_run_options o = run_for(1.6, hp_rest_angle(0));
    const hp_control_demand list[] = {demand(0.0, 0.5), demand(1.0, 0.0), demand(1.1, 0.5)};
    follow(&o, list, 3);
    hp_trace trace = full_trace(o.seconds, 1e-3);
    run_wiring(engine, &d, WIRING, &o, &trace);
    const hp_response *r = &trace.response[2];
    hp_drive full = d;
    full.controller.throttle = full.controller.speed_cap = 1.0;
    double expected = r->wheel_speed / hp_drive_ideal_speed(&full);
    check_true(expected > 0.3 && expected < 0.5, "%g", expected);
    for (size_t k = 0; k < trace.count; k++) {
        const hp_sample *s = &trace.sample[k];
        if (s->time < 1.1 + 1e-9)
            continue;
        if (s->time < 1.1015)
            check_close(s->duty, expected + (s->time - 1.1), 1e-6, "from there by the ramp");
        check_true(s->torque > -0.3, "brakes with %g N m at %g s", s->torque, s->time);
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* Nobody asked: no stall is counted. Asked for at 0.5 s, the controller waits from there. */
static void the_stall_is_counted_from_when_the_throttle_asks(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hold_rotor(&d);
    d.controller.stall_cutout_s = 0.3;
    hp_run_options o = run_for(2.0, 0.0);
    const hp_control_demand list[] = {demand(0.0, 0.0), demand(0.5, 0.3), demand(1.5, 0.0),
                                      demand(1.6, 0.3)};
    follow(&o, list, 4);
    hp_trace trace = event_trace();
    hp_figures f = run_wiring(engine, &d, WIRING, &o, &trace);
    check_close(first_event(&trace, HP_EVENT_CUTOUT, 0).time, 0.8, 1e-12, "a known time");
    check_true(f.cut_out, "cut out");
    check_int((long long)trace.response_count, 4);
    /* It stays off, whatever is asked for. */
    for (size_t k = 0; k < trace.event_count; k++)
        check_true(trace.event[k].kind != HP_EVENT_DEMAND || trace.event[k].time < 0.8,
                   "followed at %g s", trace.event[k].time);
    check_true(trace.response[3].no_current_s <= 1.6, "off");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* Every demand that changes something is an event at its own time, also those that fall
 * on a PWM edge, on one another, or on the end; those that change nothing are none. */
static void no_demand_is_stepped_over(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    for (int pwm = 0; pwm < HP_PWM_KIND_COUNT; pwm++) {
        hp_drive d = hp_drive_default();
        d.controller.pwm = (hp_pwm_kind)pwm;
        hp_run_options o = run_for(0.1, hp_rest_angle(0));
        /* 160 and 800 periods of 16 kHz. */
        const hp_control_demand list[] = {
            demand(0.0, 0.0),  demand(0.01, 0.3), demand(0.01, 0.6), demand(0.0123456, 0.0),
            demand(0.02, 0.0), demand(0.03, 0.5), demand(0.05, 0.2), demand(0.05001, 0.2),
            demand(0.06, 0.0), demand(0.06, 0.4), demand(0.1, 0.0)};
        const double when[] = {0.01, 0.01, 0.0123456, 0.03, 0.05, 0.06, 0.06};
        follow(&o, list, (int)(sizeof list / sizeof list[0]));
        hp_trace trace = event_trace();
        run_wiring(engine, &d, WIRING, &o, &trace);
        size_t n = 0;
        for (size_t k = 0; k < trace.event_count; k++) {
            if (trace.event[k].kind != HP_EVENT_DEMAND)
                continue;
            if (n < 7)
                check_close(trace.event[k].time, when[n], 1e-15, "rounding of a PWM edge");
            n++;
        }
        check_true(n == 7 || n == 8, "%zu changes, the last falls on the end", n);
        check_true(trace.response_count >= 10, "%zu", trace.response_count);
        for (size_t k = 0; k < 10; k++)
            check_close(trace.response[k].time, list[k].time, 1e-15, "rounding of a PWM edge");
        hp_trace_free(&trace);
    }
    hp_engine_free(engine);
}

/* The mean torque of every stretch, times its length, is what changed the motion: without cogging
 * and with Coulomb friction alone, forward, T_mean dt = J dw + T_c dt. */
static void the_mean_torque_of_a_stretch_is_its_change_of_momentum(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    d.stand.rotor = (hp_friction){0.35, 0.35, 0.0};
    hp_run_options o = run_for(1.0, hp_rest_angle(0));
    const hp_control_demand list[] = {demand(0.0, 0.4), demand(0.3, 0.6), demand(0.5, 0.0),
                                      demand(0.6, 0.6)};
    follow(&o, list, 4);
    hp_trace trace = event_trace();
    run_wiring(engine, &d, WIRING, &o, &trace);
    check_int((long long)trace.response_count, 4);
    for (size_t k = 1; k < 4; k++) {
        const hp_response *r = &trace.response[k];
        double span = r->end - r->time, change = r->end_wheel_speed - r->wheel_speed;
        check_close(r->torque_mean * span, d.stand.wheel_inertia_kg_m2 * change + 0.35 * span, 1e-6,
                    "1e-7 a step");
    }
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* The same course gives the same bytes after other runs on the same engine, in a row of runs, and
 * with a trace or without. */
static void a_course_gives_the_same_bytes_whatever_ran_before(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    hp_run_options o = run_for(0.6, hp_rest_angle(2)), other = run_for(0.3, 1.0);
    const hp_control_demand list[] = {demand(0.0, 0.0), demand(0.1, 0.5), demand(0.4, 0.0),
                                      demand(0.5, 0.3)};
    follow(&o, list, 4);
    for (int pwm = 0; pwm < HP_PWM_KIND_COUNT; pwm++) {
        d.controller.pwm = (hp_pwm_kind)pwm;
        hp_engine *fresh = make_engine(), *used = make_engine();
        hp_figures a, b, c;
        hp_trace first = full_trace(o.seconds, 1e-3), second = full_trace(o.seconds, 1e-3);
        run_into(fresh, &d, WIRING, &o, &first, &a);
        run_wiring(used, &d, 17, &other, NULL);
        run_into(used, &d, WIRING, &o, &second, &b);
        run_into(used, &d, WIRING, &o, NULL, &c);
        assert_memory_equal(&a, &b, sizeof a);
        c.rhs = a.rhs; /* samples take some */
        assert_memory_equal(&a, &c, sizeof a);
        check_int((long long)first.count, (long long)second.count);
        assert_memory_equal(first.sample, second.sample, first.count * sizeof *first.sample);
        assert_memory_equal(first.response, second.response,
                            first.response_count * sizeof *first.response);
        hp_trace_free(&first);
        hp_trace_free(&second);
        hp_engine_free(fresh);
        hp_engine_free(used);
    }
}

/* Averaged duty against every edge: the same coast, the same standstill within the ripple's doing.
 */
static void averaged_and_switched_come_to_rest_alike(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    double rest[2], wheel[2];
    for (int k = 0; k < 2; k++) {
        hp_drive d = hp_drive_default();
        d.controller.pwm = k ? HP_PWM_COMPLEMENTARY : HP_PWM_AVERAGED;
        hp_run_options o = run_for(3.5, hp_rest_angle(0));
        const hp_control_demand list[] = {demand(0.0, 0.35), demand(0.8, 0.0)};
        follow(&o, list, 2);
        hp_trace trace = event_trace();
        run_wiring(engine, &d, WIRING, &o, &trace);
        rest[k] = trace.response[1].standstill_s - 0.8;
        wheel[k] = trace.response[1].wheel_speed;
        hp_trace_free(&trace);
    }
    check_true(isfinite(rest[0]) && isfinite(rest[1]), "%g and %g s", rest[0], rest[1]);
    check_relative(wheel[1], wheel[0], 0.015, "docs/validation.md: speed within 1.5 %");
    check_relative(rest[1], rest[0], 0.03, "twice that, and the rest angle among the detents");
    hp_engine_free(engine);
}

/* While every leg is off nothing switches, and at a resume the edges are on their old grid. */
static void a_bridge_that_is_off_has_no_edges(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.controller.pwm = HP_PWM_COMPLEMENTARY;
    d.controller.ramp_per_s = 0.0;
    hp_run_options o = run_for(0.2, hp_rest_angle(0));
    const double period = 1.0 / d.controller.pwm_hz;
    const hp_control_demand list[] = {demand(0.0, 0.0), demand(0.05001, 0.3), demand(0.1, 0.0),
                                      demand(0.15002, 0.3)};
    follow(&o, list, 4);
    hp_trace trace = event_trace();
    run_wiring(engine, &d, WIRING, &o, &trace);
    int edges = 0;
    for (size_t k = 0; k < trace.event_count; k++) {
        const hp_event *e = &trace.event[k];
        if (e->kind != HP_EVENT_PWM)
            continue;
        edges++;
        bool on = (e->time > 0.05001 && e->time <= 0.1) || e->time > 0.15002;
        check_true(on, "an edge at %g s", e->time);
        if (e->which == 1) {
            double periods = e->time / period;
            check_close(periods, round(periods), 1e-6, "the grid begins at 0");
        }
    }
    /* Two a period of the two stretches. */
    check_close(edges, 2.0 * (0.04999 + 0.04998) / period, 6.0, "the ends");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* What ends a run early knows nothing of demands to come. */
static void a_course_is_followed_to_its_end(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hp_run_options o = run_for(2.0, hp_rest_angle(0));
    const hp_control_demand list[] = {demand(0.0, 0.3), demand(1.9, 0.6)};
    follow(&o, list, 2);
    hp_figures plain = run_wiring(engine, &d, WIRING, &o, NULL), calm;
    o.calm_share = 0.05;
    run_into(engine, &d, WIRING, &o, NULL, &calm);
    check_close(calm.seconds, 2.0, 0.0, "its end");
    check_close(calm.duty_asked, 0.6, 0.0, "the last demand");
    check_close(calm.speed, plain.speed, 0.0, "the same run");
    /* Nor does a row of runs, which ends those that go the way of an earlier one. */
    hp_error err = hp_error_none();
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    hp_engine_begin_row(engine);
    for (int k = 0; k < 3; k++) {
        hp_figures row, alone;
        o.start_angle = hp_rest_angle(k);
        check_int(hp_engine_run_in_row(engine, &d, &wiring, &o, &row, &err), HP_OK);
        hp_engine *other = make_engine();
        run_into(other, &d, WIRING, &o, NULL, &alone);
        check_close(row.seconds, 2.0, 0.0, "its end");
        check_close(row.speed, alone.speed, 0.0, "the same run");
        check_int(row.steps, alone.steps);
        hp_engine_free(other);
    }
    hp_engine_free(engine);
}

/* The guard of a falling duty is the way left, and its rate the duty's. */
static void the_guard_of_a_falling_duty_has_its_rate(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    hp_run_options o = run_for(1.0, 0.0);
    hp_machine m;
    hp_instant now;
    double y[HP_STATE_COUNT], slope[HP_STATE_COUNT], guard[HP_GUARD_COUNT], rate[HP_GUARD_COUNT];
    double torque_rate;
    d.controller.throttle = o.start_duty = 0.6;
    hp_machine_start(&m, &d, &wiring, &o, y);
    assert_true(hp_machine_follow(&m, 0.0, 0.25, y));
    hp_machine_instant(&m, y, &now);
    hp_machine_slope(&m, y, &now, slope);
    hp_machine_guards(&m, y, &now, guard);
    hp_machine_guard_rates(&m, y, &now, slope, rate, &torque_rate);
    check_close(guard[HP_GUARD_DUTY], 0.35, 1e-9, "the slack");
    check_close(slope[HP_Y_DUTY], -1.0, 0.0, "the ramp");
    check_close(rate[HP_GUARD_DUTY], -1.0, 0.0, "the ramp");
}

static void a_list_of_demands_is_checked(void **state)
{
    (void)state;
    const hp_control_demand good[] = {demand(0.0, 0.0), demand(0.5, 1.0)};
    const hp_control_demand late[] = {demand(0.1, 0.0)}, back[] = {demand(0.0, 0.0), demand(-1, 0)};
    const hp_control_demand more[] = {demand(0.0, 1.1)}, nan[] = {demand(0.0, NAN)};
    const hp_control_demand never[] = {demand(0.0, 0.0), demand(INFINITY, 0.0)};
    const struct {
        const hp_control_demand *list;
        int count;
        const char *text; /* NULL: accepted */
    } row[] = {{good, 2, NULL},
               {NULL, 0, NULL},
               {NULL, 1, "run.demands is 1"},
               {good, -1, "run.demands is -1"},
               {good, HP_DEMANDS_MAX + 1, "run.demands is"},
               {late, 1, "run.demand 1 is at 0.1 s"},
               {back, 2, "run.demand 2 is at -1 s"},
               {never, 2, "run.demand 2 is at inf s"},
               {more, 1, "run.demand 1 is a duty of 1.1"},
               {nan, 1, "run.demand 1 is a duty of nan"}};
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_run_options o = run_for(1.0, 0.0);
        hp_error err = hp_error_none();
        follow(&o, row[k].list, row[k].count);
        check_int(hp_run_options_check(&o, &err), row[k].text ? HP_FAIL_INPUT : HP_OK);
        if (row[k].text)
            check_text_contains(err.text, row[k].text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_course_that_asks_for_the_throttle_all_along_changes_nothing),
        cmocka_unit_test(the_course_stands_in_place_of_the_throttle),
        cmocka_unit_test(a_current_that_is_cut_off_dies_through_the_diodes_in_closed_form),
        cmocka_unit_test(a_wheel_cut_off_coasts_to_rest_in_closed_form),
        cmocka_unit_test(the_duty_falls_by_the_ramp_to_what_is_asked_for),
        cmocka_unit_test(a_limiter_may_pull_the_duty_down_faster_than_the_ramp),
        cmocka_unit_test(a_motor_taken_up_at_speed_does_not_brake),
        cmocka_unit_test(the_stall_is_counted_from_when_the_throttle_asks),
        cmocka_unit_test(no_demand_is_stepped_over),
        cmocka_unit_test(the_mean_torque_of_a_stretch_is_its_change_of_momentum),
        cmocka_unit_test(a_course_gives_the_same_bytes_whatever_ran_before),
        cmocka_unit_test(averaged_and_switched_come_to_rest_alike),
        cmocka_unit_test(a_bridge_that_is_off_has_no_edges),
        cmocka_unit_test(a_course_is_followed_to_its_end),
        cmocka_unit_test(the_guard_of_a_falling_duty_has_its_rate),
        cmocka_unit_test(a_list_of_demands_is_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
