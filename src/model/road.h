/*
 * Road load: the force that a wheel must push with at a steady speed on a steady slope.
 *
 * Martin, Milliken, Cobb, McFadden & Coggan, J. Appl. Biomech. 14(3):276-291, 1998, without the
 * loss of a chain, which a hub does not have: air, rolling, bearings, slope.
 */
#ifndef HUBPHASE_SRC_MODEL_ROAD_H
#define HUBPHASE_SRC_MODEL_ROAD_H

#include "hubphase/model/vehicle.h"

#define HP_GRAVITY 9.80665 /* [m/s2] standard gravity */

/* [N] against a machine that moves forward. */
typedef struct hp_road_force {
    double air, rolling, bearings, slope, total;
} hp_road_force;

/* At this speed [m/s] >= 0 up this slope (rise over way on the level, negative: down). */
hp_road_force hp_road_force_at(const hp_road_params *road, double speed, double slope);
/* Speed [m/s] at which it rolls down this slope by itself; 0 when it does not. */
double hp_road_coasting_speed(const hp_road_params *road, double slope);
/* Power [W] that a gain of speed from `before` to `after` [m/s] within `seconds` takes, wheels
 * with this inertia [kg m2] and radius [m] counted. */
double hp_road_gaining_power(double mass_kg, double inertia_kg_m2, double radius_m, double before,
                             double after, double seconds);

#endif
