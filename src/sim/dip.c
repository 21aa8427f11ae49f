/* Guards between the ends of a step: see the header. */
#include "sim/dip.h"

#include <math.h>

/* Step of the one-sided difference that gives the rates [s]: far below any time constant, far above
 * rounding. */
#define RATE_STEP 1e-8
/* A foreseen least value above this share of the larger end value is not looked at. */
#define NEAR_SHARE 0.1

void hp_dip_take(hp_dip *dip, const hp_machine *m, double t, const double *y, const double *slope,
                 const hp_instant *instant)
{
    double ahead[HP_STATE_COUNT], guard[HP_GUARD_COUNT];
    hp_instant then;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        ahead[k] = y[k] + RATE_STEP * slope[k];
    hp_machine_instant(m, ahead, &then);
    hp_machine_guards(m, ahead, &then, guard);
    hp_machine_guards(m, y, instant, dip->guard);
    for (int k = 0; k < HP_GUARD_COUNT; k++)
        dip->rate[k] = (guard[k] - dip->guard[k]) / RATE_STEP;
    dip->time = t;
}

double hp_dip_least(const hp_dip *from, const hp_dip *to, int k)
{
    double g0 = from->guard[k], g1 = to->guard[k], h = to->time - from->time;
    double r0 = from->rate[k] * h, r1 = to->rate[k] * h;
    if (!(g0 > 0.0 && g1 > 0.0 && r0 < 0.0 && r1 > 0.0))
        return (double)NAN;
    /* p(s) = g0 + r0 s + b s^2 + c s^3 on 0..1; its least value is at the root of p' with p'' > 0,
     * written so that a vanishing c does no harm. */
    double b = 3.0 * (g1 - g0) - 2.0 * r0 - r1, c = 2.0 * (g0 - g1) + r0 + r1;
    double s = -r0 / (b + sqrt(fmax(0.0, b * b - 3.0 * c * r0)));
    if (!(s > 0.0 && s < 1.0))
        return (double)NAN;
    double least = g0 + s * (r0 + s * (b + s * c));
    return least < NEAR_SHARE * fmax(g0, g1) ? from->time + s * h : (double)NAN;
}

double hp_dip_time(const hp_dip *dip, int first, int last)
{
    double least = INFINITY;
    for (int k = first; k <= last; k++)
        if (dip->rate[k] < 0.0)
            least = fmin(least, dip->guard[k] / -dip->rate[k]);
    return least;
}
