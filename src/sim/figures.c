/* Figures of one run: see the header. */
#include "hubphase/sim/figures.h"

#include <math.h>

double hp_figures_excess(const hp_figures *figures)
{
    return figures->friction_power > 0.0 ? figures->battery_power / figures->friction_power
                                         : (double)INFINITY;
}

double hp_figures_speed_asked(const hp_figures *figures)
{
    double speed = fabs(figures->speed);
    return figures->duty > 0.0 && figures->duty_asked > 0.0
               ? speed * figures->duty_asked / figures->duty
               : speed;
}

double hp_figures_ripple(const hp_figures *figures)
{
    double mean = fabs(figures->torque_mean);
    return mean > 0.0 ? figures->torque_rms / mean : (double)INFINITY;
}
