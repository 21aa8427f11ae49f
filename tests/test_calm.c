/*
 * A run that ends early because it is calm says the same as one to the full length: over motors
 * drawn at random around three drives, all distinct wirings and several rest angles.
 *
 *   test_calm [DRAWS]     motors a drive; default 3
 *
 * Tolerance: a run is calm when the means of three blocks in a row lie within a share s of each
 * other. What still creeps then creeps with the drive's slowest time constant, that of the rotor,
 * of at most ten blocks for these drives: a mean that moves by s a block ends at most 1 / (1 -
 * exp(-1/10)), some ten times s, away. Two blocks must agree and a tenth of a second goes by before
 * the figures end, so that much less is left: over 2160 runs the largest difference was 1.3 s. Held
 * to 2.5 s.
 */
#include "check.h"

#include "reference_drives.h"
#include "verdict_spread_draw.h"

#include "decide/judge/ensemble.h"
#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/decide/verdict.h"
#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"

#include <stdlib.h>

#define FINE_SHARE 1e-3
#define CREEP      2.5
#define SEED       20
#define DISTINCT   12 /* wirings 1 to 12 hold one of each kind that relabelling makes equal */
#define STARTS     3

enum { SPEED, CURRENT, POWER, TORQUE, PHASE, QUANTITY_COUNT };

static const char *const quantity_name[QUANTITY_COUNT] = {
    "speed", "battery current", "battery power", "torque, rms about the mean",
    "phase current, rms"};

/* What was seen over all pairs of runs. */
typedef struct tally {
    double share;
    int pairs, early, wirings, verdicts_differ, directions_differ, kinds_differ;
    double full_s, calm_s;
    int beyond; /* quantities beyond the tolerance */
    double worst[QUANTITY_COUNT], sum[QUANTITY_COUNT];
} tally;

static int draws = 3;

static double off(double value, double expected, double size)
{
    return fabs(value - expected) / (fabs(expected) + size);
}

/* Differences over each quantity's own size, or one below which it no longer matters. */
static void compare_runs(tally *t, const hp_figures *calm, const hp_figures *full,
                         const char *drive, int draw, int number)
{
    double torque = fabs(full->torque_mean) + 0.1;
    const double d[QUANTITY_COUNT] = {
        [SPEED] = off(calm->speed, full->speed, full->speed_sd + 0.1),
        [CURRENT] = off(calm->battery_current, full->battery_current, 0.1),
        [POWER] = off(calm->battery_power, full->battery_power, 1.0),
        [TORQUE] = off(calm->torque_rms, full->torque_rms, torque),
        [PHASE] = off(calm->phase_rms, full->phase_rms, 0.1),
    };
    t->pairs++;
    t->early += calm->seconds < full->seconds;
    t->full_s += full->seconds;
    t->calm_s += calm->seconds;
    for (int q = 0; q < QUANTITY_COUNT; q++) {
        t->worst[q] = fmax(t->worst[q], d[q]);
        t->sum[q] += d[q];
        if (d[q] <= CREEP * t->share)
            continue;
        t->beyond++;
        print_message("%s, draw %d, wiring %d, from %.0f deg: %s off by %.2g after %.2f s\n", drive,
                      draw, number, full->start_angle / HP_DEG, quantity_name[q], d[q],
                      calm->seconds);
    }
}

static void compare_wiring(tally *t, hp_engine *engine, const hp_drive *d, const char *drive,
                           int draw, int number)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_thresholds thresholds = hp_thresholds_default();
    hp_figures full[STARTS], calm[STARTS];
    for (int k = 0; k < STARTS; k++) {
        hp_run_options o = hp_run_options_default();
        o.start_angle = hp_rest_angle(STARTS * draw + k);
        check_int(hp_engine_run(engine, d, &wiring, &o, NULL, &full[k], NULL), HP_OK);
        o.calm_share = t->share;
        check_int(hp_engine_run(engine, d, &wiring, &o, NULL, &calm[k], NULL), HP_OK);
        check_true(calm[k].seconds <= full[k].seconds, "ended at %g s", calm[k].seconds);
        compare_runs(t, &calm[k], &full[k], drive, draw, number);
    }
    hp_judgement a = hp_verdict_judge(full, STARTS, &thresholds);
    hp_judgement b = hp_verdict_judge(calm, STARTS, &thresholds);
    t->wirings++;
    t->verdicts_differ += a.verdict != b.verdict;
    t->directions_differ += a.direction != b.direction;
    t->kinds_differ += a.kind != b.kind;
    if (a.verdict != b.verdict || a.direction != b.direction || a.kind != b.kind)
        print_message("%s, draw %d, wiring %d: full \"%s\", calm \"%s\"\n", drive, draw, number,
                      a.reason, b.reason);
}

static void print_tally(const tally *t)
{
    print_message(
        "share %g: %d wirings, %d runs, %d of them ended early; simulated %.0f s instead of %.0f\n",
        t->share, t->wirings, t->pairs, t->early, t->calm_s, t->full_s);
    print_message("differing: %d verdicts, %d directions, %d kinds\n", t->verdicts_differ,
                  t->directions_differ, t->kinds_differ);
    for (int q = 0; q < QUANTITY_COUNT; q++)
        print_message("%-28s mean difference %.1e, largest %.1e\n", quantity_name[q],
                      t->sum[q] / t->pairs, t->worst[q]);
}

static void check_share(double share)
{
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    check_true(engine != NULL, "%s", err.text);
    hp_variation_params variation = hp_variation_default();
    tally t = {.share = share};
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive nominal = hp_reference_drive_make((hp_reference_drive)which);
        nominal.controller.stall_cutout_s = which == HP_DRIVE_GEARED ? 1.0 : 0.0;
        for (int draw = 0; draw < draws; draw++) {
            hp_drive d = hp_ensemble_draw(&nominal, &variation, SEED, draw, draws);
            for (int number = 1; number <= DISTINCT; number++)
                compare_wiring(&t, engine, &d, hp_reference_drive_name((hp_reference_drive)which),
                               draw, number);
        }
    }
    hp_engine_free(engine);
    print_tally(&t);
    check_true(t.early > t.pairs / 4, "only %d runs of %d ended early", t.early, t.pairs);
    check_int(t.verdicts_differ, 0);
    check_int(t.directions_differ, 0);
    check_int(t.kinds_differ, 0);
    check_int(t.beyond, 0);
}

static void calm_runs_say_what_full_ones_say(void **state)
{
    (void)state;
    check_share(HP_SPREAD_CALM_SHARE);
}

static void a_smaller_share_comes_nearer(void **state)
{
    (void)state;
    check_share(FINE_SHARE);
}

static void runs_of_a_survey_come_nearest(void **state)
{
    (void)state;
    check_share(HP_SURVEY_CALM_SHARE);
}

/* A shiver is measured over whole swings, ends when it repeats itself, and is what it is over
 * twenty seconds. With friction that sticks, with a smoothed law, and where the controller would
 * cut out a motor whose sensors stand still. Held to what repeats to 1e-4 can be off by. */
static void shivers_say_what_long_ones_say(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    int ended = 0;
    for (int which = 0; which < HP_DRIVE_COUNT; which++)
        for (int law = 0; law < 3; law++) {
            hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
            hp_wiring opposed = hp_wiring_from_number(2);
            d.stand.smooth_rad_s = law == 1 ? 0.02 : 0.0;
            d.controller.stall_cutout_s = law == 2 ? 1.5 : 0.0;
            hp_run_options o = hp_run_options_default();
            hp_figures calm, full;
            o.start_angle = hp_rest_angle(1);
            o.calm_share = HP_SURVEY_CALM_SHARE;
            check_int(hp_engine_run(engine, &d, &opposed, &o, NULL, &calm, NULL), HP_OK);
            o.calm_share = 0.0;
            o.seconds = 20.0;
            o.settle_s = 19.2;
            check_int(hp_engine_run(engine, &d, &opposed, &o, NULL, &full, NULL), HP_OK);
            check_int(calm.cut_out, full.cut_out);
            if (full.window_swings == 0)
                continue;
            ended += calm.seconds < 2.0;
            check_true(calm.window_swings > 0, "%s, law %d: no swings",
                       hp_reference_drive_name((hp_reference_drive)which), law);
            check_close(calm.speed, full.speed, 1e-3 * full.speed_sd, "repeats to 1e-4");
            check_relative(calm.speed_sd, full.speed_sd, 1e-3, "repeats to 1e-4");
            check_relative(calm.battery_current, full.battery_current, 1e-3, "repeats to 1e-4");
            check_relative(calm.torque_rms, full.torque_rms, 1e-3, "repeats to 1e-4");
            check_relative(calm.phase_rms, full.phase_rms, 1e-3, "repeats to 1e-4");
            check_relative(calm.swing, full.swing, 1e-3, "repeats to 1e-4");
        }
    hp_engine_free(engine);
    check_true(ended >= 6, "only %d shivers ended early", ended);
}

/* Behind a one-way clutch a shivering rotor pumps the wheel forward. A run that ends once both
 * repeat themselves counts the turns of the wheel over the whole of the last part, as if it had
 * gone on: the longer the run, the more. A wheel that only coasts, or is still being pumped up, is
 * not calm. The motor is number 7 of seed 90211 of verdict_spread's wide ranges, wiring 7 an
 * opposed one. */
static void a_pumped_wheel_goes_on(void **state)
{
    (void)state;
    double share;
    hp_engine *engine = hp_engine_create(NULL);
    hp_drive d = draw_wide(90211, 7, &share);
    hp_wiring opposed = hp_wiring_from_number(7);
    double before = 0.0;
    for (int length = 0; length < 3; length++) {
        hp_run_options o = hp_run_options_default();
        hp_figures calm, full;
        o.seconds = length == 0 ? 5.0 : length == 1 ? 8.0 : 13.0;
        o.settle_s = 0.6 * o.seconds;
        o.start_angle = hp_rest_angle(0);
        check_int(hp_engine_run(engine, &d, &opposed, &o, NULL, &full, NULL), HP_OK);
        o.calm_share = HP_SURVEY_CALM_SHARE;
        check_int(hp_engine_run(engine, &d, &opposed, &o, NULL, &calm, NULL), HP_OK);
        check_true(calm.seconds < 0.9 * o.seconds, "ended at %g s", calm.seconds);
        check_close(full.part_s, 0.4 * o.seconds, 1e-9, "from settling to the end");
        check_close(calm.part_s, 0.4 * o.seconds, 1e-9, "as if it had gone on");
        check_true(fabs(calm.window_turn) < HP_TWO_PI, "the rotor turns %g", calm.window_turn);
        check_true(full.wheel_turn > 10.0, "the wheel turns by %g only", full.wheel_turn);
        check_relative(calm.wheel_turn, full.wheel_turn, 0.01, "the wheel's speed is still that");
        check_true(calm.wheel_turn > 1.5 * before, "longer, %g, no more than %g", calm.wheel_turn,
                   before);
        before = calm.wheel_turn;
    }
    hp_engine_free(engine);
}

/* The same wheel, started so fast that it coasts on for long while the rotor already shivers as it
 * will: its turns are those of a wheel that slows down. */
static void a_coasting_wheel_is_not_calm(void **state)
{
    (void)state;
    double share;
    hp_engine *engine = hp_engine_create(NULL);
    hp_drive d = draw_wide(90211, 7, &share);
    hp_wiring opposed = hp_wiring_from_number(7);
    hp_run_options o = hp_run_options_default();
    hp_figures calm, full;
    o.start_angle = hp_rest_angle(0);
    o.seconds = 6.0;
    o.settle_s = 3.6;
    o.start_speed = 300.0;
    o.start_duty = 0.4;
    check_int(hp_engine_run(engine, &d, &opposed, &o, NULL, &full, NULL), HP_OK);
    o.calm_share = HP_SURVEY_CALM_SHARE;
    check_int(hp_engine_run(engine, &d, &opposed, &o, NULL, &calm, NULL), HP_OK);
    check_true(full.window_swings > 0 && fabs(full.window_turn) < HP_TWO_PI, "the rotor shivers");
    check_true(full.wheel_turn > 20.0, "the wheel turns by %g only", full.wheel_turn);
    check_relative(calm.wheel_turn, full.wheel_turn, 0.01, "as for pumped wheels");
    hp_engine_free(engine);
}

int main(int argc, char **argv)
{
    if (argc > 1)
        draws = atoi(argv[1]);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(calm_runs_say_what_full_ones_say),
        cmocka_unit_test(a_smaller_share_comes_nearer),
        cmocka_unit_test(runs_of_a_survey_come_nearest),
        cmocka_unit_test(shivers_say_what_long_ones_say),
        cmocka_unit_test(a_pumped_wheel_goes_on),
        cmocka_unit_test(a_coasting_wheel_is_not_calm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
