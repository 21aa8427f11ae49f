/*
 * Curves in their styles, and the rows of a legend that tell them apart without colour.
 */
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"

void hp_curve_put(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                  size_t count, hp_curve_style style)
{
    if (count >= 2)
        hp_pen_curve(canvas, axes, x, y, count, style.ink, style.width, style.dash);
}

void hp_curve_sample(const hp_canvas *canvas, double left, double y, double width,
                     hp_curve_style style)
{
    hp_axes axes = {.box = {left, y - 5.0, left + width, y + 5.0}, .x_max = 1.0, .y_max = 1.0};
    const double xs[] = {0.0, 1.0}, ys[] = {0.5, 0.5};
    hp_curve_put(canvas, &axes, xs, ys, 2, style);
}

void hp_curve_row(hp_flow *flow, hp_curve_style style, const char *text)
{
    const hp_look *look = flow->look;
    double row = 1.4 * look->body, sample = 4.0 * look->body;
    hp_type type = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    if (!hp_flow_fits(flow, row))
        return;
    double y = flow->y + 0.5 * row, x = flow->left + sample + 0.5 * look->body;
    hp_curve_sample(flow->canvas, flow->left, y, sample, style);
    hp_pen_text_cut(flow->canvas, x, y, flow->left + flow->width - x, type, text);
    flow->y += row;
}
