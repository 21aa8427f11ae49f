/*
 * Words for what changed between two logs, for text and JSON.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_COMPARE_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_COMPARE_WORDS_H

#include "decide/commission/compare.h"
#include "hubphase/record/case.h"

#include <stddef.h>

/* Owned by the caller, free; NULL and err (HP_FAIL_MEMORY). */
hp_compare *hp_compare_of(const hp_commission_case *then, const hp_commission_case *now,
                          bool same_meters, hp_error *err);
/* The day of a log's latest entry, "2026-11-30"; empty without entries. */
#define HP_DAY_SIZE 11
char *hp_compare_last_day(const hp_commission_case *c, char day[HP_DAY_SIZE]);
/* What is to be said where the log given as the older one ends on a later day; else empty. */
char *hp_compare_order_words(const hp_commission_case *then, const hp_commission_case *now,
                             char *out, size_t size);
/* "red and white 0.28, now 0.65 ohm; ...: both with white have more". */
char *hp_compare_pairs_words(const hp_compare_pairs *pairs, const hp_labels *labels, char *out,
                             size_t size);
/* "same", "perhaps", "changed"; what a change may come from; how it ends. Static storage. */
const char *hp_change_name(hp_change change);
const char *hp_cause_words(hp_cause cause);
const char *hp_compare_end_words(const hp_compare *compare);

#endif
