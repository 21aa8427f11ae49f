/* Elementary functions with the same bits everywhere, against the C library's. */
#include "check.h"

#include "base/elementary.h"

#include <float.h>

static const char roundings[] = "a few roundings";

static void the_exponential_is_the_librarys(void **state)
{
    (void)state;
    for (double x = -700.0; x < 700.0; x += 0.0123456789)
        check_relative(hp_exponential(x), exp(x), 1e-15, roundings);
    for (double x = 1e-16; x < 1.0; x *= 1.7) {
        check_relative(hp_exponential(x), exp(x), 5e-16, roundings);
        check_relative(hp_exponential(-x), exp(-x), 5e-16, roundings);
    }
    check_close(hp_exponential(0.0), 1.0, 0.0, "exact");
    check_close(hp_exponential(-800.0), 0.0, 0.0, "below the least number");
    check_relative(hp_exponential(-740.0), exp(-740.0), 0.1, "one bit is left");
    check_true(isinf(hp_exponential(800.0)) && isnan(hp_exponential((double)NAN)), "as there");
}

static void the_logarithm_is_the_librarys(void **state)
{
    (void)state;
    for (double x = DBL_MIN; x < 1e307; x *= 1.0123456789)
        check_close(hp_logarithm(x), log(x), 4e-16 * fmax(fabs(log(x)), 1e-3), roundings);
    for (double d = 1e-15; d < 0.5; d *= 1.1) {
        check_relative(hp_logarithm(1.0 + d), log(1.0 + d), 5e-16, roundings);
        check_relative(hp_logarithm(1.0 - d), log(1.0 - d), 5e-16, roundings);
    }
    check_close(hp_logarithm(1.0), 0.0, 0.0, "exact");
    check_true(isinf(hp_logarithm(0.0)) && hp_logarithm(0.0) < 0.0, "as there");
    check_true(isinf(hp_logarithm((double)INFINITY)) && isnan(hp_logarithm(-1.0)) &&
                   isnan(hp_logarithm((double)NAN)),
               "as there");
}

static void a_direction_is_the_librarys(void **state)
{
    (void)state;
    for (double angle = -3.14159; angle < 3.14159; angle += 0.00123456789)
        for (double far = 1e-3; far < 1e4; far *= 50.0) {
            double x = far * cos(angle), y = far * sin(angle);
            check_close(hp_direction_of(y, x), atan2(y, x), 9e-16, roundings);
        }
    for (double y = 1e-300; y < 1.0; y *= 10.0) {
        check_relative(hp_direction_of(y, 1.0), atan2(y, 1.0), 1e-15, roundings);
        check_relative(hp_direction_of(-y, 1.0), atan2(-y, 1.0), 1e-15, roundings);
    }
    check_close(hp_direction_of(0.0, 0.0), 0.0, 0.0, "exact");
    check_close(hp_direction_of(0.0, -2.0), atan2(0.0, -2.0), 0.0, "half a turn");
    check_close(hp_direction_of(2.0, 0.0), atan2(2.0, 0.0), 0.0, "a quarter");
    check_close(hp_direction_of(-2.0, 0.0), atan2(-2.0, 0.0), 0.0, "a quarter");
}

static void the_hyperbolic_tangent_is_the_librarys(void **state)
{
    (void)state;
    for (double x = 1e-300; x < 1e3; x *= 1.0123456789) {
        check_relative(hp_hyperbolic_tangent(x), tanh(x), 7e-16, roundings);
        check_relative(hp_hyperbolic_tangent(-x), -tanh(x), 7e-16, roundings);
    }
    check_close(hp_hyperbolic_tangent(0.0), 0.0, 0.0, "exact");
}

/* pow(x, -0.2) would not do: -0.2 is not a number of the machine's. */
static void a_fifth_power_leads_back_from_the_root(void **state)
{
    (void)state;
    for (double x = 1e-300; x < 1e300; x *= 1.00123456789) {
        double y = hp_inverse_fifth_root(x);
        check_close(x * y * (y * y) * (y * y), 1.0, 2e-15,
                    "five times the root's, and five of its own");
    }
    check_close(hp_inverse_fifth_root(1.0), 1.0, 2e-16, "a rounding");
    check_close(hp_inverse_fifth_root((double)INFINITY), 0.0, 0.0, "as there");
    check_true(isnan(hp_inverse_fifth_root((double)NAN)), "as there");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_exponential_is_the_librarys),
        cmocka_unit_test(the_logarithm_is_the_librarys),
        cmocka_unit_test(a_direction_is_the_librarys),
        cmocka_unit_test(the_hyperbolic_tangent_is_the_librarys),
        cmocka_unit_test(a_fifth_power_leads_back_from_the_root),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
