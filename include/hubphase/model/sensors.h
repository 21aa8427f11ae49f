/*
 * The three latching sensors of the rotor's position.
 *
 * Sensor X is "inside" where the rotor axis lies within 90 degrees of axis_X + placement_X. With a
 * hysteresis half width h it goes inside at 90 - h and outside at 90 + h, whichever way the rotor
 * turns. The output is 1 inside, 0 outside, before inversion and faults. 60-degree placement is the
 * same motor with the middle sensor (V) inverted.
 */
#ifndef HUBPHASE_MODEL_SENSORS_H
#define HUBPHASE_MODEL_SENSORS_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/phase.h"

#include <stdbool.h>

HP_API_BEGIN

typedef enum hp_sensor_fault {
    HP_SENSOR_SOUND,
    HP_SENSOR_STUCK_HIGH,
    HP_SENSOR_STUCK_LOW,
    HP_SENSOR_INVERTED,
    HP_SENSOR_FAULT_COUNT
} hp_sensor_fault;

typedef struct hp_sensors_params {
    double placement_rad[HP_PHASE_COUNT]; /* [rad electrical] error of place, forward positive;
                                             |error| <= 30 degrees */
    double hysteresis_rad;                /* [rad electrical] half width; 0..20 degrees */
    bool spacing_60;                      /* true: 60-degree code (sensor V inverted) */
    hp_sensor_fault fault[HP_PHASE_COUNT];
    bool no_supply; /* all outputs read 1: nothing sinks the pull-ups */
} hp_sensors_params;

/* Ideal placement, 120 degrees, hysteresis 2 degrees electrical (chosen), sound. */
hp_sensors_params hp_sensors_params_default(void);
hp_result hp_sensors_params_check(const hp_sensors_params *sensors, hp_error *err);

/* Whether sensor `phase` is inside at electrical angle theta, ignoring hysteresis. */
bool hp_sensor_inside(const hp_sensors_params *sensors, int phase, double theta);

/* Output of one sensor (0 or 1) given its inside flag: inversion and faults applied. */
int hp_sensor_output(const hp_sensors_params *sensors, int phase, bool inside);

/* Distance [rad, >= 0] from theta to the place where the sensor toggles next when the rotor turns
 * forward (direction +1) or backward (-1), given its present inside flag. */
double hp_sensor_distance(const hp_sensors_params *sensors, int phase, bool inside, double theta,
                          int direction);

HP_API_END

#endif
