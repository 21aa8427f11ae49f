/* The winding's heat: see the header. */
#include "decide/commission/fit_heat.h"

#include "decide/commission/fit_parts.h"
#include "decide/reading/reading.h"
#include "hubphase/model/motor.h"
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

/* What the rise is counted from. */
static double first_volts(const hp_heat_fit *f)
{
    double volts = f->no_start ? (double)NAN : f->said.start_v;
    for (int k = 0; k < HP_HEATING_MARKS && isnan(volts); k++)
        volts = f->said.mark_v[k];
    return isnan(volts) ? f->said.start_v : volts;
}

static void add(const hp_heat_fit *f, line *l, double told, double read)
{
    double meter = hypot(f->volt_each * read, f->volt_digit);
    if (l->out)
        l->out[l->count] = (told - read) / hypot(meter, MODEL * (read - first_volts(f)));
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
    const hp_heating *h = &f->said;
    return h->amperes * ohm * (1.0 + f->given->drive->motor.copper_per_k * (copper_c - 20.0));
}

static hp_heat_params heat_of(const hp_heat_fit *f, const double *p)
{
    hp_heat_params heat = hp_heat_params_usual(f->given->drive->stand.gear_ratio);
    heat.copper_j_per_k = SHARE * exp(p[HP_HEAT_LN_COPPER]);
    heat.copper_hub_k_w = exp(p[HP_HEAT_LN_WAY]) / SHARE;
    heat.hub_j_per_k = exp(p[HP_HEAT_LN_HUB]);
    heat.air_c = hp_heating_from_c(&f->said);
    return heat;
}

/* The current is on. */
static hp_heat_loss loss_of(const hp_heat_fit *f, const double *p)
{
    double amperes = f->said.amperes, power = 1.0 + p[HP_HEAT_POWER];
    return (hp_heat_loss){.copper_w = power * amperes * amperes * exp(p[HP_HEAT_LN_OHM]),
                          .copper_per_k = f->given->drive->motor.copper_per_k};
}

static void residuals(const hp_heat_fit *f, const double *p, line *l)
{
    const hp_heating *h = &f->said;
    double ohm = exp(p[HP_HEAT_LN_OHM]);
    const hp_heat_params heat = heat_of(f, p);
    const hp_heat_loss on = loss_of(f, p), off = {.copper_w = 0.0};
    const hp_heat_state cold = hp_heat_cold(&heat);
    if (!f->no_start)
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

static void fit(hp_heat_fit *f)
{
    const hp_heat_params usual = hp_heat_params_usual(f->given->drive->stand.gear_ratio);
    const hp_meters meter = hp_meters_of(f->given->person);
    const hp_heating *h = &f->said;
    f->volt_each = SAME_RANGE * meter.volt_each;
    f->volt_digit = 0.5 * last_digit(h);
    double warm = 1.0 + f->given->drive->motor.copper_per_k * (hp_heating_from_c(h) - 20.0);
    hp_least *l = &f->least;
    expect(l, HP_HEAT_LN_COPPER, log(usual.copper_j_per_k), 1.0);
    expect(l, HP_HEAT_LN_WAY, log(usual.copper_hub_k_w), 1.0);
    /* chosen: by the moment of a later volt the winding is a twentieth above its first, or three.
     */
    expect(l, HP_HEAT_LN_OHM, log(first_volts(f) / h->amperes / warm) - (f->no_start ? 0.06 : 0.0),
           f->no_start ? 0.1 : 0.05);
    expect(l, HP_HEAT_LN_HUB, log(CORE_J_PER_K), CORE_LN_SD);
    expect(l, HP_HEAT_POWER, 0.0,
           f->same_meters ? HP_SAME_SCALE : hypot(meter.volt_alike, meter.supply_ampere_alike));
    line count = {.out = NULL};
    residuals(f, l->prior, &count);
    l->parameters = HP_HEAT_COUNT;
    l->residuals = count.count;
    l->residual = residual;
    l->user = f;
    hp_least_solve(l);
    l->user = NULL;
}

/* ---- readings that cannot be ------------------------------------------------------------------
 */

/* chosen: two volts differ for sure by this many times what each can be off by. */
#define APART 4.0
/* Standard deviation of what is rounded away, over the last digit: evenly spread. */
#define DIGIT 0.2887
/* chosen: no winding wire is made for more, and no hand leaves the current on for so long. */
#define SMOKE_C 250.0
/* chosen: no stated winding is off by three times, and a measured one is met within a quarter,
 * whatever the meters. */
#define STATED_FACTOR   3.0
#define MEASURED_FACTOR 1.25

/* [C] that volts mean. */
static double celsius(const hp_assess_case *given, const hp_heating *h, double volts)
{
    double alpha = given->drive->motor.copper_per_k;
    return 20.0 +
           ((1.0 + alpha * (hp_heating_from_c(h) - 20.0)) * volts / h->start_v - 1.0) / alpha;
}

/* [K] by which two volts that mean the same temperature may lie apart. */
static double kelvin_apart(const hp_assess_case *given, const hp_heating *h)
{
    double each = hypot(hp_meters_of(given->person).volt_each, DIGIT * last_digit(h) / h->start_v);
    return APART * each / given->drive->motor.copper_per_k;
}

/* Copper under current gets no colder, none lives above SMOKE_C; resting it gets no warmer, nor
 * colder than it began. */
static bool agrees(const hp_assess_case *given, const hp_heating *h)
{
    double apart = kelvin_apart(given, h), from = hp_heating_from_c(h), before = from;
    for (int k = 0; k < HP_HEATING_MARKS; k++) {
        double now = celsius(given, h, h->mark_v[k]);
        if (now > SMOKE_C || now < before - apart)
            return false;
        before = isnan(now) ? before : fmax(before, now);
    }
    bool marked = !isnan(h->mark_v[0]) || !isnan(h->mark_v[1]) || !isnan(h->mark_v[2]);
    before = marked ? before : SMOKE_C;
    for (int k = 0; k < HP_HEATING_RESTS; k++) {
        double now = celsius(given, h, h->rest_v[k]);
        if (now > before + apart || now < from - apart)
            return false;
        before = isnan(now) ? before : now;
    }
    return true;
}

static bool is_off(double ohm, double known, double factor)
{
    return known > 0.0 && (ohm > factor * known || ohm < known / factor);
}

/* Volts over amperes at the start against the winding: as it was measured, else as it is stated. */
static bool start_is_off(const hp_assess_case *given, const hp_heating *h)
{
    const hp_entry *measured = hp_fit_entry(given, &hp_reading_winding, NULL);
    double alpha = given->drive->motor.copper_per_k;
    double ohm = h->start_v / h->amperes / (1.0 + alpha * (hp_heating_from_c(h) - 20.0));
    double stated = 2.0 * given->drive->motor.resistance_ohm;
    double mean = measured ? hp_winding_ohm(hp_entry_said(measured), alpha) : (double)NAN;
    double zero = given->person->ohm_zero;
    /* An ohmmeter's own error is large on a few tens of milliohms. */
    if (mean > 0.0)
        return is_off(ohm, mean, MEASURED_FACTOR * (1.0 + APART * zero / mean));
    return is_off(ohm, stated, STATED_FACTOR);
}

/* [ln V] the first volts, by what was read after them. */
static double ln_start(const void *user, const double *p)
{
    const hp_heat_fit *f = user;
    const hp_heat_params heat = heat_of(f, p);
    const hp_heat_loss on = loss_of(f, p);
    return log(volts_at(f, exp(p[HP_HEAT_LN_OHM]),
                        hp_heat_after(&heat, &on, hp_heat_cold(&heat), START_S).copper_c));
}

/* A fit that never saw the first volts. */
static void fit_unstarted(const hp_assess_case *given, const hp_heating *h, hp_heat_fit *f)
{
    *f = (hp_heat_fit){.given = given, .said = *h, .no_start = true};
    fit(f);
}

/* Whether the first volts are those that the others lead back to. */
static bool start_fits(const hp_assess_case *given, const hp_heating *h)
{
    hp_heat_fit f;
    fit_unstarted(given, h, &f);
    double told = ln_start(&f, f.least.parameter);
    double known = hp_least_sd(&f.least, ln_start, &f);
    double each = hypot(f.volt_each, f.volt_digit / h->start_v);
    return fabs(log(h->start_v) - told) <= APART * hypot(known, each);
}

/* ---- the least of copper ----------------------------------------------------------------------
 */

/* chosen: no gap between magnets and iron holds more (what the strongest magnets keep outside of
 * it, about 1.4 T, from memory), ... */
#define GAP_T 1.2
/* ... and none lies further out: the rim of a 16 inch wheel. */
#define GAP_M 0.2
/* Copper at 20 C: IEC 60028's 0.017241 ohm mm2/m and 8.89 g/cm3 (from memory). */
#define COPPER_OHM_M     1.7241e-8
#define COPPER_KG_PER_M3 8890.0

/* A conductor of length l at radius r that moves at w through a field B makes B l r w. So the wire
 * of a phase whose back-EMF is ke w at its peak is ke / (B r) long at least, were there no end
 * turns; with R = rho l / A its copper weighs density l A = density rho l^2 / R. */
double hp_heat_least_copper(const hp_motor_params *motor)
{
    double metres = motor->ke / (GAP_T * GAP_M);
    double kg = COPPER_KG_PER_M3 * COPPER_OHM_M * metres * metres / motor->resistance_ohm;
    return HP_PHASE_COUNT * HP_COPPER_J_PER_KG_K * kg;
}

static bool enough_copper(const hp_heat_fit *f)
{
    return exp(f->least.parameter[HP_HEAT_LN_COPPER]) >=
           hp_heat_least_copper(&f->given->drive->motor);
}

/* ... and so does the start, and by all readings together there is copper enough. */
static bool passes(const hp_assess_case *given, const hp_heating *h)
{
    hp_heat_fit f = {.given = given, .said = *h};
    if (!agrees(given, h) || !start_fits(given, h))
        return false;
    fit(&f);
    return enough_copper(&f);
}

bool hp_heating_doubted(const hp_heating_doubt *doubt)
{
    return doubt->whole || doubt->mark > 0 || doubt->rest > 0;
}

/* The first volts left out: in their place stand those that the others lead back to. */
static double misfit_unstarted(const hp_assess_case *given, const hp_heating *read)
{
    hp_heat_fit f;
    fit_unstarted(given, read, &f);
    f.said.start_v = exp(ln_start(&f, f.least.parameter));
    bool alone = agrees(given, &f.said) && !start_is_off(given, &f.said) && enough_copper(&f);
    return alone ? f.least.misfit : INFINITY;
}

/* chosen: one reading is the odd one rather than another by so much misfit, two deviations. */
#define CLEAR 4.0

/* Without the one reading that makes the others agree, and agree best; none does: as a whole. */
static hp_heating_doubt sift_one(const hp_assess_case *given, const hp_heating *read,
                                 hp_heating *clean)
{
    const double unstarted = misfit_unstarted(given, read);
    double best = INFINITY;
    hp_heating_doubt doubt = {.whole = true};
    for (int k = 0; k < HP_HEATING_MARKS + HP_HEATING_RESTS; k++) {
        int rest = k - HP_HEATING_MARKS;
        hp_heat_fit f = {.given = given, .said = *read};
        double *seconds = rest < 0 ? &f.said.mark_s[k] : &f.said.rest_s[rest];
        double *volts = rest < 0 ? &f.said.mark_v[k] : &f.said.rest_v[rest];
        if (isnan(*volts))
            continue;
        *seconds = *volts = (double)NAN;
        if (!passes(given, &f.said))
            continue;
        fit(&f);
        if (f.least.misfit >= best)
            continue;
        best = f.least.misfit;
        *clean = f.said;
        doubt = (hp_heating_doubt){.mark = rest < 0 ? k + 1 : 0, .rest = rest < 0 ? 0 : rest + 1};
    }
    /* All are held against the first volts: where they may be it, nothing is learnt. */
    if (unstarted < best + CLEAR)
        doubt = (hp_heating_doubt){.whole = true, .start = unstarted < best - CLEAR};
    return doubt;
}

hp_heating_doubt hp_heating_sift(const hp_assess_case *given, const hp_heating *read,
                                 hp_heating *clean)
{
    *clean = *read;
    if (start_is_off(given, read))
        return (hp_heating_doubt){.whole = true};
    if (passes(given, read))
        return (hp_heating_doubt){.whole = false};
    return sift_one(given, read, clean);
}

void hp_heat_fit_make(const hp_assess_case *given, bool same_meters, hp_heat_fit *f)
{
    memset(f, 0, sizeof *f);
    f->given = given;
    f->same_meters = same_meters;
    f->heating = hp_fit_entry(given, &hp_reading_heating, NULL);
    if (f->heating && hp_heating_sift(given, hp_entry_said(f->heating), &f->said).whole)
        f->heating = NULL;
    if (f->heating)
        fit(f);
}

double hp_heating_reached_c(const hp_assess_case *given, const hp_heating *h)
{
    double volts = NAN;
    for (int k = 0; k < HP_HEATING_MARKS; k++)
        if (!isnan(h->mark_v[k]))
            volts = h->mark_v[k];
    return given->drive->motor.copper_per_k > 0.0 ? celsius(given, h, volts) : (double)NAN;
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
