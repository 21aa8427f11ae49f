/*
 * A page for one picture: format, page size, safe writing.
 *
 * Pictures are drawn in memory; the bytes go into the file only when the picture is whole, under a
 * temporary name that is renamed at the end. So a failure leaves nothing half written, and an older
 * picture of the same name stays. The same input gives the same bytes: a PDF carries a fixed date.
 *
 * PLplot keeps global state, so what it draws is drawn one at a time: calls from several threads
 * wait for each other. A caller's own PLplot streams are left alone; its plsexit and plsabort
 * handlers are not.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_CANVAS_H
#define HUBPHASE_SRC_REPORT_PICTURE_CANVAS_H

#include "hubphase/report/pictures.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct hp_paper {
    double width, height; /* [units]; 16..10000 */
    const char *title;    /* what the file calls itself; plain text, borrowed */
    int count;            /* pages of a PDF, each painted in turn; 0 counts as 1 */
    bool inset;           /* of an SVG: as of hp_picture_target */
} hp_paper;

/* A sheet of A4 upright [units]. */
#define HP_PICTURE_A4_WIDTH  840.0
#define HP_PICTURE_A4_HEIGHT 1188.0

/* The page being drawn on; see pen.h. */
typedef struct hp_canvas {
    double width, height;             /* [units] */
    int number;                       /* of the page, from 0 */
    const struct hp_strokes *strokes; /* what draws, and what it draws on; for the pen alone */
    void *sheet;
} hp_canvas;

/* Draws the page's content. Must not leave by longjmp. */
typedef void (*hp_paint)(const hp_canvas *canvas, const void *data);

/* Opens the page, has it painted, and writes it to `path` (a device or pipe is written straight).
 * HP_FAIL_INPUT: bad page or format; HP_FAIL_IO: the file, named with the cause;
 * HP_FAIL_LIBRARY: a device is not installed, or PLplot or Cairo gave up; HP_FAIL_ABSENT: this
 * build is without them; HP_FAIL_MEMORY. */
hp_result hp_canvas_draw(const char *path, hp_picture_format format, const hp_paper *page,
                         hp_paint paint, const void *data, hp_error *err);

/* The same into memory: *bytes is for the caller to free; both are set on HP_OK only. */
hp_result hp_canvas_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                           const void *data, char **bytes, size_t *size, hp_error *err);

#endif
