/*
 * `hubphase page [FILE [LOG]] -o page.html`: the page for the bench, with the program itself
 * inside. Without a FILE it asks for the machine.
 */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/tool_page.h"

#include <stdlib.h>
#include <string.h>

typedef struct choices {
    hp_advice_choice advice;
    const char *log; /* given as an argument; NULL: not so */
    const char *output;
} choices;

static const struct argp_option options[] = {
    {"output", 'o', "FILE", 0, "Write the page into FILE (- is the standard output)", 0}, {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT: state->child_inputs[0] = &choice->advice; return 0;
    case 'o': choice->output = arg; return 0;
    case ARGP_KEY_ARG:
        if (state->arg_num == 1)
            choice->log = arg;
        else
            hp_option_take_file(state, arg, &choice->advice.file);
        return 0;
    case ARGP_KEY_END:
        if (!choice->advice.file && choice->advice.log)
            hp_option_refuse(state, "the scenario FILE is missing, must be there beside --log");
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

/* ---- the page -------------------------------------------------------------------------------- */

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
    hp_result result = hp_tool_page_read(path, &scenario, err);
    if (result == HP_OK && log->exists)
        result = hp_tool_page_read(log->path, &entries, err);
    if (result == HP_OK)
        result = table_text(advice->bench, &table, err);
    if (result == HP_OK) {
        const hp_tool_page page = {
            .name = hp_tool_page_name(path), .scenario = scenario, .log = entries, .table = table};
        hp_tool_page_write(HP_PAGE_BENCH, &page, output->file);
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
    hp_result result = hp_output_open(&output, path, &err);
    if (result == HP_OK) {
        hp_tool_page_write(HP_PAGE_BENCH, &empty, output.file);
        result = hp_output_finish(&output, HP_OK, &err);
    }
    hp_output_discard(&output);
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(command, &err);
}

hp_exit hp_command_page(int argc, char **argv)
{
    hp_advice_session advice;
    choices choice = {.advice = hp_advice_choice_default()};
    hp_output output;
    hp_error err = hp_error_none();
    memset(&output, 0, sizeof output);
    hp_options_parse(&argp, 0, argc, argv, &choice);
    if (hp_tool_page_want(&err) != HP_OK)
        return hp_session_fail(argv[0], &err);
    if (!choice.advice.file)
        return write_empty(argv[0], choice.output);
    hp_exit status = hp_advice_session_open(&advice, argv[0], &choice.advice);
    if (status != HP_EXIT_FINE)
        return status;
    hp_result result = hp_session_report_open(&advice.session, &output, choice.output, &err);
    if (result == HP_OK)
        result = write_program(&advice, &output, &err);
    if (result != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_output_discard(&output);
    hp_advice_session_close(&advice);
    return status;
}
