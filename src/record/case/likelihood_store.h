/*
 * The likelihood table that a scenario's advice is reckoned with: shipped, kept, or built. See
 * hubphase/record/case.h.
 */
#ifndef HUBPHASE_SRC_RECORD_CASE_LIKELIHOOD_STORE_H
#define HUBPHASE_SRC_RECORD_CASE_LIKELIHOOD_STORE_H

#include "decide/advise/likelihood.h"
#include "hubphase/record/case.h"

/* What decides the table's content: the widths under `spread`, the times under `run` and the
 * throttle of trials come from the scenario, everything else is the default. */
hp_likelihood_options hp_likelihood_store_options(const hp_scenario *scenario);

/* Gets the table; of `options` cache, jobs, progress and remark count. HP_FAIL_CANCELLED when
 * progress stopped it: nothing is left half written. Free with hp_likelihood_free. */
hp_result hp_likelihood_store_get(const hp_scenario *scenario, const hp_case_options *options,
                                  hp_likelihood *table, hp_table_origin *origin, hp_error *err);

/* What a table with this key is called: out[HP_TABLE_KEY]; returned. */
char *hp_likelihood_store_key(uint64_t key, char *out);
/* The same for the table of a scenario. HP_FAIL_MEMORY. */
hp_result hp_likelihood_store_name(const hp_scenario *scenario, char *out, hp_error *err);

/* Name of the file in which a table with this key is kept. HP_FAIL_IO when it is too long. */
hp_result hp_likelihood_store_path(const char *cache, uint64_t key, char *out, size_t size,
                                   hp_error *err);

#endif
