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

/* A wheel that starts from a part of the places only fails, however well it runs from those. */
static void what_starts_from_some_places_only_fails(void **state)
{
    (void)state;
    bench b = {.entries = 0};
    hp_trial *first = at_full(&b, WIRING, 0.3);
    first->starts = 4;
    first->starts_tried = 6;
    check_int(found(&b, NULL)->entry[HP_CHECK_STARTS], 1);
    check_int(b.failed.starts, 4);
    check_int(b.failed.starts_tried, 6);
    check_true(hp_last_count_missed(b.entry, b.entries, WIRING), "4 of 6");
    check_true(!hp_last_count_missed(b.entry, b.entries, WIRING + 1), "another wiring");
    hp_trial *second = at_full(&b, WIRING, 0.3);
    check_int(found(&b, NULL)->entry[HP_CHECK_STARTS], 1);
    check_true(hp_last_count_missed(b.entry, b.entries, WIRING), "nobody counted");
    second->starts = second->starts_tried = 6;
    check_true(!found(&b, NULL)->stands, "from all of them");
    check_true(!hp_last_count_missed(b.entry, b.entries, WIRING), "from all of them");
    /* Only what was found loose takes it back. */
    second->starts_tried = 0;
    b.entry[b.entries++] = hp_entry_make(&hp_reading_contacts, 3);
    hp_contacts *c = hp_entry_values(&b.entry[2]);
    c->loose = HP_CONTACT_NOTHING;
    check_int(found(&b, NULL)->entry[HP_CHECK_STARTS], 1);
    check_true(hp_last_count_missed(b.entry, b.entries, WIRING), "nothing found");
    c->loose = HP_CONTACT_PHASE_LEAD;
    check_true(!found(&b, NULL)->stands, "found and mended");
    check_true(!hp_last_count_missed(b.entry, b.entries, WIRING), "found and mended");
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

/* As a danger: what says nothing of it takes nothing back. What another wiring did says nothing of
 * this one, and a new grip nothing of a hub that grew warm. What a reading found and put right is a
 * mend, too. */
static void a_warning_is_taken_back_by_what_speaks_of_it(void **state)
{
    (void)state;
    enum {
        NONE,
        WARM,
        CUT,
        COOL,
        ON,
        SILENT,
        OTHER_COOL,
        OTHER_WARM,
        HELD,
        GRIP,
        KEY,
        CLUTCH,
        RUN,
        CONTACT,
        ALL_HELD,
        NONE_FOUND,
        KEY_FOUND,
        GRIP_FOUND,
        CODE_FOUND
    };
    static const hp_found found[] = {[NONE_FOUND] = HP_FOUND_NOTHING,
                                     [KEY_FOUND] = HP_FOUND_KEY,
                                     [GRIP_FOUND] = HP_FOUND_THROTTLE,
                                     [CODE_FOUND] = HP_FOUND_CODE};
    static const struct {
        int said[4], at, runs;
    } rows[] = {{{SILENT}, -1, 0},
                {{WARM}, 0, 1},
                {{WARM, SILENT}, 0, 1},
                {{WARM, SILENT, SILENT, WARM}, 3, 2},
                {{WARM, COOL}, -1, 0},
                {{WARM, COOL, WARM, SILENT}, 2, 1},
                {{WARM, ON}, 0, 1},
                {{CUT, ON}, -1, 0},
                {{CUT, COOL}, 0, 1},
                {{CUT, SILENT}, 0, 1},
                {{CUT, HELD}, 0, 1},
                {{HELD}, -1, 0},
                {{WARM, OTHER_COOL}, -1, 0},
                {{WARM, OTHER_COOL, SILENT}, 0, 1},
                {{OTHER_WARM, SILENT}, -1, 0},
                {{WARM, GRIP}, 0, 1},
                {{WARM, KEY}, 0, 1},
                {{WARM, CLUTCH}, -1, 0},
                {{CUT, GRIP}, 0, 1},
                {{CUT, KEY}, -1, 0},
                {{WARM, GRIP, SILENT}, 0, 1},
                {{WARM, RUN}, 0, 1},
                {{CUT, SILENT, RUN}, -1, 0},
                {{CUT, CONTACT}, -1, 0},
                {{WARM, CONTACT}, -1, 0},
                {{CUT, ALL_HELD}, 0, 1},
                {{CUT, KEY_FOUND}, -1, 0},
                {{WARM, KEY_FOUND}, 0, 1},
                {{CUT, GRIP_FOUND}, 0, 1},
                {{WARM, CODE_FOUND}, -1, 0},
                {{CUT, NONE_FOUND}, 0, 1}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b = {.entries = 0};
        for (int e = 0; e < 4 && rows[k].said[e] != NONE; e++) {
            int said = rows[k].said[e];
            if (said == RUN) {
                run_without_load(&b, 0.3);
            } else if (said == CONTACT || said == ALL_HELD) {
                b.entry[b.entries] = hp_entry_make(&hp_reading_contacts, b.entries + 1);
                b.entry[b.entries++].contacts.loose =
                    said == CONTACT ? HP_CONTACT_PHASE_LEAD : HP_CONTACT_NOTHING;
            } else if (said >= NONE_FOUND) {
                b.entry[b.entries] = hp_entry_make(&hp_reading_controls, b.entries + 1);
                b.entry[b.entries++].controls.found = found[said];
            } else if (said == GRIP || said == KEY || said == CLUTCH) {
                hp_entry *mend = &b.entry[b.entries];
                *mend = hp_entry_make(&hp_reading_mend, ++b.entries);
                if (said == CLUTCH)
                    mend->mend.fault.kind = HP_FAULT_CLUTCH;
                else
                    mend->mend.what = said == KEY ? HP_MENDED_KEY : HP_MENDED_THROTTLE;
            } else {
                hp_trial *t = at_full(&b, WIRING + (said == OTHER_COOL || said == OTHER_WARM), 0.3);
                t->throttle = 0.35;
                t->warm = said == WARM || said == OTHER_WARM   ? HP_TELL_YES
                          : said == COOL || said == OTHER_COOL ? HP_TELL_NO
                                                               : HP_TELL_UNSAID;
                t->cut_out = said == CUT || said == HELD ? HP_TELL_YES
                             : said == ON                ? HP_TELL_NO
                                                         : HP_TELL_UNSAID;
                if (said == HELD) {
                    t->feed = HP_FEED_LAMP;
                    t->limit_reached = HP_TELL_YES;
                }
            }
        }
        int runs = -1;
        check_int(hp_warned_at(b.entry, b.entries, &runs), rows[k].at);
        check_true(runs == rows[k].runs, "row %zu: %d runs", k, runs);
    }
}

/* Each sign by itself: a new switch may be why it was slow, and no reason for what it drew. */
static void a_mend_takes_back_what_its_part_can_have_caused(void **state)
{
    (void)state;
    static const struct {
        hp_mend mend;
        bool draw, slow, cut_out;
    } rows[] = {{{.what = HP_MENDED_THROTTLE}, true, false, true},
                {{.what = HP_MENDED_SPEED_SWITCH}, true, false, true},
                {{.what = HP_MENDED_KEY}, true, true, false},
                {{.what = HP_MENDED_BRAKE_LEFT}, true, true, false},
                {{.what = HP_MENDED_PEDAL_SENSOR}, true, true, true},
                {{.what = HP_MENDED_BATTERY}, true, false, false},
                {{.fault = {HP_FAULT_CUTTING_OUT, 0}}, true, true, false},
                {{.fault = {HP_FAULT_LOOSE, 0}}, false, false, false},
                {{.what = HP_MENDED_CONTROLLER}, false, false, false}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b = {.entries = 0};
        at_full(&b, WIRING, 9.0)->wheel_rad_s = 5.0;
        at_full(&b, WIRING, (double)NAN)->cut_out = HP_TELL_YES;
        b.entry[2] = hp_entry_make(&hp_reading_mend, ++b.entries);
        b.entry[2].mend = rows[k].mend;
        const hp_failed_check *failed = found(&b, NULL);
        check_true((failed->entry[HP_CHECK_CURRENT] > 0) == rows[k].draw, "row %zu: draw", k);
        check_true((failed->entry[HP_CHECK_SLOW] > 0) == rows[k].slow, "row %zu: slow", k);
        check_true((failed->entry[HP_CHECK_CUT_OUT] > 0) == rows[k].cut_out, "row %zu: cut", k);
    }
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
        cmocka_unit_test(what_starts_from_some_places_only_fails),
        cmocka_unit_test(a_no_load_run_speaks_of_the_wiring_that_was_joined),
        cmocka_unit_test(without_its_step_a_no_load_run_fails_nothing),
        cmocka_unit_test(gentle_runs_and_other_wirings_fail_nothing),
        cmocka_unit_test(a_warning_is_taken_back_by_what_speaks_of_it),
        cmocka_unit_test(a_mend_takes_back_what_its_part_can_have_caused),
        cmocka_unit_test(a_slow_run_may_be_a_slower_position_of_the_switch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
