/* What the page's form says of the whole machine, through the face of the library: every key that
 * the fit or the controls want can be filled in, in a new scenario or in one that is there. */
#include "check.h"
#include "face_calls.h"

#include "hubphase.h"
#include "report/words/fit_words.h"

#define MOTOR                                                                                      \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"
#define MACHINE "# from a fair\nhubphase: 1\nname: Bench machine  # mine\n" MOTOR

/* Fails, with a problem of this key. */
static void bad(hp_web *web, json_t *request, const char *key)
{
    json_t *answer = call_json(web, request), *problem;
    size_t k;
    bool found = key == NULL;
    assert_true(json_is_false(json_object_get(answer, "ok")));
    json_array_foreach(json_object_get(answer, "problems"), k, problem) found =
        found || strcmp(text_of(problem, "key"), key) == 0;
    check_true(found, "no problem of %s: %s", key, text_of(answer, "summary"));
    json_decref(answer);
}

static void open_case(hp_web *web, const char *scenario, const char *log)
{
    json_decref(good_json(web, json_pack("{s:s, s:s, s:s, s:s?}", "do", "open", "name", "m.yaml",
                                         "scenario", scenario, "log", log)));
}

/* The field of a key in the form; NULL: it has none. */
static const json_t *field_of(const json_t *asked, const char *key, const json_t **group)
{
    const json_t *one, *field;
    size_t j, k;
    json_array_foreach(json_object_get(asked, "groups"), j, one)
        json_array_foreach(json_object_get(one, "fields"), k, field)
    {
        if (strcmp(text_of(field, "key"), key) != 0)
            continue;
        *group = one;
        return field;
    }
    return NULL;
}

/* ---- the form -------------------------------------------------------------------------------- */

/* Walks what the fit can lack, then fills all of it in and asks the fit again. */
static void all_that_the_fit_lacks_can_be_filled_in(void **state)
{
    json_t *asked = good_json(*state, json_pack("{s:s}", "do", "essentials")),
           *values = json_object();
    const json_t *group, *line;
    int lacks = 0;
    size_t k;
    for (int bit = 0; bit < HP_FIT_LACKS_BITS; bit++) {
        const char *key = hp_fit_lack_key(bit);
        if (!key)
            continue;
        const json_t *field = field_of(asked, key, &group);
        check_true(field != NULL, "the form has no field for %s", key);
        assert_string_equal(text_of(group, "of"), "fit");
        check_true(json_is_true(json_object_get(group, "rare")), "%s is not folded", key);
        check_true(json_is_true(json_object_get(field, "unknown")), "%s", key);
        check_true(text_of(field, "hint")[0] != '\0', "%s: how is it found?", key);
        check_true(text_of(field, "unit")[0] != '\0', "%s has no unit", key);
        json_object_set_new(values, key,
                            json_string(strcmp(key, "axle.flats_mm") == 0 ? "9" : "14"));
        lacks++;
    }
    check_int(lacks, HP_FIT_LACKS_BITS - 2); /* a wiring and sound parts are no keys */
    open_case(*state, MACHINE, NULL);
    json_t *made = good_json(*state, json_pack("{s:s, s:O}", "do", "amend", "values", values));
    open_case(*state, text_of(made, "scenario"), NULL);
    json_t *fit = good_json(*state, json_pack("{s:s, s:i}", "do", "fit", "starts", 1));
    json_array_foreach(json_object_get(fit, "lines"), k, line)
        check_true(strcmp(text_of(line, "state"), "not known") != 0, "%s: %s",
                   text_of(line, "title"), text_of(line, "advice"));
    json_decref(fit);
    json_decref(made);
    json_decref(values);
    json_decref(asked);
}

/* A choice is told as a fitter says it; what follows from the cells, the steps, the gear is usual
 * of no machine. */
static void the_form_calls_nothing_usual_that_follows_from_other_fields(void **state)
{
    static const char *const follow[] = {"pack.full_v",
                                         "pack.empty_v",
                                         "pack.in_series",
                                         "pack.resistance_mohm",
                                         "controller.speed_step",
                                         "thermal.copper_to_hub_k_per_w",
                                         "axle.allowed_mpa",
                                         "vehicle.wheel_turn_mm",
                                         "vehicle.ride",
                                         "controls.throttle.without_ground_v",
                                         "controls.throttle.without_supply_v"};
    const json_t *group;
    json_t *asked = good_json(*state, json_pack("{s:s}", "do", "essentials"));
    for (size_t k = 0; k < sizeof follow / sizeof follow[0]; k++) {
        const json_t *field = field_of(asked, follow[k], &group);
        check_true(field && json_is_null(json_object_get(field, "default")), "%s", follow[k]);
        check_true(field && json_is_null(json_object_get(field, "why")), "%s", follow[k]);
    }
    const json_t *cells = field_of(asked, "pack.cells", &group);
    check_true(!json_is_null(json_object_get(cells, "default")), "a default is one");
    const json_t *words = json_object_get(cells, "choices"), *said = json_object_get(cells, "said");
    check_int((long long)json_array_size(words), (long long)json_array_size(said));
    assert_string_equal(json_string_value(json_array_get(words, 0)), "li_ion");
    assert_string_equal(json_string_value(json_array_get(said, 0)), "lithium-ion");
    json_decref(asked);
}

/* What the form calls usual is the same in every machine that does not state it. */
static void what_the_form_calls_usual_is_so_of_any_machine(void **state)
{
#define PLAIN "hubphase: 1\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, "
#define SPEED "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n"
    static const char *const machine[] = {
        PLAIN SPEED "controls: {pedal: {mode: gates}}\n"
                    "controller: {speed_steps_percent: [40, 70, 100]}\n"
                    "supply: {battery_v: 49, resistance_mohm: 150}\n"
                    "pack: {cells: lead}\nstand: {gear_ratio: 5}\n",
        PLAIN SPEED
        "controls: {throttle: {supply_v: 4, input_pulled: up}, pedal: {mode: gates}}\n"
        "controller: {speed_steps_percent: [50, 100]}\n"
        "axle: {dropout: steel}\nvehicle: {tyre: 62-203, hill_percent: 12, hill_m: 90}\n"
        "sensors: {spacing_deg: 60}\nrun: {seconds: 2}\n"
        "cable: {battery_awg: 12}\n"};
    json_t *asked = good_json(*state, json_pack("{s:s}", "do", "essentials"));
    int held = 0;
    for (size_t m = 0; m < sizeof machine / sizeof machine[0]; m++) {
        json_t *answer = good_json(*state, json_pack("{s:s, s:s, s:s}", "do", "open", "scenario",
                                                     machine[m], "name", "m.yaml"));
        const json_t *p, *group;
        size_t k;
        json_array_foreach(json_object_get(answer, "parameters"), k, p)
        {
            const json_t *field = field_of(asked, text_of(p, "key"), &group);
            const char *usual = field ? text_of(field, "default") : "";
            if (!usual[0] || strcmp(text_of(p, "origin"), "scenario") == 0)
                continue;
            check_true(strcmp(usual, text_of(p, "value")) == 0, "%s: usual %s, here %s",
                       text_of(p, "key"), usual, text_of(p, "value"));
            held++;
        }
        json_decref(answer);
    }
    check_true(held > 100, "only %d were held against it", held);
    json_decref(asked);
}

/* Where nobody knows which lead is which, a number names no wiring: a correct one is meant, and one
 * that is given counts where none is. */
static void a_wiring_that_is_given_is_taken_where_none_is_correct(void **state)
{
    static const char unknown[] =
        PLAIN "open_lead: U, " SPEED "leads: {known: no}\nrun: {starts: 1}\n";
    open_case(*state, unknown, NULL);
    bad(*state, json_pack("{s:s, s:s}", "do", "controls", "case", "brake"), "wiring");
    json_t *answer = good_json(
        *state, json_pack("{s:s, s:s, s:s}", "do", "controls", "case", "brake", "wiring", "8"));
    assert_true(json_is_null(json_object_get(json_object_get(answer, "json"), "wiring")));
    json_decref(answer);
}

/* Every key of the sections that fit and controls alone reckon with, but for what other keys of the
 * form say, and few that nobody finds out at a bench. */
static void the_form_has_nearly_all_keys_of_fit_and_controls(void **state)
{
    static const char *const unasked[] = {"vehicle.air_kg_m3", "thermal.copper_j_per_k",
                                          "thermal.hub_j_per_k"};
    json_t *asked = good_json(*state, json_pack("{s:s}", "do", "essentials"));
    json_t *answer =
        good_json(*state, json_pack("{s:s, s:s, s:s}", "do", "open", "scenario",
                                    MACHINE "controls: {pedal: {mode: gates}}\n"
                                            "controller: {speed_steps_percent: [50, 100]}\n",
                                    "name", "m.yaml"));
    const json_t *p, *group;
    size_t k;
    int found = 0;
    json_array_foreach(json_object_get(answer, "parameters"), k, p)
    {
        bool left = text_of(p, "of")[0] == '\0';
        for (size_t j = 0; j < sizeof unasked / sizeof unasked[0]; j++)
            left = left || strcmp(unasked[j], text_of(p, "key")) == 0;
        if (left)
            continue;
        check_true(field_of(asked, text_of(p, "key"), &group) != NULL, "no field for %s",
                   text_of(p, "key"));
        assert_string_equal(text_of(group, "of"), text_of(p, "of"));
        found++;
    }
    check_true(found > 65, "only %d", found);
    json_decref(answer);
    json_decref(asked);
}

static void a_scenario_is_amended_and_its_log_stays_valid(void **state)
{
    static const char log[] = "hubphase_log: 1  # kept\n"
                              "scenario: Bench machine\n"
                              "entries:\n"
                              "  - time: 2026-11-29T15:04:05+01:00\n"
                              "    sensor_supply: {supply_v: 5}\n";
    open_case(*state, MACHINE, log);
    json_t *made = good_json(*state, json_pack("{s:s, s:{s:s, s:s, s:[s, s], s:s}}", "do", "amend",
                                               "values", "fuse.rated_a", "20", "supply.battery_v",
                                               "37", "controller.speed_steps_percent", "50", "100",
                                               "vehicle.tyre", "47-559"));
    assert_string_equal(text_of(made, "scenario"),
                        MACHINE "\ncontroller:\n  speed_steps_percent: [50, 100]\n"
                                "\nsupply:\n  battery_v: 37\n"
                                "\nvehicle:\n  tyre: 47-559\n"
                                "\nfuse:\n  rated_a: 20\n");
    open_case(*state, text_of(made, "scenario"), log);
    json_decref(made);
    made = good_json(*state, json_pack("{s:s, s:{s:s, s:s}}", "do", "amend", "values",
                                       "fuse.rated_a", "", "name", "Bench machine"));
    check_true(strstr(text_of(made, "scenario"), "# fuse:\n#   rated_a: 20\n") != NULL, "%s",
               text_of(made, "scenario"));
    check_true(strstr(text_of(made, "scenario"), "name: Bench machine  # mine\n") != NULL, "%s",
               text_of(made, "scenario"));
    json_decref(made);
}

static void what_cannot_be_amended_is_told_by_its_key(void **state)
{
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "amend", "values", "fuse.rated_a", "20"), NULL);
    open_case(*state, MACHINE, NULL);
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "amend", "values", "fuse.rated_a", "20 V"),
        "fuse.rated_a");
    bad(*state, json_pack("{s:s, s:{s:s}}", "do", "amend", "values", "fuse.colour", "red"),
        "fuse.colour");
    bad(*state,
        json_pack("{s:s, s:{s:s, s:s}}", "do", "amend", "values", "vehicle.tyre", "47-559",
                  "vehicle.wheel_turn_mm", "1000"),
        "vehicle.wheel_turn_mm");
    bad(*state, json_pack("{s:s, s:i}", "do", "amend", "values", 5), "values");
    json_t *same = good_json(*state, json_pack("{s:s}", "do", "amend"));
    assert_string_equal(text_of(same, "scenario"), MACHINE);
    json_decref(same);
}

/* ---- then and now -----------------------------------------------------------------------------
 */

#define LOG_HEAD "hubphase_log: 1\nscenario: Bench machine\nentries:\n"
#define NO_LOAD(amps)                                                                              \
    "  - time: 2026-11-29T15:04:05+01:00\n"                                                        \
    "    no_load: {full_v: 37.4, full_speed_rpm: 223, full_a: " amps "}\n"

/* As the library itself writes it. */
static char *compared(const char *then, const char *now)
{
    hp_scenario scenario;
    hp_bench_log log[2];
    hp_commission_case *c[2];
    hp_error err = hp_error_none();
    const char *const text[] = {then, now};
    char *out = NULL;
    size_t size = 0;
    assert_int_equal(hp_scenario_read(MACHINE, strlen(MACHINE), "m.yaml", &scenario, stderr, &err),
                     HP_OK);
    memset(log, 0, sizeof log);
    for (int k = 0; k < 2; k++) {
        if (text[k])
            check_true(hp_bench_log_read(text[k], strlen(text[k]), k ? "m.bench.yaml" : "old.yaml",
                                         &scenario, &log[k], stderr, &err) == HP_OK,
                       "%s", err.text);
        c[k] = hp_commission_case_create(&scenario, &log[k], &err);
        assert_non_null(c[k]);
    }
    FILE *file = open_memstream(&out, &size);
    const hp_screen screen = {.file = file, .columns = 49, .page = true};
    assert_int_equal(hp_compare_print(c[0], c[1], false, &screen, &err), HP_OK);
    fclose(file);
    for (int k = 0; k < 2; k++) {
        hp_commission_case_free(c[k]);
        hp_bench_log_free(&log[k]);
    }
    hp_scenario_free(&scenario);
    return out;
}

static void an_earlier_log_is_compared_as_the_program_does(void **state)
{
    static const char then[] = LOG_HEAD NO_LOAD("0.6"), now[] = LOG_HEAD NO_LOAD("1.4");
    const char *const logs[] = {now, NULL};
    bad(*state, json_pack("{s:s, s:s}", "do", "compare", "then", then), NULL);
    for (int k = 0; k < 2; k++) {
        open_case(*state, MACHINE, logs[k]);
        json_t *answer =
            good_json(*state, json_pack("{s:s, s:s, s:s, s:i}", "do", "compare", "then", then,
                                        "then_name", "old.yaml", "columns", 49));
        char *text = compared(then, logs[k]);
        assert_string_equal(text_of(answer, "text"), text);
        check_true(logs[k] == NULL || strstr(text, "changed") != NULL, "%s", text);
        assert_true(json_is_object(json_object_get(answer, "json")));
        free(text);
        json_decref(answer);
    }
    bad(*state, json_pack("{s:s}", "do", "compare"), "then");
    bad(*state, json_pack("{s:s, s:s}", "do", "compare", "then", LOG_HEAD NO_LOAD("-1")), NULL);
}

static void the_scenario_is_written_with_what_the_log_told(void **state)
{
    bad(*state, json_pack("{s:s}", "do", "learnt"), NULL);
    open_case(*state, MACHINE, NULL);
    bad(*state, json_pack("{s:s}", "do", "learnt"), NULL);
    open_case(*state, MACHINE, LOG_HEAD NO_LOAD("0.6"));
    json_t *answer = good_json(*state, json_pack("{s:s}", "do", "learnt"));
    const char *text = text_of(answer, "scenario");
    check_true(strstr(text, "# from a fair\n") != NULL, "%s", text);
    check_true(strstr(text, "m.bench.yaml") != NULL, "%s", text);
    check_true(json_integer_value(json_object_get(answer, "changes")) > 0, "nothing was set");
    check_int((int)json_array_size(json_object_get(answer, "doubtful")), 0);
    open_case(*state, text, NULL);
    json_decref(answer);
    open_case(
        *state, MACHINE,
        LOG_HEAD NO_LOAD("0.6") "  - time: 2026-11-29T15:04:06+01:00\n    hub: {inside: wet}\n");
    answer = good_json(*state, json_pack("{s:s}", "do", "learnt"));
    const json_t *first = json_array_get(json_object_get(answer, "doubtful"), 0);
    assert_string_equal(text_of(first, "kind"), "hub");
    json_decref(answer);
}

/* ---- many motors ------------------------------------------------------------------------------
 */

static void a_spread_says_how_many_motors_and_draws_them(void **state)
{
    bad(*state, json_pack("{s:s}", "do", "spread"), NULL);
    open_case(*state, MACHINE "run: {starts: 1, seconds: 0.5, settle_seconds: 0.3}\n", NULL);
    bad(*state, json_pack("{s:s, s:i}", "do", "spread", "motors", 0), "motors");
    bad(*state, json_pack("{s:s, s:f}", "do", "spread", "motors", 2.5), "motors");
    bad(*state, json_pack("{s:s, s:i}", "do", "spread", "seed", -1), "seed");
    bad(*state, json_pack("{s:s, s:s}", "do", "spread", "shape", "round"), "shape");
    json_t *answer =
        good_json(*state, json_pack("{s:s, s:i, s:i}", "do", "spread", "motors", 2, "seed", 7));
    check_int(json_integer_value(json_object_get(answer, "motors")), 2);
    check_int(json_integer_value(json_object_get(answer, "seed")), 7);
    check_int((int)json_array_size(json_object_get(answer, "pictures")), 2);
    json_t *file = json_loads(text_of(answer, "json_file"), 0, NULL);
    check_true(json_is_object(file), "%s", text_of(answer, "json_file"));
    check_true(strchr(text_of(answer, "csv_file"), ',') != NULL, "no table");
    check_true(strstr(text_of(answer, "text"), "motors") != NULL, "%s", text_of(answer, "text"));
    json_decref(file);
    json_decref(answer);
}

static int stop_at_once(void *user, int done, int total)
{
    (void)user;
    (void)done;
    (void)total;
    return 1;
}

static void a_spread_can_be_stopped(void **state)
{
    hp_web *web = hp_web_create(stop_at_once, NULL);
    (void)state;
    open_case(web, MACHINE, NULL);
    json_t *answer = call_json(web, json_pack("{s:s, s:i}", "do", "spread", "motors", 2));
    assert_string_equal(text_of(answer, "cause"), "cancelled");
    json_decref(answer);
    hp_web_free(web);
}

#define ON(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ON(all_that_the_fit_lacks_can_be_filled_in),
        ON(the_form_calls_nothing_usual_that_follows_from_other_fields),
        ON(what_the_form_calls_usual_is_so_of_any_machine),
        ON(a_wiring_that_is_given_is_taken_where_none_is_correct),
        ON(the_form_has_nearly_all_keys_of_fit_and_controls),
        ON(a_scenario_is_amended_and_its_log_stays_valid),
        ON(what_cannot_be_amended_is_told_by_its_key),
        ON(an_earlier_log_is_compared_as_the_program_does),
        ON(the_scenario_is_written_with_what_the_log_told),
        ON(a_spread_says_how_many_motors_and_draws_them),
        ON(a_spread_can_be_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
