/*
 * What the words of commissioning's runs share.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_WORDS_RUNNING_H
#define HUBPHASE_SRC_REPORT_WORDS_WORDS_RUNNING_H

#include "decide/commission/fit_machine.h"
#include "report/words/card_parts.h"

/* The drive as it is known: what was learnt in place of what was stated. */
const hp_drive *hp_card_own_drive(const hp_card_context *context);
/* What is reckoned with besides, for a card without a log too; borrowed from the context. */
hp_assess_case hp_card_assess_case(const hp_card_context *context);
/* What a no-load run ought to show with these volts at the controller, from all readings but its
 * own. */
hp_no_load_told hp_card_no_load(const hp_card_context *context, double volts);
/* The same at part throttle, at this speed. */
hp_part_told hp_card_part(const hp_card_context *context, double volts, double rad_s);
/* "0.4 to 0.7". Returns out. */
char *hp_card_range(double low, double high, char *out, size_t size);
#define HP_RANGE_WORDS (2 * HP_NUMBER_WORDS + 8)

#endif
