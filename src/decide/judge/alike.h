/*
 * Wirings that make the same machine.
 *
 * A table that is unchanged when its inputs are turned by one place (U to V to W) and its outputs
 * by one place, either way round, cannot tell a wiring from the one turned likewise: the same
 * sensors and the same pair of motor leads belong together in both. So one run stands for three
 * wirings, to the last bit. Every true table for 120-degree sensors is like that; one for 60-degree
 * sensors is not.
 */
#ifndef HUBPHASE_SRC_DECIDE_JUDGE_ALIKE_H
#define HUBPHASE_SRC_DECIDE_JUDGE_ALIKE_H

#include "hubphase/model/controller.h"
#include "hubphase/model/wiring.h"

/* For each wiring [number - 1] the smallest number that makes the same machine; its own where none
 * does. Returns how many different ones there are: 12, or 36. */
int hp_alike_numbers(const hp_commutation_table *table, int first[HP_WIRING_COUNT]);

#endif
