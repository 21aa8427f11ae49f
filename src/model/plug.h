/*
 * Where a pin sits in its plug, as a person sees it who holds one half with the key mark at the top
 * and looks into its face.
 *
 * In a round plug a pin has an hour, or an angle clockwise from the key mark, and a ring; in a
 * square one a row and a column, counted from the upper left. The face of the other half is the
 * mirror image: left and right change places, and nothing else.
 */
#ifndef HUBPHASE_MODEL_PLUG_H
#define HUBPHASE_MODEL_PLUG_H

#include <stdbool.h>
#include <stddef.h>

typedef enum hp_ring {
    HP_RING_OUTER, /* also where there is only one */
    HP_RING_INNER,
    HP_RING_CENTRE, /* one pin: its angle is 0 */
    HP_RING_COUNT
} hp_ring;

typedef enum hp_place_kind {
    HP_PLACE_NONE,  /* no place: a name of its own */
    HP_PLACE_ROUND, /* angle_deg, ring */
    HP_PLACE_GRID,  /* row, column */
    HP_PLACE_KIND_COUNT
} hp_place_kind;

#define HP_PLUG_ROWS_MAX    6
#define HP_PLUG_COLUMNS_MAX 12

typedef struct hp_pin_place {
    hp_place_kind kind;
    int angle_deg; /* 0..359 clockwise from the key mark; 30 is an hour */
    hp_ring ring;
    int row;    /* 1..HP_PLUG_ROWS_MAX from the top */
    int column; /* 1..HP_PLUG_COLUMNS_MAX from the left */
} hp_pin_place;

/* The place that a text names: "3 o'clock outer", "1:30 o'clock", "90 degrees inner", "centre",
 * "row 1 column 2", and shorter "3h", "90 deg", "r1 c2", in any case, with commas or without. A
 * text that names none, such as "3" or "B2", is a name: HP_PLACE_NONE. */
hp_pin_place hp_pin_place_read(const char *text);
/* Whether a text is meant for a place but names none: "14 o'clock", "row 1". */
bool hp_pin_place_is_broken(const char *text);
/* A place in words, which read back as the same place; empty for HP_PLACE_NONE. Returns out. */
#define HP_PLACE_WORDS 40
char *hp_pin_place_words(const hp_pin_place *place, char out[HP_PLACE_WORDS]);
bool hp_pin_place_same(const hp_pin_place *a, const hp_pin_place *b);
/* The same pin in the face of the other half; `columns`: of a square plug. Twice is the place
 * itself. */
hp_pin_place hp_pin_place_mirror(const hp_pin_place *place, int columns);

#endif
