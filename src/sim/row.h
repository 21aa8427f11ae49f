/*
 * A row of runs: one machine, many rest angles.
 *
 * A run of a row ends as soon as it goes the way of an earlier one (sim/path.h) and then has that
 * one's figures. With real PWM edges each goes on by itself: where in a period a turn ends is never
 * twice the same.
 */
#ifndef HUBPHASE_SRC_SIM_ROW_H
#define HUBPHASE_SRC_SIM_ROW_H

#include "hubphase/sim/engine.h"

/* Another row begins: nothing of earlier runs is known. */
void hp_engine_begin_row(hp_engine *engine);
/* As hp_engine_run. Since the row began all must have been the same but for the rest angle. */
hp_result hp_engine_run_in_row(hp_engine *engine, const hp_drive *drive, const hp_wiring *wiring,
                               const hp_run_options *options, hp_figures *figures, hp_error *err);

#endif
