/* Order statistics: quantiles between neighbours, shared ranks, rank correlation. */
#include "check.h"

#include "base/rank.h"

#define COUNT 50

static void quantiles_lie_between_neighbours(void **state)
{
    (void)state;
    double value[] = {7.0, 1.0, 3.0, 5.0};
    hp_sort(value, 4);
    check_close(hp_quantile(value, 4, 0.0), 1.0, 0.0, "exact");
    check_close(hp_quantile(value, 4, 0.5), 4.0, 0.0, "exact");
    check_close(hp_quantile(value, 4, 0.9), 6.4, 1e-15 * 8, "one rounding");
    check_close(hp_quantile(value, 4, 1.0), 7.0, 0.0, "exact");
    check_close(hp_quantile(value, 1, 0.3), 1.0, 0.0, "one value stands for all");
    check_true(isnan(hp_quantile(value, 0, 0.5)), "no value");
}

static void infinite_values_are_values(void **state)
{
    (void)state;
    double value[] = {INFINITY, 2.0, INFINITY, 1.0, INFINITY};
    hp_sort(value, 5);
    check_close(hp_quantile(value, 5, 0.05), 1.2, 1e-15 * 4, "one rounding");
    check_true(isinf(hp_quantile(value, 5, 0.3)), "between 2 and infinity");
    check_true(isinf(hp_quantile(value, 5, 0.9)), "between two infinities");
}

static void equal_values_share_their_ranks(void **state)
{
    (void)state;
    const double value[] = {4.0, INFINITY, 1.0, 4.0, INFINITY, 4.0};
    const double expected[] = {3.0, 5.5, 1.0, 3.0, 5.5, 3.0};
    hp_ranked scratch[6];
    double rank[6];
    hp_rank(value, 6, scratch, rank);
    for (int k = 0; k < 6; k++)
        check_close(rank[k], expected[k], 0.0, "exact");
}

/* Rank correlation of two rows. */
static double correlate_ranks(const double *a, const double *b, size_t count)
{
    hp_ranked scratch[COUNT];
    double rank_a[COUNT], rank_b[COUNT];
    hp_rank(a, count, scratch, rank_a);
    hp_rank(b, count, scratch, rank_b);
    return hp_correlation(rank_a, rank_b, count);
}

static void a_monotone_law_gives_one(void **state)
{
    (void)state;
    double a[COUNT], rising[COUNT], falling[COUNT];
    for (int k = 0; k < COUNT; k++) {
        a[k] = sin(1.7 * k);
        rising[k] = exp(5.0 * a[k]);
        falling[k] = -pow(a[k], 3.0);
    }
    check_close(correlate_ranks(a, rising, COUNT), 1.0, 1e-14, "rounding of 50 terms");
    check_close(correlate_ranks(a, falling, COUNT), -1.0, 1e-14, "rounding of 50 terms");
}

/* Without ties it is 1 - 6 sum d^2 / (n (n^2 - 1)) (Spearman 1904; textbook). */
static void the_closed_form_of_spearman(void **state)
{
    (void)state;
    const double a[] = {1.0, 2.0, 3.0, 4.0, 5.0}, b[] = {2.0, 1.0, 4.0, 3.0, 5.0};
    check_close(correlate_ranks(a, b, 5), 1.0 - 6.0 * 4.0 / (5.0 * 24.0), 1e-15 * 8, "rounding");
}

static void what_does_not_vary_has_no_correlation(void **state)
{
    (void)state;
    double a[COUNT], b[COUNT];
    for (int k = 0; k < COUNT; k++) {
        a[k] = 0.1;
        b[k] = k;
    }
    check_true(isnan(hp_correlation(a, b, COUNT)), "one row is constant");
    check_true(isnan(hp_correlation(b, b, 1)), "one value");
}

static void last_bits_are_rounded_away_and_nothing_else(void **state)
{
    (void)state;
    for (double value = 1e-12; value < 1e12; value *= 7.3) {
        check_relative(hp_rounded(value), value, 1e-9, "2^-30");
        check_true(hp_rounded(nextafter(value, 0.0)) == hp_rounded(nextafter(value, 1e300)),
                   "%.17g", value);
        check_true(hp_rounded(value) < hp_rounded(value * (1.0 + 1e-8)), "%.17g", value);
        check_true(hp_rounded(-value) == -hp_rounded(value), "%.17g", value);
    }
    check_true(hp_rounded(0.0) == 0.0 && isinf(hp_rounded(INFINITY)), "the ends");
    assert_true(isnan(hp_rounded(NAN)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(last_bits_are_rounded_away_and_nothing_else),
        cmocka_unit_test(quantiles_lie_between_neighbours),
        cmocka_unit_test(infinite_values_are_values),
        cmocka_unit_test(equal_values_share_their_ranks),
        cmocka_unit_test(a_monotone_law_gives_one),
        cmocka_unit_test(the_closed_form_of_spearman),
        cmocka_unit_test(what_does_not_vary_has_no_correlation),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
