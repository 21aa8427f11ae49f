/* Commissioning through the face of the library: the order of the steps, what ticks each, what was
 * noted with it; the same as the calls that it stands for. */
#include "check.h"
#include "face_calls.h"

#include "hubphase.h"

#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "name: Bench machine\n"                                                                        \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"
#define LEARNT  MACHINE "learnt_from: {log: m.bench.yaml, entries: 1, before: {motor.magnets: 46}}\n"
#define HEAD    "hubphase_log: 1\nscenario: Bench machine\nentries:\n"
#define AT(day) "  - time: 2026-11-" day "T10:00:00+00:00\n    "
#define RUNS                                                                                       \
    AT("01")                                                                                       \
    "trial: {wiring: 1, throttle_percent: 100, motion: forward, feel: smooth, "                    \
    "battery_a: 0.4}\n"

/* In the order of the work: what can be looked at before what has to run. */
static const char *const order[] = {"hub",          "key",          "throttle", "brake",
                                    "pedal_sensor", "speed_switch", "display",  "learn_lead",
                                    "idle_draw",    "coast_down",   "no_load",  "sag",
                                    "heating",      "shared_pack"};
#define STEPS (sizeof order / sizeof order[0])

static void open_machine(hp_web *web, const char *scenario, const char *log)
{
    json_decref(good_json(web, json_pack("{s:s, s:s, s:s, s:s}", "do", "open", "name", "m.yaml",
                                         "scenario", scenario, "log", log)));
}

/* The step of this name in an answer. */
static const json_t *step_of(const json_t *answer, const char *name)
{
    const json_t *steps = json_object_get(json_object_get(answer, "json"), "steps"), *step;
    size_t k;
    json_array_foreach(steps, k, step)
    {
        if (strcmp(text_of(step, "name"), name) == 0)
            return step;
    }
    fail_msg("no step %s", name);
    return NULL;
}

static void check_step(const json_t *answer, const char *name, const char *finding, int entry)
{
    const json_t *step = step_of(answer, name), *of = json_object_get(step, "entry");
    assert_string_equal(text_of(step, "finding"), finding);
    check_int(json_is_null(of) ? 0 : (int)json_integer_value(of), entry);
}

static hp_web *created(void)
{
    hp_web *web = hp_web_create(NULL, NULL);
    assert_non_null(web);
    return web;
}

static void steps_come_in_the_order_of_the_work(void **state)
{
    (void)state;
    hp_web *web = created();
    open_machine(web, MACHINE, HEAD RUNS);
    json_t *answer = call(web, "{\"do\": \"commission\"}");
    const json_t *json = json_object_get(answer, "json"), *steps = json_object_get(json, "steps");
    check_int((int)json_array_size(steps), (int)STEPS);
    const char *text = text_of(answer, "text"), *at = text;
    for (size_t k = 0; k < STEPS; k++) {
        char line[64];
        const json_t *step = json_array_get(steps, k);
        assert_string_equal(text_of(step, "name"), order[k]);
        check_step(answer, order[k], "open", 0);
        check_true(json_is_true(json_object_get(step, "possible")), "%s waits", order[k]);
        /* The text lists them in the same order. */
        snprintf(line, sizeof line, " open      %s", order[k]);
        at = strstr(at, line);
        check_true(at != NULL, "%s is not in its place in\n%s", line, text);
    }
    assert_string_equal(text_of(json, "next"), "hub");
    assert_string_equal(text_of(json_object_get(json, "step"), "name"), "hub");
    check_text_contains(text, "> open      hub");
    check_text_contains(text_of(json_object_get(answer, "card"), "title"), "Look the hub over");
    json_decref(answer);
    hp_web_free(web);
}

/* Every kind of step by a small entry: it alone is ticked, by its number. */
static void each_entry_ticks_its_step(void **state)
{
    static const char *const entry[STEPS] = {"hub: {inside: dry}",
                                             "key: {stops: yes}",
                                             "throttle: {springs_back: yes}",
                                             "brake: {left_stops: yes}",
                                             "pedal_sensor: {pulses: 8}",
                                             "speed_switch: {first_rpm: 100}",
                                             "display: {works: yes}",
                                             "learn_lead: {parted: yes}",
                                             "idle_draw: {idle_a: 0.05}",
                                             "coast_down: {coast_from_rpm: 200, coast_s: 9}",
                                             "no_load: {full_v: 36, full_speed_rpm: 213}",
                                             "sag: {low_a: 1, low_v: 36, high_a: 9, high_v: 35}",
                                             "heating: {heating_a: 15, start_v: 3.2}",
                                             "shared_pack: {fuse_on_each: yes}"};
    (void)state;
    hp_web *web = created();
    for (size_t k = 0; k < STEPS; k++) {
        char log[1000];
        snprintf(log, sizeof log, HEAD RUNS AT("02") "%s\n", entry[k]);
        open_machine(web, MACHINE, log);
        json_t *answer = call(web, "{\"do\": \"commission\"}");
        for (size_t n = 0; n < STEPS; n++) {
            const json_t *of = json_object_get(step_of(answer, order[n]), "entry");
            check_int((int)json_integer_value(of), n == k ? 2 : 0);
        }
        check_true(strcmp(text_of(step_of(answer, order[k]), "finding"), "open") != 0, "%s",
                   order[k]);
        check_true(text_of(step_of(answer, order[k]), "words")[0] != '\0', "%s", order[k]);
        check_text_contains(text_of(answer, "text"), "1 of 14 steps done");
        if (strcmp(order[k], "no_load") == 0)
            check_text_contains(text_of(answer, "text"), "makes a scenario with them");
        json_decref(answer);
    }
    hp_web_free(web);
}

/* Until a wheel runs, what needs one waits and says so. */
static void runs_wait_for_a_wheel_that_runs(void **state)
{
    (void)state;
    hp_web *web = created();
    open_machine(web, MACHINE, HEAD);
    json_t *answer = call(web, "{\"do\": \"commission\"}");
    check_true(json_is_false(json_object_get(step_of(answer, "no_load"), "possible")), "a run");
    check_true(json_is_false(json_object_get(step_of(answer, "coast_down"), "possible")), "a run");
    check_true(json_is_true(json_object_get(step_of(answer, "hub"), "possible")), "a look");
    check_text_contains(text_of(answer, "text"), "(once a wiring runs)");
    json_decref(answer);
    hp_web_free(web);
}

static void a_reason_is_kept_and_a_later_entry_takes_it_back(void **state)
{
    (void)state;
    hp_web *web = created();
    open_machine(web, MACHINE,
                 HEAD RUNS AT("02") "left_out: {step: sag}\n    note: no \"load\"\n" AT(
                     "03") "left_out: {step: heating}\n");
    json_t *answer = call(web, "{\"do\": \"commission\"}");
    assert_string_equal(text_of(step_of(answer, "sag"), "left_out_why"), "no \"load\"");
    check_true(json_is_true(json_object_get(step_of(answer, "sag"), "left_out")), "sag");
    check_true(json_is_true(json_object_get(step_of(answer, "heating"), "left_out")), "heating");
    check_true(json_is_null(json_object_get(step_of(answer, "heating"), "left_out_why")), "why");
    check_text_contains(text_of(answer, "text"), "(entry 2: no");
    check_text_contains(text_of(answer, "text"), "which does not say");
    json_decref(answer);
    open_machine(web, MACHINE,
                 HEAD RUNS AT("02") "left_out: {step: sag}\n    note: no load\n" AT(
                     "03") "sag: {low_a: 1, low_v: 36, high_a: 9, high_v: 35}\n");
    answer = call(web, "{\"do\": \"commission\"}");
    check_true(json_is_false(json_object_get(step_of(answer, "sag"), "left_out")), "taken back");
    check_true(json_is_null(json_object_get(step_of(answer, "sag"), "left_out_why")), "its note");
    check_int((int)json_integer_value(json_object_get(step_of(answer, "sag"), "entry")), 3);
    json_decref(answer);
    hp_web_free(web);
}

/* The step that is asked for, alone; a name that is none is told. */
static void a_step_is_shown_by_its_name(void **state)
{
    (void)state;
    hp_web *web = created();
    open_machine(web, MACHINE, HEAD RUNS AT("02") "hub: {inside: wet}\n");
    json_t *answer = call(web, "{\"do\": \"commission\", \"step\": \"brake\"}");
    const json_t *json = json_object_get(answer, "json");
    const char *text = text_of(answer, "text");
    assert_string_equal(text_of(json_object_get(json, "step"), "name"), "brake");
    /* What comes first does not go by what is shown. */
    assert_string_equal(text_of(json, "next"), "hub");
    assert_string_equal(text_of(json, "why"), "stopped");
    check_text_contains(text, "> open      brake");
    check_true(!strstr(text, "throttle at rest"), "the others in\n%s", text);
    json_decref(answer);
    answer = call(web, "{\"do\": \"commission\", \"step\": \"trial\"}");
    check_true(json_is_false(json_object_get(answer, "ok")), "a trial is no step");
    json_decref(answer);
    hp_web_free(web);
}

/* What a person is told, to the letter. */
static void it_says_what_the_library_says(void **state)
{
    static const char log_text[] = HEAD RUNS AT("02") "hub: {inside: wet}\n";
    (void)state;
    hp_scenario scenario;
    hp_bench_log log;
    hp_error err = hp_error_none();
    char *own = NULL;
    size_t size = 0;
    memset(&log, 0, sizeof log);
    check_int(hp_scenario_read(LEARNT, strlen(LEARNT), "m.yaml", &scenario, stderr, &err), HP_OK);
    check_int(hp_bench_log_read(log_text, strlen(log_text), "m.bench.yaml", &scenario, &log, stderr,
                                &err),
              HP_OK);
    hp_commission_case *c = hp_commission_case_create(&scenario, &log, &err);
    FILE *out = open_memstream(&own, &size);
    assert_true(c && out);
    check_int(hp_commission_json_write(c, NULL, "x\0", out, &err), HP_OK);
    fclose(out);
    json_t *expected = json_loads(own, 0, NULL);
    hp_web *web = created();
    open_machine(web, LEARNT, log_text);
    json_t *answer = call(web, "{\"do\": \"commission\"}");
    const json_t *json = json_object_get(answer, "json");
    check_true(json_equal(json_object_get(json, "steps"), json_object_get(expected, "steps")), "%s",
               own);
    check_text_contains(text_of(json, "learnt_words"), "m.bench.yaml");
    assert_string_equal(text_of(json, "learnt_words"), text_of(expected, "learnt_words"));
    json_decref(answer);
    json_decref(expected);
    hp_web_free(web);
    hp_commission_case_free(c);
    hp_bench_log_free(&log);
    hp_scenario_free(&scenario);
    free(own);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steps_come_in_the_order_of_the_work),
        cmocka_unit_test(each_entry_ticks_its_step),
        cmocka_unit_test(runs_wait_for_a_wheel_that_runs),
        cmocka_unit_test(a_reason_is_kept_and_a_later_entry_takes_it_back),
        cmocka_unit_test(a_step_is_shown_by_its_name),
        cmocka_unit_test(it_says_what_the_library_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
