/*
 * Readings that find what power would harm: battery volts at the pins of the Hall sensors, a lead
 * on the shell or on another. Which of them a log lacks for the parts as they are.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_GUARDS_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_GUARDS_H

#include "hubphase/decide/commission.h"

/* Fills in `unguarded` of the list. */
void hp_guards_find(hp_commission *list);

#endif
