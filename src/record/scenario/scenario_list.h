/*
 * The list of parameters that a read scenario amounts to: every key with its value and origin.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LIST_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LIST_H

#include "record/scenario/scenario_read.h"

/* Fills the list with the keys from `from` to before `until`, in the order of the table of keys.
 * Left out: keys that say nothing here, the format's number, the long text `about`, the harness and
 * learnt_from. HP_FAIL_MEMORY when it cannot grow. */
hp_result hp_scenario_list(const hp_reader *reader, hp_key_id from, hp_key_id until,
                           hp_parameters *list, hp_error *err);

#endif
