/*
 * A scenario that was learnt from a log: that its log is found, that none of its readings counts
 * twice, and that what a step found is found still.
 */
#include "check.h"
#include "hubphase/record/case.h"
#include "record/scenario/scenario_rewrite.h"
#include "scenario_text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Without a name: a log calls it by its file's. */
#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, "                                     \
    "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}   # seller\n"                            \
    "controller:\n"                                                                                \
    "  speed_steps_percent: [40, 100]   # label\n"                                                 \
    "supply: {battery_v: 36}\n"                                                                    \
    "thermal:\n"                                                                                   \
    "  copper_kg: 0.8   # a guess\n"
#define HEAD        "hubphase_log: 1\nscenario: heap\nentries:\n"
#define ENTRY(body) "  - time: 2026-11-29T10:00:00+00:00\n    " body "\n"
/* Half as fast again in its first position than stated, more current than the coast-down lets
 * expect: both steps find something that a scenario with these figures would not. */
#define READINGS                                                                                   \
    ENTRY("idle_draw: {idle_a: 0.06}")                                                             \
    ENTRY("winding: {resistance_ohm: {U-V: 0.26, V-W: 0.26, W-U: 0.25}, test_leads_ohm: 0.01}")    \
    ENTRY("speed_switch: {first_rpm: 130, second_rpm: 213}")                                       \
    ENTRY("throttle: {throttle_rest_v: 0.9, throttle_full_v: 4.1}")                                \
    ENTRY("coast_down: {coast_from_rpm: 213, after_1_s: 1, after_1_rpm: 170, after_2_s: 2, "       \
          "after_2_rpm: 130, coast_s: 6, rim_kg: 1.4, rim_radius_m: 0.28}")                        \
    ENTRY("no_load: {full_v: 36.2, full_speed_rpm: 213, full_a: 1.4}")                             \
    ENTRY("heating: {heating_a: 15, winding_c: 16, start_v: 3.861, heated_1_s: 30, "               \
          "heated_1_v: 3.972, heated_2_s: 60, heated_2_v: 4.04, heated_3_s: 120, "                 \
          "heated_3_v: 4.119}")
#define LATER ENTRY("idle_draw: {idle_a: 0.09}")

#define FOLDER "test_learnt_from.tmp"

typedef struct machine {
    hp_scenario scenario;
    hp_bench_log log;
    hp_commission_case *c;
} machine;

static void put_file(const char *path, const char *text)
{
    scenario_file_write(path, text, strlen(text));
}

static char *text_of(const char *path)
{
    static char text[20000];
    FILE *file = fopen(path, "r");
    check_true(file != NULL, "%s", path);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    return text;
}

/* Reads a scenario, and the log that is its own (chosen NULL) or another one. */
static void open_machine(const char *path, const char *chosen, machine *m)
{
    char log[HP_BENCH_PATH_SIZE];
    hp_error err = hp_error_none();
    memset(m, 0, sizeof *m);
    check_true(hp_scenario_load(path, &m->scenario, stderr, &err) == HP_OK, "%s", err.text);
    check_int(hp_bench_log_path_of(&m->scenario, chosen, log, sizeof log, &err), HP_OK);
    check_true(hp_bench_log_load(log, &m->scenario, &m->log, stderr, &err) == HP_OK, "%s",
               err.text);
    m->c = hp_commission_case_create(&m->scenario, &m->log, &err);
    assert_non_null(m->c);
}

static void close_machine(machine *m)
{
    hp_commission_case_free(m->c);
    hp_bench_log_free(&m->log);
    hp_scenario_free(&m->scenario);
}

/* What of `from` told goes into the new scenario `to`. */
static hp_result write_learnt(const char *from, const char *to, hp_error *err)
{
    machine m;
    int changes;
    char *text = NULL;
    size_t size = 0;
    *err = hp_error_none();
    open_machine(from, NULL, &m);
    FILE *out = open_memstream(&text, &size);
    hp_result result = hp_commission_case_write(m.c, NULL, out, &changes, stderr, err);
    fclose(out);
    if (result == HP_OK)
        put_file(to, text);
    free(text);
    close_machine(&m);
    return result;
}

static int set_up(void **state)
{
    hp_error err;
    (void)state;
    check_int(system("rm -rf " FOLDER " && mkdir " FOLDER), 0);
    put_file(FOLDER "/heap.yaml", MACHINE);
    put_file(FOLDER "/heap.bench.yaml", HEAD READINGS);
    check_true(write_learnt(FOLDER "/heap.yaml", FOLDER "/own.yaml", &err) == HP_OK, "%s",
               err.text);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    return system("rm -rf " FOLDER);
}

/* The very same figures and findings. */
static void check_same(const machine *a, const machine *b)
{
    const hp_commission *one = hp_commission_case_list(a->c),
                        *other = hp_commission_case_list(b->c);
    for (int k = 0; k < HP_OWN_COUNT; k++) {
        const hp_own_figure *f = &one->own.figure[k], *g = &other->own.figure[k];
        const char *name = hp_own_name((hp_own_kind)k);
        check_true(f->known == g->known, "%s", name);
        check_true(!f->known || (fabs(f->value - g->value) <= 1e-9 * fabs(f->value) &&
                                 fabs(f->high - g->high) <= 1e-9 * fabs(f->high)),
                   "%s: %.12g to %.12g, %.12g to %.12g", name, f->value, f->high, g->value,
                   g->high);
    }
    check_int(one->steps, other->steps);
    for (int k = 0; k < one->steps; k++)
        check_true(one->step[k].finding == other->step[k].finding &&
                       one->step[k].code == other->step[k].code,
                   "%s finds %s, then %s", hp_reading_name(one->step[k].reading),
                   hp_finding_name(one->step[k].finding), hp_finding_name(other->step[k].finding));
}

static hp_finding found(const machine *m, const char *step)
{
    return hp_commission_step_of(hp_commission_case_list(m->c), hp_reading_find(step))->finding;
}

static void its_log_is_found_and_counts_once(void **state)
{
    machine then, now;
    (void)state;
    open_machine(FOLDER "/heap.yaml", NULL, &then);
    open_machine(FOLDER "/own.yaml", NULL, &now);
    assert_string_equal(now.log.path, FOLDER "/heap.bench.yaml");
    check_int(now.log.count, 7);
    check_int(found(&then, "no_load"),
              HP_FINDING_STOP); /* 1.4 A: above three times what it should be */
    check_int(found(&then, "speed_switch"), HP_FINDING_LOOK);
    check_true(hp_commission_case_list(then.c)->own.figure[HP_OWN_WINDING_S].known, "no heat");
    check_same(&then, &now);
    close_machine(&now);
    /* The same readings under another name, or in that file with a slip put right. */
    check_int(system("cp " FOLDER "/heap.bench.yaml " FOLDER "/copy.yaml"), 0);
    open_machine(FOLDER "/own.yaml", FOLDER "/copy.yaml", &now);
    check_same(&then, &now);
    close_machine(&now);
    put_file(FOLDER "/heap.bench.yaml", HEAD READINGS LATER);
    open_machine(FOLDER "/own.yaml", FOLDER "/./heap.bench.yaml", &now);
    close_machine(&then);
    open_machine(FOLDER "/heap.yaml", NULL, &then);
    check_same(&then, &now);
    close_machine(&then);
    close_machine(&now);
}

/* With other readings the learnt figures stand as any others do. */
static void another_log_is_held_against_what_was_learnt(void **state)
{
    machine now;
    (void)state;
    put_file(FOLDER "/spring.yaml", HEAD ENTRY("speed_switch: {first_rpm: 130, second_rpm: 213}"));
    open_machine(FOLDER "/own.yaml", FOLDER "/spring.yaml", &now);
    check_true(hp_commission_scenario(&now.scenario, &now.log) == &now.scenario, "the base");
    check_int(found(&now, "speed_switch"), HP_FINDING_GOOD);
    close_machine(&now);
    /* Fewer entries than were learnt from are no copy of it. */
    put_file(FOLDER "/spring.yaml", HEAD ENTRY("idle_draw: {idle_a: 0.06}"));
    open_machine(FOLDER "/own.yaml", FOLDER "/spring.yaml", &now);
    check_true(!hp_bench_log_is_learnt(&now.log, &now.scenario), "a part of it");
    close_machine(&now);
    /* Nor are as many of which one says something else. */
    char *text = text_of(FOLDER "/heap.bench.yaml"), *figure = strstr(text, "0.06");
    assert_non_null(figure);
    figure[3] = '7';
    put_file(FOLDER "/spring.yaml", text);
    open_machine(FOLDER "/own.yaml", FOLDER "/spring.yaml", &now);
    check_int(now.log.count, now.scenario.learnt.entries);
    check_true(!hp_bench_log_is_learnt(&now.log, &now.scenario), "another one");
    close_machine(&now);
    /* Nothing was learnt from a log that is empty now. */
    put_file(FOLDER "/heap.bench.yaml", "hubphase_log: 1\nscenario: heap\nentries: []\n");
    open_machine(FOLDER "/own.yaml", NULL, &now);
    check_int(now.log.count, 0);
    check_true(!hp_bench_log_is_learnt(&now.log, &now.scenario), "empty");
    close_machine(&now);
}

static void a_log_of_its_own_goes_first(void **state)
{
    machine now;
    (void)state;
    put_file(FOLDER "/own.bench.yaml", HEAD LATER);
    open_machine(FOLDER "/own.yaml", NULL, &now);
    assert_string_equal(now.log.path, FOLDER "/own.bench.yaml");
    close_machine(&now);
    remove(FOLDER "/own.bench.yaml");
    rename(FOLDER "/heap.bench.yaml", FOLDER "/away.yaml");
    open_machine(FOLDER "/own.yaml", NULL, &now);
    assert_string_equal(now.log.path, FOLDER "/own.bench.yaml");
    check_true(!now.log.exists, "made up");
    close_machine(&now);
}

static void check_parameters(const hp_parameters *now, const hp_parameters *then)
{
    check_int((int)now->count, (int)then->count);
    for (size_t k = 0; k < then->count; k++)
        check_true(strcmp(now->item[k].key, then->item[k].key) == 0 &&
                       strcmp(now->item[k].value, then->item[k].value) == 0,
                   "%s is %s, was %s", now->item[k].key, now->item[k].value, then->item[k].value);
}

/* Key by key: what was stated, what was a default, a list. */
static void what_it_was_before_comes_back(void **state)
{
    hp_scenario then, now;
    hp_error err = hp_error_none();
    (void)state;
    check_int(hp_scenario_load(FOLDER "/heap.yaml", &then, stderr, &err), HP_OK);
    check_int(hp_scenario_load(FOLDER "/own.yaml", &now, stderr, &err), HP_OK);
    assert_non_null(now.base);
    check_true(now.base->base == NULL, "a base of its own");
    check_true(fabs(now.drive.motor.resistance_ohm - then.drive.motor.resistance_ohm) > 0.01,
               "nothing was learnt");
    check_true(now.controls.speed.cap[0] > 0.6, "no steps were learnt");
    check_parameters(&now.base->parameters, &then.parameters);
    check_parameters(&now.base->controls_parameters, &then.controls_parameters);
    check_parameters(&now.base->fit_parameters, &then.fit_parameters);
    /* The section itself is no parameter. */
    check_true(hp_parameters_find(&now.parameters, "learnt_from.log") == NULL, "listed");
    hp_scenario_free(&then);
    hp_scenario_free(&now);
}

/* Not what the first writing put there. */
static void written_again_it_remembers_the_beginning(void **state)
{
    machine then, now;
    hp_error err;
    (void)state;
    check_int(write_learnt(FOLDER "/own.yaml", FOLDER "/own2.yaml", &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "the scenario says already what the log has told");
    put_file(FOLDER "/heap.bench.yaml",
             HEAD READINGS ENTRY("winding: {resistance_ohm: {U-V: 0.28}, test_leads_ohm: 0.01}"));
    check_true(write_learnt(FOLDER "/own.yaml", FOLDER "/own2.yaml", &err) == HP_OK, "%s",
               err.text);
    open_machine(FOLDER "/heap.yaml", NULL, &then);
    open_machine(FOLDER "/own2.yaml", NULL, &now);
    check_same(&then, &now);
    check_int(now.scenario.learnt.entries, 8);
    check_parameters(&now.scenario.base->parameters, &then.scenario.parameters);
    close_machine(&then);
    close_machine(&now);
    char *text = text_of(FOLDER "/own2.yaml"), *section = strstr(text, "\nlearnt_from:\n");
    assert_non_null(section);
    check_true(strstr(section + 1, "\nlearnt_from:") == NULL, "two of them in\n%s", text);
    check_text_contains(section, "    motor.resistance_between_leads_ohm: 0.2\n");
    check_text_contains(section, "    controller.speed_steps_percent: [40, 100]\n");
    check_text_contains(section, "    thermal.copper_kg: 0.8\n");
    check_text_contains(section, "    stand.rotor.friction_nm: not_stated\n");
}

static void check_refused(const char *section, const char *expected)
{
    char text[2000], problems[4000] = "";
    hp_scenario scenario;
    hp_error err = hp_error_none();
    FILE *out = fmemopen(problems, sizeof problems, "w");
    snprintf(text, sizeof text, "%s%s", MACHINE, section);
    check_int(hp_scenario_read(text, strlen(text), "x.yaml", &scenario, out, &err), HP_FAIL_INPUT);
    fclose(out);
    check_text_contains(problems, expected);
}

static void what_is_wrong_in_it_is_named(void **state)
{
    (void)state;
    check_refused("learnt_from: {log: a.yaml, before: {supply.battery_v: 30}}\n",
                  "learnt_from.entries is missing, must be the number of its entries");
    check_refused("learnt_from: {log: a.yaml, entries: 3}\n",
                  "learnt_from.before is missing, must be the keys as they were before");
    check_refused("learnt_from: {entries: 3, before: {supply.battery_v: 30}}\n",
                  "learnt_from.log is missing, must be the bench log's file");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: 30}\n",
                  "learnt_from.before is 30, must be a mapping of keys and what they were");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: {battery_v: 30}}\n",
                  "x.yaml:8:49: error: learnt_from.before: battery_v is no key that can be "
                  "learnt, must be the whole path of one");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: {supply: 30}}\n",
                  "learnt_from.before: supply is no key that can be learnt");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: {learnt_from.log: a}}\n",
                  "learnt_from.before: learnt_from.log is no key that can be learnt");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: {supply.battery_v: {a: 1}}}\n",
                  "learnt_from.before: supply.battery_v must be a value or a list of values");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: {controller.speed_step: 3}}\n",
                  "does not go with the other keys: controller.speed_step is 3, must be from 1 to "
                  "2");
    check_refused("learnt_from: {log: a.yaml, entries: 3, before: {supply.battery_v: high}}\n",
                  "does not go with the other keys: supply.battery_v is \"high\"");
}

/* What stands round an older section stays. */
static void a_section_is_put_at_the_end(void **state)
{
    static const char *const row[][2] = {
        {"a: 1\n", "a: 1\n\ns:\n  b: 2\n"},
        {"a: 1", "a: 1\n\ns:\n  b: 2\n"},
        {"a: 1\n\ns:\n  # old\n  b: 1\n", "a: 1\n\ns:\n  b: 2\n"},
        {"a: 1\ns:\n  b: 1\n  c:\n    d: [1,\n      2]\n# of e\ne: 3  # e\n",
         "a: 1\n# of e\ne: 3  # e\n\ns:\n  b: 2\n"},
        {"a: 1\ns: {b: 1}  # old\ne: 3\n", "a: 1\ne: 3\n\ns:\n  b: 2\n"},
    };
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        char *out = NULL;
        hp_error err = hp_error_none();
        check_true(hp_scenario_put_section(row[k][0], "x", "s", "  b: 2\n", &out, &err) == HP_OK,
                   "%s", err.text);
        assert_string_equal(out, row[k][1]);
        free(out);
    }
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(its_log_is_found_and_counts_once),
        IN_FOLDER(another_log_is_held_against_what_was_learnt),
        IN_FOLDER(a_log_of_its_own_goes_first),
        IN_FOLDER(what_it_was_before_comes_back),
        IN_FOLDER(written_again_it_remembers_the_beginning),
        cmocka_unit_test(what_is_wrong_in_it_is_named),
        cmocka_unit_test(a_section_is_put_at_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
