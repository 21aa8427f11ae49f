/*
 * Shape of the back-EMF over electrical angle.
 *
 * e_X = ke * w * f(theta - axis_X), f of unit amplitude and f(x + pi) = -f(x) for the two ideal
 * shapes. Sinusoidal: f = -sin x. Trapezoidal: +1 flat over `flat_rad` centred on x = -90 degrees,
 * -1 flat centred on +90 degrees, straight flanks. Fourier: a finite series, scaled to unit
 * amplitude.
 */
#ifndef HUBPHASE_MODEL_BACKEMF_H
#define HUBPHASE_MODEL_BACKEMF_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"

HP_API_BEGIN

typedef enum hp_backemf_kind {
    HP_BACKEMF_SINUSOIDAL,
    HP_BACKEMF_TRAPEZOIDAL,
    HP_BACKEMF_FOURIER,
    HP_BACKEMF_KIND_COUNT
} hp_backemf_kind;

#define HP_BACKEMF_HARMONICS 25 /* highest harmonic that a series may have */

typedef struct hp_backemf {
    hp_backemf_kind kind;
    double flat_rad; /* [rad electrical] width of the flat, trapezoidal only; 0 < width < pi */
    int harmonics;   /* Fourier only: highest harmonic used, 1..HP_BACKEMF_HARMONICS */
    /* Fourier only: f(x) = scale * sum_n (cosine[n] cos n x + sine[n] sin n x); index 0 unused.
     * A sinusoidal shape has sine[1] = -1. */
    double cosine[HP_BACKEMF_HARMONICS + 1];
    double sine[HP_BACKEMF_HARMONICS + 1];
    double scale; /* Fourier only: set by hp_backemf_normalise so that max |f| = 1 */
} hp_backemf;

/* Sinusoidal, the shape with nothing to choose. */
hp_backemf hp_backemf_sinusoidal(void);
/* Trapezoidal with this flat width [rad]. */
hp_backemf hp_backemf_trapezoidal(double flat_rad);

/* HP_FAIL_INPUT naming the field when a value is outside the ranges above, not finite, when a
 * series is all zero or not normalised, or when its fundamental is below a hundredth of its largest
 * harmonic (no six-step drive can turn such a motor). */
hp_result hp_backemf_check(const hp_backemf *backemf, hp_error *err);

/* Sets `scale` of a Fourier shape so that its largest magnitude over a turn is 1. */
void hp_backemf_normalise(hp_backemf *backemf);

/* f(x) for x in radians, any x. Unit amplitude, dimensionless. */
double hp_backemf_value(const hp_backemf *backemf, double x);

/* Pair of leads driven against each other at rotor angle theta: f(theta - axis_high) -
 * f(theta - axis_low). Times ke it is the line back-EMF per rad/s and the torque per ampere. */
double hp_backemf_pair(const hp_backemf *backemf, int high, int low, double theta);

/* What a meter between two leads sees over a turn, per unit of ke times rotor speed. */
typedef struct hp_backemf_line {
    double peak;
    double rms;
    double average; /* of the rectified wave */
} hp_backemf_line;

/* The line shape f_U - f_V over `points` equal steps of a turn, multiples of twelve so that every
 * shape's symmetry is met. A trapezoid's corners fall between points: with 360 of them the rms is
 * off by up to 4e-4, with 7200 by 1e-6. */
hp_backemf_line hp_backemf_line_over(const hp_backemf *backemf, int points);

/* Mean of hp_backemf_pair over theta in [from, to], to > from; in closed form for every shape. */
double hp_backemf_pair_mean(const hp_backemf *backemf, int high, int low, double from, double to);

/* Rms of hp_backemf_pair over a turn. Times ke and the root of the sum of the three phases' mean
 * square currents it is the most mean torque that such currents can give (Cauchy and Schwarz). In
 * closed form for every shape. */
double hp_backemf_pair_rms(const hp_backemf *backemf);

/* The angles x in [0, 2 pi) at which the slope of f jumps: 4 for a trapezoid, 0 otherwise.
 * Writes them in increasing order into corners[4] and returns their number. */
int hp_backemf_corners(const hp_backemf *backemf, double corners[4]);

HP_API_END

#endif
