/* `hubphase fit FILE`: whether these parts go together, and what the machine does on the road. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/decide/fit.h"
#include "hubphase/report/tables.h"

#include <stdlib.h>

enum { KEY_JSON = HP_KEY_OWN, KEY_SHOW, KEY_LOG };

typedef struct choices {
    hp_survey_choice survey;
    bool show_parameters;
    const char *log; /* NULL: none is asked for */
} choices;

static const struct argp_option options[] = {
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of the text (fields: docs/json.md)", 0},
    {"log", KEY_LOG, "LOG", 0,
     "Reckon with what the steps of commissioning in bench log LOG tell of this machine, as the "
     "scenario that `hubphase commission' writes would",
     0},
    {"show-parameters", KEY_SHOW, NULL, 0,
     "List every parameter with its value and where it comes from, and simulate nothing", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT: state->child_inputs[0] = &choice->survey; return 0;
    case KEY_JSON: choice->survey.report.json = true; return 0;
    case KEY_SHOW: choice->show_parameters = true; return 0;
    case KEY_LOG: choice->log = arg; return 0;
    case ARGP_KEY_END:
        if (choice->show_parameters && choice->survey.report.json)
            hp_option_refuse(state, "give only one of --json and --show-parameters");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {{&hp_survey_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Before buying or riding: whether battery, controller, fuse, plugs, leads and axle of scenario "
    "FILE go together, how fast and how far the machine goes, which hill it climbs and how hot it "
    "gets. Each line with its figures, rule and source, and ok, look, stop, or what is missing. "
    "Speeds and currents are simulated, in the correct wiring, at full throttle."
    "\vWhat it reckons with stands in the sections vehicle, pack, fuse, cable, axle, thermal and "
    "ratings of the scenario: docs/scenario.md.";

static const struct argp argp = {options, parse, "FILE", doc, children, NULL, NULL};

/* Bar, survey's options, fit. */
static hp_result reckon(const hp_session *session, hp_fit *fit, hp_error *err)
{
    const hp_scenario *scenario = &session->scenario;
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_fit_given given = hp_scenario_fit_given(scenario);
    given.survey = hp_session_survey_options(session, &bar);
    hp_result result = hp_fit_run(&given, fit, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result write_report(const hp_session *session, const choices *choice, const hp_fit *fit,
                              hp_output *output, hp_error *err)
{
    const hp_scenario *scenario = &session->scenario;
    hp_report_case subject = hp_report_case_of(scenario);
    hp_result result = HP_OK;
    if (choice->survey.report.json) {
        result = hp_fit_json_write(&subject, &scenario->fit_parameters, fit, output->file, err);
    } else {
        hp_screen screen = hp_terminal_screen(output->file);
        hp_fit_print(&subject, &scenario->vehicle, fit, &screen);
    }
    return hp_output_finish(output, result, err);
}

static hp_result show_parameters(const hp_session *session, hp_output *output, hp_error *err)
{
    hp_screen screen = hp_terminal_screen(output->file);
    hp_parameters_print(&session->scenario.parameters, &screen);
    fputc('\n', screen.file);
    hp_parameters_print(&session->scenario.fit_parameters, &screen);
    return hp_output_commit(output, err);
}

static hp_result write_plots(const hp_session *session, const choices *choice, const hp_fit *fit,
                             hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(session);
    subject.fit = fit->correct ? fit : NULL;
    subject.vehicle = &session->scenario.vehicle;
    return hp_plots_write(session, &choice->survey.plot, HP_MAKER_FIT, 0, &subject, err);
}

static hp_result run_command(hp_session *session, const choices *choice, hp_output *output,
                             hp_error *err)
{
    const hp_survey_choice *survey = &choice->survey;
    hp_result result = hp_plots_open(session, &survey->plot, HP_MAKER_FIT, 0, err);
    if (result == HP_OK)
        result = hp_session_report_open(session, output, survey->report.output, err);
    if (result == HP_OK && choice->show_parameters)
        return show_parameters(session, output, err);
    hp_fit *fit = result == HP_OK ? malloc(sizeof *fit) : NULL;
    if (result == HP_OK && !fit)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a fit");
    if (result == HP_OK)
        result = reckon(session, fit, err);
    if (result == HP_OK)
        result = write_report(session, choice, fit, output, err);
    if (result == HP_OK && survey->plot.directory)
        result = write_plots(session, choice, fit, err);
    free(fit);
    return result;
}

/* What a log tells of this machine is used where it is asked for, and else named. */
static hp_result heed_log(hp_session *session, const choices *choice, hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    if (choice->log)
        return hp_session_learn(session, choice->log, err);
    if (hp_session_could_learn(session, path, sizeof path) && !session->choice.quiet)
        hp_terminal_line(stderr,
                         "%s: %s tells figures of this machine that are not used here: with --log "
                         "%s they are",
                         session->command, path, path);
    return HP_OK;
}

hp_exit hp_command_fit(int argc, char **argv)
{
    choices choice = {.survey = hp_survey_choice_default()};
    hp_session session;
    hp_output output = {0};
    hp_error err = hp_error_none();
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status =
        hp_session_open(&session, argv[0], choice.survey.report.file, &choice.survey.run);
    if (status != HP_EXIT_FINE)
        return status;
    if (heed_log(&session, &choice, &err) != HP_OK ||
        run_command(&session, &choice, &output, &err) != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_output_discard(&output);
    hp_session_close(&session);
    return status;
}
