/* Margin: moving figures by a little less than it keeps the verdict, by a little more changes it.
 */
#include "check.h"

#include "hubphase/decide/margin.h"

#define RUNS 3

/* Thresholds of these tests' own, so that they speak of margins alone. */
static hp_thresholds test_limits(void)
{
    return (hp_thresholds){.turn_min = HP_TWO_PI,
                           .excess_max = 2.5,
                           .speed_sd_max = 0.25,
                           .early_min = 1.02,
                           .late_max = 0.9};
}

/* A run that turns smoothly. */
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
            run[k].window_turn *= exp(change);
    }
}

/* The margin of these runs, after the check that it is where the verdict changes when all runs'
 * figures move in this sense (+1 up, -1 down). */
static hp_margin checked_margin(const hp_figures run[RUNS], int sense, hp_verdict before,
                                hp_verdict after)
{
    hp_thresholds limits = test_limits();
    hp_judgement j = hp_verdict_judge(run, RUNS, 0.0, &limits);
    hp_margin margin = hp_margin_of(run, RUNS, &j, &limits);
    check_int(j.verdict, before);
    for (int beyond = 0; beyond < 2; beyond++) {
        hp_figures moved[RUNS];
        memcpy(moved, run, sizeof moved);
        move(moved, margin.threshold, sense * margin.log_ratio * (beyond ? 1.001 : 0.999));
        check_int(hp_verdict_judge(moved, RUNS, 0.0, &limits).verdict, beyond ? after : before);
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
    hp_judgement j = hp_verdict_judge(still, RUNS, 0.0, &limits);
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
    hp_judgement j = hp_verdict_judge(run, RUNS, 0.0, &limits);
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
    hp_judgement j = hp_verdict_judge(run, RUNS, 0.0, &limits);
    check_int(hp_margin_of(run, RUNS, &j, &limits).threshold, HP_THRESHOLD_NONE);
}

static void early_and_late_are_told_from_speed(void **state)
{
    (void)state;
    hp_thresholds limits = test_limits();
    hp_margin late = hp_margin_of_kind(-7.0, 10.0, &limits);
    hp_margin early = hp_margin_of_kind(13.0, 10.0, &limits);
    hp_margin neither = hp_margin_of_kind(9.5, 10.0, &limits);
    check_int(late.threshold, HP_THRESHOLD_LATE);
    check_close(late.log_ratio, log(limits.late_max / 0.7), 1e-15, "rounding of one logarithm");
    check_int(early.threshold, HP_THRESHOLD_EARLY);
    check_close(early.log_ratio, log(1.3 / limits.early_min), 1e-15, "rounding of one logarithm");
    check_true(neither.log_ratio <= log(limits.early_min / limits.late_max), "%g",
               neither.log_ratio);
    check_int(hp_margin_of_kind(9.5, 0.0, &limits).threshold, HP_THRESHOLD_NONE);
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
        cmocka_unit_test(early_and_late_are_told_from_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
