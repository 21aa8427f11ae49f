/*
 * The drive: all parts of one machine on the stand, without the wiring that joins them.
 */
#ifndef HUBPHASE_MODEL_DRIVE_H
#define HUBPHASE_MODEL_DRIVE_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/controller.h"
#include "hubphase/model/motor.h"
#include "hubphase/model/sensors.h"
#include "hubphase/model/stand.h"
#include "hubphase/model/wiring.h"

HP_API_BEGIN

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

/* How fast [1/s] a lead's current settles through winding, switches and battery, and how fast
 * friction that grows with speed (viscous, or smoothed about rest) brings the lightest body to
 * rest. hp_drive_check allows up to HP_RATE_MAX: a run beyond would take millions of steps a
 * second. */
#define HP_RATE_MAX 2.5e6
double hp_drive_current_rate(const hp_drive *drive);
double hp_drive_friction_rate(const hp_drive *drive);

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

HP_API_END

#endif
