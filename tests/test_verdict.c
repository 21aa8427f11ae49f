/* Verdicts from made-up figures: each rule alone, and that nothing but figures counts. */
#include "check.h"

#include "hubphase/decide/verdict.h"
#include "hubphase/model/phase.h"

#define RUNS 4

/* A smooth forward run: 10 W of friction, little more drawn. */
static hp_figures smooth_run(void)
{
    return (hp_figures){.window_turn = 60.0 * HP_TWO_PI,
                        .speed = 8.0,
                        .speed_sd = 0.02,
                        .torque_mean = 1.2,
                        .torque_rms = 0.1,
                        .battery_power = 10.4,
                        .friction_power = 10.0,
                        .duty = 0.35,
                        .duty_asked = 0.35};
}

static hp_figures still_run(void)
{
    return (hp_figures){.window_turn = 0.6, .battery_power = 120.0, .torque_rms = 30.0};
}

static void fill(hp_figures run[RUNS], hp_figures with)
{
    for (int k = 0; k < RUNS; k++)
        run[k] = with;
}

static hp_judgement judge(const hp_figures run[RUNS], double smooth_speed)
{
    hp_thresholds limits = hp_thresholds_default();
    return hp_verdict_judge(run, RUNS, smooth_speed, &limits);
}

static void SmoothForwardIsCorrect(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run, smooth_run());
    hp_judgement j = judge(run, 0.0);
    check_int(j.verdict, HP_VERDICT_CORRECT);
    check_int(j.direction, HP_DIRECTION_FORWARD);
    check_int(j.kind, HP_KIND_NONE);
    check_int(j.starts, RUNS);
    check_close(j.excess, 1.04, 1e-12, "rounding of a quotient");
}

static void SmoothBackwardIsReverse(void **state)
{
    (void)state;
    hp_figures run[RUNS], backward = smooth_run();
    backward.window_turn = -backward.window_turn;
    backward.speed = -backward.speed;
    fill(run, backward);
    hp_judgement j = judge(run, 0.0);
    check_int(j.verdict, HP_VERDICT_REVERSE);
    check_int(j.direction, HP_DIRECTION_BACKWARD);
}

static void OneGreedyRunMakesItRough(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    hp_figures run[RUNS];
    fill(run, smooth_run());
    run[2].battery_power = 10.0 * limits.excess_max * 0.999;
    check_int(judge(run, 0.0).verdict, HP_VERDICT_CORRECT);
    run[2].battery_power = 10.0 * limits.excess_max * 1.001;
    check_int(judge(run, 0.0).verdict, HP_VERDICT_ROUGH);
}

static void OneUnsteadyRunMakesItRough(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    hp_figures run[RUNS];
    fill(run, smooth_run());
    run[0].speed_sd = run[0].speed * limits.speed_sd_max * 1.001;
    check_int(judge(run, 0.0).verdict, HP_VERDICT_ROUGH);
}

static void OneDeadStartMakesItRoughButNeitherEarlyNorLate(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run, smooth_run());
    run[3] = still_run();
    hp_judgement j = judge(run, 16.0);
    check_int(j.verdict, HP_VERDICT_ROUGH);
    check_int(j.starts, RUNS - 1);
    check_int(j.kind, HP_KIND_NONE);
    check_close(j.mean.battery_power, 10.4, 1e-12, "the dead run does not count in the means");
}

static void NoNetTurnIsStalled(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run, still_run());
    check_int(judge(run, 0.0).verdict, HP_VERDICT_STALLED);
    run[1].window_turn = -HP_TWO_PI * 0.999; /* shuffles, but makes no whole turn */
    check_int(judge(run, 0.0).verdict, HP_VERDICT_STALLED);
}

static void BothWaysIsRough(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run, smooth_run());
    run[1].window_turn = -run[1].window_turn;
    run[1].speed = -run[1].speed;
    hp_judgement j = judge(run, 8.0);
    check_int(j.verdict, HP_VERDICT_ROUGH);
    check_int(j.direction, HP_DIRECTION_BOTH);
    check_int(j.kind, HP_KIND_NONE);
}

static void SpeedTellsEarlyFromLateOnlyOutsideItsBand(void **state)
{
    (void)state;
    hp_thresholds limits = hp_thresholds_default();
    hp_figures run[RUNS], greedy = smooth_run();
    greedy.battery_power = 200.0;
    fill(run, greedy);
    double speed = greedy.speed;
    check_int(judge(run, speed / (limits.early_min * 1.001)).kind, HP_KIND_EARLY);
    check_int(judge(run, speed / (limits.late_max * 0.999)).kind, HP_KIND_LATE);
    check_int(judge(run, speed / (0.5 * (limits.early_min + limits.late_max))).kind, HP_KIND_NONE);
    check_int(judge(run, 0.0).kind, HP_KIND_NONE);
}

static void WhatCannotBeJudgedIsUndecided(void **state)
{
    (void)state;
    hp_figures run[RUNS];
    fill(run, smooth_run());
    run[2].status = HP_FAIL_CHATTER;
    snprintf(run[2].reason, sizeof run[2].reason, "events follow each other without end");
    hp_judgement j = judge(run, 0.0);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_text_contains(j.reason, "without end");

    fill(run, smooth_run());
    for (int k = 0; k < RUNS; k++)
        run[k].friction_power = 0.0;
    j = judge(run, 0.0);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_text_contains(j.reason, "friction");

    fill(run, smooth_run());
    run[0].cut_out = run[0].cut_out_voltage = true;
    j = judge(run, 0.0);
    check_int(j.verdict, HP_VERDICT_UNDECIDED);
    check_text_contains(j.reason, "low battery");

    hp_thresholds limits = hp_thresholds_default();
    check_int(hp_verdict_judge(run, 0, 0.0, &limits).verdict, HP_VERDICT_UNDECIDED);
}

static void EveryMemberHasAName(void **state)
{
    (void)state;
    const char *seen[HP_VERDICT_COUNT];
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        seen[v] = hp_verdict_name((hp_verdict)v);
        for (int w = 0; w < v; w++)
            check_true(strcmp(seen[v], seen[w]) != 0, "%s twice", seen[v]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(SmoothForwardIsCorrect),
        cmocka_unit_test(SmoothBackwardIsReverse),
        cmocka_unit_test(OneGreedyRunMakesItRough),
        cmocka_unit_test(OneUnsteadyRunMakesItRough),
        cmocka_unit_test(OneDeadStartMakesItRoughButNeitherEarlyNorLate),
        cmocka_unit_test(NoNetTurnIsStalled),
        cmocka_unit_test(BothWaysIsRough),
        cmocka_unit_test(SpeedTellsEarlyFromLateOnlyOutsideItsBand),
        cmocka_unit_test(WhatCannotBeJudgedIsUndecided),
        cmocka_unit_test(EveryMemberHasAName),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
