/*
 * The controller's commutation table: sensor code to driven pair of outputs.
 *
 * A code is three bits, U V W as the controller's inputs see them, read as a binary number with U
 * first: code 100 is 4. A row drives one output high and another low, or is off.
 */
#ifndef HUBPHASE_MODEL_COMMUTATION_H
#define HUBPHASE_MODEL_COMMUTATION_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/phase.h"

#include <stdbool.h>

HP_API_BEGIN

#define HP_CODE_COUNT   8
#define HP_SECTOR_COUNT 6

typedef struct hp_commutation_row {
    int high; /* hp_phase of the output driven high, or -1: all outputs off */
    int low;  /* hp_phase of the output driven low, or -1 */
} hp_commutation_row;

typedef struct hp_commutation_table {
    hp_commutation_row row[HP_CODE_COUNT]; /* indexed by code */
} hp_commutation_table;

/* Code from three bits (each 0 or 1). */
static inline int hp_code(int u, int v, int w)
{
    return 4 * u + 2 * v + w;
}

/* The usual table for 120-degree sensors; it leads the rotor by 60 to 120 degrees:
 * 100 V>W, 110 V>U, 010 W>U, 011 W>V, 001 U>V, 101 U>W (high > low). 000 and 111 are off. */
hp_commutation_table hp_commutation_table_120(void);
/* The same outputs for 60-degree sensors (input V inverted): 100 becomes 110 and so on. */
hp_commutation_table hp_commutation_table_60(void);
/* All rows off. */
hp_commutation_table hp_commutation_table_empty(void);

/* Whether this is a true six-step table: exactly six codes driven, no pair twice, no output against
 * itself, the codes form a ring in which neighbours differ in one bit, and going round the ring the
 * pairs step by 60 degrees all in one sense. HP_FAIL_INPUT names the first row that breaks it. */
hp_result hp_commutation_table_check(const hp_commutation_table *table, hp_error *err);

/* The ring of six codes of a true table, starting at the smallest driven code and going round in
 * the sense in which the field U to V to W turns forward. Undefined for other tables. */
void hp_commutation_ring(const hp_commutation_table *table, int ring[HP_SECTOR_COUNT]);

/* Electrical direction [rad, 0..2 pi) of the field of a pair of leads given by axis:
 * angle of axis_high - axis_low. */
double hp_field_angle(int high, int low);

HP_API_END

#endif
