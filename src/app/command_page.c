/*
 * `hubphase page [FILE [LOG]] -o page.html`: the page for the bench, with the program itself
 * inside. Without a FILE it asks for the machine. With --one-in it is the plan written ahead
 * instead, which needs no WebAssembly and can be printed.
 */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/tool_page.h"
#include "hubphase/base/text.h"
#include "hubphase/report/documents.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* Longest name of a file without its folder [bytes], common to the usual file systems. */
#define NAME_BYTES   255
#define FILE_WORD    HP_SHELL_WORD_SIZE(NAME_BYTES + 2)
#define COMMAND_SIZE (2 * FILE_WORD + 40)

enum { KEY_ONE_IN = HP_KEY_OWN };

typedef struct choices {
    hp_advice_choice advice;
    const char *log; /* given as an argument; NULL: not so */
    const char *output;
    int one_in; /* 0: the usual */
} choices;

static const struct argp_option options[] = {
    {"output", 'o', "FILE", 0, "Write the page into FILE (- is the standard output)", 0},
    {"one-in", KEY_ONE_IN, "N", 0,
     "Write the plan ahead in place of the program, with a button for everything that may be seen "
     "and as a numbered list on paper; leave out the ways that fewer than one in N people go (1000 "
     "is usual, more takes longer)",
     0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT: state->child_inputs[0] = &choice->advice; return 0;
    case 'o': choice->output = arg; return 0;
    case KEY_ONE_IN:
        choice->one_in = hp_option_integer(state, "--one-in", arg, 2, HP_PAGE_ONE_IN_MAX);
        return 0;
    case ARGP_KEY_ARG:
        if (state->arg_num == 1)
            choice->log = arg;
        else
            hp_option_take_file(state, arg, &choice->advice.file);
        return 0;
    case ARGP_KEY_END:
        if (!choice->advice.file && (choice->advice.log || choice->one_in))
            hp_option_refuse(state, "the scenario FILE is missing, must be there beside %s",
                             choice->one_in ? "--one-in" : "--log");
        if (choice->log && choice->advice.log)
            hp_option_refuse(state, "the log is given twice: %s and --log %s", choice->log,
                             choice->advice.log);
        if (choice->log)
            choice->advice.log = choice->log;
        if (!choice->output)
            hp_option_refuse(state, "--output FILE is missing, must be the page to write, or -");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {{&hp_advice_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Write a page of HTML to take to the bench on a phone or tablet. It holds the program itself, "
    "and the scenario and its log: what to do next, step by step, with questions for what it "
    "showed; the map of all 36 wirings and what changes it; slow motion; the wiring sheet. The "
    "page is one file that needs no network and no server. Without FILE it asks for the machine."
    "\vLOG is the bench log (default: x.bench.yaml beside x.yaml); what stands in it has been "
    "done. The page goes on from there, keeps its answers in the browser and gives them out as "
    "such a log.";

static const struct argp argp = {options, parse, "[FILE [LOG]]", doc, children, NULL, NULL};

/* ---- the commands that the page names -------------------------------------------------------- */

typedef struct commands {
    char add[COMMAND_SIZE];
    char ask[COMMAND_SIZE];
} commands;

static const char *without_folder(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* A file beside the page, as a word of a command. */
static char *file_word(const char *path, char *out, size_t size)
{
    char file[HP_BENCH_PATH_SIZE];
    return hp_shell_word(hp_shell_file(without_folder(path), file, sizeof file), out, size);
}

/* The commands name the log only when it is not where they look for it. */
static hp_result name_commands(const hp_advice_session *advice, const char *chosen, commands *c,
                               hp_error *err)
{
    char usual[HP_BENCH_PATH_SIZE], log[FILE_WORD + 8] = "", scenario[FILE_WORD], name[FILE_WORD];
    file_word(advice->session.scenario.path, scenario, sizeof scenario);
    hp_result result =
        hp_bench_log_path(advice->session.scenario.path, NULL, usual, sizeof usual, err);
    if (result != HP_OK)
        return result;
    if (chosen && strcmp(usual, hp_case_log(advice->bench)->path) != 0)
        snprintf(log, sizeof log, " --log %s",
                 file_word(hp_case_log(advice->bench)->path, name, sizeof name));
    snprintf(c->add, sizeof c->add, "hubphase log %s%s", scenario, log);
    snprintf(c->ask, sizeof c->ask, "hubphase next %s%s", scenario, log);
    return HP_OK;
}

/* ---- the page -------------------------------------------------------------------------------- */

static hp_result simulate(const hp_session *session, hp_survey *survey, hp_error *err)
{
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options survey_options = hp_session_survey_options(session, &bar);
    hp_result result = hp_survey_run(&session->scenario.drive, &survey_options, survey, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result make_page(const hp_advice_session *advice, const choices *choice,
                           hp_output *output, hp_error *err)
{
    commands c;
    hp_survey survey;
    hp_page_options page_options = hp_page_options_default();
    hp_page *page = NULL;
    memset(&survey, 0, sizeof survey);
    if (!advice->session.choice.quiet)
        hp_terminal_line(stderr, "%s: working the plan out", advice->session.command);
    hp_result result = name_commands(advice, choice->advice.log, &c, err);
    page_options.one_in = choice->one_in;
    page_options.add = c.add;
    page_options.ask = c.ask;
    if (result == HP_OK) {
        page = hp_page_create(advice->bench, &page_options, err);
        result = page ? HP_OK : err->code;
    }
    if (result == HP_OK)
        result = simulate(&advice->session, &survey, err);
    if (result == HP_OK)
        result = hp_page_draw(page, &survey, err);
    if (result == HP_OK)
        result = hp_output_finish(output, hp_page_write(page, output->file, err), err);
    hp_page_free(page);
    hp_survey_free(&survey);
    return result;
}

/* ---- the page with the program inside -------------------------------------------------------- */

/* Where this program cannot do it, how to get one that can. */
static hp_result want_program(hp_error *err)
{
    return hp_tool_page_possible()
               ? HP_OK
               : hp_error_set(err, HP_FAIL_LIBRARY,
                              "this hubphase was built without the library as WebAssembly, so it "
                              "cannot put itself into a page: tests/run.sh installs what it wants "
                              "and builds it so in build/optimised. --one-in 1000 writes the plan "
                              "ahead instead");
}

/* A whole file as a terminated text, owned by the caller. */
static hp_result read_text(const char *path, char **text, hp_error *err)
{
    FILE *file = fopen(path, "rb"), *copy;
    size_t size = 0, count;
    char part[4096];
    if (!file)
        return hp_error_set(err, HP_FAIL_IO, "%s: %s", path, strerror(errno));
    copy = open_memstream(text, &size);
    while (copy && (count = fread(part, 1, sizeof part, file)) > 0)
        fwrite(part, 1, count, copy);
    bool whole = !ferror(file);
    fclose(file);
    if (!copy || fclose(copy) != 0)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a page");
    return whole ? HP_OK : hp_error_set(err, HP_FAIL_IO, "%s cannot be read", path);
}

/* The table of likelihoods, so that a phone need not work it out; none where it is the shipped
 * one. */
static hp_result table_text(const hp_case *bench, char **text, hp_error *err)
{
    size_t size = 0;
    if (hp_case_table(bench) == HP_TABLE_SHIPPED)
        return HP_OK;
    FILE *out = open_memstream(text, &size);
    hp_result result = out ? hp_case_table_write(bench, out, err) : HP_FAIL_MEMORY;
    if (!out || fclose(out) != 0)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a page");
    return result;
}

static hp_result write_program(const hp_advice_session *advice, hp_output *output, hp_error *err)
{
    const char *path = advice->session.scenario.path;
    const hp_bench_log *log = hp_case_log(advice->bench);
    char *scenario = NULL, *entries = NULL, *table = NULL;
    hp_result result = want_program(err);
    if (result == HP_OK)
        result = read_text(path, &scenario, err);
    if (result == HP_OK && log->exists)
        result = read_text(log->path, &entries, err);
    if (result == HP_OK)
        result = table_text(advice->bench, &table, err);
    if (result == HP_OK) {
        const hp_tool_page page = {without_folder(path), scenario, entries, table};
        hp_tool_page_write(&page, output->file);
        result = hp_output_finish(output, HP_OK, err);
    }
    free(scenario);
    free(entries);
    free(table);
    return result;
}

/* No machine yet. */
static hp_exit write_empty(const char *command, const char *path)
{
    static const hp_tool_page empty = {.name = "machine.yaml"};
    hp_output output;
    hp_error err = hp_error_none();
    memset(&output, 0, sizeof output);
    hp_result result = want_program(&err);
    if (result == HP_OK)
        result = hp_output_open(&output, path, &err);
    if (result == HP_OK) {
        hp_tool_page_write(&empty, output.file);
        result = hp_output_finish(&output, HP_OK, &err);
    }
    hp_output_discard(&output);
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(command, &err);
}

int hp_command_page(int argc, char **argv)
{
    hp_advice_session advice;
    choices choice = {.advice = hp_advice_choice_default()};
    hp_output output;
    hp_error err = hp_error_none();
    memset(&output, 0, sizeof output);
    hp_options_parse(&argp, argc, argv, &choice);
    if (!choice.advice.file)
        return write_empty(argv[0], choice.output);
    hp_exit status = hp_advice_session_open(&advice, argv[0], &choice.advice);
    if (status != HP_EXIT_FINE)
        return status;
    hp_result result = hp_session_report_open(&advice.session, &output, choice.output, &err);
    if (result == HP_OK)
        result = choice.one_in ? make_page(&advice, &choice, &output, &err)
                               : write_program(&advice, &output, &err);
    if (result != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_output_discard(&output);
    hp_advice_session_close(&advice);
    return status;
}
