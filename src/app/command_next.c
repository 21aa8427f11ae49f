/* `hubphase next FILE`: what to measure or try next, why, how; and where things stand. */
#include "app/command_table.h"

#include "app/advice_log_line.h"
#include "app/advice_session.h"
#include "app/plots.h"
#include "hubphase/report/case_words.h"

#include <string.h>

enum { KEY_JSON = HP_KEY_OWN, KEY_WHY };

typedef struct choices {
    hp_advice_choice advice;
    hp_report_choice report;
    hp_plot_choice plot;
    bool why;
} choices;

static const struct argp_option options[] = {
    {"json", KEY_JSON, NULL, 0, "Write JSON instead of the text (fields: docs/json.md)", 0},
    {"why", KEY_WHY, NULL, 0,
     "Show the hypotheses left with their probabilities, and how each entry moved them", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    (void)arg;
    switch (key) {
    case ARGP_KEY_INIT:
        state->child_inputs[0] = &choice->advice;
        state->child_inputs[1] = &choice->report;
        state->child_inputs[2] = &choice->plot;
        return 0;
    case KEY_JSON: choice->report.json = true; return 0;
    case KEY_WHY: choice->why = true; return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {
    {&hp_advice_argp, 0, NULL, 0}, {&hp_report_argp, 0, NULL, 0}, {&hp_plot_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Say the one thing to measure or try next on the machine of scenario FILE, with its reason, "
    "its "
    "how-to and its cautions, from what the bench log holds so far; then where things stand: the "
    "wirings that can still be correct, what may be faulty, entries that contradict one another, "
    "and "
    "what current and speed to expect at the end. Safe readings come first; the first powered try "
    "should be the correct one."
    "\vThe names under leads in the scenario only name the leads: on which axis each sits is what "
    "is found out. Chances, costs, meters at hand and readings that cannot be taken stand in the "
    "scenario's section bench.";

static const struct argp argp = {options, parse, "FILE", doc, children, NULL, NULL};

static hp_result write_report(const hp_advice_session *s, const choices *choice,
                              const hp_case_report *report, FILE *out, hp_error *err)
{
    char line[HP_LOG_LINE_SIZE];
    hp_advice_log_line(s, choice->advice.log, hp_case_report_advice(report), line, sizeof line);
    hp_screen screen = hp_terminal_screen(out);
    return hp_case_report_write(report, line, &screen, err);
}

/* How the step is connected, and for a trial which lead goes where. */
static hp_result write_plots(const hp_advice_session *s, const choices *choice,
                             const hp_advice *advice, hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(&s->session);
    subject.advice = advice;
    subject.plan = hp_case_plan(s->bench);
    subject.number = advice->number;
    subject.plug = hp_bench_log_plug(hp_case_log(s->bench));
    return hp_plots_write(&s->session, &choice->plot, HP_MAKER_NEXT, 0, &subject, err);
}

static hp_exit run(hp_advice_session *s, const choices *choice)
{
    hp_output output;
    hp_error err = hp_error_none();
    hp_case_report_options wanted = {.json = choice->report.json, .why = choice->why};
    hp_case_report *report = NULL;
    memset(&output, 0, sizeof output);
    /* A name that is one letter off is no work that was lost. */
    if (choice->advice.log && !hp_case_log(s->bench)->exists && !choice->advice.quiet)
        hp_terminal_line(stderr,
                         "%s: there is no bench log %s yet: the first entry begins it. Is it there "
                         "under another name, give that one",
                         s->session.command, choice->advice.log);
    hp_result result = hp_plots_open(&s->session, &choice->plot, HP_MAKER_NEXT, 0, &err);
    if (result == HP_OK)
        result = hp_session_report_open(&s->session, &output, choice->report.output, &err);
    if (result == HP_OK) {
        report = hp_case_report_create(s->bench, &wanted, &err);
        result = report ? HP_OK : err.code;
    }
    if (result == HP_OK)
        result =
            hp_output_finish(&output, write_report(s, choice, report, output.file, &err), &err);
    if (result == HP_OK && choice->plot.directory)
        result = write_plots(s, choice, hp_case_report_advice(report), &err);
    hp_output_discard(&output);
    hp_case_report_free(report);
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(s->session.command, &err);
}

hp_exit hp_command_next(int argc, char **argv)
{
    choices choice = {.advice = hp_advice_choice_default(), .plot = hp_plot_choice_default()};
    hp_advice_session session;
    hp_options_parse(&argp, 0, argc, argv, &choice);
    choice.advice.file = choice.report.file;
    hp_exit status = hp_advice_session_open(&session, argv[0], &choice.advice);
    if (status != HP_EXIT_FINE)
        return status;
    status = run(&session, &choice);
    hp_advice_session_close(&session);
    return status;
}
