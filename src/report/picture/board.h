/*
 * A board of leads: a part at the left, what its leads go to at the right, each lead a level line
 * in its own colour with its name at the end. Leads never cross: they stand in the order of their
 * right ends.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_BOARD_H
#define HUBPHASE_SRC_REPORT_PICTURE_BOARD_H

#include "hubphase/model/labels.h"
#include "report/picture/look.h"

#define HP_BOARD_ROWS 16
#define HP_BOARD_TEXT (HP_LABEL_SIZE + 64)

/* How a lead ends. */
typedef enum hp_board_end {
    HP_END_JOINED,   /* a dot */
    HP_END_FREE,     /* a ring: it goes nowhere, its end is kept apart */
    HP_END_RED_CLIP, /* a clip with a lead of the supply or meter in this colour behind it */
    HP_END_BLACK_CLIP,
    HP_END_RED_TIP, /* the meter's tip, likewise */
    HP_END_BLACK_TIP,
    HP_END_COUNT
} hp_board_end;

/* One lead. */
typedef struct hp_board_row {
    char left[HP_BOARD_TEXT];  /* its name at the part; its colours are read from there */
    char right[HP_BOARD_TEXT]; /* the place it goes to; with `joint` the name of another lead */
    bool thick;                /* a phase or battery lead */
    bool joint;                /* two leads meet: the right half has the right name's colours */
    bool fuse, ammeter;        /* in the lead's way */
    hp_board_end end;          /* without a joint */
} hp_board_row;

/* Consecutive rows that go to one thing. */
typedef struct hp_board_group {
    char title[HP_BOARD_TEXT]; /* "Bench supply, off" */
    char note[200];            /* what to set; may be empty */
    int rows;
} hp_board_group;

#define HP_BOARD_GROUPS 6

typedef struct hp_board {
    char part[HP_BOARD_TEXT]; /* "Motor" */
    hp_board_group group[HP_BOARD_GROUPS];
    int groups;
    hp_board_row row[HP_BOARD_ROWS];
    int rows;
    bool short_leads; /* their room goes to what is written at their right ends */
} hp_board;

/* Begins a board; asserts that there is room for what is added. */
hp_board hp_board_begin(const char *part);
void hp_board_group_add(hp_board *board, const char *title, const char *note);
/* Adds a lead to the last group. */
hp_board_row *hp_board_add(hp_board *board, const char *left, const char *right);

/* The least width in which every name of a board with short leads is whole, and no word is broken.
 */
double hp_board_least(const hp_look *look, const hp_board *board);
/* Whether every name of the board fits in this width uncut, and no word is broken. */
bool hp_board_fits(const hp_look *look, double width, const hp_board *board);
/* Draws the board from y on in this width; returns the y below. canvas NULL: only measured. */
double hp_board_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                     double width, const hp_board *board);

#endif
