/* `hubphase compare FILE LOG_THEN LOG_NOW`: what changed since. */
#include "app/command_table.h"

#include "app/session.h"
#include "hubphase/report/case_words.h"

#include <string.h>

enum { KEY_JSON = HP_KEY_OWN, KEY_SAME_METERS };

typedef struct choices {
    const char *file;
    const char *log[2]; /* then, now */
    const char *output;
    bool json, same_meters;
} choices;

static const struct argp_option options[] = {
    {"same-meters", KEY_SAME_METERS, NULL, 0,
     "Both logs were read with the same meters, speedometer and bench supply: what those are all "
     "off by cancels",
     0},
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of the text (fields: docs/json.md)", 0},
    {"output", 'o', "FILE", 0, "Write into FILE instead of the standard output", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case KEY_JSON: choice->json = true; return 0;
    case KEY_SAME_METERS: choice->same_meters = true; return 0;
    case 'o': choice->output = arg; return 0;
    case ARGP_KEY_ARG:
        if (!choice->file)
            choice->file = arg;
        else if (!choice->log[0])
            choice->log[0] = arg;
        else if (!choice->log[1])
            choice->log[1] = arg;
        else
            hp_option_refuse(state,
                             "one FILE and two logs are expected, but there is \"%s\" after "
                             "\"%s\"",
                             arg, choice->log[1]);
        return 0;
    case ARGP_KEY_END:
        if (!choice->file)
            hp_option_refuse(state, "the scenario FILE is missing");
        if (!choice->log[1])
            hp_option_refuse(state, "two bench logs are expected: that of then and that of now");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const char doc[] =
    "Hold the machine of scenario FILE as bench log LOG_NOW shows it against what LOG_THEN told of "
    "it: which figures changed by more than readings can be off, by how much, and what that may "
    "come "
    "from."
    "\vFigures come from the steps of `hubphase commission'; only what both logs tell is compared. "
    "The log beside the scenario is named like any other. Local rules and licensed people come "
    "first.";

static const struct argp argp = {options, parse, "FILE LOG_THEN LOG_NOW", doc, NULL, NULL, NULL};

static hp_result write_it(hp_session *session, const choices *choice, hp_commission_case *c[2],
                          hp_error *err)
{
    hp_output output;
    memset(&output, 0, sizeof output);
    hp_result result = hp_session_report_open(session, &output, choice->output, err);
    if (result != HP_OK)
        return result;
    const hp_screen screen = hp_terminal_screen(output.file);
    result = choice->json ? hp_compare_json_write(c[0], c[1], choice->same_meters, output.file, err)
                          : hp_compare_print(c[0], c[1], choice->same_meters, &screen, err);
    return hp_output_finish(&output, result, err);
}

static hp_exit run_command(hp_session *session, const choices *choice)
{
    hp_error err = hp_error_none();
    hp_bench_log log[2];
    hp_commission_case *c[2] = {NULL, NULL};
    hp_result result = HP_OK;
    memset(log, 0, sizeof log);
    for (int k = 0; k < 2 && result == HP_OK; k++)
        result = hp_session_load_log(session, choice->log[k], &log[k], &err);
    const hp_scenario *scenario = hp_compare_scenario(&session->scenario, &log[0], &log[1]);
    for (int k = 0; k < 2 && result == HP_OK; k++) {
        c[k] = hp_commission_case_create(scenario, &log[k], &err);
        result = c[k] ? HP_OK : err.code;
    }
    if (result == HP_OK)
        result = write_it(session, choice, c, &err);
    for (int k = 0; k < 2; k++) {
        hp_commission_case_free(c[k]);
        hp_bench_log_free(&log[k]);
    }
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(session->command, &err);
}

hp_exit hp_command_compare(int argc, char **argv)
{
    choices choice = {.file = NULL};
    hp_run_choice run = hp_run_choice_default();
    hp_session session;
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status = hp_session_open(&session, argv[0], choice.file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    status = run_command(&session, &choice);
    hp_session_close(&session);
    return status;
}
