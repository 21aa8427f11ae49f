/*
 * Ensemble: plausible motors around a nominal one.
 *
 * What a label or a quick measurement leaves open is varied: each quantity has a half width, and a
 * seeded Latin hypercube (McKay, Beckman & Conover, Technometrics 21(2):239-245, 1979; from memory)
 * spreads `count` drives evenly over every one of them. Draw number `index` depends on seed, index
 * and count alone, so drives can be drawn in any order and on any thread.
 */
#ifndef HUBPHASE_DECIDE_ENSEMBLE_H
#define HUBPHASE_DECIDE_ENSEMBLE_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/drive.h"

#include <stdint.h>

HP_API_BEGIN

#define HP_ENSEMBLE_MAX 1000000 /* largest count */

/* Half widths. A ratio r >= 0 varies its quantity by a factor between 1 / (1 + r) and 1 + r, evenly
 * in the logarithm, so that a quantity that is zero stays zero. An angle or temperature varies
 * evenly within +- its half width. Zero keeps the nominal value. */
typedef struct hp_variation_params {
    double resistance_ratio; /* winding, one phase */
    double inductance_ratio;
    double ke_ratio;          /* back-EMF constant */
    double flat_rad;          /* [rad electrical] width of a trapezoid's flat */
    double friction_ratio;    /* Coulomb and breakaway together, rotor and wheel */
    double breakaway_ratio;   /* what breakaway has above Coulomb */
    double viscous_ratio;     /* rotor and wheel */
    double inertia_ratio;     /* rotor and wheel */
    double common_rad;        /* [rad electrical] displacement of the sensor carrier */
    double individual_rad;    /* [rad electrical] displacement of each sensor on it */
    double hysteresis_ratio;  /* sensors */
    double cogging_ratio;     /* amplitude */
    double cogging_phase_rad; /* [rad] */
    double battery_ratio;     /* EMF */
    double battery_ohm_ratio; /* internal resistance */
    double winding_k;         /* [K] copper temperature */
    double limit_ratio;       /* battery-current and phase-current limits */
} hp_variation_params;

/* An unknown specimen of a known kind; every width is a chosen one, reasons in the source. */
hp_variation_params hp_variation_default(void);
/* All widths zero: every draw is the nominal drive. */
hp_variation_params hp_variation_none(void);
/* HP_FAIL_INPUT naming the field when a width is negative, too wide or not finite. */
hp_result hp_variation_check(const hp_variation_params *variation, hp_error *err);

/* What varies, one dimension of the hypercube each. The order is part of what a seed means: a new
 * one goes at the end. */
typedef enum hp_vary {
    HP_VARY_RESISTANCE,
    HP_VARY_INDUCTANCE,
    HP_VARY_KE,
    HP_VARY_FLAT,
    HP_VARY_FRICTION,
    HP_VARY_BREAKAWAY,
    HP_VARY_VISCOUS,
    HP_VARY_INERTIA,
    HP_VARY_COMMON,
    HP_VARY_SENSOR_U,
    HP_VARY_SENSOR_V,
    HP_VARY_SENSOR_W,
    HP_VARY_HYSTERESIS,
    HP_VARY_COGGING,
    HP_VARY_COGGING_PHASE,
    HP_VARY_BATTERY,
    HP_VARY_BATTERY_OHM,
    HP_VARY_WINDING,
    HP_VARY_LIMIT,
    HP_VARY_COUNT
} hp_vary;

/* Half width that a variation gives this dimension, in the unit of its field. */
double hp_vary_width(const hp_variation_params *variation, hp_vary vary);

/* Drive number index (0 .. count - 1) of the ensemble. A nominal drive that passes its check gives
 * drives that pass: angles are kept within their allowed range. */
hp_drive hp_ensemble_draw(const hp_drive *nominal, const hp_variation_params *variation,
                          uint64_t seed, int index, int count);

/* One coordinate of a Latin hypercube: among index 0 .. count - 1 exactly one value falls into each
 * of the `count` equal parts of [0, 1). Coordinates of different dimensions are independent. */
double hp_ensemble_unit(uint64_t seed, int dimension, int index, int count);

HP_API_END

#endif
