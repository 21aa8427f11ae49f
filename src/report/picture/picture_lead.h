/*
 * Lead of the field over the rotor: one dial for each wiring, or one large dial for one wiring.
 *
 * Geometry alone, from table, sensors and wiring. The verdicts that may stand beside it come from
 * the simulation and are drawn as given.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_LEAD_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_LEAD_H

#include "hubphase/decide/survey.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "report/picture/canvas.h"

/* All 36; survey may be NULL: dials without verdicts. Errors as hp_canvas_draw. */
hp_result hp_picture_lead_draw(const char *path, hp_picture_format format, const hp_drive *drive,
                               const hp_survey *survey, const hp_labels *labels, hp_error *err);

/* One wiring; judgement may be NULL. */
hp_result hp_picture_lead_wiring_draw(const char *path, hp_picture_format format,
                                      const hp_drive *drive, const hp_wiring *wiring,
                                      const hp_judgement *judgement, const hp_labels *labels,
                                      hp_error *err);
/* The same as SVG in memory: *svg is for the caller to free, set on HP_OK only. */
hp_result hp_picture_lead_wiring_render(const hp_drive *drive, const hp_wiring *wiring,
                                        const hp_judgement *judgement, const hp_labels *labels,
                                        char **svg, size_t *size, hp_error *err);

#endif
