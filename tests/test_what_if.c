/*
 * What can be wrong with the controls, each fault with each sort of controller: the outcome is
 * simulated, and stands here as theory has it.
 */
#include "check.h"

#include "hubphase/decide/what_if.h"

#include <string.h>

#define WIRING 1 /* smooth for an ideal motor, from theory */

static hp_course_run run_plan(const hp_what_if_plan *plan)
{
    hp_drive drive = hp_drive_default();
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    hp_error err = hp_error_none();
    hp_course_run run;
    hp_result result = hp_controls_params_check(&plan->controls, &err);
    if (result == HP_OK)
        result = hp_course_check(&plan->course, &plan->controls, &err);
    check_true(result == HP_OK, "refused: %s", err.text);
    result = hp_course_run_make(&drive, &wiring, &plan->controls, &plan->course, plan->seconds,
                                &run, &err);
    check_true(result == HP_OK, "%s", err.text);
    check_int(run.moments, plan->course.count);
    check_int((long long)run.trace.count, HP_COURSE_SAMPLES + 1);
    check_true(run.figures.balance_error < 1e-4, "power balance: %g", run.figures.balance_error);
    return run;
}

/* The moment that it is about. */
static hp_moment moment_of(hp_what_if what, const hp_controls_params *controls)
{
    check_true(hp_what_if_applies(what, controls), "%s does not apply", hp_what_if_name(what));
    hp_what_if_plan plan = hp_what_if_plan_make(what, controls);
    hp_course_run run = run_plan(&plan);
    hp_moment moment = run.moment[plan.focus];
    hp_course_run_free(&run);
    return moment;
}

static void check_outcome(hp_what_if what, const hp_controls_params *controls, hp_outcome outcome,
                          hp_control_reason reason)
{
    hp_moment moment = moment_of(what, controls);
    check_true(moment.outcome == outcome && moment.reason == reason,
               "%s: %s for reason %d, expected %s for reason %d", hp_what_if_name(what),
               hp_outcome_name(moment.outcome), (int)moment.reason, hp_outcome_name(outcome),
               (int)reason);
}

/* Half a grip, lever pulled after 2.5 s, 10 ms until the controller acts: then the current is gone
 * within a few milliseconds, and the wheel coasts to rest by its friction. */
static void the_lever_stops_the_drive_within_its_delay(void **state)
{
    (void)state;
    hp_controls_params controls = hp_controls_params_default();
    hp_moment m = moment_of(HP_WHAT_IF_BRAKE, &controls);
    check_int(m.outcome, HP_OUTCOME_STOPS);
    check_int(m.reason, HP_CONTROL_BRAKE);
    check_close(m.duty_before, 0.5, 1e-12, "half a grip");
    check_close(m.duty_after, 0.0, 0.0, "nothing");
    check_close(m.acts_s, 0.01, 1e-12, "the delay");
    check_true(m.no_torque_s > 0.01 && m.no_torque_s < 0.02, "%g s", m.no_torque_s);
    /* J w / (T_c + b w) without cogging, which gives and takes: within a tenth. */
    hp_drive d = hp_drive_default();
    double b = d.stand.rotor.viscous_nm_s_rad, tc = d.stand.rotor.coulomb_nm;
    double rest = d.stand.wheel_inertia_kg_m2 / b * log(1.0 + b * m.wheel_before / tc);
    check_relative(m.standstill_s, rest, 0.1, "the detents");
    check_close(m.wheel_after, 0.0, 0.0, "it stands");
}

/* Switch in the lever, what it joins, what the controller expects: with half a grip the motor goes
 * on, stops, or never drove. */
static void every_brake_switch_on_every_brake_input(void **state)
{
    (void)state;
    enum { O = HP_SWITCH_NORMALLY_OPEN, C = HP_SWITCH_NORMALLY_CLOSED };
    enum { G = HP_LEVEL_GROUND, V = HP_LEVEL_VOLTS };
    enum {
        STOPS = HP_OUTCOME_STOPS,
        NOTHING = HP_OUTCOME_GOES_ON,
        NEVER = HP_OUTCOME_STAYS_OFF,
        TURNED = HP_OUTCOME_STARTS /* pulled is let go, and the other way round */
    };
    const int row[][6] = {
        /* fitted, joins, expects, at; lever; lever with its lead off */
        {O, G, O, G, STOPS, NOTHING},   {C, G, O, G, TURNED, NOTHING},
        {O, V, O, G, NOTHING, NOTHING}, {C, V, O, G, NOTHING, NOTHING},
        {C, G, C, G, STOPS, NEVER},     {O, G, C, G, TURNED, NEVER},
        {O, V, C, G, NEVER, NEVER},     {C, V, C, G, NEVER, NEVER},
        {O, V, O, V, STOPS, NOTHING},   {C, V, O, V, TURNED, NOTHING},
        {O, G, O, V, NOTHING, NOTHING}, {C, V, C, V, STOPS, NEVER},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_controls_params controls = hp_controls_params_default();
        controls.brake.fitted = (hp_brake_switch)row[k][0];
        controls.brake.joins = (hp_level)row[k][1];
        controls.brake.expects = (hp_brake_switch)row[k][2];
        controls.brake.expects_at = (hp_level)row[k][3];
        const hp_what_if what[] = {HP_WHAT_IF_BRAKE, HP_WHAT_IF_BRAKE_LEAD};
        for (int n = 0; n < 2; n++) {
            hp_outcome expected = (hp_outcome)row[k][4 + n];
            bool cut = expected == HP_OUTCOME_STOPS || expected == HP_OUTCOME_STAYS_OFF;
            check_outcome(what[n], &controls, expected, cut ? HP_CONTROL_BRAKE : HP_CONTROL_DRIVES);
        }
    }
}

static void what_if_the_brake_switch_is_of_the_other_sort(void **state)
{
    (void)state;
    hp_controls_params c = hp_controls_params_default();
    check_outcome(HP_WHAT_IF_BRAKE_SORT, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
    check_outcome(HP_WHAT_IF_BRAKE_LEVEL, &c, HP_OUTCOME_GOES_ON, HP_CONTROL_DRIVES);
    c.brake.fitted = c.brake.expects = HP_SWITCH_NORMALLY_CLOSED;
    check_outcome(HP_WHAT_IF_BRAKE_SORT, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
    check_outcome(HP_WHAT_IF_BRAKE_LEVEL, &c, HP_OUTCOME_STAYS_OFF, HP_CONTROL_BRAKE);
    c.brake.fitted =
        HP_SWITCH_NORMALLY_OPEN; /* wrong as it stands: the other sort is the right one */
    check_outcome(HP_WHAT_IF_BRAKE_SORT, &c, HP_OUTCOME_STOPS, HP_CONTROL_BRAKE);
}

/* Which lead, which pull, with and without fault levels: riding at half, and at rest. */
static void every_lead_of_the_throttle_lost(void **state)
{
    (void)state;
    const struct {
        hp_input_pull pull;
        bool levels;
        hp_outcome riding[3], resting[3]; /* supply, ground, signal */
        hp_control_reason reason[3];
    } row[] = {
        {HP_INPUT_PULL_DOWN,
         false,
         {HP_OUTCOME_STOPS, HP_OUTCOME_FASTER, HP_OUTCOME_STOPS},
         {HP_OUTCOME_STAYS_OFF, HP_OUTCOME_STARTS, HP_OUTCOME_STAYS_OFF},
         {HP_CONTROL_REST, HP_CONTROL_DRIVES, HP_CONTROL_REST}},
        {HP_INPUT_PULL_UP,
         false,
         {HP_OUTCOME_FASTER, HP_OUTCOME_FASTER, HP_OUTCOME_FASTER},
         {HP_OUTCOME_STARTS, HP_OUTCOME_STARTS, HP_OUTCOME_STARTS},
         {HP_CONTROL_DRIVES, HP_CONTROL_DRIVES, HP_CONTROL_DRIVES}},
        {HP_INPUT_PULL_DOWN,
         true,
         {HP_OUTCOME_STOPS, HP_OUTCOME_STOPS, HP_OUTCOME_STOPS},
         {HP_OUTCOME_STAYS_OFF, HP_OUTCOME_STAYS_OFF, HP_OUTCOME_STAYS_OFF},
         {HP_CONTROL_FAULT, HP_CONTROL_FAULT, HP_CONTROL_FAULT}},
        {HP_INPUT_PULL_UP,
         true,
         {HP_OUTCOME_STOPS, HP_OUTCOME_STOPS, HP_OUTCOME_STOPS},
         {HP_OUTCOME_STAYS_OFF, HP_OUTCOME_STAYS_OFF, HP_OUTCOME_STAYS_OFF},
         {HP_CONTROL_FAULT, HP_CONTROL_FAULT, HP_CONTROL_FAULT}},
    };
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_controls_params c = hp_controls_params_default();
        hp_throttle_lose_leads(&c.throttle, row[k].pull);
        c.throttle.fault_low_v = row[k].levels ? 0.4 : 0.0;
        c.throttle.fault_high_v = row[k].levels ? 4.6 : 0.0;
        for (int lead = 0; lead < 3; lead++) {
            check_outcome(HP_WHAT_IF_THROTTLE_SUPPLY + (hp_what_if)lead, &c, row[k].riding[lead],
                          row[k].reason[lead]);
            check_outcome(HP_WHAT_IF_REST_SUPPLY + (hp_what_if)lead, &c, row[k].resting[lead],
                          row[k].reason[lead]);
        }
    }
}

static void key_and_open_grip(void **state)
{
    (void)state;
    hp_controls_params c = hp_controls_params_default();
    check_outcome(HP_WHAT_IF_KEY_OFF, &c, HP_OUTCOME_STOPS, HP_CONTROL_KEY);
    check_outcome(HP_WHAT_IF_OPEN_GRIP, &c, HP_OUTCOME_STAYS_OFF, HP_CONTROL_OPEN);
    c.throttle.refuses_open = false;
    check_outcome(HP_WHAT_IF_OPEN_GRIP, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
}

static void pedals_in_both_modes(void **state)
{
    (void)state;
    hp_controls_params c = hp_controls_params_default();
    check_true(!hp_what_if_applies(HP_WHAT_IF_PEDALS_STOP, &c), "no sensor");
    for (int mode = HP_PEDAL_GATES; mode <= HP_PEDAL_DRIVES; mode++) {
        hp_control_reason none = mode == HP_PEDAL_GATES ? HP_CONTROL_PEDALS : HP_CONTROL_REST;
        c = hp_controls_params_default();
        c.pedal.mode = (hp_pedal_mode)mode;
        check_outcome(HP_WHAT_IF_PEDALS_STOP, &c, HP_OUTCOME_STOPS, none);
        check_outcome(HP_WHAT_IF_PEDALS_BACK, &c, HP_OUTCOME_STOPS, none);
        check_outcome(HP_WHAT_IF_PEDAL_LEAD, &c, HP_OUTCOME_STOPS, none);
        check_outcome(HP_WHAT_IF_PEDAL_SIDE, &c, HP_OUTCOME_STAYS_OFF, none);
        c.pedal.forward = HP_PEDAL_ANY;
        check_outcome(HP_WHAT_IF_PEDALS_BACK, &c, HP_OUTCOME_GOES_ON, HP_CONTROL_DRIVES);
        check_outcome(HP_WHAT_IF_PEDAL_SIDE, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
        /* The brake cuts pedals too, and the throttle's leads are as without. */
        check_outcome(HP_WHAT_IF_BRAKE, &c, HP_OUTCOME_STOPS, HP_CONTROL_BRAKE);
        check_outcome(HP_WHAT_IF_THROTTLE_GROUND, &c, HP_OUTCOME_FASTER, HP_CONTROL_DRIVES);
        check_outcome(HP_WHAT_IF_REST_GROUND, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
        check_outcome(HP_WHAT_IF_REST_SIGNAL, &c, HP_OUTCOME_STAYS_OFF, HP_CONTROL_REST);
    }
}

/* 12 pulses a turn, one turn a second, 0.5 s until it stops: the last pulse came up to 1/12 s ago.
 */
static void pedals_that_stop_stop_the_drive_in_their_time(void **state)
{
    (void)state;
    hp_controls_params c = hp_controls_params_default();
    c.pedal.mode = HP_PEDAL_DRIVES;
    hp_moment m = moment_of(HP_WHAT_IF_PEDALS_STOP, &c);
    check_true(m.no_torque_s > 0.41 && m.no_torque_s < 0.51, "%g s", m.no_torque_s);
}

static void the_speed_switch_without_its_lead(void **state)
{
    (void)state;
    hp_controls_params c = hp_controls_params_default();
    check_true(!hp_what_if_applies(HP_WHAT_IF_SPEED_LEAD, &c), "one step");
    c.speed = (hp_speed_params){.cap = {0.4, 0.7, 1.0}, .steps = 3, .chosen = 2, .lost = 3};
    check_outcome(HP_WHAT_IF_SPEED_LEAD, &c, HP_OUTCOME_FASTER, HP_CONTROL_DRIVES);
    c.speed.lost = 1;
    check_outcome(HP_WHAT_IF_SPEED_LEAD, &c, HP_OUTCOME_SLOWER, HP_CONTROL_DRIVES);
    c.speed.lost = 2;
    check_outcome(HP_WHAT_IF_SPEED_LEAD, &c, HP_OUTCOME_GOES_ON, HP_CONTROL_DRIVES);
}

/* Half a grip or full: speeds as the duties; docs/validation.md has a real one a percent or two
 * below a loss-free motor's. */
static void the_wheel_turns_as_fast_as_its_duty_says(void **state)
{
    (void)state;
    hp_controls_params c = hp_controls_params_default();
    hp_drive drive = hp_drive_default();
    hp_moment m = moment_of(HP_WHAT_IF_THROTTLE_GROUND, &c);
    double full = hp_controls_step_speed(&c, &drive, 1);
    check_relative(m.wheel_before, 0.5 * full, 0.03, "a motor with losses");
    check_relative(m.wheel_after, full, 0.03, "a motor with losses");
}

static void findings_name_what_is_dangerous(void **state)
{
    (void)state;
    check_int(hp_what_if_finding(HP_WHAT_IF_BRAKE, HP_OUTCOME_STOPS), HP_FINDING_GOOD);
    check_int(hp_what_if_finding(HP_WHAT_IF_BRAKE, HP_OUTCOME_GOES_ON), HP_FINDING_STOP);
    check_int(hp_what_if_finding(HP_WHAT_IF_BRAKE, HP_OUTCOME_STAYS_OFF), HP_FINDING_LOOK);
    check_int(hp_what_if_finding(HP_WHAT_IF_BRAKE_LEAD, HP_OUTCOME_GOES_ON), HP_FINDING_LOOK);
    for (hp_what_if k = HP_WHAT_IF_THROTTLE_SUPPLY; k <= HP_WHAT_IF_REST_SIGNAL; k++) {
        check_int(hp_what_if_finding(k, HP_OUTCOME_FASTER), HP_FINDING_STOP);
        check_int(hp_what_if_finding(k, HP_OUTCOME_STARTS), HP_FINDING_STOP);
        check_int(hp_what_if_finding(k, HP_OUTCOME_GOES_ON), HP_FINDING_STOP);
    }
    check_int(hp_what_if_finding(HP_WHAT_IF_KEY_OFF, HP_OUTCOME_GOES_ON), HP_FINDING_STOP);
    check_int(hp_what_if_finding(HP_WHAT_IF_OPEN_GRIP, HP_OUTCOME_STARTS), HP_FINDING_STOP);
}

static void names_are_found_again(void **state)
{
    (void)state;
    for (hp_what_if k = 0; k < HP_WHAT_IF_COUNT; k++)
        check_int(hp_what_if_find(hp_what_if_name(k)), k);
    check_int(hp_what_if_find("brakes"), HP_WHAT_IF_COUNT);
    check_int(hp_what_if_find(""), HP_WHAT_IF_COUNT);
}

/* Two actions within one delay: each has its moment; what the first leads to falls into the second.
 */
static void moments_are_told_action_by_action(void **state)
{
    (void)state;
    hp_what_if_plan plan = {.controls = hp_controls_params_default(), .seconds = 3.0};
    plan.course = (hp_course){.action = {{0.2, HP_ACTION_GRIP, 0.5},
                                         {1.5, HP_ACTION_LEVER, 1.0},
                                         {1.505, HP_ACTION_GRIP, 0.6},
                                         {2.0, HP_ACTION_LEVER, 0.0}},
                              .count = 4};
    hp_course_run run = run_plan(&plan);
    check_int(run.moment[0].outcome, HP_OUTCOME_STARTS);
    check_true(isinf(run.moment[0].no_torque_s) && isinf(run.moment[0].standstill_s), "it turns");
    check_int(run.moment[1].outcome, HP_OUTCOME_GOES_ON);
    check_true(isinf(run.moment[1].acts_s), "not yet");
    check_int(run.moment[2].outcome, HP_OUTCOME_STOPS);
    check_close(run.moment[2].acts_s, 0.005, 1e-12, "the rest of the delay");
    check_int(run.moment[3].outcome, HP_OUTCOME_STARTS);
    check_close(run.moment[0].duty_before, 0.0, 0.0, "let go");
    check_close(run.moment[2].duty_before, 0.5, 1e-12, "as it was");
    check_close(run.moment[3].duty_before, 0.0, 0.0, "cut");
    double volts = 0.8 + 0.6 * 3.4; /* of 1.0 to 4.0 */
    check_close(run.moment[3].duty_after, (volts - 1.0) / 3.0, 1e-12, "the grip as it stands");
    check_close(run.moment[3].acts_s, 0.01, 1e-12, "the delay");
    hp_course_run_free(&run);
}

/* The key stops the motor; that the pedals' time runs out a moment later stops it no second time.
 */
static void what_is_off_already_is_off_since_then(void **state)
{
    (void)state;
    hp_what_if_plan plan = {.controls = hp_controls_params_default(), .seconds = 4.0};
    plan.controls.pedal.mode = HP_PEDAL_DRIVES;
    plan.course = (hp_course){.action = {{0.2, HP_ACTION_PEDALS, 1.0},
                                         {2.0, HP_ACTION_PEDALS, 0.0},
                                         {2.2, HP_ACTION_KEY, 0.0}},
                              .count = 3};
    hp_course_run run = run_plan(&plan);
    check_int(run.moment[1].outcome, HP_OUTCOME_GOES_ON);
    check_int(run.moment[2].outcome, HP_OUTCOME_STOPS);
    check_true(run.demands == 6 && run.demand[5].time > 2.4, "%d demands", run.demands);
    check_true(run.moment[2].no_torque_s < 0.01, "%g s", run.moment[2].no_torque_s);
    hp_course_run_free(&run);
}

static void actions_behind_the_end_are_left_out(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    hp_controls_params controls = hp_controls_params_default();
    hp_course course = {.action = {{0.2, HP_ACTION_GRIP, 0.5}, {0.5, HP_ACTION_LEVER, 1.0}},
                        .count = 2};
    hp_course_run run;
    check_int(hp_course_run_make(&drive, &wiring, &controls, &course, 0.5, &run, NULL), HP_OK);
    check_int(run.moments, 1);
    check_int(run.demands, 2);
    hp_course_run_free(&run);
    hp_course_run_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_lever_stops_the_drive_within_its_delay),
        cmocka_unit_test(every_brake_switch_on_every_brake_input),
        cmocka_unit_test(what_if_the_brake_switch_is_of_the_other_sort),
        cmocka_unit_test(every_lead_of_the_throttle_lost),
        cmocka_unit_test(key_and_open_grip),
        cmocka_unit_test(pedals_in_both_modes),
        cmocka_unit_test(pedals_that_stop_stop_the_drive_in_their_time),
        cmocka_unit_test(the_speed_switch_without_its_lead),
        cmocka_unit_test(the_wheel_turns_as_fast_as_its_duty_says),
        cmocka_unit_test(findings_name_what_is_dangerous),
        cmocka_unit_test(names_are_found_again),
        cmocka_unit_test(moments_are_told_action_by_action),
        cmocka_unit_test(what_is_off_already_is_off_since_then),
        cmocka_unit_test(actions_behind_the_end_are_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
