/* The table of commands and the way from a command line to one of them: see the header. */
#include "app/command_table.h"

#include "app/options.h"
#include "app/terminal.h"
#include "hubphase/base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const hp_command hp_commands[] = {
    {"survey", "Simulate all 36 wirings of a scenario and judge each", hp_command_survey},
    {"spin", "Run one wiring: figures, waveforms, pictures", hp_command_spin},
    {"explain", "Say in plain words why a wiring does what it does", hp_command_explain},
    {"spread", "Survey many motors like this one: how sure is each verdict", hp_command_spread},
    {"log", "Add what was measured or tried to the bench log", hp_command_log},
    {"bench", "Go through the work at the bench, one question at a time", hp_command_bench},
    {"next", "Say the one thing to measure or try next, and why", hp_command_next},
    {"commission", "Go from joined leads to the first ride: what is done, what is next",
     hp_command_commission},
    {"controls", "Say what grip, brake, pedals and lost leads make the machine do",
     hp_command_controls},
    {"compare", "Say what changed of a machine between two bench logs", hp_command_compare},
    {"fit", "Check that the parts go together; speed, hill, range, heat", hp_command_fit},
    {"practise", "Find the wiring of a hidden machine, as well as the advice does",
     hp_command_practise},
    {"lesson", "Make a club evening on commutation: the wall for a projector", hp_command_lesson},
    {"page", "Write a page of HTML to take to the bench", hp_command_page},
    {"sheet", "Write the wiring sheet for whoever opens this hub next", hp_command_sheet},
    {NULL, NULL, NULL},
};

/* Where on the line the command's name stands. */
typedef struct program_line {
    int command_at; /* index into argv, 0: none */
} program_line;

static error_t parse_program(int key, char *arg, struct argp_state *state)
{
    program_line *line = state->input;
    switch (key) {
    case ARGP_KEY_ARG:
        (void)arg;
        line->command_at = state->next - 1;
        state->next = state->argc; /* the rest belongs to the command */
        return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "a command is expected"); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

/* Puts the commands and the exit statuses under the options. */
static char *extend_help(int key, const char *text, void *input)
{
    (void)input;
    if (key != ARGP_KEY_HELP_POST_DOC)
        return (char *)text;
    const size_t size = 2400;
    char *help = malloc(size);
    if (!help)
        return (char *)text;
    hp_phrase p = hp_phrase_begin(help, size);
    hp_phrase_add(&p, "Commands:\n");
    for (const hp_command *command = hp_commands; command->name; command++)
        hp_phrase_add(&p, "  %-10s %s\n", command->name, command->summary);
    hp_phrase_add(&p, "%s", text);
    return help; /* argp frees what differs from its own text */
}

static const char program_doc[] =
    "Which of the 36 ways to join a hub motor to a controller runs smoothly: simulates all of them "
    "from a description of the parts, judges, draws and explains."
    "\v`hubphase COMMAND --help' tells more about a command. The manual page is hubphase(1).\n"
    "\n"
    "Exit status: 0 all went well, 1 the work failed, 2 the command line was wrong, 3 an input "
    "file was wrong, 4 something could not be written, 130 stopped by Ctrl-C.\n"
    "\n"
    "A simulation does not replace care: unplug the battery, discharge the capacitors and measure "
    "under 1 V before any lead is touched; lift the wheel; make the first run from a "
    "current-limited supply. "
    "Local rules and licensed people come first.";

static const struct argp program_argp = {
    NULL, parse_program, "COMMAND [ARGUMENT...]", program_doc, NULL, extend_help, NULL};

/* Runs when the program leaves by any way, also from argp's help: a full disk or a reader that went
 * away must not pass for success. */
static void close_standard_output(void)
{
    errno = 0;
    if (fflush(stdout) == 0 && !ferror(stdout))
        return;
    fprintf(stderr, "hubphase: the standard output cannot be written: %s\n",
            errno ? hp_file_cause(errno) : "an earlier write failed");
    _exit(HP_EXIT_OUTPUT);
}

/* A file that is opened must not get the number of a standard file that the caller closed: what is
 * printed would go into it. What stands in gives no input and takes no output. */
static void hold_standard_files(void)
{
    for (int k = STDIN_FILENO; k <= STDERR_FILENO; k++)
        if (fcntl(k, F_GETFD) < 0 && errno == EBADF && open("/dev/null", O_RDONLY) < 0)
            _exit(HP_EXIT_FAILED);
}

static const hp_command *find_command(const char *name)
{
    for (const hp_command *command = hp_commands; command->name; command++)
        if (strcmp(command->name, name) == 0)
            return command;
    return NULL;
}

static hp_exit refuse_command(const char *name)
{
    char list[400];
    hp_phrase p = hp_phrase_begin(list, sizeof list);
    for (const hp_command *command = hp_commands; command->name; command++) {
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%s", command->name);
    }
    hp_terminal_line(stderr, "hubphase: there is no command \"%s\"; the commands are %s", name,
                     list);
    fprintf(stderr, "Try `hubphase --help'.\n");
    return HP_EXIT_USAGE;
}

/* getopt would show an option that it does not know as it is; none has such a character. */
static bool is_odd_option(const char *word)
{
    unsigned character = 0;
    if (word[0] != '-')
        return false;
    for (int length; *word && *word != '='; word += length) {
        length = hp_text_character(word, &character);
        if (length == 0 || hp_text_is_control(character))
            return true;
    }
    return false;
}

hp_exit hp_program_run(int argc, char **argv)
{
    program_line line = {.command_at = 0};
    static char title[64] = "hubphase"; /* as long as the program: signals name the command */
    hold_standard_files();
    atexit(close_standard_output);
    hp_terminal_catch_signals();
    hp_terminal_fit_help();
    for (int k = 1; k < argc; k++)
        if (is_odd_option(argv[k])) {
            hp_terminal_line(stderr, "hubphase: there is no option \"%s\"", argv[k]);
            return HP_EXIT_USAGE;
        }
    if (argc > 0)
        argv[0] = title; /* whoever starts it can call it anything, and messages begin with that */
    hp_options_parse(&program_argp, ARGP_IN_ORDER, argc, argv, &line);
    if (line.command_at == 0)
        return HP_EXIT_USAGE;
    const hp_command *command = find_command(argv[line.command_at]);
    if (!command)
        return refuse_command(argv[line.command_at]);
    snprintf(title, sizeof title, "hubphase %s", command->name);
    argv[line.command_at] = title;
    hp_terminal_name(title);
    return hp_terminal_end(command->run(argc - line.command_at, argv + line.command_at));
}
