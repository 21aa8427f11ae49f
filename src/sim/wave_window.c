/* Which stretch of a run its waveforms show: see engine.h. */
#include "hubphase/sim/engine.h"

#include "hubphase/model/wiring.h"

#include <math.h>

/* Chosen to be readable. */
#define WINDOW_TURNS   3.0
#define WINDOW_STILL_S 0.2
#define WINDOW_LEAST_S 0.005

void hp_wave_window(const hp_run_options *run, int pole_pairs, const hp_figures *figures,
                    double *from, double *until)
{
    double turns_per_s = pole_pairs * fabs(figures->speed) / HP_TWO_PI;
    double length = turns_per_s > 0.0 && figures->window_turns > 0 ? WINDOW_TURNS / turns_per_s
                                                                   : WINDOW_STILL_S;
    length = fmin(fmax(length, WINDOW_LEAST_S), run->seconds);
    *from = run->seconds - length;
    *until = run->seconds;
}
