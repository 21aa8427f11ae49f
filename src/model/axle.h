/*
 * An axle with two flats in the slots of the dropouts: how hard its edges press.
 */
#ifndef HUBPHASE_SRC_MODEL_AXLE_H
#define HUBPHASE_SRC_MODEL_AXLE_H

#include "hubphase/model/vehicle.h"

/* Greatest pressure [MPa] of the flats' edges on the dropouts at this torque [N m]; the axle's
 * three lengths must be known. Derived: a flat of width w pushes with one half only, its pressure
 * rising evenly from the middle to the edge; both flats make a couple T = p w^2 t / 6 over the
 * engaged length t. The nuts' friction, which takes much of it as long as they are tight, is left
 * out: it is what comes loose. */
double hp_axle_pressure_mpa(const hp_axle_params *axle, double torque_nm);
/* Torque [N m] at which that pressure is reached. */
double hp_axle_torque_at(const hp_axle_params *axle, double pressure_mpa);

#endif
