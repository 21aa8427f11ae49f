/* `hubphase spread FILE`: the survey over an ensemble of motors like the one described. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/report/tables.h"

#include <stdlib.h>
#include <string.h>

enum { KEY_MOTORS = HP_KEY_OWN, KEY_SEED };

typedef struct choices {
    hp_survey_choice survey;
    int motors; /* 0: the scenario's */
    int seed;   /* below 0: the scenario's */
} choices;

static const struct argp_option options[] = {
    {"motors", KEY_MOTORS, "N", 0, "Motors to draw and survey (default: the scenario's)", 0},
    {"seed", KEY_SEED, "N", 0, "Draw other motors: any whole number (default: the scenario's)", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT:
        state->child_inputs[0] = &choice->survey;
        state->child_inputs[1] = &choice->survey.report;
        return 0;
    case KEY_MOTORS:
        choice->motors = hp_option_integer(state, "--motors", arg, 1, HP_SPREAD_MOTORS_MAX);
        return 0;
    case KEY_SEED:
        choice->seed = hp_option_integer(state, "--seed", arg, 0, HP_SPREAD_SEED_MAX);
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {
    {&hp_survey_argp, 0, NULL, 0}, {&hp_forms_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Survey many motors like the one that scenario FILE describes, each a little different in what "
    "is uncertain, and tell how the verdicts and figures of every wiring spread, what drives them "
    "and how near a threshold they come. How uncertain each figure is stands in the scenario's "
    "section spread."
    "\vCtrl-C ends the work and reports on the motors done by then (status 130); a second one ends "
    "the program at once.";

static const struct argp argp = {options, parse, "FILE", doc, children, NULL, NULL};

static void lay_over(hp_session *session, const choices *choice)
{
    hp_spread_plan *plan = &session->scenario.spread;
    if (choice->motors > 0) {
        plan->motors = choice->motors;
        hp_session_note_option(session, "spread.motors", choice->motors, "--motors");
    }
    if (choice->seed >= 0) {
        plan->seed = (uint64_t)choice->seed;
        hp_session_note_option(session, "spread.seed", choice->seed, "--seed");
    }
}

static hp_result simulate(const hp_session *session, hp_spread *spread, hp_error *err)
{
    const hp_scenario *scenario = &session->scenario;
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_spread_options spread_options = hp_spread_options_default();
    double calm = spread_options.survey.run.calm_share;
    spread_options.survey = hp_session_survey_options(session, &bar);
    spread_options.survey.run.calm_share = calm;
    spread_options.plan = scenario->spread;
    hp_result result = hp_spread_run(&scenario->drive, &spread_options, spread, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result write_report(const hp_session *session, const choices *choice,
                              const hp_spread *spread, FILE *out, hp_error *err)
{
    hp_report_case subject = hp_report_case_of(&session->scenario);
    if (choice->survey.report.json)
        return hp_spread_json_write(&subject, spread, out, err);
    if (choice->survey.report.csv)
        return hp_spread_csv_write(&subject, spread, out, err);
    hp_screen screen = hp_terminal_screen(out);
    hp_spread_print(&subject, spread, &screen);
    return HP_OK;
}

static hp_result write_plots(const hp_session *session, const choices *choice,
                             const hp_spread *spread, hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(session);
    subject.spread = spread;
    return hp_plots_write(session, &choice->survey.plot, HP_MAKER_SPREAD, 0, &subject, err);
}

static hp_result write_all(const hp_session *session, const choices *choice,
                           const hp_spread *spread, hp_output *output, hp_error *err)
{
    hp_result result = write_report(session, choice, spread, output->file, err);
    result = hp_output_finish(output, result, err);
    if (result == HP_OK && choice->survey.plot.directory)
        result = write_plots(session, choice, spread, err);
    return result;
}

/* Everything between an opened session and its end. */
static hp_exit run(hp_session *session, const choices *choice, hp_spread *spread)
{
    hp_output output;
    hp_error err = hp_error_none();
    hp_exit status = HP_EXIT_FINE;
    memset(&output, 0, sizeof output);
    hp_result result = hp_plots_open(session, &choice->survey.plot, HP_MAKER_SPREAD, 0, &err);
    if (result == HP_OK)
        result = hp_session_report_open(session, &output, choice->survey.report.output, &err);
    if (result == HP_OK)
        result = simulate(session, spread, &err);
    if (result == HP_OK && spread->motors < spread->plan.motors) {
        hp_terminal_line(stderr, "%s: stopped after %d of %d motors", session->command,
                         spread->motors, spread->plan.motors);
        status = HP_EXIT_CANCELLED;
    }
    if (result == HP_OK)
        result = write_all(session, choice, spread, &output, &err);
    if (result != HP_OK)
        status = hp_session_fail(session->command, &err);
    hp_output_discard(&output);
    return status;
}

int hp_command_spread(int argc, char **argv)
{
    choices choice = {.survey = hp_survey_choice_default(), .seed = -1};
    hp_session session;
    hp_options_parse(&argp, argc, argv, &choice);
    hp_exit status =
        hp_session_open(&session, argv[0], choice.survey.report.file, &choice.survey.run);
    if (status != HP_EXIT_FINE)
        return status;
    lay_over(&session, &choice);
    hp_spread *spread = malloc(sizeof *spread);
    if (spread) {
        status = run(&session, &choice, spread);
    } else {
        hp_terminal_line(stderr, "%s: no memory", argv[0]);
        status = HP_EXIT_FAILED;
    }
    free(spread);
    hp_session_close(&session);
    return status;
}
