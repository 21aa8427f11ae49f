/* Kinds of readings that the library does not know (new_kinds.c) go all the way: log, questions,
 * advice, page, sheet. */
#include "bench_text.h"
#include "new_kinds.h"

#include "app/advice_log_line.h"
#include "app/ask_form.h"
#include "decide/advise/advice_standing.h"
#include "decide/advise/hypothesis.h"
#include "decide/reading/reading_list.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "record/case/case_parts.h"
#include "record/log/bench_log_parts.h"
#include "report/paper/list_steps.h"
#include "report/sheet/wiring_sheet.h"
#include "report/words/advice_report.h"
#include "report/words/case_card.h"

#include <math.h>
#include <unistd.h>

#define NAME "test_new_reading"
#define SCENARIO                                                                                   \
    "hubphase: 1\n"                                                                                \
    "name: New kinds\n"                                                                            \
    "motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: "             \
    "{speed_rpm: 215, volts: 36}}\n"
#define LOG   "hubphase_log: 1\nscenario: New kinds\nentries:\n"
#define ENTRY "- time: 2026-11-25T10:40:00+01:00\n  "

static int clean_up(void **state)
{
    (void)state;
    remove(NAME ".yaml");
    remove(NAME ".bench.yaml");
    return 0;
}

static void open_session(hp_advice_session *s, const char *log)
{
    hp_advice_choice choice = hp_advice_choice_default();
    choice.file = NAME ".yaml";
    choice.quiet = true;
    scenario_file_write(NAME ".yaml", SCENARIO, strlen(SCENARIO));
    scenario_file_write(NAME ".bench.yaml", log, strlen(log));
    check_int(hp_advice_session_open(s, "test", &choice), HP_EXIT_FINE);
}

static hp_advice next(hp_advice_session *s)
{
    hp_advice advice;
    hp_error err = hp_error_none();
    check_true(hp_plan_next(s->bench->planner, &s->bench->belief, true, &advice, &err) == HP_OK,
               "%s", err.text);
    return advice;
}

static double megohm_of(const hp_entry *entry)
{
    check_true(entry->reading == &reading_insulation, "another kind");
    return ((const insulation *)hp_entry_said(entry))->megohm;
}

static char *capture_begin(FILE **out, char **text, size_t *size)
{
    *out = open_memstream(text, size);
    assert_non_null(*out);
    return *text;
}

/* ---- the log --------------------------------------------------------------------------------- */

static void a_log_notes_it(void **state)
{
    (void)state;
    loaded machine = scenario_load_text(NAME ".yaml", SCENARIO);
    const hp_scenario *scenario = &machine.scenario;
    const char *text =
        LOG ENTRY "insulation: {lead_to_shell_mohm: 12.5}\n  figures: typical\n" ENTRY
                  "inductance: {inductance_mh: {U-V: 0.31, V-W: open}}\n";
    logged l = bench_load_bytes(scenario, NAME ".bench.yaml", text, strlen(text));
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    check_int(l.log.count, 2);
    check_close(megohm_of(&l.log.entry[0].entry), 12.5, 0.0, "as it was said");
    check_true(l.log.entry[0].entry.typical && !l.log.entry[1].entry.typical, "figures");
    const inductance *found = hp_entry_said(&l.log.entry[1].entry);
    check_close(found->millihenry[2], 0.31, 0.0, "as it was said");
    check_true(isinf(found->millihenry[0]) && isnan(found->millihenry[1]), "pairs");
    char *written = hp_bench_log_entry_text(&l.log.entry[0], &scenario->labels);
    assert_string_equal(written, "  - time: 2026-11-25T10:40:00+01:00\n    insulation:\n"
                                 "      lead_to_shell_mohm: 12.5\n    figures: typical\n");
    free(written);
    char *printed = NULL;
    size_t size = 0;
    FILE *out;
    capture_begin(&out, &printed, &size);
    hp_screen screen = hp_screen_plain(out);
    for (int k = 0; k < 2; k++)
        hp_bench_entry_print(&l.log.entry[k], scenario, &screen);
    fclose(out);
    check_text_contains(printed, "insulation: 12.5 megohm");
    check_text_contains(printed, "typical figures, not measured");
    check_text_contains(printed, "inductance");
    free(printed);
    logged_free(&l);
    loaded_free(&machine);
}

static void a_log_refuses_what_is_wrong_with_it(void **state)
{
    (void)state;
    loaded machine = scenario_load_text(NAME ".yaml", SCENARIO);
    const hp_scenario *scenario = &machine.scenario;
    static const char *const cases[][2] = {
        {"insulation: {}", "entries[1].insulation.lead_to_shell_mohm is missing, must be a number "
                           "from 0 to 100000 (megohm)"},
        {"insulation: {lead_to_shell_mohm: -1}", "must be a number from 0 to 100000 (megohm)"},
        {"insulation: {lead_to_shel_mohm: 1}", "did you mean lead_to_shell_mohm?"},
        {"insulatoin: {lead_to_shell_mohm: 1}", "did you mean insulation?"},
        {"pins: {lead_to_shell_mohm: 1}", "it belongs to insulation"},
        {"inductance: {inductance_mh: {U-X: 1}}", "U-V, V-W or W-U"},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        char text[400];
        snprintf(text, sizeof text, LOG ENTRY "%s\n", cases[k][0]);
        logged l = bench_load_bytes(scenario, NAME ".bench.yaml", text, strlen(text));
        check_int(l.result, HP_FAIL_INPUT);
        check_text_contains(l.printed, cases[k][1]);
        logged_free(&l);
    }
    loaded_free(&machine);
}

/* ---- questions ------------------------------------------------------------------------------- */

static void it_is_asked_for(void **state)
{
    (void)state;
    loaded machine = scenario_load_text(NAME ".yaml", SCENARIO);
    const hp_scenario *scenario = &machine.scenario;
    char answers[] = "lots\n0.4\n\n\n", *said = NULL;
    size_t size = 0;
    FILE *in = fmemopen(answers, strlen(answers), "r"), *out;
    capture_begin(&out, &said, &size);
    hp_screen shown = hp_screen_plain(out);
    hp_ask ask = hp_ask_begin(in, &shown);
    hp_form_context context = {.scenario = scenario, .plan = &scenario->bench.plan, .number = 1};
    hp_bench_entry entry;
    check_int(hp_form_ask(&ask, &context, &reading_insulation, &entry), HP_ANSWER_GIVEN);
    fclose(out);
    fclose(in);
    check_close(megohm_of(&entry.entry), 0.4, 0.0, "as it was said");
    check_text_contains(said, "How many megohms from the leads to the shell?");
    check_text_contains(said,
                        "No: the answer is \"lots\", must be a number from 0 to 100000 (megohm)");
    check_text_contains(said, "insulation: 0.4 megohm");
    hp_ask_end(&ask);
    free(said);
    /* A kind without words has no questions, and says so. */
    capture_begin(&out, &said, &size);
    shown = hp_screen_plain(out);
    ask = hp_ask_begin(stdin, &shown);
    check_int(hp_form_ask(&ask, &context, &reading_inductance, &entry), HP_ANSWER_BACK);
    fclose(out);
    check_text_contains(said, "There are no questions for inductance yet");
    hp_ask_end(&ask);
    free(said);
    loaded_free(&machine);
}

/* ---- advice ---------------------------------------------------------------------------------- */

/* What a whole advice prints, with all that stands behind it. */
static char *report_of(hp_advice_session *s, const hp_advice *advice)
{
    hp_standing standing;
    hp_standing_course course;
    hp_error err = hp_error_none();
    check_int(
        hp_standing_fill(&s->bench->belief, s->session.scenario.bench.prior.table, &standing, &err),
        HP_OK);
    check_int(hp_standing_course_make(&s->bench->belief, 1e-3, &course, &err), HP_OK);
    hp_card_context context = hp_case_card_context(s->bench);
    char line[HP_LOG_LINE_SIZE], *text = NULL;
    hp_advice_report report = {.context = &context,
                               .belief = &s->bench->belief,
                               .advice = advice,
                               .standing = &standing,
                               .log_file = "log",
                               .course = &course};
    report.log_line = hp_advice_log_line(s, NULL, advice, line, sizeof line);
    size_t size = 0;
    FILE *out;
    capture_begin(&out, &text, &size);
    hp_screen screen = hp_screen_plain(out);
    hp_advice_print(&report, &screen);
    fclose(out);
    hp_standing_course_free(&course);
    return text;
}

static void it_is_advised_shown_and_stops(void **state)
{
    (void)state;
    hp_advice_session s;
    open_session(&s, LOG);
    hp_advice advice = next(&s);
    check_int(advice.kind, HP_ADVICE_READ);
    check_true(advice.reading == &reading_insulation, "%s first", hp_reading_name(advice.reading));
    char *text = report_of(&s, &advice);
    check_text_contains(text, "Measure the insulation between leads and shell");
    check_text_contains(text, "--lead-to-shell-mohm=MEGOHMS");
    free(text);
    hp_showing showing[HP_SHOWING_MAX];
    check_int(hp_plan_showings(s.bench->planner, &s.bench->belief, &advice, 0.02, showing), 2);
    check_close(megohm_of(&showing[0].entry), 50.0, 0.0, "as it was said");
    check_close(megohm_of(&showing[1].entry), 0.0, 0.0, "as it was said");
    hp_advice_session_close(&s);

    open_session(&s, LOG ENTRY "insulation: {lead_to_shell_mohm: 0.2}\n");
    advice = next(&s);
    check_int(advice.kind, HP_ADVICE_DANGER);
    check_true(advice.danger == &danger_insulation, "another danger");
    text = report_of(&s, &advice);
    check_text_contains(text, "Stop: the insulation is bad");
    check_text_contains(text, "insulation: 0.2 megohm: doubt");
    free(text);
    hp_advice_session_close(&s);

    /* One number in its fields says what cannot be. */
    open_session(&s, LOG ENTRY "insulation: {lead_to_shell_mohm: 50000}\n");
    advice = next(&s);
    text = report_of(&s, &advice);
    check_text_contains(text, "50000 megohm");
    free(text);
    hp_advice_session_close(&s);

    open_session(&s, LOG ENTRY "insulation: {lead_to_shell_mohm: 20}\n");
    advice = next(&s);
    check_true(advice.reading == &hp_reading_pins, "%s then", hp_reading_name(advice.reading));
    hp_advice_session_close(&s);
}

/* Cheap, and it shows a broken lead: worth more than the others where one is likely. */
static void it_is_advised_where_it_is_worth_it(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_drive drive = hp_drive_default();
    hp_likelihood table;
    hp_likelihood_options options = hp_likelihood_options_default();
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    hp_plan_params params = hp_plan_params_default();
    hp_belief belief;
    const char *text = hp_likelihood_default_text;
    check_int(hp_likelihood_read(text, strlen(text), &drive, &options, &table, &err), HP_OK);
    prior.lead_open = 0.5;
    params.allowed = hp_allow(&reading_inductance) | hp_allow(&hp_reading_winding);
    check_int(hp_belief_create(&table, &person, &prior, &belief, &err), HP_OK);
    hp_planner *planner = hp_planner_create(&table, &person, &params, &err);
    hp_advice advice;
    check_int(hp_plan_next(planner, &belief, false, &advice, &err), HP_OK);
    check_true(advice.kind == HP_ADVICE_READ && advice.reading == &reading_inductance, "advice %d",
               (int)advice.kind);
    static hp_card card;
    hp_labels labels = hp_labels_default();
    hp_card_context context = {.drive = &drive, .labels = &labels, .plan = &params};
    hp_card_make(&context, &advice, &card);
    assert_string_equal(card.title, "Take this reading: inductance");
    check_true(card.hows == 1 && card.cautions > 0, "%d hows", card.hows);
    hp_entry entry = hp_entry_make(&reading_inductance, 1);
    inductance *read = hp_entry_values(&entry);
    read->millihenry[0] = read->millihenry[2] = INFINITY; /* lead V */
    read->millihenry[1] = 0.3;
    check_int(hp_belief_add(&belief, &entry, &err), HP_OK);
    double trouble[HP_TROUBLE_COUNT];
    hp_belief_troubles(&belief, trouble);
    int open = hp_trouble_index(-1, (hp_fault){HP_FAULT_LEAD_OPEN, HP_V});
    check_true(trouble[open] > 0.8, "lead V open with %g", trouble[open]);
    hp_planner_free(planner);
    hp_belief_free(&belief);
    hp_likelihood_free(&table);
}

/* ---- page and sheet -------------------------------------------------------------------------- */

/* Whether a step has this title. */
static bool has_step(const hp_list_steps *steps, const char *title)
{
    for (int k = 0; k < steps->count; k++)
        if (strstr(hp_list_text(steps, steps->step[k].title), title))
            return true;
    return false;
}

/* Whether an answer to a step says so. */
static bool has_answer(const hp_list_steps *steps, const char *label)
{
    for (int k = 0; k < steps->count; k++)
        for (int j = 0; j < steps->step[k].answers; j++)
            if (strstr(hp_list_text(steps, steps->step[k].answer[j].label), label))
                return true;
    return false;
}

static void it_is_in_the_plan_on_paper(void **state)
{
    (void)state;
    hp_advice_session s;
    hp_error err = hp_error_none();
    open_session(&s, LOG);
    hp_plan_tree tree;
    hp_plan_tree_options options = hp_plan_tree_options_default();
    options.least_reached = 0.2;
    check_int(hp_plan_tree_build(s.bench->planner, &s.bench->belief, &options, &tree, &err), HP_OK);
    hp_plan_list list = {.subject = hp_report_case_of(&s.session.scenario),
                         .words = hp_case_card_context(s.bench),
                         .tree = &tree};
    hp_list_steps steps;
    check_int(hp_list_steps_make(&list, &steps, &err), HP_OK);
    assert_true(has_step(&steps, "Measure the insulation between leads and shell"));
    assert_true(has_answer(&steps, "less than 1 megohm"));
    assert_true(has_step(&steps, "Stop: the insulation is bad"));
    hp_list_steps_free(&steps);
    char *html = NULL;
    size_t size = 0;
    FILE *out;
    capture_begin(&out, &html, &size);
    check_int(hp_plan_list_put(&list, out, &err), HP_OK);
    fclose(out);
    check_text_contains(html, "Measure the insulation between leads and shell");
    free(html);
    hp_plan_tree_free(&tree);
    hp_advice_session_close(&s);
}

/* The sheet's line on the insulation, or NULL. */
static const hp_sheet_line *sheet_line(const hp_wiring_sheet *sheet)
{
    for (int k = 0; k < sheet->readings.count; k++)
        if (strcmp(sheet->readings.line[k].what, "Insulation to the shell") == 0)
            return &sheet->readings.line[k];
    return NULL;
}

static void the_sheet_keeps_what_was_measured(void **state)
{
    (void)state;
    loaded l = scenario_load_text(NAME ".yaml", SCENARIO);
    hp_entry entry[2] = {hp_entry_make(&reading_insulation, 1),
                         hp_entry_make(&reading_insulation, 2)};
    ((insulation *)hp_entry_values(&entry[0]))->megohm = 12.5;
    ((insulation *)hp_entry_values(&entry[1]))->megohm = 50.0;
    entry[1].typical = true;
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    hp_sheet_source source = {.drive = &l.scenario.drive,
                              .labels = &l.scenario.labels,
                              .harness = &l.scenario.harness,
                              .parameters = &l.scenario.parameters,
                              .log = "log",
                              .entry = entry,
                              .entries = 2,
                              .person = &person,
                              .prior = &prior};
    static hp_wiring_sheet sheet;
    hp_wiring_sheet_make(&source, &sheet);
    const hp_sheet_line *line = sheet_line(&sheet);
    assert_non_null(line);
    assert_string_equal(line->value, "12.5 megohm");
    assert_string_equal(line->from, "log entry 1");
    entry[0].typical = true;
    hp_wiring_sheet_make(&source, &sheet);
    assert_null(sheet_line(&sheet));
    loaded_free(&l);
}

/* ---- the place in the list ------------------------------------------------------------------- */

static void no_other_kind_changes(void **state)
{
    (void)state;
    check_int(hp_reading_index(&reading_insulation), 0);
    for (int k = 0; hp_readings[k]; k++)
        check_true(hp_reading_find(hp_readings[k]->name) == hp_readings[k], "%s found",
                   hp_readings[k]->name);
    check_true(hp_field_find(&hp_reading_trial, "wiring") != NULL, "a trial has a wiring");
    for (int trouble = 0; trouble < HP_TROUBLE_COUNT; trouble++)
        check_true(hp_plan_proof(trouble) != &reading_insulation &&
                       hp_plan_proof(trouble) != &reading_inductance,
                   "a new kind proves what it does not show");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_log_notes_it, clean_up),
        cmocka_unit_test_teardown(a_log_refuses_what_is_wrong_with_it, clean_up),
        cmocka_unit_test(it_is_asked_for),
        cmocka_unit_test_teardown(it_is_advised_shown_and_stops, clean_up),
        cmocka_unit_test(it_is_advised_where_it_is_worth_it),
        cmocka_unit_test_teardown(it_is_in_the_plan_on_paper, clean_up),
        cmocka_unit_test(the_sheet_keeps_what_was_measured),
        cmocka_unit_test(no_other_kind_changes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
