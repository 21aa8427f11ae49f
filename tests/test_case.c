/* The case as others use it: from memory and from files, through hubphase.h alone. */
#include "bench_text.h"

#include "decide/reading/reading_list.h"
#include "hubphase.h"

#define MACHINE                                                                                    \
    "hubphase: 1\n"                                                                                \
    "name: Bench machine\n"                                                                        \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"                                                               \
    "leads: {motor_phases: {U: red, V: white, W: black}}\n"
#define LOG "hubphase_log: 1\nscenario: Bench machine\n# by hand\nentries:\n"
#define ENTRY                                                                                      \
    "  - time: 2026-11-25T10:40:00+01:00\n"                                                        \
    "    sensor_supply: {supply_v: 36.2}   # too much\n"
#define FILE_NAME "test_case.bench.yaml"

static hp_scenario machine(const char *text)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    check_true(hp_scenario_read(text, strlen(text), "test_case.yaml", &scenario, NULL, &err) ==
                   HP_OK,
               "%s", err.text);
    return scenario;
}

static hp_bench_entry volts(double value)
{
    hp_bench_entry entry = hp_bench_entry_make(&hp_reading_supply);
    entry.entry.supply.volts = value;
    strcpy(entry.time, "2026-11-25T10:50:00+01:00");
    return entry;
}

static hp_advice next(hp_case *c)
{
    hp_advice advice;
    hp_error err = hp_error_none();
    check_true(hp_case_next(c, &advice, &err) == HP_OK, "%s", err.text);
    return advice;
}

static char *file_text(const char *path)
{
    FILE *in = fopen(path, "rb");
    assert_non_null(in);
    char *text = calloc(1, 10000);
    assert_true(fread(text, 1, 9999, in) > 0);
    fclose(in);
    return text;
}

static int clean_up(void **state)
{
    (void)state;
    remove(FILE_NAME);
    return 0;
}

/* ---- tests ----------------------------------------------------------------------------------- */

static void memory_and_file_read_alike(void **state)
{
    (void)state;
    static const char bad[] = MACHINE "colour: blue\n";
    hp_scenario scenario = machine(MACHINE), from_file, none;
    hp_error err = hp_error_none(), other = hp_error_none();
    scenario_file_write("test_case.yaml", MACHINE, strlen(MACHINE));
    check_int(hp_scenario_load("test_case.yaml", &from_file, NULL, &err), HP_OK);
    assert_string_equal(scenario.path, from_file.path);
    check_int((int)scenario.parameters.count, (int)from_file.parameters.count);
    for (size_t k = 0; k < scenario.parameters.count; k++) {
        const hp_parameter *a = &scenario.parameters.item[k], *b = &from_file.parameters.item[k];
        assert_string_equal(a->key, b->key);
        assert_string_equal(a->value, b->value);
        check_int((int)a->origin, (int)b->origin);
        check_int(a->line, b->line);
    }
    assert_memory_equal(&scenario.labels, &from_file.labels, sizeof scenario.labels);
    scenario_file_write("test_case.yaml", bad, strlen(bad));
    check_int(hp_scenario_load("test_case.yaml", &none, NULL, &err), HP_FAIL_INPUT);
    check_int(hp_scenario_read(bad, strlen(bad), "test_case.yaml", &none, NULL, &other),
              HP_FAIL_INPUT);
    assert_string_equal(err.text, other.text);
    /* Only so many bytes are read; a byte order mark is skipped, as in a file. */
    static const char marked[] = "\xEF\xBB\xBF" MACHINE "colour: blue\n";
    check_int(hp_scenario_read(marked, 3 + strlen(MACHINE), "m", &none, NULL, &err), HP_OK);
    hp_scenario_free(&none);
    remove("test_case.yaml");
    hp_scenario_free(&from_file);
    hp_scenario_free(&scenario);
}

/* Old bytes stay, comments and all; what comes out is what the file would be. */
static void appending_in_memory_gives_the_bytes_of_the_file(void **state)
{
    (void)state;
    hp_scenario scenario = machine(MACHINE);
    const char *old[] = {NULL, LOG ENTRY, "\xEF\xBB\xBF" LOG ENTRY "  # the end"};
    for (size_t k = 0; k < sizeof old / sizeof old[0]; k++) {
        hp_bench_entry entry = volts(5.0), again = volts(5.0);
        hp_error err = hp_error_none();
        char *longer = NULL;
        clean_up(NULL);
        if (old[k])
            scenario_file_write(FILE_NAME, old[k], strlen(old[k]));
        check_true(hp_bench_log_append(FILE_NAME, &scenario, &entry, stderr, &err) == HP_OK, "%s",
                   err.text);
        check_true(hp_bench_log_append_text(old[k], &scenario, &again, &longer, stderr, &err) ==
                       HP_OK,
                   "%s", err.text);
        char *file = file_text(FILE_NAME);
        assert_string_equal(longer, file);
        check_int(entry.entry.number, old[k] ? 2 : 1);
        check_int(again.entry.number, entry.entry.number);
        free(file);
        free(longer);
    }
    hp_bench_entry entry = volts(5.0);
    hp_error err = hp_error_none();
    char *longer = NULL;
    check_int(hp_bench_log_append_text("hubphase_log: 1\nentries: []\n", &scenario, &entry, &longer,
                                       NULL, &err),
              HP_FAIL_INPUT);
    assert_null(longer);
    hp_scenario_free(&scenario);
}

static void the_log_in_memory_moves_the_advice(void **state)
{
    (void)state;
    hp_scenario scenario = machine(MACHINE);
    hp_case_options options = hp_case_options_default();
    hp_error err = hp_error_none();
    options.log_text = LOG ENTRY;
    hp_case *c = hp_case_create(&scenario, &options, &err);
    check_true(c != NULL, "%s", err.text);
    check_true(hp_case_scenario(c) == &scenario, "another scenario");
    check_int(hp_case_log(c)->count, 1);
    check_int(hp_case_table(c), HP_TABLE_SHIPPED);
    hp_advice advice = next(c);
    check_int(advice.kind, HP_ADVICE_DANGER);
    check_true(advice.danger == &hp_danger_sensor_volts, "another danger");

    char *longer = NULL;
    hp_bench_entry entry = volts(5.0);
    check_int(hp_bench_log_append_text(LOG ENTRY, &scenario, &entry, &longer, NULL, &err), HP_OK);
    check_true(hp_case_reload_text(c, longer, &err) == HP_OK, "%s", err.text);
    free(longer);
    advice = next(c);
    check_int(advice.kind, HP_ADVICE_READ);
    hp_showing showing[HP_SHOWING_MAX];
    check_true(hp_case_showings(c, &advice, 0.01, showing) > 1, "it may show one thing only");

    /* A log that cannot be read, and one that can, again. */
    check_int(hp_case_reload_text(c, "hubphase_log: 2\n", &err), HP_FAIL_INPUT);
    check_true(hp_case_reload_text(c, LOG ENTRY, &err) == HP_OK, "%s", err.text);
    check_int(next(c).kind, HP_ADVICE_DANGER);
    hp_case_free(c);
    hp_scenario_free(&scenario);
}

/* No file is looked for, and what was read may go as soon as the case is there. */
static void a_log_that_was_read_is_read_once(void **state)
{
    (void)state;
    hp_scenario scenario = machine(MACHINE);
    hp_case_options options = hp_case_options_default();
    hp_error err = hp_error_none();
    hp_bench_log log;
    check_int(hp_bench_log_read(LOG ENTRY, strlen(LOG ENTRY), "nowhere/x.bench.yaml", &scenario,
                                &log, NULL, &err),
              HP_OK);
    options.log_read = &log;
    hp_case *c = hp_case_create(&scenario, &options, &err);
    check_true(c != NULL, "%s", err.text);
    hp_bench_log_free(&log);
    check_int(hp_case_log(c)->count, 1);
    assert_string_equal(hp_case_log(c)->path, "nowhere/x.bench.yaml");
    check_int(next(c).kind, HP_ADVICE_DANGER);
    hp_case_free(c);
    hp_scenario_free(&scenario);
}

static void what_cannot_be_advised_is_refused(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {MACHINE "controller: {throttle_percent: 0}\n", "must be above 0 for an advice"},
    };
    hp_case_options options = hp_case_options_default();
    options.log_text = LOG ENTRY;
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_scenario scenario = machine(cases[k][0]);
        hp_error err = hp_error_none();
        assert_null(hp_case_create(&scenario, &options, &err));
        check_int(err.code, HP_FAIL_INPUT);
        check_text_contains(err.text, cases[k][1]);
        assert_null(hp_case_create(&scenario, &options, NULL));
        hp_scenario_free(&scenario);
    }
    hp_scenario scenario = machine(MACHINE);
    hp_error err = hp_error_none();
    options.log_text = NULL;
    options.log = "."; /* a folder */
    assert_null(hp_case_create(&scenario, &options, &err));
    check_int(err.code, HP_FAIL_IO);
    hp_scenario_free(&scenario);
    hp_case_free(NULL);
}

/* Options out of their range are errors, not crashes. */
static void sheets_refuse_bad_options(void **state)
{
    (void)state;
    hp_scenario scenario = machine(MACHINE);
    hp_case_options options = hp_case_options_default();
    hp_sheet_options sheet = hp_sheet_options_default();
    hp_error err = hp_error_none();
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    options.log_text = LOG ENTRY;
    hp_case *c = hp_case_create(&scenario, &options, &err);
    check_true(c != NULL, "%s", err.text);
    sheet.wiring = 37;
    check_int(hp_sheet_write(&scenario, hp_case_log(c), &sheet, out, &err), HP_FAIL_INPUT);
    sheet.wiring = 1;
    sheet.form = HP_SHEET_FORM_COUNT;
    check_int(hp_sheet_write(&scenario, hp_case_log(c), &sheet, out, &err), HP_FAIL_INPUT);
    fclose(out);
    check_int((int)size, 0);
    free(text);
    hp_case_free(c);
    hp_scenario_free(&scenario);
}

static void the_version_is_the_librarys(void **state)
{
    (void)state;
    char text[40];
    snprintf(text, sizeof text, "%d.%d.%d", HP_VERSION_MAJOR, HP_VERSION_MINOR, HP_VERSION_PATCH);
    assert_string_equal(hp_version(), text);
    assert_string_equal(HP_VERSION, text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_and_file_read_alike),
        cmocka_unit_test_teardown(appending_in_memory_gives_the_bytes_of_the_file, clean_up),
        cmocka_unit_test(the_log_in_memory_moves_the_advice),
        cmocka_unit_test(a_log_that_was_read_is_read_once),
        cmocka_unit_test(what_cannot_be_advised_is_refused),
        cmocka_unit_test(sheets_refuse_bad_options),
        cmocka_unit_test(the_version_is_the_librarys),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
