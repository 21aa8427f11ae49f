/*
 * The equals of a wiring that works, held against hidden controllers: from their table the three
 * right wirings are known, and the log is what such a machine would show.
 */
#include "decide/advise/equals.h"

#include "check.h"
#include "decide/advise/hypothesis.h"
#include "decide/reading/reading_list.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

typedef struct bench {
    hp_drive drive;
    hp_person person;
    hp_prior_params prior;
    hp_entry entry[8];
    int entries;
} bench;

static bench open_bench(int table_stated)
{
    bench b = {.drive = hp_drive_default(),
               .person = hp_person_default(),
               .prior = hp_prior_default(),
               .entries = 0};
    b.prior.table = table_stated;
    return b;
}

static hp_entry *add(bench *b, const hp_reading *kind)
{
    hp_entry *entry = &b->entry[b->entries++];
    *entry = hp_entry_make(kind, b->entries);
    return entry;
}

static void add_probe(bench *b, int table, int rows)
{
    hp_entry *entry = add(b, &hp_reading_probe);
    hp_commutation_table metered = hp_table_get(table);
    for (int code = 1; code <= rows; code++) {
        entry->probe.read[code] = true;
        entry->probe.row[code] = metered.row[code];
    }
}

static hp_trial *add_trial(bench *b, int number, hp_motion motion, hp_feel feel)
{
    hp_entry *entry = add(b, &hp_reading_trial);
    entry->trial.throttle = 0.35;
    entry->trial.wiring = hp_wiring_from_number(number);
    entry->trial.motion = motion;
    entry->trial.feel = feel;
    return &entry->trial;
}

static hp_equals find(const bench *b, int number)
{
    return hp_equals_find(number, &b->drive, &b->person, &b->prior, b->entry, b->entries);
}

static void check_set(const hp_equals *equals, int number, const int right[3])
{
    int k = 0;
    for (int j = 0; j < 3; j++)
        if (right[j] != number)
            check_int(equals->number[k++], right[j]);
    check_int(k, 2);
}

static void a_metered_table_outweighs_the_stated_one(void **state)
{
    (void)state;
    for (int stated = -1; stated < HP_TABLES_120; stated++)
        for (int table = 0; table < HP_TABLES_120; table++)
            for (int relation = 0; relation < HP_RELATION_COUNT; relation++) {
                int right[3];
                bench b = open_bench(stated);
                add_probe(&b, table, 6);
                hp_right_wirings(relation, table, right);
                hp_equals equals = find(&b, right[1]);
                check_set(&equals, right[1], right);
                check_int(equals.table, table);
                check_true(equals.probability >= HP_EQUALS_KNOWN, "%g: stated %d, true %d",
                           equals.probability, stated, table);
            }
}

/* What stood still while the controller was silent says nothing against its wiring; a check of the
 * controller that finds nothing changes nothing, and neither does away with what was measured. */
static void a_trial_before_the_key_was_on_tells_nothing(void **state)
{
    (void)state;
    int right[3];
    bench b = open_bench(0);
    hp_right_wirings(2, 0, right); /* 3, 20, 30 */
    double untried = find(&b, 3).probability;
    add_trial(&b, 20, HP_MOVED_STILL, HP_FEEL_UNSAID);
    double still = find(&b, 3).probability;
    check_true(still < HP_EQUALS_KNOWN, "%g", still);
    hp_entry *controls = add(&b, &hp_reading_controls);
    controls->controls.found = HP_FOUND_NOTHING;
    check_true(find(&b, 3).probability < HP_EQUALS_KNOWN, "%g", find(&b, 3).probability);
    controls->controls.found = HP_FOUND_KEY;
    check_close(find(&b, 3).probability, untried, 0.02, "what the check itself adds is small");
    b.entries = 0;
    add_probe(&b, 7, 6);
    double metered = find(&b, 3).probability;
    add(&b, &hp_reading_controls)->controls.found = HP_FOUND_KEY;
    check_int(find(&b, 3).table, 7);
    check_close(find(&b, 3).probability, metered, 0.02, "a key changes no table");
}

static void a_table_nobody_knows_leaves_the_equals_open(void **state)
{
    (void)state;
    bench b = open_bench(-1);
    b.prior.inverted = 0.0; /* 120-degree sensors for sure */
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        check_close(find(&b, n).probability, 0.5, 1e-12, "half of the tables each, rounding");
    b = open_bench(0);
    check_true(find(&b, 1).probability > 0.97, "stated: %g", find(&b, 1).probability);
    b.prior.table_stated = 0.5; /* bench.table_wrong_percent: 50 */
    check_true(find(&b, 1).probability < HP_EQUALS_KNOWN, "doubted: %g", find(&b, 1).probability);
}

/* Hand turn and parking say on which axes the leads sit; with a wiring that works that leaves one
 * table, whatever the scenario says. */
static void leads_that_were_found_tell_the_table(void **state)
{
    (void)state;
    for (int relation = 0; relation < HP_RELATION_COUNT; relation++) {
        int right[3], ring[HP_SECTOR_COUNT], axis[HP_PHASE_COUNT], sensor[HP_PHASE_COUNT];
        hp_hypothesis h = {relation, 5, -1, {HP_FAULT_NONE, 0}};
        bench b = open_bench(-1);
        hp_entry *turn = add(&b, &hp_reading_hand_turn);
        turn->hand_turn.count = hp_marked_ring(&h, ring);
        for (int k = 0; k < turn->hand_turn.count; k++)
            turn->hand_turn.code[k] = ring[k];
        hp_relation_axes(relation, sensor, axis);
        for (int lead = 0; lead < 2; lead++) {
            hp_entry *park = add(&b, &hp_reading_park);
            park->park.lead = lead;
            park->park.code = hp_marked_code(&h, hp_phase_axis(axis[lead]));
        }
        hp_right_wirings(relation, 5, right);
        hp_equals equals = find(&b, right[0]);
        check_set(&equals, right[0], right);
        check_true(equals.probability >= HP_EQUALS_KNOWN, "%g", equals.probability);
    }
}

static void a_tried_equal_that_fails_is_no_equal(void **state)
{
    (void)state;
    int right[3];
    bench b = open_bench(0);
    hp_right_wirings(2, 0, right); /* 3, 20, 30 */
    double before = find(&b, 3).probability;
    add_trial(&b, 20, HP_MOVED_FORWARD, HP_FEEL_SMOOTH);
    check_true(find(&b, 3).probability > before, "%g", find(&b, 3).probability);
    b.entries = 0;
    add_trial(&b, 20, HP_MOVED_STILL, HP_FEEL_UNSAID);
    check_true(find(&b, 3).probability < HP_EQUALS_KNOWN, "%g", find(&b, 3).probability);
    /* What the other set would have shown: it takes over. */
    add_trial(&b, 24, HP_MOVED_FORWARD, HP_FEEL_SMOOTH);
    add_trial(&b, 30, HP_MOVED_SHIVER, HP_FEEL_UNSAID);
    hp_equals equals = find(&b, 3);
    check_int(equals.number[0], 24);
    check_int(equals.number[1], 26);
}

/* After a mend the motor is another, the controller is not, unless that was what was changed. */
static void a_mend_ends_what_was_read_before(void **state)
{
    (void)state;
    bench b = open_bench(0);
    add_trial(&b, 20, HP_MOVED_STILL, HP_FEEL_UNSAID);
    hp_entry *mend = add(&b, &hp_reading_mend);
    mend->mend.fault = (hp_fault){HP_FAULT_LEAD_OPEN, 1};
    check_true(find(&b, 3).probability >= HP_EQUALS_KNOWN, "%g", find(&b, 3).probability);
    b = open_bench(0);
    add_probe(&b, 1, 6);
    add(&b, &hp_reading_mend)->mend.fault = (hp_fault){HP_FAULT_LEAD_OPEN, 1};
    check_int(find(&b, 3).number[0], 24);
    b.entry[1].mend = (hp_mend){.what = HP_MENDED_INVERSION};
    check_int(find(&b, 3).number[0], 24);
    b.entry[1].mend = (hp_mend){.what = HP_MENDED_CONTROLLER};
    check_true(find(&b, 3).probability < HP_EQUALS_KNOWN, "%g", find(&b, 3).probability);
}

/* Hub and controller made for 60 degrees: moving all leads on by one brings the inverted one to an
 * input that is not. An inverter makes three of it again, if the table is one for 120. */
static void a_matched_set_has_no_equals(void **state)
{
    (void)state;
    for (int table = HP_TABLES_120; table < HP_TABLE_COUNT; table += 5) {
        int right[3];
        hp_hypothesis h = {4, table, 1, {HP_FAULT_NONE, 0}};
        bench b = open_bench(-1);
        b.prior.matched = HP_MATCHED_UNSTATED;
        hp_entry *turn = add(&b, &hp_reading_hand_turn);
        turn->hand_turn.count = hp_marked_ring(&h, turn->hand_turn.code);
        hp_hypothesis_rights(&h, right);
        /* What works on such a hub has the controller for it. */
        check_int(find(&b, right[0]).number[0], 0);
        add_probe(&b, table, 7);
        hp_equals equals = find(&b, right[0]);
        check_int(equals.number[0], 0);
        check_int(equals.number[1], 0);
        check_int(equals.table, table);
        check_true(equals.probability >= HP_EQUALS_KNOWN, "table %d: %g", table,
                   equals.probability);
    }
    bench b = open_bench(HP_TABLES_120);
    b.prior.inverted = 0.9;
    check_int(find(&b, 8).number[0], 0);
    b = open_bench(0);
    b.prior.inverted = 0.9;
    b.prior.matched = HP_MATCHED_UNSTATED;
    check_true(find(&b, 3).number[0] == 0, "a hub of 60 degrees that works has its controller");
    hp_hypothesis h = {4, 0, 1, {HP_FAULT_NONE, 0}};
    hp_entry *turn = add(&b, &hp_reading_hand_turn);
    turn->hand_turn.count = hp_marked_ring(&h, turn->hand_turn.code);
    check_int(find(&b, 3).number[0], 0);
    add(&b, &hp_reading_mend)->mend = (hp_mend){.what = HP_MENDED_INVERSION, .inverter = 2};
    check_int(find(&b, 3).number[0], 20);
    check_true(find(&b, 3).probability >= HP_EQUALS_KNOWN, "%g", find(&b, 3).probability);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_metered_table_outweighs_the_stated_one),
        cmocka_unit_test(a_trial_before_the_key_was_on_tells_nothing),
        cmocka_unit_test(a_table_nobody_knows_leaves_the_equals_open),
        cmocka_unit_test(leads_that_were_found_tell_the_table),
        cmocka_unit_test(a_tried_equal_that_fails_is_no_equal),
        cmocka_unit_test(a_mend_ends_what_was_read_before),
        cmocka_unit_test(a_matched_set_has_no_equals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
