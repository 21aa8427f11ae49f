/*
 * What is said of a figure: how likely a current or a speed that was read is, given what a record
 * and a bench make of it, and given what was read of the same thing before.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_FIGURE_SAID_H
#define HUBPHASE_SRC_DECIDE_READING_FIGURE_SAID_H

#include "decide/reading/weigh.h"
#include "hubphase/decide/assumptions.h"

/* A figure that was said, and what was said of it before. */
typedef struct hp_said_figure {
    double value, log_value, meter; /* meter: relative error there */
    double zero;                    /* error near zero; 0: none */
    double worthless;               /* density of a reading that can be anything */
    double stretch;                 /* of the scale on which densities are taken, at the value */
    double earlier[HP_EARLIER_MAX]; /* logarithms, the newest first */
    int count;
    double misread;   /* how often an earlier one was, whatever is asked of this one */
    double came_back; /* density of this value when an earlier one was a fact; 0: none was */
} hp_said_figure;

/* Nothing said before. `meter` is a relative error, `zero` the error near zero (0: none),
 * `worthless` the density of a reading that can be anything. */
hp_said_figure hp_figure_said(double value, double meter, double zero, double worthless);
/* One more earlier reading, the next older; at most HP_EARLIER_MAX. */
void hp_figure_add_earlier(hp_said_figure *figure, double value);
/* Works out `came_back`, once all earlier readings are there. */
void hp_figure_find_return(hp_said_figure *figure);

/* Density of what was said, when the true value is `value`, or its logarithm, within the relative
 * deviation `kernel`. A current over asinh(current / zero error): linear near zero, logarithmic far
 * from it; a worthless one may be anything up to 100 A on that scale. A speed over its logarithm; a
 * worthless one lies within e^3 either way. */
double hp_current_density(const hp_person *person, const hp_said_figure *figure, double value,
                          double kernel);
double hp_speed_density(const hp_person *person, const hp_said_figure *figure, double log_value,
                        double kernel);
double hp_current_worthless(const hp_person *person);
#define HP_SPEED_WORTHLESS (1.0 / 6.0)

double hp_normal_density(double x, double deviation);

#endif
