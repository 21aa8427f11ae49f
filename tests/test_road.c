/* Road load against a published worked example, and what follows from its law. */
#include "field_limits.h"

#include "model/road.h"

/* Martin et al. 1998, Appendix I (second-hand transcription; the air's density from memory):
 * wind 2.94 m/s from 310 degrees, heading 340, 3 in 1000 uphill. The example states its parts in
 * watts, rounded to 0.1; 0.976 is its chain, which a hub has not. */
static void the_published_example_comes_out(void **state)
{
    (void)state;
    const double rounded = 0.1, speed = 8.36, slope = 0.003;
    hp_road_params road = {.mass_kg = 90.0,
                           .drag_area_m2 = 0.285 * 0.9 + 0.0044,
                           .rolling = 0.0032,
                           .air_kg_m3 = 1.2234,
                           .head_wind_m_s = 2.94 * cos((340.0 - 310.0) * M_PI / 180.0)};
    hp_road_force f = hp_road_force_at(&road, speed, slope);
    double gained = hp_road_gaining_power(90.0, 0.14, 0.311, 8.28, 8.45, 100.0 - 43.58);
    check_close(f.air * speed, 158.8, rounded + 0.24,
                "8.36 m/s stands for 8.355 to 8.365, at 48 W for 1 m/s");
    check_close(f.rolling * speed, 23.6, rounded, "printed digits");
    check_close(f.bearings * speed, 1.4, rounded, "printed digits");
    check_close(f.slope * speed, 22.1, rounded, "printed digits");
    check_close(gained, 2.3, rounded, "printed digits");
    check_close((f.total * speed + gained) / 0.976, 213.3, 0.2, "its own digits: 8.36 m/s");
}

/* Weight parts into a pull along the slope and a press on it. */
static void slope_and_rolling_share_the_weight(void **state)
{
    (void)state;
    hp_road_params road = {.mass_kg = 100.0, .rolling = 1.0, .air_kg_m3 = 1.2};
    for (double slope = -0.4; slope <= 0.4; slope += 0.05) {
        hp_road_force f = hp_road_force_at(&road, 0.0, slope);
        check_relative(hypot(f.slope, f.rolling), 100.0 * HP_GRAVITY, 1e-14, "rounding");
        check_close(f.slope, f.rolling * slope, 1e-10, "the slope is their ratio");
    }
}

/* Wind from behind that is faster than the machine pushes it. */
static void a_tail_wind_pushes(void **state)
{
    (void)state;
    hp_road_params road = hp_road_params_default();
    double calm = hp_road_force_at(&road, 5.0, 0.0).air;
    road.head_wind_m_s = -10.0;
    check_relative(hp_road_force_at(&road, 5.0, 0.0).air, -calm, 1e-14,
                   "the same wind, from behind");
}

static void coasting_ends_where_nothing_is_left(void **state)
{
    (void)state;
    hp_road_params road = hp_road_params_default();
    double speed = hp_road_coasting_speed(&road, -0.06);
    check_close(hp_road_force_at(&road, speed, -0.06).total, 0.0, 1e-9, "bisection");
    check_true(speed > 5.0 && speed < 25.0, "%g m/s", speed);
    check_close(hp_road_coasting_speed(&road, 0.0), 0.0, 0.0, "the level");
    check_close(hp_road_coasting_speed(&road, -0.007), 0.0, 0.0, "flatter than its rolling");
}

static hp_result check_road(const void *params, hp_error *err)
{
    return hp_road_params_check(params, err);
}

static void limits_are_kept(void **state)
{
    (void)state;
    hp_road_params road = hp_road_params_default();
    check_accepted(hp_road_params_check(&road, &refusal));
    const field_limit field[] = {
        {"vehicle.mass", offsetof(hp_road_params, mass_kg), 1.0, 5000.0, 0.0, 5001.0},
        {"vehicle.drag_area_m2", offsetof(hp_road_params, drag_area_m2), 0.0, 10.0, -0.1, 10.1},
        {"vehicle.rolling", offsetof(hp_road_params, rolling), 0.0, 1.0, -0.1, 1.1},
        {"vehicle.air_kg_m3", offsetof(hp_road_params, air_kg_m3), 0.3, 2.0, 0.2, 2.1},
        {"vehicle.head_wind", offsetof(hp_road_params, head_wind_m_s), -40.0, 40.0, -41.0, 41.0},
    };
    check_field_limits(&road, sizeof road, check_road, field, sizeof field / sizeof field[0]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_published_example_comes_out),
        cmocka_unit_test(slope_and_rolling_share_the_weight),
        cmocka_unit_test(a_tail_wind_pushes),
        cmocka_unit_test(coasting_ends_where_nothing_is_left),
        cmocka_unit_test(limits_are_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
