/*
 * Broken parts: troubles (hypothesis.h) taken together where they mean the same part.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_TROUBLE_H
#define HUBPHASE_SRC_DECIDE_ADVISE_TROUBLE_H

#include "decide/advise/hypothesis.h"

/* Broken parts: troubles that differ only in the level at which a sensor is stuck are one part.
 * Twelve a misfit: sound, three sensors, three leads, clutch, silent, cutting out, loose lead,
 * unlisted. */
#define HP_PARTS_EACH 12
#define HP_PART_COUNT (HP_MISFITS * HP_PARTS_EACH)
#define HP_PART_SOUND 0
int hp_part_of(int trouble);

/* The single thing that is likeliest to be wrong, whatever else is: a fault with any inversion, or
 * a misfit with any fault. part[]: probability of each part, any scale. Returns the largest
 * probability; *which (may be NULL) gets its part, the other thing left out. */
double hp_part_likeliest(const double part[HP_PART_COUNT], int *which);

#endif
