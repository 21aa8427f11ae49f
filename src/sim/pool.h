/*
 * A crew of threads, each with an engine of its own, that works through numbered tasks.
 *
 * Tasks are independent and write to slots of their own, so the number of threads cannot show in
 * the result.
 */
#ifndef HUBPHASE_SRC_SIM_POOL_H
#define HUBPHASE_SRC_SIM_POOL_H

#include "hubphase/sim/engine.h"

/* One task: 0 .. count-1. Runs on any thread; must not touch what another task touches. */
typedef void (*hp_task)(void *user, hp_engine *engine, int task);

/* Works through `count` tasks on `jobs` threads (0: one a processor; the calling thread is one of
 * them). progress may be NULL. HP_FAIL_CANCELLED when progress stopped it (tasks done by then are
 * done, in task order up to a few); HP_FAIL_MEMORY when an engine could not be made, or was starved
 * in a task. */
hp_result hp_pool_run(int count, int jobs, hp_task task, void *task_user, hp_progress progress,
                      void *progress_user, hp_error *err);

/* Notes that a task had no memory: nothing that comes of it may pass for a result. The engine's own
 * runs note it by themselves. */
void hp_engine_starve(hp_engine *engine);

#endif
