/*
 * Weighing readings: see decide/reading/weigh.h. What a sound or broken part shows is geometry and
 * Ohm's law; the person's slips are mixed in.
 */
#include "decide/reading/weigh.h"

#include <math.h>

/* chosen: a pair of more than this is taken for open; windings have milliohms to ohms. */
#define OPEN_OHM 1000.0
/* chosen: an open pair picks up at most this share of the volts that a sound one gives. */
#define OPEN_VOLT_SHARE 0.1
/* chosen: a parked rotor rests in the sector beside the true one this often, by friction. */
#define PARK_BESIDE 0.01
/* chosen: whoever turns a wheel and sees codes change rarely writes one code only. */
#define ONE_CODE 1e-3
/* chosen: how often a controller's own learning ends well, with sound parts and with a fault. */
#define LEARN_SOUND  0.9
#define LEARN_BROKEN 0.05

static double normal(double x, double deviation)
{
    double z = x / deviation;
    return exp(-0.5 * z * z) / (deviation * sqrt(2.0 * HP_PI));
}

/* Whether pair `pair` (named by the lead it leaves out) is open. */
static bool pair_open(const hp_hypothesis *h, int pair)
{
    return h->fault.kind == HP_FAULT_LEAD_OPEN && h->fault.which != pair;
}

/* ---- pins, winding --------------------------------------------------------------------------- */

static double weigh_pins(const hp_person *p, const hp_pins *pins, const hp_hypothesis *h)
{
    double weight = 1.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (pins->open[k] == HP_TELL_UNSAID)
            continue;
        bool right = (pins->open[k] == HP_TELL_YES) == pair_open(h, k);
        weight *= right ? 1.0 - p->pair_misread : p->pair_misread;
    }
    return weight;
}

static double weigh_winding(const hp_likelihood *table, const hp_person *p, const hp_winding *w,
                            const hp_hypothesis *h, int motor)
{
    hp_motor_params m = table->motor[motor].motor;
    m.winding_c = w->copper_c;
    double expected = 2.0 * hp_motor_resistance(&m), weight = 1.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (isnan(w->ohm[k]))
            continue;
        bool said_open = w->ohm[k] > OPEN_OHM, open = pair_open(h, k);
        weight *= said_open == open ? 1.0 - p->pair_misread : p->pair_misread;
        if (said_open)
            continue;
        /* A worthless number is anything up to OPEN_OHM on the scale asinh(ohm / zero error). */
        double worthless = 1.0 / asinh(OPEN_OHM / p->ohm_zero);
        double ohm = w->ohm[k] - w->leads_ohm;
        double good = normal(ohm - expected, hypot(p->ohm_relative * expected, p->ohm_zero)) *
                      hypot(ohm, p->ohm_zero);
        weight *= open ? worthless : p->value_misread * worthless + (1.0 - p->value_misread) * good;
    }
    return weight;
}

/* ---- spin ------------------------------------------------------------------------------------ */

/* What a meter of this kind shows between two leads per unit of ke times rotor speed. */
static double line_factor(const hp_backemf *backemf, hp_volt_kind kind)
{
    const int points = 360;
    double peak = 0.0, sum = 0.0, squares = 0.0;
    for (int k = 0; k < points; k++) {
        double x = HP_TWO_PI * (k + 0.5) / points;
        double v = hp_backemf_value(backemf, x) - hp_backemf_value(backemf, x - HP_PHASE_STEP);
        peak = fmax(peak, fabs(v));
        sum += fabs(v) / points;
        squares += v * v / points;
    }
    switch (kind) {
    case HP_VOLT_PEAK: return peak;
    case HP_VOLT_AVERAGE: return sum * HP_PI / (2.0 * sqrt(2.0)); /* form factor of a sine */
    case HP_VOLT_RMS:
    case HP_VOLT_KIND_COUNT: break;
    }
    return sqrt(squares);
}

static double weigh_spin(const hp_likelihood *table, const hp_person *p, const hp_spin *s,
                         const hp_hypothesis *h, int motor)
{
    const double worthless = 1.0 / 6.0; /* within e^3 either way */
    const hp_drive *drive = &table->motor[motor];
    double rotor = s->wheel_rad_s * drive->stand.gear_ratio;
    double expected = drive->motor.ke * rotor * line_factor(&drive->motor.backemf, s->kind);
    double weight = 1.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        if (isnan(s->volts[k]))
            continue;
        bool dead = pair_open(h, k) || h->fault.kind == HP_FAULT_CLUTCH;
        bool said_dead = s->volts[k] < OPEN_VOLT_SHARE * expected;
        weight *= said_dead == dead ? 1.0 - p->pair_misread : p->pair_misread;
        if (said_dead)
            continue;
        double good = normal(log(s->volts[k] / expected), hypot(p->volt_relative, HP_KERNEL_SPEED));
        weight *= dead ? worthless : p->value_misread * worthless + (1.0 - p->value_misread) * good;
    }
    return weight;
}

/* ---- hand turn ------------------------------------------------------------------------------- */

static double emission(const hp_person *p, int said, int shown)
{
    return said == shown ? 1.0 - p->code_misread : p->code_misread / (HP_CODE_COUNT - 1);
}

/* Probability of the codes when the ring is passed in steps of `step` (+1 or -1), starting
 * anywhere: forward algorithm of a hidden Markov chain (Rabiner, Proc. IEEE 77(2):257-286, 1989;
 * memory). */
static double ring_probability(const hp_person *p, const hp_hand_turn *t, const int *ring, int size,
                               int step)
{
    double at[HP_SECTOR_COUNT], next[HP_SECTOR_COUNT];
    for (int k = 0; k < size; k++)
        at[k] = emission(p, t->code[0], ring[k]) / size;
    for (int i = 1; i < t->count; i++) {
        for (int k = 0; k < size; k++) {
            int one = (k - step + 2 * size) % size, two = (k - 2 * step + 2 * size) % size;
            next[k] = (at[one] * (1.0 - p->code_skipped) + at[two] * p->code_skipped) *
                      emission(p, t->code[i], ring[k]);
        }
        for (int k = 0; k < size; k++)
            at[k] = next[k];
    }
    double sum = 0.0;
    for (int k = 0; k < size; k++)
        sum += at[k];
    return sum;
}

/* The rotor does not follow the wheel: one code, whichever. */
static double standing_probability(const hp_person *p, const hp_hand_turn *t,
                                   const hp_hypothesis *h)
{
    double sum = 0.0;
    for (int sector = 0; sector < HP_SECTOR_COUNT; sector++) {
        double all = 1.0;
        int shown = hp_marked_code(h, sector * 60.0 * HP_DEG);
        for (int i = 0; i < t->count; i++)
            all *= emission(p, t->code[i], shown);
        sum += all / HP_SECTOR_COUNT;
    }
    return sum;
}

static double weigh_hand_turn(const hp_likelihood *table, const hp_person *p, const hp_hand_turn *t,
                              const hp_hypothesis *h)
{
    /* Forward, a one-way clutch lets the wheel overrun the rotor. */
    bool carried =
        h->fault.kind != HP_FAULT_CLUTCH && (!table->nominal.stand.clutch || t->backward);
    if (!carried)
        return standing_probability(p, t, h);
    int ring[HP_SECTOR_COUNT], size = hp_marked_ring(h, ring), step = t->backward ? -1 : 1;
    if (t->count == 1)
        return ONE_CODE * ring_probability(p, t, ring, size, step);
    return (1.0 - p->turned_back) * ring_probability(p, t, ring, size, step) +
           p->turned_back * ring_probability(p, t, ring, size, -step);
}

/* ---- park ------------------------------------------------------------------------------------ */

/* Code read with the rotor resting at an angle, now and then in the sector beside. */
static double code_at(const hp_person *p, const hp_hypothesis *h, double theta, int said)
{
    double beside = emission(p, said, hp_marked_code(h, theta + 60.0 * HP_DEG)) +
                    emission(p, said, hp_marked_code(h, theta - 60.0 * HP_DEG));
    return (1.0 - 2.0 * PARK_BESIDE) * emission(p, said, hp_marked_code(h, theta)) +
           PARK_BESIDE * beside;
}

static double code_anywhere(const hp_person *p, const hp_hypothesis *h, int said)
{
    double sum = 0.0;
    for (int sector = 0; sector < HP_SECTOR_COUNT; sector++)
        sum += emission(p, said, hp_marked_code(h, sector * 60.0 * HP_DEG)) / HP_SECTOR_COUNT;
    return sum;
}

/* With one of the two tied leads open the field lies along the other pair, and the rotor rests on a
 * sensor edge: either neighbour may show. */
static double code_on_edge(const hp_person *p, const hp_hypothesis *h, double theta, int said)
{
    return 0.5 * emission(p, said, hp_marked_code(h, theta + 20.0 * HP_DEG)) +
           0.5 * emission(p, said, hp_marked_code(h, theta - 20.0 * HP_DEG));
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

static double weigh_park(const hp_person *p, const hp_park *park, const hp_hypothesis *h)
{
    double sum = 0.0;
    for (int lead = 0; lead < HP_PHASE_COUNT; lead++)
        sum += (lead == park->lead ? 1.0 - p->wrong_lead : 0.5 * p->wrong_lead) *
               park_on(p, park, h, lead);
    return sum;
}

/* ---- probe, learning ------------------------------------------------------------------------- */

static double weigh_probe(const hp_person *p, const hp_probe *probe, const hp_hypothesis *h)
{
    hp_commutation_table table = hp_table_get(h->table);
    double weight = 1.0;
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        if (!probe->read[code])
            continue;
        /* Another row is one of six pairs or none: six others. */
        bool same = probe->row[code].high == table.row[code].high &&
                    probe->row[code].low == table.row[code].low;
        weight *= same ? 1.0 - p->row_misread : p->row_misread / 6.0;
    }
    return weight;
}

static double weigh_learn(const hp_learn *learn, const hp_hypothesis *h)
{
    if (learn->worked == HP_TELL_UNSAID)
        return 1.0;
    double works = h->fault.kind == HP_FAULT_NONE ? LEARN_SOUND : LEARN_BROKEN;
    return learn->worked == HP_TELL_YES ? works : 1.0 - works;
}

/* ---- all of them ----------------------------------------------------------------------------- */

double hp_weigh_reading(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                        const hp_hypothesis *h, int motor)
{
    switch (entry->kind) {
    case HP_ENTRY_PINS: return weigh_pins(person, &entry->pins, h);
    case HP_ENTRY_WINDING: return weigh_winding(table, person, &entry->winding, h, motor);
    case HP_ENTRY_SPIN: return weigh_spin(table, person, &entry->spin, h, motor);
    case HP_ENTRY_HAND_TURN: return weigh_hand_turn(table, person, &entry->hand_turn, h);
    case HP_ENTRY_PARK: return weigh_park(person, &entry->park, h);
    case HP_ENTRY_PROBE: return weigh_probe(person, &entry->probe, h);
    case HP_ENTRY_LEARN: return weigh_learn(&entry->learn, h);
    case HP_ENTRY_SUPPLY:
    case HP_ENTRY_TRIAL:
    case HP_ENTRY_MEND:
    case HP_ENTRY_KIND_COUNT: break;
    }
    return 1.0;
}

bool hp_reading_needs_motor(hp_entry_kind kind)
{
    return kind == HP_ENTRY_WINDING || kind == HP_ENTRY_SPIN;
}
