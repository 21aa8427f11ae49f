/* What begins at some moment, and what comes and goes: a controller that is held off, or dies,
 * after it was seen to drive; a lead that makes contact only now and then, met by readings. */
#include "decide/advise/plan_parts.h"
#include "decide/reading/reading.h"
#include "decide/reading/reading_parts.h"
#include "plan_bench.h"

#include <math.h>
#include <string.h>

static bench real_bench(void)
{
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.prior.table = -1;
    b.params.ammeter = true;
    b.params.allowed &= ~hp_allow(&hp_reading_supply);
    return b;
}

static double chance_of(const bench *b, hp_fault_kind kind)
{
    double trouble[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b->belief, trouble);
    return trouble[hp_trouble_index(-1, (hp_fault){kind, 0})];
}

/* Whatever is wrong with the parts. */
static double correct(const bench *b, int number)
{
    double right[HP_WIRING_COUNT + 1];
    hp_belief_wirings_mended(&b->belief, right);
    return right[number];
}

static void add_hub(bench *b)
{
    static const int code[] = {4, 6, 2, 3, 1, 5, 4}, rest[] = {4, 2, 1};
    hp_entry pins = hp_entry_make(&hp_reading_pins, 0),
             turn = hp_entry_make(&hp_reading_hand_turn, 0);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        pins.pins.open[k] = HP_TELL_NO;
    turn.hand_turn.count = sizeof code / sizeof code[0];
    memcpy(turn.hand_turn.code, code, sizeof code);
    add(b, pins);
    add(b, turn);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        hp_entry park = hp_entry_make(&hp_reading_park, 0);
        park.park.lead = k;
        park.park.code = rest[k];
        add(b, park);
    }
}

/* Of a table, or, without one, of a controller that drives nothing. */
static void add_probe(bench *b, const hp_commutation_table *table)
{
    hp_entry probe = hp_entry_make(&hp_reading_probe, 0);
    for (int k = 0; k < HP_CODE_COUNT; k++) {
        probe.probe.read[k] = true;
        probe.probe.row[k] = table ? table->row[k] : (hp_commutation_row){-1, -1};
    }
    add(b, probe);
}

static hp_entry run_of(int number, hp_motion motion, double amps)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(number);
    e.trial.throttle = 0.35;
    e.trial.motion = motion;
    e.trial.feel = motion == HP_MOVED_FORWARD ? HP_FEEL_SMOOTH : HP_FEEL_UNSAID;
    e.trial.starts = motion == HP_MOVED_FORWARD ? 6 : 0;
    e.trial.starts_tried = 6;
    e.trial.battery_a = amps;
    e.trial.cut_out = HP_TELL_NO;
    return e;
}

static void add_controls(bench *b, hp_found found)
{
    hp_entry e = hp_entry_make(&hp_reading_controls, 0);
    e.controls.found = found;
    add(b, e);
}

static void check_asks(const bench *b, const hp_reading *reading, const char *what)
{
    hp_advice advice = next(b);
    check_true(advice.kind == HP_ADVICE_READ && advice.reading == reading,
               "%s: kind %d, reading %s", what, (int)advice.kind,
               advice.kind == HP_ADVICE_READ ? hp_reading_name(advice.reading) : "none");
}

/* The leads were joined behind the probe: what holds the controller off came then, and what was
 * metered stands. */
static void a_probe_that_drove_excludes_nothing_that_came_after_it(void **state)
{
    (void)state;
    bench b = real_bench();
    hp_commutation_table table = hp_commutation_table_120();
    open_bench(&b);
    add_hub(&b);
    add_probe(&b, &table);
    double before = correct(&b, 1);
    check_true(before > 0.8, "%g", before);
    add(&b, run_of(1, HP_MOVED_STILL, 0.0));
    check_true(chance_of(&b, HP_FAULT_SILENT) > 0.5, "%g", chance_of(&b, HP_FAULT_SILENT));
    check_close(correct(&b, 1), before, 0.05, "the table that was metered");
    check_asks(&b, &hp_reading_controls, "what holds it off");
    /* Whatever it was, it is believed, and that wiring is run once more. */
    for (int found = HP_FOUND_KEY; found <= HP_FOUND_BRAKE; found++) {
        bench other = b;
        hp_error err = hp_error_none();
        check_int(hp_belief_copy(&b.belief, &other.belief, &err), HP_OK);
        add_controls(&other, (hp_found)found);
        check_true(chance_of(&other, HP_FAULT_NONE) > 0.95, "%g", chance_of(&other, HP_FAULT_NONE));
        check_close(correct(&other, 1), before, 0.05, "the same wiring");
        hp_advice advice = next(&other);
        check_int(advice.kind, HP_ADVICE_LOOK);
        check_int(advice.number, 1);
        hp_belief_free(&other.belief);
    }
    close_bench(&b);
}

/* Neither a slip nor a cut-out that nobody noticed: it drove, and drives no more. */
static void a_controller_that_dies_is_named(void **state)
{
    (void)state;
    bench b = real_bench();
    hp_commutation_table table = hp_commutation_table_120();
    open_bench(&b);
    add_hub(&b);
    add_probe(&b, &table);
    add(&b, run_of(1, HP_MOVED_FORWARD, 0.1));
    check_true(chance_of(&b, HP_FAULT_SILENT) < 0.001, "%g", chance_of(&b, HP_FAULT_SILENT));
    add(&b, run_of(1, HP_MOVED_STILL, 0.0));
    check_asks(&b, &hp_reading_controls, "what holds it off");
    add_controls(&b, HP_FOUND_NOTHING);
    add(&b, run_of(1, HP_MOVED_STILL, 0.0));
    check_asks(&b, &hp_reading_probe, "whether it drives its outputs");
    check_int(next(&b).why, HP_WHY_BEFORE_END);
    add_probe(&b, NULL);
    hp_advice advice = next(&b);
    check_int(advice.kind, HP_ADVICE_REPAIR);
    check_int(advice.trouble, hp_trouble_index(-1, (hp_fault){HP_FAULT_SILENT, 0}));
    /* Exchanged, it is another: what was known of the hub stays. */
    hp_entry mend = hp_entry_make(&hp_reading_mend, 0);
    mend.mend.what = HP_MENDED_CONTROLLER;
    add(&b, mend);
    add_probe(&b, &table);
    check_true(correct(&b, 1) > 0.8, "%g", correct(&b, 1));
    close_bench(&b);
}

static bool contradicts(const bench *b)
{
    hp_contradiction c;
    hp_error err = hp_error_none();
    check_int(hp_belief_contradiction(&b->belief, &c, NULL, &err), HP_OK);
    return c.found;
}

/* What a hand felt as well is no slip of the meter, and no lead that opens now and then. */
static void too_many_amperes_and_warm_is_no_slip(void **state)
{
    (void)state;
    bench b = real_bench();
    open_bench(&b);
    add_hub(&b);
    add(&b, run_of(1, HP_MOVED_FORWARD, 0.1));
    add(&b, run_of(1, HP_MOVED_FORWARD, 0.1));
    hp_entry warm = run_of(1, HP_MOVED_FORWARD, 2.0);
    for (int k = 0; k < 2; k++) {
        bench other = b;
        hp_error err = hp_error_none();
        check_int(hp_belief_copy(&b.belief, &other.belief, &err), HP_OK);
        warm.trial.warm = k == 0 ? HP_TELL_NO : HP_TELL_YES;
        add(&other, warm);
        check_int(contradicts(&other), k == 0);
        check_int(hp_plan_unsteady(&other.belief, 0.0), k == 0);
        hp_belief_free(&other.belief);
    }
    close_bench(&b);
}

static hp_entry park_of(int lead, int code)
{
    hp_entry e = hp_entry_make(&hp_reading_park, 0);
    e.park.lead = lead;
    e.park.code = code;
    e.park.no_current = code < 0 ? HP_TELL_YES : HP_TELL_UNSAID;
    return e;
}

/* Joined, then open, then joined: no two of them are a slip, before it is found or after. */
static void a_loose_lead_explains_readings_that_change(void **state)
{
    (void)state;
    bench b = real_bench();
    hp_entry loose = hp_entry_make(&hp_reading_contacts, 0);
    open_bench(&b);
    add_hub(&b);
    double before = chance_of(&b, HP_FAULT_LOOSE);
    add(&b, park_of(2, -1));
    add(&b, park_of(2, -1));
    check_true(chance_of(&b, HP_FAULT_LOOSE) > 10.0 * before, "%g, before %g",
               chance_of(&b, HP_FAULT_LOOSE), before);
    check_asks(&b, &hp_reading_contacts, "nothing runs yet");
    loose.contacts.loose = HP_CONTACT_PHASE_LEAD;
    add(&b, loose);
    check_true(chance_of(&b, HP_FAULT_NONE) > 0.9, "%g", chance_of(&b, HP_FAULT_NONE));
    add(&b, park_of(2, 1));
    add(&b, run_of(1, HP_MOVED_FORWARD, 0.1));
    check_true(!contradicts(&b), "found and mended");
    close_bench(&b);
}

/* ... though something else was wrong before: that runs differed was no slip. */
static void what_a_loose_lead_made_is_no_slip_once_it_is_mended(void **state)
{
    (void)state;
    bench b = real_bench();
    hp_entry some = run_of(1, HP_MOVED_FORWARD, 0.1),
             loose = hp_entry_make(&hp_reading_contacts, 0);
    open_bench(&b);
    add_hub(&b);
    add(&b, run_of(1, HP_MOVED_STILL, 0.0));
    add(&b, run_of(1, HP_MOVED_STILL, 0.0));
    add_controls(&b, HP_FOUND_BRAKE);
    some.trial.starts = 3;
    add(&b, some);
    add(&b, run_of(1, HP_MOVED_FORWARD, 0.1));
    add(&b, run_of(1, HP_MOVED_FORWARD, 0.1));
    check_true(contradicts(&b), "three of six, and all of them");
    loose.contacts.loose = HP_CONTACT_PHASE_LEAD;
    add(&b, loose);
    check_true(!contradicts(&b), "found and mended");
    close_bench(&b);
}

/* The second silence of the same lead says more than the silence of another. */
static void the_same_lead_twice_tells_more_than_two(void **state)
{
    (void)state;
    double loose[2];
    for (int k = 0; k < 2; k++) {
        bench b = real_bench();
        open_bench(&b);
        add_hub(&b);
        add(&b, park_of(2, -1));
        add(&b, park_of(2 - k, -1));
        loose[k] = chance_of(&b, HP_FAULT_LOOSE);
        close_bench(&b);
    }
    check_true(loose[0] > 2.0 * loose[1], "%g and %g", loose[0], loose[1]);
}

/* A code too many where a Hall lead opens for a moment is no other order, and no sensor that is
 * stuck. */
static void a_hall_lead_that_opens_for_a_moment(void **state)
{
    (void)state;
    static const int code[] = {4, 6, 7, 2, 3, 1, 5, 7, 4};
    bench b = real_bench();
    open_bench(&b);
    hp_entry turn = hp_entry_make(&hp_reading_hand_turn, 0);
    turn.hand_turn.count = sizeof code / sizeof code[0];
    memcpy(turn.hand_turn.code, code, sizeof code);
    add(&b, turn);
    check_true(chance_of(&b, HP_FAULT_LOOSE) > 0.5, "%g", chance_of(&b, HP_FAULT_LOOSE));
    add_hub(&b);
    check_true(correct(&b, 1) > 0.01, "%g", correct(&b, 1));
    close_bench(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_probe_that_drove_excludes_nothing_that_came_after_it),
        cmocka_unit_test(a_controller_that_dies_is_named),
        cmocka_unit_test(too_many_amperes_and_warm_is_no_slip),
        cmocka_unit_test(a_loose_lead_explains_readings_that_change),
        cmocka_unit_test(what_a_loose_lead_made_is_no_slip_once_it_is_mended),
        cmocka_unit_test(the_same_lead_twice_tells_more_than_two),
        cmocka_unit_test(a_hall_lead_that_opens_for_a_moment),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
