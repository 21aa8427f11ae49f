/*
 * Waveforms of one run: phase currents, back-EMF, torque, speed, sensor code over the trace's time.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_WAVEFORMS_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_WAVEFORMS_H

#include "report/picture/canvas.h"

/* hp_picture_waveforms_draw as SVG in memory: *svg is for the caller to free, set on HP_OK only. */
hp_result hp_picture_waveforms_render(const hp_trace *trace, const hp_labels *labels,
                                      const char *title, char **svg, size_t *size, hp_error *err);

#endif
