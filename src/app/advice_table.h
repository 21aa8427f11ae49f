/*
 * The likelihood table that a scenario's advice is reckoned with: shipped, kept, or built.
 *
 * The table of the default drive is part of the program. Any other takes seconds to simulate, so it
 * is kept in the folder `hubphase` of the user's cache ($XDG_CACHE_HOME, else ~/.cache; XDG Base
 * Directory Specification). Its name holds the key of its content, and the key of the shipped
 * table: whenever what is simulated changes, that one is built afresh, and old caches go unused. A
 * kept table that is damaged, or that belongs to something else, is never used: it is built afresh
 * and replaced. A cache that cannot be read or written costs time and nothing else.
 */
#ifndef HUBPHASE_SRC_APP_ADVICE_TABLE_H
#define HUBPHASE_SRC_APP_ADVICE_TABLE_H

#include "decide/advise/likelihood.h"
#include "hubphase/record/scenario.h"

typedef enum hp_table_origin { HP_TABLE_SHIPPED, HP_TABLE_KEPT, HP_TABLE_BUILT } hp_table_origin;

typedef struct hp_table_choice {
    const char *command; /* "hubphase next", opens every remark; borrowed */
    int jobs;            /* threads; 0: one a processor */
    bool quiet;          /* no remarks, no progress bar */
} hp_table_choice;

/* What decides the table's content: the widths under `spread`, the times under `run` and the
 * throttle of trials come from the scenario, everything else is the default. */
hp_likelihood_options hp_advice_table_options(const hp_scenario *scenario);

/* Gets the table; remarks and the progress of a build go to the standard error. HP_FAIL_CANCELLED
 * after Ctrl-C: nothing is left half written. Free with hp_likelihood_free. */
hp_result hp_advice_table_get(const hp_scenario *scenario, const hp_table_choice *choice,
                              hp_likelihood *table, hp_table_origin *origin, hp_error *err);

/* Name of the file in which a table with this key is kept. HP_FAIL_IO when there is no place for a
 * cache. */
hp_result hp_advice_table_path(uint64_t key, char *out, size_t size, hp_error *err);

#endif
