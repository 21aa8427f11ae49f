/*
 * The kinds of entries of a bench log: readings, trials, and what was done. All that is to be known
 * of a kind stands in its descriptor, which is the library's own; outside it a kind is a handle.
 */
#ifndef HUBPHASE_DECIDE_READINGS_H
#define HUBPHASE_DECIDE_READINGS_H

#include "hubphase/base/api.h"

#include <stdbool.h>

HP_API_BEGIN

typedef struct hp_reading hp_reading;
typedef struct hp_entry hp_entry;

/* All kinds in the order in which people are shown them, NULL-ended. One row a kind, in a source of
 * its own (reading_list.c), so that a program can link a list of its own. */
extern const hp_reading *const hp_readings[];
#define HP_READINGS_MAX 24

extern const hp_reading hp_reading_pins;
extern const hp_reading hp_reading_supply;
extern const hp_reading hp_reading_hand_turn;
extern const hp_reading hp_reading_winding;
extern const hp_reading hp_reading_spin;
extern const hp_reading hp_reading_park;
extern const hp_reading hp_reading_probe;
extern const hp_reading hp_reading_controls; /* what keeps a controller silent */
extern const hp_reading hp_reading_drag;     /* what drags, and what else draws current */
extern const hp_reading hp_reading_contacts; /* a lead that makes contact now and then */
extern const hp_reading hp_reading_trial;
extern const hp_reading
    hp_reading_learn;                    /* the controller was told to learn the wiring by itself */
extern const hp_reading hp_reading_mend; /* something was mended: what is measured after it does not
                                            show it */

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

HP_API_END

#endif
