/* The three position sensors: see the header. */
#include "model/sensors.h"

#include "hubphase/model/motor.h"

#include <math.h>
#include <string.h>

/* Distances this close below a whole turn are rounding of zero [rad]. */
#define TURN_SLACK 1e-9

hp_sensors_params hp_sensors_params_default(void)
{
    hp_sensors_params sensors;
    memset(&sensors, 0, sizeof sensors);
    /* chosen: two degrees electrical, the order of a latching switch's field hysteresis in the
     * gradient of a hub's magnets. */
    sensors.hysteresis_rad = 2.0 * HP_DEG;
    return sensors;
}

hp_result hp_sensors_params_check(const hp_sensors_params *s, hp_error *err)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (!(fabs(s->placement_rad[k]) <= 30.0 * HP_DEG * (1.0 + 1e-12)))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "sensors.placement_error_deg of %c is %g, must be -30 to 30",
                                hp_phase_letter(k), s->placement_rad[k] / HP_DEG);
        if ((int)s->fault[k] < 0 || s->fault[k] >= HP_SENSOR_FAULT_COUNT)
            return hp_error_set(err, HP_FAIL_INPUT, "sensors.fault of %c is %d, not a known fault",
                                hp_phase_letter(k), (int)s->fault[k]);
    }
    if (!(s->hysteresis_rad >= 0.0 && s->hysteresis_rad <= 20.0 * HP_DEG * (1.0 + 1e-12)))
        return hp_error_set(err, HP_FAIL_INPUT, "sensors.hysteresis_deg is %g, must be 0 to 20",
                            s->hysteresis_rad / HP_DEG);
    return HP_OK;
}

static double centre(const hp_sensors_params *sensors, int phase)
{
    return hp_phase_axis(phase) + sensors->placement_rad[phase];
}

static bool is_turned_round(const hp_sensors_params *sensors, int phase)
{
    return sensors->spacing_60 && phase == HP_V;
}

double hp_sensor_place(const hp_sensors_params *sensors, int phase)
{
    double opposite = is_turned_round(sensors, phase) ? HP_PI : 0.0;
    return hp_angle_wrap(centre(sensors, phase) + opposite);
}

bool hp_sensor_inside(const hp_sensors_params *sensors, int phase, double theta)
{
    return fabs(hp_angle_wrap_signed(theta - centre(sensors, phase))) < 0.5 * HP_PI;
}

int hp_sensor_output(const hp_sensors_params *sensors, int phase, bool inside)
{
    if (sensors->no_supply)
        return 1;
    bool bit = inside;
    if (is_turned_round(sensors, phase))
        bit = !bit;
    switch (sensors->fault[phase]) {
    case HP_SENSOR_STUCK_HIGH: return 1;
    case HP_SENSOR_STUCK_LOW: return 0;
    case HP_SENSOR_INVERTED: return !bit;
    case HP_SENSOR_SOUND:
    case HP_SENSOR_FAULT_COUNT: break;
    }
    return bit;
}

double hp_sensor_distance(const hp_sensors_params *sensors, int phase, bool inside, double theta,
                          int direction)
{
    /* Leaving happens a hysteresis beyond 90 degrees, entering that much short of it. */
    double edge = 0.5 * HP_PI + (inside ? sensors->hysteresis_rad : -sensors->hysteresis_rad);
    double ahead = (inside ? edge : -edge) * (direction > 0 ? 1.0 : -1.0);
    double place = centre(sensors, phase) + ahead;
    double distance = hp_angle_wrap(direction > 0 ? place - theta : theta - place);
    return distance > HP_TWO_PI - TURN_SLACK ? 0.0 : distance;
}
