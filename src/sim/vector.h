/*
 * The state vector handed to SUNDIALS: a fixed number of doubles with the few operations that
 * ARKODE calls, inlined over that number.
 *
 * Only the first HP_STATE_DYNAMIC entries count in the error norm: the rest are integrals that ride
 * along (charge, energies, squares), whose error follows from the state's. Sums of fewer than
 * HP_STEP_VECTORS vectors leave them out.
 */
#ifndef HUBPHASE_SRC_SIM_VECTOR_H
#define HUBPHASE_SRC_SIM_VECTOR_H

#include <stdbool.h>
#include <sundials/sundials_nvector.h>

enum hp_state_index {
    HP_Y_CURRENT = 0, /* [A] three leads */
    HP_Y_SPEED = 3,   /* [rad/s] rotor */
    HP_Y_WHEEL,       /* [rad/s] wheel */
    HP_Y_THETA,       /* [rad electrical] within (-2 pi, 2 pi) */
    HP_Y_DUTY,
    HP_Y_BATTERY_FILTER, /* [A] */
    HP_Y_PHASE_FILTER,   /* [A] */
    HP_STATE_DYNAMIC,
    HP_Q_CHARGE = HP_STATE_DYNAMIC, /* integral of battery current */
    HP_Q_BUS,                       /* of bus voltage times battery current */
    HP_Q_TORQUE,
    HP_Q_TORQUE_SQUARE,
    HP_Q_SPEED,
    HP_Q_SPEED_SQUARE,
    HP_Q_WHEEL,
    HP_Q_CURRENT_SQUARE,                     /* three leads */
    HP_Q_FRICTION = HP_Q_CURRENT_SQUARE + 3, /* of the power that friction and load take */
    HP_Q_COPPER,
    HP_Q_DIODE,
    HP_Q_VOLTAGE,
    HP_Q_DUTY,
    HP_STATE_COUNT
};

/* Vectors that are made ahead. SUNDIALS 6 clones some while it makes an integrator and follows the
 * pointer of one that there was no memory for; so none is allocated then. Those that it destroys
 * come back. Must stay where it is as long as vectors of it are out. */
#define HP_VECTOR_STOCK 24 /* an integrator has 15, and the state is one */

typedef struct hp_vector_stock {
    N_Vector spare[HP_VECTOR_STOCK]; /* owned */
    int count;                       /* of spare ones */
} hp_vector_stock;

/* Fills a zeroed stock; false when out of memory. */
bool hp_vector_stock_fill(hp_vector_stock *stock, SUNContext context);
/* Frees the spare ones, which all are when integrator and state are gone. */
void hp_vector_stock_free(hp_vector_stock *stock);
/* A vector of HP_STATE_COUNT zeros; NULL when none is left. Give it back with N_VDestroy; clones of
 * it come from the stock, too. */
N_Vector hp_vector_take(hp_vector_stock *stock);

/* Vectors in the sum that ends a step of a six-stage method: its slopes and the state before. */
#define HP_STEP_VECTORS 7

/* The vector's entries; borrowed. */
static inline double *hp_vector_data(N_Vector vector)
{
    return vector->content;
}

#endif
