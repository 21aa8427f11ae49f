/* A lead in its colour: see the header. */
#include "report/picture/lead_colour.h"

#include "report/picture/lead_tint.h"

#include <ctype.h>
#include <string.h>

#define EDGE   9.0 /* [units] widths */
#define CORE   6.0
#define STRIPE 2.4
#define NONE   "#e8e8e8" /* a name without a colour */

#define CURVE 2.6 /* [units] width of a curve's colour */
#define CURVE_EDGE                                                                                 \
    4.4 /* ... and of the dark line under it, which keeps yellow and white readable */

/* Each lead of three has a style of its own, so that colour is never needed to tell them apart. */
static const hp_dash curve_dash[HP_PHASE_COUNT] = {HP_DASH_SOLID, HP_DASH_LONG, HP_DASH_SHORT};
/* Leads whose names say no colour: Okabe and Ito's blue, vermilion and green. */
static const char *const plain_tint[HP_PHASE_COUNT] = {"#0072b2", "#d55e00", "#009e73"};

int hp_lead_tints(const char *name, const char *tint[2])
{
    int count = 0;
    while (*name && count < 2) {
        char word[32];
        size_t length = 0;
        while (isalpha((unsigned char)name[length]))
            length++;
        if (length > 0 && length < sizeof word) {
            memcpy(word, name, length);
            word[length] = '\0';
            const char *found = hp_lead_tint(word);
            if (found)
                tint[count++] = found;
        }
        name += length ? length : 1;
    }
    return count;
}

void hp_lead_line_wide(const hp_canvas *canvas, double x0, double y0, double x1, double y1,
                       const char *name, double width)
{
    const char *tint[2] = {NONE, NONE};
    int count = hp_lead_tints(name, tint);
    hp_pen_mix(canvas, HP_INK_LEAD, tint[0]);
    hp_pen_line(canvas, x0, y0, x1, y1, HP_INK_BLACK, width);
    hp_pen_line(canvas, x0, y0, x1, y1, HP_INK_LEAD, CORE / EDGE * width);
    if (count < 2)
        return;
    hp_pen_mix(canvas, HP_INK_STRIPE, tint[1]);
    hp_pen_line(canvas, x0, y0, x1, y1, HP_INK_STRIPE, STRIPE / EDGE * width);
}

void hp_lead_line(const hp_canvas *canvas, double x0, double y0, double x1, double y1,
                  const char *name)
{
    hp_lead_line_wide(canvas, x0, y0, x1, y1, name, EDGE);
}

hp_dash hp_lead_dash(int lead)
{
    return curve_dash[lead];
}

void hp_lead_curve(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                   size_t count, int lead, const char *name)
{
    const char *tint[2] = {plain_tint[lead], NULL};
    hp_lead_tints(name, tint);
    hp_pen_mix(canvas, HP_INK_LEAD, tint[0]);
    hp_pen_curve(canvas, axes, x, y, count, HP_INK_DARK, CURVE_EDGE, curve_dash[lead]);
    hp_pen_curve(canvas, axes, x, y, count, HP_INK_LEAD, CURVE, curve_dash[lead]);
}

void hp_lead_sample(const hp_canvas *canvas, double x, double y, double length, int lead,
                    const char *name)
{
    hp_axes axes = {.box = {x, y - 4.0, x + length, y + 4.0}, .x_max = 1.0, .y_max = 1.0};
    double xs[] = {0.0, 1.0}, ys[] = {0.5, 0.5};
    hp_lead_curve(canvas, &axes, xs, ys, 2, lead, name);
}
