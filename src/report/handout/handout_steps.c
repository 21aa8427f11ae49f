/*
 * The six-step table to fill in: this controller's table with the motor correctly joined. See
 * handout.h.
 */
#include "report/handout/handout_steps_table.h"

#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

static const double column[] = {0.0, 48.0, 164.0, 266.0, 470.0, 584.0};
#define TABLE 300.0 /* [units] height of the rows at most */
#define ROW   48.0

static double at(int k)
{
    return HP_HANDOUT_LEFT + column[k];
}

static void put_head(const hp_canvas *canvas, double y)
{
    static const char *const head[][2] = {{"Step", ""},
                                          {"Rotor from", "to, degrees"},
                                          {"Hall code", "inputs U V W"},
                                          {"Plus and minus of", "the battery on leads"},
                                          {"Field points", "to, degrees"},
                                          {"Field ahead of rotor", "at the start, at the end"}};
    for (int k = 0; k < 6; k++) {
        hp_pen_text(canvas, at(k), y + 9.0, hp_handout_small(HP_ALIGN_LEFT, true), head[k][0]);
        hp_pen_text(canvas, at(k), y + 27.0, hp_handout_small(HP_ALIGN_LEFT, false), head[k][1]);
    }
    hp_pen_line(canvas, at(0), y + 38.0, HP_HANDOUT_RIGHT, y + 38.0, HP_INK_BLACK, 1.5);
}

static void put_cell(const hp_canvas *canvas, int k, double y, double width, bool blank,
                     const char *text)
{
    if (blank)
        hp_pen_dots(canvas, at(k), at(k) + width, y + 9.0);
    else
        hp_pen_text_cut(canvas, at(k), y, width, hp_handout_body(false), text);
}

/* "V+ U- (green, yellow)" where names differ from the letters. */
static void pair_words(const hp_labels *labels, const hp_lead_sector *s, char *out, size_t size)
{
    char pair[16];
    hp_handout_pair(s, pair, sizeof pair);
    if (s->high < 0 || !labels->motor_lead[s->high][0])
        snprintf(out, size, "%s", pair);
    else
        snprintf(out, size, "%s  %s, %s", pair,
                 hp_picture_label(labels->motor_lead[s->high], s->high),
                 hp_picture_label(labels->motor_lead[s->low], s->low));
}

static double whole(double radians)
{
    return round(radians / HP_DEG) + 0.0;
}

static double end_degrees(const hp_lead_sector *s)
{
    double to = round(hp_angle_wrap(s->to) / HP_DEG);
    return to < 0.5 ? 360.0 : to;
}

double hp_handout_steps_table(const hp_canvas *canvas, double y, const hp_handout_source *source,
                              bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT])
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = hp_handout_sectors(source, hp_handout_given(source), sector);
    double row = fmin(ROW, TABLE / count);
    put_head(canvas, y);
    y += 40.0;
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        char text[3 * HP_LABEL_SIZE];
        double middle = y + 0.5 * row;
        const bool *b = blank ? blank[k] : NULL;
        snprintf(text, sizeof text, "%d", k + 1);
        put_cell(canvas, 0, middle, 40.0, false, text);
        snprintf(text, sizeof text, "%.0f to %.0f", whole(s->from), end_degrees(s));
        put_cell(canvas, 1, middle, 110.0, false, text);
        put_cell(canvas, 2, middle, 80.0, b && b[HP_BLANK_CODE],
                 hp_handout_code(s, text, sizeof text));
        pair_words(source->subject.labels, s, text, sizeof text);
        put_cell(canvas, 3, middle, 195.0, b && b[HP_BLANK_PAIR], text);
        snprintf(text, sizeof text, s->high < 0 ? "none" : "%.0f", whole(s->field));
        put_cell(canvas, 4, middle, 90.0, b && b[HP_BLANK_FIELD], text);
        snprintf(text, sizeof text, s->high < 0 ? "none" : "%.0f, %.0f", whole(s->lead_from),
                 whole(s->lead_to));
        put_cell(canvas, 5, middle, 120.0, b && b[HP_BLANK_AHEAD], text);
        y += row;
        hp_pen_line(canvas, at(0), y, HP_HANDOUT_RIGHT, y, HP_INK_RULE, 1.0);
    }
    return y + 10.0;
}

/* ---- drawings -------------------------------------------------------------------------------- */

/* A place on a circle; angles in radians, counter-clockwise from the right. */
static double cx(double x, double radius, double angle)
{
    return x + radius * cos(angle);
}

static double cy(double y, double radius, double angle)
{
    return y - radius * sin(angle);
}

static void put_coils(const hp_canvas *canvas, double x, double y, double radius)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char letter[2] = {hp_phase_letter(k), '\0'};
        hp_type type = hp_handout_small(HP_ALIGN_CENTRE, true);
        double axis = hp_phase_axis(k);
        hp_pen_disc(canvas, cx(x, radius, axis), cy(y, radius, axis), 11.0, HP_INK_PALE);
        hp_pen_text(canvas, cx(x, radius, axis), cy(y, radius, axis), type, letter);
    }
}

/* Where the field points for each pair of leads. */
static void put_compass(const hp_canvas *canvas, double x, double y, double radius)
{
    hp_pen_arc(canvas, x, y, radius, 0.0, HP_TWO_PI, HP_INK_GREY, 1.0);
    put_coils(canvas, x, y, radius);
    for (int k = 0; k < 6; k++) {
        double angle = (30.0 + 60.0 * k) * HP_DEG;
        /* From the lead that is minus to the one that is plus. */
        int high = 0, low = 0;
        for (int p = 0; p < HP_PHASE_COUNT; p++) {
            high = cos(angle - hp_phase_axis(p)) > 0.5 ? p : high;
            low = cos(angle - hp_phase_axis(p)) < -0.5 ? p : low;
        }
        char text[32];
        snprintf(text, sizeof text, "%c+ %c-", hp_phase_letter(high), hp_phase_letter(low));
        hp_pen_arrow(canvas, x, y, cx(x, radius - 4.0, angle), cy(y, radius - 4.0, angle),
                     HP_INK_DARK, 2.0);
        hp_pen_text(canvas, cx(x, radius + 30.0, angle), cy(y, radius + 22.0, angle) - 8.0,
                    hp_handout_small(HP_ALIGN_CENTRE, true), text);
        snprintf(text, sizeof text, "%.0f", angle / HP_DEG);
        hp_pen_text(canvas, cx(x, radius + 30.0, angle), cy(y, radius + 22.0, angle) + 8.0,
                    hp_handout_small(HP_ALIGN_CENTRE, false), text);
    }
}

/* The rotor in the middle of a step, the field left to draw. */
static void put_motor(const hp_canvas *canvas, double x, double y, double radius,
                      const hp_lead_sector *s, int number)
{
    char text[24];
    double rotor = 0.5 * (s->from + s->to);
    hp_pen_arc(canvas, x, y, radius, 0.0, HP_TWO_PI, HP_INK_GREY, 1.0);
    put_coils(canvas, x, y, radius);
    hp_pen_arrow(canvas, cx(x, 0.55 * radius, rotor + HP_PI), cy(y, 0.55 * radius, rotor + HP_PI),
                 cx(x, 0.55 * radius, rotor), cy(y, 0.55 * radius, rotor), HP_INK_BLACK, 4.0);
    snprintf(text, sizeof text, "step %d", number);
    hp_pen_text(canvas, x, y + radius + 24.0, hp_handout_small(HP_ALIGN_CENTRE, true), text);
}

/* All that is needed to fill in any cell from those that are given. */
static void how_words(const hp_drive *drive, char *out, size_t size)
{
    snprintf(
        out, size,
        "How to fill it in. Degrees are electrical, anticlockwise from coil U; 360 of them pass "
        "%.4g times in one turn of the wheel. A Hall sensor reads 1 while the rotor points "
        "within 90 degrees of its coil, else 0. Two coils pull at a time: the drawing shows "
        "where the field then points. From one step to the next it moves on by 60 degrees. "
        "Ahead of the rotor means field minus rotor (below 0: add 360). The rotor follows the "
        "field, and before it gets there the next step begins.",
        drive->motor.pole_pairs * drive->stand.gear_ratio);
}

static void paint(const hp_canvas *canvas, const hp_handout_job *job)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT];
    const hp_handout_source *source = job->source;
    int given = hp_handout_given(source);
    int count = hp_handout_sectors(source, given, sector);
    char text[200], words[700];
    how_words(source->subject.drive, words, sizeof words);
    hp_handout_draw_blanks(count, source->seed, job->group, blank);
    double y = hp_handout_head(canvas, job, true);
    snprintf(text, sizeof text,
             "The controller's table, the motor correctly joined (wiring %d), the rotor turned "
             "forward. Some cells are given: fill in the others.",
             given);
    y = hp_handout_say(canvas, y, hp_handout_body(false), text);
    y = hp_handout_steps_table(canvas, y, source, blank);
    double radius = 92.0, top = y + 42.0;
    put_compass(canvas, HP_HANDOUT_LEFT + radius + 62.0, top + radius, radius);
    double below = hp_pen_paragraph(canvas, HP_HANDOUT_LEFT + 330.0, y + 14.0,
                                    HP_HANDOUT_WIDTH - 330.0, hp_handout_body(false), words);
    hp_handout_legend(canvas, HP_HANDOUT_LEFT + 330.0, below + 6.0, HP_HANDOUT_WIDTH - 330.0,
                      source->subject.labels);
    y = top + 2.0 * radius + 60.0;
    y = hp_handout_say(canvas, y, hp_handout_body(false),
                       "The rotor half-way through each step. Draw the field as a second arrow. "
                       "What angle lies between the two?");
    double pitch = HP_HANDOUT_WIDTH / 6.0;
    for (int k = 0; k < count && k < 6; k++)
        put_motor(canvas, HP_HANDOUT_LEFT + (k + 0.5) * pitch, y + 64.0, 44.0, &sector[k], k + 1);
    y += 150.0;
    hp_pen_text(canvas, HP_HANDOUT_LEFT, y + 12.0, hp_handout_body(false), "It is about");
    hp_pen_dots(canvas, HP_HANDOUT_LEFT + 90.0, HP_HANDOUT_LEFT + 190.0, y + 20.0);
    hp_pen_text(canvas, HP_HANDOUT_LEFT + 196.0, y + 12.0, hp_handout_body(false),
                "degrees, in every step. If it were 0, the motor would");
    hp_pen_dots(canvas, HP_HANDOUT_LEFT + 612.0, HP_HANDOUT_RIGHT, y + 20.0);
}

const hp_handout hp_handout_steps = {
    .name = "six-steps", .title = "Six steps of a turn", .by_group = true, .paint = paint};
