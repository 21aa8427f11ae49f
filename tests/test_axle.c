/* Flats of an axle against the integral of their pressure. */
#include "check.h"

#include "model/axle.h"

/* Pressure rises from the middle of a flat to its leading edge; each of two flats pushes with one
 * half. The couple is summed in thin strips. */
static void the_couple_of_the_pressure_is_the_torque(void **state)
{
    (void)state;
    hp_axle_params axle = {.diameter_mm = 12.0, .flats_mm = 10.0, .engaged_mm = 12.0};
    double p = hp_axle_pressure_mpa(&axle, 40.0), torque = 0.0;
    double half = 0.5 * sqrt(12.0 * 12.0 - 10.0 * 10.0);
    int strips = 20000;
    for (int k = 0; k < strips; k++) {
        double x = half * (k + 0.5) / strips, width = half / strips;
        torque += 2.0 * (p * x / half) * width * axle.engaged_mm * x; /* [N mm] */
    }
    check_relative(torque * 1e-3, 40.0, 1e-8, "strips");
    check_relative(hp_axle_torque_at(&axle, p), 40.0, 1e-14, "its inverse");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_couple_of_the_pressure_is_the_torque),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
