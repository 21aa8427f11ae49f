/*
 * Out of memory in the readers: the k-th allocation fails, for every k there is.
 *
 * libfyaml, a shared library, keeps the real functions: 0.7.12 follows the null pointer of some
 * failed allocations, which is why scenario_yaml.c asks for what it can need beforehand.
 */
#include "failing_memory.h"
#include "scenario_text.h"

#define FILE_NAME "test_scenario_memory.yaml"

/* Loads with the k-th allocation failing; false when there is no k-th. */
static bool load_with_failure(const char *path, long k, hp_result expected)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    FILE *out = fopen("/dev/null", "w");
    assert_non_null(out);
    countdown = k;
    armed = true;
    hp_result result = hp_scenario_load(path, &scenario, out, &err);
    armed = false;
    fclose(out);
    bool reached = countdown < 0;
    if (!reached) {
        check_int(result, expected);
    } else {
        check_int(result, HP_FAIL_MEMORY);
        check_int(err.code, HP_FAIL_MEMORY);
        check_text_contains(err.text, "no memory");
        check_int((long long)scenario.parameters.count, 0);
        assert_null(scenario.parameters.item);
        assert_null(scenario.about);
    }
    hp_scenario_free(&scenario);
    return reached;
}

static void check_every_failure(const char *path, hp_result expected, long least)
{
    long k = 0;
    while (load_with_failure(path, k, expected))
        k++;
    check_true(k >= least, "only %ld allocations", k);
}

static void every_allocation_of_a_good_scenario(void **state)
{
    (void)state;
    /* The file, the reader, the trial for libfyaml, about, the growing list of parameters. */
    check_every_failure(HP_SCENARIO_DIR "/barrow.yaml", HP_OK, 5);
    check_every_failure(HP_SCENARIO_DIR "/trailer.yaml", HP_OK, 5);
}

/* One that was learnt is read twice. */
static void every_allocation_of_a_learnt_scenario(void **state)
{
    (void)state;
    static const char text[] =
        "hubphase: 1\nmotor: {pole_pairs: 23, resistance_between_leads_ohm: 0.2, "
        "backemf_peak_v_per_krpm: 150}\nlearnt_from: {log: a.yaml, entries: 2, before: "
        "{supply.battery_v: 30, stand.rotor.friction_nm: not_stated}}\n";
    scenario_file_write(FILE_NAME, text, sizeof text - 1);
    check_every_failure(FILE_NAME, HP_OK, 9);
    remove(FILE_NAME);
}

static void every_allocation_of_a_bad_scenario(void **state)
{
    (void)state;
    static const char text[] = "hubphase: 1\nmotor: {pole_pairs: 0}\nabout: text\n";
    scenario_file_write(FILE_NAME, text, sizeof text - 1);
    check_every_failure(FILE_NAME, HP_FAIL_INPUT, 4);
    remove(FILE_NAME);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_allocation_of_a_good_scenario),
        cmocka_unit_test(every_allocation_of_a_learnt_scenario),
        cmocka_unit_test(every_allocation_of_a_bad_scenario),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
