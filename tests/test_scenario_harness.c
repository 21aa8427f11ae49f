/* The list of what else hangs on the controller: read in order, mistakes told with their place. */
#include "scenario_text.h"

#define FILE_NAME "test_scenario_harness.yaml"
#define GOOD                                                                                       \
    "hubphase: 1\n"                                                                                \
    "motor:\n"                                                                                     \
    "  pole_pairs: 23\n"                                                                           \
    "  resistance_between_leads_ohm: 0.21\n"                                                       \
    "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"                                      \
    "harness:\n"

static void parts_and_leads_come_in_the_order_of_the_file(void **state)
{
    (void)state;
    loaded l = scenario_load_text(FILE_NAME, GOOD
                                  "  - part: throttle grip\n"
                                  "    leads: {red: 5 V supply, black: ground, white: \"0.9 V\"}\n"
                                  "    note: springs back\n"
                                  "    control: throttle\n"
                                  "  - note: 20 A\n"
                                  "    part: fuse\n");
    check_true(l.result == HP_OK, "%s", l.printed);
    const hp_harness *h = &l.scenario.harness;
    check_int(h->parts, 2);
    assert_string_equal(h->part[0].name, "throttle grip");
    assert_string_equal(h->part[0].note, "springs back");
    check_int(h->part[0].control, HP_CONTROL_PART_THROTTLE);
    check_int(h->part[1].control, HP_CONTROL_PART_NONE);
    check_int(h->part[0].leads, 3);
    assert_string_equal(h->part[0].lead[0].colour, "red");
    assert_string_equal(h->part[0].lead[0].function, "5 V supply");
    assert_string_equal(h->part[0].lead[2].colour, "white");
    assert_string_equal(h->part[0].lead[2].function, "0.9 V");
    assert_string_equal(h->part[1].name, "fuse");
    assert_string_equal(h->part[1].note, "20 A");
    check_int(h->part[1].leads, 0);
    /* Texts are no parameters of a run. */
    assert_null(hp_parameters_find(&l.scenario.parameters, "harness"));
    loaded_free(&l);
}

static void a_scenario_without_one_has_none(void **state)
{
    (void)state;
    loaded l = scenario_load_text(FILE_NAME, GOOD "  []\n");
    check_true(l.result == HP_OK, "%s", l.printed);
    check_int(l.scenario.harness.parts, 0);
    loaded_free(&l);
}

static void check_refused(const char *text, const char *expected)
{
    char whole[4096];
    snprintf(whole, sizeof whole, "%s%s", GOOD, text);
    loaded l = scenario_load_text(FILE_NAME, whole);
    check_true(l.result == HP_FAIL_INPUT, "accepted:\n%s", text);
    check_text_contains(l.printed, expected);
    check_int(l.scenario.harness.parts, 0);
    loaded_free(&l);
}

static void mistakes_are_told_with_their_place(void **state)
{
    (void)state;
    check_refused("  fuse: 20 A\n", FILE_NAME ":7:3: error: harness is a mapping, must be a list");
    check_refused("  - fuse\n", "7:5: error: harness[1] is \"fuse\", must be a mapping");
    check_refused("  - note: x\n", "7:5: error: harness[1].part is missing");
    check_refused("  - part: x\n    lead: {}\n",
                  "8:5: error: harness[1].lead is not known, must be part, control, leads or note");
    check_refused("  - part: x\n    part: y\n", "8:5: error: harness[1].part is given a second");
    check_refused("  - part: x\n  - part:\n", "harness[2].part has no value, must be a text");
    check_refused("  - part: x\n    leads: red\n", "8:12: error: harness[1].leads is \"red\"");
    check_refused("  - part: x\n    leads: {red: }\n", "harness[1].leads.red has no value");
    check_refused("  - part: x\n    leads: {red: a, Red: b}\n",
                  "8:21: error: harness[1].leads.Red is given a second time");
    check_refused(
        "  - part: x\n    leads: {a: 1, b: 1, c: 1, d: 1, e: 1, f: 1, g: 1, h: 1, i: 1}\n",
        "harness[1].leads has more than 8 leads");
    check_refused("  - part: x\n    control: brakes\n",
                  "8:14: error: harness[1].control is \"brakes\", must be key, throttle, brake, "
                  "pedal_sensor, speed_switch, display or learn_lead");
    check_refused("  - part: x\n    note: [a]\n", "harness[1].note is a list");
    check_refused("  - part: \"a\\u001b[1m\"\n", "without control characters");
}

static void too_many_parts_are_refused(void **state)
{
    (void)state;
    char text[1024] = "";
    for (int k = 0; k <= HP_HARNESS_PARTS; k++)
        strcat(text, "  - part: x\n");
    check_refused(text, "19:5: error: harness[13] is one too many");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_and_leads_come_in_the_order_of_the_file),
        cmocka_unit_test(a_scenario_without_one_has_none),
        cmocka_unit_test(mistakes_are_told_with_their_place),
        cmocka_unit_test(too_many_parts_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
