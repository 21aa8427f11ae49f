/* Roles of the pins of a control: see the header. */
#include "decide/commission/pin_roles.h"

#include <math.h>
#include <stddef.h>

/* ---- levels [V]: chosen, common practice ----------------------------------------------------- */

#define LOW_MOST     0.4  /* a closed contact, a ground, an open collector that conducts */
#define LOGIC_LEAST  2.6  /* logic of 3.3 V and of 5 V, pulled up through anything usual */
#define LOGIC_MOST   6.0  /* a 5 V supply, unloaded, and a meter's error */
#define SENSOR_MOST  16.0 /* a 12 V supply; Hall switches bear 24 V and more */
#define BATTERY_FROM 0.75 /* of the battery's volts: a full pack that was stated empty */
#define MOVED        1.0  /* changes at least so much: a throttle's whole travel is over 2 V */
#define STEADY       0.3  /* changes at most so much, or ... */
#define STEADY_SHARE 0.04 /* ... by this share: the battery sags */
#define RAIL_SHARE   0.08 /* a closed contact is as near to its rail */
#define OPEN_SHARE   0.35 /* of plus: an open contact to plus lets its input fall below */
#define SIGNAL_LOW   1.0  /* of a sensor with two levels */

/* ---- traits ---------------------------------------------------------------------------------- */

/* What the volts of one pin do, as a bit. */
enum {
    LOW = 1,       /* steady, at battery minus */
    LOGIC = 2,     /* steady, as a 5 V supply */
    MIDDLE = 4,    /* steady, between that and the battery: 12 V */
    BATTERY = 8,   /* steady, as the battery */
    RISES = 16,    /* pressed it is higher */
    FALLS = 32,    /* pressed it is lower */
    BETWEEN = 64,  /* steady, neither low nor high */
    UNCLEAR = 128, /* changes by too little */
    PLUS_5 = LOGIC,
    PLUS_SENSOR = LOGIC | MIDDLE,
    PLUS = LOGIC | MIDDLE | BATTERY,
    PLUS_FULL = MIDDLE | BATTERY,
    MOVES = RISES | FALLS,
};

static bool is_battery(double v, double battery_v)
{
    return isnan(battery_v) ? v > SENSOR_MOST : v >= BATTERY_FROM * battery_v;
}

static unsigned level(double v, double battery_v)
{
    if (fabs(v) <= LOW_MOST)
        return LOW;
    if (v < LOGIC_LEAST)
        return BETWEEN;
    if (v <= LOGIC_MOST)
        return LOGIC;
    return is_battery(v, battery_v) ? BATTERY : MIDDLE;
}

static unsigned trait(const hp_pin_volts *volts, int pin)
{
    double least = volts->at[0][pin], most = least, sum = 0.0;
    for (int s = 0; s < volts->states; s++) {
        least = fmin(least, volts->at[s][pin]);
        most = fmax(most, volts->at[s][pin]);
        sum += volts->at[s][pin];
    }
    if (most - least <= fmax(STEADY, STEADY_SHARE * most))
        return level(sum / volts->states, volts->battery_v);
    if (most - least < MOVED)
        return UNCLEAR;
    /* Of more than two states it counts alone that it moves. */
    return volts->at[1][pin] > volts->at[0][pin] ? RISES : FALLS;
}

/* ---- the table ------------------------------------------------------------------------------- */

/* What must hold of the signals beside the pattern. */
typedef enum rule {
    ANY,       /* nothing */
    SENSOR,    /* never above the supply; two levels, the lower near ground */
    ANALOG,    /* never above the supply */
    CONTACT,   /* at its rail in some states, well away from it in the others */
    TO_BATTERY /* the higher level is the battery's, the lower is not */
} rule;

/* What the rails of a row are worth. */
typedef enum rails {
    NEEDED,   /* it does not work without them */
    EITHER,   /* both are there, and a contact closes to one of them: the plug pulled tells which */
    MUST_BEEP /* what lies at nothing need not be ground: it must beep */
} rails;

typedef struct slot {
    hp_pin_role role; /* UNTOLD: no such slot */
    unsigned traits;
    bool many; /* any number of pins, of OTHER also none */
} slot;

#define SLOTS 4

typedef struct row {
    hp_pins_of control;
    slot slot[SLOTS]; /* traits of one row do not overlap */
    rule rule;
    hp_pins_sort sort;
    bool to_plus;
    rails rails;
} row;

/* clang-format off */
#define GROUND_PIN       {HP_PIN_GROUND, LOW, false}
#define PLUS_PIN(traits) {HP_PIN_PLUS, traits, false}
#define SIGNAL_IS(traits){HP_PIN_SIGNAL, traits, false}
#define SIGNALS          {HP_PIN_SIGNAL, MOVES, true}
#define OTHERS           {HP_PIN_OTHER, LOGIC | BETWEEN | UNCLEAR, true}

#define OPEN_AT_REST   HP_PINS_NORMALLY_OPEN
#define CLOSED_AT_REST HP_PINS_NORMALLY_CLOSED
#define CHANGEOVER     HP_PINS_CHANGEOVER
#define NO_SWITCH      HP_PINS_UNTOLD
#define TO_GROUND      false
#define TO_PLUS        true

static const row table[] = {
    {HP_PINS_OF_THROTTLE, {PLUS_PIN(PLUS_5), GROUND_PIN, SIGNAL_IS(RISES)},
     ANALOG, NO_SWITCH, TO_GROUND, NEEDED},

    {HP_PINS_OF_BRAKE, {GROUND_PIN, SIGNAL_IS(FALLS)}, CONTACT, OPEN_AT_REST, TO_GROUND, NEEDED},
    {HP_PINS_OF_BRAKE, {GROUND_PIN, SIGNAL_IS(RISES)}, CONTACT, CLOSED_AT_REST, TO_GROUND, NEEDED},
    {HP_PINS_OF_BRAKE, {PLUS_PIN(PLUS), SIGNAL_IS(RISES)}, CONTACT, OPEN_AT_REST, TO_PLUS, NEEDED},
    {HP_PINS_OF_BRAKE, {PLUS_PIN(PLUS), SIGNAL_IS(FALLS)}, CONTACT, CLOSED_AT_REST, TO_PLUS, NEEDED},
    {HP_PINS_OF_BRAKE, {PLUS_PIN(PLUS), GROUND_PIN, SIGNAL_IS(RISES | FALLS)},
     SENSOR, NO_SWITCH, TO_GROUND, EITHER},
    {HP_PINS_OF_BRAKE, {GROUND_PIN, SIGNAL_IS(FALLS), SIGNAL_IS(RISES)},
     CONTACT, CHANGEOVER, TO_GROUND, NEEDED},
    {HP_PINS_OF_BRAKE, {PLUS_PIN(PLUS), SIGNAL_IS(FALLS), SIGNAL_IS(RISES)},
     CONTACT, CHANGEOVER, TO_PLUS, NEEDED},

    {HP_PINS_OF_PEDAL, {PLUS_PIN(PLUS_SENSOR), GROUND_PIN, SIGNALS},
     SENSOR, NO_SWITCH, TO_GROUND, NEEDED},

    {HP_PINS_OF_SPEED, {GROUND_PIN, SIGNALS}, CONTACT, NO_SWITCH, TO_GROUND, NEEDED},
    {HP_PINS_OF_SPEED, {PLUS_PIN(PLUS), SIGNALS}, CONTACT, NO_SWITCH, TO_PLUS, NEEDED},
    {HP_PINS_OF_SPEED, {PLUS_PIN(PLUS), GROUND_PIN, SIGNALS},
     ANALOG, NO_SWITCH, TO_GROUND, EITHER},

    {HP_PINS_OF_KEY, {PLUS_PIN(PLUS_FULL), SIGNAL_IS(RISES)}, CONTACT, OPEN_AT_REST, TO_PLUS, NEEDED},
    {HP_PINS_OF_KEY, {GROUND_PIN, SIGNAL_IS(FALLS)}, CONTACT, OPEN_AT_REST, TO_GROUND, MUST_BEEP},
    {HP_PINS_OF_KEY, {GROUND_PIN, SIGNAL_IS(RISES)}, ANY, NO_SWITCH, TO_GROUND, MUST_BEEP},
    {HP_PINS_OF_KEY, {SIGNAL_IS(RISES)}, TO_BATTERY, NO_SWITCH, TO_GROUND, EITHER},

    {HP_PINS_OF_LAMP, {GROUND_PIN, SIGNAL_IS(RISES)}, ANY, OPEN_AT_REST, TO_PLUS, NEEDED},
    {HP_PINS_OF_LAMP, {PLUS_PIN(PLUS), SIGNAL_IS(FALLS)}, ANY, OPEN_AT_REST, TO_GROUND, NEEDED},
    {HP_PINS_OF_LAMP, {PLUS_PIN(PLUS_FULL), GROUND_PIN, SIGNAL_IS(RISES | FALLS), OTHERS},
     ANY, NO_SWITCH, TO_GROUND, NEEDED},
};
/* clang-format on */

#define ROWS (sizeof table / sizeof table[0])

/* ---- matching -------------------------------------------------------------------------------- */

/* What is told, with what it is told from. */
typedef struct finding {
    hp_pins_of control;
    const hp_pin_volts *volts;
    unsigned trait[HP_PINS_MOST];
    bool aside[HP_PINS_MOST]; /* no ground, and it never moves */
    hp_pin_roles told;
} finding;

static const slot *slot_of(const row *r, unsigned trait_)
{
    for (int k = 0; k < SLOTS && r->slot[k].role; k++)
        if (r->slot[k].traits & trait_)
            return &r->slot[k];
    return NULL;
}

static int first_of(const hp_pin_roles *told, hp_pin_role role)
{
    for (int pin = 0; pin < HP_PINS_MOST; pin++)
        if (told->role[pin] == role)
            return pin;
    return -1;
}

/* Whether every pin has a slot, every slot its pin. Fills in the roles. */
static bool fits(const row *r, finding *f)
{
    int filled[SLOTS] = {0};
    if (r->control != f->control)
        return false;
    for (int pin = 0; pin < f->volts->pins; pin++) {
        const slot *s = f->aside[pin] ? NULL : slot_of(r, f->trait[pin]);
        if (!s && !f->aside[pin])
            return false;
        if (s)
            filled[s - r->slot]++;
        /* An input that is pulled up would show it with the plug pulled. */
        bool known = !isnan(f->volts->off[pin]);
        f->told.role[pin] = s ? s->role : known ? HP_PIN_SPARE : HP_PIN_UNTOLD;
    }
    for (int k = 0; k < SLOTS && r->slot[k].role; k++) {
        bool optional = r->slot[k].many && r->slot[k].role == HP_PIN_OTHER;
        if (filled[k] < (optional ? 0 : 1) || (filled[k] > 1 && !r->slot[k].many))
            return false;
    }
    f->told.signal = first_of(&f->told, HP_PIN_SIGNAL);
    f->told.plus = first_of(&f->told, HP_PIN_PLUS);
    f->told.ground = first_of(&f->told, HP_PIN_GROUND);
    return true;
}

/* Volts of a rail in one state; of a control without a pin for it NAN. */
static double rail(const finding *f, int pin, int state)
{
    return pin < 0 ? (double)NAN : f->volts->at[state][pin];
}

static double slack(double rail_v)
{
    return fmax(LOW_MOST, RAIL_SHARE * rail_v);
}

/* Whether a contact's pin is at its rail (1), well away from it (0), or neither (-1). */
static int contact_closed(const finding *f, bool to_plus, int pin, int state)
{
    double v = f->volts->at[state][pin];
    double from = rail(f, to_plus ? f->told.plus : f->told.ground, state);
    if (fabs(v - from) <= slack(fabs(from)))
        return 1;
    if (to_plus)
        return v <= OPEN_SHARE * from ? 0 : -1;
    return v - from >= LOGIC_LEAST ? 0 : -1;
}

static bool signal_holds(const row *r, const finding *f, int pin, int state)
{
    double v = f->volts->at[state][pin], plus = rail(f, f->told.plus, state);
    bool under = isnan(plus) || v <= plus + slack(plus);
    switch (r->rule) {
    case ANY: return true;
    case ANALOG: return under;
    case SENSOR: return under && (v <= SIGNAL_LOW || v >= LOGIC_LEAST);
    case CONTACT: return contact_closed(f, r->to_plus, pin, state) >= 0;
    case TO_BATTERY:
        return level(v, f->volts->battery_v) & (state ? MIDDLE | BATTERY : LOW | BETWEEN);
    }
    return false;
}

/* A contact that is at its rail in every state, or in none, is no contact; a sensor of two levels
 * shows both. */
static bool takes_both(const row *r, const finding *f, int pin)
{
    int closed = 0, high = 0, states = f->volts->states;
    for (int s = 0; s < states; s++) {
        closed += contact_closed(f, r->to_plus, pin, s) == 1;
        high += f->volts->at[s][pin] >= LOGIC_LEAST;
    }
    int count = r->rule == CONTACT ? closed : high;
    return (r->rule != CONTACT && r->rule != SENSOR) || (count > 0 && count < states);
}

/* The pin that breaks the rule, or -1. */
static int breaks_rule(const row *r, const finding *f)
{
    for (int pin = 0; pin < f->volts->pins; pin++) {
        if (f->told.role[pin] != HP_PIN_SIGNAL)
            continue;
        for (int s = 0; s < f->volts->states; s++)
            if (!signal_holds(r, f, pin, s))
                return pin;
        if (!takes_both(r, f, pin))
            return pin;
    }
    return -1;
}

/* The pin whose volts with the plug pulled, or whose beep, say otherwise, or -1. */
static int contradicted(const row *r, const finding *f)
{
    const hp_pin_volts *volts = f->volts;
    for (int pin = 0; pin < volts->pins; pin++) {
        double off = volts->off[pin];
        hp_pin_role role = f->told.role[pin];
        bool signal = role == HP_PIN_SIGNAL;
        if (volts->minus[pin] == (role == HP_PIN_GROUND ? HP_TELL_NO : HP_TELL_YES))
            return pin;
        if (isnan(off))
            continue;
        if (role == HP_PIN_GROUND && fabs(off) > LOW_MOST)
            return pin;
        /* A contact to ground needs an input that is pulled up, one to plus needs none that is. */
        if (signal && r->rule == CONTACT && !r->to_plus && off < LOGIC_LEAST)
            return pin;
        if (signal && r->rule == CONTACT && r->to_plus &&
            off > OPEN_SHARE * rail(f, f->told.plus, 0))
            return pin;
    }
    return -1;
}

/* What all signals are pulled to with the plug pulled: 1 up, -1 down, 0 not known. */
static int pulled(const finding *f)
{
    int up = 0, down = 0, signals = 0;
    for (int pin = 0; pin < f->volts->pins; pin++) {
        if (f->told.role[pin] != HP_PIN_SIGNAL)
            continue;
        signals++;
        up += f->volts->off[pin] >= LOGIC_LEAST;
        down += fabs(f->volts->off[pin]) <= LOW_MOST;
    }
    return up == signals ? 1 : down == signals ? -1 : 0;
}

/* With both rails in the plug, or none, the sort follows from what the input is pulled to: a
 * contact joins it to the other. The rail that it needs is proved by that. */
static void settle_rails(const row *r, finding *f)
{
    hp_pin_roles *told = &f->told;
    if (r->rails == NEEDED)
        return;
    int up = pulled(f);
    bool beeps = told->ground >= 0 && f->volts->minus[told->ground] == HP_TELL_YES;
    if (told->plus >= 0 && up >= 0)
        told->role[told->plus] = HP_PIN_PLUS_MAYBE;
    if (told->ground >= 0 && up <= 0 && !beeps)
        told->role[told->ground] = HP_PIN_GROUND_MAYBE;
    told->to_plus = up < 0;
    if (up != 0 && f->control != HP_PINS_OF_SPEED && told->sort == HP_PINS_UNTOLD)
        told->sort = (up > 0) == (f->trait[told->signal] == FALLS) ? HP_PINS_NORMALLY_OPEN
                                                                   : HP_PINS_NORMALLY_CLOSED;
}

/* Whether of each contact of the plug it is clear when it is closed, and each is closed somewhere
 * and open somewhere. One that is not told could be closed, too. */
static bool contacts_are_clear(const finding *f)
{
    for (int pin = 0; pin < f->volts->pins; pin++) {
        int closed = 0, states = f->volts->states;
        bool signal = f->told.role[pin] == HP_PIN_SIGNAL, clear = true;
        for (int s = 0; signal && s < states; s++) {
            int is = contact_closed(f, f->told.to_plus, pin, s);
            clear = clear && is >= 0;
            closed += is == 1;
        }
        if (f->told.role[pin] == HP_PIN_UNTOLD ||
            (signal && !(clear && closed > 0 && closed < states)))
            return false;
    }
    return true;
}

static void note_closed(const row *r, finding *f)
{
    bool known = r->rule == CONTACT || (r->rails == EITHER && r->control == HP_PINS_OF_SPEED);
    int needed = f->told.to_plus ? f->told.plus : f->told.ground;
    if (!known || needed < 0 ||
        (f->told.role[needed] != HP_PIN_PLUS && f->told.role[needed] != HP_PIN_GROUND))
        return;
    f->told.contacts = contacts_are_clear(f);
    for (int s = 0; f->told.contacts && s < f->volts->states; s++)
        for (int pin = 0; pin < f->volts->pins; pin++)
            if (f->told.role[pin] == HP_PIN_SIGNAL &&
                contact_closed(f, f->told.to_plus, pin, s) == 1)
                f->told.closed[s] |= 1u << pin;
}

/* ---- what does not fit ----------------------------------------------------------------------- */

static int count(const finding *f, unsigned traits, int *first)
{
    int n = 0;
    *first = -1;
    for (int pin = 0; pin < f->volts->pins; pin++)
        if (!f->aside[pin] && (f->trait[pin] & traits)) {
            *first = n ? *first : pin;
            n++;
        }
    return n;
}

static hp_pin_roles refuse(hp_roles_why why, int pin)
{
    hp_pin_roles none = {.why = why, .pin = pin, .signal = -1, .plus = -1, .ground = -1};
    return none;
}

/* Whether this control has a supply and a ground in its plug always. */
static bool is_sensor(hp_pins_of control)
{
    return control == HP_PINS_OF_THROTTLE || control == HP_PINS_OF_PEDAL;
}

static hp_pin_roles diagnose(const finding *f)
{
    int pin = -1;
    if (count(f, UNCLEAR | BETWEEN, &pin))
        return refuse(HP_ROLES_BETWEEN, pin);
    if (!count(f, MOVES, &pin))
        return refuse(HP_ROLES_STILL, -1);
    if (count(f, LOW, &pin) > 1)
        return refuse(HP_ROLES_TWO_GROUNDS, pin);
    if (is_sensor(f->control) && !count(f, PLUS, &pin))
        return refuse(HP_ROLES_NO_PLUS, -1);
    if (is_sensor(f->control) && !count(f, LOW, &pin))
        return refuse(HP_ROLES_NO_GROUND, -1);
    if (count(f, PLUS, &pin) > 1)
        return refuse(HP_ROLES_TWO_PLUS, pin);
    if (f->control == HP_PINS_OF_THROTTLE && count(f, FALLS, &pin))
        return refuse(HP_ROLES_FALLS, pin);
    return refuse(HP_ROLES_NO_FIT, -1);
}

/* ---- public ---------------------------------------------------------------------------------- */

double hp_pins_most_v(hp_pins_of control)
{
    switch (control) {
    case HP_PINS_OF_THROTTLE: return LOGIC_MOST;
    case HP_PINS_OF_PEDAL: return SENSOR_MOST;
    default: return (double)INFINITY;
    }
}

hp_pin_volts hp_pin_volts_none(void)
{
    hp_pin_volts none = {.battery_v = (double)NAN};
    for (int pin = 0; pin < HP_PINS_MOST; pin++) {
        none.off[pin] = (double)NAN;
        for (int s = 0; s < HP_PINS_STATES; s++)
            none.at[s][pin] = (double)NAN;
    }
    return none;
}

static bool is_measured(hp_pins_of control, const hp_pin_volts *volts)
{
    int least = control == HP_PINS_OF_KEY ? 1 : is_sensor(control) ? 3 : 2;
    if (volts->pins < least || volts->pins > HP_PINS_MOST || volts->states < 2 ||
        volts->states > HP_PINS_STATES || (volts->states > 2 && control != HP_PINS_OF_SPEED))
        return false;
    for (int s = 0; s < volts->states; s++)
        for (int pin = 0; pin < volts->pins; pin++)
            if (!isfinite(volts->at[s][pin]))
                return false;
    return true;
}

/* A pin with too many or too few volts to go on, whatever it is; HP_ROLES_TOLD: none. */
static hp_roles_why beyond(hp_pins_of control, const hp_pin_volts *volts, int *pin)
{
    for (*pin = 0; *pin < volts->pins; ++*pin) {
        double most = volts->off[*pin], least = most;
        for (int s = 0; s < volts->states; s++) {
            most = fmax(most, volts->at[s][*pin]);
            least = fmin(least, volts->at[s][*pin]);
        }
        if (most > hp_pins_most_v(control))
            return HP_ROLES_TOO_HIGH;
        if (least < -LOW_MOST)
            return HP_ROLES_REVERSED;
    }
    *pin = -1;
    return HP_ROLES_TOLD;
}

/* Pins that lie at nothing and do not beep are no ground, and say nothing about the others. */
static void set_aside(finding *f)
{
    for (int pin = 0; pin < f->volts->pins; pin++)
        f->aside[pin] = f->trait[pin] == LOW && f->volts->minus[pin] == HP_TELL_NO &&
                        !(f->volts->off[pin] > LOW_MOST);
}

hp_pin_roles hp_pin_roles_find(hp_pins_of control, const hp_pin_volts *volts)
{
    int pin = -1;
    if (!is_measured(control, volts))
        return refuse(HP_ROLES_UNMEASURED, -1);
    hp_roles_why why = beyond(control, volts, &pin);
    if (why != HP_ROLES_TOLD)
        return refuse(why, pin);
    finding f = {.control = control, .volts = volts};
    for (int k = 0; k < volts->pins; k++)
        f.trait[k] = trait(volts, k);
    set_aside(&f);
    for (size_t k = 0; k < ROWS; k++) {
        const row *r = &table[k];
        f.told = refuse(HP_ROLES_TOLD, -1);
        if (!fits(r, &f))
            continue;
        if ((pin = breaks_rule(r, &f)) >= 0)
            return refuse(HP_ROLES_BETWEEN, pin);
        if ((pin = contradicted(r, &f)) >= 0)
            return refuse(HP_ROLES_CONTRADICTS, pin);
        if (r->rails == MUST_BEEP && volts->minus[f.told.ground] != HP_TELL_YES)
            return refuse(HP_ROLES_NO_PLUS, -1);
        f.told.sort = r->sort;
        f.told.to_plus = r->to_plus;
        settle_rails(r, &f);
        note_closed(r, &f);
        return f.told;
    }
    return diagnose(&f);
}
