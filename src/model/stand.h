/*
 * The stand's bodies taken together.
 */
#ifndef HUBPHASE_MODEL_STAND_H
#define HUBPHASE_MODEL_STAND_H

#include "hubphase/model/drive.h"

/* Rotor, gear and wheel turning as one, referred to rotor speed. */
double hp_stand_inertia(const hp_stand_params *stand, double rotor_inertia_kg_m2);
hp_friction hp_stand_friction(const hp_stand_params *stand);

#endif
