/* The fit through the face of the library: the same as the calls that it stands for, what is stated
 * otherwise counts, mistakes are told by their names, work can be stopped. */
#include "check.h"
#include "face_calls.h"

#include "hubphase.h"

#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "name: Bench machine\n"                                                                        \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"

/* Asks to stop at the first step where the flag says so. */
static int watch(void *user, int done, int total)
{
    (void)done;
    (void)total;
    return *(const bool *)user;
}

static void open_machine(hp_web *web)
{
    json_decref(good_json(
        web, json_pack("{s:s, s:s, s:s}", "do", "open", "name", "m.yaml", "scenario", MACHINE)));
}

static const json_t *line_of(const json_t *answer, const char *rule)
{
    const json_t *line;
    size_t k;
    json_array_foreach(json_object_get(answer, "lines"), k, line)
    {
        if (strcmp(json_string_value(json_object_get(line, "rule")), rule) == 0)
            return line;
    }
    fail_msg("no line %s", rule);
    return NULL;
}

static void check_state(const json_t *answer, const char *rule, const char *state)
{
    assert_string_equal(json_string_value(json_object_get(line_of(answer, rule), "state")), state);
}

/* What the library itself writes. */
static char *report(void)
{
    hp_scenario scenario;
    static hp_fit fit;
    hp_error err = hp_error_none();
    char *text = NULL;
    size_t size = 0;
    assert_int_equal(hp_scenario_read(MACHINE, strlen(MACHINE), "m.yaml", &scenario, NULL, &err),
                     HP_OK);
    scenario.starts = 1;
    hp_fit_given given = hp_scenario_fit_given(&scenario);
    assert_int_equal(hp_fit_run(&given, &fit, &err), HP_OK);
    FILE *out = open_memstream(&text, &size);
    hp_report_case subject = hp_report_case_of(&scenario);
    hp_screen screen = hp_screen_plain(out);
    screen.page = true;
    hp_fit_print(&subject, &scenario.vehicle, &fit, &screen);
    fclose(out);
    hp_scenario_free(&scenario);
    return text;
}

static void the_fit_is_that_of_the_library(void **state)
{
    (void)state;
    hp_web *web = hp_web_create(NULL, NULL);
    open_machine(web);
    json_t *answer = call(web, "{\"do\": \"fit\", \"starts\": 1}");
    assert_true(json_is_true(json_object_get(answer, "ok")));
    char *text = report();
    assert_string_equal(json_string_value(json_object_get(answer, "text")), text);
    check_true(strstr(text, "a usual value is taken") && !strstr(text, "--"), "an option in\n%s",
               text);
    free(text);
    assert_int_equal(json_array_size(json_object_get(answer, "lines")), HP_FIT_RULE_COUNT);
    check_state(answer, "fuse_rating", "not known");
    /* In the words of the form's own fields, and the sum as the terminal has it. */
    const char *advice =
        json_string_value(json_object_get(line_of(answer, "fuse_rating"), "advice"));
    check_text_contains(advice, "Not stated: ");
    assert_null(strstr(advice, "fuse.rated_a"));
    const json_t *lacks = json_object_get(line_of(answer, "fuse_rating"), "lacks"), *lack;
    size_t nth;
    assert_true(json_array_size(lacks) > 0);
    json_array_foreach(lacks, nth, lack)
    {
        check_text_contains(advice, json_string_value(json_object_get(lack, "label")));
    }
    const char *summary = json_string_value(json_object_get(answer, "summary"));
    check_text_contains(summary, " of 22 lines are ok, ");
    assert_null(strstr(summary, "Do not ride it so."));
    const json_t *pictures = json_object_get(answer, "pictures"), *picture;
    size_t k;
    assert_int_equal(json_array_size(pictures), 2);
    json_array_foreach(pictures, k, picture)
    {
        check_text_contains(json_string_value(json_object_get(picture, "svg")), "<svg");
    }
    assert_string_equal(
        json_string_value(json_object_get(json_object_get(answer, "json"), "worst")), "look");
    json_decref(answer);
    hp_web_free(web);
}

static void what_is_stated_otherwise_counts(void **state)
{
    (void)state;
    hp_web *web = hp_web_create(NULL, NULL);
    open_machine(web);
    json_t *answer = call(web, "{\"do\": \"fit\", \"starts\": 1, \"shape\": \"wall\", \"changes\": "
                               "{\"ratings.controller_most_v\": \"30\"}}");
    check_state(answer, "controller_volts", "stop");
    assert_string_equal(json_string_value(json_object_get(answer, "worst")), "stop");
    check_text_contains(json_string_value(json_object_get(answer, "summary")), " to stop for, ");
    check_text_contains(json_string_value(json_object_get(answer, "summary")),
                        "Do not ride it so.");
    json_decref(answer);
    answer = call(web, "{\"do\": \"fit\", \"changes\": {\"fuse.rated_a\": \"-1\"}}");
    assert_true(json_is_false(json_object_get(answer, "ok")));
    json_decref(answer);
    answer = call(web, "{\"do\": \"fit\", \"shape\": \"round\"}");
    assert_true(json_is_false(json_object_get(answer, "ok")));
    json_decref(answer);
    answer = call(web, "{\"do\": \"picture\", \"name\": \"fit-heat\"}");
    assert_true(json_is_false(json_object_get(answer, "ok")));
    json_decref(answer);
    hp_web_free(web);
}

static void a_fit_can_be_stopped_and_needs_a_case(void **state)
{
    (void)state;
    bool stop = true;
    hp_web *web = hp_web_create(watch, &stop);
    json_t *answer = call(web, "{\"do\": \"fit\"}");
    assert_true(json_is_false(json_object_get(answer, "ok")));
    json_decref(answer);
    open_machine(web);
    answer = call(web, "{\"do\": \"fit\", \"starts\": 1}");
    assert_string_equal(json_string_value(json_object_get(answer, "cause")), "cancelled");
    json_decref(answer);
    stop = false;
    answer = call(web, "{\"do\": \"fit\", \"starts\": 1}");
    assert_true(json_is_true(json_object_get(answer, "ok")));
    json_decref(answer);
    hp_web_free(web);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_fit_is_that_of_the_library),
        cmocka_unit_test(what_is_stated_otherwise_counts),
        cmocka_unit_test(a_fit_can_be_stopped_and_needs_a_case),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
