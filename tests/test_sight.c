/* What a run shows, from figures. */
#include "check.h"

#include "decide/advise/sight.h"
#include "hubphase/model/wiring.h"

static hp_figures running(double turns)
{
    hp_figures f;
    memset(&f, 0, sizeof f);
    f.window_turn = f.wheel_turn = HP_TWO_PI * turns;
    f.speed = turns < 0.0 ? -10.0 : 10.0;
    f.wheel_speed = f.speed;
    f.speed_sd = 0.1;
    f.battery_power = 1.2;
    f.friction_power = 1.0;
    return f;
}

static hp_sight_params plain(void)
{
    return hp_sight_params_of();
}

static void smooth_and_rough_by_excess_and_unsteadiness(void **state)
{
    (void)state;
    hp_sight_params params = plain();
    hp_figures f = running(5.0);
    check_int(hp_sight_of(&f, &params), HP_SIGHT_FORWARD_SMOOTH);
    f.battery_power = 10.0;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_FORWARD_ROUGH);
    f = running(-5.0);
    check_int(hp_sight_of(&f, &params), HP_SIGHT_BACKWARD_SMOOTH);
    f.speed_sd = 5.0;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_BACKWARD_ROUGH);
}

static void a_wheel_that_stays_behind_is_a_hum(void **state)
{
    (void)state;
    hp_sight_params params = plain();
    hp_figures f = running(-5.0);
    f.wheel_turn = f.wheel_speed = 0.0;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_HUM_SMOOTH);
    f = running(5.0);
    params.wheel_free = true;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_HUM_SMOOTH);
    f.battery_power = 10.0;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_HUM_ROUGH);
    /* A rotor that only shuffles pumps the wheel on, never smoothly. */
    params = plain();
    f = running(0.1);
    f.wheel_turn = 5.0 * HP_TWO_PI;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_FORWARD_ROUGH);
    params.wheel_free = true;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_STILL);
}

static void shiver_swings_and_still_does_not(void **state)
{
    (void)state;
    hp_sight_params params = plain();
    hp_figures f = running(0.1);
    f.swing = 60.0 * HP_DEG;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_SHIVER);
    f.swing = 5.0 * HP_DEG;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_STILL);
    f.swing = 60.0 * HP_DEG;
    f.at_rest = true;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_STILL);
    f.status = HP_FAIL_STEP;
    check_int(hp_sight_of(&f, &params), HP_SIGHT_NONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(smooth_and_rough_by_excess_and_unsteadiness),
        cmocka_unit_test(a_wheel_that_stays_behind_is_a_hum),
        cmocka_unit_test(shiver_swings_and_still_does_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
