/*
 * Advice: the one thing to do next, what it costs, and what it may show.
 *
 * What comes out of a case (hubphase/record/case.h). The method in numbered steps: docs/advisor.md.
 */
#ifndef HUBPHASE_DECIDE_ADVICE_H
#define HUBPHASE_DECIDE_ADVICE_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/decide/hypothesis.h"

HP_API_BEGIN

/* Costs in minutes of a careful person's time; a risk is the minutes one would spend to avoid it.
 */
typedef struct hp_costs {
    double trial;      /* making safe, switching on, several rest angles, switching off */
    double look;       /* the same wiring again, nothing moved */
    double phase_lead; /* one phase lead moved */
    double sensor_pin; /* one sensor pin moved: fiddlier */
    double pins;
    double supply;
    double hand_turn;
    double winding;
    double spin;
    double park;
    double probe;
    double learn;        /* the controller's own learning */
    double risk_rough;   /* of a trial that turns out rough */
    double risk_stalled; /* of one that stalls: full current in a standing winding */
    double bit;          /* one bit of doubt left about which part is broken */
} hp_costs;

/* chosen: reasons in the source. */
hp_costs hp_costs_default(void);

#define HP_ALLOW(kind) (1u << (kind))
#define HP_ALLOW_READINGS                                                                          \
    (HP_ALLOW(HP_ENTRY_PINS) | HP_ALLOW(HP_ENTRY_SUPPLY) | HP_ALLOW(HP_ENTRY_HAND_TURN) |          \
     HP_ALLOW(HP_ENTRY_WINDING) | HP_ALLOW(HP_ENTRY_SPIN) | HP_ALLOW(HP_ENTRY_PARK) |              \
     HP_ALLOW(HP_ENTRY_PROBE))

typedef struct hp_plan_params {
    hp_costs costs;
    unsigned allowed;    /* HP_ALLOW of the readings that can be taken here */
    bool ammeter;        /* battery current can be read in a trial */
    bool tachometer;     /* wheel speed can be read in a trial */
    bool learns;         /* the controller has a lead for learning the wiring by itself */
    int starts;          /* rest angles to try a wiring from; 1..10 */
    double throttle;     /* 0..1, for trials; 0: the drive's */
    double sure;         /* certainty at which a wiring is called right */
    double sure_broken;  /* certainty at which a part is called broken */
    double sensor_v_max; /* [V] more than this at the sensor supply stops everything */
    double sensor_v_min; /* [V] less than this does not work the sensors */
    int trials_max;      /* powered trials after which the plan gives up */
} hp_plan_params;

hp_plan_params hp_plan_params_default(void);
hp_result hp_plan_params_check(const hp_plan_params *params, hp_error *err);

typedef enum hp_advice_kind {
    HP_ADVICE_READ,    /* take a reading */
    HP_ADVICE_TRY,     /* join a wiring and try it */
    HP_ADVICE_LOOK,    /* try the wiring that is joined once more and look again */
    HP_ADVICE_LEARN,   /* let the controller learn */
    HP_ADVICE_DONE,    /* this wiring is right: final check, then finish */
    HP_ADVICE_REPAIR,  /* no wiring can be right: a part is broken or does not fit */
    HP_ADVICE_DANGER,  /* a reading says stop */
    HP_ADVICE_GIVE_UP, /* too many trials, or nothing left that would tell more */
    HP_ADVICE_COUNT
} hp_advice_kind;

/* What must be put right before anything else. */
typedef enum hp_danger {
    HP_DANGER_NONE,
    HP_DANGER_SENSOR_VOLTS,  /* too high: would destroy the sensors */
    HP_DANGER_SENSOR_SUPPLY, /* too low or reversed: nothing to measure with */
    HP_DANGER_SHELL,         /* a lead touches axle or shell */
    HP_DANGER_CROSSED        /* a phase lead touches a sensor lead */
} hp_danger;

/* How trials are sorted by their numbers, as multiples of those of the right wiring. A current is
 * small up to this many times: half way, on a logarithmic scale, between it and the least that
 * rough ones draw (docs/verdicts.md). Speeds within the band are called even. */
#define HP_CURRENT_SMALL   3.0
#define HP_SPEED_EVEN_LOW  0.97
#define HP_SPEED_EVEN_HIGH 1.10

/* Five to ninety-five percent band of a figure. */
typedef struct hp_band {
    double low;
    double high;
} hp_band;

/* A typical figure of a band: its geometric middle, or half its upper end where the lower one is
 * zero, as the current of an easy motor is on a coarse meter. */
double hp_band_middle(hp_band band);

/* Entries of a log that do not fit each other. */
typedef struct hp_contradiction {
    bool found;  /* the best explanation of the log needs a slip */
    int slipped; /* index of the entry that is the likelier slip */
    int other;   /* index of the entry it cannot stand beside, or -1: all the others together */
    double probability; /* that `slipped` was a slip */
    double no_slip;     /* that nothing at all was */
} hp_contradiction;

typedef struct hp_advice {
    hp_advice_kind kind;
    hp_entry_kind reading; /* READ: which */
    int lead;              /* READ of a park: lead to plus; else -1 */
    hp_wiring wiring;      /* TRY, LOOK, DONE; REPAIR: the likeliest once mended */
    int number;            /* its number; 0: none */
    int moved_phase;       /* TRY: phase leads and sensor pins to move from the present wiring */
    int moved_sensor;
    double certainty; /* TRY, LOOK, DONE: that this wiring is right; REPAIR: that this is broken */
    int trouble;      /* REPAIR, GIVE_UP: index of decide/advise/trouble.h, the likeliest */
    hp_entry_kind proof;  /* REPAIR: the reading that would prove it */
    hp_danger danger;     /* DANGER */
    double expected_cost; /* [min] of this action and all after it */
    double
        expected_trials; /* powered trials still to come in the mean, sharp plan; 0 when unknown */
    hp_band current_a;   /* TRY, LOOK, DONE: battery current if the wiring is right */
    hp_band wheel_rad_s; /* wheel speed if right */
    hp_contradiction contradiction;
} hp_advice;

#define HP_SHOWING_MAX 32

/* One thing that an advised action may show, as the entry that a person would log. */
typedef struct hp_showing {
    hp_entry entry;
    double probability;
} hp_showing;

HP_API_END

#endif
