/* `hubphase sheet FILE [LOG] -o sheet.html`: the wiring sheet for the next person. */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/apart.h"
#include "app/session.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/report/documents.h"

#include <string.h>
#include <strings.h>

enum { KEY_WIRING = HP_KEY_OWN, KEY_LOG, KEY_DATE };

#define DATE_SIZE 64

typedef struct choices {
    const char *file;
    const char *log;    /* NULL: the one beside the scenario, if there is one */
    const char *wiring; /* NULL: the log's last smooth forward trial */
    const char *date;   /* NULL: of the log's last entry */
    const char *output; /* NULL: HTML to the standard output */
    bool pdf;
} choices;

static const struct argp_option options[] = {
    {"log", KEY_LOG, "LOG", 0, "Bench log; the one beside the scenario when not given", 0},
    {"wiring", KEY_WIRING, "W", 0,
     "The correct wiring, by number or leads, instead of the one of the log's last smooth forward "
     "trial",
     0},
    {"date", KEY_DATE, "TEXT", 0, "Date of the sheet, instead of that of the log's last entry", 0},
    {"output", 'o', "FILE", 0,
     "Write the sheet into FILE: .html for a page, .pdf for paper; HTML on the standard output "
     "when not given",
     0},
    {0}};

static bool ends_in(const char *text, const char *end)
{
    size_t length = strlen(text), tail = strlen(end);
    return length >= tail && strcasecmp(text + length - tail, end) == 0;
}

static void check_choices(struct argp_state *state, choices *choice)
{
    const char *out = choice->output;
    if (choice->date && strlen(choice->date) >= DATE_SIZE)
        hp_option_refuse(state, "--date has %zu bytes, must have at most %d", strlen(choice->date),
                         DATE_SIZE - 1);
    if (!out || strcmp(out, "-") == 0)
        return;
    choice->pdf = ends_in(out, ".pdf");
    if (!choice->pdf && !ends_in(out, ".html") && !ends_in(out, ".htm"))
        hp_option_refuse(state, "--output is \"%s\", must end in .html or .pdf", out);
}

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case KEY_LOG:
        if (choice->log)
            hp_option_refuse(state, "one LOG is expected, but there is \"%s\" after \"%s\"", arg,
                             choice->log);
        choice->log = arg;
        return 0;
    case KEY_WIRING: choice->wiring = arg; return 0;
    case KEY_DATE: choice->date = arg; return 0;
    case 'o': choice->output = arg; return 0;
    case ARGP_KEY_ARG:
        if (!choice->file)
            choice->file = arg;
        else if (!choice->log)
            choice->log = arg;
        else
            hp_option_refuse(state,
                             "one FILE and one LOG are expected, but there is \"%s\" after \"%s\"",
                             arg, choice->log);
        return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "the scenario FILE is missing"); return 0;
    case ARGP_KEY_END: check_choices(state, choice); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const char doc[] =
    "Write the wiring sheet of scenario FILE and its bench LOG for the person who opens this hub "
    "in some years: which lead goes to which in the correct wiring and in its two equals, pins of "
    "the plug, readings of the good parts to compare with, settings, the rest of the harness, "
    "cautions. What nobody measured is a dotted line to fill in by hand. A wiring is called "
    "correct where `hubphase next' ends with it; where it has not ended, the sheet says so.";

static const struct argp argp = {options, parse, "FILE [LOG]", doc, NULL, NULL, NULL};

/* ---- writing --------------------------------------------------------------------------------- */

/* The advice, where the sheet has a use for it; `advised`: whether there is one. A machine that no
 * advice is for gets its sheet all the same, which calls no wiring correct. */
static hp_result advise(const hp_session *session, const hp_bench_log *log, hp_advice *advice,
                        bool *advised, hp_error *err)
{
    hp_error why = hp_error_none();
    hp_advice_choice of = hp_advice_choice_default();
    of.log_read = log; /* the very entries that the sheet shows */
    *advised = false;
    if (!hp_sheet_wants_advice(log))
        return HP_OK;
    hp_case *c = hp_advice_case_open(session, &of, &why);
    if (!c && why.code == HP_FAIL_INPUT) {
        hp_terminal_line(stderr, "%s: no advice: %s", session->command, why.text);
        return HP_OK;
    }
    hp_result result = c ? hp_case_next(c, advice, &why) : why.code;
    hp_case_free(c);
    *advised = result == HP_OK;
    if (result != HP_OK)
        *err = why;
    return result;
}

/* A sheet on its way. */
typedef struct sheet_job {
    const hp_session *session;
    const hp_bench_log *log;
    const hp_sheet_options *options;
    FILE *to;
} sheet_job;

static hp_result make_sheet(void *user, int k, FILE *out, hp_error *err)
{
    const sheet_job *job = user;
    (void)k;
    return hp_sheet_write(&job->session->scenario, job->log, job->options, out, err);
}

static hp_result take_sheet(void *user, int k, const char *bytes, size_t size, hp_error *err)
{
    const sheet_job *job = user;
    (void)k;
    return fwrite(bytes, 1, size, job->to) == size
               ? HP_OK
               : hp_error_set(err, HP_FAIL_IO, "the sheet cannot be written");
}

static hp_result write_sheet(hp_session *session, const choices *choice, int wiring,
                             const hp_bench_log *log, hp_error *err)
{
    hp_output output;
    hp_sheet_options sheet = hp_sheet_options_default();
    sheet.form = choice->pdf ? HP_SHEET_PDF : HP_SHEET_HTML;
    sheet.wiring = wiring;
    sheet.date = choice->date;
    hp_advice advice;
    bool advised = false;
    hp_result result = hp_session_report_open(session, &output, choice->output, err);
    if (result != HP_OK)
        return result;
    result = advise(session, log, &advice, &advised, err);
    if (result != HP_OK) {
        hp_output_discard(&output);
        return result;
    }
    sheet.advice = advised ? &advice : NULL;
    sheet_job job = {session, log, &sheet, output.file};
    const hp_apart work = {
        .count = 1, .safe = !choice->pdf, .user = &job, .make = make_sheet, .take = take_sheet};
    result = hp_apart_run(&work, err);
    return hp_output_finish(&output, result, err);
}

static hp_exit run_command(hp_session *session, const choices *choice)
{
    hp_error err = hp_error_none();
    hp_bench_log log;
    hp_wiring wiring;
    memset(&log, 0, sizeof log);
    if (choice->wiring &&
        hp_wiring_parse(choice->wiring, &session->scenario.labels, &wiring, &err) != HP_OK) {
        hp_terminal_line(stderr, "%s: --wiring: %s", session->command, err.text);
        return HP_EXIT_USAGE;
    }
    hp_result result = hp_session_load_log(session, choice->log, &log, &err);
    if (result != HP_OK) {
        hp_exit status = hp_session_fail(session->command, &err);
        hp_bench_log_free(&log);
        return status;
    }
    result =
        write_sheet(session, choice, choice->wiring ? hp_wiring_number(&wiring) : 0, &log, &err);
    hp_bench_log_free(&log);
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(session->command, &err);
}

hp_exit hp_command_sheet(int argc, char **argv)
{
    choices choice = {.file = NULL};
    hp_run_choice run = hp_run_choice_default();
    hp_session session;
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status = hp_session_open(&session, argv[0], choice.file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    status = run_command(&session, &choice);
    hp_session_close(&session);
    return status;
}
