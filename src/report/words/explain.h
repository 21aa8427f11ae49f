/*
 * Why a wiring does what it does, in plain words: from the table, the sensors and the wiring alone,
 * sector by sector; and, beside it, what the simulation did.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_EXPLAIN_H
#define HUBPHASE_SRC_REPORT_WORDS_EXPLAIN_H

#include "hubphase/report/tables.h"
#include "model/lead.h"

#include <stdio.h>

/* What the torque does over one forward turn of the rotor, told from the sectors. */
typedef enum hp_pull {
    HP_PULL_STEADY,   /* one sense all the way, never fading out: smooth */
    HP_PULL_FADING,   /* one sense, but it fades to nothing once a sector: rough */
    HP_PULL_CHANGING, /* forward at some angles, backward at others */
    HP_PULL_NONE,     /* no pair is ever driven */
    HP_PULL_COUNT
} hp_pull;

typedef struct hp_pull_sum {
    hp_pull pull;
    double mean;  /* torque per ampere over the turn, relative to 2 ke; forward positive */
    double least; /* lowest and highest instant */
    double most;
    double off;                      /* [rad electrical] of the turn where nothing pulls */
    double open;                     /* ... of these for want of a lead; else of a code */
    double lead_middle;              /* [rad electrical] mean lead of the field, in (-pi, pi] */
    int rests;                       /* angles to which the rotor is pulled from both sides */
    double rest[HP_LEAD_SECTOR_MAX]; /* [rad electrical] those angles, [0, 2 pi) */
} hp_pull_sum;

/* Adds up `count` sectors that cover the turn once, in order of angle; their torque relative to the
 * most that a pair of leads can give. */
hp_pull_sum hp_pull_sum_make(const hp_lead_sector *sector, int count);

#define HP_EXPLAIN_WORDS 1600

/* Why this wiring does what it does, in three to five sentences: where the field stands and what
 * torque that gives; the amperes, and what of them is heat; what is seen and felt at the wheel;
 * each against the correct wiring where there is one. Where the simulation came to another end than
 * the geometry, they say so. `survey`: of all 36; NULL: not simulated, then only the geometry is
 * told. Returns out, cut where it does not fit: HP_EXPLAIN_WORDS hold any. */
char *hp_explain_sentences(const hp_report_case *subject, const hp_wiring *wiring,
                           const hp_survey *survey, char *out, size_t size);

#endif
