/*
 * Roles of pins, told from volts that an independent network of resistors gives (control_circuit.h)
 * for thousands of drawn controls on drawn controllers: good ones, worn ones, ones with a broken
 * lead or a leak, measured by a meter that errs. A claim that is false is what must not happen;
 * "cannot tell" is allowed.
 *
 * The circuits are common practice: Hall throttle and potentiometer; switch to ground or to plus,
 * normally open or closed; changeover; open-collector Hall sensors (Honeywell SS400 data, read:
 * sink to ground, a pull-up is needed); a key in battery plus; a lamp switched on either side.
 */
#include "check.h"
#include "control_circuit.h"

#include "base/random.h"
#include "decide/commission/pin_roles.h"

#include <stdlib.h>

/* ---- a drawn bench --------------------------------------------------------------------------- */

/* What is true of one control, and the network of it in each state and with its plug pulled. */
typedef struct bench {
    hp_random random;
    hp_pins_of control;
    int pins, states;
    int pin[HP_PINS_MOST]; /* nodes */
    hp_pin_role role[HP_PINS_MOST];
    hp_pins_sort sort;
    bool to_plus;
    unsigned closed[HP_PINS_STATES];
    bool healthy;
    double battery_v, supply_v;
    net side;                         /* the controller alone */
    net state[HP_PINS_STATES];        /* with the control joined */
    double gain, black_v, resolution; /* of the meter */
    double digits;                    /* by which all its readings are off */
} bench;

static double between(bench *b, double low, double high)
{
    return hp_random_between(&b->random, low, high);
}

/* Spread evenly over the decades. */
static double ohms(bench *b, double low, double high)
{
    return exp(between(b, log(low), log(high)));
}

static bool happens(bench *b, double probability)
{
    return hp_random_unit(&b->random) < probability;
}

static int add_pin(bench *b, hp_pin_role role)
{
    b->role[b->pins] = role;
    b->pin[b->pins] = net_node(&b->side);
    return b->pin[b->pins++];
}

/* The controller's pins. */
static int add_ground(bench *b)
{
    int pin = add_pin(b, HP_PIN_GROUND);
    net_resistor(&b->side, pin, NET_MINUS, ohms(b, 0.01, 2.0));
    return pin;
}

static int add_plus(bench *b, double volts, double ohm)
{
    int pin = add_pin(b, HP_PIN_PLUS);
    net_resistor(&b->side, pin, net_rail(&b->side, volts), ohm);
    return pin;
}

static int add_input(bench *b, double pulled_to_v, double ohm)
{
    int pin = add_pin(b, HP_PIN_SIGNAL);
    int rail = pulled_to_v > 0.0 ? net_rail(&b->side, pulled_to_v) : NET_MINUS;
    net_resistor(&b->side, pin, rail, ohm);
    return pin;
}

/* A pin that goes nowhere picks something up. */
static void add_spare(bench *b)
{
    int pin = add_pin(b, HP_PIN_SPARE);
    if (happens(b, 0.7))
        net_resistor(&b->side, pin, net_rail(&b->side, between(b, 0.0, b->battery_v)),
                     ohms(b, 5e6, 1e9));
}

static void join(bench *b, int states)
{
    b->states = states;
    for (int s = 0; s < states; s++)
        b->state[s] = b->side;
}

/* A contact between two pins in one state; worn ones have some ohms. */
static void contact(bench *b, int state, int a, int c, bool closed)
{
    double ohm = closed ? ohms(b, 0.01, 30.0) : ohms(b, 2e6, 1e9);
    net_resistor(&b->state[state], a, c, ohm);
}

/* Wet plugs and chafed leads. */
static void leak(bench *b, int a, int c, double low, double high)
{
    double ohm = ohms(b, low, high);
    for (int s = 0; s < b->states; s++)
        net_resistor(&b->state[s], a, c, ohm);
}

static void common_leaks(bench *b)
{
    for (int k = 0; k + 1 < b->pins; k++)
        if (happens(b, 0.2))
            leak(b, b->pin[k], b->pin[k + 1], 3e5, 1e8);
}

/* ---- the controls ---------------------------------------------------------------------------- */

typedef enum fault { WHOLE, LOST_PLUS, LOST_GROUND, LOST_SIGNAL, STUCK, WET, NO_SUPPLY } fault;

static fault draw_fault(bench *b)
{
    if (happens(b, 0.7))
        return WHOLE;
    b->healthy = false;
    return (fault)(1 + (int)hp_random_below(&b->random, 6));
}

/* A lead from a pin to the part, or a broken one. */
static int lead(bench *b, net *n, int pin, bool broken)
{
    int node = net_node(n);
    net_resistor(n, pin, node, broken ? 1e9 : ohms(b, 0.05, 2.0));
    return node;
}

static void make_throttle(bench *b)
{
    fault f = draw_fault(b);
    int plus = add_plus(b, f == NO_SUPPLY ? 0.0 : b->supply_v, ohms(b, 0.5, 60.0));
    int ground = add_ground(b);
    int signal = add_input(b, 0.0, ohms(b, 2e4, 1e6));
    bool potentiometer = happens(b, 0.15);
    double rest = potentiometer ? between(b, 0.0, 0.2) : between(b, 0.15, 0.24);
    double full = between(b, 0.66, 0.88), track = ohms(b, 3e3, 2e4), idle = ohms(b, 500, 2000);
    double out = ohms(b, 20.0, 1500.0);
    join(b, 2);
    for (int s = 0; s < 2; s++) {
        net *n = &b->state[s];
        double share = f == STUCK || s == 0 ? rest : full;
        int p = lead(b, n, plus, f == LOST_PLUS), g = lead(b, n, ground, f == LOST_GROUND);
        int o = lead(b, n, signal, f == LOST_SIGNAL);
        if (potentiometer) {
            net_resistor(n, p, o, track * (1.0 - share) + 1.0);
            net_resistor(n, g, o, track * share + 1.0);
        } else {
            net_resistor(n, p, g, idle);
            net_source(n, o, g, p, share, out);
        }
    }
    common_leaks(b);
    if (f == WET)
        leak(b, signal, happens(b, 0.5) ? plus : ground, 500.0, 2e4);
}

/* An open collector between two pins of a sensor that has its supply. */
static void sensor(bench *b, int state, const int pin[3], bool sinks, fault f)
{
    net *n = &b->state[state];
    bool dead = f == LOST_PLUS || f == LOST_GROUND || f == NO_SUPPLY;
    int p = lead(b, n, pin[0], f == LOST_PLUS), g = lead(b, n, pin[1], f == LOST_GROUND);
    int o = lead(b, n, pin[2], f == LOST_SIGNAL);
    net_resistor(n, p, g, ohms(b, 500.0, 3000.0));
    if (sinks && !dead)
        net_resistor(n, o, g, ohms(b, 5.0, 40.0));
}

static void make_hall_brake(bench *b)
{
    fault f = draw_fault(b);
    bool falls = happens(b, 0.7);
    double volts = happens(b, 0.8) ? b->supply_v : between(b, 11.0, 13.0);
    int pin[3];
    pin[0] = add_plus(b, f == NO_SUPPLY ? 0.0 : volts, ohms(b, 0.5, 60.0));
    pin[1] = add_ground(b);
    pin[2] = add_input(b, f == NO_SUPPLY ? 0.0 : b->supply_v, ohms(b, 1e3, 5e4));
    b->sort = falls ? HP_PINS_NORMALLY_OPEN : HP_PINS_NORMALLY_CLOSED;
    join(b, 2);
    for (int s = 0; s < 2; s++)
        sensor(b, s, pin, (f == STUCK ? 0 : s) == (falls ? 1 : 0), f);
    common_leaks(b);
    if (f == WET)
        leak(b, pin[2], pin[happens(b, 0.5) ? 0 : 1], 1e3, 5e4);
}

static double draw_plus(bench *b)
{
    double choice = hp_random_unit(&b->random);
    return choice < 0.4 ? b->supply_v : choice < 0.7 ? between(b, 11.0, 13.0) : b->battery_v;
}

static void make_brake_switch(bench *b)
{
    fault f = draw_fault(b);
    bool open = happens(b, 0.6);
    b->to_plus = happens(b, 0.4);
    b->sort = open ? HP_PINS_NORMALLY_OPEN : HP_PINS_NORMALLY_CLOSED;
    double volts = draw_plus(b);
    int rail = b->to_plus ? add_plus(b, volts, ohms(b, 0.1, 50.0)) : add_ground(b);
    int input = add_input(b, b->to_plus || f == NO_SUPPLY ? 0.0 : draw_plus(b), ohms(b, 1e3, 1e5));
    join(b, 2);
    for (int s = 0; s < 2; s++) {
        bool closed = (f == STUCK ? 0 : s) == (open ? 1 : 0);
        bool broken = f == LOST_PLUS || f == LOST_GROUND || f == LOST_SIGNAL;
        contact(b, s, rail, input, closed && !broken);
        b->closed[s] = (s == (open ? 1 : 0)) ? 1u << 1 : 0;
    }
    if (happens(b, 0.2))
        add_spare(b);
    common_leaks(b);
    if (f == WET)
        leak(b, rail, input, 1e3, 1e5);
}

static void make_changeover(bench *b)
{
    fault f = draw_fault(b);
    b->to_plus = happens(b, 0.3);
    b->sort = HP_PINS_CHANGEOVER;
    double volts = draw_plus(b);
    int rail = b->to_plus ? add_plus(b, volts, ohms(b, 0.1, 50.0)) : add_ground(b);
    int input[2];
    for (int k = 0; k < 2; k++)
        input[k] = add_input(b, b->to_plus ? 0.0 : b->supply_v, ohms(b, 1e3, 1e5));
    join(b, 2);
    for (int s = 0; s < 2; s++)
        for (int k = 0; k < 2; k++) {
            contact(b, s, rail, input[k], (f == STUCK ? 0 : s) == k && f != LOST_SIGNAL);
            b->closed[s] |= s == k ? 1u << (1 + k) : 0;
        }
    common_leaks(b);
}

static void make_pedal(bench *b)
{
    fault f = draw_fault(b);
    double volts = happens(b, 0.85) ? b->supply_v : between(b, 11.0, 13.0);
    int pin[3];
    pin[0] = add_plus(b, f == NO_SUPPLY ? 0.0 : volts, ohms(b, 0.5, 60.0));
    pin[1] = add_ground(b);
    pin[2] = add_input(b, f == NO_SUPPLY ? 0.0 : b->supply_v, ohms(b, 1e3, 5e4));
    join(b, 2);
    bool first = happens(b, 0.5);
    for (int s = 0; s < 2; s++)
        sensor(b, s, pin, f == STUCK ? first : s == (first ? 0 : 1), f);
    common_leaks(b);
    if (f == WET)
        leak(b, pin[2], pin[happens(b, 0.5) ? 0 : 1], 1e3, 5e4);
}

static void make_speed(bench *b)
{
    fault f = draw_fault(b);
    int signals = 1 + (int)hp_random_below(&b->random, 3);
    int states = signals == 1 ? 2 : signals == 2 ? 3 : 4;
    b->to_plus = happens(b, 0.2);
    double volts = draw_plus(b);
    int rail = b->to_plus ? add_plus(b, volts, ohms(b, 0.1, 50.0)) : add_ground(b), input[3];
    for (int k = 0; k < signals; k++)
        input[k] =
            add_input(b, b->to_plus || f == NO_SUPPLY ? 0.0 : b->supply_v, ohms(b, 1e3, 1e5));
    join(b, states);
    int middle = (int)hp_random_below(&b->random, (uint32_t)states); /* nothing joined there */
    for (int s = 0; s < states; s++)
        for (int k = 0; k < signals; k++) {
            bool closed = s != middle && (s > middle ? s - 1 : s) == k;
            contact(b, s, rail, input[k], closed && f != LOST_SIGNAL && f != STUCK);
            b->closed[s] |= closed ? 1u << (1 + k) : 0;
        }
    if (happens(b, 0.2) && b->pins < 5)
        add_spare(b);
    common_leaks(b);
    if (f == WET)
        leak(b, rail, input[0], 1e3, 1e5);
}

static void make_key(bench *b)
{
    fault f = draw_fault(b);
    bool single = happens(b, 0.25), kills = !single && happens(b, 0.15);
    b->sort = kills ? HP_PINS_NORMALLY_CLOSED : HP_PINS_NORMALLY_OPEN;
    b->to_plus = !kills;
    int rail = single  ? net_rail(&b->side, b->battery_v)
               : kills ? add_ground(b)
                       : add_plus(b, f == NO_SUPPLY ? 0.0 : b->battery_v, ohms(b, 0.1, 10.0));
    int input = kills ? add_input(b, b->battery_v, ohms(b, 1e4, 2e5))
                      : add_input(b, 0.0, ohms(b, 3e3, 1e5));
    join(b, 2);
    for (int s = 0; s < 2; s++) {
        bool closed = (f == STUCK ? 0 : s) == (kills ? 0 : 1);
        contact(b, s, rail, input, closed && f != LOST_SIGNAL && f != LOST_PLUS);
        b->closed[s] = s == (kills ? 0 : 1) ? 1u << (single ? 0 : 1) : 0;
        /* Read too soon: the capacitors of the controller still hold it up. */
        if (s == 0 && !kills && happens(b, 0.1))
            net_resistor(&b->state[s], input,
                         net_rail(&b->state[s], between(b, 0.1, 0.9) * b->battery_v), 10.0);
    }
    common_leaks(b);
    if (f == WET)
        leak(b, rail, input, 1e3, 1e5);
}

static void make_lamp(bench *b)
{
    fault f = draw_fault(b);
    bool low_side = happens(b, 0.5), display = happens(b, 0.3);
    double volts = happens(b, 0.6) ? b->battery_v : b->supply_v;
    b->to_plus = !low_side;
    b->sort = HP_PINS_NORMALLY_OPEN;
    int rail, lead_;
    if (display) {
        b->sort = HP_PINS_UNTOLD;
        rail = add_plus(b, f == NO_SUPPLY ? 0.0 : b->battery_v, ohms(b, 0.1, 100.0));
        add_ground(b);
        lead_ = add_input(b, 0.0, ohms(b, 3e3, 1e5));
        for (int k = 0; k < 2; k++) {
            b->role[b->pins] = HP_PIN_OTHER;
            b->pin[b->pins] = net_node(&b->side);
            net_resistor(&b->side, b->pin[b->pins++], net_rail(&b->side, between(b, 1.0, 5.0)),
                         ohms(b, 100.0, 1e4));
        }
    } else {
        rail = low_side ? add_plus(b, f == NO_SUPPLY ? 0.0 : volts, ohms(b, 0.1, 10.0))
                        : add_ground(b);
        lead_ = add_pin(b, HP_PIN_SIGNAL);
    }
    join(b, 2);
    for (int s = 0; s < 2; s++) {
        net *n = &b->state[s];
        bool on = (f == STUCK ? 0 : s) == 1;
        double lamp = ohms(b, 20.0, 500.0);
        if (display)
            contact(b, s, rail, lead_, on && f != LOST_SIGNAL);
        else {
            net_resistor(n, rail, lead_, f == LOST_SIGNAL ? 1e9 : lamp);
            if (low_side)
                net_resistor(n, lead_, NET_MINUS, on ? ohms(b, 0.01, 0.5) : 1e8);
            else
                net_resistor(n, lead_, net_rail(n, volts), on ? ohms(b, 0.01, 0.5) : 1e8);
        }
    }
    common_leaks(b);
}

/* ---- the meter and the person ---------------------------------------------------------------- */

static double read_volts(bench *b, const net *n, int node)
{
    double v = b->gain * net_metered(*n, node) + b->black_v;
    double step = fabs(v) > 19.9 ? 0.1 : b->resolution;
    return step * (round(v / step) + (double)hp_random_below(&b->random, 3) - 1.0 + b->digits);
}

static hp_pin_volts measure(bench *b)
{
    hp_pin_volts volts = hp_pin_volts_none();
    volts.pins = b->pins;
    volts.states = b->states;
    volts.battery_v = happens(b, 0.8) ? b->battery_v : (double)NAN;
    bool pulled = happens(b, 0.5), beeps = happens(b, 0.5);
    for (int k = 0; k < b->pins; k++) {
        for (int s = 0; s < b->states; s++)
            volts.at[s][k] = read_volts(b, &b->state[s], b->pin[k]);
        if (pulled)
            volts.off[k] = read_volts(b, &b->side, b->pin[k]);
        if (beeps)
            volts.minus[k] = net_dead_ohms(b->side, b->pin[k]) < 40.0 ? HP_TELL_YES : HP_TELL_NO;
    }
    return volts;
}

typedef void (*maker)(bench *b);

static void draw(bench *b, uint64_t seed, uint64_t number, hp_pins_of control, maker make)
{
    memset(b, 0, sizeof *b);
    b->random = hp_random_init(seed, number);
    b->control = control;
    b->healthy = true;
    b->battery_v = between(b, 24.0, 60.0);
    b->supply_v = happens(b, 0.9) ? between(b, 4.4, 5.3) : between(b, 3.2, 3.4);
    b->gain = 1.0 + between(b, -0.015, 0.015);
    b->black_v = between(b, -0.05, 0.05);
    b->resolution = happens(b, 0.3) ? 0.1 : 0.01;
    b->digits = (double)hp_random_below(&b->random, 3) - 1.0;
    b->side = net_make();
    make(b);
}

/* ---- judged ---------------------------------------------------------------------------------- */

/* Nothing but what is claimed is judged. A "maybe" says how to find out: it is false only of a pin
 * that it would mislead about, the other rail. */
static bool is_false(const bench *b, const hp_pin_roles *told)
{
    if (told->why != HP_ROLES_TOLD)
        return false;
    for (int k = 0; k < b->pins; k++) {
        hp_pin_role role = told->role[k];
        if (role == HP_PIN_PLUS_MAYBE     ? b->role[k] == HP_PIN_GROUND
            : role == HP_PIN_GROUND_MAYBE ? b->role[k] == HP_PIN_PLUS
                                          : role != HP_PIN_UNTOLD && role != b->role[k])
            return true;
    }
    if (told->sort != HP_PINS_UNTOLD && (told->sort != b->sort || told->to_plus != b->to_plus))
        return true;
    for (int s = 0; told->contacts && s < b->states; s++)
        if (told->closed[s] != b->closed[s])
            return true;
    return false;
}

static void print_bench(const bench *b, const hp_pin_volts *v, const hp_pin_roles *told)
{
    print_message("control %d healthy %d why %d sort %d/%d to_plus %d/%d\n", (int)b->control,
                  b->healthy, (int)told->why, (int)told->sort, (int)b->sort, told->to_plus,
                  b->to_plus);
    for (int k = 0; k < b->pins; k++) {
        print_message("  pin %d role %d/%d off %.2f minus %d:", k, (int)told->role[k],
                      (int)b->role[k], v->off[k], (int)v->minus[k]);
        for (int s = 0; s < b->states; s++)
            print_message(" %.2f", v->at[s][k]);
        print_message("\n");
    }
}

static const struct kind {
    const char *name;
    hp_pins_of control;
    maker make;
    double least_told; /* of the good ones; measured, a little below */
} kinds[] = {
    {"throttle", HP_PINS_OF_THROTTLE, make_throttle, 0.99},
    {"brake switch", HP_PINS_OF_BRAKE, make_brake_switch, 0.82},
    {"brake sensor", HP_PINS_OF_BRAKE, make_hall_brake, 0.97},
    {"changeover", HP_PINS_OF_BRAKE, make_changeover, 0.99},
    {"pedal sensor", HP_PINS_OF_PEDAL, make_pedal, 0.96},
    {"speed switch", HP_PINS_OF_SPEED, make_speed, 0.89},
    {"key", HP_PINS_OF_KEY, make_key, 0.83},
    {"lamp or display", HP_PINS_OF_LAMP, make_lamp, 0.84},
};

#define KINDS (sizeof kinds / sizeof kinds[0])
#define DRAWN 10000

static void no_claim_is_false(void **state)
{
    (void)state;
    for (size_t k = 0; k < KINDS; k++) {
        int told = 0, good = 0, wrong = 0, told_of_faulty = 0;
        for (uint64_t n = 0; n < DRAWN; n++) {
            bench b;
            draw(&b, 16 + k, n, kinds[k].control, kinds[k].make);
            hp_pin_volts volts = measure(&b);
            hp_pin_roles roles = hp_pin_roles_find(b.control, &volts);
            bool is_told = roles.why == HP_ROLES_TOLD;
            good += b.healthy;
            told += b.healthy && is_told;
            told_of_faulty += !b.healthy && is_told;
            if (is_false(&b, &roles) && wrong++ < 3)
                print_bench(&b, &volts, &roles);
        }
        print_message("%-16s good %d: told %.1f %%; faulty %d: told %.1f %%; wrong %d\n",
                      kinds[k].name, good, 100.0 * told / good, DRAWN - good,
                      100.0 * told_of_faulty / (DRAWN - good), wrong);
        check_int(wrong, 0);
        check_true(told >= kinds[k].least_told * good, "%s: %d of %d", kinds[k].name, told, good);
    }
}

/* ---- worked by hand -------------------------------------------------------------------------- */

/* Two or three pins at rest and pressed. */
static hp_pin_volts two_states(int pins, const double rest[], const double pressed[])
{
    hp_pin_volts volts = hp_pin_volts_none();
    volts.pins = pins;
    volts.states = 2;
    for (int k = 0; k < pins; k++) {
        volts.at[0][k] = rest[k];
        volts.at[1][k] = pressed[k];
    }
    return volts;
}

#define ROLES(control, ...)                                                                        \
    find_roles(control, sizeof(double[]){__VA_ARGS__} / sizeof(double) / 2, (double[]){__VA_ARGS__})

/* Pairs of rest and pressed, a pin each. */
static hp_pin_roles find_roles(hp_pins_of control, size_t pins, const double *pairs)
{
    double rest[HP_PINS_MOST], pressed[HP_PINS_MOST];
    for (size_t k = 0; k < pins; k++) {
        rest[k] = pairs[2 * k];
        pressed[k] = pairs[2 * k + 1];
    }
    hp_pin_volts volts = two_states((int)pins, rest, pressed);
    volts.battery_v = 42.0;
    return hp_pin_roles_find(control, &volts);
}

static void usual_plugs_are_told(void **state)
{
    (void)state;
    hp_pin_roles r = ROLES(HP_PINS_OF_THROTTLE, 5.02, 5.01, 0.0, 0.0, 0.83, 4.12);
    check_int(r.why, HP_ROLES_TOLD);
    check_int(r.plus, 0);
    check_int(r.ground, 1);
    check_int(r.signal, 2);
    r = ROLES(HP_PINS_OF_BRAKE, 4.9, 0.02, 0.0, 0.0);
    check_int(r.why, HP_ROLES_TOLD);
    check_true(r.sort == HP_PINS_NORMALLY_OPEN && !r.to_plus && r.signal == 0, "to ground");
    check_true(r.contacts && r.closed[0] == 0 && r.closed[1] == 1, "closed when pulled");
    r = ROLES(HP_PINS_OF_BRAKE, 0.02, 4.9, 0.0, 0.0);
    check_true(r.sort == HP_PINS_NORMALLY_CLOSED && !r.to_plus, "opens from ground");
    r = ROLES(HP_PINS_OF_BRAKE, 12.1, 12.1, 0.0, 12.0);
    check_true(r.sort == HP_PINS_NORMALLY_OPEN && r.to_plus && r.plus == 0, "to plus");
    r = ROLES(HP_PINS_OF_BRAKE, 12.1, 12.1, 12.0, 0.0);
    check_true(r.sort == HP_PINS_NORMALLY_CLOSED && r.to_plus, "opens from plus");
    r = ROLES(HP_PINS_OF_KEY, 41.5, 41.5, 0.1, 41.4);
    check_true(r.why == HP_ROLES_TOLD && r.sort == HP_PINS_NORMALLY_OPEN && r.to_plus, "key");
    r = ROLES(HP_PINS_OF_PEDAL, 4.6, 4.6, 0.0, 0.0, 4.6, 0.1);
    check_true(r.why == HP_ROLES_TOLD && r.signal == 2 && r.plus == 0, "pedal sensor");
}

static void what_does_not_fit_is_named(void **state)
{
    (void)state;
    check_int(ROLES(HP_PINS_OF_THROTTLE, 5, 5, 0, 0, 0.8, 0.8).why, HP_ROLES_BETWEEN);
    /* 0.7 V: more than a meter is off by, less than a grip gives. */
    check_int(ROLES(HP_PINS_OF_THROTTLE, 5, 5, 0, 0, 0.8, 1.5).why, HP_ROLES_BETWEEN);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 5, 5, 0, 0, 0, 0).why, HP_ROLES_STILL);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 5, 5, 0, 0, 4.1, 0.8).why, HP_ROLES_FALLS);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 0, 0, 0.1, 0, 0.8, 4.1).why, HP_ROLES_TWO_GROUNDS);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 42, 42, 0, 0, 0.8, 4.1).why, HP_ROLES_TOO_HIGH);
    check_int(ROLES(HP_PINS_OF_PEDAL, 41, 42, 0, 0, 0, 5).why, HP_ROLES_TOO_HIGH);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 5, 5, -5, -5, -4, -1).why, HP_ROLES_REVERSED);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 5, 5, 5, 5, 0.8, 4.1).why, HP_ROLES_NO_GROUND);
    check_int(ROLES(HP_PINS_OF_THROTTLE, 0, 0, 0.9, 4, 0.8, 4.1).why, HP_ROLES_NO_PLUS);
    check_int(ROLES(HP_PINS_OF_BRAKE, 5, 5, 0, 0).why, HP_ROLES_STILL);
    check_int(ROLES(HP_PINS_OF_BRAKE, 5, 1.6, 0, 0).why, HP_ROLES_BETWEEN);
    check_int(ROLES(HP_PINS_OF_BRAKE, 5, 5, 5, 5, 0, 5).why, HP_ROLES_TWO_PLUS);
    check_int(ROLES(HP_PINS_OF_BRAKE, 5, 0).why, HP_ROLES_UNMEASURED);
    hp_pin_volts three = two_states(3, (double[]){5, 0, 0.8}, (double[]){5, 0, 4.2});
    check_int(hp_pin_roles_find(HP_PINS_OF_THROTTLE, &three).why, HP_ROLES_TOLD);
    three.states = 3;
    memcpy(three.at[2], three.at[1], sizeof three.at[2]);
    check_int(hp_pin_roles_find(HP_PINS_OF_THROTTLE, &three).why, HP_ROLES_UNMEASURED);
    check_int(ROLES(HP_PINS_OF_KEY, 0, 0, 0, 41).why, HP_ROLES_NO_PLUS);
    check_int(ROLES(HP_PINS_OF_KEY, 20, 41).why, HP_ROLES_BETWEEN);
    check_int(ROLES(HP_PINS_OF_KEY, 41, 41, 41, 0).why, HP_ROLES_NO_FIT);
}

static void the_plug_pulled_and_the_beep_decide(void **state)
{
    (void)state;
    const double rest[] = {5.0, 0.0, 5.0}, pressed[] = {5.0, 0.0, 0.1};
    hp_pin_volts volts = two_states(3, rest, pressed);
    hp_pin_roles r = hp_pin_roles_find(HP_PINS_OF_BRAKE, &volts);
    check_true(r.why == HP_ROLES_TOLD && r.sort == HP_PINS_UNTOLD, "sort %d", (int)r.sort);
    check_int(r.role[0], HP_PIN_PLUS_MAYBE);
    check_int(r.role[1], HP_PIN_GROUND_MAYBE);
    volts.minus[1] = HP_TELL_YES;
    r = hp_pin_roles_find(HP_PINS_OF_BRAKE, &volts);
    check_int(r.role[1], HP_PIN_GROUND);
    volts.minus[1] = HP_TELL_UNSAID;
    volts.off[2] = 5.0;
    r = hp_pin_roles_find(HP_PINS_OF_BRAKE, &volts);
    check_true(r.sort == HP_PINS_NORMALLY_OPEN && !r.to_plus, "pulled up: to ground");
    check_int(r.role[1], HP_PIN_GROUND);
    volts.off[2] = 0.0;
    r = hp_pin_roles_find(HP_PINS_OF_BRAKE, &volts);
    check_true(r.sort == HP_PINS_NORMALLY_CLOSED && r.to_plus, "pulled down: to plus");
    check_int(r.role[0], HP_PIN_PLUS);
    check_int(r.role[1], HP_PIN_GROUND_MAYBE);
    volts.minus[2] = HP_TELL_YES;
    check_int(hp_pin_roles_find(HP_PINS_OF_BRAKE, &volts).why, HP_ROLES_CONTRADICTS);
    volts.minus[2] = HP_TELL_UNSAID;
    volts.minus[1] = HP_TELL_NO; /* so it is a contact to plus in a plug with a spare pin */
    r = hp_pin_roles_find(HP_PINS_OF_BRAKE, &volts);
    check_true(r.why == HP_ROLES_TOLD && r.role[1] == HP_PIN_UNTOLD, "why %d", (int)r.why);
    check_true(r.sort == HP_PINS_NORMALLY_CLOSED && r.to_plus, "to plus");
}

/* In whatever order the pins are measured, the same is told of each. */
static void the_order_of_pins_says_nothing(void **state)
{
    (void)state;
    for (size_t k = 0; k < KINDS; k++)
        for (uint64_t n = 0; n < 300; n++) {
            bench b;
            draw(&b, 99, n, kinds[k].control, kinds[k].make);
            hp_pin_volts volts = measure(&b), turned = volts;
            hp_pin_roles told = hp_pin_roles_find(b.control, &volts);
            for (int p = 0; p < volts.pins; p++) {
                int q = volts.pins - 1 - p;
                turned.off[q] = volts.off[p];
                turned.minus[q] = volts.minus[p];
                for (int s = 0; s < volts.states; s++)
                    turned.at[s][q] = volts.at[s][p];
            }
            hp_pin_roles other = hp_pin_roles_find(b.control, &turned);
            check_int(other.why, told.why);
            check_true(other.sort == told.sort && other.to_plus == told.to_plus, "sort");
            for (int p = 0; p < volts.pins; p++)
                check_int(other.role[volts.pins - 1 - p], told.role[p]);
        }
}

/* Any numbers: nothing is told of them, and nothing breaks. */
static void numbers_that_are_none_tell_nothing(void **state)
{
    (void)state;
    const double bad[] = {NAN, INFINITY, -INFINITY, 1e308, -1e308, 0.0, 5.0};
    hp_random random = hp_random_init(3, 0);
    hp_pin_volts none = hp_pin_volts_none();
    for (int c = 0; c < HP_PINS_OF_COUNT; c++) {
        check_int(hp_pin_roles_find((hp_pins_of)c, &none).why, HP_ROLES_UNMEASURED);
        for (int n = 0; n < 5000; n++) {
            hp_pin_volts volts = hp_pin_volts_none();
            volts.pins = (int)hp_random_below(&random, 9) - 1;
            volts.states = (int)hp_random_below(&random, 7) - 1;
            for (int p = 0; p < HP_PINS_MOST; p++) {
                volts.off[p] = bad[hp_random_below(&random, 7)];
                volts.minus[p] = (hp_tell)hp_random_below(&random, 3);
                for (int s = 0; s < HP_PINS_STATES; s++)
                    volts.at[s][p] = bad[hp_random_below(&random, 7)];
            }
            hp_pin_roles roles = hp_pin_roles_find((hp_pins_of)c, &volts);
            bool sensible = volts.pins >= 1 && volts.pins <= HP_PINS_MOST && volts.states >= 2 &&
                            volts.states <= HP_PINS_STATES;
            check_true(sensible || roles.why == HP_ROLES_UNMEASURED, "told %d", (int)roles.why);
            for (int p = 0; p < HP_PINS_MOST; p++)
                check_true(roles.why == HP_ROLES_TOLD || roles.role[p] == HP_PIN_UNTOLD, "role");
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(usual_plugs_are_told),
        cmocka_unit_test(what_does_not_fit_is_named),
        cmocka_unit_test(the_plug_pulled_and_the_beep_decide),
        cmocka_unit_test(the_order_of_pins_says_nothing),
        cmocka_unit_test(numbers_that_are_none_tell_nothing),
        cmocka_unit_test(no_claim_is_false),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
