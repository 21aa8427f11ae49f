/*
 * Ensemble: plausible motors around a nominal one.
 *
 * What a label or a quick measurement leaves open is varied: each quantity has a half width, and a
 * seeded Latin hypercube (McKay, Beckman & Conover, Technometrics 21(2):239-245, 1979; from memory)
 * spreads `count` drives evenly over every one of them. Draw number `index` depends on seed, index
 * and count alone, so drives can be drawn in any order and on any thread.
 */
#ifndef HUBPHASE_DECIDE_JUDGE_ENSEMBLE_H
#define HUBPHASE_DECIDE_JUDGE_ENSEMBLE_H

#include "hubphase/decide/spread.h"
#include "hubphase/model/drive.h"

#include <stdint.h>

#define HP_ENSEMBLE_MAX 1000000 /* largest count */

/* Half width that a variation gives this dimension, in the unit of its field. */
double hp_vary_width(const hp_variation_params *variation, hp_vary vary);

/* Drive number index (0 .. count - 1) of the ensemble. A nominal drive that passes its check gives
 * drives that pass: angles are kept within their allowed range. */
hp_drive hp_ensemble_draw(const hp_drive *nominal, const hp_variation_params *variation,
                          uint64_t seed, int index, int count);

/* One coordinate of a Latin hypercube: among index 0 .. count - 1 exactly one value falls into each
 * of the `count` equal parts of [0, 1). Coordinates of different dimensions are independent. */
double hp_ensemble_unit(uint64_t seed, int dimension, int index, int count);

#endif
