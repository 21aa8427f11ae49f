/*
 * Scenario files that are wrong: each mistake by its message, all in one go, nothing loaded.
 */
#include "scenario_text.h"

#include <sys/stat.h>
#include <unistd.h>

#define FILE_NAME "test_scenario_errors.yaml"
#define AT        FILE_NAME ":"

/* Lines 1 to 5 of a file that is right. */
#define GOOD                                                                                       \
    "hubphase: 1\n"                                                                                \
    "motor:\n"                                                                                     \
    "  pole_pairs: 23\n"                                                                           \
    "  resistance_between_leads_ohm: 0.21\n"                                                       \
    "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"

typedef struct mistake {
    const char *text;
    int problems;            /* how many come out of it */
    const char *expected[3]; /* parts of what is printed, NULL-ended */
} mistake;

static void check_mistake(const mistake *m)
{
    loaded l = scenario_load_text(FILE_NAME, m->text);
    char summary[80];
    check_true(l.result == HP_FAIL_INPUT, "accepted:\n%s", m->text);
    check_int(l.err.code, HP_FAIL_INPUT);
    snprintf(summary, sizeof summary, FILE_NAME " has %d problem%s", m->problems,
             m->problems == 1 ? "" : "s");
    check_true(strcmp(l.err.text, summary) == 0, "\"%s\", not \"%s\":\n%s", l.err.text, summary,
               l.printed);
    for (size_t k = 0; k < 3 && m->expected[k]; k++)
        check_text_contains(l.printed, m->expected[k]);
    /* Left empty. */
    check_int((long long)l.scenario.parameters.count, 0);
    check_int(l.scenario.drive.motor.pole_pairs, 0);
    assert_null(l.scenario.about);
    loaded_free(&l);
}

#define CHECK_ALL(mistakes)                                                                        \
    for (size_t check_k = 0; check_k < sizeof(mistakes) / sizeof(mistakes)[0]; check_k++)          \
    check_mistake(&(mistakes)[check_k])

/* Words are filled, and the line of the file is cut so that the mark stays under its place. */
static void problems_keep_to_the_columns_of_a_screen(void **state)
{
    (void)state;
    static const char text[] = "hubphase: 1\nmotor: {pole_pairs: 23, resistance_between_leads_ohm: "
                               "-0.21, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n";
    for (int columns = 50; columns <= 110; columns += 20) {
        char *printed = NULL, *rest = NULL, before[400] = "", *line;
        size_t size = 0;
        hp_scenario scenario;
        hp_error err = hp_error_none();
        FILE *file = fopen(FILE_NAME, "w"), *out = open_memstream(&printed, &size);
        assert_true(file && out);
        fputs(text, file);
        assert_int_equal(fclose(file), 0);
        const hp_screen screen = {.file = out, .columns = columns};
        check_int(hp_scenario_load_on(FILE_NAME, &scenario, &screen, &err), HP_FAIL_INPUT);
        fclose(out);
        bool marked = false;
        for (line = strtok_r(printed, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
            check_true((int)strlen(line) <= columns, "%d columns: %s", columns, line);
            size_t at = strspn(line, " ");
            if (line[at] == '^') {
                check_true(strncmp(before + at, "-0.21", 5) == 0, "%s marks %s", line, before + at);
                marked = true;
            }
            snprintf(before, sizeof before, "%s", line);
        }
        assert_true(marked);
        free(printed);
        unlink(FILE_NAME);
    }
}

static void block_has_place_key_value_expectation_line_and_mark(void **state)
{
    (void)state;
    loaded l = scenario_load_text(FILE_NAME, GOOD "supply:\n  battery_v: 36 V\n");
    assert_string_equal(l.printed, AT
                        "7:14: error: supply.battery_v is \"36 V\", must be a number above 0 and "
                        "at most 200 (V): write 36 alone, without the unit\n"
                        "  battery_v: 36 V\n"
                        "             ^~~~\n");
    assert_string_equal(l.err.text, FILE_NAME " has 1 problem");
    loaded_free(&l);
}

static void all_problems_in_one_go_in_the_order_of_the_file(void **state)
{
    (void)state;
    loaded l = scenario_load_text(FILE_NAME, "motor:\n"
                                             "  magnets: 45\n"
                                             "  inductance_between_leads_mh: '0.4'\n"
                                             "controler: {}\n"
                                             "supply: {battery_v: .inf, battery_v: 36}\n"
                                             "run: {seconds: 1, settle_seconds: 2}\n");
    static const char *const places[] = {
        "1:1: error: motor.resistance_between_leads_ohm is missing",
        "1:1: error: the motor's back-EMF is missing",
        "2:12: error: motor.magnets is 45, must be even",
        "3:32: error: motor.inductance_between_leads_mh",
        "4:1: error: controler is not known",
        "5:21: error: supply.battery_v is \".inf\"",
        "5:27: error: supply.battery_v is given a second time",
        "6:35: error: run.settle_seconds is 2"};
    const char *at = l.printed;
    check_text_contains(l.printed, FILE_NAME ": error: hubphase is missing, must be there as "
                                             "`hubphase: 1`");
    for (size_t k = 0; k < sizeof places / sizeof places[0]; k++) {
        const char *found = strstr(at, places[k]);
        check_true(found != NULL, "\"%s\" is not next in:\n%s", places[k], l.printed);
        at = found;
    }
    assert_string_equal(l.err.text, FILE_NAME " has 9 problems");
    loaded_free(&l);
}

static void without_a_stream_for_diagnostics(void **state)
{
    (void)state;
    hp_scenario scenario;
    hp_error err = hp_error_none();
    scenario_file_write(FILE_NAME, "a: b\n", 5);
    check_int(hp_scenario_load(FILE_NAME, &scenario, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "problem");
    check_int(hp_scenario_load(FILE_NAME, &scenario, NULL, NULL), HP_FAIL_INPUT);
    remove(FILE_NAME);
}

static void missing_keys(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {"hubphase: 1\n",
         3,
         {FILE_NAME
          ": error: motor.pole_pairs is missing, must be a whole number from 1 to 100 (or "
          "give motor.magnets)",
          FILE_NAME
          ": error: motor.resistance_between_leads_ohm is missing, must be a number above "
          "0 and at most 20 (ohm)",
          FILE_NAME ": error: the motor's back-EMF is missing, must be one of "
                    "motor.no_load_speed_rpm_at_v, motor.backemf_peak_v_per_krpm, "
                    "motor.backemf_rms_v_per_krpm and motor.torque_constant_nm_per_a"}},
        {"hubphase: 1\nmotor: {magnets: 4, resistance_between_leads_ohm: 1, "
         "no_load_speed_rpm_at_v: "
         "{speed_rpm: 99}}\n",
         1,
         {AT "2:54: error: motor.no_load_speed_rpm_at_v.volts is missing, must be the voltage that "
             "gave this speed"}},
        {GOOD "stand: {no_load_current_a_at_v: {volts: 36}}\n",
         1,
         {AT "6:9: error: stand.no_load_current_a_at_v.current_a is missing, must be the battery's "
             "current in A"}},
        {GOOD "  backemf: {shape: fourier}\n",
         1,
         {AT "6:3: error: motor.backemf.harmonics is missing, must be a list of mappings such as "
             "{n: 1, cosine: 0, sine: -1}"}},
        {GOOD "supply:\n",
         1,
         {AT "6:1: error: supply has no value, must be a mapping with some of "
             "the keys battery_v, resistance_mohm"}},
        {GOOD "supply: {battery_v: }\n", 1, {AT "6:10: error: supply.battery_v has no value"}},
    };
    CHECK_ALL(mistakes);
}

static void unknown_and_duplicate_keys(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "contoller: {}\n",
         1,
         {AT "6:1: error: contoller is not known, did you mean controller?"}},
        {GOOD "  cogging_peak_mn: 1\n",
         1,
         {AT "6:3: error: motor.cogging_peak_mn is not known, did you mean cogging_peak_nm?"}},
        {GOOD "  inertia_kg_m2: 1\n",
         1,
         {"motor.inertia_kg_m2 is not known, did you mean rotor_inertia_kg_m2?"}},
        {GOOD "  battery_v: 36\n",
         1,
         {"motor.battery_v is not known here, did you mean supply.battery_v?"}},
        {GOOD "supply: {xyz: 36}\n",
         1,
         {"supply.xyz is not known, must be one of battery_v, resistance_mohm"}},
        {GOOD "leads: {motor_phases: {A: red}}\n",
         1,
         {"leads.motor_phases.A is not known, must be one of U, V, W"}},
        {GOOD "  pole_pairs: 23\n",
         1,
         {AT
          "6:3: error: motor.pole_pairs is given a second time, must be there once: the first is "
          "in line 3"}},
        {GOOD "motor: {}\n", 1, {AT "6:1: error: motor is given a second time"}},
        {GOOD "? [a, b]\n: 1\n", 1, {AT "6:4: error: a key is no plain word, must be one"}},
        {GOOD "supply: {\"\": 1}\n", 1, {AT "6:10: error: a key of supply is no plain word"}},
        {GOOD "<<: {battery_v: 36}\n", 1, {"<< is not known"}},
    };
    CHECK_ALL(mistakes);
}

#define SUPPLY(value) GOOD "supply: {battery_v: " value "}\n"
#define STEPS(value)  GOOD "controller:\n  speed_steps_percent: " value "\n"
#define SPEED(value)                                                                               \
    "hubphase: 1\nmotor:\n  pole_pairs: 23\n  resistance_between_leads_ohm: 0.21\n"                \
    "  no_load_speed_rpm_at_v: {speed_rpm: " value ", volts: 36}\n"
#define NUMBER "must be a number above 0 and at most 200 (V)"

static void what_is_no_number_or_out_of_range(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "supply:\n  battery_v: 36,5\n",
         1,
         {"7:14: error: supply.battery_v is \"36,5\", " NUMBER
          ": write 36.5, with a decimal point"}},
        {SUPPLY("36V"), 1, {"is \"36V\", " NUMBER ": write 36 alone, without the unit"}},
        {SUPPLY("36.5 volts"), 1, {"give it in V, and write the number alone"}},
        {GOOD "stand: {gear_ratio: 4x}\n", 1, {"write 4 alone, it has no unit"}},
        {GOOD "controller: {throttle_percent: 40 %}\n", 1, {"write 40 alone, without the unit"}},
        /* What is told to be written must be good then. */
        {GOOD "controller: {throttle_percent: 140 %}\n", 1, {"(%): without the unit\n"}},
        {GOOD "controller:\n  throttle_percent: 1.140,5\n",
         1,
         {"(%): write the digits without gaps"}},
        {GOOD "run:\n  settle_seconds: 1.215,5\n", 1, {"write 1215.5, without gaps"}},
        {GOOD "bench: {rest_angles: 2.5 V}\n", 1, {": it has no unit\n"}},
        {GOOD "bench:\n  rest_angles: 2,5\n", 1, {"from 1 to 10\n"}},
        {SUPPLY(".nan"), 1, {"is \".nan\", " NUMBER ": it must be finite"}},
        {SUPPLY("NaN"), 1, {"is \"NaN\", " NUMBER ": it must be finite"}},
        {SUPPLY("-.inf"), 1, {"is \"-.inf\", " NUMBER ": it must be finite"}},
        {SUPPLY("inf"), 1, {"is \"inf\", " NUMBER ": it must be finite"}},
        {SUPPLY("1e999"), 1, {"is \"1e999\", " NUMBER ": it must be finite"}},
        {SUPPLY("1e-999"), 1, {"is 1e-999, " NUMBER "\n"}},
        {SUPPLY("0"), 1, {"is 0, " NUMBER "\n"}},
        {SUPPLY("-36"), 1, {"is -36, " NUMBER "\n"}},
        {SUPPLY("200.01"), 1, {"is 200.01, " NUMBER "\n"}},
        /* Several in one entry of a list are told apart; digits with gaps are not several. */
        {STEPS("[50 75 100]"),
         1,
         {"[1] is \"50 75 100\"", ": put commas between them: 50, 75, 100\n"}},
        {STEPS("50 75 100"), 1, {"[40, 70, 100]: put commas between them: 50, 75, 100\n"}},
        {STEPS("[50 75, 100]"), 1, {"[1] is \"50 75\"", ": put commas between them: 50, 75\n"}},
        {STEPS("[50 175 100]"), 1, {"(%): put commas between them\n"}},
        {STEPS("[50% 75%]"), 1, {": put commas between them: 50, 75\n"}},
        {STEPS("[50%]"), 1, {": write 50 alone, without the unit\n"}},
        {STEPS("[50 km/h]"), 1, {": give it in %, and write the number alone\n"}},
        {STEPS("[1_0]"), 1, {": write the digits without gaps\n"}},
        {STEPS("['50/75/100']"), 1, {": put commas between them: 50, 75, 100\n"}},
        {STEPS("fast"), 1, {"[40, 70, 100]\n"}},
        /* A speed as a display shows it: pi times 559 and twice 47 mm, 25 / 3.6 / 2.0514 * 60. */
        {SPEED("25 km/h") "vehicle: {tyre: 47-559}\n",
         1,
         {"write the number alone; 25 km/h is 203 rev/min of this wheel"}},
        {SPEED("24.5KMH") "vehicle: {tyre: 47-559}\n",
         1,
         {"; 24.5 km/h is 199 rev/min of this wheel"}},
        {SPEED("25 kph") "vehicle: {tyre: nothing}\n",
         2,
         {"16.67 times the km/h, over the metres"}},
        {SPEED("25 km/h"), 1, {"; 16.67 times the km/h, over the metres"}},
        {SPEED("25 mph"), 1, {"give it in rev/min, and write the number alone\n"}},
        {SPEED("-25 km/h"), 1, {"give it in rev/min, and write the number alone\n"}},
        {SUPPLY("1_0"), 1, {": write the digits without gaps"}},
        {SUPPLY("1 000"), 1, {": write the digits without gaps"}},
        {SUPPLY("0x24"), 1, {": write it in decimal"}},
        {SUPPLY("'36'"), 1, {"is \"36\", " NUMBER ": without quotes"}},
        {SUPPLY("\"\""), 1, {"is \"\", " NUMBER "\n"}},
        {SUPPLY("\"5/5\""), 1, {"is \"5/5\", " NUMBER "\n"}},
        {SUPPLY("yes"), 1, {"is \"yes\", " NUMBER "\n"}},
        {SUPPLY("~"), 1, {"is \"~\", " NUMBER "\n"}},
        {SUPPLY("+"), 1, {"is \"+\", " NUMBER "\n"}},
        {SUPPLY("3e"), 1, {"is \"3e\", " NUMBER}},
        {SUPPLY("[36]"), 1, {"6:22: error: supply.battery_v is a list, " NUMBER}},
        {SUPPLY("{v: 36}"), 1, {"supply.battery_v is a mapping, " NUMBER}},
        {SUPPLY("none"), 1, {"is \"none\", " NUMBER "\n"}},
        {SUPPLY("36363636363636363636363636363636363636363636363636363636363636363636363636363636"),
         1,
         {"is \"36363636363636363636363636363636363636363636363...\", " NUMBER}},
        {GOOD "  cogging_periods_per_electrical_turn: 6.5\n",
         1,
         {"is 6.5, must be a whole number from 1 to 1000"}},
        {GOOD "controller: {battery_current_limit_a: 0}\n",
         1,
         {"is 0, must be a number above 0 and at most 10000 (A), or none: write none to switch it "
          "off"}},
        {GOOD "sensors: {hysteresis_deg: 0}\n",
         1,
         {"is 0, must be a number from 0.01 to 20 (electrical degrees)"}},
        {GOOD "sensors: {hysteresis_deg: 20.5}\n",
         1,
         {"is 20.5, must be a number from 0.01 to 20 (electrical degrees)"}},
        {"hubphase: 2"
         "\nmotor: {magnets: 4, resistance_between_leads_ohm: 1, "
         "torque_constant_nm_per_a: 1}\n",
         1,
         {AT "1:11: error: hubphase is 2, must be 1\n"}},
    };
    CHECK_ALL(mistakes);
}

static void words_and_texts(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "  backemf: {shape: Sinus}\n",
         1,
         {"6:20: error: motor.backemf.shape is \"Sinus\", must be sinusoidal, trapezoidal or "
          "fourier"}},
        {GOOD "  open_lead: [U, V]\n", 1, {"motor.open_lead is a list, must be none, U, V or W"}},
        {GOOD "sensors: {spacing_deg: 90}\n", 1, {"is 90, must be 120 or 60"}},
        {GOOD "sensors: {powered: perhaps}\n", 1, {"is \"perhaps\", must be yes or no"}},
        {GOOD "sensors: {powered: \"yes\"}\n", 1, {"must be yes or no: without quotes"}},
        {GOOD "sensors: {powered: 1}\n", 1, {"is 1, must be yes or no"}},
        {GOOD "name: \"\"\n", 1, {"name is \"\", must be a text in one line of 1 to 127 bytes"}},
        {GOOD "name: \"a\\nb\"\n",
         1,
         {"must be a text in one line of 1 to 127 bytes: without control"}},
        {GOOD "name: \"a\\e[2Jb\"\n", 1, {"name is \"a?[2Jb\", must be a text in one line"}},
        {GOOD "name: \"a\\u0085b\"\n", 1, {": without control characters"}},
        {GOOD "name: \"a\\0b\"\n", 1, {"must be a text in one line of 1 to 127 bytes"}},
        {GOOD "name: [a]\n", 1, {"name is a list, must be a text"}},
        {GOOD "about: {a: b}\n", 1, {"about is a mapping, must be a text of 1 to 4095 bytes"}},
        {GOOD "about: \"a\\ab\"\n",
         1,
         {"about is \"a?b\", must be a text of 1 to 4095 bytes: without"}},
    };
    CHECK_ALL(mistakes);
    char text[6000];
    snprintf(text, sizeof text, "%sabout: %04500d\nname: %0130d\n", GOOD, 0, 0);
    check_mistake(
        &(mistake){text, 2, {"about is \"0000", "must be a text of 1 to 4095 bytes", "127 bytes"}});
}

static void labels_that_cannot_be(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "leads: {motor_phases: {U: red, V: blue, W: red}}\n",
         1,
         {"6:44: error: leads.motor_phases.W is \"red\", must differ from leads.motor_phases.U"}},
        {GOOD "leads: {motor_sensors: {U: Red, V: RED}}\n",
         1,
         {"leads.motor_sensors.V is \"RED\", must differ from leads.motor_sensors.U"}},
        /* Against a default: the one in the file is to blame. */
        {GOOD "leads: {controller_inputs: {U: w}}\n",
         1,
         {"leads.controller_inputs.U is \"w\", must differ from leads.controller_inputs.W"}},
        {GOOD "leads: {controller_outputs: {U: \" red\", V: \"blue,\", W: \"a/\"}}\n",
         3,
         {"leads.controller_outputs.U is \" red\", must be a text in one line of 1 to 63 bytes: "
          "without a blank, a comma or a slash at its ends",
          "leads.controller_outputs.V is \"blue,\"", "leads.controller_outputs.W is \"a/\""}},
        {GOOD "leads: {controller_outputs: {U: "
              "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa}}\n",
         1,
         {"must be a text in one line of 1 to 63 bytes\n"}},
        {GOOD "leads: {motor_phases: [red, blue, green]}\n",
         1,
         {"leads.motor_phases is a list, must be a mapping with some of the keys U, V, W"}},
    };
    CHECK_ALL(mistakes);
}

#define HUB_OF_BEFORE "hubphase: 1\nmotor: {magnets: 46, resistance_between_leads_ohm: "
#define HUB_OF_AFTER  ", no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n"
#define HUB_OF(ohm)   HUB_OF_BEFORE ohm HUB_OF_AFTER

/* The word is for figures that are too large; 20 ohm and the default inductance go together. */
static void milliohm_are_named_for_large_figures_only(void **state)
{
    (void)state;
    static const char *const wrong[] = {"-340", "0", "'340 ohm'", "[340]", "oops"};
    for (size_t k = 0; k < sizeof wrong / sizeof wrong[0]; k++) {
        char text[300];
        snprintf(text, sizeof text, "%s%s%s", HUB_OF_BEFORE, wrong[k], HUB_OF_AFTER);
        loaded l = scenario_load_text(FILE_NAME, text);
        check_int(l.result, HP_FAIL_INPUT);
        check_true(!strstr(l.printed, "milliohm"), "%s", l.printed);
        loaded_free(&l);
    }
    loaded l = scenario_load_text(FILE_NAME, HUB_OF("20"));
    check_true(l.result == HP_OK, "%s", l.printed);
    loaded_free(&l);
}

static void what_cannot_be(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "  magnets: 44\n",
         1,
         {"6:12: error: motor.magnets is 44, must be twice motor.pole_pairs (23) or left out"}},
        {GOOD "  inductance_between_leads_mh: 440\n",
         1,
         {"motor.inductance_between_leads_mh (440) over motor.resistance_between_leads_ohm (0.21) "
          "makes a time constant of 2.1e+03 ms, must be from 0.02 to 500 ms: check the units"}},
        {GOOD "  inductance_between_leads_mh: 0.00044\n", /* the henry's figure */
         1,
         {"makes a time constant of 0.0021 ms, must be from 0.02 to 500 ms: check the units"}},
        {HUB_OF("340"),
         1,
         {"motor.resistance_between_leads_ohm is 340, must be a number above 0 and at most 20 "
          "(ohm); no hub's winding has more. If the meter showed milliohm, it is 0.34"}},
        {HUB_OF("21"), 1, {"If the meter showed milliohm, it is 0.021"}},
        {HUB_OF("2100"), 1, {"If the meter showed milliohm, it is 2.1"}},

        {GOOD "supply: {battery_v: 36}\ncontroller: {undervoltage_v: 36}\n",
         1,
         {"controller.undervoltage_v is 36, must be below supply.battery_v (36): it would never "
          "run"}},
        {GOOD "stand: {clutch: yes}\n",
         1,
         {"stand.clutch is given, so motor.rotor_inertia_kg_m2 must be above 0"}},
        {GOOD "stand:\n  rotor: {friction_nm: 1000}\n",
         1,
         {":7:24: error: stand.rotor.friction_nm is 1000, must be at most 700: the breakaway is "
          "1.43 "
          "times it",
          "or give stand.rotor.breakaway_nm too"}},
        {GOOD "stand: {wheel: {friction_nm: 0.5, breakaway_nm: 0.4}}\n",
         1,
         {"stand.wheel.breakaway_nm is 0.4, must be at least stand.wheel.friction_nm (0.5)"}},
        {GOOD "run: {settle_seconds: 2}\n",
         1,
         {"run.settle_seconds is 2, must be below run.seconds (2)"}},
        {GOOD "controller: {speed_step: 2}\n",
         1,
         {"controller.speed_step is 2, but controller.speed_steps_percent is missing"}},
        {GOOD "controller: {speed_steps_percent: [50, 100], speed_step: 3}\n",
         1,
         {"controller.speed_step is 3, must be from 1 to 2"}},
        {GOOD "controller: {speed_steps_percent: [50, 0, x]}\n",
         2,
         {"controller.speed_steps_percent[2] is 0, must be a number above 0 and at most 100 (%)",
          "controller.speed_steps_percent[3] is \"x\""}},
        {GOOD "controller: {speed_steps_percent: []}\n",
         1,
         {"controller.speed_steps_percent is a list, must be a list of 1 to 8 percentages"}},
        {GOOD "controller: {speed_steps_percent: [1, 2, 3, 4, 5, 6, 7, 8, 9]}\n",
         1,
         {"has more than 8 entries, must be a list of 1 to 8 percentages"}},
        {GOOD "  backemf: {shape: sinusoidal, flat_width_deg: 120}\n",
         1,
         {"motor.backemf.flat_width_deg is given, but motor.backemf.shape is not trapezoidal"}},
        {GOOD "  backemf: {harmonics: [{n: 1, sine: -1}]}\n",
         1,
         {"motor.backemf.harmonics is given, but motor.backemf.shape is not fourier"}},
        {"hubphase: 1\nmotor: {magnets: 40, resistance_between_leads_ohm: 0.2, "
         "backemf_peak_v_per_krpm: 0.17}\n",
         1,
         {"motor.backemf_peak_v_per_krpm makes a no-load speed of 2.18e+05 rev/min of the wheel at "
          "37 V, must be from 1 to 10000: check the units"}},
    };
    CHECK_ALL(mistakes);
}

static void contradictions_are_named(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "  torque_constant_nm_per_a: 2.1\n",
         1,
         {"6:29: error: motor.torque_constant_nm_per_a is 2.1, but motor.no_load_speed_rpm_at_v "
          "makes "
          "it 1.599: the two must agree within 5 %, correct or leave out one"}},
        /* rms and peak confused: a factor of 1.34 for this shape. */
        {GOOD "  backemf_rms_v_per_krpm: 167\n  backemf_peak_v_per_krpm: 125\n",
         2,
         {"6:27: error: motor.backemf_rms_v_per_krpm is 167, but motor.no_load_speed_rpm_at_v "
          "makes "
          "it 124.8",
          "7:28: error: motor.backemf_peak_v_per_krpm is 125, but motor.no_load_speed_rpm_at_v "
          "makes "
          "it 167.4"}},
        {GOOD
         "stand:\n  rotor: {friction_nm: 0.5}\n  no_load_current_a_at_v: {current_a: 2, volts: "
         "36}\n",
         1,
         {"8:39: error: stand.no_load_current_a_at_v makes a friction of 3.198 N m on the rotor, "
          "but "
          "stand.rotor.friction_nm and the keys beside it make it 0.6112: the two must agree "
          "within 5 "
          "%, correct or leave out one"}},
        {GOOD "stand:\n  wheel: {friction_nm: 3}\n  no_load_current_a_at_v: {current_a: 1, volts: "
              "36}\n",
         1,
         {"makes a friction of 1.6 N m on the rotor, must be at least the 3 N m that the other "
          "keys "
          "of stand make"}},
        {GOOD "stand: {no_load_current_a_at_v: {current_a: 200, volts: 36}}\n",
         1,
         {"200 A through the winding alone needs 43.6 V, must be less than the 36 V stated"}},
    };
    CHECK_ALL(mistakes);
    /* Just inside: accepted. */
    loaded l = scenario_load_text(FILE_NAME, GOOD "  torque_constant_nm_per_a: 1.67\n");
    check_true(l.result == HP_OK, "%s", l.printed);
    loaded_free(&l);
}

#define TABLE(rows) GOOD "controller:\n  table: {" rows "}\n"

static void tables_that_cannot_be(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {GOOD "controller: {table: six_step_90}\n",
         1,
         {"controller.table is \"six_step_90\", must be six_step_120 or six_step_60"}},
        {GOOD "controller: {table: [1]}\n",
         1,
         {"controller.table is a list, must be six_step_120"}},
        {TABLE("12: V>W"),
         1,
         {"7:11: error: controller.table.12 is no Hall code, must be three digits 0 or 1 such as "
          "100, for the inputs U V W"}},
        {TABLE("\"100\": V>X"),
         1,
         {"controller.table.100 is \"V>X\", must be a pair of outputs, high > low, such as V>W, or "
          "off"}},
        {TABLE("\"100\": V>W, \"100\": V>W"),
         1,
         {"controller.table.100 is given a second time, must be there once"}},
        {TABLE("\"100\": V>W"),
         1,
         {"7:11: error: controller.table is no six-step table: 1 codes are "
          "driven, must be 6"}},
        {TABLE("\"100\": V>V, 110: V>U, \"010\": W>U, \"011\": W>V, \"001\": U>V, 101: U>W"),
         1,
         {"controller.table is no six-step table: code 100 drives output V against itself"}},
        {TABLE("\"100\": V>W, 110: W>U, \"010\": V>U, \"011\": W>V, \"001\": U>V, 101: U>W"),
         1,
         {"drive neighbouring pairs but differ in more than one sensor"}},
    };
    CHECK_ALL(mistakes);
}

#define SERIES(list) GOOD "  backemf: {shape: fourier, harmonics: " list "}\n"

static void series_that_cannot_be(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {SERIES("3"), 1, {"motor.backemf.harmonics is 3, must be a list of mappings such as"}},
        {SERIES("[3]"), 1, {"motor.backemf.harmonics[1] is 3, must be a mapping such as"}},
        {SERIES("[{n: 26, sine: 1}]"),
         1,
         {"motor.backemf.harmonics[1].n is 26, must be a whole number from 1 to 25"}},
        {SERIES("[{sine: 1}]"), 1, {"motor.backemf.harmonics[1] has no n"}},
        {SERIES("[{n: 1, sine: -1}, {n: 1}]"),
         1,
         {"motor.backemf.harmonics[2] gives n: 1 a second time"}},
        {SERIES("[{n: 1, sin: -1}]"),
         1,
         {"motor.backemf.harmonics[1].sin is not known, must be n, cosine or sine, once"}},
        {SERIES("[]"), 1, {"motor.backemf.harmonics: backemf.harmonics is 0, must be 1 to 25"}},
        {SERIES("[{n: 1}]"), 1, {"motor.backemf.harmonics: backemf harmonics are all 0"}},
        {SERIES("[{n: 1, sine: -0.001}, {n: 3, sine: 1}]"),
         1,
         {"the fundamental must be at least 0.01 of the largest harmonic"}},
    };
    CHECK_ALL(mistakes);
}

static void what_is_not_a_scenario(void **state)
{
    (void)state;
    static const mistake mistakes[] = {
        {"", 1, {FILE_NAME ": error: the file holds nothing, must begin with `hubphase: 1`"}},
        {"# a comment\n", 1, {"the file holds nothing, must begin with `hubphase: 1`"}},
        {"- a\n- b\n",
         1,
         {AT
          "1:3: error: the file is a list, must be a mapping of keys that begins with `hubphase: "
          "1`"}},
        {"hello\n", 1, {AT "1:1: error: the file is \"hello\", must be a mapping of keys"}},
        {"---\n", 1, {"the file has no value, must be a mapping of keys"}},
        {GOOD "---\nhubphase: 1\n",
         1,
         {AT "6:1: error: a second document begins, a file must hold one scenario"}},
        {"%YAML 1.2\n---\nhubphase: 1\n",
         1,
         {AT "1:1: error: a line that begins with %, must be a key, a value or a comment"}},
        {"hubphase: !!int 1\n",
         1,
         {"error: a tag (!), must be left out; a text that begins so needs "
          "quotes"}},
        {"a: &x [1]\nb: *x\n",
         1,
         {AT "1:7: error: an anchor or alias (& or *), must be written out"}},
        {"a: *x\n", 1, {AT "1:5: error: an alias (*), must be written out"}},
        /* libfyaml's own words differ from version to version. */
        {"hubphase: 1\nmotor:\n\tpole_pairs: 3\n",
         1,
         {AT "3:", ": error: not proper YAML: ", "tab"}},
        {"hubphase: 1\nmotor: {a: 1\n", 1, {": error: not proper YAML: "}},
        {"hubphase: 1\n  motor: 1\n", 1, {": error: not proper YAML: "}},
        {"name: |0\n a\n", 1, {": error: not proper YAML: "}},
        {"name: \"a\n", 1, {": error: not proper YAML: "}},
        {"caf\xE9: 1\n",
         1,
         {AT "1:4: error: byte 0xE9 is not UTF-8, must be plain text in UTF-8: save the file so\n"
             "caf?: 1\n   ^\n"}},
        {"# \xC3\xBC\n\xC3", 1, {AT "2:1: error: byte 0xC3 is not UTF-8"}},
        {"# \xC0\xAF\n", 1, {AT "1:3: error: byte 0xC0 is not UTF-8"}},
        {"# \xED\xA0\x80\n", 1, {AT "1:3: error: byte 0xED is not UTF-8"}},
        {"\xFF\xFEh", 1, {AT "1:1: error: the text is UTF-16, must be UTF-8"}},
        {"# \x1B[2J\n",
         1,
         {AT "1:3: error: control character U+001B, must be printable text\n# ?[2J\n"}},
        {"# \xC2\x9B\n", 1, {AT "1:3: error: control character U+009B"}},
        {"a: \x7F\n", 1, {AT "1:4: error: control character U+007F"}},
        /* A place behind a tab, and in a line ended by CR LF or by CR alone. */
        {"# a\r\n# b\r#\t\x01\n", 1, {AT "3:3: error: control character U+0001", "\n# ?\n  ^\n"}},
    };
    CHECK_ALL(mistakes);
    loaded l = scenario_load_bytes(FILE_NAME, "a: \0b\n", 6);
    check_text_contains(l.printed, AT "1:4: error: control character U+0000");
    loaded_free(&l);
}

/* Repeats a part and loads the result. */
static loaded load_repeated(const char *before, const char *part, size_t times, const char *after)
{
    size_t size = strlen(before) + times * strlen(part) + strlen(after);
    char *text = malloc(size + 1), *end = text;
    assert_non_null(text);
    end += sprintf(end, "%s", before);
    for (size_t k = 0; k < times; k++) {
        memcpy(end, part, strlen(part));
        end += strlen(part);
    }
    strcpy(end, after);
    loaded l = scenario_load_text(FILE_NAME, text);
    free(text);
    return l;
}

static void check_repeated(const char *before, const char *part, size_t times, const char *after,
                           const char *expected)
{
    loaded l = load_repeated(before, part, times, after);
    check_int(l.result, HP_FAIL_INPUT);
    check_text_contains(l.printed, expected);
    loaded_free(&l);
}

static void deep_and_large_files_are_refused_quickly(void **state)
{
    (void)state;
    const char *deep = "nested deeper than 16, must be flatter: a scenario needs 5";
    check_repeated("hubphase: 1\nmotor: ", "[", 10000, "", deep);
    check_repeated("hubphase: 1\nmotor: ", "{a: ", 10000, "", deep);
    check_repeated("hubphase: 1\nmotor:\n  ", "- ", 10000, "a\n", deep);
    check_repeated("", "? ", 10000, "a\n", deep);
    check_repeated("hubphase: 1\nmotor: [", "a, ", 10000, "b]\n",
                   "more than 10000 keys and values up to here, must be fewer");
    check_repeated("hubphase: 1\n", "x: y\n", 10000, "",
                   "more than 10000 keys and values up to here, must be fewer");
    check_repeated("", "%", 100000, "\n", "a line that begins with %");
    check_repeated("", "%\n", 100000, "", "a line that begins with %");
    const char *blank = "more than 200 blanks, tabs and line breaks in a row, must be fewer";
    check_repeated("hubphase: 1\nmotor: {a:", " ", 100000, "}\n", blank);
    check_repeated("hubphase: 1\nmotor: {a:", "\t", 100000, "}\n", blank);
    check_repeated("hubphase: 1\nmotor: {a:", "\n", 100000, "}\n", blank);
    check_repeated("hubphase: 1\nmotor: {a:", "\r\n ", 100000, "}\n", blank);
    loaded l = load_repeated(GOOD, "\n", 199, "supply: {}\n");
    check_true(l.result == HP_OK, "%s", l.printed);
    loaded_free(&l);
    /* Problems beyond the fortieth are counted only. */
    check_repeated("hubphase: 1\n", "x: y\n", 1000, "", "... and 963 more\n");
    /* The place in a long line stays on the screen. */
    check_repeated(GOOD "supply: {x", "y", 5000, ": 1, battery_v: oops}\n",
                   "error: supply.battery_v is \"oops\"");
}

static void files_that_cannot_be_read(void **state)
{
    (void)state;
    loaded l = scenario_load_path("no such file.yaml");
    check_int(l.result, HP_FAIL_IO);
    assert_string_equal(l.err.text,
                        "no such file.yaml cannot be opened: No such file or directory");
    assert_string_equal(l.printed, "");
    loaded_free(&l);

    mkdir("test_scenario_errors.folder", 0777);
    l = scenario_load_path("test_scenario_errors.folder");
    rmdir("test_scenario_errors.folder");
    check_int(l.result, HP_FAIL_IO);
    assert_string_equal(l.err.text,
                        "test_scenario_errors.folder is a folder, must be a scenario file");
    loaded_free(&l);

    /* 100 MB, without its blocks. */
    scenario_file_write(FILE_NAME, "a", 1);
    check_int(truncate(FILE_NAME, 100000000), 0);
    l = scenario_load_path(FILE_NAME);
    remove(FILE_NAME);
    check_int(l.result, HP_FAIL_INPUT);
    assert_string_equal(l.err.text,
                        FILE_NAME " is too large for a scenario, must be at most 1048576 bytes");
    loaded_free(&l);

    l = scenario_load_path("/dev/zero");
    check_int(l.result, HP_FAIL_INPUT);
    check_text_contains(l.err.text, "is too large for a scenario");
    loaded_free(&l);

    char path[2000];
    memset(path, 'a', sizeof path - 1);
    path[sizeof path - 1] = '\0';
    l = scenario_load_path(path);
    check_int(l.result, HP_FAIL_INPUT);
    check_text_contains(l.err.text, "must have at most 1023");
    loaded_free(&l);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(problems_keep_to_the_columns_of_a_screen),
        cmocka_unit_test(block_has_place_key_value_expectation_line_and_mark),
        cmocka_unit_test(all_problems_in_one_go_in_the_order_of_the_file),
        cmocka_unit_test(without_a_stream_for_diagnostics),
        cmocka_unit_test(missing_keys),
        cmocka_unit_test(unknown_and_duplicate_keys),
        cmocka_unit_test(what_is_no_number_or_out_of_range),
        cmocka_unit_test(words_and_texts),
        cmocka_unit_test(labels_that_cannot_be),
        cmocka_unit_test(what_cannot_be),
        cmocka_unit_test(milliohm_are_named_for_large_figures_only),
        cmocka_unit_test(contradictions_are_named),
        cmocka_unit_test(tables_that_cannot_be),
        cmocka_unit_test(series_that_cannot_be),
        cmocka_unit_test(what_is_not_a_scenario),
        cmocka_unit_test(deep_and_large_files_are_refused_quickly),
        cmocka_unit_test(files_that_cannot_be_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
