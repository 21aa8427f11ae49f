/* `hubphase spread FILE`: the survey over an ensemble of motors like the one described. */
#include "app/command_table.h"

#include "app/plots.h"
#include "app/session.h"
#include "hubphase/record/spread_part.h"
#include "hubphase/report/tables.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEY_MOTORS = HP_KEY_OWN, KEY_SEED, KEY_PART, KEY_JOIN };

typedef struct choices {
    hp_survey_choice survey;
    int motors;   /* 0: the scenario's */
    int seed;     /* below 0: the scenario's */
    hp_part part; /* of 0: the whole */
    bool join;
    const char **file; /* owned list of the names after the scenario's; borrowed from argv */
    int files;
} choices;

static const struct argp_option options[] = {
    {"motors", KEY_MOTORS, "N", 0, "Motors to draw and survey (default: the scenario's)", 0},
    {"seed", KEY_SEED, "N", 0, "Draw other motors: any whole number (default: the scenario's)", 0},
    {"part", KEY_PART, "K/N", 0,
     "Work out part K of N alone and write it as a file to be joined, instead of a report", 0},
    {"join", KEY_JOIN, NULL, 0,
     "Simulate nothing: join the parts whose files follow the scenario's, in any order", 0},
    {0}};

/* "2/4" */
static void take_part(const struct argp_state *state, const char *text, hp_part *part)
{
    char rest;
    bool plain = text[0] && strspn(text, "0123456789/") == strlen(text);
    if (!plain || sscanf(text, "%6d/%6d%c", &part->number, &part->of, &rest) != 2 || part->of < 1 ||
        part->of > HP_SPREAD_MOTORS_MAX || part->number < 1 || part->number > part->of)
        hp_option_refuse(
            state,
            "--part is \"%s\", must be K/N: which part, and of how many (1 to %d), such as "
            "2/4",
            text, HP_SPREAD_MOTORS_MAX);
}

/* What the options come to together. */
static void check(const struct argp_state *state, const choices *choice)
{
    const hp_survey_choice *survey = &choice->survey;
    const char *scenario = survey->report.file;
    if (choice->files > 0 && !choice->join)
        hp_option_take_file((struct argp_state *)state, choice->file[0], &scenario);
    if (choice->join && choice->part.of > 0)
        hp_option_refuse(state, "give only one of --part and --join");
    if (choice->join && scenario && choice->files == 0)
        hp_option_refuse(state, "--join wants the files of the parts after the scenario FILE");
    if (choice->part.of > 0 &&
        (survey->report.json || survey->report.csv || survey->plot.directory))
        hp_option_refuse(state, "--part writes no report and no pictures: they come with --join");
}

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
    case KEY_PART: take_part(state, arg, &choice->part); return 0;
    case KEY_JOIN: choice->join = true; return 0;
    case ARGP_KEY_ARG:
        if (!choice->survey.report.file)
            return ARGP_ERR_UNKNOWN; /* the scenario, which all commands take alike */
        choice->file[choice->files++] = arg;
        return 0;
    case ARGP_KEY_END: check(state, choice); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {
    {&hp_survey_argp, 0, NULL, 0}, {&hp_forms_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Survey many motors like the one that scenario FILE describes, each a little different in what "
    "is uncertain, and tell how the verdicts and figures of every wiring spread, what drives them "
    "and how near a threshold they come. How uncertain each figure is stands in the scenario's "
    "section spread. A large ensemble can be worked out in parts, on as many machines as there "
    "are, "
    "and joined: the report is the same to the last byte."
    "\vIn four parts, with the same options each time:\n"
    "  hubphase spread my.yaml --part 1/4 -o part-1\n"
    "  (and 2/4, 3/4, 4/4, anywhere)\n"
    "  hubphase spread --join my.yaml part-*\n"
    "\n"
    "Ctrl-C ends the work and reports on the motors done by then (status 130); "
    "--part writes those down, and with -o the same command goes on from there. "
    "A second one ends the program at once.";

static const struct argp argp = {options, parse, "FILE\n--join FILE PART...", doc, children,
                                 NULL,    NULL};

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

static hp_spread_options options_of(const hp_session *session, hp_bar *bar)
{
    hp_spread_options spread_options = hp_scenario_spread_options(&session->scenario);
    spread_options.survey.jobs = session->choice.jobs;
    if (bar) {
        spread_options.survey.progress = hp_bar_step;
        spread_options.survey.user = bar;
    }
    return spread_options;
}

static hp_result simulate(const hp_session *session, hp_spread *spread, hp_error *err)
{
    hp_session_warn_slow(session);
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_spread_options spread_options = options_of(session, &bar);
    hp_result result = hp_spread_run(&session->scenario.drive, &spread_options, spread, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result join(const hp_session *session, const choices *choice, hp_spread *spread,
                      hp_error *err)
{
    hp_spread_options spread_options = options_of(session, NULL);
    return hp_parts_join(&session->scenario, &spread_options, choice->file, choice->files, spread,
                         err);
}

/* A report must not take the place of a part. */
static hp_result keep_parts(const choices *choice, hp_error *err)
{
    const char *output = choice->survey.report.output;
    for (int k = 0; output && k < choice->files; k++)
        if (hp_file_same(choice->file[k], output))
            return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: it is a part to be joined",
                                output);
    return HP_OK;
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

/* The file that a part goes into; NULL: the standard output. */
static const char *file_of(const choices *choice)
{
    const char *output = choice->survey.report.output;
    return output && strcmp(output, "-") != 0 ? output : NULL;
}

/* Told of one that was stopped: what it has. */
static hp_exit tell_part(const hp_session *session, const choices *choice, int done)
{
    int begin, motors;
    hp_part_motors(&choice->part, &session->scenario.spread, &begin, &motors);
    if (done == motors)
        return HP_EXIT_FINE;
    hp_terminal_line(stderr, "%s: stopped after %d of the %d motors of this part%s",
                     session->command, done, motors,
                     file_of(choice) ? "; the same command goes on from there" : "");
    return HP_EXIT_CANCELLED;
}

/* A part, in the place of a report; the file that it goes into may hold its beginning. */
static hp_exit run_part(hp_session *session, const choices *choice)
{
    hp_output output;
    hp_error err = hp_error_none();
    const char *path = file_of(choice);
    int done = 0;
    memset(&output, 0, sizeof output);
    hp_result result = hp_part_check(&choice->part, &session->scenario.spread, &err);
    if (result == HP_OK)
        result = hp_session_report_open(session, &output, choice->survey.report.output, &err);
    if (result == HP_OK) {
        hp_session_warn_slow(session);
        hp_bar bar = hp_bar_begin(session->choice.quiet);
        hp_spread_options spread_options = options_of(session, &bar);
        result = hp_part_write(&session->scenario, &spread_options, &choice->part, path,
                               output.file, &done, &err);
        hp_bar_end(&bar);
        /* What is wrong with an earlier file names it. */
        if (result == HP_OK || result == HP_FAIL_IO)
            result = hp_output_finish(&output, result, &err);
    }
    hp_output_discard(&output);
    return result == HP_OK ? tell_part(session, choice, done)
                           : hp_session_fail(session->command, &err);
}

/* Everything between an opened session and its end. */
static hp_exit run(hp_session *session, const choices *choice, hp_spread *spread)
{
    hp_output output;
    hp_error err = hp_error_none();
    hp_exit status = HP_EXIT_FINE;
    memset(&output, 0, sizeof output);
    hp_result result = keep_parts(choice, &err);
    if (result == HP_OK)
        result = hp_plots_open(session, &choice->survey.plot, HP_MAKER_SPREAD, 0, &err);
    if (result == HP_OK)
        result = hp_session_report_open(session, &output, choice->survey.report.output, &err);
    if (result == HP_OK)
        result =
            choice->join ? join(session, choice, spread, &err) : simulate(session, spread, &err);
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

static hp_exit open_and_run(const char *command, const choices *choice, hp_spread *spread)
{
    hp_session session;
    hp_exit status =
        hp_session_open(&session, command, choice->survey.report.file, &choice->survey.run);
    if (status != HP_EXIT_FINE)
        return status;
    lay_over(&session, choice);
    status = choice->part.of > 0 ? run_part(&session, choice) : run(&session, choice, spread);
    hp_session_close(&session);
    return status;
}

hp_exit hp_command_spread(int argc, char **argv)
{
    choices choice = {.survey = hp_survey_choice_default(), .seed = -1};
    hp_exit status = HP_EXIT_FAILED;
    hp_spread *spread = malloc(sizeof *spread);
    choice.file = calloc((size_t)argc, sizeof *choice.file);
    if (spread && choice.file) {
        hp_options_parse(&argp, 0, argc, argv, &choice);
        status = open_and_run(argv[0], &choice, spread);
    } else {
        hp_terminal_line(stderr, "%s: no memory", argv[0]);
    }
    free(choice.file);
    free(spread);
    return status;
}
