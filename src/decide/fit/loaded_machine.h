/*
 * The machine under load: runs of its correct wiring against a steady torque at the wheel, curves
 * of them, and where they meet the road.
 */
#ifndef HUBPHASE_SRC_DECIDE_FIT_LOADED_MACHINE_H
#define HUBPHASE_SRC_DECIDE_FIT_LOADED_MACHINE_H

#include "hubphase/decide/fit.h"

/* The drive as it is ridden: this pack voltage and throttle, no ramp, no low-voltage cut-out: where
 * that ends the ride is a line of its own. */
hp_drive hp_fit_ridden(const hp_drive *drive, double emf_v, double throttle);
/* Torque constant [N m/A] of the pair that is driven, on the rotor: mean over its sector, and at
 * its best angle. */
double hp_fit_constant(const hp_drive *drive);
double hp_fit_constant_peak(const hp_drive *drive);
/* Current [A] through two leads of a motor that does not turn, once the limiters hold. */
double hp_fit_stalled_phase(const hp_drive *drive, double throttle);
/* Speed of the wheel [rad/s] by the textbook's d.c. line, limits left out. */
double hp_fit_dc_speed(const hp_drive *ridden, double torque_nm);

/* One run against this torque, begun near the speed where it will settle. */
hp_fit_point hp_fit_point_run(hp_engine *engine, const hp_drive *ridden, const hp_wiring *wiring,
                              double torque_nm);
/* Torque of point k of a curve that ends at this torque. */
double hp_fit_torque_of(int k, double most_nm);
/* Point of a curve between its runs, at this torque; runs is false beyond the last that runs. */
hp_fit_point hp_fit_between(const hp_fit_curve *curve, double torque_nm);

/* Torque [N m] at which curve and road meet by the curve alone; the road's force times `scale`.
 * NAN: they do not; 0: the road pushes. */
double hp_fit_meeting_torque(const hp_fit_curve *curve, const hp_vehicle *vehicle, double slope,
                             double scale);
/* The same by runs of its own; fills all but the times. */
hp_fit_meeting hp_fit_meet(hp_engine *engine, const hp_drive *ridden, const hp_wiring *wiring,
                           const hp_fit_curve *curve, const hp_vehicle *vehicle, double slope);
/* Throttle at which it keeps this speed [m/s] on the level, and the running there. False when it
 * cannot. */
bool hp_fit_cruise(hp_engine *engine, const hp_drive *full, const hp_wiring *wiring,
                   const hp_vehicle *vehicle, double speed, double *throttle, hp_fit_point *point);

#endif
