/*
 * Curves of a run over time: what the pictures of waveforms share.
 *
 * A picture is some hundred units wide, a trace may hold many samples more. Each curve is thinned
 * to the least and the greatest value of every bin of half a unit, in their order of time, which
 * looks the same and keeps every spike.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_WAVES_H
#define HUBPHASE_SRC_REPORT_PICTURE_WAVES_H

#include "hubphase/model/labels.h"
#include "hubphase/sim/engine.h"
#include "report/picture/look.h"

typedef enum hp_wave_kind {
    HP_WAVE_CURRENT, /* [A] of each lead */
    HP_WAVE_BACKEMF, /* [V] of each phase */
    HP_WAVE_TORQUE,  /* [N m] */
    HP_WAVE_SPEED,   /* [rev/min] rotor */
    HP_WAVE_COUNT
} hp_wave_kind;

typedef struct hp_waves {
    const hp_trace *trace;   /* borrowed */
    double *time;            /* owned; [ms] or [s], from the first sample */
    double *value;           /* owned; the quantity being drawn */
    double *thin_x, *thin_y; /* owned */
    double until;            /* the last time */
    const char *unit;        /* "ms" or "s" */
} hp_waves;

/* HP_FAIL_INPUT when the trace has fewer than two samples or its time does not advance. */
hp_result hp_waves_make(hp_waves *waves, const hp_trace *trace, hp_error *err);
void hp_waves_free(hp_waves *waves);

const char *hp_wave_title(hp_wave_kind kind); /* "Phase current, A" */
/* Takes every value of the trace into a range. */
void hp_wave_range(const hp_trace *trace, hp_wave_kind kind, double *low, double *high);
/* The curves in axes whose x is the waves' time; curves of leads in the leads' colours. */
void hp_wave_draw(const hp_canvas *canvas, hp_waves *waves, const hp_axes *axes, hp_wave_kind kind,
                  const hp_labels *labels);
/* The three leads with their line styles, in a row from x on; returns the x behind it. */
double hp_wave_legend(const hp_canvas *canvas, const hp_look *look, double x, double y,
                      double width, const hp_labels *labels);

#endif
