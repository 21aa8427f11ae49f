/*
 * Coast-down: the wheel runs on with nothing driving it. J dw/dt = -(a + b w) gives the drag, hence
 * the no-load current that ought to be.
 */
#include "decide/commission/fit_machine.h"
#include "decide/reading/reading_parts.h"
#include "decide/reading/running.h"
#include "model/stand.h"

#include <math.h>
#include <stdio.h>

static const hp_field fields[] = {
    {.name = "coast_from_rpm",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_coast_down, from_rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel from which it ran on"},
    {.name = "coast_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_coast_down, stop_s),
     .factor = 1,
     .argument = "SECONDS",
     .help = "How long the wheel runs on by itself until it stops"},
    {.name = "after_1_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_coast_down, mark_s[0]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 1 on the way, since the throttle was closed"},
    {.name = "after_1_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_coast_down, mark_rad_s[0]),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel at moment 1"},
    {.name = "after_2_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_coast_down, mark_s[1]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 2, later"},
    {.name = "after_2_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_coast_down, mark_rad_s[1]),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel at moment 2"},
    {.name = "after_3_s",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "s", .low = 0, .high = 3600, .above = true},
     .offset = offsetof(hp_coast_down, mark_s[2]),
     .factor = 1,
     .argument = "SECONDS",
     .help = "Moment 3, later"},
    {.name = "after_3_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .offset = offsetof(hp_coast_down, mark_rad_s[2]),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel at moment 3"},
    {.name = "rim_kg",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "kg", .low = 0, .high = 100, .above = true},
     .usual = {.low = 0.2, .high = 40},
     .offset = offsetof(hp_coast_down, rim_kg),
     .factor = 1,
     .argument = "KG",
     .help = "Mass of rim, tyre and tube together"},
    {.name = "rim_radius_m",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "m", .low = 0, .high = 2, .above = true},
     .usual = {.low = 0.04, .high = 0.6},
     .offset = offsetof(hp_coast_down, rim_m),
     .factor = 1,
     .argument = "METRES",
     .help = "Their mean radius"},
    {.name = "ring_kg",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "kg", .low = 0, .high = 100, .above = true},
     .usual = {.low = 0.1, .high = 20},
     .offset = offsetof(hp_coast_down, ring_kg),
     .factor = 1,
     .argument = "KG",
     .help = "Mass of the hub shell with its magnets, where they turn with the wheel"},
    {.name = "ring_radius_m",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "m", .low = 0, .high = 2, .above = true},
     .usual = {.low = 0.02, .high = 0.4},
     .offset = offsetof(hp_coast_down, ring_m),
     .factor = 1,
     .argument = "METRES",
     .help = "Its mean radius"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_coast_down *c = values;
    *c = (hp_coast_down){.from_rad_s = NAN,
                         .stop_s = NAN,
                         .rim_kg = NAN,
                         .rim_m = NAN,
                         .ring_kg = NAN,
                         .ring_m = NAN};
    for (int k = 0; k < HP_COAST_MARKS; k++)
        c->mark_s[k] = c->mark_rad_s[k] = NAN;
}

/* Of its own kind alone: each mark whole, later and slower than the one before. */
static bool in_order(const hp_coast_down *c)
{
    double last_s = 0.0, last_rad_s = c->from_rad_s;
    for (int k = 0; k < HP_COAST_MARKS; k++) {
        if (isnan(c->mark_s[k]) != isnan(c->mark_rad_s[k]))
            return false;
        if (isnan(c->mark_s[k]))
            continue;
        if (!(c->mark_s[k] > last_s) || !(c->mark_rad_s[k] < last_rad_s))
            return false;
        last_s = c->mark_s[k];
        last_rad_s = c->mark_rad_s[k];
    }
    return !(c->stop_s <= last_s);
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_coast_down *c = values;
    hp_result result = hp_check_range(err, "wheel speed in rad/s", c->from_rad_s, 1e-3, 1000.0);
    if (result == HP_OK && isnan(c->stop_s) && isnan(c->mark_s[0]) && isnan(c->mark_s[1]) &&
        isnan(c->mark_s[2]))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "no moment is given, coast_s or after_1_s must be there");
    if (result == HP_OK && !in_order(c))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "the moments of the coast-down must follow one another, each slower "
                              "than the one before");
    if (result == HP_OK &&
        (isnan(c->rim_kg) != isnan(c->rim_m) || isnan(c->ring_kg) != isnan(c->ring_m)))
        result = hp_error_set(err, HP_FAIL_INPUT, "a mass and its radius belong together");
    return result;
}

static bool settle_marks(const hp_settling *settling, const hp_coast_down *c)
{
    char last_s[24] = "", last_rpm[24] = "coast_from_rpm", s[24], rpm[24];
    double at = NAN, speed = c->from_rad_s;
    for (int k = 0; k < HP_COAST_MARKS; k++) {
        snprintf(s, sizeof s, "after_%d_s", k + 1);
        snprintf(rpm, sizeof rpm, "after_%d_rpm", k + 1);
        if (!hp_settle_both(settling, s, !isnan(c->mark_s[k]), rpm, !isnan(c->mark_rad_s[k])))
            return false;
        if (isnan(c->mark_s[k]))
            continue;
        if (!hp_settle_order(settling, last_s, at, s, c->mark_s[k]) ||
            !hp_settle_order(settling, rpm, c->mark_rad_s[k] / HP_RPM, last_rpm, speed / HP_RPM))
            return false;
        snprintf(last_s, sizeof last_s, "%s", s);
        snprintf(last_rpm, sizeof last_rpm, "%s", rpm);
        at = c->mark_s[k];
        speed = c->mark_rad_s[k];
    }
    return hp_settle_order(settling, last_s, at, "coast_s", c->stop_s);
}

static bool settle(const hp_settling *settling, const void *values)
{
    const hp_coast_down *c = values;
    bool any = !isnan(c->stop_s);
    for (int k = 0; k < HP_COAST_MARKS; k++)
        any = any || !isnan(c->mark_s[k]) || !isnan(c->mark_rad_s[k]);
    if (!any) {
        settling->refuse(settling, "coast_s", "coast_from_rpm",
                         "is missing, and so is any moment on the way: one must be there");
        return false;
    }
    return settle_marks(settling, c) &&
           hp_settle_both(settling, "rim_kg", !isnan(c->rim_kg), "rim_radius_m",
                          !isnan(c->rim_m)) &&
           hp_settle_both(settling, "ring_kg", !isnan(c->ring_kg), "ring_radius_m",
                          !isnan(c->ring_m));
}

double hp_coast_down_inertia(const hp_coast_down *c)
{
    double rim = c->rim_kg * c->rim_m * c->rim_m, ring = c->ring_kg * c->ring_m * c->ring_m;
    return isnan(rim) ? NAN : rim + (isnan(ring) ? 0.0 : ring);
}

/* chosen: a brake that touches, a seal too tight: this many times the drag that the scenario
 * states, surely. */
#define DRAGS 2.0
/* chosen: a drag may be a few times larger or smaller than the scenario has it; this is nearer to a
 * decimal point that slipped. Where nobody said what the wheel weighs, the drag is a guess, too. */
#define SLIPPED         5.0
#define SLIPPED_GUESSED 10.0
/* chosen: what its card says, half of the time; a weight that nobody said may be out by as much
 * again. */
#define WITHIN         2.0
#define WITHIN_GUESSED 3.0
/* Standard deviations to either end of a band that holds 90 of 100. */
#define BAND_90 1.6449

/* Inertia of all that coasts, and the standard deviation of its logarithm. */
static double coasting_inertia(const hp_assess_case *given, const hp_coast_down *c, double *sd)
{
    const hp_stand_params *stand = &given->drive->stand;
    double rotor = given->drive->motor.rotor_inertia_kg_m2, g = stand->gear_ratio;
    double weighed = hp_coast_down_inertia(c);
    *sd = !isnan(weighed)         ? HP_INERTIA_WEIGHED
          : given->inertia_stated ? HP_INERTIA_STATED
                                  : HP_INERTIA_GUESSED;
    if (!isnan(weighed))
        return weighed + (stand->clutch ? 0.0 : g * g * rotor);
    return stand->clutch ? stand->wheel_inertia_kg_m2 : g * g * hp_stand_inertia(stand, rotor);
}

/* [rad/s2] How hard it slowed on the whole; *lost: the speed that was lost meanwhile. */
static double slowing(const hp_coast_down *c, double *lost)
{
    double seconds = c->stop_s;
    *lost = c->from_rad_s;
    for (int k = 0; k < HP_COAST_MARKS; k++)
        if (isnan(c->stop_s) && !isnan(c->mark_s[k])) {
            seconds = c->mark_s[k];
            *lost = c->from_rad_s - c->mark_rad_s[k];
        }
    return *lost / seconds;
}

/* Of all its moments the last: J times the speed that was lost by then, over the time. */
hp_coast_drag hp_coast_down_drag(const hp_assess_case *given, const hp_coast_down *c)
{
    const hp_stand_params *stand = &given->drive->stand;
    hp_friction all = hp_stand_friction(stand);
    double lost, g = stand->gear_ratio, sd, slows = slowing(c, &lost);
    double middle = c->from_rad_s - 0.5 * lost;
    return (hp_coast_drag){
        .read = coasting_inertia(given, c, &sd) * slows,
        .stated = stand->clutch ? stand->wheel.coulomb_nm + stand->wheel.viscous_nm_s_rad * middle
                                : g * all.coulomb_nm + g * g * all.viscous_nm_s_rad * middle};
}

/* chosen: what a hand that starts a watch is out by over a part of the way, and what a speed is out
 * by, over the speed at the start. */
#define CLOCK_S     0.2
#define SPEED_SHARE 0.03
/* chosen: a wheel slows no harder later than before by more than this, unless something grabs it.
 */
#define GRABS 1.5

/* A part of the way, from one moment to the next. */
typedef struct part {
    double middle;    /* [rad/s] speed */
    double low, high; /* [rad/s2] how hard it slowed, at least and at most */
} part;

static part part_of(const hp_coast_down *c, double from_s, double from, double to_s, double to)
{
    double lost = from - to, slack = SPEED_SHARE * c->from_rad_s, seconds = to_s - from_s;
    return (part){.middle = 0.5 * (from + to),
                  .low = fmax(0.0, lost - slack) / (seconds + CLOCK_S),
                  .high = (lost + slack) / fmax(1e-3, seconds - CLOCK_S)};
}

/* The parts of the way, in order; returns how many. */
static int parts_of(const hp_coast_down *c, part parts[HP_COAST_MARKS + 1])
{
    int count = 0;
    double at = 0.0, speed = c->from_rad_s;
    for (int k = 0; k < HP_COAST_MARKS; k++) {
        if (isnan(c->mark_s[k]))
            continue;
        parts[count++] = part_of(c, at, speed, c->mark_s[k], c->mark_rad_s[k]);
        at = c->mark_s[k];
        speed = c->mark_rad_s[k];
    }
    if (!isnan(c->stop_s) && speed > 0.0)
        parts[count++] = part_of(c, at, speed, c->stop_s, 0.0);
    return count;
}

/* What slows a wheel is steady, or goes with its speed: it grows no weaker than in the proportion
 * of the speeds, and no stronger. */
static bool contradicts_itself(const hp_coast_down *c)
{
    part parts[HP_COAST_MARKS + 1];
    int count = parts_of(c, parts);
    for (int k = 0; k + 1 < count; k++) {
        const part *now = &parts[k], *next = &parts[k + 1];
        if (now->low * next->middle > next->high * now->middle || next->low > GRABS * now->high)
            return true;
    }
    return false;
}

int hp_coast_down_slipped(const hp_assess_case *given, const hp_coast_down *c)
{
    double sd;
    coasting_inertia(given, c, &sd);
    bool guessed = sd > HP_INERTIA_STATED;
    double wide = (guessed ? SLIPPED_GUESSED : SLIPPED) * exp(BAND_90 * sd);
    hp_coast_drag drag = hp_coast_down_drag(given, c);
    if (contradicts_itself(c))
        return HP_COAST_BENT;
    return !(drag.stated > 0.0)             ? HP_COAST_FINE
           : drag.read < drag.stated / wide ? HP_COAST_FREE
           : drag.read > drag.stated * wide ? HP_COAST_HELD
                                            : HP_COAST_FINE;
}

double hp_coast_down_within(const hp_assess_case *given, const hp_coast_down *c)
{
    double sd = given->inertia_stated ? HP_INERTIA_STATED : HP_INERTIA_GUESSED;
    if (c)
        coasting_inertia(given, c, &sd);
    return sd > HP_INERTIA_STATED ? WITHIN_GUESSED : WITHIN;
}

const hp_entry *hp_coast_down_longer(const hp_assess_case *given)
{
    const hp_entry *last = hp_assess_last(given, &hp_reading_coast_down);
    double lost;
    for (const hp_entry *e = last; last && e-- > given->entry;) {
        if (e->reading != last->reading || e->typical ||
            hp_coast_down_slipped(given, hp_entry_said(e)) != HP_COAST_FINE)
            continue;
        if (slowing(hp_entry_said(last), &lost) >=
            HP_COAST_THIRD * slowing(hp_entry_said(e), &lost))
            return e;
    }
    return NULL;
}

static hp_finding assess(const hp_assess_case *given, const void *values, int *code)
{
    const hp_stand_params *stand = &given->drive->stand;
    hp_friction all = hp_stand_friction(stand);
    double stated = stand->clutch ? stand->wheel.coulomb_nm : stand->gear_ratio * all.coulomb_nm;
    const hp_own_figure *drag =
        &given->own->figure[stand->clutch ? HP_OWN_COAST_FRICTION_NM : HP_OWN_FRICTION_NM];
    bool held = drag->known && stated > 0.0;
    double within = hp_coast_down_within(given, values);
    hp_coast_drag mean = hp_coast_down_drag(given, values);
    *code = hp_coast_down_slipped(given, values);
    if (*code == HP_COAST_FINE && hp_coast_down_longer(given))
        *code = HP_COAST_SOONER;
    else if (*code == HP_COAST_FINE && ((held && drag->low > DRAGS * stated) ||
                                        (mean.stated > 0.0 && mean.read > mean.stated * within)))
        *code = HP_COAST_DRAGS;
    return *code == HP_COAST_FINE ? HP_FINDING_GOOD : HP_FINDING_LOOK;
}

const hp_reading hp_reading_coast_down = {
    .name = "coast_down",
    .title = "coast-down",
    .size = sizeof(hp_coast_down),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .stage = HP_STAGE_STAND,
    .order = 20,
    .effort = 5.0, /* chosen: one run, a phone's film looked through afterwards */
    .needs_run = true,
    .assess = assess,
};
