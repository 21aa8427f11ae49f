/*
 * Bench logs that are wrong: each mistake by its message with line, value and expectation; nothing
 * loaded.
 */
#include "bench_text.h"
#include "entry_kind.h"

#include "record/log/bench_log_parts.h"

#include <sys/stat.h>
#include <unistd.h>

#define FILE_NAME "test_bench_errors.bench.yaml"
#define AT        FILE_NAME ":"

static hp_scenario scenario;

typedef struct mistake {
    const char *text;
    int problems;            /* how many come out of it */
    const char *expected[3]; /* parts of what is printed, NULL-ended */
} mistake;

static void check_mistake(const mistake *m)
{
    char summary[80];
    logged l = bench_load_bytes(&scenario, FILE_NAME, m->text, strlen(m->text));
    check_true(l.result == HP_FAIL_INPUT, "accepted:\n%s", m->text);
    check_int(l.err.code, HP_FAIL_INPUT);
    snprintf(summary, sizeof summary, FILE_NAME " has %d problem%s", m->problems,
             m->problems == 1 ? "" : "s");
    check_true(strcmp(l.err.text, summary) == 0, "\"%s\", not \"%s\":\n%s", l.err.text, summary,
               l.printed);
    for (size_t k = 0; k < 3 && m->expected[k]; k++)
        check_text_contains(l.printed, m->expected[k]);
    check_int(l.log.count, 0);
    assert_null(l.log.entry);
    logged_free(&l);
}

#define CHECK_ALL(mistakes)                                                                        \
    for (size_t check_k = 0; check_k < sizeof(mistakes) / sizeof(mistakes)[0]; check_k++)          \
    check_mistake(&(mistakes)[check_k])

/* One entry of a kind in line 4. */
#define ENTRY(kind_and_values) BENCH_HEAD "- " BENCH_TIME "\n  " kind_and_values "\n"

static void a_wrong_head_is_named(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {"", 1, {FILE_NAME ": error: the file holds nothing, must begin with `hubphase_log: 1`"}},
        {"# nothing\n", 1, {"the file holds nothing"}},
        {"~\n", 1, {"the file"}},
        {"- a\n", 1, {"the file is a list, must be a mapping of keys that begins with "}},
        {"hubphase: 1\nmotor: {}\n",
         1,
         {AT "1:1: error: this is a scenario, must be a bench log, which begins with "
             "`hubphase_log: 1`"}},
        {"hubphase_log: 2\nscenario: Allotment barrow\nentries:\n",
         1,
         {AT "1:15: error: hubphase_log is 2, must be 1\n"}},
        {"hubphase_log: 1\nentries:\n",
         1,
         {"scenario is missing, must be the scenario's name, "
          "\"Allotment barrow\""}},
        {"hubphase_log: 1\nscenario: Allotment barrow\n",
         1,
         {"entries is missing, must be a list"}},
        {"scenario: Allotment barrow\nentries:\n",
         1,
         {"hubphase_log is missing, must be there as"}},
        {"hubphase_log: 1\nscenario: Parcel trike\nentries:\n",
         1,
         {AT "2:11: error: scenario is \"Parcel trike\", must be \"Allotment barrow\": this log "
             "belongs to another machine"}},
        {BENCH_HEAD "  a: 1\n",
         1,
         {AT "4:3: error: entries is a mapping, must be a list of readings"}},
        {"hubphase_log: 1\nscenario: Allotment barrow\nentrys:\n",
         2,
         {AT "3:1: error: entrys is not known, did you mean entries?", "entries is missing"}},
        {"hubphase_log: 1\ncolour: red\nscenario: Allotment barrow\nentries:\n",
         1,
         {AT "2:1: error: colour is not known, must be one of hubphase_log, scenario, leads, "
             "entries"}},
        {"hubphase_log: 1\nscenario: Allotment barrow\nscenario: Allotment barrow\nentries:\n",
         1,
         {AT "3:1: error: scenario is given a second time, must be there once: the first is in "
             "line 2"}},
    };
    CHECK_ALL(mistakes);
}

#define LEADS(leads) "hubphase_log: 1\nscenario: Allotment barrow\nleads: {" leads "}\nentries:\n"

static void leads_of_another_scenario(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {LEADS("motor_phases: [green, yellow, blue]"),
         1,
         {AT "3:9: error: leads.motor_phases differs from the scenario's leads, must be [yellow, "
             "green, blue]: what the log says was written down for other leads"}},
        {LEADS("motor_sensors: [yellow, green, red], controller_inputs: [yellow, blue]"),
         2,
         {"leads.motor_sensors differs", "leads.controller_inputs differs"}},
        {LEADS("controller_outputs: blue"), 1, {"leads.controller_outputs differs"}},
        {LEADS("motors: [a]"), 1, {"leads.motors is not known, must be motor_phases, "}},
        {"hubphase_log: 1\nscenario: Allotment barrow\nleads: [a]\nentries:\n",
         1,
         {"leads is a list, must be a mapping"}},
        {ENTRY("park: {plus_lead: red}"),
         1,
         {AT "5:21: error: entries[1].park.plus_lead is \"red\", must be one of this motor's phase "
             "leads: yellow, green or blue"}},
        {ENTRY("trial: {wiring: yellow green red / yellow green blue, throttle_percent: 30}"),
         1,
         {AT "5:19: error: entries[1].trial.wiring: \"red\" in \"yellow green red / yellow green "
             "blue\" is no Hall lead of this motor, must be one of U (yellow), V (green), W "
             "(blue)"}},
        {ENTRY("winding: {resistance_ohm: {red-green: 1}}"),
         1,
         {AT "5:30: error: entries[1].winding.resistance_ohm.red-green is not known, must be "
             "yellow-green, green-blue or blue-yellow"}},
        {ENTRY("controller_probe: {rows: {100: red > blue}}"),
         1,
         {"entries[1].controller_probe.rows.100 is \"red > blue\", must be"}},
        {ENTRY("mend: {part: phase_lead_open, lead: white}"),
         1,
         {"entries[1].mend.lead is \"white\", must be one of this motor's phase leads"}},
    };
    CHECK_ALL(mistakes);
}

static void wrong_entries_are_named(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {BENCH_HEAD "- nothing\n",
         1,
         {AT "4:3: error: entries[1] is \"nothing\", must be a mapping with a time"}},
        {BENCH_HEAD "- " BENCH_TIME "\n",
         1,
         {AT "4:3: error: entries[1] does not say what it is, must have one of pins, "
             "sensor_supply, hand_turn, winding, spin, park, controller_probe, controls, drag, "
             "contacts, hall_plug, "
             "trial, learn, mend"}},
        {BENCH_HEAD "- learn: {worked: no}\n", 1, {AT "4:3: error: entries[1].time is missing"}},
        {BENCH_HEAD "- learn: {worked: no}\n  time: 2026-11-31T10:00+01:00\n",
         1,
         {AT "5:9: error: entries[1].time is \"2026-11-31T10:00+01:00\", must be a time with its "
             "offset from UTC such as 2026-11-25T10:40:00+01:00"}},
        {BENCH_HEAD "- learn: {worked: no}\n  time: [1]\n", 1, {"entries[1].time is a list"}},
        {ENTRY("trail: {}"),
         1,
         {AT "5:3: error: entries[1].trail is not known, did you mean trial?"}},
        {ENTRY("hand turn: {}"), 1, {"entries[1].hand turn is not known, did you mean hand_turn?"}},
        {ENTRY("horn: {}"),
         1,
         {"entries[1].horn is not known, must be time, note, figures or one of pins"}},
        {ENTRY("learn: {worked: no}\n  park: {plus_lead: U}"),
         1,
         {AT "6:3: error: entries[1] has park beside learn, must have one: write two entries"}},
        {ENTRY("learn: {worked: no}\n  learn: {worked: no}"),
         1,
         {AT "6:3: error: entries[1].learn is given a second time, must be there once: the first "
             "is in line 5"}},
        {ENTRY("learn: {worked: no}\n  note: [a]"),
         1,
         {"entries[1].note is a list, must be a text"}},
        {ENTRY("learn: {worked: no}\n  ? [a]\n  : b"), 1, {"a key of entries[1] is no plain word"}},
        {ENTRY("learn:"),
         1,
         {"entries[1].learn has no value, must be a mapping with some of the "
          "keys worked"}},
        {ENTRY("learn: yes"), 1, {"entries[1].learn is \"yes\", must be a mapping"}},
    };
    CHECK_ALL(mistakes);
    char text[3000];
    snprintf(text, sizeof text, "%s- %s\n  learn: {worked: no}\n  note: %01100d\n", BENCH_HEAD,
             BENCH_TIME, 0);
    check_mistake(&(mistake){text, 1, {"entries[1].note is \"0000", "a text of 1 to 1023 bytes"}});
}

static void wrong_keys_are_named(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {ENTRY("trial: {wiring: 3, throttle_percent: 30, batery_a: 3}"),
         1,
         {AT "5:44: error: entries[1].trial.batery_a is not known, did you mean battery_a?"}},
        {ENTRY("trial: {wiring: 3, throttle_percent: 30, supply_v: 3}"),
         1,
         {"entries[1].trial.supply_v is not known here, it belongs to sensor_supply; trial has the "
          "keys wiring, throttle_percent, "}},
        {ENTRY("sensor_supply: {supply_v: 5, colour: red}"),
         1,
         {"entries[1].sensor_supply.colour is not known, must be one of supply_v"}},
        {ENTRY("trial: {wiring: 3, throttle_percent: 30, wiring: 4}"),
         1,
         {"entries[1].trial.wiring is given a second time, must be there once: the first is in "
          "line 5"}},
        {ENTRY("trial: {motion: forward}"),
         2,
         {AT "5:3: error: entries[1].trial.wiring is missing, must be a number from 1 to 36",
          "entries[1].trial.throttle_percent is missing, must be a number from 0 to 100 (%)"}},
        {ENTRY("winding: {resistance_ohm: {U-V: 1, V-U: 2}}"),
         1,
         {"entries[1].winding.resistance_ohm.V-U is given a second time"}},
        {ENTRY("winding: {resistance_ohm: {}}"),
         1,
         {"must be a number from 0 to 1000000 (ohm), or open, for each pair measured: "
          "yellow-green, green-blue or blue-yellow"}},
        {ENTRY("winding: {resistance_ohm: {[a]: 1}}"),
         1,
         {"a key of entries[1].winding.resistance_ohm is no plain word"}},
        {ENTRY("trial: {wiring: 3, throttle_percent: 30, starts: 3}"),
         1,
         {"entries[1].trial.starts_tried is missing, must be there beside "
          "entries[1].trial.starts"}},
        {ENTRY("mend: {part: clutch, lead: U}"),
         1,
         {"entries[1].mend.lead is given, but this part has no lead: leave it out"}},
        {ENTRY("mend: {part: sensor_stuck_high}"),
         1,
         {"entries[1].mend.lead is missing, must be the mended sensor lead"}},
        {ENTRY("mend: {part: wheel, lead: U}"),
         1,
         {"entries[1].mend.part is \"wheel\", must be sensor_stuck_high, sensor_stuck_low, "
          "inverted_sensor, phase_lead_open, clutch, controller, other_controller, key, throttle, "
          "brake_left, "
          "brake_right, pedal_sensor, speed_switch, battery, protection, loose_lead or "
          "unlisted"}},
        {ENTRY("trial: {wiring: 12, throttle_percent: 40}"),
         1,
         {"entries[1].trial.motion is missing, must be there unless something else was seen"}},
    };
    CHECK_ALL(mistakes);
}

#define SUPPLY(value) ENTRY("sensor_supply: {supply_v: " value "}")
#define TURN(codes)   ENTRY("hand_turn: {codes: " codes "}")
#define TRIAL(values) ENTRY("trial: {wiring: 3, throttle_percent: 30, " values "}")

static void wrong_values_are_named(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {SUPPLY("200.5"),
         1,
         {AT "5:29: error: entries[1].sensor_supply.supply_v is 200.5, must be a number from -200 "
             "to 200 (V)"}},
        {ENTRY("hub: {}"),
         1,
         {"entries[1].hub says nothing of what was found, must have at least one of pricks, "
          "bearings, inside"}},
        {ENTRY("sensor_supply:\n    supply_v: 5,1"), 1, {"write 5.1, with a decimal point"}},
        {SUPPLY("5 V"), 1, {"write 5 alone, without the unit"}},
        {SUPPLY(".nan"), 1, {"it must be finite"}},
        {TURN("[101, 120]"),
         1,
         {"entries[1].hand_turn.codes[2] is 120, must be three digits 0 or 1 such as \"110\""}},
        {TURN("[]"), 1, {"entries[1].hand_turn.codes is a list, must be 1 to 24 codes"}},
        {TURN("1010"), 1, {"entries[1].hand_turn.codes is 1010, must be 1 to 24 codes"}},
        {TURN("[000,000,000,000,000,000,000,000,000,000,000,000,000,000,000,000,000,000,000,000,"
              "000,000,000,000,000]"),
         1,
         {"entries[1].hand_turn.codes has more than 24 codes, must have at most so many"}},
        {ENTRY("hand_turn: {codes: [101], direction: left, edges_per_wheel_turn: 0}"),
         2,
         {"direction is \"left\", must be forward or backward",
          "edges_per_wheel_turn is 0, must be a whole number from 1 to 100000"}},
        {ENTRY("winding: {resistance_ohm: {U-V: -1, V-W: shut}, winding_c: 300}"),
         3,
         {"resistance_ohm.U-V is -1, must be a number from 0 to 1000000 (ohm)",
          "resistance_ohm.V-W is \"shut\", must be a number from 0 to 1000000 (ohm), or open",
          "winding_c is 300, must be a number from -40 to 200 (degrees C)"}},
        {ENTRY("spin: {voltage_v: {U-V: open}, wheel_speed_rpm: 0, meter: digital}"),
         3,
         {"voltage_v.U-V is \"open\", must be a number from 0 to 1000 (V)",
          "wheel_speed_rpm is 0, must be a number above 0 and at most 9549 (rpm)",
          "meter is \"digital\", must be rms, average or peak"}},
        {ENTRY("park: {plus_lead: U, code: 21}"), 1, {"code is 21, must be three digits 0 or 1"}},
        {ENTRY("controller_probe: {rows: {102: off}}"),
         1,
         {"rows.102 is not known, must be three digits 0 or 1 such as \"100\""}},
        {ENTRY("controller_probe: {rows: {100: U > U}}"), 1, {"rows.100 is \"U > U\", must be"}},
        {ENTRY("controller_probe: {rows: {100: off, \"100\": off}}"),
         1,
         {"rows.100 is given a second time"}},
        {ENTRY("trial: {wiring: 37, throttle_percent: 130}"),
         2,
         {"trial.wiring: wiring 37 does not exist, must be 1 to 36",
          "throttle_percent is 130, must be a number from 0 to 100 (%)"}},
        {TRIAL("motion: sideways, feel: nice, warm: perhaps"),
         3,
         {"motion is \"sideways\", must be forward, backward, both, hum, shiver or still",
          "feel is \"nice\", must be smooth, rough or noisy",
          "warm is \"perhaps\", must be yes or no"}},
        {TRIAL("starts: 4, starts_tried: 3"), 1, {"entries[1].trial: starts is 4, must be 0 to 3"}},
        {TRIAL("motion: still, starts: 1, starts_tried: 3"),
         1,
         {"entries[1].trial: it did not turn, yet started from 1 start positions"}},
        {TRIAL("battery_a: -1, wheel_speed_rpm: 99999"),
         2,
         {"battery_a is -1, must be a number from 0 to 1000 (A)", "wheel_speed_rpm is 99999"}},
        {ENTRY("pins: {continuity: {U-V: maybe}, touches_shell: 1}"),
         2,
         {"continuity.U-V is \"maybe\", must be yes or no",
          "touches_shell is 1, must be yes or no"}},
    };
    CHECK_ALL(mistakes);
}

#define PLUG(phases, sensors, plus, minus)                                                         \
    ENTRY("pins: {phase_pins: {" phases "}, sensor_pins: {" sensors "}, supply_plus_pin: " plus    \
          ", supply_minus_pin: " minus "}")

/* Rows of moments: each with its figure, each after the one before, what is weighed with its
 * radius. */
static void moments_of_a_run_follow_one_another(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {ENTRY("coast_down: {coast_from_rpm: 210, after_1_s: 2, coast_s: 9}"),
         1,
         {"coast_down.after_1_rpm is missing, must be there beside "
          "entries[1].coast_down.after_1_s"}},
        {ENTRY("coast_down: {coast_from_rpm: 210, after_1_s: 4, after_1_rpm: 150, after_2_s: 3, "
               "after_2_rpm: 90}"),
         1,
         {"coast_down.after_2_s is 3, must be more than entries[1].coast_down.after_1_s (4)"}},
        {ENTRY("coast_down: {coast_from_rpm: 210, after_1_s: 2, after_1_rpm: 150, after_2_s: 3, "
               "after_2_rpm: 160}"),
         1,
         {"coast_down.after_1_rpm is 150, must be more than entries[1].coast_down.after_2_rpm"}},
        {ENTRY("coast_down: {coast_from_rpm: 210, coast_s: 9, rim_kg: 1.3}"),
         1,
         {"coast_down.rim_radius_m is missing, must be there beside entries[1].coast_down.rim_kg"}},
        {ENTRY("coast_down: {coast_from_rpm: 210, coast_s: 9, ring_radius_m: 0.1}"),
         1,
         {"coast_down.ring_kg is missing, must be there beside"}},
        {ENTRY("heating: {heating_a: 15, start_v: 3, heated_1_s: 30}"),
         1,
         {"heating.heated_1_v is missing, must be there beside entries[1].heating.heated_1_s"}},
        {ENTRY("heating: {heating_a: 15, start_v: 3, heated_1_s: 30, heated_1_v: 3.1, heated_2_s: "
               "20, heated_2_v: 3.2}"),
         1,
         {"heating.heated_2_s is 20, must be more than entries[1].heating.heated_1_s (30)"}},
        {ENTRY("heating: {heating_a: 15, start_v: 3, heated_1_s: 30, heated_1_v: 3.1, heating_s: "
               "20}"),
         1,
         {"heating.heating_s is 20, must be more than entries[1].heating.heated_1_s (30)"}},
        {ENTRY(
             "heating: {heating_a: 15, start_v: 3, heating_s: 60, rested_1_s: 30, rested_1_v: 3.1, "
             "rested_2_s: 30, rested_2_v: 3}"),
         1,
         {"heating.rested_2_s is 30, must be more than entries[1].heating.rested_1_s (30)"}},
    };
    CHECK_ALL(mistakes);
}

static void every_lead_one_pin_and_no_pin_twice(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {PLUG("U: 1, V: 2, W: 3", "U: 4, V: 5, W: 2", "7", "8"),
         1,
         {"entries[1].pins.sensor_pins gives pin 2 to Hall lead blue, which has phase lead green "
          "already: no pin twice"}},
        {PLUG("U: 1, V: 2, W: 3", "U: 4, V: 5, W: 6", "7", "7"),
         1,
         {"supply_minus_pin gives pin 7 to Hall minus, which has Hall plus already"}},
        {PLUG("U: 1, V: 2", "U: 4, V: 5, W: 6", "7", "8"),
         1,
         {"entries[1].pins.phase_pins says no pin for phase lead blue, must name one pin for every "
          "lead"}},
        {ENTRY("pins: {supply_plus_pin: 1}"), 7, {"says no pin for Hall lead yellow"}},
        {PLUG("U: 1, V: 2, red: 3", "U: 4, V: 5, W: 6", "7", "8"),
         1,
         {"phase_pins.red is not known, must be yellow, green or blue"}},
        {PLUG("U: 1, V: 2, yellow: 3", "U: 4, V: 5, W: 6", "7", "8"),
         1,
         {"phase_pins.yellow is given a second time"}},
        {PLUG("U: 1, V: 2, W: [3]", "U: 4, V: 5, W: 6", "7", "8"),
         1,
         {"phase_pins.W is a list, must be a text in one line of 1 to 31 bytes"}},
    };
    CHECK_ALL(mistakes);
}

#define PLACED(phases, sensors, plus, minus, more)                                                 \
    ENTRY("pins: {phase_pins: {" phases "}, sensor_pins: {" sensors "}, supply_plus_pin: " plus    \
          ", supply_minus_pin: " minus more "}")

/* A place says nothing before it is known in which face it was seen. */
static void places_of_pins_need_the_half_they_were_seen_in(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {PLUG("U: 3h, V: 5h, W: 7h", "U: 1, V: 2, W: 4", "8", "9"),
         1,
         {"entries[1].pins.half_seen is not said, must be motor or controller"}},
        {PLACED("U: 3h, V: 5h, W: 7h", "U: 1, V: 2, W: 90 degrees", "8", "9", ", half_seen: motor"),
         1,
         {"gives pin 90 degrees to Hall lead blue, which has phase lead yellow already"}},
        {PLACED("U: A, V: B, W: C", "U: r1 c1, V: r1 c2, W: r1 c5", "8", "9",
                ", half_seen: controller, plug_columns: 4"),
         1,
         {"plug_columns is 4, must be at least 5: a pin sits in that column"}},
        {PLACED("U: 14 o'clock, V: B, W: C", "U: 1, V: 2, W: 3", "row 1", "9",
                ", half_seen: motor"),
         2,
         {"phase_pins.U is \"14 o'clock\", must be a place such as \"3 o'clock outer\"",
          "supply_plus_pin is \"row 1\", must be a place"}},
        {PLACED("U: A, V: B, W: C", "U: r1 c1, V: r1 c2, W: r1 c5", "8", "9", ", half_seen: mine"),
         1,
         {"half_seen is \"mine\", must be motor or controller"}},
    };
    CHECK_ALL(mistakes);
}

static void all_problems_in_one_go(void **state)
{
    (void)state;
    char text[20000] = BENCH_HEAD;
    for (int k = 0; k < 60; k++)
        strcat(text, "- " BENCH_TIME "\n  park: {plus_lead: red}\n");
    check_mistake(&(mistake){text, 60, {AT "5:21: error: entries[1]", "... and 20 more\n"}});
}

static void bytes_that_are_no_text(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {BENCH_HEAD "# gr\xFCn\n",
         1,
         {AT "4:5: error: byte 0xFC is not UTF-8, must be plain text"}},
        {BENCH_HEAD "# \x01\n", 1, {"control character U+0001"}},
        {BENCH_HEAD "- [\n", 1, {"not proper YAML"}},
        {BENCH_HEAD "- &a b\n", 1, {"an anchor or alias"}},
        {BENCH_HEAD "---\na: b\n", 1, {"a second document begins, a file must hold one bench log"}},
        {"[[[[[[[[[[[[[[[[[[[[[[[[",
         1,
         {"nested deeper than 16, must be flatter: a bench log needs"}},
    };
    CHECK_ALL(mistakes);
    static const char utf16[] = "\xFF\xFEh\0u\0b\0";
    logged l = bench_load_bytes(&scenario, FILE_NAME, utf16, sizeof utf16);
    check_int(l.result, HP_FAIL_INPUT);
    check_text_contains(l.printed, "the text is UTF-16, must be UTF-8");
    logged_free(&l);
}

static void files_that_cannot_be_read(void **state)
{
    (void)state;
    size_t huge = HP_SCENARIO_BYTES_MAX + 1;
    char *text = malloc(huge);
    memset(text, '#', huge);
    logged l = bench_load_bytes(&scenario, FILE_NAME, text, huge);
    check_int(l.result, HP_FAIL_INPUT);
    check_text_contains(l.err.text, "is too large for a bench log, must be at most 1048576 bytes");
    logged_free(&l);
    free(text);
    check_int(mkdir(FILE_NAME, 0777), 0);
    l = bench_load_path(&scenario, FILE_NAME);
    check_int(l.result, HP_FAIL_IO);
    check_text_contains(l.err.text, "is a folder, must be a bench log file");
    logged_free(&l);
    check_int(rmdir(FILE_NAME), 0);
    check_int(symlink("nothing", FILE_NAME), 0);
    l = bench_load_path(&scenario, FILE_NAME);
    check_int(l.result, HP_FAIL_IO);
    check_text_contains(l.err.text, "is a link to a file that is not there");
    logged_free(&l);
    check_int(unlink(FILE_NAME), 0);
}

/* Damage of every kind to a good log: read or refused with a message, never a crash. */
static void damaged_logs_are_refused(void **state)
{
    (void)state;
    FILE *file = fopen(HP_SCENARIO_DIR "/barrow.bench.yaml", "rb");
    assert_non_null(file);
    static char good[20000], bad[20002];
    size_t size = fread(good, 1, sizeof good, file);
    fclose(file);
    static const char strange[] = "\n {}[]:,-\"'#&*!|>%@`\\\t\xFF\x00"
                                  "0";
    int refused = 0, read = 0;
    for (size_t at = 0; at < size; at += 3) {
        size_t left = size;
        memcpy(bad, good, size);
        switch (at % 4) {
        case 0: bad[at] = strange[at / 4 % (sizeof strange - 1)]; break;
        case 1: left = at; break; /* cut off */
        case 2: memmove(bad + at, bad + at + 1, --left - at); break;
        default:
            memmove(bad + at + 1, good + at, left++ - at);
            bad[at] = strange[at / 4 % (sizeof strange - 1)];
        }
        logged l = bench_load_bytes(&scenario, FILE_NAME, bad, left);
        check_true(l.result == HP_OK ||
                       (l.result == HP_FAIL_INPUT && l.printed[0] && l.err.text[0]),
                   "byte %zu: %s", at, l.err.text);
        refused += l.result != HP_OK;
        read += l.result == HP_OK;
        logged_free(&l);
    }
    check_true(refused > 100 && read > 50, "%d refused, %d read", refused, read);
}

/* ---- the demo log and the document about it -------------------------------------------------- */

static void the_demo_log_is_read(void **state)
{
    (void)state;
    logged l = bench_load_path(&scenario, HP_SCENARIO_DIR "/barrow.bench.yaml");
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    check_int(l.log.count, 7);
    check_true(l.log.entry[0].entry.pins.plug.given, "no pins");
    check_int(hp_wiring_number(&l.log.entry[6].entry.trial.wiring), 1);
    logged_free(&l);
}

static void document_holds_the_demo_log_and_every_key(void **state)
{
    (void)state;
    char *log = slurp(HP_SCENARIO_DIR "/barrow.bench.yaml"), name[80];
    char *document = slurp(HP_SCENARIO_DIR "/../docs/benchlog.md");
    check_text_contains(document, log);
    for (int kind = 0; hp_readings[kind]; kind++) {
        for (const hp_field *field = hp_readings[kind]->fields; field->name; field++) {
            snprintf(name, sizeof name, "`%s`", field->name);
            check_text_contains(document, name);
            for (int k = 0; field->words && field->words[k]; k++) {
                snprintf(name, sizeof name, "`%s`", field->words[k]);
                check_text_contains(document, name);
            }
        }
        snprintf(name, sizeof name, "\n### `%s`", hp_readings[kind]->name);
        check_text_contains(document, name);
        check_true(hp_fields_count(hp_readings[kind]) <= HP_FIELDS_MAX, "too many keys");
    }
    free(document);
    free(log);
}

int main(void)
{
    scenario = bench_scenario();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wrong_head_is_named),
        cmocka_unit_test(leads_of_another_scenario),
        cmocka_unit_test(wrong_entries_are_named),
        cmocka_unit_test(wrong_keys_are_named),
        cmocka_unit_test(wrong_values_are_named),
        cmocka_unit_test(moments_of_a_run_follow_one_another),
        cmocka_unit_test(every_lead_one_pin_and_no_pin_twice),
        cmocka_unit_test(places_of_pins_need_the_half_they_were_seen_in),
        cmocka_unit_test(all_problems_in_one_go),
        cmocka_unit_test(bytes_that_are_no_text),
        cmocka_unit_test(files_that_cannot_be_read),
        cmocka_unit_test(damaged_logs_are_refused),
        cmocka_unit_test(the_demo_log_is_read),
        cmocka_unit_test(document_holds_the_demo_log_and_every_key),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    hp_scenario_free(&scenario);
    return failed;
}
