/*
 * The six steps of the table, as a wiring turns them into fields: rotor, driven leads, field, and
 * how far the field stands from the best place.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/words/explain.h"
#include "report/words/fault_words.h"

#include <math.h>
#include <stdio.h>

#define GOOD_DEGREES 30.5 /* from the best place: still the zone of full pull, with rounding */

typedef struct steps {
    const hp_picture_subject *subject;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count;
    double best; /* [rad] ahead of the rotor where the field pulls most, the way the wiring runs */
    char title[200];
} steps;

static const char subtitle[] = "Rotor turning forward (anticlockwise here). Angles are electrical.";

/* Angles are drawn from the top, so that lead U stands at twelve o'clock. */
static double shown(double angle)
{
    return angle + 0.5 * HP_PI;
}

/* Lead of the field at the middle of the sector, in (-pi, pi]. */
static double middle_lead(const hp_lead_sector *s)
{
    double lead = hp_angle_wrap(0.5 * (s->lead_from + s->lead_to));
    return lead > HP_PI ? lead - HP_TWO_PI : lead;
}

/* Whether the field stands where it pulls well. */
static bool is_good(const steps *steps, const hp_lead_sector *s)
{
    return hp_lead_flows(s) && fabs(middle_lead(s) - steps->best) <= GOOD_DEGREES * HP_DEG;
}

/* The three leads on the stator: + and - where driven, empty where not. */
static void draw_coils(const hp_canvas *canvas, const hp_look *look, double x, double y,
                       double ring, const hp_lead_sector *s)
{
    double coil = 1.05 * look->small;
    for (int lead = 0; lead < HP_PHASE_COUNT; lead++) {
        double angle = shown(hp_phase_axis(lead));
        double cx = x + ring * cos(angle), cy = y - ring * sin(angle);
        bool high = lead == s->high, low = lead == s->low;
        hp_type type =
            hp_look_small(look, high || low ? HP_INK_WHITE : HP_INK_DARK, HP_ALIGN_CENTRE, true);
        char text[8];
        snprintf(text, sizeof text, "%c%s", hp_phase_letter(lead),
                 high  ? "+"
                 : low ? "\u2212"
                       : "");
        hp_pen_disc(canvas, cx, cy, coil, high || low ? HP_INK_BLACK : HP_INK_GREY);
        if (!high && !low)
            hp_pen_disc(canvas, cx, cy, coil - 2.0, HP_INK_WHITE);
        hp_pen_text(canvas, cx, cy, type, text);
    }
}

static void draw_rotor(const hp_canvas *canvas, double x, double y, double r,
                       const hp_lead_sector *s)
{
    double middle = shown(0.5 * (s->from + s->to));
    double nx = -sin(middle), ny = -cos(middle), half = 0.11 * r;
    hp_pen_ring(canvas, x, y, 0.0, r, shown(s->from), shown(s->to), HP_INK_RULE);
    double tip = 0.95 * r, tail = 0.45 * r;
    double xs[] = {x + tip * cos(middle), x + half * nx, x - tail * cos(middle), x - half * nx};
    double ys[] = {y - tip * sin(middle), y + half * ny, y + tail * sin(middle), y - half * ny};
    hp_pen_polygon(canvas, xs, ys, 4, HP_INK_DARK);
    hp_pen_disc(canvas, x, y, 0.05 * r, HP_INK_WHITE);
}

/* A pointer on the ring where the field would pull best. */
static void draw_best(const hp_canvas *canvas, double x, double y, double ring, const steps *steps,
                      const hp_lead_sector *s)
{
    double angle = shown(0.5 * (s->from + s->to) + steps->best), size = 0.16 * ring;
    double out = ring - 0.02 * ring, in = ring - size;
    double xs[] = {x + in * cos(angle), x + out * cos(angle + 0.1), x + out * cos(angle - 0.1)};
    double ys[] = {y - in * sin(angle), y - out * sin(angle + 0.1), y - out * sin(angle - 0.1)};
    hp_pen_polygon(canvas, xs, ys, 3, HP_INK_BLACK);
    hp_pen_line(canvas, x + in * cos(angle), y - in * sin(angle), x + 0.55 * ring * cos(angle),
                y - 0.55 * ring * sin(angle), HP_INK_BLACK, 1.5);
}

/* Blue where it pulls well; else vermilion, with the angle by which it misses filled in. */
static void draw_field(const hp_canvas *canvas, double x, double y, double r, const steps *steps,
                       const hp_lead_sector *s)
{
    double angle = shown(s->field), best = shown(0.5 * (s->from + s->to) + steps->best);
    bool good = is_good(steps, s);
    if (!hp_lead_flows(s))
        return;
    if (!good) {
        double off = middle_lead(s) - steps->best;
        while (off > HP_PI)
            off -= HP_TWO_PI;
        while (off < -HP_PI)
            off += HP_TWO_PI;
        hp_pen_ring(canvas, x, y, 0.3 * r, 0.62 * r, best, best + off, HP_INK_PALE_VERMILION);
        hp_pen_arc(canvas, x, y, 0.62 * r, best, best + off, HP_INK_VERMILION, 2.0);
    }
    hp_pen_arrow(canvas, x, y, x + r * cos(angle), y - r * sin(angle),
                 good ? HP_INK_BLUE : HP_INK_VERMILION, 0.075 * r);
}

/* Width of the discs of a code. */
static double code_width(const hp_look *look)
{
    return 4.5 * look->small;
}

/* Three inputs as discs: dark for 1, empty for 0, the digit inside. */
static void draw_code(const hp_canvas *canvas, const hp_look *look, double x, double y, int code)
{
    double disc = 0.66 * look->small;
    x += disc;
    for (int j = 0; j < HP_PHASE_COUNT; j++, x += 2.2 * disc) {
        int bit = code >> (2 - j) & 1;
        hp_type type =
            hp_look_small(look, bit ? HP_INK_WHITE : HP_INK_BLACK, HP_ALIGN_CENTRE, true);
        hp_pen_disc(canvas, x, y, disc, HP_INK_DARK);
        if (!bit)
            hp_pen_disc(canvas, x, y, disc - 2.0, HP_INK_WHITE);
        hp_pen_text(canvas, x, y, type, bit ? "1" : "0");
    }
}

/* "Field 90° ahead", "30° ahead: misses by 60°". */
static void angle_words(const hp_lead_sector *s, char *text, size_t size)
{
    char degrees[16];
    double lead = middle_lead(s);
    hp_picture_degrees(fabs(lead), degrees, sizeof degrees);
    if (s->high < 0)
        snprintf(text, size, "all leads off");
    else if (s->open)
        snprintf(text, size, "no current: open lead");
    else
        snprintf(text, size, "field %s %s", degrees, lead >= 0.0 ? "ahead" : "behind");
}

/* Rotor, ring, leads and field between two heights. */
static void draw_motor(const hp_canvas *canvas, const hp_look *look, hp_box box, const steps *steps,
                       const hp_lead_sector *s)
{
    double coil = 1.05 * look->small;
    double ring =
        fmin(0.5 * (box.bottom - box.top - coil) - 2.0, 0.5 * (box.right - box.left) - coil);
    /* Lead U stands at the top, V and W at the sides: only the ring itself reaches the foot. */
    double x = 0.5 * (box.left + box.right), y = box.top + coil + ring;
    double inside = ring - 0.8 * coil;
    hp_pen_arc(canvas, x, y, ring, 0.0, HP_TWO_PI, HP_INK_GREY, 3.0);
    draw_rotor(canvas, x, y, inside, s);
    draw_best(canvas, x, y, ring, steps, s);
    draw_field(canvas, x, y, inside, steps, s);
    draw_coils(canvas, look, x, y, ring, s);
}

static void draw_panel(const hp_canvas *canvas, const hp_look *look, hp_box place,
                       const steps *steps, int k)
{
    const hp_lead_sector *s = &steps->sector[k];
    char text[2 * HP_LABEL_SIZE + 32], range[40];
    hp_box box = {place.left + 3.0, place.top + 3.0, place.right - 3.0, place.bottom - 3.0};
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type plain = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double line = hp_look_line(look->small), pad = 0.5 * look->small;
    double left = box.left + pad, width = box.right - box.left - 2.0 * pad;
    double to = hp_angle_wrap(s->to);
    bool good = is_good(steps, s);
    hp_pen_frame(canvas, box, good ? HP_INK_BLUE : HP_INK_VERMILION, good ? 2.0 : 4.0);
    snprintf(text, sizeof text, "%d. Rotor at %s", k + 1,
             hp_picture_degrees_range(s->from, to < 1e-9 ? HP_TWO_PI : to, range, sizeof range));
    hp_pen_text_cut(canvas, left, box.top + 0.7 * line, width - 1.4 * look->small, plain, text);
    if (good)
        hp_tick_draw(canvas, box.right - pad - 0.6 * look->small, box.top + 0.7 * line,
                     0.9 * look->small, HP_INK_BLUE);
    /* The code stands behind the angle where there is room. */
    angle_words(s, text, sizeof text);
    bool beside = hp_pen_text_width(bold, text) + pad + code_width(look) <= width;
    double below = box.bottom - (beside ? 1.8 : 2.8) * line;
    hp_box motor = {left, box.top + 1.4 * line, box.right - pad, below - 0.7 * line};
    draw_motor(canvas, look, motor, steps, s);
    hp_pen_text_cut(canvas, left, below, width, bold, text);
    draw_code(canvas, look, beside ? box.right - pad - code_width(look) : left,
              beside ? below : below + line, s->code);
    if (s->high < 0)
        return;
    hp_picture_pair(steps->subject->labels, s->high, s->low, plain, width, text, sizeof text);
    hp_pen_text_cut(canvas, left, below + (beside ? 1.05 : 2.05) * line, width, plain, text);
}

static void put_words(hp_flow *flow, const steps *steps)
{
    char text[HP_FAULT_WORDS + 120], fault[HP_FAULT_WORDS];
    const hp_picture_subject *s = steps->subject;
    int good = 0, off = 0;
    for (int k = 0; k < steps->count; k++) {
        good += is_good(steps, &steps->sector[k]);
        off += !hp_lead_flows(&steps->sector[k]);
    }
    if (good == steps->count)
        hp_flow_bold(flow, "In every step the field stands at the best place: the pull is steady.");
    int missed = steps->count - good - off;
    if (missed > 0) {
        snprintf(text, sizeof text,
                 "In %d of %d steps the field misses the best place: much current, little or wrong "
                 "torque.",
                 missed, steps->count);
        hp_flow_bold(flow, text);
    }
    if (off > 0) {
        snprintf(text, sizeof text, "In %d of %d steps no current flows: no pull.", off,
                 steps->count);
        hp_flow_bold(flow, text);
    }
    hp_fault_words(s->drive, s->labels, fault, sizeof fault);
    if (fault[0]) {
        snprintf(text, sizeof text, "Faulty: %s.", fault);
        hp_flow_bold(flow, text);
    }
    hp_flow_paragraph(flow,
                      steps->best > 0.0
                          ? "Black pointer: 90\u00b0 ahead of the rotor, where the field pulls "
                            "best. Thick arrow: the field. A tick: it stands within 30\u00b0 of "
                            "there. Else the filled angle shows by how much it misses."
                          : "Black pointer: 90\u00b0 behind the rotor, where the field pulls it "
                            "backward best. Thick arrow: the field. A tick: it stands within "
                            "30\u00b0 of there. Else the filled angle shows by how much it "
                            "misses.");
    hp_flow_paragraph(flow,
                      "The controller reads the code of its Hall inputs U, V, W (dark: 1) and "
                      "drives one motor lead high (+) and one low (\u2212). The field keeps "
                      "its direction while the rotor (grey needle) turns through its grey sector.");
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const steps *steps = data;
    double top = hp_picture_heading(canvas, look, steps->title, subtitle);
    bool wall = look->shape == HP_SHAPE_WALL;
    int columns = look->shape == HP_SHAPE_PHONE ? 2 : steps->count > 6 ? 4 : 3;
    int rows = (steps->count + columns - 1) / columns;
    double height = look->shape == HP_SHAPE_PHONE ? 400.0 : 320.0;
    hp_room room = hp_look_room(look, top, rows * height, 0.74);
    if (wall)
        height = (room.plot.bottom - top) / rows;
    double width = (room.plot.right - room.plot.left) / columns;
    for (int k = 0; k < steps->count; k++) {
        double left = room.plot.left + (k % columns) * width;
        int row = k / columns;
        double y = top + row * height;
        hp_box place = {left, y, left + width, y + height};
        draw_panel(canvas, look, place, steps, k);
    }
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, steps);
    return hp_picture_end(look, &flow);
}

static hp_result draw_steps(const hp_picture_subject *subject, const hp_picture_target *to,
                            hp_error *err)
{
    steps steps = {.subject = subject};
    const hp_drive *drive = subject->drive;
    hp_wiring wiring = hp_wiring_from_number(subject->number);
    char verdict[60] = "";
    steps.count = hp_drive_sectors(drive, &wiring, steps.sector);
    hp_pull_sum sum = hp_pull_sum_make(steps.sector, steps.count);
    steps.best = sum.mean < -0.1 ? -0.5 * HP_PI : 0.5 * HP_PI;
    if (subject->judgement)
        hp_verdict_words(subject->judgement, verdict, sizeof verdict);
    snprintf(steps.title, sizeof steps.title, "The steps of the table, wiring %d%s%s",
             subject->number, verdict[0] ? ": " : "", verdict);
    return hp_picture_put(to, steps.title, draw, &steps, err);
}

const hp_picture hp_picture_steps = {
    .name = "six-steps",
    .question = "Which leads are driven at each code, and does the field stand where it pulls?",
    .makers = HP_MAKER_SURVEY | HP_MAKER_EXPLAIN,
    .needs = HP_NEEDS_NUMBER,
    .draw = draw_steps,
};
