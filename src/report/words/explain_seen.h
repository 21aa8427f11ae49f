/*
 * What the simulation of a wiring comes to at the battery and at the wheel, as sentences that stand
 * behind the explanation; each against the correct wiring.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_EXPLAIN_SEEN_H
#define HUBPHASE_SRC_REPORT_WORDS_EXPLAIN_SEEN_H

#include "hubphase/base/text.h"
#include "report/words/explain.h"

/* Adds the sentences, none for a wiring that is undecided. `sum`: of its sectors; `survey`: of all
 * 36; `number`: which of them. */
void hp_explain_seen(const hp_report_case *subject, const hp_pull_sum *sum, const hp_survey *survey,
                     int number, hp_phrase *out);

#endif
