/*
 * The person at the terminal: colour, the progress bar, Ctrl-C.
 */
#ifndef HUBPHASE_SRC_APP_TERMINAL_H
#define HUBPHASE_SRC_APP_TERMINAL_H

#include "app/command_table.h"
#include "hubphase/base/files.h"
#include "hubphase/base/text.h"

#include <stdbool.h>
#include <stdio.h>

/* Whether to colour what goes to `out`: only on a terminal that can, and never when the environment
 * variable NO_COLOR is set and not empty (common practice). */
bool hp_terminal_colour(FILE *out);

/* `out` as text for people is laid out on it: as wide as the environment variable COLUMNS says,
 * else as the terminal is, else of 80 columns; one column stays free. */
hp_screen hp_terminal_screen(FILE *out);
/* Standard error for problems of a file: filled to the columns that are known, else not at all, so
 * that a program can read them. */
hp_screen hp_terminal_diagnostics(void);
/* Lets argp lay --help out likewise, unless ARGP_HELP_FMT says otherwise and argp bears that. */
void hp_terminal_fit_help(void);

/* Makes Ctrl-C, and likewise a hang-up and a request to end, a wish that hp_terminal_stop and
 * hp_bar_step report. Work that has not ended the bar within a third of a second, whatever it waits
 * for, is ended, and so is all at a second wish: files kept here lose their temporaries, the bar's
 * line is cleared. A reader that goes away, or a limit on the size of files, becomes a failed write
 * instead of a silent end. */
void hp_terminal_catch_signals(void);
/* For a process of ours that has nothing to clean up: it ends by these signals at once. */
void hp_terminal_leave_signals(void);
/* "hubphase survey": who says that it was stopped. Borrowed for good. */
void hp_terminal_name(const char *command);
/* From now on work that was asked to end may take seconds for it: what it tells then is worth them.
 * A second Ctrl-C still ends it at once. */
void hp_terminal_be_patient(void);
/* Fits hp_run_options.stop: 1 after such a signal, else 0. */
int hp_terminal_stop(void *user);
/* The wish has been heeded: what is left to say may take its time. */
void hp_terminal_heed(void);
/* The last call: what a shell is told of a command that was stopped. Returns `status`, or ends by
 * the signal. */
hp_exit hp_terminal_end(hp_exit status);
/* A file that is being written, until it is dropped; borrowed. */
void hp_terminal_keep(const hp_file *file);
void hp_terminal_drop(const hp_file *file);
/* The same for one folder that was made, if it is empty then; NULL drops it. */
void hp_terminal_keep_folder(const char *path);

/* Prints a line, with nothing in it that a terminal would obey: names of files, and what users
 * wrote, may hold anything. Where the width is known no word is broken at its end. */
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
