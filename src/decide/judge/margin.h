/*
 * Margin: how far the figures of a wiring stand from another verdict.
 *
 * Each threshold of a verdict is a ratio, so distance is the magnitude of the logarithm of figure
 * over threshold: 0.69 means a factor of two. The margin is the least distance by which figures
 * would have to move for the verdict to change:
 *
 * - correct, reverse: the nearest threshold of any run, for one run that fails is enough; how near
 *   another wiring that turns the same way comes is left out;
 * - rough by comparison: how far the current times speed must fall;
 * - rough: either every run comes within every threshold, so the farthest of those broken counts,
 *   or so many runs cease to turn that too few do; the nearer of the two ways;
 * - stalled: so many runs begin to turn that enough do. A rotor that turned before it came to a
 *   stand was as near to turning as can be;
 * - either of them, where some runs turn and some do not: their share; none at all where one run
 *   more or less would change the verdict.
 */
#ifndef HUBPHASE_DECIDE_JUDGE_MARGIN_H
#define HUBPHASE_DECIDE_JUDGE_MARGIN_H

#include "hubphase/decide/verdict.h"

/* Margin of a judgement of these runs. An undecided one has none. */
hp_margin hp_margin_of(const hp_figures *run, int count, const hp_judgement *judgement,
                       const hp_thresholds *thresholds);

/* Distance of a wiring's mean figures from the nearer bound between early, late and neither: the
 * log ratio of the field's angle to it; INFINITY where torque alternates or no current flows. */
hp_margin hp_margin_of_kind(const hp_figures *mean, const hp_thresholds *thresholds);

#endif
