/*
 * What a canvas is drawn with: a table of a few strokes, one table for each way to make a page.
 * The pen makes every drawing of these, so that pictures know nothing of what is beneath.
 *
 * pen_plplot.c and canvas_plplot.c draw PNG and PDF with PLplot; pen_svg.c and canvas_svg.c write
 * SVG themselves. A build without PLplot leaves out the files that end in _plplot.c and defines
 * HP_WITHOUT_PLPLOT.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_STROKES_H
#define HUBPHASE_SRC_REPORT_PICTURE_STROKES_H

#include "report/picture/pen.h"

/* Red, green, blue of each ink. The eight strong colours are those of Okabe & Ito, Color Universal
 * Design, 2008 (memory), told apart by people with any common form of colour blindness; the tints
 * are the same colours mixed with white; the last two are mixed as they
 * are wanted. */
static const unsigned char ink_rgb[HP_INK_COUNT][3] = {
    [HP_INK_WHITE] = {255, 255, 255},
    [HP_INK_BLACK] = {0, 0, 0},
    [HP_INK_ORANGE] = {230, 159, 0},
    [HP_INK_SKY] = {86, 180, 233},
    [HP_INK_GREEN] = {0, 158, 115},
    [HP_INK_YELLOW] = {240, 228, 66},
    [HP_INK_BLUE] = {0, 114, 178},
    [HP_INK_VERMILION] = {213, 94, 0},
    [HP_INK_PURPLE] = {204, 121, 167},
    [HP_INK_DARK] = {64, 64, 64},
    [HP_INK_GREY] = {110, 110, 110},
    [HP_INK_RULE] = {190, 190, 190},
    [HP_INK_PALE] = {232, 232, 232},
    [HP_INK_PALE_GREEN] = {217, 240, 233},
    [HP_INK_PALE_BLUE] = {214, 232, 243},
    [HP_INK_PALE_ORANGE] = {252, 241, 214},
    [HP_INK_PALE_VERMILION] = {249, 226, 210},
    [HP_INK_LEAD] = {232, 232, 232},
    [HP_INK_STRIPE] = {232, 232, 232},
};

/* Most points of a line or an area. */
#define HP_STROKE_POINTS 512

/* Dashes [micrometres of PLplot]: mark and space in turn, once or twice; no mark: solid. Round ends
 * lengthen a mark by the width of its line, up to 4.4 units: a space is nearly twice that. */
static const int dash_micrometres[HP_DASH_COUNT][4] = {
    [HP_DASH_LONG] = {4000, 2800},
    [HP_DASH_SHORT] = {300, 2500},
    [HP_DASH_MIXED] = {3600, 2500, 300, 2500},
};
/* What PLplot makes of them, measured on pages of the three shapes: 333 to 351 to a unit. */
#define HP_DASH_MICROMETRES_A_UNIT 345.0

/* Places as in pen.h. Nothing is told of a failure: what draws remembers it until the page ends. */
typedef struct hp_strokes {
    /* Gives HP_INK_LEAD or HP_INK_STRIPE this colour, for what is drawn next. */
    void (*mix)(const hp_canvas *canvas, hp_ink ink, const unsigned char rgb[3]);
    /* 2..HP_STROKE_POINTS points. */
    void (*line)(const hp_canvas *canvas, const double *x, const double *y, int count, hp_ink ink,
                 double width);
    /* A filled polygon of 3..HP_STROKE_POINTS corners, without an outline. */
    void (*area)(const hp_canvas *canvas, const double *x, const double *y, int count, hp_ink ink);
    /* Clean text (hp_pen_clean), not empty. */
    void (*text)(const hp_canvas *canvas, double x, double y, hp_type type, const char *text);
    /* Finite values of the axes, 2 at least, clipped to the box. */
    void (*curve)(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                  size_t count, hp_ink ink, double width, hp_dash dash);
} hp_strokes;

/* Copies text as hp_text_clean does, without the characters that XML lacks. Returns out. */
char *hp_pen_clean(const char *text, char *out, size_t size);

/* The ways to make a page: as hp_canvas_render, for a page that was looked over. PLplot makes PNG
 * and PDF. */
hp_result hp_plplot_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                           const void *data, char **bytes, size_t *size, hp_error *err);
hp_result hp_svg_render(const hp_paper *page, hp_paint paint, const void *data, char **bytes,
                        size_t *size, hp_error *err);

#endif
