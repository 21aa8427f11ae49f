/*
 * Motion of rotor and wheel: as one body or parted by the clutch, each sticking or slipping.
 *
 * As one: J dw/dt = T_e + T_cog - T_friction - T_load / g, g the gear ratio; parted, one such
 * equation for each body.
 */
#ifndef HUBPHASE_SRC_SIM_MOTION_H
#define HUBPHASE_SRC_SIM_MOTION_H

#include "sim/machine.h"

/* Fills rotor_slope, wheel_slope, through and friction_power from rotor_torque. */
void hp_motion_slopes(const hp_machine *machine, const double *y, hp_instant *instant);
/* Fills the guards of rotor, wheel and clutch. */
void hp_motion_guards(const hp_machine *machine, const double *y, const hp_instant *instant,
                      double *guard);
/* Fills their rates [1/s] along the trajectory with this slope of the state and this rate of the
 * electromagnetic torque [N m/s]. */
void hp_motion_guard_rates(const hp_machine *machine, const double *y, const hp_instant *instant,
                           const double *slope, double torque_rate, double *rate);
/* Decides for the present state who sticks, who slips and whether the clutch holds; puts speeds
 * that have come to rest, or into contact, to the values they then have. */
void hp_motion_settle(hp_machine *machine, double *y, const hp_instant *instant);
/* The same where no torque has a say in it: a rotor that turns, with its wheel. False: elsewhere,
 * and nothing is decided. */
bool hp_motion_settle_turning(hp_machine *machine, double *y);

#endif
