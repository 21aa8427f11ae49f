/* The pen's strokes as SVG: see the header. */
#include "report/picture/pen_svg.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* From the middle height of letters to their base line, relative to the size: half the height of
 * the capitals of common sans-serif fonts (DejaVu Sans 0.729, others 0.71 to 0.73). */
#define BASE_LINE 0.365

/* ---- text ------------------------------------------------------------------------------------ */

static void put_bytes(hp_svg_pen *pen, const char *bytes, size_t count)
{
    size_t most = pen->size + count + 1;
    if (most > pen->room) {
        char *text = realloc(pen->text, 2 * most);
        if (!text) {
            pen->failed = true;
            return;
        }
        pen->text = text;
        pen->room = 2 * most;
    }
    memcpy(pen->text + pen->size, bytes, count);
    pen->size += count;
    pen->text[pen->size] = '\0';
}

void hp_svg_put(hp_svg_pen *pen, const char *text)
{
    put_bytes(pen, text, strlen(text));
}

void hp_svg_put_escaped(hp_svg_pen *pen, const char *text)
{
    while (*text) {
        size_t plain = strcspn(text, "&<>");
        put_bytes(pen, text, plain);
        text += plain;
        switch (*text) {
        case '&': hp_svg_put(pen, "&amp;"); break;
        case '<': hp_svg_put(pen, "&lt;"); break;
        case '>': hp_svg_put(pen, "&gt;"); break;
        default: continue;
        }
        text++;
    }
}

/* Shortest text of a number of hundredths. By hand, since the locale's decimal sign is not that of
 * SVG. */
static void put_hundredths(hp_svg_pen *pen, int value)
{
    char text[24];
    unsigned magnitude = value < 0 ? 0u - (unsigned)value : (unsigned)value;
    unsigned whole = magnitude / 100, rest = magnitude % 100;
    const char *sign = value < 0 ? "-" : "";
    if (rest == 0)
        snprintf(text, sizeof text, "%s%u", sign, whole);
    else if (rest % 10 == 0)
        snprintf(text, sizeof text, "%s%u.%u", sign, whole, rest / 10);
    else
        snprintf(text, sizeof text, "%s%u.%02u", sign, whole, rest);
    hp_svg_put(pen, text);
}

static void put_attribute(hp_svg_pen *pen, const char *name, int hundredths)
{
    hp_svg_put(pen, " ");
    hp_svg_put(pen, name);
    hp_svg_put(pen, "=\"");
    put_hundredths(pen, hundredths);
    hp_svg_put(pen, "\"");
}

static void put_colour(hp_svg_pen *pen, const char *name, const unsigned char rgb[3])
{
    char text[40];
    snprintf(text, sizeof text, " %s=\"#%02X%02X%02X\"", name, rgb[0], rgb[1], rgb[2]);
    hp_svg_put(pen, text);
}

/* ---- paths ----------------------------------------------------------------------------------- */

static void put_pair(hp_svg_pen *pen, const char *before, int x, int y)
{
    hp_svg_put(pen, before);
    put_hundredths(pen, x);
    hp_svg_put(pen, " ");
    put_hundredths(pen, y);
}

/* The points, each line as its beginning and the steps from there on. */
static void put_points(hp_svg_pen *pen, const hp_svg_path *path)
{
    for (size_t k = 0; k < path->count; k++) {
        const hp_svg_point *p = &path->point[k], *before = p - 1;
        if (p->begins)
            put_pair(pen, "M", p->x, p->y);
        else
            put_pair(pen, before->begins ? "l" : " ", p->x - before->x, p->y - before->y);
    }
}

void hp_svg_pen_flush(hp_svg_pen *pen)
{
    const int *dash = dash_micrometres[pen->look.dash];
    if (pen->path.count == 0)
        return;
    hp_svg_put(pen, "<path fill=\"none\"");
    put_colour(pen, "stroke", pen->look.rgb);
    put_attribute(pen, "stroke-width", pen->look.width);
    for (int k = 0; k < 4 && dash[k] > 0; k++) {
        hp_svg_put(pen, k == 0 ? " stroke-dasharray=\"" : " ");
        put_hundredths(pen, hp_svg_grid(dash[k] / HP_DASH_MICROMETRES_A_UNIT));
    }
    hp_svg_put(pen, dash[0] > 0 ? "\" d=\"" : " d=\"");
    put_points(pen, &pen->path);
    hp_svg_put(pen, "\"/>\n");
    hp_svg_path_clear(&pen->path);
}

/* Lines that look like this are drawn next. */
static hp_svg_pen *take_look(const hp_canvas *canvas, hp_ink ink, double width, hp_dash dash)
{
    hp_svg_pen *pen = canvas->sheet;
    hp_svg_look look = {.width = hp_svg_grid(width), .dash = dash};
    memcpy(look.rgb, pen->rgb[ink], sizeof look.rgb);
    bool same = memcmp(look.rgb, pen->look.rgb, sizeof look.rgb) == 0 &&
                look.width == pen->look.width && look.dash == pen->look.dash;
    if (!same)
        hp_svg_pen_flush(pen);
    pen->look = look;
    return pen;
}

/* A stroke with a place that is none is left out. */
static bool all_finite(const double *x, const double *y, int count)
{
    for (int k = 0; k < count; k++)
        if (!isfinite(x[k]) || !isfinite(y[k]))
            return false;
    return true;
}

/* ---- strokes --------------------------------------------------------------------------------- */

static void mix(const hp_canvas *canvas, hp_ink ink, const unsigned char rgb[3])
{
    hp_svg_pen *pen = canvas->sheet;
    memcpy(pen->rgb[ink], rgb, sizeof pen->rgb[ink]);
}

static void draw_line(const hp_canvas *canvas, const double *x, const double *y, int count,
                      hp_ink ink, double width)
{
    if (!all_finite(x, y, count))
        return;
    hp_svg_pen *pen = take_look(canvas, ink, width, HP_DASH_SOLID);
    if (!hp_svg_path_line(&pen->path, x, y, (size_t)count))
        pen->failed = true;
}

/* Each area is a path of its own: two in one that overlap could cancel each other. */
static void draw_area(const hp_canvas *canvas, const double *x, const double *y, int count,
                      hp_ink ink)
{
    hp_svg_pen *pen = canvas->sheet;
    if (!all_finite(x, y, count))
        return;
    hp_svg_pen_flush(pen);
    if (!hp_svg_path_line(&pen->path, x, y, (size_t)count))
        pen->failed = true;
    hp_svg_put(pen, "<path");
    put_colour(pen, "fill", pen->rgb[ink]);
    hp_svg_put(pen, " d=\"");
    put_points(pen, &pen->path);
    hp_svg_put(pen, "z\"/>\n");
    hp_svg_path_clear(&pen->path);
}

/* Whether a reader would lose blanks of the text. */
static bool has_odd_blanks(const char *text)
{
    return text[0] == ' ' || text[strlen(text) - 1] == ' ' || strstr(text, "  ");
}

static void draw_text(const hp_canvas *canvas, double x, double y, hp_type type, const char *text)
{
    static const char *const anchor[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
    hp_svg_pen *pen = canvas->sheet;
    if (!all_finite(&x, &y, 1))
        return;
    hp_svg_pen_flush(pen);
    hp_svg_put(pen, "<text");
    put_attribute(pen, "x", hp_svg_grid(x));
    put_attribute(pen, "y", hp_svg_grid(y + BASE_LINE * type.size));
    put_attribute(pen, "font-size", hp_svg_grid(type.size));
    hp_svg_put(pen, type.bold ? " font-weight=\"bold\"" : "");
    hp_svg_put(pen, anchor[type.align]);
    put_colour(pen, "fill", pen->rgb[type.ink]);
    hp_svg_put(pen, has_odd_blanks(text) ? " xml:space=\"preserve\">" : ">");
    hp_svg_put_escaped(pen, text);
    hp_svg_put(pen, "</text>\n");
}

static void draw_curve(const hp_canvas *canvas, const hp_axes *axes, const double *x,
                       const double *y, size_t count, hp_ink ink, double width, hp_dash dash)
{
    hp_svg_pen *pen = take_look(canvas, ink, width, dash);
    if (!hp_svg_path_curve(&pen->path, axes, x, y, count, pen->tolerance))
        pen->failed = true;
}

const hp_strokes hp_svg_strokes = {
    .mix = mix, .line = draw_line, .area = draw_area, .text = draw_text, .curve = draw_curve};

hp_svg_pen hp_svg_pen_begin(double tolerance)
{
    hp_svg_pen pen = {.tolerance = tolerance};
    memcpy(pen.rgb, ink_rgb, sizeof pen.rgb);
    return pen;
}

void hp_svg_pen_free(hp_svg_pen *pen)
{
    free(pen->text);
    hp_svg_path_free(&pen->path);
}
