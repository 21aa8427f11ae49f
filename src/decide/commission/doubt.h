/*
 * Figures that no such part gives, good or faulty: a slip of the pen, a decimal point, a unit, or a
 * tip on another pin. They are measured again before anything is made of them.
 *
 * What parts give stands with each value in its kind's fields (hp_usual), so that a kind of one's
 * own is looked after too.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_DOUBT_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_DOUBT_H

#include "hubphase/decide/commission.h"

/* Whether an entry holds such a figure, whatever was read again: nothing is learnt from it. */
bool hp_entry_is_unusual(const hp_assess_case *given, const hp_entry *entry);
/* The figures of a kind, each by the last entry that holds it, that are to be read again; false:
 * none is. One that was read twice, within a quarter, is no slip: then what the kind itself
 * finds counts. */
bool hp_doubt_find(const hp_assess_case *given, const hp_reading *kind, hp_doubt *doubt);

#endif
