/*
 * Which lead goes where: a wiring as boards, motor to controller, in the leads' own colours; with
 * the Hall sensors' plus and minus, the fuse, and the rest of the harness.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_JOINTS_BOARD_H
#define HUBPHASE_SRC_REPORT_PICTURE_JOINTS_BOARD_H

#include "hubphase/model/labels.h"
#include "hubphase/model/wiring.h"
#include "report/picture/board.h"

/* Where the fuse sits. */
extern const char hp_fuse_note[];

/* Groups of a board: motor to controller, phase leads, and Hall leads with their plus and minus. */
void hp_joints_add_phases(hp_board *board, const hp_labels *labels, const hp_wiring *wiring);
void hp_joints_add_halls(hp_board *board, const hp_labels *labels, const hp_wiring *wiring);
/* Motor to controller; wiring NULL: not known yet, the places stay open. */
hp_board hp_joints_board(const hp_labels *labels, const hp_wiring *wiring);
/* Battery or supply by a fuse to the controller, with a note of what to heed; and with a meter for
 * the current. */
hp_board hp_power_board(const char *source, const char *note, bool ammeter);
/* The same of a machine that has none: what is drawn is what is there. */
void hp_power_board_without_fuse(hp_board *board);
/* Draws the parts of the harness and their leads, a line each; returns the y below. canvas NULL:
 * only measured. */
double hp_harness_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                       double width, const hp_harness *harness);

/* All of it as a panel that can stand on a page of others, such as the wiring sheet. */
double hp_joints_panel_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                            double width, const hp_labels *labels, const hp_wiring *wiring,
                            const hp_harness *harness);

#endif
