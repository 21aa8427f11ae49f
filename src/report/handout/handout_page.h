/*
 * What the pages of all hand-outs share: head, foot, text, lines to write on, names of leads.
 *
 * Everything is drawn on A4, a unit being a quarter of a millimetre, with letters of 9 points at
 * least, and can be read in grey: a lead's colour never stands without its name.
 */
#ifndef HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_PAGE_H
#define HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_PAGE_H

#include "model/lead.h"
#include "report/handout/handout.h"
#include "report/picture/pen.h"

#define HP_HANDOUT_LEFT   44.0
#define HP_HANDOUT_RIGHT  (HP_PICTURE_A4_WIDTH - HP_HANDOUT_LEFT)
#define HP_HANDOUT_WIDTH  (HP_HANDOUT_RIGHT - HP_HANDOUT_LEFT)
#define HP_HANDOUT_TEXT   (HP_HANDOUT_WIDTH - 10.0) /* of text: letters may come out wider */
#define HP_HANDOUT_TOP    38.0
#define HP_HANDOUT_BOTTOM (HP_PICTURE_A4_HEIGHT - 50.0)
#define HP_HANDOUT_BODY   15.0
#define HP_HANDOUT_SMALL  12.75 /* 9 points: none is smaller */

hp_type hp_handout_body(bool bold);
hp_type hp_handout_small(hp_align align, bool bold);

/* Title, machine, group and seed; with `names` a line for the names of the group. Returns the y
 * below. */
double hp_handout_head(const hp_canvas *canvas, const hp_handout_job *job, bool names);
void hp_handout_foot(const hp_canvas *canvas, const hp_handout_job *job);

/* Down the pages of a hand-out that takes several: what falls on another page than the one drawn is
 * only measured, so that pages are counted with the calls that draw them. */
typedef struct hp_handout_flow {
    const hp_canvas *canvas; /* NULL: only counted */
    const hp_handout_job *job;
    int page;
    double y;
} hp_handout_flow;

/* Below the head of the first page. */
hp_handout_flow hp_handout_flow_begin(const hp_canvas *canvas, const hp_handout_job *job);
void hp_handout_flow_page(hp_handout_flow *f);
/* Goes to the next page where this height has no room. Returns what to draw on; NULL: nothing. */
const hp_canvas *hp_handout_flow_room(hp_handout_flow *f, double height);
/* A paragraph with a gap below it; nothing where there is no text. */
void hp_handout_flow_say(hp_handout_flow *f, double indent, double gap, hp_type type,
                         const char *text);

/* Text across the page; returns the y below. */
double hp_handout_say(const hp_canvas *canvas, double y, hp_type type, const char *text);
/* A frame around a title and text, across the page. */
double hp_handout_boxed(const hp_canvas *canvas, double y, const char *title, const char *text);
/* A square to tick, with what it means behind it; its middle at y. */
void hp_handout_tick(const hp_canvas *canvas, double x, double y, const char *text);

/* A lead of three: its colour as a short line, and its name below it; its letter where cut names
 * could be taken for one another; the middle at y. */
void hp_handout_lead(const hp_canvas *canvas, double x, double y, double width,
                     const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead);

/* Which letter is which of the motor's phase leads, one below the other: a piece of line in the
 * lead's colour and in a style of its own, which is left in grey, letter and name. Nothing where no
 * lead has a name. Returns the y below. */
double hp_handout_legend(const hp_canvas *canvas, double x, double y, double width,
                         const hp_labels *labels);
/* The piece of line alone; its middle at x and y. */
void hp_handout_swatch(const hp_canvas *canvas, double x, double y, const hp_labels *labels,
                       int lead);

/* The wiring that the sheets call correct. */
int hp_handout_given(const hp_handout_source *source);
/* The sectors of a wiring; their number. */
int hp_handout_sectors(const hp_handout_source *source, int number,
                       hp_lead_sector sector[HP_LEAD_SECTOR_MAX]);
/* "V+ U-" and "110". */
char *hp_handout_pair(const hp_lead_sector *sector, char *out, size_t size);
char *hp_handout_code(const hp_lead_sector *sector, char *out, size_t size);

#endif
