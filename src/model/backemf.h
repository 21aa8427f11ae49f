/*
 * What the shape of the back-EMF comes to: of one phase, and between two leads.
 */
#ifndef HUBPHASE_MODEL_BACKEMF_H
#define HUBPHASE_MODEL_BACKEMF_H

#include "hubphase/model/motor.h"

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

#endif
