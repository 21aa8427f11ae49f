/*
 * Parts of the reference's fast drive: classical Runge-Kutta with long steps aimed at the next
 * event.
 *
 * Between events the mode is fixed, so that the right-hand side needs no branch: each lead's
 * voltage is (gain_duty duty + gain_one) V_bus + offset, masked by whether it conducts; a trapezoid
 * is a straight line between its corners; friction is a constant plus a slope. These coefficients
 * form a segment, made ready once an event.
 *
 * Every guard is positive inside the mode. Its root is foretold from value and slope, the slope
 * exact where it is a component of the derivative and a secant otherwise; the step is cut to end
 * AIM_S past the root. A root that was passed by more is approached again from beyond with a short
 * step back, which costs less than doing the long step anew.
 *
 * Integrals for the figures: Simpson's rule, the state in the middle from the cubic Hermite
 * interpolant of the step.
 */
#ifndef HUBPHASE_TESTS_REFERENCE_FAST_H
#define HUBPHASE_TESTS_REFERENCE_FAST_H

#include "reference_parts.h"

#include <math.h>

#define AIM_S       1e-12 /* [s] an event is placed this far past its root, at most twice this */
#define CORNERS_MAX (4 * HP_PHASE_COUNT)

enum {
    G_AHEAD, /* the next angle at which something changes */
    G_BEHIND,
    G_DIODE,                            /* one a lead */
    G_FLOAT = G_DIODE + HP_PHASE_COUNT, /* one a lead, or the first one for a pair */
    G_MOVE = G_FLOAT + HP_PHASE_COUNT,
    G_HOLD_HIGH,
    G_HOLD_LOW,
    G_CLUTCH,
    G_WHEEL,
    G_DUTY_HIGH,
    G_DUTY_LOW,
    G_VOLTAGE,
    G_RAMP,   /* kinks: the limiter takes over from the ramp, */
    G_LARGER, /* the other current is the larger one, */
    G_SIGN,   /* a current under limit changes sign (one a lead) */
    G_COUNT = G_SIGN + HP_PHASE_COUNT
};

typedef struct ref_segment {
    double on[HP_PHASE_COUNT]; /* 1: conducts, 0: not */
    double gain_duty[HP_PHASE_COUNT];
    double gain_one[HP_PHASE_COUNT];
    double offset[HP_PHASE_COUNT]; /* [V] */
    double ohm[HP_PHASE_COUNT];
    double inverse_n; /* 1 / leads that conduct; 0 when fewer than two */
    double shape_base[HP_PHASE_COUNT];
    double shape_slope[HP_PHASE_COUNT];
    double corner_low;    /* [rad] where shape_base holds */
    double ahead, behind; /* [rad] the mode holds for angles between these */
    double rotor_constant, rotor_viscous, rotor_inverse;
    double wheel_constant, wheel_viscous, wheel_inverse, wheel_share;
    int conducting;
    double ramp_side, larger_side; /* signs by which the kinks' guards are positive here; 0: none */
    double current_side[HP_PHASE_COUNT];
} ref_segment;

typedef struct ref_side {
    double emf[HP_PHASE_COUNT];
    double star, bus, battery, torque, shaft;
} ref_side;

typedef struct ref_fast {
    ref_plant plant;
    ref_mode mode;
    ref_segment s;
    ref_meter meter;
    ref_log log;
    const hp_run_options *options;
    hp_figures *figures;
    bool metering;
    bool closed; /* the controller has cut out: figures are ready */
    bool trapezoid, sinusoid, cogging;
    double per_henry, per_filter;      /* reciprocals: a division costs as much as ten products */
    double horizon;                    /* [s] roots farther than this are not worked out */
    double ramp, limiter;              /* [1/s]; INFINITY: none */
    double battery_share, phase_share; /* 1 / limit, 0: none */
    double t;
    double x[X_COUNT];
    double d[X_COUNT];
    ref_side now;
    double old[G_COUNT];
    double old_slope[G_COUNT];
    double old_step;   /* [s] step that led from `old` to here; 0: the segment has just begun */
    double begun;      /* [s] when the segment began */
    double soonest;    /* [s] time from here to the next event; negative: passed */
    double q[Q_COUNT]; /* integrands here */
    bool q_known;
    long steps, rhs, edges, switches;
    int way;             /* sense in which the rotor moved last; 0: not yet */
    int corners, corner; /* number of intervals between corners in a turn, and the present one */
    double turn;         /* [rad] whole turns to add to corner angles */
    double corner_angle[CORNERS_MAX + 1]; /* [rad] ascending, the first one again a turn later */
    double base[CORNERS_MAX][HP_PHASE_COUNT];
    double slope[CORNERS_MAX][HP_PHASE_COUNT];
} ref_fast;

/* The smaller one; neither is expected to be a NAN that matters. */
static inline double ref_least(double a, double b)
{
    return a < b ? a : b;
}

static inline void ref_fast_shapes(const ref_fast *r, double theta, double f[HP_PHASE_COUNT])
{
    const ref_segment *s = &r->s;
    if (r->trapezoid) {
        double along = theta - s->corner_low;
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            f[k] = s->shape_base[k] + s->shape_slope[k] * along;
    } else if (r->sinusoid) {
        double sine = sin(theta), cosine = 0.5 * sqrt(3.0) * cos(theta);
        f[0] = -sine;
        f[1] = 0.5 * sine + cosine;
        f[2] = 0.5 * sine - cosine;
    } else {
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            f[k] = ref_shape(&r->plant.drive->motor.backemf, theta - k * HP_TWO_PI / 3.0);
    }
}

static inline double ref_fast_limiter_rate(const ref_fast *r, const double x[X_COUNT])
{
    double battery = x[X_BATTERY_FILTER] * r->battery_share;
    double phase = x[X_PHASE_FILTER] * r->phase_share;
    double ratio = battery > phase ? battery : phase;
    return r->limiter * (1.0 - (ratio > 0.0 ? ratio : 0.0));
}

/* Derivative and the quantities it comes from. */
static inline void ref_fast_derive(const ref_fast *r, const double x[X_COUNT], double d[X_COUNT],
                                   ref_side *o)
{
    const ref_segment *s = &r->s;
    const ref_plant *plant = &r->plant;
    double f[HP_PHASE_COUNT], gain[HP_PHASE_COUNT], drop[HP_PHASE_COUNT];
    double w = x[X_SPEED], duty = x[X_DUTY];
    ref_fast_shapes(r, x[X_THETA], f);
    o->battery = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        gain[k] = s->gain_duty[k] * duty + s->gain_one[k];
        o->battery += gain[k] * x[k];
    }
    o->bus = plant->emf - plant->battery_ohm * o->battery;
    double torque = 0.0, sum = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        o->emf[k] = plant->ke * w * f[k];
        torque += f[k] * x[k];
        drop[k] = s->on[k] * (gain[k] * o->bus + s->offset[k] - s->ohm[k] * x[k] - o->emf[k]);
        sum += drop[k];
    }
    o->torque = plant->ke * torque;
    o->star = sum * s->inverse_n;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        d[k] = s->on[k] * (drop[k] - o->star) * r->per_henry;
    o->shaft = o->torque;
    const hp_motor_params *motor = &plant->drive->motor;
    if (r->cogging)
        o->shaft +=
            motor->cogging_nm * sin(motor->cogging_order * x[X_THETA] + motor->cogging_phase_rad);
    d[X_THETA] = plant->pole_pairs * w;
    if (plant->smooth > 0.0) {
        ref_accelerate(plant, &r->mode, x, o->shaft, d);
    } else {
        d[X_SPEED] = (o->shaft - s->rotor_constant - s->rotor_viscous * w) * s->rotor_inverse;
        d[X_WHEEL] = s->wheel_share * d[X_SPEED] -
                     (s->wheel_constant + s->wheel_viscous * x[X_WHEEL]) * s->wheel_inverse;
    }
    d[X_DUTY] = ref_duty_moves(&r->mode) ? ref_least(r->ramp, ref_fast_limiter_rate(r, x)) : 0.0;
    d[X_BATTERY_FILTER] = (o->battery - x[X_BATTERY_FILTER]) * r->per_filter;
    d[X_PHASE_FILTER] =
        (0.5 * (fabs(x[0]) + fabs(x[1]) + fabs(x[2])) - x[X_PHASE_FILTER]) * r->per_filter;
}

/* Makes ready what holds for the whole run (reference_segment.c). */
void ref_fast_prepare(ref_fast *r);
/* Makes the segment that begins here and the derivative at its start. */
void ref_fast_begin_segment(ref_fast *r);
/* Chooses the kinks to look for in the segment that begins here (reference_aim.c). */
void ref_fast_choose_kinks(ref_fast *r);
/* Finds the time to the next event other than a known one; negative: passed. Once a state. */
void ref_fast_aim(ref_fast *r);

#endif
