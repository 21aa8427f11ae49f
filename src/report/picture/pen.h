/*
 * Drawing on a canvas: inks, lines, shapes, text, axes.
 *
 * Places are in units of the page, x to the right from the left edge, y DOWN from the top edge;
 * angles are in radians, counter-clockwise from the right as in a school book. Text is plain UTF-8:
 * nothing in it is markup, neither to PLplot nor to SVG. All calls belong inside an hp_paint, but
 * for those with canvas NULL: they draw nothing, so that a drawing can be measured by drawing it.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PEN_H
#define HUBPHASE_SRC_REPORT_PICTURE_PEN_H

#include "report/picture/canvas.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum hp_ink {
    HP_INK_WHITE, /* the ground */
    HP_INK_BLACK,
    HP_INK_ORANGE,
    HP_INK_SKY,
    HP_INK_GREEN,
    HP_INK_YELLOW,
    HP_INK_BLUE,
    HP_INK_VERMILION,
    HP_INK_PURPLE,
    HP_INK_DARK, /* text that matters less than black */
    HP_INK_GREY, /* axes and side remarks; still dark enough to read */
    HP_INK_RULE, /* grid lines */
    HP_INK_PALE, /* shading */
    HP_INK_PALE_GREEN,
    HP_INK_PALE_BLUE,
    HP_INK_PALE_ORANGE,
    HP_INK_PALE_VERMILION,
    HP_INK_LEAD, /* hp_pen_mix says what these two are */
    HP_INK_STRIPE,
    HP_INK_COUNT
} hp_ink;

typedef enum hp_dash {
    HP_DASH_SOLID,
    HP_DASH_LONG,
    HP_DASH_SHORT,
    HP_DASH_MIXED, /* long and short in turn */
    HP_DASH_COUNT
} hp_dash;
typedef enum hp_align { HP_ALIGN_LEFT, HP_ALIGN_CENTRE, HP_ALIGN_RIGHT } hp_align;

typedef struct hp_box {
    double left, top, right, bottom; /* [units] */
} hp_box;

/* Text style; a plain initialiser {size} is black, upright, from the left. */
typedef struct hp_type {
    double size; /* [units] height of the letters from descender to ascender, about */
    hp_ink ink;
    hp_align align;
    bool bold;
} hp_type;

/* Mixes HP_INK_LEAD or HP_INK_STRIPE for what is drawn next; `tint` as of lead_tint.h, "#f2d100".
 */
void hp_pen_mix(const hp_canvas *canvas, hp_ink ink, const char *tint);

/* Shapes. `width` of a line in units; 0 for the outline of a fill: none. */
void hp_pen_line(const hp_canvas *canvas, double x0, double y0, double x1, double y1, hp_ink ink,
                 double width);
/* A level line of dots to write on. */
void hp_pen_dots(const hp_canvas *canvas, double x0, double x1, double y);
void hp_pen_arrow(const hp_canvas *canvas, double x0, double y0, double x1, double y1, hp_ink ink,
                  double width);
void hp_pen_polygon(const hp_canvas *canvas, const double *x, const double *y, int count,
                    hp_ink ink);
void hp_pen_fill(const hp_canvas *canvas, hp_box box, hp_ink ink);
void hp_pen_frame(const hp_canvas *canvas, hp_box box, hp_ink ink, double width);
/* Slanted lines over a box, so that a class can be told without colour. */
void hp_pen_hatch(const hp_canvas *canvas, hp_box box, hp_ink ink, double spacing);
void hp_pen_disc(const hp_canvas *canvas, double x, double y, double radius, hp_ink ink);
/* Line along a circle from one angle to another, either way round. */
void hp_pen_arc(const hp_canvas *canvas, double x, double y, double radius, double from, double to,
                hp_ink ink, double width);
/* Area between two radii and two angles. */
void hp_pen_ring(const hp_canvas *canvas, double x, double y, double inner, double outer,
                 double from, double to, hp_ink ink);

/* Text with its middle height at y. */
void hp_pen_text(const hp_canvas *canvas, double x, double y, hp_type type, const char *text);
/* The same made to fit into `width`: smaller, down to 3/4 of the size but not below 14 units, then
 * cut with an ellipsis.
 */
void hp_pen_text_fit(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                     const char *text);
/* What hp_pen_text_fit would draw: makes type->size smaller where needed and puts the text, cut or
 * whole, into out[size], size at least 16. Returns out. */
char *hp_pen_fit(hp_type *type, double width, const char *text, char *out, size_t size);
/* The same without making it smaller: only cut. */
void hp_pen_text_cut(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                     const char *text);
char *hp_pen_cut(hp_type type, double width, const char *text, char *out, size_t size);
/* Text broken into lines of at most `width`; y is the top of the first, and the y below the last is
 * returned. */
double hp_pen_paragraph(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                        const char *text);
/* Height that hp_pen_paragraph takes. */
double hp_pen_paragraph_height(double width, hp_type type, const char *text);
/* Width of cleaned text, in a wide sans-serif font; others are narrower. */
double hp_pen_text_width(hp_type type, const char *text);

/* A plot inside the page. */
typedef struct hp_axes {
    hp_box box;
    double x_min, x_max, y_min, y_max; /* at left, right, bottom, top */
} hp_axes;

/* A curve in the axes' values, clipped to the box; values that are not finite leave a gap. */
void hp_pen_curve(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                  size_t count, hp_ink ink, double width, hp_dash dash);
/* Page coordinates of a value. */
double hp_axes_x(const hp_axes *axes, double x);
double hp_axes_y(const hp_axes *axes, double y);

#endif
