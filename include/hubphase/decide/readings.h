/*
 * The kinds of entries of a bench log: readings, trials, and what was done; and what an entry of
 * each kind notes: its values with their types, units and ranges. All that is to be known of a kind
 * stands in its descriptor, which is the library's own; outside it a kind is a handle.
 */
#ifndef HUBPHASE_DECIDE_READINGS_H
#define HUBPHASE_DECIDE_READINGS_H

#include "hubphase/base/result.h"

#include <stdbool.h>
#include <stddef.h>

HP_API_BEGIN

typedef struct hp_reading hp_reading;
typedef struct hp_entry hp_entry;

/* All kinds in the order in which people are shown them, NULL-ended: hp_reading_find names one. The
 * list is made in a source of its own (reading_list.c), so that a program can link one of its own.
 */
extern const hp_reading *const hp_readings[];
#define HP_READINGS_MAX 32

/* "hand_turn": for files, `log`, the menu of `bench` and JSON; static storage. */
const char *hp_reading_name(const hp_reading *reading);
/* The same in a sentence: "hand turn". */
const char *hp_reading_title(const hp_reading *reading);
/* The kind of this name ('-' and ' ' count as '_'), or NULL. */
const hp_reading *hp_reading_find(const char *name);
/* Its place in the list, from 0; -1 for one that is not there. */
int hp_reading_index(const hp_reading *reading);
int hp_readings_count(void);
/* Whether it can be advised as a reading. */
bool hp_reading_is_advised(const hp_reading *reading);

/* What must be put right before anything else. */
typedef struct hp_danger {
    const char *name;          /* in JSON: "lead_on_shell" */
    const hp_reading *reading; /* that found it, and is taken again once it is put right */
} hp_danger;

extern const hp_danger hp_danger_sensor_volts;  /* too high: would destroy the sensors */
extern const hp_danger hp_danger_sensor_supply; /* too low or reversed: nothing to measure with */
extern const hp_danger hp_danger_shell;         /* a lead touches axle or shell */
extern const hp_danger hp_danger_crossed;       /* a phase lead touches a sensor lead */
extern const hp_danger hp_danger_winding; /* pairs of unlike ohms: shorted turns, a bad joint */
extern const hp_danger hp_danger_backemf; /* pairs of unlike volts: the same */
extern const hp_danger hp_danger_runaway; /* it drives with the throttle closed */

/* ---- values ---------------------------------------------------------------------------------- */

/* What a number that people give may be, in the unit that it is given in. */
typedef struct hp_limits {
    const char *unit; /* such as "ohm"; "" for a plain number */
    double low, high;
    bool above; /* low itself is too little */
    bool whole; /* no fractions */
    bool none;  /* a word for nothing is allowed, too: `none` in a scenario, where it gives 0 */
} hp_limits;

/* Types of values, each with a descriptor of its own that reads and writes it: record/log/field.h.
 * Behind each stands what the entry holds at the field's place. */
typedef enum hp_field_type {
    HP_FIELD_NUMBER,      /* double; NAN: not said */
    HP_FIELD_WHOLE,       /* int; 0: not said */
    HP_FIELD_TELL,        /* hp_tell: yes or no */
    HP_FIELD_CHOICE,      /* int: the index of the word plus `first` */
    HP_FIELD_WAY,         /* bool: which of two words */
    HP_FIELD_PAIRS,       /* double[3]: pair -> number, or `open` (INFINITY) where it is allowed */
    HP_FIELD_CONTINUITY,  /* hp_tell[3]: open, told as continuity: pair -> yes or no */
    HP_FIELD_CODES,       /* hp_hand_turn: its sensor codes in order */
    HP_FIELD_CODE,        /* int: one code; -1: not read */
    HP_FIELD_LEAD,        /* int: one of the motor's phase leads */
    HP_FIELD_WIRING,      /* hp_wiring */
    HP_FIELD_ROWS,        /* hp_probe: code -> high > low, or off */
    HP_FIELD_PHASE_PINS,  /* hp_plug_map: phase lead -> pin */
    HP_FIELD_SENSOR_PINS, /* hp_plug_map: sensor lead -> pin */
    HP_FIELD_PIN,         /* hp_plug_map: the pin of lead `first` */
    HP_FIELD_PART,        /* hp_mend: what was mended */
    HP_FIELD_PART_LEAD,   /* hp_mend: which of its leads */
    HP_FIELD_PIN_VOLTS,   /* volts of a control's pins: pin -> up to `first` numbers, a state each;
                             first 0: -> one number, the plug pulled */
    HP_FIELD_MINUS_PIN,   /* the one of them that beeps to battery minus, or none */
    HP_FIELD_TYPE_COUNT
} hp_field_type;

/* What such parts give, good or faulty ones, in the unit of the limits: what lies outside was most
 * likely read or written wrong, and is asked for again. One number is enough; 0: not stated. */
typedef struct hp_usual {
    double low;     /* at least */
    double high;    /* at most ... */
    double battery; /* ... or at most so many times the battery's stated volts */
    double limit;   /* ... or, where that is known, at most so many times the controller's battery
                       current limit */
    double brake;   /* ... or at most so much at a brake input, but the battery's where the
                       controller is made for a switch to plus */
} hp_usual;

/* One value that an entry of a kind notes. As an option of `log` it is called by its name with
 * dashes: `battery_a` is --battery-a. */
typedef struct hp_field {
    const char *name; /* "battery_a" */
    hp_field_type type;
    bool required;
    bool from_throttle;       /* the scenario's throttle where an option does not say it */
    bool presence;            /* yes says only that there is such a part, and finds nothing in it */
    bool figure;              /* read off a meter: a typical one is nothing that was found */
    hp_limits limits;         /* numbers; limits.none: the word `open` is allowed, too */
    hp_usual usual;           /* of numbers, pairs and volts of pins */
    size_t offset;            /* in the values of the entry */
    double factor;            /* of a NUMBER: what the entry holds = as written * factor */
    const char *const *words; /* choices, NULL-ended */
    int first;                /* value of the first word; first lead of a plug's pins */
    bool (*said)(const void *values); /* whether it is noted; NULL: as its type has it */
    const char *argument;             /* of the option, such as "AMPERES" */
    const char *help;                 /* of the option */
} hp_field;

#define HP_FIELDS_MAX 16 /* of one kind */

/* The fields of a kind, ended by a row without a name; static storage. */
const hp_field *hp_fields_of(const hp_reading *reading);
int hp_fields_count(const hp_reading *reading);
/* The field of this name, or NULL. */
const hp_field *hp_field_find(const hp_reading *reading, const char *name);

HP_API_END

#endif
