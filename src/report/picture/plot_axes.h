/*
 * Scales of a plot: frame, grid, numbers at round values, and ranges that begin at zero.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PLOT_AXES_H
#define HUBPHASE_SRC_REPORT_PICTURE_PLOT_AXES_H

#include "report/picture/look.h"

/* Distance between round values, 1, 2 or 5 times a power of ten, so that about `wanted` of them lie
 * in a range. */
double hp_tick_step(double range, double wanted);

/* Takes `value` into a range; what is not finite is left out. */
void hp_range_take(double value, double *low, double *high);
/* A range that holds zero, with a little room beyond; of nothing: -1 to 1. */
void hp_range_round(double *low, double *high);

/* Frame, grid lines of y, numbers left of it, and a stronger line at zero. */
void hp_axes_draw_y(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes);
/* Grid and numbers left out: frame and zero line alone. */
void hp_axes_draw_frame(const hp_canvas *canvas, const hp_axes *axes);
/* Numbers of x below the box; returns the y below them. */
double hp_axes_draw_x(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes);
/* The same with a step of one's own. */
double hp_axes_draw_x_step(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes,
                           double step);
/* A value of a scale with round steps: "0.5", "-20" with a true minus sign. Returns out. */
char *hp_tick_text(double value, double step, char *out, size_t size);

#endif
