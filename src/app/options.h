/*
 * Command-line options shared by several commands, and the checks on an option's value.
 *
 * A command's argp takes some of the hp_..._argp as children and hands it the address of its
 * choice structure, already set by the _default function, at ARGP_KEY_INIT.
 */
#ifndef HUBPHASE_SRC_APP_OPTIONS_H
#define HUBPHASE_SRC_APP_OPTIONS_H

#include <argp.h>
#include <stdbool.h>

/* Keys of the long options; a command's own start at HP_KEY_OWN. */
enum { HP_KEY_FIRST = 0x100, HP_KEY_OWN = 0x200 };

/* --throttle, --quiet, and for commands that try several rest angles --starts, --jobs. */
typedef struct hp_run_choice {
    double throttle_percent; /* below 0: the scenario's */
    int starts;              /* rest angles a wiring; 0: the scenario's */
    int jobs;                /* threads; 0: one a processor */
    bool quiet;
} hp_run_choice;

/* FILE, --output; for reports in several forms --json, --csv too. */
typedef struct hp_report_choice {
    const char *file;   /* the scenario; borrowed from argv */
    const char *output; /* NULL: the standard output; borrowed from argv */
    bool json;
    bool csv;
} hp_report_choice;

/* --plots, --format, --shape: pictures. */
typedef struct hp_plot_choice {
    const char *directory; /* NULL: no pictures; borrowed from argv */
    const char *format;    /* "svg", "png" or "pdf" */
    const char *shape;     /* "phone", "wall" or "a4" */
} hp_plot_choice;

/* All of these, for commands that simulate all wirings. */
typedef struct hp_survey_choice {
    hp_run_choice run;
    hp_plot_choice plot;
    hp_report_choice report;
} hp_survey_choice;

hp_run_choice hp_run_choice_default(void);
hp_plot_choice hp_plot_choice_default(void);
hp_survey_choice hp_survey_choice_default(void);

extern const struct argp hp_run_argp;    /* --throttle, --quiet; input: hp_run_choice * */
extern const struct argp hp_starts_argp; /* --starts, --jobs; input: the same hp_run_choice * */
extern const struct argp hp_plot_argp;   /* input: hp_plot_choice * */
extern const struct argp hp_report_argp; /* the one FILE, --output; input: hp_report_choice * */
extern const struct argp hp_survey_argp; /* all of the above; input: hp_survey_choice * */
extern const struct argp hp_forms_argp;  /* --json or --csv; input: the same hp_report_choice * */
extern const struct argp hp_wiring_argp; /* --wiring, which must be there; input: const char ** */

/* argp_error with nothing in its text that a terminal would obey: what is refused is quoted, and
 * the name of a file may hold anything. Does not return while a command line is parsed. */
void hp_option_refuse(const struct argp_state *state, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Value of an option as a number in [low, high]; leaves the program through hp_option_refuse,
 * with option, value and what was expected, when it is not one. `unit` may be empty. */
double hp_option_number(const struct argp_state *state, const char *option, const char *text,
                        const char *unit, double low, double high);
/* The same for whole numbers. */
int hp_option_integer(const struct argp_state *state, const char *option, const char *text, int low,
                      int high);

/* argp_parse with the program's exit status for bad usage, and with --help, --usage and --version
 * of ours: argp's own bring hidden options with them. `flags` as there, 0 for a command. Returns
 * only when the line was right. */
void hp_options_parse(const struct argp *argp, unsigned flags, int argc, char **argv, void *input);

/* For a parser's ARGP_KEY_ARG: takes the one FILE that a command wants, refuses a second. */
void hp_option_take_file(struct argp_state *state, const char *argument, const char **file);

/* For --log: the name of a bench log. */
void hp_option_take_log(struct argp_state *state, const char *argument, const char **log);

#endif
