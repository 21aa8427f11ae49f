/* Verdicts from made-up figures: each rule, each threshold from both sides, each reason. */
#include "check.h"

#include "hubphase/decide/verdict.h"
#include "hubphase/model/wiring.h"

#include <stdlib.h>

#define RUNS 5

/* A smooth forward run at 10 rad/s. */
static hp_figures smooth_run(void)
{
    return (hp_figures){
        .start_angle = 0.5,
        .seconds = 2.0,
        .window_s = 0.8,
        .window_turns = 20,
        .net_turn = 300.0,
        .window_turn = 130.0,
        .wheel_turn = 130.0,
        .swing = 130.0,
        .speed = 10.0,
        .speed_sd = 0.1,
        .wheel_speed = 10.0,
        .torque_mean = 0.4,
        .torque_rms = 0.1,
        .torque_able = 0.5, /* idle: sqrt(1 - 0.8^2 - 0.2^2) = sqrt(0.32) */
        .torque_min = 0.2,
        .torque_max = 0.6,
        .battery_current = 0.12,
        .battery_power = 4.4,
        .friction_power = 4.0,
        .copper_power = 0.4,
        .phase_peak = 0.5,
        .phase_rms = 0.3,
        .bus_voltage = 36.0,
        .duty = 0.35,
        .duty_asked = 0.35,
        .lead_mean = 88.0 * HP_DEG,
        .sensor_edges = 120,
        .events = 1000,
        .steps = 5000,
        .rhs = 40000,
    };
}

static void fill(hp_figures run[RUNS])
{
    for (int k = 0; k < RUNS; k++)
        run[k] = smooth_run();
}

static void turn_round(hp_figures *f)
{
    f->net_turn = -f->net_turn;
    f->window_turn = -f->window_turn;
    f->wheel_turn = -f->wheel_turn;
    f->speed = -f->speed;
    f->torque_mean = -f->torque_mean;
    f->lead_mean = -f->lead_mean;
}

static void stop(hp_figures *f)
{
    f->window_turn = f->net_turn = f->wheel_turn = 0.2;
    f->window_turns = 0;
    f->speed = 0.0;
    f->friction_power = 0.0;
    f->at_rest = true;
}

static hp_judgement judge(const hp_figures run[RUNS])
{
    hp_thresholds limits = hp_thresholds_default();
    return hp_verdict_judge(run, RUNS, &limits);
}

static void smooth_runs_are_correct_or_reverse(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_CORRECT);
    check_int(j.direction, HP_DIRECTION_FORWARD);
    check_int(j.kind, HP_KIND_NONE);
    check_int(j.starts, RUNS);
    check_int(j.starts_tried, RUNS);
    check_close(j.excess, 1.1, 1e-12, "4.4 / 4");
    check_close(j.ripple, 0.25, 1e-12, "0.1 / 0.4");
    check_text_contains(j.reason, "starts 5 of 5");
    for (int k = 0; k < RUNS; k++)
        turn_round(&run[k]);
    j = judge(run);
    check_int(j.verdict, HP_VERDICT_REVERSE);
    check_int(j.direction, HP_DIRECTION_BACKWARD);
}

static void one_bad_start_spoils_it(void **state)
{
    (void)state;
    for (int bad = 0; bad < RUNS; bad++) {
        hp_figures run[RUNS];
        fill(run);
        stop(&run[bad]);
        hp_judgement j = judge(run);
        check_int(j.verdict, HP_VERDICT_ROUGH);
        check_int(j.starts, RUNS - 1);
        check_text_contains(j.reason, "does not start from 1 of 5 start positions");
        check_close(j.mean.speed, 10.0, 1e-12, "the mean is over the runs that turned");

        fill(run);
        turn_round(&run[bad]);
        j = judge(run);
        check_int(j.verdict, HP_VERDICT_ROUGH);
        check_int(j.direction, HP_DIRECTION_BOTH);
        check_int(j.kind, HP_KIND_NONE);
        check_text_contains(j.reason, "turns one way from some");

        fill(run);
        run[bad].speed_sd = 4.0;
        j = judge(run);
        check_int(j.verdict, HP_VERDICT_ROUGH);
        check_text_contains(j.reason, "unsteadily");

        fill(run);
        run[bad].battery_power = 40.0;
        run[bad].copper_power = 36.0;
        check_int(judge(run).verdict, HP_VERDICT_ROUGH);

        fill(run);
        run[bad].cut_out = true; /* turned, then gave up for want of edges */
        check_int(judge(run).verdict, HP_VERDICT_ROUGH);
    }
}

/* Just inside and just outside each threshold. */
static void thresholds_bite_where_they_stand(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    const double nudge[] = {1.0 - 1e-9, 1.0 + 1e-9};
    for (int side = 0; side < 2; side++) {
        hp_figures run[RUNS];
        fill(run);
        for (int k = 0; k < RUNS; k++)
            run[k].battery_power = limits.waste_max / 0.32 * nudge[side] * run[k].friction_power;
        for (int k = 0; k < RUNS; k++)
            run[k].copper_power = run[k].battery_power - run[k].friction_power;
        hp_judgement j = judge(run);
        check_int(j.verdict, side == 0 ? HP_VERDICT_CORRECT : HP_VERDICT_ROUGH);
        if (side == 1)
            check_text_contains(j.reason, "takes 3.75 times the power it needs (limit 3.75)");

        fill(run);
        for (int k = 0; k < RUNS; k++)
            run[k].speed_sd = limits.speed_sd_max * nudge[side] * run[k].speed;
        check_int(judge(run).verdict, side == 0 ? HP_VERDICT_CORRECT : HP_VERDICT_ROUGH);

        fill(run);
        for (int k = 0; k < RUNS; k++)
            run[k].window_turn = run[k].wheel_turn = limits.turn_min * nudge[side];
        check_int(judge(run).verdict, side == 0 ? HP_VERDICT_STALLED : HP_VERDICT_CORRECT);
    }
}

/* Of wirings that pass and turn the same way, those far from the best do not; others stay. */
static void the_best_outdoes_those_far_from_it(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    hp_figures run[RUNS];
    fill(run);
    hp_judgement smooth = judge(run);
    for (int place = 0; place < 3; place++) {
        for (int side = 0; side < 2; side++) {
            hp_judgement list[] = {smooth, smooth, smooth, smooth, smooth};
            double factor = limits.apparent_max * (side ? 1.0 + 1e-9 : 1.0 - 1e-9);
            list[place].mean.phase_rms *= factor / 1.6;
            list[place].mean.speed *= 1.6;
            list[3].verdict = HP_VERDICT_REVERSE;
            list[3].mean.speed *= -9.0; /* alone backward: nothing to hold it against */
            list[4].verdict = HP_VERDICT_STALLED;
            list[4].mean.speed = 0.0;
            hp_verdict_compare(list, 5, &limits);
            for (int k = 0; k < 3; k++) {
                bool rough = side == 1 && k == place;
                check_int(list[k].verdict, rough ? HP_VERDICT_ROUGH : HP_VERDICT_CORRECT);
                check_relative(list[k].outdone, k == place ? factor : 1.0, 1e-12, "rounding");
            }
            check_int(list[3].verdict, HP_VERDICT_REVERSE);
            check_int(list[4].verdict, HP_VERDICT_STALLED);
            check_close(list[4].outdone, 0.0, 0.0, "not compared");
            if (side == 1)
                check_text_contains(list[place].reason, "at 1.6 times its speed");
        }
    }
}

/* One start that fails makes an early wiring that passes by itself rough; what kind it is the best
 * of those that turn its way tells all the same. */
static void a_start_that_fails_hides_no_kind(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    hp_figures run[RUNS];
    fill(run);
    hp_judgement smooth = judge(run);
    for (int k = 0; k < RUNS; k++) {
        run[k].phase_rms *= 3.0;
        run[k].lead_mean = 160.0 * HP_DEG;
    }
    stop(&run[2]);
    hp_judgement early = judge(run);
    check_int(early.verdict, HP_VERDICT_ROUGH);
    check_int(early.kind, HP_KIND_NONE);
    hp_judgement list[] = {early, smooth, early, early};
    list[2].mean.phase_rms = smooth.mean.phase_rms; /* as good as the best: a fault, no field */
    list[3].direction = list[3].rotor_direction = HP_DIRECTION_BACKWARD;
    hp_verdict_compare(list, 4, &limits);
    check_int(list[0].kind, HP_KIND_EARLY);
    check_text_contains(list[0].reason, "does not start from 1 of 5");
    check_close(list[0].outdone, 0.0, 0.0, "rough for its starts");
    check_int(list[2].kind, HP_KIND_NONE);
    check_int(list[3].kind, HP_KIND_NONE);
}

static void runs_that_do_not_turn_are_stalled(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    for (int k = 0; k < RUNS; k++)
        stop(&run[k]);
    run[2].at_rest = false; /* it shivers */
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_STALLED);
    check_int(j.direction, HP_DIRECTION_NONE);
    check_int(j.starts, 0);
    check_true(isinf(j.excess), "friction took nothing");
    check_close(j.mean.window_turn, 0.2, 1e-12, "the mean is over all");
    check_true(!j.mean.at_rest, "not all rested");
    check_text_contains(j.reason, "no net turn from any of 5");
    /* A stall cut-out is part of stalling. */
    run[0].cut_out = true;
    check_int(judge(run).verdict, HP_VERDICT_STALLED);
}

static void failed_runs_leave_it_undecided(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    run[3].status = HP_FAIL_CHATTER;
    run[3].start_angle = 45.0 * HP_DEG;
    snprintf(run[3].reason, sizeof run[3].reason, "events follow each other without end at 0.1 s");
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_true(!j.measured, "a run broke off");
    check_text_contains(j.reason, "run from 45.0 deg");
    check_text_contains(j.reason, "events follow each other");
    check_int(hp_verdict_judge(run, 0, &(hp_thresholds){0}).verdict, HP_VERDICT_UNDECIDED);
}

/* A supply that gives way under a turning motor says nothing about the wiring; under one that does
 * not turn it adds nothing. */
static void supply_that_gives_way_leaves_it_undecided(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    run[1].cut_out = run[1].cut_out_voltage = true;
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_text_contains(j.reason, "low battery voltage");
    for (int k = 0; k < RUNS; k++) {
        stop(&run[k]);
        run[k].cut_out = run[k].cut_out_voltage = true;
    }
    check_int(judge(run).verdict, HP_VERDICT_STALLED);
}

/* Excess is drawn over what friction takes: without friction there is none to speak of. */
static void turning_without_friction_is_undecided(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    for (int k = 0; k < RUNS; k++)
        run[k].friction_power = 0.0;
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_text_contains(j.reason, "friction takes no power");
    /* A load that helps the wheel on is another matter, and a friction may well be stated. */
    run[2].friction_power = -1.0;
    j = judge(run);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_text_contains(j.reason, "the load drives the wheel");
}

/* Power that goes into speeding up is not lost; what winding and diodes lose is. */
static void power_that_speeds_up_is_not_lost(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    run[4].battery_power = 12.0; /* 4 to friction, 0.4 to copper, the rest speeds up */
    check_int(judge(run).verdict, HP_VERDICT_CORRECT);
    check_close(hp_figures_excess(&run[4]), 12.0 / 11.6, 1e-12, "12 / (12 - 0.4)");
    run[4].copper_power = 11.0; /* 12 times what moves it on; friction lives on inertia */
    run[4].friction_power = 0.5;
    check_int(judge(run).verdict, HP_VERDICT_ROUGH);
    /* A rotor that slows down gives back what it had taken: friction takes more than the motor
     * makes, which is what counts. */
    run[4] = smooth_run();
    run[4].battery_power = 3.0;
    check_close(hp_figures_excess(&run[4]), 3.0 / 2.6, 1e-12, "3 / (3 - 0.4)");
    check_int(judge(run).verdict, HP_VERDICT_CORRECT);
}

/* A motor that slows the wheel on average drives nothing, whether it takes power or gives it back:
 * its excess is no small number, and no good one. */
static void a_motor_that_brakes_is_rough(void **state)
{
    (void)state;
    for (int back = 0; back < 2; back++) {
        hp_figures run[RUNS];
        fill(run);
        for (int k = 0; k < RUNS; k++) {
            run[k].battery_power = back ? -3.0 : 3.0;
            run[k].copper_power = 5.0;
            run[k].torque_mean = -0.4;
        }
        check_true(isinf(hp_figures_excess(&run[0])), "%g", hp_figures_excess(&run[0]));
        hp_judgement j = judge(run);
        check_int(j.verdict, HP_VERDICT_ROUGH);
        check_true(isinf(j.excess) && j.excess > 0.0, "%g", j.excess);
        check_text_contains(j.reason, "brakes the wheel");
    }
}

/* A quarter of the start positions parts a wiring that turns from one that does not. */
static void few_starts_are_stalled(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    for (int count = 1; count <= 24; count++)
        for (int turning = 0; turning <= count; turning++) {
            hp_figures run[24];
            for (int k = 0; k < count; k++) {
                run[k] = smooth_run();
                if (k >= turning)
                    stop(&run[k]);
            }
            hp_judgement j = hp_verdict_judge(run, count, &limits);
            bool stalled = turning == 0 || 4 * turning < count;
            check_int(j.verdict, stalled            ? HP_VERDICT_STALLED
                                 : turning == count ? HP_VERDICT_CORRECT
                                                    : HP_VERDICT_ROUGH);
            check_int(j.starts, turning);
            check_close(j.mean.speed, stalled ? 0.0 : 10.0, 1e-12, "of those it is named for");
            if (stalled && turning > 0) {
                char words[60];
                snprintf(words, sizeof words, "no net turn from %d of %d start positions",
                         count - turning, count);
                check_text_contains(j.reason, words);
            }
        }
}

/* A longer last part must see more turns: a wheel that creeps does not turn because one waits. */
static void turns_are_counted_by_the_second(void **state)
{
    (void)state;
    for (int seconds = 2; seconds <= 10; seconds += 4) {
        hp_figures run[RUNS];
        for (int side = 0; side < 2; side++) {
            fill(run);
            for (int k = 0; k < RUNS; k++) {
                run[k].part_s = 0.4 * seconds;
                run[k].window_turn = run[k].wheel_turn =
                    (side ? 1.01 : 0.99) * HP_TWO_PI / 0.8 * run[k].part_s;
            }
            check_int(judge(run).verdict, side ? HP_VERDICT_CORRECT : HP_VERDICT_STALLED);
        }
        /* A short one must still see one turn. */
        fill(run);
        for (int k = 0; k < RUNS; k++) {
            run[k].part_s = 0.1;
            run[k].window_turn = run[k].wheel_turn = 0.99 * HP_TWO_PI;
        }
        check_int(judge(run).verdict, HP_VERDICT_STALLED);
    }
}

/* A load so heavy that even the right wiring loses three quarters in its winding: the current
 * stands where it should, so it is right all the same. A wiring whose current stands elsewhere is
 * rough at half that excess. */
static void heavy_load_is_not_a_rough_wiring(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    hp_figures run[RUNS];
    fill(run);
    for (int k = 0; k < RUNS; k++) {
        run[k].battery_power = 16.0;
        run[k].copper_power = 12.0;
        run[k].torque_mean = 0.47; /* of 0.5 */
    }
    check_int(judge(run).verdict, HP_VERDICT_CORRECT);
    check_relative(hp_figures_idle(&run[0]), sqrt(1.0 - 0.94 * 0.94 - 0.04), 1e-12, "by hand");
    for (int k = 0; k < RUNS; k++) {
        run[k].battery_power = 8.0;
        run[k].copper_power = 4.0;
        run[k].torque_mean = 0.2;
    }
    check_int(judge(run).verdict, HP_VERDICT_ROUGH);
    check_close(hp_verdict_excess_limit(0.5, &limits), 4.0 * limits.waste_max, 1e-12, "1 / 0.5^2");
    check_true(isinf(hp_verdict_excess_limit(0.0, &limits)), "all of it gives torque");
    run[0].torque_able = 0.0;
    check_close(hp_figures_idle(&run[0]), 1.0, 0.0, "no current flowed");
}

static hp_rough_kind kind_turning(double ahead_deg, double alternation, bool backward)
{
    hp_figures run[RUNS];
    fill(run);
    for (int k = 0; k < RUNS; k++) {
        run[k].battery_power = 100.0;
        run[k].copper_power = 96.0;
        run[k].torque_rms = alternation * run[k].torque_able;
        run[k].torque_mean = 0.1;
        run[k].lead_mean = ahead_deg * HP_DEG;
        if (backward)
            turn_round(&run[k]);
    }
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_ROUGH);
    check_int(j.direction, backward ? HP_DIRECTION_BACKWARD : HP_DIRECTION_FORWARD);
    return j.kind;
}

static hp_rough_kind kind_at(double ahead_deg, double alternation)
{
    hp_rough_kind kind = kind_turning(ahead_deg, alternation, false);
    check_int(kind_turning(ahead_deg, alternation, true), kind); /* the mirror image */
    return kind;
}

static void the_field_tells_early_from_late_outside_a_band(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    double early = limits.early_min / HP_DEG, late = limits.late_max / HP_DEG,
           most = limits.alternation_max;
    check_int(kind_at(early + 1e-9, 0.2), HP_KIND_EARLY);
    check_int(kind_at(early - 1e-9, 0.2), HP_KIND_NONE);
    check_int(kind_at(late + 1e-9, 0.2), HP_KIND_NONE);
    check_int(kind_at(late - 1e-9, 0.2), HP_KIND_LATE);
    check_int(kind_at(-5.0, 0.2), HP_KIND_LATE);
    check_int(kind_at(-175.0, 0.2), HP_KIND_EARLY); /* 185 ahead */
    check_int(kind_at(early + 1.0, most + 1e-9), HP_KIND_NONE);
    check_int(kind_at(early + 1.0, most - 1e-9), HP_KIND_EARLY);
}

/* A wiring that runs as it should but for dead angles has a fault, not a field that stands wrong.
 */
static void dead_angles_alone_are_neither_early_nor_late(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    stop(&run[0]);
    for (int k = 1; k < RUNS; k++)
        run[k].lead_mean = 150.0 * HP_DEG;
    check_int(judge(run).kind, HP_KIND_NONE);
}

/* Behind a one-way clutch people see the wheel. */
static void the_verdict_speaks_of_the_wheel(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    for (int k = 0; k < RUNS; k++) { /* the rotor runs back, the wheel stays */
        turn_round(&run[k]);
        run[k].wheel_turn = run[k].wheel_speed = 0.0;
    }
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_REVERSE);
    check_int(j.direction, HP_DIRECTION_BACKWARD);
    check_int(j.rotor_direction, HP_DIRECTION_BACKWARD);

    for (int k = 0; k < RUNS; k++) { /* the rotor shuffles, the wheel is pumped on */
        stop(&run[k]);
        run[k].wheel_turn = k < 3 ? 40.0 : 0.0;
        run[k].friction_power = 1.0;
        run[k].at_rest = false;
    }
    j = judge(run);
    check_int(j.verdict, HP_VERDICT_ROUGH);
    check_int(j.direction, HP_DIRECTION_FORWARD);
    check_int(j.rotor_direction, HP_DIRECTION_NONE);
    check_int(j.kind, HP_KIND_NONE);
    check_int(j.starts, 3);
    check_text_contains(j.reason, "shuffles from 3 of 5");

    fill(run); /* however little it takes: a rotor that does not turn is not smooth */
    for (int k = 0; k < RUNS; k++)
        run[k].window_turn = 1.0;
    check_int(judge(run).verdict, HP_VERDICT_ROUGH);
}

/* A load that pulls the wheel away is not a matter of the wiring. */
static void a_rotor_that_runs_away_is_undecided(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    run[3].ran_away = true;
    hp_judgement j = judge(run);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_true(j.measured, "its figures stand");
    check_text_contains(j.reason, "runs away");
}

static void means_extremes_and_sums(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run);
    double speed = 0.0, current = 0.0;
    for (int k = 0; k < RUNS; k++) {
        run[k].speed = 9.0 + k;
        run[k].battery_current = 0.1 * (k + 1);
        run[k].phase_peak = k == 2 ? 9.0 : 1.0;
        run[k].torque_min = k == 3 ? -5.0 : 0.1;
        run[k].torque_max = k == 1 ? 7.0 : 0.5;
        run[k].balance_error = k == 4 ? 1e-7 : 1e-9;
        run[k].limited = k == 0;
        run[k].lead_mean = (k < 3 ? 175.0 : -175.0) * HP_DEG;
        speed += run[k].speed / RUNS;
        current += run[k].battery_current / RUNS;
    }
    hp_judgement j = judge(run);
    check_close(j.mean.speed, speed, 1e-12, "mean");
    check_close(j.mean.battery_current, current, 1e-12, "mean");
    check_close(j.mean.duty_asked, 0.35, 1e-12, "mean");
    check_close(j.mean.phase_peak, 9.0, 0.0, "largest");
    check_close(j.mean.torque_min, -5.0, 0.0, "smallest");
    check_close(j.mean.torque_max, 7.0, 0.0, "largest");
    check_close(j.mean.balance_error, 1e-7, 0.0, "largest");
    check_int(j.mean.limited, 1);
    check_int(j.mean.steps, 5 * 5000);
    check_int(j.mean.sensor_edges, 5 * 120);
    /* Three of 175 and two of 185 degrees: about 179, not 35. */
    check_close(j.mean.lead_mean / HP_DEG, 179.0, 0.1, "a mean of directions");
}

/* Whatever the figures, even absurd ones, a verdict comes back with a reason. */
static void any_figures_get_a_verdict(void **state)
{
    (void)state;
    const double odd[] = {0.0, -1.0, 1e300, -1e300, NAN, INFINITY};
    for (size_t a = 0; a < sizeof odd / sizeof odd[0]; a++) {
        for (size_t b = 0; b < sizeof odd / sizeof odd[0]; b++) {
            hp_figures run[RUNS];
            fill(run);
            run[1].speed = odd[a];
            run[1].window_turn = odd[b];
            run[2].friction_power = odd[a];
            run[2].battery_power = odd[b];
            hp_judgement j = judge(run);
            check_true(j.verdict >= 0 && j.verdict < HP_VERDICT_COUNT, "verdict %d", j.verdict);
            check_true(j.reason[0] != '\0', "no reason");
            if (isnan(odd[a]) || isnan(odd[b]))
                check_true(j.verdict != HP_VERDICT_CORRECT, "not a number is not smooth");
        }
    }
}

static void names(void **state)
{
    (void)state;
    assert_string_equal(hp_verdict_name(HP_VERDICT_CORRECT), "correct");
    assert_string_equal(hp_verdict_name(HP_VERDICT_REVERSE), "reverse");
    assert_string_equal(hp_verdict_name(HP_VERDICT_ROUGH), "rough");
    assert_string_equal(hp_verdict_name(HP_VERDICT_STALLED), "stalled");
    assert_string_equal(hp_verdict_name(HP_VERDICT_UNDECIDED), "undecided");
    assert_string_equal(hp_direction_name(HP_DIRECTION_FORWARD), "forward");
    assert_string_equal(hp_direction_name(HP_DIRECTION_BACKWARD), "backward");
    assert_string_equal(hp_direction_name(HP_DIRECTION_BOTH), "both");
    assert_string_equal(hp_direction_name(HP_DIRECTION_NONE), "none");
    assert_string_equal(hp_rough_kind_name(HP_KIND_EARLY), "early");
    assert_string_equal(hp_rough_kind_name(HP_KIND_LATE), "late");
    assert_string_equal(hp_rough_kind_name(HP_KIND_NONE), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(smooth_runs_are_correct_or_reverse),
        cmocka_unit_test(one_bad_start_spoils_it),
        cmocka_unit_test(thresholds_bite_where_they_stand),
        cmocka_unit_test(the_best_outdoes_those_far_from_it),
        cmocka_unit_test(a_start_that_fails_hides_no_kind),
        cmocka_unit_test(runs_that_do_not_turn_are_stalled),
        cmocka_unit_test(failed_runs_leave_it_undecided),
        cmocka_unit_test(supply_that_gives_way_leaves_it_undecided),
        cmocka_unit_test(turning_without_friction_is_undecided),
        cmocka_unit_test(power_that_speeds_up_is_not_lost),
        cmocka_unit_test(a_motor_that_brakes_is_rough),
        cmocka_unit_test(few_starts_are_stalled),
        cmocka_unit_test(turns_are_counted_by_the_second),
        cmocka_unit_test(heavy_load_is_not_a_rough_wiring),
        cmocka_unit_test(dead_angles_alone_are_neither_early_nor_late),
        cmocka_unit_test(the_field_tells_early_from_late_outside_a_band),
        cmocka_unit_test(the_verdict_speaks_of_the_wheel),
        cmocka_unit_test(a_rotor_that_runs_away_is_undecided),
        cmocka_unit_test(means_extremes_and_sums),
        cmocka_unit_test(any_figures_get_a_verdict),
        cmocka_unit_test(names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
