/*
 * Lines for a path of an SVG: see the header.
 *
 * Clipping is that of Y.-D. Liang and B. A. Barsky (ACM Transactions on Graphics 3(1):1-22, 1984;
 * from memory): a line is followed by a parameter from 0 to 1, which each side of the box narrows
 * from one end.
 *
 * Curves are simplified by the method of Douglas & Peucker (The Canadian Cartographer
 * 10(2):112-122, 1973; from memory): a stretch becomes one straight line when no point of it lies
 * farther from that line than the tolerance; else it is parted at the farthest point.
 */
#include "report/picture/svg_path.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#define GRID     100.0 /* points a unit */
#define FARTHEST 1e7   /* [units] fits an int of the grid */
/* What lies half-way between two points of the grid, as even samples do on a round scale, goes the
 * same way on every machine, though the last digits of what was simulated differ. */
#define TIE 1e-6

/* A point of a curve on the page, and the work of simplifying it: whether it stays, and a stretch
 * still to look at. There are never more stretches than points. */
typedef struct spot {
    double x, y;
    bool keep;
    size_t first, last;
} spot;

static double within(double units)
{
    return fmin(fmax(units, -FARTHEST), FARTHEST);
}

int hp_svg_grid(double units)
{
    return (int)floor(GRID * within(units) + 0.5 + TIE);
}

static bool make_room(hp_svg_path *path, size_t more)
{
    size_t most = path->count + more;
    if (most <= path->room)
        return true;
    hp_svg_point *point = realloc(path->point, 2 * most * sizeof *point);
    if (!point)
        return false;
    path->point = point;
    path->room = 2 * most;
    return true;
}

/* Adds a place; one that lies on the place before it is left out, but for the second of a line: a
 * dot is a line without length. Room was made. */
static void add_place(hp_svg_path *path, double x, double y, bool begins)
{
    hp_svg_point p = {hp_svg_grid(x), hp_svg_grid(y), begins};
    assert(path->point && path->count < path->room);
    const hp_svg_point *last = path->count > 0 ? &path->point[path->count - 1] : NULL;
    if (!begins && last && !last->begins && last->x == p.x && last->y == p.y)
        return;
    path->point[path->count++] = p;
}

bool hp_svg_path_line(hp_svg_path *path, const double *x, const double *y, size_t count)
{
    if (!make_room(path, count))
        return false;
    const hp_svg_point *last = path->count > 0 ? &path->point[path->count - 1] : NULL;
    bool goes_on = last && last->x == hp_svg_grid(x[0]) && last->y == hp_svg_grid(y[0]);
    for (size_t k = goes_on ? 1 : 0; k < count; k++)
        add_place(path, x[k], y[k], k == 0);
    return true;
}

/* ---- curves ---------------------------------------------------------------------------------- */

/* Narrows a parameter range [in, out] to where from + t * step >= 0. */
static void narrow(double from, double step, double *in, double *out)
{
    if (step > 0.0)
        *in = fmax(*in, -from / step);
    else if (step < 0.0)
        *out = fmin(*out, -from / step);
    else if (from < 0.0)
        *out = -1.0;
}

/* Cuts the line from a to b at the sides of the box; false when nothing of it is inside. */
static bool clip(const hp_box *box, spot *a, spot *b)
{
    double dx = b->x - a->x, dy = b->y - a->y, in = 0.0, out = 1.0;
    narrow(a->x - box->left, dx, &in, &out);
    narrow(box->right - a->x, -dx, &in, &out);
    narrow(a->y - box->top, dy, &in, &out);
    narrow(box->bottom - a->y, -dy, &in, &out);
    if (in > out)
        return false;
    spot from = *a;
    if (out < 1.0)
        *b = (spot){.x = from.x + out * dx, .y = from.y + out * dy};
    if (in > 0.0)
        *a = (spot){.x = from.x + in * dx, .y = from.y + in * dy};
    return true;
}

/* Distance of p from the line between a and b, or from a where they are one. */
static double distance(const spot *p, const spot *a, const spot *b)
{
    double dx = b->x - a->x, dy = b->y - a->y, length = hypot(dx, dy);
    if (length == 0.0)
        return hypot(p->x - a->x, p->y - a->y);
    double along = ((p->x - a->x) * dx + (p->y - a->y) * dy) / (length * length);
    along = fmin(fmax(along, 0.0), 1.0);
    return hypot(p->x - a->x - along * dx, p->y - a->y - along * dy);
}

/* Marks the spots to keep. */
static void simplify(spot *s, size_t count, double tolerance)
{
    size_t depth = 0;
    s[0].keep = s[count - 1].keep = true;
    s[depth].first = 0;
    s[depth++].last = count - 1;
    while (depth > 0) {
        size_t first = s[--depth].first, last = s[depth].last, far = first;
        double most = tolerance;
        for (size_t k = first + 1; k < last; k++) {
            double d = distance(&s[k], &s[first], &s[last]);
            far = d > most ? k : far;
            most = fmax(most, d);
        }
        if (far == first)
            continue;
        s[far].keep = true;
        s[depth].first = first;
        s[depth++].last = far;
        s[depth].first = far;
        s[depth++].last = last;
    }
}

/* Adds a stretch of the curve that is inside the box. */
static bool add_stretch(hp_svg_path *path, spot *s, size_t count, double tolerance)
{
    if (count == 0)
        return true;
    if (!make_room(path, count))
        return false;
    simplify(s, count, tolerance);
    for (size_t k = 0; k < count; k++)
        if (s[k].keep)
            add_place(path, s[k].x, s[k].y, k == 0);
    return true;
}

static spot spot_of(const hp_axes *axes, double x, double y)
{
    return (spot){.x = within(hp_axes_x(axes, x)), .y = within(hp_axes_y(axes, y))};
}

bool hp_svg_path_curve(hp_svg_path *path, const hp_axes *axes, const double *x, const double *y,
                       size_t count, double tolerance)
{
    spot *s = malloc(count * sizeof *s);
    bool fine = s != NULL;
    size_t inside = 0; /* spots of the stretch so far */
    for (size_t k = 1; fine && k < count; k++) {
        spot a = spot_of(axes, x[k - 1], y[k - 1]), b = spot_of(axes, x[k], y[k]), end = b;
        if (!clip(&axes->box, &a, &b))
            continue;
        if (inside == 0)
            s[inside++] = a;
        s[inside++] = b;
        if (b.x != end.x || b.y != end.y) { /* it leaves the box */
            fine = add_stretch(path, s, inside, tolerance);
            inside = 0;
        }
    }
    fine = fine && add_stretch(path, s, inside, tolerance);
    free(s);
    return fine;
}

void hp_svg_path_clear(hp_svg_path *path)
{
    path->count = 0;
}

void hp_svg_path_free(hp_svg_path *path)
{
    free(path->point);
    *path = (hp_svg_path){0};
}
