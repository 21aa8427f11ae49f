/*
 * The likeliest way along the bench: the advice's next steps, each followed by what it most likely
 * shows.
 */
#ifndef HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_BENCH_PATH_H
#define HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_BENCH_PATH_H

#include "hubphase/record/case.h"
#include "report/words/card.h"

#define HP_BENCH_STEPS 10

typedef struct hp_bench_step {
    hp_card card;
    hp_advice_kind kind;
    const hp_reading *reading; /* of a READ */
    char likely[160];          /* what it shows more often than not; empty: who knows */
} hp_bench_step;

typedef struct hp_bench_path {
    hp_bench_step step[HP_BENCH_STEPS];
    int steps;
} hp_bench_path;

/* Follows the advice for the case's machine, whatever its log holds, from a bench where nothing is
 * known until a wiring is tried: which one that is the readings say, not this path. NULL and err on
 * failure: HP_FAIL_MEMORY. For the caller to free. */
hp_bench_path *hp_bench_path_make(hp_case *c, hp_error *err);

#endif
