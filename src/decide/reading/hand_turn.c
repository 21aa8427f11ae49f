/*
 * Hand turn: sensors powered, the wheel turned by hand, the codes in order as they change. Their
 * order tells how the sensor leads follow one another, and a sensor that never changes is broken.
 */
#include "decide/advise/hypothesis.h"
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <math.h>

/* chosen: whoever turns a wheel and sees codes change rarely writes one code only. */
#define ONE_CODE 1e-3

static const char *const way_words[] = {"forward", "backward", NULL};

static const hp_field fields[] = {
    {.name = "codes",
     .type = HP_FIELD_CODES,
     .required = true,
     .offset = 0,
     .argument = "CODES",
     .help = "Hall codes in the order seen, such as 101,100,110"},
    {.name = "direction",
     .type = HP_FIELD_WAY,
     .words = way_words,
     .offset = offsetof(hp_hand_turn, backward),
     .argument = "WAY",
     .help = "The wheel was turned forward (when not given) or backward"},
    {.name = "edges_per_wheel_turn",
     .type = HP_FIELD_WHOLE,
     .figure = true,
     .limits = {.unit = "", .low = 1, .high = 100000, .whole = true},
     .usual = {.low = 4, .high = 1000},
     .offset = offsetof(hp_hand_turn, edges),
     .argument = "N",
     .help = "Changes of one sensor counted over one turn of the wheel"},
    {.name = NULL},
};

static hp_result check(const void *values, hp_error *err)
{
    const hp_hand_turn *t = values;
    hp_result result = hp_check_whole(err, "number of codes", t->count, 1, HP_TURN_CODES);
    for (int k = 0; result == HP_OK && k < t->count; k++)
        result = hp_check_whole(err, "code", t->code[k], 0, 7);
    return result == HP_OK ? hp_check_whole(err, "edges", t->edges, 0, 100000) : result;
}

/* chosen: a Hall lead that makes contact now and then is open at one code in so many, and a code
 * more shows where it opens or closes again. */
#define CODE_OPEN 0.1

/* What is said of a sector; a lead that is open just then reads pulled up. */
static double sector_said(const hp_reading_case *c, int said, int shown)
{
    int lead = c->loose - HP_PHASE_COUNT;
    double held = hp_code_said(c->person, said, shown);
    if (lead < 0)
        return held;
    return (1.0 - CODE_OPEN) * held + CODE_OPEN * hp_code_said(c->person, said, shown | 4 >> lead);
}

/* Probability of the codes when the ring is passed in steps of `step` (+1 or -1), starting
 * anywhere: forward algorithm of a hidden Markov chain (Rabiner, Proc. IEEE 77(2):257-286, 1989;
 * memory). */
static double ring_probability(const hp_reading_case *c, const hp_hand_turn *t, const int *ring,
                               int size, int step)
{
    double stays = c->loose >= HP_PHASE_COUNT ? CODE_OPEN : 0.0, skips = c->person->code_skipped;
    double at[HP_SECTOR_COUNT], next[HP_SECTOR_COUNT];
    for (int k = 0; k < size; k++)
        at[k] = sector_said(c, t->code[0], ring[k]) / size;
    for (int i = 1; i < t->count; i++) {
        for (int k = 0; k < size; k++) {
            int one = (k - step + 2 * size) % size, two = (k - 2 * step + 2 * size) % size;
            next[k] =
                ((at[one] * (1.0 - skips) + at[two] * skips) * (1.0 - stays) + at[k] * stays) *
                sector_said(c, t->code[i], ring[k]);
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
            all *= hp_code_said(p, t->code[i], shown);
        sum += all / HP_SECTOR_COUNT;
    }
    return sum;
}

/* chosen: what holds a controller off leaves the sensors without supply or ground this often. */
#define SENSORS_DEAD 0.15

/* All three alike throughout: no supply reads 000, no ground 111. */
static double dead_probability(const hp_person *p, const hp_hand_turn *t)
{
    double sum = 0.0;
    for (int code = 0; code < HP_CODE_COUNT; code += HP_CODE_COUNT - 1) {
        double all = 0.5;
        for (int i = 0; i < t->count; i++)
            all *= hp_code_said(p, t->code[i], code);
        sum += all;
    }
    return sum;
}

static double weigh_sound(const hp_reading_case *c, const hp_hand_turn *t)
{
    const hp_person *p = c->person;
    const hp_hypothesis *h = c->hypothesis;
    if (h->fault.kind == HP_FAULT_CLUTCH)
        return standing_probability(p, t, h);
    int ring[HP_SECTOR_COUNT], size = hp_marked_ring(h, ring), step = t->backward ? -1 : 1;
    /* Forward, a one-way clutch lets the wheel overrun the rotor: codes that change were seen
     * backward, and the way was written down wrong, or not at all. */
    if (c->table->nominal.stand.clutch && !t->backward)
        return (1.0 - p->turned_back) * standing_probability(p, t, h) +
               p->turned_back * (t->count == 1 ? ONE_CODE : 1.0) *
                   ring_probability(c, t, ring, size, -step);
    if (t->count == 1)
        return ONE_CODE * ring_probability(c, t, ring, size, step);
    return (1.0 - p->turned_back) * ring_probability(c, t, ring, size, step) +
           p->turned_back * ring_probability(c, t, ring, size, -step);
}

/* A controller that drives nothing may be silent for want of the sensors' supply. */
static double weigh(const hp_reading_case *c, const void *values)
{
    double sound = weigh_sound(c, values);
    if (c->hypothesis->fault.kind != HP_FAULT_SILENT)
        return sound;
    return (1.0 - SENSORS_DEAD) * sound + SENSORS_DEAD * dead_probability(c->person, values);
}

/* The codes of more than one turn, from the smallest code on. */
static void typical(const hp_reading_case *c, void *values)
{
    hp_hand_turn *t = values;
    int ring[HP_SECTOR_COUNT], size = hp_marked_ring(c->hypothesis, ring), first = 0;
    assert(size > 0);
    for (int k = 1; k < size; k++)
        if (ring[k] < ring[first])
            first = k;
    t->backward = c->table->nominal.stand.clutch;
    t->count = size == 1 ? 1 : size + 1;
    for (int k = 0; k < t->count; k++)
        t->code[k] = ring[((t->backward ? -k : k) + first + 2 * size) % size];
}

/* Seven codes, or the one that never changes within a turn and a bit. */
static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_hand_turn *t = values;
    double angle = hp_random_between(&seen->random, 0.0, HP_TWO_PI);
    t->backward = seen->drive.stand.clutch;
    double way = !hp_seen_carries(seen) ? 0.0 : t->backward ? -1.0 : 1.0;
    (void)err;
    t->code[0] = hp_seen_code(seen, angle);
    t->count = 1;
    for (int degree = 0; degree < 420 && t->count <= HP_SECTOR_COUNT; degree++) {
        angle += way * HP_DEG;
        int code = hp_seen_code(seen, angle);
        if (code != t->code[t->count - 1])
            t->code[t->count++] = code;
    }
    return HP_OK;
}

/* The wheel was turned the other way than written down. */
static void slip(hp_seen *seen, void *values)
{
    hp_hand_turn *t = values;
    (void)seen;
    for (int k = 0; k < t->count / 2; k++) {
        int kept = t->code[k];
        t->code[k] = t->code[t->count - 1 - k];
        t->code[t->count - 1 - k] = kept;
    }
}

/* Three sensors 120 degrees apart are never all alike, and a controller made for them does not
 * drive then. Which code 60-degree ones never show depends on whose lead is whose. */
static bool contradicts(const hp_assess_case *given, const void *values)
{
    const hp_hand_turn *t = values;
    for (int k = 0; k < t->count && !given->drive->sensors.spacing_60; k++)
        if (t->code[k] == 0 || t->code[k] == HP_CODE_COUNT - 1)
            return true;
    return false;
}

/* Each sensor changes twice in a turn of the field. chosen: through gears a wheel's turn is no
 * whole number of them, and ends a change too early or too late. */
#define GEARED_WITHIN 2.0

double hp_hand_turn_edges(const hp_drive *drive)
{
    return 2.0 * drive->motor.pole_pairs * drive->stand.gear_ratio;
}

static hp_tell gainsays(const hp_drive *drive, const void *values)
{
    const hp_hand_turn *t = values;
    double within = drive->stand.gear_ratio == 1.0 ? 0.5 : GEARED_WITHIN;
    if (t->edges == 0)
        return HP_TELL_UNSAID;
    return fabs(t->edges - hp_hand_turn_edges(drive)) > within ? HP_TELL_YES : HP_TELL_NO;
}

/* Two codes would fit either sense. */
static bool orders_hall(const void *values)
{
    return ((const hp_hand_turn *)values)->count > 2;
}

const hp_reading hp_reading_hand_turn = {
    .name = "hand_turn",
    .title = "hand turn",
    .size = sizeof(hp_hand_turn),
    .fields = fields,
    .check = check,
    .minutes = 4.0, /* chosen: a clip for the supply, six codes to write down */
    .rank = 1,
    .settles = true,
    .looks = HP_LOOKS_MANY,
    .proves = HP_PROVES(HP_FAULT_SENSOR_HIGH) | HP_PROVES(HP_FAULT_SENSOR_LOW) |
              HP_PROVES(HP_FAULT_NONE), /* 60-degree sensors */
    .typical = typical,
    .weigh = weigh,
    .contradicts = contradicts,
    .outlasts_runs = true,
    .gainsays = gainsays,
    .orders_hall = orders_hall,
    .see = see,
    .slip = slip,
};
