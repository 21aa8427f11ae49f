/* Shape of the back-EMF: see the header. */
#include "model/backemf.h"

#include "hubphase/model/motor.h"
#include "hubphase/model/wiring.h"

#include "base/sine.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Least fundamental as a share of the largest harmonic. Chosen: below it a six-step drive has
 * nothing to pull on, and figures measured on the fundamental's scale lose their meaning. */
#define LEAST_FUNDAMENTAL 0.01

/* Rounding of a scale that was normalised, written out and read back in short. */
#define SCALE_SLACK 1e-6

hp_backemf hp_backemf_sinusoidal(void)
{
    hp_backemf backemf;
    memset(&backemf, 0, sizeof backemf);
    backemf.kind = HP_BACKEMF_SINUSOIDAL;
    backemf.flat_rad = 120.0 * HP_DEG;
    backemf.harmonics = 1;
    backemf.sine[1] = -1.0;
    backemf.scale = 1.0;
    return backemf;
}

hp_backemf hp_backemf_trapezoidal(double flat_rad)
{
    hp_backemf backemf = hp_backemf_sinusoidal();
    backemf.kind = HP_BACKEMF_TRAPEZOIDAL;
    backemf.flat_rad = flat_rad;
    return backemf;
}

static double magnitude(const hp_backemf *backemf, int n)
{
    double cosine = backemf->cosine[n], sine = backemf->sine[n];
    return sqrt(cosine * cosine + sine * sine);
}

static hp_result check_series(const hp_backemf *backemf, hp_error *err)
{
    if (backemf->harmonics < 1 || backemf->harmonics > HP_BACKEMF_HARMONICS)
        return hp_error_set(err, HP_FAIL_INPUT, "backemf.harmonics is %d, must be 1 to %d",
                            backemf->harmonics, HP_BACKEMF_HARMONICS);
    for (int n = 1; n <= backemf->harmonics; n++)
        if (!isfinite(backemf->cosine[n]) || !isfinite(backemf->sine[n]))
            return hp_error_set(err, HP_FAIL_INPUT, "backemf harmonic %d is not a finite number",
                                n);
    double largest = 0.0;
    for (int n = 1; n <= backemf->harmonics; n++)
        largest = fmax(largest, magnitude(backemf, n));
    if (!(largest > 0.0))
        return hp_error_set(err, HP_FAIL_INPUT, "backemf harmonics are all 0");
    if (!(magnitude(backemf, 1) >= LEAST_FUNDAMENTAL * largest))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "backemf harmonic 1 is %g, the fundamental must be at least %g of the "
                            "largest harmonic (%g)",
                            magnitude(backemf, 1), LEAST_FUNDAMENTAL, largest);
    hp_backemf scaled = *backemf;
    hp_backemf_normalise(&scaled);
    if (!(fabs(backemf->scale - scaled.scale) <= SCALE_SLACK * scaled.scale))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "backemf.scale is %g, must be %g so that the largest magnitude is 1",
                            backemf->scale, scaled.scale);
    return HP_OK;
}

hp_result hp_backemf_check(const hp_backemf *backemf, hp_error *err)
{
    switch (backemf->kind) {
    case HP_BACKEMF_SINUSOIDAL: return HP_OK;
    case HP_BACKEMF_TRAPEZOIDAL:
        if (!(backemf->flat_rad > 0.0 && backemf->flat_rad < HP_PI))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "backemf.flat_width_deg is %g, must be above 0 and below 180",
                                backemf->flat_rad / HP_DEG);
        return HP_OK;
    case HP_BACKEMF_FOURIER: return check_series(backemf, err);
    case HP_BACKEMF_KIND_COUNT: break;
    }
    return hp_error_set(err, HP_FAIL_INPUT, "backemf.kind is %d, not a known shape",
                        (int)backemf->kind);
}

/* The bare series by a rotation recurrence: one sine and cosine for all harmonics. */
static double series(const hp_backemf *backemf, double x)
{
    double c1 = hp_cosine(x), s1 = hp_sine(x), c = 1.0, s = 0.0, sum = 0.0;
    for (int n = 1; n <= backemf->harmonics; n++) {
        double turned = c * c1 - s * s1;
        s = s * c1 + c * s1;
        c = turned;
        sum += backemf->cosine[n] * c + backemf->sine[n] * s;
    }
    return sum;
}

/* Largest |f| in [low, high], where it has one maximum, by golden-section search: 60 cuts shrink
 * the bracket 3e12-fold, which is all that a maximum of rounded values can tell. */
static double peak_between(const hp_backemf *backemf, double low, double high)
{
    const double ratio = 0.61803398874989484820;
    for (int k = 0; k < 60; k++) {
        double a = high - ratio * (high - low), b = low + ratio * (high - low);
        if (fabs(series(backemf, a)) > fabs(series(backemf, b)))
            high = b;
        else
            low = a;
    }
    return fabs(series(backemf, 0.5 * (low + high)));
}

void hp_backemf_normalise(hp_backemf *backemf)
{
    /* The grid is fine enough (48 points a period of the highest harmonic) to part the lobes. Every
     * lobe that may hold the peak is searched: two of nearly one height need not show on the grid
     * which is the higher. A grid point misses its lobe's peak by at most (25 * step / 2)^2 / 2. */
    const int points = 48 * HP_BACKEMF_HARMONICS;
    const double step = HP_TWO_PI / points, miss = 0.01;
    double grid = 0.0, peak = 0.0;
    for (int k = 0; k < points; k++)
        grid = fmax(grid, fabs(series(backemf, k * step)));
    double before = fabs(series(backemf, -step)), here = fabs(series(backemf, 0.0));
    for (int k = 0; k < points; k++) {
        double after = fabs(series(backemf, (k + 1) * step));
        if (here >= before && here >= after && here >= (1.0 - miss) * grid)
            peak = fmax(peak, peak_between(backemf, (k - 1) * step, (k + 1) * step));
        before = here;
        here = after;
    }
    backemf->scale = peak > 0.0 ? 1.0 / peak : 0.0;
}

/* Angle from the middle of the positive flat, -90 degrees, within a half turn either way. The
 * conversion to an integer takes a fraction of the time of fmod; beyond its range fmod it is. */
static double from_flat(double x)
{
    double y = x + 0.5 * HP_PI;
    if (!(fabs(y) < 1e6))
        return hp_angle_wrap_signed(y);
    return y - HP_TWO_PI * (double)(long)(y * (1.0 / HP_TWO_PI) + (y < 0.0 ? -0.5 : 0.5));
}

double hp_backemf_value(const hp_backemf *backemf, double x)
{
    if (backemf->kind == HP_BACKEMF_SINUSOIDAL)
        return -hp_sine(x);
    if (backemf->kind == HP_BACKEMF_FOURIER)
        return backemf->scale * series(backemf, x);
    /* Flat, flank, flat. */
    double distance = fabs(from_flat(x)), half = 0.5 * backemf->flat_rad;
    if (distance <= half)
        return 1.0;
    if (distance >= HP_PI - half)
        return -1.0;
    return (0.5 * HP_PI - distance) / (0.5 * HP_PI - half);
}

/* Antiderivative of f with a period of one turn: f has no mean. */
static double integral(const hp_backemf *backemf, double x)
{
    if (backemf->kind == HP_BACKEMF_SINUSOIDAL)
        return hp_cosine(x);
    if (backemf->kind == HP_BACKEMF_FOURIER) {
        double sum = 0.0;
        for (int n = 1; n <= backemf->harmonics; n++)
            sum += (backemf->cosine[n] * hp_sine(n * x) - backemf->sine[n] * hp_cosine(n * x)) / n;
        return backemf->scale * sum;
    }
    /* Odd about the middle of the positive flat and even about each zero a quarter turn from it:
     * along the flat the distance itself, along the flank a parabola with its top at the zero. */
    double y = from_flat(x), distance = fabs(y), half = 0.5 * backemf->flat_rad;
    double to_zero = fabs(0.5 * HP_PI - distance), flank = 0.5 * HP_PI - half;
    double area = to_zero >= flank ? 0.5 * HP_PI - to_zero
                                   : half + 0.5 * (flank * flank - to_zero * to_zero) / flank;
    return copysign(area, y);
}

double hp_backemf_pair(const hp_backemf *backemf, int high, int low, double theta)
{
    return hp_backemf_value(backemf, theta - hp_phase_axis(high)) -
           hp_backemf_value(backemf, theta - hp_phase_axis(low));
}

hp_backemf_line hp_backemf_line_over(const hp_backemf *backemf, int points)
{
    hp_backemf_line line = {0.0, 0.0, 0.0};
    double squares = 0.0;
    for (int k = 0; k < points; k++) {
        double value = hp_backemf_pair(backemf, HP_U, HP_V, HP_TWO_PI * k / points);
        line.peak = fmax(line.peak, fabs(value));
        line.average += fabs(value) / points;
        squares += value * value;
    }
    line.rms = sqrt(squares / points);
    return line;
}

double hp_backemf_pair_mean(const hp_backemf *backemf, int high, int low, double from, double to)
{
    double a = hp_phase_axis(high), b = hp_phase_axis(low);
    return (integral(backemf, to - a) - integral(backemf, from - a) - integral(backemf, to - b) +
            integral(backemf, from - b)) /
           (to - from);
}

static int compare_angles(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Between its corners a trapezoid's pair is straight and its mean square
 * between two ends is (a a + a b + b b) / 3. */
static double trapezoid_pair_square(const hp_backemf *backemf)
{
    double corner[4], at[9], sum = 0.0;
    int count = hp_backemf_corners(backemf, corner);
    for (int k = 0; k < count; k++) {
        at[2 * k] = corner[k];
        at[2 * k + 1] = hp_angle_wrap(corner[k] + HP_TWO_PI / 3.0);
    }
    qsort(at, 2 * (size_t)count, sizeof at[0], compare_angles);
    at[2 * count] = at[0] + HP_TWO_PI;
    for (int k = 0; k < 2 * count; k++) {
        double from = hp_backemf_pair(backemf, HP_U, HP_V, at[k]);
        double to = hp_backemf_pair(backemf, HP_U, HP_V, at[k + 1]);
        sum += (from * from + from * to + to * to) / 3.0 * (at[k + 1] - at[k]);
    }
    return sum / HP_TWO_PI;
}

/* The square of a series has harmonics up to twice HP_BACKEMF_HARMONICS, so 72 points are exact. */
static double series_pair_square(const hp_backemf *backemf)
{
    enum { POINTS = 72 };
    double sum = 0.0;
    for (int k = 0; k < POINTS; k++) {
        double pair = hp_backemf_pair(backemf, HP_U, HP_V, HP_TWO_PI * k / POINTS);
        sum += pair * pair;
    }
    return sum / POINTS;
}

double hp_backemf_pair_rms(const hp_backemf *backemf)
{
    return sqrt(backemf->kind == HP_BACKEMF_TRAPEZOIDAL ? trapezoid_pair_square(backemf)
                                                        : series_pair_square(backemf));
}

int hp_backemf_corners(const hp_backemf *backemf, double corners[4])
{
    if (backemf->kind != HP_BACKEMF_TRAPEZOIDAL)
        return 0;
    /* Flats end at -90 and 90 degrees plus and minus half their width, which is below 90. */
    double half = 0.5 * backemf->flat_rad;
    double quarter = 0.5 * HP_PI;
    corners[0] = quarter - half;
    corners[1] = quarter + half;
    corners[2] = 3.0 * quarter - half;
    corners[3] = 3.0 * quarter + half;
    return 4;
}
