/*
 * Pictures for the wiring sheet: which lead goes to which, and the plugs with their pins.
 *
 * Each is a panel that can stand alone as SVG or anywhere on a page. A lead is drawn in its colour
 * where its name says one, and always with its name beside it, so that the picture can be read in
 * black and white.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_SHEET_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_SHEET_H

#include "report/picture/canvas.h"
#include "report/sheet/wiring_sheet.h"

#define HP_SHEET_PANEL 352.0 /* [units] width of every panel */

typedef enum hp_sheet_panel {
    HP_SHEET_PHASES,  /* motor phase leads to controller outputs; battery by the fuse */
    HP_SHEET_SENSORS, /* motor Hall leads to controller inputs, with plus and minus */
    HP_SHEET_PLUGS    /* the first plug; HP_SHEET_PLUGS + k is plug k */
} hp_sheet_panel;

/* How many panels the sheet has: two, and one for each plug. */
int hp_picture_sheet_count(const hp_wiring_sheet *sheet);
/* Height of a panel [units]. */
double hp_picture_sheet_height(const hp_wiring_sheet *sheet, int panel);
/* What a panel shows in words, for readers who cannot see it. Returns out. */
char *hp_picture_sheet_words(const hp_wiring_sheet *sheet, int panel, char *out, size_t size);
/* Draws a panel with its upper left corner there. */
void hp_picture_sheet_paint(const hp_canvas *canvas, double left, double top,
                            const hp_wiring_sheet *sheet, int panel);
/* The panels of joints in one row, the battery by itself, in letters of this size; returns its
 * height. 0: the width does not hold every name. canvas NULL: only measured. */
double hp_picture_sheet_row(const hp_canvas *canvas, double left, double top, double width,
                            double letters, const hp_wiring_sheet *sheet);
/* A panel as SVG for inside an HTML page, for the caller to free. Errors as hp_canvas_render. */
hp_result hp_picture_sheet_svg(const hp_wiring_sheet *sheet, int panel, char **bytes, size_t *size,
                               hp_error *err);

#endif
