/*
 * Waveforms of one run: phase currents, back-EMF, torque, speed, sensor code over the trace's time.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_WAVEFORMS_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_WAVEFORMS_H

#include "hubphase/model/labels.h"
#include "hubphase/sim/trace.h"
#include "report/picture/canvas.h"

/* `title` names the run, such as "Wiring 5, rough"; plain text. HP_FAIL_INPUT when the trace has
 * fewer than two samples or its time does not advance; else as hp_canvas_draw. */
hp_result hp_picture_waveforms_draw(const char *path, hp_picture_format format,
                                    const hp_trace *trace, const hp_labels *labels,
                                    const char *title, hp_error *err);
/* The same as SVG in memory: *svg is for the caller to free, set on HP_OK only. */
hp_result hp_picture_waveforms_render(const hp_trace *trace, const hp_labels *labels,
                                      const char *title, char **svg, size_t *size, hp_error *err);

#endif
