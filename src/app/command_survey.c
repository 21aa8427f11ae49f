/* `hubphase survey FILE`: all 36 wirings, judged, as table, JSON, CSV and pictures. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/report/tables.h"

#include <string.h>

enum { KEY_SHOW = HP_KEY_OWN };

typedef struct choices {
    hp_survey_choice survey;
    bool show_parameters;
} choices;

static const struct argp_option options[] = {
    {"show-parameters", KEY_SHOW, NULL, 0,
     "List every parameter with its value and where it comes from, and simulate nothing", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    (void)arg;
    switch (key) {
    case ARGP_KEY_INIT:
        state->child_inputs[0] = &choice->survey;
        state->child_inputs[1] = &choice->survey.report;
        return 0;
    case KEY_SHOW: choice->show_parameters = true; return 0;
    case ARGP_KEY_END:
        if (choice->show_parameters && (choice->survey.report.json || choice->survey.report.csv))
            hp_option_refuse(state, "give only one of --json, --csv and --show-parameters");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {
    {&hp_survey_argp, 0, NULL, 0}, {&hp_forms_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Simulate the 36 ways to join the motor's phase and Hall leads to the controller of scenario "
    "FILE, each from several start positions of the rotor, and judge each: correct (runs "
    "smoothly forward), reverse (runs smoothly, but backward), rough (turns, but not smoothly), "
    "stalled (does not turn)."
    "\vThe simulated wheel is lifted: nothing but its own friction loads it.";

static const struct argp argp = {options, parse, "FILE", doc, children, NULL, NULL};

static hp_result write_report(const hp_session *session, const choices *choice,
                              const hp_survey *survey, FILE *out, hp_error *err)
{
    hp_report_case subject = hp_report_case_of(&session->scenario);
    hp_report_row row[HP_WIRING_COUNT];
    hp_report_rows_make(survey, row);
    if (choice->survey.report.json)
        return hp_survey_json_write(&subject, row, HP_WIRING_COUNT, out, err);
    if (choice->survey.report.csv)
        return hp_survey_csv_write(&subject, row, HP_WIRING_COUNT, out, err);
    hp_screen screen = hp_terminal_screen(out);
    hp_survey_print(&subject, survey, &screen);
    return HP_OK;
}

/* Pictures of one wiring are of the first that the simulation found correct; of wiring 1 if there
 * is none. */
static hp_result write_plots(const hp_session *session, const choices *choice,
                             const hp_survey *survey, hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(session);
    subject.survey = survey;
    subject.number = 1;
    for (int n = HP_WIRING_COUNT; n >= 1; n--)
        if (survey->judgement[n - 1].verdict == HP_VERDICT_CORRECT)
            subject.number = n;
    subject.judgement = &survey->judgement[subject.number - 1];
    return hp_plots_write(session, &choice->survey.plot, HP_MAKER_SURVEY, 0, &subject, err);
}

/* Report first, pictures after: the answer matters more, and a picture that fails still fails the
 * command. */
static hp_result write_all(const hp_session *session, const choices *choice,
                           const hp_survey *survey, hp_output *output, hp_error *err)
{
    hp_result result = write_report(session, choice, survey, output->file, err);
    result = hp_output_finish(output, result, err);
    if (result == HP_OK && choice->survey.plot.directory)
        result = write_plots(session, choice, survey, err);
    return result;
}

static hp_result show_parameters(const hp_session *session, hp_output *output, hp_error *err)
{
    hp_screen screen = hp_terminal_screen(output->file);
    hp_parameters_print(&session->scenario.parameters, &screen);
    return hp_output_commit(output, err);
}

static hp_result simulate(const hp_session *session, hp_survey *survey, hp_error *err)
{
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options survey_options = hp_session_survey_options(session, &bar);
    hp_result result = hp_survey_run(&session->scenario.drive, &survey_options, survey, err);
    hp_bar_end(&bar);
    return result;
}

/* Wirings that the simulation gave up, and what makes it so slow. */
static void tell_slow(const hp_session *session, const hp_survey *survey)
{
    int slow = 0;
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        slow += survey->judgement[k].broke_off == HP_FAIL_SLOW;
    if (slow == 0)
        return;
    hp_terminal_line(stderr, "%s: %d wiring%s undecided: %s more steps than a run may take",
                     session->command, slow, slow == 1 ? " is" : "s are",
                     slow == 1 ? "it takes" : "they take");
    hp_scenario_tell_slow(&session->scenario, stderr);
}

hp_exit hp_command_survey(int argc, char **argv)
{
    choices choice = {.survey = hp_survey_choice_default()};
    hp_session session;
    hp_survey survey;
    hp_output output;
    hp_error err = hp_error_none();
    memset(&survey, 0, sizeof survey);
    memset(&output, 0, sizeof output);
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status =
        hp_session_open(&session, argv[0], choice.survey.report.file, &choice.survey.run);
    if (status != HP_EXIT_FINE)
        return status;
    /* Places are tried before the work, so that a wrong name costs no waiting. */
    hp_result result = HP_OK;
    if (!choice.show_parameters)
        result = hp_plots_open(&session, &choice.survey.plot, HP_MAKER_SURVEY, 0, &err);
    if (result == HP_OK)
        result = hp_session_report_open(&session, &output, choice.survey.report.output, &err);
    if (result == HP_OK && choice.show_parameters)
        result = show_parameters(&session, &output, &err);
    else if (result == HP_OK)
        result = simulate(&session, &survey, &err);
    if (result == HP_OK && !choice.show_parameters)
        result = write_all(&session, &choice, &survey, &output, &err);
    if (result == HP_OK && !choice.show_parameters)
        tell_slow(&session, &survey);
    if (result != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_output_discard(&output);
    hp_survey_free(&survey);
    hp_session_close(&session);
    return status;
}
