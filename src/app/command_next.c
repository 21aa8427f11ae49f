/* `hubphase next FILE`: what to measure or try next, why, how; and where things stand. */
#include "app/command_table.h"

#include "app/advice_log_line.h"
#include "app/advice_session.h"
#include "app/plots.h"
#include "report/words/advice_report.h"

#include <stdlib.h>
#include <string.h>

enum { KEY_JSON = HP_KEY_OWN, KEY_WHY };

/* chosen: what shows less often is no choice worth a button. */
#define LEAST_SHOWING 0.002
/* chosen: hypotheses that never came to this are not worth a line. */
#define LEAST_TEXT 0.01
#define LEAST_JSON 1e-4

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
    "wirings that can still be right, what may be broken, entries that contradict one another, and "
    "what current and speed to expect at the end. Safe readings come first; the first powered try "
    "should be the right one."
    "\vThe names under leads in the scenario only name the leads: on which axis each sits is what "
    "is found out. Chances, costs, meters at hand and readings that cannot be taken stand in the "
    "scenario's section bench.";

static const struct argp argp = {options, parse, "FILE", doc, children, NULL, NULL};

/* What is worked out for one report. */
typedef struct work {
    hp_advice advice;
    hp_standing standing;
    hp_standing_course course;
    hp_showing showing[HP_SHOWING_MAX];
    double *slip;
    char log_line[HP_LOG_LINE_SIZE];
    hp_advice_report report;
} work;

static hp_result reckon(hp_advice_session *s, const choices *choice, work *w, hp_error *err)
{
    hp_result result = hp_plan_next(s->planner, &s->belief, false, &w->advice, err);
    if (result == HP_OK)
        result =
            hp_standing_fill(&s->belief, s->session.scenario.bench.prior.table, &w->standing, err);
    if (result != HP_OK)
        return result;
    w->slip = calloc((size_t)s->belief.entries + 1, sizeof *w->slip);
    if (!w->slip)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    /* Here and not by the plan: the slips are wanted too, and are found only once. */
    result = hp_belief_contradiction(&s->belief, &w->advice.contradiction, w->slip, err);
    if (result == HP_OK && choice->why)
        result = hp_standing_course_make(&s->belief, choice->report.json ? LEAST_JSON : LEAST_TEXT,
                                         &w->course, err);
    if (result == HP_OK && choice->report.json)
        w->report.showings =
            hp_plan_showings(s->planner, &s->belief, &w->advice, LEAST_SHOWING, w->showing);
    return result;
}

static hp_result write_report(const hp_advice_session *s, const choices *choice, work *w, FILE *out,
                              hp_error *err)
{
    hp_report_case subject = hp_session_case(&s->session);
    hp_card_context context = hp_advice_session_context(s);
    hp_advice_report *r = &w->report;
    r->subject = &subject;
    r->context = &context;
    r->belief = &s->belief;
    r->advice = &w->advice;
    r->standing = &w->standing;
    r->log_file = s->log.path;
    r->log_line =
        hp_advice_log_line(s, choice->advice.log, &w->advice, w->log_line, sizeof w->log_line);
    r->slip = w->slip;
    r->showing = w->showing;
    r->course = choice->why ? &w->course : NULL;
    if (choice->report.json)
        return hp_advice_json_write(r, out, err);
    hp_advice_print(r, hp_terminal_colour(out), out);
    return HP_OK;
}

/* How the step is connected, and for a trial which lead goes where. */
static hp_result write_plots(const hp_advice_session *s, const choices *choice,
                             const hp_advice *advice, hp_error *err)
{
    hp_picture_subject subject = hp_plots_subject(&s->session);
    subject.advice = advice;
    subject.number = advice->number;
    return hp_plots_write(&s->session, &choice->plot, HP_MAKER_NEXT, 0, &subject, err);
}

static hp_exit run(hp_advice_session *s, const choices *choice, work *w)
{
    hp_output output;
    hp_error err = hp_error_none();
    memset(&output, 0, sizeof output);
    hp_result result = hp_session_report_open(&s->session, &output, choice->report.output, &err);
    if (result == HP_OK && choice->plot.directory)
        result = hp_plots_try(&s->session, &choice->plot, HP_MAKER_NEXT, 0, &err);
    if (result == HP_OK)
        result = reckon(s, choice, w, &err);
    if (result == HP_OK)
        result = hp_output_finish(&output, write_report(s, choice, w, output.file, &err), &err);
    if (result == HP_OK && choice->plot.directory)
        result = write_plots(s, choice, &w->advice, &err);
    hp_output_discard(&output);
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(s->session.command, &err);
}

int hp_command_next(int argc, char **argv)
{
    choices choice = {.advice = hp_advice_choice_default(), .plot = hp_plot_choice_default()};
    hp_advice_session session;
    hp_options_parse(&argp, argc, argv, &choice);
    choice.advice.file = choice.report.file;
    hp_exit status = hp_advice_session_open(&session, argv[0], &choice.advice);
    if (status != HP_EXIT_FINE)
        return status;
    work *w = calloc(1, sizeof *w);
    if (w) {
        status = run(&session, &choice, w);
        hp_standing_course_free(&w->course);
        free(w->slip);
    } else {
        hp_terminal_line(stderr, "%s: no memory", argv[0]);
        status = HP_EXIT_FAILED;
    }
    free(w);
    hp_advice_session_close(&session);
    return status;
}
