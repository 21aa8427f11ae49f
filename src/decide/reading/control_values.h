/*
 * What the readings of the controls note, one by one, and what their findings are called. NAN: not
 * read. `fitted` no: the machine has none, and nothing else is said.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_CONTROL_VALUES_H
#define HUBPHASE_SRC_DECIDE_READING_CONTROL_VALUES_H

#include "decide/reading/plug_volts.h"
#include "hubphase/decide/commission.h"
#include "hubphase/model/ride_controls.h"

/* ---- values ---------------------------------------------------------------------------------- */

/* Key switch and logic lead. */
typedef struct hp_key_reading {
    hp_plug_volts plug; /* off, on */
    double off_v;       /* at the logic lead */
    double on_v;
    hp_tell stops; /* turned off while the wheel runs, it stops the drive */
    hp_tell fitted;
} hp_key_reading;

/* With which lead of the throttle off the wheel turned, or ran on. */
typedef enum hp_lost_lead {
    HP_LOST_UNSAID,
    HP_LOST_NONE, /* each was tried, it stayed still */
    HP_LOST_SUPPLY,
    HP_LOST_GROUND,
    HP_LOST_SIGNAL,
    HP_LOST_SEVERAL,
    HP_LOST_COUNT
} hp_lost_lead;

typedef struct hp_throttle_reading {
    hp_plug_volts plug; /* grip at rest, full */
    double rest_v;      /* on the signal lead */
    double full_v;
    double lost_v[3];    /* at the controller's signal input with supply, ground, signal lead off */
    hp_lost_lead turned; /* off before it was switched on */
    hp_lost_lead runs_on; /* came off while the wheel ran */
    hp_tell springs;      /* it springs back to rest by itself */
    hp_tell fitted;
} hp_throttle_reading;

typedef struct hp_brake_reading {
    hp_plug_volts plug; /* lever released, pulled */
    double stop_s[2];   /* [s] from the left, the right lever until the drive is off */
    hp_tell stops[2];   /* the left, the right lever stops the drive */
    hp_tell unplugged;  /* with the plug pulled the motor drives */
    hp_tell single;     /* there is one lever, left or right */
    hp_tell fitted;
} hp_brake_reading;

/* Which way of pedalling drives the wheel. */
typedef enum hp_pedal_drives {
    HP_PEDAL_DRIVES_UNSAID,
    HP_PEDAL_DRIVES_FORWARD,
    HP_PEDAL_DRIVES_BACKWARD,
    HP_PEDAL_DRIVES_BOTH,
    HP_PEDAL_DRIVES_NEITHER,
    HP_PEDAL_DRIVES_COUNT
} hp_pedal_drives;

typedef struct hp_pedal_reading {
    hp_plug_volts plug; /* at one place of the ring, at the other */
    int pulses;         /* of a turn of the crank; 0: not counted */
    double mean_v[2];   /* on the signal while pedalled evenly forwards, backwards */
    double stop_s;      /* from the last turn of the pedals until the drive is off */
    hp_pedal_drives drives;
    hp_tell fitted;
} hp_pedal_reading;

typedef struct hp_speed_reading {
    hp_plug_volts plug;           /* its positions in order */
    double rad_s[HP_PINS_STATES]; /* [rad/s] free wheel at full throttle in each */
    hp_tell fitted;
} hp_speed_reading;

/* What hangs on the lead. */
typedef enum hp_display_sort {
    HP_DISPLAY_UNSAID,
    HP_DISPLAY_NONE,
    HP_DISPLAY_LAMP,
    HP_DISPLAY_DISPLAY,
    HP_DISPLAY_OTHER,
    HP_DISPLAY_COUNT
} hp_display_sort;

typedef struct hp_display_reading {
    hp_plug_volts plug; /* switched off, on */
    double on_v;        /* across the lead, switched on */
    double rated_v;     /* what lamp or display is made for */
    hp_display_sort sort;
    hp_tell works;
    hp_tell fitted; /* no: as sort none */
} hp_display_reading;

typedef struct hp_learn_lead_reading {
    hp_tell fitted;
    hp_tell parted;    /* its two ends are apart */
    hp_tell insulated; /* each by itself */
} hp_learn_lead_reading;

/* ---- findings -------------------------------------------------------------------------------- */

/* Codes that every kind of control has. */
enum {
    HP_STEP_FINE,
    HP_STEP_PART,          /* nothing wrong, and not all was measured */
    HP_STEP_NOT_FITTED,    /* the machine has none */
    HP_STEP_YET_LISTED,    /* ... says the log; the scenario's harness lists one */
    HP_STEP_OWN,           /* from here on: the kind's own */
    HP_STEP_PINS_AT = 100, /* and above: plus hp_roles_why, of its plug */
};

enum { HP_KEY_STAYS = HP_STEP_OWN, HP_KEY_DROPS, HP_KEY_RUNS_ON, HP_KEY_SWAPPED };
enum {
    HP_THROTTLE_REST_HIGH = HP_STEP_OWN,
    HP_THROTTLE_REST_FAULT, /* taken for broken at rest */
    HP_THROTTLE_FULL_LOW,
    HP_THROTTLE_FULL_FAULT, /* taken for broken at full grip */
    HP_THROTTLE_FALLS,
    HP_THROTTLE_STILL,     /* full is rest */
    HP_THROTTLE_TWICE,     /* its pin and its own fields give other volts */
    HP_THROTTLE_LOST_ASKS, /* plus 0, 1, 2: a lead off looks like an open grip */
    HP_THROTTLE_LOST_TURNS = HP_THROTTLE_LOST_ASKS + 3,
    HP_THROTTLE_STICKS,
    HP_THROTTLE_LOST_RUNS
};
enum {
    HP_BRAKE_DEAD = HP_STEP_OWN,
    HP_BRAKE_SLOW,
    HP_BRAKE_OTHER_SORT,
    HP_BRAKE_CLOSED_DRIVES, /* normally closed by its pins, yet it drives with the plug pulled */
    HP_BRAKE_OPEN_STOPS     /* normally open by its pins, yet it does not */
};
enum {
    HP_PEDAL_BACKWARD = HP_STEP_OWN,
    HP_PEDAL_BOTH,
    HP_PEDAL_NEITHER,
    HP_PEDAL_RUNS_ON,
    HP_PEDAL_EVEN,       /* as long high as low: it cannot tell the way */
    HP_PEDAL_OTHER_SENSE /* not what the controller takes for forward */
};
enum {
    HP_SPEED_SAME = HP_STEP_OWN,
    HP_SPEED_OFF,
    HP_SPEED_NEVER_FULL,
    HP_SPEED_STANDS, /* a position in which the wheel does not turn */
    HP_SPEED_ALIKE,  /* two positions alike that ought to differ, and another that does */
    HP_SPEED_FAST,   /* faster than full throttle can turn it */
    HP_SPEED_TURNED  /* the steps as stated, the last position first */
};
enum { HP_DISPLAY_HIGH = HP_STEP_OWN, HP_DISPLAY_LOW, HP_DISPLAY_DARK };
enum { HP_LEARN_LEAD_JOINED = HP_STEP_OWN, HP_LEARN_LEAD_BARE };

/* ---- shared ---------------------------------------------------------------------------------- */

/* The controls as the scenario states them, or the usual ones. */
hp_controls_params hp_assess_controls(const hp_assess_case *given);
/* Whether the machine has this control: as the log's last entry of it says, else the scenario. */
bool hp_assess_has(const hp_assess_case *given, hp_control_part control);
/* How a machine is driven: the share of full throttle that its pedals ask for, 0..1, where it has
 * no throttle and the scenario says that pedalling drives; 0: by its throttle. */
double hp_assess_assist(const hp_assess_case *given);
/* What keeps this controller from ever driving, by what the scenario states of its controls: with
 * the grip let go once, then full, and the pedals turned forward. HP_CONTROL_DRIVES: nothing, or
 * the scenario states nothing of them. */
hp_control_reason hp_assess_never_drives(const hp_assess_case *given);
/* Whether by the same it drives with the grip let go. */
bool hp_assess_drives_at_rest(const hp_assess_case *given);
/* Takes a finding and its code in where it is worse than what was found so far. */
void hp_step_found(hp_finding *worst, int *code, hp_finding finding, int of);
/* Whether the controller is made for a brake switch that joins to plus, as the scenario states. */
bool hp_brake_takes_battery(const hp_assess_case *given);
/* Most volts that a pin of such a plug may have here; INFINITY: the battery's are usual on some. */
double hp_step_pins_most_v(const hp_assess_case *given, hp_pins_of control);
/* What the volts of a plug say: nothing, good, look (volts do not tell), stop (too many). */
void hp_step_found_in_plug(const hp_assess_case *given, const hp_plug_volts *plug,
                           hp_pins_of control, hp_finding *worst, int *code);
/* Fine, or not all of it measured, where nothing else was found; a control that is not fitted. */
hp_finding hp_step_end(hp_finding worst, bool all, int *code);
hp_finding hp_step_not_fitted(const hp_assess_case *given, hp_control_part control, int *code);
/* The part of the scenario's harness that is this control; NULL: it lists none. Borrowed. */
const hp_harness_part *hp_step_listed(const hp_assess_case *given, hp_control_part control);

/* For `settle`, where field `by` may say that the machine has no such part: then nothing else of
 * the kind may be said; false, the problem told, when something is. */
bool hp_settle_absent(const hp_settling *settling, const hp_reading *kind, bool absent,
                      const char *by, const void *values);

/* Volts of the throttle's signal at rest and full: as noted, else those of the pin that moves. */
bool hp_throttle_reading_volts(const hp_throttle_reading *t, double *rest_v, double *full_v);
/* The same, or what an earlier entry has of both; false: one of them is not known. */
bool hp_throttle_reading_known(const hp_assess_case *given, const hp_throttle_reading *t,
                               double *rest_v, double *full_v);
/* Volts of the signal's pin at rest [0] and full [1] where they are others than those that were
 * noted by themselves, else NAN; false: both agree, or only one of the two was noted. */
bool hp_throttle_reading_twice(const hp_throttle_reading *t, double pin_v[2]);
/* Volts of the logic lead with the key off [0], on [1], and of battery plus [2]; NAN: not read. */
void hp_key_reading_volts(const hp_key_reading *k, double volts[3]);
/* chosen: a share so near one half tells no way, beyond what uneven feet make of it. */
#define HP_PEDAL_EVEN_WITHIN 0.08
/* Whether it was tried if that lever, 0 left, 1 right, stops the drive. */
bool hp_brake_reading_tried(const hp_brake_reading *b, int lever);
/* [s] by the watch: a lever that takes longer is slow. Chosen: half a second, and some three tenths
 * that a hand adds. */
#define HP_BRAKE_SLOW_S 0.8
/* Whether it drives on for too long once the pedals stand. */
bool hp_pedal_reading_runs_on(const hp_pedal_reading *pedal);
/* Share of a pulse that the signal is high while pedalled forwards (0), backwards (1); NAN. */
double hp_pedal_reading_high(const hp_pedal_reading *p, int way);
/* chosen: a lossy motor is slower than reckoned by so much, a fresher battery makes it faster by so
 * much. */
#define HP_SPEED_SLOWER 0.15
#define HP_SPEED_FASTER 0.10
/* Number of positions whose speed was read. */
int hp_speed_reading_positions(const hp_speed_reading *s);
/* Speed that position k, from 0, ought to give [rad/s], of so many; NAN: not stated. */
double hp_speed_reading_expected(const hp_assess_case *given, const hp_speed_reading *s, int k);
/* Whether position k gives another speed than it ought to; not stated: no. */
bool hp_speed_reading_off(const hp_assess_case *given, const hp_speed_reading *s, int k);
/* The first two positions that turn the wheel alike though another turns it otherwise, and the
 * scenario does not state the same for both; false: there are none. */
bool hp_speed_reading_alike(const hp_assess_case *given, const hp_speed_reading *s, int pair[2]);
/* Speed of the free wheel at full throttle with no step in the way [rad/s]. */
double hp_speed_reading_full(const hp_assess_case *given);

/* ---- for the fields -------------------------------------------------------------------------- */

#define HP_FITTED_FIELD(type_)                                                                     \
    {                                                                                              \
        .name = "fitted", .type = HP_FIELD_TELL, .presence = true,                                 \
        .offset = offsetof(type_, fitted), .argument = "YES-OR-NO",                                \
        .help = "Whether the machine has that part"                                                \
    }
#define HP_TELL_FIELD(name_, type_, member_, help_)                                                \
    {                                                                                              \
        .name = name_, .type = HP_FIELD_TELL, .offset = offsetof(type_, member_),                  \
        .argument = "YES-OR-NO", .help = help_                                                     \
    }
#define HP_USUAL_FIELD(name_, type_, member_, unit_, high_, usual_, argument_, help_)              \
    {                                                                                              \
        .name = name_, .type = HP_FIELD_NUMBER, .figure = true,                                    \
        .limits = {.unit = unit_, .low = 0, .high = high_}, .usual = usual_,                       \
        .offset = offsetof(type_, member_), .factor = 1, .argument = argument_, .help = help_      \
    }
#define HP_NUMBER_FIELD(name_, type_, member_, unit_, high_, argument_, help_)                     \
    HP_USUAL_FIELD(name_, type_, member_, unit_, high_, HP_USUAL_UNSTATED, argument_, help_)
#define HP_VOLTS_FIELD(name_, type_, member_, usual_, help_)                                       \
    HP_USUAL_FIELD(name_, type_, member_, "V", HP_PIN_V_MOST, usual_, "VOLTS", help_)

#endif
