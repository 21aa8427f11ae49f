/*
 * The evening as the wall gets it: a run's changes, stated in the scenario, make the machine of
 * that run; levels of sensors are held against the places where they stand.
 */
#include "check.h"

#include "hubphase/record/scenario.h"
#include "record/scenario/scenario_load.h"
#include "report/lesson/lesson_json.h"

#include <jansson.h>
#include <stdlib.h>

/* Minimal machines: one with nothing wrong, and one with a fault of each sort. */
static const char sound[] = "hubphase: 1\n"
                            "motor:\n"
                            "  magnets: 46\n"
                            "  resistance_between_leads_ohm: 0.21\n"
                            "  inductance_between_leads_mh: 0.46\n"
                            "  no_load_speed_rpm_at_v: {speed_rpm: 218, volts: 36}\n"
                            "supply: {battery_v: 37.5}\n";
static const char faulty[] = "hubphase: 1\n"
                             "motor:\n"
                             "  magnets: 46\n"
                             "  resistance_between_leads_ohm: 0.21\n"
                             "  inductance_between_leads_mh: 0.46\n"
                             "  no_load_speed_rpm_at_v: {speed_rpm: 218, volts: 36}\n"
                             "  open_lead: W\n"
                             "sensors:\n"
                             "  spacing_deg: 60\n"
                             "  powered: no\n"
                             "  faults: {U: stuck_low, V: inverted}\n"
                             "supply: {battery_v: 37.5}\n";

typedef struct evening {
    const char *text;
    hp_scenario scenario;
    hp_lesson lesson;
    hp_scene_case c;
    json_t *root;
} evening;

static json_t *told(const hp_scene_case *c)
{
    hp_json json = {.failed = false};
    json_t *root = json_object();
    hp_lesson_json_set(&json, root, c);
    assert_false(json.failed);
    return root;
}

static void begin(evening *e, const char *text)
{
    hp_error err = hp_error_none();
    e->text = text;
    hp_result result = hp_scenario_read(text, strlen(text), "m.yaml", &e->scenario, NULL, &err);
    check_true(result == HP_OK, "%s", err.text);
    hp_survey_options o = hp_scenario_survey_options(&e->scenario);
    o.starts = 2;
    o.jobs = 2;
    result = hp_lesson_make(&e->scenario.drive, &o, &e->lesson, &err);
    check_true(result == HP_OK, "%s", err.text);
    e->c = (hp_scene_case){.lesson = &e->lesson,
                           .labels = &e->scenario.labels,
                           .costs = &e->scenario.bench.plan.costs};
    e->root = told(&e->c);
}

static void end(evening *e)
{
    json_decref(e->root);
    hp_lesson_free(&e->lesson);
    hp_scenario_free(&e->scenario);
}

/* ---- runs ------------------------------------------------------------------------------------ */

#define CHANGES_MOST 8

/* The scenario with a run's changes stated is the machine that was simulated for it. */
static void states_its_machine(const evening *e, const json_t *run, const hp_drive *expected)
{
    hp_scenario_change change[CHANGES_MOST];
    int count = 0;
    const char *key;
    json_t *value;
    json_object_foreach(json_object_get(run, "changes"), key, value)
    {
        assert_true(count < CHANGES_MOST);
        change[count++] = (hp_scenario_change){key, json_string_value(value), false};
    }
    hp_scenario other;
    hp_error err = hp_error_none();
    hp_result result = hp_scenario_read_changed(e->text, strlen(e->text), "m.yaml", change, count,
                                                &other, NULL, &err);
    check_true(result == HP_OK, "%s", err.text);
    const hp_sensors_params *s = &other.drive.sensors, *t = &expected->sensors;
    check_int(s->spacing_60, t->spacing_60);
    check_int(s->no_supply, t->no_supply);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        check_int(s->fault[k], t->fault[k]);
        check_int(other.drive.motor.lead_open[k], expected->motor.lead_open[k]);
    }
    hp_scenario_free(&other);
}

static int runs_stated(const evening *e, const hp_scene_case *c, const json_t *scenes)
{
    static hp_scene_words words;
    int faulty_runs = 0;
    for (int s = 0; s < hp_scene_count; s++) {
        const json_t *runs = json_object_get(json_array_get(scenes, (size_t)s), "runs");
        hp_scene_tell(hp_scenes[s], c, &words);
        check_int((long long)json_array_size(runs), words.runs);
        for (int k = 0; k < words.runs; k++) {
            int fault = words.run[k].fault;
            states_its_machine(e, json_array_get(runs, (size_t)k),
                               fault < 0 ? &e->lesson.drive : &e->lesson.fault[fault].drive);
            faulty_runs += fault >= 0;
        }
    }
    return faulty_runs;
}

static void the_changes_of_a_run_make_its_machine(void **state)
{
    (void)state;
    static evening e;
    static const char *const machines[] = {sound, faulty};
    for (int m = 0; m < 2; m++) {
        begin(&e, machines[m]);
        for (int fault = 0; fault < HP_LESSON_FAULT_COUNT; fault++) {
            hp_scene_case c = e.c;
            c.fault = fault;
            json_t *root = told(&c);
            check_true(runs_stated(&e, &c, json_object_get(root, "scenes")) > 0,
                       "no run of fault %d", fault);
            json_decref(root);
        }
        end(&e);
    }
}

/* ---- the machine ----------------------------------------------------------------------------- */

static void what_is_faulty_in_the_machine_is_named(void **state)
{
    (void)state;
    static evening e;
    begin(&e, sound);
    assert_true(json_is_null(json_object_get(e.root, "mended")));
    end(&e);
    begin(&e, faulty);
    const char *words = json_string_value(json_object_get(e.root, "mended"));
    assert_non_null(words);
    check_text_contains(words, "; its Hall sensors are 60-degree ones");
    check_text_contains(words, "its controller is for 120 degrees");
    end(&e);
}

static double number(const json_t *object, const char *key)
{
    return json_number_value(json_object_get(object, key));
}

static void a_sensor_reads_1_a_quarter_turn_to_either_side_of_its_place(void **state)
{
    (void)state;
    static evening e;
    begin(&e, sound);
    const json_t *hand = json_object_get(e.root, "hand");
    const json_t *places = json_object_get(e.root, "sensor_deg");
    double turn = 0.0;
    check_int((long long)json_array_size(hand), 6);
    for (size_t n = 0; n < json_array_size(hand); n++) {
        const json_t *sector = json_array_get(hand, n);
        double from = number(sector, "from_deg"), to = number(sector, "to_deg");
        turn += to - from;
        for (size_t k = 0; k < HP_PHASE_COUNT; k++) {
            double away = 0.5 * (from + to) - json_number_value(json_array_get(places, k));
            bool inside = fabs(remainder(away, 360.0)) < 90.0;
            const json_t *levels = json_object_get(sector, "sensors");
            check_int(json_integer_value(json_array_get(levels, k)), inside);
        }
    }
    check_close(turn, 360.0, 1e-9, "sectors follow one another");
    end(&e);
}

static void a_magnet_behind_a_field_that_is_held_is_pulled_on_and_one_ahead_back(void **state)
{
    (void)state;
    static evening e;
    begin(&e, sound);
    const json_t *pull = json_object_get(json_object_get(e.root, "held"), "pull");
    check_int((long long)json_array_size(pull), 360);
    for (size_t behind = 1; behind < 180; behind++) {
        double on = json_number_value(json_array_get(pull, behind));
        double back = json_number_value(json_array_get(pull, 360 - behind));
        check_true(on > 0.0, "%d degrees behind: %g", (int)behind, on);
        check_close(back, -on, 1e-9, "an odd function of the angle");
    }
    end(&e);
}

/* 3 correct and 3 reverse: common practice. */
static void each_of_the_36_is_told_with_its_verdict(void **state)
{
    (void)state;
    static evening e;
    int correct = 0, reverse = 0;
    begin(&e, sound);
    const json_t *wirings = json_object_get(e.root, "wirings");
    check_int((long long)json_array_size(wirings), HP_WIRING_COUNT);
    for (size_t n = 0; n < HP_WIRING_COUNT; n++) {
        const json_t *one = json_array_get(wirings, n);
        const char *verdict = json_string_value(json_object_get(one, "verdict"));
        check_int(json_integer_value(json_object_get(one, "number")), (long long)n + 1);
        correct += strcmp(verdict, "correct") == 0;
        reverse += strcmp(verdict, "reverse") == 0;
    }
    check_int(correct, 3);
    check_int(reverse, 3);
    const json_t *one = json_array_get(wirings, (size_t)e.lesson.correct - 1);
    assert_string_equal(json_string_value(json_object_get(one, "verdict")), "correct");
    one = json_array_get(wirings, (size_t)e.lesson.reverse - 1);
    assert_string_equal(json_string_value(json_object_get(one, "verdict")), "reverse");
    end(&e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_changes_of_a_run_make_its_machine),
        cmocka_unit_test(what_is_faulty_in_the_machine_is_named),
        cmocka_unit_test(a_sensor_reads_1_a_quarter_turn_to_either_side_of_its_place),
        cmocka_unit_test(a_magnet_behind_a_field_that_is_held_is_pulled_on_and_one_ahead_back),
        cmocka_unit_test(each_of_the_36_is_told_with_its_verdict),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
