/* The report of an advice: whatever the log says, lines fit a terminal and the JSON is whole. */
#include "check.h"
#include "entry_kind.h"

#include "base/random.h"
#include "decide/advise/hypothesis.h"
#include "default_table.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/words/advice_report.h"

#include <jansson.h>

#define ENTRIES_MOST 16

typedef struct bench {
    hp_drive drive;
    hp_labels labels;
    hp_likelihood table;
    hp_person person;
    hp_prior_params prior;
    hp_plan_params plan;
    hp_planner *planner;
    hp_belief belief;
} bench;

static void open_bench(bench *b)
{
    static const char *const name[] = {"grün", "a lead with a rather long name, 1.5 mm", "x"};
    hp_error err = hp_error_none();
    b->drive = hp_drive_default();
    b->labels = hp_labels_default();
    for (int k = 0; k < 3; k++) {
        snprintf(b->labels.motor_lead[k], HP_LABEL_SIZE, "%s", name[k]);
        snprintf(b->labels.controller_output[k], HP_LABEL_SIZE, "%s", name[2 - k]);
    }
    b->table = default_table();
    b->person = hp_person_default();
    b->prior = hp_prior_default();
    b->plan = hp_plan_params_default();
    b->planner = hp_planner_create(&b->table, &b->person, &b->plan, &err);
    check_true(b->planner != NULL, "%s", err.text);
}

static void close_bench(bench *b)
{
    hp_planner_free(b->planner);
    hp_likelihood_free(&b->table);
}

static int below(hp_random *random, int count)
{
    return (int)hp_random_below(random, (uint32_t)count);
}

static hp_entry random_trial(hp_random *random)
{
    static const double throttle[] = {0.35, 0.14, 0.8}, ampere[] = {0.0, 0.1, 3.0, 20.0};
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(1 + below(random, 36));
    e.trial.throttle = throttle[below(random, 3)];
    e.trial.motion = (hp_motion)(1 + below(random, HP_MOVED_COUNT - 1));
    e.trial.feel = (hp_feel)below(random, HP_FEEL_COUNT);
    e.trial.starts_tried = 6;
    bool turned = e.trial.motion != HP_MOVED_SHIVER && e.trial.motion != HP_MOVED_STILL;
    e.trial.starts = turned ? 1 + below(random, 6) : 0;
    e.trial.battery_a = below(random, 3) ? ampere[below(random, 4)] : (double)NAN;
    return e;
}

/* Anything that passes the check of entries. */
static hp_entry random_entry(hp_random *random)
{
    static const double ohm[] = {(double)INFINITY, 0.2, 5.0, 900.0}, volt[] = {0.0, 7.0, 300.0};
    hp_entry e = hp_entry_make(kind_reading(below(random, KIND_COUNT)), 0);
    switch (kind_of(e.reading)) {
    case KIND_PINS:
        for (int k = 0; k < 3; k++)
            e.pins.open[k] = (hp_tell)below(random, HP_TELL_COUNT);
        e.pins.shell = below(random, 10) ? HP_TELL_NO : HP_TELL_YES;
        break;
    case KIND_SUPPLY: e.supply.volts = below(random, 10) ? 5.0 : 37.0; break;
    case KIND_HAND_TURN:
        e.hand_turn.count = 1 + below(random, HP_TURN_CODES);
        for (int k = 0; k < e.hand_turn.count; k++)
            e.hand_turn.code[k] = below(random, 8);
        break;
    case KIND_WINDING:
        for (int k = 0; k < 3; k++)
            e.winding.ohm[k] = ohm[below(random, 4)];
        break;
    case KIND_SPIN:
        for (int k = 0; k < 3; k++)
            e.spin.volts[k] = volt[below(random, 3)];
        e.spin.wheel_rad_s = 6.28;
        break;
    case KIND_PARK:
        e.park.lead = below(random, 3);
        e.park.code = below(random, 9) - 1;
        break;
    case KIND_TRIAL: e = random_trial(random); break;
    case KIND_LEARN: e.learn.worked = (hp_tell)below(random, HP_TELL_COUNT); break;
    case KIND_MEND: e.mend.fault = hp_fault_from_index(below(random, HP_FAULT_COUNT)); break;
    case KIND_CONTROLS: e.controls.found = (hp_found)below(random, HP_FOUND_COUNT); break;
    case KIND_DRAG: e.drag.idle_a = volt[below(random, 3)]; break;
    case KIND_CONTACTS: e.contacts.loose = (hp_contact)below(random, HP_CONTACT_COUNT); break;
    case KIND_PROBE:
    case KIND_COUNT: break;
    }
    return e;
}

static void check_columns(const char *text)
{
    char line[1000];
    while (*text) {
        size_t bytes = strcspn(text, "\n");
        check_true(bytes < sizeof line, "a line of %zu bytes", bytes);
        snprintf(line, sizeof line, "%.*s", (int)bytes, text);
        check_true(hp_text_columns(line) <= HP_TEXT_COLUMNS, "%d columns: %s",
                   hp_text_columns(line), line);
        check_true(strstr(line, "(null)") == NULL && strstr(line, "nan") == NULL, "%s", line);
        text += bytes + (text[bytes] == '\n');
    }
}

static void check_json(const hp_advice_report *report)
{
    char *text = NULL;
    size_t size = 0;
    json_error_t wrong;
    hp_error err = hp_error_none();
    FILE *out = open_memstream(&text, &size);
    check_true(hp_advice_json_write(report, out, &err) == HP_OK, "%s", err.text);
    fclose(out);
    json_t *root = json_loads(text, 0, &wrong);
    check_true(root != NULL, "line %d: %s", wrong.line, wrong.text);
    double sum = 0.0;
    json_t *wirings = json_object_get(root, "wirings");
    check_int((long long)json_array_size(wirings), HP_WIRING_COUNT);
    for (size_t k = 0; k < HP_WIRING_COUNT; k++)
        sum += json_number_value(json_object_get(json_array_get(wirings, k), "right_once_mended"));
    /* Three are right together, but one alone in a set made for 60 degrees, which is unlikely here.
     */
    check_true(sum <= 3.0 + 1e-6 && sum > 2.9, "sum %.9g", sum);
    json_decref(root);
    free(text);
}

/* All of a report about one belief, text and JSON. */
static void check_report(bench *b)
{
    hp_error err = hp_error_none();
    hp_advice advice;
    hp_standing standing;
    hp_standing_course course;
    static hp_showing showing[HP_SHOWING_MAX];
    double slip[ENTRIES_MOST + 1];
    hp_parameters parameters = {0};
    hp_card_context context = {.drive = &b->drive,
                               .labels = &b->labels,
                               .plan = hp_planner_params(b->planner),
                               .present = hp_card_present(&b->belief)};
    hp_report_case subject = {
        .file = "bench.yaml", .drive = &b->drive, .labels = &b->labels, .parameters = &parameters};
    check_true(hp_plan_next(b->planner, &b->belief, false, &advice, &err) == HP_OK, "%s", err.text);
    check_int(hp_belief_contradiction(&b->belief, &advice.contradiction, slip, &err), HP_OK);
    check_int(hp_standing_fill(&b->belief, 0, &standing, &err), HP_OK);
    check_int(hp_standing_course_make(&b->belief, 0.01, &course, &err), HP_OK);
    hp_advice_report report = {.subject = &subject,
                               .context = &context,
                               .belief = &b->belief,
                               .advice = &advice,
                               .standing = &standing,
                               .log_file = "bench.bench.yaml",
                               .log_line = "hubphase\0log\0it's.yaml\0park\0--code=CODE\0",
                               .slip = slip,
                               .showing = showing,
                               .course = &course};
    report.showings = hp_plan_showings(b->planner, &b->belief, &advice, 0.01, showing);
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    hp_screen screen = hp_screen_plain(out);
    hp_advice_print(&report, &screen);
    fclose(out);
    check_columns(text);
    check_text_contains(text, "hubphase log 'it'\\''s.yaml' park");
    check_text_contains(text, "licensed people");
    free(text);
    check_json(&report);
    hp_standing_course_free(&course);
}

static void any_log_gives_a_report_that_fits(void **state)
{
    (void)state;
    bench b;
    hp_error err = hp_error_none();
    hp_random random = hp_random_init(5, 1);
    open_bench(&b);
    for (int round = 0; round < 40; round++) {
        int count = below(&random, ENTRIES_MOST + 1);
        check_true(hp_belief_create(&b.table, &b.person, &b.prior, &b.belief, &err) == HP_OK, "%s",
                   err.text);
        for (int k = 0; k < count; k++) {
            hp_entry entry = random_entry(&random);
            entry.number = k + 1;
            check_true(hp_belief_add(&b.belief, &entry, &err) == HP_OK, "%s", err.text);
        }
        check_report(&b);
        hp_belief_free(&b.belief);
    }
    close_bench(&b);
}

/* The same slip twice and once the truth: both are named, and which is the likelier slip. */
static void contradictions_are_said_plainly(void **state)
{
    (void)state;
    bench b;
    char text[240];
    hp_error err = hp_error_none();
    hp_contradiction c;
    static const int code[] = {4, 3, 4, 4};
    open_bench(&b);
    check_true(hp_belief_create(&b.table, &b.person, &b.prior, &b.belief, &err) == HP_OK, "%s",
               err.text);
    for (int k = 0; k < 4; k++) {
        hp_entry e = hp_entry_make(&hp_reading_park, 10 + k);
        e.park.lead = 0;
        e.park.code = code[k];
        e.park.no_current = HP_TELL_NO;
        check_int(hp_belief_add(&b.belief, &e, &err), HP_OK);
    }
    check_int(hp_belief_contradiction(&b.belief, &c, NULL, &err), HP_OK);
    hp_contradiction_words(&b.belief, &c, text, sizeof text);
    check_text_contains(text, "11 is the likelier slip");
    check_text_contains(text, "cannot both be true");
    c.found = false;
    assert_string_equal(hp_contradiction_words(&b.belief, &c, text, sizeof text), "");
    hp_belief_free(&b.belief);
    close_bench(&b);
}

/* What one entry told, when it moved things and the doubt so. */
static void check_meant(const bench *b, hp_standing_move moved, double before, double after,
                        const char *meant, const char *counted)
{
    char text[400];
    double doubt[] = {before, after};
    hp_standing_move move[] = {{0}, moved};
    const hp_card_context context = {.drive = &b->drive, .labels = &b->labels, .plan = &b->plan};
    const hp_standing_course course = {.steps = 2, .doubt = doubt, .move = move};
    hp_entry looked = hp_entry_make(&hp_reading_park, 1);
    hp_belief belief = b->belief;
    belief.entry = &looked;
    const hp_advice advice = {.kind = HP_ADVICE_READ};
    const hp_advice_report report = {
        .context = &context, .belief = &belief, .advice = &advice, .course = &course};
    hp_advice_meant(&report, 1, text, sizeof text);
    check_true(strncmp(text, meant, strlen(meant)) == 0, "\"%s\" begins otherwise: \"%s\"", meant,
               text);
    bool more = strstr(text, " More is open than before.") != NULL;
    check_int(more, after > before && strncmp(text, "It fits", 7) != 0);
    assert_string_equal(hp_advice_counted(&report, 1, text, sizeof text), counted);
}

static void an_answer_is_told_by_what_it_moved(void **state)
{
    (void)state;
    bench b;
    hp_error err = hp_error_none();
    open_bench(&b);
    check_true(hp_belief_create(&b.table, &b.person, &b.prior, &b.belief, &err) == HP_OK, "%s",
               err.text);
    int open = hp_trouble_index(-1, (hp_fault){HP_FAULT_LEAD_OPEN, 1});
    static const char *const answered =
        "It answered 2.0 of the 5.0 yes-or-no questions that were open.";
    static const char *const little =
        "It answered next to nothing of the 5.0 yes-or-no questions that are open.";
    static const char *const doubtful =
        "It raised doubt: 3.0 yes-or-no questions were open, now it is 5.0.";
    const hp_standing_move one = {.set = {{1, 22, 29}},
                                  .alike = 1,
                                  .set_from = 0.1,
                                  .set_to = 0.6,
                                  .set_bits = 1.5,
                                  .sound_from = 0.9,
                                  .sound_to = 0.9};
    hp_standing_move m = one;
    check_meant(&b, m, 5.0, 3.0, "It speaks for wiring 1, 22 or 29 (60 % likely, before 10 %).",
                answered);
    check_meant(&b, m, 3.0, 5.0, "It speaks for wiring ", doubtful);
    m.sound_to = 0.99;
    check_meant(&b, m, 5.0, 3.0, "It speaks for wiring 1, 22 or 29 and for good parts (60",
                answered);
    m.sound_to = 0.96; /* odds times 2.7 */
    check_meant(&b, m, 5.0, 3.0, "It speaks for wiring 1, 22 or 29 (60", answered);
    m.alike = 2;
    memcpy(m.set[1], (int[]){2, 24, 27}, sizeof m.set[1]);
    check_meant(
        &b, m, 5.0, 3.0,
        "It speaks for 2 groups of three equals alike (each 60 %, before 10 %): 1, 22 or 29; 2, 24 "
        "or 27.",
        answered);
    m.alike = 4;
    check_meant(&b, m, 5.0, 3.0,
                "It speaks for 4 groups of three equals alike (each 60 %, before 10 %).", answered);
    /* What says nothing of the wirings is not credited with them. */
    m = one;
    m.set_bits = 0.04;
    check_meant(&b, m, 5.0, 5.0, "It fits what was known", little);
    m = one;
    m.set_from = 0.599;
    check_meant(&b, m, 5.0, 3.0, "It leaves less open", answered);
    m = one;
    m.trouble = open;
    m.trouble_to = 0.3;
    check_meant(&b, m, 5.0, 5.0, "It makes a fault likelier: ", little);
    check_meant(&b, m, 3.0, 5.0, "It makes a fault likelier: ", doubtful);
    /* A fault that is rare still is no word worth. */
    m.trouble_to = 0.04;
    m.set_bits = 0.0;
    check_meant(&b, m, 5.0, 5.0, "It fits what was known", little);
    check_meant(&b, m, 5.0, 3.0, "It leaves less open", answered);
    hp_belief_free(&b.belief);
    close_bench(&b);
}

/* Who took these readings on a machine with a broken lead, or on a good one. */
static hp_standing_course course_of(bench *b, const hp_entry *entry, int count)
{
    hp_standing_course course;
    hp_error err = hp_error_none();
    check_true(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err) == HP_OK, "%s",
               err.text);
    for (int k = 0; k < count; k++)
        check_true(hp_belief_add(&b->belief, &entry[k], &err) == HP_OK, "%s", err.text);
    check_int(hp_standing_course_make(&b->belief, 0.01, &course, &err), HP_OK);
    hp_belief_free(&b->belief);
    return course;
}

/* Continuity says twice that the second lead is broken, so that little else is left to rule out; a
 * Hall supply, and codes of a turned wheel, say the same of a broken lead as of a good one. */
static void no_reading_is_credited_with_what_it_says_nothing_of(void **state)
{
    (void)state;
    bench b;
    static const int ring[] = {4, 6, 2, 3, 1, 5, 4};
    int open = hp_trouble_index(-1, (hp_fault){HP_FAULT_LEAD_OPEN, 1});
    hp_entry e[5];
    open_bench(&b);
    e[0] = hp_entry_make(&hp_reading_pins, 1);
    e[0].pins.open[0] = e[0].pins.open[2] = HP_TELL_YES; /* pair k is the one without lead k */
    e[0].pins.open[1] = HP_TELL_NO;
    e[1] = e[0];
    e[1].number = 2;
    e[2] = hp_entry_make(&hp_reading_supply, 3);
    e[2].supply.volts = 5.0;
    e[3] = hp_entry_make(&hp_reading_hand_turn, 4);
    e[3].hand_turn.count = 7;
    memcpy(e[3].hand_turn.code, ring, sizeof ring);
    e[4] = hp_entry_make(&hp_reading_park, 5);
    e[4].park.lead = 1;
    e[4].park.no_current = HP_TELL_YES;
    hp_standing_course c = course_of(&b, e, 5);
    const hp_standing_move *m = c.move;
    check_int(m[1].trouble, open);
    check_true(m[1].trouble_to > 0.5, "%g", m[1].trouble_to);
    check_int(m[2].trouble, open);
    check_int(m[3].trouble, HP_TROUBLE_SOUND);
    check_close(m[3].set_bits, 0.0, 1e-9, "a Hall supply tells no wirings apart");
    check_int(m[4].trouble, HP_TROUBLE_SOUND);
    check_true(m[4].set_bits > 0.6, "%g", m[4].set_bits); /* half of the sets: one, less slips */
    check_int(m[5].trouble, open);
    hp_standing_course_free(&c);
    /* On good parts: none of six stands before another after a hand turn, and two after a park. */
    e[4].park.no_current = HP_TELL_NO;
    e[4].park.code = 4;
    c = course_of(&b, &e[3], 2);
    m = c.move;
    check_int(m[1].alike, 6);
    check_close(m[1].set_from, 1.0 / 12.0, 0.01, "twelve relations; other tables share a little");
    check_int(m[2].alike, 2);
    /* Nor does a single case stand before the others of its kind. */
    check_true(c.equals[1] > 1 && c.equals[1] % 6 == 0, "%d cases rose alike", c.equals[1]);
    check_true(c.equals[2] > 1 && c.equals[2] < c.equals[1], "%d, before %d", c.equals[2],
               c.equals[1]);
    hp_standing_course_free(&c);
    close_bench(&b);
}

/* Where it is found a danger is told in full; of every other entry it is only not forgotten. */
static void a_danger_is_told_in_full_once(void **state)
{
    (void)state;
    bench b;
    char text[400];
    hp_error err = hp_error_none();
    open_bench(&b);
    check_true(hp_belief_create(&b.table, &b.person, &b.prior, &b.belief, &err) == HP_OK, "%s",
               err.text);
    hp_entry e[3] = {hp_entry_make(&hp_reading_pins, 1), hp_entry_make(&hp_reading_supply, 2),
                     hp_entry_make(&hp_reading_park, 3)};
    e[1].supply.volts = 40.0;
    e[2].park.code = 4;
    e[2].park.no_current = HP_TELL_NO;
    for (int k = 0; k < 3; k++)
        check_true(hp_belief_add(&b.belief, &e[k], &err) == HP_OK, "%s", err.text);
    const double doubt[4] = {5.0, 5.0, 5.0, 3.0};
    const hp_standing_move move[4] = {{0}};
    const hp_standing_course course = {
        .steps = 4, .doubt = (double *)doubt, .move = (hp_standing_move *)move};
    const hp_card_context context = {.drive = &b.drive, .labels = &b.labels, .plan = &b.plan};
    const hp_advice advice = {.kind = HP_ADVICE_DANGER, .danger = &hp_danger_sensor_volts};
    const hp_advice_report report = {
        .context = &context, .belief = &b.belief, .advice = &advice, .course = &course};
    static const char *const told[] = {
        "The danger still stands.",
        "The log holds a danger: nothing goes on before that is settled.",
        "The danger still stands.",
    };
    for (int k = 0; k < 3; k++)
        assert_string_equal(hp_advice_meant(&report, k + 1, text, sizeof text), told[k]);
    hp_belief_free(&b.belief);
    close_bench(&b);
}

/* The card of the contacts says why it comes: what the log shows, or that nothing else is left. */
static void the_contacts_say_why_they_come(void **state)
{
    (void)state;
    bench b;
    hp_card card;
    open_bench(&b);
    hp_card_context context = {
        .drive = &b.drive, .labels = &b.labels, .plan = &b.plan, .present = 1};
    hp_advice advice = {.kind = HP_ADVICE_READ, .reading = &hp_reading_contacts, .lead = -1};
    hp_card_make(&context, &advice, &card);
    check_text_contains(card.reason, "A start that failed");
    context.present = 0; /* nothing was joined: leads are wagged, and nothing has to run */
    hp_card_make(&context, &advice, &card);
    check_text_contains(card.reason, "Looks at the same lead differ");
    check_text_contains(card.how[0], "wag each lead");
    advice.why = HP_WHY_BEFORE_END;
    hp_card_make(&context, &advice, &card);
    check_text_contains(card.reason, "Nothing else is left to ask");
    assert_null(strstr(card.reason, "A start that failed"));
    close_bench(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_log_gives_a_report_that_fits),
        cmocka_unit_test(contradictions_are_said_plainly),
        cmocka_unit_test(an_answer_is_told_by_what_it_moved),
        cmocka_unit_test(no_reading_is_credited_with_what_it_says_nothing_of),
        cmocka_unit_test(a_danger_is_told_in_full_once),
        cmocka_unit_test(the_contacts_say_why_they_come),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
