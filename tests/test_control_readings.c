/*
 * Readings of the controls, the hub and a shared pack: each from the text of a log to its finding
 * and its words; what is wrong with one is named; whatever is noted is written and read back alike.
 *
 * What each finding ought to be is worked out here by hand, from the limits that the documents
 * name. Pins are told in tests/test_pin_roles.c.
 */
#include "bench_text.h"

#include "base/random.h"
#include "decide/reading/machine_values.h"
#include "decide/reading/running.h"
#include "hubphase/record/case.h"
#include "hubphase/report/documents.h"
#include "hubphase/report/forms.h"
#include "record/log/bench_log_parts.h"
#include "report/words/case_card.h"
#include "report/words/words.h"

#include <math.h>

#define NAME "test_control_readings"
/* 36 V nominal, full speed stated; steps of the speed switch at 50, 75 and 100 %. */
#define SCENARIO                                                                                   \
    "hubphase: 1\n"                                                                                \
    "name: Controls\n"                                                                             \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 216, volts: 36}}\n"                                                               \
    "supply: {battery_v: 36}\n"
#define STEPS "controller: {speed_steps_percent: [50, 75, 100]}\n"
#define MADE_FOR                                                                                   \
    "controls:\n"                                                                                  \
    "  brake: {expects: normally_closed, expects_at: ground}\n"                                    \
    "  pedal: {mode: gates, forward: mostly_low}\n"
#define HEAD  "hubphase_log: 1\nscenario: Controls\nentries:\n"
#define ENTRY "- time: 2026-11-25T10:40:00+01:00\n  "

/* A log of one entry more, and the list of steps that follows from it. */
typedef struct bench {
    loaded machine;
    logged log;
    hp_commission_case *steps;
    const hp_advice *advice; /* of the sheet; NULL: not reckoned */
} bench;

/* The list borrows from the bench: it is filled where it stays. */
static void open_bench(bench *b, const char *scenario, const char *entries)
{
    b->advice = NULL;
    b->machine = scenario_load_text(NAME ".yaml", scenario);
    char text[4000];
    hp_error err = hp_error_none();
    check_true(b->machine.result == HP_OK, "%s%s", b->machine.printed, b->machine.err.text);
    snprintf(text, sizeof text, HEAD "%s", entries);
    b->log = bench_load_bytes(&b->machine.scenario, NAME ".bench.yaml", text, strlen(text));
    check_true(b->log.result == HP_OK, "%s: %s%s", entries, b->log.printed, b->log.err.text);
    b->steps = hp_commission_case_create(&b->machine.scenario, &b->log.log, &err);
    assert_non_null(b->steps);
}

static void close_bench(bench *b)
{
    hp_commission_case_free(b->steps);
    logged_free(&b->log);
    loaded_free(&b->machine);
}

static const hp_commission_step *step_of(const bench *b, const hp_reading *kind)
{
    return hp_commission_step_of(hp_commission_case_list(b->steps), kind);
}

/* ---- findings -------------------------------------------------------------------------------- */

#define TOLD_PINS "pins: {red: [5.0, 5.0], black: [0, 0], green: [0.8, 4.2]}"

typedef struct expected {
    const hp_reading *kind;
    const char *entry; /* its values */
    hp_finding finding;
    int code;
    const char *said;  /* of the finding */
    const char *noted; /* of the entry */
} expected;

static const expected cases[] = {
    {&hp_reading_key, "{off_v: 0, on_v: 35.5, stops: yes}", HP_FINDING_GOOD, HP_STEP_FINE,
     "The key is as it should be", "key: logic lead off 0 V, on 35.5 V, off stops the drive"},
    {&hp_reading_key, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED, "has no key",
     "key: none"},
    {&hp_reading_key, "{off_v: 0, on_v: 35.5}", HP_FINDING_NOTED, HP_STEP_PART, "Not all was",
     "on 35.5 V"},
    {&hp_reading_key, "{off_v: 0, on_v: 35.5, stops: no}", HP_FINDING_STOP, HP_KEY_RUNS_ON,
     "goes on with the key off", "does not stop"},
    {&hp_reading_key, "{off_v: 12, on_v: 35.5, stops: yes}", HP_FINDING_LOOK, HP_KEY_STAYS,
     "keeps its volts", "off 12 V"},
    {&hp_reading_key, "{off_v: 50, on_v: 0, stops: yes}", HP_FINDING_LOOK, HP_KEY_SWAPPED,
     "more volts with the key off than on", "off 50 V"},
    {&hp_reading_key, "{off_v: 0, on_v: 20, stops: yes}", HP_FINDING_LOOK, HP_KEY_DROPS,
     "bad contact", "on 20 V"},
    {&hp_reading_key, "{pins: {a: [36, 36], b: [0, 34.2]}, stops: yes}", HP_FINDING_LOOK,
     HP_KEY_DROPS, "more than 1 V below", "a plus 36/36 V, b signal 0/34.2 V, normally open"},
    {&hp_reading_key, "{pins: {a: [36, 36], b: [0, 35.6]}, stops: yes}", HP_FINDING_GOOD,
     HP_STEP_FINE, "as it should be", "b signal"},

    {&hp_reading_throttle,
     "{throttle_rest_v: 0.8, throttle_full_v: 4.2, turned_with_off: none, springs_back: yes}",
     HP_FINDING_GOOD, HP_STEP_FINE, "The throttle is as it should be",
     "throttle: signal at rest 0.8 V, full 4.2 V, still with each lead off, springs back"},
    {&hp_reading_throttle, "{" TOLD_PINS ", turned_with_off: none, springs_back: yes}",
     HP_FINDING_GOOD, HP_STEP_FINE, "as it should be", "green signal 0.8/4.2 V"},
    {&hp_reading_throttle, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED, "no throttle",
     "throttle: none"},
    {&hp_reading_throttle, "{turned_with_off: ground}", HP_FINDING_STOP, HP_THROTTLE_LOST_TURNS,
     "turns by itself", "turns with its ground lead off"},
    {&hp_reading_throttle,
     "{" TOLD_PINS ", turned_with_off: none, runs_on_with_off: none, springs_back: yes}",
     HP_FINDING_GOOD, HP_STEP_FINE, "as it should be", "stops with each lead that comes off"},
    {&hp_reading_throttle, "{turned_with_off: none, runs_on_with_off: ground}", HP_FINDING_STOP,
     HP_THROTTLE_LOST_RUNS, "comes off while it runs", "runs on with its ground lead off"},
    {&hp_reading_throttle, "{turned_with_off: supply}", HP_FINDING_STOP, HP_THROTTLE_LOST_TURNS,
     "turns by itself", "turns with its supply lead off"},
    {&hp_reading_throttle, "{turned_with_off: several}", HP_FINDING_STOP, HP_THROTTLE_LOST_TURNS,
     "turns by itself", "several of its leads"},
    {&hp_reading_throttle, "{ground_off_v: 4.9, supply_off_v: 0}", HP_FINDING_LOOK,
     HP_THROTTLE_LOST_ASKS + 1, "With its ground lead off", "ground off 4.9 V"},
    {&hp_reading_throttle, "{signal_off_v: 1.4}", HP_FINDING_LOOK, HP_THROTTLE_LOST_ASKS + 2,
     "With its signal lead off", "signal off 1.4 V"},
    {&hp_reading_throttle, "{ground_off_v: 4.9, turned_with_off: none}", HP_FINDING_NOTED,
     HP_STEP_PART, "Not all was", "still with each lead off"},
    {&hp_reading_throttle, "{throttle_rest_v: 1.2}", HP_FINDING_LOOK, HP_THROTTLE_REST_HIGH,
     "above 1 V", "rest 1.2 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 2.5}", HP_FINDING_STOP, HP_THROTTLE_REST_HIGH,
     "runs by itself", "rest 2.5 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 0.8, throttle_full_v: 3}", HP_FINDING_LOOK,
     HP_THROTTLE_FULL_LOW, "stays below 4 V", "full 3 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 0.8, throttle_full_v: 0.3}", HP_FINDING_LOOK,
     HP_THROTTLE_FALLS, "falls", "full 0.3 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 4.1, throttle_full_v: 0.9}", HP_FINDING_STOP,
     HP_THROTTLE_FALLS, "falls", "full 0.9 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 0.9, throttle_full_v: 0.9}", HP_FINDING_LOOK,
     HP_THROTTLE_STILL, "does not move", "full 0.9 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 0.8, throttle_full_v: 0.7}", HP_FINDING_LOOK,
     HP_THROTTLE_STILL, "does not move", "full 0.7 V"},
    {&hp_reading_key, "{pins: {a: [36, 36], b: [0, 0]}}", HP_FINDING_LOOK,
     HP_STEP_PINS_AT + HP_ROLES_STILL,
     "No pin changes from one reading to the next: a lead is broken, the part is dead", "b 0/0 V"},
    {&hp_reading_throttle,
     "{throttle_rest_v: 0, throttle_full_v: 50, turned_with_off: none, springs_back: yes}",
     HP_FINDING_STOP, HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH, "more volts than this part bears",
     "full 50 V"},
    {&hp_reading_throttle, "{throttle_rest_v: 6.2}", HP_FINDING_STOP,
     HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH, "more volts than this part bears", "rest 6.2 V"},
    {&hp_reading_throttle, "{supply_off_v: 36, turned_with_off: none}", HP_FINDING_STOP,
     HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH, "more volts than this part bears", "off 36 V"},
    {&hp_reading_throttle,
     "{pins: {red: [5, 5], black: [0, 0], green: [0.9, 4.1]}, throttle_rest_v: 3}", HP_FINDING_STOP,
     HP_THROTTLE_TWICE, "different volts: at rest 3 V and 0.9 V.", "at rest 3 V"},
    {&hp_reading_throttle, "{" TOLD_PINS ", throttle_full_v: 4.5}", HP_FINDING_LOOK,
     HP_THROTTLE_TWICE, "different volts: at full grip 4.5 V and 4.2 V.", "full 4.5 V"},
    {&hp_reading_throttle, "{" TOLD_PINS ", throttle_rest_v: 0.9, throttle_full_v: 4.1}",
     HP_FINDING_NOTED, HP_STEP_PART,
     "Not all was: the wheel with each lead off, whether the grip springs back.", "full 4.1 V"},
    {&hp_reading_throttle, "{" TOLD_PINS ", springs_back: yes}", HP_FINDING_NOTED, HP_STEP_PART,
     "Not all was: the wheel with each lead off.", "green signal 0.8/4.2 V"},
    {&hp_reading_throttle, "{turned_with_off: none}", HP_FINDING_NOTED, HP_STEP_PART,
     "Not all was: signal at rest and full, whether the grip springs back.", "still"},
    {&hp_reading_throttle, "{springs_back: no}", HP_FINDING_STOP, HP_THROTTLE_STICKS,
     "does not spring back", "does not spring back"},
    {&hp_reading_throttle, "{pins: {red: [36, 36], black: [0, 0], green: [0.8, 4.2]}}",
     HP_FINDING_STOP, HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH, "more volts than this part bears",
     "volts do not tell"},
    {&hp_reading_throttle, "{pins: {red: [5, 5], black: [0, 0], green: [0, 0]}}", HP_FINDING_LOOK,
     HP_STEP_PINS_AT + HP_ROLES_STILL, "No pin changes", "red 5/5 V"},
    {&hp_reading_throttle,
     "{pulled_v: {red: 36}, pins: {red: [5, 5], black: [0, 0], green: "
     "[0.8, 4.2]}}",
     HP_FINDING_STOP, HP_STEP_PINS_AT + HP_ROLES_TOO_HIGH, "more volts than this part bears",
     "red"},

    {&hp_reading_brake, "{left_stops: yes, left_stop_s: 0.4, right_stops: yes, right_stop_s: 0.8}",
     HP_FINDING_GOOD, HP_STEP_FINE, "The brake cut-off is as it should be",
     "left lever stops the drive in 0.4 s, right lever stops the drive in 0.8 s"},
    {&hp_reading_brake, "{left_stops: yes, left_stop_s: 0.4, right_stops: yes}", HP_FINDING_NOTED,
     HP_STEP_PART, "Not all was: how soon the right lever stops the drive.",
     "left lever stops the drive in 0.4 s, right lever stops the drive"},
    {&hp_reading_brake, "{left_stops: yes}", HP_FINDING_NOTED, HP_STEP_PART,
     "how soon the left lever stops the drive, whether the right lever stops the drive. Is there "
     "one lever only, log that.",
     "left lever stops the drive"},
    {&hp_reading_brake, "{left_stops: yes, left_stop_s: 0.4, one_lever: yes}", HP_FINDING_GOOD,
     HP_STEP_FINE, "The brake cut-off is as it should be",
     "left lever stops the drive in 0.4 s, one lever only"},
    {&hp_reading_brake, "{right_stops: yes, right_stop_s: 0.4, one_lever: yes}", HP_FINDING_GOOD,
     HP_STEP_FINE, "The brake cut-off is as it should be", "one lever only"},
    {&hp_reading_brake, "{right_stops: yes, one_lever: yes}", HP_FINDING_NOTED, HP_STEP_PART,
     "Not all was: how soon the right lever stops the drive.", "one lever only"},
    {&hp_reading_brake, "{one_lever: yes, unplugged_drives: yes}", HP_FINDING_NOTED, HP_STEP_PART,
     "whether the lever stops the drive, and how soon.", "one lever only"},
    {&hp_reading_brake, "{left_stops: yes, left_stop_s: 0.4, one_lever: no}", HP_FINDING_NOTED,
     HP_STEP_PART, "Not all was: whether the right lever stops the drive.", "two levers"},
    {&hp_reading_brake, "{right_stops: yes, right_stop_s: 0.3}", HP_FINDING_NOTED, HP_STEP_PART,
     "Not all was: whether the left lever stops the drive.", "in 0.3 s"},
    {&hp_reading_brake, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED, "no brake cut-off",
     "no cut-off"},
    {&hp_reading_brake, "{left_stops: yes, right_stops: no}", HP_FINDING_STOP, HP_BRAKE_DEAD,
     "does not stop the drive", "right lever does not"},
    {&hp_reading_brake, "{left_stops: yes, left_stop_s: 1.1}", HP_FINDING_LOOK, HP_BRAKE_SLOW,
     "longer than 0.8 s by the watch", "in 1.1 s"},
    {&hp_reading_brake, "{right_stops: yes, right_stop_s: 2.5}", HP_FINDING_STOP, HP_BRAKE_SLOW,
     "longer", "in 2.5 s"},
    {&hp_reading_brake, "{pins: {a: [4.9, 0], b: [0, 0]}}", HP_FINDING_NOTED, HP_STEP_PART,
     "whether each lever", "a signal 4.9/0 V, b ground 0/0 V, normally open to ground"},
    {&hp_reading_brake, "{pins: {a: [4.9, 4.9], b: [0, 0]}}", HP_FINDING_LOOK,
     HP_STEP_PINS_AT + HP_ROLES_STILL, "No pin changes", "volts do not tell"},

    {&hp_reading_brake, "{pins: {red: [5, 5], black: [0, 0], green: [5, 0]}, minus_pin: black}",
     HP_FINDING_NOTED, HP_STEP_PART, "whether each lever",
     "red perhaps plus 5/5 V, black ground 0/0 V, green signal 5/0 V"},
    {&hp_reading_brake, "{pins: {red: [5, 5], black: [0, 0], green: [5, 0]}, pulled_v: {green: 5}}",
     HP_FINDING_NOTED, HP_STEP_PART, "whether each lever", "normally open to ground"},
    {&hp_reading_brake, "{pins: {a: [0, 4.9], b: [0, 0]}}", HP_FINDING_NOTED, HP_STEP_PART,
     "whether each lever", "normally closed to ground"},
    {&hp_reading_brake,
     "{pins: {red: [0, 5], black: [0, 0]}, left_stops: yes, right_stops: yes, unplugged_drives: "
     "yes}",
     HP_FINDING_LOOK, HP_BRAKE_CLOSED_DRIVES, "normally closed, yet the motor drives",
     "drives with the plug pulled"},
    {&hp_reading_brake, "{pins: {a: [4.9, 0], b: [0, 0]}, unplugged_drives: no}", HP_FINDING_LOOK,
     HP_BRAKE_OPEN_STOPS, "normally open, yet the motor does not", "off with the plug pulled"},
    {&hp_reading_brake, "{pins: {a: [0, 4.9], b: [0, 0]}, unplugged_drives: no}", HP_FINDING_NOTED,
     HP_STEP_PART, "whether each lever", "off with the plug pulled"},
    {&hp_reading_brake, "{pins: {a: [4.9, 0], b: [0, 0]}, unplugged_drives: yes}", HP_FINDING_NOTED,
     HP_STEP_PART, "whether each lever", "drives with the plug pulled"},

    {&hp_reading_pedal_sensor, "{pulses: 12, drives: forward, runs_on_s: 0.7}", HP_FINDING_GOOD,
     HP_STEP_FINE, "as it should be",
     "pedal sensor: 12 pulses a turn, drives forward, drives on for 0.7 s"},
    {&hp_reading_pedal_sensor, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED,
     "no pedal sensor", "pedal sensor: none"},
    {&hp_reading_pedal_sensor, "{drives: backward}", HP_FINDING_STOP, HP_PEDAL_BACKWARD,
     "when the pedals turn backward", "drives backward"},
    {&hp_reading_pedal_sensor, "{drives: both}", HP_FINDING_LOOK, HP_PEDAL_BOTH, "whichever way",
     "drives both ways"},
    {&hp_reading_pedal_sensor, "{drives: neither}", HP_FINDING_LOOK, HP_PEDAL_NEITHER,
     "drives neither way", "drives neither way"},
    {&hp_reading_pedal_sensor, "{drives: forward, runs_on_s: 3}", HP_FINDING_LOOK, HP_PEDAL_RUNS_ON,
     "drives on for 3 s when the pedals stop; more than a second and a half", "drives on for 3 s"},
    {&hp_reading_pedal_sensor, "{drives: forward, runs_on_s: 60}", HP_FINDING_STOP,
     HP_PEDAL_RUNS_ON, "drives on for 60 s when the pedals stop", "drives on for 60 s"},
    {&hp_reading_pedal_sensor, "{drives: both, runs_on_s: 4}", HP_FINDING_LOOK, HP_PEDAL_BOTH,
     "And it drives on for 4 s, which is too long.", "drives on for 4 s"},
    {&hp_reading_pedal_sensor, "{drives: both, runs_on_s: 9}", HP_FINDING_STOP, HP_PEDAL_BOTH,
     "whichever way the pedals turn. And it drives on for 9 s, which is too long.",
     "drives on for 9 s"},
    {&hp_reading_pedal_sensor, "{drives: backward, runs_on_s: 9}", HP_FINDING_STOP,
     HP_PEDAL_BACKWARD, "backward. And it drives on for 9 s", "drives backward"},
    /* Of 0 to 5 V a mean of 2.5 V is half, of 3 V is 60 %. */
    {&hp_reading_pedal_sensor, "{pins: {r: [5, 5], b: [0, 0], s: [5, 0]}, forward_mean_v: 2.5}",
     HP_FINDING_LOOK, HP_PEDAL_EVEN, "as long high as low", "forward mean 2.5 V (high for 50 %)"},
    {&hp_reading_pedal_sensor, "{pins: {r: [5, 5], b: [0, 0], s: [5, 0]}, forward_mean_v: 3}",
     HP_FINDING_NOTED, HP_STEP_PART, "Not all was", "high for 60 %"},

    {&hp_reading_speed_switch, "{first_rpm: 110, second_rpm: 160, third_rpm: 214}", HP_FINDING_GOOD,
     HP_STEP_FINE, "as it should be", "speed switch: first 110, second 160, third 214 rev/min"},
    {&hp_reading_speed_switch, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED,
     "no speed switch", "speed switch: none"},
    {&hp_reading_speed_switch, "{first_rpm: 210, second_rpm: 214}", HP_FINDING_LOOK, HP_SPEED_SAME,
     "the switch does nothing", "first 210"},
    {&hp_reading_speed_switch, "{first_rpm: 87, second_rpm: 87, third_rpm: 214}", HP_FINDING_LOOK,
     HP_SPEED_ALIKE, "The first and the second position give the same speed.", "second 87"},
    {&hp_reading_speed_switch, "{first_rpm: 87, second_rpm: 214, third_rpm: 205}", HP_FINDING_LOOK,
     HP_SPEED_ALIKE, "The second and the third position give the same speed.", "third 205"},
    {&hp_reading_speed_switch, "{first_rpm: 60, second_rpm: 100}", HP_FINDING_LOOK,
     HP_SPEED_NEVER_FULL, "No position gives", "second 100"},
    /* Full speed is 216. */
    {&hp_reading_speed_switch, "{first_rpm: 100, second_rpm: 200, third_rpm: 240}", HP_FINDING_LOOK,
     HP_SPEED_FAST, "third position was read at 240 rev/min. Full throttle gives about 216",
     "third 240"},
    {&hp_reading_speed_switch, "{first_rpm: 100, second_rpm: 236}", HP_FINDING_GOOD, HP_STEP_FINE,
     "as it should be", "second 236"},
    {&hp_reading_speed_switch, "{first_rpm: 900}", HP_FINDING_LOOK, HP_SPEED_FAST,
     "first position was read at 900", "first 900"},
    {&hp_reading_speed_switch, "{first_rpm: 214, second_rpm: 0}", HP_FINDING_LOOK, HP_SPEED_STANDS,
     "does not turn in one position", "second 0"},
    {&hp_reading_speed_switch, "{pins: {c: [0, 0, 0], a: [0, 5, 5], b: [5, 5, 0]}}",
     HP_FINDING_NOTED, HP_STEP_PART, "Not all was", "c ground 0/0/0 V, a signal 0/5/5 V"},

    {&hp_reading_display, "{what: lamp, rated_v: 6, on_v: 6.1, works: yes}", HP_FINDING_GOOD,
     HP_STEP_FINE, "as it should be", "lamp or display: lamp, on 6.1 V, made for 6 V, works"},
    {&hp_reading_display, "{what: none}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED, "has no lamp",
     "none"},
    {&hp_reading_display, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED, "has no lamp",
     "lamp or display: none"},
    {&hp_reading_display, "{fitted: no, what: none}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED,
     "has no lamp", "lamp or display: none"},
    {&hp_reading_display, "{what: lamp, rated_v: 6, on_v: 36}", HP_FINDING_STOP, HP_DISPLAY_HIGH,
     "more volts than the label", "on 36 V"},
    {&hp_reading_display, "{what: lamp, rated_v: 6, pins: {red: [37, 37], black: [0, 0]}}",
     HP_FINDING_STOP, HP_DISPLAY_HIGH, "more volts than the label", "red 37/37 V"},
    {&hp_reading_display, "{what: lamp, rated_v: 6, pins: {red: [0, 6.1], black: [0, 0]}}",
     HP_FINDING_NOTED, HP_STEP_PART, "Not all was", "6.1 V"},
    {&hp_reading_display, "{what: lamp, rated_v: 12, on_v: 8}", HP_FINDING_LOOK, HP_DISPLAY_LOW,
     "much less", "made for 12 V"},
    {&hp_reading_display, "{what: display, works: no}", HP_FINDING_LOOK, HP_DISPLAY_DARK,
     "does not work", "does not work"},

    {&hp_reading_brake, "{fitted: yes}", HP_FINDING_NOTED, HP_STEP_PART,
     "There is one, and nothing was read of it yet: whether each lever", "brake: nothing read yet"},
    {&hp_reading_key, "{fitted: yes}", HP_FINDING_NOTED, HP_STEP_PART,
     "There is one, and nothing was read of it yet", "key: nothing read yet"},
    {&hp_reading_learn_lead, "{fitted: yes, parted: yes, insulated: yes}", HP_FINDING_GOOD,
     HP_STEP_FINE, "as it should be", "learn lead: there, parted, insulated"},
    {&hp_reading_learn_lead, "{fitted: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED, "no learn lead",
     "learn lead: none"},
    {&hp_reading_learn_lead, "{parted: no}", HP_FINDING_STOP, HP_LEARN_LEAD_JOINED,
     "may start by itself", "joined"},
    {&hp_reading_learn_lead, "{parted: yes, insulated: no}", HP_FINDING_LOOK, HP_LEARN_LEAD_BARE,
     "bare end", "not insulated"},

    {&hp_reading_hub,
     "{pricks: sealed, bearings: free, inside: dry, covers: torqued, cover_nm: 5, cable: good, "
     "clutch: none}",
     HP_FINDING_GOOD, HP_STEP_FINE, "The hub is as it should be",
     "hub: pricks sealed, bearings free, dry inside, covers torqued, cover screws 5 N m"},
    {&hp_reading_hub, "{pricks: open, cable: bare}", HP_FINDING_STOP, HP_HUB_PRICKS | HP_HUB_BARE,
     "Copper shows where the cable leaves the axle: do not power it, fit a new sleeve and strain "
     "relief, or a new cable. Needle pricks are open: seal each one.",
     "cable bare"},
    {&hp_reading_hub, "{bearings: rough, inside: rust, covers: by_hand, cable: chafed}",
     HP_FINDING_LOOK, HP_HUB_ROUGH | HP_HUB_RUST | HP_HUB_BY_HAND | HP_HUB_CHAFED,
     "Bearings grind: new bearings soon", "rust inside"},
    {&hp_reading_hub, "{inside: wet}", HP_FINDING_STOP, HP_HUB_WET, "There is water inside.",
     "wet inside"},
    {&hp_reading_hub, "{bearings: loose}", HP_FINDING_STOP, HP_HUB_LOOSE, "play", "loose"},
    {&hp_reading_hub, "{clutch: slips, covers: leaky}", HP_FINDING_STOP,
     HP_HUB_SLIPS | HP_HUB_LEAKY, "slips", "freewheel slips"},
    {&hp_reading_hub, "{clutch: seized}", HP_FINDING_LOOK, HP_HUB_SEIZED, "seized", "seized"},
    {&hp_reading_hub, "{cable: good}", HP_FINDING_NOTED, HP_STEP_PART, "Not all was", "cable good"},

    {&hp_reading_shared_pack,
     "{shared: yes, vehicles: 3, same_polarity: yes, same_plug: yes, full_fits: yes, cut_off_fits: "
     "yes, fuse_on_each: yes}",
     HP_FINDING_GOOD, HP_STEP_FINE, "The shared pack is as it should be",
     "battery pack: shared, 3 vehicles, same polarity, same plug"},
    {&hp_reading_shared_pack, "{shared: no}", HP_FINDING_NOTED, HP_STEP_NOT_FITTED,
     "this machine alone", "battery pack: not shared"},
    {&hp_reading_shared_pack, "{same_polarity: no}", HP_FINDING_STOP, HP_PACK_PLUS, "another pin",
     "polarity differs"},
    {&hp_reading_shared_pack, "{full_fits: no}", HP_FINDING_STOP, HP_PACK_FULL, "does not bear",
     "too high"},
    {&hp_reading_shared_pack, "{fuse_on_each: no}", HP_FINDING_STOP, HP_PACK_FUSE, "no fuse",
     "a fuse is missing"},
    {&hp_reading_shared_pack, "{same_plug: no, cut_off_fits: no}", HP_FINDING_LOOK,
     HP_PACK_PLUG | HP_PACK_CUT_OFF, "The plugs differ: fit the same plug on all", "plugs differ"},
};

#define CASES (sizeof cases / sizeof cases[0])

static void make_entry(const expected *e, char *out, size_t size)
{
    snprintf(out, size, ENTRY "%s: %s\n", hp_reading_name(e->kind), e->entry);
}

/* What runs and currents tell, where a figure slipped. */
static const expected slipped[] = {
    /* About 40 s are to be expected; the mass of the wheel is not known. */
    {&hp_reading_coast_down, "{coast_from_rpm: 216, coast_s: 40}", HP_FINDING_GOOD, HP_COAST_FINE,
     "as such a one does", "rest after 40 s"},
    {&hp_reading_coast_down, "{coast_from_rpm: 216, coast_s: 1000}", HP_FINDING_LOOK, HP_COAST_FREE,
     "far less than was to be expected", "rest after 1000 s"},
    {&hp_reading_coast_down, "{coast_from_rpm: 216, coast_s: 100}", HP_FINDING_GOOD, HP_COAST_FINE,
     "as such a one does", "rest after 100 s"},
    {&hp_reading_coast_down, "{coast_from_rpm: 216, coast_s: 0.4}", HP_FINDING_LOOK, HP_COAST_DRAGS,
     "far more than was to be expected", "rest after 0.4 s"},
    {&hp_reading_coast_down, "{coast_from_rpm: 216, coast_s: 0.04}", HP_FINDING_LOOK, HP_COAST_HELD,
     "far more than was to be expected", "rest after 0.04 s"},
    /* 0.2 ohm; copper gains 0.393 % a degree. */
    {&hp_reading_heating,
     "{heating_a: 20, start_v: 4.000, heated_1_s: 30, heated_1_v: 4.150, heated_2_s: 60, "
     "heated_2_v: 4.270, heated_3_s: 120, heated_3_v: 4.450, heating_s: 120, rested_1_s: 30, "
     "rested_1_v: 4.250, rested_2_s: 120, rested_2_v: 4.100}",
     HP_FINDING_GOOD, HP_HEATING_FINE, "the winding came to 49 C", "heating: 20 A"},
    {&hp_reading_heating,
     "{heating_a: 20, start_v: 4, heated_1_s: 30, heated_1_v: 3.9, heated_2_s: 60, heated_2_v: "
     "3.8}",
     HP_FINDING_LOOK, HP_HEATING_MISREAD, "Check the figure: 3.8 V after 60 s", "3.9 V after 30 s"},
    {&hp_reading_heating,
     "{heating_a: 20, start_v: 4, heated_1_s: 30, heated_1_v: 41, heated_2_s: 60, heated_2_v: 4.2}",
     HP_FINDING_LOOK, HP_HEATING_MISREAD, "Check the figure: 41 V after 30 s", "41 V after 30 s"},
    {&hp_reading_heating,
     "{heating_a: 20, start_v: 4, heated_1_s: 30, heated_1_v: 4.4, heated_2_s: 60, heated_2_v: "
     "4.2}",
     HP_FINDING_LOOK, HP_HEATING_MISREAD, "left out of what is learnt", "4.4 V after 30 s"},
    {&hp_reading_heating, "{heating_a: 20, start_v: 40, heated_1_s: 60, heated_1_v: 42}",
     HP_FINDING_LOOK, HP_HEATING_MISREAD, "Nothing is learnt from this test", "40 V"},
    {&hp_reading_heating,
     "{heating_a: 20, start_v: 4.000, heated_1_s: 60, heated_1_v: 4.270, heated_2_s: 120, "
     "heated_2_v: 4.450, heating_s: 120, rested_1_s: 30, rested_1_v: 4.520, rested_2_s: 120, "
     "rested_2_v: 4.100}",
     HP_FINDING_LOOK, HP_HEATING_MISREAD, "4.52 V after 30 s of rest", "heating: 20 A"},
    {&hp_reading_heating,
     "{heating_a: 20, start_v: 4.000, heated_1_s: 60, heated_1_v: 5.500, heated_2_s: 120, "
     "heated_2_v: 6.500}",
     HP_FINDING_LOOK, HP_HEATING_HOT, "the winding came to 179 C", "6.5 V"},
    {&hp_reading_heating, "{heating_a: 5, start_v: 1.000, heated_1_s: 120, heated_1_v: 1.003}",
     HP_FINDING_LOOK, HP_HEATING_SMALL, "ohm between two leads", "5 A"},
    {&hp_reading_heating, "{heating_a: 5, start_v: 1.000, heated_1_s: 120, heated_1_v: 1.02}",
     HP_FINDING_NOTED, HP_HEATING_NO_TIME, "How fast it heats these readings do not tell", "5 A"},
};

static void check_finding(const expected *e)
{
    char text[600], noted[HP_ENTRY_WORDS];
    make_entry(e, text, sizeof text);
    bench b;
    open_bench(&b, SCENARIO, text);
    const hp_commission_step *step = step_of(&b, e->kind);
    check_true(step->finding == e->finding && step->code == e->code, "%s: finding %d code %d", text,
               (int)step->finding, step->code);
    hp_card_context context = hp_commission_card_context(b.steps);
    hp_finding_words words;
    check_true(hp_finding_words_make(&context, step, &words), "%s: no words", text);
    check_text_contains(words.means, e->said);
    check_true((step->finding >= HP_FINDING_LOOK) == (words.otherwise[0] != '\0'),
               "%s: what to do: \"%s\"", text, words.otherwise);
    hp_entry_words(&context, &b.log.log.entry[0].entry, noted, sizeof noted);
    check_text_contains(noted, e->noted);
    close_bench(&b);
}

static void each_entry_has_its_finding(void **state)
{
    (void)state;
    for (size_t k = 0; k < CASES; k++)
        check_finding(&cases[k]);
}

static void a_figure_that_slipped_is_seen(void **state)
{
    (void)state;
    for (size_t k = 0; k < sizeof slipped / sizeof slipped[0]; k++)
        check_finding(&slipped[k]);
}

/* 30 degrees at 20 A are 1.9 at 5 A and 7.5 at 10 A, of 0.393 % each. */
static void a_small_supply_is_told_what_it_shows(void **state)
{
    (void)state;
    static hp_card card;
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    hp_card_context context = hp_commission_card_context(b.steps);
    hp_words_of(&hp_reading_heating)->card(&context, -1, &card);
    check_text_contains(card.how[0], "set to about 20 A, which takes about 4 V");
    bool told = false;
    for (int k = 0; k < HP_CARD_DETAILS; k++) {
        told = told || strstr(card.detail[k], "5 to 10 A raise the volts by about 0.7 to 2.9 %");
        check_true(!strstr(card.detail[k], "risen by a tenth"), "5 A never raise them by a tenth");
    }
    check_true(told, "what a small supply shows");
    close_bench(&b);
}

/* What a card asks for its line "To log it" takes. Left out on purpose: a third moment, which few
 * can read, and positions that the switch has not. */
static void the_log_line_takes_what_the_card_asks(void **state)
{
    (void)state;
    static const char *const not_named[] = {"after_3_s", "after_3_rpm", "fourth_rpm", NULL};
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    hp_card_context context = hp_commission_card_context(b.steps);
    const hp_commission *list = hp_commission_case_list(b.steps);
    hp_advice none = {.kind = HP_ADVICE_READ, .lead = -1};
    for (int k = 0; k < list->steps; k++) {
        const hp_reading *kind = list->step[k].reading;
        char text[1600], named[1600] = "";
        hp_log_line line = {.out = text, .size = sizeof text};
        hp_log_options(&context, &none, kind, &line);
        size_t used = 0;
        for (const char *word = text + strlen(text) + 1; word < text + line.used && *word;
             word += strlen(word) + 1) {
            check_true(strncmp(word, "--", 2) == 0, "%s: %s", hp_reading_name(kind), word);
            used += (size_t)snprintf(named + used, sizeof named - used, " %.*s ",
                                     (int)strcspn(word + 2, "="), word + 2);
        }
        for (char *c = named; *c; c++)
            *c = *c == '-' ? '_' : *c;
        for (const hp_field *f = hp_fields_of(kind); f->name; f++) {
            char field[64];
            bool left = false;
            snprintf(field, sizeof field, " %s ", f->name);
            for (int n = 0; not_named[n]; n++)
                left = left || strcmp(not_named[n], f->name) == 0;
            check_true(left || strstr(named, field) != NULL, "%s: --%s is not in its line",
                       hp_reading_name(kind), f->name);
        }
    }
    close_bench(&b);
}

static void the_throttle_card_says_what_the_volts_do(void **state)
{
    (void)state;
    static hp_card card;
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    hp_card_context context = hp_commission_card_context(b.steps);
    hp_words_of(&hp_reading_throttle)->card(&context, -1, &card);
    check_text_contains(card.healthy, "does nothing up to 1 V, full from 4 V");
    close_bench(&b);
}

/* Written by the program, an entry reads as it was; nothing of it moves the advice's figures. */
static void each_entry_is_written_as_it_was_read(void **state)
{
    (void)state;
    for (size_t k = 0; k < CASES; k++) {
        char text[600];
        make_entry(&cases[k], text, sizeof text);
        bench b;
        open_bench(&b, SCENARIO, text);
        char *written = hp_bench_log_entry_text(&b.log.log.entry[0], &b.machine.scenario.labels);
        bench again;
        open_bench(&again, SCENARIO, written);
        const hp_entry *one = &b.log.log.entry[0].entry, *two = &again.log.log.entry[0].entry;
        check_true(memcmp(one->values, two->values, cases[k].kind->size) == 0, "%s became %s", text,
                   written);
        free(written);
        close_bench(&again);
        close_bench(&b);
    }
}

/* ---- what the scenario states ---------------------------------------------------------------- */

typedef struct stated {
    const char *scenario;
    const hp_reading *kind;
    const char *entry;
    hp_finding finding;
    int code;
} stated;

/* 216 rev/min at 36 V: 108, 162, 216 in the three steps. */
static void what_the_scenario_states_counts(void **state)
{
    (void)state;
    static const stated of[] = {
        {SCENARIO STEPS, &hp_reading_speed_switch,
         "{first_rpm: 105, second_rpm: 158, third_rpm: 212}", HP_FINDING_GOOD, HP_STEP_FINE},
        {SCENARIO STEPS, &hp_reading_speed_switch,
         "{first_rpm: 158, second_rpm: 105, third_rpm: 212}", HP_FINDING_LOOK, HP_SPEED_OFF},
        {SCENARIO STEPS, &hp_reading_speed_switch,
         "{first_rpm: 80, second_rpm: 158, third_rpm: 212}", HP_FINDING_LOOK, HP_SPEED_OFF},
        {SCENARIO STEPS, &hp_reading_speed_switch,
         "{first_rpm: 130, second_rpm: 158, third_rpm: 212}", HP_FINDING_LOOK, HP_SPEED_OFF},
        {SCENARIO STEPS, &hp_reading_speed_switch, "{first_rpm: 105, second_rpm: 212}",
         HP_FINDING_GOOD, HP_STEP_FINE},
        {SCENARIO MADE_FOR, &hp_reading_brake, "{pins: {a: [4.9, 0], b: [0, 0]}}", HP_FINDING_LOOK,
         HP_BRAKE_OTHER_SORT},
        {SCENARIO MADE_FOR, &hp_reading_brake, "{pins: {a: [0, 4.9], b: [0, 0]}}", HP_FINDING_NOTED,
         HP_STEP_PART},
        {SCENARIO MADE_FOR, &hp_reading_brake, "{pins: {a: [0, 12], b: [12, 12]}}", HP_FINDING_LOOK,
         HP_BRAKE_OTHER_SORT},
        {SCENARIO MADE_FOR, &hp_reading_brake, "{pins: {a: [12, 0], b: [12, 12]}}", HP_FINDING_LOOK,
         HP_BRAKE_OTHER_SORT},
        /* It was tried: that is the last word. */
        {SCENARIO MADE_FOR, &hp_reading_brake, "{left_stops: yes, pins: {a: [4.9, 0], b: [0, 0]}}",
         HP_FINDING_NOTED, HP_STEP_PART},
        {SCENARIO MADE_FOR, &hp_reading_pedal_sensor,
         "{pins: {r: [5, 5], b: [0, 0], s: [5, 0]}, forward_mean_v: 3}", HP_FINDING_LOOK,
         HP_PEDAL_OTHER_SENSE},
        {SCENARIO MADE_FOR, &hp_reading_pedal_sensor,
         "{pins: {r: [5, 5], b: [0, 0], s: [5, 0]}, backward_mean_v: 3}", HP_FINDING_NOTED,
         HP_STEP_PART},
        {SCENARIO "controls: {throttle: {starts_v: 1.5, all_v: 3}}\n", &hp_reading_throttle,
         "{throttle_rest_v: 1.2, throttle_full_v: 3.2, turned_with_off: none, springs_back: yes}",
         HP_FINDING_GOOD, HP_STEP_FINE},
        {SCENARIO "controls: {throttle: {fault_below_v: 0.5, fault_above_v: 4.5}}\n",
         &hp_reading_throttle, "{throttle_rest_v: 0.3}", HP_FINDING_LOOK, HP_THROTTLE_REST_FAULT},
        {SCENARIO "controls: {throttle: {fault_below_v: 0.5, fault_above_v: 4.5}}\n",
         &hp_reading_throttle, "{throttle_full_v: 4.8}", HP_FINDING_LOOK, HP_THROTTLE_FULL_FAULT},
        /* A controller that knows a fault takes a lost ground for one. */
        {SCENARIO "controls: {throttle: {fault_below_v: 0.5, fault_above_v: 4.5}}\n",
         &hp_reading_throttle, "{ground_off_v: 4.9}", HP_FINDING_NOTED, HP_STEP_PART},
    };
    for (size_t k = 0; k < sizeof of / sizeof of[0]; k++) {
        char text[600];
        snprintf(text, sizeof text, ENTRY "%s: %s\n", hp_reading_name(of[k].kind), of[k].entry);
        bench b;
        open_bench(&b, of[k].scenario, text);
        const hp_commission_step *step = step_of(&b, of[k].kind);
        check_true(step->finding == of[k].finding && step->code == of[k].code,
                   "%s: finding %d code %d", text, (int)step->finding, step->code);
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_finding_words words;
        check_true(hp_finding_words_make(&context, step, &words), "%s: no words", text);
        close_bench(&b);
    }
}

/* 108, 162 and 216 in the three steps: of two alike one is as it ought to be, and is not accused;
 * nor is the third, nor one of a mere other speed beside good ones. */
static void only_the_position_that_is_off_is_named(void **state)
{
    (void)state;
    static const struct {
        const char *scenario, *entry;
        int code;
        const char *means, *otherwise, *hidden;
    } of[] = {
        {SCENARIO STEPS, "{first_rpm: 110, second_rpm: 111, third_rpm: 214}", HP_SPEED_ALIKE,
         "The first and the second position give the same speed, the second 111 where about 16",
         "A lead or contact of the switch is off: look there first", "the first 110"},
        {SCENARIO STEPS, "{first_rpm: 214, second_rpm: 158, third_rpm: 214}", HP_SPEED_ALIKE,
         "The first and the third position give the same speed, the first 214 where about 1",
         "look there first", "the third 214"},
        {SCENARIO STEPS, "{first_rpm: 80, second_rpm: 158, third_rpm: 212}", HP_SPEED_OFF,
         "than it ought to: first 80 where about 1", "read in order", "158"},
        {SCENARIO STEPS, "{first_rpm: 212, second_rpm: 158, third_rpm: 105}", HP_SPEED_TURNED,
         "from the last to the first: the switch is joined the other way round",
         "Change the leads of its two outer contacts", "212"},
        {SCENARIO STEPS, "{first_rpm: 212, second_rpm: 130, third_rpm: 105}", HP_SPEED_OFF,
         "first 212 where about 1", "read in order", "way round"},
        {SCENARIO STEPS, "{first_rpm: 158, second_rpm: 105, third_rpm: 212}", HP_SPEED_OFF,
         "than it ought to: first 158 where about 1", ", second 105 where", "212"},
        /* Stated alike: as it should be. */
        {SCENARIO "controller: {speed_steps_percent: [50, 50, 100]}\n",
         "{first_rpm: 107, second_rpm: 105, third_rpm: 212}", HP_STEP_FINE, "as it should be", "",
         "same speed"},
    };
    for (size_t k = 0; k < sizeof of / sizeof of[0]; k++) {
        char text[300], both[1200];
        snprintf(text, sizeof text, ENTRY "speed_switch: %s\n", of[k].entry);
        bench b;
        open_bench(&b, of[k].scenario, text);
        const hp_commission_step *step = step_of(&b, &hp_reading_speed_switch);
        check_int(step->code, of[k].code);
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_finding_words words;
        check_true(hp_finding_words_make(&context, step, &words), "%s: no words", text);
        snprintf(both, sizeof both, "%s %s", words.means, words.otherwise);
        check_text_contains(words.means, of[k].means);
        check_text_contains(both, of[k].otherwise);
        check_true(!strstr(both, of[k].hidden), "%s", both);
        close_bench(&b);
    }
}

/* Seconds of a lever that stops nothing any more are gone, and seconds read later take that back;
 * the other lever's stay. */
static void a_lever_that_no_longer_stops_has_no_seconds(void **state)
{
    (void)state;
    static const char both[] = ENTRY "brake: {left_stops: yes, left_stop_s: 0.3, right_stops: yes, "
                                     "right_stop_s: 0.4}\n";
    char text[600], noted[HP_ENTRY_WORDS];
    bench b;
    snprintf(text, sizeof text, "%s" ENTRY "brake: {right_stops: no}\n", both);
    open_bench(&b, SCENARIO, text);
    const hp_commission_step *step = step_of(&b, &hp_reading_brake);
    const hp_brake_reading *is = hp_entry_said(step->entry);
    check_int(step->code, HP_BRAKE_DEAD);
    check_close(is->stop_s[0], 0.3, 1e-12, "the left one was not spoken of");
    check_true(isnan(is->stop_s[1]), "%g s", is->stop_s[1]);
    hp_card_context context = hp_commission_card_context(b.steps);
    hp_entry_words(&context, step->entry, noted, sizeof noted);
    check_true(!strstr(noted, "0.4 s"), "%s", noted);
    close_bench(&b);
    snprintf(text, sizeof text,
             "%s" ENTRY "brake: {right_stops: no}\n" ENTRY "brake: {right_stop_s: 0.5}\n", both);
    open_bench(&b, SCENARIO, text);
    check_int(step_of(&b, &hp_reading_brake)->finding, HP_FINDING_GOOD);
    close_bench(&b);
}

/* Nobody reads rest and full twice: what `controls` noted stands for the throttle, too. */
static void volts_of_an_earlier_entry_count(void **state)
{
    (void)state;
    bench b;
    open_bench(&b, SCENARIO,
               ENTRY
               "controls: {found: nothing, throttle_rest_v: 0.8, throttle_full_v: 4.2}\n" ENTRY
               "throttle: {turned_with_off: none, springs_back: yes}\n");
    check_int(step_of(&b, &hp_reading_throttle)->finding, HP_FINDING_GOOD);
    close_bench(&b);
    open_bench(&b, SCENARIO, ENTRY "throttle: {turned_with_off: none, springs_back: yes}\n");
    check_int(step_of(&b, &hp_reading_throttle)->finding, HP_FINDING_NOTED);
    close_bench(&b);
}

/* The planner reckons a trial's duty from them: (V - rest) / (full - rest). */
static void the_throttle_tells_the_duty(void **state)
{
    (void)state;
    const char *entry[] = {ENTRY "throttle: {throttle_rest_v: 0.8, throttle_full_v: 4.2}\n",
                           ENTRY "throttle: {" TOLD_PINS "}\n",
                           ENTRY "throttle: {throttle_rest_v: 4.2, throttle_full_v: 0.8}\n",
                           ENTRY "throttle: {throttle_rest_v: 0.8}\n"};
    for (int k = 0; k < 4; k++) {
        bench b;
        open_bench(&b, SCENARIO, entry[k]);
        const hp_entry *e = &b.log.log.entry[0].entry;
        double rest = 0.0, full = 0.0;
        bool told = e->reading->throttle_volts(hp_entry_said(e), &rest, &full);
        check_true(told == (k < 2), "entry %d tells", k);
        check_true(told || (rest == 0.0 && full == 0.0), "entry %d changes what was known", k);
        if (told) {
            check_close(rest, 0.8, 0.0, "as it was said");
            check_close(full, 4.2, 0.0, "as it was said");
        }
        close_bench(&b);
    }
}

/* ---- the sheet ------------------------------------------------------------------------------- */

static char *sheet_of_wiring(const bench *b, int wiring)
{
    hp_error err = hp_error_none();
    hp_sheet_options options = hp_sheet_options_default();
    options.wiring = wiring;
    options.advice = b->advice;
    char *html = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&html, &size);
    check_true(out != NULL, "no memory stream");
    check_true(hp_sheet_write(&b->machine.scenario, &b->log.log, &options, out, &err) == HP_OK,
               "%s", err.text);
    fclose(out);
    return html;
}

/* Of the wiring that the log comes to. */
static char *sheet_of(const bench *b)
{
    return sheet_of_wiring(b, 0);
}

static void the_sheet_keeps_every_step(void **state)
{
    (void)state;
    for (size_t k = 0; k < CASES; k++) {
        char text[600];
        bench b;
        make_entry(&cases[k], text, sizeof text);
        open_bench(&b, SCENARIO, text);
        char *html = sheet_of(&b), from[80];
        check_text_contains(html, "<h2>Commissioning</h2>");
        check_text_contains(html, "Not done yet");
        snprintf(from, sizeof from, "log entry 1: %s", hp_finding_name(cases[k].finding));
        check_text_contains(html, from);
        free(html);
        close_bench(&b);
    }
    bench b;
    open_bench(&b, SCENARIO,
               ENTRY "throttle: {turned_with_off: ground}\n" ENTRY
                     "throttle: {springs_back: yes}\n");
    char *html = sheet_of(&b);
    /* The second says nothing of the first one's finding. */
    check_text_contains(html, "log entry 2: stop");
    check_text_contains(html, "ground lead off");
    free(html);
    close_bench(&b);
    open_bench(&b, SCENARIO,
               ENTRY "throttle: {turned_with_off: ground}\n" ENTRY
                     "throttle: {turned_with_off: none}\n");
    html = sheet_of(&b);
    check_text_contains(html, "log entry 2: noted");
    check_text_contains(html, "Not all was: "); /* the next person reads what was not tried */
    check_true(!strstr(html, "ground lead off"), "what was read anew counts no more");
    free(html);
    close_bench(&b);
    open_bench(&b, SCENARIO,
               ENTRY "hub: {cable: good}\n" ENTRY
                     "left_out: {step: brake}\n  note: no <levers>\n" ENTRY
                     "left_out: {step: key}\n");
    html = sheet_of(&b);
    const char *left = strstr(html, "left out: no &lt;levers&gt;");
    const char *open = strstr(html, "Not done yet");
    check_true(left && open && left < open, "left out and why, then open");
    check_true(strstr(html, "left out; no reason is noted") != NULL, "the key");
    check_text_contains(left, "log entry 2");
    check_true(!strstr(open, "brake") && !strstr(open, "key"), "nobody is to do them");
    free(html);
    close_bench(&b);
    /* What the next look finds takes the reason off. */
    open_bench(&b, SCENARIO,
               ENTRY "left_out: {step: hub}\n  note: no levers\n" ENTRY "hub: {cable: good}\n");
    html = sheet_of(&b);
    check_true(!strstr(html, "no levers"), "it was looked at since");
    free(html);
    close_bench(&b);
    open_bench(&b, SCENARIO, ENTRY "sensor_supply: {supply_v: 5}\n");
    html = sheet_of(&b);
    check_true(!strstr(html, "Commissioning"), "a section of nothing");
    free(html);
    close_bench(&b);
}

#define RAN_WELL ENTRY "trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth}\n"
#define GREEN    "<p class=\"standing\">"
#define STOPS    "<div class=\"stops\">"

/* What stands before the wiring, whatever it is; NULL: nothing forbids to ride. */
static void check_head(const char *scenario, const char *entries, const char *stop)
{
    bench b;
    const hp_advice done = {.kind = HP_ADVICE_DONE, .number = 1};
    open_bench(&b, scenario, entries);
    b.advice = &done;
    char *html = sheet_of(&b);
    const char *stops = strstr(html, STOPS), *standing = strstr(html, "<p class=\"standing");
    assert_non_null(standing);
    check_true((stops != NULL) == (stop != NULL), "%s: stops at the head", entries);
    check_true((strstr(html, GREEN) != NULL) == (stop == NULL), "%s: a green bar", entries);
    if (stop) {
        const char *said = strstr(html, stop);
        check_true(stops < standing, "%s: the wiring comes first", entries);
        check_true(said && said < standing, "%s: the head does not say \"%s\"", entries, stop);
        check_text_contains(stops, "Do not ride");
    }
    free(html);
    close_bench(&b);
}

/* It is for the next person, who reads the head and goes. */
static void what_forbids_to_ride_heads_the_sheet(void **state)
{
    (void)state;
    for (size_t k = 0; k < CASES; k++) {
        char text[600];
        make_entry(&cases[k], text, sizeof text);
        char after[800];
        snprintf(after, sizeof after, RAN_WELL "%s", text);
        check_head(SCENARIO STEPS, after,
                   cases[k].finding == HP_FINDING_STOP ? "(log entry 2): " : NULL);
    }
    static const char run[] = "full_speed_rpm: 218, full_v: 37, turned: forward";
    char entries[800];
    snprintf(entries, sizeof entries, RAN_WELL ENTRY "no_load: {%s, full_a: 12}\n", run);
    check_head(SCENARIO, entries, "So much current draws only a wrong wiring");
    snprintf(entries, sizeof entries,
             RAN_WELL ENTRY "no_load: {%s, full_a: 12}\n" ENTRY "no_load: {%s, full_a: 0.5}\n", run,
             run);
    check_head(SCENARIO, entries, NULL);
    /* A reading that is a danger; read again it is none. */
    check_head(SCENARIO, RAN_WELL ENTRY "sensor_supply: {supply_v: 30}\n",
               "Stop: the Hall supply is too high");
    check_head(SCENARIO,
               RAN_WELL ENTRY "sensor_supply: {supply_v: 30}\n" ENTRY
                              "sensor_supply: {supply_v: 5}\n",
               NULL);
    /* Trials at full throttle, of the wiring on the sheet and of another that was joined last. */
    check_head(SCENARIO,
               ENTRY "trial: {wiring: 1, throttle_percent: 100, motion: forward, feel: smooth, "
                     "battery_a: 9}\n",
               "With wiring 1 it drew 9 A in entry 1");
    check_head(SCENARIO,
               RAN_WELL ENTRY "trial: {wiring: 5, throttle_percent: 100, motion: forward, "
                              "feel: rough, battery_a: 9}\n",
               "With wiring 5 it drew 9 A in entry 2");
}

/* Whoever asks what to try next has not seen what a step found: no card runs the wheel then. */
static void a_step_that_stops_stops_the_advice_too(void **state)
{
    (void)state;
    static const hp_advice_kind kinds[] = {HP_ADVICE_TRY, HP_ADVICE_LOOK, HP_ADVICE_LEARN,
                                           HP_ADVICE_DONE, HP_ADVICE_PROBABLY};
    static const char *const logs[] = {RAN_WELL ENTRY "throttle: {springs_back: no}\n",
                                       RAN_WELL ENTRY "throttle: {springs_back: yes}\n"};
    static hp_card words;
    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
        for (int n = 0; n < 2; n++) {
            bench b;
            open_bench(&b, SCENARIO, logs[n]);
            hp_card_context context = hp_commission_card_context(b.steps);
            const hp_advice advice = {.kind = kinds[k],
                                      .lead = -1,
                                      .number = 1,
                                      .wiring = hp_wiring_from_number(1),
                                      .certainty = 0.99};
            hp_card_make(&context, &advice, &words);
            check_true((strstr(words.title, "first mend what the step \"throttle\" found") !=
                        NULL) == (n == 0),
                       "kind %d: %s", (int)kinds[k], words.title);
            check_true(words.stop == (n == 0), "kind %d", (int)kinds[k]);
            for (int h = 0; n == 0 && h < words.hows; h++)
                check_true(!strstr(words.how[h], "up to full"), "%s", words.how[h]);
            close_bench(&b);
        }
}

#define NO_LOAD ENTRY "no_load: {full_speed_rpm: 218, full_a: 0.5, full_v: 37.2, turned: forward}\n"

#define FULL(more)                                                                                 \
    ENTRY "trial: {wiring: 1, throttle_percent: 100, motion: forward, feel: smooth" more "}\n"

/* Neither as it ought to be nor a failure: "look", as of a no-load run, until a good one. */
static void a_full_throttle_run_outside_its_band_is_a_look(void **state)
{
    (void)state;
    static const struct {
        const char *log;
        int odd;
    } rows[] = {
        {FULL(", wheel_speed_rpm: 222"), 0},
        {FULL(", battery_a: 0.01"), 0}, /* less is no fault */
        {FULL(", battery_a: 0.5, wheel_speed_rpm: 290"), 1},
        {FULL(", battery_a: 0.5, wheel_speed_rpm: 160"), 1},
        {FULL(", wheel_speed_rpm: 290") FULL(", wheel_speed_rpm: 222"), 0},
        {FULL(", wheel_speed_rpm: 290") NO_LOAD, 0},
        {FULL(", wheel_speed_rpm: 290") ENTRY "mend: {part: controller}\n", 0},
        {FULL(", battery_a: 9"), 0}, /* it fails */
        {ENTRY "trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: "
               "1.4}\n",
         0},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b;
        open_bench(&b, SCENARIO, rows[k].log);
        hp_commission list = *hp_commission_case_list(b.steps);
        char words[HP_COMMISSION_WHY_WORDS];
        check_true(list.odd_entry == rows[k].odd, "row %zu: entry %d, %g to %g A", k,
                   list.odd_entry, list.full_current_a.low, list.full_current_a.high);
        list.why = HP_COMMISSION_LOOK;
        check_true((strstr(hp_commission_why_words(&list, words, sizeof words),
                           "in entry 1 was not as expected") != NULL) == (rows[k].odd > 0),
                   "row %zu: %s", k, words);
        close_bench(&b);
    }
}

#define OTHER(number, feel)                                                                        \
    ENTRY "trial: {wiring: " number ", throttle_percent: 35, motion: forward, feel: " feel         \
          ", battery_a: 0.3}\n"

/* No run at full throttle is asked for while two wirings are said to run that cannot both be right.
 */
static void two_wirings_that_ran_well_are_none_found(void **state)
{
    (void)state;
    static const struct {
        const char *log;
        int against;
        bool wired;
    } rows[] = {
        {RAN_WELL OTHER("12", "smooth"), 1, false},
        {RAN_WELL OTHER("22", "smooth"), 0, true}, /* an equal */
        {RAN_WELL OTHER("12", "rough"), 1, false},
        {RAN_WELL OTHER("12", "rough") RAN_WELL, 0, true},
        {RAN_WELL OTHER("12", "smooth") RAN_WELL, 2, false},
        {RAN_WELL ENTRY "mend: {part: controller}\n" OTHER("12", "smooth"), 0, true},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b;
        open_bench(&b, SCENARIO, rows[k].log);
        const hp_commission *list = hp_commission_case_list(b.steps);
        char words[HP_COMMISSION_WHY_WORDS];
        check_true(list->against == rows[k].against, "row %zu: entry %d", k, list->against);
        check_true(list->wired == rows[k].wired, "row %zu: wired", k);
        check_true(rows[k].wired || !step_of(&b, &hp_reading_no_load)->possible, "row %zu", k);
        hp_commission said = *list;
        said.why = HP_COMMISSION_WIRING;
        check_true((strstr(hp_commission_why_words(&said, words, sizeof words),
                           "they cannot both be correct") != NULL) == (rows[k].against > 0),
                   "row %zu: %s", k, words);
        close_bench(&b);
    }
}

/* A machine without a key or a brake cut-off is told so at its end, whatever else is good. */
static void what_would_stop_it_is_missed(void **state)
{
    (void)state;
    static const char *const kinds[] = {"key", "brake"}, *const said[] = {
                                                             "without a key switch",
                                                             "without a brake cut-off"};
    for (int k = 0; k < 2; k++) {
        char text[300];
        bench b;
        snprintf(text, sizeof text, ENTRY "%s: {fitted: no}\n", kinds[k]);
        open_bench(&b, SCENARIO, text);
        hp_commission list = *hp_commission_case_list(b.steps);
        char words[HP_COMMISSION_WHY_WORDS];
        list.why = HP_COMMISSION_LACKING;
        check_text_contains(hp_commission_why_words(&list, words, sizeof words), said[k]);
        char *html = sheet_of(&b);
        check_text_contains(html, said[k]);
        free(html);
        close_bench(&b);
    }
}

/* Pedals ask for a part of it: the free wheel turns so much more slowly in each position, and that
 * is as it should be. */
static void positions_of_a_switch_are_held_against_what_the_pedals_give(void **state)
{
    (void)state;
    static const char steps[] = SCENARIO STEPS "controls: {throttle: {fitted: no}, pedal: {mode: "
                                               "drives, assist_percent: 60}}\n";
    static const struct {
        const char *log;
        hp_finding finding;
    } rows[] = {
        {ENTRY "speed_switch: {first_rpm: 65, second_rpm: 97, third_rpm: 130}\n", HP_FINDING_GOOD},
        {ENTRY "speed_switch: {first_rpm: 108, second_rpm: 162, third_rpm: 216}\n",
         HP_FINDING_LOOK},
    };
    for (size_t k = 0; k < 2; k++) {
        bench b;
        hp_card card;
        open_bench(&b, steps, rows[k].log);
        check_int(step_of(&b, &hp_reading_speed_switch)->finding, rows[k].finding);
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_card_make(
            &context,
            &(hp_advice){.kind = HP_ADVICE_READ, .reading = &hp_reading_speed_switch, .lead = -1},
            &card);
        check_text_contains(card.healthy,
                            "At the 60 % that the pedals give, wheel free, in rev/min: first "
                            "about 65");
        close_bench(&b);
    }
}

/* Neither stands twice, and each sentence is one of its own. */
static void what_it_is_without_is_told_in_one_breath(void **state)
{
    (void)state;
    bench b;
    open_bench(&b, SCENARIO, ENTRY "key: {fitted: no}\n" ENTRY "brake: {fitted: no}\n");
    hp_commission list = *hp_commission_case_list(b.steps);
    char words[HP_COMMISSION_WHY_WORDS];
    list.why = HP_COMMISSION_LACKING;
    hp_commission_why_words(&list, words, sizeof words);
    const char *ready = strstr(words, "Ready, but without a key switch: ");
    assert_non_null(ready);
    check_true(strstr(ready + 1, "Ready, but") == NULL, "%s", words);
    check_text_contains(words, " within reach of whoever drives it. And without a brake cut-off: ");
    close_bench(&b);
}

/* No card speaks of a key that the log, or else the scenario, says is not there. */
static void without_a_key_no_card_names_one(void **state)
{
    (void)state;
    static const struct {
        const char *scenario, *log;
        bool key;
    } rows[] = {
        {SCENARIO, ENTRY "hub: {pricks: sealed}\n", true},
        {SCENARIO, ENTRY "key: {fitted: no}\n", false},
        {SCENARIO "controls: {key: {fitted: no}}\n", ENTRY "hub: {pricks: sealed}\n", false}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const hp_reading *reading[] = {&hp_reading_idle_draw, &hp_reading_coast_down};
        hp_card learn;
        bench b;
        open_bench(&b, rows[k].scenario, rows[k].log);
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_card_make(
            &context,
            &(hp_advice){.kind = HP_ADVICE_READ, .reading = &hp_reading_learn_lead, .lead = -1},
            &learn);
        check_true(strstr(learn.reason, "key") == NULL, "%s", learn.reason);
        for (int n = 0; n < 2; n++) {
            hp_card card;
            bool said = false;
            hp_card_make(&context,
                         &(hp_advice){.kind = HP_ADVICE_READ, .reading = reading[n], .lead = -1},
                         &card);
            for (int d = 0; d < card.details; d++)
                said = said || strstr(card.detail[d], "pull the key");
            for (int d = 0; d < card.hows; d++)
                said = said || strstr(card.how[d], "key on");
            check_true(said == rows[k].key, "row %zu, %s", k, hp_reading_name(reading[n]));
        }
        close_bench(&b);
    }
}

/* "0 of 14 steps done, 2 left out": who reads the end knows why it is not all. */
static void what_is_left_out_is_counted(void **state)
{
    (void)state;
    bench b;
    char words[HP_COMMISSION_WHY_WORDS];
    open_bench(&b, SCENARIO,
               ENTRY "left_out: {step: sag}\n" ENTRY "left_out: {step: heating}\n" ENTRY
                     "hub: {pricks: sealed}\n");
    const hp_commission *list = hp_commission_case_list(b.steps);
    check_int(hp_commission_left_out(list), 2);
    check_text_contains(hp_commission_after_words(list, words, sizeof words),
                        "1 of 14 steps of commissioning are done, 2 left out");
    close_bench(&b);
}

/* Lithium has a protection; of lead the controller alone ends the discharge. */
static void of_lead_the_controllers_cut_off_alone_counts(void **state)
{
    (void)state;
    static const char *const cells[2] = {"li_ion, in_series: 10", "lead, in_series: 18"};
    for (int lead = 0; lead < 2; lead++) {
        char scenario[600];
        bench b;
        hp_card card;
        snprintf(scenario, sizeof scenario, SCENARIO "pack: {cells: %s}\n", cells[lead]);
        open_bench(&b, scenario, ENTRY "shared_pack: {cut_off_fits: no}\n");
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_finding_words words;
        hp_finding_words_make(&context, step_of(&b, &hp_reading_shared_pack), &words);
        check_true((strstr(words.otherwise, "rely on the battery's protection") != NULL) == !lead,
                   "%s", words.otherwise);
        check_true((strstr(words.otherwise, "has no protection of its own") != NULL) == lead, "%s",
                   words.otherwise);
        hp_card_make(
            &context,
            &(hp_advice){.kind = HP_ADVICE_READ, .reading = &hp_reading_shared_pack, .lead = -1},
            &card);
        check_text_contains(card.how[1], lead ? "its cut-off against the empty lead battery's "
                                              : "its cut-off against the battery's protection.");
        check_true((strstr(card.healthy, "the battery's, a fuse") != NULL) == !lead, "%s",
                   card.healthy);
        close_bench(&b);
    }
}

/* Where no meter is, the card says what to do without; and orders nothing that cannot be read. */
static void without_an_ammeter_each_run_says_how(void **state)
{
    (void)state;
    static const struct {
        const hp_reading *reading;
        const char *says;
    } rows[] = {{&hp_reading_idle_draw, "Else leave this step out"},
                {&hp_reading_sag, "Else leave this step out"},
                {&hp_reading_no_load, "Else read speed and volts alone"}};
    for (int without = 0; without < 2; without++) {
        bench b;
        open_bench(&b, without ? SCENARIO "bench: {meters: {ammeter: no}}\n" : SCENARIO,
                   ENTRY "hub: {pricks: sealed}\n");
        hp_card_context context = hp_commission_card_context(b.steps);
        for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
            hp_card card;
            bool said = false;
            hp_card_make(
                &context,
                &(hp_advice){.kind = HP_ADVICE_READ, .reading = rows[k].reading, .lead = -1},
                &card);
            for (int d = 0; d < card.details; d++)
                said = said || strstr(card.detail[d], rows[k].says) != NULL;
            check_true(said == without, "%s", hp_reading_name(rows[k].reading));
            for (int n = 0; n < card.hows && rows[k].reading == &hp_reading_no_load; n++)
                check_true(!without || !strstr(card.how[n], "current"), "%s", card.how[n]);
        }
        close_bench(&b);
    }
}

/* Nobody opens a throttle that is not there. */
static void runs_of_a_machine_without_a_throttle_are_named(void **state)
{
    (void)state;
    static const struct {
        const char *log;
        const char *said; /* NULL: nothing */
    } rows[] = {
        {RAN_WELL RAN_WELL ENTRY "throttle: {fitted: no}\n",
         "This machine has no throttle. Yet the log has runs with one: entry 1, 2."},
        {ENTRY "trial: {wiring: 1, throttle_percent: 35, motion: still}\n" ENTRY
               "throttle: {fitted: no}\n",
         NULL},
        {ENTRY "throttle: {fitted: no}\n", NULL},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b;
        open_bench(&b, SCENARIO, rows[k].log);
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_finding_words words;
        hp_finding_words_make(&context, step_of(&b, &hp_reading_throttle), &words);
        check_text_contains(words.means, rows[k].said ? rows[k].said : "has no throttle.");
        check_true((strstr(words.means, "Yet the log") != NULL) == (rows[k].said != NULL), "%s",
                   words.means);
        close_bench(&b);
    }
}

/* The newest entry of the throttle says it, else the scenario; where there is none the step is not
 * one of this machine's, and pedals are what every run is made by. */
static void a_scenario_without_a_throttle_is_driven_by_its_pedals(void **state)
{
    (void)state;
    static const char none[] =
        SCENARIO "controls: {throttle: {fitted: no}, pedal: {mode: drives, assist_percent: 70}}\n";
    static const char one[] =
        SCENARIO "controls: {throttle: {fitted: yes}, pedal: {mode: drives, assist_percent: 70}}\n";
    static const struct {
        const char *scenario, *log;
        double assist;
        bool concerns;
    } rows[] = {
        {none, "", 0.7, false},
        {one, "", 0.0, true},
        {none, ENTRY "throttle: {throttle_rest_v: 0.8}\n", 0.0, true},
        {one, ENTRY "throttle: {fitted: no}\n", 0.7, true},
        {one, ENTRY "throttle: {fitted: no}\n" ENTRY "throttle: {fitted: yes}\n", 0.0, true},
        {none, ENTRY "pedal_sensor: {fitted: no}\n", 0.0, false},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b;
        open_bench(&b, rows[k].scenario, rows[k].log);
        const hp_commission *list = hp_commission_case_list(b.steps);
        check_close(list->given.plan->assist, rows[k].assist, 1e-12, "as stated");
        check_true(step_of(&b, &hp_reading_throttle)->concerns == rows[k].concerns, "row %zu", k);
        check_close(list->given.fit->full, strstr(rows[k].scenario, "fitted: no") ? 0.7 : 1.0,
                    1e-12, "fit reckons by the scenario");
        close_bench(&b);
    }
}

#define RAN_ILL                                                                                    \
    ENTRY "trial: {wiring: 1, throttle_percent: 100, motion: forward, feel: smooth, "              \
          "battery_a: 9}\n"

static void check_proof(const char *entries, int wiring, bool green, const char *const *says,
                        const char *never)
{
    bench b;
    const hp_advice done = {.kind = HP_ADVICE_DONE, .number = 1};
    open_bench(&b, SCENARIO, entries);
    b.advice = &done;
    char *html = sheet_of_wiring(&b, wiring);
    check_true((strstr(html, GREEN) != NULL) == green, "%s: a green bar", entries);
    for (; *says; says++)
        check_text_contains(html, *says);
    check_true(!strstr(html, never), "%s: \"%s\" is said", entries, never);
    free(html);
    close_bench(&b);
}

/* A run that failed proves nothing, whatever took it back: the sheet names the one that was good.
 */
static void the_sheet_names_the_run_that_was_good(void **state)
{
    (void)state;
    check_proof(NO_LOAD RAN_ILL NO_LOAD, 0, true,
                (const char *const[]){
                    "Wiring 1 is correct: it turned forward in the no-load run of entry 3 ",
                    "Its trial in entry 2 failed at full throttle and does not",
                    "turned forward in the no-load run, log entry 3",
                    "<td>0.5 A at full throttle and 37.2 V, wiring 1</td>", NULL},
                "<td>9 A");
    /* Before it was taken back. */
    check_proof(NO_LOAD RAN_ILL, 0, false,
                (const char *const[]){"Wiring 1 is not proved", "Do not ride",
                                      "failed at full throttle, log entry 2", NULL},
                "is correct");
    /* A mend takes back that it failed, and proves nothing. */
    check_proof(RAN_ILL ENTRY "mend: {part: controller}\n", 0, false,
                (const char *const[]){"Wiring 1 is not proved: its trial in entry 1", NULL},
                "is correct");
    /* A trial that was good has the word where it is the last one. */
    check_proof(
        RAN_WELL NO_LOAD, 0, true,
        (const char *const[]){"Wiring 1 is correct: it ran smoothly forward in entry 1 of", NULL},
        "no-load run of entry");
}

/* A gentle run of another wiring crowns none, and the figures on the sheet are none of it. */
static void a_run_of_another_wiring_is_not_this_ones(void **state)
{
    (void)state;
    check_proof(RAN_WELL NO_LOAD ENTRY
                "trial: {wiring: 12, throttle_percent: 35, motion: forward, feel: smooth}\n",
                0, false,
                (const char *const[]){"Wiring 12 ran smoothly forward in entry 3 of",
                                      "no-load run (entry 2 was of wiring 1, not of 12)", NULL},
                "0.5 A at full throttle");
    /* Back again it counts, and says of which it is. */
    check_proof(
        RAN_WELL NO_LOAD ENTRY
        "trial: {wiring: 12, throttle_percent: 35, motion: forward, feel: rough}\n" RAN_WELL,
        0, true,
        (const char *const[]){"Wiring 1 is correct", "0.5 A at full throttle and 37.2 V, wiring 1",
                              "log entry 2: good", NULL},
        "was of wiring");
    /* Made before anybody logged what is joined: of the wiring that was logged next. */
    check_proof(NO_LOAD RAN_WELL ENTRY
                "trial: {wiring: 12, throttle_percent: 35, motion: forward, feel: smooth}\n",
                0, false,
                (const char *const[]){"no-load run (entry 1 was of wiring 1, not of 12)", NULL},
                "0.5 A at full throttle");
}

static void the_sheet_tells_of_a_run_without_a_trial(void **state)
{
    (void)state;
    check_proof(NO_LOAD, 0, false,
                (const char *const[]){"the no-load run in entry 1 of " NAME
                                      ".bench.yaml turned forward",
                                      "what is joined is probably correct",
                                      "<td>0.5 A at full throttle and 37.2 V</td>", NULL},
                "is not known yet");
    check_proof(NO_LOAD, 1, false,
                (const char *const[]){"Wiring 1 is not proved: it was named by hand. The no-load "
                                      "run in entry 1 of",
                                      NULL},
                "no bench log says");
    check_proof(ENTRY "no_load: {full_speed_rpm: 218, full_a: 12, full_v: 37.2}\n", 0, false,
                (const char *const[]){"is not known yet", "Do not ride", NULL}, "probably correct");
}

/* What the run of commissioning read stands where a trial read nothing; never that of a run that
 * speaks against its own wiring, or of another wiring than the sheet's. */
/* The list does not weigh which wiring is right, so one gentle run opens no step under power
 * unsaid. */
static void a_lone_run_proves_no_wiring_on_the_cards(void **state)
{
    (void)state;
    static const struct {
        const char *entries;
        const hp_reading *kind;
        bool told;
    } rows[] = {
        {RAN_WELL, &hp_reading_coast_down, true}, {RAN_WELL, &hp_reading_no_load, true},
        {RAN_WELL, &hp_reading_brake, true},      {RAN_WELL, &hp_reading_throttle, false},
        {RAN_WELL, &hp_reading_hub, false},       {RAN_WELL NO_LOAD, &hp_reading_coast_down, false},
        {NO_LOAD, &hp_reading_coast_down, false}, {"", &hp_reading_coast_down, false},
    };
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        bench b;
        open_bench(&b, SCENARIO, rows[k].entries);
        hp_card_context context = hp_commission_card_context(b.steps);
        hp_advice advice = {.kind = HP_ADVICE_READ, .reading = rows[k].kind, .lead = -1};
        hp_card card;
        hp_card_make(&context, &advice, &card);
        check_true((strstr(card.safe, "one run that felt well proves none.") != NULL) ==
                       rows[k].told,
                   "row %zu: %s", k, card.safe);
        close_bench(&b);
    }
}

static void the_sheet_takes_no_load_figures_from_the_run(void **state)
{
#define TRIAL(more)                                                                                \
    ENTRY "trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth" more "}\n"
#define RUN ENTRY "no_load: {full_v: 37.5, full_speed_rpm: 222, full_a: 0.5}\n"
    static const char current[] = "0.5 A at full throttle and 37.5 V";
    static const char speed[] = "222 rev/min at full throttle and 37.5 V";
    static const struct {
        const char *log;
        bool current, speed;
    } row[] = {
        {TRIAL("") RUN, true, true},
        {TRIAL(", battery_a: 0.3") RUN, false, true},
        {TRIAL(", battery_a: 0.3, wheel_speed_rpm: 78") RUN, false, false},
        {RUN, false, false},
        {TRIAL("") ENTRY "no_load: {full_v: 37.5, full_speed_rpm: 222, full_a: 12}\n", false,
         false},
    };
    (void)state;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        bench b;
        open_bench(&b, SCENARIO, row[k].log);
        char *html = sheet_of(&b);
        check_true((strstr(html, current) != NULL) == row[k].current, "row %zu: current", k);
        check_true((strstr(html, speed) != NULL) == row[k].speed, "row %zu: speed", k);
        free(html);
        close_bench(&b);
    }
    bench b;
    open_bench(&b, SCENARIO, TRIAL("") RUN);
    char *html = sheet_of_wiring(&b, 5), words[160];
    check_true(!strstr(html, current) && !strstr(html, speed), "of another wiring");
    free(html);
    close_bench(&b);
    /* What was learnt nobody stated. */
    open_bench(&b,
               SCENARIO "learnt_from: {log: x.yaml, entries: 1, before: "
                        "{motor.no_load_speed_rpm_at_v.speed_rpm: 200}}\n",
               TRIAL("") RUN);
    html = sheet_of(&b);
    check_true(!strstr(html, "No-load speed, stated"), "it was learnt");
    check_text_contains(html, "Resistance of any pair, stated");
    free(html);
    close_bench(&b);
    /* Figures with their bands, and where they come from. */
    open_bench(&b, SCENARIO, TRIAL("") RUN);
    html = sheet_of(&b);
    const hp_own_figure *figure = &hp_commission_case_list(b.steps)->own.figure[HP_OWN_SPEED_PER_V];
    const char *section = strstr(html, "Figures of this machine");
    assert_true(section && figure->known);
    check_text_contains(section, "Speed per volt");
    check_text_contains(section, hp_own_words(figure, HP_OWN_SPEED_PER_V, words, sizeof words));
    check_text_contains(section, "up to entry 2");
    free(html);
    close_bench(&b);
    open_bench(&b, SCENARIO, TRIAL(""));
    html = sheet_of(&b);
    check_true(!strstr(html, "Figures of this machine"), "of nothing");
    free(html);
    close_bench(&b);
}

/* ---- bad input ------------------------------------------------------------------------------- */

static void what_is_wrong_is_named(void **state)
{
    (void)state;
    loaded machine = scenario_load_text(NAME ".yaml", SCENARIO);
    static const char *const wrong[][2] = {
        {"throttle: {pins: {red: [5, 5, 5]}}", "throttle.pins.red"},
        {"throttle: {pins: {red: 5}}", "gives 1 volts for pin red"},
        {"throttle: {pins: {red: [5, 5], blue: [1]}}", "gives 1 volts for pin blue"},
        {"speed_switch: {pins: {a: [0, 0, 0], b: [5, 0]}}", "gives 2 volts for pin b"},
        {"throttle: {pins: {red: [5, lots]}}", "throttle.pins.red"},
        {"throttle: {pins: {red: [5, 900]}}", "with two readings from -200 to 200 V"},
        {"speed_switch: {pins: {red: [5, 900]}}", "with two to four readings from -200 to 200 V"},
        {"throttle: {pulled_v: {red: 900}}", "with one reading from -200 to 200 V"},
        {"throttle: {pins: {blue with white stripe: [5, 900]}}", "pins.blue with white stripe"},
        {"throttle: {pins: {red: [5, 2000]}}", "readings from -200 to 200"},
        {"throttle: {pins: {red: [5, nan]}}", "throttle.pins.red"},
        {"throttle: {pins: {red: [5, [5]]}}", "throttle.pins.red"},
        {"throttle: {pins: {}}", "throttle.pins"},
        {"throttle: {pins: 5}", "throttle.pins"},
        {"throttle: {pins: {red: []}}", "throttle.pins.red"},
        {"throttle: {pins: {none: [0, 0]}}", "must be a colour or a place"},
        {"throttle: {pins: {a name that is much too long: [0, 0]}}",
         "a name that is much too long\", must be a colour or a place of 1 to 27 letters"},
        {"throttle: {pins: {\"a\\tb\": [0, 0]}}", "must be a colour or a place"},
        {"throttle: {pins: {a: [0,0], b: [0,0], c: [0,0], d: [0,0], e: [0,0], f: [0,0], g: [0,0]}}",
         "more than 6 pins"},
        {"throttle: {pulled_v: {red: 5}}", "says nothing of pin red"},
        {"throttle: {pins: {red: [5, 5]}, minus_pin: black}", "says nothing of pin black"},
        {"throttle: {pulled_v: {red: [5, 5]}}", "throttle.pulled_v.red"},
        {"throttle: {minus_pin: [black]}", "one of its pins, or none"},
        {"throttle: {throttle_rest_v: -1}", "throttle.throttle_rest_v is -1"},
        {"throttle: {turned_with_off: brown}", "none, supply, ground, signal or several"},
        {"throttle: {turned_with_of: ground}", "did you mean turned_with_off?"},
        {"throttle: {pulses: 3}", "it belongs to pedal_sensor"},
        {"brake: {left_stops: yes, right_stops: yes, one_lever: yes}", "both levers were tried"},
        {"brake: {left_stops: no, left_stop_s: 0.4}", "that lever does not stop the drive"},
        {"brake: {fitted: no, left_stops: no}",
         "brake.left_stops is given, though entries[1].brake.fitted is no: leave one of the two "
         "out"},
        {"brake: {fitted: no, right_stop_s: 0.4}", "brake.right_stop_s is given"},
        {"key: {fitted: no, stops: no}", "key.stops is given"},
        {"throttle: {turned_with_off: ground, fitted: no}", "throttle.turned_with_off is given"},
        {"throttle: {fitted: no, pins: {red: [5, 5], black: [0, 0]}}", "throttle.pins is given"},
        {"throttle: {fitted: no, minus_pin: none}", "throttle.minus_pin is given"},
        {"pedal_sensor: {fitted: no, pulses: 12}", "pedal_sensor.pulses is given"},
        {"speed_switch: {fitted: no, first_rpm: 0}", "speed_switch.first_rpm is given"},
        {"display: {what: none, on_v: 36}",
         "display.on_v is given, though entries[1].display.what is none"},
        {"display: {fitted: no, what: lamp}", "display.what is given"},
        {"display: {fitted: yes, what: none}", "display.fitted is given"},
        {"learn_lead: {fitted: no, parted: no}", "learn_lead.parted is given"},
        {"shared_pack: {shared: no, vehicles: 5}",
         "shared_pack.vehicles is given, though entries[1].shared_pack.shared is no"},
        {"brake: {left_stop_s: 61}", "brake.left_stop_s is 61"},
        {"pedal_sensor: {pulses: 0}", "pedal_sensor.pulses is 0"},
        {"pedal_sensor: {pulses: 2.5}", "pedal_sensor.pulses is 2.5, must be a whole number"},
        {"pins: {plug_columns: 2.5}", "pins.plug_columns is 2.5, must be a whole number"},
        {"speed_switch: {second_rpm: 100}", "first_rpm is missing"},
        {"speed_switch: {first_rpm: 100, third_rpm: 100}", "second_rpm is missing"},
        {"speed_switch: {pins: {a: [0, 0, 0, 0, 0]}}", "speed_switch.pins.a"},
        {"hub: {cover_nm: 0}", "hub.cover_nm is 0"},
        {"hub: {inside: damp}", "not_seen, dry, rust or wet"},
        {"shared_pack: {vehicles: 1}", "shared_pack.vehicles is 1"},
        {"display: {what: horn}", "none, lamp, display or other"},
        {"key: {on_v: 36 V}", "key.on_v"},
    };
    for (size_t k = 0; k < sizeof wrong / sizeof wrong[0]; k++) {
        char text[400];
        snprintf(text, sizeof text, HEAD ENTRY "%s\n", wrong[k][0]);
        logged l = bench_load_bytes(&machine.scenario, NAME ".bench.yaml", text, strlen(text));
        check_true(l.result == HP_FAIL_INPUT, "accepted: %s", wrong[k][0]);
        check_text_contains(l.printed, wrong[k][1]);
        check_text_contains(l.printed, NAME ".bench.yaml:5:");
        logged_free(&l);
    }
    loaded_free(&machine);
}

/* Whatever is in an entry, it is assessed and told without harm. */
static void hostile_values_do_no_harm(void **state)
{
    (void)state;
    bench b;
    open_bench(&b, SCENARIO STEPS MADE_FOR, ENTRY "learn_lead: {parted: yes}\n");
    const hp_commission *list = hp_commission_case_list(b.steps);
    hp_random random = hp_random_init(7, 0);
    hp_card_context context = hp_commission_card_context(b.steps);
    for (size_t k = 0; k < CASES; k++)
        for (int n = 0; n < 200; n++) {
            hp_entry entry = hp_entry_make(cases[k].kind, 1);
            for (const hp_field *f = hp_fields_of(cases[k].kind); f->name; f++) {
                const double odd[] = {NAN, INFINITY, -INFINITY, 0.0, -5.0, 1e300, 4.2};
                double value = odd[hp_random_below(&random, 7)];
                unsigned char *at = entry.values + f->offset;
                int limit = 0;
                for (; f->words && f->words[limit]; limit++)
                    continue;
                int whole = (int)hp_random_below(&random, (uint32_t)limit + 1);
                int tell = (int)hp_random_below(&random, 3);
                if (f->type == HP_FIELD_NUMBER)
                    memcpy(at, &value, sizeof value);
                else if (f->type == HP_FIELD_CHOICE)
                    memcpy(at, &whole, sizeof whole);
                else if (f->type == HP_FIELD_TELL)
                    memcpy(at, &tell, sizeof tell);
                else if (f->type == HP_FIELD_PIN_VOLTS && f->first > 0) {
                    hp_plug_volts *plug = (hp_plug_volts *)(void *)at;
                    plug->pins = (int)hp_random_below(&random, HP_PINS_MOST + 1);
                    for (int p = 0; p < plug->pins; p++) {
                        snprintf(plug->name[p], HP_PIN_NAME, "%d", p);
                        plug->states[p] = (int)hp_random_below(&random, (uint32_t)f->first + 1);
                        for (int s = 0; s < plug->states[p]; s++)
                            plug->at[s][p] = odd[hp_random_below(&random, 7)];
                    }
                }
            }
            int code = 0;
            char noted[HP_ENTRY_WORDS];
            hp_error err = hp_error_none();
            (void)hp_entry_check(&entry, &err);
            hp_finding finding = cases[k].kind->assess(&list->given, entry.values, &code);
            hp_commission_step step = {
                .reading = cases[k].kind, .finding = finding, .code = code, .entry = &entry};
            hp_finding_words words;
            check_true(hp_finding_words_make(&context, &step, &words), "no words for code %d",
                       code);
            check_true(strlen(hp_entry_words(&context, &entry, noted, sizeof noted)) > 0, "noted");
        }
    close_bench(&b);
}

/* ---- questions and options ------------------------------------------------------------------- */

static hp_question_case question_case(const bench *b)
{
    return (hp_question_case){.drive = &b->machine.scenario.drive,
                              .labels = &b->machine.scenario.labels,
                              .plan = &b->machine.scenario.bench.plan};
}

/* Answers every question that is wanted with what `answer` has for its key, else nothing; returns
 * how many were put. */
static int answer_all(const bench *b, const hp_reading *kind, const char *const (*answer)[2],
                      hp_form_state *form)
{
    hp_question_case given = question_case(b);
    int put = 0;
    *form = hp_form_begin(kind);
    for (const hp_question *q = hp_questions_of(kind); q->text; q++) {
        char key[HP_FORM_KEY], why[HP_FORM_WHY];
        if (!hp_form_wants(&given, form, q))
            continue;
        put++;
        hp_form_key(kind, q, key);
        hp_form_question made;
        hp_form_question_make(&given, form, q, &made);
        const char *text = NULL;
        for (int k = 0; answer[k][0]; k++)
            if (strcmp(answer[k][0], key) == 0)
                text = answer[k][1];
        check_true(text || !made.required, "%s must be answered", key);
        if (!text)
            text = made.fallback;
        check_true(hp_form_take(&given, form, q, text, why, sizeof why), "%s: %s", key, why);
    }
    return put;
}

static void every_answer_may_be_left_out(void **state)
{
    (void)state;
    static const char *const nothing[][2] = {{NULL, NULL}};
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    for (size_t k = 0; k < CASES; k++) {
        hp_form_state form;
        int put = answer_all(&b, cases[k].kind, nothing, &form);
        check_true(put >= 1 && put <= 10, "%s: %d questions", hp_reading_name(cases[k].kind), put);
    }
    close_bench(&b);
}

/* Who read nothing on the way and pressed Enter was asked without end for what he had not read. */
static void a_heating_test_ends_with_its_start(void **state)
{
    (void)state;
    static const char *const start[][2] = {{"heating_a", "18"}, {"start_v", "3.7"}, {NULL, NULL}};
    bench b;
    hp_form_state form;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    check_int(answer_all(&b, &hp_reading_heating, start, &form), 5);
    close_bench(&b);
}

static void a_part_that_is_not_there_asks_no_more(void **state)
{
    (void)state;
    static const char *const none[][2] = {
        {"fitted", "no"}, {"what", "none"}, {"shared", "no"}, {NULL, NULL}};
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    for (size_t k = 0; k < CASES; k++) {
        hp_form_state form;
        if (cases[k].kind != &hp_reading_hub)
            check_int(answer_all(&b, cases[k].kind, none, &form), 1);
    }
    close_bench(&b);
}

static void pins_are_asked_for_one_by_one(void **state)
{
    (void)state;
    static const char *const answers[][2] = {
        {"gate.9", "yes"},        {"pins.1", "red 5.02 5.01"},
        {"pins.2", "black, 0/0"}, {"pins.3", "row 1 0.83 4.12"},
        {"minus_pin", "black"},   {NULL, NULL}};
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    hp_form_state form;
    answer_all(&b, &hp_reading_throttle, answers, &form);
    const hp_throttle_reading *t = hp_entry_said(&form.entry.entry);
    check_int(t->plug.pins, 3);
    check_true(strcmp(t->plug.name[2], "row 1") == 0, "\"%s\"", t->plug.name[2]);
    check_close(t->plug.at[1][2], 4.12, 0.0, "as it was said");
    check_int(t->plug.minus, 2);
    hp_question_case given = question_case(&b);
    for (const hp_question *q = hp_questions_of(&hp_reading_throttle); q->text; q++) {
        char twice[HP_FORM_WHY];
        hp_form_state more = form;
        if (q->field && strcmp(q->field, "pins") == 0) {
            check_true(!hp_form_take(&given, &more, q, "red 1 1", twice, sizeof twice), "twice");
            check_text_contains(twice, "second time");
        }
        char key[HP_FORM_KEY], said[HP_FORM_ANSWER], why[HP_FORM_WHY];
        hp_form_key(&hp_reading_throttle, q, key);
        hp_form_said(&given, &form.entry, q, said);
        if (strcmp(key, "pins.3") == 0)
            assert_string_equal(said, "row 1 0.83 4.12");
        if (strcmp(key, "pins.1") != 0)
            continue;
        static const char *const bad[] = {"red", "5", "red 5 x", "red=5 5", "red 5 900", ""};
        for (size_t k = 0; bad[k][0]; k++) {
            hp_form_state fresh = hp_form_begin(&hp_reading_throttle);
            bool taken = hp_form_take(&given, &fresh, q, bad[k], why, sizeof why);
            check_true(!taken, "\"%s\" taken", bad[k]);
        }
    }
    close_bench(&b);
}

/* With three pins the plug pulled tells which rail the switch closes to. */
static void the_plug_pulled_is_asked_for(void **state)
{
    (void)state;
    static const char *const answers[][2] = {{"gate.7", "yes"},
                                             {"pins.1", "red 5 5"},
                                             {"pins.2", "black 0 0"},
                                             {"pins.3", "green 5 0"},
                                             {"pulled_v", "green 4.9"},
                                             {"minus_pin", "none"},
                                             {NULL, NULL}};
    bench b;
    open_bench(&b, SCENARIO, ENTRY "learn_lead: {parted: yes}\n");
    hp_form_state form;
    answer_all(&b, &hp_reading_brake, answers, &form);
    const hp_brake_reading *brake = hp_entry_said(&form.entry.entry);
    check_close(brake->plug.off[2], 4.9, 0.0, "as it was said");
    check_int(brake->plug.minus, -1);
    hp_question_case given = question_case(&b);
    int found = 0;
    for (const hp_question *q = hp_questions_of(&hp_reading_brake); q->text; q++) {
        char said[HP_FORM_ANSWER];
        if (q->field && strcmp(q->field, "pulled_v") == 0) {
            assert_string_equal(hp_form_said(&given, &form.entry, q, said), "green 4.9");
            found++;
        }
    }
    check_int(found, 1);
    close_bench(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_entry_has_its_finding),
        cmocka_unit_test(a_figure_that_slipped_is_seen),
        cmocka_unit_test(each_entry_is_written_as_it_was_read),
        cmocka_unit_test(what_the_scenario_states_counts),
        cmocka_unit_test(only_the_position_that_is_off_is_named),
        cmocka_unit_test(a_lever_that_no_longer_stops_has_no_seconds),
        cmocka_unit_test(volts_of_an_earlier_entry_count),
        cmocka_unit_test(the_throttle_tells_the_duty),
        cmocka_unit_test(the_sheet_keeps_every_step),
        cmocka_unit_test(what_forbids_to_ride_heads_the_sheet),
        cmocka_unit_test(the_sheet_names_the_run_that_was_good),
        cmocka_unit_test(a_run_of_another_wiring_is_not_this_ones),
        cmocka_unit_test(a_step_that_stops_stops_the_advice_too),
        cmocka_unit_test(what_would_stop_it_is_missed),
        cmocka_unit_test(positions_of_a_switch_are_held_against_what_the_pedals_give),
        cmocka_unit_test(what_it_is_without_is_told_in_one_breath),
        cmocka_unit_test(without_a_key_no_card_names_one),
        cmocka_unit_test(what_is_left_out_is_counted),
        cmocka_unit_test(of_lead_the_controllers_cut_off_alone_counts),
        cmocka_unit_test(without_an_ammeter_each_run_says_how),
        cmocka_unit_test(runs_of_a_machine_without_a_throttle_are_named),
        cmocka_unit_test(a_scenario_without_a_throttle_is_driven_by_its_pedals),
        cmocka_unit_test(a_full_throttle_run_outside_its_band_is_a_look),
        cmocka_unit_test(two_wirings_that_ran_well_are_none_found),
        cmocka_unit_test(the_sheet_tells_of_a_run_without_a_trial),
        cmocka_unit_test(a_lone_run_proves_no_wiring_on_the_cards),
        cmocka_unit_test(the_sheet_takes_no_load_figures_from_the_run),
        cmocka_unit_test(what_is_wrong_is_named),
        cmocka_unit_test(hostile_values_do_no_harm),
        cmocka_unit_test(every_answer_may_be_left_out),
        cmocka_unit_test(a_small_supply_is_told_what_it_shows),
        cmocka_unit_test(the_log_line_takes_what_the_card_asks),
        cmocka_unit_test(the_throttle_card_says_what_the_volts_do),
        cmocka_unit_test(a_heating_test_ends_with_its_start),
        cmocka_unit_test(a_part_that_is_not_there_asks_no_more),
        cmocka_unit_test(pins_are_asked_for_one_by_one),
        cmocka_unit_test(the_plug_pulled_is_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
