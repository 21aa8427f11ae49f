/*
 * Survey of the 36 wirings. Runs are independent tasks with a slot of their own for the result, so
 * the number of threads cannot show in it.
 */
#include "hubphase/decide/survey.h"

#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define JOBS_MAX 256

hp_survey_options hp_survey_options_default(void)
{
    return (hp_survey_options){
        .run = hp_run_options_default(),
        .thresholds = hp_thresholds_default(),
        .starts = 7,
        .jobs = 0,
    };
}

/* What the workers share. */
typedef struct crew {
    const hp_drive *drive;
    const hp_survey_options *options;
    const hp_wiring *wiring; /* borrowed array */
    hp_figures *run;         /* borrowed, wiring-major */
    int task_count;
    int next_task;    /* under lock */
    int done;         /* under lock */
    hp_result result; /* first failure that is not a run's own; under lock */
    hp_error error;
    pthread_mutex_t lock;
} crew;

/* Hands out the next task, or -1. */
static int take_task(crew *c)
{
    pthread_mutex_lock(&c->lock);
    int task = c->result == HP_OK && c->next_task < c->task_count ? c->next_task++ : -1;
    pthread_mutex_unlock(&c->lock);
    return task;
}

static void finish_task(crew *c)
{
    pthread_mutex_lock(&c->lock);
    c->done++;
    if (c->options->progress && c->result == HP_OK &&
        c->options->progress(c->options->user, c->done, c->task_count) != 0)
        c->result = hp_error_set(&c->error, HP_FAIL_CANCELLED, "stopped after %d of %d runs",
                                 c->done, c->task_count);
    pthread_mutex_unlock(&c->lock);
}

static void *work(void *argument)
{
    crew *c = argument;
    hp_error error = hp_error_none();
    hp_engine *engine = hp_engine_create(&error);
    if (!engine) {
        pthread_mutex_lock(&c->lock);
        c->result = error.code;
        c->error = error;
        pthread_mutex_unlock(&c->lock);
        return NULL;
    }
    for (int task; (task = take_task(c)) >= 0; finish_task(c)) {
        hp_run_options options = c->options->run;
        options.start_angle = hp_rest_angle(task % c->options->starts);
        hp_engine_run(engine, c->drive, &c->wiring[task / c->options->starts], &options, NULL,
                      &c->run[task], NULL);
    }
    hp_engine_free(engine);
    return NULL;
}

static int job_count(int wanted, int tasks)
{
    long jobs = wanted > 0 ? wanted : sysconf(_SC_NPROCESSORS_ONLN);
    if (jobs < 1)
        jobs = 1;
    if (jobs > JOBS_MAX)
        jobs = JOBS_MAX;
    return jobs < tasks ? (int)jobs : tasks;
}

/* Runs every rest angle of `count` wirings into run[]. */
static hp_result run_all(const hp_drive *drive, const hp_survey_options *options,
                         const hp_wiring *wiring, int count, hp_figures *run, hp_error *err)
{
    crew c = {.drive = drive,
              .options = options,
              .wiring = wiring,
              .run = run,
              .task_count = count * options->starts,
              .lock = PTHREAD_MUTEX_INITIALIZER};
    pthread_t thread[JOBS_MAX];
    int jobs = job_count(options->jobs, c.task_count), started = 0;
    /* The calling thread is one of the workers, so a machine that gives no threads still works. */
    while (started < jobs - 1 && pthread_create(&thread[started], NULL, work, &c) == 0)
        started++;
    work(&c);
    for (int k = 0; k < started; k++)
        pthread_join(thread[k], NULL);
    pthread_mutex_destroy(&c.lock);
    if (c.result != HP_OK)
        return hp_error_set(err, c.result, "%s", c.error.text);
    return HP_OK;
}

static hp_result check_options(const hp_drive *drive, const hp_survey_options *options,
                               hp_error *err)
{
    if (options->starts < 1 || options->starts > 1000)
        return hp_error_set(err, HP_FAIL_INPUT, "run.starts is %d, must be 1 to 1000",
                            options->starts);
    if (options->jobs < 0 || options->jobs > JOBS_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "jobs is %d, must be 0 to %d", options->jobs,
                            JOBS_MAX);
    hp_result result = hp_run_options_check(&options->run, err);
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
    result = run_all(drive, options, wiring, HP_WIRING_COUNT, survey->run, err);
    if (result != HP_OK) {
        hp_survey_free(survey);
        return result;
    }
    /* Twice: early and late are told against the speed of the smooth ones. */
    for (int pass = 0; pass < 2; pass++) {
        for (int k = 0; k < HP_WIRING_COUNT; k++)
            survey->judgement[k] =
                hp_verdict_judge(&survey->run[k * options->starts], options->starts,
                                 survey->smooth_speed, &options->thresholds);
        survey->smooth_speed = smooth_speed_of(drive, survey->judgement);
    }
    return HP_OK;
}

void hp_survey_free(hp_survey *survey)
{
    if (!survey)
        return;
    free(survey->run);
    memset(survey, 0, sizeof *survey);
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
    result = run_all(drive, options, wiring, 1, run, err);
    if (result == HP_OK)
        *judgement = hp_verdict_judge(run, options->starts, hp_drive_ideal_speed(drive),
                                      &options->thresholds);
    free(run);
    return result;
}
