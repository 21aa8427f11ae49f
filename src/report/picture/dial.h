/*
 * A dial of lead angles: the rotor points to the right, arcs show where the field stands against
 * it.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_DIAL_H
#define HUBPHASE_SRC_REPORT_PICTURE_DIAL_H

#include "model/lead.h"
#include "report/picture/pen.h"

typedef struct hp_dial {
    double x, y;  /* [units] centre */
    double inner; /* [units] radius where the first sector's arc begins */
    double outer; /* [units] radius of the dial */
    double gap;   /* [units] between arcs */
} hp_dial;

extern const hp_ink hp_dial_forward;  /* where the field pulls the rotor forward */
extern const hp_ink hp_dial_backward; /* ... backward */

/* Ground: the zones of full pull (60 to 120 degrees either way), circle and level line. */
void hp_dial_ground(const hp_canvas *canvas, const hp_dial *dial);
/* One arc a sector, from the inside outward in order of the rotor's angle. */
void hp_dial_arcs(const hp_canvas *canvas, const hp_dial *dial, const hp_lead_sector *sector,
                  int count);
/* What inks and zone mean, in three words one step apart from each other. */
void hp_dial_key(const hp_canvas *canvas, double x, double y, double step_x, double step_y);
/* Radius of the middle of a sector's arc. */
double hp_dial_radius(const hp_dial *dial, int sector, int count);

#endif
