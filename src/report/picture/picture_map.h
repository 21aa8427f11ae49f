/*
 * The map of all 36 wirings: verdict by colour and word, torque ripple and battery current in each
 * square; sensor orders down, phase orders across.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_MAP_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_MAP_H

#include "hubphase/decide/survey.h"
#include "hubphase/model/labels.h"
#include "report/picture/canvas.h"

/* Errors as hp_canvas_draw. */
hp_result hp_picture_map_draw(const char *path, hp_picture_format format, const hp_survey *survey,
                              const hp_labels *labels, hp_error *err);

#endif
