/*
 * What forbids to ride, and what proves a wiring, where commissioning has its say: every list here
 * is that of hp_commission_make over a few entries.
 */
#include "report/sheet/wiring_sheet.h"

#include "decide/commission/fit_machine.h"
#include "decide/reading/machine_values.h"
#include "decide/reading/reading.h"
#include "decide/reading/running.h"
#include "hubphase/decide/assumptions.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card.h"
#include "scenario_text.h"

#define SCENARIO                                                                                   \
    "hubphase: 1\n"                                                                                \
    "motor:\n"                                                                                     \
    "  pole_pairs: 23\n"                                                                           \
    "  resistance_between_leads_ohm: 0.21\n"                                                       \
    "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"

#define ENTRIES 12

typedef struct room {
    loaded scenario;
    hp_plan_params plan;
    hp_entry entry[ENTRIES];
    int entries;
    hp_commission list;
    hp_card_context steps;
    hp_sheet_source source;
    hp_wiring_sheet sheet;
} room;

static int set_up(void **state)
{
    room *r = calloc(1, sizeof *r);
    assert_non_null(r);
    r->scenario = scenario_load_text("test_sheet_stops.yaml", SCENARIO);
    check_true(r->scenario.result == HP_OK, "%s", r->scenario.printed);
    r->plan = hp_plan_params_default();
    *state = r;
    return 0;
}

static int tear_down(void **state)
{
    room *r = *state;
    loaded_free(&r->scenario);
    free(r);
    return 0;
}

static void *add(room *r, const hp_reading *kind)
{
    r->entry[r->entries] = hp_entry_make(kind, r->entries + 1);
    return hp_entry_values(&r->entry[r->entries++]);
}

static hp_trial *add_trial(room *r, int wiring, double throttle, double battery_a)
{
    hp_trial *t = add(r, &hp_reading_trial);
    t->wiring = hp_wiring_from_number(wiring);
    t->motion = HP_MOVED_FORWARD;
    t->feel = HP_FEEL_SMOOTH;
    t->throttle = throttle;
    t->battery_a = battery_a;
    return t;
}

static hp_assess_case given(room *r)
{
    const hp_scenario *s = &r->scenario.scenario;
    return (hp_assess_case){.drive = &s->drive,
                            .labels = &s->labels,
                            .plan = &r->plan,
                            .person = &s->bench.person,
                            .entry = r->entry,
                            .entries = r->entries};
}

/* Full throttle, forward, with what the machine ought to draw, so many times. */
static hp_no_load *add_run(room *r, double times)
{
    const hp_scenario *s = &r->scenario.scenario;
    const hp_assess_case so_far = given(r);
    hp_commission_make(&so_far, &r->list);
    hp_machine_fit fit;
    hp_machine_fit_foretell(&r->list.given, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, s->drive.supply.emf_v);
    hp_no_load *n = add(r, &hp_reading_no_load);
    n->full = (hp_steady){told.rad_s, times * told.battery_a, s->drive.supply.emf_v};
    n->turning = HP_TURNING_FORWARD;
    return n;
}

static void make(room *r)
{
    hp_scenario *s = &r->scenario.scenario;
    const hp_assess_case all = given(r);
    hp_commission_make(&all, &r->list);
    r->steps = (hp_card_context){
        .drive = &s->drive, .labels = &s->labels, .plan = &r->plan, .commission = &r->list};
    r->source = (hp_sheet_source){.drive = &s->drive,
                                  .labels = &s->labels,
                                  .harness = &s->harness,
                                  .parameters = &s->parameters,
                                  .person = &s->bench.person,
                                  .prior = &s->bench.prior,
                                  .log = "test.bench.yaml",
                                  .entry = r->entry,
                                  .entries = r->entries,
                                  .steps = &r->steps};
    hp_wiring_sheet_make(&r->source, &r->sheet);
}

/* ---- stops ----------------------------------------------------------------------------------- */

static void only_a_stop_forbids_to_ride(void **state)
{
    room *r = *state;
    ((hp_idle_draw *)add(r, &hp_reading_idle_draw))->idle_a = 3.0;
    make(r);
    check_int(hp_commission_step_of(&r->list, &hp_reading_idle_draw)->finding, HP_FINDING_LOOK);
    check_int(r->sheet.stops.count, 0);
}

static void a_danger_stands_until_its_reading_is_taken_again(void **state)
{
    room *r = *state;
    ((hp_pins *)add(r, &hp_reading_pins))->shell = HP_TELL_YES;
    add(r, &hp_reading_mend);
    make(r);
    check_int(r->sheet.stops.count, 1);
    assert_string_equal(r->sheet.stops.line[0].from, "log entry 1");
    ((hp_pins *)add(r, &hp_reading_pins))->shell = HP_TELL_NO;
    add_trial(r, 5, 0.35, 0.3);
    make(r);
    check_int(r->sheet.stops.count, 0);
}

/* By its step, and not once more as a run at full throttle; of a trial there is no step. */
static void a_run_that_draws_too_much_is_told_once(void **state)
{
    room *r = *state;
    add_trial(r, 5, 0.35, 0.3);
    add_run(r, 40.0);
    make(r);
    assert_true(r->list.failed.stands);
    check_int(r->sheet.stops.count, 1);
    assert_string_equal(r->sheet.stops.line[0].from, "log entry 2");
    r->entries = 1;
    add_trial(r, 5, 1.0, 40.0 * r->list.full_most_a);
    make(r);
    assert_true(r->list.failed.stands);
    check_int(r->sheet.stops.count, 1);
    check_text_contains(r->sheet.stops.line[0].value, "With wiring 5 it drew");
}

static void a_failed_run_is_of_the_wiring_that_was_joined(void **state)
{
    room *r = *state;
    hp_sheet_failed failed;
    add_trial(r, 7, 0.35, 0.3);
    add_run(r, 40.0);
    make(r);
    assert_true(hp_sheet_failed_check(&r->source, &failed));
    check_int(failed.entry, 2);
    check_int(failed.wiring, 7);
}

/* ---- what proves a wiring -------------------------------------------------------------------- */

static void what_failed_by_the_list_proves_nothing(void **state)
{
    room *r = *state;
    add_trial(r, 5, 1.0, 0.3);
    make(r);
    assert_ptr_equal(hp_sheet_working_trial(&r->source, 5), &r->entry[0]);
    r->entry[0].trial.battery_a = 2.0 * r->list.full_most_a;
    make(r);
    assert_true(hp_sheet_trial_failed(&r->source, &r->entry[0]));
    assert_null(hp_sheet_working_trial(&r->source, 5));
    check_int(hp_sheet_log_wiring(&r->source), 5);
}

static void a_good_run_proves_the_wiring_that_was_joined(void **state)
{
    room *r = *state;
    int number = 0;
    add_trial(r, 5, 0.35, 0.3);
    add_trial(r, 5, 1.0, 0.3)->warm = HP_TELL_YES;
    add_run(r, 1.0);
    make(r);
    assert_true(r->list.failed.stands && !r->list.wired);
    assert_null(hp_sheet_good_run(&r->source, &number));
    r->entry[1].trial.warm = HP_TELL_NO;
    make(r);
    assert_true(r->list.wired);
    assert_ptr_equal(hp_sheet_good_run(&r->source, &number), &r->entry[2]);
    check_int(number, 5);
    assert_null(r->list.ran);
    add_trial(r, 5, 0.35, 0.3)->feel = HP_FEEL_ROUGH;
    make(r);
    assert_true(!r->list.wired);
    assert_null(hp_sheet_good_run(&r->source, &number));
    r->entries = 0;
    add_run(r, 1.0);
    make(r);
    assert_ptr_equal(hp_sheet_good_run(&r->source, &number), &r->entry[0]);
    check_int(number, 0);
}

int main(void)
{
#define IN_ROOM(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        IN_ROOM(only_a_stop_forbids_to_ride),
        IN_ROOM(a_danger_stands_until_its_reading_is_taken_again),
        IN_ROOM(a_run_that_draws_too_much_is_told_once),
        IN_ROOM(a_failed_run_is_of_the_wiring_that_was_joined),
        IN_ROOM(what_failed_by_the_list_proves_nothing),
        IN_ROOM(a_good_run_proves_the_wiring_that_was_joined),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
