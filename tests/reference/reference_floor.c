/*
 * Fast drive of the reference: classical Runge-Kutta with long steps aimed at the next event.
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
#include "reference_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define AIM_S       1e-10 /* [s] an event is placed this far past its root, at most twice this */
#define SHORT_S     3e-7  /* [s] a step as short as this needs two stages only */
#define TRIES       12    /* approaches to one root before it is taken as it is */
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
    G_COUNT
};

typedef struct segment {
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
} segment;

typedef struct side {
    double emf[HP_PHASE_COUNT];
    double star, bus, battery, torque, shaft;
} side;

typedef struct fast {
    ref_plant plant;
    ref_mode mode;
    segment s;
    ref_meter meter;
    ref_log log;
    const hp_run_options *options;
    hp_figures *figures;
    bool metering;
    bool closed; /* the controller has cut out: figures are ready */
    bool trapezoid, sinusoid, cogging;
    double t;
    double x[X_COUNT];
    double d[X_COUNT];
    side now;
    double old[G_COUNT];
    double old_slope[G_COUNT];
    double old_step;   /* [s] step that led from `old` to here; 0: the segment has just begun */
    double soonest;    /* [s] time from here to the next event; negative: passed */
    double q[Q_COUNT]; /* integrands here */
    bool q_known;
    long steps, rhs, edges, switches;
    int corners, corner; /* number of intervals between corners in a turn, and the present one */
    double turn;         /* [rad] whole turns to add to corner angles */
    double corner_angle[CORNERS_MAX + 1]; /* [rad] ascending, the first one again a turn later */
    double base[CORNERS_MAX][HP_PHASE_COUNT];
    double slope[CORNERS_MAX][HP_PHASE_COUNT];
} fast;

/* --- right-hand side --- */

static inline void shapes(const fast *r, double theta, double f[HP_PHASE_COUNT])
{
    const segment *s = &r->s;
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

static inline void derive(const fast *r, const double x[X_COUNT], double d[X_COUNT], side *o)
{
    const segment *s = &r->s;
    const ref_plant *plant = &r->plant;
    double f[HP_PHASE_COUNT], gain[HP_PHASE_COUNT], drop[HP_PHASE_COUNT];
    double w = x[X_SPEED], duty = x[X_DUTY];
    shapes(r, x[X_THETA], f);
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
        d[k] = s->on[k] * (drop[k] - o->star) / plant->inductance;
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
    d[X_DUTY] = ref_duty_moves(&r->mode) ? ref_duty_rate(plant, x) : 0.0;
    d[X_BATTERY_FILTER] = (o->battery - x[X_BATTERY_FILTER]) / plant->filter_s;
    d[X_PHASE_FILTER] =
        (0.5 * (fabs(x[0]) + fabs(x[1]) + fabs(x[2])) - x[X_PHASE_FILTER]) / plant->filter_s;
}

/* One step of h [s], either sign; r->d holds the derivative at its start. */
static void advance(fast *r, double h, double y[X_COUNT])
{
    double k2[X_COUNT], k3[X_COUNT], k4[X_COUNT], z[X_COUNT];
    const double *x = r->x, *k1 = r->d;
    side unused;
    if (fabs(h) <= SHORT_S) {
        for (int k = 0; k < X_COUNT; k++)
            z[k] = x[k] + 0.5 * h * k1[k];
        derive(r, z, k2, &unused);
        for (int k = 0; k < X_COUNT; k++)
            y[k] = x[k] + h * k2[k];
        r->rhs += 2;
        return;
    }
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + 0.5 * h * k1[k];
    derive(r, z, k2, &unused);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + 0.5 * h * k2[k];
    derive(r, z, k3, &unused);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + h * k3[k];
    derive(r, z, k4, &unused);
    for (int k = 0; k < X_COUNT; k++)
        y[k] = x[k] + h / 6.0 * (k1[k] + 2.0 * (k2[k] + k3[k]) + k4[k]);
    r->rhs += 4;
}

/* --- segments --- */

/* Corners of all three phases in order, and each phase's straight line from one to the next. */
static void find_corners(fast *r)
{
    const hp_backemf *shape = &r->plant.drive->motor.backemf;
    double half = 0.5 * (HP_PI - shape->flat_rad);
    double sorted[CORNERS_MAX];
    int count = 0;
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++)
        for (int k = 0; k < 4; k++) {
            double own = (k / 2) * HP_PI + (k % 2 == 0 ? -half : half);
            double angle = hp_angle_wrap(own + phase * HP_TWO_PI / 3.0);
            int at = count;
            while (at > 0 && sorted[at - 1] > angle) {
                sorted[at] = sorted[at - 1];
                at--;
            }
            sorted[at] = angle;
            count++;
        }
    for (int k = 0; k < count; k++)
        if (r->corners == 0 || sorted[k] - r->corner_angle[r->corners - 1] > 1e-9)
            r->corner_angle[r->corners++] = sorted[k];
    if (r->corner_angle[0] + HP_TWO_PI - r->corner_angle[r->corners - 1] < 1e-9)
        r->corners--;
    r->corner_angle[r->corners] = r->corner_angle[0] + HP_TWO_PI;
    for (int j = 0; j < r->corners; j++) {
        double low = r->corner_angle[j], length = r->corner_angle[j + 1] - low;
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            double axis = k * HP_TWO_PI / 3.0;
            double begin = ref_shape(shape, low - axis);
            r->base[j][k] = begin;
            r->slope[j][k] = (ref_shape(shape, low + length - axis) - begin) / length;
        }
    }
}

/* Moves the present interval between corners to where the rotor is. */
static void follow_corners(fast *r)
{
    double theta = r->x[X_THETA];
    while (theta > r->turn + r->corner_angle[r->corner + 1])
        if (++r->corner == r->corners) {
            r->corner = 0;
            r->turn += HP_TWO_PI;
        }
    while (theta < r->turn + r->corner_angle[r->corner])
        if (--r->corner < 0) {
            r->corner = r->corners - 1;
            r->turn -= HP_TWO_PI;
        }
    memcpy(r->s.shape_base, r->base[r->corner], sizeof r->s.shape_base);
    memcpy(r->s.shape_slope, r->slope[r->corner], sizeof r->s.shape_slope);
    r->s.corner_low = r->turn + r->corner_angle[r->corner];
}

/* The angles on either side at which a sensor toggles, a corner lies or a turn is to be counted. */
static void bound_angle(fast *r)
{
    segment *s = &r->s;
    double theta = r->x[X_THETA];
    const hp_sensors_params *sensors = &r->plant.drive->sensors;
    double half = 0.5 * HP_PI + sensors->hysteresis_rad;
    s->ahead = INFINITY;
    s->behind = -INFINITY;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double middle = k * HP_TWO_PI / 3.0 + sensors->placement_rad[k];
        if (!r->mode.inside[k])
            middle += HP_PI;
        middle += HP_TWO_PI * floor((theta - middle) / HP_TWO_PI + 0.5);
        s->ahead = fmin(s->ahead, middle + half);
        s->behind = fmax(s->behind, middle - half);
    }
    if (r->trapezoid) {
        s->ahead = fmin(s->ahead, r->turn + r->corner_angle[r->corner + 1]);
        s->behind = fmax(s->behind, s->corner_low);
    }
    if (r->metering) {
        s->ahead = fmin(s->ahead, r->meter.up.next * HP_TWO_PI);
        s->behind = fmax(s->behind, r->meter.down.next * HP_TWO_PI);
    }
}

static void prepare_circuit(fast *r)
{
    segment *s = &r->s;
    const ref_plant *plant = &r->plant;
    s->conducting = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        ref_path path = r->mode.path[k];
        bool high = path == PATH_HIGH, upper = path == PATH_UPPER, lower = path == PATH_LOWER;
        bool on = path != PATH_FLOAT && path != PATH_OPEN;
        s->on[k] = on;
        s->conducting += on;
        s->gain_duty[k] = high && !plant->real_pwm;
        s->gain_one[k] = (high && plant->real_pwm) || upper;
        s->offset[k] = upper ? plant->diode_v : lower ? -plant->diode_v : 0.0;
        s->ohm[k] = plant->resistance + (high || path == PATH_LOW ? plant->switch_ohm : 0.0);
    }
    /* A single lead carries nothing but does fix the star point. */
    s->inverse_n = s->conducting > 0 ? 1.0 / s->conducting : 0.0;
}

static void prepare_motion(fast *r)
{
    segment *s = &r->s;
    const ref_plant *plant = &r->plant;
    const ref_mode *mode = &r->mode;
    double g = plant->ratio;
    s->rotor_constant = mode->rotor_way * plant->rotor.coulomb;
    s->rotor_viscous = plant->rotor.viscous;
    s->rotor_inverse = 0.0;
    s->wheel_inverse = 0.0;
    s->wheel_share = mode->linked ? 1.0 / g : 0.0;
    if (mode->linked) {
        s->rotor_constant += (mode->rotor_way * plant->wheel.coulomb + plant->load) / g;
        s->rotor_viscous += plant->wheel.viscous / (g * g);
    }
    if (!mode->rotor_stuck)
        s->rotor_inverse = 1.0 / (mode->linked ? plant->joint_inertia : plant->rotor_inertia);
    if (!mode->linked && !mode->wheel_stuck)
        s->wheel_inverse = 1.0 / plant->wheel_inertia;
    s->wheel_constant = mode->wheel_way * plant->wheel.coulomb + plant->load;
    s->wheel_viscous = plant->wheel.viscous;
}

/* --- aiming --- */

/* Time to the root of a guard [s]: negative when it has been passed, INFINITY when it is not
 * coming. `slope` [per s] is the guard's derivative, NAN stands for the secant; `curve` [per s^2]
 * its second derivative, NAN stands for the change of slope. */
static inline double time_to(fast *r, int id, double g, double slope, double curve)
{
    double past = r->old[id], past_slope = r->old_slope[id];
    bool fresh = r->old_step == 0.0;
    if (isnan(slope)) {
        slope = fresh ? 0.0 : (g - past) / r->old_step;
        curve = 0.0;
    } else if (isnan(curve)) {
        curve = fresh ? 0.0 : (slope - past_slope) / r->old_step;
    }
    r->old[id] = g;
    r->old_slope[id] = slope;
    if (g <= 0.0) {
        if (fresh)
            return g == 0.0 && slope > 0.0 ? INFINITY : -0.0;
        double back = slope < 0.0 ? g / slope : 0.0;
        if (past > 0.0 && r->old_step > 0.0 && !(back > 0.0 && back <= r->old_step))
            back = r->old_step * g / (g - past);
        return -fmin(back, fabs(r->old_step));
    }
    /* Smaller positive root of g + slope t + curve t^2 / 2. */
    double square = slope * slope - 2.0 * curve * g;
    double below = square > 0.0 ? sqrt(square) - slope : 0.0;
    return below > 0.0 ? 2.0 * g / below : INFINITY;
}

static double aim_circuit(fast *r)
{
    double soonest = INFINITY;
    const ref_plant *plant = &r->plant;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        ref_path path = r->mode.path[k];
        if (path == PATH_UPPER)
            soonest = fmin(soonest, time_to(r, G_DIODE + k, -r->x[k], -r->d[k], NAN));
        else if (path == PATH_LOWER)
            soonest = fmin(soonest, time_to(r, G_DIODE + k, r->x[k], r->d[k], NAN));
        if (path != PATH_FLOAT || r->s.conducting == 0)
            continue;
        double v = r->now.star + r->now.emf[k];
        double inside = fmin(r->now.bus + plant->diode_v - v, plant->diode_v + v);
        soonest = fmin(soonest, time_to(r, G_FLOAT + k, inside, NAN, NAN));
    }
    if (r->s.conducting == 0) {
        int lead, pair;
        double excess = ref_float_excess(plant, &r->mode, r->x, &lead, &pair);
        soonest = fmin(soonest, time_to(r, G_FLOAT, -excess, NAN, NAN));
    }
    return soonest;
}

static double aim_motion(fast *r)
{
    const ref_plant *plant = &r->plant;
    const ref_mode *mode = &r->mode;
    const double *x = r->x, *d = r->d;
    double soonest = INFINITY;
    if (mode->rotor_stuck) {
        double low, high;
        ref_hold_range(plant, mode->linked, &low, &high);
        soonest = fmin(soonest, time_to(r, G_HOLD_HIGH, high - r->now.shaft, NAN, NAN));
        soonest = fmin(soonest, time_to(r, G_HOLD_LOW, r->now.shaft - low, NAN, NAN));
    } else if (plant->smooth <= 0.0) {
        int way = mode->rotor_way;
        soonest = fmin(soonest, time_to(r, G_MOVE, way * x[X_SPEED], way * d[X_SPEED], NAN));
    }
    if (!plant->clutch)
        return soonest;
    if (!mode->linked) {
        double lag = plant->ratio * x[X_WHEEL] - x[X_SPEED];
        double slope = plant->ratio * d[X_WHEEL] - d[X_SPEED];
        soonest = fmin(soonest, time_to(r, G_CLUTCH, lag, slope, NAN));
        int way = mode->wheel_way;
        if (!mode->wheel_stuck && plant->smooth <= 0.0)
            soonest = fmin(soonest, time_to(r, G_WHEEL, way * x[X_WHEEL], way * d[X_WHEEL], NAN));
    } else if (!mode->rotor_stuck) {
        double torque = ref_clutch_torque(plant, mode, x, r->now.shaft);
        soonest = fmin(soonest, time_to(r, G_CLUTCH, torque, NAN, NAN));
    }
    return soonest;
}

static double aim_controller(fast *r)
{
    const hp_controller_params *controller = &r->plant.drive->controller;
    double soonest = INFINITY;
    double duty = r->x[X_DUTY], rate = r->d[X_DUTY];
    if (r->mode.cut_out)
        return soonest;
    if (r->mode.duty == DUTY_FREE) {
        soonest = time_to(r, G_DUTY_HIGH, r->plant.target - duty, -rate, NAN);
        soonest = fmin(soonest, time_to(r, G_DUTY_LOW, duty, rate, NAN));
    } else if (controller->battery_limit_a > 0.0 || controller->phase_limit_a > 0.0) {
        double wanted = ref_duty_rate(&r->plant, r->x);
        double inside = r->mode.duty == DUTY_AT_TARGET ? wanted : -wanted;
        soonest = time_to(r, G_DUTY_HIGH, inside, NAN, NAN);
    }
    if (controller->undervoltage_v > 0.0) {
        double above = r->plant.emf - r->plant.battery_ohm * r->x[X_BATTERY_FILTER] -
                       controller->undervoltage_v;
        soonest = fmin(soonest, time_to(r, G_VOLTAGE, above,
                                        -r->plant.battery_ohm * r->d[X_BATTERY_FILTER], NAN));
    }
    return soonest;
}

/* Finds the time to the next event other than a known one; negative: passed. Once a state. */
static void aim(fast *r)
{
    double rate = r->d[X_THETA], curve = r->plant.pole_pairs * r->d[X_SPEED];
    double soonest = time_to(r, G_AHEAD, r->s.ahead - r->x[X_THETA], -rate, -curve);
    soonest = fmin(soonest, time_to(r, G_BEHIND, r->x[X_THETA] - r->s.behind, rate, curve));
    soonest = fmin(soonest, aim_circuit(r));
    soonest = fmin(soonest, aim_motion(r));
    r->soonest = fmin(soonest, aim_controller(r));
}

/* Makes the segment that begins here and the derivative at its start. */
static void begin_segment(fast *r)
{
    if (r->trapezoid)
        follow_corners(r);
    bound_angle(r);
    prepare_circuit(r);
    prepare_motion(r);
    derive(r, r->x, r->d, &r->now);
    r->rhs++;
    r->old_step = 0.0;
    r->q_known = false;
    aim(r);
}

/* --- figures --- */

static void integrands(const fast *r, const double x[X_COUNT], const side *o, double q[Q_COUNT])
{
    ref_view view = {.bus = o->bus, .battery = o->battery, .torque = o->torque, .shaft = o->shaft};
    ref_rates(&r->plant, &r->mode, &r->meter, x, &view, q);
}

/* Adds the step of h from x (derivative d, integrands r->q) to r->x (derivative r->d). */
static void measure(fast *r, const double x[X_COUNT], const double d[X_COUNT], double h)
{
    double middle[X_COUNT], unused[X_COUNT], q_middle[Q_COUNT], q_end[Q_COUNT];
    side o;
    for (int k = 0; k < X_COUNT; k++)
        middle[k] = 0.5 * (x[k] + r->x[k]) + h / 8.0 * (d[k] - r->d[k]);
    derive(r, middle, unused, &o);
    integrands(r, middle, &o, q_middle);
    integrands(r, r->x, &r->now, q_end);
    for (int k = 0; k < Q_COUNT; k++)
        r->meter.sum[k] += h / 6.0 * (r->q[k] + 4.0 * q_middle[k] + q_end[k]);
    memcpy(r->q, q_end, sizeof r->q);
    ref_meter_extremes(&r->meter, middle, o.torque);
    if (ref_duty_moves(&r->mode) && r->d[X_DUTY] < r->plant.drive->controller.ramp_per_s)
        r->meter.limited = true;
}

static void count_turns(fast *r)
{
    double theta = r->x[X_THETA];
    if (theta >= r->meter.up.next * HP_TWO_PI)
        ref_meter_cross(&r->meter, &r->meter.up, r->t, r->meter.sum);
    if (theta <= r->meter.down.next * HP_TWO_PI)
        ref_meter_cross(&r->meter, &r->meter.down, r->t, r->meter.sum);
}

/* --- the run --- */

static void move(fast *r, double h)
{
    double y[X_COUNT], x[X_COUNT], d[X_COUNT];
    advance(r, h, y);
    if (r->metering) {
        if (!r->q_known)
            integrands(r, r->x, &r->now, r->q);
        r->q_known = true;
        ref_meter_extremes(&r->meter, r->x, r->now.torque);
        memcpy(x, r->x, sizeof x);
        memcpy(d, r->d, sizeof d);
    }
    memcpy(r->x, y, sizeof y);
    derive(r, r->x, r->d, &r->now);
    r->t += h;
    r->old_step = h;
    r->steps++;
    r->rhs++;
    if (r->metering)
        measure(r, x, d, h);
    aim(r);
}

/* Figures end when the controller cuts out or the run ends. */
static void close_figures(fast *r)
{
    if (!r->closed)
        ref_meter_finish(r->metering ? &r->meter : NULL, &r->plant, &r->mode, r->options, r->t,
                         r->x, r->figures);
    r->closed = true;
    r->metering = false;
}

static void switch_mode(fast *r)
{
    int code = r->mode.code;
    if (r->metering) {
        ref_meter_extremes(&r->meter, r->x, r->now.torque);
        count_turns(r);
    }
    ref_switch(&r->plant, &r->mode, r->t, r->x, &r->log);
    r->edges += r->metering && r->mode.code != code;
    r->switches++;
    if (r->mode.cut_out)
        close_figures(r);
    begin_segment(r);
    /* A guard that rounding leaves on the wrong side although nothing is to be switched. */
    if (r->soonest <= 0.0)
        move(r, 2.0 * AIM_S);
}

/* Steps up to `stop` or to the next event, whichever is first, and switches there. */
static void pursue(fast *r, double step_s, double stop)
{
    for (int tries = 0;;) {
        bool passed = r->soonest <= 0.0;
        if (passed && (r->soonest > -2.0 * AIM_S || tries >= TRIES)) {
            switch_mode(r);
            return;
        }
        if (!passed && r->t >= stop)
            return;
        double h = r->soonest + AIM_S, left = stop - r->t;
        bool last = !passed && left <= fmin(h, step_s);
        if (last)
            h = left;
        else if (!passed && h > step_s)
            h = fmin(h, left) / ceil(fmin(h, left) / step_s);
        move(r, h);
        if (last)
            r->t = stop;
        tries += passed;
    }
}

static hp_result run(fast *r, const hp_run_options *options, double step_s)
{
    long most = 1000 + (long)((double)options->max_events * options->seconds);
    while (r->t < options->seconds && r->log.status == HP_OK) {
        if (!r->metering && !r->closed && r->t >= options->settle_s) {
            r->metering = true;
            ref_meter_begin(&r->meter, &r->plant, r->t, r->x);
            begin_segment(r);
        }
        double stop = fmin(options->seconds, ref_next_time(&r->plant, &r->mode));
        if (!r->metering && !r->closed)
            stop = fmin(stop, options->settle_s);
        pursue(r, step_s, stop);
        if (r->t >= ref_next_time(&r->plant, &r->mode))
            switch_mode(r);
        if (!isfinite(r->x[X_SPEED] + r->x[X_IU] + r->x[X_IV] + r->x[X_DUTY]))
            return HP_FAIL_NUMBER;
        if (r->switches > most)
            return HP_FAIL_CHATTER;
        if (r->closed && r->log.trace == NULL)
            break; /* cut out, and nobody watches the coasting */
    }
    return r->log.status;
}

hp_result hp_reference_floor(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_run_options *options, double step_s, hp_trace *trace,
                             hp_figures *figures)
{
    fast r = {
        .plant = ref_plant_make(drive, wiring),
        .log = {.trace = trace},
        .options = options,
        .figures = figures,
        .trapezoid = drive->motor.backemf.kind == HP_BACKEMF_TRAPEZOIDAL,
        .sinusoid = drive->motor.backemf.kind == HP_BACKEMF_SINUSOIDAL,
        .cogging = drive->motor.cogging_nm > 0.0,
        .turn = HP_TWO_PI * floor(options->start_angle / HP_TWO_PI),
    };
    ref_begin(&r.plant, options, &r.mode, r.x);
    if (r.trapezoid)
        find_corners(&r);
    begin_segment(&r);
    *figures = (hp_figures){0};
    figures->status = run(&r, options, step_s);
    if (figures->status != HP_OK) {
        snprintf(figures->reason, sizeof figures->reason, "the reference broke off at %.9g s", r.t);
        return figures->status;
    }
    close_figures(&r);
    figures->sensor_edges = r.edges;
    figures->events = r.log.events;
    figures->steps = r.steps;
    figures->rhs = r.rhs;
    return HP_OK;
}
