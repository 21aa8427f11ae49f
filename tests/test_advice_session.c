/* Scenario and log to belief and planner; where things stand; the section bench. */
#include "scenario_text.h"

#include "app/advice_log_line.h"
#include "base/rank.h"
#include "decide/advise/advice_standing.h"
#include "decide/reading/reading_list.h"
#include "hubphase/decide/assumptions.h"
#include "record/case/case_parts.h"

#include <unistd.h>

#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "name: Bench machine\n"                                                                        \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"                                                               \
    "leads: {motor_phases: {U: red, V: white, W: black}}\n"
#define LOG                                                                                        \
    "hubphase_log: 1\n"                                                                            \
    "scenario: Bench machine\n"                                                                    \
    "leads: {motor_phases: [red, white, black]}\n"                                                 \
    "entries:\n"
#define ENTRY "- time: 2026-11-25T10:40:00+01:00\n  "

#define SCENARIO_FILE "test_advice_session.yaml"
#define LOG_FILE      "test_advice_session.bench.yaml"

static void write_text(const char *name, const char *text)
{
    scenario_file_write(name, text, strlen(text));
}

static hp_exit open_session(hp_advice_session *s, const char *scenario, const char *log)
{
    hp_advice_choice choice = hp_advice_choice_default();
    choice.file = SCENARIO_FILE;
    choice.quiet = true;
    write_text(SCENARIO_FILE, scenario);
    if (log)
        write_text(LOG_FILE, log);
    hp_exit status = hp_advice_session_open(s, "test", &choice);
    remove(SCENARIO_FILE);
    return status;
}

/* The words of a command, a line each. */
static char *words(char *line)
{
    for (char *end = line + strlen(line); end > line && end[1]; end += strlen(end))
        *end = '\n';
    return line;
}

static int clean_up(void **state)
{
    (void)state;
    remove(SCENARIO_FILE);
    remove(LOG_FILE);
    return 0;
}

static hp_advice next(hp_advice_session *s)
{
    hp_advice advice;
    hp_error err = hp_error_none();
    check_true(hp_plan_next(s->bench->planner, &s->bench->belief, true, &advice, &err) == HP_OK,
               "%s", err.text);
    return advice;
}

static void a_log_that_is_not_there_is_empty(void **state)
{
    (void)state;
    hp_advice_session s;
    char line[HP_LOG_LINE_SIZE];
    check_int(open_session(&s, MACHINE, NULL), HP_EXIT_FINE);
    check_int(s.bench->belief.entries, 0);
    check_int(hp_case_table(s.bench), HP_TABLE_SHIPPED);
    assert_string_equal(hp_case_log(s.bench)->path, LOG_FILE);
    hp_advice advice = next(&s);
    check_int(advice.kind, HP_ADVICE_READ);
    check_true(advice.reading == &hp_reading_pins, "another reading");
    assert_string_equal(words(hp_advice_log_line(&s, NULL, &advice, line, sizeof line)),
                        "hubphase\nlog\n" SCENARIO_FILE "\npins\n--continuity=YES-OR-NO\n"
                        "--touches-shell=YES-OR-NO\n--phase-touches-sensor=YES-OR-NO");
    hp_advice_session_close(&s);
}

#define RAN_WELL                                                                                   \
    ENTRY "trial: {wiring: U V W / red white black, throttle_percent: 35, motion: forward, feel: " \
          "smooth, starts: 6, starts_tried: 6, battery_a: 0.2, wheel_speed_rpm: 75}\n"

/* Steps of commissioning are heeded for what is still to come as it would stand then: what rubs is
 * answered by the run after it, on paper as in the log. */
static void the_steps_have_their_say_of_what_is_still_to_come(void **state)
{
    (void)state;
    hp_advice_session s;
    hp_advice ahead;
    hp_belief belief;
    hp_error err = hp_error_none();
    check_int(open_session(&s, MACHINE, LOG RAN_WELL RAN_WELL ENTRY "drag: {rubs: yes}\n"),
              HP_EXIT_FINE);
    hp_advice now = next(&s);
    check_int(now.kind, HP_ADVICE_PROBABLY);
    check_int(now.why, HP_WHY_CONTRARY);
    check_int(hp_belief_copy(&s.bench->belief, &belief, &err), HP_OK);
    hp_entry run = belief.entry[1];
    run.number = belief.entries + 1;
    check_int(hp_belief_add(&belief, &run, &err), HP_OK);
    check_int(hp_plan_next(s.bench->planner, &belief, true, &ahead, &err), HP_OK);
    check_int(ahead.kind, HP_ADVICE_DONE);
    hp_belief_free(&belief);
    hp_advice_session_close(&s);
}

static void the_log_moves_the_advice(void **state)
{
    (void)state;
    hp_advice_session s;
    char line[HP_LOG_LINE_SIZE];
    const char *two = LOG ENTRY "pins: {continuity: {red-white: yes}}\n" ENTRY
                                "sensor_supply: {supply_v: 36.2}\n";
    check_int(open_session(&s, MACHINE, two), HP_EXIT_FINE);
    check_int(s.bench->belief.entries, 2);
    check_int(s.bench->belief.entry[1].number, 2);
    hp_advice advice = next(&s);
    check_int(advice.kind, HP_ADVICE_DANGER);
    check_true(advice.danger == &hp_danger_sensor_volts, "another danger");
    check_text_contains(words(hp_advice_log_line(&s, "my log.yaml", &advice, line, sizeof line)),
                        "\n--log=my log.yaml\nsensor_supply\n--supply-v=VOLTS");

    /* The log grows, and is read again. */
    hp_error err = hp_error_none();
    write_text(LOG_FILE, LOG ENTRY "pins: {continuity: {red-white: yes}}\n" ENTRY
                                   "sensor_supply: {supply_v: 36.2}\n" ENTRY
                                   "sensor_supply: {supply_v: 5.0}\n");
    check_true(hp_case_reload(s.bench, &err) == HP_OK, "%s", err.text);
    check_int(s.bench->belief.entries, 3);
    check_int(next(&s).kind, HP_ADVICE_READ);

    /* The last entry is taken back. */
    write_text(LOG_FILE, two);
    check_true(hp_case_reload(s.bench, &err) == HP_OK, "%s", err.text);
    check_int(next(&s).kind, HP_ADVICE_DANGER);
    hp_advice_session_close(&s);
}

static void what_cannot_be_advised_is_refused(void **state)
{
    (void)state;
    hp_advice_session s;
    check_int(open_session(&s, MACHINE, LOG ENTRY "pins: {continuity: {red-green: yes}}\n"),
              HP_EXIT_INPUT);
    remove(LOG_FILE);
    check_int(open_session(&s, MACHINE "controller: {throttle_percent: 0}\n", NULL), HP_EXIT_INPUT);
    check_int(open_session(&s, "hubphase: 1\n", NULL), HP_EXIT_INPUT);
    check_int(open_session(&s,
                           MACHINE "controller: {table: six_step_60}\nbench: {table_known: "
                                   "false}\n",
                           NULL),
              HP_EXIT_FINE);
    hp_advice_session_close(&s);
}

/* ---- the section bench ----------------------------------------------------------------------- */

static hp_scenario load(const char *text)
{
    loaded l = scenario_load_text(SCENARIO_FILE, text);
    check_true(l.result == HP_OK, "%s", l.printed);
    free(l.printed);
    return l.scenario;
}

static void bench_keys_reach_the_plan(void **state)
{
    (void)state;
    hp_scenario s = load(MACHINE "bench:\n"
                                 "  sixty_degree_percent: 11\n"
                                 "  dead_sensor_percent: 12\n"
                                 "  open_lead_percent: 13\n"
                                 "  table_wrong_percent: 14\n"
                                 "  slip_percent: 10\n"
                                 "  learn_lead: true\n"
                                 "  rest_angles: 4\n"
                                 "  trial_throttle_percent: 22\n"
                                 "  sure_percent: 97\n"
                                 "  sensor_supply_most_v: 17\n"
                                 "  throttle_rest_v: 0.85\n"
                                 "  throttle_full_v: 4.1\n"
                                 "  meters: {tachometer: false, ohm_error_percent: 20}\n"
                                 "  readings: {spin: false, controller_probe: false}\n"
                                 "  minutes: {trial: 9, sensor_pin: 0.5}\n");
    const hp_bench_settings *b = &s.bench;
    const hp_person usual = hp_person_default();
    check_close(b->prior.inverted, 0.11, 1e-12, "rounding");
    check_close(b->prior.sensor_fault, 0.12, 1e-12, "rounding");
    check_close(b->prior.lead_open, 0.13, 1e-12, "rounding");
    check_close(b->prior.table_stated, 0.86, 1e-12, "rounding");
    check_int(b->prior.table, 0);
    check_true(b->plan.learns && b->plan.ammeter && !b->plan.tachometer, "meters, learn lead");
    check_int(b->plan.starts, 4);
    check_close(b->plan.throttle, 0.22, 1e-12, "rounding");
    check_close(b->plan.sure, 0.97, 1e-12, "rounding");
    check_close(b->plan.sensor_v_max, 17.0, 0.0, "as written");
    check_close(b->prior.nuisance.throttle_rest_v, 0.85, 0.0, "as written");
    check_close(b->prior.nuisance.throttle_full_v, 4.1, 0.0, "as written");
    check_close(b->plan.lowest_step, 0.0, 0.0, "no speed switch");
    check_int(b->plan.allowed,
              hp_allow_readings() & ~hp_allow(&hp_reading_spin) & ~hp_allow(&hp_reading_probe));
    check_close(b->plan.costs.trial, 9.0, 0.0, "as written");
    check_close(b->plan.costs.sensor_pin, 0.5, 0.0, "as written");
    check_close(b->plan.costs.look, hp_costs_default().look, 0.0, "not given");
    check_close(b->person.wrong_direction, 2.0 * usual.wrong_direction, 1e-12, "twice the slips");
    check_close(b->person.code_skipped, 2.0 * usual.code_skipped, 1e-12, "twice the slips");
    check_close(b->person.ohm_relative, 0.2, 1e-12, "rounding");
    hp_scenario_free(&s);
}

/* A scenario that says nothing reckons with the library's own defaults. */
static void a_silent_scenario_has_the_defaults(void **state)
{
    (void)state;
    hp_scenario s = load(MACHINE);
    hp_prior_params prior = hp_prior_default();
    hp_person person = hp_person_default();
    hp_plan_params plan = hp_plan_params_default();
    plan.throttle = s.drive.controller.throttle;
    assert_memory_equal(&s.bench.person, &person, sizeof person);
    check_int(s.bench.prior.table, prior.table);
    /* But for the table: what nobody states is a guess. */
    check_close(s.bench.prior.table_stated, 0.85, 1e-12, "rounding");
    check_close(s.bench.prior.inverted, prior.inverted, 1e-12, "rounding");
    check_int(s.bench.plan.allowed, plan.allowed);
    assert_memory_equal(&s.bench.plan.costs, &plan.costs, sizeof plan.costs);
    check_close(s.bench.plan.sure, plan.sure, 1e-12, "rounding");
    check_close(s.bench.plan.throttle, plan.throttle, 1e-12, "rounding");
    hp_scenario_free(&s);
}

static void what_the_scenario_says_elsewhere_counts(void **state)
{
    (void)state;
    hp_scenario s = load(MACHINE "sensors: {spacing_deg: 60}\n");
    check_close(s.bench.prior.inverted, 0.9, 1e-12, "60-degree sensors are stated");
    hp_scenario_free(&s);
    s = load(MACHINE "bench: {table_known: false}\n");
    check_int(s.bench.prior.table, -1);
    check_true(!s.bench.table_known, "the table counts as known");
    hp_scenario_free(&s);
    s = load("hubphase: 1\n"
             "motor: {magnets: 20, resistance_between_leads_ohm: 0.2, rotor_inertia_kg_m2: 0.0005, "
             "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n"
             "stand: {clutch: true, gear_ratio: 4}\n"
             "bench: {slipping_clutch_percent: 7}\n");
    check_true(s.bench.prior.has_clutch, "no clutch");
    check_close(s.bench.prior.clutch, 0.07, 1e-12, "rounding");
    hp_scenario_free(&s);
    loaded l = scenario_load_text(SCENARIO_FILE, MACHINE "bench: {sensor_supply_most_v: 3}\n");
    check_int(l.result, HP_FAIL_INPUT);
    check_text_contains(l.printed, "must be above bench.sensor_supply_least_v (3.8)");
    loaded_free(&l);
    l = scenario_load_text(SCENARIO_FILE, MACHINE "bench: {throttle_full_v: 4}\n");
    check_text_contains(l.printed, "bench.throttle_full_v is given without bench.throttle_rest_v, "
                                   "must be both");
    loaded_free(&l);
    l = scenario_load_text(SCENARIO_FILE, MACHINE "bench: {throttle_rest_v: 0.8}\n");
    check_text_contains(l.printed, "bench.throttle_rest_v is given without bench.throttle_full_v");
    loaded_free(&l);
    l = scenario_load_text(SCENARIO_FILE,
                           MACHINE "bench: {throttle_rest_v: 4, throttle_full_v: 1}\n");
    check_text_contains(l.printed,
                        "bench.throttle_full_v is 1, must be above bench.throttle_rest_v (4)");
    loaded_free(&l);
    s = load(MACHINE "controller: {speed_steps_percent: [60, 30, 90], speed_step: 1}\n");
    check_close(s.bench.plan.lowest_step, 0.5, 1e-12, "30 % of the battery's volts for 60 %");
    check_int(s.bench.plan.cell, HP_CELL_LI_ION);
    hp_scenario_free(&s);
    s = load(MACHINE "pack: {cells: lead, in_series: 12}\n");
    check_int(s.bench.plan.cell, HP_CELL_LEAD);
    hp_scenario_free(&s);
    /* Seven cells: 21 V empty and 29.4 V full, of which sensors bear 24. Ten or three: never, ever.
     */
    s = load(MACHINE "pack: {in_series: 7}\nsupply: {battery_v: 25.5}\n");
    check_close(s.bench.plan.sensor_own_v, 18.9, 1e-12, "a tenth below 21 V");
    check_close(hp_plan_sensor_stop_v(&s.bench.plan), 18.9, 1e-12, "and that stops");
    check_close(s.bench.plan.sensor_v_max, 24.0, 0.0, "what sensors bear");
    hp_scenario_free(&s);
    for (int cells = 3; cells <= 10; cells += 7) {
        s = load(cells == 3 ? MACHINE "pack: {in_series: 3}\nsupply: {battery_v: 11}\n"
                            : MACHINE "pack: {in_series: 10}\nsupply: {battery_v: 36}\n");
        check_close(s.bench.plan.sensor_v_max, 24.0, 0.0, "what sensors bear");
        check_close(hp_plan_sensor_stop_v(&s.bench.plan), 24.0, 0.0, "its own are never so low");
        hp_scenario_free(&s);
    }
    s = load(MACHINE "pack: {in_series: 7}\nsupply: {battery_v: 25.5}\n"
                     "bench: {sensor_supply_most_v: 20}\n");
    check_close(s.bench.plan.sensor_v_max, 20.0, 0.0, "as written");
    check_close(hp_plan_sensor_stop_v(&s.bench.plan), 18.9, 1e-12, "whatever sensors bear");
    hp_scenario_free(&s);
    s = load(MACHINE "pack: {in_series: 7}\nsupply: {battery_v: 25.5}\n"
                     "bench: {sensor_supply_most_v: 12}\n");
    check_close(hp_plan_sensor_stop_v(&s.bench.plan), 12.0, 0.0, "sensors that bear less");
    hp_scenario_free(&s);
}

/* ---- where things stand ---------------------------------------------------------------------- */

static void standing_adds_up(void **state)
{
    (void)state;
    hp_advice_session s;
    hp_standing standing;
    hp_error err = hp_error_none();
    const char *log = LOG ENTRY "pins: {continuity: {red-white: yes, white-black: yes}}\n" ENTRY
                                "hand_turn: {codes: [100, 110, 010, 011, 001, 101, 100]}\n" ENTRY
                                "park: {plus_lead: red, code: 100}\n" ENTRY
                                "park: {plus_lead: white, code: 010}\n";
    check_int(open_session(&s, MACHINE, log), HP_EXIT_FINE);
    check_int(
        hp_standing_fill(&s.bench->belief, s.session.scenario.bench.prior.table, &standing, &err),
        HP_OK);
    double sets = 0.0, troubles = standing.sound, right[HP_WIRING_COUNT + 1];
    hp_belief_wirings_mended(&s.bench->belief, right);
    for (int k = 0; k < standing.sets; k++) {
        sets += standing.set[k].probability;
        check_true(k == 0 || hp_rounded(standing.set[k].probability) <=
                                 hp_rounded(standing.set[k - 1].probability),
                   "set %d is out of order", k);
    }
    for (int k = 0; k < standing.troubles; k++)
        troubles += standing.trouble[k].probability;
    check_close(sets, 1.0, 1e-9, "sum of rounded terms");
    check_close(troubles, 1.0, 1e-9, "sum of rounded terms");
    /* Like to like: wirings 1, 22 and 29. */
    check_int(standing.set[0].number[0], 1);
    check_int(standing.set[0].number[1], 22);
    check_int(standing.set[0].number[2], 29);
    check_true(standing.set[0].probability > 0.7 && standing.set[0].probability <= right[1] + 1e-9,
               "%g of %g", standing.set[0].probability, right[1]);

    hp_standing_course course;
    double *now = malloc((size_t)s.bench->belief.count * sizeof *now);
    check_int(hp_standing_course_make(&s.bench->belief, 1e-4, &course, &err), HP_OK);
    hp_belief_hypotheses(&s.bench->belief, now);
    check_int(course.steps, 5);
    for (int k = 0; k < course.count; k++)
        check_close(course.after[k * 5 + 4], now[course.index[k]], 1e-9,
                    "the last step is what is now");
    check_true(course.doubt[2] < course.doubt[1] - 1.0, "the codes tell at least half: %g to %g",
               course.doubt[1], course.doubt[2]);
    check_true(course.to[4] > course.from[4], "nothing was raised");
    hp_standing_course_free(&course);
    free(now);
    hp_advice_session_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_log_that_is_not_there_is_empty, clean_up),
        cmocka_unit_test_teardown(the_log_moves_the_advice, clean_up),
        cmocka_unit_test_teardown(the_steps_have_their_say_of_what_is_still_to_come, clean_up),
        cmocka_unit_test_teardown(what_cannot_be_advised_is_refused, clean_up),
        cmocka_unit_test_teardown(bench_keys_reach_the_plan, clean_up),
        cmocka_unit_test_teardown(a_silent_scenario_has_the_defaults, clean_up),
        cmocka_unit_test_teardown(what_the_scenario_says_elsewhere_counts, clean_up),
        cmocka_unit_test_teardown(standing_adds_up, clean_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
