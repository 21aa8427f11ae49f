/*
 * Heat in a hub: see the header.
 *
 * With x = temperatures above the air the equations are x' = A x + b, A two by two with positive
 * entries off the diagonal: its eigenvalues are real and differ, so that
 *   x(t) = x0 + phi(t) (A x0 + b),  phi(t) = integral of exp(A s) from 0 to t.
 * phi is a polynomial of first degree in A (Cayley and Hamilton): p + q A, with p and q from the
 * integrals of exp(l s) at both eigenvalues. No inverse of A is taken, so the edge of run-away,
 * where A is singular, is no special case.
 */
#include "model/heat.h"

#include <math.h>

hp_heat_params hp_heat_params_default(void)
{
    return (hp_heat_params){
        .copper_j_per_k = 0.8 * HP_COPPER_J_PER_KG_K, /* chosen: 0.8 kg of copper ... */
        .hub_j_per_k = 5.2 * HP_IRON_J_PER_KG_K,      /* ... in a hub of 6 kg, the rest as iron */
        /* derived: 0.3 mm of slot paper at 0.13 W/(m K) (memory) over 0.03 m2 of slot walls make
         * 0.08 K/W; as much again between wires and varnish (chosen) */
        .copper_hub_k_w = 0.15,
        /* derived: a drum of 0.24 m by 0.06 m has 0.136 m2; 12 W/(m2 K), between free convection of
         * gases (2 to 25) and forced (25 to 250: Cengel, notes on convection, read) */
        .hub_air_k_w = 0.6,
        .air_c = 20.0, /* chosen */
    };
}

hp_heat_params hp_heat_params_behind_gear(void)
{
    hp_heat_params heat = hp_heat_params_default();
    /* chosen: 2.6 kg, since geared hubs weigh 2 to 3.5 kg (common practice, memory), 0.35 kg of it
     * copper, a share as in the larger hub; the rest as iron. */
    heat.copper_j_per_k = 0.35 * HP_COPPER_J_PER_KG_K;
    heat.hub_j_per_k = 2.25 * HP_IRON_J_PER_KG_K;
    /* derived: as above, over half the slot walls, 0.015 m2 (chosen): 0.15 K/W twice */
    heat.copper_hub_k_w = 0.3;
    /* derived: a drum of 0.15 m by 0.07 m (chosen) has 0.068 m2, and the same 12 W/(m2 K) */
    heat.hub_air_k_w = 1.2;
    return heat;
}

hp_heat_params hp_heat_params_usual(double gear_ratio)
{
    return gear_ratio > 1.0 ? hp_heat_params_behind_gear() : hp_heat_params_default();
}

static hp_result check_above(double value, double most, const char *field, hp_error *err)
{
    if (value > 0.0 && value <= most)
        return HP_OK;
    return hp_error_set(err, HP_FAIL_INPUT, "thermal.%s is %g, must be above 0 and at most %g",
                        field, value, most);
}

hp_result hp_heat_params_check(const hp_heat_params *heat, hp_error *err)
{
    hp_result result = check_above(heat->copper_j_per_k, 1e6, "copper_j_per_k", err);
    if (result == HP_OK)
        result = check_above(heat->hub_j_per_k, 1e6, "hub_j_per_k", err);
    if (result == HP_OK)
        result = check_above(heat->copper_hub_k_w, 1e3, "copper_to_hub_k_per_w", err);
    if (result == HP_OK)
        result = check_above(heat->hub_air_k_w, 1e3, "hub_to_air_k_per_w", err);
    if (result == HP_OK && !(heat->air_c >= -40.0 && heat->air_c <= 60.0))
        result =
            hp_error_set(err, HP_FAIL_INPUT, "thermal.air_c is %g, must be -40 to 60", heat->air_c);
    return result;
}

hp_heat_state hp_heat_cold(const hp_heat_params *heat)
{
    return (hp_heat_state){heat->air_c, heat->air_c};
}

/* x' = A x + b, its eigenvalues, and where it starts. */
typedef struct course {
    double cc, ch, hc, hh;   /* [1/s] A: copper by copper, copper by hub, ... */
    double b_c, b_h;         /* [K/s] */
    double quick, slow;      /* [1/s] eigenvalues, quick < slow; quick < 0 */
    double air_c, x_c, x_h;  /* start, above the air */
    double slope_c, slope_h; /* [K/s] A x + b at the start */
} course;

static course course_of(const hp_heat_params *heat, const hp_heat_loss *loss, hp_heat_state from)
{
    double pass = 1.0 / heat->copper_hub_k_w, give = 1.0 / heat->hub_air_k_w;
    double grows = loss->copper_w * loss->copper_per_k; /* [W/K] */
    course c = {
        .cc = (grows - pass) / heat->copper_j_per_k,
        .ch = pass / heat->copper_j_per_k,
        .hc = pass / heat->hub_j_per_k,
        .hh = -(pass + give) / heat->hub_j_per_k,
        .b_c = (loss->copper_w + grows * (heat->air_c - 20.0)) / heat->copper_j_per_k,
        .b_h = loss->hub_w / heat->hub_j_per_k,
        .air_c = heat->air_c,
        .x_c = from.copper_c - heat->air_c,
        .x_h = from.hub_c - heat->air_c,
    };
    double half = 0.5 * (c.cc + c.hh), apart = 0.5 * (c.cc - c.hh);
    double root = sqrt(apart * apart + c.ch * c.hc);
    c.quick = half - root;
    c.slow = half + root;
    c.slope_c = c.cc * c.x_c + c.ch * c.x_h + c.b_c;
    c.slope_h = c.hc * c.x_c + c.hh * c.x_h + c.b_h;
    return c;
}

/* Integral of exp(l s) from 0 to t. A run-away is held where it means nothing any more, and before
 * it leaves the range of a double. */
static double grown(double l, double t)
{
    return l == 0.0 ? t : expm1(fmin(l * t, 300.0)) / l;
}

static hp_heat_state course_at(const course *c, double t)
{
    double f_quick = grown(c->quick, t), f_slow = grown(c->slow, t);
    double apart = c->slow - c->quick, q = (f_slow - f_quick) / apart;
    double p = (f_quick * c->slow - f_slow * c->quick) / apart;
    double turn_c = c->cc * c->slope_c + c->ch * c->slope_h;
    double turn_h = c->hc * c->slope_c + c->hh * c->slope_h;
    return (hp_heat_state){c->air_c + c->x_c + p * c->slope_c + q * turn_c,
                           c->air_c + c->x_h + p * c->slope_h + q * turn_h};
}

hp_heat_state hp_heat_after(const hp_heat_params *heat, const hp_heat_loss *loss,
                            hp_heat_state from, double seconds)
{
    course c = course_of(heat, loss, from);
    return course_at(&c, seconds);
}

bool hp_heat_steady(const hp_heat_params *heat, const hp_heat_loss *loss, hp_heat_state *state)
{
    course c = course_of(heat, loss, hp_heat_cold(heat));
    if (!(c.slow < 0.0))
        return false;
    double det = c.cc * c.hh - c.ch * c.hc; /* product of the eigenvalues: > 0 */
    *state = (hp_heat_state){c.air_c + (c.ch * c.b_h - c.hh * c.b_c) / det,
                             c.air_c + (c.hc * c.b_c - c.cc * c.b_h) / det};
    return true;
}

/* Where the copper's temperature turns: x_c' = u exp(quick t) + v exp(slow t) has one root at most.
 * INFINITY: nowhere. */
static double turning(const course *c)
{
    double turn_c = c->cc * c->slope_c + c->ch * c->slope_h;
    double v = (turn_c - c->quick * c->slope_c) / (c->slow - c->quick), u = c->slope_c - v;
    if (!(u * v < 0.0 && fabs(u) > fabs(v)))
        return INFINITY;
    return log(-u / v) / (c->slow - c->quick);
}

/* The moment between two times at which a copper that is below is no longer. */
static double crossing(const course *c, double below, double above, double copper_c)
{
    for (int k = 0; k < 200 && above - below > 1e-12 * above; k++) {
        double t = 0.5 * (below + above);
        *(course_at(c, t).copper_c < copper_c ? &below : &above) = t;
    }
    return above;
}

double hp_heat_time_to(const hp_heat_params *heat, const hp_heat_loss *loss, hp_heat_state from,
                       double copper_c)
{
    course c = course_of(heat, loss, from);
    if (from.copper_c >= copper_c)
        return 0.0;
    double turn = turning(&c);
    if (isfinite(turn) && course_at(&c, turn).copper_c >= copper_c)
        return crossing(&c, 0.0, turn, copper_c);
    /* If it falls first, it rises later. Forty times the slow time constant is for ever to
     * rounding; a run-away needs less. */
    double end = 1.0, last = 40.0 / fmax(fabs(c.slow), 1e-9);
    while (course_at(&c, end).copper_c < copper_c) {
        if (end > last)
            return INFINITY;
        end *= 2.0;
    }
    return crossing(&c, 0.0, end, copper_c);
}

double hp_heat_lasting_w(const hp_heat_params *heat, double copper_per_k, double hub_w,
                         double copper_c)
{
    /* At rest all heat goes through the hub: T_c - T_air = P (R_ch + R_ha) + P_h R_ha. */
    double rise = copper_c - heat->air_c - hub_w * heat->hub_air_k_w;
    double factor = 1.0 + copper_per_k * (copper_c - 20.0);
    if (!(rise > 0.0))
        return 0.0;
    return rise / (heat->copper_hub_k_w + heat->hub_air_k_w) / factor;
}
