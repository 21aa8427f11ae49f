/* The winding's heat: see the header. */
#include "decide/commission/fit_heat.h"

#include "decide/commission/fit_parts.h"
#include "decide/reading/reading.h"
#include "model/heat.h"

#include <math.h>
#include <string.h>

/* Of the copper, two phases of three. */
#define SHARE (2.0 / 3.0)

/* The first volts are read within three seconds of switching on: their middle. */
#define START_S 1.5

/* chosen: what slots and end turns, the third phase, core and shell do that two bodies cannot, over
 * the rise of the volts: what such a winding of many places shows (tests/commission_bench). */
#define MODEL 0.025

/* chosen: what the winding warms in minutes is the stator's core, a kilogram or three of iron, not
 * all of the hub; a factor of 2.7 either way. */
#define CORE_J_PER_K 1000.0
#define CORE_LN_SD   1.0

/* chosen: from one moment to the next the same meter, on the same range, is off by half of what it
 * is elsewhere. */
#define SAME_RANGE 0.5

typedef struct line {
    double *out;
    int count;
} line;

static void add(const hp_heat_fit *f, line *l, double told, double read)
{
    const hp_heating *h = hp_entry_said(f->heating);
    double meter = hypot(f->volt_each * read, f->volt_digit);
    if (l->out)
        l->out[l->count] = (told - read) / hypot(meter, MODEL * (read - h->start_v));
    l->count++;
}

static bool whole(double volts, double digit)
{
    double count = volts / digit;
    return isnan(volts) || fabs(count - round(count)) < 1e-4;
}

/* [V] the last digit that the volts of a test were written with, from 1 mV to 0.1 V. */
static double last_digit(const hp_heating *h)
{
    for (double digit = 0.1; digit > 0.002; digit *= 0.1) {
        bool all = whole(h->start_v, digit);
        for (int k = 0; k < HP_HEATING_MARKS; k++)
            all = all && whole(h->mark_v[k], digit);
        for (int k = 0; k < HP_HEATING_RESTS; k++)
            all = all && whole(h->rest_v[k], digit);
        if (all)
            return digit;
    }
    return 0.001;
}

static double volts_at(const hp_heat_fit *f, double ohm, double copper_c)
{
    const hp_heating *h = hp_entry_said(f->heating);
    return h->amperes * ohm * (1.0 + f->given->drive->motor.copper_per_k * (copper_c - 20.0));
}

static void residuals(const hp_heat_fit *f, const double *p, line *l)
{
    const hp_heating *h = hp_entry_said(f->heating);
    hp_heat_params heat = hp_heat_params_default();
    double ohm = exp(p[HP_HEAT_LN_OHM]), power = 1.0 + p[HP_HEAT_POWER];
    heat.copper_j_per_k = SHARE * exp(p[HP_HEAT_LN_COPPER]);
    heat.copper_hub_k_w = exp(p[HP_HEAT_LN_WAY]) / SHARE;
    heat.hub_j_per_k = exp(p[HP_HEAT_LN_HUB]);
    heat.air_c = hp_heating_from_c(h);
    const hp_heat_loss on = {.copper_w = power * h->amperes * h->amperes * ohm,
                             .copper_per_k = f->given->drive->motor.copper_per_k};
    const hp_heat_loss off = {.copper_w = 0.0};
    const hp_heat_state cold = hp_heat_cold(&heat);
    add(f, l, volts_at(f, ohm, hp_heat_after(&heat, &on, cold, START_S).copper_c), h->start_v);
    for (int k = 0; k < HP_HEATING_MARKS; k++)
        if (!isnan(h->mark_s[k]) && !isnan(h->mark_v[k]))
            add(f, l, volts_at(f, ohm, hp_heat_after(&heat, &on, cold, h->mark_s[k]).copper_c),
                h->mark_v[k]);
    if (isnan(h->off_s))
        return;
    hp_heat_state hot = hp_heat_after(&heat, &on, cold, h->off_s);
    for (int k = 0; k < HP_HEATING_RESTS; k++)
        if (!isnan(h->rest_s[k]) && !isnan(h->rest_v[k]))
            add(f, l, volts_at(f, ohm, hp_heat_after(&heat, &off, hot, h->rest_s[k]).copper_c),
                h->rest_v[k]);
}

static void residual(const void *user, const double *p, double *out)
{
    line l = {.out = out};
    residuals(user, p, &l);
}

static void expect(hp_least *l, hp_heat_unknown unknown, double value, double sd)
{
    l->prior[unknown] = value;
    l->prior_sd[unknown] = sd;
    l->start[unknown] = value;
}

void hp_heat_fit_make(const hp_assess_case *given, hp_heat_fit *f)
{
    const hp_heat_params usual = hp_heat_params_default();
    const hp_meters meter = hp_meters_of(given->person);
    memset(f, 0, sizeof *f);
    f->given = given;
    f->heating = hp_fit_entry(given, &hp_reading_heating, NULL);
    if (!f->heating)
        return;
    const hp_heating *h = hp_entry_said(f->heating);
    f->volt_each = SAME_RANGE * meter.volt_each;
    f->volt_digit = 0.5 * last_digit(h);
    double warm = 1.0 + given->drive->motor.copper_per_k * (hp_heating_from_c(h) - 20.0);
    hp_least *l = &f->least;
    expect(l, HP_HEAT_LN_COPPER, log(usual.copper_j_per_k), 1.0);
    expect(l, HP_HEAT_LN_WAY, log(usual.copper_hub_k_w), 1.0);
    expect(l, HP_HEAT_LN_OHM, log(h->start_v / h->amperes / warm), 0.05);
    expect(l, HP_HEAT_LN_HUB, log(CORE_J_PER_K), CORE_LN_SD);
    expect(l, HP_HEAT_POWER, 0.0, hypot(meter.volt_alike, meter.supply_ampere_alike));
    line count = {.out = NULL};
    residuals(f, l->prior, &count);
    l->parameters = HP_HEAT_COUNT;
    l->residuals = count.count;
    l->residual = residual;
    l->user = f;
    hp_least_solve(l);
    l->user = NULL;
}

double hp_heating_reached_c(const hp_assess_case *given, const hp_heating *h)
{
    double alpha = given->drive->motor.copper_per_k, volts = NAN;
    for (int k = 0; k < HP_HEATING_MARKS; k++)
        if (!isnan(h->mark_v[k]))
            volts = h->mark_v[k];
    if (isnan(volts) || !(alpha > 0.0))
        return NAN;
    return 20.0 +
           ((1.0 + alpha * (hp_heating_from_c(h) - 20.0)) * volts / h->start_v - 1.0) / alpha;
}

static double copper(const void *user, const double *p)
{
    (void)user;
    return p[HP_HEAT_LN_COPPER];
}

static double way(const void *user, const double *p)
{
    (void)user;
    return p[HP_HEAT_LN_WAY];
}

/* The winding's own time, the hub held. */
static double seconds(const void *user, const double *p)
{
    (void)user;
    return p[HP_HEAT_LN_COPPER] + p[HP_HEAT_LN_WAY];
}

/* A figure of which the test told little is not one: chosen, of a logarithm, a factor of 1.8. */
#define TOLD 0.35

static void learn(const hp_heat_fit *f, hp_own *own, hp_own_kind kind,
                  double (*logarithm)(const void *, const double *))
{
    double middle = logarithm(NULL, f->least.parameter);
    double sd = hp_least_sd(&f->least, logarithm, NULL);
    if (sd < TOLD)
        own->figure[kind] = (hp_own_figure){.known = true,
                                            .value = exp(middle),
                                            .low = exp(middle - HP_BAND_90 * sd),
                                            .high = exp(middle + HP_BAND_90 * sd),
                                            .entry = f->heating->number};
}

void hp_heat_fit_learn(const hp_heat_fit *f, hp_own *own)
{
    if (!f->heating)
        return;
    learn(f, own, HP_OWN_COPPER_J_PER_K, copper);
    learn(f, own, HP_OWN_COPPER_HUB_K_W, way);
    learn(f, own, HP_OWN_WINDING_S, seconds);
}
