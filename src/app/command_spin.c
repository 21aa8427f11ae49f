/* `hubphase spin FILE --wiring W`: one run of one wiring, with its waveforms. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/report/tables.h"

#include <math.h>
#include <string.h>

enum { KEY_ANGLE = HP_KEY_OWN, KEY_SECONDS, KEY_SWITCHED, KEY_WINDOW, KEY_JSON, KEY_CSV };

/* Samples over the window: enough for a picture of any size, few enough for a spreadsheet. */
#define SAMPLES 4000

typedef struct choices {
    hp_run_choice run;
    hp_plot_choice plot;
    hp_report_choice report;
    const char *wiring;
    const char *csv;    /* NULL: no waveforms as CSV */
    double angle;       /* [rad electrical]; NAN: the survey's first */
    double seconds;     /* 0: the scenario's */
    double from, until; /* [s] window; until 0: chosen from the run */
    bool switched;
} choices;

static const struct argp_option options[] = {
    {"from-angle", KEY_ANGLE, "DEGREES", 0,
     "Electrical angle at which the rotor rests at the start (default: the survey's first)", 0},
    {"seconds", KEY_SECONDS, "S", 0, "Time simulated (default: the scenario's)", 0},
    {"switched", KEY_SWITCHED, NULL, 0,
     "Simulate every edge of the controller's pulse-width modulation", 0},
    {"window", KEY_WINDOW, "FROM:UNTIL", 0,
     "Stretch of time, in seconds, for waveforms (default: the last three electrical turns)", 0},
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of the text (fields: docs/json.md)", 0},
    {"csv", KEY_CSV, "FILE", 0, "Write the waveforms into FILE; - is the standard output", 0},
    {0}};

/* "0.5:0.52" */
static void take_window(struct argp_state *state, const char *text, choices *choice)
{
    char from[64];
    const char *colon = strchr(text, ':');
    size_t length = colon ? (size_t)(colon - text) : 0;
    if (!colon || length >= sizeof from)
        hp_option_refuse(state, "--window is \"%s\", must be two times in seconds such as 0.5:0.52",
                         text);
    memcpy(from, text, length);
    from[length] = '\0';
    choice->from = hp_option_number(state, "--window, first part,", from, "seconds", 0.0, 3600.0);
    choice->until =
        hp_option_number(state, "--window, second part,", colon + 1, "seconds", 0.0, 3600.0);
    if (!(choice->until > choice->from))
        hp_option_refuse(state, "--window is \"%s\", must end later than it begins", text);
}

static void check_choices(struct argp_state *state, const choices *choice)
{
    if (choice->csv && strcmp(choice->csv, "-") == 0 && !choice->report.output)
        hp_option_refuse(state, "--csv - leaves no room for the report, give --output FILE too");
}

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT:
        state->child_inputs[0] = &choice->run;
        state->child_inputs[1] = &choice->plot;
        state->child_inputs[2] = &choice->report;
        state->child_inputs[3] = &choice->wiring;
        return 0;
    case KEY_ANGLE:
        choice->angle =
            HP_DEG * hp_option_number(state, "--from-angle", arg, "degrees", -360.0, 360.0);
        return 0;
    case KEY_SECONDS:
        choice->seconds = hp_option_number(state, "--seconds", arg, "seconds", 0.001, 3600.0);
        return 0;
    case KEY_SWITCHED: choice->switched = true; return 0;
    case KEY_WINDOW: take_window(state, arg, choice); return 0;
    case KEY_JSON: choice->report.json = true; return 0;
    case KEY_CSV: choice->csv = arg; return 0;
    case ARGP_KEY_END: check_choices(state, choice); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {{&hp_run_argp, 0, NULL, 0},
                                             {&hp_plot_argp, 0, NULL, 0},
                                             {&hp_report_argp, 0, NULL, 0},
                                             {&hp_wiring_argp, 0, NULL, 0},
                                             {0}};

static const char doc[] = "Run one wiring of scenario FILE from one start position: what it does, "
                          "where the energy goes, and "
                          "on request its waveforms as CSV and pictures.";

static const struct argp argp = {options, parse, "FILE", doc, children, NULL, NULL};

/* The run that the command line asks for; the share of the run that is measured stays. */
static hp_run_options run_asked(const hp_session *session, const choices *choice)
{
    hp_run_options run = session->scenario.run;
    run.start_angle = isnan(choice->angle) ? hp_rest_angle(0) : hp_angle_wrap(choice->angle);
    if (choice->seconds > 0.0) {
        run.settle_s *= choice->seconds / run.seconds;
        run.seconds = choice->seconds;
    }
    return run;
}

/* Lays the command line over the scenario. */
static void lay_over(hp_session *session, const choices *choice, hp_run_options *run)
{
    *run = run_asked(session, choice);
    if (choice->seconds > 0.0) {
        hp_session_note_option(session, "run.seconds", run->seconds, "--seconds");
        hp_session_note_option(session, "run.settle_seconds", run->settle_s, "--seconds");
    }
    if (choice->switched && session->scenario.drive.controller.pwm == HP_PWM_AVERAGED)
        session->scenario.drive.controller.pwm = HP_PWM_COMPLEMENTARY;
}

/* Twice when waveforms are wanted without a window: only a run tells which window shows something.
 */
static hp_result spin(hp_session *session, const hp_wiring *wiring, choices *choice,
                      hp_trace *trace, hp_figures *figures, hp_error *err)
{
    hp_run_options run;
    bool waves = choice->csv || choice->plot.directory;
    lay_over(session, choice, &run);
    hp_result result = hp_run_options_check(&run, err);
    hp_engine *engine = result == HP_OK ? hp_engine_create(err) : NULL;
    if (!engine)
        return result == HP_OK ? HP_FAIL_MEMORY : result;
    const hp_drive *drive = &session->scenario.drive;
    bool window_given = choice->until > 0.0;
    if (!waves || !window_given)
        result = hp_engine_run(engine, drive, wiring, &run, NULL, figures, err);
    if (waves && !window_given && result == HP_OK)
        hp_wave_window(&run, drive->motor.pole_pairs, figures, &choice->from, &choice->until);
    if (waves && result == HP_OK) {
        *trace =
            hp_trace_init(choice->from, choice->until, (choice->until - choice->from) / SAMPLES);
        result = hp_engine_run(engine, drive, wiring, &run, trace, figures, err);
    }
    hp_engine_free(engine);
    return result;
}

/* The places written to, opened before the work so that a wrong name costs no waiting. */
typedef struct places {
    hp_output report;
    hp_output csv;
} places;

static hp_result open_places(hp_session *session, const choices *choice, const hp_wiring *wiring,
                             places *place, hp_error *err)
{
    hp_result result =
        hp_plots_open(session, &choice->plot, HP_MAKER_SPIN, hp_wiring_number(wiring), err);
    if (result == HP_OK)
        result = hp_session_report_open(session, &place->report, choice->report.output, err);
    if (result == HP_OK && choice->csv)
        result = hp_session_report_open(session, &place->csv, choice->csv, err);
    return result;
}

static hp_result write_report(const hp_session *session, const hp_wiring *wiring,
                              const choices *choice, const hp_judgement *judgement,
                              const hp_figures *figures, hp_output *output, hp_error *err)
{
    hp_report_case subject = hp_report_case_of(&session->scenario);
    hp_report_row row = hp_report_row_make(hp_wiring_number(wiring), judgement);
    hp_result result = HP_OK;
    if (choice->report.json) {
        result = hp_survey_json_write(&subject, &row, 1, output->file, err);
    } else {
        hp_screen screen = hp_terminal_screen(output->file);
        hp_spin_print(&subject, wiring, judgement, figures, &screen);
    }
    return hp_output_finish(output, result, err);
}

/* Waveforms that show something; a run that breaks off before their window leaves none. */
static bool has_waves(const hp_trace *trace)
{
    return trace->count >= 2;
}

/* A run that breaks off is told in the report as undecided, and fails the command at the end. */
static bool broke_off(hp_result result)
{
    return result == HP_FAIL_STEP || result == HP_FAIL_NUMBER || result == HP_FAIL_CHATTER ||
           result == HP_FAIL_SLOW;
}

/* All 36 are simulated for the pictures, so that this wiring is drawn on the scale of all and
 * beside the smooth one. Every PWM edge of all of them would take too long: their duty is averaged.
 */
static hp_result write_plots(const hp_session *session, const hp_wiring *wiring,
                             const choices *choice, const hp_judgement *judgement,
                             const hp_trace *trace, const hp_figures *figures, hp_error *err)
{
    hp_drive drive = session->scenario.drive;
    hp_example example[HP_EXAMPLE_COUNT] = {0};
    hp_survey survey = {0};
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options options = hp_session_survey_options(session, &bar);
    drive.controller.pwm = HP_PWM_AVERAGED;
    /* What broke off once would break off everywhere: it is shown alone. */
    bool whole = figures->status == HP_OK;
    hp_result result = whole ? hp_survey_run(&drive, &options, &survey, err) : HP_OK;
    hp_bar_end(&bar);
    hp_picture_subject subject = hp_plots_subject(session);
    subject.survey = whole ? &survey : NULL;
    subject.number = hp_wiring_number(wiring);
    subject.judgement = judgement;
    subject.trace = trace;
    subject.start_angle = figures->start_angle;
    subject.example = example;
    if (result == HP_OK && whole)
        result = hp_examples_run(&session->scenario.drive, &options.run, &survey, subject.number,
                                 example, err);
    if (result == HP_OK)
        result =
            hp_plots_write(session, &choice->plot, HP_MAKER_SPIN, subject.number, &subject, err);
    hp_examples_free(example);
    hp_survey_free(&survey);
    return result;
}

/* One run judged; if it passes by itself, then against one run of every other wiring from the same
 * rest angle, as `survey' would. */
static hp_result judge(const hp_session *session, const hp_wiring *wiring, const choices *choice,
                       const hp_figures *figures, hp_judgement *judgement, hp_error *err)
{
    hp_survey survey;
    hp_thresholds thresholds = hp_thresholds_default();
    *judgement = hp_verdict_judge(figures, 1, &thresholds);
    if (judgement->verdict != HP_VERDICT_CORRECT && judgement->verdict != HP_VERDICT_REVERSE)
        return HP_OK;
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options options = hp_session_survey_options(session, &bar);
    options.run = run_asked(session, choice);
    options.starts = 1;
    options.rest_rad = options.run.start_angle - hp_rest_angle(0);
    hp_result result = hp_survey_run(&session->scenario.drive, &options, &survey, err);
    hp_bar_end(&bar);
    if (result != HP_OK)
        return result;
    survey.judgement[hp_wiring_number(wiring) - 1] = *judgement;
    hp_verdict_compare(survey.judgement, HP_WIRING_COUNT, &thresholds);
    *judgement = survey.judgement[hp_wiring_number(wiring) - 1];
    hp_survey_free(&survey);
    return HP_OK;
}

static hp_result write_all(const hp_session *session, const hp_wiring *wiring,
                           const choices *choice, const hp_trace *trace, const hp_figures *figures,
                           places *place, hp_error *err)
{
    hp_judgement judgement;
    hp_result result = judge(session, wiring, choice, figures, &judgement, err);
    if (result == HP_OK)
        result = write_report(session, wiring, choice, &judgement, figures, &place->report, err);
    if (result == HP_OK && choice->csv && has_waves(trace))
        result =
            hp_output_finish(&place->csv, hp_trace_csv_write(trace, place->csv.file, err), err);
    if (result == HP_OK && choice->plot.directory && has_waves(trace))
        result = write_plots(session, wiring, choice, &judgement, trace, figures, err);
    return result;
}

/* What can be wrong with the command line only a loaded scenario tells. */
static hp_exit check_against_scenario(const hp_session *session, const choices *choice,
                                      hp_wiring *wiring)
{
    hp_error err = hp_error_none();
    double seconds = choice->seconds > 0.0 ? choice->seconds : session->scenario.run.seconds;
    if (hp_wiring_parse(choice->wiring, &session->scenario.labels, wiring, &err) != HP_OK) {
        hp_terminal_line(stderr, "%s: --wiring: %s", session->command, err.text);
        return HP_EXIT_USAGE;
    }
    if (choice->until > seconds) {
        hp_terminal_line(stderr, "%s: --window ends at %g s, must lie within the %g s simulated",
                         session->command, choice->until, seconds);
        return HP_EXIT_USAGE;
    }
    return HP_EXIT_FINE;
}

/* Says why the run broke off, and what is not written because of it. */
static hp_exit tell_broken(const hp_session *session, const choices *choice, const hp_trace *trace,
                           const hp_error *broken)
{
    hp_exit status = hp_session_fail(session->command, broken);
    if (broken->code == HP_FAIL_SLOW)
        hp_scenario_tell_slow(&session->scenario, stderr);
    if ((choice->csv || choice->plot.directory) && !has_waves(trace))
        hp_terminal_line(stderr,
                         "%s: it broke off before the stretch that waveforms show: neither CSV nor "
                         "pictures are written",
                         session->command);
    return status;
}

static hp_exit run_command(hp_session *session, choices *choice)
{
    hp_wiring wiring;
    hp_figures figures;
    hp_trace trace;
    places place;
    hp_error err = hp_error_none(), broken = hp_error_none();
    memset(&place, 0, sizeof place);
    memset(&figures, 0, sizeof figures);
    memset(&trace, 0, sizeof trace);
    hp_exit status = check_against_scenario(session, choice, &wiring);
    if (status != HP_EXIT_FINE)
        return status;
    hp_result result = open_places(session, choice, &wiring, &place, &err);
    if (result == HP_OK)
        result = spin(session, &wiring, choice, &trace, &figures, &err);
    if (broke_off(result)) {
        broken = err;
        result = HP_OK;
    }
    if (result == HP_OK)
        result = write_all(session, &wiring, choice, &trace, &figures, &place, &err);
    if (result != HP_OK)
        status = hp_session_fail(session->command, &err);
    else if (broken.code != HP_OK)
        status = tell_broken(session, choice, &trace, &broken);
    hp_output_discard(&place.report);
    hp_output_discard(&place.csv);
    hp_trace_free(&trace);
    return status;
}

hp_exit hp_command_spin(int argc, char **argv)
{
    choices choice = {
        .run = hp_run_choice_default(), .plot = hp_plot_choice_default(), .angle = NAN};
    hp_session session;
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status = hp_session_open(&session, argv[0], choice.report.file, &choice.run);
    if (status != HP_EXIT_FINE)
        return status;
    status = run_command(&session, &choice);
    hp_session_close(&session);
    return status;
}
