/*
 * Three unlike drives that tests and benchmark share.
 */
#ifndef HUBPHASE_TESTS_REFERENCE_DRIVES_H
#define HUBPHASE_TESTS_REFERENCE_DRIVES_H

#include "hubphase/model/drive.h"

typedef enum hp_reference_drive {
    HP_DRIVE_DIRECT, /* 36 V, trapezoidal, direct drive, cogging */
    HP_DRIVE_GEARED, /* 48 V, trapezoidal, light rotor behind a gear and a one-way clutch */
    HP_DRIVE_SINE,   /* 24 V, sinusoidal, sensors a few degrees out of place */
    HP_DRIVE_COUNT
} hp_reference_drive;

/* The drive; passes hp_drive_check. Every value is a chosen one. */
hp_drive hp_reference_drive_make(hp_reference_drive which);
/* "direct", "geared", "sine". */
const char *hp_reference_drive_name(hp_reference_drive which);

#endif
