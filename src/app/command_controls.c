/* `hubphase controls FILE`: what grip, brake, pedals, key and their leads make the machine do. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/decide/what_if.h"
#include "hubphase/report/tables.h"

#include <string.h>

enum {
    KEY_CASE = HP_KEY_OWN,
    KEY_DO,
    KEY_SECONDS,
    KEY_WIRING,
    KEY_SWITCHED,
    KEY_JSON,
    KEY_SHOW,
    KEY_QUIET
};

typedef struct choices {
    hp_report_choice report;
    hp_plot_choice plot;
    const char *what;   /* name of a case; NULL: all */
    const char *course; /* NULL: none of one's own */
    const char *wiring; /* NULL: the first that the survey calls correct */
    double seconds;     /* 0: chosen from the course */
    bool switched, show_parameters, quiet;
} choices;

static const struct argp_option options[] = {
    {"case", KEY_CASE, "NAME", 0, "One case by itself, action by action (names: see below)", 0},
    {"do", KEY_DO, "ACTIONS", 0,
     "A course of your own: WHAT=VALUE@SECONDS, such as \"grip=50@0.3 brake=pulled@2\"", 0},
    {"seconds", KEY_SECONDS, "S", 0,
     "Time simulated with --do (default: 4 s after the last action)", 0},
    {"wiring", KEY_WIRING, "W", 0,
     "Wiring as for `spin' (default, and wherever nobody knows which lead is which: the first that "
     "`survey' calls correct)",
     0},
    {"switched", KEY_SWITCHED, NULL, 0,
     "With --case or --do: simulate every edge of the controller's pulse-width modulation", 0},
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of the text (fields: docs/json.md)", 0},
    {"show-parameters", KEY_SHOW, NULL, 0,
     "List what is known of the controls, and where it comes from, and simulate nothing", 0},
    {"quiet", KEY_QUIET, NULL, 0, "No progress bar, no names of files written", 0},
    {0}};

static void check_choices(struct argp_state *state, const choices *c)
{
    if (c->what && c->course)
        hp_option_refuse(state, "give only one of --case and --do");
    if (c->seconds > 0.0 && !c->course)
        hp_option_refuse(state, "--seconds belongs to --do, a case has its own time");
    if (!c->what && !c->course && (c->switched || c->plot.directory))
        hp_option_refuse(state, "%s shows one course, give --case or --do too",
                         c->switched ? "--switched" : "--plots");
    if (c->show_parameters && c->report.json)
        hp_option_refuse(state, "give only one of --json and --show-parameters");
}

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT:
        state->child_inputs[0] = &choice->plot;
        state->child_inputs[1] = &choice->report;
        return 0;
    case KEY_CASE: choice->what = arg; return 0;
    case KEY_DO: choice->course = arg; return 0;
    case KEY_SECONDS:
        choice->seconds =
            hp_option_number(state, "--seconds", arg, "seconds", 0.01, HP_COURSE_SECONDS_MAX);
        return 0;
    case KEY_WIRING: choice->wiring = arg; return 0;
    case KEY_SWITCHED: choice->switched = true; return 0;
    case KEY_JSON: choice->report.json = true; return 0;
    case KEY_SHOW: choice->show_parameters = true; return 0;
    case KEY_QUIET: choice->quiet = true; return 0;
    case ARGP_KEY_END: check_choices(state, choice); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {
    {&hp_plot_argp, 0, NULL, 0}, {&hp_report_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Simulate what the controls of scenario FILE make the machine do, wheel lifted: each lead that "
    "can come off, a brake switch of the other sort, pedals that stop or turn backward. Says of "
    "each what the motor then does, how long until it pulls no more and until the wheel stands, "
    "and whether that is well. The section `controls' of the scenario says what the controls "
    "are.\v";

/* What --do takes, and the cases. */
static const char *make_doc(char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p,
                  "%sActions of --do: key=on or off, grip=PERCENT, brake=pulled or released, "
                  "pedals=RPM (backward below 0), speed=STEP, off=LEAD, on=LEAD; each @SECONDS. "
                  "The key is on at the start, and all else at rest. Leads: ",
                  doc);
    for (int k = 0; k < HP_CONTROL_LEAD_COUNT; k++)
        hp_phrase_add(&p, "%s%s", k ? ", " : "", hp_control_lead_name((hp_control_lead)k));
    hp_phrase_add(&p, ".\n\nCases:\n");
    for (int k = 0; k < HP_WHAT_IF_COUNT; k++)
        hp_phrase_add(&p, "  %s\n", hp_what_if_name((hp_what_if)k));
    hp_phrase_add(&p, "\nA simulation does not replace trying each, wheel lifted. Local rules and "
                      "licensed people come first.");
    return out;
}

/* ---- the wiring ------------------------------------------------------------------------------ */

/* The first that the survey calls correct; `given`: a wiring is there already, and stays where none
 * is. */
static hp_result find_wiring(const hp_session *session, bool given, hp_wiring *wiring,
                             hp_error *err)
{
    hp_survey survey;
    hp_drive drive = session->scenario.drive;
    drive.controller.pwm = HP_PWM_AVERAGED;
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options survey_options = hp_session_survey_options(session, &bar);
    hp_result result = hp_survey_run(&drive, &survey_options, &survey, err);
    hp_bar_end(&bar);
    if (result != HP_OK)
        return result;
    int number = hp_survey_first_correct(&survey);
    hp_survey_free(&survey);
    if (number == 0 && given)
        return HP_OK;
    if (number == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "no wiring of this machine is correct at its throttle: give --wiring");
    if (given)
        hp_terminal_line(stderr,
                         "%s: nobody knows which lead is which, so --wiring names none of them: a "
                         "correct wiring is shown",
                         session->command);
    *wiring = hp_wiring_from_number(number);
    return HP_OK;
}

/* ---- all cases ------------------------------------------------------------------------------- */

static hp_result run_all(const hp_session *session, const choices *choice, const hp_wiring *wiring,
                         FILE *out, hp_error *err)
{
    hp_what_if_result result[HP_WHAT_IF_COUNT];
    const hp_scenario *s = &session->scenario;
    int count = 0;
    hp_drive drive = s->drive;
    drive.controller.pwm = HP_PWM_AVERAGED;
    hp_result done = hp_what_if_run_all(&drive, wiring, &s->controls, result, &count, err);
    if (done != HP_OK)
        return done;
    hp_report_case subject = hp_report_case_of(s);
    if (choice->report.json)
        return hp_what_if_json_write(&subject, &s->controls_parameters, wiring, &s->controls,
                                     result, count, out, err);
    hp_screen screen = hp_terminal_screen(out);
    hp_what_if_print(&subject, wiring, &s->controls, result, count, &screen);
    return HP_OK;
}

/* ---- one course ------------------------------------------------------------------------------ */

/* What is asked to be run: a case, or a course of one's own. */
typedef struct asked {
    hp_what_if what; /* HP_WHAT_IF_COUNT: none */
    hp_what_if_plan plan;
} asked;

static hp_exit refuse(const hp_session *session, const char *option, const hp_error *err)
{
    hp_terminal_line(stderr, "%s: %s: %s", session->command, option, err->text);
    return HP_EXIT_USAGE;
}

static hp_exit take_asked(const hp_session *session, const choices *choice, asked *ask)
{
    const hp_controls_params *controls = &session->scenario.controls;
    hp_error err = hp_error_none();
    memset(ask, 0, sizeof *ask);
    ask->what = HP_WHAT_IF_COUNT;
    if (choice->what &&
        hp_what_if_plan_find(choice->what, controls, &ask->what, &ask->plan, &err) != HP_OK)
        return refuse(session, "--case", &err);
    if (choice->course &&
        hp_course_plan_parse(choice->course, controls, choice->seconds, &ask->plan, &err) != HP_OK)
        return refuse(session, "--do", &err);
    return HP_EXIT_FINE;
}

static hp_result write_plots(const hp_session *session, const choices *choice,
                             const hp_wiring *wiring, const hp_course_run *run,
                             const hp_what_if_result *about, hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(session);
    subject.course = run;
    subject.controls = &session->scenario.controls;
    subject.what_if = about;
    subject.number = hp_wiring_number(wiring);
    return hp_plots_write(session, &choice->plot, HP_MAKER_CONTROLS, 0, &subject, err);
}

static hp_result run_one(const hp_session *session, const choices *choice, const hp_wiring *wiring,
                         const asked *ask, hp_output *output, hp_error *err)
{
    hp_course_run run;
    const hp_scenario *s = &session->scenario;
    hp_drive drive = s->drive;
    if (choice->switched && drive.controller.pwm == HP_PWM_AVERAGED)
        drive.controller.pwm = HP_PWM_COMPLEMENTARY;
    hp_what_if_result about;
    const hp_what_if_result *shown = ask->what < HP_WHAT_IF_COUNT ? &about : NULL;
    hp_result result =
        shown ? hp_what_if_run(&drive, wiring, &s->controls, ask->what, &about, &run, err)
              : hp_course_run_make(&drive, wiring, &s->controls, &ask->plan.course,
                                   ask->plan.seconds, &run, err);
    if (result != HP_OK)
        return result;
    hp_report_case subject = hp_report_case_of(s);
    if (choice->report.json) {
        result = hp_course_json_write(&subject, &s->controls_parameters, wiring, &s->controls, &run,
                                      shown, output->file, err);
    } else {
        hp_screen screen = hp_terminal_screen(output->file);
        hp_course_print(&subject, wiring, &s->controls, &run, shown, &screen);
    }
    result = hp_output_finish(output, result, err);
    if (result == HP_OK && choice->plot.directory)
        result = write_plots(session, choice, wiring, &run, shown, err);
    hp_course_run_free(&run);
    return result;
}

/* ---- the command ----------------------------------------------------------------------------- */

static hp_result work(hp_session *session, const choices *choice, const asked *ask,
                      hp_wiring *wiring, hp_output *output, hp_error *err)
{
    hp_result result = hp_plots_open(session, &choice->plot, HP_MAKER_CONTROLS, 0, err);
    if (result == HP_OK)
        result = hp_session_report_open(session, output, choice->report.output, err);
    if (result == HP_OK && choice->show_parameters) {
        hp_screen screen = hp_terminal_screen(output->file);
        hp_parameters_print(&session->scenario.controls_parameters, &screen);
        return hp_output_commit(output, err);
    }
    /* Where nobody knows which lead is which, a number names no wiring: the correct one is meant.
     */
    if (result == HP_OK && (!choice->wiring || !session->scenario.labels.axes_known))
        result = find_wiring(session, choice->wiring != NULL, wiring, err);
    if (result != HP_OK)
        return result;
    if (choice->what || choice->course)
        return run_one(session, choice, wiring, ask, output, err);
    return hp_output_finish(output, run_all(session, choice, wiring, output->file, err), err);
}

static hp_exit run_command(hp_session *session, const choices *choice)
{
    hp_wiring wiring = hp_wiring_from_number(1);
    hp_error err = hp_error_none();
    hp_output output;
    asked ask;
    memset(&output, 0, sizeof output);
    if (choice->wiring &&
        hp_wiring_parse(choice->wiring, &session->scenario.labels, &wiring, &err) != HP_OK)
        return refuse(session, "--wiring", &err);
    hp_exit status = take_asked(session, choice, &ask);
    if (status != HP_EXIT_FINE)
        return status;
    if (work(session, choice, &ask, &wiring, &output, &err) != HP_OK)
        status = hp_session_fail(session->command, &err);
    hp_output_discard(&output);
    return status;
}

#define DOC_SIZE 3000

hp_exit hp_command_controls(int argc, char **argv)
{
    choices choice = {.plot = hp_plot_choice_default()};
    hp_run_choice run = hp_run_choice_default();
    char text[DOC_SIZE];
    hp_session session;
    const struct argp argp = {options,  parse, "FILE", make_doc(text, sizeof text),
                              children, NULL,  NULL};
    hp_options_parse(&argp, 0, argc, argv, &choice);
    run.quiet = choice.quiet;
    hp_exit status = hp_session_open(&session, argv[0], choice.report.file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    char log[HP_BENCH_PATH_SIZE];
    if (!choice.quiet && hp_session_could_learn(&session, log, sizeof log))
        hp_terminal_line(stderr,
                         "%s: %s tells of this machine what is not used here: `hubphase commission "
                         "--write' makes a scenario of it",
                         session.command, log);
    status = run_command(&session, &choice);
    hp_session_close(&session);
    return status;
}
