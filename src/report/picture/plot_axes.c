/* Scales of a plot: see the header. */
#include "report/picture/plot_axes.h"

#include <math.h>
#include <stdio.h>

#define ROOM 0.06 /* beyond the values, of the range */

double hp_tick_step(double range, double wanted)
{
    double raw = range / wanted;
    if (!(raw > 0.0) || !isfinite(raw))
        return 1.0;
    double power = pow(10.0, floor(log10(raw))), lead = raw / power;
    return power * (lead <= 1.4 ? 1.0 : lead <= 3.2 ? 2.0 : lead <= 7.0 ? 5.0 : 10.0);
}

void hp_range_take(double value, double *low, double *high)
{
    if (!isfinite(value))
        return;
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

void hp_range_round(double *low, double *high)
{
    double from = fmin(*low, 0.0), to = fmax(*high, 0.0);
    if (!(to - from > 1e-12) || !isfinite(to - from)) {
        from = -1.0;
        to = 1.0;
    }
    double room = ROOM * (to - from);
    *low = from < 0.0 ? from - room : 0.0;
    /* The number at the top is left out, so zero stands a little below it. */
    *high = to > 0.0 ? to + room : 2.0 * room;
}

char *hp_tick_text(double value, double step, char *out, size_t size)
{
    double magnitude = fabs(value);
    int decimals = step >= 1.0 ? 0 : (int)fmin(6.0, ceil(-log10(step) - 1e-9));
    const char *sign = value < 0.0 && magnitude > 0.5 * step ? "\u2212" : "";
    if (magnitude >= 1e6)
        snprintf(out, size, "%s%.3g", sign, magnitude);
    else
        snprintf(out, size, "%s%.*f", sign, decimals, magnitude);
    return out;
}

void hp_axes_draw_frame(const hp_canvas *canvas, const hp_axes *axes)
{
    if (axes->y_min < 0.0 && axes->y_max > 0.0) {
        double zero = hp_axes_y(axes, 0.0);
        hp_pen_line(canvas, axes->box.left, zero, axes->box.right, zero, HP_INK_GREY, 1.5);
    }
    hp_pen_frame(canvas, axes->box, HP_INK_DARK, 1.2);
}

void hp_axes_draw_y(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes)
{
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_RIGHT, false);
    double height = axes->box.bottom - axes->box.top, range = axes->y_max - axes->y_min;
    double step = hp_tick_step(range, fmax(1.0, height / (2.2 * look->small)));
    for (double k = ceil(axes->y_min / step - 1e-9); k * step <= axes->y_max + 1e-9 * step;
         k += 1.0) {
        char text[24];
        double y = hp_axes_y(axes, k * step);
        hp_pen_line(canvas, axes->box.left, y, axes->box.right, y, HP_INK_RULE, 1.0);
        /* Above the box stands a title. */
        if (y >= axes->box.top + 0.3 * look->small)
            hp_pen_text_cut(canvas, axes->box.left - 0.4 * look->small, y, 3.6 * look->small, type,
                            hp_tick_text(k * step, step, text, sizeof text));
    }
    hp_axes_draw_frame(canvas, axes);
}

double hp_axes_draw_x(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes)
{
    double width = axes->box.right - axes->box.left, range = axes->x_max - axes->x_min;
    double step = hp_tick_step(range, fmax(1.0, width / (7.0 * look->small)));
    return hp_axes_draw_x_step(canvas, look, axes, step);
}

double hp_axes_draw_x_step(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes,
                           double step)
{
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_CENTRE, false);
    double y = axes->box.bottom + 0.9 * look->small;
    for (double k = ceil(axes->x_min / step - 1e-9); k * step <= axes->x_max + 1e-9 * step;
         k += 1.0) {
        char text[24];
        double x = hp_axes_x(axes, k * step);
        hp_pen_line(canvas, x, axes->box.bottom, x, axes->box.bottom - 5.0, HP_INK_DARK, 1.2);
        hp_tick_text(k * step, step, text, sizeof text);
        /* A number at the right end keeps to the page, and clear of what stands beside the plot. */
        double end = fmin(look->width, axes->box.right + look->small);
        if (x + 0.5 * hp_pen_text_width(type, text) <= end)
            hp_pen_text(canvas, x, y, type, text);
    }
    return y + 0.9 * look->small;
}
