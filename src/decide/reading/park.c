/*
 * Park: one phase lead to plus of a current-limited supply, the other two to minus; the rotor turns
 * to a known place and rests there, and the code is read.
 */
#include "decide/advise/hypothesis.h"
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "model/commutation.h"

/* chosen: a parked rotor rests in the sector beside the true one this often, by friction. */
#define PARK_BESIDE 0.01

static const hp_field fields[] = {
    {.name = "plus_lead",
     .type = HP_FIELD_LEAD,
     .required = true,
     .offset = offsetof(hp_park, lead),
     .argument = "LEAD",
     .help = "Phase lead at plus of the current-limited supply, the other two at minus"},
    {.name = "code",
     .type = HP_FIELD_CODE,
     .offset = offsetof(hp_park, code),
     .argument = "CODE",
     .help = "Hall code where the rotor rests, such as 110"},
    {.name = "no_current",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_park, no_current),
     .argument = "YES-OR-NO",
     .help = "The supply showed no current"},
    {.name = NULL},
};

static void make(void *values)
{
    ((hp_park *)values)->code = -1;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_park *park = values;
    hp_result result = hp_check_whole(err, "lead", park->lead, 0, HP_PHASE_COUNT - 1);
    return result == HP_OK ? hp_check_whole(err, "code", park->code, -1, 7) : result;
}

static int lead_of(const void *values)
{
    return ((const hp_park *)values)->lead;
}

/* Code read with the rotor resting at an angle, now and then in the sector beside. */
static double code_at(const hp_person *p, const hp_hypothesis *h, double theta, int said)
{
    double beside = hp_code_said(p, said, hp_marked_code(h, theta + 60.0 * HP_DEG)) +
                    hp_code_said(p, said, hp_marked_code(h, theta - 60.0 * HP_DEG));
    return (1.0 - 2.0 * PARK_BESIDE) * hp_code_said(p, said, hp_marked_code(h, theta)) +
           PARK_BESIDE * beside;
}

static double code_anywhere(const hp_person *p, const hp_hypothesis *h, int said)
{
    double sum = 0.0;
    for (int sector = 0; sector < HP_SECTOR_COUNT; sector++)
        sum += hp_code_said(p, said, hp_marked_code(h, sector * 60.0 * HP_DEG)) / HP_SECTOR_COUNT;
    return sum;
}

/* With one of the two tied leads open the field lies along the other pair, and the rotor rests on a
 * sensor edge: either neighbour may show. */
static double code_on_edge(const hp_person *p, const hp_hypothesis *h, double theta, int said)
{
    return 0.5 * hp_code_said(p, said, hp_marked_code(h, theta + 20.0 * HP_DEG)) +
           0.5 * hp_code_said(p, said, hp_marked_code(h, theta - 20.0 * HP_DEG));
}

static double park_on(const hp_person *p, const hp_park *park, const hp_hypothesis *h, int lead)
{
    int sensor_axis[HP_PHASE_COUNT], axis[HP_PHASE_COUNT];
    hp_relation_axes(h->relation, sensor_axis, axis);
    bool open = h->fault.kind == HP_FAULT_LEAD_OPEN, dead = open && h->fault.which == lead;
    double weight = 1.0;
    if (park->no_current != HP_TELL_UNSAID)
        weight *=
            (park->no_current == HP_TELL_YES) == dead ? 1.0 - p->pair_misread : p->pair_misread;
    if (park->code < 0)
        return weight;
    if (dead || park->no_current == HP_TELL_YES)
        return weight * code_anywhere(p, h, park->code);
    if (open) {
        int other = HP_PHASE_COUNT - lead - h->fault.which;
        return weight * code_on_edge(p, h, hp_field_angle(axis[lead], axis[other]), park->code);
    }
    return weight * code_at(p, h, hp_phase_axis(axis[lead]), park->code);
}

static double weigh(const hp_reading_case *c, const void *values)
{
    const hp_park *park = values;
    const hp_person *p = c->person;
    double sum = 0.0;
    for (int lead = 0; lead < HP_PHASE_COUNT; lead++)
        sum += (lead == park->lead ? 1.0 - p->wrong_lead : 0.5 * p->wrong_lead) *
               park_on(p, park, c->hypothesis, lead);
    return sum;
}

static void typical(const hp_reading_case *c, void *values)
{
    hp_park *park = values;
    const hp_hypothesis *h = c->hypothesis;
    int sensor_axis[HP_PHASE_COUNT], axis[HP_PHASE_COUNT];
    hp_relation_axes(h->relation, sensor_axis, axis);
    bool dead = h->fault.kind == HP_FAULT_LEAD_OPEN && h->fault.which == c->lead;
    park->lead = c->lead;
    park->no_current = dead ? HP_TELL_YES : HP_TELL_NO;
    park->code = dead ? -1 : hp_marked_code(h, hp_phase_axis(axis[c->lead]));
}

/* Nudged both ways the rotor rests between the two places where friction holds it; with one of the
 * tied leads open the field lies along what is left. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_park *park = values;
    const hp_drive *d = &seen->drive;
    int axis = seen->machine->phase_axis[park->lead];
    int next = (axis + 1) % HP_PHASE_COUNT, last = (axis + 2) % HP_PHASE_COUNT;
    double holds = d->stand.rotor.breakaway_nm + d->stand.wheel.breakaway_nm / d->stand.gear_ratio;
    double pull = 1.5 * d->motor.ke * hp_drive_park_current(d);
    double width = asin(fmin(1.0, holds / pull));
    double beside = 0.5 * width * hp_random_between(&seen->random, -1.0, 1.0);
    bool dead = d->motor.lead_open[axis] || (d->motor.lead_open[next] && d->motor.lead_open[last]);
    double rest = d->motor.lead_open[next]   ? hp_field_angle(axis, last)
                  : d->motor.lead_open[last] ? hp_field_angle(axis, next)
                                             : hp_phase_axis(axis);
    (void)err;
    park->no_current = dead ? HP_TELL_YES : HP_TELL_NO;
    park->code = dead ? -1 : hp_seen_code(seen, rest + beside);
    return HP_OK;
}

/* Parked on another lead than written down. */
static void slip(hp_seen *seen, void *values)
{
    hp_park *park = values;
    int other = (park->lead + 1 + (int)hp_random_below(&seen->random, 2)) % HP_PHASE_COUNT;
    hp_park seen_there = {.lead = other};
    see(seen, &seen_there, NULL);
    park->code = seen_there.code;
}

const hp_reading hp_reading_park = {
    .name = "park",
    .title = "park",
    .size = sizeof(hp_park),
    .fields = fields,
    .make = make,
    .check = check,
    .minutes = 3.0, /* chosen: a current-limited supply and three clips */
    .rank = 2,
    .settles = true,
    .looks = HP_LOOKS_ONE,
    .lead = lead_of,
    .typical = typical,
    .weigh = weigh,
    .powers = HP_POWER_LEADS,
    .see = see,
    .slip = slip,
};
