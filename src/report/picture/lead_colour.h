/*
 * A lead drawn in the colour that its name says.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_LEAD_COLOUR_H
#define HUBPHASE_SRC_REPORT_PICTURE_LEAD_COLOUR_H

#include "hubphase/model/wiring.h"
#include "report/picture/pen.h"

/* The tints of the colours that a name says, such as "yellow" or "green/white": up to two, in the
 * order of the name. Returns how many; 0 for a name without a colour. */
int hp_lead_tints(const char *name, const char *tint[2]);
/* A lead from one point to another: black edge, the first colour, the second as a stripe. Without a
 * colour it is grey. */
void hp_lead_line(const hp_canvas *canvas, double x0, double y0, double x1, double y1,
                  const char *name);
/* The same with a width of one's own [units]. */
void hp_lead_line_wide(const hp_canvas *canvas, double x0, double y0, double x1, double y1,
                       const char *name, double width);

/* A curve of lead 0..2 in its colour and in a line style of its own, on a dark edge. */
void hp_lead_curve(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                   size_t count, int lead, const char *name);
hp_dash hp_lead_dash(int lead);
/* A short piece of such a curve, for a legend; y is its middle. */
void hp_lead_sample(const hp_canvas *canvas, double x, double y, double length, int lead,
                    const char *name);

#endif
