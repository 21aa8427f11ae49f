/*
 * How fast a drive's quickest quantities move: what a run's steps must follow.
 */
#ifndef HUBPHASE_MODEL_DRIVE_RATE_H
#define HUBPHASE_MODEL_DRIVE_RATE_H

#include "hubphase/model/drive.h"

/* How fast [1/s] a lead's current settles through winding, switches and battery, and how fast
 * friction that grows with speed (viscous, or smoothed about rest) brings the lightest body to
 * rest. hp_drive_check allows up to HP_RATE_MAX: a run beyond would take millions of steps a
 * second. */
#define HP_RATE_MAX 2.5e6
double hp_drive_current_rate(const hp_drive *drive);
double hp_drive_friction_rate(const hp_drive *drive);

#endif
