/*
 * Other names of leads in a bench log: what names a lead is written anew, all else stays byte for
 * byte, and every entry says what it said.
 */
#include "check.h"

#include "hubphase.h"

#include <stdlib.h>

#define MACHINE(name, phases, sensors)                                                             \
    "hubphase: 1\nname: " name "\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, "        \
    "no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\nleads: {motor_phases: " phases          \
    ", motor_sensors: " sensors "}\n"
#define PHASES  "{U: red, V: white, W: black}"
#define SENSORS "{U: blue, V: green, W: grey}"

/* What somebody wrote by hand: comments everywhere, an entry without a lead, no line end. */
static const char written[] =
    "# mine\n"
    "hubphase_log: 1\n"
    "scenario: Barrow # the old one\n"
    "leads: # by the plug\n"
    "  motor_phases: [red, white, black]\n"
    "  # looked at twice\n"
    "  motor_sensors: [blue, green, grey]\n"
    "entries:\n"
    "  # before all else\n"
    "  - time: 2026-11-25T10:40:00+01:00\n"
    "    sensor_supply: {supply_v:   4.90} # as it stood there\n"
    "  - time: 2026-11-25T10:41:00+01:00\n"
    "    winding:\n"
    "      # the white one is thin\n"
    "      resistance_ohm: {red-white: 0.2, V-W: 0.21}\n"
    "    note: white is thin\n"
    "  # then the wheel\n"
    "  - time: 2026-11-25T10:42:00+01:00\n"
    "    park: {plus_lead: white, code: \"110\"}\n"
    "  - time: 2026-11-25T10:43:00+01:00\n"
    "    mend: {part: sensor_stuck_low, lead: green}\n"
    "  - time: 2026-11-25T10:44:00+01:00\n"
    "    trial: {wiring: 7, throttle_percent: 35, motion: forward, feel: rough, starts: 2, "
    "starts_tried: 6}\n"
    "  - time: 2026-11-25T10:45:00+01:00\n"
    "    mend: {part: phase_lead_open, lead: W}";

static hp_scenario read(const char *text)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    check_true(hp_scenario_read(text, strlen(text), "barrow.yaml", &scenario, stderr, &err) ==
                   HP_OK,
               "%s", err.text);
    return scenario;
}

static char *renamed(const char *log, const char *from, const char *to, hp_result expected,
                     const char *why)
{
    hp_scenario old = read(from), fresh = read(to);
    hp_error err = hp_error_none();
    char *text = NULL;
    check_int(hp_bench_log_rename_text(log, &old, &fresh, &text, NULL, &err), expected);
    check_true((expected == HP_OK) == (text != NULL), "a text on success, and only then");
    if (expected != HP_OK)
        check_text_contains(err.text, why);
    hp_scenario_free(&old);
    hp_scenario_free(&fresh);
    return text;
}

/* The entries, as if written with the letters of the axes. */
static char *bare_entries(const char *log, const char *machine)
{
    hp_scenario scenario = read(machine), letters = read(MACHINE("x", "{}", "{}"));
    hp_bench_log entries;
    hp_error err = hp_error_none();
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    check_true(hp_bench_log_read(log, strlen(log), "x", &scenario, &entries, stderr, &err) == HP_OK,
               "%s", err.text);
    for (int k = 0; k < entries.count; k++) {
        char *one = hp_bench_log_entry_text(&entries.entry[k], &letters.labels);
        fputs(one, out);
        free(one);
    }
    fclose(out);
    hp_bench_log_free(&entries);
    hp_scenario_free(&scenario);
    hp_scenario_free(&letters);
    return text;
}

static void check_same_entries(const char *log, const char *from, const char *fresh, const char *to)
{
    char *before = bare_entries(log, from), *after = bare_entries(fresh, to);
    assert_string_equal(before, after);
    free(before);
    free(after);
}

#define OLD MACHINE("Barrow", PHASES, SENSORS)

static void a_log_says_the_same_by_other_names(void **state)
{
    (void)state;
    static const char to[] = MACHINE("Barrow", "{U: red, V: \"thin: white\", W: black}", SENSORS);
    char *fresh = renamed(written, OLD, to, HP_OK, NULL);
    check_same_entries(written, OLD, fresh, to);
    check_text_contains(fresh, "motor_phases: [red, \"thin: white\", black]\n");
    check_text_contains(fresh, "plus_lead: \"thin: white\"\n");
    check_text_contains(fresh, "  # looked at twice\n");
    check_text_contains(fresh, "    note: white is thin\n      # the white one is thin\n"
                               "  # then the wheel\n");
    check_text_contains(fresh, "lead: W"); /* no lead of that name */
    check_text_contains(fresh, "# mine\nhubphase_log: 1\nscenario: Barrow # the old one\n");
    check_text_contains(fresh, "  # before all else\n  - time: 2026-11-25T10:40:00+01:00\n"
                               "    sensor_supply: {supply_v:   4.90} # as it stood there\n");
    assert_null(strstr(fresh, "plus_lead: white"));
    free(fresh);
}

static void what_names_no_changed_lead_stays_byte_for_byte(void **state)
{
    (void)state;
    char *same = renamed(written, OLD, OLD, HP_OK, NULL);
    assert_string_equal(same, written);
    free(same);
    /* Hall leads stand in the mend alone, and in the trial's wiring. */
    char *fresh = renamed(written, OLD, MACHINE("Barrow", PHASES, "{U: blue, V: pink, W: grey}"),
                          HP_OK, NULL);
    const char *park = strstr(written, "  - time: 2026-11-25T10:41");
    const char *mend = strstr(written, "  - time: 2026-11-25T10:43");
    char *kept = strndup(park, (size_t)(mend - park));
    check_text_contains(fresh, kept);
    check_text_contains(fresh, "lead: pink");
    free(kept);
    free(fresh);
}

static void two_leads_may_swap_their_names(void **state)
{
    (void)state;
    static const char to[] =
        MACHINE("Barrow", "{U: white, V: red, W: black}", "{U: green, V: grey, W: blue}");
    char *fresh = renamed(written, OLD, to, HP_OK, NULL);
    check_same_entries(written, OLD, fresh, to);
    check_text_contains(fresh, "plus_lead: red\n");
    free(fresh);
}

/* "W" of the last entry was the letter of the third; now it would be the first one's name. */
static void a_letter_that_becomes_another_leads_name_is_no_trap(void **state)
{
    (void)state;
    static const char to[] = MACHINE("Barrow", "{U: W, V: white, W: black}", SENSORS);
    char *fresh = renamed(written, OLD, to, HP_OK, NULL);
    check_same_entries(written, OLD, fresh, to);
    assert_null(strstr(fresh, "lead: W"));
    free(fresh);
}

static void the_machine_may_be_called_otherwise(void **state)
{
    (void)state;
    static const char to[] = MACHINE("Trike", PHASES, SENSORS);
    char *fresh = renamed(written, OLD, to, HP_OK, NULL);
    check_text_contains(fresh, "\nscenario: Trike\nleads: # by the plug\n");
    check_same_entries(written, OLD, fresh, to);
    free(fresh);
}

/* The text with another end of each line, and a byte order mark. For the caller to free. */
static char *with_ends(const char *text, const char *ends)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    assert_non_null(out);
    fputs("\xEF\xBB\xBF", out);
    for (; *text; text++)
        if (*text == '\n')
            fputs(ends, out);
        else
            fputc(*text, out);
    fclose(out);
    return bytes;
}

/* But for the ends the log is what it would be with line feeds: head, entries, comments among both.
 */
static void check_line_ends(const char *ends)
{
    static const char to[] =
        MACHINE("Trike", "{U: red, V: pink, W: black}", "{U: blue, V: green, W: brown}");
    char *plain = renamed(written, OLD, to, HP_OK, NULL), *expected = with_ends(plain, ends);
    char *log = with_ends(written, ends), *fresh = renamed(log, OLD, to, HP_OK, NULL);
    assert_string_equal(fresh, expected);
    check_same_entries(log, OLD, fresh, to);
    free(plain);
    free(expected);
    free(log);
    free(fresh);
}

static void line_ends_and_a_byte_order_mark_stay(void **state)
{
    (void)state;
    check_line_ends("\n");
    check_line_ends("\r\n");
    check_line_ends("\r");
}

static void what_cannot_be_carried_through_is_refused_with_the_reason(void **state)
{
    (void)state;
    renamed("hubphase_log: 1\nscenario: Barrow\nentries: [{time: 2026-11-25T10:40:00+01:00, "
            "park: {plus_lead: white}}]\n",
            OLD, OLD, HP_FAIL_INPUT, "line by line");
    renamed("hubphase_log: 1\nscenario: Trike\nentries:\n", OLD, OLD, HP_FAIL_INPUT, "1 problem");
}

/* A log may grow to a mebibyte; comments of this one fill it but for a few bytes. */
static void a_log_that_longer_names_would_overfill_is_refused(void **state)
{
    (void)state;
    size_t length = strlen(written), size = HP_SCENARIO_BYTES_MAX - 10;
    char *log = malloc(size + 1);
    check_true(log, "no memory");
    memset(log, '#', size);
    for (size_t k = 99; k < size - length; k += 100)
        log[k] = '\n';
    log[size - length - 1] = '\n';
    memcpy(log + size - length, written, length + 1);
    const char *to = MACHINE("Barrow", "{U: red, V: white with a tracer, W: black}", SENSORS);
    renamed(log, OLD, to, HP_FAIL_INPUT, "the log is full and left as it was: by the new names it");
    char *same = renamed(log, OLD, OLD, HP_OK, NULL);
    check_true(same && strcmp(same, log) == 0, "changed");
    free(same);
    free(log);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_log_says_the_same_by_other_names),
        cmocka_unit_test(what_names_no_changed_lead_stays_byte_for_byte),
        cmocka_unit_test(two_leads_may_swap_their_names),
        cmocka_unit_test(a_letter_that_becomes_another_leads_name_is_no_trap),
        cmocka_unit_test(the_machine_may_be_called_otherwise),
        cmocka_unit_test(line_ends_and_a_byte_order_mark_stay),
        cmocka_unit_test(what_cannot_be_carried_through_is_refused_with_the_reason),
        cmocka_unit_test(a_log_that_longer_names_would_overfill_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
