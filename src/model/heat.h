/*
 * Heat in a hub, in closed form: two nodes under steady losses.
 *
 *   C_c dT_c/dt = P_20 (1 + a (T_c - 20)) - (T_c - T_h) / R_ch
 *   C_h dT_h/dt = P_h + (T_c - T_h) / R_ch - (T_h - T_air) / R_ha
 *
 * P_20 is what a given current makes in the winding at 20 C and a the copper's coefficient: a
 * hotter winding makes more heat of the same current, and past some current there is no steady
 * temperature any more. All is linear in the temperatures, so nothing is stepped.
 */
#ifndef HUBPHASE_SRC_MODEL_HEAT_H
#define HUBPHASE_SRC_MODEL_HEAT_H

#include "hubphase/model/vehicle.h"

#include <stdbool.h>

/* Specific heats [J/(kg K)] at room temperature: 384 and 447 in Carvill, Mechanical Engineer's Data
 * Handbook, 3.4.4 (read). */
#define HP_COPPER_J_PER_KG_K 385.0
#define HP_IRON_J_PER_KG_K   450.0

typedef struct hp_heat_state {
    double copper_c; /* [C] */
    double hub_c;
} hp_heat_state;

/* Losses of a steady running: they hold as long as the current does. */
typedef struct hp_heat_loss {
    double copper_w; /* [W] in the winding as if at 20 C; >= 0 */
    double
        copper_per_k; /* [1/K] resistance coefficient of the winding at 20 C; 0: constant power */
    double hub_w;     /* [W] made in the hub: iron, bearings, gear; >= 0 */
} hp_heat_loss;

/* Both nodes as warm as the air. */
hp_heat_state hp_heat_cold(const hp_heat_params *heat);
/* Temperatures after this time [s] >= 0. A run-away gives very large values, but finite ones. */
hp_heat_state hp_heat_after(const hp_heat_params *heat, const hp_heat_loss *loss,
                            hp_heat_state from, double seconds);
/* Temperatures at which it comes to rest. False when it never does, because the hotter winding
 * makes more heat than it can give away; *state is left alone then. */
bool hp_heat_steady(const hp_heat_params *heat, const hp_heat_loss *loss, hp_heat_state *state);
/* Seconds until the copper first is this hot: 0 when it is already, INFINITY when it never is. */
double hp_heat_time_to(const hp_heat_params *heat, const hp_heat_loss *loss, hp_heat_state from,
                       double copper_c);
/* Largest steady copper loss, as if at 20 C, that never takes the copper above this temperature; 0
 * when the hub's own losses do so already. */
double hp_heat_lasting_w(const hp_heat_params *heat, double copper_per_k, double hub_w,
                         double copper_c);

/* What is usual of a hub with this gear ratio. */
hp_heat_params hp_heat_params_usual(double gear_ratio);

#endif
