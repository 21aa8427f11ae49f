/* A crew of threads: see the header. */
#include "sim/pool.h"

#include "sim/run_clock.h"

#include <pthread.h>
#include <unistd.h>

/* What the workers share; everything that changes is under the lock. */
typedef struct crew {
    hp_task task;
    void *task_user;
    hp_progress progress;
    void *progress_user;
    int count;
    int next;
    int done;
    hp_result result;
    hp_error error;
    pthread_mutex_t lock;
} crew;

/* Hands out the next task, or -1. */
static int take_task(crew *c)
{
    pthread_mutex_lock(&c->lock);
    int task = c->result == HP_OK && c->next < c->count ? c->next++ : -1;
    pthread_mutex_unlock(&c->lock);
    return task;
}

static void finish_task(crew *c, const hp_engine *engine)
{
    pthread_mutex_lock(&c->lock);
    c->done++;
    if (engine->starved)
        c->result = hp_error_set(&c->error, HP_FAIL_MEMORY, "no memory for a run");
    else if (c->progress && c->result == HP_OK &&
             c->progress(c->progress_user, c->done, c->count) != 0)
        c->result = hp_error_set(&c->error, HP_FAIL_CANCELLED, "stopped after %d of %d runs",
                                 c->done, c->count);
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
    for (int task; (task = take_task(c)) >= 0; finish_task(c, engine))
        c->task(c->task_user, engine, task);
    hp_engine_free(engine);
    return NULL;
}

static int thread_count(int wanted, int tasks)
{
    long jobs = wanted > 0 ? wanted : sysconf(_SC_NPROCESSORS_ONLN);
    if (jobs < 1)
        jobs = 1;
    if (jobs > HP_JOBS_MAX)
        jobs = HP_JOBS_MAX;
    return jobs < tasks ? (int)jobs : tasks;
}

hp_result hp_pool_run(int count, int jobs, hp_task task, void *task_user, hp_progress progress,
                      void *progress_user, hp_error *err)
{
    crew c = {.task = task,
              .task_user = task_user,
              .progress = progress,
              .progress_user = progress_user,
              .count = count,
              .lock = PTHREAD_MUTEX_INITIALIZER};
    pthread_t thread[HP_JOBS_MAX];
    int wanted = thread_count(jobs, count), started = 0;
    /* A machine that gives no further thread still gets its work done by this one. */
    while (started < wanted - 1 && pthread_create(&thread[started], NULL, work, &c) == 0)
        started++;
    work(&c);
    for (int k = 0; k < started; k++)
        pthread_join(thread[k], NULL);
    pthread_mutex_destroy(&c.lock);
    if (c.result != HP_OK)
        return hp_error_set(err, c.result, "%s", c.error.text);
    return HP_OK;
}
