/* Supply and stand: referring the wheel to rotor speed keeps energy and power. */
#include "field_limits.h"

#include "base/random.h"
#include "hubphase/model/drive.h"
#include "model/stand.h"

/* Kinetic energy at any rotor speed is that of the bodies at their own speeds. */
static void referred_inertia_keeps_kinetic_energy(void **state)
{
    (void)state;
    hp_random random = hp_random_init(1, 1);
    for (int k = 0; k < 100; k++) {
        hp_stand_params stand = hp_stand_params_default();
        stand.gear_ratio = hp_random_between(&random, 1.0, 20.0);
        stand.wheel_inertia_kg_m2 = hp_random_between(&random, 0.01, 1.0);
        double rotor = hp_random_between(&random, 0.0, 0.1);
        double w = hp_random_between(&random, -50.0, 50.0), wheel_w = w / stand.gear_ratio;
        double energy = 0.5 * rotor * w * w + 0.5 * stand.wheel_inertia_kg_m2 * wheel_w * wheel_w;
        check_relative(0.5 * hp_stand_inertia(&stand, rotor) * w * w, energy, 1e-14, "rounding");
    }
}

/* Power that friction takes at any rotor speed, and power of the torque that just breaks away. */
static void referred_friction_keeps_power(void **state)
{
    (void)state;
    hp_random random = hp_random_init(1, 2);
    for (int k = 0; k < 100; k++) {
        hp_stand_params stand = hp_stand_params_default();
        stand.gear_ratio = hp_random_between(&random, 1.0, 20.0);
        stand.wheel = (hp_friction){0.4, 0.6, 0.03};
        double w = hp_random_between(&random, 0.1, 50.0), wheel_w = w / stand.gear_ratio;
        hp_friction f = hp_stand_friction(&stand), *a = &stand.rotor, *b = &stand.wheel;
        check_relative((f.coulomb_nm + f.viscous_nm_s_rad * w) * w,
                       (a->coulomb_nm + a->viscous_nm_s_rad * w) * w +
                           (b->coulomb_nm + b->viscous_nm_s_rad * wheel_w) * wheel_w,
                       1e-14, "rounding");
        check_relative(f.breakaway_nm * w, a->breakaway_nm * w + b->breakaway_nm * wheel_w, 1e-14,
                       "rounding");
    }
}

static void direct_drive_adds_plainly(void **state)
{
    (void)state;
    hp_stand_params stand = hp_stand_params_default();
    check_close(stand.gear_ratio, 1.0, 0.0, "exact");
    check_close(hp_stand_inertia(&stand, 0.0), stand.wheel_inertia_kg_m2, 0.0, "exact");
    check_close(hp_stand_friction(&stand).coulomb_nm, stand.rotor.coulomb_nm, 0.0, "exact");
}

/* Behind any gear and clutch the wheel is as hard to turn as that of a direct-drive hub. */
static void usual_friction_is_that_of_the_same_wheel(void **state)
{
    (void)state;
    hp_random random = hp_random_init(1, 3);
    const hp_stand_params direct = hp_stand_params_default();
    for (int k = 0; k < 100; k++) {
        hp_stand_params stand = direct;
        stand.gear_ratio = hp_random_between(&random, 1.0, 20.0);
        stand.clutch = k % 2;
        hp_stand_usual_friction(&stand);
        hp_error err = hp_error_none();
        check_true(hp_stand_params_check(&stand, &err) == HP_OK, "%s", err.text);
        double g = stand.gear_ratio, wheel_w = hp_random_between(&random, 0.1, 40.0);
        hp_friction f = hp_stand_friction(&stand);
        check_relative(g * (f.coulomb_nm + f.viscous_nm_s_rad * g * wheel_w),
                       direct.rotor.coulomb_nm + direct.rotor.viscous_nm_s_rad * wheel_w, 1e-13,
                       "rounding");
        check_relative(g * f.breakaway_nm, direct.rotor.breakaway_nm, 1e-13, "rounding");
        check_true((stand.wheel.coulomb_nm > 0.0) == stand.clutch,
                   "only behind a clutch the wheel needs a friction of its own");
    }
}

static hp_result check_supply(const void *params, hp_error *err)
{
    return hp_supply_params_check(params, err);
}

static void supply_limits_are_kept(void **state)
{
    (void)state;
    hp_supply_params supply = hp_supply_params_default();
    check_accepted(hp_supply_params_check(&supply, &refusal));
    const field_limit field[] = {
        {"supply.battery_v", offsetof(hp_supply_params, emf_v), 1e-9, 200.0, 0.0, 200.1},
        {"supply.resistance_ohm", offsetof(hp_supply_params, resistance_ohm), 0.0, 100.0, -1e-9,
         101.0},
    };
    check_field_limits(&supply, sizeof supply, check_supply, field, 2);
}

static hp_result check_stand(const void *params, hp_error *err)
{
    return hp_stand_params_check(params, err);
}

static void stand_limits_are_kept(void **state)
{
    (void)state;
    hp_stand_params stand = hp_stand_params_default();
    check_accepted(hp_stand_params_check(&stand, &refusal));
    stand.rotor = stand.wheel = (hp_friction){0.2, 0.5, 0.0};
    const field_limit field[] = {
        {"stand.wheel_inertia_kg_m2", offsetof(hp_stand_params, wheel_inertia_kg_m2), 1e-9, 1e3,
         0.0, 1001.0},
        {"stand.gear_ratio", offsetof(hp_stand_params, gear_ratio), 1.0, 100.0, 0.999, 101.0},
        {"stand.load_nm", offsetof(hp_stand_params, load_nm), -1e3, 1e3, -1001.0, 1001.0},
        {"stand.smooth_friction_rad_s", offsetof(hp_stand_params, smooth_rad_s), 0.0, 1e3, -1e-9,
         1001.0},
        {"stand.rotor breakaway", offsetof(hp_stand_params, rotor.breakaway_nm), 0.2, 1e3, 0.199,
         1001.0},
        {"stand.wheel breakaway", offsetof(hp_stand_params, wheel.breakaway_nm), 0.2, 1e3, 0.199,
         1001.0},
        {"stand.rotor viscous", offsetof(hp_stand_params, rotor.viscous_nm_s_rad), 0.0, 100.0,
         -1e-9, 101.0},
        {"stand.wheel viscous", offsetof(hp_stand_params, wheel.viscous_nm_s_rad), 0.0, 100.0,
         -1e-9, 101.0},
        {"stand.rotor friction", offsetof(hp_stand_params, rotor.coulomb_nm), 0.0, 0.5, -1e-9,
         1001.0},
        {"stand.wheel friction", offsetof(hp_stand_params, wheel.coulomb_nm), 0.0, 0.5, -1e-9,
         1001.0},
    };
    check_field_limits(&stand, sizeof stand, check_stand, field, sizeof field / sizeof field[0]);
}

static void breakaway_is_never_below_friction(void **state)
{
    (void)state;
    hp_stand_params stand = hp_stand_params_default();
    stand.rotor = (hp_friction){.coulomb_nm = 0.5, .breakaway_nm = 0.4};
    check_refused(hp_stand_params_check(&stand, &refusal),
                  "stand.rotor breakaway is 0.4 N m, must be at least the friction (0.5)");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(referred_inertia_keeps_kinetic_energy),
        cmocka_unit_test(referred_friction_keeps_power),
        cmocka_unit_test(direct_drive_adds_plainly),
        cmocka_unit_test(usual_friction_is_that_of_the_same_wheel),
        cmocka_unit_test(supply_limits_are_kept),
        cmocka_unit_test(stand_limits_are_kept),
        cmocka_unit_test(breakaway_is_never_below_friction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
