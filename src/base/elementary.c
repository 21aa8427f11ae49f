/* Elementary functions with the same bits everywhere: see the header. */
#include "base/elementary.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* log 2 in two parts, of which the first ends in zeros, so that its multiples are exact (Cody &
 * Waite, Software Manual for the Elementary Functions, 1980, ch. 6; from memory). */
#define LOG2_HEAD 0x1.62e42fee00000p-1
#define LOG2_TAIL 0x1.a39ef35793c76p-33

#define QUARTER_TURN 1.57079632679489661923

/* The Taylor series to x^14, whose next term is 1e-19 at half of log 2. */
double hp_exponential(double x)
{
    if (!(x < 709.0))
        return isnan(x) ? x : (double)INFINITY;
    if (x < -745.0)
        return 0.0;
    double n = floor(x / 0.69314718055994530942 + 0.5);
    double r = (x - n * LOG2_HEAD) - n * LOG2_TAIL, sum = 1.0;
    for (int k = 14; k >= 1; k--)
        sum = 1.0 + sum * r / k;
    return ldexp(sum, (int)n);
}

/* 2 artanh of (m - 1) / (m + 1), m within a square root of 2 of 1; the series' next term is 1e-19.
 */
double hp_logarithm(double x)
{
    if (x == 0.0)
        return -(double)INFINITY;
    if (!(x > 0.0 && x < (double)INFINITY))
        return x > 0.0 ? x : (double)NAN;
    int exponent;
    double m = frexp(x, &exponent);
    if (m < 0.70710678118654752440) {
        m *= 2.0;
        exponent--;
    }
    double s = (m - 1.0) / (m + 1.0), s2 = s * s, sum = 0.0;
    for (int k = 23; k >= 3; k -= 2)
        sum = s2 * (1.0 / k + sum);
    double rest = exponent * LOG2_TAIL + 2.0 * s * sum;
    return exponent * LOG2_HEAD + (2.0 * s + rest);
}

/* The angle of a slope of 0 .. 1: halved twice, by tan(a/2) = t / (1 + sqrt(1 + t^2)), then its
 * series to t^21, whose next term is 1e-18 of it. */
static double arc_tangent(double t)
{
    for (int k = 0; k < 2; k++)
        t /= 1.0 + sqrt(1.0 + t * t);
    double t2 = t * t, sum = 0.0;
    for (int k = 21; k >= 3; k -= 2)
        sum = t2 * (1.0 / k - sum);
    return 4.0 * (t - t * sum);
}

double hp_direction_of(double y, double x)
{
    double a = fabs(x), b = fabs(y);
    if (b == 0.0)
        return x < 0.0 ? 2.0 * QUARTER_TURN : 0.0;
    double angle = b <= a ? arc_tangent(b / a) : QUARTER_TURN - arc_tangent(a / b);
    if (x < 0.0)
        angle = 2.0 * QUARTER_TURN - angle;
    return y < 0.0 ? -angle : angle;
}

/* Small: sine over cosine, by their series to x^13 and x^12. */
double hp_hyperbolic_tangent(double x)
{
    double x2 = x * x, sine = 1.0, cosine = 1.0;
    if (x2 > 0.125) {
        double falling = hp_exponential(-2.0 * fabs(x)), value = (1.0 - falling) / (1.0 + falling);
        return x < 0.0 ? -value : value;
    }
    for (int k = 12; k >= 2; k -= 2) {
        sine = 1.0 + sine * x2 / (k * (k + 1));
        cosine = 1.0 + cosine * x2 / (k * (k - 1));
    }
    return x * sine / cosine;
}

/* Newton's method for y^-5 = x. The bits of a double grow nearly as its logarithm, so a fifth of
 * them, taken from a constant, is a start within 4 %; each round leaves three times the error's
 * square. */
double hp_inverse_fifth_root(double x)
{
    if (!(x <= 1e300))
        return isnan(x) ? x : 0.0;
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    bits = UINT64_C(0x4cb8a8c154c98400) - bits / 5;
    double y;
    memcpy(&y, &bits, sizeof y);
    for (int k = 0; k < 4; k++) {
        double y2 = y * y;
        y += 0.2 * y * (1.0 - x * y * y2 * y2);
    }
    return y;
}
