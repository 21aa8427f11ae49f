/*
 * Lines for a path of an SVG: points on a grid of hundredths of a unit, and what makes curves
 * short.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_SVG_PATH_H
#define HUBPHASE_SRC_REPORT_PICTURE_SVG_PATH_H

#include "report/picture/pen.h"

#include <stdbool.h>
#include <stddef.h>

/* A place on the grid [1/100 unit]. What lies beyond 10 million units is put there. */
int hp_svg_grid(double units);

typedef struct hp_svg_point {
    int x, y;    /* [1/100 unit] */
    bool begins; /* no line leads here */
} hp_svg_point;

/* Zeros: empty. */
typedef struct hp_svg_path {
    hp_svg_point *point; /* owned */
    size_t count, room;
} hp_svg_path;

/* Adds a line of points [units]; one that begins where the last one ended goes on with it. False
 * when memory is short. */
bool hp_svg_path_line(hp_svg_path *path, const double *x, const double *y, size_t count);
/* Adds a curve of the axes' values, all finite, clipped to the box; of its points those are left
 * out that nobody can see, being off by no more than the tolerance [units]. */
bool hp_svg_path_curve(hp_svg_path *path, const hp_axes *axes, const double *x, const double *y,
                       size_t count, double tolerance);
void hp_svg_path_clear(hp_svg_path *path);
void hp_svg_path_free(hp_svg_path *path);

#endif
