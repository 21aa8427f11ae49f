/*
 * Did a guard dip below zero and come back within one step? The integrator's root finder compares
 * the ends of a step only; this looks between them.
 *
 * A cubic through values and rates at both ends of the step says where each guard is least; where
 * that comes near zero, the state there is asked for and looked at.
 */
#ifndef HUBPHASE_SIM_DIP_H
#define HUBPHASE_SIM_DIP_H

#include "machine.h"

typedef struct hp_dip {
    double time;
    double guard[HP_GUARD_COUNT];
    double rate[HP_GUARD_COUNT]; /* [1/s] along the trajectory */
} hp_dip;

/* Guards and their rates at a state. */
void hp_dip_take(hp_dip *dip, const hp_machine *machine, double t, const double *y,
                 const hp_instant *instant);

/* Time at which guard k is least between two such points, if it falls, rises again, and may pass
 * below zero on the way; else NAN. */
double hp_dip_least(const hp_dip *from, const hp_dip *to, int k);

/* Shortest time in which one of the guards first .. last would reach zero at its present rate;
 * INFINITY: none falls. */
double hp_dip_time(const hp_dip *dip, int first, int last);

#endif
