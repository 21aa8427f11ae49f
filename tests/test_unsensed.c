/*
 * A controller that runs without Hall sensors: what a run of it says, and what it does not; when
 * its Hall plug is asked for, and what the answer changes. Such a controller goes by the volts of
 * the leads that it feeds, so that forward or backward is the parity of their order.
 */
#include "decide/advise/behaviour.h"
#include "decide/advise/plan_tree.h"
#include "decide/reading/reading.h"
#include "decide/reading/running.h"
#include "hubphase/decide/readings.h"
#include "plan_bench.h"

#include <math.h>
#include <string.h>

static hp_entry forward_run(int number)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(number);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    e.trial.starts = e.trial.starts_tried = 6;
    e.trial.battery_a = 0.1;
    e.trial.wheel_rad_s = 8.2;
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.0;
    e.trial.limit_reached = HP_TELL_NO;
    return e;
}

static hp_entry stalled_run(int number)
{
    hp_entry e = forward_run(number);
    e.trial.motion = HP_MOVED_SHIVER;
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.starts = 0;
    e.trial.battery_a = 1.0;
    e.trial.wheel_rad_s = NAN;
    e.trial.limit_reached = HP_TELL_YES;
    return e;
}

/* In the middle of what the advice expects at full throttle. */
static hp_entry final_check(const bench *b, int number)
{
    hp_advice advice = next(b);
    hp_entry e = forward_run(number);
    e.trial.throttle = 1.0;
    e.trial.feed = HP_FEED_BATTERY;
    e.trial.limit_a = NAN;
    e.trial.limit_reached = HP_TELL_UNSAID;
    e.trial.battery_a = 0.5 * (advice.full_current_a.low + advice.full_current_a.high);
    e.trial.wheel_rad_s = 0.5 * (advice.full_wheel_rad_s.low + advice.full_wheel_rad_s.high);
    return e;
}

static hp_entry unplugged(hp_tell turns)
{
    hp_entry e = hp_entry_make(&hp_reading_hall_plug, 0);
    e.hall_plug.turns = turns;
    return e;
}

static hp_entry row_of_codes(const int *code, int count)
{
    hp_entry e = hp_entry_make(&hp_reading_hand_turn, 0);
    e.hand_turn.count = count;
    for (int k = 0; k < count; k++)
        e.hand_turn.code[k] = code[k];
    return e;
}

/* Nobody reads anything but the run with the plug pulled. */
static bench blind(void)
{
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.prior.table_stated = 1.0;
    b.params.allowed = hp_allow(&hp_reading_hall_plug);
    return b;
}

/* Opens it, with two smooth runs and the final check. */
static void open_checked(bench *b)
{
    open_bench(b);
    add(b, forward_run(1));
    add(b, forward_run(1));
    add(b, final_check(b, 1));
}

/* What is said in the end, the Hall plug heeded. */
static hp_advice ending(const bench *b)
{
    hp_advice advice;
    hp_error err = hp_error_none();
    check_int(hp_plan_next(b->planner, &b->belief, true, &advice, &err), HP_OK);
    return advice;
}

static double correct(const bench *b, int number)
{
    double right[HP_WIRING_COUNT + 1];
    hp_belief_wirings(&b->belief, right);
    return right[number];
}

static double stuck_at_1(const bench *b, int lead)
{
    double trouble[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b->belief, trouble);
    return trouble[hp_trouble_index(-1, (hp_fault){HP_FAULT_SENSOR_HIGH, lead})];
}

static void a_run_is_forward_by_the_order_of_the_phases_alone(void **state)
{
    (void)state;
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        for (int r = 0; r < HP_RELATION_COUNT; r++)
            for (int f = 0; f < 4; f++) {
                const hp_wiring wiring = hp_wiring_from_number(n);
                const hp_hypothesis h = {
                    .relation = r, .inverted = f - 1, .fault = hp_fault_from_index(f)};
                const hp_behaviour b = hp_behaviour_unsensed(&h, &wiring);
                int lead_axis[HP_PHASE_COUNT], sensor_axis[HP_PHASE_COUNT], order[HP_PHASE_COUNT];
                hp_relation_axes(r, sensor_axis, lead_axis);
                for (int k = 0; k < HP_PHASE_COUNT; k++)
                    order[k] = lead_axis[wiring.phase[k]];
                check_true(memcmp(b.wiring.sensor, b.wiring.phase, sizeof order) == 0,
                           "it is smooth");
                check_int(hp_order_is_even(b.wiring.phase), hp_order_is_even(order));
                check_int(b.inverted, -1);
                check_int(b.fault.kind, HP_FAULT_NONE);
            }
    const hp_wiring wiring = hp_wiring_from_number(1);
    const hp_hypothesis open = {.inverted = -1, .fault = {HP_FAULT_LEAD_OPEN, 1}};
    check_int(hp_behaviour_unsensed(&open, &wiring).fault.kind, HP_FAULT_LEAD_OPEN);
}

static void smooth_runs_tell_nothing_of_the_hall_leads(void **state)
{
    (void)state;
    bench b = blind();
    b.prior.sensor_fault = b.prior.inverted = 0.0;
    open_bench(&b);
    for (int k = 0; k < 3; k++)
        add(&b, forward_run(1));
    check_true(correct(&b, 1) > 0.9, "%g with its sensors", correct(&b, 1));
    add(&b, unplugged(HP_TELL_YES));
    /* Six relations have the phases in that order, and each its own order of the Hall leads. */
    double known = 0.0;
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        known = fmax(known, correct(&b, n));
    check_true(known < 0.2, "%g of one wiring", known);
    check_close(correct(&b, 1), 1.0 / 6.0, 0.01, "what a slip leaves to the others");
    /* Backward it would be with the phases in the other order. */
    check_true(correct(&b, 7) < 0.2, "%g", correct(&b, 7));
    close_bench(&b);
}

/* Whether the plug was pulled before the runs or after them, and taken back when it needs them. */
static void the_answer_counts_for_runs_before_and_after_it(void **state)
{
    (void)state;
    bench b = blind(), c = blind();
    open_bench(&b);
    open_bench(&c);
    add(&b, unplugged(HP_TELL_YES));
    add(&b, forward_run(1));
    add(&b, forward_run(1));
    add(&c, forward_run(1));
    add(&c, unplugged(HP_TELL_YES));
    add(&c, forward_run(1));
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        check_close(correct(&b, n), correct(&c, n), 1e-9, "before or after");
    add(&b, unplugged(HP_TELL_NO));
    check_true(correct(&b, 1) > 0.9, "%g taken back", correct(&b, 1));
    close_bench(&b);
    close_bench(&c);
}

/* What stands or runs roughly was with the sensors. */
static void a_stalled_run_speaks_of_the_hall_leads_all_the_same(void **state)
{
    (void)state;
    bench b = blind();
    open_bench(&b);
    add(&b, forward_run(1));
    add(&b, unplugged(HP_TELL_YES));
    double before = correct(&b, 1);
    add(&b, stalled_run(1));
    check_true(correct(&b, 1) < 0.5 * before, "%g, was %g", correct(&b, 1), before);
    close_bench(&b);
}

static void the_plug_is_pulled_once_and_after_the_final_check(void **state)
{
    (void)state;
    bench b = blind();
    open_bench(&b);
    check_int(ending(&b).kind, HP_ADVICE_TRY);
    add(&b, forward_run(1));
    add(&b, forward_run(1));
    hp_advice advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_DONE);
    check_true(!advice.checked && advice.plug == HP_PLUG_OWED, "the check comes first");
    add(&b, final_check(&b, 1));
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_READ);
    check_true(advice.reading == &hp_reading_hall_plug, "the plug");
    check_int(advice.why, HP_WHY_BEFORE_END);
    add(&b, unplugged(HP_TELL_NO));
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_DONE);
    check_int(advice.number, 1);
    check_true(advice.checked && advice.unsensed == HP_TELL_NO, "it needs them");
    close_bench(&b);
}

/* What somebody else says of each belief that is planned from. */
typedef struct listener {
    int asked;
    int most; /* entries of the longest belief */
} listener;

static hp_result listen(void *user, const hp_belief *belief, hp_advice *advice, hp_error *err)
{
    listener *l = user;
    (void)advice;
    (void)err;
    l->asked++;
    l->most = belief->entries > l->most ? belief->entries : l->most;
    return HP_OK;
}

/* On paper as in the log: the plug is asked for, and both answers are foreseen. */
static void the_plan_ahead_asks_for_it_too(void **state)
{
    (void)state;
    bench b = blind();
    hp_plan_tree tree;
    hp_plan_tree_options options = hp_plan_tree_options_default();
    hp_error err = hp_error_none();
    listener l = {0, 0};
    open_checked(&b);
    hp_planner_heed(b.planner, (hp_plan_beside){listen, &l});
    check_int(hp_plan_tree_build(b.planner, &b.belief, &options, &tree, &err), HP_OK);
    check_int(tree.count, 3);
    check_int(l.asked, tree.count);
    check_int(l.most, b.belief.entries + 1);
    const hp_plan_node *root = &tree.node[0];
    check_true(root->advice.kind == HP_ADVICE_READ && root->advice.reading == &hp_reading_hall_plug,
               "the plug");
    check_int(root->branches, 2);
    double sum = 0.0;
    for (int k = 0; k < root->branches; k++) {
        const hp_plan_branch *branch = &root->branch[k];
        const hp_advice *then = &tree.node[branch->node].advice;
        bool turns = branch->showing.entry.hall_plug.turns == HP_TELL_YES;
        sum += branch->showing.probability;
        check_true((branch->showing.probability < 0.5) == turns, "it seldom turns");
        check_int(then->why, turns ? HP_WHY_UNSENSED : HP_WHY_CURRENT);
        check_true(then->checked, "the check was made");
    }
    check_close(sum, 1.0, 1e-12, "of all");
    hp_plan_tree_free(&tree);
    close_bench(&b);
}

static void who_cannot_try_it_is_not_asked_and_told(void **state)
{
    (void)state;
    bench b = blind();
    b.params.allowed = 0;
    open_checked(&b);
    hp_advice advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_DONE);
    check_true(advice.plug == HP_PLUG_UNTRIED, "nobody has tried it");
    close_bench(&b);
}

static void where_it_turns_no_wiring_is_called_correct(void **state)
{
    (void)state;
    bench b = blind();
    open_checked(&b);
    add(&b, unplugged(HP_TELL_YES));
    hp_advice advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_GIVE_UP);
    check_int(advice.why, HP_WHY_UNSENSED);
    check_int(advice.trouble, 0);
    check_int(advice.number, 1);
    check_true(advice.certainty < 0.2, "%g", advice.certainty);
    close_bench(&b);
    /* Readings that can be taken go on, and no other wiring is tried for it. */
    b = blind();
    b.params.allowed = hp_allow_readings();
    open_checked(&b);
    add(&b, unplugged(HP_TELL_YES));
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_READ);
    check_true(advice.reading == &hp_reading_hand_turn || advice.reading == &hp_reading_park,
               "not a reading of the hub");
    close_bench(&b);
}

/* ... but ridden it is as it is joined: what it owes before is owed here, too. */
static void what_is_ridden_without_sensors_is_checked_first(void **state)
{
    (void)state;
    bench b = blind();
    b.params.allowed = 0;
    open_checked(&b);
    add(&b, unplugged(HP_TELL_YES));
    hp_advice advice = ending(&b);
    check_int(advice.why, HP_WHY_UNSENSED);
    check_true(advice.checked, "the run at full throttle was made");
    check_true(!hp_advice_entry(&advice), "nothing is left to log");
    add(&b, forward_run(1));
    advice = ending(&b);
    check_int(advice.why, HP_WHY_UNSENSED);
    check_true(!advice.checked && advice.full_current_a.high > 0.0, "it is to be made again");
    check_true(hp_advice_entry(&advice) == &hp_reading_trial, "and logged as a trial");
    /* What grew warm comes first. */
    hp_entry warm = forward_run(1);
    warm.trial.warm = HP_TELL_YES;
    add(&b, warm);
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_LOOK);
    check_int(advice.number, 1);
    close_bench(&b);
}

static void what_ran_backward_last_is_joined_otherwise(void **state)
{
    (void)state;
    bench b = blind();
    b.params.allowed = 0;
    open_checked(&b);
    add(&b, unplugged(HP_TELL_YES));
    hp_entry back = forward_run(2);
    back.trial.motion = HP_MOVED_BACKWARD;
    add(&b, back);
    hp_advice advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_TRY);
    check_int(advice.number, 1);
    check_int(advice.why, HP_WHY_UNSENSED);
    check_true(advice.moved_phase > 0, "phase leads are moved back");
    close_bench(&b);
}

/* What readings at the hub have told stays, however it runs. */
static void whom_readings_told_is_not_asked(void **state)
{
    (void)state;
    const hp_hypothesis good = {.inverted = -1};
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.prior.table_stated = 1.0;
    b.params.allowed = hp_allow(&hp_reading_hall_plug) | hp_allow(&hp_reading_hand_turn) |
                       hp_allow(&hp_reading_park);
    open_bench(&b);
    hp_advice asked = {.kind = HP_ADVICE_READ, .reading = &hp_reading_hand_turn, .lead = -1};
    add(&b, typical_entry(&b, &good, 0, &asked));
    asked.reading = &hp_reading_park;
    for (asked.lead = 0; asked.lead < HP_PHASE_COUNT; asked.lead++)
        add(&b, typical_entry(&b, &good, 0, &asked));
    hp_advice advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_TRY);
    int number = advice.number;
    add(&b, forward_run(number));
    add(&b, forward_run(number));
    add(&b, final_check(&b, number));
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_DONE);
    check_true(advice.checked && advice.plug == HP_PLUG_SETTLED, "nothing is left to ask");
    add(&b, unplugged(HP_TELL_YES));
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_DONE);
    check_int(advice.number, number);
    check_int(advice.unsensed, HP_TELL_YES);
    close_bench(&b);
}

static void a_torn_hall_lead_is_not_outvoted_by_smooth_runs(void **state)
{
    (void)state;
    /* The lead in the middle always 1. */
    static const int code[] = {6, 2, 3, 7, 6, 2, 3};
    bench b = blind();
    open_bench(&b);
    add(&b, row_of_codes(code, 7));
    check_true(stuck_at_1(&b, 1) > 0.9, "%g", stuck_at_1(&b, 1));
    for (int k = 0; k < 3; k++)
        add(&b, forward_run(1));
    /* The runs call the codes a slip: the plug is pulled before the final check. */
    hp_advice advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_READ);
    check_true(advice.reading == &hp_reading_hall_plug, "the plug");
    add(&b, unplugged(HP_TELL_YES));
    check_true(stuck_at_1(&b, 1) > 0.9, "%g after smooth runs", stuck_at_1(&b, 1));
    advice = ending(&b);
    check_int(advice.kind, HP_ADVICE_REPAIR);
    check_true(!advice.contradiction.found, "nothing is called a slip");
    close_bench(&b);
}

static void a_new_controller_is_another(void **state)
{
    (void)state;
    hp_entry log[4] = {unplugged(HP_TELL_YES), forward_run(1), unplugged(HP_TELL_NO),
                       hp_entry_make(&hp_reading_mend, 4)};
    log[3].mend.fault = (hp_fault){HP_FAULT_SILENT, 0};
    check_int(hp_log_runs_unsensed(log, 0), HP_TELL_UNSAID);
    check_int(hp_log_runs_unsensed(log, 1), HP_TELL_YES);
    check_int(hp_log_runs_unsensed(log, 3), HP_TELL_NO);
    check_int(hp_log_runs_unsensed(log, 4), HP_TELL_UNSAID);
}

/* A wheel that stays without the plug says so only where it last went with it. */
static void what_stood_anyhow_says_nothing_of_the_plug(void **state)
{
    (void)state;
    hp_entry log[3] = {unplugged(HP_TELL_NO), forward_run(1), unplugged(HP_TELL_NO)};
    check_int(hp_log_runs_unsensed(log, 1), HP_TELL_UNSAID);
    check_int(hp_log_runs_unsensed(log, 2), HP_TELL_UNSAID);
    check_int(hp_log_runs_unsensed(log, 3), HP_TELL_NO);
    log[1].trial.motion = HP_MOVED_STILL;
    check_int(hp_log_runs_unsensed(log, 3), HP_TELL_UNSAID);
    log[1] = hp_entry_make(&hp_reading_no_load, 2);
    ((hp_no_load *)log[1].values)->turning = HP_TURNING_FORWARD;
    check_int(hp_log_runs_unsensed(log, 3), HP_TELL_NO);
    /* Parts were mended in between. */
    hp_entry mended[3] = {forward_run(1), hp_entry_make(&hp_reading_mend, 2),
                          unplugged(HP_TELL_NO)};
    mended[1].mend.fault = (hp_fault){HP_FAULT_LEAD_OPEN, 0};
    check_int(hp_log_runs_unsensed(mended, 3), HP_TELL_UNSAID);
}

/* The repair of a controller that ran without the sensors does not make its runs speak for the
 * Hall leads; the runs after it do. */
static void a_run_is_weighed_by_the_controller_that_made_it(void **state)
{
    (void)state;
    bench b = blind();
    double right[HP_WIRING_COUNT + 1], before;
    hp_entry mended = hp_entry_make(&hp_reading_mend, 0);
    mended.mend.fault = (hp_fault){HP_FAULT_SILENT, 0};
    open_bench(&b);
    for (int k = 0; k < 3; k++)
        add(&b, forward_run(1));
    add(&b, unplugged(HP_TELL_YES));
    hp_belief_wirings(&b.belief, right);
    before = right[1];
    check_true(before < 0.5, "%g by runs without the sensors", before);
    add(&b, mended);
    hp_belief_wirings(&b.belief, right);
    check_close(right[1], before, 0.01, "the same");
    add(&b, forward_run(1));
    hp_belief_wirings(&b.belief, right);
    check_true(right[1] > 0.8, "%g by a run with them", right[1]);
    close_bench(&b);
}

/* What it learnt of Hall leads that it does not use is nothing; one that needs them has learnt. */
static void what_it_learnt_without_its_sensors_does_not_count(void **state)
{
    (void)state;
    int number = 0;
    hp_entry log[3] = {hp_entry_make(&hp_reading_learn, 0), forward_run(5), unplugged(HP_TELL_YES)};
    log[0].learn.worked = HP_TELL_YES;
    check_int(hp_learnt_at(log, 2, &number), 0);
    check_int(number, 5);
    check_int(hp_learnt_at(log, 3, &number), -1);
    log[2] = unplugged(HP_TELL_NO);
    check_int(hp_learnt_at(log, 3, &number), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_run_is_forward_by_the_order_of_the_phases_alone),
        cmocka_unit_test(smooth_runs_tell_nothing_of_the_hall_leads),
        cmocka_unit_test(the_answer_counts_for_runs_before_and_after_it),
        cmocka_unit_test(a_stalled_run_speaks_of_the_hall_leads_all_the_same),
        cmocka_unit_test(the_plug_is_pulled_once_and_after_the_final_check),
        cmocka_unit_test(the_plan_ahead_asks_for_it_too),
        cmocka_unit_test(who_cannot_try_it_is_not_asked_and_told),
        cmocka_unit_test(where_it_turns_no_wiring_is_called_correct),
        cmocka_unit_test(what_is_ridden_without_sensors_is_checked_first),
        cmocka_unit_test(what_ran_backward_last_is_joined_otherwise),
        cmocka_unit_test(whom_readings_told_is_not_asked),
        cmocka_unit_test(a_torn_hall_lead_is_not_outvoted_by_smooth_runs),
        cmocka_unit_test(a_new_controller_is_another),
        cmocka_unit_test(what_it_learnt_without_its_sensors_does_not_count),
        cmocka_unit_test(what_stood_anyhow_says_nothing_of_the_plug),
        cmocka_unit_test(a_run_is_weighed_by_the_controller_that_made_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
