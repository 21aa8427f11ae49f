/*
 * What is said of a figure: see the header.
 *
 * A normal law about what the record and the bench make together, the meter's error and the
 * ensemble's coarseness added in squares, with a small share of worthless readings that can be
 * anything.
 */
#include "decide/reading/figure_said.h"

#include <math.h>

hp_said_figure hp_figure_said(double value, double meter, double zero, double worthless)
{
    return (hp_said_figure){.value = value,
                            .log_value = log(fmax(value, 1e-9)),
                            .meter = meter,
                            .zero = zero,
                            .worthless = worthless,
                            .stretch = zero > 0.0 ? hypot(value, zero) : 1.0};
}

void hp_figure_add_earlier(hp_said_figure *f, double value)
{
    f->earlier[f->count++] = log(fmax(value, 1e-9));
}

double hp_normal_density(double x, double deviation)
{
    double z = x / deviation;
    return exp(-0.5 * z * z) / (deviation * sqrt(2.0 * HP_PI));
}

/* The specimen at the bench is none of the ensemble's motors: it departs from the nearest one by a
 * factor of its own, of which the kernel is the prior. Readings said earlier of the same thing show
 * that factor. Mean and deviation of its logarithm after them, by the rule for normal laws; a
 * reading that would need more than four kernels was worthless and is passed over. */
typedef struct offset {
    double mean;
    double deviation;
} offset;

static offset offset_after(const double *log_said, int count, double log_value, double kernel,
                           double meter)
{
    double sum = 0.0, used = 0.0;
    for (int k = 0; k < count; k++) {
        double log_ratio = log_said[k] - log_value;
        if (fabs(log_ratio) > 4.0 * kernel)
            continue;
        sum += log_ratio;
        used += 1.0;
    }
    double precision = 1.0 / (kernel * kernel) + used / (meter * meter);
    return (offset){sum / (meter * meter) / precision, sqrt(1.0 / precision)};
}

/* chosen: how often a machine lies outside everything that is taken for granted. A figure that
 * does, read twice, is a fact about it and no second slip. */
#define ODD_SPECIMEN 0.02
/* chosen: ... but what adds to a current is common, what takes from it is not: a rough wiring never
 * draws little. */
#define ODD_LITTLE 1e-4

/* The nearest of the earlier readings, on the scale of the density. */
void hp_figure_find_return(hp_said_figure *f)
{
    f->came_back = 0.0;
    for (int k = 0; k < f->count; k++) {
        double before = exp(f->earlier[k]);
        double apart = f->zero > 0.0 ? f->value - before : f->log_value - f->earlier[k];
        double deviation =
            f->zero > 0.0 ? sqrt(2.0) * hypot(f->meter * before, f->zero) : sqrt(2.0) * f->meter;
        f->came_back = fmax(f->came_back, hp_normal_density(apart, deviation) * f->stretch);
    }
}

/* Density of what was said, when `good` is that of a right reading of a usual machine. After an
 * earlier reading that did not fit either, the machine is an odd one or the reading was worthless.
 */
static double read_density(const hp_person *p, const hp_said_figure *f, double odd, double good,
                           double earlier_good)
{
    double slip = p->value_misread * f->worthless;
    double usual = slip + (1.0 - p->value_misread) * good;
    if (f->count == 0)
        return (1.0 - odd) * usual + odd * f->worthless;
    double before = f->misread * f->worthless + (1.0 - f->misread) * earlier_good;
    double off = odd * f->worthless, fits = (1.0 - odd) * before;
    odd = off / (off + fits);
    return (1.0 - odd) * usual + odd * (slip + (1.0 - p->value_misread) * f->came_back);
}

/* Density of a current over asinh(current / zero error): linear near zero, logarithmic far from it.
 * A worthless reading may be anything up to 100 A on that scale. */
double hp_current_density(const hp_person *p, const hp_said_figure *f, double value, double kernel)
{
    if (!(value > 0.0))
        value = 1e-9;
    double good, earlier_good = 1.0;
    double wide = hypot(hypot(p->current_relative, kernel) * value, f->zero);
    if (f->count == 0) {
        good = hp_normal_density(f->value - value, wide) * f->stretch;
    } else {
        double meter = hypot(p->current_relative, f->zero / fmax(value, 1e-3));
        offset own = offset_after(f->earlier, f->count, log(value), kernel, meter);
        double centre = value * exp(own.mean);
        double relative = hypot(p->current_relative, own.deviation) * centre;
        double before = exp(f->earlier[0]);
        good = hp_normal_density(f->value - centre, hypot(relative, f->zero)) * f->stretch;
        earlier_good = hp_normal_density(before - value, wide) * hypot(before, f->zero);
    }
    double odd = f->value < value ? ODD_LITTLE : ODD_SPECIMEN;
    return read_density(p, f, odd, good, earlier_good);
}

/* Density of a speed over its logarithm; a worthless reading lies within e^3 either way. */
double hp_speed_density(const hp_person *p, const hp_said_figure *f, double log_value,
                        double kernel)
{
    double good, earlier_good = 1.0, wide = hypot(p->speed_relative, kernel);
    if (f->count == 0) {
        good = hp_normal_density(f->log_value - log_value, wide);
    } else {
        offset own = offset_after(f->earlier, f->count, log_value, kernel, p->speed_relative);
        good = hp_normal_density(f->log_value - log_value - own.mean,
                                 hypot(p->speed_relative, own.deviation));
        earlier_good = hp_normal_density(f->earlier[0] - log_value, wide);
    }
    return read_density(p, f, ODD_SPECIMEN, good, earlier_good);
}

double hp_current_worthless(const hp_person *p)
{
    return 1.0 / asinh(100.0 / p->current_zero_a);
}
