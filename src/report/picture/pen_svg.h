/*
 * The pen's strokes as SVG, on the page that canvas_svg.c has opened.
 *
 * No library is beneath and nothing is kept but what hp_svg_pen holds, so that pages can be drawn
 * side by side. Numbers have two decimals at most, whatever the locale.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PEN_SVG_H
#define HUBPHASE_SRC_REPORT_PICTURE_PEN_SVG_H

#include "report/picture/strokes.h"
#include "report/picture/svg_path.h"

/* How a line looks. */
typedef struct hp_svg_look {
    unsigned char rgb[3];
    int width; /* in hundredths of a unit */
    hp_dash dash;
} hp_svg_look;

/* What is written, and the lines that wait to become one path with those that look alike. */
typedef struct hp_svg_pen {
    char *text; /* owned; ends in a zero once something was written */
    size_t size, room;
    double tolerance; /* [units] no point of a curve moves by more */
    unsigned char rgb[HP_INK_COUNT][3];
    hp_svg_look look; /* of the waiting path */
    hp_svg_path path; /* empty: none is waiting */
    bool failed;      /* memory was short: what is written is not whole */
} hp_svg_pen;

/* An hp_canvas with these has its hp_svg_pen as `sheet`. */
extern const hp_strokes hp_svg_strokes;

hp_svg_pen hp_svg_pen_begin(double tolerance);
/* Writes the waiting path. */
void hp_svg_pen_flush(hp_svg_pen *pen);
void hp_svg_pen_free(hp_svg_pen *pen);

/* Adds text as it is. */
void hp_svg_put(hp_svg_pen *pen, const char *text);
/* Adds clean text as XML. */
void hp_svg_put_escaped(hp_svg_pen *pen, const char *text);

#endif
