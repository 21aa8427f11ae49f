/*
 * The shapes in which a picture can be drawn, and the sizes that go with each.
 *
 * Phone: 650 units across, as high as need be; on a screen of 390 pixels no letter is smaller than
 * 12. Wall: 16 to 9, the words beside the drawing; no letter is smaller than 1/40 of the height.
 * A4: a sheet upright, words below the drawing; a unit is a quarter of a millimetre, and no letter
 * is smaller than 9 points.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_LOOK_H
#define HUBPHASE_SRC_REPORT_PICTURE_LOOK_H

#include "hubphase/report/pictures.h"
#include "report/picture/pen.h"

typedef struct hp_look {
    hp_shape shape;
    double width;
    double height; /* [units] 0: as high as need be */
    double margin;
    double small; /* [units] the smallest letters used */
    double body;  /* words */
    double title;
    double gap; /* between drawing and words, and between columns */
} hp_look;

const hp_look *hp_look_of(hp_shape shape);
/* The same with words in the smallest letters, for a page that cannot hold them otherwise. */
hp_look hp_look_dense(hp_shape shape);

/* Type of these letters. */
hp_type hp_look_small(const hp_look *look, hp_ink ink, hp_align align, bool bold);
hp_type hp_look_body(const hp_look *look, hp_ink ink, hp_align align, bool bold);
/* Height of a line of these letters. */
double hp_look_line(double letters);

/* Where drawing and words stand. */
typedef struct hp_room {
    hp_box plot;
    hp_box words;
} hp_room;

/* Below `top`: on the wall the drawing takes `share` of the width, and the words stand beside it;
 * else it takes the whole width and `plot_height`, and the words stand below. */
hp_room hp_look_room(const hp_look *look, double top, double plot_height, double share);

/* Words put one below another into a box. Where the page has an end, what would pass it is left
 * out, and all after it: what matters most comes first. */
typedef struct hp_flow {
    const hp_canvas *canvas; /* NULL: only measured */
    const hp_look *look;
    double left, width;
    double y;      /* where the next piece begins */
    double bottom; /* INFINITY: no end */
    bool full;     /* something was left out */
} hp_flow;

hp_flow hp_flow_begin(const hp_canvas *canvas, const hp_look *look, hp_box box);
/* Room for a piece of this height? If not, the flow is full from here on. */
bool hp_flow_fits(hp_flow *flow, double height);
void hp_flow_paragraph(hp_flow *flow, const char *text);
void hp_flow_bold(hp_flow *flow, const char *text);
void hp_flow_space(hp_flow *flow, double height);

#endif
