/* Margin: moving figures by a little less than it keeps the verdict, by a little more changes it.
 */
#include "check.h"

#include "decide/judge/margin.h"
#include "hubphase/decide/verdict.h"
#include "hubphase/model/wiring.h"

#define RUNS 3

/* Thresholds of these tests' own, so that they speak of margins alone. */
static hp_thresholds test_limits(void)
{
    return (hp_thresholds){.turn_min = HP_TWO_PI,
                           .waste_max = 2.5,
                           .speed_sd_max = 0.25,
                           .apparent_max = 2.0,
                           .late_max = 60.0 * HP_DEG,
                           .early_min = 120.0 * HP_DEG,
                           .alternation_max = 0.5};
}

/* A run that turns smoothly. No torque is stated, so that waste is excess. */
static hp_figures smooth_run(void)
{
    return (hp_figures){.window_turn = 200.0,
                        .speed = 20.0,
                        .speed_sd = 0.5,
                        .battery_power = 12.0,
                        .friction_power = 10.0};
}

static hp_figures dead_run(double turn)
{
    return (hp_figures){.window_turn = turn, .battery_power = 80.0, .friction_power = 0.5};
}

/* Moves every run's figure that belongs to a threshold by exp(change). */
static void move(hp_figures run[RUNS], hp_threshold threshold, double change)
{
    for (int k = 0; k < RUNS; k++) {
        if (threshold == HP_THRESHOLD_EXCESS)
            run[k].battery_power *= exp(change);
        else if (threshold == HP_THRESHOLD_STEADY)
            run[k].speed_sd *= exp(change);
        else
            run[k].window_turn *= exp(change), run[k].wheel_turn *= exp(change);
    }
}

/* The margin of these runs, after the check that it is where the verdict changes when all runs'
 * figures move in this sense (+1 up, -1 down). */
static hp_margin checked_margin(const hp_figures run[RUNS], int sense, hp_verdict before,
                                hp_verdict after)
{
    hp_thresholds limits = test_limits();
    hp_judgement j = hp_verdict_judge(run, RUNS, &limits);
    hp_margin margin = hp_margin_of(run, RUNS, &j, &limits);
    check_int(j.verdict, before);
    for (int beyond = 0; beyond < 2; beyond++) {
        hp_figures moved[RUNS];
        memcpy(moved, run, sizeof moved);
        move(moved, margin.threshold, sense * margin.log_ratio * (beyond ? 1.001 : 0.999));
        check_int(hp_verdict_judge(moved, RUNS, &limits).verdict, beyond ? after : before);
    }
    return margin;
}

static void smooth_is_as_far_as_its_worst_run(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    run[1].battery_power = 20.0;
    hp_margin margin = checked_margin(run, 1, HP_VERDICT_CORRECT, HP_VERDICT_ROUGH);
    check_int(margin.threshold, HP_THRESHOLD_EXCESS);
    check_close(margin.log_ratio, log(2.5 / 2.0), 1e-15, "rounding of one logarithm");
    run[2].speed_sd = 4.8;
    margin = checked_margin(run, 1, HP_VERDICT_CORRECT, HP_VERDICT_ROUGH);
    check_int(margin.threshold, HP_THRESHOLD_STEADY);
    run[0].window_turn = 6.4;
    margin = checked_margin(run, -1, HP_VERDICT_CORRECT, HP_VERDICT_ROUGH);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
}

static void backward_counts_the_same(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    for (int k = 0; k < RUNS; k++) {
        run[k].window_turn = -run[k].window_turn;
        run[k].speed = -run[k].speed;
    }
    hp_margin margin = checked_margin(run, 1, HP_VERDICT_REVERSE, HP_VERDICT_ROUGH);
    check_close(margin.log_ratio, log(2.5 / 1.2), 1e-15, "rounding of one logarithm");
}

static void rough_is_as_far_as_its_worst_fault(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    run[0].battery_power = 30.0;
    run[2].battery_power = 60.0;
    hp_margin margin = checked_margin(run, -1, HP_VERDICT_ROUGH, HP_VERDICT_CORRECT);
    check_int(margin.threshold, HP_THRESHOLD_EXCESS);
    check_close(margin.log_ratio, log(6.0 / 2.5), 1e-15, "rounding of one logarithm");
    /* A run that does not move at all cannot be brought to turn: the way left is to stall. */
    run[1] = dead_run(0.0);
    margin = checked_margin(run, -1, HP_VERDICT_ROUGH, HP_VERDICT_STALLED);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(200.0 / HP_TWO_PI), 1e-15 * 4, "rounding of one logarithm");
}

static void stalled_is_as_far_as_its_farthest_turn(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {dead_run(0.0), dead_run(-3.0), dead_run(1.0)};
    hp_margin margin = checked_margin(run, 1, HP_VERDICT_STALLED, HP_VERDICT_ROUGH);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(HP_TWO_PI / 3.0), 1e-15, "rounding of one logarithm");
    hp_figures still[RUNS] = {dead_run(0.0), dead_run(0.0), dead_run(0.0)};
    hp_thresholds limits = test_limits();
    hp_judgement j = hp_verdict_judge(still, RUNS, &limits);
    margin = hp_margin_of(still, RUNS, &j, &limits);
    check_int(margin.threshold, HP_THRESHOLD_NONE);
    check_true(isinf(margin.log_ratio), "%g", margin.log_ratio);
}

static void turning_both_ways_can_only_stall(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    run[1].window_turn = -150.0;
    run[1].speed = -20.0;
    hp_thresholds limits = test_limits();
    hp_judgement j = hp_verdict_judge(run, RUNS, &limits);
    hp_margin margin = hp_margin_of(run, RUNS, &j, &limits);
    check_int(j.verdict, HP_VERDICT_ROUGH);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(200.0 / HP_TWO_PI), 1e-15 * 4, "rounding of one logarithm");
}

/* A run that the controller cut off is not smooth whatever its figures: they lead nowhere. */
static void a_cut_out_is_no_matter_of_a_figure(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    hp_thresholds limits = test_limits();
    hp_judgement j = {.verdict = HP_VERDICT_ROUGH, .direction = HP_DIRECTION_FORWARD};
    run[1].cut_out = true;
    hp_margin margin = hp_margin_of(run, RUNS, &j, &limits);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(200.0 / HP_TWO_PI), 1e-15 * 4, "rounding of one logarithm");
}

static void undecided_has_no_margin(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    run[1].status = HP_FAIL_STEP;
    hp_thresholds limits = test_limits();
    hp_judgement j = hp_verdict_judge(run, RUNS, &limits);
    check_int(hp_margin_of(run, RUNS, &j, &limits).threshold, HP_THRESHOLD_NONE);
}

static hp_figures field_at(double ahead_deg)
{
    return (hp_figures){.torque_able = 1.0, .torque_rms = 0.2, .lead_mean = ahead_deg * HP_DEG};
}

static void early_and_late_are_told_from_the_field(void **state)
{
    (void)state;
    hp_thresholds limits = test_limits();
    hp_figures late = field_at(-40.0), early = field_at(150.0), neither = field_at(70.0);
    hp_margin margin = hp_margin_of_kind(&late, &limits);
    check_int(margin.threshold, HP_THRESHOLD_LATE);
    check_close(margin.log_ratio, log(60.0 / 40.0), 1e-14, "rounding of one logarithm");
    margin = hp_margin_of_kind(&early, &limits);
    check_int(margin.threshold, HP_THRESHOLD_EARLY);
    check_close(margin.log_ratio, log(150.0 / 120.0), 1e-14, "rounding of one logarithm");
    margin = hp_margin_of_kind(&neither, &limits);
    check_int(margin.threshold, HP_THRESHOLD_LATE);
    check_close(margin.log_ratio, log(70.0 / 60.0), 1e-14, "rounding of one logarithm");
    early.torque_rms = 0.6;
    check_int(hp_margin_of_kind(&early, &limits).threshold, HP_THRESHOLD_NONE);
    late.torque_able = 0.0;
    check_int(hp_margin_of_kind(&late, &limits).threshold, HP_THRESHOLD_NONE);
}

/* A wheel that is pumped on stalls when wheel and rotor come to a stand. */
static void a_pumped_wheel_is_as_far_from_stalling_as_it_turns(void **state)
{
    (void)state;
    hp_figures run[RUNS] = {dead_run(0.0), dead_run(0.0), dead_run(0.0)};
    for (int k = 0; k < RUNS; k++)
        run[k].wheel_turn = 20.0 - k;
    hp_margin margin = checked_margin(run, -1, HP_VERDICT_ROUGH, HP_VERDICT_STALLED);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(20.0 / HP_TWO_PI), 1e-14, "rounding of one logarithm");
}

#define MANY 8

/* The line through the share of starts: where one start tips the scales, the verdict stands on it.
 */
static void mixed_starts_are_as_far_as_their_share(void **state)
{
    (void)state;
    hp_thresholds limits = test_limits();
    limits.starts_min = 0.25;
    static const double factor[MANY + 1] = {INFINITY, 1.0, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 0.0};
    for (int turning = 0; turning < MANY; turning++) {
        hp_figures run[MANY];
        for (int k = 0; k < MANY; k++)
            run[k] = k < turning ? smooth_run() : dead_run(0.0);
        hp_judgement j = hp_verdict_judge(run, MANY, &limits);
        check_int(j.verdict, turning < 2 ? HP_VERDICT_STALLED : HP_VERDICT_ROUGH);
        hp_margin margin = hp_margin_of(run, MANY, &j, &limits);
        check_int(margin.threshold, turning == 0 ? HP_THRESHOLD_NONE : HP_THRESHOLD_STARTS);
        if (turning > 0)
            check_close(margin.log_ratio, log(factor[turning]), 1e-14, "rounding of one logarithm");
    }
}

/* Of eight runs two are enough, so the second farthest tips the scales, either way. */
static void the_run_that_tips_the_scales_counts(void **state)
{
    (void)state;
    hp_thresholds limits = test_limits();
    limits.starts_min = 0.25;
    hp_figures run[MANY];
    for (int k = 0; k < MANY; k++)
        run[k] = dead_run(k == 5 ? 6.0 : k == 2 ? -5.0 : 0.5 * k);
    hp_judgement j = hp_verdict_judge(run, MANY, &limits);
    check_int(j.verdict, HP_VERDICT_STALLED);
    hp_margin margin = hp_margin_of(run, MANY, &j, &limits);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(HP_TWO_PI / 5.0), 1e-14, "rounding of one logarithm");
    for (int k = 0; k < MANY; k++)
        run[k].window_turn = 10.0 * (k + 1) * (k % 2 ? 1.0 : -1.0);
    j = hp_verdict_judge(run, MANY, &limits);
    check_int(j.verdict, HP_VERDICT_ROUGH);
    margin = hp_margin_of(run, MANY, &j, &limits);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, log(70.0 / HP_TWO_PI), 1e-14, "rounding of one logarithm");
}

/* A rotor that made turns before it locked may as well not have locked. */
static void one_that_locked_is_on_the_line(void **state)
{
    (void)state;
    hp_thresholds limits = test_limits();
    hp_figures run[RUNS] = {dead_run(0.0), dead_run(0.1), dead_run(0.0)};
    run[2].net_turn = -20.0;
    hp_judgement j = hp_verdict_judge(run, RUNS, &limits);
    check_int(j.verdict, HP_VERDICT_STALLED);
    hp_margin margin = hp_margin_of(run, RUNS, &j, &limits);
    check_int(margin.threshold, HP_THRESHOLD_TURN);
    check_close(margin.log_ratio, 0.0, 0.0, "on the line");
    run[2].net_turn = 3.0;
    margin = hp_margin_of(run, RUNS, &j, &limits);
    check_close(margin.log_ratio, log(HP_TWO_PI / 3.0), 1e-14, "rounding of one logarithm");
}

static void rough_by_comparison_is_as_far_as_the_best(void **state)
{
    (void)state;
    hp_thresholds limits = test_limits();
    hp_figures run[RUNS] = {smooth_run(), smooth_run(), smooth_run()};
    hp_judgement j = hp_verdict_judge(run, RUNS, &limits);
    check_int(j.verdict, HP_VERDICT_CORRECT);
    j.verdict = HP_VERDICT_ROUGH;
    j.outdone = 3.0;
    hp_margin margin = hp_margin_of(run, RUNS, &j, &limits);
    check_int(margin.threshold, HP_THRESHOLD_OUTDONE);
    check_close(margin.log_ratio, log(1.5), 1e-14, "rounding of one logarithm");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(smooth_is_as_far_as_its_worst_run),
        cmocka_unit_test(backward_counts_the_same),
        cmocka_unit_test(rough_is_as_far_as_its_worst_fault),
        cmocka_unit_test(stalled_is_as_far_as_its_farthest_turn),
        cmocka_unit_test(turning_both_ways_can_only_stall),
        cmocka_unit_test(a_cut_out_is_no_matter_of_a_figure),
        cmocka_unit_test(undecided_has_no_margin),
        cmocka_unit_test(a_pumped_wheel_is_as_far_from_stalling_as_it_turns),
        cmocka_unit_test(mixed_starts_are_as_far_as_their_share),
        cmocka_unit_test(the_run_that_tips_the_scales_counts),
        cmocka_unit_test(one_that_locked_is_on_the_line),
        cmocka_unit_test(rough_by_comparison_is_as_far_as_the_best),
        cmocka_unit_test(early_and_late_are_told_from_the_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
