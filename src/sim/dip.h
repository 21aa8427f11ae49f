/*
 * Guards and their rates at a state, and whether a guard may have dipped below zero and come back
 * between two of them: a cubic through values and rates says where it is least.
 */
#ifndef HUBPHASE_SRC_SIM_DIP_H
#define HUBPHASE_SRC_SIM_DIP_H

#include "sim/machine.h"

typedef struct hp_dip {
    double time;
    double guard[HP_GUARD_COUNT];
    double rate[HP_GUARD_COUNT]; /* [1/s] along the trajectory */
    double torque, torque_rate;  /* electromagnetic; [N m], [N m/s] */
} hp_dip;

/* Guards and their rates at a state whose slope is known; only the dynamic entries are read. */
void hp_dip_take(hp_dip *dip, const hp_machine *machine, double t, const double *y,
                 const double *slope, const hp_instant *instant);

/* Where the cubic through two values and rates, `length` apart, has its least value between them,
 * 0..1; NAN: it has none. *least is that value. */
double hp_dip_turn(double from, double from_rate, double to, double to_rate, double length,
                   double *least);

/* Time at which guard k is least between two such points, if it falls, rises again, and may pass
 * below zero on the way; else NAN. */
double hp_dip_least(const hp_dip *from, const hp_dip *to, int k);

/* Shortest time in which one of the guards first .. last would reach zero at its present rate;
 * INFINITY: none falls. */
double hp_dip_time(const hp_dip *dip, int first, int last);

#endif
