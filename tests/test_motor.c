/* The motor's parameters: copper over temperature, cogging, limits. */
#include "field_limits.h"

#include "hubphase/model/motor.h"

/* Status of each figure: read, in the sources named. 15 ohm at 20 C becomes 15.909 ohm at 35 C with
 * 0.004041 per kelvin: T. R. Kuphaldt, Lessons In Electric Circuits I, "Physics of Conductors and
 * Insulators". */
static void copper_follows_the_worked_example(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    motor.resistance_ohm = 15.0;
    motor.copper_per_k = 0.004041;
    motor.winding_c = 35.0;
    check_close(hp_motor_resistance(&motor), 15.909, 0.0005, "printed to three decimals");
    /* Two such leads before a load of 250 ohm on 14 V leave it 12.42 V (14 and 250 from memory). */
    check_close(14.0 * 250.0 / (250.0 + 2.0 * hp_motor_resistance(&motor)), 12.42, 0.005,
                "printed to two decimals");
}

/* The coefficient means a straight line through the value at 20 C: IEC 60028's 0.00393 (read in an
 * instrument manual) adds 39.3 % over 100 K. */
static void copper_is_a_straight_line_through_20_degrees(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    check_close(motor.copper_per_k, 0.00393, 0.0, "the default is the standard's");
    motor.winding_c = 20.0;
    check_close(hp_motor_resistance(&motor), motor.resistance_ohm, 0.0, "exact at 20 C");
    motor.winding_c = 120.0;
    check_relative(hp_motor_resistance(&motor), 1.393 * motor.resistance_ohm, 1e-14, "rounding");
    motor.winding_c = -40.0;
    check_relative(hp_motor_resistance(&motor), (1.0 - 0.2358) * motor.resistance_ohm, 1e-14,
                   "rounding");
}

/* The default is what its comment says a label would: 0.2 ohm and 0.44 mH between leads, 36 V at
 * 215 rev/min between leads. */
static void default_is_the_hub_that_its_comment_describes(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    check_accepted(hp_motor_params_check(&motor, &refusal));
    check_relative(2.0 * motor.resistance_ohm, 0.2, 1e-15, "rounding");
    check_relative(2.0 * motor.inductance_h, 0.44e-3, 1e-15, "rounding");
    check_relative(2.0 * motor.ke * 215.0 * HP_RPM, 36.0, 1e-15, "rounding");
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        assert_false(motor.lead_open[k]);
}

/* T_cog does no work over a turn, repeats `order` times in it, and has the amplitude asked for. */
static void cogging_averages_out_over_a_turn(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    motor.cogging_nm = 0.3;
    motor.cogging_phase_rad = 0.4;
    for (int order = 1; order <= 12; order++) {
        motor.cogging_order = order;
        double sum = 0.0, most = 0.0;
        for (int k = 0; k < 7200; k++) {
            double theta = k * HP_TWO_PI / 7200.0, torque = hp_motor_cogging(&motor, theta);
            sum += torque / 7200.0;
            most = fmax(most, torque);
            check_close(hp_motor_cogging(&motor, theta + HP_TWO_PI / order), torque, 1e-13,
                        "rounding of an angle of order 100");
        }
        check_close(sum, 0.0, 1e-14, "rounding");
        check_close(most, 0.3, 0.3 * pow(order * HP_PI / 7200.0, 2.0) / 2.0,
                    "a grid point may miss the peak by half a step");
    }
    motor.cogging_nm = 0.0;
    check_close(hp_motor_cogging(&motor, 1.0), 0.0, 0.0, "no cogging");
}

static hp_result check(const void *params, hp_error *err)
{
    return hp_motor_params_check(params, err);
}

static void limits_are_kept(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    motor.copper_per_k = 0.004;
    const field_limit field[] = {
        {"motor.resistance_ohm", offsetof(hp_motor_params, resistance_ohm), 1e-9, 1e3, 0.0, 1001.0},
        {"motor.inductance_h", offsetof(hp_motor_params, inductance_h), 1e-12, 1.0, 0.0, 1.01},
        {"motor.ke", offsetof(hp_motor_params, ke), 1e-9, 1e3, 0.0, 1001.0},
        {"motor.winding_c", offsetof(hp_motor_params, winding_c), -40.0, 200.0, -40.1, 200.1},
        {"motor.copper_per_k", offsetof(hp_motor_params, copper_per_k), 0.0, 0.01, -1e-9, 0.0101},
        {"motor.rotor_inertia_kg_m2", offsetof(hp_motor_params, rotor_inertia_kg_m2), 0.0, 100.0,
         -1e-9, 101.0},
        {"motor.cogging_nm", offsetof(hp_motor_params, cogging_nm), 0.0, 1e3, -1e-9, 1001.0},
        {"motor.cogging_phase_rad", offsetof(hp_motor_params, cogging_phase_rad), -1e6, 1e6, -2e6,
         2e6},
    };
    check_field_limits(&motor, sizeof motor, check, field, sizeof field / sizeof field[0]);
}

static void whole_numbers_have_limits_too(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    const int pairs[] = {0, -1, 101};
    for (int k = 0; k < 3; k++) {
        motor.pole_pairs = pairs[k];
        check_refused(hp_motor_params_check(&motor, &refusal), "motor.pole_pairs");
    }
    for (int good = 1; good <= 100; good += 99) {
        motor.pole_pairs = good;
        check_accepted(hp_motor_params_check(&motor, &refusal));
    }
    const int order[] = {0, -6, 1001};
    for (int k = 0; k < 3; k++) {
        motor.cogging_order = order[k];
        check_refused(hp_motor_params_check(&motor, &refusal), "motor.cogging_order");
    }
}

static void a_bad_shape_is_the_motor_s(void **state)
{
    (void)state;
    hp_motor_params motor = hp_motor_params_default();
    motor.backemf.flat_rad = -1.0;
    check_refused(hp_motor_params_check(&motor, &refusal), "motor: backemf.flat_width_deg");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(copper_follows_the_worked_example),
        cmocka_unit_test(copper_is_a_straight_line_through_20_degrees),
        cmocka_unit_test(default_is_the_hub_that_its_comment_describes),
        cmocka_unit_test(cogging_averages_out_over_a_turn),
        cmocka_unit_test(limits_are_kept),
        cmocka_unit_test(whole_numbers_have_limits_too),
        cmocka_unit_test(a_bad_shape_is_the_motor_s),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
