/*
 * What must be told apart can be told apart in grey, and by people with any of the three kinds of
 * colour blindness: by simulated colour, or by something that is no colour.
 *
 * Simulation: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A Physiologically-based Model
 * for Simulation of Color Vision Deficiency", IEEE Trans. Visualization and Computer Graphics
 * 15(6):1291-1298, 2009, matrices of severity 1.0 in linear RGB (second-hand: read in programs that
 * quote them). sRGB to linear and to CIE XYZ: IEC 61966-2-1 (memory). Difference: CIE 1976 L*a*b*
 * (memory); one unit is about what an eye just tells side by side, and 10 is plain at a glance
 * (common practice). Contrast of text: WCAG 2.2, success criterion 1.4.3, 4.5 to 1 (memory); it
 * says of itself that 3 to 1 is the least for plain text, and the rest an allowance for poor sight
 * (memory), so simulated eyes are asked for that.
 *
 * Curves are looked at as they are drawn: on a real page, as a grey copy, pixel by pixel.
 */
#include "check.h"

#include "report/picture/canvas.h"
#include "report/picture/dial.h"
#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"
#include "report/picture/strokes.h"

#include <cairo.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef enum sight { SIGHT_FULL, PROTANOPIA, DEUTERANOPIA, TRITANOPIA, GREY, SIGHT_COUNT } sight;

static const char *const sight_name[SIGHT_COUNT] = {"full sight", "protanopia", "deuteranopia",
                                                    "tritanopia", "grey"};

static const double matrix[SIGHT_COUNT][3][3] = {
    [SIGHT_FULL] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
    [PROTANOPIA] = {{0.152286, 1.052583, -0.204868},
                    {0.114503, 0.786281, 0.099216},
                    {-0.003882, -0.048116, 1.051998}},
    [DEUTERANOPIA] = {{0.367322, 0.860646, -0.227968},
                      {0.280085, 0.672501, 0.047413},
                      {-0.011820, 0.042940, 0.968881}},
    [TRITANOPIA] = {{1.255528, -0.076749, -0.178779},
                    {-0.078411, 0.930809, 0.147602},
                    {0.004733, 0.691367, 0.303900}},
    /* A grey copy keeps the luminance alone. */
    [GREY] = {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}},
};

static double linear(unsigned char c)
{
    double v = c / 255.0;
    return v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
}

/* Linear RGB of an ink as somebody sees it. */
static void see(hp_ink ink, sight sight, double out[3])
{
    for (int row = 0; row < 3; row++) {
        out[row] = 0.0;
        for (int k = 0; k < 3; k++)
            out[row] += matrix[sight][row][k] * linear(ink_rgb[ink][k]);
        out[row] = fmin(fmax(out[row], 0.0), 1.0);
    }
}

static double luminance(const double rgb[3])
{
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
}

static double lab_curve(double t)
{
    return t > 216.0 / 24389.0 ? cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
}

static void to_lab(const double rgb[3], double lab[3])
{
    double x = lab_curve((0.4124 * rgb[0] + 0.3576 * rgb[1] + 0.1805 * rgb[2]) / 0.9505);
    double y = lab_curve(luminance(rgb));
    double z = lab_curve((0.0193 * rgb[0] + 0.1192 * rgb[1] + 0.9505 * rgb[2]) / 1.0890);
    lab[0] = 116.0 * y - 16.0;
    lab[1] = 500.0 * (x - y);
    lab[2] = 200.0 * (y - z);
}

static double difference(hp_ink a, hp_ink b, sight sight)
{
    double ra[3], rb[3], la[3], lb[3];
    see(a, sight, ra);
    see(b, sight, rb);
    to_lab(ra, la);
    to_lab(rb, lb);
    return sqrt(pow(la[0] - lb[0], 2) + pow(la[1] - lb[1], 2) + pow(la[2] - lb[2], 2));
}

static double contrast(hp_ink a, hp_ink b, sight sight)
{
    double ra[3], rb[3];
    see(a, sight, ra);
    see(b, sight, rb);
    double high = fmax(luminance(ra), luminance(rb)), low = fmin(luminance(ra), luminance(rb));
    return (high + 0.05) / (low + 0.05);
}

/* Grey is left to the words, the heavy border, the tick and the hatch. */
static void verdicts_differ_for_every_eye(void **state)
{
    (void)state;
    for (int s = 0; s < GREY; s++)
        for (int a = 0; a < HP_VERDICT_UNDECIDED; a++)
            for (int b = 0; b < a; b++) {
                double d = difference(hp_verdict_ink((hp_verdict)a), hp_verdict_ink((hp_verdict)b),
                                      (sight)s);
                check_true(d >= 10.0, "%s and %s differ by %.1f only in %s",
                           hp_verdict_name((hp_verdict)a), hp_verdict_name((hp_verdict)b), d,
                           sight_name[s]);
            }
}

/* Words on the verdicts' colours and grounds can be read by everybody, and in grey. */
static void words_can_be_read_on_their_grounds(void **state)
{
    (void)state;
    for (int s = 0; s < SIGHT_COUNT; s++) {
        for (int v = 0; v < HP_VERDICT_COUNT; v++) {
            hp_verdict verdict = (hp_verdict)v;
            double badge =
                contrast(hp_verdict_ink(verdict), hp_verdict_text_ink(verdict), (sight)s);
            double ground = contrast(hp_verdict_tint(verdict), HP_INK_BLACK, (sight)s);
            check_true(badge >= (s == SIGHT_FULL || s == GREY ? 4.5 : 3.0),
                       "the word %s has a contrast of %.2f in %s", hp_verdict_name(verdict), badge,
                       sight_name[s]);
            check_true(ground >= 4.5, "black on the ground of %s has %.2f in %s",
                       hp_verdict_name(verdict), ground, sight_name[s]);
        }
        check_true(contrast(HP_INK_DARK, HP_INK_WHITE, (sight)s) >= 4.5, "dark text");
        check_true(contrast(HP_INK_GREY, HP_INK_WHITE, (sight)s) >= 4.5, "grey text");
        check_true(contrast(HP_INK_DARK, HP_INK_PALE, (sight)s) >= 4.5, "dark text on a band");
    }
}

/* These have no word beside them, so grey must do too. */
static void arcs_and_fields_differ_in_grey_as_well(void **state)
{
    (void)state;
    static const hp_ink pair[][2] = {
        {HP_INK_BLACK, HP_INK_PURPLE},         /* pull forwards, backwards */
        {HP_INK_PURPLE, HP_INK_PALE},          /* an arc in the zone of full pull */
        {HP_INK_BLUE, HP_INK_VERMILION},       /* a field that pulls well, one that does not */
        {HP_INK_DARK, HP_INK_WHITE},           /* a sensor at 1, at 0 */
        {HP_INK_PALE_VERMILION, HP_INK_WHITE}, /* the angle by which a field misses */
    };
    assert_true(hp_dial_forward == pair[0][0] && hp_dial_backward == pair[0][1]);
    for (int s = 0; s < SIGHT_COUNT; s++)
        for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++) {
            double d = difference(pair[k][0], pair[k][1], (sight)s);
            check_true(d >= 8.0, "pair %zu differs by %.1f only in %s", k, d, sight_name[s]);
        }
}

/* ---- curves ---------------------------------------------------------------------------------- */

#define SAMPLE 600.0 /* [units] length of the line that is looked at */

typedef struct sample_line {
    hp_curve_style style;
    int lead; /* of a lead's curve, else -1 */
} sample_line;

static void paint_sample(const hp_canvas *canvas, const void *data)
{
    const sample_line *line = data;
    hp_axes axes = {.box = {20.0, 20.0, 20.0 + SAMPLE, 40.0}, .x_max = 1.0, .y_max = 1.0};
    double x[] = {0.0, 1.0}, y[] = {0.5, 0.5};
    if (line->lead >= 0)
        hp_lead_curve(canvas, &axes, x, y, 2, line->lead, "yellow"); /* the palest of leads */
    else
        hp_pen_curve(canvas, &axes, x, y, 2, line->style.ink, line->style.width, line->style.dash);
}

typedef struct bytes {
    const char *at;
    size_t left;
} bytes;

static cairo_status_t take_bytes(void *data, unsigned char *out, unsigned int length)
{
    bytes *from = data;
    if (length > from->left)
        return CAIRO_STATUS_READ_ERROR;
    memcpy(out, from->at, length);
    from->at += length;
    from->left -= length;
    return CAIRO_STATUS_SUCCESS;
}

/* What an eye for which all is grey sees of a line: the strokes along it and how thick they are,
 * in pixels, and how dark against the white of the page. */
typedef struct rhythm {
    double longest, shortest, thick, depth;
} rhythm;

static double grey_at(cairo_surface_t *image, int x, int y)
{
    const unsigned char *row =
        cairo_image_surface_get_data(image) + (ptrdiff_t)y * cairo_image_surface_get_stride(image);
    double rgb[3] = {linear(row[4 * x + 2]), linear(row[4 * x + 1]), linear(row[4 * x])};
    return 116.0 * lab_curve(luminance(rgb)) - 16.0;
}

/* The darkest pixel of each column is what counts of the line there. */
static rhythm measure(cairo_surface_t *image)
{
    int width = cairo_image_surface_get_width(image),
        height = cairo_image_surface_get_height(image);
    rhythm r = {.shortest = 1e9};
    int run = 0, on = 0, strokes = 0;
    double ink = 0.0;
    for (int x = 0; x < width; x++) {
        double least = 100.0, column = 0.0;
        for (int y = 0; y < height; y++) {
            double grey = grey_at(image, x, y);
            least = fmin(least, grey);
            column += grey < 90.0;
        }
        bool dark = least < 90.0;
        r.depth = fmax(r.depth, 100.0 - least);
        run = dark ? run + 1 : run;
        if (dark) {

            on++;
            ink += column;
        } else if (run > 0) {
            /* What the line's end cuts short does not count. */
            r.longest = fmax(r.longest, run);
            r.shortest = strokes > 0 && x < width - 40 ? fmin(r.shortest, run) : r.shortest;
            strokes++;
            run = 0;
        }
    }
    assert_true(on > 0);
    r.shortest = fmin(r.shortest, r.longest);
    r.thick = ink / on;
    return r;
}

static rhythm look_at(const sample_line *line)
{
    hp_paper page = {.width = SAMPLE + 80.0, .height = 60.0, .title = "line"};
    hp_error err = hp_error_none();
    char *png = NULL;
    size_t size = 0;
    check_true(hp_canvas_render(HP_PICTURE_PNG, &page, paint_sample, line, &png, &size, &err) ==
                   HP_OK,
               "%s", err.text);
    bytes from = {png, size};
    cairo_surface_t *image = cairo_image_surface_create_from_png_stream(take_bytes, &from);
    assert_int_equal(cairo_surface_status(image), CAIRO_STATUS_SUCCESS);
    rhythm r = measure(image);
    cairo_surface_destroy(image);
    free(png);
    return r;
}

/* chosen: half as much again is plain at a glance. */
static bool apart(double a, double b)
{
    return fmax(a, b) >= 1.5 * fmin(a, b);
}

static bool told_apart(const rhythm *a, const rhythm *b)
{
    return apart(a->longest, b->longest) || apart(a->shortest, b->shortest) ||
           apart(a->thick, b->thick);
}

static void check_lines(const sample_line *line, int count)
{
    rhythm seen[HP_EXAMPLE_COUNT];
    for (int a = 0; a < count; a++) {
        seen[a] = look_at(&line[a]);
        check_true(seen[a].depth >= 20.0, "line %d is %.0f darker than the page only", a,
                   seen[a].depth);
        for (int b = 0; b < a; b++)
            check_true(
                told_apart(&seen[a], &seen[b]),
                "lines %d and %d: strokes %.0f to %.0f and %.0f to %.0f, %.1f and %.1f thick", a, b,
                seen[a].shortest, seen[a].longest, seen[b].shortest, seen[b].longest, seen[a].thick,
                seen[b].thick);
    }
}

/* By stroke or by width alone, in a grey copy of the page: leads may be of any colour. */
static void curves_differ_without_their_colours(void **state)
{
    (void)state;
    sample_line lead[HP_PHASE_COUNT], example[HP_EXAMPLE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        lead[k] = (sample_line){.lead = k};
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++)
        example[k] = (sample_line){.lead = -1, .style = hp_example_style((hp_example_kind)k)};
    check_lines(lead, HP_PHASE_COUNT);
    check_lines(example, HP_EXAMPLE_COUNT);
}

/* The measure itself: two lines of one style are not told apart, whatever their colours. */
static void one_style_in_two_colours_is_one_line_in_grey(void **state)
{
    (void)state;
    const sample_line orange = {.lead = -1, .style = {HP_INK_ORANGE, HP_DASH_LONG, 3.5}};
    const sample_line purple = {.lead = -1, .style = {HP_INK_PURPLE, HP_DASH_LONG, 3.0}};
    rhythm a = look_at(&orange), b = look_at(&purple);
    assert_false(told_apart(&a, &b));
}

/* The simulation itself: what is grey stays grey, and red and green fall together for those who
 * are known to confuse them. */
static void the_simulation_confuses_what_is_known_to_be_confused(void **state)
{
    (void)state;
    for (int s = 0; s < SIGHT_COUNT; s++) {
        double rgb[3];
        see(HP_INK_GREY, (sight)s, rgb);
        check_close(rgb[0], rgb[2], 1e-5, "rows of the matrices add up to 1, rounded to 1e-6");
    }
    assert_true(difference(HP_INK_GREEN, HP_INK_VERMILION, DEUTERANOPIA) <
                0.7 * difference(HP_INK_GREEN, HP_INK_VERMILION, SIGHT_FULL));
    assert_true(difference(HP_INK_BLUE, HP_INK_GREEN, TRITANOPIA) <
                0.7 * difference(HP_INK_BLUE, HP_INK_GREEN, SIGHT_FULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts_differ_for_every_eye),
        cmocka_unit_test(words_can_be_read_on_their_grounds),
        cmocka_unit_test(arcs_and_fields_differ_in_grey_as_well),
        cmocka_unit_test(curves_differ_without_their_colours),
        cmocka_unit_test(one_style_in_two_colours_is_one_line_in_grey),
        cmocka_unit_test(the_simulation_confuses_what_is_known_to_be_confused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
