/*
 * Lead of the field over the rotor: one dial for each wiring, or one large dial for one wiring.
 *
 * Geometry alone, from table, sensors and wiring. The verdicts that may stand beside it come from
 * the simulation and are drawn as given.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_LEAD_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_LEAD_H

#include "report/picture/canvas.h"

/* hp_picture_lead_wiring_draw as SVG in memory: *svg is for the caller to free, set on HP_OK only.
 */
hp_result hp_picture_lead_wiring_render(const hp_drive *drive, const hp_wiring *wiring,
                                        const hp_judgement *judgement, const hp_labels *labels,
                                        char **svg, size_t *size, hp_error *err);

#endif
