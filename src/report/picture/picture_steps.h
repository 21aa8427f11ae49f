/*
 * The six steps of the commutation table: at each, the rotor's sector, the sensor code, the driven
 * pair and the field it makes.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_STEPS_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_STEPS_H

#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/wiring.h"
#include "report/picture/canvas.h"

/* Steps of the rotor turning forward, with this wiring between motor and controller; wiring 1 joins
 * like to like and shows the table as it was meant. Errors as hp_canvas_draw. */
hp_result hp_picture_steps_draw(const char *path, hp_picture_format format, const hp_drive *drive,
                                const hp_wiring *wiring, const hp_labels *labels, hp_error *err);

#endif
