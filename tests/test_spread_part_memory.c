/*
 * Out of memory while a part of a spread is worked out or parts are joined: the k-th allocation of
 * our own code fails, for every k there is. It is told as such, never as a wrong file, and never as
 * another spread.
 */
#include "failing_memory.h"

#include "hubphase/record/spread_part.h"

#include <string.h>

#define NAME "test_spread_part_memory.part"
#define SCENARIO                                                                                   \
    "hubphase: 1\nname: Parts\nmotor: {pole_pairs: 10, resistance_between_leads_ohm: 0.3, "        \
    "no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 36}}\n"                                       \
    "run: {seconds: 0.01, settle_seconds: 0.005, starts: 1, tolerance: 1e-5}\n"                    \
    "spread: {motors: 1}\n"

typedef struct work {
    hp_scenario scenario;
    hp_spread_options options;
    hp_spread spread;
    const char *earlier; /* to go on from */
} work;

static hp_result write_part(void *user, hp_error *err)
{
    const work *w = user;
    hp_part whole = {1, 1};
    FILE *out = open_sum();
    int done;
    hp_result result =
        hp_part_write(&w->scenario, &w->options, &whole, w->earlier, out, &done, err);
    fclose(out);
    return result;
}

static hp_result join_part(void *user, hp_error *err)
{
    work *w = user;
    const char *one[] = {NAME};
    return hp_parts_join(&w->scenario, &w->options, one, 1, &w->spread, err);
}

static void writing_and_joining_tell_that_memory_ran_out(void **state)
{
    (void)state;
    work *w = calloc(1, sizeof *w);
    hp_error err = hp_error_none();
    hp_part whole = {1, 1};
    assert_non_null(w);
    check_true(hp_scenario_read(SCENARIO, strlen(SCENARIO), "parts.yaml", &w->scenario, NULL,
                                &err) == HP_OK,
               "%s", err.text);
    w->options = hp_spread_options_default();
    w->options.survey = hp_scenario_survey_options(&w->scenario);
    w->options.survey.jobs = 1;
    w->options.plan = w->scenario.spread;
    long count = fail_every_allocation(write_part, NULL, w);
    check_true(count > 12, "only %ld allocations were made to fail", count);
    FILE *file = fopen(NAME, "wb");
    assert_non_null(file);
    int done = 0;
    check_int(hp_part_write(&w->scenario, &w->options, &whole, NULL, file, &done, &err), HP_OK);
    fclose(file);
    check_int(done, 1);
    w->earlier = NAME;
    long more = fail_every_allocation(write_part, NULL, w);
    check_true(more > 12, "a whole part is read, and only %ld allocations", more);
    count = fail_every_allocation(join_part, NULL, w);
    check_true(count > 12, "only %ld allocations were made to fail", count);
    check_int(w->spread.motors, 1);
    remove(NAME);
    hp_scenario_free(&w->scenario);
    free(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writing_and_joining_tell_that_memory_ran_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
