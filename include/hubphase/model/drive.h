/*
 * The drive: all parts of one machine on the stand, without the wiring that joins them.
 *
 * The battery is an EMF behind a resistance. The stand is a lifted wheel: inertia of rim and tyre,
 * friction of rotor and of wheel, no road. A geared hub turns the rotor `gear_ratio` times a wheel
 * turn; with a one-way clutch the rotor drives the wheel forwards only.
 */
#ifndef HUBPHASE_MODEL_DRIVE_H
#define HUBPHASE_MODEL_DRIVE_H

#include "hubphase/base/result.h"
#include "hubphase/model/controller.h"
#include "hubphase/model/motor.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- supply and stand: what stands on either side -------------------------------------------- */

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

/* ---- the whole ------------------------------------------------------------------------------- */

typedef struct hp_drive {
    hp_motor_params motor;
    hp_sensors_params sensors;
    hp_controller_params controller;
    hp_supply_params supply;
    hp_stand_params stand;
} hp_drive;

/* Every part's default: a middling 36 V direct-drive hub on a lifted wheel. */
hp_drive hp_drive_default(void);
/* Checks every part and the combinations (a clutch needs rotor inertia, the cut-off voltage must
 * lie below the battery's); the error names part and field. */
hp_result hp_drive_check(const hp_drive *drive, hp_error *err);

/* Whether its Hall sensors have their supply and all of them and the phase leads are good. */
bool hp_drive_is_sound(const hp_drive *drive);
/* Duty that the throttle asks for: throttle * speed cap, 0..1. */
double hp_drive_duty(const hp_drive *drive);
/* Smooth no-load speed [rad/s, rotor] that this duty gives a loss-free motor:
 * duty * EMF / (mean over a sector of the line back-EMF per rad/s). For a trapezoid with a flat of
 * at least 120 degrees the divisor is 2 ke; for a sinusoid it is 3/pi * sqrt(3) ke. */
double hp_drive_ideal_speed(const hp_drive *drive);

/* A supply that parks the rotor on one lead against the other two: current [A], and volts that
 * drive it. */
double hp_drive_park_current(const hp_drive *drive);
double hp_drive_park_volts(const hp_drive *drive);
/* The same without such a supply: as many 12 V, 21 W car bulbs, side by side, as make up for it in
 * series with the winding at 12 V, and the current [A] that then flows. At most four. */
int hp_drive_park_bulbs(const hp_drive *drive, double *amperes);
/* Battery current [A] of a motor that is not turning at this throttle, 0..1, once the limiters
 * hold: two leads in series, averaged duty. */
double hp_drive_stalled_battery_a(const hp_drive *drive, double throttle);
/* Volts to which a motor that brakes from its speed at this throttle, 0..1, can pump a supply that
 * takes no current back: all that wheel and rotor hold goes into the controller's capacitors,
 * taken as 1000 uF. Friction and winding keep some of it. Behind a one-way clutch the rotor alone
 * can be braked. */
double hp_drive_pumped_v(const hp_drive *drive, double throttle);

HP_API_END

#endif
