/* `hubphase page FILE [LOG] -o page.html`: the page for the bench. */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/wave_window.h"
#include "base/shell_word.h"
#include "hubphase/record/bench_log.h"

#include "decide/judge/alike.h"
#include "hubphase/report/pictures.h"
#include "record/case/case_parts.h"
#include "report/page/bench_page.h"
#include "report/picture/svg_compact.h"
#include "report/words/case_card.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Samples of a waveform picture: twice what its width shows. */
#define SAMPLES 2400
/* A picture's curves may be off by so much [units, of 720 across]. Chosen: half of what a telephone
 * shows as one point. */
#define TOLERANCE 0.5
/* Longest name of a file without its folder [bytes], common to the usual file systems. */
#define NAME_BYTES   255
#define FILE_WORD    HP_SHELL_WORD_SIZE(NAME_BYTES + 2)
#define COMMAND_SIZE (2 * FILE_WORD + 40)

enum { KEY_ONE_IN = HP_KEY_OWN };

/* Chosen: a plan that a person walks through in an evening, made in half a minute. */
#define ONE_IN_USUAL 1000
/* Showings at a step that are less likely are not drawn as buttons. Chosen: one time in two hundred
 * still covers the parts that may be broken. */
#define LEAST_SHOWING 0.005
#define NODES_MAX     20000

typedef struct choices {
    hp_advice_choice advice;
    const char *log; /* given as an argument; NULL: not so */
    const char *output;
    int one_in;
} choices;

static const struct argp_option options[] = {
    {"output", 'o', "FILE", 0, "Write the page into FILE (- is the standard output)", 0},
    {"one-in", KEY_ONE_IN, "N", 0,
     "Leave out of the plan the ways that fewer than one in N people go (default: 1000; more takes "
     "longer)",
     0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT: state->child_inputs[0] = &choice->advice; return 0;
    case 'o': choice->output = arg; return 0;
    case KEY_ONE_IN:
        choice->one_in = hp_option_integer(state, "--one-in", arg, 2, 100000);
        return 0;
    case ARGP_KEY_ARG:
        if (state->arg_num == 1)
            choice->log = arg;
        else
            hp_option_take_file(state, arg, &choice->advice.file);
        return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "the scenario FILE is missing"); return 0;
    case ARGP_KEY_END:
        if (choice->log && choice->advice.log)
            hp_option_refuse(state, "the log is given twice: %s and --log %s", choice->log,
                             choice->advice.log);
        if (choice->log)
            choice->advice.log = choice->log;
        if (!choice->output)
            hp_option_refuse(state, "--output FILE is missing, must be the page to write, or -");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {{&hp_advice_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Write a page of HTML to take to the bench on a telephone or tablet: the cautions, what to do "
    "next with a button for everything that may be seen, and the map of all 36 wirings with their "
    "pictures. The page is one file that needs no network and no server; printed, it is a numbered "
    "list."
    "\vLOG is the bench log (default: x.bench.yaml beside x.yaml); what stands in it has been "
    "done. "
    "The page copies its answers out as such a log.";

static const struct argp argp = {options, parse, "FILE [LOG]", doc, children, NULL, NULL};

/* Everything that the page borrows. */
typedef struct work {
    hp_advice_session advice;
    hp_plan_tree tree;
    hp_survey survey;
    int first[HP_WIRING_COUNT];
    hp_bench_page_pictures picture[HP_WIRING_COUNT];
    char *log_text;
    char add[COMMAND_SIZE];
    char ask[COMMAND_SIZE];
} work;

/* ---- pictures -------------------------------------------------------------------------------- */

/* Takes over `svg`, gives it made small. */
static hp_result make_small(char *svg, size_t size, char **small, hp_error *err)
{
    size_t length = 0;
    *small = hp_svg_compact(svg, size, TOLERANCE, &length);
    free(svg);
    return *small ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a picture");
}

/* The first rest angle whose run did what the verdict says: turned, where it turned from any. */
static const hp_figures *typical_run(const work *w, int number)
{
    const hp_survey *survey = &w->survey;
    const hp_figures *run = &survey->run[(number - 1) * survey->starts];
    bool turns = survey->judgement[number - 1].starts > 0;
    double least = hp_thresholds_default().turn_min;
    for (int k = 0; k < survey->starts; k++)
        if (run[k].status == HP_OK && (!turns || fabs(run[k].window_turn) >= least))
            return &run[k];
    return NULL;
}

/* One picture of one wiring, small enough for the page. */
static hp_result draw_small(const work *w, const char *name, int number, const hp_trace *trace,
                            double start_angle, char **small, hp_error *err)
{
    const hp_scenario *scenario = &w->advice.session.scenario;
    char *svg = NULL;
    size_t size = 0;
    hp_picture_target to = {.bytes = &svg, .size = &size};
    hp_picture_subject subject = {.drive = &scenario->drive,
                                  .labels = &scenario->labels,
                                  .thresholds = hp_thresholds_default(),
                                  .survey = &w->survey,
                                  .number = number,
                                  .judgement = &w->survey.judgement[number - 1],
                                  .trace = trace,
                                  .start_angle = start_angle};
    hp_result result = hp_picture_make(hp_picture_find(name), &subject, &to, err);
    return result == HP_OK ? make_small(svg, size, small, err) : result;
}

/* Runs the wiring once more, now with a trace. None where every run broke off. */
static hp_result draw_waves(work *w, hp_engine *engine, int number, hp_error *err)
{
    const hp_scenario *scenario = &w->advice.session.scenario;
    const hp_figures *typical = typical_run(w, number);
    if (!typical)
        return HP_OK;
    hp_run_options run = scenario->run;
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_figures figures;
    double from, until;
    run.start_angle = typical->start_angle;
    hp_wave_window(&run, scenario->drive.motor.pole_pairs, typical, &from, &until);
    hp_trace trace = hp_trace_init(from, until, (until - from) / SAMPLES);
    hp_result result =
        hp_engine_run(engine, &scenario->drive, &wiring, &run, &trace, &figures, err);
    if (result == HP_OK)
        result = draw_small(w, "waveforms", number, &trace, run.start_angle,
                            &w->picture[number - 1].waves, err);
    hp_trace_free(&trace);
    return result;
}

static hp_result draw_lead(work *w, int number, hp_error *err)
{
    return draw_small(w, "lead-angle", number, NULL, NAN, &w->picture[number - 1].lead, err);
}

/* With a table that makes every wiring a machine of its own, waveforms of all would be too many
 * for one page. Chosen: the usual 12 different ones, twice. */
#define WAVES_MAX 24

static hp_result draw_pictures(work *w, int different, hp_error *err)
{
    hp_engine *engine = hp_engine_create(err);
    if (!engine)
        return HP_FAIL_MEMORY;
    hp_result result = HP_OK;
    for (int n = 1; n <= HP_WIRING_COUNT && result == HP_OK; n++) {
        if (w->first[n - 1] != n)
            continue;
        if (different <= WAVES_MAX)
            result = draw_waves(w, engine, n, err);
        if (result == HP_OK)
            result = draw_lead(w, n, err);
    }
    hp_engine_free(engine);
    return result;
}

/* ---- the log --------------------------------------------------------------------------------- */

static char *entry_text(void *user, const hp_entry *entry)
{
    const work *w = user;
    hp_bench_entry bench = hp_bench_entry_make(entry->reading);
    bench.entry = *entry;
    hp_entry_mark_typical(&bench.entry); /* nobody read them off a meter */
    snprintf(bench.time, sizeof bench.time, "%s", HP_BENCH_PAGE_TIME);
    return hp_bench_log_entry_text(&bench, &w->advice.session.scenario.labels);
}

/* Head and entries afresh, so that the page's entries fit behind them however the file is laid
 * out. */
static hp_result write_log(work *w, hp_error *err)
{
    size_t size = 0;
    FILE *out = open_memstream(&w->log_text, &size);
    char *part = out ? hp_bench_log_head_text(&w->advice.session.scenario) : NULL;
    bool fine = part != NULL;
    for (int k = 0; fine; k++) {
        fputs(part, out);
        free(part);
        part = NULL;
        if (k == hp_case_log(w->advice.bench)->count)
            break;
        part = hp_bench_log_entry_text(&hp_case_log(w->advice.bench)->entry[k],
                                       &w->advice.session.scenario.labels);
        fine = part != NULL;
    }
    if (out && fclose(out) != 0)
        fine = false;
    return fine ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a log");
}

static const char *without_folder(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* A file beside the page, as a word of a command. */
static char *file_word(const char *path, char *out, size_t size)
{
    char file[HP_BENCH_PATH_SIZE];
    return hp_shell_word(hp_shell_file(without_folder(path), file, sizeof file), out, size);
}

/* The commands name the log only when it is not where they look for it. */
static hp_result name_commands(work *w, const char *chosen, hp_error *err)
{
    char usual[HP_BENCH_PATH_SIZE], log[FILE_WORD + 8] = "", scenario[FILE_WORD], name[FILE_WORD];
    file_word(w->advice.session.scenario.path, scenario, sizeof scenario);
    hp_result result =
        hp_bench_log_path(w->advice.session.scenario.path, NULL, usual, sizeof usual, err);
    if (result != HP_OK)
        return result;
    if (chosen && strcmp(usual, hp_case_log(w->advice.bench)->path) != 0)
        snprintf(log, sizeof log, " --log %s",
                 file_word(hp_case_log(w->advice.bench)->path, name, sizeof name));
    snprintf(w->add, sizeof w->add, "hubphase log %s%s", scenario, log);
    snprintf(w->ask, sizeof w->ask, "hubphase next %s%s", scenario, log);
    return HP_OK;
}

/* ---- the page -------------------------------------------------------------------------------- */

static hp_result survey(work *w, hp_error *err)
{
    const hp_session *session = &w->advice.session;
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options survey_options = hp_session_survey_options(session, &bar);
    hp_result result = hp_survey_run(&session->scenario.drive, &survey_options, &w->survey, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result prepare(work *w, const choices *choice, hp_error *err)
{
    const hp_advice_session *advice = &w->advice;
    hp_plan_tree_options tree = hp_plan_tree_options_default();
    tree.least_showing = LEAST_SHOWING;
    tree.least_reached = 1.0 / choice->one_in;
    tree.nodes_max = NODES_MAX;
    if (!advice->session.choice.quiet)
        hp_terminal_line(stderr, "%s: working the plan out", advice->session.command);
    hp_result result = name_commands(w, choice->advice.log, err);
    if (result == HP_OK)
        result = write_log(w, err);
    if (result == HP_OK)
        result = hp_plan_tree_build(advice->bench->planner, &advice->bench->belief, &tree, &w->tree,
                                    err);
    if (result == HP_OK)
        result = survey(w, err);
    int different = hp_alike_numbers(&advice->session.scenario.drive.controller.table, w->first);
    return result == HP_OK ? draw_pictures(w, different, err) : result;
}

static hp_result write_page(work *w, FILE *out, hp_error *err)
{
    hp_bench_page page = {
        .subject = hp_report_case_of(&w->advice.session.scenario),
        .words = hp_case_card_context(w->advice.bench),
        .tree = &w->tree,
        .entry = w->advice.bench->belief.entry,
        .entries = w->advice.bench->belief.entries,
        .log = {.text = w->log_text,
                .name = without_folder(hp_case_log(w->advice.bench)->path),
                .add = w->add,
                .ask = w->ask,
                .entry_text = entry_text,
                .user = w},
        .survey = &w->survey,
        .first = w->first,
        .pictures = w->picture,
    };
    return hp_bench_page_write(&page, out, err);
}

static void release(work *w)
{
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        free(w->picture[k].waves);
        free(w->picture[k].lead);
    }
    free(w->log_text);
    hp_survey_free(&w->survey);
    hp_plan_tree_free(&w->tree);
}

int hp_command_page(int argc, char **argv)
{
    work w;
    choices choice = {.advice = hp_advice_choice_default(), .one_in = ONE_IN_USUAL};
    hp_output output;
    hp_error err = hp_error_none();
    memset(&w, 0, sizeof w);
    memset(&output, 0, sizeof output);
    hp_options_parse(&argp, argc, argv, &choice);
    hp_exit status = hp_advice_session_open(&w.advice, argv[0], &choice.advice);
    if (status != HP_EXIT_FINE)
        return status;
    hp_result result = hp_session_report_open(&w.advice.session, &output, choice.output, &err);
    if (result == HP_OK)
        result = prepare(&w, &choice, &err);
    if (result == HP_OK)
        result = hp_output_finish(&output, write_page(&w, output.file, &err), &err);
    if (result != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_output_discard(&output);
    release(&w);
    hp_advice_session_close(&w.advice);
    return status;
}
