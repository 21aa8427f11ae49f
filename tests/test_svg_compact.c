/* Pictures made small for a page: what a reader sees stays. */
#include "check.h"

#include "report/picture/svg_compact.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *compact(const char *svg, double tolerance)
{
    size_t length = 0;
    char *text = hp_svg_compact(svg, strlen(svg), tolerance, &length);
    assert_non_null(text);
    assert_int_equal(length, strlen(text));
    return text;
}

static void expect(const char *svg, const char *wanted)
{
    char *text = compact(svg, 0.3);
    assert_string_equal(text, wanted);
    free(text);
}

static void what_a_policy_forbids_is_gone(void **state)
{
    (void)state;
    expect("<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" "
           "width=\"720\" height=\"90\" viewBox=\"0 0 720 90\" role=\"img\" "
           "style=\"max-width:100%\">\n<title>One</title>\n</svg>\n",
           "<svg viewBox=\"0 0 720 90\" role=\"img\"><title>One</title></svg>");
}

static void idle_attributes_go_and_telling_ones_stay(void **state)
{
    (void)state;
    expect("<svg><text dominant-baseline=\"no-change\" fill=\"#1E5E50\" "
           "fill-opacity=\"1.000000\" transform=\"matrix(1.000000 0.000000 0.000000 -1.000000 "
           "20.002848 1165.483032)\" x=\"-0.000000\"><tspan font-family=\"sans-serif\" "
           "font-style=\"normal\" font-weight=\"bold\">U 1.500000</tspan></text></svg>",
           "<svg><text fill=\"#1E5E50\" transform=\"matrix(1 0 0 -1 20 1165.48)\">"
           "<tspan font-weight=\"bold\">U 1.500000</tspan></text></svg>");
    expect("<svg><rect fill-opacity=\"0.250000\" width=\"7.126\"/></svg>",
           "<svg><rect fill-opacity=\"0.25\" width=\"7.13\"/></svg>");
}

static void markup_in_a_label_stays_text(void **state)
{
    (void)state;
    expect("<svg><title>&lt;b&gt; &amp; \"q\"</title></svg>",
           "<svg><title>&lt;b&gt; &amp; \"q\"</title></svg>");
}

static void points_on_a_line_go_and_corners_stay(void **state)
{
    (void)state;
    expect("<svg><polyline points=\"0.00,0.00 1.00,0.10 2.00,0.00 3.00,5.00 4.00,0.00\"/></svg>",
           "<svg><path d=\"M0 0l2 0 1 5 1 -5\"/></svg>");
    expect("<svg><polyline points=\"\"/></svg>", "<svg><path d=\"\"/></svg>");
    expect("<svg><polyline points=\"2.04,3.96\"/></svg>", "<svg><path d=\"M2 4\"/></svg>");
}

static void curves_that_look_alike_become_one(void **state)
{
    (void)state;
    expect("<svg><polyline stroke=\"#BEBEBE\" fill=\"none\" points=\"0,0 0,9\"/>\n"
           "<polyline stroke=\"#BEBEBE\" fill=\"none\" points=\"0,9 4.5,9\"/>\n"
           "<polyline stroke=\"#BEBEBE\" fill=\"none\" points=\"5,5 6,6\"/>\n"
           "<polyline stroke=\"#404040\" fill=\"none\" points=\"5,5 6,6\"/></svg>",
           "<svg><path stroke=\"#BEBEBE\" fill=\"none\" d=\"M0 0l0 9 4.5 0M5 5l1 1\"/>"
           "<path stroke=\"#404040\" fill=\"none\" d=\"M5 5l1 1\"/></svg>");
}

static void areas_stay_apart_and_what_is_between_keeps_its_place(void **state)
{
    (void)state;
    expect("<svg><polyline fill=\"#E8E8E8\" points=\"0,0 0,9 9,9\"/>"
           "<polyline fill=\"#E8E8E8\" points=\"9,9 0,0\"/></svg>",
           "<svg><path fill=\"#E8E8E8\" d=\"M0 0l0 9 9 0\"/>"
           "<path fill=\"#E8E8E8\" d=\"M9 9l-9 -9\"/></svg>");
    expect("<svg><polyline fill=\"none\" points=\"0,0 0,9\"/><rect width=\"1\"/>"
           "<polyline fill=\"none\" points=\"0,9 3,9\"/></svg>",
           "<svg><path fill=\"none\" d=\"M0 0l0 9\"/><rect width=\"1\"/>"
           "<path fill=\"none\" d=\"M0 9l3 0\"/></svg>");
}

/* No sample of a wave lies farther from the kept line than the tolerance, the rounding to a tenth
 * of a unit (0.05 each way) on top. */
static void a_curve_stays_within_the_tolerance(void **state)
{
    (void)state;
    enum { COUNT = 2000 };
    const double tolerance = 0.3;
    char *svg = malloc(COUNT * 32 + 100), *at = svg;
    assert_non_null(svg);
    at += sprintf(at, "<svg><polyline points=\"");
    for (int k = 0; k < COUNT; k++)
        at +=
            sprintf(at, "%.2f,%.2f ", 0.3 * k, 50.0 * sin(0.02 * k) + (k % 500 == 7 ? 20.0 : 0.0));
    sprintf(at, "\"/></svg>");
    char *text = compact(svg, tolerance), *p = strchr(text, 'M') + 1;
    double x0 = strtod(p, &p), y0 = strtod(p, &p);
    int kept = 1, k = 0;
    assert_int_equal(*p++, 'l');
    while (*p != '"') {
        double x1 = x0 + strtod(p, &p), y1 = y0 + strtod(p, &p);
        kept++;
        for (; k < COUNT && 0.3 * k <= x1 + 0.05; k++) {
            double x = 0.3 * k, y = 50.0 * sin(0.02 * k) + (k % 500 == 7 ? 20.0 : 0.0);
            double length = hypot(x1 - x0, y1 - y0);
            double off = fabs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / length;
            assert_true(off <= tolerance + 0.08);
        }
        x0 = x1;
        y0 = y1;
    }
    assert_int_equal(k, COUNT);
    assert_true(kept < COUNT / 10);
    free(svg);
    free(text);
}

static void damaged_input_is_passed_on(void **state)
{
    (void)state;
    expect("<svg><g fill=\"", "<svg><g fill=\"");
    expect("no picture", "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_policy_forbids_is_gone),
        cmocka_unit_test(idle_attributes_go_and_telling_ones_stay),
        cmocka_unit_test(markup_in_a_label_stays_text),
        cmocka_unit_test(points_on_a_line_go_and_corners_stay),
        cmocka_unit_test(curves_that_look_alike_become_one),
        cmocka_unit_test(areas_stay_apart_and_what_is_between_keeps_its_place),
        cmocka_unit_test(a_curve_stays_within_the_tolerance),
        cmocka_unit_test(damaged_input_is_passed_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
