/* The section `controls` of a scenario: values, what follows from them, contradictions. */
#include <math.h>

#include "scenario_text.h"

#define FILE_NAME "test_scenario_controls.yaml"
#define GOOD                                                                                       \
    "hubphase: 1\n"                                                                                \
    "motor:\n"                                                                                     \
    "  pole_pairs: 23\n"                                                                           \
    "  resistance_between_leads_ohm: 0.2\n"                                                        \
    "  no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 36}\n"

static hp_scenario load(const char *text)
{
    char whole[4096];
    snprintf(whole, sizeof whole, "%s%s", GOOD, text);
    loaded l = scenario_load_text(FILE_NAME, whole);
    check_true(l.result == HP_OK, "%s", l.printed);
    free(l.printed);
    return l.scenario;
}

static void without_the_section_everything_is_the_default(void **state)
{
    (void)state;
    hp_scenario s = load("");
    hp_controls_params usual = hp_controls_params_default();
    assert_memory_equal(&s.controls, &usual, sizeof usual);
    check_true(!hp_parameters_find(&s.parameters, "controls.throttle.rest_v"),
               "other commands do not list it");
    check_true(hp_parameters_find(&s.controls_parameters, "controls.throttle.rest_v") != NULL,
               "a list of its own does");
    check_true(!hp_parameters_find(&s.controls_parameters, "controls.pedal.start_pulses"),
               "no sensor, no pulses");
    check_true(!hp_parameters_find(&s.controls_parameters, "controls.speed_switch.without_lead"),
               "one step, no switch");
    hp_scenario_free(&s);
    s = load("controls: {throttle: {fitted: no}, pedal: {mode: drives}}\n");
    check_true(
        !hp_parameters_find(&s.controls_parameters, "controls.throttle.supply_v") &&
            !hp_parameters_find(&s.controls_parameters, "controls.throttle.stops_without_lead"),
        "no throttle, no volts of it");
    hp_scenario_free(&s);
}

static void every_key_arrives_in_its_place(void **state)
{
    (void)state;
    hp_scenario s =
        load("controller: {speed_steps_percent: [40, 80, 100], speed_step: 2}\n"
             "controls:\n"
             "  throttle: {supply_v: 5.5, rest_v: 0.9, full_v: 4.5, starts_v: 1.2, all_v: 4.1,\n"
             "             fault_below_v: 0.4, fault_above_v: 4.8, input_pulled: up,\n"
             "             without_supply_v: 0.1, without_ground_v: 4.9, without_signal_v: 5.2,\n"
             "             refuses_open_grip: no, stops_without_lead: yes, fitted: no}\n"
             "  key: {fitted: no}\n"
             "  brake: {switch: normally_closed, joins: volts, expects: normally_closed,\n"
             "          expects_at: volts, delay_ms: 25}\n"
             "  pedal: {mode: drives, pulses_per_turn: 8, high_percent: 35, forward: mostly_low,\n"
             "          assist_percent: 75, start_pulses: 5, off_ms: 300}\n"
             "  speed_switch: {without_lead: 1}\n");
    const hp_throttle_params *t = &s.controls.throttle;
    const double volts[][2] = {{t->supply_v, 5.5},      {t->rest_v, 0.9},
                               {t->full_v, 4.5},        {t->starts_v, 1.2},
                               {t->saturates_v, 4.1},   {t->fault_low_v, 0.4},
                               {t->fault_high_v, 4.8},  {t->lost_supply_v, 0.1},
                               {t->lost_ground_v, 4.9}, {t->lost_signal_v, 5.2}};
    for (size_t k = 0; k < sizeof volts / sizeof volts[0]; k++)
        check_close(volts[k][0], volts[k][1], 1e-12, "rounding");
    check_int(t->refuses_open, false);
    check_int(t->stops_lost, true);
    check_int(t->fitted, false);
    check_int(s.controls.key, false);
    const hp_brake_params *b = &s.controls.brake;
    check_int(b->fitted, HP_SWITCH_NORMALLY_CLOSED);
    check_int(b->joins, HP_LEVEL_VOLTS);
    check_int(b->expects, HP_SWITCH_NORMALLY_CLOSED);
    check_int(b->expects_at, HP_LEVEL_VOLTS);
    check_close(b->delay_s, 0.025, 1e-12, "rounding");
    const hp_pedal_params *p = &s.controls.pedal;
    check_int(p->mode, HP_PEDAL_DRIVES);
    check_int(p->pulses_per_turn, 8);
    check_close(p->high_share, 0.35, 1e-12, "rounding");
    check_int(p->forward, HP_PEDAL_MOSTLY_LOW);
    check_close(p->assist, 0.75, 1e-12, "rounding");
    check_int(p->start_pulses, 5);
    check_close(p->off_s, 0.3, 1e-12, "rounding");
    check_int(s.controls.speed.steps, 3);
    check_int(s.controls.speed.chosen, 2);
    check_int(s.controls.speed.lost, 1);
    check_close(s.controls.speed.cap[1], 0.8, 1e-12, "rounding");
    hp_scenario_free(&s);
}

static void check_listed(hp_scenario *s, const char *key, const char *value, hp_origin origin)
{
    hp_parameter *entry = hp_parameters_find(&s->controls_parameters, key);
    check_true(entry != NULL, "%s is not listed", key);
    assert_string_equal(entry->value, value);
    check_int(entry->origin, origin);
}

static void what_is_left_out_is_worked_out(void **state)
{
    (void)state;
    hp_scenario s = load("controller: {speed_steps_percent: [40, 100], speed_step: 1}\n"
                         "controls: {throttle: {supply_v: 10, input_pulled: up}}\n");
    check_listed(&s, "controls.throttle.rest_v", "1.6", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.full_v", "8.4", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.starts_v", "2", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.all_v", "8", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.without_supply_v", "10", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.without_ground_v", "10", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.without_signal_v", "10", HP_ORIGIN_DERIVED);
    check_int(s.controls.speed.lost, 2);
    check_int(s.controls.speed.chosen, 1);
    hp_scenario_free(&s);
    s = load("bench: {throttle_rest_v: 0.86, throttle_full_v: 3.9}\n");
    check_listed(&s, "controls.throttle.rest_v", "0.86", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.full_v", "3.9", HP_ORIGIN_DERIVED);
    check_listed(&s, "controls.throttle.without_signal_v", "0", HP_ORIGIN_DERIVED);
    hp_scenario_free(&s);
}

/* By which a trial at rest is known: of either key that states them, and not of what is usual. */
static void the_plan_knows_the_volts_of_rest_that_are_stated(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double rest_v;
    } cases[] = {{"controls: {throttle: {full_v: 4.2}}\n", 0.0},
                 {"controls: {throttle: {rest_v: 0.85}}\n", 0.85},
                 {"bench: {throttle_rest_v: 0.86, throttle_full_v: 3.9}\n", 0.86},
                 {"controls: {throttle: {rest_v: 0.85}}\n"
                  "bench: {throttle_rest_v: 0.86, throttle_full_v: 3.9}\n",
                  0.86}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_scenario s = load(cases[k].text);
        check_true(fabs(s.bench.plan.rest_v - cases[k].rest_v) < 1e-9, "case %zu: %g", k,
                   s.bench.plan.rest_v);
        hp_scenario_free(&s);
    }
}

static void check_refused(const char *text, const char *expected)
{
    char whole[4096];
    snprintf(whole, sizeof whole, "%s%s", GOOD, text);
    loaded l = scenario_load_text(FILE_NAME, whole);
    check_true(l.result == HP_FAIL_INPUT, "accepted:\n%s", text);
    check_text_contains(l.printed, expected);
    loaded_free(&l);
}

static void contradictions_are_told_with_their_place(void **state)
{
    (void)state;
    check_refused("controls: {throttle: {rest_v: 4.5}}\n",
                  FILE_NAME ":6:31: error: controls.throttle.rest_v is 4.5, must be below "
                            "controls.throttle.full_v (4.2)");
    check_refused("controls: {throttle: {full_v: 0.5}}\n",
                  "controls.throttle.full_v is 0.5, must be above controls.throttle.rest_v (0.8)");
    check_refused("controls: {throttle: {starts_v: 4}}\n",
                  "controls.throttle.starts_v is 4, must be below controls.throttle.all_v (4)");
    check_refused("controls: {throttle: {full_v: 6}}\n",
                  "controls.throttle.full_v is 6, must be at most controls.throttle.supply_v (5)");
    check_refused("controls: {throttle: {without_ground_v: 5.1}}\n",
                  "controls.throttle.without_ground_v is 5.1, must be at most");
    check_refused("controls: {throttle: {fault_below_v: 1}}\n",
                  "controls.throttle.fault_below_v is 1, must be below controls.throttle.starts_v");
    check_refused("controls: {throttle: {fault_above_v: 3.9}}\n",
                  "controls.throttle.fault_above_v is 3.9, must be at least "
                  "controls.throttle.all_v (4)");
    check_refused("controls: {brake: {switch: closed}}\n",
                  "controls.brake.switch is \"closed\", must be normally_open, normally_closed or "
                  "none");
    check_refused("controls: {brake: {expects: none}}\n", "controls.brake.expects is \"none\"");
    check_refused("controls: {speed_switch: {without_lead: 2}}\n",
                  "controls.speed_switch.without_lead is 2, must be from 1 to 1, the entries of "
                  "controller.speed_steps_percent");
    for (int k = 0; k < 2; k++) {
        char text[80];
        snprintf(text, sizeof text, "controls: {throttle: {fitted: no}, pedal: {mode: %s}}\n",
                 k ? "gates" : "none");
        check_refused(text, "controls.throttle.fitted is no, must be yes where "
                            "controls.pedal.mode is not drives");
    }
    check_refused("controls: {grip: {rest_v: 1}}\n", "controls.grip is not known");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_knows_the_volts_of_rest_that_are_stated),
        cmocka_unit_test(without_the_section_everything_is_the_default),
        cmocka_unit_test(every_key_arrives_in_its_place),
        cmocka_unit_test(what_is_left_out_is_worked_out),
        cmocka_unit_test(contradictions_are_told_with_their_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
