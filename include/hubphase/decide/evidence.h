/*
 * Evidence: the entries of a bench log, as typed structures.
 *
 * Leads are named by their marks, 0..2 (hp_phase), on either side. A pair of phase leads is named
 * by the lead that it leaves out: pair 0 is V-W, 1 is W-U, 2 is U-V. A code is three bits, motor
 * sensor leads U V W in that order by their marks.
 */
#ifndef HUBPHASE_DECIDE_EVIDENCE_H
#define HUBPHASE_DECIDE_EVIDENCE_H

#include "hubphase/base/result.h"
#include "hubphase/decide/readings.h"
#include "hubphase/model/controller.h"

#include <stddef.h>

HP_API_BEGIN

typedef enum hp_tell { HP_TELL_UNSAID, HP_TELL_NO, HP_TELL_YES, HP_TELL_COUNT } hp_tell;

/* The leads that come out of the motor. */
typedef enum hp_plug_lead {
    HP_PLUG_PHASE_U, /* V and W follow, in the order of hp_phase */
    HP_PLUG_PHASE_V,
    HP_PLUG_PHASE_W,
    HP_PLUG_SENSOR_U,
    HP_PLUG_SENSOR_V,
    HP_PLUG_SENSOR_W,
    HP_PLUG_SUPPLY_PLUS, /* of the sensors */
    HP_PLUG_SUPPLY_MINUS,
    HP_PLUG_LEAD_COUNT
} hp_plug_lead;

#define HP_PLUG_PIN_SIZE 32

/* What half of a plug somebody looked at. */
typedef enum hp_plug_half {
    HP_HALF_UNSAID,
    HP_HALF_MOTOR,      /* the one on the motor's cable */
    HP_HALF_CONTROLLER, /* the one that it fits into, on the controller's side */
    HP_HALF_COUNT
} hp_plug_half;

/* Which pin of the motor's plug goes to which lead. When it is given, every lead has one pin and no
 * pin stands twice. */
typedef struct hp_plug_map {
    bool given;
    /* Places as of hp_pin_place_read, or free names such as "3" or "B". */
    char pin[HP_PLUG_LEAD_COUNT][HP_PLUG_PIN_SIZE];
    int half;    /* hp_plug_half in whose face the places were seen; said when there are any */
    int columns; /* of a square plug; 0: as far as its pins go */
} hp_plug_map;

/* Whether some pin is noted by its place. */
bool hp_plug_has_places(const hp_plug_map *plug);
/* Columns of a square plug; 0: none of its pins is noted by row and column. */
int hp_plug_columns(const hp_plug_map *plug);
/* Whether two pins are the same: by place, else by name. */
bool hp_plug_same_pin(const char *a, const char *b);

/* Continuity, everything unplugged. */
typedef struct hp_pins {
    hp_tell open[HP_PHASE_COUNT]; /* pair k shows no continuity */
    hp_tell shell;                /* some lead has continuity to axle or shell */
    hp_tell crossed;              /* some phase lead has continuity to a sensor lead */
    hp_plug_map plug;
} hp_pins;

/* Volts at the sensor supply pins before the sensors are joined to it. */
typedef struct hp_supply_reading {
    double volts;
} hp_supply_reading;

#define HP_TURN_CODES 24

/* Sensors powered, wheel turned by hand, codes in order as they change. */
typedef struct hp_hand_turn {
    int code[HP_TURN_CODES]; /* 0..7 */
    int count;               /* 1..HP_TURN_CODES */
    bool backward;           /* the wheel was turned backward (a clutch lets it drive so only) */
    int edges;               /* changes of one sensor counted over one wheel turn; 0: not counted */
} hp_hand_turn;

/* Resistance of the three pairs. */
typedef struct hp_winding {
    double ohm[HP_PHASE_COUNT]; /* pair k; INFINITY: open; NAN: not measured */
    double leads_ohm;           /* of the test leads, to be subtracted */
    double copper_c;            /* [C] temperature of the winding */
} hp_winding;

typedef enum hp_volt_kind {
    HP_VOLT_RMS,     /* a meter that shows true rms */
    HP_VOLT_AVERAGE, /* a plain a.c. meter: rectified mean, scaled for a sine */
    HP_VOLT_PEAK,    /* a scope, or a diode and a capacitor */
    HP_VOLT_KIND_COUNT
} hp_volt_kind;

/* Fastest wheel that evidence takes, 1000 rad/s, in rev/min. */
#define HP_WHEEL_RPM_MAX 9549.0

/* Volts between leads while the wheel is spun at a known speed. */
typedef struct hp_spin {
    double volts[HP_PHASE_COUNT]; /* pair k; NAN: not measured */
    double wheel_rad_s;           /* magnitude */
    hp_volt_kind kind;
} hp_spin;

/* Lead `lead` to plus of a current-limited supply, the other two to minus; the rotor turns there
 * and rests; the code is read. */
typedef struct hp_park {
    int lead;
    int code;           /* 0..7; -1: not read */
    hp_tell no_current; /* the supply showed no current */
} hp_park;

/* Motor unplugged, controller inputs pulled to levels, outputs metered at light throttle. */
typedef struct hp_probe {
    bool read[HP_CODE_COUNT];              /* this code of the marked inputs was tried */
    hp_commutation_row row[HP_CODE_COUNT]; /* marked outputs seen high and low; -1: off */
} hp_probe;

typedef enum hp_motion {
    HP_MOVED_UNSAID,
    HP_MOVED_FORWARD,
    HP_MOVED_BACKWARD,
    HP_MOVED_BOTH,   /* forward from some rest angles, backward from others */
    HP_MOVED_HUM,    /* the hub hums, the wheel stays */
    HP_MOVED_SHIVER, /* to and fro only */
    HP_MOVED_STILL,
    HP_MOVED_COUNT
} hp_motion;

typedef enum hp_feel {
    HP_FEEL_UNSAID,
    HP_FEEL_SMOOTH,
    HP_FEEL_ROUGH,
    HP_FEEL_NOISY,
    HP_FEEL_COUNT
} hp_feel;

/* What fed the controller in a trial. */
typedef enum hp_feed {
    HP_FEED_UNSAID,       /* the battery, as it is taken */
    HP_FEED_BATTERY,      /* through its fuse alone */
    HP_FEED_BENCH_SUPPLY, /* a supply that limits its current and takes none back */
    HP_FEED_LAMP,         /* a filament lamp or resistor in the battery's plus lead */
    HP_FEED_COUNT
} hp_feed;

#define HP_STARTS_MAX 100 /* rest angles of one trial */

/* One wiring tried under power. */
typedef struct hp_trial {
    hp_wiring wiring; /* by marks */
    double throttle;  /* 0..1 */
    hp_motion motion;
    hp_feel feel;
    int starts;       /* rest angles from which wheel or rotor started; used if starts_tried > 0 */
    int starts_tried; /* 0: not counted, taken as one */
    double battery_a; /* NAN: not read */
    double wheel_rad_s; /* magnitude; NAN: not read */
    hp_tell cut_out;
    hp_tell warm; /* winding or leads grew warm */
    hp_feed feed;
    double limit_a;        /* BENCH_SUPPLY: what it was set to; NAN: not said */
    hp_tell limit_reached; /* once run up, or standing: at the limit still, the lamp bright */
    double signal_v;       /* [V] on the throttle's signal lead; NAN: not read */
} hp_trial;

/* Whether something limited the current of a trial. */
static inline bool hp_feed_limits(hp_feed feed)
{
    return feed == HP_FEED_BENCH_SUPPLY || feed == HP_FEED_LAMP;
}

/* Whether a trial got what it asked for: nothing limited its current, or its limit was not reached.
 */
static inline bool hp_trial_is_free(const hp_trial *trial)
{
    return !hp_feed_limits(trial->feed) || trial->limit_reached == HP_TELL_NO;
}

/* Whether something grew warm in a trial, or cut it out: to be found before it runs again. Behind a
 * limit that holds it a right wiring may go off and on. */
static inline bool hp_trial_warns(const hp_trial *trial)
{
    return trial->warm == HP_TELL_YES ||
           (trial->cut_out == HP_TELL_YES && trial->limit_reached != HP_TELL_YES);
}

/* Whether a trial stayed at its limit. */
static inline bool hp_trial_is_held(const hp_trial *trial)
{
    return hp_feed_limits(trial->feed) && trial->limit_reached == HP_TELL_YES;
}

/* What was wrong about a controller that drives nothing, in the order of chance. */
typedef enum hp_found {
    HP_FOUND_UNSAID,
    HP_FOUND_KEY,        /* logic or key lead without the battery's volts */
    HP_FOUND_SUPPLY,     /* no 5 V for throttle and sensors */
    HP_FOUND_THROTTLE,   /* its signal not at rest when switched on, or dead */
    HP_FOUND_BRAKE,      /* brake input active */
    HP_FOUND_PEDAL,      /* pedal mode, or the speed switch */
    HP_FOUND_CODE,       /* sensor code 000 or 111 */
    HP_FOUND_PROTECTION, /* the battery's protection had switched off */
    HP_FOUND_NOTHING,    /* all as it should be */
    HP_FOUND_COUNT
} hp_found;

/* Volts at what lets a controller drive, and what was found wrong and put right. NAN: not read. */
typedef struct hp_controls {
    double battery_v;
    double key_v;
    double supply_v;
    double rest_v; /* throttle signal at rest ... */
    double full_v; /* ... and at full grip */
    double brake_v;
    hp_found found;
} hp_controls;

/* What drags on the wheel, what else draws from the battery. NAN: not read. */
typedef struct hp_drag {
    double idle_a;      /* battery, all switched on, throttle closed, wheel standing */
    double coast_s;     /* from coast_rad_s to rest, nothing braking */
    double coast_rad_s; /* of the wheel */
    hp_tell rubs;       /* something drags when the wheel is turned by hand */
    hp_tell other_load; /* lamp, display or regulator behind the meter */
} hp_drag;

/* What made contact only now and then. */
typedef enum hp_contact {
    HP_CONTACT_UNSAID,
    HP_CONTACT_PHASE_LEAD,
    HP_CONTACT_HALL_LEAD,
    HP_CONTACT_SUPPLY_LEAD, /* battery, Hall supply or ground */
    HP_CONTACT_NOTHING,     /* every lead and plug held */
    HP_CONTACT_COUNT
} hp_contact;

/* Leads and plugs tugged while the wheel runs; what was loose is mended. */
typedef struct hp_contacts {
    hp_contact loose;
} hp_contacts;

/* Whether the wheel still turned, lightly driven, with the Hall plug pulled. */
typedef struct hp_hall_plug {
    hp_tell turns;
} hp_hall_plug;

/* Whether self-learning ended with a wheel that runs forward smoothly. */
typedef struct hp_learn {
    hp_tell worked;
} hp_learn;

/* What is wrong with a part. */
typedef enum hp_fault_kind {
    HP_FAULT_NONE,
    HP_FAULT_SENSOR_HIGH, /* sensor lead `which` always reads 1 */
    HP_FAULT_SENSOR_LOW,  /* ... always 0 */
    HP_FAULT_LEAD_OPEN,   /* phase lead `which` is broken */
    HP_FAULT_CLUTCH,      /* one-way clutch slips: the rotor turns, the wheel does not */
    HP_FAULT_SILENT,      /* the controller drives nothing */
    HP_FAULT_CUTTING_OUT, /* controller or battery protection cuts out again and again */
    HP_FAULT_LOOSE,       /* some lead makes contact now and then only */
    HP_FAULT_UNLISTED,    /* something that is none of all this */
    HP_FAULT_KIND_COUNT
} hp_fault_kind;

typedef struct hp_fault {
    hp_fault_kind kind;
    int which; /* 0..2, a motor lead by its mark; 0 where there is nothing to choose */
} hp_fault;

/* What was mended or exchanged. */
typedef enum hp_mended {
    HP_MENDED_FAULT,      /* see `fault` */
    HP_MENDED_INVERSION,  /* a Hall lead got an inverter */
    HP_MENDED_CONTROLLER, /* another one is in its place, with a table of its own */
    HP_MENDED_KEY,
    HP_MENDED_THROTTLE,
    HP_MENDED_BRAKE_LEFT,
    HP_MENDED_BRAKE_RIGHT,
    HP_MENDED_PEDAL_SENSOR,
    HP_MENDED_SPEED_SWITCH,
    HP_MENDED_BATTERY,
    HP_MENDED_COUNT
} hp_mended;

typedef struct hp_mend {
    hp_fault fault; /* NONE: no fault of the advice's was mended, but what `what` says */
    hp_mended what;
    int inverter; /* of an inversion: 1 + the motor sensor lead 0..2 in which it sits; 0: not said
                   */
} hp_mend;

/* Whether the mended part is one of three leads. */
bool hp_mend_has_lead(const hp_mend *mend);

/* Room for the values of any kind [bytes]. */
#define HP_ENTRY_VALUES 512

/* One entry. A kind that is not named here keeps its values in the same room (hp_entry_values): no
 * list of kinds stands here that a new one must be added to. */
struct hp_entry {
    const hp_reading *reading; /* what kind it is */
    int number;                /* place in the log as the person counts, for messages */
    bool typical;              /* its figures are typical of what was seen, nobody measured them */
    union {
        max_align_t align;
        unsigned char values[HP_ENTRY_VALUES];
        hp_pins pins;
        hp_supply_reading supply;
        hp_hand_turn hand_turn;
        hp_winding winding;
        hp_spin spin;
        hp_park park;
        hp_probe probe;
        hp_trial trial;
        hp_learn learn;
        hp_controls controls;
        hp_drag drag;
        hp_contacts contacts;
        hp_hall_plug hall_plug;
        hp_mend mend;
    };
};

/* The values, to be taken as those of the entry's kind. */
static inline void *hp_entry_values(hp_entry *entry)
{
    return entry->values;
}
static inline const void *hp_entry_said(const hp_entry *entry)
{
    return entry->values;
}

/* The trial that an entry holds; NULL: it is of another kind. */
const hp_trial *hp_entry_trial(const hp_entry *entry);

/* An entry of this kind with everything unsaid. */
hp_entry hp_entry_make(const hp_reading *reading, int number);
/* HP_FAIL_INPUT naming the field when a value is out of range or contradicts another of the same
 * entry. */
hp_result hp_entry_check(const hp_entry *entry, hp_error *err);
/* The entry without the figures that nobody measured. */
hp_entry hp_entry_as_found(const hp_entry *entry);
/* Notes that its figures, if it has any, are typical ones. */
void hp_entry_mark_typical(hp_entry *entry);

HP_API_END

#endif
