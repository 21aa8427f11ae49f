/*
 * Log to scenario, row by row: see the header. A row says what one key gets from one kind of entry;
 * all of them are walked. What an entry does not tell, or a scenario cannot hold, is left out.
 */
#include "record/case/carry_over.h"

#include "decide/commission/fit_parts.h"
#include "decide/reading/control_values.h"
#include "decide/reading/running.h"
#include "record/scenario/scenario_keys.h"
#include "record/scenario/scenario_number.h"

#include <math.h>
#include <string.h>

/* ---- throttle -------------------------------------------------------------------------------- */

static hp_throttle_params stated_throttle(const hp_commission *list)
{
    return hp_assess_controls(&list->given).throttle;
}

/* What is said, where it is not stated already; NAN: nothing. */
static double differs(bool stated, bool said)
{
    return stated == said ? (double)NAN : said;
}

static bool throttle_grip(const hp_throttle_reading *t, double *rest_v, double *full_v)
{
    return t->fitted != HP_TELL_NO && hp_throttle_reading_volts(t, rest_v, full_v) &&
           *full_v > *rest_v;
}

static double throttle_rest(const hp_commission *list, const void *said)
{
    double rest, full;
    (void)list;
    return throttle_grip(said, &rest, &full) ? rest : (double)NAN;
}

static double throttle_full(const hp_commission *list, const void *said)
{
    double rest, full;
    (void)list;
    return throttle_grip(said, &rest, &full) ? full : (double)NAN;
}

static double throttle_lost(const hp_throttle_reading *t, int lead)
{
    return t->fitted != HP_TELL_NO ? t->lost_v[lead] : (double)NAN;
}

static double lost_supply(const hp_commission *list, const void *said)
{
    (void)list;
    return throttle_lost(said, 0);
}

static double lost_ground(const hp_commission *list, const void *said)
{
    (void)list;
    return throttle_lost(said, 1);
}

static double lost_signal(const hp_commission *list, const void *said)
{
    (void)list;
    return throttle_lost(said, 2);
}

/* The supply is at least what any of its leads shows: two readings of the same volts differ by a
 * digit. Where its pin is not told, what is stated holds unless a lead shows more. */
static double throttle_supply(const hp_commission *list, const void *said)
{
    const hp_throttle_reading *t = said;
    hp_pin_roles roles = hp_plug_volts_roles(&t->plug, HP_PINS_OF_THROTTLE, (double)NAN);
    double most = stated_throttle(list).supply_v, rest, full;
    bool told = roles.why == HP_ROLES_TOLD;
    if (t->fitted == HP_TELL_NO)
        return (double)NAN;
    if (told)
        most = fmax(t->plug.at[0][roles.plus], t->plug.at[1][roles.plus]);
    double shown = most;
    if (throttle_grip(t, &rest, &full))
        shown = fmax(shown, full);
    for (int lead = 0; lead < 3; lead++)
        shown = fmax(shown, t->lost_v[lead]); /* of a number and NAN the number */
    return told || shown > most ? shown : (double)NAN;
}

/* "none" of the leads let it run, as they came off while it ran; or off before it was switched on,
 * of a controller that does not refuse an open grip anyway: one that does stands still for that
 * alone, and may still run away when the lead comes off on the road. */
static double throttle_stops(const hp_commission *list, const void *said)
{
    const hp_throttle_reading *t = said;
    bool still = t->turned == HP_LOST_NONE && !stated_throttle(list).refuses_open;
    bool stops = t->runs_on == HP_LOST_NONE || (still && t->runs_on == HP_LOST_UNSAID);
    if (t->turned > HP_LOST_NONE || t->runs_on > HP_LOST_NONE)
        return differs(stated_throttle(list).stops_lost, false);
    return stops ? 1.0 : (double)NAN;
}

/* Without one only where the pedals drive it: else nothing would ask for power. */
static double throttle_there(const hp_commission *list, const void *said)
{
    const hp_throttle_reading *t = said;
    if (t->fitted != HP_TELL_NO)
        return differs(stated_throttle(list).fitted, true);
    return hp_plan_by_pedals(list->given.plan) ? 0.0 : (double)NAN;
}

/* ---- key ------------------------------------------------------------------------------------- */

static double key_there(const hp_commission *list, const void *said)
{
    return differs(hp_assess_controls(&list->given).key,
                   ((const hp_key_reading *)said)->fitted != HP_TELL_NO);
}

/* ---- brake ----------------------------------------------------------------------------------- */

/* The switch of the levers, where the volts of its plug tell its sort. */
static bool brake_told(const hp_commission *list, const hp_brake_reading *b, hp_pin_roles *roles)
{
    *roles = hp_plug_volts_roles(&b->plug, HP_PINS_OF_BRAKE, list->given.drive->supply.emf_v);
    return b->fitted != HP_TELL_NO && roles->why == HP_ROLES_TOLD &&
           (roles->sort == HP_PINS_NORMALLY_OPEN || roles->sort == HP_PINS_NORMALLY_CLOSED);
}

/* What stops the drive is of the sort that the controller is made for. */
static bool brake_stops(const hp_brake_reading *b)
{
    bool tried = b->stops[0] == HP_TELL_YES || b->stops[1] == HP_TELL_YES;
    return tried && b->stops[0] != HP_TELL_NO && b->stops[1] != HP_TELL_NO;
}

static double sort_of(const hp_pin_roles *roles)
{
    return roles->sort == HP_PINS_NORMALLY_OPEN ? HP_SWITCH_NORMALLY_OPEN
                                                : HP_SWITCH_NORMALLY_CLOSED;
}

static double level_of(const hp_pin_roles *roles)
{
    return roles->to_plus ? HP_LEVEL_VOLTS : HP_LEVEL_GROUND;
}

static double brake_switch(const hp_commission *list, const void *said)
{
    hp_pin_roles roles;
    const hp_brake_reading *b = said;
    if (b->fitted == HP_TELL_NO)
        return HP_SWITCH_NONE;
    return brake_told(list, b, &roles) ? sort_of(&roles) : (double)NAN;
}

static double brake_joins(const hp_commission *list, const void *said)
{
    hp_pin_roles roles;
    return brake_told(list, said, &roles) ? level_of(&roles) : (double)NAN;
}

static double brake_expects(const hp_commission *list, const void *said)
{
    hp_pin_roles roles;
    return brake_told(list, said, &roles) && brake_stops(said) ? sort_of(&roles) : (double)NAN;
}

static double brake_expects_at(const hp_commission *list, const void *said)
{
    hp_pin_roles roles;
    return brake_told(list, said, &roles) && brake_stops(said) ? level_of(&roles) : (double)NAN;
}

/* ---- pedal sensor ---------------------------------------------------------------------------- */

/* Of a sensor that is there the log does not say how the controller uses it. */
/* Nothing of a machine that nothing else drives: log and scenario contradict each other, and people
 * settle it. */
static double pedal_mode(const hp_commission *list, const void *said)
{
    bool none = ((const hp_pedal_reading *)said)->fitted == HP_TELL_NO;
    return none && stated_throttle(list).fitted ? HP_PEDAL_NONE : (double)NAN;
}

static double pedal_pulses(const hp_commission *list, const void *said)
{
    const hp_pedal_reading *p = said;
    (void)list;
    return p->fitted != HP_TELL_NO && p->pulses > 0 ? p->pulses : (double)NAN;
}

static double pedal_high(const hp_commission *list, const void *said)
{
    const hp_pedal_reading *p = said;
    (void)list;
    double high = hp_pedal_reading_high(p, 0), back = hp_pedal_reading_high(p, 1);
    return p->fitted == HP_TELL_NO ? (double)NAN : isnan(high) ? 1.0 - back : high;
}

/* Which share counts as forward: that of the way of pedalling that drives. */
static double pedal_forward(const hp_commission *list, const void *said)
{
    const hp_pedal_reading *p = said;
    double high = pedal_high(list, said);
    if (p->fitted == HP_TELL_NO)
        return (double)NAN;
    if (p->drives == HP_PEDAL_DRIVES_BOTH)
        return HP_PEDAL_ANY;
    if (isnan(high) || fabs(high - 0.5) < HP_PEDAL_EVEN_WITHIN ||
        (p->drives != HP_PEDAL_DRIVES_FORWARD && p->drives != HP_PEDAL_DRIVES_BACKWARD))
        return (double)NAN;
    return (high > 0.5) == (p->drives == HP_PEDAL_DRIVES_FORWARD) ? HP_PEDAL_MOSTLY_HIGH
                                                                  : HP_PEDAL_MOSTLY_LOW;
}

/* ---- speed switch ----------------------------------------------------------------------------
 */

/* chosen: percent that a step may be off what is stated before the reading takes its place; a
 * speedometer is no better. */
#define STEP_NEAR 3

typedef struct steps {
    int count;   /* 0: nothing is told, or what is stated says so already */
    int fastest; /* from 1 */
    int percent[HP_PINS_STATES];
} steps;

/* Speed goes with duty, so each position is a share of the fastest; and that is all of it, unless
 * it is slower than the motor without any cap. False: too few positions, or one that no step of a
 * list can give. */
static bool read_steps(const hp_commission *list, const hp_speed_reading *s, steps *read)
{
    hp_assess_case own = list->given;
    own.drive = &list->own.drive;
    double full = hp_speed_reading_full(&own);
    memset(read, 0, sizeof *read);
    int count = hp_speed_reading_positions(s);
    for (int k = 0; k < count; k++)
        if (read->fastest == 0 || s->rad_s[k] > s->rad_s[read->fastest - 1])
            read->fastest = k + 1;
    double most = count > 1 ? s->rad_s[read->fastest - 1] : (double)NAN;
    double of = most < (1.0 - HP_SPEED_SLOWER) * full ? full : most;
    bool sound = most <= (1.0 + HP_SPEED_FASTER) * full;
    for (int k = 0; sound && k < count; k++) {
        read->percent[k] = (int)lround(100.0 * s->rad_s[k] / of);
        sound = read->percent[k] > 0;
    }
    read->count = sound ? count : 0;
    return sound;
}

/* Without a switch the controller is for good where it is with the switch's lead off. */
static steps speed_told(const hp_commission *list, const hp_speed_reading *s)
{
    hp_controls_params controls = hp_assess_controls(&list->given);
    const hp_speed_params *stated = &controls.speed;
    steps read;
    if (s->fitted == HP_TELL_NO) {
        double cap = stated->cap[stated->lost - 1];
        return (steps){stated->steps > 1, 1, {(int)lround(100.0 * cap)}};
    }
    bool near = read_steps(list, s, &read) && read.count == stated->steps;
    for (int k = 0; near && k < read.count; k++)
        near = fabs(read.percent[k] - 100.0 * stated->cap[k]) <= STEP_NEAR;
    if (near || read.count < stated->steps)
        read.count = 0;
    return read;
}

static void speed_steps(const hp_commission *list, const void *said, hp_carried *carried)
{
    steps told = speed_told(list, said);
    hp_phrase p = hp_phrase_begin(carried->list, sizeof carried->list);
    for (int k = 0; k < told.count; k++)
        hp_phrase_add(&p, "%s%d", k ? ", " : "[", told.percent[k]);
    if (told.count > 0)
        hp_phrase_add(&p, "]");
    carried->why = told.count > 1 ? "in proportion to the speeds" : "there is no switch";
}

/* A slower step that was chosen of as many stays chosen; else it runs in the fastest, as in the
 * runs that the machine's figures come from: a switch that is joined the other way round has it in
 * another place. */
static double speed_step(const hp_commission *list, const void *said)
{
    steps told = speed_told(list, said);
    const hp_controls_params controls = hp_assess_controls(&list->given);
    const hp_speed_params *stated = &controls.speed;
    bool slower = false;
    for (int k = 0; k < stated->steps; k++)
        slower = slower || stated->cap[k] > stated->cap[stated->chosen - 1];
    bool kept = told.count == stated->steps && (slower || told.fastest == stated->chosen);
    return told.count > 0 && !kept ? told.fastest : (double)NAN;
}

static double lost_step(const hp_commission *list, const void *said)
{
    const hp_speed_reading *s = said;
    return s->fitted == HP_TELL_NO && speed_told(list, s).count > 0 ? 1.0 : (double)NAN;
}

/* ---- supplies -------------------------------------------------------------------------------- */

static double hall_supply(const hp_commission *list, const void *said)
{
    double volts = ((const hp_supply_reading *)said)->volts;
    (void)list;
    return volts > 0.0 ? volts : (double)NAN;
}

/* Battery with its leads, less what the leads lose between the battery and the controller. */
static double pack_ohm(const hp_commission *list, const void *said)
{
    const hp_own_figure *all = &list->own.figure[HP_OWN_SUPPLY_OHM];
    const hp_sag *s = said;
    double alone = all->value - fmax(0.0, s->pack_v - s->high_v) / s->high_a;
    return all->known && !isnan(s->pack_v) && alone > 0.0 ? alone : (double)NAN;
}

/* ---- the rows -------------------------------------------------------------------------------- */

static const struct {
    hp_key_id key;
    const hp_reading *reading;
    /* What the key's field gets from such an entry, of a choice its number; NAN: nothing. */
    double (*told)(const hp_commission *list, const void *said);
    const char *why;
    /* The same of a key that holds a list; empty: nothing. */
    void (*listed)(const hp_commission *list, const void *said, hp_carried *carried);
} rows[] = {
    {HP_KEY_SPEED_STEPS, &hp_reading_speed_switch, NULL, NULL, speed_steps},
    {HP_KEY_SPEED_STEP, &hp_reading_speed_switch, speed_step, NULL, NULL},
    {HP_KEY_KEY_FITTED, &hp_reading_key, key_there, NULL, NULL},
    {HP_KEY_GRIP_FITTED, &hp_reading_throttle, throttle_there, NULL, NULL},
    {HP_KEY_GRIP_SUPPLY, &hp_reading_throttle, throttle_supply, NULL, NULL},
    {HP_KEY_GRIP_REST, &hp_reading_throttle, throttle_rest, NULL, NULL},
    {HP_KEY_GRIP_FULL, &hp_reading_throttle, throttle_full, NULL, NULL},
    {HP_KEY_LOST_SUPPLY, &hp_reading_throttle, lost_supply, NULL, NULL},
    {HP_KEY_LOST_GROUND, &hp_reading_throttle, lost_ground, NULL, NULL},
    {HP_KEY_LOST_SIGNAL, &hp_reading_throttle, lost_signal, NULL, NULL},
    {HP_KEY_STOPS_LOST, &hp_reading_throttle, throttle_stops, "tried with each of its leads off",
     NULL},
    {HP_KEY_BRAKE_SWITCH, &hp_reading_brake, brake_switch, NULL, NULL},
    {HP_KEY_BRAKE_JOINS, &hp_reading_brake, brake_joins, NULL, NULL},
    {HP_KEY_BRAKE_EXPECTS, &hp_reading_brake, brake_expects, "the levers stop the drive", NULL},
    {HP_KEY_BRAKE_EXPECTS_AT, &hp_reading_brake, brake_expects_at, "the levers stop the drive",
     NULL},
    {HP_KEY_PEDAL_MODE, &hp_reading_pedal_sensor, pedal_mode, NULL, NULL},
    {HP_KEY_PEDAL_PULSES, &hp_reading_pedal_sensor, pedal_pulses, NULL, NULL},
    {HP_KEY_PEDAL_HIGH, &hp_reading_pedal_sensor, pedal_high, NULL, NULL},
    {HP_KEY_PEDAL_FORWARD, &hp_reading_pedal_sensor, pedal_forward, NULL, NULL},
    {HP_KEY_LOST_STEP, &hp_reading_speed_switch, lost_step, NULL, NULL},
    {HP_KEY_PACK_OHM, &hp_reading_sag, pack_ohm, "the leads' share taken off", NULL},
    {HP_KEY_SENSOR_V, &hp_reading_supply, hall_supply, NULL, NULL},
};
_Static_assert(sizeof rows / sizeof rows[0] <= HP_CARRIED_MOST, "HP_CARRIED_MOST");

/* In the key's own unit, or its word; false: the scenario cannot hold it. */
static bool as_written(const hp_key *key, double value, hp_carried *carried)
{
    bool flag = key->kind == HP_KEY_IS_FLAG;
    carried->word = key->words             ? key->words[(int)value]
                    : flag && value != 0.0 ? "yes"
                    : flag                 ? "no"
                                           : NULL;
    if (carried->word)
        return true;
    double number = key->factor > 0.0 ? value / key->factor : value;
    carried->number = number;
    return hp_number_fits(number, &key->limits);
}

/* Whether such an entry tells a key something. */
static bool tells(const hp_commission *list, size_t row, const void *said, hp_carried *carried)
{
    const hp_key *key = hp_key_of(rows[row].key);
    *carried = (hp_carried){.key = key->path, .number = (double)NAN, .why = rows[row].why};
    if (rows[row].listed) {
        rows[row].listed(list, said, carried);
        return carried->list[0] != '\0';
    }
    double value = rows[row].told(list, said);
    return !isnan(value) && as_written(key, value, carried);
}

int hp_carry_over(const hp_commission *list, hp_carried carried[HP_CARRIED_MOST])
{
    int count = 0;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const hp_entry *entry = hp_fit_entry(&list->given, rows[k].reading, NULL);
        if (entry && tells(list, k, hp_entry_said(entry), &carried[count]))
            carried[count++].entry = entry->number;
    }
    return count;
}
