/*
 * What every command does first and last: load a scenario, lay the command line's choices over it,
 * say what went wrong, and send a report where the user wants it.
 */
#ifndef HUBPHASE_SRC_APP_SESSION_H
#define HUBPHASE_SRC_APP_SESSION_H

#include "app/command_table.h"
#include "app/options.h"
#include "app/output.h"
#include "app/terminal.h"
#include "hubphase/decide/survey.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/record/scenario.h"

typedef struct hp_session {
    const char *command; /* "hubphase survey", borrowed from argv; opens every message */
    hp_run_choice choice;
    hp_scenario scenario;  /* owned; the choice laid over it */
    hp_output_names names; /* of the inputs of the case, and of the outputs as they are opened */
    const char *folder;    /* made for pictures; NULL: none was; borrowed from argv */
} hp_session;

/* Loads and checks; prints every problem. HP_EXIT_FINE, or the status to leave with (nothing is
 * then left to free). */
hp_exit hp_session_open(hp_session *session, const char *command, const char *file,
                        const hp_run_choice *choice);
void hp_session_close(hp_session *session);

/* Prints "command: text" and gives the exit status that fits the error. Errors of files met while
 * writing are HP_EXIT_OUTPUT. */
hp_exit hp_session_fail(const char *command, const hp_error *err);

/* After a change of a log was made and printed: whether it was printed. Else says on the standard
 * error that it is made, since the person would make it once more. `made`: "saved in". */
hp_exit hp_session_printed(const char *command, int number, const char *made, const char *path);

/* Options of a survey or of one wiring's runs; progress shown on `bar` (may be NULL). */
hp_survey_options hp_session_survey_options(const hp_session *session, hp_bar *bar);

/* Where the scenario is slow to simulate (hp_scenario_is_slow): says so, and which of its numbers
 * make it so. */
void hp_session_warn_slow(const hp_session *session);

/* Notes a value that the command line set in the list of parameters. */
void hp_session_note_option(hp_session *session, const char *key, double value, const char *option);

/* Notes a bench log as an input that no output may take. */
void hp_session_keep_log(hp_session *session, const char *path);

/* Reads the bench log that was chosen, which must be there, or (NULL) the one beside the scenario,
 * which may be missing; prints every problem, and notes it as an input. HP_FAIL_INPUT, too, when it
 * cannot be read; err is needed. */
hp_result hp_session_load_log(hp_session *session, const char *chosen, hp_bench_log *log,
                              hp_error *err);
/* Puts in place of the scenario what `commission --write` would make of it by this log (NULL: that
 * beside it). HP_FAIL_INPUT when the log tells nothing of the machine. */
hp_result hp_session_learn(hp_session *session, const char *chosen, hp_error *err);
/* The log beside the scenario, where it tells figures of the machine that the scenario does not
 * have yet: fills path. */
bool hp_session_could_learn(const hp_session *session, char *path, size_t size);

/* Makes a folder unless it is there. One that was made and stays empty goes again, at the close or
 * when a signal ends the program. */
hp_result hp_session_folder(hp_session *session, const char *path, hp_error *err);

/* The path of file `name` in a folder; HP_FAIL_IO where it is longer than `size` takes. */
hp_result hp_session_place(const char *folder, const char *name, char *path, size_t size,
                           hp_error *err);
/* Tells the person that this file was written, unless quiet. */
void hp_session_wrote(const hp_session *session, const char *path);

/* Opens a report's place: a file when `path` is given, else the standard output. Inputs of the case
 * and other outputs of the command are refused. */
hp_result hp_session_report_open(hp_session *session, hp_output *output, const char *path,
                                 hp_error *err);

#endif
