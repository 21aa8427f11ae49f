/*
 * The motor: star winding, permanent-magnet rotor, three latching sensors of its position.
 *
 * Terminal to star point: v_X = R i_X + L di_X/dt + e_X; the three currents add up to zero because
 * the star point is not brought out. A delta winding is entered as its star equivalent.
 */
#ifndef HUBPHASE_MODEL_MOTOR_H
#define HUBPHASE_MODEL_MOTOR_H

#include "hubphase/base/result.h"
#include "hubphase/model/wiring.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- shape of the back-EMF over electrical angle --------------------------------------------- */

/* e_X = ke * w * f(theta - axis_X), f of unit amplitude and f(x + pi) = -f(x) for the two ideal
 * shapes. Sinusoidal: f = -sin x. Trapezoidal: +1 flat over `flat_rad` centred on x = -90 degrees,
 * -1 flat centred on +90 degrees, straight flanks. Fourier: a finite series, scaled to unit
 * amplitude. */

typedef enum hp_backemf_kind {
    HP_BACKEMF_SINUSOIDAL,
    HP_BACKEMF_TRAPEZOIDAL,
    HP_BACKEMF_FOURIER,
    HP_BACKEMF_KIND_COUNT
} hp_backemf_kind;

/* [ohm] between two leads, more than any hub's winding has: chosen wide, theirs are hundredths to a
 * few ohm. Beyond it a unit was mistaken. */
#define HP_LEADS_MOST_OHM 20.0

#define HP_BACKEMF_HARMONICS 25 /* highest harmonic that a series may have */

typedef struct hp_backemf {
    hp_backemf_kind kind;
    double flat_rad; /* [rad electrical] width of the flat, trapezoidal only; 0 < width < pi */
    int harmonics;   /* Fourier only: highest harmonic used, 1..HP_BACKEMF_HARMONICS */
    /* Fourier only: f(x) = scale * sum_n (cosine[n] cos n x + sine[n] sin n x); index 0 unused.
     * A sinusoidal shape has sine[1] = -1. */
    double cosine[HP_BACKEMF_HARMONICS + 1];
    double sine[HP_BACKEMF_HARMONICS + 1];
    double scale; /* Fourier only: set by hp_backemf_normalise so that max |f| = 1 */
} hp_backemf;

/* Sinusoidal, the shape with nothing to choose. */
hp_backemf hp_backemf_sinusoidal(void);
/* Trapezoidal with this flat width [rad]. */
hp_backemf hp_backemf_trapezoidal(double flat_rad);

/* HP_FAIL_INPUT naming the field when a value is outside the ranges above, not finite, when a
 * series is all zero or not normalised, or when its fundamental is below a hundredth of its largest
 * harmonic (no six-step drive can turn such a motor). */
hp_result hp_backemf_check(const hp_backemf *backemf, hp_error *err);

/* Sets `scale` of a Fourier shape so that its largest magnitude over a turn is 1. */
void hp_backemf_normalise(hp_backemf *backemf);

/* ---- winding and rotor ----------------------------------------------------------------------- */

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

/* ---- sensors --------------------------------------------------------------------------------- */

/* Sensor X is "inside" where the rotor axis lies within 90 degrees of axis_X + placement_X. With a
 * hysteresis half width h it goes inside at 90 - h and outside at 90 + h, whichever way the rotor
 * turns. The output is 1 inside, 0 outside, before inversion and faults. 60-degree placement is the
 * same motor with the middle sensor (V) inverted. */

typedef enum hp_sensor_fault {
    HP_SENSOR_SOUND,
    HP_SENSOR_STUCK_HIGH,
    HP_SENSOR_STUCK_LOW,
    HP_SENSOR_INVERTED,
    HP_SENSOR_FAULT_COUNT
} hp_sensor_fault;

typedef struct hp_sensors_params {
    double placement_rad[HP_PHASE_COUNT]; /* [rad electrical] error of place, forward positive;
                                             |error| <= 30 degrees */
    double hysteresis_rad;                /* [rad electrical] half width; 0..20 degrees */
    bool spacing_60;                      /* true: 60-degree code (sensor V inverted) */
    hp_sensor_fault fault[HP_PHASE_COUNT];
    bool no_supply; /* all outputs read 1: nothing sinks the pull-ups */
} hp_sensors_params;

/* Ideal placement, 120 degrees, hysteresis 2 degrees electrical (chosen), sound. */
hp_sensors_params hp_sensors_params_default(void);
hp_result hp_sensors_params_check(const hp_sensors_params *sensors, hp_error *err);

HP_API_END

#endif
