/*
 * The lead-angle dial: two discs to cut out and pin together. See handout.h.
 *
 * The large disc is the motor: degrees round its rim, the field of each pair of leads at its angle,
 * the Hall code and the pair that is driven in each stretch of the rotor's turn. The small disc is
 * the rotor: an arrow, and degrees counted from it, against the clock. Laid on one another with the
 * arrow in a stretch, the small disc's scale says at the driven pair's field how far it stands
 * ahead.
 */
#include "report/handout/handout_page.h"

#include <math.h>
#include <stdio.h>

#define LARGE 320.0 /* [units] 80 mm */
#define SMALL 170.0
#define STEP  10   /* degrees between two marks */
#define ASIDE 14.0 /* degrees: a lead's name beside its coil, clear of codes and fields */
#define NAME  66.0 /* of a lead */

static double cx(double x, double radius, double degrees)
{
    return x + radius * cos(degrees * HP_DEG);
}

static double cy(double y, double radius, double degrees)
{
    return y - radius * sin(degrees * HP_DEG);
}

static void put_ray(const hp_canvas *canvas, double x, double y, double from, double to,
                    double degrees, hp_ink ink, double width)
{
    hp_pen_line(canvas, cx(x, from, degrees), cy(y, from, degrees), cx(x, to, degrees),
                cy(y, to, degrees), ink, width);
}

/* The line to cut along, marks, and where the pin goes. */
static void put_disc(const hp_canvas *canvas, double x, double y, double radius)
{
    hp_pen_arc(canvas, x, y, radius, 0.0, HP_TWO_PI, HP_INK_BLACK, 1.5);
    for (int d = 0; d < 360; d += STEP)
        put_ray(canvas, x, y, radius - (d % 30 == 0 ? 14.0 : 8.0), radius, d, HP_INK_BLACK,
                d % 30 == 0 ? 1.6 : 1.0);
    hp_pen_arc(canvas, x, y, 5.0, 0.0, HP_TWO_PI, HP_INK_BLACK, 1.0);
    hp_pen_line(canvas, x - 9.0, y, x + 9.0, y, HP_INK_BLACK, 0.8);
    hp_pen_line(canvas, x, y - 9.0, x, y + 9.0, HP_INK_BLACK, 0.8);
}

/* ---- the motor ------------------------------------------------------------------------------- */

static void put_stretch(const hp_canvas *canvas, double x, double y, const hp_lead_sector *s)
{
    char text[24];
    double middle = 0.5 * (s->from + s->to) / HP_DEG;
    hp_type code = {17.0, HP_INK_BLACK, HP_ALIGN_CENTRE, true};
    put_ray(canvas, x, y, SMALL, SMALL + 66.0, s->from / HP_DEG, HP_INK_GREY, 1.0);
    hp_pen_text(canvas, cx(x, SMALL + 32.0, middle), cy(y, SMALL + 32.0, middle) - 10.0, code,
                hp_handout_code(s, text, sizeof text));
    hp_pen_text(canvas, cx(x, SMALL + 32.0, middle), cy(y, SMALL + 32.0, middle) + 8.0,
                hp_handout_small(HP_ALIGN_CENTRE, false), hp_handout_pair(s, text, sizeof text));
}

/* An arrow head on the rim of the small disc, and the pair that makes this field. */
static void put_field(const hp_canvas *canvas, double x, double y, const hp_lead_sector *s)
{
    char text[24];
    double at = s->field / HP_DEG, px[3], py[3];
    if (s->high < 0)
        return;
    for (int k = 0; k < 3; k++) {
        double turn = k == 0 ? 0.0 : k == 1 ? 2.2 : -2.2;
        px[k] = cx(x, k == 0 ? SMALL + 22.0 : SMALL + 2.0, at + turn);
        py[k] = cy(y, k == 0 ? SMALL + 22.0 : SMALL + 2.0, at + turn);
    }
    put_ray(canvas, x, y, SMALL, SMALL + 58.0, at, HP_INK_BLACK, 3.0);
    hp_pen_polygon(canvas, px, py, 3, HP_INK_BLACK);
    hp_pen_text(canvas, cx(x, SMALL + 78.0, at), cy(y, SMALL + 78.0, at),
                hp_handout_small(HP_ALIGN_CENTRE, true), hp_handout_pair(s, text, sizeof text));
}

/* Degrees of the wheel from 0 on for so many electrical ones. */
static double wheel_degrees(const hp_drive *drive, double electrical)
{
    return electrical / drive->motor.pole_pairs / drive->stand.gear_ratio;
}

/* Colour and name of a coil's lead, beside its place: they stay on the disc that is cut out. */
static void put_lead(const hp_canvas *canvas, double x, double y, const hp_labels *labels, int k)
{
    double degrees = hp_phase_axis(k) / HP_DEG + ASIDE, radius = LARGE - 75.0;
    if (!labels->motor_lead[k][0])
        return;
    x = cx(x, radius, degrees);
    y = cy(y, radius, degrees);
    hp_handout_swatch(canvas, x, y - 8.0, labels, k);
    hp_pen_text_cut(canvas, x, y + 7.0, NAME, hp_handout_small(HP_ALIGN_CENTRE, false),
                    labels->motor_lead[k]);
}

static void put_scale(const hp_canvas *canvas, double x, double y, const hp_handout_source *source)
{
    char text[32];
    for (int d = 0; d < 360; d += 30) {
        snprintf(text, sizeof text, "%d", d);
        hp_pen_text(canvas, cx(x, LARGE - 28.0, d), cy(y, LARGE - 28.0, d),
                    hp_handout_small(HP_ALIGN_CENTRE, false), text);
    }
    for (int d = 0; d < 360; d += 60) {
        double at = LARGE - 68.0, up = 0.0;
        if (d % 120 == 0) {
            snprintf(text, sizeof text, "coil %c", hp_phase_letter(d / 120));
            hp_pen_text(canvas, cx(x, at, d), cy(y, at, d) - 8.0,
                        hp_handout_small(HP_ALIGN_CENTRE, true), text);
            put_lead(canvas, x, y, source->subject.labels, d / 120);
            up = 8.0;
        }
        snprintf(text, sizeof text, "(%.2f)", wheel_degrees(source->subject.drive, d));
        hp_pen_text(canvas, cx(x, at, d), cy(y, at, d) + up,
                    hp_handout_small(HP_ALIGN_CENTRE, false), text);
    }
}

static void put_motor(const hp_canvas *canvas, double x, double y, const hp_handout_source *source)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = hp_handout_sectors(source, hp_handout_given(source), sector);
    put_disc(canvas, x, y, LARGE);
    hp_pen_arc(canvas, x, y, SMALL, 0.0, HP_TWO_PI, HP_INK_RULE, 1.0);
    put_scale(canvas, x, y, source);
    for (int k = 0; k < count; k++)
        put_stretch(canvas, x, y, &sector[k]);
    for (int k = 0; k < count; k++)
        put_field(canvas, x, y, &sector[k]);
}

/* ---- the rotor ------------------------------------------------------------------------------- */

static void put_zone(const hp_canvas *canvas, double x, double y, double middle, hp_ink ink,
                     const char *first, const char *second)
{
    hp_pen_ring(canvas, x, y, 52.0, 128.0, (middle - 30.0) * HP_DEG, (middle + 30.0) * HP_DEG, ink);
    hp_pen_text(canvas, cx(x, 92.0, middle), cy(y, 92.0, middle) - 8.0,
                hp_handout_small(HP_ALIGN_CENTRE, true), first);
    hp_pen_text(canvas, cx(x, 92.0, middle), cy(y, 92.0, middle) + 9.0,
                hp_handout_small(HP_ALIGN_CENTRE, false), second);
}

static void put_rotor(const hp_canvas *canvas, double x, double y)
{
    char text[16];
    put_disc(canvas, x, y, SMALL);
    put_zone(canvas, x, y, 90.0, HP_INK_PALE, "full pull", "forward");
    put_zone(canvas, x, y, -90.0, HP_INK_PALE, "full pull", "backward");
    hp_pen_arrow(canvas, x - 48.0, y, x + 126.0, y, HP_INK_BLACK, 7.0);
    hp_pen_text(canvas, x + 54.0, y - 18.0, hp_handout_small(HP_ALIGN_CENTRE, true), "rotor");
    hp_pen_text(canvas, x + 66.0, y + 19.0, hp_handout_small(HP_ALIGN_CENTRE, false), "no pull");
    hp_pen_text(canvas, x - 92.0, y, hp_handout_small(HP_ALIGN_CENTRE, false), "no pull");
    for (int d = -150; d <= 180; d += 30) {
        snprintf(text, sizeof text, "%d", d);
        hp_pen_text(canvas, cx(x, SMALL - 30.0, d), cy(y, SMALL - 30.0, d),
                    hp_handout_small(HP_ALIGN_CENTRE, false), text);
    }
}

/* ---- how to use it --------------------------------------------------------------------------- */

static void put_words(const hp_canvas *canvas, double x, double y, double width,
                      const hp_drive *drive)
{
    char text[500];
    hp_type body = hp_handout_body(false);
    static const char *const step[] = {
        "1. Cut out both discs. Push a pin or a split pin through both centres, the small one on "
        "top.",
        "2. Set the rotor's arrow into a stretch of the turn. Read there the Hall code, and the "
        "pair of leads that the controller then drives.",
        "3. Look for that pair's thick line. The number beside it on the small disc says how far "
        "the field stands ahead of the rotor.",
        "4. Turn the rotor on to the end of the stretch. From what to what does the number go? In "
        "which zone is it all the time?",
        "5. Two phase leads exchanged: read U for V and V for U in every pair. Turn the rotor "
        "once round. What happens to the number?"};
    for (size_t k = 0; k < sizeof step / sizeof step[0]; k++)
        y = hp_pen_paragraph(canvas, x, y, width, body, step[k]) + 5.0;
    snprintf(text, sizeof text,
             "In brackets: degrees of the wheel. This motor has %d pole pairs%s: one turn of the "
             "dial is %.2f degrees of the wheel, one step %.2f.",
             drive->motor.pole_pairs, drive->stand.gear_ratio != 1.0 ? " and a gear" : "",
             wheel_degrees(drive, 360.0), wheel_degrees(drive, 60.0));
    hp_pen_paragraph(canvas, x, y, width, body, text);
}

static void paint(const hp_canvas *canvas, const hp_handout_job *job)
{
    double y = hp_handout_head(canvas, job, false);
    double x = 0.5 * (HP_HANDOUT_LEFT + HP_HANDOUT_RIGHT);
    put_motor(canvas, x, y + LARGE, job->source);
    y += 2.0 * LARGE + 12.0;
    put_rotor(canvas, HP_HANDOUT_LEFT + SMALL, y + SMALL);
    put_words(canvas, HP_HANDOUT_LEFT + 2.0 * SMALL + 22.0, y,
              HP_HANDOUT_WIDTH - 2.0 * SMALL - 22.0, job->source->subject.drive);
}

const hp_handout hp_handout_dial = {
    .name = "lead-dial", .title = "A dial for the lead angle", .paint = paint};
