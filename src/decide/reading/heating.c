/*
 * Heating: a steady direct current through two phase leads for about two minutes. Copper gains
 * resistance as it warms, so that the volts tell its temperature: resistance, heat capacity of the
 * winding, its way to the hub.
 */
#include "decide/commission/fit_heat.h"
#include "decide/commission/fit_machine.h"
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"

#include <math.h>
#include <stdio.h>

static const hp_field fields[] = {
    {.name = "heating_a",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000, .above = true},
     .offset = offsetof(hp_heating, amperes),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Steady current through two phase leads in series, wheel at rest"},
    {.name = "winding_c",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "degrees C", .low = -40, .high = 200},
     .offset = offsetof(hp_heating, winding_c),
     .factor = 1,
     .argument = "DEGREES",
     .help = "Temperature of the winding in degrees C (20 when not given)"},
    {.name = "start_v",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_heating, start_v),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts across the two leads as soon as the current flows"},
    {.name = "heated_1_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_heating, mark_s[0]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 1 since then"},
    {.name = "heated_1_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_heating, mark_v[0]),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at moment 1"},
    {.name = "heated_2_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_heating, mark_s[1]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 2 since then"},
    {.name = "heated_2_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_heating, mark_v[1]),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at moment 2"},
    {.name = "heated_3_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_heating, mark_s[2]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 3 since then"},
    {.name = "heated_3_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_heating, mark_v[2]),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at moment 3"},
    {.name = "heating_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_heating, off_s),
     .factor = 1,
     .argument = "SECONDS",
     .help = "When the current was switched off"},
    {.name = "rested_1_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 7200, .above = true},
     .offset = offsetof(hp_heating, rest_s[0]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 1 since it was switched off"},
    {.name = "rested_1_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_heating, rest_v[0]),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts then, the same current put on again for a moment"},
    {.name = "rested_2_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 7200, .above = true},
     .offset = offsetof(hp_heating, rest_s[1]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 2 since it was switched off"},
    {.name = "rested_2_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_heating, rest_v[1]),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts then, the same current put on again for a moment"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_heating *h = values;
    *h = (hp_heating){.amperes = NAN, .winding_c = NAN, .start_v = NAN, .off_s = NAN};
    for (int k = 0; k < HP_HEATING_MARKS; k++)
        h->mark_s[k] = h->mark_v[k] = NAN;
    for (int k = 0; k < HP_HEATING_RESTS; k++)
        h->rest_s[k] = h->rest_v[k] = NAN;
}

/* Moments that are given rise, each with its volts. */
static bool in_order(const double *s, const double *v, int count, double *last)
{
    *last = 0.0;
    for (int k = 0; k < count; k++) {
        if (isnan(s[k]) != isnan(v[k]) || s[k] <= *last)
            return false;
        if (!isnan(s[k]))
            *last = s[k];
    }
    return true;
}

static bool has_rests(const hp_heating *h)
{
    return !isnan(h->rest_s[0]) || !isnan(h->rest_s[1]);
}

double hp_heating_from_c(const hp_heating *h)
{
    return isnan(h->winding_c) ? 20.0 : h->winding_c;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_heating *h = values;
    double last, rest;
    hp_result result = hp_check_range(err, "current in A", h->amperes, 1e-3, 1000.0);
    if (result == HP_OK)
        result = hp_check_range(err, "volts at the start", h->start_v, 1e-3, 200.0);
    if (result == HP_OK && !isnan(h->winding_c))
        result = hp_check_range(err, "winding temperature in C", h->winding_c, -40.0, 200.0);
    if (result == HP_OK && (!in_order(h->mark_s, h->mark_v, HP_HEATING_MARKS, &last) ||
                            !in_order(h->rest_s, h->rest_v, HP_HEATING_RESTS, &rest)))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "the moments of the heating must follow one another, each with its "
                              "volts");
    if (result == HP_OK && has_rests(h) && isnan(h->off_s))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "heating_s is missing, must be there beside what was read after it");
    if (result == HP_OK && h->off_s < last)
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "the current was switched off after %g s, must be at or after the "
                              "last moment before that (%g s)",
                              h->off_s, last);
    return result;
}

static bool settle_row(const hp_settling *settling, const char *row, const double *s,
                       const double *v, int count, char *last, double *at)
{
    char time[24], volts[24];
    *at = NAN;
    last[0] = '\0';
    for (int k = 0; k < count; k++) {
        snprintf(time, sizeof time, "%s_%d_s", row, k + 1);
        snprintf(volts, sizeof volts, "%s_%d_v", row, k + 1);
        if (!hp_settle_both(settling, time, !isnan(s[k]), volts, !isnan(v[k])) ||
            !hp_settle_order(settling, last, *at, time, s[k]))
            return false;
        if (!isnan(s[k])) {
            *at = s[k];
            snprintf(last, sizeof time, "%s", time);
        }
    }
    return true;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_heating *h = values;
    char last[24], rested[24];
    double at, rest;
    if (!settle_row(settling, "heated", h->mark_s, h->mark_v, HP_HEATING_MARKS, last, &at) ||
        !settle_row(settling, "rested", h->rest_s, h->rest_v, HP_HEATING_RESTS, rested, &rest))
        return false;
    if (!isnan(rest) && isnan(h->off_s))
        return hp_settle_both(settling, rested, true, "heating_s", false);
    return !(h->off_s < at) || hp_settle_order(settling, last, at, "heating_s", h->off_s);
}

/* chosen: what varnish, magnets and Hall sensors of a hub bear for long. */
#define HOT_C 100.0
/* chosen: a rise of this many times what two readings of the volts can differ tells something. */
#define RISE_LEAST 4.0
/* chosen: beyond this, and beyond what the meters can be off, the winding is not the stated one. */
#define OHM_OFF 0.1

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    hp_heating clean, *h = &clean;
    hp_heating_doubt doubt = hp_heating_sift(given, values, &clean);
    const hp_own_figure *ohm = &given->own->figure[HP_OWN_WINDING_OHM];
    double stated = 2.0 * given->drive->motor.resistance_ohm;
    double reached = hp_heating_reached_c(given, h);
    double each = hp_meters_of(given->person).volt_each / given->drive->motor.copper_per_k;
    *code = HP_HEATING_FINE;
    if (hp_heating_doubted(&doubt))
        *code = HP_HEATING_MISREAD;
    else if (reached > HOT_C)
        *code = HP_HEATING_HOT;
    else if (ohm->known && ohm->high < (1.0 - OHM_OFF) * stated)
        *code = HP_HEATING_LESS;
    else if (ohm->known && ohm->low > (1.0 + OHM_OFF) * stated)
        *code = HP_HEATING_MORE;
    else if (!(reached - hp_heating_from_c(h) > RISE_LEAST * each))
        *code = HP_HEATING_SMALL;
    else if (!given->own->figure[HP_OWN_WINDING_S].known &&
             !given->own->figure[HP_OWN_COPPER_J_PER_K].known)
        *code = HP_HEATING_NO_TIME;
    if (*code == HP_HEATING_NO_TIME)
        return HP_FINDING_NOTED;
    return *code == HP_HEATING_FINE ? HP_FINDING_GOOD : HP_FINDING_LOOK;
}

const hp_reading hp_reading_heating = {
    .name = "heating",
    .title = "heating test",
    .size = sizeof(hp_heating),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .stage = HP_STAGE_STAND,
    .order = 50,
    .effort = 12.0, /* chosen: two minutes of current, some of rest, everything unplugged before */
    .assess = assess,
};
