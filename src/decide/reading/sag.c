/*
 * Sag: volts at the controller at two currents, hence the resistance of battery and leads; with the
 * volts at the battery's own terminals also how much of it is the leads'.
 */
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"

#include <math.h>

static const hp_field fields[] = {
    {.name = "low_a",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .offset = offsetof(hp_sag, low_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "The smaller of two steady battery currents"},
    {.name = "low_v",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_sag, low_v),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at the controller's battery leads at the smaller current"},
    {.name = "high_a",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000, .above = true},
     .offset = offsetof(hp_sag, high_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "The larger of the two"},
    {.name = "high_v",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_sag, high_v),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at the controller's battery leads at the larger current"},
    {.name = "terminal_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 200, .above = true},
     .offset = offsetof(hp_sag, pack_v),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts at the battery's own terminals at the larger current"},
    {.name = NULL},
};

static void make(void *values)
{
    *(hp_sag *)values = (hp_sag){NAN, NAN, NAN, NAN, NAN};
}

/* Good leads lose less than two readings of a meter differ by. */
#define DIGITS 0.99

static hp_result check(const void *values, hp_error *err)
{
    const hp_sag *s = values;
    hp_result result = hp_check_range(err, "smaller current in A", s->low_a, 0.0, 1000.0);
    if (result == HP_OK)
        result = hp_check_range(err, "larger current in A", s->high_a, s->low_a, 1000.0);
    if (result == HP_OK)
        result = hp_check_range(err, "volts at the larger current", s->high_v, 1e-3, 200.0);
    if (result == HP_OK)
        result = hp_check_range(err, "volts at the smaller current", s->low_v, s->high_v, 200.0);
    if (result == HP_OK && !(s->high_a > s->low_a))
        result = hp_error_set(err, HP_FAIL_INPUT, "both currents are %g A, must differ", s->low_a);
    if (result == HP_OK && !isnan(s->pack_v))
        result = hp_check_range(err, "volts at the battery", s->pack_v, DIGITS * s->high_v, 200.0);
    return result;
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_sag *s = values;
    bool good = hp_settle_order(settling, "low_a", s->low_a, "high_a", s->high_a);
    if (good && s->high_v > s->low_v) /* equal: nothing sags that the meter shows */
        good = hp_settle_order(settling, "high_v", s->high_v, "low_v", s->low_v);
    if (good && DIGITS * s->high_v > s->pack_v)
        good = hp_settle_order(settling, "high_v", s->high_v, "terminal_v", s->pack_v);
    return good;
}

/* chosen: what two readings of one meter a moment apart differ by at most, over the value. */
#define APART 0.005
/* A lithium cell is full at 4.2 V and empty at 3.0 V (common practice): a battery that loses a
 * third of its volts at the controller's limit is cut off by its own protection at every start, or
 * by the controller. None that turned this wheel is so bad; what was read is. */
#define SAG_CUTS_OUT (1.0 / 3.0)

/* Between its terminals and the controller volts are lost, and so they are within the battery. */
static bool gains_volts(const hp_sag *s)
{
    double leads = s->pack_v - s->high_v, digits = APART * s->high_v;
    double before = s->low_v + leads * s->low_a / s->high_a; /* at its terminals, small load */
    return leads < -digits || s->pack_v > before + digits;
}

/* chosen: twice the stated resistance is a worn battery, a thin lead or a bad contact; a tenth of
 * the volts gone at the controller's battery limit is felt on every hill. */
#define SAG_MORE 2.0
#define SAG_MUCH 0.1

/* A figure that no battery of this sort gives at any load. */
static bool cannot_be(const hp_assess_case *given, const hp_sag *s)
{
    double emf = given->drive->supply.emf_v, limit = given->drive->controller.battery_limit_a;
    return s->high_v < emf / HP_SLIP || s->low_v > HP_SLIP * emf || s->pack_v > HP_SLIP * emf ||
           gains_volts(s) || (limit > 0.0 && s->high_a > HP_SLIP * limit);
}

/* What a difference of volts makes at the controller's limit, or at the load where it has none. */
static double at_limit(const hp_assess_case *given, const hp_sag *s, double volts)
{
    return volts * fmax(given->drive->controller.battery_limit_a, s->high_a) /
           (s->high_a - s->low_a);
}

/* Two loads are too alike when what two looks of a meter differ by would alone be half of what is
 * too much at the limit, and what was read is not more than too much by all of that. */
static bool too_alike(const hp_assess_case *given, const hp_sag *s)
{
    double much = SAG_MUCH * given->drive->supply.emf_v, apart = APART * s->low_v;
    return at_limit(given, s, apart) > 0.5 * much &&
           at_limit(given, s, s->low_v - s->high_v - apart) <= much;
}

static bool slipped(const hp_assess_case *given, const hp_sag *s)
{
    double cuts_out = SAG_CUTS_OUT * given->drive->supply.emf_v;
    return cannot_be(given, s) ||
           (!too_alike(given, s) && at_limit(given, s, s->low_v - s->high_v) > cuts_out);
}

bool hp_sag_teaches(const hp_assess_case *given, const hp_sag *s)
{
    return !slipped(given, s) && !too_alike(given, s);
}

static double figure_of(const hp_fit_line *line, hp_fit_what what)
{
    for (int k = 0; k < line->figures; k++)
        if (line->figure[k].what == what)
            return line->figure[k].value;
    return 0.0;
}

double hp_sag_leads_v(const hp_assess_case *given, double amperes)
{
    const hp_fit_line *line = given->fit ? &given->fit->line[HP_FIT_BATTERY_LEADS] : NULL;
    double most_a = line ? figure_of(line, HP_FIT_BATTERY_A) : 0.0;
    return most_a > 0.0 ? figure_of(line, HP_FIT_DROP_V) * amperes / most_a : 0.0;
}

/* chosen: a twentieth of the battery's volts lost between its terminals and the controller at one
 * load, beyond what the leads as stated lose, in one plug, is tens of watts in a thing of a few
 * grams (at 10 A of 36 V: 18 W). */
#define SAG_CONTACT 0.05

/* What is lost behind the battery's own terminals is no slip of the battery's volts, however much
 * it is. */
static bool burns(const hp_assess_case *given, const hp_sag *s)
{
    double lost = s->pack_v - s->high_v - hp_sag_leads_v(given, s->high_a);
    return !cannot_be(given, s) && lost > SAG_CONTACT * given->drive->supply.emf_v;
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_own_figure *ohm = &given->own->figure[HP_OWN_SUPPLY_OHM];
    const hp_supply_params *supply = &given->drive->supply;
    double most_a = given->drive->controller.battery_limit_a;
    *code = HP_SAG_FINE;
    if (burns(given, values)) {
        *code = HP_SAG_CONTACT;
        return HP_FINDING_STOP;
    }
    if (!hp_sag_teaches(given, values)) {
        *code = slipped(given, values) ? HP_SAG_SLIP : HP_SAG_ALIKE;
        return HP_FINDING_LOOK;
    }
    if (!ohm->known)
        return HP_FINDING_NOTED;
    if (ohm->low > SAG_MORE * fmax(supply->resistance_ohm, 0.01))
        *code = HP_SAG_MORE;
    if (ohm->low * most_a > SAG_MUCH * supply->emf_v)
        *code = HP_SAG_MUCH;
    return *code == HP_SAG_FINE ? HP_FINDING_GOOD : HP_FINDING_LOOK;
}

const hp_reading hp_reading_sag = {
    .name = "sag",
    .title = "volts under load",
    .size = sizeof(hp_sag),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_STAND,
    .order = 40,
    .effort = 6.0, /* chosen: two loads, two looks each */
    .assess = assess,
};
