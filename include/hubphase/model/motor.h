/*
 * The motor: star winding, permanent-magnet rotor.
 *
 * Terminal to star point: v_X = R i_X + L di_X/dt + e_X; the three currents add up to zero because
 * the star point is not brought out. A delta winding is entered as its star equivalent.
 */
#ifndef HUBPHASE_MODEL_MOTOR_H
#define HUBPHASE_MODEL_MOTOR_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/backemf.h"
#include "hubphase/model/phase.h"

#include <stdbool.h>

HP_API_BEGIN

typedef struct hp_motor_params {
    int pole_pairs;        /* 1..100; electrical angle = pole_pairs * rotor angle */
    double resistance_ohm; /* one phase to star point at 20 C; > 0, <= 1000 */
    double inductance_h;   /* one phase, self minus mutual; > 0, <= 1 */
    double ke;           /* [V s/rad] back-EMF amplitude per phase over ROTOR speed; > 0, <= 1000 */
    hp_backemf backemf;  /* shape */
    double winding_c;    /* [C] copper temperature; -40..200 */
    double copper_per_k; /* [1/K] resistance coefficient at 20 C; 0..0.01; 0.00393 (IEC 60028) */
    double rotor_inertia_kg_m2;     /* turns at rotor speed; > 0 for a clutch, else >= 0; <= 100 */
    double cogging_nm;              /* amplitude of T_cog = A sin(order theta + phase); 0..1000 */
    int cogging_order;              /* periods per electrical turn, commonly 6; 1..1000 */
    double cogging_phase_rad;       /* [rad] -1e6..1e6 */
    bool lead_open[HP_PHASE_COUNT]; /* fault: this motor lead is broken */
} hp_motor_params;

/* A middling 36 V direct-drive hub; every value is a chosen one, typical of the trade. */
hp_motor_params hp_motor_params_default(void);

/* HP_FAIL_INPUT naming the field and the limit it breaks, else HP_OK. */
hp_result hp_motor_params_check(const hp_motor_params *motor, hp_error *err);

/* Phase resistance at the winding's temperature [ohm]: R20 (1 + copper_per_k (T - 20)). */
double hp_motor_resistance(const hp_motor_params *motor);

/* Cogging torque [N m] at electrical angle theta [rad]; its mean over a turn is zero. */
double hp_motor_cogging(const hp_motor_params *motor, double theta);

HP_API_END

#endif
