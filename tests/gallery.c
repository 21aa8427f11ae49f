/*
 * Draws the pictures of plots/ from the scenarios:
 *
 *   make_gallery FOLDER SCENARIO...
 *
 * All pictures of the first scenario, and the map of every other. Names: STEM-PICTURE.svg, and the
 * first map as PNG too.
 */
#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/record/scenario.h"
#include "hubphase/report/pictures.h"
#include "report/picture/picture_lead.h"
#include "report/picture/picture_waveforms.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAMPLES 1200 /* of a waveform: two a unit of its width, about */
#define TURNS   2.0  /* electrical turns shown of a wiring that turns */
#define STILL_S 0.2  /* [s] shown of one that does not */
#define MOTORS  40   /* of a spread */

typedef struct gallery {
    const char *folder;
    char stem[80]; /* "barrow" of scenarios/barrow.yaml */
    hp_scenario scenario;
    hp_survey survey;
} gallery;

static const char *path_of(const gallery *g, const char *picture, hp_picture_format format)
{
    static char path[1024];
    snprintf(path, sizeof path, "%s/%s-%s.%s", g->folder, g->stem, picture,
             hp_picture_format_name(format));
    return path;
}

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

/* The last turns of a run from the first rest angle. */
static hp_result draw_waveforms(const gallery *g, hp_engine *engine, int number, hp_error *err)
{
    const hp_judgement *judgement = &g->survey.judgement[number - 1];
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_run_options run = g->scenario.run;
    hp_figures figures;
    char title[80], picture[80];
    double rate = fabs(judgement->mean.speed) * g->scenario.drive.motor.pole_pairs / HP_TWO_PI;
    bool turns = judgement->direction != HP_DIRECTION_NONE && rate > 0.0;
    double length = turns ? fmin(TURNS / rate, run.seconds) : fmin(STILL_S, run.seconds);
    hp_trace trace = hp_trace_init(run.seconds - length, run.seconds, length / SAMPLES);
    run.start_angle = hp_rest_angle(0);
    snprintf(title, sizeof title, "Waveforms of wiring %d: %s", number,
             hp_verdict_name(judgement->verdict));
    snprintf(picture, sizeof picture, "waveforms-%s", hp_verdict_name(judgement->verdict));
    hp_result result =
        hp_engine_run(engine, &g->scenario.drive, &wiring, &run, &trace, &figures, err);
    if (result == HP_OK)
        result = hp_picture_waveforms_draw(path_of(g, picture, HP_PICTURE_SVG), HP_PICTURE_SVG,
                                           &trace, &g->scenario.labels, title, err);
    hp_trace_free(&trace);
    return result;
}

/* Waveforms and dial of one wiring of each verdict. */
static hp_result draw_examples(const gallery *g, hp_error *err)
{
    static const hp_verdict verdict[] = {HP_VERDICT_CORRECT, HP_VERDICT_ROUGH, HP_VERDICT_STALLED};
    hp_engine *engine = hp_engine_create(err);
    hp_result result = engine ? HP_OK : HP_FAIL_MEMORY;
    for (size_t k = 0; k < sizeof verdict / sizeof verdict[0] && result == HP_OK; k++) {
        int number = find_verdict(g, verdict[k]);
        char picture[40];
        if (number == 0)
            continue;
        hp_wiring wiring = hp_wiring_from_number(number);
        snprintf(picture, sizeof picture, "lead-%s", hp_verdict_name(verdict[k]));
        result = draw_waveforms(g, engine, number, err);
        if (result == HP_OK)
            result = hp_picture_lead_wiring_draw(
                path_of(g, picture, HP_PICTURE_SVG), HP_PICTURE_SVG, &g->scenario.drive, &wiring,
                &g->survey.judgement[number - 1], &g->scenario.labels, err);
    }
    hp_engine_free(engine);
    return result;
}

static hp_result draw_map(const gallery *g, hp_picture_format format, hp_error *err)
{
    return hp_picture_map_draw(path_of(g, "map", format), format, &g->survey, &g->scenario.labels,
                               err);
}

static hp_result draw_spread(const gallery *g, hp_error *err)
{
    static hp_spread spread;
    hp_spread_options options = hp_spread_options_default();
    double calm = options.run.calm_share;
    options.run = g->scenario.run;
    options.run.calm_share = calm;
    options.plan = g->scenario.spread;
    options.plan.motors = MOTORS;
    options.starts = g->scenario.starts;
    hp_result result = hp_spread_run(&g->scenario.drive, &options, &spread, err);
    if (result == HP_OK)
        result = hp_picture_spread_map_draw(path_of(g, "spread-map", HP_PICTURE_SVG),
                                            HP_PICTURE_SVG, &spread, &g->scenario.labels, err);
    if (result == HP_OK)
        result = hp_picture_spread_bands_draw(path_of(g, "spread-bands", HP_PICTURE_SVG),
                                              HP_PICTURE_SVG, &spread, &g->scenario.labels, err);
    return result;
}

static hp_result draw_all(const gallery *g, hp_error *err)
{
    hp_thresholds thresholds = hp_thresholds_default();
    hp_wiring straight = hp_wiring_from_number(1);
    const hp_drive *drive = &g->scenario.drive;
    const hp_labels *labels = &g->scenario.labels;
    hp_result result = draw_map(g, HP_PICTURE_PNG, err);
    if (result == HP_OK)
        result = hp_picture_classes_draw(path_of(g, "classes", HP_PICTURE_SVG), HP_PICTURE_SVG,
                                         &g->survey, &thresholds, labels, err);
    if (result == HP_OK)
        result = hp_picture_lead_draw(path_of(g, "lead", HP_PICTURE_SVG), HP_PICTURE_SVG, drive,
                                      &g->survey, labels, err);
    if (result == HP_OK)
        result = hp_picture_steps_draw(path_of(g, "steps", HP_PICTURE_SVG), HP_PICTURE_SVG, drive,
                                       &straight, labels, err);
    if (result == HP_OK)
        result = draw_spread(g, err);
    return result == HP_OK ? draw_examples(g, err) : result;
}

static hp_result draw_scenario(const char *folder, const char *file, bool all, hp_error *err)
{
    gallery g = {.folder = folder};
    hp_result result = hp_scenario_load(file, &g.scenario, stderr, err);
    if (result != HP_OK)
        return result;
    hp_survey_options options = hp_survey_options_default();
    options.run = g.scenario.run;
    options.starts = g.scenario.starts;
    put_stem(&g, file);
    result = hp_survey_run(&g.scenario.drive, &options, &g.survey, err);
    if (result == HP_OK)
        result = draw_map(&g, HP_PICTURE_SVG, err);
    if (result == HP_OK && all)
        result = draw_all(&g, err);
    hp_survey_free(&g.survey);
    hp_scenario_free(&g.scenario);
    return result;
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fprintf(stderr, "usage: make_gallery FOLDER SCENARIO...\n");
        return EXIT_FAILURE;
    }
    for (int k = 2; k < argc; k++) {
        hp_error err = hp_error_none();
        if (draw_scenario(argv[1], argv[k], k == 2, &err) != HP_OK) {
            fprintf(stderr, "make_gallery: %s: %s\n", argv[k], err.text);
            return EXIT_FAILURE;
        }
    }
    return EXIT_SUCCESS;
}
