/*
 * What stands of a step: its last entry, and under it what an earlier one found that the last says
 * nothing of.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_STANDING_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_STANDING_H

#include "hubphase/decide/commission.h"

/* Fills entry, finding and code of the step; no entry: nothing changes. */
void hp_standing_assess(const hp_assess_case *given, hp_commission_step *step);

#endif
