/* What every command does first and last: see the header. */
#include "app/session.h"

#include "hubphase/record/bench_log.h"
#include "hubphase/record/case.h"

#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio_ext.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

hp_exit hp_session_fail(const char *command, const hp_error *err)
{
    switch (err->code) {
    case HP_FAIL_INPUT:
        hp_terminal_line(stderr, "%s: %s", command, err->text);
        return HP_EXIT_INPUT;
    case HP_FAIL_IO: hp_terminal_line(stderr, "%s: %s", command, err->text); return HP_EXIT_OUTPUT;
    case HP_FAIL_CANCELLED:
        hp_terminal_line(stderr, "%s: stopped", command);
        return HP_EXIT_CANCELLED;
    default:
        hp_terminal_line(stderr, "%s: %s: %s", command, hp_result_name(err->code), err->text);
        return HP_EXIT_FAILED;
    }
}

hp_exit hp_session_printed(const char *command, int number, const char *made, const char *path)
{
    errno = 0;
    if (fflush(stdout) == 0 && !ferror(stdout))
        return HP_EXIT_FINE;
    hp_terminal_line(
        stderr, "%s: entry %d is %s %s; only the standard output cannot be written: %s", command,
        number, made, path, errno ? hp_file_cause(errno) : "an earlier write failed");
    /* That is said: what was not printed is forgotten. */
    __fpurge(stdout);
    clearerr(stdout);
    return HP_EXIT_OUTPUT;
}

void hp_session_warn_slow(const hp_session *session)
{
    if (!hp_scenario_is_slow(&session->scenario))
        return;
    hp_terminal_line(
        stderr,
        "%s: this machine takes long to simulate, and runs that take too many steps are "
        "given up",
        session->command);
    hp_scenario_tell_slow(&session->scenario, stderr);
}

void hp_session_note_option(hp_session *session, const char *key, double value, const char *option)
{
    hp_parameters_note_option(&session->scenario.parameters, key, value, option);
}

/* The command line wins over the file. */
static void lay_over(hp_session *session)
{
    hp_scenario *scenario = &session->scenario;
    const hp_run_choice *choice = &session->choice;
    if (choice->throttle_percent >= 0.0)
        hp_scenario_take_throttle(scenario, choice->throttle_percent, "--throttle");
    if (choice->starts > 0) {
        scenario->starts = choice->starts;
        hp_session_note_option(session, "run.starts", choice->starts, "--starts");
    }
}

void hp_session_keep_log(hp_session *session, const char *path)
{
    hp_output_names_keep(&session->names, path, "it is the bench log itself");
}

hp_result hp_session_load_log(hp_session *session, const char *chosen, hp_bench_log *log,
                              hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    const hp_screen screen = hp_terminal_diagnostics();
    hp_result result = hp_bench_log_path_of(&session->scenario, chosen, path, sizeof path, err);
    if (result == HP_OK)
        result = hp_bench_log_load_on(path, &session->scenario, log, &screen, err);
    if (result == HP_OK && chosen && !log->exists)
        result =
            hp_error_set(err, HP_FAIL_INPUT, "%s cannot be read: there is no such bench log", path);
    if (result == HP_OK)
        hp_session_keep_log(session, log->path);
    /* What cannot be read is a wrong input: a failed write is another thing. */
    if (result == HP_FAIL_IO)
        result = err->code = HP_FAIL_INPUT;
    return result;
}

/* The log beside the scenario is the case's, even where another one is read; so is the one that it
 * was learnt from. */
static void keep_inputs(hp_session *session)
{
    char log[HP_BENCH_PATH_SIZE];
    const char *scenario = session->scenario.path;
    hp_output_names_keep(&session->names, scenario, "it is the scenario itself");
    if (hp_bench_log_path(scenario, NULL, log, sizeof log, NULL) == HP_OK)
        hp_session_keep_log(session, log);
    if (hp_bench_log_learnt_path(&session->scenario, log, sizeof log))
        hp_session_keep_log(session, log);
}

hp_exit hp_session_open(hp_session *session, const char *command, const char *file,
                        const hp_run_choice *choice)
{
    hp_error err = hp_error_none();
    memset(session, 0, sizeof *session);
    session->command = command;
    session->choice = *choice;
    const hp_screen screen = hp_terminal_diagnostics();
    hp_result result = hp_scenario_load_on(file, &session->scenario, &screen, &err);
    if (result != HP_OK) {
        hp_scenario_free(&session->scenario);
        hp_exit status = hp_session_fail(command, &err);
        return result == HP_FAIL_IO ? HP_EXIT_INPUT : status;
    }
    session->scenario.run.stop = hp_terminal_stop;
    lay_over(session);
    keep_inputs(session);
    result = hp_drive_check(&session->scenario.drive, &err);
    if (result != HP_OK) {
        hp_session_close(session);
        return hp_session_fail(command, &err);
    }
    return HP_EXIT_FINE;
}

/* ---- what a log tells of the machine ----------------------------------------------------------
 */

/* The scenario's text with what was learnt; owned by the caller, NULL on failure. */
static char *learnt_text(hp_session *session, const char *chosen, size_t *size, hp_error *err)
{
    hp_bench_log log;
    hp_commission_case *c = NULL;
    char *text = NULL;
    int changes;
    memset(&log, 0, sizeof log);
    hp_result result = hp_session_load_log(session, chosen, &log, err);
    if (result == HP_OK) {
        c = hp_commission_case_create(&session->scenario, &log, err);
        result = c ? HP_OK : HP_FAIL_MEMORY;
    }
    FILE *out = result == HP_OK ? open_memstream(&text, size) : NULL;
    if (result == HP_OK && !out)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    if (result == HP_OK)
        result = hp_commission_case_write(c, NULL, out, &changes, stderr, err);
    if (out && fclose(out) != 0 && result == HP_OK)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    hp_commission_case_free(c);
    hp_bench_log_free(&log);
    if (result == HP_OK)
        return text;
    free(text);
    return NULL;
}

hp_result hp_session_learn(hp_session *session, const char *chosen, hp_error *err)
{
    size_t size = 0;
    hp_scenario learnt;
    char *text = learnt_text(session, chosen, &size, err);
    if (!text)
        return err->code;
    hp_result result = hp_scenario_read(text, size, session->scenario.path, &learnt, stderr, err);
    free(text);
    if (result != HP_OK)
        return result;
    hp_scenario_free(&session->scenario);
    session->scenario = learnt;
    session->scenario.run.stop = hp_terminal_stop;
    lay_over(session);
    return hp_drive_check(&session->scenario.drive, err);
}

/* A log that cannot be read is for those to tell who read it for its own sake. */
bool hp_session_could_learn(const hp_session *session, char *path, size_t size)
{
    hp_bench_log log;
    bool knows = false;
    memset(&log, 0, sizeof log);
    if (hp_bench_log_path_of(&session->scenario, NULL, path, size, NULL) == HP_OK &&
        hp_bench_log_load(path, &session->scenario, &log, NULL, NULL) == HP_OK && log.exists &&
        !hp_bench_log_is_learnt(&log, &session->scenario)) {
        hp_commission_case *c = hp_commission_case_create(&session->scenario, &log, NULL);
        for (int k = 0; c && k < HP_OWN_COUNT; k++)
            knows = knows || hp_commission_case_list(c)->own.figure[k].known;
        hp_commission_case_free(c);
    }
    hp_bench_log_free(&log);
    return knows;
}

void hp_session_close(hp_session *session)
{
    if (session->folder)
        rmdir(session->folder); /* fails where something is in it, as it should */
    hp_terminal_keep_folder(NULL);
    hp_scenario_free(&session->scenario);
}

hp_survey_options hp_session_survey_options(const hp_session *session, hp_bar *bar)
{
    hp_survey_options options = hp_scenario_survey_options(&session->scenario);
    options.jobs = session->choice.jobs;
    if (bar) {
        options.progress = hp_bar_step;
        options.user = bar;
    }
    return options;
}

hp_result hp_session_folder(hp_session *session, const char *path, hp_error *err)
{
    bool made;
    hp_result result = hp_output_folder(path, &made, err);
    if (made) {
        session->folder = path;
        hp_terminal_keep_folder(path);
    }
    return result;
}

hp_result hp_session_place(const char *folder, const char *name, char *path, size_t size,
                           hp_error *err)
{
    size_t length = strlen(folder);
    const char *slash = length > 0 && folder[length - 1] == '/' ? "" : "/";
    if ((size_t)snprintf(path, size, "%s%s%s", folder, slash, name) >= size)
        return hp_error_set(err, HP_FAIL_IO, "the name of folder %s is too long", folder);
    return HP_OK;
}

void hp_session_wrote(const hp_session *session, const char *path)
{
    if (!session->choice.quiet)
        hp_terminal_line(stderr, "%s: wrote %s", session->command, path);
}

hp_result hp_session_report_open(hp_session *session, hp_output *output, const char *path,
                                 hp_error *err)
{
    const char *place = path ? path : "-";
    hp_result result = hp_output_names_claim(&session->names, place, err);
    return result == HP_OK ? hp_output_open(output, place, err) : result;
}
