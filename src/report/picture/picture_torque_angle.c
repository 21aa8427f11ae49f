/*
 * Torque against the rotor's angle: a smooth wiring, one whose field stands too early, one too
 * late and an opposed one in one frame.
 *
 * Geometry and the motor's own back-EMF shape: the torque per ampere that the driven pair gives,
 * relative to the most that a pair can give.
 */
#include "model/backemf.h"
#include "model/lead.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/words/fault_words.h"

#include <math.h>
#include <stdio.h>

#define POINTS 721 /* a point every half degree */

typedef struct curve {
    hp_example_kind kind;
    int number;
    double mean;
    double y[POINTS]; /* [%] */
} curve;

typedef struct torque_angle {
    const hp_picture_subject *subject;
    double x[POINTS]; /* [degrees electrical] */
    curve curve[HP_EXAMPLE_COUNT];
    int curves;
    char title[200];
} torque_angle;

/* Dark and light, and a line style each: told apart without colour. */
static const hp_curve_style style[HP_EXAMPLE_COUNT] = {
    [HP_EXAMPLE_SMOOTH] = {HP_INK_GREEN, HP_DASH_SOLID, 5.0},
    [HP_EXAMPLE_EARLY] = {HP_INK_ORANGE, HP_DASH_LONG, 3.5},
    [HP_EXAMPLE_LATE] = {HP_INK_BLUE, HP_DASH_SHORT, 3.5},
    [HP_EXAMPLE_OTHER] = {HP_INK_PURPLE, HP_DASH_SOLID, 2.0},
    [HP_EXAMPLE_OPPOSED] = {HP_INK_VERMILION, HP_DASH_MIXED, 3.0},
};

hp_curve_style hp_example_style(hp_example_kind kind)
{
    return style[kind];
}

static const char subtitle[] = "One ampere through the driven pair, over one electrical turn.";

static bool is_inside(const hp_lead_sector *s, double theta)
{
    double along = hp_angle_wrap(theta - s->from);
    return along < s->to - s->from;
}

/* Torque per ampere at an angle, relative to 2 ke; none where the pair's lead is open. */
static double pull_at(const hp_drive *drive, const hp_lead_sector *sector, int count, double theta)
{
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        if (!is_inside(s, theta))
            continue;
        if (!hp_lead_flows(s))
            return 0.0;
        return 0.5 * (hp_backemf_value(&drive->motor.backemf, theta - hp_phase_axis(s->high)) -
                      hp_backemf_value(&drive->motor.backemf, theta - hp_phase_axis(s->low)));
    }
    return 0.0;
}

static void fill_curve(torque_angle *t, hp_example_kind kind, int number)
{
    const hp_drive *drive = t->subject->drive;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    hp_wiring wiring = hp_wiring_from_number(number);
    int count = hp_drive_sectors(drive, &wiring, sector);
    curve *c = &t->curve[t->curves++];
    c->kind = kind;
    c->number = number;
    c->mean = 0.0;
    for (int k = 0; k < POINTS; k++) {
        t->x[k] = 360.0 * k / (POINTS - 1);
        c->y[k] = 100.0 * pull_at(drive, sector, count, t->x[k] * HP_DEG);
        c->mean += k + 1 < POINTS ? c->y[k] / (POINTS - 1) : 0.0;
    }
}

/* A stalled wiring whose pull keeps to one side is not opposed: a part of it is faulty. */
static const char *curve_name(const curve *c)
{
    double low = INFINITY, high = -(double)INFINITY;
    for (int k = 0; k < POINTS; k++)
        hp_range_take(c->y[k], &low, &high);
    bool opposed = low < 0.0 && high > 0.0;
    return c->kind == HP_EXAMPLE_OPPOSED && !opposed ? hp_verdict_name(HP_VERDICT_STALLED)
                                                     : hp_example_name(c->kind);
}

/* Line, what it is, its mean: a row for every curve. */
static void put_legend(hp_flow *flow, const torque_angle *t)
{
    const hp_look *look = flow->look;
    hp_type type = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    hp_type bold = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double row = 1.45 * look->body, sample = 4.0 * look->body, gap = 0.5 * look->body;
    for (int k = 0; k < t->curves; k++) {
        const curve *c = &t->curve[k];
        char text[80], mean[24];
        if (!hp_flow_fits(flow, row))
            return;
        double y = flow->y + 0.5 * row, x = flow->left + sample + gap;
        hp_curve_sample(flow->canvas, flow->left, y, sample, style[c->kind]);
        hp_pen_text(flow->canvas, x, y, bold, curve_name(c));
        x += hp_pen_text_width(bold, curve_name(c)) + gap;
        hp_tick_text(round(c->mean), 1.0, mean, sizeof mean);
        snprintf(text, sizeof text, "wiring %d, mean %s %%", c->number, mean);
        hp_pen_text_cut(flow->canvas, x, y, flow->left + flow->width - x, type, text);
        flow->y += row;
    }
    flow->y += 0.4 * look->body;
}

static void put_words(hp_flow *flow, const torque_angle *t)
{
    char fault[HP_FAULT_WORDS], text[HP_FAULT_WORDS + 60];
    put_legend(flow, t);
    hp_fault_words(t->subject->drive, t->subject->labels, fault, sizeof fault);
    if (fault[0]) {
        snprintf(text, sizeof text, "Faulty: %s.", fault);
        hp_flow_bold(flow, text);
    }
    /* True of good parts only. */
    for (int k = 0; k < t->curves && !fault[0]; k++) {
        switch (t->curve[k].kind) {
        case HP_EXAMPLE_SMOOTH:
            hp_flow_paragraph(flow, "Smooth: always near the top. Every ampere pulls.");
            break;
        case HP_EXAMPLE_EARLY:
            hp_flow_paragraph(flow, "Too early, too late: mostly the same way, but it drops to "
                                    "nothing once a step. The amperes that do not pull make heat.");
            break;
        case HP_EXAMPLE_OPPOSED:
            hp_flow_paragraph(flow, "Opposed: forward, then backward. The rotor rests where the "
                                    "curve falls through zero.");
            break;
        default: break;
        }
    }
    bool has[HP_EXAMPLE_COUNT];
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++)
        has[k] = hp_picture_example(t->subject->survey, (hp_example_kind)k) > 0;
    hp_flow_missing(flow, has);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const torque_angle *t = data;
    double top = hp_picture_heading(canvas, look, t->title, subtitle);
    double line = hp_look_line(look->small);
    hp_type label = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double height = look->shape == HP_SHAPE_PHONE ? 560.0 : 620.0;
    hp_room room = hp_look_room(look, top, height, 0.62);
    hp_axes axes = {.box = {room.plot.left + 4.0 * look->small, top + 1.2 * line,
                            room.plot.right - look->small, room.plot.bottom - 2.6 * line},
                    .x_max = 360.0,
                    .y_min = -112.0,
                    .y_max = 112.0};
    hp_pen_text_cut(canvas, room.plot.left, top + 0.45 * line, room.plot.right - room.plot.left,
                    label, "Torque, % of the most that the current could give");
    hp_axes_draw_y(canvas, look, &axes);
    for (int k = 0; k < t->curves; k++) {
        const curve *c = &t->curve[k];
        hp_pen_curve(canvas, &axes, t->x, c->y, POINTS, style[c->kind].ink, style[c->kind].width,
                     style[c->kind].dash);
    }
    double y = hp_axes_draw_x_step(canvas, look, &axes, 60.0) + 0.45 * line;
    label.align = HP_ALIGN_RIGHT;
    hp_pen_text_cut(canvas, axes.box.right, y, axes.box.right - axes.box.left, label,
                    "Rotor angle, degrees electrical");
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, t);
    return hp_picture_end(look, &flow);
}

static hp_result draw_torque_angle(const hp_picture_subject *subject, const hp_picture_target *to,
                                   hp_error *err)
{
    torque_angle t = {.subject = subject};
    const char *machine = subject->labels->machine;
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++) {
        int number = hp_picture_example(subject->survey, (hp_example_kind)k);
        if (number)
            fill_curve(&t, (hp_example_kind)k, number);
    }
    snprintf(t.title, sizeof t.title, "Torque against rotor angle%s%s", machine[0] ? ": " : "",
             machine);
    return hp_picture_put(to, t.title, draw, &t, err);
}

const hp_picture hp_picture_torque_angle = {
    .name = "torque-angle",
    .question = "Why does a wrong wiring jerk, or stand still?",
    .makers = HP_MAKER_SURVEY,
    .needs = HP_NEEDS_SURVEY,
    .draw = draw_torque_angle,
};
