/*
 * The controls round the controller: key, throttle grip, brake lever, pedal sensor, speed switch;
 * how each is wired, what the controller makes of it, and what it makes of a lead that comes off.
 *
 * Pure functions of the state of the controls. How they follow a course of hands and feet in time
 * is model/course.h; what the machine then does is the engine's to say.
 *
 * Levels are those at the controller's input. A grip gives rest_v to full_v; the controller asks
 * for nothing below starts_v (dead band), for all above saturates_v, in between in proportion.
 */
#ifndef HUBPHASE_MODEL_RIDE_CONTROLS_H
#define HUBPHASE_MODEL_RIDE_CONTROLS_H

#include "hubphase/base/result.h"
#include "hubphase/model/drive.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- parts ----------------------------------------------------------------------------------- */

typedef struct hp_throttle_params {
    bool fitted;     /* no: the pedals alone ask for power, and nothing else here counts */
    double supply_v; /* between the grip's supply and ground leads; > 0, <= 60 */
    /* The grip: volts on its signal lead. */
    double rest_v; /* let go; 0..supply_v */
    double full_v; /* fully open; above rest_v, <= supply_v */
    /* The controller's input. */
    double starts_v;     /* below this it asks for nothing; 0..supply_v */
    double saturates_v;  /* above this it asks for all; above starts_v, <= supply_v */
    double fault_low_v;  /* below this it takes the throttle for broken; 0: never; < starts_v */
    double fault_high_v; /* above this, too; 0: never; else >= saturates_v */
    /* What the input sees with one lead of the grip off; 0..supply_v each. */
    double lost_supply_v;
    double lost_ground_v;
    double lost_signal_v;
    bool refuses_open; /* after key on, or a fault, it wants to see the grip at rest first */
    bool stops_lost;   /* tried: with any lead of the grip off it takes it for broken, whatever the
                          volts */
} hp_throttle_params;

/* What a brake switch does while the lever is let go. */
typedef enum hp_brake_switch {
    HP_SWITCH_NORMALLY_OPEN,   /* open; the lever closes it */
    HP_SWITCH_NORMALLY_CLOSED, /* closed; the lever opens it */
    HP_SWITCH_NONE,            /* no switch is fitted: the input hangs free */
    HP_SWITCH_COUNT
} hp_brake_switch;

/* What the switch joins the input to; an input is pulled to the other one by the controller. */
typedef enum hp_level { HP_LEVEL_GROUND, HP_LEVEL_VOLTS, HP_LEVEL_COUNT } hp_level;

typedef struct hp_brake_params {
    hp_brake_switch fitted;  /* of the switch in the lever */
    hp_level joins;          /* what that switch joins the input to */
    hp_brake_switch expects; /* the sort that the controller is made for; never HP_SWITCH_NONE */
    hp_level expects_at;     /* what such a switch joins its input to */
    double delay_s;          /* from a change at the input until the controller acts; 0..1 */
} hp_brake_params;

/* How the pedal sensor has a say. */
typedef enum hp_pedal_mode {
    HP_PEDAL_NONE,   /* no sensor: pedals have no say */
    HP_PEDAL_GATES,  /* the throttle works only while the pedals turn forward */
    HP_PEDAL_DRIVES, /* pedalling asks for `assist`, the throttle for what it says: the more counts
                      */
    HP_PEDAL_MODE_COUNT
} hp_pedal_mode;

/* Which share of a pulse the controller takes for pedalling forward. */
typedef enum hp_pedal_sense {
    HP_PEDAL_MOSTLY_HIGH, /* the signal is high for more than half of a pulse */
    HP_PEDAL_MOSTLY_LOW,  /* for less than half */
    HP_PEDAL_ANY,         /* it does not look: backwards counts too */
    HP_PEDAL_SENSE_COUNT
} hp_pedal_sense;

typedef struct hp_pedal_params {
    hp_pedal_mode mode;
    int pulses_per_turn;    /* of the crank; 1..100 */
    double high_share;      /* of a pulse, pedalled forward, that the signal is high; above 0, below
                               1; backwards it is low for as long */
    hp_pedal_sense forward; /* what the controller takes for forward */
    double assist;          /* throttle that pedalling asks for; 0..1 */
    int start_pulses;       /* until it drives; 1..100 */
    double off_s;           /* after the last pulse it stops driving; above 0, <= 10 */
} hp_pedal_params;

#define HP_SPEED_STEPS_MAX 8

typedef struct hp_speed_params {
    double cap[HP_SPEED_STEPS_MAX]; /* [steps] duty at full throttle of each position; > 0, <= 1 */
    int steps;                      /* 1..HP_SPEED_STEPS_MAX */
    int chosen;                     /* position, from 1 */
    int lost;                       /* position that the controller takes with the lead off, from 1
                                     */
} hp_speed_params;

typedef struct hp_controls_params {
    bool key; /* there is a key switch; no: the battery's own switch or plug is all */
    hp_throttle_params throttle;
    hp_brake_params brake;
    hp_pedal_params pedal;
    hp_speed_params speed;
} hp_controls_params;

/* A key, a Hall grip on 5 V, a normally open brake switch to ground, no pedal sensor, one speed. */
hp_controls_params hp_controls_params_default(void);
hp_result hp_controls_params_check(const hp_controls_params *controls, hp_error *err);

/* Which way the controller's throttle input is pulled while nothing is joined to it. */
typedef enum hp_input_pull {
    HP_INPUT_PULL_DOWN,
    HP_INPUT_PULL_UP,
    HP_INPUT_PULL_COUNT
} hp_input_pull;

/* Sets what the input sees with a lead off, by theory: without its signal lead it goes where it is
 * pulled; a grip without supply gives nothing, so that it does so too; a grip without ground lets
 * its supply through. A meter may say otherwise. */
void hp_throttle_lose_leads(hp_throttle_params *throttle, hp_input_pull pull);

/* ---- state, and what the controller makes of it ---------------------------------------------- */

typedef enum hp_control_lead {
    HP_CONTROL_LEAD_THROTTLE_SUPPLY,
    HP_CONTROL_LEAD_THROTTLE_GROUND,
    HP_CONTROL_LEAD_THROTTLE_SIGNAL,
    HP_CONTROL_LEAD_BRAKE,
    HP_CONTROL_LEAD_PEDAL,
    HP_CONTROL_LEAD_SPEED,
    HP_CONTROL_LEAD_COUNT
} hp_control_lead;

/* "throttle_supply" ...: for options and JSON. */
const char *hp_control_lead_name(hp_control_lead lead);

/* What hands, feet and leads do at one moment, and what the controller remembers. */
typedef struct hp_controls_state {
    bool key;
    double grip;                     /* 0 let go .. 1 fully open */
    bool lever;                      /* pulled */
    double crank_turns_s;            /* [turns/s] of the crank, forward positive */
    int speed_step;                  /* position of the switch, from 1 */
    bool off[HP_CONTROL_LEAD_COUNT]; /* this lead has come off */
    bool cut_seen; /* memory: the brake input as the controller took it last, after its delay */
    bool pedalled; /* memory: enough pulses, none missing */
    bool ready;    /* memory: the grip has been seen at rest since key on, or since a fault */
} hp_controls_state;

/* Every control at rest, the key on, every lead in its place, the switch where the parameters say.
 */
hp_controls_state hp_controls_state_rest(const hp_controls_params *controls);

typedef enum hp_control_reason {
    HP_CONTROL_DRIVES, /* the motor is driven */
    HP_CONTROL_KEY,    /* off: the key */
    HP_CONTROL_BRAKE,  /* off: the brake input says pulled */
    HP_CONTROL_FAULT,  /* off: the throttle's volts are outside what it takes for whole */
    HP_CONTROL_OPEN,   /* off: the grip has not been seen at rest yet */
    HP_CONTROL_PEDALS, /* off: the pedals do not turn, as the controller sees it */
    HP_CONTROL_REST,   /* off: nothing is asked for */
    HP_CONTROL_REASON_COUNT
} hp_control_reason;

/* "drives", "key", "brake", "fault", "open grip", "pedals", "rest". */
const char *hp_control_reason_name(hp_control_reason reason);

/* What the controls ask of the bridge. */
typedef struct hp_control_demand {
    double time;     /* [s] from here on; that of a course only */
    double throttle; /* 0..1; 0 unless it drives */
    double duty;     /* throttle * cap of the speed step; 0: every leg off, the wheel coasts */
    hp_control_reason reason;
    int action; /* of a course: the one that led to it, from 0; -1: none, the beginning */
} hp_control_demand;

/* Volts at the throttle's signal input. */
double hp_throttle_volts(const hp_throttle_params *throttle, const hp_controls_state *state);
/* Throttle, 0..1, that the controller reads from these volts; *fault (may be NULL): it takes the
 * throttle for broken, and the return is 0. */
double hp_throttle_asked(const hp_throttle_params *throttle, double volts, bool *fault);
/* Whether the brake input says pulled, delay apart. */
bool hp_brake_says_pulled(const hp_brake_params *brake, const hp_controls_state *state);
/* Whether turning pedals give pulses that the controller takes for forward. */
bool hp_pedal_says_forward(const hp_pedal_params *pedal, const hp_controls_state *state);
/* What the controller remembers of the throttle after this moment. */
void hp_controls_remember(const hp_controls_params *controls, hp_controls_state *state);
hp_control_demand hp_controls_demand(const hp_controls_params *controls,
                                     const hp_controls_state *state);

/* Speed of the free wheel [rad/s] that a loss-free motor reaches in this position of the speed
 * switch, from 1, at full throttle. A real one is a percent or two slower. */
double hp_controls_step_speed(const hp_controls_params *controls, const hp_drive *drive, int step);

HP_API_END

#endif
