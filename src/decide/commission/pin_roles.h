/*
 * Which pin of a control's plug is supply, ground or signal, and of which sort its switch is: from
 * volts at rest and pressed.
 *
 * The volts are taken with the controller live, the control joined, red tip on one pin after the
 * other, black tip on the battery's minus at the controller. A pin that keeps its volts is supply
 * or ground, one that changes them is a signal; whether a contact closes or opens when it is
 * pressed follows from whether the signal then goes to the rail that it closes to, or away from it.
 * The patterns are rows of a table (pin_roles.c). What fits none, or lies too near a limit, is said
 * and not guessed.
 *
 * A pin that goes nowhere shows what the meter's 10 megohm leave of stray volts, nothing or many.
 * So a rail is told only where the signal proves it: a contact closes to it, or a sensor cannot
 * do without it. Another pin that is steady is told with a "maybe". Whether a pin beeps to battery
 * minus, all dead and unplugged, proves a ground; what the input shows with the plug pulled tells
 * which of two rails a contact closes to.
 *
 * Common practice; the levels are those of 5 V logic and of open-collector Hall switches with slack
 * for a hand meter.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_PIN_ROLES_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_PIN_ROLES_H

#include "hubphase/decide/evidence.h"

#define HP_PINS_MOST   6
#define HP_PINS_STATES 4

/* What is held in the hand. */
typedef enum hp_pins_of {
    HP_PINS_OF_THROTTLE, /* states: grip at rest, full */
    HP_PINS_OF_BRAKE,    /* lever released, pulled */
    HP_PINS_OF_PEDAL,    /* sensor at one place of its ring, at the other */
    HP_PINS_OF_SPEED,    /* its positions in order */
    HP_PINS_OF_KEY,      /* off, on */
    HP_PINS_OF_LAMP,     /* lamp or display: off, on */
    HP_PINS_OF_COUNT
} hp_pins_of;

typedef struct hp_pin_volts {
    int pins;                                /* 1..HP_PINS_MOST */
    int states;                              /* 1..HP_PINS_STATES */
    double at[HP_PINS_STATES][HP_PINS_MOST]; /* [V] control joined */
    double off[HP_PINS_MOST];                /* [V] plug pulled, at the controller's half;
                                                   NAN: not measured */
    hp_tell minus[HP_PINS_MOST];             /* it beeps to battery minus, all dead */
    double battery_v;                        /* [V] NAN: not known */
} hp_pin_volts;

typedef enum hp_pin_role {
    HP_PIN_UNTOLD,
    HP_PIN_PLUS,   /* supply, or the plus that a switch closes to */
    HP_PIN_GROUND, /* minus, or the ground that a switch closes to */
    HP_PIN_SIGNAL,
    HP_PIN_PLUS_MAYBE,   /* steady volts: a supply if they hold under a load, else stray volts */
    HP_PIN_GROUND_MAYBE, /* steady at nothing: ground if it beeps to battery minus */
    HP_PIN_SPARE,        /* goes nowhere that matters here: no ground, never moves */
    HP_PIN_OTHER,        /* data of a display and the like: leave it alone */
    HP_PIN_ROLE_COUNT
} hp_pin_role;

/* What a switch, or the transistor of a sensor, does when it is pressed. */
typedef enum hp_pins_sort {
    HP_PINS_UNTOLD,
    HP_PINS_NORMALLY_OPEN,   /* closes */
    HP_PINS_NORMALLY_CLOSED, /* opens */
    HP_PINS_CHANGEOVER,      /* one contact closes as another opens */
    HP_PINS_SORT_COUNT
} hp_pins_sort;

/* Why the roles are told, or are not. */
typedef enum hp_roles_why {
    HP_ROLES_TOLD,
    HP_ROLES_UNMEASURED,  /* a pin, or a state, is missing */
    HP_ROLES_REVERSED,    /* a pin below battery minus: tips swapped, or another minus */
    HP_ROLES_TOO_HIGH,    /* more volts than this control bears */
    HP_ROLES_STILL,       /* no pin changes when it is pressed */
    HP_ROLES_NO_PLUS,     /* no pin carries a supply */
    HP_ROLES_NO_GROUND,   /* no pin lies at battery minus */
    HP_ROLES_TWO_GROUNDS, /* two pins lie at nothing: volts cannot tell which is ground */
    HP_ROLES_TWO_PLUS,    /* two pins carry the same volts all the time */
    HP_ROLES_FALLS,       /* the signal of a throttle falls when the grip is opened */
    HP_ROLES_BETWEEN,     /* a pin neither high nor low, or a change too small to count on */
    HP_ROLES_CONTRADICTS, /* what it shows with the plug pulled, or beeps, does not fit */
    HP_ROLES_NO_FIT,      /* none of the patterns */
    HP_ROLES_WHY_COUNT
} hp_roles_why;

typedef struct hp_pin_roles {
    hp_roles_why why;
    int pin;                        /* that the reason is about; -1: none of them alone */
    hp_pin_role role[HP_PINS_MOST]; /* UNTOLD all, unless told */
    hp_pins_sort sort;
    bool to_plus;                    /* the switch closes to plus; else to ground */
    int signal, plus, ground;        /* the first pin of that role; -1: none */
    bool contacts;                   /* it is known which contacts are closed */
    unsigned closed[HP_PINS_STATES]; /* bit for each signal that then lies at its rail */
} hp_pin_roles;

/* Most volts that a control of this sort bears on any pin [V]; INFINITY: battery volts are usual
 * on some of its pins. */
double hp_pins_most_v(hp_pins_of control);

/* Nothing measured yet. */
hp_pin_volts hp_pin_volts_none(void);
/* The roles of the pins of one control. Any numbers may be given. */
hp_pin_roles hp_pin_roles_find(hp_pins_of control, const hp_pin_volts *volts);

#endif
