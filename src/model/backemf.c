/* Shape of the back-EMF: see the header. */
#include "hubphase/model/backemf.h"

#include "hubphase/model/phase.h"

#include <math.h>
#include <string.h>

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

static hp_result check_series(const hp_backemf *backemf, hp_error *err)
{
    if (backemf->harmonics < 1 || backemf->harmonics > HP_BACKEMF_HARMONICS)
        return hp_error_set(err, HP_FAIL_INPUT, "backemf.harmonics is %d, must be 1 to %d",
                            backemf->harmonics, HP_BACKEMF_HARMONICS);
    for (int n = 1; n <= backemf->harmonics; n++)
        if (!isfinite(backemf->cosine[n]) || !isfinite(backemf->sine[n]))
            return hp_error_set(err, HP_FAIL_INPUT, "backemf harmonic %d is not a finite number",
                                n);
    if (!(hypot(backemf->cosine[1], backemf->sine[1]) > 0.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "backemf harmonic 1 is 0, the fundamental must not be missing");
    if (!(backemf->scale > 0.0 && isfinite(backemf->scale)))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "backemf.scale is %g, must be above 0 (normalise the series)",
                            backemf->scale);
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
    double c1 = cos(x), s1 = sin(x), c = 1.0, s = 0.0, sum = 0.0;
    for (int n = 1; n <= backemf->harmonics; n++) {
        double turned = c * c1 - s * s1;
        s = s * c1 + c * s1;
        c = turned;
        sum += backemf->cosine[n] * c + backemf->sine[n] * s;
    }
    return sum;
}

void hp_backemf_normalise(hp_backemf *backemf)
{
    /* A grid of 7200 points, then golden-section search around the largest. */
    const int points = 7200;
    double best = 0.0, at = 0.0;
    for (int k = 0; k < points; k++) {
        double x = HP_TWO_PI * k / points, value = fabs(series(backemf, x));
        if (value > best) {
            best = value;
            at = x;
        }
    }
    double low = at - HP_TWO_PI / points, high = at + HP_TWO_PI / points;
    const double ratio = 0.61803398874989484820;
    for (int k = 0; k < 60; k++) {
        double a = high - ratio * (high - low), b = low + ratio * (high - low);
        if (fabs(series(backemf, a)) > fabs(series(backemf, b)))
            high = b;
        else
            low = a;
    }
    best = fmax(best, fabs(series(backemf, 0.5 * (low + high))));
    backemf->scale = best > 0.0 ? 1.0 / best : 0.0;
}

double hp_backemf_value(const hp_backemf *backemf, double x)
{
    if (backemf->kind == HP_BACKEMF_SINUSOIDAL)
        return -sin(x);
    if (backemf->kind == HP_BACKEMF_FOURIER)
        return backemf->scale * series(backemf, x);
    /* Distance from the middle of the positive flat, -90 degrees: flat, flank, flat. */
    double distance = fabs(hp_angle_wrap_signed(x + 0.5 * HP_PI)), half = 0.5 * backemf->flat_rad;
    if (distance <= half)
        return 1.0;
    if (distance >= HP_PI - half)
        return -1.0;
    return 1.0 - 2.0 * (distance - half) / (HP_PI - 2.0 * half);
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
