/* Ensemble: the hypercube fills every stratum, draws obey their widths and pass the drive's check.
 */
#include "check.h"

#include "decide/judge/ensemble.h"
#include "hubphase/decide/spread.h"

static void every_stratum_is_hit_once(void **state)
{
    (void)state;
    const int counts[] = {1, 2, 3, 7, 16, 17, 100, 257};
    for (size_t c = 0; c < sizeof counts / sizeof counts[0]; c++) {
        int count = counts[c];
        for (int dimension = 0; dimension < 3; dimension++) {
            char hit[257] = {0};
            for (int k = 0; k < count; k++) {
                double u = hp_ensemble_unit(42, dimension, k, count);
                check_true(u >= 0.0 && u < 1.0, "unit %g", u);
                int stratum = (int)(u * count);
                check_int(hit[stratum], 0);
                hit[stratum] = 1;
            }
        }
    }
}

static void dimensions_are_uncorrelated(void **state)
{
    (void)state;
    const int count = 2000;
    double sum = 0.0;
    for (int k = 0; k < count; k++)
        sum += (hp_ensemble_unit(7, 0, k, count) - 0.5) * (hp_ensemble_unit(7, 1, k, count) - 0.5);
    /* The product of two independent uniforms has standard deviation 1/12 a draw. */
    check_close(sum / count * 12.0, 0.0, 4.0 / sqrt(count), "four standard errors");
}

static void seeds_differ(void **state)
{
    (void)state;
    int same = 0;
    for (int k = 0; k < 100; k++)
        same += hp_ensemble_unit(1, 0, k, 100) == hp_ensemble_unit(2, 0, k, 100);
    check_int(same, 0);
}

static void no_variation_gives_the_nominal_drive(void **state)
{
    (void)state;
    hp_drive nominal = hp_drive_default();
    hp_variation_params none = hp_variation_none();
    hp_drive drawn = hp_ensemble_draw(&nominal, &none, 3, 1, 4);
    check_relative(drawn.motor.ke, nominal.motor.ke, 1e-15, "a factor of one");
    check_relative(drawn.stand.rotor.breakaway_nm, nominal.stand.rotor.breakaway_nm, 1e-15,
                   "sum of the same two parts");
    check_close(drawn.sensors.placement_rad[1], 0.0, 0.0, "exact");
}

static void widths_are_kept_and_reached(void **state)
{
    (void)state;
    const int count = 200;
    hp_drive nominal = hp_drive_default();
    hp_variation_params v = hp_variation_default();
    double low = 1e9, high = 0.0, common = 0.0;
    for (int k = 0; k < count; k++) {
        hp_drive d = hp_ensemble_draw(&nominal, &v, 11, k, count);
        double ratio = d.motor.resistance_ohm / nominal.motor.resistance_ohm;
        low = fmin(low, ratio);
        high = fmax(high, ratio);
        for (int s = 0; s < HP_PHASE_COUNT; s++)
            check_true(fabs(d.sensors.placement_rad[s]) <= v.common_rad + v.individual_rad,
                       "placement %g", d.sensors.placement_rad[s]);
        common += d.sensors.placement_rad[0] / count;
        check_true(d.stand.rotor.breakaway_nm > d.stand.rotor.coulomb_nm, "breakaway lost");
    }
    double edge = 1.0 + v.resistance_ratio;
    check_true(low >= 1.0 / edge && high <= edge, "ratio %g to %g", low, high);
    /* The outermost strata lie within 2 log(edge) / count of the ends. */
    check_close(high, edge, 2.0 * log(edge) / count * edge, "width of the last stratum");
    check_close(low, 1.0 / edge, 2.0 * log(edge) / count, "width of the first stratum");
    /* A stratified mean of a uniform quantity errs by less than one stratum. */
    check_close(common, 0.0, 2.0 * (v.common_rad + v.individual_rad) / count, "one stratum");
}

static void draws_pass_the_check(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_drive nominal = hp_drive_default();
    nominal.sensors.placement_rad[HP_V] = 29.0 * HP_DEG;
    nominal.sensors.hysteresis_rad = 19.0 * HP_DEG;
    nominal.supply.emf_v = 199.0;
    nominal.controller.undervoltage_v = 198.0;
    nominal.motor.cogging_nm = 0.0;
    nominal.controller.battery_limit_a = 0.0;
    hp_variation_params v = hp_variation_default();
    for (int k = 0; k < 64; k++) {
        hp_drive d = hp_ensemble_draw(&nominal, &v, 5, k, 64);
        check_true(hp_drive_check(&d, &err) == HP_OK, "%s", err.text);
        check_close(d.controller.battery_limit_a, 0.0, 0.0, "no limit stays none");
    }
}

/* A dimension is driven by its own field: without that field its width is zero, with it alone the
 * other dimensions have none. */
static void every_dimension_has_its_width(void **state)
{
    (void)state;
    hp_variation_params all = hp_variation_default(), none = hp_variation_none();
    for (int k = 0; k < HP_VARY_COUNT; k++) {
        check_true(hp_vary_width(&all, (hp_vary)k) > 0.0, "dimension %d", k);
        check_close(hp_vary_width(&none, (hp_vary)k), 0.0, 0.0, "exact");
    }
    none.individual_rad = 0.1;
    for (int k = 0; k < HP_VARY_COUNT; k++)
        check_int(hp_vary_width(&none, (hp_vary)k) > 0.0,
                  k >= HP_VARY_SENSOR_U && k <= HP_VARY_SENSOR_W);
}

static void bad_widths_are_named(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_variation_params v = hp_variation_default();
    assert_int_equal(hp_variation_check(&v, &err), HP_OK);
    v.ke_ratio = -0.1;
    assert_int_equal(hp_variation_check(&v, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "variation.ke_ratio has the half width -0.1");
    v = hp_variation_default();
    v.winding_k = NAN;
    assert_int_equal(hp_variation_check(&v, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "winding_k");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_stratum_is_hit_once),
        cmocka_unit_test(dimensions_are_uncorrelated),
        cmocka_unit_test(seeds_differ),
        cmocka_unit_test(no_variation_gives_the_nominal_drive),
        cmocka_unit_test(widths_are_kept_and_reached),
        cmocka_unit_test(draws_pass_the_check),
        cmocka_unit_test(every_dimension_has_its_width),
        cmocka_unit_test(bad_widths_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
