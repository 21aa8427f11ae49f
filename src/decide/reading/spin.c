/*
 * Spin: volts between the phase leads while the wheel is spun at a known speed. It tells the size
 * of the back-EMF, a broken lead, and a clutch that slips.
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "decide/reading/weigh.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "model/backemf.h"

#include <math.h>

/* chosen: an open pair picks up at most this share of the volts that a sound one gives. */
#define OPEN_VOLT_SHARE 0.1
/* Points over a turn at which the line shape is taken: the meter is far coarser. */
#define LINE_POINTS 360

const hp_danger hp_danger_backemf = {"backemf_unlike", &hp_reading_spin};

static const char *const meter_words[] = {"rms", "average", "peak", NULL};

static const hp_field fields[] = {
    {.name = "voltage_v",
     .type = HP_FIELD_PAIRS,
     .required = true,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 1000},
     .offset = offsetof(hp_spin, volts),
     .argument = "PAIR=VOLTS",
     .help = "Volts between a pair of phase leads"},
    {.name = "wheel_speed_rpm",
     .type = HP_FIELD_NUMBER,
     .required = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX, .above = true},
     .usual = {.high = 3000},
     .offset = offsetof(hp_spin, wheel_rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel"},
    {.name = "meter",
     .type = HP_FIELD_CHOICE,
     .required = true,
     .words = meter_words,
     .first = HP_VOLT_RMS,
     .offset = offsetof(hp_spin, kind),
     .argument = "KIND",
     .help = "The meter shows true rms (rms), the a.c. average (average) or the peak (peak)"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_spin *s = values;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        s->volts[k] = NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_spin *s = values;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!isnan(s->volts[k]) && !(s->volts[k] >= 0.0 && s->volts[k] <= 1000.0))
            return hp_error_set(err, HP_FAIL_INPUT, "%g V between leads, must be 0 to 1000",
                                s->volts[k]);
    hp_result result =
        hp_check_whole(err, "kind of meter", (int)s->kind, 0, HP_VOLT_KIND_COUNT - 1);
    if (result == HP_OK && !(s->wheel_rad_s > 0.0 && s->wheel_rad_s <= 1000.0))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "wheel speed is %g rad/s, must be above 0 and at most 1000",
                              s->wheel_rad_s);
    return result;
}

/* What a meter of this kind shows between two leads per unit of ke times rotor speed. */
static double line_factor(const hp_backemf *backemf, hp_volt_kind kind)
{
    hp_backemf_line line = hp_backemf_line_over(backemf, LINE_POINTS);
    switch (kind) {
    case HP_VOLT_PEAK: return line.peak;
    case HP_VOLT_AVERAGE:
        return line.average * HP_PI / (2.0 * sqrt(2.0)); /* form factor of a sine */
    case HP_VOLT_RMS:
    case HP_VOLT_KIND_COUNT: break;
    }
    return line.rms;
}

static double weigh(const hp_reading_case *c, const void *values)
{
    const double worthless = 1.0 / 6.0; /* within e^3 either way */
    const hp_spin *s = values;
    const hp_person *p = c->person;
    const hp_drive *drive = &c->table->motor[c->motor];
    double rotor = s->wheel_rad_s * drive->stand.gear_ratio;
    double expected = drive->motor.ke * rotor * line_factor(&drive->motor.backemf, s->kind);
    double weight = 1.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (isnan(s->volts[k]))
            continue;
        bool dead = hp_pair_open(c->hypothesis, k) || c->hypothesis->fault.kind == HP_FAULT_CLUTCH;
        bool said_dead = s->volts[k] < OPEN_VOLT_SHARE * expected;
        weight *= said_dead == dead ? 1.0 - p->pair_misread : p->pair_misread;
        if (said_dead)
            continue;
        double good =
            hp_normal(log(s->volts[k] / expected), hypot(p->volt_relative, HP_KERNEL_SPEED));
        weight *= dead ? worthless : p->value_misread * worthless + (1.0 - p->value_misread) * good;
    }
    return weight;
}

/* The peak, at one radian a second of the wheel. */
static void typical(const hp_reading_case *c, void *values)
{
    hp_spin *s = values;
    const hp_drive *drive = &c->table->motor[0];
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool dead = hp_pair_open(c->hypothesis, k) || c->hypothesis->fault.kind == HP_FAULT_CLUTCH;
        s->volts[k] = dead ? 0.0 : 2.0 * drive->motor.ke * drive->stand.gear_ratio;
    }
    s->wheel_rad_s = 1.0;
    s->kind = HP_VOLT_PEAK;
}

/* The wheel goes by a drill at a turn a second; backward behind a one-way clutch. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_spin *s = values;
    const hp_motor_params *m = &seen->drive.motor;
    double relative = seen->machine->stated.person.volt_relative;
    (void)err;
    s->kind = HP_VOLT_RMS;
    s->wheel_rad_s = 60.0 * HP_RPM;
    double rotor = s->wheel_rad_s * seen->drive.stand.gear_ratio;
    double volts = m->ke * rotor * hp_backemf_line_over(&m->backemf, LINE_POINTS).rms;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        bool dead = hp_seen_pair_open(seen, k) || !hp_seen_carries(seen);
        double shown = hp_seen_metered(seen, volts, relative, 0.0, 0.01);
        s->volts[k] = dead ? 0.0 : shown;
    }
    return HP_OK;
}

/* The pairs are spun one after the other: half the volts is no other speed of the hand. chosen: [V]
 * below that a meter on its lowest range shows anything. */
#define ZERO_V 0.5

static hp_tell danger(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person)
{
    const hp_spin *s = values;
    (void)danger, (void)plan, (void)person;
    return hp_pairs_unlike(s->volts, ZERO_V);
}

static const hp_danger *const spin_dangers[] = {&hp_danger_backemf, NULL};

const hp_reading hp_reading_spin = {
    .name = "spin",
    .title = "spin",
    .size = sizeof(hp_spin),
    .fields = fields,
    .make = make,
    .check = check,
    .minutes = 5.0, /* chosen: two people, or a drill on the wheel */
    .rank = 5,
    .proves = HP_PROVES(HP_FAULT_CLUTCH),
    .shows_faults = true,
    .needs_motor = true,
    .typical = typical,
    .weigh = weigh,
    .speaks_of = spin_dangers,
    .danger = danger,
    .see = see,
};
