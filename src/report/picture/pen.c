/* Drawing on a canvas, made of the strokes of strokes.h: see the header. */
#include "report/picture/pen.h"

#include "hubphase/model/wiring.h"
#include "report/picture/strokes.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

/* How far a chord may leave its arc [units]: not to be seen. */
#define ARC_SLACK  0.08
#define ARC_POINTS (HP_STROKE_POINTS / 2) /* a ring has two */
/* An arrow's head, relative to its line's width: chosen by eye. */
#define HEAD_LENGTH 4.5
#define HEAD_HALF   2.2

static void stroke(const hp_canvas *canvas, const double *x, const double *y, int count, hp_ink ink,
                   double width)
{
    if (canvas)
        canvas->strokes->line(canvas, x, y, count, ink, width);
}

void hp_pen_mix(const hp_canvas *canvas, hp_ink ink, const char *tint)
{
    unsigned red, green, blue;
    assert(ink == HP_INK_LEAD || ink == HP_INK_STRIPE);
    if (canvas && sscanf(tint, "#%2x%2x%2x", &red, &green, &blue) == 3)
        canvas->strokes->mix(canvas, ink,
                             (const unsigned char[3]){(unsigned char)red, (unsigned char)green,
                                                      (unsigned char)blue});
}

void hp_pen_line(const hp_canvas *canvas, double x0, double y0, double x1, double y1, hp_ink ink,
                 double width)
{
    double x[] = {x0, x1}, y[] = {y0, y1};
    stroke(canvas, x, y, 2, ink, width);
}

void hp_pen_polygon(const hp_canvas *canvas, const double *x, const double *y, int count,
                    hp_ink ink)
{
    assert(count <= HP_STROKE_POINTS);
    if (canvas)
        canvas->strokes->area(canvas, x, y, count, ink);
}

void hp_pen_arrow(const hp_canvas *canvas, double x0, double y0, double x1, double y1, hp_ink ink,
                  double width)
{
    double dx = x1 - x0, dy = y1 - y0, length = hypot(dx, dy);
    if (!(length > 0.0))
        return;
    double ux = dx / length, uy = dy / length;
    double head = fmin(HEAD_LENGTH * width, 0.7 * length), half = head * HEAD_HALF / HEAD_LENGTH;
    double bx = x1 - head * ux, by = y1 - head * uy;
    /* The line ends inside the head, so that its square end does not show at the point. */
    hp_pen_line(canvas, x0, y0, bx + 0.1 * head * ux, by + 0.1 * head * uy, ink, width);
    double x[] = {x1, bx - half * uy, bx + half * uy};
    double y[] = {y1, by + half * ux, by - half * ux};
    hp_pen_polygon(canvas, x, y, 3, ink);
}

void hp_pen_fill(const hp_canvas *canvas, hp_box b, hp_ink ink)
{
    double x[] = {b.left, b.right, b.right, b.left}, y[] = {b.top, b.top, b.bottom, b.bottom};
    hp_pen_polygon(canvas, x, y, 4, ink);
}

void hp_pen_frame(const hp_canvas *canvas, hp_box b, hp_ink ink, double width)
{
    double x[] = {b.left, b.right, b.right, b.left, b.left};
    double y[] = {b.top, b.top, b.bottom, b.bottom, b.top};
    stroke(canvas, x, y, 5, ink, width);
}

void hp_pen_dots(const hp_canvas *canvas, double x0, double x1, double y)
{
    for (double x = x0; x < x1; x += 5.0)
        hp_pen_line(canvas, x, y, fmin(x + 1.5, x1), y, HP_INK_BLACK, 1.2);
}

void hp_pen_hatch(const hp_canvas *canvas, hp_box b, hp_ink ink, double spacing)
{
    double w = b.right - b.left, h = b.bottom - b.top;
    /* Lines x - y = constant, from the box's lower left corner to its upper right one. */
    for (double c = spacing - h; c < w; c += spacing) {
        double x0 = fmax(c, 0.0), x1 = fmin(c + h, w);
        hp_pen_line(canvas, b.left + x0, b.bottom - (x0 - c), b.left + x1, b.bottom - (x1 - c), ink,
                    1.0);
    }
}

/* A chord over the angle d leaves a circle by radius * d^2 / 8. */
static int arc_points(double radius, double from, double to)
{
    double step = sqrt(8.0 * ARC_SLACK / fmax(radius, 1.0));
    int count = 3 + (int)(fabs(to - from) / step);
    return count < ARC_POINTS ? count : ARC_POINTS;
}

/* Points along a circle into x[], y[], from the first angle to the last. */
static void follow_arc(double cx, double cy, double radius, double from, double to, int count,
                       double *x, double *y)
{
    for (int k = 0; k < count; k++) {
        double angle = from + (to - from) * k / (count - 1);
        x[k] = cx + radius * cos(angle);
        y[k] = cy - radius * sin(angle);
    }
}

void hp_pen_arc(const hp_canvas *canvas, double cx, double cy, double radius, double from,
                double to, hp_ink ink, double width)
{
    double x[ARC_POINTS], y[ARC_POINTS];
    int count = arc_points(radius, from, to);
    follow_arc(cx, cy, radius, from, to, count, x, y);
    stroke(canvas, x, y, count, ink, width);
}

void hp_pen_ring(const hp_canvas *canvas, double cx, double cy, double inner, double outer,
                 double from, double to, hp_ink ink)
{
    double x[HP_STROKE_POINTS], y[HP_STROKE_POINTS];
    int count = arc_points(outer, from, to);
    follow_arc(cx, cy, outer, from, to, count, x, y);
    follow_arc(cx, cy, inner, to, from, count, x + count, y + count);
    hp_pen_polygon(canvas, x, y, 2 * count, ink);
}

void hp_pen_disc(const hp_canvas *canvas, double cx, double cy, double radius, hp_ink ink)
{
    double x[ARC_POINTS], y[ARC_POINTS];
    int count = arc_points(radius, 0.0, HP_TWO_PI);
    follow_arc(cx, cy, radius, 0.0, HP_TWO_PI, count, x, y);
    hp_pen_polygon(canvas, x, y, count, ink);
}

double hp_axes_x(const hp_axes *axes, double x)
{
    return axes->box.left +
           (axes->box.right - axes->box.left) * (x - axes->x_min) / (axes->x_max - axes->x_min);
}

double hp_axes_y(const hp_axes *axes, double y)
{
    return axes->box.bottom -
           (axes->box.bottom - axes->box.top) * (y - axes->y_min) / (axes->y_max - axes->y_min);
}

void hp_pen_curve(const hp_canvas *canvas, const hp_axes *axes, const double *x, const double *y,
                  size_t count, hp_ink ink, double width, hp_dash dash)
{
    if (!canvas)
        return;
    for (size_t k = 0; k < count;) {
        size_t end = k;
        while (end < count && isfinite(x[end]) && isfinite(y[end]))
            end++;
        if (end - k >= 2)
            canvas->strokes->curve(canvas, axes, x + k, y + k, end - k, ink, width, dash);
        k = end + 1;
    }
}
