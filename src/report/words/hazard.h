/*
 * What can hurt somebody at the bench, and the caution that belongs to it: one list for every card.
 *
 * A how-to of a card says what the hands do there, as bits of hp_doing. Each hazard says which
 * doings it belongs to; a card gets the caution of each of its hazards once, at the first how-to
 * that does such a thing (hp_card_take_care). So no card can leave out a caution that its steps
 * call for.
 *
 * All cautions are common practice. Local rules and licensed people come first. docs/safety.md says
 * more about each.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_HAZARD_H
#define HUBPHASE_SRC_REPORT_WORDS_HAZARD_H

#include "hubphase/base/text.h"
#include "hubphase/decide/assumptions.h"

#include <stdbool.h>

struct hp_card_context;
struct hp_drive;

/* What makes a step safe before a hand goes near the leads. */
typedef enum hp_safe {
    HP_SAFE_DEAD,      /* battery unplugged, capacitors discharged and measured */
    HP_SAFE_APART,     /* the same, and the motor unplugged from the controller */
    HP_SAFE_HANDS_OFF, /* power stays joined, no lead is touched */
    HP_SAFE_COUNT
} hp_safe;

/* What the hands do. */
typedef enum hp_doing {
    HP_DOING_STAND = 1 << 0,       /* the machine is made ready for power */
    HP_DOING_JOIN = 1 << 1,        /* phase leads are joined to the controller */
    HP_DOING_OHMS = 1 << 2,        /* a meter on ohms or continuity */
    HP_DOING_TURN = 1 << 3,        /* the wheel is turned by hand, phase leads free */
    HP_DOING_TURN_JOINED = 1 << 4, /* the wheel is turned by hand, phase leads joined */
    HP_DOING_WINDING = 1 << 5,     /* a current is sent through the winding */
    HP_DOING_HALL_POWER = 1 << 6,  /* the Hall sensors get their supply */
    HP_DOING_BATTERY = 1 << 7,     /* battery or supply is joined to the controller */
    HP_DOING_LIVE = 1 << 8,        /* tips or fingers on a live controller */
    HP_DOING_INPUTS = 1 << 9,      /* controller inputs are joined by hand */
    HP_DOING_METER = 1 << 10,      /* the battery current is measured */
    HP_DOING_THROTTLE = 1 << 11,   /* the motor drives the wheel */
    HP_DOING_STOP = 1 << 12,       /* a turning wheel is stopped */
    HP_DOING_SELF_START = 1 << 13, /* the controller turns the wheel by itself */
    HP_DOING_HUB = 1 << 14,        /* the hub is opened */
    HP_DOING_HEATING = 1 << 15,    /* a current warms the winding on purpose */
    HP_DOING_LEVER = 1 << 16,      /* a brake lever is pulled while the wheel turns */
    HP_DOING_PEDALS = 1 << 17      /* what the wheel does tells only while the pedals turn */
} hp_doing;

typedef enum hp_hazard {
    HP_HAZARD_OHMS,
    HP_HAZARD_GENERATOR,
    HP_HAZARD_PUSHED,
    HP_HAZARD_WINDING,
    HP_HAZARD_HEATING,
    HP_HAZARD_HALL_VOLTS,
    HP_HAZARD_AXLE,
    HP_HAZARD_WHEEL,
    HP_HAZARD_LIFTED,
    HP_HAZARD_THROTTLE,
    HP_HAZARD_AMMETER,
    HP_HAZARD_LITHIUM,
    HP_HAZARD_LEAD,
    HP_HAZARD_NO_FUSE,
    HP_HAZARD_FIRST_POWER,
    HP_HAZARD_INRUSH,
    HP_HAZARD_CUT_OFF,
    HP_HAZARD_LIVE_BOARD,
    HP_HAZARD_INPUTS,
    HP_HAZARD_SELF_START,
    HP_HAZARD_STALLED,
    HP_HAZARD_GEARS,
    HP_HAZARD_PUMPED,
    HP_HAZARD_MOTOR_BRAKES,
    HP_HAZARD_MAGNETS,
    HP_HAZARD_LOCAL, /* of every card */
    HP_HAZARD_COUNT
} hp_hazard;

/* A text, or one that is made with the machine's numbers; empty: both NULL. */
typedef struct hp_hazard_words {
    const char *text;
    const char *pedalled; /* in its place where pedals drive and there is no throttle; NULL: the
                             same */
    void (*say)(const struct hp_card_context *context, hp_phrase *out);
} hp_hazard_words;

typedef struct hp_hazard_row {
    const char *name; /* "inrush spark": the heading in docs/safety.md */
    unsigned doings;  /* hp_doing bits; 0: the whole card, whatever is done */
    /* Whether this machine has the hazard; NULL: every machine. */
    bool (*concerns)(const struct hp_card_context *context);
    hp_hazard_words caution; /* one line: what to do about it */
    hp_hazard_words more;    /* why, and what else: among the card's details; may be empty */
} hp_hazard_row;

/* Whether a hand meter in the battery's lead bears what a stalled motor draws at this throttle: on
 * its 10 A socket, that is. `amperes` (may be NULL): so much. */
bool hp_hand_meter_bears(const struct hp_drive *drive, double throttle, double *amperes);

const hp_hazard_row *hp_hazard_row_of(hp_hazard hazard);
/* `plan` may be NULL: a machine with a throttle. */
const char *hp_safe_text(hp_safe safe, const hp_plan_params *plan);

#endif
