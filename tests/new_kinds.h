/*
 * Two kinds of readings that the library does not know, put first in its lists: what a newcomer
 * would write to add a kind.
 *
 * - insulation: megohms from the leads to the shell; a check for danger before all else.
 * - inductance: millihenry between pairs of phase leads; it shows a broken lead.
 */
#ifndef HUBPHASE_TESTS_NEW_KINDS_H
#define HUBPHASE_TESTS_NEW_KINDS_H

#include "decide/reading/reading.h"

typedef struct insulation {
    double megohm;
} insulation;

/* Less than this from a lead to the shell is a danger [megohm]; chosen for the test. */
#define INSULATION_LEAST 1.0

typedef struct inductance {
    double millihenry[3]; /* by the lead left out; INFINITY: open */
} inductance;

extern const hp_reading reading_insulation, reading_inductance;
extern const hp_danger danger_insulation;

#endif
