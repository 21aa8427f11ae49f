/*
 * Lead of the field over the rotor in one wiring: a large dial, and its sectors as a table.
 *
 * Geometry alone; the verdict beside it is the simulation's.
 */
#include "report/picture/dial.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/words/explain.h"
#include "report/words/fault_words.h"
#include "report/words/parts_text.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define COLUMNS 5

typedef struct one {
    const hp_picture_subject *subject;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count;
    bool open, gaps;
    char title[200];
    char joints[20 * HP_LABEL_SIZE];
} one;

/* Centres and widths of the table's columns, as shares of its width. */
static const double column[COLUMNS] = {0.03, 0.17, 0.325, 0.535, 0.852};
static const double column_width[COLUMNS] = {0.06, 0.22, 0.09, 0.32, 0.28};

/* A pull the wrong way that shows as an arc beyond the zero. Chosen: sin(2 degrees). */
#define SHOWS 0.035

/* What the arcs say, by how the pull behaves over the turn. */
static const char *pull_words(const hp_pull_sum *sum)
{
    double against = sum->mean >= 0.0 ? -sum->least : sum->most;
    switch (sum->pull) {
    case HP_PULL_STEADY:
        return "All arcs lie in the grey zone: the pull goes one way and never drops to nothing. "
               "Smooth.";
    case HP_PULL_FADING:
        if (against > SHOWS)
            return "It pulls mostly the same way, but drops to nothing once a step and for a "
                   "moment pulls the other way. Rough: much of the current makes heat, not torque.";
        return "It always pulls the same way, but drops to nothing once a step. Rough: much of "
               "the current makes heat, not torque.";
    case HP_PULL_CHANGING:
        return "The pull changes sides as the rotor turns. The rotor is held, shuffles or shivers "
               "about a place where it rests.";
    default:
        return sum->open > 0.0
                   ? "No current flows at any angle, so nothing pulls."
                   : "No pair of leads is ever driven: the controller's table lacks these codes.";
    }
}

/* Number of the arc, at its middle, on a white disc. */
static void draw_numbers(const hp_canvas *canvas, const hp_look *look, const hp_dial *dial,
                         const one *one)
{
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    for (int k = 0; k < one->count; k++) {
        const hp_lead_sector *s = &one->sector[k];
        char text[16];
        if (s->high < 0)
            continue;
        double middle = 0.5 * (s->lead_from + s->lead_to);
        double radius = hp_dial_radius(dial, k, one->count);
        double x = dial->x + radius * cos(middle), y = dial->y - radius * sin(middle);
        snprintf(text, sizeof text, "%d", k + 1);
        hp_pen_disc(canvas, x, y, 0.58 * look->small, HP_INK_WHITE);
        hp_pen_text(canvas, x, y, type, text);
    }
}

static void draw_scale(const hp_canvas *canvas, const hp_look *look, const hp_dial *dial)
{
    double tick = 0.4 * look->small;
    for (int degrees = -150; degrees <= 180; degrees += 30) {
        double angle = degrees * HP_DEG, r = dial->outer;
        char text[16];
        hp_align align = fabs(cos(angle)) < 0.1 ? HP_ALIGN_CENTRE
                         : cos(angle) > 0.0     ? HP_ALIGN_LEFT
                                                : HP_ALIGN_RIGHT;
        hp_type type = hp_look_small(look, HP_INK_BLACK, align, degrees % 90 == 0);
        hp_pen_line(canvas, dial->x + r * cos(angle), dial->y - r * sin(angle),
                    dial->x + (r + tick) * cos(angle), dial->y - (r + tick) * sin(angle),
                    HP_INK_GREY, 2.0);
        hp_picture_degrees(angle, text, sizeof text);
        hp_pen_text(canvas, dial->x + (r + 1.8 * tick) * cos(angle),
                    dial->y - (r + 2.3 * tick) * sin(angle), type, text);
    }
}

static void draw_dial(const hp_canvas *canvas, const hp_look *look, const one *one, double x,
                      double y, double radius)
{
    hp_dial dial = {.x = x, .y = y, .inner = 0.28 * radius, .outer = radius, .gap = 0.022 * radius};
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    hp_dial_ground(canvas, &dial);
    hp_pen_arrow(canvas, x - 0.18 * radius, y, x + 0.22 * radius, y, HP_INK_DARK, 0.026 * radius);
    hp_dial_arcs(canvas, &dial, one->sector, one->count);
    draw_numbers(canvas, look, &dial, one);
    hp_pen_text(canvas, x, y + 0.65 * look->small + 0.06 * radius, type, "rotor");
    draw_scale(canvas, look, &dial);
}

static void draw_row(const hp_flow *flow, double y, const one *one, int k)
{
    const hp_lead_sector *s = &one->sector[k];
    char text[COLUMNS][2 * HP_LABEL_SIZE + 16];
    double to = hp_angle_wrap(s->to), width = flow->width;
    hp_type type = hp_look_small(flow->look, HP_INK_BLACK, HP_ALIGN_CENTRE, false);
    snprintf(text[0], sizeof text[0], "%d", k + 1);
    hp_picture_degrees_range(s->from, to < 1e-9 ? HP_TWO_PI : to, text[1], sizeof text[1]);
    snprintf(text[2], sizeof text[2], "%d%d%d", s->code >> 2 & 1, s->code >> 1 & 1, s->code & 1);
    if (s->high < 0) {
        snprintf(text[3], sizeof text[3], "nothing driven");
        text[4][0] = '\0';
    } else {
        hp_picture_pair(one->subject->labels, s->high, s->low, type, column_width[3] * width,
                        text[3], sizeof text[3]);
        hp_picture_degrees_range(s->lead_from, s->lead_to, text[4], sizeof text[4]);
    }
    for (int c = 0; c < COLUMNS; c++)
        hp_pen_text_cut(flow->canvas, flow->left + column[c] * width, y, column_width[c] * width,
                        type, text[c]);
}

static void put_table(hp_flow *flow, const one *one)
{
    static const char *const head[COLUMNS] = {"arc", "rotor at", "code", "leads driven", "field"};
    hp_type bold = hp_look_small(flow->look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    double row = hp_look_line(flow->look->small), height = (one->count + 1.3) * row;
    if (!hp_flow_fits(flow, height))
        return;
    for (int c = 0; c < COLUMNS; c++)
        hp_pen_text_cut(flow->canvas, flow->left + column[c] * flow->width, flow->y + 0.5 * row,
                        fmax(column_width[c] * flow->width, 3.2 * flow->look->small), bold,
                        head[c]);
    hp_pen_line(flow->canvas, flow->left, flow->y + row, flow->left + flow->width, flow->y + row,
                HP_INK_GREY, 1.0);
    for (int k = 0; k < one->count; k++)
        draw_row(flow, flow->y + (k + 1.6) * row, one, k);
    flow->y += height + 0.3 * row;
}

static void put_words(hp_flow *flow, const one *one)
{
    const hp_picture_subject *s = one->subject;
    char fault[HP_FAULT_WORDS], text[HP_FAULT_WORDS + 300];
    hp_pull_sum sum = hp_pull_sum_make(one->sector, one->count);
    hp_flow_bold(flow, pull_words(&sum));
    if (s->judgement) {
        snprintf(text, sizeof text, "The simulation's verdict: %s; %s.",
                 hp_verdict_name(s->judgement->verdict), s->judgement->reason);
        hp_flow_paragraph(flow, text);
    }
    hp_fault_words(s->drive, s->labels, fault, sizeof fault);
    if (fault[0]) {
        snprintf(text, sizeof text, "Faulty: %s.%s", fault,
                 one->open ? " Empty arcs: one phase lead is open, and no current flows in them."
                           : "");
        hp_flow_bold(flow, text);
    }
    put_table(flow, one);
    if (one->gaps)
        hp_flow_paragraph(flow, "Where nothing is driven an arc is missing: the controller's table "
                                "lacks the code.");
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const one *one = data;
    double y = hp_picture_heading(canvas, look, one->title, one->joints);
    double pad = 2.6 * look->small, key = (one->open ? 4.0 : 3.0) * hp_look_line(look->small);
    double radius = look->shape == HP_SHAPE_PHONE ? 230.0 : 210.0;
    hp_room room = hp_look_room(look, y, 2.0 * (radius + pad), 0.46);
    if (look->shape == HP_SHAPE_WALL)
        radius = fmin(0.5 * (room.plot.bottom - y - key) - 0.7 * pad,
                      0.5 * (room.plot.right - room.plot.left) - 1.2 * pad);
    double x = 0.5 * (room.plot.left + room.plot.right);
    draw_dial(canvas, look, one, x, y + radius + 0.8 * pad, radius);
    double below = y + 2.0 * radius + 1.6 * pad;
    double end = hp_dial_key(canvas, look, room.plot.left, below, one->open);
    if (look->shape != HP_SHAPE_WALL)
        room.words.top = end + 0.4 * look->gap;
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, one);
    return hp_picture_end(look, &flow);
}

/* "U (blue) to yellow, ...": controller side to motor side. */
static void put_joints(const char side[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const char motor[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const int to[HP_PHASE_COUNT], char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[HP_LABEL_SIZE + 16];
        hp_phrase_add(&p, "%s%s to %s", j ? ", " : "", hp_lead_name(j, side[j], name, sizeof name),
                      hp_picture_label(motor[to[j]], to[j]));
    }
}

static void describe_joints(const hp_wiring *w, const hp_labels *labels, char *text, size_t size)
{
    char sensors[8 * HP_LABEL_SIZE], phases[8 * HP_LABEL_SIZE];
    put_joints(labels->controller_input, labels->motor_sensor, w->sensor, sensors, sizeof sensors);
    put_joints(labels->controller_output, labels->motor_lead, w->phase, phases, sizeof phases);
    snprintf(text, size, "Controller to motor. Hall leads: %s. Phase leads: %s.", sensors, phases);
}

static hp_result draw_lead_angle(const hp_picture_subject *subject, const hp_picture_target *to,
                                 hp_error *err)
{
    one one = {.subject = subject};
    const hp_drive *drive = subject->drive;
    hp_wiring wiring = hp_wiring_from_number(subject->number);
    char verdict[60] = "";
    one.count = hp_drive_sectors(drive, &wiring, one.sector);
    for (int k = 0; k < one.count; k++)
        one.gaps = one.gaps || one.sector[k].high < 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        one.open = one.open || drive->motor.lead_open[k];
    if (subject->judgement)
        hp_verdict_words(subject->judgement, verdict, sizeof verdict);
    snprintf(one.title, sizeof one.title, "Where the field stands in wiring %d%s%s",
             subject->number, verdict[0] ? ": " : "", verdict);
    describe_joints(&wiring, subject->labels, one.joints, sizeof one.joints);
    return hp_picture_put(to, one.title, draw, &one, err);
}

const hp_picture hp_picture_lead_angle = {
    .name = "lead-angle",
    .question = "Where does the field stand in this wiring, step by step?",
    .makers = HP_MAKER_EXPLAIN,
    .needs = HP_NEEDS_NUMBER,
    .draw = draw_lead_angle,
};
