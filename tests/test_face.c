/*
 * The face of the library for a page: each request does what docs/face.md says of it, says what is
 * wrong with bad ones, and says the same as the calls of the library that it stands for.
 */
#include "check.h"
#include "decide/reading/reading.h"
#include "face_calls.h"

#include "hubphase.h"

#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "name: Bench machine\n"                                                                        \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"                                                               \
    "leads: {motor_phases: {U: red, V: white, W: black}}\n"
#define TIME "2026-11-29T15:04:05+01:00"

/* Must fail, with a problem of this key (NULL: none) that holds this text. */
static void bad(hp_web *web, json_t *request, const char *key, const char *said)
{
    json_t *answer = call_json(web, request), *problem;
    size_t k;
    bool found = key == NULL && strstr(text_of(answer, "summary"), said);
    check_true(json_is_false(json_object_get(answer, "ok")), "it went well");
    assert_true(text_of(answer, "summary")[0] != '\0');
    json_array_foreach(json_object_get(answer, "problems"), k, problem)
    {
        if (key && strcmp(text_of(problem, "key"), key) == 0 &&
            strstr(text_of(problem, "text"), said))
            found = true;
    }
    char *text = json_dumps(answer, JSON_COMPACT);
    check_true(found, "no problem of %s with \"%s\" in %s", key ? key : "nothing", said, text);
    free(text);
    json_decref(answer);
}

static void opened(hp_web *web, const char *scenario, const char *log)
{
    json_decref(good_json(web, json_pack("{s:s, s:s, s:s, s:s?}", "do", "open", "name", "m.yaml",
                                         "scenario", scenario, "log", log)));
}

static json_t *question(const json_t *questions, const char *key)
{
    json_t *q;
    size_t k;
    json_array_foreach(questions, k, q) if (strcmp(text_of(q, "key"), key) == 0) return q;
    return NULL;
}

/* ---- requests -------------------------------------------------------------------------------- */

static void what_is_no_request_is_said_to_be_none(void **state)
{
    static const char *const garbage[] = {"",
                                          "null",
                                          "[]",
                                          "{",
                                          "\"do\"",
                                          "{}",
                                          "{\"do\":1}",
                                          "{\"do\":\"fly\"}",
                                          "\xff",
                                          "42",
                                          "{\"do\":\"open\\u0000\"}"};
    for (size_t k = 0; k < sizeof garbage / sizeof garbage[0]; k++) {
        char *answer = hp_web_call(*state, garbage[k]);
        json_t *parsed = json_loads(answer, 0, NULL);
        check_true(json_is_false(json_object_get(parsed, "ok")), "%s", answer);
        assert_true(text_of(parsed, "summary")[0] != '\0');
        json_decref(parsed);
        free(answer);
    }
}

/* Deterministic bytes; a test that fails can be repeated. */
static unsigned next_byte(unsigned *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 24;
}

static void broken_requests_never_break_the_face(void **state)
{
    static const char request[] =
        "{\"do\":\"form\",\"kind\":\"trial\",\"values\":{\"wiring\":\"7\",\"motion\":\"forward\"},"
        "\"columns\":80,\"number\":1,\"wiring\":5,\"name\":\"map\"}";
    unsigned seed = 1;
    opened(*state, MACHINE, NULL);
    for (int k = 0; k < 2000; k++) {
        char text[sizeof request];
        memcpy(text, request, sizeof request);
        for (unsigned change = next_byte(&seed) % 6; change-- > 0;)
            text[next_byte(&seed) * 3 % (sizeof request - 1)] = (char)(1 + next_byte(&seed) % 255);
        char *answer = hp_web_call(*state, text);
        json_t *parsed = json_loads(answer, 0, NULL);
        assert_true(json_is_boolean(json_object_get(parsed, "ok")));
        json_decref(parsed);
        free(answer);
    }
}

static void without_a_case_requests_say_so(void **state)
{
    static const char *const name[] = {"table",  "advice",  "form",   "answer",
                                       "change", "drop",    "survey", "explain",
                                       "trace",  "picture", "sheet",  "controls"};
    for (size_t k = 0; k < sizeof name / sizeof name[0]; k++)
        bad(*state, json_pack("{s:s, s:i, s:s}", "do", name[k], "wiring", 5, "kind", "park"), NULL,
            "no case is open");
}

static void members_of_the_wrong_type_are_problems_of_their_names(void **state)
{
    opened(*state, MACHINE, NULL);
    bad(*state, json_pack("{s:s, s:i}", "do", "open", "scenario", 5), "scenario", "must be one");
    bad(*state, json_pack("{s:s}", "do", "open"), "scenario", "missing");
    bad(*state, json_pack("{s:s, s:i}", "do", "advice", "columns", 5), "columns", "from 49 to 119");
    bad(*state, json_pack("{s:s, s:f}", "do", "advice", "columns", 60.5), "columns", "whole");
    bad(*state, json_pack("{s:s, s:s}", "do", "form", "kind", "whistle"), "kind", "no kind");
    bad(*state, json_pack("{s:s, s:s, s:[]}", "do", "form", "kind", "park", "values"), "values",
        "object");
    bad(*state, json_pack("{s:s, s:s, s:{s:i}}", "do", "form", "kind", "park", "values", "code", 1),
        "code", "no text");
    bad(*state, json_pack("{s:s, s:i}", "do", "explain", "wiring", 37), "wiring", "36");
    bad(*state, json_pack("{s:s}", "do", "explain"), "wiring", "missing");
    bad(*state, json_pack("{s:s, s:s}", "do", "picture", "name", "portrait"), "name", "no picture");
    bad(*state, json_pack("{s:s, s:s, s:s}", "do", "picture", "name", "map", "shape", "round"),
        "shape", "round");
    bad(*state, json_pack("{s:s, s:i, s:i}", "do", "trace", "wiring", 1, "points", 1), "points",
        "from 2");
}

static void about_lists_kinds_and_pictures(void **state)
{
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "about"));
    check_int((int)json_array_size(json_object_get(answer, "kinds")), hp_readings_count());
    check_int((int)json_array_size(json_object_get(answer, "pictures")), hp_picture_count);
    assert_string_equal(text_of(answer, "version"), hp_version());
    assert_string_equal(text_of(answer, "cautions"), hp_cautions_text());
    json_decref(answer);
}

/* ---- a case ---------------------------------------------------------------------------------- */

static void a_scenario_that_is_wrong_is_told_by_keys_and_leaves_what_was_open(void **state)
{
    opened(*state, MACHINE, NULL);
    bad(*state,
        json_pack("{s:s, s:s}", "do", "open", "scenario",
                  MACHINE "supply: {battery_v: 36 V}\nstand: {gear_ratio: 0}\n"),
        "supply.battery_v", "must be");
    bad(*state, json_pack("{s:s, s:s}", "do", "open", "scenario", "hubphase: 1\n"),
        "motor.resistance_between_leads_ohm", "missing");
    bad(*state, json_pack("{s:s, s:s}", "do", "open", "scenario", "- [\x01"), "", "");
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    json_decref(answer);
}

static void a_log_that_is_wrong_is_told_by_lines(void **state)
{
    json_t *answer = call_json(
        *state, json_pack("{s:s, s:s, s:s}", "do", "open", "scenario", MACHINE, "log",
                          "hubphase_log: 1\nscenario: Bench machine\nentries:\n  - park: {}\n"));
    const json_t *problem = json_array_get(json_object_get(answer, "problems"), 0);
    check_true(json_is_false(json_object_get(answer, "ok")), "it went well");
    check_int(json_integer_value(json_object_get(problem, "line")), 4);
    assert_non_null(strstr(text_of(problem, "show"), "machine.bench.yaml:4:"));
    json_decref(answer);
}

/* The table that is built for it goes out as a text, and comes in again. */
static void a_table_that_is_wanted_is_built_kept_and_taken(void **state)
{
    static const char other[] = MACHINE "spread: {resistance_percent: 14}\nrun: {seconds: 0.5}\n";
    json_t *answer = good_json(*state, json_pack("{s:s, s:s}", "do", "open", "scenario", other));
    assert_string_equal(text_of(answer, "table"), "wanted");
    json_t *key = json_incref(json_object_get(answer, "key"));
    json_decref(answer);
    bad(*state, json_pack("{s:s}", "do", "advice"), NULL, "not there yet");
    answer = good_json(*state, json_pack("{s:s}", "do", "table"));
    assert_string_equal(text_of(answer, "table"), "built");
    json_t *text = json_incref(json_object_get(answer, "text"));
    json_decref(answer);
    json_t *first = good_json(*state, json_pack("{s:s}", "do", "advice"));
    answer = good_json(
        *state, json_pack("{s:s, s:s, s:O}", "do", "open", "scenario", other, "table", text));
    assert_string_equal(text_of(answer, "table"), "given");
    assert_true(json_equal(json_object_get(answer, "key"), key));
    json_decref(answer);
    answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    assert_true(json_equal(answer, first));
    json_decref(answer);
    json_decref(first);
    /* One that was damaged, or that belongs to another machine, is wanted again. */
    answer = good_json(*state, json_pack("{s:s, s:s, s:s}", "do", "open", "scenario", other,
                                         "table", "hubphase likelihood"));
    assert_string_equal(text_of(answer, "table"), "wanted");
    json_decref(answer);
    json_decref(text);
    json_decref(key);
}

static int stop_at_once(void *user, int done, int total)
{
    (void)done;
    (void)total;
    ++*(int *)user;
    return 1;
}

static void work_that_is_stopped_leaves_the_case(void **state)
{
    int asked = 0;
    hp_web *web = hp_web_create(stop_at_once, &asked);
    (void)state;
    opened(web, MACHINE "run: {seconds: 0.5}\n", NULL);
    bad(web, json_pack("{s:s}", "do", "table"), NULL, "stopped");
    bad(web, json_pack("{s:s}", "do", "survey"), NULL, "stopped");
    assert_true(asked > 0);
    json_decref(good_json(web, json_pack("{s:s, s:i}", "do", "trace", "wiring", 1)));
    opened(web, MACHINE, NULL);
    bad(web, json_pack("{s:s}", "do", "paper"), NULL, "stopped");
    json_decref(good_json(web, json_pack("{s:s}", "do", "advice")));
    hp_web_free(web);
}

static void a_survey_of_leads_that_nobody_knows_says_where_to_ask(void **state)
{
    opened(*state,
           "hubphase: 1\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, "
           "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\nleads: {known: no}\n"
           "run: {starts: 1}\n",
           NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:i}", "do", "survey", "columns", 119));
    check_text_contains(text_of(answer, "text"), "The bench says how to find out.");
    json_decref(answer);
}

static int count_calls(void *user, int done, int total)
{
    (void)done;
    (void)total;
    ++*(int *)user;
    return 0;
}

/* Reasons of a machine that an evening was made of come at once, and are what they would be without
 * it; of one that is stated otherwise, or that the evening shows mended, it is simulated. */
static void what_the_evening_simulated_is_not_simulated_again(void **state)
{
    static const struct {
        const char *scenario, *changes;
        bool again;
    } asked[] = {{MACHINE "run: {starts: 2}\n", "{}", false},
                 {MACHINE "run: {starts: 2}\n", "{\"run.starts\": \"3\"}", true},
                 {MACHINE "run: {starts: 2}\nsensors: {faults: {U: stuck_low}}\n", "{}", true}};
    (void)state;
    for (size_t k = 0; k < sizeof asked / sizeof asked[0]; k++) {
        int calls = 0, before;
        char *text[2];
        for (int evening = 0; evening < 2; evening++) {
            hp_web *web = hp_web_create(count_calls, &calls);
            opened(web, asked[k].scenario, NULL);
            if (evening)
                json_decref(good_json(web, json_pack("{s:s}", "do", "lesson")));
            before = calls;
            json_t *answer =
                good_json(web, json_pack("{s:s, s:i, s:o}", "do", "explain", "wiring", 2, "changes",
                                         json_loads(asked[k].changes, 0, NULL)));
            text[evening] = json_dumps(answer, JSON_SORT_KEYS);
            assert_int_equal(calls > before, !evening || asked[k].again);
            json_decref(answer);
            hp_web_free(web);
        }
        assert_string_equal(text[0], text[1]);
        free(text[0]);
        free(text[1]);
    }
}

static void a_machine_without_advice_is_surveyed_all_the_same(void **state)
{
    json_t *answer = good_json(*state, json_pack("{s:s, s:s}", "do", "open", "scenario",
                                                 MACHINE "controller: {throttle_percent: 0}\n"));
    assert_string_equal(text_of(answer, "table"), "none");
    assert_non_null(strstr(text_of(answer, "no_advice"), "throttle"));
    json_decref(answer);
    bad(*state, json_pack("{s:s}", "do", "advice"), NULL, "throttle");
    answer = good_json(*state, json_pack("{s:s, s:{s:s}, s:i}", "do", "survey", "changes",
                                         "controller.throttle_percent", "35", "starts", 1));
    check_int((int)json_array_size(json_object_get(answer, "rows")), HP_WIRING_COUNT);
    json_decref(answer);
}

/* ---- the bench ------------------------------------------------------------------------------- */

static void the_advice_says_what_the_report_of_the_case_says(void **state)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    char *text = NULL, line[2000];
    size_t size = 0;
    static const char *const begin[] = {"hubphase", "log", "m.yaml", NULL};
    hp_case_options options = hp_case_options_default();
    options.log = "m.bench.yaml";
    assert_int_equal(hp_scenario_read(MACHINE, strlen(MACHINE), "m.yaml", &scenario, NULL, &err),
                     HP_OK);
    hp_case *c = hp_case_create(&scenario, &options, &err);
    const hp_case_report_options plain = {.json = false};
    hp_case_report *report = hp_case_report_create(c, &plain, &err);
    hp_step_log_line(c, hp_case_report_advice(report), begin, line, sizeof line);
    FILE *out = open_memstream(&text, &size);
    const hp_screen screen = {.file = out, .columns = 70};
    assert_int_equal(hp_case_report_write(report, line, &screen, &err), HP_OK);
    fclose(out);
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:i}", "do", "advice", "columns", 70));
    assert_string_equal(text_of(answer, "text"), text);
    json_decref(answer);
    free(text);
    hp_case_report_free(report);
    hp_case_free(c);
    hp_scenario_free(&scenario);
}

static void a_form_asks_what_is_wanted_and_no_more(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:s}", "do", "form", "kind", "trial"));
    const json_t *questions = json_object_get(answer, "questions");
    assert_non_null(question(questions, "motion"));
    assert_null(question(questions, "feel"));
    assert_true(json_is_true(json_object_get(question(questions, "motion"), "required")));
    assert_non_null(json_object_get(json_object_get(answer, "card"), "title"));
    json_decref(answer);
    answer = good_json(*state, json_pack("{s:s, s:s, s:{s:s, s:s}}", "do", "form", "kind", "trial",
                                         "values", "motion", "forward", "wiring", "40"));
    questions = json_object_get(answer, "questions");
    const json_t *feel = question(questions, "feel"), *wiring = question(questions, "wiring");
    assert_non_null(feel);
    check_int((int)json_array_size(json_object_get(feel, "choices")), 3);
    assert_non_null(strstr(text_of(wiring, "problem"), "40"));
    assert_string_equal(text_of(wiring, "answer"), "40");
    /* Nothing hums in a hub without a clutch. */
    const json_t *motions = json_object_get(question(questions, "motion"), "choices");
    size_t k;
    json_t *choice;
    json_array_foreach(motions, k, choice) assert_string_not_equal(text_of(choice, "word"), "hum");
    json_decref(answer);
}

static void an_answer_becomes_the_entry_that_the_log_takes(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:s, s:s, s:s, s:{s:s}}", "do", "answer",
                                                 "kind", "sensor_supply", "time", TIME, "note",
                                                 "behind the plug", "values", "supply_v", "4.98"));
    const char *log = text_of(answer, "log");
    assert_non_null(strstr(log, "entries:\n  - time: " TIME "\n    sensor_supply:\n"
                                "      supply_v: 4.98\n    note: behind the plug\n"));
    assert_non_null(strstr(log, "hubphase_log: 1\nscenario: Bench machine\n"));
    assert_string_equal(text_of(answer, "log_name"), "m.bench.yaml");
    assert_string_equal(text_of(answer, "meant"), "It fits what was known and changes little.");
    assert_non_null(strstr(text_of(answer, "counted"), "yes-or-no questions"));
    const json_t *entry = json_array_get(json_object_get(answer, "entries"), 0);
    assert_string_equal(text_of(json_object_get(entry, "values"), "supply_v"), "4.98");
    assert_string_equal(text_of(entry, "note"), "behind the plug");
    json_decref(answer);
}

/* What an answer told, once it is written: nothing soothing stands above a stop, or after a mend.
 */
static void no_answer_soothes_above_a_stop(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:s, s:{s:s}}", "do", "answer", "kind",
                                                 "sensor_supply", "values", "supply_v", "37"));
    assert_non_null(strstr(text_of(answer, "meant"), "danger"));
    assert_null(strstr(text_of(answer, "meant"), "changes little"));
    json_decref(answer);
    opened(*state, MACHINE, NULL);
    answer = good_json(*state, json_pack("{s:s, s:s, s:{s:s, s:s}}", "do", "answer", "kind", "mend",
                                         "values", "part", "sensor_stuck_low", "lead", "U"));
    assert_non_null(strstr(text_of(answer, "meant"), "mended from here on"));
    json_decref(answer);
}

static json_t *answer_pairs(hp_web *f, const char *first, const char *second, const char *third)
{
    return good_json(f,
                     json_pack("{s:s, s:s, s:{s:s, s:s, s:s, s:s, s:s, s:s}}", "do", "answer",
                               "kind", "pins", "values", "continuity.all", "no", "continuity.V-W",
                               first, "continuity.W-U", second, "continuity.U-V", third,
                               "touches_shell", "no", "phase_touches_sensor", "no"));
}

/* Two pairs that beep join all three leads: that the third does not is no reading that fits. */
static void an_answer_that_cannot_be_names_what_to_measure_again(void **state)
{
    static const struct {
        const char *said[3], *again;
    } cases[] = {{{"no", "yes", "yes"}, "measure white and black once more"},
                 {{"yes", "no", "yes"}, "measure black and red once more"},
                 {{"yes", "yes", "no"}, "measure red and white once more"},
                 {{"yes", "no", "no"}, NULL}}; /* a lead is torn */
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        const char *const *said = cases[k].said;
        opened(*state, MACHINE, NULL);
        json_t *answer = answer_pairs(*state, said[0], said[1], said[2]);
        const char *meant = text_of(answer, "meant");
        const char *words = text_of(json_array_get(json_object_get(answer, "entries"), 0), "words");
        if (cases[k].again) {
            check_text_contains(meant, "That cannot be: two pairs that beep");
            check_text_contains(meant, cases[k].again);
            check_text_contains(words, "which cannot be");
        } else {
            check_true(!strstr(meant, "cannot be") && !strstr(words, "cannot be"), "%s", meant);
        }
        json_decref(answer);
    }
}

/* Nothing was seen that could fit. */
static void a_step_that_is_left_out_is_told_as_such(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:s, s:{s:s}}", "do", "answer", "kind",
                                                 "left_out", "values", "step", "sensor_supply"));
    assert_string_equal(text_of(answer, "meant"),
                        "The step \"Hall supply\" is left out: the advice goes on without it.");
    json_decref(answer);
}

static void an_answer_that_is_none_is_told_beside_its_question(void **state)
{
    opened(*state, MACHINE, NULL);
    bad(*state, json_pack("{s:s, s:s}", "do", "answer", "kind", "sensor_supply"), "supply_v",
        hp_form_wanted);
    bad(*state,
        json_pack("{s:s, s:s, s:{s:s}}", "do", "answer", "kind", "sensor_supply", "values",
                  "supply_v", "five"),
        "supply_v", "must be a number");
    bad(*state,
        json_pack("{s:s, s:s, s:{s:s, s:s, s:s}}", "do", "answer", "kind", "trial", "values",
                  "wiring", "3", "motion", "hum", "feel", "rough"),
        "motion", "none of the answers");
    bad(*state,
        json_pack("{s:s, s:s, s:{s:s}, s:s}", "do", "answer", "kind", "sensor_supply", "values",
                  "supply_v", "5", "time", "yesterday"),
        "time", "must be a time");
    bad(*state,
        json_pack("{s:s, s:s, s:{s:s}, s:s}", "do", "answer", "kind", "sensor_supply", "values",
                  "supply_v", "5", "note", "two\nlines"),
        "note", "one line");
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    check_int((int)json_array_size(json_object_get(
                  json_object_get(json_object_get(answer, "json"), "log"), "entries")),
              0);
    json_decref(answer);
}

/* What a meter or a hand makes of a number; "": it is none here. */
static void a_number_may_have_a_comma_and_its_own_unit(void **state)
{
    static const struct {
        const char *kind, *key, *typed, *taken;
    } cases[] = {
        {"sensor_supply", "supply_v", "4,9", "4.9"},
        {"sensor_supply", "supply_v", " 4.9V ", "4.9"},
        {"sensor_supply", "supply_v", "4,9 v", "4.9"},
        {"sensor_supply", "supply_v", "5 volts", "5"},
        {"sensor_supply", "supply_v", "4.9 A", ""},
        {"sensor_supply", "supply_v", "4900 mV", ""},
        {"sensor_supply", "supply_v", "4,9,1", ""},
        {"sensor_supply", "supply_v", "V", ""},
        {"winding", "resistance_ohm.U-V", "0,2 ohm", "0.2"},
        {"winding", "resistance_ohm.U-V", "0.2 \xCE\xA9", "0.2"},
        {"winding", "resistance_ohm.U-V", "open", "open"},
        {"winding", "resistance_ohm.U-V", "200 mohm", ""},
        {"trial", "throttle_percent", "35 %", "35"},
        {"hand_turn", "edges_per_wheel_turn", "46", "46"},
        {"hand_turn", "edges_per_wheel_turn", "0.9 A", ""},
        {"hand_turn", "edges_per_wheel_turn", "4,6", ""},
    };
    opened(*state, MACHINE, NULL);
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        json_t *answer =
            good_json(*state, json_pack("{s:s, s:s, s:{s:s}}", "do", "form", "kind", cases[k].kind,
                                        "values", cases[k].key, cases[k].typed));
        const json_t *q = question(json_object_get(answer, "questions"), cases[k].key);
        assert_non_null(q);
        assert_string_equal(text_of(q, "taken"), cases[k].taken);
        check_true((text_of(q, "problem")[0] == '\0') == (cases[k].taken[0] != '\0'), "%s: %s",
                   cases[k].typed, text_of(q, "problem"));
        assert_null(strstr(text_of(q, "problem"), "write 0.9"));
        json_decref(answer);
    }
}

static void each_step_is_offered_where_one_is_left_out(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:s}", "do", "form", "kind", "left_out"));
    const json_t *q = question(json_object_get(answer, "questions"), "step");
    int steps = 0;
    while (hp_reading_left_out.fields[0].words[steps])
        steps++;
    check_true(steps > 14, "%d steps", steps); /* more than those of commissioning */
    check_int((int)json_array_size(json_object_get(q, "choices")), steps);
    /* Each by what it is, not by its bare name. */
    for (int k = 0; k < steps; k++) {
        const json_t *choice = json_array_get(json_object_get(q, "choices"), (size_t)k);
        const char *word = text_of(choice, "word"), *text = text_of(choice, "text");
        check_true(strchr(text, ' ') && strcmp(text, word) != 0, "%s is told as \"%s\"", word,
                   text);
    }
    json_decref(answer);
}

static void other_names_of_leads_are_carried_through_the_log(void **state)
{
    static const char from[] = "motor_phases: {U: red, V: white, W: black}";
    char scenario[] = MACHINE, twice[] = MACHINE;
    opened(*state, MACHINE, NULL);
    json_t *answer =
        good_json(*state, json_pack("{s:s, s:s}", "do", "rename", "scenario", MACHINE));
    check_true(json_is_null(json_object_get(answer, "log")), "a log of nothing");
    json_decref(answer);
    answer =
        good_json(*state, json_pack("{s:s, s:s, s:{s:s, s:s}, s:s}", "do", "answer", "kind", "park",
                                    "values", "plus_lead", "white", "code", "110", "time", TIME));
    json_decref(answer);
    memcpy(strstr(scenario, from) + 26, "green", 5); /* in the place of white */
    answer = good_json(*state, json_pack("{s:s, s:s}", "do", "rename", "scenario", scenario));
    check_text_contains(text_of(answer, "log"), "plus_lead: green\n");
    check_text_contains(text_of(answer, "log"), "motor_phases: [red, green, black]");
    opened(*state, scenario, text_of(answer, "log"));
    json_decref(answer);
    memcpy(strstr(twice, from) + 26, "black", 5);
    bad(*state, json_pack("{s:s, s:s}", "do", "rename", "scenario", twice), "leads.motor_phases.W",
        "must differ");
}

/* Every kind of value, as a form has it and as the log has it. */
static const char all_kinds[] =
    "hubphase_log: 1\nscenario: Bench machine\nentries:\n"
    "  - time: 2026-11-25T10:40:00+01:00\n"
    "    pins: {continuity: {red-white: yes, white-black: no, black-red: yes}, touches_shell: no, "
    "phase_touches_sensor: no, phase_pins: {red: 1, white: 2, black: 3}, sensor_pins: {U: 4, V: 5, "
    "W: 6}, supply_plus_pin: 7, supply_minus_pin: 8}\n"
    "  - time: 2026-11-25T10:41:00+01:00\n"
    "    hand_turn: {codes: [\"101\", \"100\", \"110\"], direction: backward, "
    "edges_per_wheel_turn: 46}\n"
    "  - time: 2026-11-25T10:42:00+01:00\n"
    "    winding: {resistance_ohm: {red-white: 0.2, white-black: open}, test_leads_ohm: 0.1, "
    "winding_c: 18}\n"
    "  - time: 2026-11-25T10:43:00+01:00\n"
    "    park: {plus_lead: white, code: \"110\", no_current: no}\n"
    "  - time: 2026-11-25T10:44:00+01:00\n"
    "    controller_probe: {rows: {\"100\": V > W, \"111\": off}}\n"
    "  - time: 2026-11-25T10:45:00+01:00\n"
    "    trial: {wiring: 7, throttle_percent: 35, motion: forward, feel: rough, starts: 2, "
    "starts_tried: 6, battery_a: 4.5, wheel_speed_rpm: 80, cut_out: no, warm: yes}\n"
    "  - time: 2026-11-25T10:46:00+01:00\n"
    "    mend: {part: phase_lead_open, lead: black}\n"
    "  - time: 2026-11-25T10:47:00+01:00\n"
    "    mend: {part: controller}\n";

/* Without the lines that were put out as comments. */
static char *said_lines(const char *log)
{
    char *out = calloc(1, strlen(log) + 1), *to = out;
    assert_non_null(out);
    for (const char *at = log; *at;) {
        size_t length = strcspn(at, "\n") + 1;
        if (*at != '#')
            to = (char *)memcpy(to, at, length) + length;
        at += length;
    }
    return out;
}

/* Each entry of a log changed to what it says already. The log then, to be freed, without what is
 * put out as comments. */
static char *check_same_again(hp_web *web, const char *log)
{
    json_t *opening = good_json(web, json_pack("{s:s, s:s, s:s, s:s}", "do", "open", "name",
                                               "m.yaml", "scenario", MACHINE, "log", log));
    const json_t *entries = json_object_get(opening, "entries");
    char *before = NULL;
    for (size_t k = 0; k < json_array_size(entries); k++) {
        const json_t *e = json_array_get(entries, k);
        json_t *answer =
            good_json(web, json_pack("{s:s, s:I, s:s, s:s, s:O, s:s}", "do", "change", "number",
                                     (json_int_t)(k + 1), "kind", text_of(e, "kind"), "time",
                                     text_of(e, "time"), "values", json_object_get(e, "values"),
                                     "changed", TIME));
        const json_t *again = json_array_get(json_object_get(answer, "entries"), k);
        check_true(json_equal(again, e), "entry %zu: %s became %s", k + 1, text_of(e, "words"),
                   text_of(again, "words"));
        free(before);
        before = said_lines(text_of(answer, "log"));
        assert_non_null(strstr(text_of(answer, "log"), "# changed " TIME ":\n"));
        json_decref(answer);
    }
    /* And the log, read afresh, says the same entries. */
    json_t *answer = good_json(web, json_pack("{s:s, s:s, s:s, s:s}", "do", "open", "name",
                                              "m.yaml", "scenario", MACHINE, "log", before));
    assert_true(json_equal(json_object_get(answer, "entries"), entries));
    json_decref(answer);
    json_decref(opening);
    return before;
}

static void the_answers_of_an_entry_give_the_same_entry_again(void **state)
{
    free(check_same_again(*state, all_kinds));
}

/* What a command or an editor noted and no question of the form asks for. */
static void a_change_loses_nothing_that_nobody_was_asked(void **state)
{
    static const char *const kept[] = {"wheel_speed_rpm: 0", "battery_v: 37",
                                       "ground_off_v: 0.1",  "fitted: no",
                                       "heating_s: 120",     "pulled_v: {red: 4.95}"};
    char *log = check_same_again(
        *state,
        "hubphase_log: 1\nscenario: Bench machine\nentries:\n"
        "  - time: 2026-11-25T10:40:00+01:00\n"
        "    trial: {wiring: 7, throttle_percent: 35, motion: still, starts: 0, starts_tried: 6, "
        "wheel_speed_rpm: 0}\n"
        "  - time: 2026-11-25T10:41:00+01:00\n"
        "    controls: {found: brake, battery_v: 37, throttle_rest_v: 0.8}\n"
        "  - time: 2026-11-25T10:42:00+01:00\n"
        "    throttle: {throttle_rest_v: 0.8, throttle_full_v: 4.2, supply_off_v: 0, ground_off_v: "
        "0.1, "
        "signal_off_v: 0.2, turned_with_off: none}\n"
        "  - time: 2026-11-25T10:43:00+01:00\n"
        "    display: {fitted: no}\n"
        "  - time: 2026-11-25T10:44:00+01:00\n"
        "    heating: {heating_a: 3, winding_c: 18, start_v: 1.9, heated_1_s: 30, heated_1_v: "
        "1.92, "
        "heated_2_s: 120, heated_2_v: 1.99, heating_s: 120}\n"
        "  - time: 2026-11-25T10:45:00+01:00\n"
        "    brake: {fitted: yes, pins: {red: [0.02, 4.95], black: [0, 0]}, pulled_v: {red: 4.95}, "
        "minus_pin: black, left_stops: yes, left_stop_s: 0.4}\n");
    for (size_t k = 0; k < sizeof kept / sizeof kept[0]; k++)
        check_text_contains(log, kept[k]);
    free(log);
}

static void an_entry_is_taken_out_and_stays_as_a_comment(void **state)
{
    opened(*state, MACHINE, all_kinds);
    json_t *answer =
        good_json(*state, json_pack("{s:s, s:i, s:s}", "do", "drop", "number", 6, "time", TIME));
    check_int((int)json_array_size(json_object_get(answer, "entries")), 7);
    assert_non_null(strstr(text_of(answer, "log"), "# taken back " TIME ":\n"));
    assert_non_null(strstr(text_of(answer, "log"), "#     trial: {wiring: 7"));
    json_decref(answer);
    bad(*state, json_pack("{s:s, s:i}", "do", "drop", "number", 8), "number", "from 1 to 7");
    bad(*state, json_pack("{s:s}", "do", "drop"), "number", "missing");
    opened(*state, MACHINE, NULL);
    bad(*state, json_pack("{s:s, s:i}", "do", "drop", "number", 1), "number", "no entry");
}

/* Writes down that a step cannot be done here; the answer lists it. Returns the entry's number. */
static json_int_t leave_out(hp_web *web, const char *kind)
{
    json_t *answer = good_json(web, json_pack("{s:s, s:s, s:s, s:s, s:{s:s}}", "do", "answer",
                                              "kind", "left_out", "time", TIME, "note", "no supply",
                                              "values", "step", kind));
    const json_t *one;
    size_t k;
    json_int_t number = 0;
    json_array_foreach(json_object_get(answer, "entries"), k, one)
    {
        if (strcmp(text_of(one, "leaves_out"), kind) == 0)
            number = json_integer_value(json_object_get(one, "number"));
    }
    check_true(number > 0, "%s is not left out", kind);
    json_decref(answer);
    return number;
}

/* It can, after all: the entry that said so is dropped. */
static void take_back(hp_web *web, json_int_t number)
{
    json_decref(
        good_json(web, json_pack("{s:s, s:I, s:s}", "do", "drop", "number", number, "time", TIME)));
}

/* Everything that is advised is left out until nothing is advised any more; trials among it. */
static void every_step_can_be_left_out_until_it_ends(void **state)
{
    opened(*state, MACHINE, NULL);
    json_int_t tried = 0, number;
    int steps = 0;
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    while (json_is_true(json_object_get(answer, "may_be_left_out"))) {
        char *kind = strdup(text_of(json_object_get(answer, "form"), "kind"));
        assert_true(json_is_null(json_object_get(answer, "must")) && ++steps < 15);
        json_decref(answer);
        number = leave_out(*state, kind);
        tried = strcmp(kind, "trial") == 0 ? number : tried;
        answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
        free(kind);
    }
    assert_true(tried > 0 && steps > 5);
    assert_true(json_is_true(json_object_get(answer, "ended")));
    check_text_contains(text_of(json_object_get(answer, "card"), "title"), "under power");
    check_text_contains(text_of(json_object_get(answer, "card"), "reason"), "likeliest wiring is");
    json_decref(answer);
    take_back(*state, tried);
    answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    assert_string_equal(text_of(json_object_get(answer, "form"), "kind"), "trial");
    json_decref(answer);
    /* What has to be put right comes before all else, and it says why. */
    json_decref(
        good_json(*state, json_pack("{s:s, s:s, s:s, s:{s:s}}", "do", "answer", "kind",
                                    "sensor_supply", "time", TIME, "values", "supply_v", "48")));
    answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    assert_true(json_is_false(json_object_get(answer, "may_be_left_out")));
    check_text_contains(text_of(answer, "must"), "it would do damage");
    json_decref(answer);
}

/* The end of a machine whose leads nobody knows, with no power: what the card says to join first is
 * what the picture below it shows to be joined. */
static void picture_and_card_say_the_same_of_the_wiring_to_try(void **state)
{
    static const char scenario[] =
        "hubphase: 1\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, "
        "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\nleads: {known: no}\n";
    opened(*state, scenario, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    bad(*state, json_pack("{s:s, s:s, s:b}", "do", "picture", "name", "joints", "advised", true),
        "advised", "names no wiring");
    while (json_is_true(json_object_get(answer, "may_be_left_out"))) {
        char *kind = strdup(text_of(json_object_get(answer, "form"), "kind"));
        json_decref(answer);
        leave_out(*state, kind);
        answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
        free(kind);
    }
    char *card = json_dumps(json_object_get(answer, "card"), 0);
    char number[40];
    snprintf(number, sizeof number, "Try wiring %lld there first",
             json_integer_value(json_object_get(answer, "wiring")));
    check_text_contains(card, number);
    free(card);
    json_decref(answer);
    answer = good_json(
        *state, json_pack("{s:s, s:s, s:b}", "do", "picture", "name", "joints", "advised", true));
    check_text_contains(text_of(answer, "svg"), "The likeliest so far: it is not proven yet.");
    json_decref(answer);
    answer = good_json(
        *state, json_pack("{s:s, s:s, s:i}", "do", "picture", "name", "joints", "wiring", 1));
    check_text_contains(text_of(answer, "svg"), "do not join");
    json_decref(answer);
}

static void a_reading_that_cannot_be_taken_is_not_advised(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    char *first = strdup(text_of(json_object_get(answer, "form"), "kind"));
    char *title = strdup(text_of(json_object_get(answer, "card"), "title"));
    assert_true(json_is_true(json_object_get(answer, "may_be_left_out")));
    json_decref(answer);
    json_int_t number = leave_out(*state, first);
    answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    assert_string_not_equal(text_of(json_object_get(answer, "form"), "kind"), first);
    json_decref(answer);
    take_back(*state, number);
    answer = good_json(*state, json_pack("{s:s}", "do", "advice"));
    assert_string_equal(text_of(json_object_get(answer, "card"), "title"), title);
    json_decref(answer);
    bad(*state,
        json_pack("{s:s, s:s, s:s, s:{s:s}}", "do", "answer", "kind", "left_out", "time", TIME,
                  "values", "step", "mend"),
        "step", "mend");
    free(first);
    free(title);
}

/* ---- simulation ------------------------------------------------------------------------------ */

static void a_change_counts_as_if_the_scenario_stated_it(void **state)
{
    static const char stated[] = MACHINE "supply: {battery_v: 24}\nrun: {starts: 2}\n";
    opened(*state, stated, NULL);
    json_t *wanted = good_json(*state, json_pack("{s:s}", "do", "survey"));
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:{s:s, s:s}}", "do", "survey", "changes",
                                                 "supply.battery_v", "24", "run.starts", "2"));
    assert_true(json_equal(json_object_get(json_object_get(answer, "json"), "wirings"),
                           json_object_get(json_object_get(wanted, "json"), "wirings")));
    json_decref(answer);
    json_decref(wanted);
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "survey", "changes", "supply.battery_v", "24 V"),
        "supply.battery_v", "must be");
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "survey", "changes", "supply.volts", "24"),
        "supply.volts", "no key");
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "survey", "changes", "supply", "24"), "supply",
        "no key");
}

static void what_is_merely_usual_is_not_what_was_advised(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s, s:s}", "do", "form", "kind", "park"));
    const json_t *flowed = question(json_object_get(answer, "questions"), "no_current");
    assert_string_equal(text_of(flowed, "fallback"), "yes");
    assert_true(json_is_false(json_object_get(flowed, "advised")));
    json_decref(answer);
    answer = good_json(*state, json_pack("{s:s, s:s}", "do", "form", "kind", "trial"));
    const json_t *throttle = question(json_object_get(answer, "questions"), "throttle_percent");
    assert_string_equal(text_of(throttle, "fallback"), "35");
    assert_true(json_is_true(json_object_get(throttle, "advised")));
    json_decref(answer);
}

static double speed_with(hp_web *web, json_t *changes)
{
    json_t *answer = good_json(web, json_pack("{s:s, s:O}", "do", "survey", "changes", changes));
    const json_t *row =
        json_array_get(json_object_get(json_object_get(answer, "json"), "wirings"), 0);
    double speed = json_number_value(json_object_get(row, "wheel_speed_rpm"));
    json_decref(answer);
    json_decref(changes);
    return speed;
}

static void a_list_is_stated_as_an_array(void **state)
{
    const char *steps = "controller.speed_steps_percent", *step = "controller.speed_step";
    opened(*state, MACHINE "run: {seconds: 0.5}\n", NULL);
    double half =
        speed_with(*state, json_pack("{s:[s,s,s], s:s}", steps, "25", "50", "100", step, "2"));
    double all =
        speed_with(*state, json_pack("{s:[s,s,s], s:s}", steps, "25", "50", "100", step, "3"));
    assert_true(half > 0.3 * all && half < 0.7 * all);
    char *raw = hp_web_call(*state, "{\"do\": \"survey\", \"changes\": "
                                    "{\"controller.speed_steps_percent\": [\"25\", \"fast\"]}}");
    check_text_contains(raw, "controller.speed_steps_percent[2] is \\\"fast\\\"");
    assert_null(strstr(raw, "motor_phases")); /* no line of the file is blamed for it */
    free(raw);
    bad(*state,
        json_pack("{s:s, s:{s:[s,s]}}", "do", "survey", "changes", "supply.battery_v", "25", "30"),
        "supply.battery_v", "is a list");
    bad(*state, json_pack("{s:s, s:{s:[s,i]}}", "do", "survey", "changes", steps, "25", 50), steps,
        "no list of texts");
    bad(*state, json_pack("{s:s, s:{s:[s]}}", "do", "survey", "changes", steps, "25\n50"), steps,
        "no list of texts");
    bad(*state, json_pack("{s:s, s:{s:[]}}", "do", "survey", "changes", steps), steps,
        "no list of texts");

    json_t *made = good_json(
        *state, json_pack("{s:s, s:{s:s, s:s, s:s, s:s, s:[s,s]}}", "do", "compose", "values",
                          "motor.magnets", "46", "motor.resistance_between_leads_ohm", "0.2",
                          "motor.no_load_speed_rpm_at_v.speed_rpm", "215",
                          "motor.no_load_speed_rpm_at_v.volts", "36", steps, "33.3", "100"));
    check_text_contains(text_of(made, "scenario"),
                        "controller:\n  speed_steps_percent:\n    - 33.3\n    - 100\n");
    json_decref(made);
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "compose", "values", steps, "33"), steps,
        "no key that can be stated");
    /* As the page gives what was typed without commas. */
    static const char *const typed[] = {"50 75 100", "50% 75% 100%", "50 % 75 % 100 %",
                                        "50/75/100"};
    for (size_t k = 0; k < sizeof typed / sizeof typed[0]; k++) {
        bad(*state,
            json_pack("{s:s, s:{s:s, s:s, s:s, s:s, s:[s]}}", "do", "compose", "values",
                      "motor.magnets", "46", "motor.resistance_between_leads_ohm", "0.2",
                      "motor.no_load_speed_rpm_at_v.speed_rpm", "215",
                      "motor.no_load_speed_rpm_at_v.volts", "36", steps, typed[k]),
            "controller.speed_steps_percent[1]", "put commas between them: 50, 75, 100");
    }
    bad(*state,
        json_pack("{s:s, s:{s:s, s:s, s:s, s:s, s:s}}", "do", "compose", "values", "motor.magnets",
                  "46", "motor.resistance_between_leads_ohm", "0.2",
                  "motor.no_load_speed_rpm_at_v.speed_rpm", "25 km/h",
                  "motor.no_load_speed_rpm_at_v.volts", "36", "vehicle.tyre", "47-559"),
        "motor.no_load_speed_rpm_at_v.speed_rpm", "25 km/h is 203 rev/min of this wheel");
}

static void a_trace_holds_its_columns_and_shows_the_field(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer =
        good_json(*state, json_pack("{s:s, s:i, s:i}", "do", "trace", "wiring", 1, "points", 200));
    const json_t *angle = json_object_get(answer, "angle_deg");
    const json_t *field = json_object_get(answer, "field_deg");
    check_int((int)json_array_size(angle), 201);
    check_int((int)json_array_size(field), 201);
    check_int((int)json_array_size(json_object_get(answer, "current_a")), 3);
    double sum = 0.0;
    for (size_t k = 0; k < 201; k++) {
        double lead = json_number_value(json_array_get(field, k)) -
                      json_number_value(json_array_get(angle, k));
        sum += hp_angle_wrap_signed(lead * HP_DEG) / HP_DEG;
    }
    /* Of a smooth forward wiring the field stands 90 degrees ahead on average, less the hysteresis
     * of the sensors, 2 degrees here, by which each switches late. */
    check_close(sum / 201, 88.0, 1.0, "200 points over three turns");
    json_decref(answer);
    answer = good_json(*state, json_pack("{s:s, s:i, s:f, s:i, s:f}", "do", "trace", "wiring", 1,
                                         "start_deg", 100.0, "from_s", 0, "until_s", 0.01));
    angle = json_object_get(answer, "angle_deg");
    check_close(json_number_value(json_array_get(angle, 0)), 100.0, 1e-9, "it begins there");
    check_close(json_number_value(json_object_get(answer, "start_deg")), 100.0, 1e-9, "rounding");
    json_decref(answer);
}

/* What the answer says of the moment that a case is about. */
static const char *outcome_of(const json_t *answer)
{
    const json_t *moments = json_object_get(json_object_get(answer, "json"), "moments");
    size_t count = json_array_size(moments);
    assert_true(count > 0);
    return text_of(json_array_get(moments, count - 1), "outcome");
}

static void controls_are_tried_with_what_is_changed(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "controls"));
    check_int((int)json_array_size(json_object_get(json_object_get(answer, "json"), "what_if")),
              12);
    assert_non_null(strstr(text_of(answer, "text"), "Ground lead of the throttle"));
    assert_null(json_object_get(answer, "svg"));
    json_decref(answer);
    answer = good_json(
        *state, json_pack("{s:s, s:s, s:s}", "do", "controls", "case", "brake", "shape", "wall"));
    assert_string_equal(outcome_of(answer), "stops");
    assert_non_null(strstr(text_of(answer, "svg"), "</svg>"));
    json_decref(answer);
    answer = good_json(*state, json_pack("{s:s, s:s, s:{s:s}}", "do", "controls", "case", "brake",
                                         "changes", "controls.brake.switch", "normally_closed"));
    assert_string_equal(outcome_of(answer), "starts");
    json_decref(answer);
    /* What that switch hides is drawn with it put right, and the title says so. */
    answer = good_json(*state, json_pack("{s:s, s:s, s:{s:s}}", "do", "controls", "case", "key_off",
                                         "changes", "controls.brake.switch", "normally_closed"));
    assert_string_equal(outcome_of(answer), "stops");
    assert_non_null(strstr(text_of(answer, "svg"), "brake mended"));
    check_text_contains(
        text_of(json_object_get(json_object_get(answer, "json"), "what_if"), "shown"),
        "runs (with the brake mended)");
    json_decref(answer);
    answer =
        good_json(*state, json_pack("{s:s, s:i, s:s, s:f}", "do", "controls", "wiring", 1, "course",
                                    "grip=50@0.2, off=throttle_ground@1", "seconds", 2.0));
    assert_string_equal(outcome_of(answer), "faster");
    json_decref(answer);
}

static void controls_that_cannot_be_are_told_by_member(void **state)
{
    opened(*state, MACHINE, NULL);
    bad(*state, json_pack("{s:s, s:s}", "do", "controls", "case", "brakes"), "case", "no case");
    bad(*state, json_pack("{s:s, s:s}", "do", "controls", "case", "pedals_stop"), "case", "a part");
    bad(*state, json_pack("{s:s, s:s}", "do", "controls", "course", "grip"), "course",
        "WHAT=VALUE");
    bad(*state,
        json_pack("{s:s, s:s, s:s}", "do", "controls", "course", "grip=5@1", "case", "brake"),
        "course", "only one");
    bad(*state, json_pack("{s:s, s:s, s:i}", "do", "controls", "course", "grip=5@1", "seconds", 0),
        "seconds", "from 0.01");
    bad(*state, json_pack("{s:s, s:s, s:s}", "do", "controls", "case", "brake", "shape", "round"),
        "shape", "round");
    bad(*state, json_pack("{s:s, s:i}", "do", "controls", "wiring", 37), "wiring", "36");
    bad(*state, json_pack("{s:s, s:s}", "do", "picture", "name", "course"), "name", "controls");
}

static void pictures_and_sheet_are_whole(void **state)
{
    static const char *const name[] = {"map", "joints", "waveforms", "connect"};
    opened(*state, MACHINE, NULL);
    for (size_t k = 0; k < sizeof name / sizeof name[0]; k++) {
        json_t *answer = good_json(
            *state, json_pack("{s:s, s:s, s:i}", "do", "picture", "name", name[k], "wiring", 12));
        assert_non_null(strstr(text_of(answer, "svg"), "<svg"));
        assert_non_null(strstr(text_of(answer, "svg"), "</svg>"));
        assert_true(text_of(answer, "alt")[0] != '\0');
        json_decref(answer);
    }
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "sheet"));
    assert_non_null(strstr(text_of(answer, "html"), "Bench machine"));
    assert_non_null(strstr(text_of(answer, "html"), "</html>"));
    json_decref(answer);
    answer = good_json(*state, json_pack("{s:s}", "do", "paper"));
    assert_non_null(strstr(text_of(answer, "html"), "id=\"flow-1\""));
    assert_non_null(strstr(text_of(answer, "html"), "</html>"));
    json_decref(answer);
}

/* ---- files that were opened ------------------------------------------------------------------ */

static void a_file_is_what_its_first_key_says(void **state)
{
    static const struct {
        const char *text, *sort;
    } file[] = {{"hubphase: 1\nmotor: {magnets: 46}\n", "scenario"},
                {"# hubphase: 1\n---\n\"hubphase_log\": 1\nhubphase: 1\n", "log"},
                {"{hubphase_log: 1, entries: []}", "log"},
                {"hubphase_logs: 1\n", NULL},
                {"motor: 1\nhubphase: 1\n", NULL},
                {"- hubphase\n", NULL},
                {"hubphase", NULL},
                {"hubphase: [\n", NULL},
                {"hubphase: 1\a\n", NULL},
                {"", NULL}};
    for (size_t k = 0; k < sizeof file / sizeof file[0]; k++) {
        json_t *answer =
            good_json(*state, json_pack("{s:s, s:s}", "do", "sort", "text", file[k].text));
        const char *sort = json_string_value(json_object_get(answer, "sort"));
        check_true(file[k].sort ? sort && strcmp(sort, file[k].sort) == 0 : !sort, "%s: %s",
                   file[k].text, sort ? sort : "none");
        json_decref(answer);
    }
    bad(*state, json_pack("{s:s}", "do", "sort"), "text", "missing");
}

static void what_is_wrong_with_a_log_is_told_of_the_file_that_was_opened(void **state)
{
    const size_t size = HP_SCENARIO_BYTES_MAX + 1;
    char *large = malloc(size + 1);
    assert_non_null(large);
    memset(large, '#', size);
    large[size] = '\0';
    const char *const log[] = {large, "hubphase_log: 1\nentries: 3\n"};
    for (size_t k = 0; k < sizeof log / sizeof log[0]; k++) {
        json_t *answer = call_json(*state, json_pack("{s:s, s:s, s:s, s:s, s:s}", "do", "open",
                                                     "name", "m.yaml", "scenario", MACHINE, "log",
                                                     log[k], "log_name", "barn.txt"));
        check_true(json_is_false(json_object_get(answer, "ok")), "log %zu was taken", k);
        const char *summary = text_of(answer, "summary");
        check_true(strncmp(summary, "barn.txt", 8) == 0, "%s", summary);
        json_decref(answer);
    }
    free(large);
    json_t *answer = good_json(
        *state, json_pack("{s:s, s:s, s:s, s:s, s:s}", "do", "open", "name", "m.yaml", "scenario",
                          MACHINE, "log", "hubphase_log: 1\nscenario: Bench machine\nentries:\n",
                          "log_name", "barn.txt"));
    assert_string_equal(text_of(answer, "log_name"), "m.bench.yaml");
    json_decref(answer);
}

/* ---- the empty tool -------------------------------------------------------------------------- */

static void an_example_and_a_form_that_knows_no_axes_are_there(void **state)
{
    json_t *asked = good_json(*state, json_pack("{s:s}", "do", "essentials")), *group, *field;
    json_t *answer = good_json(
        *state, json_pack("{s:s, s:s}", "do", "open", "scenario", text_of(asked, "example")));
    assert_string_equal(text_of(answer, "table"), "shipped");
    json_decref(answer);
    size_t j, k;
    int preset = 0, hints = 0, rare = 0;
    json_array_foreach(json_object_get(asked, "groups"), j, group)
    {
        rare += json_is_true(json_object_get(group, "rare"));
        json_array_foreach(json_object_get(group, "fields"), k, field)
        {
            if (json_is_true(json_object_get(field, "required"))) {
                assert_false(json_is_true(json_object_get(group, "rare")));
                assert_true(json_is_string(json_object_get(field, "hint")));
                hints++;
            }
            if (!json_is_string(json_object_get(field, "preset")))
                continue;
            assert_string_equal(text_of(field, "key"), "leads.known");
            assert_string_equal(text_of(field, "preset"), "no");
            preset++;
        }
    }
    check_int(preset, 1);
    check_int(hints, 4);
    check_true(rare >= 2, "%d groups are folded", rare);
    json_decref(asked);
}

/* As with --why; otherwise the same answer. */
static void the_advice_says_why_when_asked(void **state)
{
    opened(*state, MACHINE, NULL);
    json_t *plain = good_json(*state, json_pack("{s:s}", "do", "advice"));
    json_t *why = good_json(*state, json_pack("{s:s, s:b}", "do", "advice", "why", 1));
    assert_null(strstr(text_of(plain, "text"), "What is left, in per cent"));
    check_text_contains(text_of(why, "text"), "What is left, in per cent");
    assert_true(json_equal(json_object_get(plain, "card"), json_object_get(why, "card")));
    json_t *again = good_json(*state, json_pack("{s:s}", "do", "advice"));
    assert_true(json_equal(plain, again));
    json_decref(again);
    json_decref(why);
    json_decref(plain);
    bad(*state, json_pack("{s:s, s:s}", "do", "advice", "why", "yes"), "why", "true or false");
}

static void what_is_asked_for_first_makes_a_scenario(void **state)
{
    json_t *asked = good_json(*state, json_pack("{s:s}", "do", "essentials"));
    json_t *values = json_object(), *group, *field;
    size_t j, k;
    json_array_foreach(json_object_get(asked, "groups"), j, group)
        json_array_foreach(json_object_get(group, "fields"), k, field)
    {
        assert_true(text_of(field, "label")[0] != '\0');
        if (strncmp(text_of(field, "key"), "leads.motor_", 12) == 0 ||
            strncmp(text_of(field, "key"), "leads.controller_", 17) == 0)
            check_true(json_is_null(json_object_get(field, "why")), "%s", text_of(field, "why"));
        else if (json_is_string(json_object_get(field, "default")))
            check_true(text_of(field, "why")[0] != '\0', "no reason for %s", text_of(field, "key"));
        if (json_is_string(json_object_get(field, "default")) &&
            strcmp(text_of(field, "type"), "list") != 0)
            json_object_set(values, text_of(field, "key"), json_object_get(field, "default"));
    }
    json_object_set_new(values, "controller.speed_steps_percent", json_pack("[s, s]", "50", "100"));
    json_object_set_new(values, "vehicle.ride", json_pack("[s, s]", "500 m at 6 %", "90 m at 0 %"));
    json_object_set_new(values, "motor.magnets", json_string("46"));
    json_object_set_new(values, "motor.resistance_between_leads_ohm", json_string("0,2 ohm"));
    json_object_set_new(values, "motor.no_load_speed_rpm_at_v.speed_rpm", json_string("215"));
    json_object_set_new(values, "motor.no_load_speed_rpm_at_v.volts", json_string("36V"));
    json_object_set_new(values, "leads.motor_phases.U", json_string("red: \"thick\" # 1"));
    json_object_set_new(values, "leads.motor_phases.V", json_string(""));
    json_t *made = good_json(*state, json_pack("{s:s, s:O}", "do", "compose", "values", values));
    json_t *answer = good_json(
        *state, json_pack("{s:s, s:s}", "do", "open", "scenario", text_of(made, "scenario")));
    const json_t *phase =
        json_object_get(json_object_get(json_object_get(answer, "machine"), "leads"), "phase");
    assert_string_equal(text_of(json_array_get(phase, 0), "label"), "red: \"thick\" # 1");
    assert_string_equal(text_of(answer, "table"), "shipped");
    json_decref(answer);
    json_decref(made);
    json_object_set_new(values, "motor.magnets", json_string("47"));
    bad(*state, json_pack("{s:s, s:O}", "do", "compose", "values", values), "motor.magnets",
        "even");
    json_object_set_new(values, "motor.colour", json_string("47"));
    bad(*state, json_pack("{s:s, s:o}", "do", "compose", "values", values), "motor.colour",
        "no key");
    json_decref(asked);
}

#define ON(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ON(what_is_no_request_is_said_to_be_none),
        ON(broken_requests_never_break_the_face),
        ON(without_a_case_requests_say_so),
        ON(members_of_the_wrong_type_are_problems_of_their_names),
        ON(about_lists_kinds_and_pictures),
        ON(a_scenario_that_is_wrong_is_told_by_keys_and_leaves_what_was_open),
        ON(a_log_that_is_wrong_is_told_by_lines),
        ON(a_table_that_is_wanted_is_built_kept_and_taken),
        ON(work_that_is_stopped_leaves_the_case),
        ON(a_survey_of_leads_that_nobody_knows_says_where_to_ask),
        ON(what_the_evening_simulated_is_not_simulated_again),
        ON(a_machine_without_advice_is_surveyed_all_the_same),
        ON(the_advice_says_what_the_report_of_the_case_says),
        ON(a_form_asks_what_is_wanted_and_no_more),
        ON(an_answer_becomes_the_entry_that_the_log_takes),
        ON(no_answer_soothes_above_a_stop),
        ON(other_names_of_leads_are_carried_through_the_log),
        ON(a_number_may_have_a_comma_and_its_own_unit),
        ON(each_step_is_offered_where_one_is_left_out),
        ON(an_answer_that_cannot_be_names_what_to_measure_again),
        ON(a_step_that_is_left_out_is_told_as_such),
        ON(an_answer_that_is_none_is_told_beside_its_question),
        ON(the_answers_of_an_entry_give_the_same_entry_again),
        ON(a_change_loses_nothing_that_nobody_was_asked),
        ON(an_entry_is_taken_out_and_stays_as_a_comment),
        ON(every_step_can_be_left_out_until_it_ends),
        ON(picture_and_card_say_the_same_of_the_wiring_to_try),
        ON(a_reading_that_cannot_be_taken_is_not_advised),
        ON(a_change_counts_as_if_the_scenario_stated_it),
        ON(what_is_merely_usual_is_not_what_was_advised),
        ON(a_list_is_stated_as_an_array),
        ON(a_trace_holds_its_columns_and_shows_the_field),
        ON(controls_are_tried_with_what_is_changed),
        ON(controls_that_cannot_be_are_told_by_member),
        ON(pictures_and_sheet_are_whole),
        ON(a_file_is_what_its_first_key_says),
        ON(what_is_wrong_with_a_log_is_told_of_the_file_that_was_opened),
        ON(an_example_and_a_form_that_knows_no_axes_are_there),
        ON(the_advice_says_why_when_asked),
        ON(what_is_asked_for_first_makes_a_scenario),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
