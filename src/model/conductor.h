/*
 * Copper leads: gauge, resistance, voltage lost, current that they bear, warming.
 */
#ifndef HUBPHASE_SRC_MODEL_CONDUCTOR_H
#define HUBPHASE_SRC_MODEL_CONDUCTOR_H

#include "hubphase/model/vehicle.h"

/* American wire gauge, d = 92^((36 - n) / 39) / 200 inch (ASTM B258, as GNU Units gives it). 0 is
 * 1/0, -1 is 2/0 and so on. Area in mm2. */
double hp_gauge_area_mm2(double gauge);
double hp_gauge_of_area(double area_mm2);
/* Resistance of a metre [ohm] at 20 C of copper with 58 S m/mm2. */
double hp_conductor_ohm_per_m(double area_mm2);
/* The same at another temperature, by this coefficient [1/K] at 20 C. */
double hp_conductor_hot(double ohm, double copper_per_k, double temperature_c);
/* Current [A] that a single insulated conductor bears for long in free air of this temperature:
 * from a table of free-air ampacities (AWG 14 to 8 at 30 C), by a power of the area between and
 * beyond its rows, by the root of the warming allowed for other air. 0 where the air is as hot as
 * the insulation bears. */
double hp_conductor_ampacity(double area_mm2, hp_insulation insulation, double air_c);
/* [C] that the insulation bears. */
double hp_insulation_c(hp_insulation insulation);
/* Kelvin above the air at this current: the table's warming times the square of the share. */
double hp_conductor_warming(double amperes, double ampacity_a, hp_insulation insulation,
                            double air_c);

#endif
