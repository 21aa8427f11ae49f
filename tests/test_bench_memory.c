/*
 * Out of memory in the bench log: the k-th allocation of our own code fails, for every k there is;
 * see test_scenario_memory.c. The file stays as it was.
 */
#include "bench_text.h"
#include "decide/reading/reading_list.h"
#include "failing_memory.h"
#include "hubphase/decide/evidence.h"

#define FILE_NAME "test_bench_memory.bench.yaml"

typedef enum work { LOAD, APPEND, UNDO, REPLACE } work;

static const char old[] = BENCH_HEAD "- " BENCH_TIME "\n  learn: {worked: no} # mine\n";

/* What a change needs to have seen, read before allocations fail. */
static hp_bench_log seen;

static hp_result do_work(work what, const hp_scenario *scenario, hp_error *err)
{
    hp_bench_log log;
    hp_bench_entry entry = hp_bench_entry_make(&hp_reading_learn);
    entry.entry.learn.worked = HP_TELL_YES;
    strcpy(entry.time, "2026-11-25T10:40:00+01:00");
    if (what == APPEND)
        return hp_bench_log_append(FILE_NAME, scenario, &entry, NULL, err);
    if (what == UNDO)
        return hp_bench_log_undo(FILE_NAME, scenario, NULL, NULL, err);
    if (what == REPLACE)
        return hp_bench_log_replace(&seen, 1, scenario, &entry, NULL, err);
    hp_result result = hp_bench_log_load(FILE_NAME, scenario, &log, NULL, err);
    hp_bench_log_free(&log);
    return result;
}

/* With the k-th allocation failing; false when there is no k-th. */
static bool work_with_failure(work what, const hp_scenario *scenario, long k)
{
    char text[4000] = "";
    hp_error err = hp_error_none();
    scenario_file_write(FILE_NAME, old, sizeof old - 1);
    check_int(hp_bench_log_load(FILE_NAME, scenario, &seen, NULL, NULL), HP_OK);
    countdown = k;
    armed = true;
    hp_result result = do_work(what, scenario, &err);
    armed = false;
    bool reached = countdown < 0;
    hp_bench_log_free(&seen);
    FILE *file = fopen(FILE_NAME, "rb");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    if (reached) {
        check_int(result, HP_FAIL_MEMORY);
        check_text_contains(err.text, "no memory");
        assert_string_equal(text, old);
    } else {
        check_int(result, HP_OK);
        check_int(strcmp(text, old) != 0, what != LOAD);
    }
    remove(FILE_NAME);
    return reached;
}

static void check_every_failure(work what, long least)
{
    hp_scenario scenario = bench_scenario();
    long k = 0;
    while (work_with_failure(what, &scenario, k))
        k++;
    check_true(k >= least, "only %ld allocations", k);
    hp_scenario_free(&scenario);
}

static void reading_without_memory(void **state)
{
    (void)state;
    check_every_failure(LOAD, 4); /* problems, the file, the trial for libfyaml, entries */
}

static void adding_without_memory(void **state)
{
    (void)state;
    check_every_failure(APPEND, 6); /* the same, and the new bytes read */
}

static hp_result begin_log(void *user, hp_error *err)
{
    hp_bench_entry entry = hp_bench_entry_make(&hp_reading_learn);
    entry.entry.learn.worked = HP_TELL_NO;
    strcpy(entry.time, "2026-11-25T10:40:00+01:00");
    return hp_bench_log_append(FILE_NAME, user, &entry, NULL, err);
}

static void check_begun(void *user, bool failed)
{
    (void)user;
    FILE *file = fopen(FILE_NAME, "rb");
    check_int(file != NULL, !failed);
    if (file)
        fclose(file);
}

static void a_new_log_without_memory(void **state)
{
    (void)state;
    hp_scenario scenario = bench_scenario();
    remove(FILE_NAME);
    check_true(fail_every_allocation(begin_log, check_begun, &scenario) >= 6, "too few");
    remove(FILE_NAME);
    hp_scenario_free(&scenario);
}

static void taking_back_without_memory(void **state)
{
    (void)state;
    check_every_failure(UNDO, 5);
}

static void changing_without_memory(void **state)
{
    (void)state;
    check_every_failure(REPLACE, 6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reading_without_memory),   cmocka_unit_test(adding_without_memory),
        cmocka_unit_test(a_new_log_without_memory), cmocka_unit_test(taking_back_without_memory),
        cmocka_unit_test(changing_without_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
