/* Survey of the 36 wirings: see the header. */
#include "decide/judge/survey_runs.h"

#include "sim/pool.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

hp_survey_options hp_survey_options_default(void)
{
    hp_run_options run = hp_run_options_default();
    run.calm_share = HP_SURVEY_CALM_SHARE;
    return (hp_survey_options){
        .run = run,
        .thresholds = hp_thresholds_default(),
        .starts = 7,
        .jobs = 0,
    };
}

/* What the tasks of a survey share; each writes its own slot of run[]. */
typedef struct batch {
    const hp_drive *drive;
    const hp_survey_options *options;
    const hp_wiring *wiring; /* borrowed array */
    hp_figures *run;         /* borrowed, wiring-major */
} batch;

static void run_task(void *user, hp_engine *engine, int task)
{
    batch *b = user;
    int starts = b->options->starts;
    hp_run_options options = b->options->run;
    options.start_angle = hp_angle_wrap(hp_rest_angle(task % starts) + b->options->rest_rad);
    /* A run that breaks off says so in its figures. */
    hp_engine_run(engine, b->drive, &b->wiring[task / starts], &options, NULL, &b->run[task], NULL);
}

hp_result hp_survey_runs(const hp_drive *drive, const hp_survey_options *options,
                         const hp_wiring *wiring, int count, hp_figures *run, hp_error *err)
{
    batch b = {.drive = drive, .options = options, .wiring = wiring, .run = run};
    return hp_pool_run(count * options->starts, options->jobs, run_task, &b, options->progress,
                       options->user, err);
}

hp_result hp_survey_options_check(const hp_survey_options *options, hp_error *err)
{
    if (options->starts < 1 || options->starts > HP_SURVEY_STARTS_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "run.starts is %d, must be 1 to %d",
                            options->starts, HP_SURVEY_STARTS_MAX);
    if (options->jobs < 0 || options->jobs > HP_JOBS_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "jobs is %d, must be 0 to %d", options->jobs,
                            HP_JOBS_MAX);
    return hp_run_options_check(&options->run, err);
}

static hp_result check_options(const hp_drive *drive, const hp_survey_options *options,
                               hp_error *err)
{
    hp_result result = hp_survey_options_check(options, err);
    return result == HP_OK ? hp_drive_check(drive, err) : result;
}

/* Mean speed of the wirings judged smooth, else what the label promises. */
static double smooth_speed_of(const hp_drive *drive, const hp_judgement *judgement)
{
    double sum = 0.0;
    int count = 0;
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        if (judgement[k].verdict != HP_VERDICT_CORRECT &&
            judgement[k].verdict != HP_VERDICT_REVERSE)
            continue;
        sum += fabs(judgement[k].mean.speed);
        count++;
    }
    return count > 0 ? sum / count : hp_drive_ideal_speed(drive);
}

hp_result hp_survey_run(const hp_drive *drive, const hp_survey_options *options, hp_survey *survey,
                        hp_error *err)
{
    memset(survey, 0, sizeof *survey);
    hp_result result = check_options(drive, options, err);
    if (result != HP_OK)
        return result;
    survey->starts = options->starts;
    survey->run = calloc((size_t)(HP_WIRING_COUNT * options->starts), sizeof *survey->run);
    if (!survey->run)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a survey");

    hp_wiring wiring[HP_WIRING_COUNT];
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        wiring[k] = hp_wiring_from_number(k + 1);
    result = hp_survey_runs(drive, options, wiring, HP_WIRING_COUNT, survey->run, err);
    if (result != HP_OK) {
        hp_survey_free(survey);
        return result;
    }
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        survey->judgement[k] = hp_verdict_judge(&survey->run[k * options->starts], options->starts,
                                                &options->thresholds);
    hp_verdict_compare(survey->judgement, HP_WIRING_COUNT, &options->thresholds);
    survey->smooth_speed = smooth_speed_of(drive, survey->judgement);
    return HP_OK;
}

hp_result hp_survey_copy(const hp_survey *from, hp_survey *to, hp_error *err)
{
    size_t size = (size_t)(HP_WIRING_COUNT * from->starts) * sizeof *from->run;
    hp_figures *run = malloc(size);
    if (!run)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a survey");
    memcpy(run, from->run, size);
    *to = *from;
    to->run = run;
    return HP_OK;
}

void hp_survey_free(hp_survey *survey)
{
    if (!survey)
        return;
    free(survey->run);
    memset(survey, 0, sizeof *survey);
}

const hp_figures *hp_survey_typical_run(const hp_survey *survey, int number,
                                        const hp_thresholds *thresholds)
{
    const hp_figures *run = &survey->run[(number - 1) * survey->starts];
    const hp_judgement *j = &survey->judgement[number - 1];
    bool stalled = hp_verdict_few_starts(j->starts, j->starts_tried, thresholds);
    for (int k = 0; k < survey->starts; k++)
        if (run[k].status == HP_OK && hp_verdict_turned(&run[k], thresholds) != stalled)
            return &run[k];
    return NULL;
}

/* Only the others tell whether a wiring that passes by itself is the best of those that turn its
 * way. */
static bool is_comparable(const hp_judgement *j)
{
    return j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
}

hp_result hp_survey_one(const hp_drive *drive, const hp_wiring *wiring,
                        const hp_survey_options *options, hp_judgement *judgement, hp_error *err)
{
    hp_result result = check_options(drive, options, err);
    if (result != HP_OK)
        return result;
    hp_figures *run = calloc((size_t)options->starts, sizeof *run);
    if (!run)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a survey");
    result = hp_survey_runs(drive, options, wiring, 1, run, err);
    if (result == HP_OK)
        *judgement = hp_verdict_judge(run, options->starts, &options->thresholds);
    free(run);
    if (result != HP_OK || !is_comparable(judgement))
        return result;
    hp_survey survey;
    result = hp_survey_run(drive, options, &survey, err);
    if (result == HP_OK)
        *judgement = survey.judgement[hp_wiring_number(wiring) - 1];
    hp_survey_free(&survey);
    return result;
}

int hp_survey_first_correct(const hp_survey *survey)
{
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (survey->judgement[n - 1].verdict == HP_VERDICT_CORRECT)
            return n;
    return 0;
}
