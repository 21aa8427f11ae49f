/*
 * A picture: a descriptor in a file of its own, and the list of all of them.
 *
 * Commands, gallery and tests walk the list (hubphase/report/pictures.h): a new picture is a file
 * with its descriptor and one row in picture_list.c. A picture draws itself in any shape; what a
 * shape asks for stands in look.h.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_H

#include "hubphase/report/pictures.h"
#include "report/picture/canvas.h"
#include "report/picture/look.h"

/* For the pictures: `draw` draws on the canvas and returns the y below everything; canvas NULL: it
 * only measures. The page has the shape's size, or where that is open the height measured; where a
 * page has an end and something had to be left out, the y returned is infinite, and the picture is
 * drawn again in a denser look. */
typedef double (*hp_picture_draw)(const hp_canvas *canvas, const hp_look *look, const void *data);
hp_result hp_picture_put(const hp_picture_target *to, const char *title, hp_picture_draw draw,
                         const void *data, hp_error *err);

extern const hp_picture hp_picture_map;
extern const hp_picture hp_picture_classes;
extern const hp_picture hp_picture_bars;
extern const hp_picture hp_picture_lead_angles;
extern const hp_picture hp_picture_torque_angle;
extern const hp_picture hp_picture_steps;
extern const hp_picture hp_picture_waveforms;
extern const hp_picture hp_picture_beside;
extern const hp_picture hp_picture_lead_angle;
extern const hp_picture hp_picture_joints;
extern const hp_picture hp_picture_connect;
extern const hp_picture hp_picture_plug;
extern const hp_picture hp_picture_fit_curves;
extern const hp_picture hp_picture_fit_heat;
extern const hp_picture hp_picture_spread_map;
extern const hp_picture hp_picture_spread_bands;
extern const hp_picture hp_picture_course;

#endif
