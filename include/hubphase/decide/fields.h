/*
 * What an entry of each kind notes: its values with their types, units and ranges.
 */
#ifndef HUBPHASE_DECIDE_FIELDS_H
#define HUBPHASE_DECIDE_FIELDS_H

#include "hubphase/base/api.h"
#include "hubphase/base/limits.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/decide/readings.h"

#include <stdbool.h>
#include <stddef.h>

HP_API_BEGIN

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
    HP_FIELD_TYPE_COUNT
} hp_field_type;

/* One value that an entry of a kind notes. As an option of `log` it is called by its name with
 * dashes: `battery_a` is --battery-a. */
typedef struct hp_field {
    const char *name; /* "battery_a" */
    hp_field_type type;
    bool required;
    bool from_throttle;       /* the scenario's throttle where an option does not say it */
    bool figure;              /* read off a meter: a typical one is nothing that was found */
    hp_limits limits;         /* numbers; limits.none: the word `open` is allowed, too */
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
