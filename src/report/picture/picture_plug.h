/*
 * A plug with both its halves, each as one sees it who looks into its face with the key mark at the
 * top. The one is the mirror image of the other: mistaking them is the commonest slip here.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_PLUG_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_PLUG_H

#include "hubphase/decide/evidence.h"
#include "hubphase/model/labels.h"
#include "model/plug.h"
#include "report/picture/canvas.h"

/* A pin that has a place, in the face of either half. */
typedef struct hp_plug_pin {
    char lead[HP_LABEL_SIZE + 16];    /* "phase yellow" */
    hp_pin_place face[HP_HALF_COUNT]; /* of HP_HALF_MOTOR and HP_HALF_CONTROLLER */
} hp_plug_pin;

typedef struct hp_plug_view {
    int pins;
    hp_plug_pin pin[HP_PLUG_LEAD_COUNT];
    int rows, columns; /* of a square plug; 0: none */
    bool round;        /* some pin sits in a round one */
} hp_plug_view;

/* "phase yellow", "Hall minus": a lead of the motor's plug. Returns out. */
char *hp_plug_lead_words(const hp_labels *labels, int lead, char *out, size_t size);
/* False, and an empty view, where no pin has a place. */
bool hp_plug_view_make(const hp_plug_map *plug, const hp_labels *labels, hp_plug_view *view);

/* Height that the drawing takes [units] with letters of this size, at this width: 24 times that of
 * the letters at least. */
double hp_plug_view_height(const hp_plug_view *view, double letters, double width);
/* Draws both halves, and below them each pin with its places, with the upper left corner there. */
void hp_plug_view_paint(const hp_canvas *canvas, double left, double top, double letters,
                        double width, const hp_plug_view *view);

/* The two parts of it alone: the halves with the words above them, and the table. Each draws on a
 * canvas (NULL: nothing), and returns the height that it takes. */
double hp_plug_halves_put(const hp_canvas *canvas, double left, double top, double letters,
                          double width, const hp_plug_view *view);
double hp_plug_table_put(const hp_canvas *canvas, double left, double top, double letters,
                         double width, const hp_plug_view *view);

#endif
