/* The controller's parameters and their limits. */
#include "field_limits.h"

#include "hubphase/model/controller.h"

static void default_is_accepted_and_uses_the_usual_table(void **state)
{
    (void)state;
    hp_controller_params controller = hp_controller_params_default();
    check_accepted(hp_controller_params_check(&controller, &refusal));
    hp_commutation_table usual = hp_commutation_table_120();
    assert_memory_equal(&controller.table, &usual, sizeof usual);
    check_int(controller.pwm, HP_PWM_AVERAGED);
}

static hp_result check(const void *params, hp_error *err)
{
    return hp_controller_params_check(params, err);
}

#define FIELD(name, least, most, below, above)                                                     \
    {                                                                                              \
        "controller." #name, offsetof(hp_controller_params, name), least, most, below, above       \
    }

/* 0 switches ramp, limits and cut-outs off, so it is within the limits of these. */
static void limits_are_kept(void **state)
{
    (void)state;
    hp_controller_params controller = hp_controller_params_default();
    const field_limit field[] = {
        FIELD(throttle, 0.0, 1.0, -1e-9, 1.0 + 1e-9),
        FIELD(speed_cap, 1e-9, 1.0, 0.0, 1.0 + 1e-9),
        FIELD(ramp_per_s, 0.0, 1e6, -1e-9, 2e6),
        FIELD(battery_limit_a, 0.0, 1e4, -1e-9, 2e4),
        FIELD(phase_limit_a, 0.0, 1e4, -1e-9, 2e4),
        FIELD(filter_s, 1e-5, 10.0, 0.0, 11.0),
        FIELD(limiter_per_s, 1e-3, 1e4, 0.0, 2e4),
        FIELD(stall_cutout_s, 0.0, 3600.0, -1e-9, 3601.0),
        FIELD(undervoltage_v, 0.0, 200.0, -1e-9, 201.0),
        FIELD(pwm_hz, 100.0, 1e6, 0.0, 2e6),
        FIELD(switch_resistance_ohm, 0.0, 100.0, -1e-9, 101.0),
        FIELD(diode_drop_v, 0.0, 5.0, -1e-9, 5.1),
    };
    check_field_limits(&controller, sizeof controller, check, field,
                       sizeof field / sizeof field[0]);
}

static void only_known_kinds_of_pwm_are_accepted(void **state)
{
    (void)state;
    hp_controller_params controller = hp_controller_params_default();
    for (int kind = -1; kind <= HP_PWM_KIND_COUNT; kind++) {
        controller.pwm = (hp_pwm_kind)kind;
        if (kind >= 0 && kind < HP_PWM_KIND_COUNT)
            check_accepted(hp_controller_params_check(&controller, &refusal));
        else
            check_refused(hp_controller_params_check(&controller, &refusal), "controller.pwm");
    }
}

static void a_spoilt_table_is_the_controller_s(void **state)
{
    (void)state;
    hp_controller_params controller = hp_controller_params_default();
    controller.table.row[hp_code(1, 0, 0)].low = HP_V;
    check_refused(hp_controller_params_check(&controller, &refusal),
                  "controller.table: code 100 drives output V against itself");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(default_is_accepted_and_uses_the_usual_table),
        cmocka_unit_test(limits_are_kept),
        cmocka_unit_test(only_known_kinds_of_pwm_are_accepted),
        cmocka_unit_test(a_spoilt_table_is_the_controller_s),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
