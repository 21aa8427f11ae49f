/*
 * The pen's strokes by PLplot: see the header.
 *
 * The page is one PLplot viewport whose world coordinates are the page's units with y upward, so
 * every y is turned over here and nowhere else. Axes set a viewport of their own and put the page's
 * back.
 */
#include "report/picture/pen_plplot.h"

#include <plplot/plplot.h>
#include <string.h>

/* PLplot rounds up nothing: a fill gets a line around it in its own colour, made too thin to see.
 */
#define HAIR       0.2
#define TEXT_BYTES 512 /* longest text drawn in one piece */

static void take_page(const hp_canvas *canvas)
{
    plvpor(0.0, 1.0, 0.0, 1.0);
    plwind(0.0, canvas->width, 0.0, canvas->height);
}

static double up(const hp_canvas *canvas, double y)
{
    return canvas->height - y;
}

void hp_plplot_inks(void)
{
    plscmap0n(HP_INK_COUNT);
    for (int k = 0; k < HP_INK_COUNT; k++)
        plscol0(k, ink_rgb[k][0], ink_rgb[k][1], ink_rgb[k][2]);
}

static void mix(const hp_canvas *canvas, hp_ink ink, const unsigned char rgb[3])
{
    (void)canvas;
    plscol0((PLINT)ink, rgb[0], rgb[1], rgb[2]);
}

static void draw_line(const hp_canvas *canvas, const double *x, const double *y, int count,
                      hp_ink ink, double width)
{
    double up_y[HP_STROKE_POINTS];
    for (int k = 0; k < count; k++)
        up_y[k] = up(canvas, y[k]);
    take_page(canvas);
    plcol0((PLINT)ink);
    plwidth(width);
    plline(count, x, up_y);
}

static void draw_area(const hp_canvas *canvas, const double *x, const double *y, int count,
                      hp_ink ink)
{
    double up_y[HP_STROKE_POINTS];
    for (int k = 0; k < count; k++)
        up_y[k] = up(canvas, y[k]);
    take_page(canvas);
    plcol0((PLINT)ink);
    plwidth(HAIR);
    plpsty(0);
    plfill(count, x, up_y);
}

char *hp_plplot_escape(const char *text, char *out, size_t size)
{
    char clean[TEXT_BYTES];
    size_t used = 0;
    hp_pen_clean(text, clean, sizeof clean);
    for (const char *s = clean; *s;) {
        size_t bytes = 1;
        while (((unsigned char)s[bytes] & 0xC0) == 0x80)
            bytes++;
        if (used + bytes + 2 > size)
            break;
        if (*s == '#')
            out[used++] = '#';
        memcpy(out + used, s, bytes);
        used += bytes;
        s += bytes;
    }
    out[used] = '\0';
    return out;
}

/* PLplot's letters come out 16/15 of the height asked for in millimetres; its svg device then drops
 * the fraction, so a little is added. */
static void set_size(double size)
{
    plschr((size + 0.2) * 25.4 / HP_PLPLOT_UNITS_PER_INCH * 15.0 / 16.0, 1.0);
}

static void draw_text(const hp_canvas *canvas, double x, double y, hp_type type, const char *text)
{
    char escaped[2 * TEXT_BYTES];
    take_page(canvas);
    plsfont(PL_FCI_SANS, PL_FCI_UPRIGHT, type.bold ? PL_FCI_BOLD : PL_FCI_MEDIUM);
    set_size(type.size);
    plcol0((PLINT)type.ink);
    plptex(x, up(canvas, y), 1.0, 0.0, 0.5 * (double)type.align,
           hp_plplot_escape(text, escaped, sizeof escaped));
}

static void take_axes(const hp_canvas *canvas, const hp_axes *axes)
{
    plvpor(axes->box.left / canvas->width, axes->box.right / canvas->width,
           up(canvas, axes->box.bottom) / canvas->height,
           up(canvas, axes->box.top) / canvas->height);
    plwind(axes->x_min, axes->x_max, axes->y_min, axes->y_max);
}

static void set_dash(hp_dash dash)
{
    const int *in_turn = dash_micrometres[dash];
    PLINT mark[2], space[2], count = 0;
    for (; count < 2 && in_turn[2 * count] > 0; count++) {
        mark[count] = in_turn[2 * count];
        space[count] = in_turn[2 * count + 1];
    }
    plstyl(count, mark, space);
}

static void draw_curve(const hp_canvas *canvas, const hp_axes *axes, const double *x,
                       const double *y, size_t count, hp_ink ink, double width, hp_dash dash)
{
    take_axes(canvas, axes);
    plcol0((PLINT)ink);
    plwidth(width);
    set_dash(dash);
    plline((PLINT)count, x, y);
    set_dash(HP_DASH_SOLID);
    take_page(canvas);
}

const hp_strokes hp_plplot_strokes = {
    .mix = mix, .line = draw_line, .area = draw_area, .text = draw_text, .curve = draw_curve};
