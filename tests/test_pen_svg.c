/*
 * The strokes that write SVG: numbers, colours, lines joined, curves clipped and made short, text
 * that stays text. That whole pictures are as PLplot draws them is the business of
 * tests/two_pens.py.
 */
#include "check.h"
#include "svg_check.h"

#include "report/picture/pen_svg.h"

#include <locale.h>
#include <math.h>
#include <string.h>

#define PAGE_WIDTH  200.0
#define PAGE_HEIGHT 100.0

/* What a paint drew: the SVG of a page, for the caller to free. */
static char *draw(hp_paint paint, const void *data, bool inset)
{
    hp_paper page = {
        .width = PAGE_WIDTH, .height = PAGE_HEIGHT, .title = "A <page>", .inset = inset};
    char *svg = NULL;
    size_t size = 0;
    hp_error err = hp_error_none();
    check_true(hp_svg_render(&page, paint, data, &svg, &size, &err) == HP_OK, "%s", err.text);
    check_int((long)size, (long)strlen(svg));
    return svg;
}

static void expect(hp_paint paint, const void *data, const char *wanted)
{
    char *svg = draw(paint, data, false), *body = strstr(svg, "fill=\"#FFFFFF\"/>\n");
    assert_null(svg_fault(svg));
    assert_non_null(body);
    body += strlen("fill=\"#FFFFFF\"/>\n");
    size_t length = strlen(wanted);
    check_true(strncmp(body, wanted, length) == 0 && strcmp(body + length, "</svg>\n") == 0,
               "drawn:\n%swanted:\n%s", body, wanted);
    free(svg);
}

/* ---- the page -------------------------------------------------------------------------------- */

static void paint_nothing(const hp_canvas *canvas, const void *data)
{
    (void)canvas;
    (void)data;
}

static void a_page_says_its_size_and_title(void **state)
{
    (void)state;
    char *svg = draw(paint_nothing, NULL, false);
    assert_string_equal(
        svg, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
             "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200\" height=\"100\" "
             "viewBox=\"0 0 200 100\" style=\"max-width:100%;height:auto\" role=\"img\" "
             "font-family=\"sans-serif\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n"
             "<title>A &lt;page&gt;</title>\n"
             "<rect width=\"200\" height=\"100\" fill=\"#FFFFFF\"/>\n</svg>\n");
    free(svg);
}

/* A strict policy of the page forbids styles, and the page says how wide it is. */
static void a_page_for_html_has_no_style_and_no_size(void **state)
{
    (void)state;
    char *svg = draw(paint_nothing, NULL, true);
    assert_string_equal(svg, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 200 100\" "
                             "role=\"img\" font-family=\"sans-serif\" stroke-linecap=\"round\" "
                             "stroke-linejoin=\"round\">\n<title>A &lt;page&gt;</title>\n"
                             "<rect width=\"200\" height=\"100\" fill=\"#FFFFFF\"/>\n</svg>\n");
    free(svg);
}

/* ---- lines and areas ------------------------------------------------------------------------- */

static void paint_lines(const hp_canvas *canvas, const void *data)
{
    (void)data;
    hp_pen_line(canvas, 0.0, 0.0, 10.0, 0.004, HP_INK_RULE, 1.0);
    hp_pen_line(canvas, 10.0, 0.0, 10.495 - 1e-9, -2.245 - 1e-9, HP_INK_RULE, 1.0);
    hp_pen_line(canvas, 10.495 + 1e-9, -2.245 + 1e-9, 10.5, -3.0, HP_INK_RULE, 1.0);
    hp_pen_line(canvas, 5.0, 5.0, 5.0, 5.0, HP_INK_RULE, 1.0);
    hp_pen_frame(canvas, (hp_box){5.0, 7.0, 9.0, 7.0}, HP_INK_RULE, 1.0);
    hp_pen_line(canvas, 5.0, 5.0, 6.0, 6.0, HP_INK_RULE, 1.2);
    hp_pen_line(canvas, 6.0, 6.0, 7.0, 7.0, HP_INK_DARK, 1.2);
    hp_pen_line(canvas, 8.0, NAN, 9.0, 9.0, HP_INK_DARK, 1.2);
    hp_pen_line(canvas, 1e300, 0.0, -INFINITY, 9.0, HP_INK_DARK, 1.2);
    hp_pen_line(canvas, 8.0, 9.0, 1e300, 9.0, HP_INK_DARK, 1.2);
}

static void lines_that_look_alike_are_one_path(void **state)
{
    (void)state;
    expect(paint_lines, NULL,
           "<path fill=\"none\" stroke=\"#BEBEBE\" stroke-width=\"1\" "
           "d=\"M0 0l10 0 0.5 -2.24 0 -0.76M5 5l0 0M5 7l4 0 -4 0\"/>\n"
           "<path fill=\"none\" stroke=\"#BEBEBE\" stroke-width=\"1.2\" d=\"M5 5l1 1\"/>\n"
           "<path fill=\"none\" stroke=\"#404040\" stroke-width=\"1.2\" "
           "d=\"M6 6l1 1M8 9l9999992 0\"/>\n");
}

static void paint_areas(const hp_canvas *canvas, const void *data)
{
    (void)data;
    double x[] = {0.0, 0.0, NAN}, y[] = {0.0, 1.0, 2.0};
    hp_pen_fill(canvas, (hp_box){0.0, 0.0, 4.0, 4.0}, HP_INK_BLACK);
    hp_pen_polygon(canvas, x, y, 3, HP_INK_BLACK);
    hp_pen_mix(canvas, HP_INK_LEAD, "#f2d100");
    hp_pen_line(canvas, 0.0, 0.0, 1.0, 0.0, HP_INK_LEAD, 2.0);
    hp_pen_mix(canvas, HP_INK_LEAD, "#00d1f2");
    hp_pen_line(canvas, 1.0, 0.0, 2.0, 0.0, HP_INK_LEAD, 2.0);
    hp_pen_fill(canvas, (hp_box){2.0, 2.0, 4.0, 4.0}, HP_INK_LEAD);
}

static void areas_stay_apart_and_inks_are_mixed_as_wanted(void **state)
{
    (void)state;
    expect(paint_areas, NULL,
           "<path fill=\"#000000\" d=\"M0 0l4 0 0 4 -4 0z\"/>\n"
           "<path fill=\"none\" stroke=\"#F2D100\" stroke-width=\"2\" d=\"M0 0l1 0\"/>\n"
           "<path fill=\"none\" stroke=\"#00D1F2\" stroke-width=\"2\" d=\"M1 0l1 0\"/>\n"
           "<path fill=\"#00D1F2\" d=\"M2 2l2 0 0 2 -2 0z\"/>\n");
}

/* ---- text ------------------------------------------------------------------------------------ */

static void paint_text(const hp_canvas *canvas, const void *data)
{
    hp_type type = {20.0, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    hp_pen_text(canvas, 10.0, 20.0, type, data);
    hp_pen_text(canvas, NAN, 20.0, type, data);
    type = (hp_type){12.5, HP_INK_DARK, HP_ALIGN_CENTRE, true};
    hp_pen_text(canvas, 10.0, 20.0, type, "b");
    type.align = HP_ALIGN_RIGHT;
    hp_pen_text(canvas, 10.0, 20.0, type, "");
    static const char *const blanks[] = {" first", "two  inside", "last ", "one inside"};
    for (int k = 0; k < 4; k++)
        hp_pen_text(canvas, 10.0, 20.0, type, blanks[k]);
}

/* Half of 0.73 of the letters' size below the middle stands the base line. */
static void text_is_text(void **state)
{
    (void)state;
#define SMALL  "<text x=\"10\" y=\"24.56\" font-size=\"12.5\" font-weight=\"bold\" "
#define AT_END SMALL "text-anchor=\"end\" fill=\"#404040\""
#define KEPT   AT_END " xml:space=\"preserve\">"
    expect(
        paint_text, "</text>&\x01\xff \u03a9 \"'",
        "<text x=\"10\" y=\"27.3\" font-size=\"20\" fill=\"#000000\">&lt;/text&gt;&amp;?? \u03a9 "
        "\"'</text>\n" SMALL "text-anchor=\"middle\" fill=\"#404040\">b</text>\n" KEPT
        " first</text>\n" KEPT "two  inside</text>\n" KEPT "last </text>\n" AT_END
        ">one inside</text>\n");
}

/* Longer than any text drawn in one piece: cut, at a character's end. */
static void endless_text_and_titles_are_cut(void **state)
{
    (void)state;
    static char endless[4097];
    for (size_t k = 0; k + 1 < sizeof endless; k++)
        endless[k] = (char)(k % 2 ? 0xB0 : 0xC2); /* degree signs */
    hp_paper page = {.width = 100.0, .height = 100.0, .title = endless};
    char *svg = NULL;
    size_t size = 0;
    check_int(hp_svg_render(&page, paint_text, endless, &svg, &size, NULL), HP_OK);
    assert_null(svg_fault(svg));
    check_true(size < 4096, "%zu bytes", size);
    const char *title = strstr(svg, "<title>") + strlen("<title>");
    check_int((long)(strstr(title, "</title>") - title), 510);
    free(svg);
}

/* ---- curves ---------------------------------------------------------------------------------- */

typedef struct curve {
    hp_axes axes;
    const double *x, *y;
    size_t count;
    hp_dash dash;
} curve;

static void paint_curve(const hp_canvas *canvas, const void *data)
{
    const curve *c = data;
    hp_pen_curve(canvas, &c->axes, c->x, c->y, c->count, HP_INK_BLUE, 2.0, c->dash);
}

static void expect_curve(const curve *c, const char *wanted)
{
    char text[400];
    snprintf(text, sizeof text, "<path fill=\"none\" stroke=\"#0072B2\" stroke-width=\"2\"%s\"/>\n",
             wanted);
    expect(paint_curve, c, text);
}

#define PLAIN_AXES                                                                                 \
    {                                                                                              \
        .box = {10.0, 10.0, 110.0, 60.0}, .x_max = 10.0, .y_max = 5.0                              \
    }
#define CURVE(xs, ys)                                                                              \
    (curve)                                                                                        \
    {                                                                                              \
        .axes = PLAIN_AXES, .x = xs, .y = ys, .count = sizeof(xs) / sizeof(xs[0])                  \
    }

static void curves_end_at_the_box_and_at_what_is_no_number(void **state)
{
    (void)state;
    const double x[] = {-5.0, 5.0, 5.0, NAN, 6.0, 7.0, 8.0, INFINITY, 9.0, 9.5, 9.7};
    const double y[] = {-2.5, 2.5, 10.0, 1.0, 1.0, 2.0, 1.0, 1.0, 6.0, 9.0, 1e300};
    curve c = CURVE(x, y);
    /* In at the lower left corner, out at the top; then a stretch inside; then one all above. */
    expect_curve(&c, " d=\"M10 60l50 -25 0 -25M70 50l10 -10 10 10");
    c.dash = HP_DASH_MIXED;
    expect_curve(&c, " stroke-dasharray=\"10.43 7.25 0.87 7.25\" "
                     "d=\"M10 60l50 -25 0 -25M70 50l10 -10 10 10");
    c.dash = HP_DASH_LONG;
    expect_curve(&c, " stroke-dasharray=\"11.59 8.12\" d=\"M10 60l50 -25 0 -25M70 50l10 -10 10 10");
}

static void curves_come_back_into_the_box(void **state)
{
    (void)state;
    const double x[] = {0.0, 2.0, 4.0, 6.0, 12.0}, y[] = {1.0, 9.0, 1.0, -3.0, 3.0};
    curve c = CURVE(x, y);
    expect_curve(&c, " d=\"M10 50l10 -40M40 10l10 40 5 10M100 60l10 -10");
}

/* Along a side, but outside: nothing. On the side itself: all of it. */
static void curves_along_the_sides_of_the_box_are_in_or_out(void **state)
{
    (void)state;
    const double along[] = {1.0, 9.0}, across[] = {1.0, 4.0};
    const double outside[][2] = {{-1.0, -1.0}, {10.5, 10.5}, {5.5, 5.5}};
    for (int k = 0; k < 3; k++) {
        curve level = CURVE(along, outside[k]), upright = CURVE(outside[k], across);
        expect(paint_curve, &level, "");
        if (k < 2)
            expect(paint_curve, &upright, "");
    }
    const double top[] = {5.0, 5.0}, left[] = {0.0, 0.0};
    curve level = CURVE(along, top), upright = CURVE(left, across);
    expect_curve(&level, " d=\"M20 10l80 0");
    expect_curve(&upright, " d=\"M10 50l0 -30");
}

static void paint_two_dashes(const hp_canvas *canvas, const void *data)
{
    curve c = *(const curve *)data;
    for (int dash = 0; dash < 2; dash++) {
        c.dash = dash ? HP_DASH_SHORT : HP_DASH_SOLID;
        paint_curve(canvas, &c);
        paint_curve(canvas, &c);
    }
}

static void curves_with_other_dashes_are_another_path(void **state)
{
    (void)state;
    const double x[] = {1.0, 2.0}, y[] = {1.0, 1.0};
    curve c = CURVE(x, y);
    expect(paint_two_dashes, &c,
           "<path fill=\"none\" stroke=\"#0072B2\" stroke-width=\"2\" "
           "d=\"M20 50l10 0M20 50l10 0\"/>\n"
           "<path fill=\"none\" stroke=\"#0072B2\" stroke-width=\"2\" "
           "stroke-dasharray=\"0.87 7.25\" d=\"M20 50l10 0M20 50l10 0\"/>\n");
}

/* The way there and back is one line, but its turning points are off it. */
static void curves_that_turn_back_keep_their_ends(void **state)
{
    (void)state;
    const double x[] = {2.0, 9.0, 1.0, 4.0}, y[] = {1.0, 1.0, 1.0, 1.0};
    curve c = CURVE(x, y);
    expect_curve(&c, " d=\"M30 50l70 0 -80 0 30 0");
}

static void axes_without_extent_do_no_harm(void **state)
{
    (void)state;
    const double x[] = {0.0, 1.0, 2.0}, y[] = {0.0, 1.0, -1e300};
    curve c = CURVE(x, y);
    c.axes.x_max = 0.0;
    c.axes.y_max = NAN;
    char *svg = draw(paint_curve, &c, false);
    assert_null(svg_fault(svg));
    assert_null(strstr(svg, "nan"));
    assert_null(strstr(svg, "inf"));
    free(svg);
}

/* No sample of a wave lies farther from the line that is drawn than the tolerance of the page, and
 * the rounding to a hundredth (0.005 each way). */
static void check_wave(bool inset, double tolerance, int most)
{
    enum { COUNT = 4000 };
    static double x[COUNT], y[COUNT];
    for (int k = 0; k < COUNT; k++) {
        x[k] = 10.0 * k / (COUNT - 1);
        y[k] = 2.5 + 2.0 * sin(3.0 * x[k]) + (k % 500 == 7 ? 0.4 : 0.0);
    }
    curve c = CURVE(x, y);
    char *svg = draw(paint_curve, &c, inset), *p = strchr(strstr(svg, " d=\""), 'M') + 1;
    double x0 = strtod(p, &p), y0 = strtod(p, &p);
    int kept = 1, k = 0;
    assert_int_equal(*p++, 'l');
    while (*p != '"') {
        double x1 = x0 + strtod(p, &p), y1 = y0 + strtod(p, &p), length = hypot(x1 - x0, y1 - y0);
        kept++;
        for (; k < COUNT && hp_axes_x(&c.axes, x[k]) <= x1 + 0.005; k++) {
            double px = hp_axes_x(&c.axes, x[k]), py = hp_axes_y(&c.axes, y[k]);
            double off = fabs((px - x0) * (y1 - y0) - (py - y0) * (x1 - x0)) / length;
            check_true(off <= tolerance + 0.01, "sample %d is off by %g", k, off);
        }
        x0 = x1;
        y0 = y1;
    }
    check_int(k, COUNT);
    check_true(kept < most, "%d of %d samples are kept", kept, COUNT);
    free(svg);
}

static void curves_are_made_short_without_being_seen(void **state)
{
    (void)state;
    check_wave(false, 0.05, 400);
    check_wave(true, 0.5, 100);
}

/* ---- locale ---------------------------------------------------------------------------------- */

/* Where no locale with a decimal comma is installed, nothing can be seen. */
static void a_decimal_comma_of_the_locale_does_not_show(void **state)
{
    (void)state;
    static const char *const comma[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE.utf8", "nl_NL.UTF-8"};
    char *before = draw(paint_lines, NULL, false);
    for (size_t k = 0; k < sizeof comma / sizeof comma[0]; k++) {
        if (!setlocale(LC_NUMERIC, comma[k]))
            continue;
        char *after = draw(paint_lines, NULL, false);
        setlocale(LC_NUMERIC, "C");
        assert_string_equal(before, after);
        free(after);
    }
    free(before);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_page_says_its_size_and_title),
        cmocka_unit_test(a_page_for_html_has_no_style_and_no_size),
        cmocka_unit_test(lines_that_look_alike_are_one_path),
        cmocka_unit_test(areas_stay_apart_and_inks_are_mixed_as_wanted),
        cmocka_unit_test(text_is_text),
        cmocka_unit_test(endless_text_and_titles_are_cut),
        cmocka_unit_test(curves_end_at_the_box_and_at_what_is_no_number),
        cmocka_unit_test(curves_come_back_into_the_box),
        cmocka_unit_test(curves_along_the_sides_of_the_box_are_in_or_out),
        cmocka_unit_test(curves_with_other_dashes_are_another_path),
        cmocka_unit_test(curves_that_turn_back_keep_their_ends),
        cmocka_unit_test(axes_without_extent_do_no_harm),
        cmocka_unit_test(curves_are_made_short_without_being_seen),
        cmocka_unit_test(a_decimal_comma_of_the_locale_does_not_show),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
