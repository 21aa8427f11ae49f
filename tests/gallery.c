/*
 * Draws the pictures of plots/ from the scenarios, and the list of them:
 *
 *   make_gallery FOLDER SCENARIO...
 *
 * All pictures of the first scenario, and the map of every other. Names: STEM-PICTURE.svg; those of
 * one wiring end in its verdict, those of a step in the step. README.md begins as it was, up to the
 * line of the table's head.
 */
#include "decide/reading/reading_list.h"
#include "hubphase/decide/fit.h"
#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/record/scenario.h"
#include "hubphase/report/pictures.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAMPLES 1200 /* of a waveform: two a unit of its width, about */
#define TURNS   3.0  /* electrical turns shown of a wiring that turns */
#define STILL_S 0.2  /* [s] shown of one that does not */
#define MOTORS  40   /* of a spread */

typedef struct gallery {
    const char *folder;
    char stem[80]; /* "barrow" of scenarios/barrow.yaml */
    FILE *list;    /* README.md; NULL: none is written */
    hp_scenario scenario;
    hp_survey survey;
    hp_picture_subject subject;
} gallery;

static void put_stem(gallery *g, const char *file)
{
    const char *slash = strrchr(file, '/'), *name = slash ? slash + 1 : file;
    snprintf(g->stem, sizeof g->stem, "%.*s", (int)strcspn(name, "."), name);
}

/* Number of the first wiring with this verdict, 0 when there is none. */
static int find_verdict(const gallery *g, hp_verdict verdict)
{
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (g->survey.judgement[n - 1].verdict == verdict)
            return n;
    return 0;
}

/* One picture of the subject; `ending` of its name, "" or "-rough". */
static hp_result draw(const gallery *g, const hp_picture *picture, const char *ending,
                      hp_picture_format format, hp_shape shape, hp_error *err)
{
    char path[1024], name[120];
    snprintf(name, sizeof name, "%s-%s%s", g->stem, picture->name, ending);
    snprintf(path, sizeof path, "%s/%s.%s", g->folder, name, hp_picture_format_name(format));
    hp_picture_target to = {.format = format, .shape = shape, .path = path};
    hp_result result = hp_picture_make(picture, &g->subject, &to, err);
    if (result == HP_OK && g->list)
        fprintf(g->list, "| `%s.%s` | %s |\n", name, hp_picture_format_name(format),
                picture->question);
    return result;
}

/* The subject becomes one of this wiring. */
static void take_wiring(gallery *g, int number)
{
    g->subject.number = number;
    g->subject.judgement = &g->survey.judgement[number - 1];
}

/* The last turns of a run from the first start position, on the subject. */
static hp_result run_trace(gallery *g, hp_engine *engine, hp_trace *trace, hp_error *err)
{
    const hp_judgement *judgement = g->subject.judgement;
    hp_wiring wiring = hp_wiring_from_number(g->subject.number);
    hp_run_options run = g->scenario.run;
    hp_figures figures;
    double rate = fabs(judgement->mean.speed) * g->scenario.drive.motor.pole_pairs / HP_TWO_PI;
    bool turns = judgement->direction != HP_DIRECTION_NONE && rate > 0.0;
    double length = turns ? fmin(TURNS / rate, run.seconds) : fmin(STILL_S, run.seconds);
    *trace = hp_trace_init(run.seconds - length, run.seconds, length / SAMPLES);
    run.start_angle = hp_rest_angle(0);
    g->subject.trace = trace;
    g->subject.start_angle = run.start_angle;
    return hp_engine_run(engine, &g->scenario.drive, &wiring, &run, trace, &figures, err);
}

/* A picture of one wiring, for one wiring of each verdict. */
static hp_result draw_examples(gallery *g, hp_engine *engine, const hp_picture *picture,
                               hp_error *err)
{
    static const hp_verdict verdict[] = {HP_VERDICT_CORRECT, HP_VERDICT_ROUGH, HP_VERDICT_STALLED};
    hp_result result = HP_OK;
    for (size_t k = 0; k < sizeof verdict / sizeof verdict[0] && result == HP_OK; k++) {
        hp_trace trace = {0};
        char ending[40];
        int number = find_verdict(g, verdict[k]);
        if (number == 0)
            continue;
        take_wiring(g, number);
        if (picture->needs & HP_NEEDS_TRACE)
            result = run_trace(g, engine, &trace, err);
        snprintf(ending, sizeof ending, "-%s", hp_verdict_name(verdict[k]));
        if (result == HP_OK)
            result = draw(g, picture, ending, HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
        hp_trace_free(&trace);
        g->subject.trace = NULL;
    }
    return result;
}

/* How every step of the advice is connected. */
static hp_result draw_connections(gallery *g, const hp_picture *picture, hp_error *err)
{
    static const struct {
        const hp_reading *kind;
        const char *ending;
    } step[] = {
        {&hp_reading_pins, "-pins"},      {&hp_reading_supply, "-supply"},
        {&hp_reading_hand_turn, "-turn"}, {&hp_reading_winding, "-winding"},
        {&hp_reading_spin, "-spin"},      {&hp_reading_park, "-park"},
        {&hp_reading_probe, "-probe"},    {&hp_reading_trial, "-first-power"},
    };
    int number = find_verdict(g, HP_VERDICT_CORRECT);
    hp_advice advice = {.lead = HP_V, .number = number ? number : 1};
    hp_result result = HP_OK;
    advice.wiring = hp_wiring_from_number(advice.number);
    g->subject.advice = &advice;
    for (size_t k = 0; k < sizeof step / sizeof step[0] && result == HP_OK; k++) {
        bool trial = step[k].kind == &hp_reading_trial;
        advice.kind = trial ? HP_ADVICE_TRY : HP_ADVICE_READ;
        advice.limited = trial; /* the first one; how far a limit goes follows from a log */
        advice.reading = step[k].kind;
        result = draw(g, picture, step[k].ending, HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
    }
    g->subject.advice = NULL;
    return result;
}

static hp_result make_spread(const gallery *g, hp_spread *spread, hp_error *err)
{
    hp_spread_options options = hp_spread_options_default();
    double calm = options.survey.run.calm_share;
    options.survey.run = g->scenario.run;
    options.survey.run.calm_share = calm;
    options.plan = g->scenario.spread;
    options.plan.motors = MOTORS;
    options.survey.starts = g->scenario.starts;
    return hp_spread_run(&g->scenario.drive, &options, spread, err);
}

/* The plug as the bench log beside the scenario notes it. */
static hp_result draw_plug(gallery *g, const hp_picture *picture, hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    hp_bench_log log = {0};
    hp_result result = hp_bench_log_path(g->scenario.path, NULL, path, sizeof path, err);
    if (result == HP_OK)
        result = hp_bench_log_load(path, &g->scenario, &log, stderr, err);
    g->subject.plug = hp_bench_log_plug(&log);
    if (result == HP_OK)
        result = draw(g, picture, "", HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
    g->subject.plug = NULL;
    hp_bench_log_free(&log);
    return result;
}

/* A brake switch of the other sort, on the scenario's controls. */
static hp_result draw_course(gallery *g, const hp_picture *picture, hp_error *err)
{
    hp_course_run run;
    hp_wiring wiring = hp_wiring_from_number(hp_picture_example(&g->survey, HP_EXAMPLE_SMOOTH));
    g->subject.controls = &g->scenario.controls;
    hp_what_if_result what_if;
    hp_result result = hp_what_if_run(&g->scenario.drive, &wiring, g->subject.controls,
                                      HP_WHAT_IF_BRAKE_SORT, &what_if, &run, err);
    if (result != HP_OK)
        return result;
    g->subject.course = &run;
    g->subject.what_if = &what_if;
    g->subject.number = hp_wiring_number(&wiring);
    result = draw(g, picture, "", HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
    g->subject.course = NULL;
    g->subject.what_if = NULL;
    g->subject.number = 0;
    hp_course_run_free(&run);
    return result;
}

/* Of the whole machine on the road. */
static hp_result draw_fit(gallery *g, const hp_picture *picture, hp_error *err)
{
    static hp_fit fit;
    hp_fit_given given = hp_scenario_fit_given(&g->scenario);
    hp_result result = hp_fit_run(&given, &fit, err);
    g->subject.fit = &fit;
    g->subject.vehicle = &g->scenario.vehicle;
    if (result == HP_OK)
        result = draw(g, picture, "", HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
    g->subject.fit = NULL;
    return result;
}

static hp_result draw_picture(gallery *g, hp_engine *engine, const hp_picture *picture,
                              hp_error *err)
{
    if (picture->needs & HP_NEEDS_FIT)
        return draw_fit(g, picture, err);
    if (picture->needs & HP_NEEDS_PLUG)
        return draw_plug(g, picture, err);
    if (picture->needs & HP_NEEDS_COURSE)
        return draw_course(g, picture, err);
    if (picture->needs & HP_NEEDS_STEP)
        return draw_connections(g, picture, err);
    if (picture->needs & (HP_NEEDS_NUMBER | HP_NEEDS_TRACE))
        return draw_examples(g, engine, picture, err);
    return draw(g, picture, "", HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
}

/* Every picture, and a few in the other shapes. */
static hp_result draw_all(gallery *g, hp_error *err)
{
    static hp_spread spread;
    hp_example example[HP_EXAMPLE_COUNT] = {0};
    const hp_picture *map = hp_picture_find("map");
    hp_engine *engine = hp_engine_create(err);
    hp_result result = engine ? make_spread(g, &spread, err) : HP_FAIL_MEMORY;
    g->subject.spread = &spread;
    g->subject.example = example;
    if (result == HP_OK)
        result = hp_examples_run(&g->scenario.drive, &g->scenario.run, &g->survey, 0, example, err);
    for (int k = 0; k < hp_picture_count && result == HP_OK; k++)
        result = draw_picture(g, engine, hp_pictures[k], err);
    if (result == HP_OK)
        result = draw(g, map, "", HP_PICTURE_PNG, HP_SHAPE_PHONE, err);
    if (result == HP_OK)
        result = draw(g, map, "-wall", HP_PICTURE_SVG, HP_SHAPE_WALL, err);
    if (result == HP_OK)
        result = draw(g, hp_picture_find("beside"), "-wall", HP_PICTURE_SVG, HP_SHAPE_WALL, err);
    hp_examples_free(example);
    hp_engine_free(engine);
    return result;
}

static hp_result draw_scenario(const char *folder, const char *file, FILE *list, bool all,
                               hp_error *err)
{
    gallery g = {.folder = folder, .list = list};
    hp_result result = hp_scenario_load(file, &g.scenario, stderr, err);
    if (result != HP_OK)
        return result;
    hp_survey_options options = hp_survey_options_default();
    options.run = g.scenario.run;
    options.starts = g.scenario.starts;
    put_stem(&g, file);
    result = hp_survey_run(&g.scenario.drive, &options, &g.survey, err);
    g.subject = (hp_picture_subject){.drive = &g.scenario.drive,
                                     .labels = &g.scenario.labels,
                                     .harness = &g.scenario.harness,
                                     .thresholds = options.thresholds,
                                     .survey = &g.survey,
                                     .start_angle = NAN};
    if (result == HP_OK && all)
        result = draw_all(&g, err);
    else if (result == HP_OK)
        result = draw(&g, hp_picture_find("map"), "", HP_PICTURE_SVG, HP_SHAPE_PHONE, err);
    hp_survey_free(&g.survey);
    hp_scenario_free(&g.scenario);
    return result;
}

/* Opens README.md behind its words, which end with the table's head. */
static FILE *open_list(const char *folder)
{
    static const char head[] = "|---|---|\n";
    char path[1024], text[8192];
    snprintf(path, sizeof path, "%s/README.md", folder);
    FILE *list = fopen(path, "r+");
    if (!list)
        return NULL;
    size_t size = fread(text, 1, sizeof text - 1, list);
    text[size] = '\0';
    const char *table = strstr(text, head);
    fclose(list);
    if (!table)
        return NULL;
    list = fopen(path, "w");
    if (list)
        fwrite(text, 1, (size_t)(table - text) + strlen(head), list);
    return list;
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fprintf(stderr, "usage: make_gallery FOLDER SCENARIO...\n");
        return EXIT_FAILURE;
    }
    FILE *list = open_list(argv[1]);
    for (int k = 2; k < argc; k++) {
        hp_error err = hp_error_none();
        if (draw_scenario(argv[1], argv[k], list, k == 2, &err) != HP_OK) {
            fprintf(stderr, "make_gallery: %s: %s\n", argv[k], err.text);
            return EXIT_FAILURE;
        }
    }
    return list && fclose(list) != 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
