/* `hubphase explain FILE --wiring W`: why a wiring does what it does. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/report/tables.h"

#include <string.h>

typedef struct choices {
    hp_survey_choice survey;
    const char *wiring;
} choices;

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    (void)arg;
    if (key != ARGP_KEY_INIT)
        return ARGP_ERR_UNKNOWN;
    state->child_inputs[0] = &choice->survey;
    state->child_inputs[1] = &choice->wiring;
    return 0;
}

static const struct argp_child children[] = {
    {&hp_survey_argp, 0, NULL, 0}, {&hp_wiring_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Say in plain words why a wiring of scenario FILE does what it does: which pair of leads the "
    "controller's table drives in each step, how far the field then stands ahead of the rotor, "
    "the torque that follows, and the sum; then the amperes, what is seen and felt at the wheel, "
    "each beside the correct wiring, and what the simulation did.";

static const struct argp argp = {NULL, parse, "FILE", doc, children, NULL, NULL};

/* Simulates all 36, so that this wiring's outcome is the very one that `survey` shows, and is told
 * against the correct one. */
static hp_result simulate(const hp_session *session, hp_survey *survey, hp_error *err)
{
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options survey_options = hp_session_survey_options(session, &bar);
    hp_result result = hp_survey_run(&session->scenario.drive, &survey_options, survey, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result write_plots(const hp_session *session, const choices *choice,
                             const hp_wiring *wiring, const hp_judgement *judgement, hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(session);
    subject.number = hp_wiring_number(wiring);
    subject.judgement = judgement;
    return hp_plots_write(session, &choice->survey.plot, HP_MAKER_EXPLAIN, subject.number, &subject,
                          err);
}

static hp_result explain(hp_session *session, const choices *choice, const hp_wiring *wiring,
                         hp_output *output, hp_error *err)
{
    hp_survey survey;
    const hp_survey_choice *chosen = &choice->survey;
    int number = hp_wiring_number(wiring);
    hp_result result = hp_plots_open(session, &chosen->plot, HP_MAKER_EXPLAIN, number, err);
    if (result == HP_OK)
        result = hp_session_report_open(session, output, chosen->report.output, err);
    if (result == HP_OK)
        result = simulate(session, &survey, err);
    if (result != HP_OK)
        return result;
    hp_report_case subject = hp_report_case_of(&session->scenario);
    hp_screen screen = hp_terminal_screen(output->file);
    hp_explain_print(&subject, wiring, &survey, &screen);
    result = hp_output_commit(output, err);
    if (result == HP_OK && chosen->plot.directory)
        result = write_plots(session, choice, wiring, &survey.judgement[number - 1], err);
    hp_survey_free(&survey);
    return result;
}

hp_exit hp_command_explain(int argc, char **argv)
{
    choices choice = {.survey = hp_survey_choice_default()};
    hp_session session;
    hp_wiring wiring;
    hp_output output;
    hp_error err = hp_error_none();
    memset(&output, 0, sizeof output);
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status =
        hp_session_open(&session, argv[0], choice.survey.report.file, &choice.survey.run);
    if (status != HP_EXIT_FINE)
        return status;
    if (hp_wiring_parse(choice.wiring, &session.scenario.labels, &wiring, &err) != HP_OK) {
        hp_terminal_line(stderr, "%s: --wiring: %s", argv[0], err.text);
        hp_session_close(&session);
        return HP_EXIT_USAGE;
    }
    if (explain(&session, &choice, &wiring, &output, &err) != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_output_discard(&output);
    hp_session_close(&session);
    return status;
}
