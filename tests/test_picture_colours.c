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
 */
#include "check.h"

#include "report/picture/dial.h"
#include "report/picture/pen_core.h"
#include "report/picture/picture_parts.h"

#include <math.h>
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
        cmocka_unit_test(the_simulation_confuses_what_is_known_to_be_confused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
