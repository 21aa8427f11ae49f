/*
 * The map of all 36 wirings: verdict by colour and word, torque ripple and battery current in each
 * square; sensor orders down, phase orders across.
 */
#ifndef HUBPHASE_REPORT_FIGURE_MAP_H
#define HUBPHASE_REPORT_FIGURE_MAP_H

#include "hubphase/decide/survey.h"
#include "hubphase/model/labels.h"
#include "report/picture/canvas.h"

/* Errors as hp_canvas_draw. */
hp_result hp_figure_map_draw(const char *path, hp_figure_format format, const hp_survey *survey,
                             const hp_labels *labels, hp_error *err);

#endif
