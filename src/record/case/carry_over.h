/*
 * What a log read off the controls, the Hall supply and the battery alone, as keys of the scenario:
 * figures that are taken over as they are read. What is fitted is commission_write.c's.
 */
#ifndef HUBPHASE_SRC_RECORD_CASE_CARRY_OVER_H
#define HUBPHASE_SRC_RECORD_CASE_CARRY_OVER_H

#include "hubphase/decide/commission.h"

#define HP_CARRIED_MOST 24 /* keys; a test fills all of them that there are */

typedef struct hp_carried {
    const char *key; /* static storage */
    double number;   /* in the key's own unit; NAN: it is a word or a list */
    const char *word;
    char list[40];   /* "[50, 75, 100]"; empty: it is no list */
    const char *why; /* it follows from what was read, as this says; NULL: it was read as it is */
    int entry;       /* number of the log entry */
} hp_carried;

/* The keys that the last entry of each kind tells, in the order of the scenario; their number. */
int hp_carry_over(const hp_commission *list, hp_carried carried[HP_CARRIED_MOST]);

#endif
