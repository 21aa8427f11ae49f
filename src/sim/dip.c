/* Guards between the ends of a step: see the header. */
#include "sim/dip.h"

#include <math.h>

/* A foreseen least value above this share of the larger end value is not looked at. */
#define NEAR_SHARE 0.1

void hp_dip_take(hp_dip *dip, const hp_machine *m, double t, const double *y, const double *slope,
                 const hp_instant *instant)
{
    hp_machine_guards(m, y, instant, dip->guard);
    hp_machine_guard_rates(m, y, instant, slope, dip->rate, &dip->torque_rate);
    dip->torque = instant->torque;
    dip->time = t;
}

double hp_dip_turn(double from, double from_rate, double to, double to_rate, double length,
                   double *least)
{
    double r0 = from_rate * length, r1 = to_rate * length;
    if (!(r0 < 0.0 && r1 > 0.0))
        return (double)NAN;
    /* p(s) = from + r0 s + b s^2 + c s^3 on 0..1; its least value is at the root of p' with p'' >
     * 0, written so that a vanishing c does no harm. */
    double b = 3.0 * (to - from) - 2.0 * r0 - r1, c = 2.0 * (from - to) + r0 + r1;
    double s = -r0 / (b + sqrt(fmax(0.0, b * b - 3.0 * c * r0)));
    if (!(s > 0.0 && s < 1.0))
        return (double)NAN;
    *least = from + s * (r0 + s * (b + s * c));
    return s;
}

double hp_dip_least(const hp_dip *from, const hp_dip *to, int k)
{
    double g0 = from->guard[k], g1 = to->guard[k], h = to->time - from->time, least = 0.0;
    if (!(from->rate[k] < 0.0 && to->rate[k] > 0.0 && g0 > 0.0 && g1 > 0.0))
        return (double)NAN;
    double s = hp_dip_turn(g0, from->rate[k], g1, to->rate[k], h, &least);
    return least < NEAR_SHARE * fmax(g0, g1) ? from->time + s * h : (double)NAN;
}

double hp_dip_time(const hp_dip *dip, int first, int last)
{
    double least = INFINITY;
    for (int k = first; k <= last; k++)
        if (dip->rate[k] < 0.0 && dip->guard[k] < -dip->rate[k] * least)
            least = dip->guard[k] / -dip->rate[k];
    return least;
}
