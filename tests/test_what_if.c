/*
 * What can be wrong with the controls, each fault with each sort of controller: the outcome is
 * simulated, and stands here as theory has it.
 */
#include "check.h"
#include "decide/reading/reading.h"
#include "report/words/ride_text.h"
#include "report/words/words.h"

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

/* Each case of the throttle is of none, the others are ridden by the pedals; without a key the
 * battery is what is switched on. */
static void what_is_not_fitted_has_no_case(void **state)
{
    (void)state;
    char title[HP_RIDE_WORDS];
    hp_controls_params c = hp_controls_params_default();
    c.key = c.throttle.fitted = false;
    c.pedal.mode = HP_PEDAL_DRIVES;
    const hp_what_if none[] = {HP_WHAT_IF_KEY_OFF,         HP_WHAT_IF_OPEN_GRIP,
                               HP_WHAT_IF_THROTTLE_SUPPLY, HP_WHAT_IF_THROTTLE_GROUND,
                               HP_WHAT_IF_THROTTLE_SIGNAL, HP_WHAT_IF_REST_SUPPLY,
                               HP_WHAT_IF_REST_GROUND,     HP_WHAT_IF_REST_SIGNAL};
    for (size_t k = 0; k < sizeof none / sizeof none[0]; k++)
        check_true(!hp_what_if_applies(none[k], &c), "%s", hp_what_if_name(none[k]));
    check_outcome(HP_WHAT_IF_BRAKE, &c, HP_OUTCOME_STOPS, HP_CONTROL_BRAKE);
    check_outcome(HP_WHAT_IF_BRAKE_LEAD, &c, HP_OUTCOME_GOES_ON, HP_CONTROL_DRIVES);
    check_outcome(HP_WHAT_IF_PEDALS_STOP, &c, HP_OUTCOME_STOPS, HP_CONTROL_REST);
    c.key = true;
    check_outcome(HP_WHAT_IF_KEY_OFF, &c, HP_OUTCOME_STOPS, HP_CONTROL_KEY);
    /* A sensor on the other side is what holds such a machine off. */
    c.pedal.high_share = 0.4;
    hp_drive drive = hp_drive_default();
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    hp_what_if_result result;
    check_int(hp_what_if_run(&drive, &wiring, &c, HP_WHAT_IF_BRAKE, &result, NULL, NULL), HP_OK);
    check_int(result.hold, HP_HOLD_PEDALS);
    check_int(hp_what_if_finding(&result), HP_FINDING_UNTESTED);

    c = hp_controls_params_default();
    c.key = false;
    assert_string_equal(hp_what_if_title(HP_WHAT_IF_OPEN_GRIP, &c, title, sizeof title),
                        "Battery switched on with the grip open");
    assert_string_equal(
        hp_action_words(&(hp_action){0.0, HP_ACTION_KEY, 1.0}, &c, title, sizeof title),
        "battery on");
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
        check_outcome(HP_WHAT_IF_PEDAL_SIDE_BACK, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
        c.pedal.forward = HP_PEDAL_ANY;
        check_outcome(HP_WHAT_IF_PEDALS_BACK, &c, HP_OUTCOME_GOES_ON, HP_CONTROL_DRIVES);
        check_outcome(HP_WHAT_IF_PEDAL_SIDE, &c, HP_OUTCOME_STARTS, HP_CONTROL_DRIVES);
        check_true(!hp_what_if_applies(HP_WHAT_IF_PEDAL_SIDE_BACK, &c), "either side is alike");
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

static hp_finding finding_of(hp_what_if what, hp_outcome outcome)
{
    return hp_what_if_finding(&(hp_what_if_result){.what = what, .moment.outcome = outcome});
}

static void findings_name_what_is_dangerous(void **state)
{
    (void)state;
    check_int(finding_of(HP_WHAT_IF_BRAKE, HP_OUTCOME_STOPS), HP_FINDING_GOOD);
    check_int(finding_of(HP_WHAT_IF_BRAKE, HP_OUTCOME_GOES_ON), HP_FINDING_STOP);
    check_int(finding_of(HP_WHAT_IF_BRAKE, HP_OUTCOME_STAYS_OFF), HP_FINDING_LOOK);
    check_int(finding_of(HP_WHAT_IF_BRAKE_LEAD, HP_OUTCOME_GOES_ON), HP_FINDING_LOOK);
    for (hp_what_if k = HP_WHAT_IF_THROTTLE_SUPPLY; k <= HP_WHAT_IF_REST_SIGNAL; k++) {
        check_int(finding_of(k, HP_OUTCOME_FASTER), HP_FINDING_STOP);
        check_int(finding_of(k, HP_OUTCOME_STARTS), HP_FINDING_STOP);
        check_int(finding_of(k, HP_OUTCOME_GOES_ON), HP_FINDING_STOP);
    }
    /* What would be with another switch is no stop of this machine, and forbids no ride. */
    for (hp_what_if k = HP_WHAT_IF_BRAKE_SORT; k <= HP_WHAT_IF_BRAKE_LEVEL; k++) {
        const hp_what_if_result r = {.what = k, .moment.outcome = HP_OUTCOME_GOES_ON};
        check_true(hp_what_if_supposes(k), "%s", hp_what_if_name(k));
        check_int(hp_what_if_finding(&r), HP_FINDING_LOOK);
        check_true(!strstr(hp_what_if_remedy(&r), "Do not ride"), "%s", hp_what_if_remedy(&r));
        check_text_contains(hp_what_if_remedy(&r), "one that stops the drive is of the right sort");
    }
    check_true(!hp_what_if_supposes(HP_WHAT_IF_BRAKE), "as it is");
    check_int(finding_of(HP_WHAT_IF_KEY_OFF, HP_OUTCOME_GOES_ON), HP_FINDING_STOP);
    check_int(finding_of(HP_WHAT_IF_OPEN_GRIP, HP_OUTCOME_STARTS), HP_FINDING_STOP);
}

/* ---- one thing wrong hides the others -------------------------------------------------------- */

/* A machine with one thing wrong, and what that takes from it, as somebody at its side would say.
 * The controller stays what it is; the part at its input is the wrong one. */
typedef struct wrong {
    const char *what;
    hp_pedal_mode pedals;
    bool refuses;                             /* the controller refuses an open grip */
    void (*controller)(hp_controls_params *); /* of the good machine too; may be NULL */
    void (*spoil)(hp_controls_params *, hp_drive *);
    hp_hold part;   /* as it shows with the grip let go */
    hp_hold opened; /* as it shows once the grip opens */
    bool ride;      /* half a grip, pedalled where that is wanted, does not drive it */
    bool by_pedals; /* pedalling does not, where pedals drive */
    bool rest;      /* nothing that the throttle says at rest is heeded, or its rest is amiss */
    bool asks;      /* what a lost lead asks for at rest is not done */
    bool key;       /* an open grip would do nothing when the key comes, refused or not */
    bool sides;     /* the pedal sensor is seen on neither side */
    hp_what_if about[3]; /* what these say is said of this very thing ... */
    int abouts;
    hp_finding said[3]; /* ... and is this */
} wrong;

static void open_on_closed(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->brake.fitted = HP_SWITCH_NORMALLY_OPEN;
}

static void closed_on_open(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->brake.fitted = HP_SWITCH_NORMALLY_CLOSED;
}

static void to_volts(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->brake.joins = HP_LEVEL_VOLTS;
}

static void no_switch(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->brake.fitted = HP_SWITCH_NONE;
}

static void closed_wanted(hp_controls_params *c)
{
    c->brake.fitted = c->brake.expects = HP_SWITCH_NORMALLY_CLOSED;
}

static void looks_at_volts(hp_controls_params *c)
{
    c->throttle.fault_low_v = 0.4;
}

static void looks_above(hp_controls_params *c)
{
    c->throttle.supply_v = 12.0;
    c->throttle.fault_high_v = 4.6;
}

/* Of 1.0 to 4.0 V that the controller starts at, and takes for all. */
static void rest_above_start(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->throttle.rest_v = 1.3;
}

static void rest_too_low(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->throttle.rest_v = 0.2;
}

static void weak_grip(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->throttle.rest_v = 0.2;
    c->throttle.full_v = 1.5;
}

static void strong_grip(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->throttle.full_v = 9.0;
}

static void sensor_on_the_other_side(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->pedal.high_share = 0.4;
}

/* One magnet: a pulse a second at one turn a second, and half a second is waited for the next. */
static void one_magnet(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->pedal.pulses_per_turn = 1;
}

static void no_assist(hp_controls_params *c, hp_drive *d)
{
    (void)d;
    c->pedal.assist = 0.0;
}

static void empty_battery(hp_controls_params *c, hp_drive *d)
{
    (void)c;
    d->controller.undervoltage_v = d->supply.emf_v + 1.0;
}

#define LEVER_CASES                                                                                \
    .about = {HP_WHAT_IF_BRAKE, HP_WHAT_IF_BRAKE_SORT, HP_WHAT_IF_BRAKE_LEVEL}, .abouts = 3
#define PEDAL_CASES                                                                                \
    .about = {HP_WHAT_IF_PEDAL_SIDE, HP_WHAT_IF_PEDAL_SIDE_BACK, HP_WHAT_IF_PEDALS_BACK},          \
    .abouts = 3
#define PULLED                                                                                     \
    HP_HOLD_BRAKE, HP_HOLD_BRAKE, .ride = true, .by_pedals = true, .rest = true, .key = true
#define GOOD HP_FINDING_GOOD
#define LOOK HP_FINDING_LOOK
#define STOP HP_FINDING_STOP

static const wrong wrongs[] = {
    {.what = "nothing, pedals gate", .pedals = HP_PEDAL_GATES},
    {"closed on open", HP_PEDAL_GATES, false, NULL, closed_on_open, PULLED, LEVER_CASES,
     .said = {STOP, GOOD, LOOK}},
    {"weak grip", HP_PEDAL_GATES, false, NULL, weak_grip, HP_HOLD_THROTTLE_REST,
     HP_HOLD_THROTTLE_REST, .ride = true, .key = true},
    {"sensor on the other side", HP_PEDAL_GATES, false, NULL, sensor_on_the_other_side,
     HP_HOLD_PEDALS, HP_HOLD_PEDALS, .ride = true, .asks = true, .key = true, PEDAL_CASES,
     .said = {GOOD, GOOD, STOP}},
    {"sensor with one magnet", HP_PEDAL_GATES, false, NULL, one_magnet, HP_HOLD_PEDALS,
     HP_HOLD_PEDALS, .ride = true, .asks = true, .key = true, .sides = true},
    {"empty battery", HP_PEDAL_GATES, false, NULL, empty_battery, HP_HOLD_MOTOR, HP_HOLD_MOTOR,
     .ride = true, .asks = true, .key = true},
    {"open on closed", HP_PEDAL_GATES, false, closed_wanted, open_on_closed, PULLED, LEVER_CASES,
     .said = {STOP, GOOD, LOOK}},
    {"no switch on closed", HP_PEDAL_GATES, false, closed_wanted, no_switch, PULLED,
     .about = {HP_WHAT_IF_BRAKE}, .abouts = 1, .said = {LOOK}},
    {"strong grip", HP_PEDAL_GATES, false, looks_above, strong_grip, HP_HOLD_THROTTLE_FAULT,
     HP_HOLD_THROTTLE_FAULT, .ride = true, .key = true},
    {"grip broken at rest, not refused", HP_PEDAL_GATES, false, looks_at_volts, rest_too_low,
     HP_HOLD_THROTTLE_FAULT, HP_HOLD_THROTTLE_FAULT, .rest = true},
    /* It refuses a grip that was never at rest, so the open grip at the key is told. */
    {"grip starts at rest", HP_PEDAL_GATES, true, NULL, rest_above_start, HP_HOLD_THROTTLE_OPEN,
     HP_HOLD_THROTTLE_OPEN, .ride = true, .rest = true},
    {"closed to volts", HP_PEDAL_GATES, true, closed_wanted, to_volts, PULLED, LEVER_CASES,
     .said = {LOOK, LOOK, GOOD}},
    {"grip broken at rest", HP_PEDAL_GATES, true, looks_at_volts, rest_too_low,
     HP_HOLD_THROTTLE_FAULT, HP_HOLD_THROTTLE_OPEN, .ride = true, .rest = true},
    {"pedals ask for nothing", HP_PEDAL_DRIVES, false, NULL, no_assist, HP_HOLD_PEDALS,
     HP_HOLD_PEDALS, .by_pedals = true, .sides = true},
    {"empty battery, pedals drive", HP_PEDAL_DRIVES, false, NULL, empty_battery, HP_HOLD_MOTOR,
     HP_HOLD_MOTOR, .ride = true, .by_pedals = true, .asks = true, .key = true},
    {.what = "nothing, pedals drive", .pedals = HP_PEDAL_DRIVES, .refuses = true},
    {"sensor on the other side, pedals drive", HP_PEDAL_DRIVES, true, NULL,
     sensor_on_the_other_side, HP_HOLD_PEDALS, HP_HOLD_PEDALS, .by_pedals = true, PEDAL_CASES,
     .said = {GOOD, GOOD, STOP}},
    {"open on closed, pedals drive", HP_PEDAL_DRIVES, true, closed_wanted, open_on_closed, PULLED,
     LEVER_CASES, .said = {STOP, GOOD, LOOK}},
};

static hp_controls_params good_machine(const wrong *w)
{
    hp_controls_params c = hp_controls_params_default();
    c.pedal.mode = w->pedals;
    c.throttle.refuses_open = w->refuses;
    c.speed = (hp_speed_params){.cap = {0.4, 0.7, 1.0}, .steps = 3, .chosen = 2, .lost = 3};
    if (w->controller)
        w->controller(&c);
    hp_throttle_lose_leads(&c.throttle, HP_INPUT_PULL_DOWN);
    return c;
}

static bool same_good(const wrong *a, const wrong *b)
{
    return a->pedals == b->pedals && a->refuses == b->refuses && a->controller == b->controller;
}

/* What a person would say: can this be seen on a machine with that wrong? */
static bool hidden(const wrong *w, hp_what_if what)
{
    for (int k = 0; k < w->abouts; k++)
        if (w->about[k] == what)
            return false;
    switch (what) {
    case HP_WHAT_IF_OPEN_GRIP: return w->key;
    case HP_WHAT_IF_REST_SUPPLY: /* pulled down, these two ask for nothing: only a drive that does
                                  */
    case HP_WHAT_IF_REST_SIGNAL: return w->rest; /* not heed the throttle hides that */
    case HP_WHAT_IF_REST_GROUND: return w->rest || w->asks;
    case HP_WHAT_IF_PEDALS_STOP:
    case HP_WHAT_IF_PEDALS_BACK:
    case HP_WHAT_IF_PEDAL_SIDE_BACK:
    case HP_WHAT_IF_PEDAL_LEAD: return w->pedals == HP_PEDAL_DRIVES ? w->by_pedals : w->ride;
    /* Nothing is to be seen but that it stays off, which it does for the sensor's sake; unless the
     * throttle that waits for the pedals, or the brake, would keep it off anyway. */
    case HP_WHAT_IF_PEDAL_SIDE:
        return w->sides || w->part == HP_HOLD_BRAKE ||
               (w->ride && w->part != HP_HOLD_PEDALS && w->part != HP_HOLD_MOTOR);
    default: return w->ride;
    }
}

static hp_what_if_result result_of(hp_what_if what, const hp_controls_params *controls,
                                   const hp_drive *drive)
{
    hp_what_if_result result;
    hp_error err = hp_error_none();
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    check_true(hp_controls_params_check(controls, &err) == HP_OK, "%s", err.text);
    hp_result done = hp_what_if_run(drive, &wiring, controls, what, &result, NULL, &err);
    check_true(done == HP_OK, "%s", err.text);
    return result;
}

/* A lever without a switch is known of, not wrong: the end of commissioning says the same of it. A
 * switch that does nothing stays a stop. */
static void a_machine_without_a_cut_off_is_told_as_one(void **state)
{
    (void)state;
    static const char same[] = "whoever pulls the brake works against the motor until the drive is "
                               "let go";
    hp_controls_params c = hp_controls_params_default();
    hp_drive drive = hp_drive_default();
    c.brake.fitted = HP_SWITCH_NONE;
    hp_what_if_result none = result_of(HP_WHAT_IF_BRAKE, &c, &drive);
    check_int(none.moment.outcome, HP_OUTCOME_GOES_ON);
    check_int(hp_what_if_finding(&none), HP_FINDING_LOOK);
    check_text_contains(hp_what_if_remedy(&none), "There is no brake cut-off");
    check_text_contains(hp_what_if_remedy(&none), same);
    check_text_contains(hp_words_of(&hp_reading_brake)->without, same);
    c.brake.fitted = HP_SWITCH_NORMALLY_OPEN;
    c.brake.joins = HP_LEVEL_VOLTS;
    hp_what_if_result wrong = result_of(HP_WHAT_IF_BRAKE, &c, &drive);
    check_int(wrong.moment.outcome, HP_OUTCOME_GOES_ON);
    check_int(hp_what_if_finding(&wrong), HP_FINDING_STOP);
    check_text_contains(hp_what_if_remedy(&wrong), "Take the sort of switch");
}

/* What is hidden is said to be, and is with that part put right what it is on the good machine;
 * what is not hidden is as it is there. */
static void check_pair(const wrong *w, hp_what_if what, const hp_what_if_result *ought_all)
{
    hp_drive spoilt = hp_drive_default();
    hp_controls_params bad = good_machine(w);
    if (w->spoil)
        w->spoil(&bad, &spoilt);
    if (!hp_what_if_applies(what, &bad))
        return;
    hp_what_if_result is = result_of(what, &bad, &spoilt), ought = ought_all[what];
    hp_finding finding = hp_what_if_finding(&is);
    const char *name = hp_what_if_name(what);
    check_true(ought.hold == HP_HOLD_NOTHING, "%s: nothing is wrong, %s holds it", name,
               hp_hold_name(ought.hold));
    for (int k = 0; k < w->abouts; k++)
        if (w->about[k] == what)
            check_true(finding == w->said[k], "%s, %s: %s", w->what, name,
                       hp_finding_name(finding));
    if (!hidden(w, what)) {
        check_true(is.hold == HP_HOLD_NOTHING && !is.put_right, "%s, %s: %s holds it", w->what,
                   name, hp_hold_name(is.hold));
        bool own = false;
        for (int k = 0; k < w->abouts; k++)
            own = own || w->about[k] == what;
        check_true(own || is.moment.outcome == ought.moment.outcome, "%s, %s: %s, else %s", w->what,
                   name, hp_outcome_name(is.moment.outcome), hp_outcome_name(ought.moment.outcome));
        return;
    }
    bool resting = what >= HP_WHAT_IF_REST_SUPPLY && what <= HP_WHAT_IF_REST_SIGNAL;
    hp_hold part = resting ? w->part : w->opened;
    check_true(finding == HP_FINDING_UNTESTED && is.hold == part, "%s, %s: %s, %s holds it",
               w->what, name, hp_finding_name(finding), hp_hold_name(is.hold));
    if (w->part == HP_HOLD_MOTOR) {
        check_int(is.put_right, 0);
        return;
    }
    check_int(is.put_right, 1u << part);
    hp_what_if_result right = hp_what_if_once_right(&is);
    check_true(right.moment.outcome == ought.moment.outcome &&
                   hp_what_if_finding(&right) == hp_what_if_finding(&ought),
               "%s, %s: put right it %s, the good one %s", w->what, name,
               hp_outcome_name(right.moment.outcome), hp_outcome_name(ought.moment.outcome));
}

static void what_something_else_hides_is_not_judged(void **state)
{
    (void)state;
    int hides = 0, pairs = 0;
    hp_what_if_result ought[HP_WHAT_IF_COUNT];
    hp_drive drive = hp_drive_default();
    for (size_t k = 0; k < sizeof wrongs / sizeof wrongs[0]; k++) {
        hp_controls_params good = good_machine(&wrongs[k]);
        for (hp_what_if what = 0; what < HP_WHAT_IF_COUNT; what++) {
            if (k == 0 || !same_good(&wrongs[k - 1], &wrongs[k]))
                ought[what] = result_of(what, &good, &drive);
            check_pair(&wrongs[k], what, ought);
            hides += hidden(&wrongs[k], what);
            pairs++;
        }
    }
    check_int(pairs, 18 * 18);
    check_true(hides > 100, "%d", hides);
}

static const wrong gating = {.what = "nothing", .pedals = HP_PEDAL_GATES};

static hp_pedal_params ring_of(int per_turn, int start)
{
    hp_pedal_params p = good_machine(&gating).pedal;
    p.pulses_per_turn = per_turn;
    p.start_pulses = start;
    return p;
}

/* A brake of the other sort, and a pedal sensor on the other side: one after the other. */
static void two_things_wrong_are_put_right_together(void **state)
{
    (void)state;
    const wrong *w = &gating;
    hp_drive drive = hp_drive_default(), battery = drive;
    hp_controls_params c = good_machine(w);
    closed_on_open(&c, &drive);
    sensor_on_the_other_side(&c, &drive);
    hp_what_if_result r = result_of(HP_WHAT_IF_REST_GROUND, &c, &drive);
    check_int(r.hold, HP_HOLD_BRAKE);
    check_int(r.put_right, 1u << HP_HOLD_BRAKE | 1u << HP_HOLD_PEDALS);
    check_int(r.right.outcome, HP_OUTCOME_STARTS);
    /* With the lever pulled the brake lets it go, and the pedals hold it. */
    r = result_of(HP_WHAT_IF_BRAKE, &c, &drive);
    check_int(r.hold, HP_HOLD_PEDALS);
    check_int(r.right.outcome, HP_OUTCOME_STARTS);
    check_int(hp_what_if_once_right(&r).hold, HP_HOLD_NOTHING);
    /* Nothing that is put right at the controls fills a battery. */
    empty_battery(&c, &battery);
    r = result_of(HP_WHAT_IF_KEY_OFF, &c, &battery);
    check_int(r.hold, HP_HOLD_BRAKE);
    check_int(r.put_right, 0);
    /* A ring with too few magnets for the time waited, for the pulses counted, even ones. */
    const struct {
        int per_turn, start;
        double off_s, high;
        hp_pedal_sense forward;
    } ring[] = {{1, 1, 0.5, 0.6, HP_PEDAL_MOSTLY_HIGH},
                {1, 3, 4.0, 0.6, HP_PEDAL_MOSTLY_HIGH},
                {10, 100, 0.5, 0.6, HP_PEDAL_MOSTLY_HIGH},
                {12, 3, 0.5, 0.5, HP_PEDAL_MOSTLY_HIGH},
                {12, 3, 0.5, 0.5, HP_PEDAL_MOSTLY_LOW},
                {12, 3, 0.5, 0.9, HP_PEDAL_MOSTLY_LOW},
                {1, 3, 0.5, 0.6, HP_PEDAL_ANY}};
    for (size_t k = 0; k < sizeof ring / sizeof ring[0]; k++) {
        c = good_machine(w);
        c.pedal.pulses_per_turn = ring[k].per_turn;
        c.pedal.start_pulses = ring[k].start;
        c.pedal.off_s = ring[k].off_s;
        c.pedal.high_share = ring[k].high;
        c.pedal.forward = ring[k].forward;
        r = result_of(HP_WHAT_IF_KEY_OFF, &c, &drive);
        check_true(r.hold == HP_HOLD_PEDALS && r.put_right == 1u << HP_HOLD_PEDALS, "ring %d: %s",
                   (int)k, hp_hold_name(r.hold));
        check_int(r.right.outcome, HP_OUTCOME_STOPS);
    }
    /* Enough pulses only after the end: seen on neither side. */
    c.pedal = ring_of(10, 100);
    r = result_of(HP_WHAT_IF_PEDAL_SIDE, &c, &drive);
    check_int(r.hold, HP_HOLD_PEDALS);
    check_int(r.right.outcome, HP_OUTCOME_STAYS_OFF);
    /* No ring has pulses enough for one that waits a thousandth of a second. */
    c = good_machine(w);
    c.pedal.off_s = 0.001;
    r = result_of(HP_WHAT_IF_KEY_OFF, &c, &drive);
    check_int(r.hold, HP_HOLD_PEDALS);
    check_int(r.put_right, 0);
}

/* Grip let go above where the controller starts, and it does not look at that: nothing that comes
 * off stops what should not have begun. */
static void a_grip_that_drives_at_rest_is_told_of(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_controls_params c = good_machine(&gating);
    c.throttle.rest_v = 1.9;
    for (hp_what_if k = HP_WHAT_IF_REST_SUPPLY; k <= HP_WHAT_IF_REST_SIGNAL; k++) {
        hp_what_if_result r = result_of(k, &c, &drive);
        check_int(r.hold, HP_HOLD_NOTHING);
        check_int(hp_what_if_finding(&r), HP_FINDING_STOP);
        check_true(hp_what_if_drives_already(&r), "%s", hp_what_if_name(k));
    }
    for (hp_what_if k = 0; k < HP_WHAT_IF_COUNT; k++)
        if (k < HP_WHAT_IF_REST_SUPPLY || k > HP_WHAT_IF_REST_SIGNAL) {
            hp_what_if_result r = result_of(k, &c, &drive);
            check_true(!hp_what_if_drives_already(&r), "%s", hp_what_if_name(k));
        }
    c.pedal.mode = HP_PEDAL_DRIVES;
    hp_what_if_result r = result_of(HP_WHAT_IF_PEDAL_SIDE, &c, &drive);
    check_true(hp_what_if_drives_already(&r), "before it is pedalled");
    check_int(hp_what_if_finding(&r), HP_FINDING_STOP);
}

/* The sensor stated the wrong way round: it stands still pedalled forward, and drives pedalled
 * backward, in words too; supposed, it is told as what to try. */
static void a_sensor_the_wrong_way_round_drives_backward(void **state)
{
    (void)state;
    char words[HP_RIDE_WORDS];
    hp_drive drive = hp_drive_default();
    hp_controls_params c = good_machine(&gating);
    hp_what_if_result r = result_of(HP_WHAT_IF_PEDAL_SIDE_BACK, &c, &drive);
    check_int(hp_what_if_finding(&r), HP_FINDING_LOOK);
    check_text_contains(hp_what_if_words(&r, words, sizeof words), "it drives, ");
    check_text_contains(hp_what_if_remedy(&r), "A machine that does this must not be ridden");
    sensor_on_the_other_side(&c, &drive);
    r = result_of(HP_WHAT_IF_PEDALS_BACK, &c, &drive);
    check_int(hp_what_if_finding(&r), HP_FINDING_STOP);
    check_text_contains(hp_what_if_words(&r, words, sizeof words), "it drives, ");
    check_text_contains(hp_what_if_remedy(&r), "Do not ride it");
    c.pedal.forward = HP_PEDAL_ANY; /* known of, as before */
    r = result_of(HP_WHAT_IF_PEDALS_BACK, &c, &drive);
    check_int(hp_what_if_finding(&r), HP_FINDING_LOOK);
    check_text_contains(hp_what_if_remedy(&r), "know of it when you push the machine");
}

/* The run that is handed out is the one that is told: of the machine with its brake right where
 * that shows what was asked, else of the machine as it stands. */
static void the_run_shown_is_the_one_told(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default(), battery = drive;
    hp_wiring wiring = hp_wiring_from_number(WIRING);
    hp_controls_params good = good_machine(&gating), bad = good;
    hp_what_if what = HP_WHAT_IF_THROTTLE_GROUND;
    closed_on_open(&bad, &drive);
    empty_battery(&bad, &battery);
    const struct {
        const hp_controls_params *controls;
        const hp_drive *drive;
        hp_outcome outcome;
        hp_brake_switch fitted;
        const char *title, *note;
    } row[] = {{&good, &drive, HP_OUTCOME_FASTER, HP_SWITCH_NORMALLY_OPEN, "motor runs", ""},
               {&bad, &drive, HP_OUTCOME_FASTER, HP_SWITCH_NORMALLY_OPEN,
                "motor runs (with the brake mended)",
                "As it is, the brake input holds the drive off; nothing would be seen."},
               {&bad, &battery, HP_OUTCOME_STAYS_OFF, HP_SWITCH_NORMALLY_CLOSED, "motor runs", ""}};
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_what_if_result r;
        hp_course_run run;
        char title[HP_RIDE_WORDS], note[HP_RIDE_WORDS];
        hp_result done =
            hp_what_if_run(row[k].drive, &wiring, row[k].controls, what, &r, &run, NULL);
        check_int(done, HP_OK);
        check_int(run.moment[run.moments - 1].outcome, row[k].outcome);
        check_int(run.controls.brake.fitted, row[k].fitted);
        check_int((long long)run.trace.count, HP_COURSE_SAMPLES + 1);
        hp_what_if_shown_title(&r, row[k].controls, title, sizeof title);
        check_true(strcmp(title + strlen(title) - strlen(row[k].title), row[k].title) == 0, "%s",
                   title);
        hp_what_if_shown_note(&r, note, sizeof note);
        check_true(strcmp(note, row[k].note) == 0, "%s", note);
        hp_course_run_free(&run);
    }
}

static void names_are_found_again(void **state)
{
    (void)state;
    for (hp_what_if k = 0; k < HP_WHAT_IF_COUNT; k++)
        check_int(hp_what_if_find(hp_what_if_name(k)), k);
    check_int(hp_what_if_find("brakes"), HP_WHAT_IF_COUNT);
    check_int(hp_what_if_find(""), HP_WHAT_IF_COUNT);
    check_true(strcmp(hp_hold_name(HP_HOLD_MOTOR), "motor") == 0, "the last");
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

/* A motor that stands or shivers is no drive that a key or a lever could be seen to stop. */
static void nothing_is_told_of_a_wheel_that_does_not_run(void **state)
{
    (void)state;
    static const hp_what_if asked[] = {HP_WHAT_IF_KEY_OFF, HP_WHAT_IF_BRAKE};
    hp_drive drive = hp_drive_default();
    const hp_controls_params controls = hp_controls_params_default();
    /* Two phase leads exchanged: the field turns against the rotor. */
    hp_wiring stalled = hp_wiring_from_number(WIRING);
    int lead = stalled.phase[0];
    stalled.phase[0] = stalled.phase[1];
    stalled.phase[1] = lead;
    for (size_t k = 0; k < sizeof asked / sizeof asked[0]; k++) {
        hp_what_if_result is;
        check_int(hp_what_if_run(&drive, &stalled, &controls, asked[k], &is, NULL, NULL), HP_OK);
        check_true(hp_what_if_finding(&is) == HP_FINDING_UNTESTED && is.hold == HP_HOLD_MOTOR,
                   "%s: %s", hp_what_if_name(asked[k]), hp_finding_name(hp_what_if_finding(&is)));
        is = result_of(asked[k], &controls, &drive);
        check_int(hp_what_if_finding(&is), HP_FINDING_GOOD);
    }
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
        cmocka_unit_test(what_is_not_fitted_has_no_case),
        cmocka_unit_test(pedals_in_both_modes),
        cmocka_unit_test(pedals_that_stop_stop_the_drive_in_their_time),
        cmocka_unit_test(the_speed_switch_without_its_lead),
        cmocka_unit_test(a_machine_without_a_cut_off_is_told_as_one),
        cmocka_unit_test(the_wheel_turns_as_fast_as_its_duty_says),
        cmocka_unit_test(findings_name_what_is_dangerous),
        cmocka_unit_test(what_something_else_hides_is_not_judged),
        cmocka_unit_test(two_things_wrong_are_put_right_together),
        cmocka_unit_test(a_grip_that_drives_at_rest_is_told_of),
        cmocka_unit_test(a_sensor_the_wrong_way_round_drives_backward),
        cmocka_unit_test(the_run_shown_is_the_one_told),
        cmocka_unit_test(names_are_found_again),
        cmocka_unit_test(moments_are_told_action_by_action),
        cmocka_unit_test(what_is_off_already_is_off_since_then),
        cmocka_unit_test(nothing_is_told_of_a_wheel_that_does_not_run),
        cmocka_unit_test(actions_behind_the_end_are_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
