/*
 * Where the rotor stands, as far as the machine's mode depends on it: which side of each sensor's
 * edges, which segment of the back-EMF's shape, and the next boundary of angle either way.
 */
#ifndef HUBPHASE_SRC_SIM_ROTOR_ANGLE_H
#define HUBPHASE_SRC_SIM_ROTOR_ANGLE_H

#include "sim/machine.h"

/* Collects the corners of the shape and finds the segment at theta [rad, 0..2 pi). */
void hp_rotor_angle_start(hp_machine *machine, double theta);
/* Unit shapes of the three phases at theta, by the present segment. */
void hp_rotor_angle_shapes(const hp_machine *machine, double theta, double f[HP_PHASE_COUNT]);
/* Their slopes over theta [1/rad]; f are the shapes there. */
void hp_rotor_angle_shape_slopes(const hp_machine *machine, double theta,
                                 const double f[HP_PHASE_COUNT], double slope[HP_PHASE_COUNT]);
/* Sets the next boundaries, ahead and behind. */
void hp_rotor_angle_bounds(hp_machine *machine, double theta);
/* Crosses whatever boundary the rotor has reached; returns whether a corner was among them. */
bool hp_rotor_angle_cross(hp_machine *machine, double *y, int direction);

#endif
