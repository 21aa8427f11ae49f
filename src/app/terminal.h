/*
 * The person at the terminal: colour, the progress bar, Ctrl-C.
 */
#ifndef HUBPHASE_SRC_APP_TERMINAL_H
#define HUBPHASE_SRC_APP_TERMINAL_H

#include <stdbool.h>
#include <stdio.h>

/* Whether to colour what goes to `out`: only on a terminal that can, and never when the environment
 * variable NO_COLOR is set and not empty (common practice). */
bool hp_terminal_colour(FILE *out);

/* Makes Ctrl-C a wish that hp_bar_step reports; a second one ends the program at once. A reader
 * that goes away, or a limit on the size of files, becomes a failed write instead of a silent end.
 */
void hp_terminal_catch_signals(void);

/* Prints a line, with nothing in it that a terminal would obey: names of files, and what users
 * wrote, may hold anything. */
void hp_terminal_line(FILE *out, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* A bar with the time left on the standard error, drawn only on a terminal and only when the work
 * is long. */
typedef struct hp_bar {
    bool wanted;
    bool drawn;
    double began; /* [s] */
    double last;  /* [s] when it was drawn last */
} hp_bar;

hp_bar hp_bar_begin(bool quiet);
/* Fits hp_survey_options.progress; `user` is an hp_bar. Returns 1 after Ctrl-C, else 0. */
int hp_bar_step(void *user, int done, int total);
/* Takes the bar off the terminal. */
void hp_bar_end(hp_bar *bar);

#endif
