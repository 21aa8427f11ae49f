/* A spread through the face of the library: by and by, stopped and gone on with, it is what one
 * request gives; what it follows from decides whether it goes on. */
#include "check.h"
#include "face_calls.h"

#include <string.h>

#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "name: Bench machine\n"                                                                        \
    "motor: {magnets: 20, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"                                                               \
    "spread: {motors: 3, seed: 4}\n"                                                               \
    "run: {starts: 1, seconds: 0.3}\n"

static void open_machine(hp_web *web)
{
    json_decref(good_json(
        web, json_pack("{s:s, s:s, s:s}", "do", "open", "name", "m.yaml", "scenario", MACHINE)));
}

static int number_of(const json_t *answer, const char *key)
{
    return (int)json_integer_value(json_object_get(answer, key));
}

/* One request of a spread by and by. */
static json_t *step(hp_web *web, int at_once, bool sum)
{
    return good_json(
        web, json_pack("{s:s, s:i, s:b}", "do", "spread", "at_once", at_once, "sum", (int)sum));
}

static void check_same(const json_t *one, const json_t *other)
{
    static const char *const file[] = {"text", "json_file", "csv_file"};
    check_int((long long)json_array_size(json_object_get(one, "pictures")), 2);
    for (size_t k = 0; k < sizeof file / sizeof file[0]; k++) {
        assert_true(strlen(text_of(one, file[k])) > 0);
        assert_string_equal(text_of(one, file[k]), text_of(other, file[k]));
    }
    check_true(json_equal(json_object_get(one, "pictures"), json_object_get(other, "pictures")),
               "other pictures");
}

static void motor_by_motor_it_is_what_one_request_gives(void **state)
{
    hp_web *web = hp_web_create(NULL, NULL);
    open_machine(*state);
    open_machine(web);
    json_t *whole = good(web, "{\"do\": \"spread\"}");
    check_int(number_of(whole, "motors"), 3);
    for (int k = 1; k < 3; k++) {
        json_t *answer = step(*state, 1, false);
        check_int(number_of(answer, "motors"), k);
        check_int(number_of(answer, "of"), 3);
        check_int(number_of(answer, "seed"), 4);
        assert_null(json_object_get(answer, "text"));
        json_decref(answer);
    }
    json_t *told = step(*state, 0, true);
    check_int(number_of(told, "motors"), 2);
    check_text_contains(text_of(told, "text"), "after the first 2 of them");
    check_text_contains(text_of(told, "json_file"), "\"motors\": 2,");
    json_t *last = step(*state, 1, false);
    check_int(number_of(last, "motors"), 3);
    check_same(last, whole);
    json_decref(told);
    json_decref(last);
    json_decref(whole);
    hp_web_free(web);
}

static void another_spread_begins_anew(void **state)
{
    hp_web *web = *state;
    open_machine(web);
    json_decref(step(web, 2, false));
    json_t *answer = good(web, "{\"do\": \"spread\", \"at_once\": 1, \"seed\": 5}");
    check_int(number_of(answer, "motors"), 1);
    json_decref(answer);
    answer = good(web, "{\"do\": \"spread\", \"at_once\": 1, \"seed\": 5, \"motors\": 4}");
    check_int(number_of(answer, "motors"), 1);
    check_int(number_of(answer, "of"), 4);
    json_decref(answer);
    answer = good(web, "{\"do\": \"spread\", \"at_once\": 1, \"seed\": 5, \"motors\": 4, "
                       "\"changes\": {\"spread.friction_percent\": \"5\"}}");
    check_int(number_of(answer, "motors"), 1);
    json_decref(answer);
    open_machine(web);
    answer = step(web, 1, false);
    check_int(number_of(answer, "motors"), 1);
    json_decref(answer);
}

static void nothing_is_told_before_the_first_motor(void **state)
{
    open_machine(*state);
    json_t *answer = call(*state, "{\"do\": \"spread\", \"at_once\": 0, \"sum\": true}");
    assert_true(json_is_false(json_object_get(answer, "ok")));
    check_text_contains(text_of(answer, "summary"), "no motor of this spread is done yet");
    json_decref(answer);
    answer = call(*state, "{\"do\": \"spread\", \"at_once\": -1}");
    assert_true(json_is_false(json_object_get(answer, "ok")));
    json_decref(answer);
}

typedef struct brake {
    int done, total;
    double until; /* share of all after which it stops */
} brake;

static int stop_after(void *user, int done, int total)
{
    brake *b = user;
    b->done = done;
    b->total = total;
    return done > b->until * total;
}

/* Progress is of all motors, and what a stop leaves goes on. */
static void what_was_stopped_goes_on(void **state)
{
    brake b = {.until = 0.5};
    hp_web *web = hp_web_create(stop_after, &b);
    open_machine(*state);
    open_machine(web);
    json_t *whole = good(*state, "{\"do\": \"spread\"}");
    json_t *stopped = good(web, "{\"do\": \"spread\"}");
    check_int(number_of(stopped, "motors"), 1);
    check_text_contains(text_of(stopped, "text"), "after the first 1 of them");
    b.until = 2.0;
    json_t *rest = good(web, "{\"do\": \"spread\"}");
    check_int(b.done, b.total);
    check_same(rest, whole);
    json_decref(whole);
    json_decref(stopped);
    json_decref(rest);
    b.until = 0.1;
    json_t *none = call(web, "{\"do\": \"spread\", \"seed\": 8}");
    assert_string_equal(text_of(none, "cause"), "cancelled");
    json_decref(none);
    hp_web_free(web);
}

/* Of a usual machine nothing is said; of one that hardly weighs anything and has hardly any
 * inductance, both are named. */
static void what_makes_a_machine_slow_is_told_as_it_is_opened(void **state)
{
    static const char slow[] =
        "hubphase: 1\n"
        "motor: {magnets: 20, resistance_between_leads_ohm: 0.2, inductance_between_leads_mh: "
        "0.0085, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n"
        "stand: {wheel_inertia_kg_m2: 0.000001}\n";
    json_t *usual = good_json(
        *state, json_pack("{s:s, s:s, s:s}", "do", "open", "name", "m.yaml", "scenario", MACHINE));
    check_true(json_is_null(json_object_get(usual, "slow")), "a usual machine");
    json_t *told = good_json(
        *state, json_pack("{s:s, s:s, s:s}", "do", "open", "name", "m.yaml", "scenario", slow));
    check_text_contains(text_of(told, "slow"), "m.yaml:2: motor.inductance_between_leads_mh is");
    check_text_contains(text_of(told, "slow"), "stand.wheel_inertia_kg_m2 is 1e-06: with");
    json_decref(usual);
    json_decref(told);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(motor_by_motor_it_is_what_one_request_gives, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(another_spread_begins_anew, set_up, tear_down),
        cmocka_unit_test_setup_teardown(nothing_is_told_before_the_first_motor, set_up, tear_down),
        cmocka_unit_test_setup_teardown(what_was_stopped_goes_on, set_up, tear_down),
        cmocka_unit_test_setup_teardown(what_makes_a_machine_slow_is_told_as_it_is_opened, set_up,
                                        tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
