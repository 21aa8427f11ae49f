/*
 * What the runs of commissioning note: values of their kinds of entries, SI units. NAN: not read.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_RUNNING_H
#define HUBPHASE_SRC_DECIDE_READING_RUNNING_H

#include "hubphase/decide/commission.h"

/* All switched on, throttle closed, wheel at rest. */
typedef struct hp_idle_draw {
    double idle_a;   /* battery current */
    double off_a;    /* the same with the key off */
    hp_tell load_on; /* lamp and display were switched on meanwhile */
} hp_idle_draw;

/* Codes of findings. */
enum { HP_IDLE_FINE, HP_IDLE_LOAD, HP_IDLE_MUCH, HP_IDLE_OFF };

#endif
