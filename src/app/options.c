/* Options shared by commands: see the header. */
#include "app/options.h"

#include "app/command_table.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/survey.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum {
    KEY_THROTTLE = HP_KEY_FIRST,
    KEY_STARTS,
    KEY_JOBS,
    KEY_QUIET,
    KEY_PLOTS,
    KEY_FORMAT,
    KEY_SHAPE,
    KEY_JSON,
    KEY_CSV,
    KEY_WIRING,
    KEY_USAGE
};

hp_run_choice hp_run_choice_default(void)
{
    return (hp_run_choice){.throttle_percent = -1.0, .starts = 0, .jobs = 0, .quiet = false};
}

hp_plot_choice hp_plot_choice_default(void)
{
    return (hp_plot_choice){.directory = NULL, .format = "svg", .shape = "phone"};
}

hp_survey_choice hp_survey_choice_default(void)
{
    return (hp_survey_choice){.run = hp_run_choice_default(), .plot = hp_plot_choice_default()};
}

void hp_option_refuse(const struct argp_state *state, const char *format, ...)
{
    char text[2400], clean[sizeof text];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    argp_error(state, "%s", hp_text_clean(text, clean, sizeof clean));
}

/* A comma is what half the world writes; the message says so instead of "not a number". */
static void refuse_number(const struct argp_state *state, const char *option, const char *text,
                          const char *expected)
{
    const char *hint = strchr(text, ',') ? " (a decimal point, not a comma)" : "";
    hp_option_refuse(state, "%s is \"%s\", must be %s%s", option, text, expected, hint);
}

double hp_option_number(const struct argp_state *state, const char *option, const char *text,
                        const char *unit, double low, double high)
{
    char expected[160];
    snprintf(expected, sizeof expected, "a number from %g to %g%s%s", low, high,
             unit[0] ? ", in " : "", unit);
    char *end = NULL;
    double value = strtod(text, &end);
    /* The character set keeps out "nan", "inf", hexadecimal numbers and leading blanks. */
    bool plain = text[0] && strspn(text, "0123456789+-.eE") == strlen(text);
    if (!plain || end == text || *end || !(value >= low && value <= high))
        refuse_number(state, option, text, expected);
    return value;
}

int hp_option_integer(const struct argp_state *state, const char *option, const char *text, int low,
                      int high)
{
    char expected[160];
    snprintf(expected, sizeof expected, "a whole number from %d to %d", low, high);
    char *end = NULL;
    errno = 0;
    long value = strtol(text, &end, 10);
    bool plain = text[0] && strspn(text, "0123456789+-") == strlen(text);
    if (!plain || end == text || *end || errno || value < low || value > high)
        refuse_number(state, option, text, expected);
    return (int)value;
}

static const struct argp_option run_options[] = {
    {"throttle", KEY_THROTTLE, "PERCENT", 0, "Throttle, 0 to 100 (default: the scenario's)", 0},
    {"quiet", KEY_QUIET, NULL, 0, "No progress bar, no names of files written", 0},
    {0}};

static error_t parse_run(int key, char *arg, struct argp_state *state)
{
    hp_run_choice *choice = state->input;
    switch (key) {
    case KEY_THROTTLE:
        choice->throttle_percent =
            hp_option_number(state, "--throttle", arg, "percent", 0.0, 100.0);
        return 0;
    case KEY_QUIET: choice->quiet = true; return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_run_argp = {run_options, parse_run, NULL, NULL, NULL, NULL, NULL};

static const struct argp_option starts_options[] = {
    {"starts", KEY_STARTS, "N", 0,
     "Start positions that a wiring is tried from (default: the scenario's)", 0},
    {"jobs", KEY_JOBS, "N", 0,
     "Threads; the results do not depend on them (default: one a processor)", 0},
    {0}};

static error_t parse_starts(int key, char *arg, struct argp_state *state)
{
    hp_run_choice *choice = state->input;
    switch (key) {
    case KEY_STARTS:
        choice->starts = hp_option_integer(state, "--starts", arg, 1, HP_SURVEY_STARTS_MAX);
        return 0;
    case KEY_JOBS: choice->jobs = hp_option_integer(state, "--jobs", arg, 1, HP_JOBS_MAX); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_starts_argp = {starts_options, parse_starts, NULL, NULL, NULL, NULL, NULL};

static const struct argp_option plot_options[] = {
    {"plots", KEY_PLOTS, "DIR", 0, "Write pictures into this folder; it is made if need be", 0},
    {"format", KEY_FORMAT, "FORMAT", 0, "Pictures as svg, png or pdf (default: svg)", 0},
    {"shape", KEY_SHAPE, "SHAPE", 0,
     "Pictures for a phone (narrow and tall), a wall (16 to 9) or a sheet of a4 (default: phone)",
     0},
    {0}};

static error_t parse_plot(int key, char *arg, struct argp_state *state)
{
    hp_plot_choice *choice = state->input;
    switch (key) {
    case KEY_PLOTS:
        if (!arg[0])
            hp_option_refuse(state, "--plots is \"\", must be the name of a folder");
        choice->directory = arg;
        return 0;
    case KEY_FORMAT:
        if (strcmp(arg, "svg") != 0 && strcmp(arg, "png") != 0 && strcmp(arg, "pdf") != 0)
            hp_option_refuse(state, "--format is \"%s\", must be svg, png or pdf", arg);
        choice->format = arg;
        return 0;
    case KEY_SHAPE:
        if (strcmp(arg, "phone") != 0 && strcmp(arg, "wall") != 0 && strcmp(arg, "a4") != 0)
            hp_option_refuse(state, "--shape is \"%s\", must be phone, wall or a4", arg);
        choice->shape = arg;
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_plot_argp = {plot_options, parse_plot, NULL, NULL, NULL, NULL, NULL};

static const struct argp_option report_options[] = {
    {"output", 'o', "FILE", 0, "Write the report into FILE instead of the standard output", 0},
    {0}};

static error_t parse_report(int key, char *arg, struct argp_state *state)
{
    hp_report_choice *choice = state->input;
    switch (key) {
    case 'o': choice->output = arg; return 0;
    case ARGP_KEY_ARG: hp_option_take_file(state, arg, &choice->file); return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "the scenario FILE is missing"); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_report_argp = {report_options, parse_report, NULL, NULL, NULL, NULL, NULL};

static const struct argp_option forms_options[] = {
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of tables (fields: docs/json.md)", 0},
    {"csv", KEY_CSV, NULL, 0, "Write CSV instead of tables", 0},
    {0}};

static error_t parse_forms(int key, char *arg, struct argp_state *state)
{
    hp_report_choice *choice = state->input;
    (void)arg;
    switch (key) {
    case KEY_JSON: choice->json = true; return 0;
    case KEY_CSV: choice->csv = true; return 0;
    case ARGP_KEY_END:
        if (choice->json && choice->csv)
            hp_option_refuse(state, "give only one of --json and --csv");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_forms_argp = {forms_options, parse_forms, NULL, NULL, NULL, NULL, NULL};

static error_t parse_survey(int key, char *arg, struct argp_state *state)
{
    hp_survey_choice *choice = state->input;
    (void)arg;
    if (key != ARGP_KEY_INIT)
        return ARGP_ERR_UNKNOWN;
    state->child_inputs[0] = &choice->run;
    state->child_inputs[1] = &choice->run;
    state->child_inputs[2] = &choice->plot;
    state->child_inputs[3] = &choice->report;
    return 0;
}

static const struct argp_child survey_children[] = {{&hp_run_argp, 0, NULL, 0},
                                                    {&hp_starts_argp, 0, NULL, 0},
                                                    {&hp_plot_argp, 0, NULL, 0},
                                                    {&hp_report_argp, 0, NULL, 0},
                                                    {0}};

const struct argp hp_survey_argp = {NULL, parse_survey, NULL, NULL, survey_children, NULL, NULL};

static const struct argp_option wiring_options[] = {
    {"wiring", KEY_WIRING, "W", 0,
     "Which wiring: its number 1 to 36, or its leads, such as \"yellow green blue / blue green "
     "yellow\" (Hall leads at inputs U V W, then phase leads at outputs U V W)",
     0},
    {0}};

static error_t parse_wiring(int key, char *arg, struct argp_state *state)
{
    const char **wiring = state->input;
    switch (key) {
    case KEY_WIRING: *wiring = arg; return 0;
    case ARGP_KEY_END:
        if (!*wiring)
            hp_option_refuse(state,
                             "--wiring is missing, must be a number from 1 to 36 or six leads");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_wiring_argp = {wiring_options, parse_wiring, NULL, NULL, NULL, NULL, NULL};

/* These stand here and not in argp, which would bring two hidden options with them: --HANG stands
 * still for an hour so that a debugger can be joined, and whoever types --H would get it;
 * --program-name puts what it is given on the terminal as it is. */
static const struct argp_option help_options[] = {
    {"help", '?', NULL, 0, "Give this help list", -1},
    {"usage", KEY_USAGE, NULL, 0, "Give a short usage message", -1},
    {"version", 'V', NULL, 0, "Print program version", -1},
    {0}};

static error_t parse_help(int key, char *arg, struct argp_state *state)
{
    (void)arg;
    switch (key) {
    case '?': argp_state_help(state, state->out_stream, ARGP_HELP_STD_HELP); return 0;
    case KEY_USAGE:
        argp_state_help(state, state->out_stream, ARGP_HELP_USAGE | ARGP_HELP_EXIT_OK);
        return 0;
    case 'V': printf("hubphase %s\n", HP_VERSION); exit(HP_EXIT_FINE);
    default: return ARGP_ERR_UNKNOWN;
    }
}

static error_t hand_input_on(int key, char *arg, struct argp_state *state)
{
    (void)arg;
    if (key != ARGP_KEY_INIT)
        return ARGP_ERR_UNKNOWN;
    state->child_inputs[0] = state->input;
    return 0;
}

void hp_options_parse(const struct argp *argp, unsigned flags, int argc, char **argv, void *input)
{
    static const struct argp help = {.options = help_options, .parser = parse_help};
    const struct argp_child children[] = {{argp, 0, NULL, 0}, {&help, 0, NULL, 0}, {0}};
    const struct argp whole = {.parser = hand_input_on, .children = children};
    argp_err_exit_status = HP_EXIT_USAGE;
    if (argp_parse(&whole, argc, argv, flags | ARGP_NO_HELP, NULL, input) != 0)
        exit(HP_EXIT_USAGE);
}

/* What a person may have meant as the place for CSV or JSON. */
static bool is_report_name(const char *name)
{
    const char *dot = strrchr(name, '.');
    return dot &&
           (strcmp(dot, ".csv") == 0 || strcmp(dot, ".json") == 0 || strcmp(dot, ".txt") == 0);
}

void hp_option_take_file(struct argp_state *state, const char *argument, const char **file)
{
    if (*file) {
        bool report = is_report_name(*file) || is_report_name(argument);
        hp_option_refuse(state, "one FILE is expected, but there is \"%s\" after \"%s\"%s",
                         argument, *file,
                         report ? ": the report's own name goes after --output" : "");
    }
    *file = argument;
}

void hp_option_take_log(struct argp_state *state, const char *argument, const char **log)
{
    if (!argument[0])
        hp_option_refuse(state, "--log is \"\", must be the name of a file");
    *log = argument;
}
