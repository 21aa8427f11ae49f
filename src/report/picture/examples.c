/* One run of a wiring of each kind, for pictures beside one another: see
 * hubphase/report/pictures.h.
 */
#include "hubphase/report/pictures.h"

#include <math.h>
#include <string.h>

#define SAMPLES 1600 /* two a unit of the widest column, and spare */
#define TURNS                                                                                      \
    2.0             /* electrical turns of the smooth wiring that are shown. Chosen to be readable \
                     */
#define STILL_S 0.1 /* shown where nothing is smooth */
#define LEAST_S 0.005

/* Time shown of every kind alike. */
static double length_shown(const hp_drive *drive, const hp_run_options *run,
                           const hp_survey *survey)
{
    int smooth = hp_picture_example(survey, HP_EXAMPLE_SMOOTH);
    double speed = smooth ? fabs(survey->judgement[smooth - 1].mean.speed) : 0.0;
    double rate = speed * drive->motor.pole_pairs / HP_TWO_PI;
    return fmin(fmax(rate > 0.0 ? TURNS / rate : STILL_S, LEAST_S), run->seconds);
}

/* The kind that a wiring stands for; HP_EXAMPLE_COUNT: none. */
static int kind_of(const hp_judgement *j)
{
    switch (j->verdict) {
    case HP_VERDICT_CORRECT:
    case HP_VERDICT_REVERSE: return HP_EXAMPLE_SMOOTH;
    case HP_VERDICT_ROUGH:
        return j->kind == HP_KIND_EARLY  ? HP_EXAMPLE_EARLY
               : j->kind == HP_KIND_LATE ? HP_EXAMPLE_LATE
                                         : HP_EXAMPLE_OTHER;
    case HP_VERDICT_STALLED: return HP_EXAMPLE_OPPOSED;
    default: return HP_EXAMPLE_COUNT;
    }
}

static hp_result run_one(hp_engine *engine, const hp_drive *drive, const hp_run_options *options,
                         const hp_survey *survey, double length, hp_example *example, hp_error *err)
{
    hp_run_options run = *options;
    hp_wiring wiring = hp_wiring_from_number(example->number);
    hp_figures figures;
    hp_error broken = hp_error_none();
    hp_thresholds thresholds = hp_thresholds_default();
    const hp_figures *typical = hp_survey_typical_run(survey, example->number, &thresholds);
    if (!typical)
        return HP_OK;
    run.start_angle = typical->start_angle;
    run.calm_share = 0.0;
    example->trace = hp_trace_init(run.seconds - length, run.seconds, length / SAMPLES);
    hp_result result =
        hp_engine_run(engine, drive, &wiring, &run, &example->trace, &figures, &broken);
    if (result == HP_FAIL_MEMORY) {
        if (err)
            *err = broken;
        return result;
    }
    if (result != HP_OK || example->trace.count < 2)
        hp_trace_free(&example->trace);
    return HP_OK;
}

hp_result hp_examples_run(const hp_drive *drive, const hp_run_options *run, const hp_survey *survey,
                          int number, hp_example example[HP_EXAMPLE_COUNT], hp_error *err)
{
    double length = length_shown(drive, run, survey);
    memset(example, 0, HP_EXAMPLE_COUNT * sizeof example[0]);
    hp_engine *engine = hp_engine_create(err);
    if (!engine)
        return HP_FAIL_MEMORY;
    hp_result result = HP_OK;
    for (int k = 0; k < HP_EXAMPLE_COUNT && result == HP_OK; k++) {
        hp_example *e = &example[k];
        bool own = number > 0 && kind_of(&survey->judgement[number - 1]) == k;
        e->number = own ? number : hp_picture_example(survey, (hp_example_kind)k);
        if (!e->number)
            continue;
        e->judgement = survey->judgement[e->number - 1];
        result = run_one(engine, drive, run, survey, length, e, err);
    }
    hp_engine_free(engine);
    return result;
}

void hp_examples_free(hp_example example[HP_EXAMPLE_COUNT])
{
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++)
        hp_trace_free(&example[k].trace);
}
