/* Road load: see the header. */
#include "model/road.h"

#include <math.h>

hp_road_params hp_road_params_default(void)
{
    return (hp_road_params){
        .mass_kg = 105.0,     /* chosen: rider 80 kg, machine 25 kg */
        .drag_area_m2 = 0.6,  /* chosen: common practice for an upright rider, 0.5 to 0.7 */
        .rolling = 0.008,     /* chosen: common practice for street tyres, 0.005 to 0.010 */
        .air_kg_m3 = 1.2,     /* dry air, 20 C, sea level (textbook) */
        .head_wind_m_s = 0.0, /* chosen: a calm day */
    };
}

static hp_result check_between(double value, double low, double high, const char *field,
                               hp_error *err)
{
    if (value >= low && value <= high)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "vehicle.%s is %g, must be %g to %g", field, value, low,
                        high);
}

hp_result hp_road_params_check(const hp_road_params *road, hp_error *err)
{
    hp_result result = check_between(road->mass_kg, 1.0, 5000.0, "mass", err);
    if (result == HP_OK)
        result = check_between(road->drag_area_m2, 0.0, 10.0, "drag_area_m2", err);
    if (result == HP_OK)
        result = check_between(road->rolling, 0.0, 1.0, "rolling_coefficient", err);
    if (result == HP_OK)
        result = check_between(road->air_kg_m3, 0.3, 2.0, "air_kg_m3", err);
    if (result == HP_OK)
        result = check_between(road->head_wind_m_s, -40.0, 40.0, "head_wind", err);
    return result;
}

/* Bearings of both wheels: 0.091 N + 0.0087 N s/m, as in Martin et al., who take them from Dahn,
 * Mai, Poland & Jenkins 1991. */
#define BEARING_N         0.091
#define BEARING_N_S_PER_M 0.0087

hp_road_force hp_road_force_at(const hp_road_params *road, double speed, double slope)
{
    double along = 1.0 / sqrt(1.0 + slope * slope); /* cosine of the slope's angle */
    double weight = road->mass_kg * HP_GRAVITY, wind = speed + road->head_wind_m_s;
    hp_road_force f = {
        .air = 0.5 * road->air_kg_m3 * road->drag_area_m2 * wind * fabs(wind),
        .rolling = road->rolling * weight * along,
        .bearings = BEARING_N + BEARING_N_S_PER_M * speed,
        .slope = weight * slope * along,
    };
    f.total = f.air + f.rolling + f.bearings + f.slope;
    return f;
}

double hp_road_coasting_speed(const hp_road_params *road, double slope)
{
    double low = 0.0, high = 1.0;
    if (!(hp_road_force_at(road, 0.0, slope).total < 0.0))
        return 0.0;
    while (hp_road_force_at(road, high, slope).total < 0.0 && high < 1e3)
        high *= 2.0;
    for (int k = 0; k < 60; k++) {
        double middle = 0.5 * (low + high);
        *(hp_road_force_at(road, middle, slope).total < 0.0 ? &low : &high) = middle;
    }
    return high;
}

double hp_road_gaining_power(double mass_kg, double inertia_kg_m2, double radius_m, double before,
                             double after, double seconds)
{
    double mass = mass_kg + inertia_kg_m2 / (radius_m * radius_m);
    return 0.5 * mass * (after * after - before * before) / seconds;
}
