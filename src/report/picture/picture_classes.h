/*
 * All 36 wirings on torque ripple against current excess, with the boundary between smooth and
 * rough.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_CLASSES_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_CLASSES_H

#include "hubphase/decide/survey.h"
#include "hubphase/model/labels.h"
#include "report/picture/canvas.h"

/* Both scales are logarithmic. Values without a bound, or far beyond the others, stand at an
 * arrowed edge; those below a thousandth stand at the first value of the scale, which says so.
 * Undecided wirings are listed, not drawn. Errors as hp_canvas_draw. */
hp_result hp_picture_classes_draw(const char *path, hp_picture_format format,
                                  const hp_survey *survey, const hp_thresholds *thresholds,
                                  const hp_labels *labels, hp_error *err);

#endif
