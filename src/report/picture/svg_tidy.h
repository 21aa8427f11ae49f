/*
 * Makes PLplot's SVG readable and smaller: characters instead of numeric references, one element a
 * line, a title, and a size that shrinks to the reader's screen.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_SVG_TIDY_H
#define HUBPHASE_SRC_REPORT_PICTURE_SVG_TIDY_H

#include <stddef.h>

/* Rewrites svg[0..size) of a page of width x height units. `title` is plain text, escaped here.
 * Returns text for the caller to free (its length in *length), NULL when memory is short. */
char *hp_svg_tidy(const char *svg, size_t size, double width, double height, const char *title,
                  size_t *length);

#endif
