/*
 * What the figures have in common: colours and words of the verdicts, headings, captions, short
 * numbers.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_PARTS_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_PARTS_H

#include "hubphase/decide/verdict.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/wiring.h"
#include "report/picture/pen.h"

#define HP_PICTURE_MARGIN 20.0 /* [units] left and right of everything */
#define HP_PICTURE_SMALL  18.0 /* smallest letters used */
#define HP_PICTURE_BODY   20.0 /* captions */

hp_ink hp_verdict_ink(hp_verdict verdict);      /* strong colour */
hp_ink hp_verdict_text_ink(hp_verdict verdict); /* black or white, whichever reads better on it */
hp_ink hp_verdict_tint(hp_verdict verdict);     /* ground that black text reads well on */

/* Box in the verdict's colour with its word, and for a rough wiring an arrow for the way it turns
 * (both arrows: from some rest angles one way, from others the other). */
void hp_verdict_badge(const hp_canvas *canvas, hp_box box, double size, hp_verdict verdict,
                      hp_direction direction);

/* Heading in bold and, below it, a line in plain letters (may be empty). Returns the y below. */
double hp_picture_heading(const hp_canvas *canvas, const char *title, const char *subtitle);
/* Height that the heading takes. */
double hp_picture_heading_height(const char *title, const char *subtitle);

/* Paragraphs across the page from y on; returns the y below. canvas NULL: nothing is drawn. */
double hp_picture_caption(const hp_canvas *canvas, double y, const char *const *paragraph,
                          int count);
/* The cautions, marked as such; returns the y below. canvas NULL: nothing is drawn. */
double hp_picture_cautions(const hp_canvas *canvas, double y);

/* "0.11x", "43x" with a true multiplication sign, ">99x" above that, "no bound" where it is
 * infinite, "?" for NAN. */
char *hp_picture_times(double ratio, char *out, size_t size);
/* "0.82", "3.4", "12", "410": two or three figures; "no bound", "?" likewise. */
char *hp_picture_short(double value, char *out, size_t size);

/* An angle in radians as "60" with a degree sign, and "60 to 0" with two; a true minus sign. */
char *hp_picture_degrees(double angle, char *out, size_t size);
char *hp_picture_degrees_range(double from, double to, char *out, size_t size);

/* A lead's name for a figure: the label, or its letter where the label is empty. */
const char *hp_picture_label(const char *label, int phase);

/* The same for a narrow place: the letter also where the three labels, cut to fit, could be taken
 * for one another. */
const char *hp_picture_label_fit(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead,
                                 hp_type type, double width);
/* A driven pair, "yellow + / blue -" with a true minus sign; by letters where that does not fit. */
char *hp_picture_pair(const hp_labels *labels, int high, int low, hp_type type, double width,
                      char *out, size_t size);

/* The 6 x 6 grid: sensor orders down, phase orders across. */
typedef struct hp_grid {
    double top;    /* [units] where its head begins */
    double cell_w; /* [units] */
    double cell_h;
} hp_grid;

/* Grid as wide as the page, with this cell height. */
hp_grid hp_grid_make(double top, double cell_height);
/* Draws the heads: which motor lead is at each output and which sensor at each input. */
void hp_grid_heads(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels);
/* Below the grid: which of the controller's own leads are its outputs and inputs U, V, W; nothing
 * where the scenario gives them no names. Returns the y below. canvas NULL: nothing is drawn. */
double hp_grid_note(const hp_canvas *canvas, double y, const hp_labels *labels);
/* Cell of a wiring 1..36. */
hp_box hp_grid_cell(const hp_grid *grid, int number);
/* y below the last row. */
double hp_grid_bottom(const hp_grid *grid);

#endif
