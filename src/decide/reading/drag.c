/*
 * Drag: what else than the motor draws from the battery, and what drags on the wheel. It settles
 * what a current that came back the same is made of.
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <stdio.h>

static const hp_field fields[] = {
    {.name = "idle_a",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .usual = {.high = HP_IDLE_USUAL_A},
     .offset = offsetof(hp_drag, idle_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Battery current with all switched on, throttle at zero and the wheel at rest"},
    {.name = "coast_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_drag, coast_s),
     .factor = 1,
     .argument = "SECONDS",
     .help = "How long the wheel runs on by itself until it stops"},
    {.name = "coast_from_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_drag, coast_rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel from which it ran on"},
    {.name = "rubs",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_drag, rubs),
     .argument = "YES-OR-NO",
     .help = "Something drags or rubs when the wheel is turned by hand"},
    {.name = "other_load",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_drag, other_load),
     .argument = "YES-OR-NO",
     .help = "A lamp, display or regulator draws its current through the meter too"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_drag *d = values;
    d->idle_a = d->coast_s = d->coast_rad_s = NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_drag *d = values;
    hp_result result = HP_OK;
    if (!isnan(d->idle_a))
        result = hp_check_range(err, "idle current in A", d->idle_a, 0.0, 1000.0);
    if (result == HP_OK && !isnan(d->coast_s))
        result = hp_check_range(err, "coasting in s", d->coast_s, 1e-3, 3600.0);
    if (result == HP_OK && !isnan(d->coast_rad_s))
        result = hp_check_range(err, "wheel speed in rad/s", d->coast_rad_s, 1e-3, 1000.0);
    return result;
}

/* How long it ran on says nothing without the speed from which. */
static bool settle(const hp_settling *settling, const void *values)
{
    const hp_drag *d = values;
    char name[80], text[160];
    bool time = !isnan(d->coast_s), speed = !isnan(d->coast_rad_s);
    if (time == speed)
        return true;
    snprintf(text, sizeof text, "is missing, must be there beside %s",
             settling->name(settling, time ? "coast_s" : "coast_from_rpm", name, sizeof name));
    settling->refuse(settling, time ? "coast_from_rpm" : "coast_s",
                     time ? "coast_s" : "coast_from_rpm", text);
    return false;
}

/* chosen: whoever turns a wheel by hand feels a brake that doubles the friction, mostly. */
static double chance_of_rubbing(double friction)
{
    return fmin(0.95, 0.05 + 0.65 * log(friction));
}

/* chosen: a lamp or display of a tenth of an ampere and more is seen, mostly. */
static double chance_of_load(double idle_a)
{
    return idle_a > 0.1 ? 0.9 : 0.1;
}

static double tell(hp_tell said, double chance)
{
    return said == HP_TELL_UNSAID ? 1.0 : said == HP_TELL_YES ? chance : 1.0 - chance;
}

/* Logarithm's scatter of a run-down: friction by the ensemble, inertia, a stop watch (chosen). */
#define COAST_SCATTER 0.4

static double weigh_coast(const hp_reading_case *c, const hp_drag *d, double friction)
{
    const hp_stand_params *stand = &c->table->motor[c->motor].stand;
    double gear = stand->gear_ratio;
    double torque = friction * (stand->rotor.coulomb_nm * (stand->clutch ? 0.0 : gear) +
                                stand->wheel.coulomb_nm);
    double usual = stand->wheel_inertia_kg_m2 * d->coast_rad_s / torque;
    if (!(torque > 0.0))
        return 1.0;
    return 0.02 + hp_normal(log(d->coast_s / usual), COAST_SCATTER);
}

static double weigh(const hp_reading_case *c, const void *values)
{
    const hp_drag *d = values;
    const hp_person *p = c->person;
    double idle = c->nuisance ? c->nuisance->idle_a : 0.0;
    double friction = c->nuisance ? c->nuisance->friction : 1.0;
    double weight =
        tell(d->rubs, chance_of_rubbing(friction)) * tell(d->other_load, chance_of_load(idle));
    if (!isnan(d->idle_a))
        weight *= p->value_misread +
                  (1.0 - p->value_misread) *
                      hp_normal(d->idle_a - idle, hypot(0.15 * idle, p->current_zero_a));
    if (!isnan(d->coast_s) && !isnan(d->coast_rad_s))
        weight *= weigh_coast(c, d, friction);
    return weight;
}

/* A free wheel, and nothing else joined. */
static void typical(const hp_reading_case *c, void *values)
{
    hp_drag *d = values;
    (void)c;
    d->rubs = d->other_load = HP_TELL_NO;
}

/* From 60 rev/min on; behind a one-way clutch the wheel runs on by itself. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_drag *d = values;
    const hp_stand_params *stand = &seen->drive.stand;
    const hp_person *p = &seen->machine->stated.person;
    bool alone = stand->clutch;
    double gear = stand->gear_ratio, rotor = alone ? 0.0 : gear;
    double inertia =
        stand->wheel_inertia_kg_m2 + rotor * rotor * seen->drive.motor.rotor_inertia_kg_m2;
    double speed = 60.0 * HP_RPM, seconds = 0.0;
    (void)err;
    d->coast_rad_s = speed;
    for (; speed > 0.0 && seconds < 600.0; seconds += 1e-3) {
        double against =
            stand->wheel.coulomb_nm + stand->wheel.viscous_nm_s_rad * speed +
            rotor * (stand->rotor.coulomb_nm + stand->rotor.viscous_nm_s_rad * speed * gear);
        speed -= 1e-3 * against / inertia;
    }
    d->coast_s = fmax(0.1, hp_seen_metered(seen, seconds, 0.05, 0.0, 0.1));
    double idle = hp_seen_metered(seen, seen->machine->idle_a, p->current_relative, 0.005, 0.01);
    if (seen->machine->stated.plan.ammeter)
        d->idle_a = idle;
    d->rubs = HP_TELL_NO;
    d->other_load = seen->machine->idle_a > 0.1 ? HP_TELL_YES : HP_TELL_NO;
    return HP_OK;
}

static bool contradicts(const hp_assess_case *given, const void *values)
{
    (void)given;
    return ((const hp_drag *)values)->rubs == HP_TELL_YES;
}

/* chosen: lamp and display draw no more; a bare controller less. */
#define IDLE_MUCH_A 1.0

static bool hinders(const hp_assess_case *given, const void *values)
{
    const hp_drag *d = values;
    return contradicts(given, values) || d->idle_a > IDLE_MUCH_A;
}

const hp_reading hp_reading_drag = {
    .name = "drag",
    .title = "drag",
    .size = sizeof(hp_drag),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .minutes = 2.0, /* chosen: a look at the meter, a turn by hand */
    .demand = HP_DEMAND_FIGURES,
    .rank = 9,
    .needs_motor = true,
    .needs_bench = true,
    .typical = typical,
    .weigh = weigh,
    .contradicts = contradicts,
    .hinders = hinders,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .see = see,
};
