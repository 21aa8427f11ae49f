/*
 * Trouble: what is wrong with the parts, apart from how they are joined.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_TROUBLE_H
#define HUBPHASE_SRC_DECIDE_ADVISE_TROUBLE_H

#include "decide/advise/hypothesis.h"

#define HP_TROUBLE_COUNT (4 * HP_FAULT_COUNT)
#define HP_TROUBLE_SOUND 0

/* Index of what is wrong with the parts, leads by their marks: inverted sensor and fault. A stuck
 * sensor hides its own inversion. */
int hp_trouble_index(int inverted, hp_fault fault);
/* The inverted sensor (-1: none) and the fault of an index. */
void hp_trouble_get(int trouble, int *inverted, hp_fault *fault);

/* Broken parts: troubles that differ only in the level at which a sensor is stuck are one part.
 * Eight a choice of inverted sensor (none, 0, 1, 2): sound, three sensors, three leads, clutch. */
#define HP_PART_COUNT 32
#define HP_PART_SOUND 0
int hp_part_of(int trouble);

/* The single thing that is likeliest to be wrong, whatever else is: a fault with any inversion, or
 * an inversion with any fault. part[]: probability of each part, any scale. Returns the largest
 * probability; *which (may be NULL) gets its part, the other thing left out. */
double hp_part_likeliest(const double part[HP_PART_COUNT], int *which);

#endif
