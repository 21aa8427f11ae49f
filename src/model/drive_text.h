/*
 * A drive as exact text, one line a part: what is worked out of it belongs to these bytes.
 */
#ifndef HUBPHASE_SRC_MODEL_DRIVE_TEXT_H
#define HUBPHASE_SRC_MODEL_DRIVE_TEXT_H

#include "hubphase/model/drive.h"

#include <stdio.h>

/* "name 1 0.25\n", each number with all of its digits. */
void hp_put_numbers(FILE *out, const char *name, const double *value, int count);
void hp_put_number(FILE *out, const char *name, double value);

/* All that a drive has but its faults, the kind of its sensors and its table. */
void hp_drive_put_sound(FILE *out, const hp_drive *drive);
/* All that it has. */
void hp_drive_put(FILE *out, const hp_drive *drive);

#endif
