/* The page of a case from end to end: see the header. */
#include "hubphase/report/documents.h"

#include "decide/advise/plan_tree.h"
#include "decide/judge/alike.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/report/pictures.h"
#include "record/case/case_parts.h"
#include "report/page/bench_page.h"
#include "report/words/case_card.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Samples of a waveform picture: twice what its width shows. */
#define SAMPLES 2400
/* Chosen: a plan that a person walks through in an evening, made in half a minute. */
#define ONE_IN_USUAL 1000
/* Showings at a step that are less likely are not drawn as buttons. Chosen: one time in two hundred
 * still covers the parts that may be broken. */
#define LEAST_SHOWING 0.005
#define NODES_MAX     20000

struct hp_page {
    hp_case *subject; /* borrowed */
    hp_page_options options;
    hp_plan_tree tree;       /* owned */
    const hp_survey *survey; /* borrowed; NULL: not drawn yet */
    int first[HP_WIRING_COUNT];
    hp_bench_page_pictures picture[HP_WIRING_COUNT]; /* owned */
    char *log_text;                                  /* owned */
};

hp_page_options hp_page_options_default(void)
{
    return (hp_page_options){.one_in = ONE_IN_USUAL, .add = "", .ask = ""};
}

/* ---- pictures -------------------------------------------------------------------------------- */

/* One picture of one wiring, small enough for the page. */
static hp_result draw_small(const hp_page *page, const char *name, int number,
                            const hp_trace *trace, double start_angle, char **small, hp_error *err)
{
    const hp_scenario *scenario = page->subject->scenario;
    size_t size = 0;
    hp_picture_target to = {.bytes = small, .size = &size, .inset = true};
    hp_picture_subject subject = {.drive = &scenario->drive,
                                  .labels = &scenario->labels,
                                  .thresholds = hp_thresholds_default(),
                                  .survey = page->survey,
                                  .number = number,
                                  .judgement = &page->survey->judgement[number - 1],
                                  .trace = trace,
                                  .start_angle = start_angle};
    return hp_picture_make(hp_picture_find(name), &subject, &to, err);
}

/* Runs the wiring once more, now with a trace. None where every run broke off. */
static hp_result draw_waves(hp_page *page, hp_engine *engine, int number, hp_error *err)
{
    const hp_scenario *scenario = page->subject->scenario;
    hp_thresholds thresholds = hp_thresholds_default();
    const hp_figures *typical = hp_survey_typical_run(page->survey, number, &thresholds);
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
        result = draw_small(page, "waveforms", number, &trace, run.start_angle,
                            &page->picture[number - 1].waves, err);
    hp_trace_free(&trace);
    return result;
}

static hp_result draw_lead(hp_page *page, int number, hp_error *err)
{
    return draw_small(page, "lead-angle", number, NULL, NAN, &page->picture[number - 1].lead, err);
}

/* With a table that makes every wiring a machine of its own, waveforms of all would be too many
 * for one page. Chosen: the usual 12 different ones, twice. */
#define WAVES_MAX 24

static hp_result draw_pictures(hp_page *page, int different, hp_error *err)
{
    hp_engine *engine = hp_engine_create(err);
    if (!engine)
        return HP_FAIL_MEMORY;
    hp_result result = HP_OK;
    for (int n = 1; n <= HP_WIRING_COUNT && result == HP_OK; n++) {
        if (page->first[n - 1] != n)
            continue;
        if (different <= WAVES_MAX)
            result = draw_waves(page, engine, n, err);
        if (result == HP_OK)
            result = draw_lead(page, n, err);
    }
    hp_engine_free(engine);
    return result;
}

/* ---- the log --------------------------------------------------------------------------------- */

static char *entry_text(void *user, const hp_entry *entry)
{
    const hp_page *page = user;
    hp_bench_entry bench = hp_bench_entry_make(entry->reading);
    bench.entry = *entry;
    hp_entry_mark_typical(&bench.entry); /* nobody read them off a meter */
    snprintf(bench.time, sizeof bench.time, "%s", HP_BENCH_PAGE_TIME);
    return hp_bench_log_entry_text(&bench, &page->subject->scenario->labels);
}

/* Head and entries afresh, so that the page's entries fit behind them however the file is laid
 * out. */
static hp_result write_log(hp_page *page, hp_error *err)
{
    size_t size = 0;
    FILE *out = open_memstream(&page->log_text, &size);
    char *part = out ? hp_bench_log_head_text(page->subject->scenario) : NULL;
    bool fine = part != NULL;
    for (int k = 0; fine; k++) {
        fputs(part, out);
        free(part);
        part = NULL;
        if (k == page->subject->log.count)
            break;
        part =
            hp_bench_log_entry_text(&page->subject->log.entry[k], &page->subject->scenario->labels);
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

/* ---- the page -------------------------------------------------------------------------------- */

static hp_result work_out(hp_page *page, hp_error *err)
{
    hp_plan_tree_options tree = hp_plan_tree_options_default();
    tree.least_showing = LEAST_SHOWING;
    tree.least_reached = 1.0 / page->options.one_in;
    tree.nodes_max = NODES_MAX;
    hp_result result = write_log(page, err);
    if (result == HP_OK)
        result = hp_plan_tree_build(page->subject->planner, &page->subject->belief, &tree,
                                    &page->tree, err);
    return result;
}

hp_page *hp_page_create(hp_case *c, const hp_page_options *options, hp_error *err)
{
    if (options->one_in < 2 || options->one_in > HP_PAGE_ONE_IN_MAX) {
        hp_error_set(err, HP_FAIL_INPUT, "one_in of the page is %d, must be from 2 to %d",
                     options->one_in, HP_PAGE_ONE_IN_MAX);
        return NULL;
    }
    hp_page *page = calloc(1, sizeof *page);
    if (!page) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a page");
        return NULL;
    }
    page->subject = c;
    page->options = *options;
    if (work_out(page, err) != HP_OK) {
        hp_page_free(page);
        return NULL;
    }
    return page;
}

static void drop_pictures(hp_page *page)
{
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        free(page->picture[k].waves);
        free(page->picture[k].lead);
    }
    memset(page->picture, 0, sizeof page->picture);
}

hp_result hp_page_draw(hp_page *page, const hp_survey *survey, hp_error *err)
{
    drop_pictures(page);
    page->survey = survey;
    return draw_pictures(
        page, hp_alike_numbers(&page->subject->scenario->drive.controller.table, page->first), err);
}

static hp_bench_page content_of(hp_page *page)
{
    return (hp_bench_page){
        .subject = hp_report_case_of(page->subject->scenario),
        .words = hp_case_card_context(page->subject),
        .tree = &page->tree,
        .entry = page->subject->belief.entry,
        .entries = page->subject->belief.entries,
        .log = {.text = page->log_text,
                .name = without_folder(page->subject->log.path),
                .add = page->options.add,
                .ask = page->options.ask,
                .entry_text = entry_text,
                .user = page},
        .survey = page->survey,
        .first = page->first,
        .pictures = page->picture,
    };
}

hp_result hp_page_write(hp_page *page, FILE *out, hp_error *err)
{
    if (!page->survey)
        return hp_error_set(err, HP_FAIL_INPUT, "a page needs hp_page_draw before it is written");
    const hp_bench_page content = content_of(page);
    return hp_bench_page_write(&content, out, err);
}

hp_result hp_page_write_paper(hp_page *page, FILE *out, hp_error *err)
{
    const hp_bench_page content = content_of(page);
    return hp_bench_page_write_paper(&content, out, err);
}

void hp_page_free(hp_page *page)
{
    if (!page)
        return;
    drop_pictures(page);
    free(page->log_text);
    hp_plan_tree_free(&page->tree);
    free(page);
}
