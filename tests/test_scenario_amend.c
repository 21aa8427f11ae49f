/*
 * A scenario's own text with keys stated otherwise: what was asked for is stated, and nothing else
 * of it changes.
 */
#include "check.h"
#include "hubphase/record/scenario.h"
#include "record/scenario/scenario_keys.h"
#include "record/scenario/scenario_load.h"
#include "record/scenario/scenario_rewrite.h"

#include <stdlib.h>

#define HEAD                                                                                       \
    "# bought at a fair\n"                                                                         \
    "hubphase: 1\n"                                                                                \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, "                                     \
    "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}   # seller\n"

static char said[4000]; /* keys and texts of the problems of the last refusal */

static void hear(void *user, const hp_problem *problem, const hp_source *source)
{
    size_t used = strlen(said);
    (void)user;
    (void)source;
    snprintf(said + used, sizeof said - used, "%s: %s\n", problem->key, problem->text);
}

/* The new text; NULL where it is refused. */
static char *amended(const char *text, const hp_scenario_change *change, int count, hp_error *err)
{
    const hp_problem_ear ear = {hear, NULL};
    char *changed = NULL;
    said[0] = '\0';
    *err = hp_error_none();
    hp_result result = hp_scenario_amend(text, "m.yaml", change, count, &changed, &ear, err);
    check_true((result == HP_OK) == (changed != NULL), "%s", err->text);
    return changed;
}

static void check_once(const char *text, const char *key, const char *value, bool list,
                       const char *expected)
{
    hp_error err;
    const hp_scenario_change change = {key, value, list};
    char *changed = amended(text, &change, 1, &err);
    check_true(changed != NULL, "%s to \"%s\": %s %s", key, value, err.text, said);
    check_true(strcmp(changed, expected) == 0, "%s to \"%s\" gave\n%s\nexpected\n%s", key, value,
               changed, expected);
    free(changed);
}

/* The text with its line feeds as these ends. */
static char *with_ends(const char *text, const char *end)
{
    char *out = malloc(2 * strlen(text) + 1), *to = out;
    assert_non_null(out);
    for (; *text; text++)
        to += sprintf(to, "%.*s", *text == '\n' ? 2 : 1, *text == '\n' ? end : text);
    return out;
}

/* A text of one sort of line ends keeps it throughout, whichever that is. */
static void check_becomes(const char *text, const char *key, const char *value, bool list,
                          const char *expected)
{
    static const char *const ends[] = {"\r\n", "\r"};
    check_once(text, key, value, list, expected);
    for (size_t k = 0; k < 2 && !strchr(text, '\r'); k++) {
        char *old = with_ends(text, ends[k]), *now = with_ends(expected, ends[k]);
        check_once(old, key, value, list, now);
        free(old);
        free(now);
    }
}

static void a_value_changes_in_its_place(void **state)
{
    (void)state;
    check_becomes(HEAD "supply: {battery_v: 36} # old\n", "supply.battery_v", "48", false,
                  HEAD "supply: {battery_v: 48} # old\n");
    check_becomes(HEAD "supply: {battery_v: 36} # old\n", "supply.battery_v", "48,5V", false,
                  HEAD "supply: {battery_v: 48.5} # old\n");
    check_becomes(HEAD "supply:\n    battery_v:   36   # 10 cells\n    # end\n", "supply.battery_v",
                  "48", false, HEAD "supply:\n    battery_v:   48   # 10 cells\n    # end\n");
    check_becomes(HEAD "name: 'Old # one' # mine\n", "name", "Barrow: \"big\"", false,
                  HEAD "name: \"Barrow: \\\"big\\\"\" # mine\n");
    check_becomes(HEAD "name: \"\xC3\xA4\" # mine\nsupply: {battery_v: 36}\n", "supply.battery_v",
                  "48.5", false, HEAD "name: \"\xC3\xA4\" # mine\nsupply: {battery_v: 48.5}\n");
    check_becomes("\xEF\xBB\xBF" HEAD "supply: {battery_v: 36}\n", "supply.battery_v", "48", false,
                  HEAD "supply: {battery_v: 48}\n");
    check_becomes(HEAD "supply: {battery_v: 36}\r\nname: x\r\n", "supply.battery_v", "48", false,
                  HEAD "supply: {battery_v: 48}\r\nname: x\r\n");
    check_becomes(HEAD "axle: {torque_arm: yes}", "axle.torque_arm", "no", false,
                  HEAD "axle: {torque_arm: no}");
}

static void a_key_that_is_new_goes_into_its_section(void **state)
{
    (void)state;
    check_becomes(HEAD "fuse: # blade\n  rated_v: 58 # printed\n", "fuse.rated_a", "20", false,
                  HEAD "fuse: # blade\n  rated_a: 20\n  rated_v: 58 # printed\n");
    check_becomes(HEAD, "fuse.rated_a", "20", false, HEAD "\nfuse:\n  rated_a: 20\n");
    check_becomes(HEAD "fuse: {rated_v: 58}\n", "fuse.rated_a", "20", false,
                  HEAD "fuse: {rated_a: 20, rated_v: 58}\n");
    check_becomes(HEAD "controls: {throttle: {rest_v: 0.9}}\n", "controls.brake.switch", "none",
                  false, HEAD "controls: {brake: {switch: none}, throttle: {rest_v: 0.9}}\n");
    check_becomes(HEAD "fuse:\n  # nothing yet\n", "fuse.rated_a", "20", false,
                  HEAD "fuse:\n  rated_a: 20\n  # nothing yet\n");
    check_becomes(HEAD "vehicle: {rider_kg: 70}\n", "vehicle.tyre", "47-559", false,
                  HEAD "vehicle: {tyre: 47-559, rider_kg: 70}\n");
}

static void a_key_that_is_taken_out_stays_as_a_remark(void **state)
{
    (void)state;
    check_becomes(HEAD "fuse:\n  rated_a: 20  # blade\n  rated_v: 58\n", "fuse.rated_a", "", false,
                  HEAD "fuse:\n  # rated_a: 20  # blade\n  rated_v: 58\n");
    check_becomes(HEAD "fuse: {rated_a: 20, rated_v: 58}\n", "fuse.rated_a", "", false,
                  HEAD "fuse: {rated_v: 58}\n");
    check_becomes(HEAD "fuse: {rated_a: 20, rated_v: 58}\n", "fuse.rated_v", "", false,
                  HEAD "fuse: {rated_a: 20}\n");
    check_becomes(HEAD "fuse: {rated_a: 20}\n", "fuse.rated_a", "", false, HEAD "fuse: {}\n");
    check_becomes(HEAD "fuse:\n  rated_a: 20\nname: x\n", "fuse.rated_a", "", false,
                  HEAD "# fuse:\n#   rated_a: 20\nname: x\n");
    check_becomes(HEAD
                  "controls: # all\n  brake:\n    # levers\n    switch: none # gone\nname: x\n",
                  "controls.brake.switch", "", false,
                  HEAD "# controls: # all\n#   brake:\n#     # levers\n#     switch: none # gone\n"
                       "name: x\n");
    check_becomes(HEAD "controls:\n  pedal: {mode: none}\n  brake:\n    switch: none\n",
                  "controls.brake.switch", "", false,
                  HEAD "controls:\n  pedal: {mode: none}\n  # brake:\n#     switch: none\n");
    check_becomes(
        HEAD "controller:\n  speed_steps_percent:\n    - 50\n    - 100\n  pwm_khz: 16\n",
        "controller.speed_steps_percent", "", false,
        HEAD "controller:\n  # speed_steps_percent:\n#     - 50\n#     - 100\n  pwm_khz: 16\n");
    check_becomes(HEAD "name: x\n", "fuse.rated_a", "", false, HEAD "name: x\n");
}

static void a_list_is_stated_whole(void **state)
{
    (void)state;
    const char *const steps = "controller.speed_steps_percent";
    check_becomes(HEAD "controller: {speed_steps_percent: [ 50 , 100 ] }\n", steps, "40\n70\n100",
                  true, HEAD "controller: {speed_steps_percent: [40, 70, 100] }\n");
    check_becomes(HEAD "controller: {speed_steps_percent: [50, 100,]}\n", steps, "100", true,
                  HEAD "controller: {speed_steps_percent: [100]}\n");
    check_becomes(HEAD "controller:\n  speed_steps_percent:\n    - 50\n    - 100\n  pwm_khz: 16\n",
                  steps, "40\n100", true,
                  HEAD "controller:\n  speed_steps_percent:\n    [40, 100]\n  pwm_khz: 16\n");
    check_becomes(HEAD, "vehicle.ride", "500 m at 6 %\n20 m at -1 %", true,
                  HEAD "\nvehicle:\n  ride: [500 m at 6 %, 20 m at -1 %]\n");
}

static void what_cannot_be_kept_is_refused(void **state)
{
    static const struct {
        const char *text, *key, *value, *problem;
        bool list;
    } row[] = {
        {HEAD "controller:\n  speed_steps_percent:\n    - 50 # slow\n    - 100\n",
         "controller.speed_steps_percent", "100", "cannot be changed where it stands", true},
        {HEAD "vehicle:\n  ride:\n    - {m: 5, slope_percent: 1}\n", "vehicle.ride", "5 m at 2 %",
         "cannot be changed where it stands", true},
        {HEAD "name: >\n  long\n", "name", "short", "cannot be changed where it stands", false},
        {HEAD, "fuse.rated_a", "-1", "fuse.rated_a is -1, must be", false},
        {HEAD, "fuse.rated_a", "20 V", "fuse.rated_a is \"20 V\", must be", false},
        {HEAD, "motor.magnets", "", "motor.pole_pairs is missing", false},
        {HEAD, "motor.pole_pairs", "20", "motor.pole_pairs", false},
        {HEAD, "fuse.colour", "red", "fuse.colour is no key", false},
        {HEAD, "fuse", "red", "fuse is no key", false},
        {"{hubphase: 1, motor: {magnets: 46, resistance_between_leads_ohm: 0.2, "
         "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}}\n",
         "fuse.rated_a", "20", "", false},
        {"hubphase: 1\nmotor: [\n", "fuse.rated_a", "20", "", false},
    };
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_error err;
        const hp_scenario_change change = {row[k].key, row[k].value, row[k].list};
        char *changed = amended(row[k].text, &change, 1, &err);
        check_true(changed == NULL, "%s gave\n%s", row[k].key, changed);
        check_int(err.code, HP_FAIL_INPUT);
        check_true(strstr(said, row[k].problem) || strstr(err.text, row[k].problem),
                   "%s: %s\n%s\nexpected %s", row[k].key, err.text, said, row[k].problem);
    }
}

/* Added in any order they stand in that of the document. */
static void several_keys_come_in_the_order_of_the_document(void **state)
{
    const hp_scenario_change change[] = {{"fuse.rated_v", "58", false},
                                         {"pack.capacity_ah", "11", false},
                                         {"fuse.rated_a", "20", false},
                                         {"supply.battery_v", "37", false}};
    hp_error err;
    (void)state;
    char *changed = amended(HEAD "supply: {battery_v: 36}\n", change, 4, &err);
    check_true(changed != NULL, "%s", err.text);
    assert_string_equal(
        changed,
        HEAD "supply: {battery_v: 37}\n\npack:\n  capacity_ah: 11\n\nfuse:\n  rated_a: 20\n  "
             "rated_v: 58\n");
    free(changed);
}

/* What a key of any type may be; NULL: it is not tried here. */
static const char *sample(const hp_key *key, char *out, size_t size)
{
    switch (key->kind) {
    case HP_KEY_IS_NUMBER:
    case HP_KEY_IS_WHOLE:
        snprintf(out, size, key->limits.whole ? "%.0f" : "%g",
                 key->limits.above ? fmin(key->limits.high, key->limits.low + 1.0)
                                   : key->limits.low);
        return out;
    case HP_KEY_IS_FLAG: return "yes";
    case HP_KEY_IS_CHOICE: return key->words[1];
    case HP_KEY_IS_LINE:
    case HP_KEY_IS_LABEL: return "a: b";
    case HP_KEY_IS_SECTION:
    case HP_KEY_IS_SPECIAL: return NULL;
    }
    return NULL;
}

/* Each key, put in and taken out again: the scenario reads as before, and all of the old text is
 * still there. One that is refused is one that a person could not have written either. */
static void every_key_can_be_put_in_and_taken_out(void **state)
{
    static const char text[] = HEAD "# last\n";
    int done = 0;
    (void)state;
    for (hp_key_id id = HP_KEY_NAME; id < HP_KEY_COUNT; id++) {
        char value[40];
        hp_error err;
        hp_scenario scenario;
        const hp_key *key = hp_key_of(id);
        const char *word = sample(key, value, sizeof value);
        /* What was learnt is stated whole or not at all: one key of it alone is refused. */
        if (!word || strncmp(key->path, "motor.", 6) == 0 || hp_key_is_in(id, "learnt_from"))
            continue;
        const hp_scenario_change in = {key->path, word, false}, out = {key->path, "", false};
        bool fits = hp_scenario_read_changed(text, strlen(text), "m.yaml", &in, 1, &scenario, NULL,
                                             NULL) == HP_OK;
        hp_scenario_free(&scenario);
        char *changed = amended(text, &in, 1, &err);
        check_true((changed != NULL) == fits, "%s: %s %s", key->path, word, err.text);
        if (!changed)
            continue;
        check_true(strncmp(changed, text, sizeof text - 1) == 0, "%s", changed);
        char *back = amended(changed, &out, 1, &err);
        check_true(back != NULL, "%s: %s\n%s", key->path, err.text, changed);
        check_true(strncmp(back, text, sizeof text - 1) == 0, "%s", back);
        free(changed);
        free(back);
        done++;
    }
    check_true(done > 150, "only %d keys were tried", done);
}

static void check_section(const char *text, const char *expected)
{
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    for (size_t k = 0; k < 3; k++) {
        char *old = with_ends(text, ends[k]), *now = with_ends(expected, ends[k]), *changed = NULL;
        hp_error err = hp_error_none();
        check_int(
            hp_scenario_put_section(old, "m.yaml", "about", "  a: 1\n  b: 2\n", &changed, &err),
            HP_OK);
        check_true(strcmp(changed, now) == 0, "\"%s\" gave\n%s\nexpected\n%s", old, changed, now);
        free(old);
        free(now);
        free(changed);
    }
}

/* One empty line before it, its own lines ended as those that are there; an old one goes. */
static void a_section_comes_at_the_end(void **state)
{
    (void)state;
    check_section("hubphase: 1\nx: y\n", "hubphase: 1\nx: y\n\nabout:\n  a: 1\n  b: 2\n");
    check_section("hubphase: 1\nx: y", "hubphase: 1\nx: y\n\nabout:\n  a: 1\n  b: 2\n");
    check_section("hubphase: 1\nx: y\n\n", "hubphase: 1\nx: y\n\nabout:\n  a: 1\n  b: 2\n");
    check_section("hubphase: 1\nabout:\n  c: 3\nx: y\n",
                  "hubphase: 1\nx: y\n\nabout:\n  a: 1\n  b: 2\n");
}

/* A remark goes above its line, what was remarked behind it goes up; a list in lines of its own. */
static void a_remark_keeps_the_line_ends(void **state)
{
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    static const hp_rewriting change[] = {{"fuse.rated_a", "25", "was 20"},
                                          {"steps", "[40, 70]", "was two"},
                                          {"rotor.drag", "2", "new"}};
    (void)state;
    for (size_t k = 0; k < 3; k++) {
        char *old = with_ends("fuse:\n  rated_a: 20 # blade\nsteps:\n- 50\n- 100\nx: y\n", ends[k]),
             *now = with_ends("fuse:\n  # was 20  # blade\n  rated_a: 25\n# was two\nsteps: [40, "
                              "70]\nx: y\n\nrotor:\n  # new\n  drag: 2\n",
                              ends[k]),
             *changed = NULL;
        hp_error err = hp_error_none();
        hp_result result = hp_scenario_rewrite(old, "m.yaml", change, 3, &changed, &err);
        check_true(result == HP_OK, "%s", err.text);
        check_true(strcmp(changed, now) == 0, "\"%s\" gave\n%s\nexpected\n%s", old, changed, now);
        free(old);
        free(now);
        free(changed);
    }
}

/* Whoever is told that it failed is told why: a text that is no YAML. */
static void what_is_no_yaml_is_told(void **state)
{
    static const hp_rewriting change = {"fuse.rated_a", "20", NULL};
    char *changed = NULL;
    (void)state;
    for (int section = 0; section < 2; section++) {
        hp_error err = hp_error_none();
        const char *text = "hubphase: 1\nmotor: [\n";
        check_int(section ? hp_scenario_put_section(text, "m.yaml", "x", "  y: 1\n", &changed, &err)
                          : hp_scenario_rewrite(text, "m.yaml", &change, 1, &changed, &err),
                  HP_FAIL_INPUT);
        check_int(err.code, HP_FAIL_INPUT);
        check_text_contains(err.text, "m.yaml, line ");
        check_text_contains(err.text, "not proper YAML");
        assert_null(changed);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_value_changes_in_its_place),
        cmocka_unit_test(a_key_that_is_new_goes_into_its_section),
        cmocka_unit_test(a_key_that_is_taken_out_stays_as_a_remark),
        cmocka_unit_test(a_list_is_stated_whole),
        cmocka_unit_test(what_cannot_be_kept_is_refused),
        cmocka_unit_test(several_keys_come_in_the_order_of_the_document),
        cmocka_unit_test(every_key_can_be_put_in_and_taken_out),
        cmocka_unit_test(a_section_comes_at_the_end),
        cmocka_unit_test(a_remark_keeps_the_line_ends),
        cmocka_unit_test(what_is_no_yaml_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
