/*
 * The six steps of the correct wiring as a table: with cells left blank on the sheet, whole among
 * the answers.
 */
#ifndef HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_STEPS_TABLE_H
#define HUBPHASE_SRC_REPORT_HANDOUT_HANDOUT_STEPS_TABLE_H

#include "report/handout/handout_draw.h"
#include "report/handout/handout_page.h"

/* Draws the table from y on; `blank` NULL: nothing is blank. Returns the y below. */
double hp_handout_steps_table(const hp_canvas *canvas, double y, const hp_handout_source *source,
                              bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT]);

#endif
