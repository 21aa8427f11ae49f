/*
 * The program's commands and its exit statuses.
 *
 * To add a command: write src/app/command_<name>.c with one function of the type below, declare it
 * below and give it a row in src/app/command_table.c; docs/hubphase.1 and the bash completion name
 * it too.
 */
#ifndef HUBPHASE_SRC_APP_COMMAND_TABLE_H
#define HUBPHASE_SRC_APP_COMMAND_TABLE_H

#include "hubphase/base/result.h"

/* What the program leaves with; documented in docs/hubphase.1. */
typedef enum hp_exit {
    HP_EXIT_FINE = 0,
    HP_EXIT_FAILED = 1,     /* the work itself failed: memory, a library */
    HP_EXIT_USAGE = 2,      /* the command line was wrong */
    HP_EXIT_INPUT = 3,      /* an input file could not be read or holds mistakes */
    HP_EXIT_OUTPUT = 4,     /* an output file or the standard output could not be written */
    HP_EXIT_CANCELLED = 130 /* stopped by Ctrl-C; the number that shells use */
} hp_exit;

typedef struct hp_command {
    const char *name;
    const char *summary; /* one line for `hubphase --help` */
    /* argv[0] is "hubphase NAME", the rest as typed after the name. */
    hp_exit (*run)(int argc, char **argv);
} hp_command;

/* The commands in the order of the help, ended by a row whose name is NULL. */
extern const hp_command hp_commands[];

hp_exit hp_command_survey(int argc, char **argv);
hp_exit hp_command_spin(int argc, char **argv);
hp_exit hp_command_explain(int argc, char **argv);
hp_exit hp_command_spread(int argc, char **argv);
hp_exit hp_command_log(int argc, char **argv);
hp_exit hp_command_bench(int argc, char **argv);
hp_exit hp_command_next(int argc, char **argv);
hp_exit hp_command_commission(int argc, char **argv);
hp_exit hp_command_controls(int argc, char **argv);
hp_exit hp_command_compare(int argc, char **argv);
hp_exit hp_command_fit(int argc, char **argv);
hp_exit hp_command_lesson(int argc, char **argv);
hp_exit hp_command_page(int argc, char **argv);
hp_exit hp_command_practise(int argc, char **argv);
hp_exit hp_command_sheet(int argc, char **argv);

/* The program without its `main`: global options, then the command. */
hp_exit hp_program_run(int argc, char **argv);

#endif
