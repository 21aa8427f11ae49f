/*
 * A dial of lead angles: the rotor points to the right, arcs show where the field stands against
 * it.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_DIAL_H
#define HUBPHASE_SRC_REPORT_PICTURE_DIAL_H

#include "hubphase/model/motor.h"
#include "model/lead.h"
#include "report/picture/look.h"

typedef struct hp_dial {
    double x, y;  /* [units] centre */
    double inner; /* [units] radius where the first sector's arc begins */
    double outer; /* [units] radius of the dial */
    double gap;   /* [units] between arcs */
} hp_dial;

extern const hp_ink hp_dial_forward;  /* where the field pulls the rotor forwards */
extern const hp_ink hp_dial_backward; /* ... backwards */

/* Ground: the zones of full pull (60 to 120 degrees either way), circle and level line. */
void hp_dial_ground(const hp_canvas *canvas, const hp_dial *dial);
/* One arc a sector, from the inside outward in order of the rotor's angle; empty where the pair has
 * an open lead. */
void hp_dial_arcs(const hp_canvas *canvas, const hp_dial *dial, const hp_lead_sector *sector,
                  int count);
/* What inks and zone mean, a row each; `open`: and what an empty arc means. Returns the y below. */
double hp_dial_key(const hp_canvas *canvas, const hp_look *look, double x, double y, bool open);
/* Radius of the middle of a sector's arc. */
double hp_dial_radius(const hp_dial *dial, int sector, int count);

#endif
