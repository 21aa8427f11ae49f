/*
 * Which stretch of a run its waveforms show, when nobody said.
 */
#ifndef HUBPHASE_SRC_APP_WAVE_WINDOW_H
#define HUBPHASE_SRC_APP_WAVE_WINDOW_H

#include "hubphase/sim/engine.h"

/* The last electrical turns of a rotor that turns, or the last moment of one that does not [s]. */
void hp_wave_window(const hp_run_options *run, int pole_pairs, const hp_figures *figures,
                    double *from, double *until);

#endif
