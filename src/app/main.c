/* The program `hubphase`; everything it does is in command_table.c. */
#include "app/command_table.h"

int main(int argc, char **argv)
{
    return (int)hp_program_run(argc, argv);
}
