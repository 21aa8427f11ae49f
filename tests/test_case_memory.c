/*
 * Out of memory while a case is opened, read again, asked and added to: the k-th allocation of our
 * own code fails, for every k there is. It is told as such, nothing leaks (the sanitizer build sees
 * that), and the same call succeeds once there is memory again.
 */
#include "failing_memory.h"

#include "hubphase.h"

#include <stdlib.h>
#include <string.h>

#define SCENARIO                                                                                   \
    "hubphase: 1\nname: Bench machine\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, "   \
    "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n"
#define LOG                                                                                        \
    "hubphase_log: 1\nscenario: Bench machine\nentries:\n"                                         \
    "  - time: 2026-11-25T10:40:00+01:00\n    sensor_supply: {supply_v: 5.1}\n"                    \
    "  - time: 2026-11-25T10:45:00+01:00\n"                                                        \
    "    trial: {wiring: 6, throttle_percent: 35, motion: backward, feel: rough, battery_a: 4}\n"
#define LONGER                                                                                     \
    LOG "  - time: 2026-11-25T10:50:00+01:00\n"                                                    \
        "    hand_turn: {codes: [\"101\", \"100\", \"110\"]}\n"

typedef struct bench {
    hp_scenario scenario;
    hp_case_options options;
    hp_case *made;
    hp_advice advice;
} bench;

static hp_result open_case(bench *b, hp_error *err)
{
    b->made = hp_case_create(&b->scenario, &b->options, err);
    return b->made ? HP_OK : err->code;
}

static int set_up(void **state)
{
    hp_error err = hp_error_none();
    bench *b = calloc(1, sizeof *b);
    assert_non_null(b);
    check_true(hp_scenario_read(SCENARIO, strlen(SCENARIO), "bench.yaml", &b->scenario, NULL,
                                &err) == HP_OK,
               "%s", err.text);
    b->options = hp_case_options_default();
    b->options.log_text = LOG;
    *state = b;
    return 0;
}

static int tear_down(void **state)
{
    bench *b = *state;
    hp_case_free(b->made);
    hp_scenario_free(&b->scenario);
    free(b);
    return 0;
}

static hp_result create(void *user, hp_error *err)
{
    bench *b = user;
    return open_case(b, err);
}

static void drop(void *user, bool failed)
{
    bench *b = user;
    check_true(!failed || !b->made, "a case was made without memory");
    hp_case_free(b->made);
    b->made = NULL;
}

/* Opens a case with all the memory it wants, for the work after it. */
static void opened(bench *b)
{
    hp_error err = hp_error_none();
    check_true(open_case(b, &err) == HP_OK, "%s", err.text);
    check_true(hp_case_table(b->made) == HP_TABLE_SHIPPED, "the test would simulate a table");
}

static hp_result reload(void *user, hp_error *err)
{
    bench *b = user;
    return hp_case_reload_text(b->made, LONGER, err);
}

/* After a failure a case can be freed, or read again. */
static void reload_check(void *user, bool failed)
{
    bench *b = user;
    if (!failed)
        check_int(hp_case_log(b->made)->count, 3);
}

static hp_result ask(void *user, hp_error *err)
{
    bench *b = user;
    return hp_case_next(b->made, &b->advice, err);
}

/* ---- tests ----------------------------------------------------------------------------------- */

static void opening_tells_that_memory_ran_out(void **state)
{
    long count = fail_every_allocation(create, drop, *state);
    check_true(count > 20, "only %ld allocations were made to fail", count);
}

static void reading_again_tells_it_and_can_be_tried_once_more(void **state)
{
    bench *b = *state;
    opened(b);
    long count = fail_every_allocation(reload, reload_check, b);
    check_true(count > 3, "only %ld allocations were made to fail", count);
}

static void asking_tells_it(void **state)
{
    bench *b = *state;
    opened(b);
    hp_error err = hp_error_none();
    check_int(hp_case_next(b->made, &b->advice, &err), HP_OK);
    hp_advice whole = b->advice;
    fail_every_allocation(ask, NULL, b);
    check_int((int)b->advice.kind, (int)whole.kind);
    check_int(b->advice.number, whole.number);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(opening_tells_that_memory_ran_out, set_up, tear_down),
        cmocka_unit_test_setup_teardown(reading_again_tells_it_and_can_be_tried_once_more, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(asking_tells_it, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
