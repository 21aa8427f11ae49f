/* Sine and cosine of the inner loop, against the library's. */
#include "check.h"

#include "base/sine.h"

static void both_are_the_librarys(void **state)
{
    (void)state;
    /* Steps of no simple share of a turn; near each quarter turn besides. */
    for (double x = -700.0; x < 700.0; x += 0.0123456789) {
        check_close(hp_sine(x), sin(x), 1e-15, "a few roundings");
        /* The quarter turn's own rounding comes in, of an angle of hundreds. */
        check_close(hp_cosine(x), cos(x), 1e-15 + 2e-16 * fabs(x), "a few roundings");
    }
    for (int k = -40; k <= 40; k++)
        for (int d = -3; d <= 3; d++) {
            double x = k * 1.57079632679489661923 + d * 1e-9;
            check_close(hp_sine(x), sin(x), 1e-15, "a few roundings");
        }
}

static void small_and_far_angles_keep_their_digits(void **state)
{
    (void)state;
    check_close(hp_sine(0.0), 0.0, 0.0, "exact");
    check_relative(hp_sine(1e-300), 1e-300, 1e-15, "its own sine");
    check_close(hp_sine(-99999.0), sin(-99999.0), 1e-15, "half turns taken out exactly");
    check_close(hp_sine(1e9), sin(1e9), 0.0, "the library's");
    check_true(isnan(hp_sine((double)INFINITY)) && isnan(hp_sine((double)NAN)), "as the library");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_are_the_librarys),
        cmocka_unit_test(small_and_far_angles_keep_their_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
