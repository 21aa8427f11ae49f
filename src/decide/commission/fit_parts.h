/*
 * What the fits share.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_FIT_PARTS_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_FIT_PARTS_H

#include "decide/commission/fit_heat.h"
#include "decide/commission/fit_machine.h"

/* Standard deviations from the middle to either end of a band that holds 90 of 100. */
#define HP_BAND_90 1.6449

/* chosen: of a scale that is the same in both of two fits; not 0, for the method divides by it. */
#define HP_SAME_SCALE 1e-4

/* The last entry of a kind that somebody measured; NULL: none, or the kind is left out. */
const hp_entry *hp_fit_entry(const hp_assess_case *given, const hp_reading *kind,
                             const hp_reading *without);
/* The newest coast-down whose figures can be; one in doubt leaves the one before it as it was. */
const hp_entry *hp_fit_coast(const hp_assess_case *given, const hp_reading *without);
/* [ohm] at 20 C: mean of the pairs that were measured; NAN: none was. */
double hp_winding_ohm(const hp_winding *winding, double copper_per_k);
/* Volts between the two leads that drive per rad/s of the wheel, as stated. */
double hp_line_volts_per_wheel(const hp_drive *drive);

/* Fill in the figures that the readings tell. */
void hp_machine_fit_learn(const hp_machine_fit *fit, hp_own *own);
void hp_heat_fit_learn(const hp_heat_fit *fit, hp_own *own);

#endif
