/*
 * What a log read off controls and supplies, carried over into the scenario's own text.
 */
#include "check.h"
#include "hubphase/record/case.h"

#include <stdlib.h>
#include <string.h>

#define HEAD                                                                                       \
    "hubphase: 1\n"                                                                                \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, "                                     \
    "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}   # seller\n"                            \
    "supply: {battery_v: 36}\n"
#define LOG_HEAD    "hubphase_log: 1\nscenario: x\nentries:\n"
#define ENTRY(body) "  - time: 2026-11-29T10:00:00+00:00\n    " body "\n"
#define GRIP        "pins: {red: [4.96, 4.95], black: [0, 0], green: [0.84, 4.16]}, minus_pin: black"
#define LEADS_OFF   "supply_off_v: 0.02, ground_off_v: 4.97, signal_off_v: 0"
#define TO_VOLTS    "pins: {red: [12, 12], white: [12, 0]}"
#define LEVERS_STOP "left_stops: yes, right_stops: yes"
#define STEPS       "controller.speed_steps_percent"
#define STEP        "controller.speed_step"
#define LOST_STEP   "controls.speed_switch.without_lead"
#define RING        "pins: {r: [5, 5], b: [0, 0], s: [5, 0]}"

static char problems[2000]; /* that the last refusal named */

/* The scenario's text with what the log told, but for the section learnt_from, which
 * test_learnt_from looks at; NULL: refused, for the reason in *err. */
static char *carried(const char *text, const char *log_text, hp_error *err)
{
    hp_scenario scenario;
    hp_bench_log log;
    char *out = NULL;
    size_t size = 0;
    int changes;
    *err = hp_error_none();
    memset(&log, 0, sizeof log);
    check_int(hp_scenario_read(text, strlen(text), "x.yaml", &scenario, stderr, err), HP_OK);
    check_true(hp_bench_log_read(log_text, strlen(log_text), "x.bench.yaml", &scenario, &log,
                                 stderr, err) == HP_OK,
               "%s", err->text);
    hp_commission_case *c = hp_commission_case_create(&scenario, &log, err);
    FILE *file = open_memstream(&out, &size);
    assert_non_null(c);
    assert_non_null(file);
    snprintf(scenario.path, sizeof scenario.path, "%s", "test_carry_over.tmp.yaml");
    FILE *scenario_file = fopen(scenario.path, "w");
    assert_non_null(scenario_file);
    fputs(text, scenario_file);
    fclose(scenario_file);
    memset(problems, 0, sizeof problems);
    FILE *diagnostics = fmemopen(problems, sizeof problems, "w");
    assert_non_null(diagnostics);
    hp_result result = hp_commission_case_write(c, NULL, file, &changes, diagnostics, err);
    fclose(diagnostics);
    fclose(file);
    remove(scenario.path);
    hp_commission_case_free(c);
    hp_bench_log_free(&log);
    hp_scenario_free(&scenario);
    if (result == HP_OK) {
        char *section = strstr(out, "\nlearnt_from:\n");
        assert_non_null(section);
        *section = '\0';
        return out;
    }
    check_int((int)size, 0);
    free(out);
    return NULL;
}

/* Value of a key as the new text says it; "" where it does not state it. */
static void check_key(const char *text, const char *key, const char *value)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    const char *found = "";
    check_true(hp_scenario_read(text, strlen(text), "x.yaml", &scenario, stderr, &err) == HP_OK,
               "%s", err.text);
    hp_parameters *lists[] = {&scenario.parameters, &scenario.controls_parameters,
                              &scenario.fit_parameters};
    for (int k = 0; k < 3; k++) {
        const hp_parameter *p = hp_parameters_find(lists[k], key);
        if (p && p->origin == HP_ORIGIN_FILE)
            found = p->value;
    }
    check_true(strcmp(found, value) == 0, "%s is \"%s\", expected \"%s\" in\n%s", key, found, value,
               text);
    hp_scenario_free(&scenario);
}

/* Every row, and what each kind of entry must not tell. */
static void each_reading_tells_its_keys(void **state)
{
    static const struct {
        const char *entry, *key, *value;
    } row[] = {
        {"sensor_supply: {supply_v: 4.94}", "ratings.sensor_supply_v", "4.94"},
        {"throttle: {" GRIP "}", "controls.throttle.supply_v", "4.96"},
        {"throttle: {" GRIP ", " LEADS_OFF "}", "controls.throttle.supply_v", "4.97"},
        {"throttle: {ground_off_v: 4.97}", "controls.throttle.supply_v", ""},
        {"throttle: {ground_off_v: 5.02}", "controls.throttle.supply_v", "5.02"},
        {"throttle: {" GRIP "}", "controls.throttle.rest_v", "0.84"},
        {"throttle: {" GRIP "}", "controls.throttle.full_v", "4.16"},
        {"throttle: {throttle_rest_v: 0.9, throttle_full_v: 4.1}", "controls.throttle.rest_v",
         "0.9"},
        {"throttle: {" LEADS_OFF "}", "controls.throttle.without_supply_v", "0.02"},
        {"throttle: {" LEADS_OFF "}", "controls.throttle.without_ground_v", "4.97"},
        {"throttle: {" LEADS_OFF "}", "controls.throttle.without_signal_v", "0"},
        {"throttle: {throttle_rest_v: 4.1, throttle_full_v: 0.9, signal_off_v: 1}",
         "controls.throttle.full_v", ""},

        {"brake: {fitted: no}", "controls.brake.switch", "none"},
        {"brake: {pins: {b: [0, 0], w: [4.9, 0.02]}}", "controls.brake.switch", "normally_open"},
        {"brake: {pins: {b: [0, 0], w: [4.9, 0.02]}}", "controls.brake.joins", "ground"},
        {"brake: {" TO_VOLTS "}", "controls.brake.switch", "normally_closed"},
        {"brake: {" TO_VOLTS "}", "controls.brake.joins", "volts"},
        {"brake: {" TO_VOLTS ", " LEVERS_STOP "}", "controls.brake.expects", "normally_closed"},
        {"brake: {" TO_VOLTS ", " LEVERS_STOP "}", "controls.brake.expects_at", "volts"},
        {"brake: {" TO_VOLTS "}", "controls.brake.expects", ""},
        {"brake: {" TO_VOLTS ", left_stops: yes, right_stops: no}", "controls.brake.expects", ""},
        {"brake: {" TO_VOLTS ", left_stops: yes, right_stops: no}", "controls.brake.expects_at",
         ""},

        {"pedal_sensor: {fitted: no}", "controls.pedal.mode", "none"},
        {"pedal_sensor: {pulses: 8}", "controls.pedal.pulses_per_turn", "8"},
        {"pedal_sensor: {pulses: 8}", "controls.pedal.mode", ""},
        {"pedal_sensor: {" RING ", forward_mean_v: 3}", "controls.pedal.high_percent", "60"},
        {"pedal_sensor: {" RING ", backward_mean_v: 3}", "controls.pedal.high_percent", "40"},
        {"pedal_sensor: {" RING ", forward_mean_v: 0}", "controls.pedal.high_percent", ""},
        {"pedal_sensor: {" RING ", forward_mean_v: 5}", "controls.pedal.high_percent", ""},
        {"pedal_sensor: {" RING ", forward_mean_v: 3}", "controls.pedal.forward", ""},
        {"pedal_sensor: {" RING ", forward_mean_v: 3, drives: forward}", "controls.pedal.forward",
         "mostly_high"},
        {"pedal_sensor: {" RING ", forward_mean_v: 3, drives: backward}", "controls.pedal.forward",
         "mostly_low"},
        {"pedal_sensor: {" RING ", forward_mean_v: 2, drives: forward}", "controls.pedal.forward",
         "mostly_low"},
        {"pedal_sensor: {" RING ", forward_mean_v: 2.6, drives: forward}", "controls.pedal.forward",
         ""},
        {"pedal_sensor: {drives: both}", "controls.pedal.forward", "any"},
        {"pedal_sensor: {pulses: 8, drives: neither}", "controls.pedal.forward", ""},

        {"speed_switch: {first_rpm: 105, second_rpm: 213}", STEPS, "[49, 100]"},
        {"speed_switch: {first_rpm: 105, second_rpm: 213}", STEP, "2"},
        {"speed_switch: {first_rpm: 213, second_rpm: 105, third_rpm: 160}", STEPS, "[100, 49, 75]"},
        {"speed_switch: {first_rpm: 213, second_rpm: 105, third_rpm: 160}", STEP, "1"},
        /* Slower than the motor runs without any cap: the fastest is a part of it, too. */
        {"speed_switch: {first_rpm: 43, second_rpm: 107.5}", STEPS, "[20, 50]"},
        /* One position says nothing of the others; one that stands is no step; a slip is none. */
        {"speed_switch: {first_rpm: 213}", STEPS, ""},
        {"speed_switch: {first_rpm: 0, second_rpm: 213}", STEPS, ""},
        {"speed_switch: {first_rpm: 105, second_rpm: 2130}", STEPS, ""},
        {"speed_switch: {fitted: no}", STEPS, ""},
        {"speed_switch: {fitted: no}", STEP, ""},
    };
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        char log[1024];
        hp_error err;
        /* The last one sets a key, so that there is always something to write. */
        snprintf(log, sizeof log, LOG_HEAD "%s%s\n" ENTRY("idle_draw: {idle_a: 0.04}") "%s",
                 "  - time: 2026-11-29T10:00:00+00:00\n    ", row[k].entry,
                 strstr(row[k].entry, "sensor_supply") ? ""
                                                       : ENTRY("sensor_supply: {supply_v: 5.1}"));
        char *text = carried(HEAD, log, &err);
        check_true(text != NULL, "%s: %s", row[k].entry, err.text);
        check_key(text, row[k].key, row[k].value);
        free(text);
    }
}

/* One that refuses an open grip stands still for that alone: nothing is made of it, but of leads
 * that came off while it ran. */
static void leads_that_were_tried_tell_that_it_stops(void **state)
{
#define BOLD     HEAD "controls: {throttle: {refuses_open_grip: no}}\n"
#define SAYS_SO  HEAD "controls: {throttle: {stops_without_lead: yes}}\n"
#define WITH(of) LOG_HEAD ENTRY("throttle: {" GRIP ", " of "}")
    static const struct {
        const char *scenario, *log, *value;
    } row[] = {
        {BOLD, WITH("turned_with_off: none"), "yes"},
        {HEAD, WITH("turned_with_off: none"), ""},
        {HEAD, WITH("turned_with_off: none, runs_on_with_off: none"), "yes"},
        {HEAD, WITH("runs_on_with_off: none"), "yes"},
        {BOLD, WITH(LEADS_OFF), ""},
        {BOLD, WITH("turned_with_off: none, runs_on_with_off: ground"), ""},
        {BOLD, WITH("turned_with_off: ground, runs_on_with_off: none"), ""},
        {SAYS_SO, WITH("runs_on_with_off: signal"), "no"},
        {SAYS_SO, WITH("runs_on_with_off: none"), "yes"},
    };
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_error err;
        char *text = carried(row[k].scenario, row[k].log, &err);
        check_true(text != NULL, "row %zu: %s %s", k, err.text, problems);
        check_key(text, "controls.throttle.stops_without_lead", row[k].value);
        free(text);
    }
}

/* What the machine has, where the scenario says otherwise or nothing. A throttle is left out only
 * where the pedals drive: else nothing would ask for power. */
static void what_is_not_fitted_is_carried_over(void **state)
{
#define PEDALS HEAD "controls: {pedal: {mode: drives}}\n"
#define NEITHER                                                                                    \
    HEAD "controls: {key: {fitted: no}, throttle: {fitted: no}, pedal: {mode: drives}}\n"
#define AND_V(e) LOG_HEAD e ENTRY("sensor_supply: {supply_v: 5.1}")
    static const struct {
        const char *scenario, *log, *key, *throttle;
    } row[] = {
        {PEDALS, AND_V(ENTRY("throttle: {fitted: no}")), "", "no"},
        {HEAD, AND_V(ENTRY("throttle: {fitted: no}")), "", ""},
        {PEDALS, AND_V(ENTRY("throttle: {fitted: no}") ENTRY("pedal_sensor: {fitted: no}")), "",
         ""},
        {PEDALS, AND_V(ENTRY("throttle: {fitted: yes}")), "", ""},
        {NEITHER, AND_V(ENTRY("throttle: {throttle_full_v: 4}")), "no", "yes"},
        {HEAD, AND_V(ENTRY("key: {fitted: no}")), "no", ""},
        {HEAD, AND_V(ENTRY("key: {stops: yes}")), "", ""},
        {NEITHER, AND_V(ENTRY("key: {stops: yes}")), "yes", "no"},
        /* Nothing else would drive it: the one key is left alone, the others are written. */
        {NEITHER, AND_V(ENTRY("pedal_sensor: {fitted: no}") ENTRY("key: {stops: yes}")), "yes",
         "no"},
    };
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_error err;
        char *text = carried(row[k].scenario, row[k].log, &err);
        check_true(text != NULL, "row %zu: %s %s", k, err.text, problems);
        check_key(text, "controls.key.fitted", row[k].key);
        check_key(text, "controls.throttle.fitted", row[k].throttle);
        free(text);
    }
}

/* Steps that are stated stay where the readings are no better, or fewer; a list is written over in
 * brackets or as items, its remarks kept. */
static void stated_steps_give_way_to_others(void **state)
{
#define SWITCH(speeds)                                                                             \
    LOG_HEAD ENTRY("speed_switch: {" speeds "}") ENTRY("sensor_supply: {supply_v: 5.1}")
#define STATED(of) HEAD "controller:\n" of
    static const char brackets[] = "  speed_steps_percent: [40, 70, 100]   # the label\n";
    static const struct {
        const char *scenario, *log, *steps, *step, *lost;
    } row[] = {
        {STATED("  speed_steps_percent: [50, 100]\n"), SWITCH("first_rpm: 113, second_rpm: 213"),
         "[50, 100]", "", ""},
        {STATED("  speed_steps_percent: [50, 100]\n"), SWITCH("first_rpm: 115, second_rpm: 213"),
         "[54, 100]", "", ""},
        {STATED("  speed_steps_percent: [50, 100]\n  speed_step: 1\n"),
         SWITCH("first_rpm: 115, second_rpm: 213"), "[54, 100]", "1", ""},
        {STATED("  speed_steps_percent: [40, 70, 100]\n"),
         SWITCH("first_rpm: 115, second_rpm: 213"), "[40, 70, 100]", "", ""},
        {STATED("  speed_steps_percent: [50, 100]\n  speed_step: 1\n"),
         SWITCH("first_rpm: 85, second_rpm: 149, third_rpm: 213"), "[40, 70, 100]", "3", ""},
        /* Joined the other way round: the fastest position is another one, which a slower one that
         * was chosen is not. */
        {STATED("  speed_steps_percent: [40, 70, 100]\n"),
         SWITCH("first_rpm: 213, second_rpm: 149, third_rpm: 85"), "[100, 70, 40]", "1", ""},
        {STATED("  speed_steps_percent: [40, 70, 100]\n  speed_step: 3\n"),
         SWITCH("first_rpm: 213, second_rpm: 149, third_rpm: 85"), "[100, 70, 40]", "1", ""},
        {STATED("  speed_steps_percent: [40, 70, 100]\n  speed_step: 2\n"),
         SWITCH("first_rpm: 213, second_rpm: 149, third_rpm: 85"), "[100, 70, 40]", "2", ""},
        /* Without a switch it stays where it is with the lead off: in the last step, or as stated.
         */
        {STATED("  speed_steps_percent: [50, 100]\n  speed_step: 2\n"), SWITCH("fitted: no"),
         "[100]", "1", "1"},
        {STATED(
             "  speed_steps_percent: [50, 100]\n") "controls: {speed_switch: {without_lead: 1}}\n",
         SWITCH("fitted: no"), "[50]", "1", "1"},
        {STATED("  speed_steps_percent: [70]\n"), SWITCH("fitted: no"), "[70]", "", ""},
    };
    static const struct {
        const char *before, *after; /* NULL: cannot be changed where it stands */
    } text[] = {
        {brackets, "  # commissioning, x.bench.yaml entry 1, in proportion to the speeds; before: "
                   "[40, 70, 100]  # the label\n"
                   "  speed_steps_percent: [20, 70, 100]\n"},
        {"  speed_steps_percent:   # the label\n    - 40\n    - 70 \n    - 100\n  "
         "ramp_percent_per_s: 50\n",
         "  # commissioning, x.bench.yaml entry 1, in proportion to the speeds; before: "
         "[40, 70, 100]  # the label\n"
         "  speed_steps_percent: [20, 70, 100]\n  ramp_percent_per_s: 50\n"},
        {"  {speed_steps_percent: [40, 70, 100], pwm_khz: 17}\n",
         "  # commissioning, x.bench.yaml entry 1, in proportion to the speeds; before: "
         "[40, 70, 100]\n"
         "  {speed_steps_percent: [20, 70, 100], pwm_khz: 17}\n"},
        {"  speed_steps_percent: [40, 70,\n    100]\n", NULL},
        {"  speed_steps_percent:\n  - 40  # walk\n  - 70\n  - 100\n", NULL},
        {"  speed_steps_percent:\n  - 40\n\n  - 70\n  - 100\n", NULL},
    };
    (void)state;
    hp_error err;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        char *out = carried(row[k].scenario, row[k].log, &err);
        check_true(out != NULL, "row %zu: %s %s", k, err.text, problems);
        check_key(out, STEPS, row[k].steps);
        check_key(out, STEP, row[k].step);
        check_key(out, LOST_STEP, row[k].lost);
        free(out);
    }
    for (size_t k = 0; k < sizeof text / sizeof text[0]; k++) {
        char before[600], after[900];
        snprintf(before, sizeof before, STATED("%s"), text[k].before);
        snprintf(after, sizeof after, STATED("%s"), text[k].after ? text[k].after : "");
        char *out = carried(before,
                            LOG_HEAD ENTRY("speed_switch: {first_rpm: 42, second_rpm: "
                                           "149, third_rpm: 213}"),
                            &err);
        if (text[k].after)
            assert_string_equal(out ? out : err.text, after);
        else
            check_true(!out && strstr(err.text, STEPS " cannot be changed where it stands, change "
                                                      "it by hand to [20, 70, 100]"),
                       "row %zu: %s", k, out ? out : err.text);
        free(out);
    }
}

/* What the leads lose between the battery and the controller is taken off; a meter's digit below
 * nothing is nothing. */
static void the_battery_alone_is_less_than_with_its_leads(void **state)
{
#define SAG(more)                                                                                  \
    LOG_HEAD ENTRY("sag: {low_a: 0.5, low_v: 37.5, high_a: 10.5, high_v: 36.5" more "}")
    static const struct {
        const char *log;
        double lost_v;
    } row[] = {{SAG(", terminal_v: 36.815"), 0.315}, {SAG(", terminal_v: 36.49"), 0.0}};
    (void)state;
    hp_error err;
    for (int k = 0; k < 2; k++) {
        hp_scenario s;
        char *text = carried(HEAD, row[k].log, &err);
        assert_non_null(text);
        check_int(hp_scenario_read(text, strlen(text), "x.yaml", &s, stderr, &err), HP_OK);
        double with = hp_parameters_find(&s.parameters, "supply.resistance_mohm")->number;
        double alone = hp_parameters_find(&s.fit_parameters, "pack.resistance_mohm")->number;
        check_close(with - alone, 1000.0 * row[k].lost_v / 10.5, 0.01, "five digits of each");
        hp_scenario_free(&s);
        free(text);
    }
    char *text = carried(HEAD, SAG(""), &err);
    assert_non_null(text);
    check_key(text, "pack.resistance_mohm", "");
    free(text);
}

/* Byte for byte: all else stays, a remark behind an old figure goes above the new one. */
static void the_text_stays_but_for_its_figures(void **state)
{
    (void)state;
    static const char before[] = HEAD "# mine\n"
                                      "controls:   # all\n"
                                      "  throttle: {rest_v: 0.9, full_v: 4.16}  # the label\n"
                                      "  brake:\n"
                                      "    switch: normally_closed   # a guess\n"
                                      "    joins: ground   # looked at\n"
                                      "ratings:\n"
                                      "  sensor_supply_v: 5\t# it says\n"
                                      "  # the end\n";
    static const char after[] =
        HEAD "# mine\n"
             "controls:   # all\n"
             "  # commissioning, x.bench.yaml entry 1; before: 0.9  # the label\n"
             "  throttle: {rest_v: 0.84, full_v: 4.16}\n"
             "  brake:\n"
             "    # commissioning, x.bench.yaml entry 2; before: normally_closed  # a guess\n"
             "    switch: normally_open\n"
             "    joins: ground   # looked at\n"
             "ratings:\n"
             "  # commissioning, x.bench.yaml entry 3; before: 5  # it says\n"
             "  sensor_supply_v: 4.94\n"
             "  # the end\n";
    static const char log[] =
        LOG_HEAD ENTRY("throttle: {throttle_rest_v: 0.84, throttle_full_v: 4.16}")
            ENTRY("brake: {pins: {b: [0, 0], w: [4.9, 0.02]}}")
                ENTRY("sensor_supply: {supply_v: 4.94}");
    hp_error err;
    char *text = carried(before, log, &err);
    check_true(text != NULL, "%s", err.text);
    assert_string_equal(text, after);
    /* What says so already is left alone. */
    check_true(carried(text, log, &err) == NULL, "the same again");
    check_true(strstr(err.text, "nothing to write back") != NULL, "%s", err.text);
    free(text);
}

/* Figures that no scenario can hold beside what it states are named, and nothing is written. */
static void what_does_not_fit_is_refused(void **state)
{
    (void)state;
    hp_error err;
    check_true(carried(HEAD "controls: {throttle: {all_v: 4.99}}\n",
                       LOG_HEAD ENTRY("throttle: {" GRIP "}"), &err) == NULL,
               "all from 4.99 V of 4.96 V");
    check_int(err.code, HP_FAIL_INPUT);
    check_true(strstr(problems, "controls.throttle.supply_v is 4.96, must be at least "
                                "controls.throttle.all_v (4.99)") != NULL,
               "%s", problems);
    check_true(carried(HEAD "controls: {brake: {switch: \"normally_closed\"}}\n",
                       LOG_HEAD ENTRY("brake: {fitted: no}"), &err) == NULL,
               "a quoted word");
    check_true(strstr(err.text, "controls.brake.switch cannot be changed where it stands, change "
                                "it by hand to none") != NULL,
               "%s", err.text);
    check_true(carried(HEAD, LOG_HEAD ENTRY("sensor_supply: {supply_v: -4.9}"), &err) == NULL,
               "volts the wrong way round");
    check_true(strstr(err.text, "nothing to write back") != NULL, "%s", err.text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_reading_tells_its_keys),
        cmocka_unit_test(leads_that_were_tried_tell_that_it_stops),
        cmocka_unit_test(what_is_not_fitted_is_carried_over),
        cmocka_unit_test(stated_steps_give_way_to_others),
        cmocka_unit_test(the_battery_alone_is_less_than_with_its_leads),
        cmocka_unit_test(the_text_stays_but_for_its_figures),
        cmocka_unit_test(what_does_not_fit_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
