/*
 * Supply and stand: what stands on either side of the drive.
 *
 * The battery is an EMF behind a resistance. The stand is a lifted wheel: inertia of rim and tyre,
 * friction of rotor and of wheel, no road. A geared hub turns the rotor `gear_ratio` times a wheel
 * turn; with a one-way clutch the rotor drives the wheel forwards only.
 */
#ifndef HUBPHASE_MODEL_STAND_H
#define HUBPHASE_MODEL_STAND_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"

#include <stdbool.h>

HP_API_BEGIN

typedef struct hp_supply_params {
    double emf_v;          /* open-circuit voltage; > 0, <= 200 */
    double resistance_ohm; /* battery and its leads; 0..100 */
} hp_supply_params;

/* Friction of one body: Coulomb with a breakaway level above it, plus viscous. */
typedef struct hp_friction {
    double coulomb_nm;       /* while turning; 0..1000 */
    double breakaway_nm;     /* at rest; >= coulomb_nm, <= 1000 */
    double viscous_nm_s_rad; /* [N m s/rad]; 0..100 */
} hp_friction;

typedef struct hp_stand_params {
    double wheel_inertia_kg_m2; /* about the axle, at wheel speed; > 0, <= 1000 */
    double gear_ratio;          /* rotor turns per wheel turn; 1..100; 1 for direct drive */
    bool clutch;                /* one-way clutch between rotor (through the gear) and wheel */
    hp_friction rotor;          /* at rotor speed */
    hp_friction wheel;          /* at wheel speed */
    double load_nm;             /* steady torque on the wheel against forward; -1000..1000 */
    double smooth_rad_s; /* 0: true sticking; > 0, <= 1000: Coulomb law smoothed as tanh(w / this)
                            at each body's speed, no sticking (to compare with other tools) */
} hp_stand_params;

hp_supply_params hp_supply_params_default(void);
hp_result hp_supply_params_check(const hp_supply_params *supply, hp_error *err);
hp_stand_params hp_stand_params_default(void);
hp_result hp_stand_params_check(const hp_stand_params *stand, hp_error *err);
/* Gives rotor and wheel the friction that is usual behind this gear and clutch: reasons in the
 * source. The default is that of a direct-drive hub. */
void hp_stand_usual_friction(hp_stand_params *stand);

/* Rotor, gear and wheel turning as one, referred to rotor speed. */
double hp_stand_inertia(const hp_stand_params *stand, double rotor_inertia_kg_m2);
hp_friction hp_stand_friction(const hp_stand_params *stand);

HP_API_END

#endif
