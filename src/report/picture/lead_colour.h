/*
 * A lead drawn in the colour that its name says.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_LEAD_COLOUR_H
#define HUBPHASE_SRC_REPORT_PICTURE_LEAD_COLOUR_H

#include "report/picture/pen.h"

/* The tints of the colours that a name says, such as "yellow" or "green/white": up to two, in the
 * order of the name. Returns how many; 0 for a name without a colour. */
int hp_lead_tints(const char *name, const char *tint[2]);
/* A lead from one point to another: black edge, the first colour, the second as a stripe. Without a
 * colour it is grey. */
void hp_lead_line(const hp_canvas *canvas, double x0, double y0, double x1, double y1,
                  const char *name);

#endif
