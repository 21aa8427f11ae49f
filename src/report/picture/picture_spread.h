/*
 * Pictures of a spread: the map of all 36 wirings with the share of each verdict, and the bands of
 * the figures for each likeliest outcome.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_SPREAD_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_SPREAD_H

#include "hubphase/decide/spread.h"
#include "hubphase/model/labels.h"
#include "report/picture/canvas.h"

/* In each square the likeliest verdict and a bar of the shares. Errors as hp_canvas_draw. */
hp_result hp_picture_spread_map_draw(const char *path, hp_picture_format format,
                                     const hp_spread *spread, const hp_labels *labels,
                                     hp_error *err);

/* A panel for each figure, in it a line from 5 to 95 % of the motors for each group of wirings,
 * with a mark at the middle; scales of currents, ripple and excess are logarithmic. */
hp_result hp_picture_spread_bands_draw(const char *path, hp_picture_format format,
                                       const hp_spread *spread, const hp_labels *labels,
                                       hp_error *err);

#endif
