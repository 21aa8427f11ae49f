/*
 * Going round a commutation table, and where the field of a pair of leads stands.
 */
#ifndef HUBPHASE_MODEL_COMMUTATION_H
#define HUBPHASE_MODEL_COMMUTATION_H

#include "hubphase/model/controller.h"

/* The ring of six codes of a true table, starting at the smallest driven code and going round in
 * the sense in which the field U to V to W turns forward. Undefined for other tables. */
void hp_commutation_ring(const hp_commutation_table *table, int ring[HP_SECTOR_COUNT]);

/* Electrical direction [rad, 0..2 pi) of the field of a pair of leads given by axis:
 * angle of axis_high - axis_low. */
double hp_field_angle(int high, int low);

#endif
