/*
 * Legal but extreme scenarios: every number of motor, sensors, controller, supply and stand at both
 * ends of what it may be, and pairs of those that make much work. Each run ends within the steps
 * that it may take; one that is given up tells which numbers make it slow. Steps are counted, not
 * seconds.
 */
#include "check.h"

#include "record/scenario/scenario_keys.h"
#include "record/scenario/scenario_load.h"
#include "sim/step_rate.h"

#include <stdlib.h>

static const char base[] = "hubphase: 1\n"
                           "motor:\n"
                           "  pole_pairs: 23\n"
                           "  resistance_between_leads_ohm: 0.21\n"
                           "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n";

/* What may come at once, and a step too many that shows it. */
#define AT_ONCE 100001.0

typedef struct tried {
    hp_engine *engine;
    int runs, refused, slow;
} tried;

static bool load(const hp_scenario_change *change, int changes, hp_scenario *scenario)
{
    return hp_scenario_read_changed(base, strlen(base), "extreme.yaml", change, changes, scenario,
                                    NULL, NULL) == HP_OK;
}

static char *told(const hp_scenario *scenario)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    check_true(out != NULL, "no memory");
    hp_scenario_tell_slow(scenario, out);
    fclose(out);
    return text;
}

/* Some of these numbers are told, and none that nobody stated. */
static void check_told(const hp_scenario *scenario, const hp_scenario_change *change, int changes)
{
    char *text = told(scenario);
    int named = 0;
    for (char *line = text, *end; (end = strchr(line, '\n')) != NULL; line = end + 1) {
        bool known = false;
        *end = '\0';
        for (int k = 0; k < changes; k++)
            known = known || (strstr(line, change[k].key) && strstr(line, change[k].text));
        check_true(known, "told, though nobody stated it: %s", line);
        named++;
    }
    check_true(named > 0, "%s and %s are slow, and nothing is told", change[0].key,
               change[changes - 1].key);
    free(text);
}

/* A correct wiring, one of the other parity, and one that turns roughly; 0.1 s each. */
static void try_runs(tried *t, const hp_scenario_change *change, int changes, bool may_be_slow)
{
    hp_scenario scenario = {0};
    static const int numbers[] = {1, 2, 4};
    if (!load(change, changes, &scenario)) {
        t->refused++;
        return;
    }
    hp_run_options options = hp_scenario_survey_options(&scenario).run;
    options.seconds = 0.1;
    options.settle_s = 0.06;
    const hp_controller_params *c = &scenario.drive.controller;
    double edges = c->pwm == HP_PWM_AVERAGED ? 0.0 : 4.0 * c->pwm_hz;
    double most = AT_ONCE + (HP_STEPS_PER_SECOND + edges) * options.seconds;
    for (int k = 0; k < 3; k++) {
        hp_wiring wiring = hp_wiring_from_number(numbers[k]);
        hp_figures figures;
        hp_error err = hp_error_none();
        hp_result result =
            hp_engine_run(t->engine, &scenario.drive, &wiring, &options, NULL, &figures, &err);
        t->runs++;
        check_true((double)figures.steps <= most, "%s %s: %ld steps", change->key, change->text,
                   figures.steps);
        if (result == HP_FAIL_SLOW && may_be_slow) {
            t->slow++;
            check_told(&scenario, change, changes);
            break;
        }
        check_true(result == HP_OK, "%s %s, %s %s, wiring %d: %s", change->key, change->text,
                   change[changes - 1].key, change[changes - 1].text, numbers[k], err.text);
    }
    hp_scenario_free(&scenario);
}

/* The value at an end of the key's range that a scenario may have: nearer to the default where the
 * whole would be refused, as an inductance that does not go with the resistance is. False: none
 * may. */
static bool end_of(hp_key_id id, bool high, char value[32])
{
    const hp_key *key = hp_key_of(id);
    double end = high ? key->limits.high : key->limits.low;
    if (!high && key->limits.above)
        end = 1e-6;
    for (int k = 0; k < 12; k++, end *= high ? 0.5 : 10.0) {
        hp_scenario scenario = {0};
        snprintf(value, 32, key->kind == HP_KEY_IS_WHOLE ? "%.0f" : "%.6g", end);
        hp_scenario_change change = {.key = key->path, .text = value};
        bool accepted = load(&change, 1, &scenario);
        hp_scenario_free(&scenario);
        if (accepted)
            return true;
    }
    return false;
}

static bool is_of_the_machine(hp_key_id id)
{
    const hp_key *key = hp_key_of(id);
    bool number = key->kind == HP_KEY_IS_NUMBER || key->kind == HP_KEY_IS_WHOLE;
    return number && strchr(key->path, '.') && id != HP_KEY_SECONDS && id != HP_KEY_SETTLE;
}

static void every_number_at_both_ends_runs(void **state)
{
    (void)state;
    tried t = {.engine = hp_engine_create(NULL)};
    int ends = 0;
    for (int id = HP_KEY_MOTOR; id < HP_KEY_BENCH; id++)
        for (int high = 0; high < 2; high++) {
            char value[32];
            if (!is_of_the_machine((hp_key_id)id) || !end_of((hp_key_id)id, high, value))
                continue;
            hp_scenario_change change = {.key = hp_key_of((hp_key_id)id)->path, .text = value};
            try_runs(&t, &change, 1, false);
            ends++;
        }
    check_true(ends > 80 && t.runs == 3 * ends, "%d ends, %d runs", ends, t.runs);
    hp_engine_free(t.engine);
}

/* Those that make most work, each with each other. */
static void pairs_of_the_worst_run_or_tell_what_is_slow(void **state)
{
    (void)state;
    static const hp_scenario_change worst[] = {
        {"run.tolerance", "1e-12", false},
        {"motor.inductance_between_leads_mh", "0.001", false},
        {"motor.cogging_periods_per_electrical_turn", "1000", false},
        {"motor.pole_pairs", "100", false},
        {"controller.switch_resistance_mohm", "100000", false},
        {"controller.current_filter_ms", "0.01", false},
        {"supply.battery_v", "200", false},
        {"supply.resistance_mohm", "100000", false},
        {"stand.wheel_inertia_kg_m2", "1e-06", false},
        {"stand.gear_ratio", "100", false},
        {"stand.load_nm", "-1000", false},
    };
    enum { COUNT = sizeof worst / sizeof worst[0] };
    tried t = {.engine = hp_engine_create(NULL)};
    for (int a = 0; a < COUNT; a++)
        for (int b = a + 1; b < COUNT; b++) {
            hp_scenario_change pair[2] = {worst[a], worst[b]};
            try_runs(&t, pair, 2, true);
        }
    check_true(t.refused < COUNT, "%d of %d pairs are refused", t.refused, COUNT * (COUNT - 1) / 2);
    check_true(t.slow > 0, "no pair is slow: the bound is not tried");
    hp_engine_free(t.engine);
}

static void the_fastest_edges_run(void **state)
{
    (void)state;
    tried t = {.engine = hp_engine_create(NULL)};
    for (int k = 0; k < 2; k++) {
        hp_scenario_change change[] = {
            {"controller.pwm_khz", "1000", false},
            {"controller.pwm", k ? "one_sided" : "complementary", false}};
        try_runs(&t, change, 2, false);
    }
    check_int(t.runs, 6);
    hp_engine_free(t.engine);
}

/* What is told of a machine is what makes it slow, most first, and nothing else of what it states.
 */
static void what_is_slow_is_told_by_line_and_value(void **state)
{
    (void)state;
    static const hp_scenario_change change[] = {
        {"stand.wheel_inertia_kg_m2", "1e-06", false},
        {"run.tolerance", "1e-12", false},
        {"controller.current_filter_ms", "10", false},
        {"supply.battery_v", "38", false},
    };
    hp_scenario scenario = {0};
    check_true(load(change, 4, &scenario), "refused");
    char *text = told(&scenario);
    check_text_contains(
        text, "extreme.yaml: stand.wheel_inertia_kg_m2 is 1e-06: with 0.12, which is usual");
    check_text_contains(text, "extreme.yaml: run.tolerance is 1e-12: with 1e-07, which is usual");
    check_true(strstr(text, "filter") == NULL && strstr(text, "battery") == NULL, "%s", text);
    check_true(strstr(text, "wheel_inertia") < strstr(text, "tolerance"), "%s", text);
    free(text);
    hp_scenario_free(&scenario);
    /* An usual machine, and one that is stated where it is usual, has nothing to tell. */
    check_true(load(change + 2, 1, &scenario), "refused");
    text = told(&scenario);
    assert_string_equal(text, "");
    free(text);
    hp_scenario_free(&scenario);
}

static void a_long_run_is_told_by_its_seconds(void **state)
{
    (void)state;
    static const hp_scenario_change change[] = {{"run.seconds", "3600", false},
                                                {"stand.gear_ratio", "100", false}};
    hp_scenario scenario = {0};
    check_true(load(change, 2, &scenario), "refused");
    char *text = told(&scenario);
    check_text_contains(text, "stand.gear_ratio is 100");
    check_text_contains(text, "run.seconds is 3600: about ");
    free(text);
    hp_scenario_free(&scenario);
}

/* The cap of a whole run holds, whatever the rate. */
static void a_run_ends_at_its_cap_of_steps(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    hp_scenario scenario = {0};
    check_true(load(NULL, 0, &scenario), "refused");
    hp_run_options options = scenario.run;
    hp_wiring wiring = hp_wiring_from_number(1);
    hp_figures figures;
    hp_error err = hp_error_none();
    options.max_steps = 1000;
    check_int(hp_engine_run(engine, &scenario.drive, &wiring, &options, NULL, &figures, &err),
              HP_FAIL_SLOW);
    check_int(figures.steps, 1001);
    check_text_contains(err.text, "more steps than a run may take at ");
    options.max_steps = 0;
    check_int(hp_run_options_check(&options, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "run.max_steps is 0, must be at least 1");
    hp_scenario_free(&scenario);
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_number_at_both_ends_runs),
        cmocka_unit_test(pairs_of_the_worst_run_or_tell_what_is_slow),
        cmocka_unit_test(the_fastest_edges_run),
        cmocka_unit_test(what_is_slow_is_told_by_line_and_value),
        cmocka_unit_test(a_long_run_is_told_by_its_seconds),
        cmocka_unit_test(a_run_ends_at_its_cap_of_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
