/*
 * A wiring: who is joined to whom between motor and controller.
 *
 * Controller sensor input j listens to motor sensor sensor[j]; controller output j feeds motor lead
 * phase[j]. Both are permutations of U, V, W in this one direction, controller to motor.
 *
 * Numbers: 1..36 = 1 + 6 * (sensor order) + (phase order), orders in the sequence
 * 0 UVW, 1 UWV, 2 VUW, 3 VWU, 4 WUV, 5 WVU. Wiring 1 joins like to like.
 */
#ifndef HUBPHASE_MODEL_WIRING_H
#define HUBPHASE_MODEL_WIRING_H

#include "hubphase/base/api.h"
#include "hubphase/model/phase.h"

HP_API_BEGIN

#define HP_ORDER_COUNT  6
#define HP_WIRING_COUNT 36

typedef struct hp_wiring {
    int sensor[HP_PHASE_COUNT]; /* [controller input] = motor sensor */
    int phase[HP_PHASE_COUNT];  /* [controller output] = motor lead */
} hp_wiring;

/* The order with this index 0..5, as the sequence above. */
void hp_order_get(int index, int order[HP_PHASE_COUNT]);
/* Index of a permutation, or -1 when it is not one. */
int hp_order_index(const int order[HP_PHASE_COUNT]);

/* Wiring of a number 1..36 (asserted). */
hp_wiring hp_wiring_from_number(int number);
/* Number of a wiring, or 0 when either part is not a permutation. */
int hp_wiring_number(const hp_wiring *wiring);
/* Row (sensor order) and column (phase order) 0..5 of a number in the 6 x 6 table. */
static inline int hp_wiring_row(int number)
{
    return (number - 1) / HP_ORDER_COUNT;
}
static inline int hp_wiring_column(int number)
{
    return (number - 1) % HP_ORDER_COUNT;
}

HP_API_END

#endif
