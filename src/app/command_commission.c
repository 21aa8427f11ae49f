/* `hubphase commission FILE [LOG]`: from joined leads to the first ride. */
#include "app/command_table.h"

#include "app/advice_log_line.h"
#include "app/session.h"
#include "hubphase/report/case_words.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { KEY_LOG = HP_KEY_OWN, KEY_STEP, KEY_JSON, KEY_WRITE };

typedef struct choices {
    const char *file;
    const char *log;  /* NULL: the one beside the scenario, if there is one */
    const char *step; /* NULL: the next one */
    const char *output;
    const char *write; /* NULL: no scenario is written */
    bool json;
} choices;

static const struct argp_option options[] = {
    {"log", KEY_LOG, "LOG", 0, "Bench log; the one beside the scenario when not given", 0},
    {"step", KEY_STEP, "NAME", 0, "Show this step alone instead of the list", 0},
    {"write", KEY_WRITE, "SCENARIO", 0,
     "Write the scenario into the new file SCENARIO with the machine's own figures in it, each "
     "with where "
     "it comes from",
     0},
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of the text (fields: docs/json.md)", 0},
    {"output", 'o', "FILE", 0, "Write into FILE instead of the standard output", 0},
    {0}};

static void take_log(struct argp_state *state, const char *text, choices *choice)
{
    if (choice->log)
        hp_option_refuse(state, "one LOG is expected, but there is \"%s\" after \"%s\"", text,
                         choice->log);
    hp_option_take_log(state, text, &choice->log);
}

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case KEY_LOG: take_log(state, arg, choice); return 0;
    case KEY_STEP: choice->step = arg; return 0;
    case KEY_WRITE: choice->write = arg; return 0;
    case KEY_JSON: choice->json = true; return 0;
    case 'o': choice->output = arg; return 0;
    case ARGP_KEY_ARG:
        if (!choice->file)
            choice->file = arg;
        else
            take_log(state, arg, choice);
        return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "the scenario FILE is missing"); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const char doc[] =
    "Show the way from joined leads to the first ride on the machine of scenario FILE: which steps "
    "are done, what each found, and the next one with its how-to and cautions, from what the bench "
    "LOG holds so far."
    "\v";

static const char doc_end[] =
    "`hubphase log' writes a step down, `hubphase bench' asks for it. Local rules and licensed "
    "people come first.";

#define DOC_SIZE 3000

/* With the steps, a line each. */
static const char *make_doc(char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%sSteps:\n", doc);
    for (int k = 0; hp_readings[k]; k++) {
        const char *menu = hp_reading_menu(hp_readings[k]);
        if (hp_reading_stage(hp_readings[k]) != HP_STAGE_WIRING)
            hp_phrase_add(&p, "  %-13s %s\n", hp_reading_name(hp_readings[k]), menu ? menu : "");
    }
    hp_phrase_add(&p, "%s", doc_end);
    return out;
}

/* The step that was asked for by name; NULL: none was. */
static hp_result find_step(const hp_commission *list, const char *name, const hp_reading **kind,
                           hp_error *err)
{
    char names[600];
    *kind = NULL;
    if (!name)
        return HP_OK;
    *kind = hp_reading_find(name);
    if (*kind && hp_commission_step_of(list, *kind))
        return HP_OK;
    hp_phrase p = hp_phrase_begin(names, sizeof names);
    for (int k = 0; k < list->steps; k++) {
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%s", hp_reading_name(list->step[k].reading));
    }
    return hp_error_set(err, HP_FAIL_INPUT, "--step is \"%s\", must be one of %s", name, names);
}

static hp_result write_list(const hp_session *session, const choices *choice,
                            const hp_commission_case *c, const hp_reading *step, FILE *out,
                            hp_error *err)
{
    char scenario[HP_BENCH_PATH_SIZE], log[HP_BENCH_PATH_SIZE + 8], line[HP_LOG_LINE_SIZE] = "";
    const hp_commission *list = hp_commission_case_list(c);
    const hp_screen screen = hp_terminal_screen(out);
    const hp_reading *kind = step ? step : list->next >= 0 ? list->step[list->next].reading : NULL;
    hp_shell_file(session->scenario.path, scenario, sizeof scenario);
    snprintf(log, sizeof log, "--log=%s", choice->log ? choice->log : "");
    const char *const begin[] = {"hubphase", "log", scenario, choice->log ? log : NULL, NULL};
    if (kind)
        hp_commission_log_line(c, kind, begin, line, sizeof line);
    if (choice->json)
        return hp_commission_json_write(c, step, kind ? line : NULL, out, err);
    hp_commission_print(c, step, kind ? line : NULL, &screen);
    return HP_OK;
}

/* What was written holds for the machine as it was measured: tells of what speaks against it. */
static void tell_of_findings(const char *command, const hp_commission *list)
{
    char text[400];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        if (!hp_finding_wants_mending(step->finding))
            continue;
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%s (%s)", hp_reading_name(step->reading),
                      hp_finding_name(step->finding));
    }
    if (list->gainsaid)
        hp_terminal_line(stderr,
                         "%s: what entry %d says otherwise than the scenario is not taken over: "
                         "`hubphase commission' tells what",
                         command, list->gainsaid->number);
    if (text[0])
        hp_terminal_line(stderr,
                         "%s: these figures are of the machine as it was measured, and %s found "
                         "what wants mending or measuring again: `hubphase commission' tells what",
                         command, text);
}

/* A scenario is somebody's work: unlike a report it is never written over. */
static hp_result open_new(hp_session *session, hp_output *output, const char *path, hp_error *err)
{
    struct stat info;
    hp_result result = hp_output_names_claim(&session->names, path, err);
    if (result == HP_OK && strcmp(path, "-") != 0 && stat(path, &info) == 0 &&
        S_ISREG(info.st_mode))
        result = hp_error_set(err, HP_FAIL_IO,
                              "%s is there already and stays as it is: --write makes a new file, "
                              "name another one",
                              path);
    return result == HP_OK ? hp_output_open(output, path, err) : result;
}

/* The folder that a file stands in. */
static bool stat_folder(const char *path, struct stat *info)
{
    char folder[HP_BENCH_PATH_SIZE];
    const char *slash = strrchr(path, '/');
    snprintf(folder, sizeof folder, "%.*s", slash ? (int)(slash - path) + 1 : 1,
             slash ? path : ".");
    return stat(folder, info) == 0;
}

/* How the new scenario is to name the log: by its name alone where both stand in one folder, else
 * by its whole path; NULL: by its name. Owned by the caller. */
static char *log_seen_from(const char *scenario, const char *log)
{
    struct stat here, there;
    bool beside = stat_folder(scenario, &here) && stat_folder(log, &there) &&
                  here.st_dev == there.st_dev && here.st_ino == there.st_ino;
    return beside ? NULL : realpath(log, NULL);
}

/* What the new scenario has, and where it goes on. */
static void tell_of_figures(const hp_session *session, const char *path, const char *log,
                            int changes)
{
    hp_terminal_line(stderr,
                     "%s: %s has this machine's own figures in %d key%s, and goes on with the log "
                     "that they come from, %s",
                     session->command, path, changes, changes == 1 ? "" : "s", log);
}

/* The scenario with the machine's own figures. */
static hp_result write_scenario(hp_session *session, const choices *choice,
                                const hp_commission_case *c, hp_error *err)
{
    hp_output output;
    int changes = 0;
    memset(&output, 0, sizeof output);
    hp_result result = open_new(session, &output, choice->write, err);
    if (result != HP_OK)
        return result;
    const char *log = hp_commission_case_log(c)->path;
    bool stream = strcmp(choice->write, "-") == 0;
    char *seen = log_seen_from(stream ? session->scenario.path : choice->write, log);
    result = hp_commission_case_write(c, seen, output.file, &changes, stderr, err);
    free(seen);
    result = hp_output_finish(&output, result, err);
    if (result == HP_OK && !stream)
        tell_of_figures(session, choice->write, log, changes);
    if (result == HP_OK)
        tell_of_findings(session->command, hp_commission_case_list(c));
    return result;
}

static hp_exit run_command(hp_session *session, const choices *choice)
{
    hp_error err = hp_error_none();
    hp_bench_log log;
    hp_output output;
    const hp_reading *step = NULL;
    memset(&log, 0, sizeof log);
    memset(&output, 0, sizeof output);
    hp_result result = hp_session_load_log(session, choice->log, &log, &err);
    hp_exit failed = HP_EXIT_FINE;
    hp_commission_case *c = NULL;
    if (result == HP_OK) {
        c = hp_commission_case_create(&session->scenario, &log, &err);
        result = c ? HP_OK : err.code;
    }
    if (result == HP_OK) {
        result = find_step(hp_commission_case_list(c), choice->step, &step, &err);
        failed = result == HP_OK ? HP_EXIT_FINE : HP_EXIT_USAGE;
    }
    if (result == HP_OK && choice->write)
        result = write_scenario(session, choice, c, &err);
    bool lists = !choice->write || choice->output;
    if (result == HP_OK && lists)
        result = hp_session_report_open(session, &output, choice->output, &err);
    if (result == HP_OK && lists)
        result = hp_output_finish(&output, write_list(session, choice, c, step, output.file, &err),
                                  &err);
    hp_output_discard(&output);
    hp_commission_case_free(c);
    hp_bench_log_free(&log);
    if (result == HP_OK)
        return HP_EXIT_FINE;
    hp_exit status = hp_session_fail(session->command, &err);
    return failed != HP_EXIT_FINE ? failed : status;
}

hp_exit hp_command_commission(int argc, char **argv)
{
    choices choice = {.file = NULL};
    hp_run_choice run = hp_run_choice_default();
    char text[DOC_SIZE];
    hp_session session;
    const struct argp argp = {options, parse, "FILE [LOG]", make_doc(text, sizeof text),
                              NULL,    NULL,  NULL};
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status = hp_session_open(&session, argv[0], choice.file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    status = run_command(&session, &choice);
    hp_session_close(&session);
    return status;
}
