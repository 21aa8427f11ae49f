/*
 * The equals of a wiring that works: the two others that are right together with it.
 *
 * Which they are hangs on the controller's table: each wiring is right in two sets of three, and
 * half of the tables make the one, half the other. Where hub and controller are made for 60-degree
 * sensors there are none: moving the leads on brings the inverted one to another input. This is the
 * belief on the condition that the wiring works, from the scenario's word on the table and from
 * readings that need no simulation (hand turn, park, probe); of a trial counts what was said, not
 * its figures. So it costs nothing and says the same whether a table of likelihoods is at hand or
 * not.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_EQUALS_H
#define HUBPHASE_SRC_DECIDE_ADVISE_EQUALS_H

#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/drive.h"

/* Less likely than this, the equals are not known. Chosen: a table that the scenario merely states
 * is believed at 98 %; metered off the outputs against the scenario's word, at 95 %. */
#define HP_EQUALS_KNOWN 0.9

typedef struct hp_equals {
    int number[2];      /* 1..36, ascending; the likelier two; 0, 0: it is right alone */
    int table;          /* the likeliest table that makes them so */
    double probability; /* that these two are the equals, or that there are none */
} hp_equals;

/* `number`: the wiring that works, 1..36 (asserted). `entry`: the log, in order. */
hp_equals hp_equals_find(int number, const hp_drive *drive, const hp_person *person,
                         const hp_prior_params *prior, const hp_entry *entry, int entries);

#endif
