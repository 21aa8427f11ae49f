/*
 * Behaviour: the few cases that must be simulated.
 *
 * What a wiring does under a hypothesis depends on the effective wiring, on the axis of an inverted
 * sensor and on the axis of a fault: 36 x 4 x 11 cases. A controller made for 60-degree sensors
 * makes no more of them: an input that it inverts is a lead inverted, and two leads inverted are
 * the third one under another table. Turning the motor's axes by 120 degrees, or
 * the table's, gives the same machine again; so does the mirror image, with forward and backward
 * exchanged, as long as nothing on the stand tells the two apart. Cases that are one another's
 * image share one simulation.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_BEHAVIOUR_H
#define HUBPHASE_SRC_DECIDE_ADVISE_BEHAVIOUR_H

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/drive.h"

#define HP_BEHAVIOUR_RAW (HP_WIRING_COUNT * 4 * HP_FAULT_COUNT)

/* One case, in axes of the motor. */
typedef struct hp_behaviour {
    hp_wiring wiring; /* effective */
    int inverted;     /* -1, or the axis of the inverted sensor */
    hp_fault fault;   /* `which` is an axis */
} hp_behaviour;

typedef struct hp_behaviour_map {
    bool mirror;                     /* mirror images share a case */
    bool clutch;                     /* cases with a slipping clutch are kept */
    int count;                       /* distinct cases */
    short index[HP_BEHAVIOUR_RAW];   /* case of a raw number; -1: left out */
    bool mirrored[HP_BEHAVIOUR_RAW]; /* its mirror image was simulated */
    short raw[HP_BEHAVIOUR_RAW];     /* [case] the raw number that stands for it */
} hp_behaviour_map;

/* The map for a drive: mirror images are shared unless a clutch or a load tells the directions
 * apart, and the clutch may slip only where there is one. */
hp_behaviour_map hp_behaviour_map_of(const hp_drive *drive);

/* Raw number 0 .. HP_BEHAVIOUR_RAW - 1, and back. */
int hp_behaviour_raw(const hp_behaviour *behaviour);
hp_behaviour hp_behaviour_from_raw(int raw);

/* What a wiring does under a hypothesis. */
hp_behaviour hp_behaviour_of(const hp_hypothesis *hypothesis, const hp_wiring *wiring);
/* ... where the controller runs without Hall sensors: it finds the rotor by itself, as if each
 * sensor sat on the axis of its phase lead, so that the order of the phase leads alone shows, as
 * forward or backward. Left out: that it may start with a jerk. */
hp_behaviour hp_behaviour_unsensed(const hp_hypothesis *hypothesis, const hp_wiring *wiring);

/* The drive with the case's inversion and fault put in; wire it by behaviour->wiring. The drive's
 * own faults are cleared and its table and sensors made the textbook's first. */
hp_drive hp_behaviour_drive(const hp_drive *drive, const hp_behaviour *behaviour);

#endif
