/* The table of commands and the way from a command line to one of them: see the header. */
#include "hubphase/app/command_table.h"

#include <stdio.h>

const hp_command hp_commands[] = {
    {NULL, NULL, NULL},
};

int hp_program_run(int argc, char **argv)
{
    (void)argc;
    fprintf(stderr, "%s: there are no commands yet\n", argv[0]);
    return HP_EXIT_USAGE;
}
