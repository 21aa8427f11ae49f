/* Shape of the back-EMF: closed forms of the ideal shapes, symmetry, unit amplitude, integrals. */
#include "field_limits.h"

#include "base/random.h"
#include "hubphase/model/motor.h"
#include "hubphase/model/wiring.h"
#include "model/backemf.h"

#define ROUNDING 1e-14 /* a few operations on numbers of order one */

static const double flats_deg[] = {1.0, 60.0, 90.0, 119.0, 120.0, 150.0, 179.0};
#define FLATS (sizeof flats_deg / sizeof flats_deg[0])

/* A series with unlike harmonics and phases, as a measured motor gives. */
static hp_backemf measured(void)
{
    hp_backemf shape = hp_backemf_sinusoidal();
    shape.kind = HP_BACKEMF_FOURIER;
    shape.harmonics = 7;
    shape.sine[1] = -3.1;
    shape.cosine[1] = 0.2;
    shape.cosine[2] = 0.03;
    shape.sine[3] = -0.41;
    shape.cosine[5] = 0.07;
    shape.sine[7] = 0.022;
    hp_backemf_normalise(&shape);
    return shape;
}

/* Composite Simpson over pieces that end at every multiple of 1/4800 turn: corners of the flats
 * above fall on them, so each piece is smooth. */
static double simpson_pair(const hp_backemf *shape, int high, int low, double from, double to)
{
    int pieces = 4800;
    double h = (to - from) / pieces, sum = 0.0;
    for (int k = 0; k < pieces; k++) {
        double a = from + h * k;
        sum += hp_backemf_pair(shape, high, low, a) +
               4.0 * hp_backemf_pair(shape, high, low, a + 0.5 * h) +
               hp_backemf_pair(shape, high, low, a + h);
    }
    return sum / (6.0 * pieces);
}

static void sinusoid_is_minus_sine(void **state)
{
    (void)state;
    hp_backemf shape = hp_backemf_sinusoidal();
    for (int k = -400; k <= 400; k++)
        check_close(hp_backemf_value(&shape, k * HP_DEG), -sin(k * HP_DEG), ROUNDING, "rounding");
}

/* Flat at +1 about -90 degrees and at -1 about +90, zero at 0 and 180, straight between. */
static void trapezoid_has_flats_and_straight_flanks(void **state)
{
    (void)state;
    for (size_t n = 0; n < FLATS; n++) {
        hp_backemf shape = hp_backemf_trapezoidal(flats_deg[n] * HP_DEG);
        double half = 0.5 * flats_deg[n], flank = 90.0 - half;
        for (int k = -10; k <= 10; k++) {
            double on_flat = 0.0999 * k * half, on_flank = 0.1 * k * flank;
            check_close(hp_backemf_value(&shape, (-90.0 + on_flat) * HP_DEG), 1.0, 0.0, "exact");
            check_close(hp_backemf_value(&shape, (90.0 + on_flat) * HP_DEG), -1.0, 0.0, "exact");
            check_close(hp_backemf_value(&shape, on_flank * HP_DEG), -0.1 * k,
                        ROUNDING * 90.0 / flank, "rounding of the angle times the slope");
            check_close(hp_backemf_value(&shape, (180.0 + on_flank) * HP_DEG), 0.1 * k,
                        4.0 * ROUNDING * 90.0 / flank, "rounding of the angle times the slope");
        }
    }
}

/* f(x + pi) = -f(x) for the ideal shapes, f(x + 2 pi k) = f(x) for all, for small and huge angles:
 * an angle of size X is itself known to eps X, and the multiple of pi to as much. */
static void shapes_repeat_at_any_angle(void **state)
{
    (void)state;
    hp_random random = hp_random_init(11, 0);
    for (size_t n = 0; n < FLATS + 2; n++) {
        hp_backemf shape = n < FLATS    ? hp_backemf_trapezoidal(flats_deg[n] * HP_DEG)
                           : n == FLATS ? hp_backemf_sinusoidal()
                                        : measured();
        double slope = n < FLATS ? 2.0 / (HP_PI - shape.flat_rad) : 7.0;
        for (int k = 0; k < 2000; k++) {
            double turns = floor(pow(10.0, hp_random_between(&random, 0.0, 12.0)));
            if (k % 2)
                turns = -turns;
            double x = hp_random_between(&random, -4.0, 4.0), f = hp_backemf_value(&shape, x);
            double slack = 4.0 * slope * (ROUNDING + 2.3e-16 * HP_TWO_PI * fabs(turns));
            check_close(hp_backemf_value(&shape, x + HP_TWO_PI * turns), f, slack,
                        "rounding of the angle times the slope");
            if (shape.kind != HP_BACKEMF_FOURIER)
                check_close(hp_backemf_value(&shape, x + HP_PI), -f, slack,
                            "rounding of the angle times the slope");
        }
    }
}

static void no_angle_gives_no_number(void **state)
{
    (void)state;
    hp_backemf shape[] = {hp_backemf_sinusoidal(), hp_backemf_trapezoidal(2.0), measured()};
    for (int k = 0; k < 3; k++) {
        assert_true(isnan(hp_backemf_value(&shape[k], (double)NAN)));
        assert_true(isnan(hp_backemf_value(&shape[k], INFINITY)));
        assert_true(isnan(hp_backemf_value(&shape[k], -INFINITY)));
    }
}

/* The slope jumps at the corners and nowhere else. */
static void corners_are_where_the_slope_jumps(void **state)
{
    (void)state;
    for (size_t n = 0; n < FLATS; n++) {
        hp_backemf shape = hp_backemf_trapezoidal(flats_deg[n] * HP_DEG);
        double corner[4], h = 1e-4;
        check_int(hp_backemf_corners(&shape, corner), 4);
        for (int k = 0; k < 4; k++) {
            check_true(corner[k] >= 0.0 && corner[k] < HP_TWO_PI, "%g", corner[k]);
            double before = corner[k] - (k ? corner[k - 1] : corner[3] - HP_TWO_PI);
            check_true(before > 0.0, "corners ascend");
            double bend = hp_backemf_value(&shape, corner[k] + h) +
                          hp_backemf_value(&shape, corner[k] - h) -
                          2.0 * hp_backemf_value(&shape, corner[k]);
            check_close(fabs(bend), h * 2.0 / (HP_PI - shape.flat_rad), 1e-11,
                        "rounding of a second difference");
            double middle = corner[k] - 0.5 * before;
            bend = hp_backemf_value(&shape, middle + h) + hp_backemf_value(&shape, middle - h) -
                   2.0 * hp_backemf_value(&shape, middle);
            check_close(bend, 0.0, 1e-11, "rounding of a second difference");
        }
    }
    hp_backemf smooth = hp_backemf_sinusoidal(), series = measured();
    double corner[4];
    check_int(hp_backemf_corners(&smooth, corner), 0);
    check_int(hp_backemf_corners(&series, corner), 0);
}

/* Sine series of the trapezoid: -4 sin(n b) / (pi n^2 b), n odd, b half a flank (textbook). Cut
 * off after harmonic 25, what is left is at most the sum of the rest, 4 / (pi b) sum 1/n^2 over odd
 * n > 25, which is below 2 / (pi b 25). */
static void trapezoid_agrees_with_its_fourier_series(void **state)
{
    (void)state;
    hp_backemf exact = hp_backemf_trapezoidal(120.0 * HP_DEG), series = hp_backemf_sinusoidal();
    double b = 30.0 * HP_DEG;
    series.kind = HP_BACKEMF_FOURIER;
    series.harmonics = HP_BACKEMF_HARMONICS;
    for (int n = 1; n <= HP_BACKEMF_HARMONICS; n += 2)
        series.sine[n] = -4.0 * sin(n * b) / (HP_PI * n * n * b);
    for (int k = 0; k < 720; k++) {
        double x = 0.5 * k * HP_DEG;
        check_close(hp_backemf_value(&series, x), hp_backemf_value(&exact, x),
                    2.0 / (HP_PI * b * 25.0), "bound on the harmonics left out");
    }
}

static void series_is_the_sum_of_its_harmonics(void **state)
{
    (void)state;
    hp_backemf shape = measured();
    for (int k = 0; k < 500; k++) {
        double x = -10.0 + 0.04 * k, sum = 0.0;
        for (int n = 1; n <= shape.harmonics; n++)
            sum += shape.cosine[n] * cos(n * x) + shape.sine[n] * sin(n * x);
        check_close(hp_backemf_value(&shape, x), shape.scale * sum, 1e-13,
                    "rounding, grown by the recurrence over 7 harmonics");
    }
}

/* Largest magnitude 1 for random series of all lengths, seen on a grid so fine that it misses a
 * peak of harmonic 25 by (25 * step / 2)^2 / 2 at most. */
static void normalised_series_have_unit_amplitude(void **state)
{
    (void)state;
    enum { POINTS = 20000 };
    hp_random random = hp_random_init(17, 3);
    double step = HP_TWO_PI / POINTS;
    for (int trial = 0; trial < 30; trial++) {
        hp_backemf shape = hp_backemf_sinusoidal();
        shape.kind = HP_BACKEMF_FOURIER;
        shape.harmonics = 1 + (int)hp_random_below(&random, HP_BACKEMF_HARMONICS);
        for (int n = 1; n <= shape.harmonics; n++) {
            shape.cosine[n] = hp_random_between(&random, -100.0, 100.0);
            shape.sine[n] = hp_random_between(&random, -100.0, 100.0);
        }
        hp_backemf_normalise(&shape);
        double peak = 0.0;
        for (int k = 0; k < POINTS; k++)
            peak = fmax(peak, fabs(hp_backemf_value(&shape, k * step)));
        double miss = pow(12.5 * step, 2.0) / 2.0;
        check_true(peak <= 1.0 + 1e-12, "trial %d: peak %.15g", trial, peak);
        check_true(peak >= 1.0 - miss - 1e-12, "trial %d: peak %.15g", trial, peak);
    }
}

/* sin x + a sin 3x with lobes of equal height: whichever the grid favours, the scale is right. For
 * sin x + sin 3x / 3 the peaks, at x = 45 and 135 degrees, are sqrt(8) / 3. */
static void twin_lobes_are_normalised_exactly(void **state)
{
    (void)state;
    for (int shift = 0; shift < 90; shift++) {
        double turn = 0.1 * shift * HP_DEG;
        hp_backemf shape = hp_backemf_sinusoidal();
        shape.kind = HP_BACKEMF_FOURIER;
        shape.harmonics = 3;
        shape.sine[1] = -cos(turn);
        shape.cosine[1] = -sin(turn);
        shape.sine[3] = -cos(3.0 * turn) / 3.0;
        shape.cosine[3] = -sin(3.0 * turn) / 3.0;
        hp_backemf_normalise(&shape);
        check_relative(shape.scale, 3.0 / sqrt(8.0), 1e-13, "rounding");
    }
}

/* One lobe higher by less than the grid can tell, in any position on it: the higher one counts. Its
 * height by sight: 40000 points over the lobe miss harmonic 3 by at most (3 * 90 deg / 80000)^2
 * / 2.
 */
static void the_higher_of_two_lobes_sets_the_scale(void **state)
{
    (void)state;
    /* The lobes stand 86.8 degrees apart, no whole number of steps of any round grid. */
    const double third = 0.3, lift = 1e-6;
    double peak = 0.0;
    for (int k = 0; k <= 40000; k++) {
        double x = k * 90.0 * HP_DEG / 40000.0;
        peak = fmax(peak, sin(x) + third * sin(3.0 * x) + lift * cos(x));
    }
    for (int shift = 0; shift < 60; shift++) {
        double turn = 0.01 * shift * HP_DEG;
        hp_backemf shape = hp_backemf_sinusoidal();
        shape.kind = HP_BACKEMF_FOURIER;
        shape.harmonics = 3;
        shape.sine[1] = cos(turn) + lift * sin(turn);
        shape.cosine[1] = -sin(turn) + lift * cos(turn);
        shape.sine[3] = third * cos(3.0 * turn);
        shape.cosine[3] = -third * sin(3.0 * turn);
        hp_backemf_normalise(&shape);
        check_relative(shape.scale, 1.0 / peak, 1e-8, "the points of the sight");
    }
}

/* The line back-EMF over 30 degrees either side of its peak: 2 for a flat of 120 degrees or more,
 * sqrt(3) 3 / pi for a sinusoid (derived). */
static void pair_mean_of_a_sector_in_closed_form(void **state)
{
    (void)state;
    double from = 210.0 * HP_DEG, to = 270.0 * HP_DEG;
    hp_backemf sinusoid = hp_backemf_sinusoidal();
    check_close(hp_backemf_pair_mean(&sinusoid, HP_U, HP_V, from, to), sqrt(3.0) * 3.0 / HP_PI,
                ROUNDING, "rounding");
    for (size_t n = 0; n < FLATS; n++) {
        hp_backemf shape = hp_backemf_trapezoidal(flats_deg[n] * HP_DEG);
        /* Each lead leaves its flat for the outer part of the sector, where its loss is a triangle
         * on the flank: mean loss (90 + 30 - 60 - flat/2)^2 / (2 flank) over 60 degrees. */
        double short_by = fmax(0.0, 60.0 - 0.5 * flats_deg[n]), flank = 90.0 - 0.5 * flats_deg[n];
        double expected = 2.0 - 2.0 * 0.5 * short_by * short_by / (flank * 60.0);
        check_close(hp_backemf_pair_mean(&shape, HP_U, HP_V, from, to), expected, 1e-13,
                    "rounding");
    }
}

static void pair_mean_is_the_integral_of_the_pair(void **state)
{
    (void)state;
    hp_random random = hp_random_init(23, 0);
    for (int trial = 0; trial < 200; trial++) {
        size_t n = hp_random_below(&random, FLATS + 2);
        hp_backemf shape = n < FLATS    ? hp_backemf_trapezoidal(flats_deg[n] * HP_DEG)
                           : n == FLATS ? hp_backemf_sinusoidal()
                                        : measured();
        int high = (int)hp_random_below(&random, 3);
        int low = (high + 1 + (int)hp_random_below(&random, 2)) % 3;
        double from = hp_random_between(&random, -20.0, 20.0);
        double to = from + hp_random_between(&random, 0.01, 7.0);
        /* At most 8 corners a turn, each missed by no more than slope jump * step / 12 of one step
         * of 4800; the smooth shapes are below that. */
        double jump = n < FLATS ? 2.0 / (HP_PI - shape.flat_rad) : 1.0;
        double slack = 1e-12 + 10.0 * jump * (to - from) / (12.0 * 4800.0 * 4800.0);
        check_close(hp_backemf_pair_mean(&shape, high, low, from, to),
                    simpson_pair(&shape, high, low, from, to), slack, "Simpson at a corner");
    }
}

static void a_whole_turn_has_no_mean(void **state)
{
    (void)state;
    hp_backemf shape[] = {hp_backemf_sinusoidal(), hp_backemf_trapezoidal(2.0), measured()};
    for (int k = 0; k < 3; k++)
        check_close(hp_backemf_pair_mean(&shape[k], HP_W, HP_U, 0.3, 0.3 + HP_TWO_PI), 0.0,
                    ROUNDING, "rounding");
}

static void good_shapes_are_accepted(void **state)
{
    (void)state;
    hp_backemf shape = hp_backemf_sinusoidal();
    check_accepted(hp_backemf_check(&shape, &refusal));
    shape = measured();
    check_accepted(hp_backemf_check(&shape, &refusal));
    for (size_t n = 0; n < FLATS; n++) {
        shape = hp_backemf_trapezoidal(flats_deg[n] * HP_DEG);
        check_accepted(hp_backemf_check(&shape, &refusal));
    }
}

static void bad_shapes_are_refused_by_name(void **state)
{
    (void)state;
    const double bad[] = {0.0, -1.0, HP_PI, 4.0, NAN, INFINITY, -INFINITY};
    hp_backemf shape;
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
        shape = hp_backemf_trapezoidal(bad[k]);
        check_refused(hp_backemf_check(&shape, &refusal), "backemf.flat_width_deg");
    }
    shape.kind = HP_BACKEMF_KIND_COUNT;
    check_refused(hp_backemf_check(&shape, &refusal), "backemf.kind");
    shape.kind = (hp_backemf_kind)77;
    check_refused(hp_backemf_check(&shape, &refusal), "backemf.kind is 77");

    const int harmonics[] = {0, -1, HP_BACKEMF_HARMONICS + 1};
    for (int k = 0; k < 3; k++) {
        shape = measured();
        shape.harmonics = harmonics[k];
        check_refused(hp_backemf_check(&shape, &refusal), "backemf.harmonics");
    }
    for (int n = 1; n <= 7; n++) {
        shape = measured();
        shape.cosine[n] = (double)NAN;
        check_refused(hp_backemf_check(&shape, &refusal), "not a finite number");
        shape = measured();
        shape.sine[n] = INFINITY;
        check_refused(hp_backemf_check(&shape, &refusal), "not a finite number");
    }
    shape = measured();
    shape.sine[1] = shape.cosine[1] = 0.0;
    hp_backemf_normalise(&shape);
    check_refused(hp_backemf_check(&shape, &refusal), "fundamental");
    memset(shape.sine, 0, sizeof shape.sine);
    memset(shape.cosine, 0, sizeof shape.cosine);
    hp_backemf_normalise(&shape);
    check_refused(hp_backemf_check(&shape, &refusal), "all 0");
    const double scale[] = {0.0, 0.5, -1.0, NAN, INFINITY};
    for (size_t k = 0; k < sizeof scale / sizeof scale[0]; k++) {
        shape = measured();
        shape.scale *= scale[k];
        check_refused(hp_backemf_check(&shape, &refusal), "backemf.scale");
    }
}

/* Against a plain sum over the turn, and for a sinusoid the root of three halves. */
static void rms_of_a_pair_is_exact(void **state)
{
    (void)state;
    hp_backemf shape = hp_backemf_sinusoidal();
    check_relative(hp_backemf_pair_rms(&shape), sqrt(1.5), 1e-14, "rounding");
    for (double flat = 1.0; flat < 180.0; flat += 29.0) {
        const int points = 36000;
        double sum = 0.0;
        shape = hp_backemf_trapezoidal(flat * HP_DEG);
        for (int k = 0; k < points; k++) {
            double pair = hp_backemf_pair(&shape, HP_V, HP_W, (k + 0.5) * HP_TWO_PI / points);
            sum += pair * pair / points;
        }
        check_relative(hp_backemf_pair_rms(&shape), sqrt(sum), 1e-6, "the midpoint rule");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sinusoid_is_minus_sine),
        cmocka_unit_test(trapezoid_has_flats_and_straight_flanks),
        cmocka_unit_test(shapes_repeat_at_any_angle),
        cmocka_unit_test(no_angle_gives_no_number),
        cmocka_unit_test(corners_are_where_the_slope_jumps),
        cmocka_unit_test(trapezoid_agrees_with_its_fourier_series),
        cmocka_unit_test(series_is_the_sum_of_its_harmonics),
        cmocka_unit_test(normalised_series_have_unit_amplitude),
        cmocka_unit_test(twin_lobes_are_normalised_exactly),
        cmocka_unit_test(the_higher_of_two_lobes_sets_the_scale),
        cmocka_unit_test(pair_mean_of_a_sector_in_closed_form),
        cmocka_unit_test(pair_mean_is_the_integral_of_the_pair),
        cmocka_unit_test(a_whole_turn_has_no_mean),
        cmocka_unit_test(good_shapes_are_accepted),
        cmocka_unit_test(bad_shapes_are_refused_by_name),
        cmocka_unit_test(rms_of_a_pair_is_exact),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
