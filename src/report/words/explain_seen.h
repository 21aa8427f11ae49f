/*
 * What the simulation of a wiring comes to at the battery and at the wheel, as sentences that stand
 * behind the explanation; each against the correct wiring.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_EXPLAIN_SEEN_H
#define HUBPHASE_SRC_REPORT_WORDS_EXPLAIN_SEEN_H

#include "hubphase/base/text.h"
#include "report/words/explain.h"

#include <stdbool.h>

/* Adds the sentences, none for a wiring that is undecided. `sum`: of its sectors; `survey`: of all
 * 36; `number`: which of them. */
void hp_explain_seen(const hp_report_case *subject, const hp_pull_sum *sum, const hp_survey *survey,
                     int number, hp_phrase *out);

/* Whether the wheel turns with the rotor: behind a one-way clutch it may stand. */
bool hp_explain_wheel_turns(const hp_drive *drive, const hp_judgement *judgement);

#endif
