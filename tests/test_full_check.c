/*
 * What stands of runs at full throttle. Each log here is a few entries by hand; bands and limit are
 * round figures: 0.2 to 0.5 A, never 1.5 A, 20 to 25 rad/s, of wiring 3.
 */
#include "check.h"
#include "decide/advise/full_check.h"
#include "decide/reading/reading.h"
#include "decide/reading/running.h"

#include <string.h>

#define WIRING 3

typedef struct bench {
    hp_entry entry[6];
    int entries;
    hp_failed_check failed;
} bench;

static hp_trial *at_full(bench *b, int number, double battery_a)
{
    b->entry[b->entries] = hp_entry_make(&hp_reading_trial, b->entries + 1);
    hp_trial *t = &b->entry[b->entries++].trial;
    t->wiring = hp_wiring_from_number(number);
    t->throttle = 1.0;
    t->motion = HP_MOVED_FORWARD;
    t->feel = HP_FEEL_SMOOTH;
    t->battery_a = battery_a;
    return t;
}

static void run_without_load(bench *b, double battery_a)
{
    b->entry[b->entries] = hp_entry_make(&hp_reading_no_load, b->entries + 1);
    hp_no_load *n = hp_entry_values(&b->entry[b->entries++]);
    n->full = (hp_steady){22.0, battery_a, 37.0};
    n->turning = HP_TURNING_FORWARD;
}

typedef void judge(const void *user, const hp_entry *entry, hp_draw *draw, hp_pace *pace);

/* A step that finds every run's current too large. */
static void too_much(const void *user, const hp_entry *entry, hp_draw *draw, hp_pace *pace)
{
    (void)user;
    (void)entry;
    (void)pace;
    *draw = HP_DRAW_TOO_MUCH;
}

/* ... and one that finds it far too fast. */
static void too_fast(const void *user, const hp_entry *entry, hp_draw *draw, hp_pace *pace)
{
    (void)user;
    (void)entry;
    *draw = HP_DRAW_FINE;
    *pace = HP_PACE_FAST;
}

static const hp_failed_check *found(bench *b, judge *own)
{
    const hp_full_check check = {.entry = b->entry,
                                 .to = b->entries,
                                 .number = WIRING,
                                 .current_a = {0.2, 0.5},
                                 .most_a = 1.5,
                                 .wheel_rad_s = {20.0, 25.0},
                                 .judge = own};
    hp_full_check_find(&check, &b->failed);
    return &b->failed;
}

/* The limit takes what is expected thrice, or the band where that is wider. */
static void the_limit_is_never_inside_the_band(void **state)
{
    (void)state;
    check_close(hp_draw_most(0.4, (hp_band){0.2, 0.5}), 1.2, 1e-12, "rounding");
    check_close(hp_draw_most(0.4, (hp_band){0.2, 2.0}), 2.0, 0.0, "the band itself");
    check_int(hp_draw_judge(0.5, 1.2, (hp_band){0.2, 0.5}), HP_DRAW_FINE);
    check_int(hp_draw_judge(0.6, 1.2, (hp_band){0.2, 0.5}), HP_DRAW_UNSAID);
    check_int(hp_draw_judge(1.3, 1.2, (hp_band){0.2, 0.5}), HP_DRAW_TOO_MUCH);
    check_int(hp_draw_judge(1.3, 1.2, (hp_band){0.2, 1.4}), HP_DRAW_FINE);
    check_int(hp_draw_judge((double)NAN, 1.2, (hp_band){0.2, 0.5}), HP_DRAW_UNSAID);
    check_int(hp_draw_judge(9.0, 1.2, (hp_band){0.0, 0.0}), HP_DRAW_UNSAID);
}

/* A run that its own step finds far too fast fails for that, as a trial does, and a trial that was
 * as fast as it ought to be takes it back. */
static void a_run_without_load_is_judged_by_its_speed_too(void **state)
{
    (void)state;
    bench b = {.entries = 0};
    at_full(&b, WIRING, 0.3);
    run_without_load(&b, 0.3);
    check_int(found(&b, too_fast)->entry[HP_CHECK_FAST], 2);
    check_int(found(&b, NULL)->entry[HP_CHECK_FAST], 0);
    b.entry[1].typical = true;
    check_true(!found(&b, too_fast)->stands, "figures that nobody read");
    b.entry[1].typical = false;
    at_full(&b, WIRING, 0.3)->wheel_rad_s = 22.0;
    check_true(!found(&b, too_fast)->stands, "taken back");
    check_int(hp_pace_judge(32.0, (hp_band){20.0, 25.0}), HP_PACE_FAST);
    check_int(hp_pace_judge(31.0, (hp_band){20.0, 25.0}), HP_PACE_FINE);
    check_int(hp_pace_judge(15.5, (hp_band){20.0, 25.0}), HP_PACE_SLOW);
    check_int(hp_pace_judge((double)NAN, (hp_band){20.0, 25.0}), HP_PACE_UNSAID);
    check_int(hp_pace_judge(22.0, (hp_band){0.0, 0.0}), HP_PACE_UNSAID);
}

static void what_cuts_out_takes_no_current_back_and_is_not_slow(void **state)
{
    (void)state;
    bench b = {.entries = 0};
    at_full(&b, WIRING, 9.0);
    hp_trial *second = at_full(&b, WIRING, 0.3);
    check_true(!found(&b, NULL)->stands, "a good run takes it back");
    second->cut_out = HP_TELL_YES;
    second->wheel_rad_s = 5.0;
    check_int(found(&b, NULL)->entry[HP_CHECK_CURRENT], 1);
    check_int(b.failed.entry[HP_CHECK_CUT_OUT], 2);
    check_int(b.failed.entry[HP_CHECK_SLOW], 0);
    check_close(b.failed.battery_a, 9.0, 0.0, "as read");
    check_int(hp_failed_check_entry(&b.failed), 2);
    second->cut_out = HP_TELL_NO;
    check_int(found(&b, NULL)->entry[HP_CHECK_SLOW], 2);
    check_int(hp_failed_check_entry(&b.failed), 2);
}

static void a_no_load_run_speaks_of_the_wiring_that_was_joined(void **state)
{
    (void)state;
    for (int number = WIRING; number <= WIRING + 1; number++) {
        bench b = {.entries = 0};
        at_full(&b, number, (double)NAN)->throttle = 0.35;
        run_without_load(&b, 9.0);
        check_int(found(&b, too_much)->entry[HP_CHECK_CURRENT], number == WIRING ? 2 : 0);
    }
}

/* Its own step knows its volts and what drags. Where there is none, a small current is a good sign
 * and a large one none. */
static void without_its_step_a_no_load_run_fails_nothing(void **state)
{
    (void)state;
    bench b = {.entries = 0};
    at_full(&b, WIRING, 0.3)->throttle = 0.35;
    run_without_load(&b, 9.0);
    check_true(!found(&b, NULL)->stands, "9 A, and no step");
    b.entries = 0;
    at_full(&b, WIRING, 9.0);
    run_without_load(&b, 9.0);
    check_int(found(&b, NULL)->entry[HP_CHECK_CURRENT], 1);
    b.entries = 1;
    run_without_load(&b, 0.3);
    check_true(!found(&b, NULL)->stands, "0.3 A takes it back");
}

static void gentle_runs_and_other_wirings_fail_nothing(void **state)
{
    (void)state;
    bench b = {.entries = 0};
    at_full(&b, WIRING, 9.0)->throttle = 0.5;
    at_full(&b, WIRING + 1, 9.0);
    at_full(&b, WIRING, 9.0)->feed = HP_FEED_LAMP;
    check_true(!found(&b, NULL)->stands, "none was a free run at full throttle of this wiring");
}

/* Bands go with the duty of the position: 10 to 12.5 rad/s at half of 20 to 25. */
static void a_slow_run_may_be_a_slower_position_of_the_switch(void **state)
{
    (void)state;
    const hp_band full = {20.0, 25.0};
    const hp_speed_params three = {.cap = {0.5, 0.75, 1.0}, .steps = 3, .chosen = 3};
    const hp_speed_params chosen_half = {.cap = {0.25, 0.5, 1.0}, .steps = 3, .chosen = 2};
    const hp_speed_params one = {.cap = {1.0}, .steps = 1, .chosen = 1};
    hp_failed_check slow = {.stands = true, .wheel_rad_s = 11.0};
    slow.entry[HP_CHECK_SLOW] = 4;
    check_int(hp_failed_check_step(&slow, full, &three), 1);
    check_int(hp_failed_check_step(&slow, full, &chosen_half), 1);
    check_int(hp_failed_check_step(&slow, full, &one), 0);
    slow.wheel_rad_s = 15.2;
    check_int(hp_failed_check_step(&slow, full, &three), 2);
    slow.wheel_rad_s = 9.9;
    check_int(hp_failed_check_step(&slow, full, &three), 0);
    slow.wheel_rad_s = 13.0;
    check_int(hp_failed_check_step(&slow, full, &three), 0);
    /* A current that no right wiring draws is no switch's doing. */
    slow.wheel_rad_s = 11.0;
    slow.entry[HP_CHECK_CURRENT] = 4;
    check_int(hp_failed_check_step(&slow, full, &three), 0);
    const hp_failed_check none = {.wheel_rad_s = 11.0};
    check_int(hp_failed_check_step(&none, full, &three), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_limit_is_never_inside_the_band),
        cmocka_unit_test(a_run_without_load_is_judged_by_its_speed_too),
        cmocka_unit_test(what_cuts_out_takes_no_current_back_and_is_not_slow),
        cmocka_unit_test(a_no_load_run_speaks_of_the_wiring_that_was_joined),
        cmocka_unit_test(without_its_step_a_no_load_run_fails_nothing),
        cmocka_unit_test(gentle_runs_and_other_wirings_fail_nothing),
        cmocka_unit_test(a_slow_run_may_be_a_slower_position_of_the_switch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
