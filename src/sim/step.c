/*
 * The step just taken: see the header.
 *
 * Location: guards are known with their rates at both ends of the step. The root of the cubic
 * through them is the first guess; Newton's method with the cubic's rate does the rest, each new
 * guess aimed a little to the other side of the root so that the bracket closes from both sides.
 * Guesses that do not shrink the bracket give way to halving.
 */
#include "sim/step.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* An event is located to this many roundings of its time, as ARKODE's root finder does. */
#define ROUNDINGS 100.0
#define LOOKS_MAX 100
/* Aim beyond the root by this share of the width asked for. */
#define OVERSHOOT 0.4

/* ---- states inside a step -------------------------------------------------------------------- */

void hp_step_start(hp_step *step)
{
    step->begin = &step->ends[0];
    step->end = &step->ends[1];
    step->rhs = 0;
}

void hp_step_restart(hp_step *step, const hp_machine *m, double t, const double *y,
                     const hp_instant *instant)
{
    hp_step_end *end = step->end;
    memcpy(end->y, y, sizeof end->y);
    hp_machine_slope(m, y, instant, end->slope);
    hp_dip_take(&end->guards, m, t, y, end->slope, instant);
    step->has_third = false;
}

void hp_step_take(hp_step *step, const hp_machine *m, double t, const double *y,
                  const hp_instant *instant)
{
    hp_step_end *spare = step->begin;
    step->begin = step->end;
    step->end = spare;
    hp_step_restart(step, m, t, y, instant);
}

static double length(const hp_step *step)
{
    return step->end->guards.time - step->begin->guards.time;
}

/* The cubic through both ends, two thirds on, and the slope there. */
static void take_third(hp_step *step, const hp_machine *m)
{
    double y[HP_STATE_COUNT], h = length(step);
    const hp_step_end *a = step->begin, *b = step->end;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        y[k] =
            (7.0 * a->y[k] + 20.0 * b->y[k] + h * (2.0 * a->slope[k] - 4.0 * b->slope[k])) / 27.0;
    hp_instant instant;
    hp_machine_instant(m, y, &instant);
    hp_machine_slope(m, y, &instant, step->third);
    step->has_third = true;
    step->rhs++;
}

/* The first `count` entries of the state. With s = (t - end) / h from -1 to 0, the quartic p has
 * p(-1), p(0), p'(-1), p'(0) and p'(-1/3) as given. */
static void interpolate(hp_step *step, const hp_machine *m, double t, int count, double *y)
{
    if (!step->has_third)
        take_third(step, m);
    double h = length(step), s = (t - step->end->guards.time) / h;
    double s2 = s * s, s3 = s * s2, s4 = s2 * s2;
    double from = -6.0 * s2 - 16.0 * s3 - 9.0 * s4;
    double from_slope = -0.25 * h * (5.0 * s2 + 14.0 * s3 + 9.0 * s4);
    double to_slope = h * (s + 2.0 * s2 + s3);
    double third = -6.75 * h * (s2 + 2.0 * s3 + s4);
    const hp_step_end *a = step->begin, *b = step->end;
    for (int k = 0; k < count; k++)
        y[k] = b->y[k] + from * (a->y[k] - b->y[k]) + from_slope * a->slope[k] +
               to_slope * b->slope[k] + third * step->third[k];
}

void hp_step_state(hp_step *step, const hp_machine *m, double t, double y[HP_STATE_COUNT])
{
    if (t >= step->end->guards.time)
        memcpy(y, step->end->y, sizeof step->end->y);
    else
        interpolate(step, m, t, HP_STATE_COUNT, y);
}

/* ---- events ---------------------------------------------------------------------------------- */

/* Guards at a time inside the step; whether any is negative. */
static bool look(hp_step *step, const hp_machine *m, double t, double guard[HP_GUARD_COUNT])
{
    double y[HP_STATE_COUNT];
    hp_instant then;
    bool any = false;
    interpolate(step, m, t, HP_STATE_DYNAMIC, y);
    hp_machine_instant(m, y, &then);
    hp_machine_guards(m, y, &then, guard);
    for (int k = 0; k < HP_GUARD_COUNT; k++)
        any = any || guard[k] < 0.0;
    return any;
}

/* Value and rate of the cubic through guard k at both ends. */
static double cubic(const hp_step *step, int k, double t, double *rate)
{
    const hp_dip *a = &step->begin->guards, *b = &step->end->guards;
    double h = length(step), s = (t - a->time) / h;
    double r0 = a->rate[k] * h, rise = b->guard[k] - a->guard[k];
    double c2 = 3.0 * rise - 2.0 * r0 - b->rate[k] * h, c3 = r0 + b->rate[k] * h - 2.0 * rise;
    *rate = (r0 + s * (2.0 * c2 + 3.0 * s * c3)) / h;
    return a->guard[k] + s * (r0 + s * (c2 + s * c3));
}

/* A bracket: no guard is negative at `before`, some are at `past`. */
typedef struct bracket {
    double before, past;
    double guard_before[HP_GUARD_COUNT], guard_past[HP_GUARD_COUNT];
} bracket;

static bool is_inside(const bracket *b, double t)
{
    return t > b->before && t < b->past;
}

/* Root of guard k by its cubic, from the straight line through the bracket's ends. */
static double first_guess(const hp_step *step, const bracket *b, int k)
{
    double fall = b->guard_before[k] - b->guard_past[k];
    double line = b->before + (b->past - b->before) * (b->guard_before[k] / fall), t = line;
    for (int n = 0; n < 3; n++) {
        double rate, value = cubic(step, k, t, &rate);
        t -= value / rate;
        if (!is_inside(b, t))
            return line;
    }
    return t;
}

/* Where to look next after having looked at `t` and seen `guard` there; NAN: no good guess. */
static double next_guess(const hp_step *step, const bracket *b, double t, const double *guard,
                         double overshoot)
{
    double soonest = INFINITY;
    for (int k = 0; k < HP_GUARD_COUNT; k++) {
        if (!(b->guard_past[k] < 0.0))
            continue;
        double rate;
        cubic(step, k, t, &rate);
        double root = t - guard[k] / rate;
        root += t == b->before ? overshoot : -overshoot;
        if (!is_inside(b, root))
            return (double)NAN;
        soonest = fmin(soonest, root);
    }
    return soonest;
}

static void locate(hp_step *step, const hp_machine *m, bracket *b)
{
    double guard[HP_GUARD_COUNT];
    double width = ROUNDINGS * DBL_EPSILON * (fabs(step->end->guards.time) + fabs(length(step)));
    double t = INFINITY;
    for (int k = 0; k < HP_GUARD_COUNT; k++)
        if (b->guard_past[k] < 0.0)
            t = fmin(t, first_guess(step, b, k));
    for (int n = 0; n < LOOKS_MAX && b->past - b->before > width; n++) {
        double span = b->past - b->before;
        if (!is_inside(b, t))
            t = b->before + 0.5 * span;
        if (!is_inside(b, t))
            return;
        bool past = look(step, m, t, guard);
        *(past ? &b->past : &b->before) = t;
        memcpy(past ? b->guard_past : b->guard_before, guard, sizeof guard);
        /* Every third look halves, lest a guess creep along one side. */
        t = n % 3 == 2 && b->past - b->before > 0.5 * span
                ? (double)NAN
                : next_guess(step, b, t, guard, OVERSHOOT * width);
    }
}

/* Finds some moment at which a guard is negative, the earliest of those that show. */
static bool find_past(hp_step *step, const hp_machine *m, bracket *b)
{
    double guard[HP_GUARD_COUNT];
    const hp_dip *from = &step->begin->guards, *to = &step->end->guards;
    b->past = INFINITY;
    bool is_past = false, may_dip = false;
    for (int k = 0; k < HP_GUARD_COUNT; k++) {
        is_past |= to->guard[k] < 0.0;
        may_dip |= from->rate[k] < 0.0 && to->rate[k] > 0.0;
    }
    if (is_past) {
        b->past = to->time;
        memcpy(b->guard_past, to->guard, sizeof b->guard_past);
    }
    for (int k = 0; k < HP_GUARD_COUNT && may_dip; k++) {
        double t = hp_dip_least(from, to, k);
        if (t < b->past && look(step, m, t, guard)) {
            b->past = t;
            memcpy(b->guard_past, guard, sizeof guard);
        }
    }
    return b->past < (double)INFINITY;
}

bool hp_step_find_event(hp_step *step, const hp_machine *m, double *t, double y[HP_STATE_COUNT],
                        int fired[HP_GUARD_COUNT])
{
    bracket b;
    if (!find_past(step, m, &b))
        return false;
    b.before = step->begin->guards.time;
    memcpy(b.guard_before, step->begin->guards.guard, sizeof b.guard_before);
    locate(step, m, &b);
    for (int k = 0; k < HP_GUARD_COUNT; k++)
        fired[k] = b.guard_past[k] < 0.0;
    *t = b.past;
    hp_step_state(step, m, b.past, y);
    return true;
}
