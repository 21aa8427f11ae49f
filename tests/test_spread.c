/* Spread: shares and bands of an ensemble, held to the survey, to a law known in closed form, and
 * to itself under other numbers of threads, interruption and full-length runs. */
#include "check.h"
#include "reference_drives.h"

#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"

#include <stdlib.h>

/* A drive that is up to speed within half a second, so that the runs stay short. */
static hp_spread_options quick_options(int motors, int starts)
{
    hp_spread_options o = hp_spread_options_default();
    o.survey.run.seconds = 0.8;
    o.survey.run.settle_s = 0.45;
    o.survey.run.tolerance = 1e-6;
    o.plan.motors = motors;
    o.survey.starts = starts;
    o.survey.jobs = 2;
    return o;
}

static hp_spread *run_spread(const hp_drive *drive, const hp_spread_options *options,
                             hp_result expected)
{
    hp_spread *spread = malloc(sizeof *spread);
    hp_error err = hp_error_none();
    assert_non_null(spread);
    hp_result result = hp_spread_run(drive, options, spread, &err);
    check_true(result == expected, "%s: %s", hp_result_name(result), err.text);
    return spread;
}

static double sum(const double *share, int count)
{
    double total = 0.0;
    for (int k = 0; k < count; k++)
        total += share[k];
    return total;
}

static void check_shares(const hp_spread_summary *s)
{
    check_close(sum(s->share, HP_VERDICT_COUNT), 1.0, 1e-14, "rounding of five terms");
    check_close(sum(s->share_direction, HP_DIRECTION_COUNT), 1.0, 1e-14, "rounding");
    check_close(sum(s->share_kind, HP_KIND_COUNT), 1.0, 1e-14, "rounding");
    for (int k = 0; k < HP_VERDICT_COUNT; k++)
        check_true(s->share[k] <= s->share[s->verdict], "verdict %d is likelier", k);
    for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++)
        check_true(s->band[f].low <= s->band[f].middle && s->band[f].middle <= s->band[f].high,
                   "%s", hp_spread_figure_name((hp_spread_figure)f));
}

/* With the theory of model.h: every plausible motor around a sound one keeps 3 / 3 / 12 / 18. */
static void shares_sum_to_one_and_groups_hold_every_wiring(void **state)
{
    (void)state;
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_spread_options o = quick_options(4, 2);
    hp_spread *s = run_spread(&drive, &o, HP_OK);
    int seen[HP_WIRING_COUNT] = {0}, verdicts[HP_VERDICT_COUNT] = {0};
    check_int(s->motors, 4);
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        check_shares(&s->wiring[k]);
        check_int(s->wiring[k].number[0], k + 1);
        verdicts[s->wiring[k].verdict]++;
    }
    for (int g = 0; g < s->groups; g++) {
        check_shares(&s->group[g]);
        for (int k = 0; k < s->group[g].wirings; k++) {
            const hp_spread_summary *w = &s->wiring[s->group[g].number[k] - 1];
            seen[s->group[g].number[k] - 1]++;
            check_int(w->verdict, s->group[g].verdict);
            check_int(w->direction, s->group[g].direction);
            check_int(w->kind, s->group[g].kind);
        }
        check_true(g == 0 || s->group[g].verdict >= s->group[g - 1].verdict, "group %d", g);
    }
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        check_int(seen[k], 1);
    check_int(verdicts[HP_VERDICT_CORRECT], 3);
    check_int(verdicts[HP_VERDICT_REVERSE], 3);
    check_int(verdicts[HP_VERDICT_ROUGH], 12);
    check_int(verdicts[HP_VERDICT_STALLED], 18);
    free(s);
}

/* low = middle = high = the survey's. */
static void check_band(const hp_spread_summary *s, hp_spread_figure figure, double expected)
{
    hp_spread_band band = s->band[figure];
    bool same = band.low == expected && band.middle == expected && band.high == expected;
    check_true(same, "wiring %d: %s is %.17g, %.17g, %.17g, in the survey %.17g", s->number[0],
               hp_spread_figure_name(figure), band.low, band.middle, band.high, expected);
}

static void an_ensemble_without_width_is_the_survey(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_GEARED);
    hp_spread_options o = quick_options(2, 2);
    o.survey.run.calm_share = 0.0;
    o.plan.variation = hp_variation_none();
    o.plan.rest_rad = 0.0;
    hp_survey_options so = hp_survey_options_default();
    so.run = o.survey.run;
    so.starts = o.survey.starts;
    so.jobs = 2;
    hp_survey survey;
    check_int(hp_survey_run(&drive, &so, &survey, &err), HP_OK);
    hp_spread *s = run_spread(&drive, &o, HP_OK);
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        const hp_judgement *j = &survey.judgement[k];
        const hp_spread_summary *w = &s->wiring[k];
        check_int(w->verdict, j->verdict);
        check_int(w->direction, j->direction);
        check_int(w->kind, j->kind);
        check_close(w->share[j->verdict], 1.0, 0.0, "exact");
        check_band(w, HP_SPREAD_SPEED, j->mean.speed);
        check_band(w, HP_SPREAD_WHEEL_SPEED, j->mean.wheel_speed);
        check_band(w, HP_SPREAD_SPEED_RATIO, fabs(j->mean.speed) / survey.smooth_speed);
        check_band(w, HP_SPREAD_BATTERY_CURRENT, j->mean.battery_current);
        check_band(w, HP_SPREAD_PHASE_RMS, j->mean.phase_rms);
        check_band(w, HP_SPREAD_PHASE_PEAK, j->mean.phase_peak);
        check_band(w, HP_SPREAD_RIPPLE, j->ripple);
        check_band(w, HP_SPREAD_EXCESS, j->excess);
        check_band(w, HP_SPREAD_STARTS, (double)j->starts / j->starts_tried);
        for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++)
            check_int(w->driver[f][0].quantity, -1);
    }
    hp_survey_free(&survey);
    free(s);
}

/* The no-load speed of a smooth wiring is nearly duty * EMF / (2 ke): it falls throughout with ke,
 * so its rank correlation is -1, and the closed form gives the band. */
static void speed_falls_with_the_backemf_constant(void **state)
{
    (void)state;
    const int motors = 12;
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_spread_options o = quick_options(motors, 1);
    o.plan.variation = hp_variation_none();
    o.plan.variation.ke_ratio = 0.3;
    o.plan.rest_rad = 0.0;
    hp_spread *s = run_spread(&drive, &o, HP_OK);
    const hp_spread_summary *smooth = &s->wiring[0];
    check_int(smooth->verdict, HP_VERDICT_CORRECT);
    check_int(smooth->driver[HP_SPREAD_SPEED][0].quantity, HP_VARY_KE);
    check_close(smooth->driver[HP_SPREAD_SPEED][0].rank_correlation, -1.0, 1e-14, "rounding");
    check_int(smooth->driver[HP_SPREAD_SPEED][1].quantity, -1);
    /* Wiring 8 is its mirror image: its signed speed rises. */
    check_int(s->wiring[7].verdict, HP_VERDICT_REVERSE);
    check_close(s->wiring[7].driver[HP_SPREAD_SPEED][0].rank_correlation, 1.0, 1e-14, "rounding");
    double slowest = hp_drive_ideal_speed(&drive) / 1.3,
           fastest = hp_drive_ideal_speed(&drive) * 1.3;
    check_true(smooth->band[HP_SPREAD_SPEED].low > 0.9 * slowest &&
                   smooth->band[HP_SPREAD_SPEED].high < fastest,
               "band %g to %g rad/s outside %g to %g", smooth->band[HP_SPREAD_SPEED].low,
               smooth->band[HP_SPREAD_SPEED].high, slowest, fastest);
    check_true(smooth->band[HP_SPREAD_SPEED].high > 1.3 * smooth->band[HP_SPREAD_SPEED].low,
               "the band is too narrow");
    free(s);
}

/* Byte for byte; the structure is zeroed before it is filled. */
static void check_same(const hp_spread *a, const hp_spread *b)
{
    check_int(a->motors, b->motors);
    check_int(a->groups, b->groups);
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        assert_memory_equal(a->wiring[k].band, b->wiring[k].band, sizeof a->wiring[k].band);
        assert_memory_equal(a->wiring[k].share, b->wiring[k].share, sizeof a->wiring[k].share);
        assert_memory_equal(a->group[k].band, b->group[k].band, sizeof a->group[k].band);
        for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++)
            for (int d = 0; d < HP_SPREAD_DRIVERS; d++) {
                const hp_spread_driver *left = &a->wiring[k].driver[f][d];
                const hp_spread_driver *right = &b->wiring[k].driver[f][d];
                check_int(left->quantity, right->quantity);
                check_close(left->rank_correlation, right->rank_correlation, 0.0, "exact");
            }
        check_int(a->wiring[k].nearest.motor, b->wiring[k].nearest.motor);
        check_int(a->wiring[k].nearest_kind.motor, b->wiring[k].nearest_kind.motor);
    }
}

static void threads_do_not_show(void **state)
{
    (void)state;
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_SINE);
    hp_spread_options o = quick_options(3, 1);
    o.survey.run.seconds = 0.5;
    o.survey.run.settle_s = 0.3;
    o.survey.jobs = 1;
    hp_spread *one = run_spread(&drive, &o, HP_OK);
    o.survey.jobs = 4;
    hp_spread *four = run_spread(&drive, &o, HP_OK);
    check_same(one, four);
    o.plan.seed = 2;
    hp_spread *other = run_spread(&drive, &o, HP_OK);
    check_true(other->wiring[0].band[HP_SPREAD_SPEED].low !=
                   one->wiring[0].band[HP_SPREAD_SPEED].low,
               "the seed does not matter");
    free(one);
    free(four);
    free(other);
}

static int stop_after(void *user, int done, int total)
{
    (void)total;
    return done >= *(const int *)user;
}

/* Stopped amid the third motor: two whole ones count, whatever the threads had begun. */
static void an_interrupted_spread_has_whole_motors_from_the_first(void **state)
{
    (void)state;
    int stop = 2 * 12 + 5; /* twelve different machines a motor */
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_spread_options o = quick_options(8, 1);
    o.survey.run.seconds = 0.5;
    o.survey.run.settle_s = 0.3;
    o.survey.progress = stop_after;
    o.survey.user = &stop;
    o.survey.jobs = 1;
    hp_spread *one = run_spread(&drive, &o, HP_OK);
    o.survey.jobs = 4;
    hp_spread *four = run_spread(&drive, &o, HP_OK);
    check_int(one->motors, 2);
    check_int(one->plan.motors, 8);
    check_same(one, four);
    /* They are motors 0 and 1 of the eight: the figures of those two, run by themselves. */
    double speed[2];
    for (int motor = 0; motor < 2; motor++) {
        double rest = 0.0;
        hp_drive drawn = hp_spread_motor(&drive, &o.plan, motor, &rest);
        hp_engine *engine = hp_engine_create(NULL);
        hp_wiring wiring = hp_wiring_from_number(1);
        hp_run_options run = o.survey.run;
        hp_figures figures;
        run.start_angle = hp_angle_wrap(hp_rest_angle(0) + rest);
        check_int(hp_engine_run(engine, &drawn, &wiring, &run, NULL, &figures, NULL), HP_OK);
        speed[motor] = figures.speed;
        hp_engine_free(engine);
    }
    check_relative(one->wiring[0].band[HP_SPREAD_SPEED].middle, 0.5 * (speed[0] + speed[1]), 1e-15,
                   "one rounding");
    free(one);
    free(four);
}

/* Asked amid a run, as after each. */
typedef struct wish {
    int asked, left;
} wish;

static int wish_amid(void *user)
{
    wish *w = user;
    return ++w->asked > w->left;
}

static int wish_after(void *user, int done, int total)
{
    const wish *w = user;
    (void)done, (void)total;
    return w->asked > w->left;
}

/* A run that was stopped is no run: its motor does not count, wherever the stop fell. */
static void a_stopped_run_makes_no_motor(void **state)
{
    (void)state;
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_DIRECT);
    for (int left = 60; left < 140; left += HP_DRAWS(7, 28)) {
        wish w = {.left = left};
        hp_spread_options o = quick_options(50, 1);
        o.survey.run.seconds = 0.5;
        o.survey.run.settle_s = 0.3;
        o.survey.run.stop = wish_amid;
        o.survey.run.stop_user = &w;
        o.survey.progress = wish_after;
        o.survey.user = &w;
        o.survey.jobs = 1;
        hp_spread *spread = run_spread(&drive, &o, HP_OK);
        check_true(spread->motors >= 1 && spread->motors < 50, "%d motors", spread->motors);
        for (int n = 0; n < HP_WIRING_COUNT; n++)
            check_close(spread->wiring[n].share[HP_VERDICT_UNDECIDED], 0.0, 0.0, "none broke off");
        free(spread);
    }
}

static void stopped_before_the_first_motor_there_is_nothing(void **state)
{
    (void)state;
    int stop = 3;
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_spread_options o = quick_options(8, 1);
    o.survey.run.seconds = 0.1;
    o.survey.run.settle_s = 0.05;
    o.survey.progress = stop_after;
    o.survey.user = &stop;
    free(run_spread(&drive, &o, HP_FAIL_CANCELLED));
}

/* |a - b| over the larger; figures without bound agree when both have none. */
static double difference(double a, double b)
{
    if (a == b)
        return 0.0;
    return fabs(a - b) / fmax(fabs(a), fabs(b));
}

/* Ending a run once it has settled changes no verdict, and turning wirings' medians by no more than
 * the share by which settled means may still move. */
static void early_ends_agree_with_full_length(void **state)
{
    (void)state;
    static const hp_spread_figure figures[] = {HP_SPREAD_SPEED, HP_SPREAD_SPEED_RATIO,
                                               HP_SPREAD_BATTERY_CURRENT, HP_SPREAD_PHASE_RMS,
                                               HP_SPREAD_STARTS};
    hp_drive drive = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_spread_options o = quick_options(2, 2);
    o.survey.run.seconds = 2.0;
    o.survey.run.settle_s = 1.2;
    hp_spread *early = run_spread(&drive, &o, HP_OK);
    o.survey.run.calm_share = 0.0;
    hp_spread *full = run_spread(&drive, &o, HP_OK);
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        const hp_spread_summary *a = &early->wiring[k], *b = &full->wiring[k];
        for (int v = 0; v < HP_VERDICT_COUNT; v++)
            check_close(a->share[v], b->share[v], 0.0, "the same motors");
        for (size_t f = 0; a->verdict != HP_VERDICT_STALLED && f < 5; f++) {
            double off = difference(a->band[figures[f]].middle, b->band[figures[f]].middle);
            check_true(off <= HP_SPREAD_CALM_SHARE, "wiring %d: %s differs by %g", k + 1,
                       hp_spread_figure_name(figures[f]), off);
        }
    }
    free(early);
    free(full);
}

static void bad_options_are_named(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_drive drive = hp_drive_default();
    static hp_spread spread;
    hp_spread_options o = hp_spread_options_default();
    o.plan.motors = 0;
    check_int(hp_spread_run(&drive, &o, &spread, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "spread.motors is 0, must be 1 to 10000");
    o = hp_spread_options_default();
    o.survey.starts = 1001;
    check_int(hp_spread_run(&drive, &o, &spread, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "run.starts is 1001");
    o = hp_spread_options_default();
    o.plan.rest_rad = 4.0;
    check_int(hp_spread_run(&drive, &o, &spread, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "spread.rest_angle_deg has the half width 229.183");
    o = hp_spread_options_default();
    o.plan.variation.ke_ratio = NAN;
    check_int(hp_spread_run(&drive, &o, &spread, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "ke_ratio");
    o = hp_spread_options_default();
    drive.motor.ke = -1.0;
    check_int(hp_spread_run(&drive, &o, &spread, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "ke");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_sum_to_one_and_groups_hold_every_wiring),
        cmocka_unit_test(an_ensemble_without_width_is_the_survey),
        cmocka_unit_test(speed_falls_with_the_backemf_constant),
        cmocka_unit_test(threads_do_not_show),
        cmocka_unit_test(an_interrupted_spread_has_whole_motors_from_the_first),
        cmocka_unit_test(a_stopped_run_makes_no_motor),
        cmocka_unit_test(stopped_before_the_first_motor_there_is_nothing),
        cmocka_unit_test(early_ends_agree_with_full_length),
        cmocka_unit_test(bad_options_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
