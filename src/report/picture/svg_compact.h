/*
 * Makes PLplot's SVG small enough for a page that holds many pictures, and free of what a strict
 * Content-Security-Policy forbids.
 *
 * Curves lose the points that nobody can see, numbers the digits; attributes that say what holds
 * anyway go, and so does every style attribute. The page sets the letters' family.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_SVG_COMPACT_H
#define HUBPHASE_SRC_REPORT_PICTURE_SVG_COMPACT_H

#include <stddef.h>

/* Rewrites the picture svg[0..size) as an element of an HTML page. No point of a curve moves
 * by more than `tolerance` [units]. Returns text for the caller to free (its length in *length);
 * NULL when memory is short. */
char *hp_svg_compact(const char *svg, size_t size, double tolerance, size_t *length);

#endif
