/*
 * What a mend leaves to be done that no open step asks for: a mend that names no part, and another
 * battery, whose volts and cells the scenario states.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_MEND_NOTES_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_MEND_NOTES_H

#include "hubphase/decide/commission.h"

/* Fills in `unnamed', `battery' and `may_be_old' of the steps, which are assessed. */
void hp_mend_notes_find(hp_commission *list);

#endif
