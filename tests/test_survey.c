/*
 * Surveys: the theory of the 36 wirings as an oracle, equal bytes for any number of jobs, progress
 * and cancelling, failing runs, bad options.
 */
#include "field_limits.h"
#include "runs.h"

#include "hubphase/decide/survey.h"
#include "reference_drives.h"

#include <stdlib.h>

#define STARTS HP_DRAWS(4, 2)

static hp_survey_options quick_survey(void)
{
    hp_survey_options o = hp_survey_options_default();
    o.starts = STARTS;
    o.jobs = 2;
    o.run.seconds = 1.0;
    o.run.settle_s = 0.6;
    return o;
}

static hp_survey survey_of(const hp_drive *drive, const hp_survey_options *options)
{
    hp_survey survey;
    hp_error err = hp_error_none();
    hp_result result = hp_survey_run(drive, options, &survey, &err);
    check_true(result == HP_OK, "%s", err.text);
    return survey;
}

/* Theory, from the permutations alone: like order of sensors and phases is smooth, forward for even
 * ones; the same parity runs roughly the other way; opposite parity does not run. A late wiring may
 * also lock, so it counts as the theory's when it turns as said or not at all. Behind a one-way
 * clutch the shuffling rotor of an opposed wiring may pump the wheel forward. */
static void check_against_theory(const hp_survey *survey, const char *name, int smooth_locks,
                                 bool clutch)
{
    int count[HP_VERDICT_COUNT] = {0}, pumped = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        const hp_judgement *j = &survey->judgement[number - 1];
        int way = direction_of_class(number);
        hp_direction direction = way > 0   ? HP_DIRECTION_FORWARD
                                 : way < 0 ? HP_DIRECTION_BACKWARD
                                           : HP_DIRECTION_NONE;
        count[j->verdict]++;
        switch (class_of(number)) {
        case CLASS_SMOOTH:
            check_true(j->verdict == (way > 0 ? HP_VERDICT_CORRECT : HP_VERDICT_REVERSE),
                       "%s, wiring %d is %s: %s", name, number, hp_verdict_name(j->verdict),
                       j->reason);
            check_int(j->starts, j->starts_tried);
            check_int(j->direction, direction);
            break;
        case CLASS_OFF_BY_120:
            if (j->verdict == HP_VERDICT_STALLED && smooth_locks)
                break;
            check_true(j->verdict == HP_VERDICT_ROUGH, "%s, wiring %d is %s: %s", name, number,
                       hp_verdict_name(j->verdict), j->reason);
            check_int(j->direction, direction);
            break;
        case CLASS_OPPOSED:
            check_int(j->rotor_direction, HP_DIRECTION_NONE);
            if (clutch && j->verdict == HP_VERDICT_ROUGH) {
                check_int(j->direction, HP_DIRECTION_FORWARD);
                check_int(j->kind, HP_KIND_NONE);
                pumped++;
                break;
            }
            check_true(j->verdict == HP_VERDICT_STALLED, "%s, wiring %d is %s: %s", name, number,
                       hp_verdict_name(j->verdict), j->reason);
            check_int(j->starts, 0);
            break;
        }
    }
    check_int(count[HP_VERDICT_CORRECT], 3);
    check_int(count[HP_VERDICT_REVERSE], 3);
    if (!smooth_locks) {
        check_int(count[HP_VERDICT_ROUGH], 12 + pumped);
        check_int(count[HP_VERDICT_STALLED], 18 - pumped);
    }
    check_true(pumped > 0 || !clutch, "no wheel is pumped on");
}

static void three_three_twelve_eighteen(void **state)
{
    (void)state;
    hp_survey_options o = quick_survey();
    hp_drive d = hp_drive_default();
    hp_survey survey = survey_of(&d, &o);
    check_against_theory(&survey, "default", 0, false);
    hp_survey_free(&survey);

    d.motor.backemf = hp_backemf_sinusoidal();
    survey = survey_of(&d, &o);
    check_against_theory(&survey, "default, sinusoidal", 0, false);
    hp_survey_free(&survey);

    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        d = hp_reference_drive_make((hp_reference_drive)which);
        survey = survey_of(&d, &o);
        check_against_theory(&survey, hp_reference_drive_name((hp_reference_drive)which), 0,
                             d.stand.clutch);
        hp_survey_free(&survey);
    }
}

/* Friction of a fifth of stall torque locks late wirings from some rest angles or all. */
static void strong_friction_locks_late_wirings_only(void **state)
{
    (void)state;
    hp_survey_options o = quick_survey();
    hp_drive d = hp_drive_default();
    d.stand.rotor = (hp_friction){12.0, 16.0, 0.0}; /* stall torque at the throttle: 100 N m */
    d.controller.phase_limit_a = 0.0;
    hp_survey survey = survey_of(&d, &o);
    check_against_theory(&survey, "strong friction", 1, false);
    hp_survey_free(&survey);
}

/* The two kinds of rough wirings: with the field's order the rotor's plus 120 degrees early, minus
 * 120 late, for even orders; the mirror image of it for odd ones. */
static hp_rough_kind kind_of_theory(int number)
{
    hp_wiring w = hp_wiring_from_number(number);
    int lead_of_sensor[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        lead_of_sensor[w.sensor[k]] = w.phase[k];
    bool plus = lead_of_sensor[HP_U] == HP_V;
    return plus == is_even(w.sensor) ? HP_KIND_EARLY : HP_KIND_LATE;
}

static void speed_tells_early_from_late(void **state)
{
    (void)state;
    hp_survey_options o = quick_survey();
    hp_drive d = hp_drive_default();
    d.controller.ramp_per_s = 4.0;
    int told = 0, wrong = 0;
    for (double throttle = 0.35; throttle < 1.0; throttle *= 1.6) {
        d.controller.throttle = throttle;
        hp_survey survey = survey_of(&d, &o);
        for (int number = 1; number <= HP_WIRING_COUNT; number++) {
            hp_rough_kind kind = survey.judgement[number - 1].kind;
            if (class_of(number) != CLASS_OFF_BY_120)
                check_int(kind, HP_KIND_NONE);
            else if (kind != HP_KIND_NONE)
                told++, wrong += kind != kind_of_theory(number);
        }
        hp_survey_free(&survey);
    }
    check_int(wrong, 0);
    check_int(told, 3 * 12); /* at these throttles it always tells; docs/verdicts.md: when it not */
}

static void any_number_of_jobs_gives_the_same_bytes(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_GEARED);
    hp_survey_options o = quick_survey();
    o.run.seconds = 0.4;
    o.run.settle_s = 0.2;
    o.starts = 3;
    o.jobs = 1;
    hp_survey one = survey_of(&d, &o);
    const int jobs[] = {2, 4, 7, 0};
    for (size_t k = 0; k < sizeof jobs / sizeof jobs[0]; k++) {
        o.jobs = jobs[k];
        hp_survey more = survey_of(&d, &o);
        size_t bytes = (size_t)(HP_WIRING_COUNT * o.starts) * sizeof(hp_figures);
        check_int(memcmp(one.run, more.run, bytes), 0);
        check_close(more.smooth_speed, one.smooth_speed, 0.0, "the same bytes");
        for (int w = 0; w < HP_WIRING_COUNT; w++) {
            check_int(more.judgement[w].verdict, one.judgement[w].verdict);
            check_int(more.judgement[w].kind, one.judgement[w].kind);
            check_close(more.judgement[w].excess, one.judgement[w].excess, 0.0, "the same bytes");
            assert_string_equal(more.judgement[w].reason, one.judgement[w].reason);
        }
        hp_survey_free(&more);
    }
    hp_survey_free(&one);
    hp_survey_free(&one); /* once more does no harm */
    hp_survey_free(NULL);
}

/* Counts the calls; stops after `stop_at` of them. */
typedef struct watcher {
    int calls, total, last, stop_at;
} watcher;

static int watch(void *user, int done, int total)
{
    watcher *w = user;
    w->calls++;
    w->total = total;
    check_true(done == w->last + 1, "%d after %d", done, w->last);
    w->last = done;
    return w->stop_at > 0 && done >= w->stop_at;
}

static void progress_counts_up_and_can_cancel(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_survey_options o = quick_survey();
    o.run.seconds = 0.05;
    o.run.settle_s = 0.02;
    o.starts = 2;
    watcher w = {0};
    o.progress = watch;
    o.user = &w;
    hp_survey survey = survey_of(&d, &o);
    check_int(w.calls, 72);
    check_int(w.total, 72);
    hp_survey_free(&survey);

    for (o.jobs = 1; o.jobs <= 4; o.jobs += 3) {
        w = (watcher){.stop_at = 10};
        hp_error err = hp_error_none();
        check_int(hp_survey_run(&d, &o, &survey, &err), HP_FAIL_CANCELLED);
        check_text_contains(err.text, "stopped after 10 of 72 runs");
        check_int(w.calls, 10);
        check_true(survey.run == NULL, "nothing is left to free");
    }
}

static void failing_runs_leave_a_wiring_undecided_and_the_survey_goes_on(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_survey_options o = quick_survey();
    o.run.seconds = 0.3;
    o.run.settle_s = 0.1;
    o.starts = 1;
    o.run.start_speed = 1e5; /* more events than can be followed */
    hp_survey survey = survey_of(&d, &o);
    for (int w = 0; w < HP_WIRING_COUNT; w++) {
        check_int(survey.judgement[w].verdict, HP_VERDICT_UNDECIDED);
        check_text_contains(survey.judgement[w].reason, "events follow each other");
    }
    check_close(survey.smooth_speed, hp_drive_ideal_speed(&d), 0.0, "no smooth wiring: the label");
    hp_survey_free(&survey);
}

/* A fast hub of much inductance at full throttle: an early field drives it at three and a half
 * times the speed with little loss, so that its excess passes. Held against the right wirings,
 * which turn the same way with a fraction of the current, it is rough. */
static void a_field_advance_that_passes_is_outdone_by_the_right_wiring(void **state)
{
    (void)state;
    HP_FIGURES_ALONE();
    hp_drive d = hp_drive_default();
    d.motor.pole_pairs = 28;
    d.motor.resistance_ohm = 0.125;
    d.motor.inductance_h = 0.6e-3;
    d.motor.ke = 128.6 / (2.0 * 1000.0 * HP_RPM); /* a lead pair's peak is twice a phase's */
    d.controller.throttle = 1.0;
    d.controller.battery_limit_a = 30.0;
    d.controller.phase_limit_a = 80.0;
    d.supply.emf_v = 72.0;
    d.stand.rotor = (hp_friction){0.6, 0.6, 0.02};
    hp_survey_options o = hp_survey_options_default();
    o.starts = 2;
    o.jobs = 2;
    o.run.seconds = 10.0;
    o.run.settle_s = 6.0;
    hp_survey survey = survey_of(&d, &o);
    int outdone = 0, first_smooth = 0, first_outdone = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        const hp_judgement *j = &survey.judgement[number - 1];
        bool smooth = j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
        check_true(smooth == (class_of(number) == CLASS_SMOOTH), "wiring %d: %s", number,
                   j->reason);
        if (smooth && first_smooth == 0)
            first_smooth = number;
        if (j->outdone > o.thresholds.apparent_max) {
            if (outdone++ == 0)
                first_outdone = number;
            check_int(j->kind, HP_KIND_EARLY);
            check_text_contains(j->reason, "another wiring turns the same way better");
        }
        if (number != first_smooth && number != first_outdone)
            continue;
        hp_wiring wiring = hp_wiring_from_number(number);
        hp_judgement one;
        check_int(hp_survey_one(&d, &wiring, &o, &one, NULL), HP_OK);
        check_int(one.verdict, j->verdict);
        check_int(one.kind, j->kind);
    }
    check_int(outdone, 6);
    hp_survey_free(&survey);
}

static void one_wiring_alone_is_judged_like_in_a_survey(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    hp_survey_options o = quick_survey();
    hp_survey survey = survey_of(&d, &o);
    for (int number = 1; number <= 6; number++) {
        hp_wiring wiring = hp_wiring_from_number(number);
        hp_judgement j;
        hp_error err = hp_error_none();
        check_int(hp_survey_one(&d, &wiring, &o, &j, &err), HP_OK);
        check_int(j.verdict, survey.judgement[number - 1].verdict);
        check_int(j.direction, survey.judgement[number - 1].direction);
        check_int(j.kind, survey.judgement[number - 1].kind);
        check_int(j.starts, survey.judgement[number - 1].starts);
        check_close(j.excess, survey.judgement[number - 1].excess, 0.0, "the same runs");
    }
    hp_survey_free(&survey);
}

static void bad_options_are_refused(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default(), bad = d;
    hp_survey_options o = quick_survey();
    hp_survey survey;
    hp_judgement j;
    hp_wiring w = hp_wiring_from_number(1);
    const int starts[] = {0, -1, 1001}, jobs[] = {-1, HP_JOBS_MAX + 1};
    for (int k = 0; k < 3; k++) {
        hp_survey_options s = o;
        s.starts = starts[k];
        check_refused(hp_survey_run(&d, &s, &survey, &refusal), "run.starts");
        check_refused(hp_survey_one(&d, &w, &s, &j, &refusal), "run.starts");
    }
    for (int k = 0; k < 2; k++) {
        hp_survey_options s = o;
        s.jobs = jobs[k];
        check_refused(hp_survey_run(&d, &s, &survey, &refusal), "jobs");
    }
    o.run.tolerance = 0.0;
    check_refused(hp_survey_run(&d, &o, &survey, &refusal), "run.tolerance");
    o = quick_survey();
    bad.motor.ke = 0.0;
    check_refused(hp_survey_run(&bad, &o, &survey, &refusal), "motor.ke");
    check_true(survey.run == NULL, "nothing is left to free");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_three_twelve_eighteen),
        cmocka_unit_test(strong_friction_locks_late_wirings_only),
        cmocka_unit_test(speed_tells_early_from_late),
        cmocka_unit_test(any_number_of_jobs_gives_the_same_bytes),
        cmocka_unit_test(progress_counts_up_and_can_cancel),
        cmocka_unit_test(failing_runs_leave_a_wiring_undecided_and_the_survey_goes_on),
        cmocka_unit_test(a_field_advance_that_passes_is_outdone_by_the_right_wiring),
        cmocka_unit_test(one_wiring_alone_is_judged_like_in_a_survey),
        cmocka_unit_test(bad_options_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
