/*
 * What the sensors show at an angle, and where they change.
 */
#ifndef HUBPHASE_MODEL_SENSORS_H
#define HUBPHASE_MODEL_SENSORS_H

#include "hubphase/model/motor.h"

/* Where a sensor stands [rad, 0 to 2 pi): a sound one reads 1 while the rotor points within 90
 * degrees of it, hysteresis left out. A 60-degree set has its middle one (V) opposite. */
double hp_sensor_place(const hp_sensors_params *sensors, int phase);

/* Whether sensor `phase` is inside at electrical angle theta, ignoring hysteresis. */
bool hp_sensor_inside(const hp_sensors_params *sensors, int phase, double theta);

/* Output of one sensor (0 or 1) given its inside flag: inversion and faults applied. */
int hp_sensor_output(const hp_sensors_params *sensors, int phase, bool inside);

/* Distance [rad, >= 0] from theta to the place where the sensor toggles next when the rotor turns
 * forward (direction +1) or backward (-1), given its present inside flag. */
double hp_sensor_distance(const hp_sensors_params *sensors, int phase, bool inside, double theta,
                          int direction);

#endif
