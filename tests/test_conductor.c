/* Copper leads against wire tables and worked examples. */
#include "check.h"

#include "model/conductor.h"

/* GNU Units (Debian package units, which cites ASTM B258; read). */
static void gauges_are_those_of_the_table(void **state)
{
    (void)state;
    static const double ohm_per_km[][2] = {{10, 3.27711}, {12, 5.21081}, {14, 8.28551},
                                           {16, 13.1745}, {18, 20.9482}, {20, 33.3090},
                                           {8, 2.06099}};
    for (int k = 0; k < 7; k++) {
        double area = hp_gauge_area_mm2(ohm_per_km[k][0]);
        check_relative(1e3 * hp_conductor_ohm_per_m(area), ohm_per_km[k][1], 3e-6, "six digits");
        check_close(hp_gauge_of_area(area), ohm_per_km[k][0], 1e-12, "rounding");
    }
    check_close(sqrt(4.0 * hp_gauge_area_mm2(8) / M_PI), 3.26364, 5e-6, "six digits");
}

/* IEC 60228 (read, three sites): no finished conductor of class 5 may have more; copper of the
 * nominal area alone has less, by the margin for stranding and tinning: bounds, not equalities. */
static void metric_areas_stay_under_the_standards_bounds(void **state)
{
    (void)state;
    static const double most[][3] = {
        {1.5, 12.1, 13.3}, {2.5, 7.41, 7.98}, {4, 4.61, 4.95}, {6, 3.08, 3.30}, {10, 1.83, 1.91}};
    for (int k = 0; k < 5; k++) {
        double ohm = 1e3 * hp_conductor_ohm_per_m(most[k][0]);
        check_true(ohm < most[k][1] && ohm > 0.85 * most[k][2], "%g mm2: %g ohm/km", most[k][0],
                   ohm);
    }
}

/* Kuphaldt, Lessons In Electric Circuits I (read): 2300 ft of AWG 14 at 10.09 ohm cmil/ft; a line
 * of 15 ohm at 35 C with 0.004041 per kelvin. */
static void the_textbooks_examples_come_out(void **state)
{
    (void)state;
    const double cmil_mm2 = 0.25 * M_PI * 0.0254 * 0.0254, foot_m = 0.3048;
    double resistivity = 10.09 * cmil_mm2 / foot_m; /* [ohm mm2/m] */
    check_close(2300.0 * foot_m * resistivity / hp_gauge_area_mm2(14), 5.651, 5e-4,
                "printed digits");
    check_close(hp_conductor_hot(15.0, 0.004041, 35.0), 15.909, 5e-4, "printed digits");
}

static void ampacities_are_those_of_the_table(void **state)
{
    (void)state;
    static const double table[][4] = {
        {14, 25, 30, 35}, {12, 30, 35, 40}, {10, 40, 50, 55}, {8, 60, 70, 80}};
    for (int k = 0; k < 4; k++)
        for (int n = 0; n < HP_INSULATION_COUNT; n++)
            check_relative(
                hp_conductor_ampacity(hp_gauge_area_mm2(table[k][0]), (hp_insulation)n, 30.0),
                table[k][n + 1], 1e-12, "rounding: a row of the table (Kuphaldt, read)");
}

/* Between, beyond and in other air it must rise with area and fall with the air's temperature. */
static void ampacity_is_monotone(void **state)
{
    (void)state;
    for (int n = 0; n < HP_INSULATION_COUNT; n++) {
        double before = 0.0;
        for (double area = 0.2; area < 60.0; area *= 1.03) {
            double now = hp_conductor_ampacity(area, (hp_insulation)n, 30.0);
            check_true(now > before && now < before * 1.05 + 10.0, "%g A at %g mm2 after %g", now,
                       area, before);
            check_true(hp_conductor_ampacity(area, (hp_insulation)n, 40.0) < now, "hot air");
            before = now;
        }
        double hottest = hp_insulation_c((hp_insulation)n);
        check_close(hp_conductor_ampacity(4.0, (hp_insulation)n, hottest), 0.0, 0.0, "no margin");
    }
    /* Beyond the rows the power holds that joins the ends of the table. */
    double power = log(70.0 / 30.0) / log(hp_gauge_area_mm2(8) / hp_gauge_area_mm2(14));
    check_relative(hp_conductor_ampacity(2.0 * hp_gauge_area_mm2(8), HP_INSULATION_75, 30.0),
                   70.0 * pow(2.0, power), 1e-12, "rounding");
    check_relative(hp_conductor_ampacity(0.5 * hp_gauge_area_mm2(14), HP_INSULATION_75, 30.0),
                   30.0 * pow(0.5, power), 1e-12, "rounding");
}

static void warming_at_ampacity_is_all_that_is_allowed(void **state)
{
    (void)state;
    double full = hp_conductor_ampacity(2.5, HP_INSULATION_75, 20.0);
    check_relative(hp_conductor_warming(full, full, HP_INSULATION_75, 20.0), 55.0, 1e-12,
                   "rounding");
    check_relative(hp_conductor_warming(0.5 * full, full, HP_INSULATION_75, 20.0), 13.75, 1e-12,
                   "rounding: a quarter of the heat");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gauges_are_those_of_the_table),
        cmocka_unit_test(metric_areas_stay_under_the_standards_bounds),
        cmocka_unit_test(the_textbooks_examples_come_out),
        cmocka_unit_test(ampacities_are_those_of_the_table),
        cmocka_unit_test(ampacity_is_monotone),
        cmocka_unit_test(warming_at_ampacity_is_all_that_is_allowed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
