/*
 * Elementary functions of which the simulation takes the same bits everywhere.
 *
 * IEEE 754 fixes + - * /, the square root, fmod and remainder to the last bit, but not these: C
 * libraries differ in their last bits, and one library does between processors with and without
 * fused multiply-add. A rough wiring makes anything of a last bit, so what model and sim compute,
 * and the motors that an ensemble draws, comes from here and from sine.h (tests/layers.sh). None
 * is for an inner loop. Errors are a few roundings (tests/test_elementary.c).
 */
#ifndef HUBPHASE_SRC_BASE_ELEMENTARY_H
#define HUBPHASE_SRC_BASE_ELEMENTARY_H

/* e to the x; any x. */
double hp_exponential(double x);

/* Natural logarithm; any x. */
double hp_logarithm(double x);

/* Direction of the point (x, y), -pi .. pi: as atan2, but for the signs of zeros; 0 of (0, 0). */
double hp_direction_of(double y, double x);

/* Hyperbolic tangent; any x. */
double hp_hyperbolic_tangent(double x);

/* x to the -1/5, for x of 1e-300 and above; 0 beyond 1e300. */
double hp_inverse_fifth_root(double x);

#endif
