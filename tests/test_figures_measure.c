/*
 * Figures: the two derived ones, and how the engine measures: which window, what counts in it, what
 * an early cut-out leaves.
 */
#include "runs.h"

#include "reference_drives.h"

#include <stdlib.h>

static void excess_is_battery_power_over_friction_power(void **state)
{
    (void)state;
    hp_figures f = {.battery_power = 60.0, .friction_power = 20.0};
    check_close(hp_figures_excess(&f), 3.0, 1e-15, "60 / 20");
    f.friction_power = 0.0;
    check_true(isinf(hp_figures_excess(&f)), "friction took nothing");
    f.friction_power = -1.0; /* a load that drives */
    check_true(isinf(hp_figures_excess(&f)), "friction took nothing");
}

static void ripple_is_torque_rms_over_mean(void **state)
{
    (void)state;
    hp_figures f = {.torque_mean = -0.4, .torque_rms = 0.1};
    check_close(hp_figures_ripple(&f), 0.25, 1e-15, "0.1 / 0.4");
    f.torque_mean = 0.0;
    check_true(isinf(hp_figures_ripple(&f)), "no mean torque");
}

/* A rotor without friction or current turns for ever: every figure of it is known. */
static hp_drive spinning_drive(void)
{
    hp_drive d = bare_drive();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        d.motor.lead_open[k] = true;
    d.stand.rotor = (hp_friction){0.0, 0.0, 0.0};
    d.motor.pole_pairs = 10;
    return d;
}

static void window_is_whole_turns_inside_the_last_part(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = spinning_drive();
    for (int sign = -1; sign <= 1; sign += 2) {
        /* 2 turns of the rotor a second: 20 electrical ones, 50 ms each. */
        hp_run_options o = run_for(1.0, 0.0);
        o.settle_s = 0.63;
        o.start_speed = sign * 2.0 * HP_TWO_PI;
        hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
        /* Turns end at 0.65, 0.70 ... 1.00; the last may fall to either side of the end. */
        check_true(f.window_turns == 7 || f.window_turns == 6, "%d turns", f.window_turns);
        check_close(f.window_s, f.window_turns * 0.05, 1e-9, "rounding of the angle");
        check_close(f.speed, o.start_speed, 1e-9, "rounding");
        check_close(f.wheel_speed, o.start_speed, 1e-9, "direct drive");
        check_close(f.speed_sd, 0.0, 1e-6, "difference of squares of 158: eps^0.5 of 13");
        check_close(f.net_turn, sign * 20.0 * HP_TWO_PI, 1e-7, "rounding");
        check_close(f.window_turn, sign * 20.0 * 0.37 * HP_TWO_PI, 1e-7,
                    "the last part, all of it");
        check_close(f.swing, 20.0 * 0.37 * HP_TWO_PI, 1e-7, "it never turns back");
        /* Six edges a turn: 7.4 turns hold 44 or 45. */
        check_true(labs(f.sensor_edges - 44) <= 1, "%ld edges", f.sensor_edges);
        check_close(f.battery_power, 0.0, 0.0, "no current");
        check_close(f.seconds, 1.0, 0.0, "all of it");
        check_true(!f.at_rest && !f.limited && !f.cut_out, "nothing happens");
    }
    hp_engine_free(engine);
}

static void slow_rotor_is_measured_over_the_last_part(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = spinning_drive();
    hp_run_options o = run_for(1.0, 10.0 * HP_DEG);
    o.settle_s = 0.5;
    o.start_speed = 0.1 * HP_TWO_PI; /* one electrical turn a second */
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    check_int(f.window_turns, 0);
    check_close(f.window_s, 0.5, 1e-12, "the last part");
    check_close(f.window_turn, HP_PI, 1e-9, "half a turn");
    check_close(f.speed, o.start_speed, 1e-9, "rounding");
    hp_engine_free(engine);
}

/* The electrical angle passes 360 degrees back and forth; whole turns must not be counted there. */
static void swinging_across_zero_is_no_turn(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = spinning_drive();
    /* Cogging once a turn with its rest angle at 0: a pendulum of 60 degrees. */
    d.motor.cogging_nm = 0.5;
    d.motor.cogging_order = 1;
    d.motor.cogging_phase_rad = HP_PI;
    hp_run_options o = run_for(4.0, 60.0 * HP_DEG);
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    check_int(f.window_turns, 0);
    check_close(f.swing, 120.0 * HP_DEG, 1e-4,
                "60 degrees to either side; 4 s at the default tolerance drift by 1e-5");
    check_true(fabs(f.net_turn) <= 120.0 * HP_DEG + 1e-6, "%g rad", f.net_turn);
    check_true(f.speed_sd > 0.1, "it swings");
    hp_engine_free(engine);
}

/* Sensor edges count without sign: a rotor that shivers about an edge seems to run. */
static void edges_count_without_sign(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hp_run_options o = run_for(1.0, hp_rest_angle(0));
    o.settle_s = 0.5;
    hp_trace trace = event_trace();
    hp_figures f = run_wiring(engine, &d, 2, &o, &trace);
    long edges = 0;
    for (size_t k = 0; k < trace.event_count; k++)
        edges += trace.event[k].kind == HP_EVENT_SENSOR && trace.event[k].time > 0.5;
    check_int(f.sensor_edges, edges);
    check_true(edges > 10 && fabs(f.net_turn) < 86.0 * HP_DEG, "%ld edges, %g degrees net", edges,
               f.net_turn / HP_DEG);
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* A cut-out before the last part leaves figures of a stretch before it, of about a quarter of the
 * settling time, as checkpoints an eighth apart allow. */
static void early_cutout_is_measured_before_it(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = bare_drive();
    hold_rotor(&d);
    d.controller.stall_cutout_s = 0.45;
    hp_run_options o = run_for(2.0, 0.0);
    o.settle_s = 1.2;
    hp_figures f = run_wiring(engine, &d, 1, &o, NULL);
    check_true(f.cut_out, "it cuts out");
    check_close(f.seconds, 0.45, 1e-12, "a known time");
    check_true(f.window_s >= 0.3 - 1e-9 && f.window_s <= 0.45 + 1e-9, "%g s", f.window_s);
    double amps =
        d.supply.emf_v / (2.0 * (d.motor.resistance_ohm + d.controller.switch_resistance_ohm) +
                          d.supply.resistance_ohm);
    /* The rise of a millisecond may fall into the window. */
    check_relative(f.phase_rms, amps, 0.01, "rise of 1.5 ms in 0.3 s or more");

    /* Just after the last part began, the same stretch is filled up from before. */
    d.controller.stall_cutout_s = 1.21;
    f = run_wiring(engine, &d, 1, &o, NULL);
    check_true(f.cut_out, "it cuts out");
    check_true(f.window_s >= 0.3 - 1e-9, "%g s", f.window_s);

    /* Well inside the last part, the last part alone counts. */
    d.controller.stall_cutout_s = 1.5;
    f = run_wiring(engine, &d, 1, &o, NULL);
    check_close(f.window_s, 0.3, 1e-9, "1.2 to 1.5 s");

    /* A short last part that was asked for is no early cut-out. */
    d.controller.stall_cutout_s = 0.0;
    o.settle_s = 1.95;
    f = run_wiring(engine, &d, 1, &o, NULL);
    check_close(f.window_s, 0.05, 1e-9, "1.95 to 2 s");
    hp_engine_free(engine);
}

static void peaks_and_extremes_bound_every_sample(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        for (int number = 1; number <= 6; number++) {
            hp_run_options o = run_for(0.25, 0.4);
            hp_trace trace = hp_trace_init(o.settle_s, o.seconds, 1e-6);
            hp_figures f = run_wiring(engine, &d, number, &o, &trace);
            double peak = 0.0, low = INFINITY, high = -INFINITY;
            for (size_t k = 0; k < trace.count; k++) {
                const hp_sample *s = &trace.sample[k];
                for (int x = 0; x < HP_PHASE_COUNT; x++)
                    peak = fmax(peak, fabs(s->current[x]));
                low = fmin(low, s->torque);
                high = fmax(high, s->torque);
            }
            double span = high - low + 1e-3;
            /* Samples a microsecond apart miss the tip where a current is switched. */
            check_close(f.phase_peak - peak, 1.5e-4 * peak, 1.6e-4 * peak, "foreseen, looked at");
            check_close(low - f.torque_min, 1.5e-4 * span, 1.8e-4 * span, "the same");
            check_close(f.torque_max - high, 1.5e-4 * span, 1.8e-4 * span, "the same");
            check_true(f.torque_min <= f.torque_mean && f.torque_mean <= f.torque_max,
                       "mean between extremes");
            check_true(f.phase_rms <= f.phase_peak, "rms below the peak");
            hp_trace_free(&trace);
        }
    }
    hp_engine_free(engine);
}

/* The mean field of a smooth wiring stands a right angle ahead of the rotor in the direction in
 * which it turns (docs/verdicts.md); hysteresis and the current's own lag take a little of it. */
static void mean_lead_is_a_right_angle_for_smooth_wirings(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    hp_run_options o = run_for(1.5, 0.4);
    check_close(run_wiring(engine, &d, 1, &o, NULL).lead_mean / HP_DEG, 88.0, 4.0,
                "2 degrees of hysteresis and a lag of about L w / R");
    check_close(run_wiring(engine, &d, 8, &o, NULL).lead_mean / HP_DEG, -88.0, 4.0, "likewise");
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(excess_is_battery_power_over_friction_power),
        cmocka_unit_test(ripple_is_torque_rms_over_mean),
        cmocka_unit_test(window_is_whole_turns_inside_the_last_part),
        cmocka_unit_test(slow_rotor_is_measured_over_the_last_part),
        cmocka_unit_test(swinging_across_zero_is_no_turn),
        cmocka_unit_test(edges_count_without_sign),
        cmocka_unit_test(early_cutout_is_measured_before_it),
        cmocka_unit_test(peaks_and_extremes_bound_every_sample),
        cmocka_unit_test(mean_lead_is_a_right_angle_for_smooth_wirings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
