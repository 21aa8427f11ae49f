/*
 * What the pictures have in common: colours and words of the verdicts, headings, cautions, short
 * numbers, the 6 x 6 grid.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_PARTS_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_PARTS_H

#include "hubphase/decide/verdict.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/wiring.h"
#include "hubphase/report/pictures.h"
#include "report/picture/look.h"

hp_ink hp_verdict_ink(hp_verdict verdict);      /* strong colour */
hp_ink hp_verdict_text_ink(hp_verdict verdict); /* black or white, whichever reads better on it */
hp_ink hp_verdict_tint(hp_verdict verdict);     /* ground that black text reads well on */

/* Box in the verdict's colour with its word, and for a rough wiring an arrow for the way it turns
 * (both arrows: from some start positions one way, from others the other). The word is never cut:
 * where it does not fit, "undecided" becomes "?", and the arrows go. */
void hp_verdict_badge(const hp_canvas *canvas, hp_box box, double size, hp_verdict verdict,
                      hp_direction direction);
/* The same across the head of a low square, with the wiring's number at its left. */
void hp_verdict_band(const hp_canvas *canvas, const hp_look *look, hp_box band, int number,
                     hp_verdict verdict, hp_direction direction);
/* "rough, too early"; the kind is left out where it is none. Returns out. */
char *hp_verdict_words(const hp_judgement *judgement, char *out, size_t size);

/* A tick in a square of this size with its middle at x, y. */
void hp_tick_draw(const hp_canvas *canvas, double x, double y, double size, hp_ink ink);

/* Says which kinds of wiring a machine lacks, of those that every machine with good parts has, and
 * what is meant by the other kind where it has that. */
void hp_flow_missing(hp_flow *flow, const bool has[HP_EXAMPLE_COUNT]);

/* Heading in bold and, below it, a line in plain letters (may be empty). Returns the y below. */
double hp_picture_heading(const hp_canvas *canvas, const hp_look *look, const char *title,
                          const char *subtitle);
/* The height below everything of a flow, with the margin; infinite where something is left out. */
double hp_picture_end(const hp_look *look, const hp_flow *flow);
/* That verdicts go by the scenario's order alone, where the leads' names are only names. */
void hp_flow_only_names(hp_flow *flow, const hp_picture_subject *subject);
/* The cautions in a frame, marked as such. */
void hp_flow_cautions(hp_flow *flow);
/* A row for every verdict of which there are some: how many, word, meaning (may be NULL). */
void hp_flow_verdicts(hp_flow *flow, const int count[HP_VERDICT_COUNT],
                      const char *const meaning[HP_VERDICT_COUNT]);

/* "0.11x", "43x" with a true multiplication sign, ">99x" above that, "no bound" where it is
 * infinite, "?" for NAN. */
char *hp_picture_times(double ratio, char *out, size_t size);
/* "0.82", "3.4", "12", "410": two or three figures, a true minus sign; "no bound", "?" likewise. */
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
    const hp_look *look;
    double left, right;
    double top;  /* [units] where its head begins */
    double stub; /* left of the cells */
    double head; /* above them */
    double cell_w;
    double cell_h;
} hp_grid;

/* Grid in this width with this cell height; or, when `bottom` is finite, cells as high as fit. The
 * room left of it follows the motor's Hall leads' names, in bounds. */
hp_grid hp_grid_make(const hp_look *look, const hp_labels *labels, double left, double right,
                     double top, double bottom, double cell_height);
/* Draws the heads: which motor lead is at each output and which Hall lead at each input. */
void hp_grid_heads(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels);
/* Which of the controller's own leads are its outputs and inputs U, V, W; nothing where the
 * scenario gives them no names. */
void hp_flow_grid_note(hp_flow *flow, const hp_labels *labels);
/* Where grid and words stand, as hp_look_room; on the wall what must not be left out has been drawn
 * across the foot of the page: the grid's note and, where asked for, the cautions. */
hp_room hp_grid_room(const hp_canvas *canvas, const hp_look *look, double top, double share,
                     const hp_labels *labels, bool cautions);
/* Cell of a wiring 1..36. */
hp_box hp_grid_cell(const hp_grid *grid, int number);
/* y below the last row. */
double hp_grid_bottom(const hp_grid *grid);

/* How a curve is drawn: told from the others of its plot without colour. */
typedef struct hp_curve_style {
    hp_ink ink;
    hp_dash dash;
    double width; /* [units] */
} hp_curve_style;

/* A curve of at least two points. */
void hp_curve_put(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                  size_t count, hp_curve_style style);
/* A piece of it as a legend shows it, from `left`, about height y. */
void hp_curve_sample(const hp_canvas *canvas, double left, double y, double width,
                     hp_curve_style style);
/* Row of a legend: the piece, what it is; left out where it does not fit. */
void hp_curve_row(hp_flow *flow, hp_curve_style style, const char *text);

/* Of the torque of an example. */
hp_curve_style hp_example_style(hp_example_kind kind);

#endif
