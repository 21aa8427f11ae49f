/* Figures of one run: see the header. */
#include "hubphase/sim/figures.h"

#include <math.h>

double hp_figures_excess(const hp_figures *figures)
{
    if (!(figures->friction_power > 0.0))
        return (double)INFINITY;
    /* What winding and diodes do not turn into heat moves the machine. Figures that do not state
     * the losses (no current flows without any) are taken as steady. */
    double lost = figures->copper_power + figures->diode_power;
    double moving = lost > 0.0 ? figures->battery_power - lost : figures->friction_power;
    return moving > 0.0 ? figures->battery_power / moving : (double)INFINITY;
}

double hp_figures_idle(const hp_figures *figures)
{
    double able = figures->torque_able;
    if (!(able > 0.0))
        return 1.0;
    double mean = figures->torque_mean / able, about = figures->torque_rms / able;
    return sqrt(fmax(0.0, 1.0 - mean * mean - about * about));
}

double hp_figures_waste(const hp_figures *figures)
{
    double idle = hp_figures_idle(figures);
    return hp_figures_excess(figures) * idle * idle;
}

double hp_figures_alternation(const hp_figures *figures)
{
    return figures->torque_able > 0.0 ? figures->torque_rms / figures->torque_able : 0.0;
}

double hp_figures_ripple(const hp_figures *figures)
{
    double mean = fabs(figures->torque_mean);
    return mean > 0.0 ? figures->torque_rms / mean : (double)INFINITY;
}
