/*
 * Images of a drive whose motion follows from the original's by renaming, mirroring or scaling.
 */
#ifndef HUBPHASE_TESTS_DRIVE_IMAGES_H
#define HUBPHASE_TESTS_DRIVE_IMAGES_H

#include "hubphase/model/drive.h"

/* Motor leads and sensors renamed: what was phase k becomes name[k]. By a rotation U to V to W the
 * rotor's angle moves on by 120 degrees. */
hp_drive image_rename_motor(const hp_drive *drive, const int name[HP_PHASE_COUNT]);
/* The same renaming in a wiring's number. */
int image_rename_wiring(int number, const int name[HP_PHASE_COUNT]);
/* Inputs and outputs of the controller renamed together: under a rotation the usual table is its
 * own image, so that nothing at all changes. */
int image_rename_controller(int number, const int name[HP_PHASE_COUNT]);
/* In a mirror: V and W change places, angles and speeds change sign. Not for a one-way clutch, not
 * for 60-degree sensors. The wiring is renamed by the exchange of V and W. */
hp_drive image_mirror(const hp_drive *drive);
/* All voltages, currents, torques and speeds times k, all times over k: L and J over k, dry
 * friction, cogging, limits and drops times k; resistance, ke and viscous friction stay. */
hp_drive image_scale(const hp_drive *drive, double k);

#endif
