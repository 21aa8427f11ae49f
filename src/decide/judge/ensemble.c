/*
 * Ensemble: see the header.
 *
 * The hypercube needs a random permutation of 0 .. count - 1 a dimension. Instead of shuffling an
 * array, a four-round Feistel network over the next even power of two permutes single numbers, and
 * results past the end are sent through again ("cycle walking", Black & Rogaway, CT-RSA 2002; from
 * memory). So a draw costs the same for any count and nothing is stored.
 */
#include "decide/judge/ensemble.h"

#include "base/elementary.h"
#include "base/random.h"
#include "hubphase/decide/spread.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

hp_variation_params hp_variation_default(void)
{
    return (hp_variation_params){
        .resistance_ratio = 0.15,       /* chosen: winding and its leads, meter on two points */
        .inductance_ratio = 0.30,       /* chosen: rarely on a label, varies with saturation */
        .ke_ratio = 0.08,               /* chosen: magnets and labels of a kind */
        .flat_rad = 15.0 * HP_DEG,      /* chosen: between a rounder and a squarer wave */
        .friction_ratio = 0.60,         /* chosen: seals, grease and iron loss differ most */
        .breakaway_ratio = 0.50,        /* chosen: the same */
        .viscous_ratio = 0.60,          /* chosen: the same */
        .inertia_ratio = 0.25,          /* chosen: other rims and tyres */
        .common_rad = 5.0 * HP_DEG,     /* chosen: a carrier glued a little off */
        .individual_rad = 3.0 * HP_DEG, /* chosen: play of a sensor in its slot */
        .hysteresis_ratio = 0.60,       /* chosen: sensor types and air gaps */
        .cogging_ratio = 1.0,           /* chosen: half to double */
        .cogging_phase_rad = HP_PI,     /* any */
        .battery_ratio = 0.08,          /* chosen: empty to full is somewhat wider still */
        .battery_ohm_ratio = 0.50,      /* chosen: age and cold */
        .winding_k = 10.0,              /* chosen: workshops, and a motor just run */
        .limit_ratio = 0.20,            /* chosen: shunts of cheap controllers */
    };
}

hp_variation_params hp_variation_none(void)
{
    return (hp_variation_params){0};
}

hp_result hp_variation_check(const hp_variation_params *v, hp_error *err)
{
    const struct {
        const char *field;
        double value, high;
    } width[] = {
        {"resistance_ratio", v->resistance_ratio, 10.0},
        {"inductance_ratio", v->inductance_ratio, 10.0},
        {"ke_ratio", v->ke_ratio, 10.0},
        {"flat_deg", v->flat_rad, HP_PI},
        {"friction_ratio", v->friction_ratio, 10.0},
        {"breakaway_ratio", v->breakaway_ratio, 10.0},
        {"viscous_ratio", v->viscous_ratio, 10.0},
        {"inertia_ratio", v->inertia_ratio, 10.0},
        {"common_deg", v->common_rad, 30.0 * HP_DEG},
        {"individual_deg", v->individual_rad, 30.0 * HP_DEG},
        {"hysteresis_ratio", v->hysteresis_ratio, 10.0},
        {"cogging_ratio", v->cogging_ratio, 10.0},
        {"cogging_phase_deg", v->cogging_phase_rad, HP_PI},
        {"battery_ratio", v->battery_ratio, 1.0},
        {"battery_ohm_ratio", v->battery_ohm_ratio, 10.0},
        {"winding_k", v->winding_k, 60.0},
        {"limit_ratio", v->limit_ratio, 10.0},
    };
    for (size_t k = 0; k < sizeof width / sizeof width[0]; k++)
        if (!(width[k].value >= 0.0 && width[k].value <= width[k].high * (1.0 + 1e-12)))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "variation.%s has the half width %g, must be 0 to %g",
                                width[k].field, width[k].value, width[k].high);
    return HP_OK;
}

/* ---- Latin hypercube ------------------------------------------------------------------------- */

static uint64_t hash(uint64_t seed, uint64_t value)
{
    hp_random random = hp_random_init(seed, value);
    return hp_random_bits(&random);
}

/* A random permutation of 0 .. 4^half_bits - 1. */
static uint64_t feistel(uint64_t key, uint64_t value, int half_bits)
{
    uint64_t mask = ((uint64_t)1 << half_bits) - 1;
    uint64_t left = value >> half_bits, right = value & mask;
    for (uint64_t round = 0; round < 4; round++) {
        uint64_t mixed = left ^ (hash(key + round, right) & mask);
        left = right;
        right = mixed;
    }
    return left << half_bits | right;
}

/* Place of `index` in the random order of dimension and count. */
static uint64_t permuted(uint64_t key, uint64_t index, uint64_t count)
{
    int half_bits = 1;
    while ((uint64_t)1 << (2 * half_bits) < count)
        half_bits++;
    uint64_t place = index;
    do
        place = feistel(key, place, half_bits);
    while (place >= count);
    return place;
}

double hp_ensemble_unit(uint64_t seed, int dimension, int index, int count)
{
    assert(count >= 1 && count <= HP_ENSEMBLE_MAX && index >= 0 && index < count);
    uint64_t key = hash(seed, (uint64_t)dimension);
    double place = (double)permuted(key, (uint64_t)index, (uint64_t)count);
    hp_random jitter = hp_random_init(key ^ 0x5bf03635u, (uint64_t)index);
    double unit = (place + hp_random_unit(&jitter)) / count;
    /* The sum may round up to the next part's edge; stay below one. */
    return unit < 1.0 ? unit : 1.0 - 0x1.0p-53;
}

/* ---- drawing --------------------------------------------------------------------------------- */

static double factor(double unit, double ratio)
{
    return hp_exponential((2.0 * unit - 1.0) * hp_logarithm(1.0 + ratio));
}

static double offset(double unit, double half_width)
{
    return (2.0 * unit - 1.0) * half_width;
}

static double clamp(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

static void vary_friction(hp_friction *f, const hp_variation_params *v, const double *unit)
{
    double above =
        (f->breakaway_nm - f->coulomb_nm) * factor(unit[HP_VARY_BREAKAWAY], v->breakaway_ratio);
    double scale = factor(unit[HP_VARY_FRICTION], v->friction_ratio);
    f->coulomb_nm *= scale;
    f->breakaway_nm = f->coulomb_nm + scale * above;
    f->viscous_nm_s_rad *= factor(unit[HP_VARY_VISCOUS], v->viscous_ratio);
}

static void vary_motor(hp_motor_params *m, const hp_variation_params *v, const double *unit)
{
    m->resistance_ohm *= factor(unit[HP_VARY_RESISTANCE], v->resistance_ratio);
    m->inductance_h *= factor(unit[HP_VARY_INDUCTANCE], v->inductance_ratio);
    m->ke *= factor(unit[HP_VARY_KE], v->ke_ratio);
    if (m->backemf.kind == HP_BACKEMF_TRAPEZOIDAL) {
        /* Kept off the ends, where the flat or the flank would vanish, unless it began there. */
        double low = fmin(m->backemf.flat_rad, 5.0 * HP_DEG);
        double high = fmax(m->backemf.flat_rad, 175.0 * HP_DEG);
        m->backemf.flat_rad =
            clamp(m->backemf.flat_rad + offset(unit[HP_VARY_FLAT], v->flat_rad), low, high);
    }
    m->rotor_inertia_kg_m2 *= factor(unit[HP_VARY_INERTIA], v->inertia_ratio);
    m->cogging_nm *= factor(unit[HP_VARY_COGGING], v->cogging_ratio);
    m->cogging_phase_rad += offset(unit[HP_VARY_COGGING_PHASE], v->cogging_phase_rad);
    m->winding_c = clamp(m->winding_c + offset(unit[HP_VARY_WINDING], v->winding_k), -40.0, 200.0);
}

double hp_vary_width(const hp_variation_params *v, hp_vary vary)
{
    switch (vary) {
    case HP_VARY_RESISTANCE: return v->resistance_ratio;
    case HP_VARY_INDUCTANCE: return v->inductance_ratio;
    case HP_VARY_KE: return v->ke_ratio;
    case HP_VARY_FLAT: return v->flat_rad;
    case HP_VARY_FRICTION: return v->friction_ratio;
    case HP_VARY_BREAKAWAY: return v->breakaway_ratio;
    case HP_VARY_VISCOUS: return v->viscous_ratio;
    case HP_VARY_INERTIA: return v->inertia_ratio;
    case HP_VARY_COMMON: return v->common_rad;
    case HP_VARY_SENSOR_U:
    case HP_VARY_SENSOR_V:
    case HP_VARY_SENSOR_W: return v->individual_rad;
    case HP_VARY_HYSTERESIS: return v->hysteresis_ratio;
    case HP_VARY_COGGING: return v->cogging_ratio;
    case HP_VARY_COGGING_PHASE: return v->cogging_phase_rad;
    case HP_VARY_BATTERY: return v->battery_ratio;
    case HP_VARY_BATTERY_OHM: return v->battery_ohm_ratio;
    case HP_VARY_WINDING: return v->winding_k;
    case HP_VARY_LIMIT: return v->limit_ratio;
    case HP_VARY_COUNT: break;
    }
    return 0.0;
}

hp_drive hp_ensemble_draw(const hp_drive *nominal, const hp_variation_params *v, uint64_t seed,
                          int index, int count)
{
    double unit[HP_VARY_COUNT];
    for (int k = 0; k < HP_VARY_COUNT; k++)
        unit[k] = hp_ensemble_unit(seed, k, index, count);
    hp_drive d = *nominal;
    vary_motor(&d.motor, v, unit);

    vary_friction(&d.stand.rotor, v, unit);
    vary_friction(&d.stand.wheel, v, unit);
    d.stand.wheel_inertia_kg_m2 *= factor(unit[HP_VARY_INERTIA], v->inertia_ratio);

    double common = offset(unit[HP_VARY_COMMON], v->common_rad);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double place = d.sensors.placement_rad[k] + common +
                       offset(unit[HP_VARY_SENSOR_U + k], v->individual_rad);
        d.sensors.placement_rad[k] = clamp(place, -30.0 * HP_DEG, 30.0 * HP_DEG);
    }
    d.sensors.hysteresis_rad =
        clamp(d.sensors.hysteresis_rad * factor(unit[HP_VARY_HYSTERESIS], v->hysteresis_ratio), 0.0,
              20.0 * HP_DEG);

    /* A battery below the controller's cut-off would not be the drive of this check any more. */
    double floor_v = fmin(d.supply.emf_v, 1.01 * d.controller.undervoltage_v);
    d.supply.emf_v =
        clamp(d.supply.emf_v * factor(unit[HP_VARY_BATTERY], v->battery_ratio), floor_v, 200.0);
    d.supply.resistance_ohm *= factor(unit[HP_VARY_BATTERY_OHM], v->battery_ohm_ratio);
    double limit = factor(unit[HP_VARY_LIMIT], v->limit_ratio);
    d.controller.battery_limit_a *= limit;
    d.controller.phase_limit_a *= limit;
    return d;
}
