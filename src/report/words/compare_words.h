/*
 * Words for what changed between two logs, for text and JSON.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_COMPARE_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_COMPARE_WORDS_H

#include "decide/commission/compare.h"
#include "hubphase/record/case.h"

/* Owned by the caller, free; NULL and err (HP_FAIL_MEMORY). */
hp_compare *hp_compare_of(const hp_commission_case *then, const hp_commission_case *now,
                          bool same_meters, hp_error *err);
/* "same", "perhaps", "changed"; what a change may come from; how it ends. Static storage. */
const char *hp_change_name(hp_change change);
const char *hp_cause_words(hp_cause cause);
const char *hp_compare_end_words(const hp_compare *compare);

#endif
