/*
 * When the next event comes: guards of the fast drive and their roots; see reference_fast.h.
 */
#include "reference_fast.h"

#include <string.h>

/* Time to the root of a guard [s]: negative when it has been passed, INFINITY when it is not
 * coming. `slope` [per s] is the guard's derivative, NAN stands for the secant; `curve` [per s^2]
 * its second derivative, NAN stands for the change of slope. */
static inline double time_to(ref_fast *r, int id, double g, double slope, double curve)
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
        return -ref_least(back, fabs(r->old_step));
    }
    if (g + slope * r->horizon > 0.0)
        return INFINITY;
    /* Smaller positive root of g + slope t + curve t^2 / 2. */
    double square = slope * slope - 2.0 * curve * g;
    double below = square > 0.0 ? sqrt(square) - slope : 0.0;
    return below > 0.0 ? 2.0 * g / below : INFINITY;
}

static double aim_circuit(ref_fast *r)
{
    double soonest = INFINITY;
    const ref_plant *plant = &r->plant;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        ref_path path = r->mode.path[k];
        if (path == PATH_UPPER)
            soonest = ref_least(soonest, time_to(r, G_DIODE + k, -r->x[k], -r->d[k], NAN));
        else if (path == PATH_LOWER)
            soonest = ref_least(soonest, time_to(r, G_DIODE + k, r->x[k], r->d[k], NAN));
        if (path != PATH_FLOAT || r->s.conducting == 0)
            continue;
        double v = r->now.star + r->now.emf[k];
        double inside = ref_least(r->now.bus + plant->diode_v - v, plant->diode_v + v);
        soonest = ref_least(soonest, time_to(r, G_FLOAT + k, inside, NAN, NAN));
    }
    if (r->s.conducting == 0) {
        int lead, pair;
        double excess = ref_float_excess(plant, &r->mode, r->x, &lead, &pair);
        soonest = ref_least(soonest, time_to(r, G_FLOAT, -excess, NAN, NAN));
    }
    return soonest;
}

static double aim_motion(ref_fast *r)
{
    const ref_plant *plant = &r->plant;
    const ref_mode *mode = &r->mode;
    const double *x = r->x, *d = r->d;
    double soonest = INFINITY;
    if (mode->rotor_stuck) {
        double low, high;
        ref_hold_range(plant, mode->linked, &low, &high);
        soonest = ref_least(soonest, time_to(r, G_HOLD_HIGH, high - r->now.shaft, NAN, NAN));
        soonest = ref_least(soonest, time_to(r, G_HOLD_LOW, r->now.shaft - low, NAN, NAN));
    } else if (plant->smooth <= 0.0) {
        int way = mode->rotor_way;
        soonest = ref_least(soonest, time_to(r, G_MOVE, way * x[X_SPEED], way * d[X_SPEED], NAN));
    }
    if (!plant->clutch)
        return soonest;
    if (!mode->linked) {
        double lag = plant->ratio * x[X_WHEEL] - x[X_SPEED];
        double slope = plant->ratio * d[X_WHEEL] - d[X_SPEED];
        soonest = ref_least(soonest, time_to(r, G_CLUTCH, lag, slope, NAN));
        int way = mode->wheel_way;
        if (!mode->wheel_stuck && plant->smooth <= 0.0)
            soonest =
                ref_least(soonest, time_to(r, G_WHEEL, way * x[X_WHEEL], way * d[X_WHEEL], NAN));
    } else if (!mode->rotor_stuck) {
        double torque = ref_clutch_torque(plant, mode, x, r->now.shaft);
        soonest = ref_least(soonest, time_to(r, G_CLUTCH, torque, NAN, NAN));
    }
    return soonest;
}

static double aim_controller(ref_fast *r)
{
    const hp_controller_params *controller = &r->plant.drive->controller;
    double soonest = INFINITY;
    double duty = r->x[X_DUTY], rate = r->d[X_DUTY];
    if (r->mode.cut_out)
        return soonest;
    if (r->mode.duty == DUTY_FREE) {
        soonest = time_to(r, G_DUTY_HIGH, r->plant.target - duty, -rate, NAN);
        soonest = ref_least(soonest, time_to(r, G_DUTY_LOW, duty, rate, NAN));
    } else if (controller->battery_limit_a > 0.0 || controller->phase_limit_a > 0.0) {
        double wanted = ref_fast_limiter_rate(r, r->x);
        double inside = r->mode.duty == DUTY_AT_TARGET ? wanted : -wanted;
        soonest = time_to(r, G_DUTY_HIGH, inside, NAN, NAN);
    }
    if (controller->undervoltage_v > 0.0) {
        double above = r->plant.emf - r->plant.battery_ohm * r->x[X_BATTERY_FILTER] -
                       controller->undervoltage_v;
        soonest = ref_least(soonest, time_to(r, G_VOLTAGE, above,
                                             -r->plant.battery_ohm * r->d[X_BATTERY_FILTER], NAN));
    }
    return soonest;
}

/* Kinks of the limiters' law, where nothing switches but the right-hand side bends: a step across
 * one would be of second order only. */
static double kink_ramp(const ref_fast *r)
{
    return r->ramp - ref_fast_limiter_rate(r, r->x);
}

static double kink_larger(const ref_fast *r)
{
    return r->x[X_BATTERY_FILTER] * r->battery_share - r->x[X_PHASE_FILTER] * r->phase_share;
}

static double side_of(double value)
{
    return value > 0.0 ? 1.0 : value < 0.0 ? -1.0 : 0.0;
}

/* Which kinks to look for in the segment that begins here. */
void ref_fast_choose_kinks(ref_fast *r)
{
    ref_segment *s = &r->s;
    s->ramp_side = s->larger_side = 0.0;
    memset(s->current_side, 0, sizeof s->current_side);
    if (r->battery_share == 0.0 && r->phase_share == 0.0)
        return;
    bool moves = ref_duty_moves(&r->mode);
    double slack = kink_ramp(r);
    if (moves)
        s->ramp_side = side_of(slack);
    if (moves && slack > 0.0)
        s->larger_side = side_of(kink_larger(r));
    /* The measured phase current has a kink wherever a current passes zero; it matters only while
     * that current is near its limit. */
    if (r->x[X_PHASE_FILTER] * r->phase_share < 0.5)
        return;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (r->mode.path[k] == PATH_HIGH || r->mode.path[k] == PATH_LOW)
            s->current_side[k] = side_of(r->x[k]);
}

static double aim_kinks(ref_fast *r)
{
    const ref_segment *s = &r->s;
    double soonest = INFINITY;
    if (s->ramp_side != 0.0)
        soonest = time_to(r, G_RAMP, s->ramp_side * kink_ramp(r), NAN, NAN);
    if (s->larger_side != 0.0)
        soonest =
            ref_least(soonest, time_to(r, G_LARGER, s->larger_side * kink_larger(r), NAN, NAN));
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double side = s->current_side[k];
        if (side != 0.0)
            soonest =
                ref_least(soonest, time_to(r, G_SIGN + k, side * r->x[k], side * r->d[k], NAN));
    }
    return soonest;
}

/* Finds the time to the next event other than a known one; negative: passed. Once a state. */
void ref_fast_aim(ref_fast *r)
{
    double rate = r->d[X_THETA], curve = r->plant.pole_pairs * r->d[X_SPEED];
    double soonest = time_to(r, G_AHEAD, r->s.ahead - r->x[X_THETA], -rate, -curve);
    soonest = ref_least(soonest, time_to(r, G_BEHIND, r->x[X_THETA] - r->s.behind, rate, curve));
    soonest = ref_least(soonest, aim_circuit(r));
    soonest = ref_least(soonest, aim_motion(r));
    soonest = ref_least(soonest, aim_kinks(r));
    r->soonest = ref_least(soonest, aim_controller(r));
}
