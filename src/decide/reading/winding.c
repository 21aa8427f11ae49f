/*
 * Winding: resistance of the three pairs of phase leads. A broken lead is open in two of them.
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>

/* chosen: a pair of more than this is taken for open; windings have milliohms to ohms. */
#define OPEN_OHM 1000.0

const hp_danger hp_danger_winding = {"winding_unlike", &hp_reading_winding};

static const hp_field fields[] = {
    {.name = "resistance_ohm",
     .type = HP_FIELD_PAIRS,
     .required = true,
     .figure = true,
     .limits = {.unit = "ohm", .low = 0, .high = 1e6, .none = true},
     .usual = {.high = HP_LEADS_MOST_OHM},
     .offset = offsetof(hp_winding, ohm),
     .argument = "PAIR=OHMS",
     .help = "Resistance of a pair of phase leads, or open"},
    {.name = "test_leads_ohm",
     .type = HP_FIELD_NUMBER,
     .limits = {.unit = "ohm", .low = 0, .high = 100},
     .usual = {.high = 5},
     .offset = offsetof(hp_winding, leads_ohm),
     .factor = 1,
     .argument = "OHMS",
     .help = "What the meter shows with its leads held together (0 when not given)"},
    {.name = "winding_c",
     .type = HP_FIELD_NUMBER,
     .limits = {.unit = "degrees C", .low = -40, .high = 200},
     .offset = offsetof(hp_winding, copper_c),
     .factor = 1,
     .argument = "DEGREES",
     .help = "Temperature of the winding in degrees C (20 when not given)"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_winding *w = values;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        w->ohm[k] = NAN;
    w->copper_c = 20.0;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_winding *w = values;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!isnan(w->ohm[k]) && !(w->ohm[k] >= 0.0))
            return hp_error_set(err, HP_FAIL_INPUT, "resistance is %g ohm, must be at least 0",
                                w->ohm[k]);
    hp_result result =
        hp_check_range(err, "resistance of the test leads in ohm", w->leads_ohm, 0.0, 100.0);
    for (int k = 0; result == HP_OK && k < HP_PHASE_COUNT; k++)
        if (w->ohm[k] < w->leads_ohm)
            return hp_error_set(
                err, HP_FAIL_INPUT,
                "resistance is %g ohm with the test leads, must be at least their own "
                "%g ohm",
                w->ohm[k], w->leads_ohm);
    return result == HP_OK
               ? hp_check_range(err, "winding temperature in C", w->copper_c, -40.0, 200.0)
               : result;
}

static double weigh(const hp_reading_case *c, const void *values)
{
    const hp_winding *w = values;
    const hp_person *p = c->person;
    hp_motor_params m = c->table->motor[c->motor].motor;
    m.winding_c = w->copper_c;
    double expected = 2.0 * hp_motor_resistance(&m), weight = 1.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (isnan(w->ohm[k]))
            continue;
        bool said_open = w->ohm[k] > OPEN_OHM, open = hp_pair_open(c->hypothesis, k);
        weight *= said_open == open ? 1.0 - p->pair_misread : p->pair_misread;
        if (said_open)
            continue;
        /* A worthless number is anything up to OPEN_OHM on the scale asinh(ohm / zero error). */
        double worthless = 1.0 / asinh(OPEN_OHM / p->ohm_zero);
        double ohm = w->ohm[k] - w->leads_ohm;
        double good = hp_normal(ohm - expected, hypot(p->ohm_relative * expected, p->ohm_zero)) *
                      hypot(ohm, p->ohm_zero);
        weight *= open ? worthless : p->value_misread * worthless + (1.0 - p->value_misread) * good;
    }
    return weight;
}

static void typical(const hp_reading_case *c, void *values)
{
    hp_winding *w = values;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        w->ohm[k] = hp_pair_open(c->hypothesis, k) ? (double)INFINITY
                                                   : 2.0 * c->table->motor[0].motor.resistance_ohm;
}

/* The test leads and their tips add the same to all three pairs. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_winding *w = values;
    const hp_person *p = &seen->machine->stated.person;
    hp_motor_params m = seen->drive.motor;
    double tips = 0.5 * p->ohm_zero * fabs(hp_seen_gauss(seen));
    m.winding_c = w->copper_c;
    (void)err;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double ohm = 2.0 * hp_motor_resistance(&m) + tips;
        double shown = hp_seen_metered(seen, ohm, 0.5 * p->ohm_relative, 0.0, 0.01);
        w->ohm[k] = hp_seen_pair_open(seen, k) ? (double)INFINITY : fmax(0.01, shown);
    }
    return HP_OK;
}

/* A tip that made no contact with one of the leads. */
static void slip(hp_seen *seen, void *values)
{
    hp_winding *w = values;
    int lead = (int)hp_random_below(&seen->random, HP_PHASE_COUNT);
    for (int pair = 0; pair < HP_PHASE_COUNT; pair++)
        if (pair != lead)
            w->ohm[pair] = (double)INFINITY;
}

/* Both errors of both readings. Of the zero error most is the test leads', alike in all three;
 * below that a meter for hands tells a short from a winding of a few hundredths of an ohm no more.
 */
double hp_winding_alike_within(const hp_person *p, double ohm)
{
    const double both = 2.0;
    return both * hypot(p->ohm_relative * ohm, p->ohm_zero);
}

/* A motor with an open lead does not run, and one with shorted turns drags; a winding of three like
 * phases has three like pairs. */
static bool contradicts(const hp_assess_case *given, const void *values)
{
    const hp_winding *w = values;
    double least = INFINITY, most = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (w->ohm[k] > OPEN_OHM)
            return true;
        least = fmin(least, w->ohm[k]); /* NAN, not read, is passed over */
        most = fmax(most, w->ohm[k]);
    }
    return most - least > hp_winding_alike_within(given->person, most);
}

static hp_tell danger(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person)
{
    const hp_winding *w = values;
    double ohm[HP_PHASE_COUNT], most = 0.0;
    (void)danger, (void)plan;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        ohm[k] = w->ohm[k] > OPEN_OHM ? (double)INFINITY : w->ohm[k] - w->leads_ohm;
        most = fmax(most, ohm[k]);
    }
    return hp_pairs_unlike(ohm, hp_winding_alike_within(person, most));
}

static const hp_danger *const winding_dangers[] = {&hp_danger_winding, NULL};

const hp_reading hp_reading_winding = {
    .name = "winding",
    .title = "winding",
    .size = sizeof(hp_winding),
    .fields = fields,
    .make = make,
    .check = check,
    .minutes = 3.0, /* chosen: three pairs */
    .rank = 4,
    .proves = HP_PROVES(HP_FAULT_LEAD_OPEN),
    .shows_faults = true,
    .needs_motor = true,
    .typical = typical,
    .weigh = weigh,
    .speaks_of = winding_dangers,
    .danger = danger,
    .contradicts = contradicts,
    .see = see,
    .slip = slip,
};
