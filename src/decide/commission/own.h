/*
 * The machine's own figures, learnt from the entries of a log: see hubphase/decide/commission.h.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_OWN_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_OWN_H

#include "hubphase/decide/commission.h"

/* `same_meters`: to be held against figures that were read with the same meters: their scales,
 * alike in both, are left out of figures and bands. */
void hp_own_learn(const hp_assess_case *given, bool same_meters, hp_own *own);

#endif
