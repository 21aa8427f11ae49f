/*
 * Speed and battery current of each kind of wiring as bars, beside what the label promises.
 *
 * The label's band: the speed at which the back-EMF meets the volts that the throttle asks for,
 * give or take a tenth (chosen: what a label rounds and a meter misreads), and the current that
 * friction takes at that speed, up to the excess that a smooth wiring reaches.
 */
#include "model/stand.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/words/fault_words.h"

#include <math.h>
#include <stdio.h>

/* A smooth wiring takes at most so many times what friction takes. Chosen: of smooth runs at up to
 * a quarter of the torque at rest, 99 in 100 stay below (docs/verdicts.md). */
#define EXCESS_PROMISED 1.6
#define LABEL_SHARE     0.10
#define GROUPS_MAX      (HP_VERDICT_COUNT + HP_KIND_COUNT)

/* Wirings with the same outcome, taken together. */
typedef struct group {
    hp_verdict verdict;
    hp_rough_kind kind;
    int count;
    double speed_low, speed_high;     /* [rev/min] of the wheel, without sign */
    double current_low, current_high; /* [A] */
} group;

typedef struct bars {
    const hp_picture_subject *subject;
    group group[GROUPS_MAX];
    int groups;
    double label_speed;   /* [rev/min] wheel */
    double label_current; /* [A] */
    char title[200];
} bars;

static const char subtitle[] = "Bars: the wirings of each kind, thin part from lowest to highest.";

static group *find_group(bars *b, const hp_judgement *j)
{
    for (int k = 0; k < b->groups; k++)
        if (b->group[k].verdict == j->verdict && b->group[k].kind == j->kind)
            return &b->group[k];
    if (b->groups == GROUPS_MAX)
        return NULL;
    group *g = &b->group[b->groups++];
    *g = (group){.verdict = j->verdict,
                 .kind = j->kind,
                 .speed_low = INFINITY,
                 .speed_high = -(double)INFINITY,
                 .current_low = INFINITY,
                 .current_high = -(double)INFINITY};
    return g;
}

/* Verdict by verdict, kind by kind, so that the groups stand in that order. */
static void make_groups(bars *b, const hp_survey *survey)
{
    static const hp_rough_kind order[] = {HP_KIND_EARLY, HP_KIND_LATE, HP_KIND_NONE};
    for (int v = 0; v < HP_VERDICT_UNDECIDED; v++) {
        for (int o = 0; o < HP_KIND_COUNT; o++) {
            for (int n = 0; n < HP_WIRING_COUNT; n++) {
                const hp_judgement *j = &survey->judgement[n];
                if (j->verdict != (hp_verdict)v || j->kind != order[o])
                    continue;
                group *g = find_group(b, j);
                bool still = j->verdict == HP_VERDICT_STALLED;
                if (!g)
                    continue;
                g->count++;
                hp_range_take(still ? 0.0 : fabs(j->mean.wheel_speed) / HP_RPM, &g->speed_low,
                              &g->speed_high);
                hp_range_take(j->mean.battery_current, &g->current_low, &g->current_high);
            }
        }
    }
}

/* What the parts promise at the throttle set. */
static void make_label(bars *b, const hp_drive *drive)
{
    double rotor = hp_drive_ideal_speed(drive);
    hp_friction friction = hp_stand_friction(&drive->stand);
    double torque = friction.coulomb_nm + friction.viscous_nm_s_rad * rotor;
    b->label_speed = rotor / drive->stand.gear_ratio / HP_RPM;
    b->label_current = torque * rotor / drive->supply.emf_v;
}

/* ---- a panel --------------------------------------------------------------------------------- */

typedef struct measure {
    const char *title;
    bool speed;
    double band_low, band_high;
} measure;

static void range_of(const group *g, bool speed, double *low, double *high)
{
    *low = speed ? g->speed_low : g->current_low;
    *high = speed ? g->speed_high : g->current_high;
}

static double highest(const bars *b, const measure *m)
{
    double most = m->band_high;
    for (int k = 0; k < b->groups; k++) {
        double low, high;
        range_of(&b->group[k], m->speed, &low, &high);
        if (isfinite(high))
            most = fmax(most, high);
    }
    return most;
}

static void draw_row(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes, double y,
                     const group *g, bool speed, double left, double text_room)
{
    char text[64], low_text[24], high_text[24];
    double low, high, half = 0.5 * look->small;
    range_of(g, speed, &low, &high);
    hp_box badge = {left, y - 0.62 * look->small, axes->box.left - 0.5 * look->small,
                    y + 0.62 * look->small};
    hp_verdict_badge(canvas, badge, look->small, g->verdict, HP_DIRECTION_NONE);
    if (!(high >= low))
        return;
    double middle = 0.5 * (low + high);
    double x = hp_axes_x(axes, fmin(middle, axes->x_max));
    hp_box bar = {axes->box.left, y - half, fmax(x, axes->box.left + 2.0), y + half};
    hp_pen_fill(canvas, bar, hp_verdict_ink(g->verdict));
    hp_pen_frame(canvas, bar, HP_INK_BLACK, 1.2);
    double from = hp_axes_x(axes, low), to = hp_axes_x(axes, high);
    hp_pen_line(canvas, from, y, to, y, HP_INK_BLACK, 2.5);
    hp_picture_short(low, low_text, sizeof low_text);
    hp_picture_short(high, high_text, sizeof high_text);
    if (high <= 0.0)
        snprintf(text, sizeof text, "0");
    else if (high - low < 0.02 * high)
        snprintf(text, sizeof text, "%s", high_text);
    else
        snprintf(text, sizeof text, "%s to %s", low_text, high_text);
    hp_pen_text_cut(canvas, fmax(to, bar.right) + 0.4 * look->small, y, text_room,
                    hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true), text);
}

static const char *kind_words(const group *g)
{
    return g->kind == HP_KIND_EARLY ? "too early" : g->kind == HP_KIND_LATE ? "too late" : "";
}

/* "too early \u00d76" */
static void caption(const group *g, char *out, size_t size)
{
    const char *kind = kind_words(g);
    snprintf(out, size, "%s%s\u00d7%d", kind, kind[0] ? " " : "", g->count);
}

/* Of what stands left of the bars. */
static double captions_width(const hp_look *look, const bars *b)
{
    char text[40];
    double most = 6.4 * look->small;
    hp_type plain = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    for (int k = 0; k < b->groups; k++) {
        caption(&b->group[k], text, sizeof text);
        most = fmax(most, hp_pen_text_width(plain, text) + 0.5 * look->small);
    }
    return most;
}

static double panel_height(const hp_look *look, const bars *b, double row)
{
    return hp_look_line(look->small) + b->groups * row + 2.0 * look->small;
}

static void draw_panel(const hp_canvas *canvas, const hp_look *look, const bars *b, hp_box box,
                       double row, const measure *m)
{
    char text[40];
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type plain = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double line = hp_look_line(look->small);
    double most = highest(b, m), text_room = 7.6 * look->small;
    hp_axes axes = {.box = {box.left + captions_width(look, b), box.top + line,
                            box.right - text_room, box.top + line + b->groups * row},
                    .x_max = most > 0.0 && isfinite(most) ? most : 1.0,
                    .y_max = 1.0};
    hp_pen_text_cut(canvas, box.left, box.top + 0.42 * line, box.right - box.left, bold, m->title);
    if (isfinite(m->band_low) && isfinite(m->band_high)) {
        double from = hp_axes_x(&axes, m->band_low), to = hp_axes_x(&axes, m->band_high);
        hp_box band = {from, axes.box.top, fmax(to, from + 3.0), axes.box.bottom};
        hp_pen_fill(canvas, band, HP_INK_PALE);
        hp_pen_line(canvas, band.left, band.top, band.left, band.bottom, HP_INK_GREY, 1.5);
        hp_pen_line(canvas, band.right, band.top, band.right, band.bottom, HP_INK_GREY, 1.5);
    }
    hp_pen_frame(canvas, axes.box, HP_INK_DARK, 1.2);
    hp_axes_draw_x(canvas, look, &axes);
    for (int k = 0; k < b->groups; k++) {
        const group *g = &b->group[k];
        double y = axes.box.top + (k + 0.5) * row - 0.6 * look->small;
        draw_row(canvas, look, &axes, y, g, m->speed, box.left, text_room - 0.4 * look->small);
        caption(g, text, sizeof text);
        hp_pen_text_cut(canvas, box.left, y + 1.25 * look->small,
                        axes.box.left - box.left - 0.2 * look->small, plain, text);
    }
}

static void put_words(hp_flow *flow, const bars *b, const measure *speed, const measure *current)
{
    char text[HP_FAULT_WORDS + 240], fault[HP_FAULT_WORDS], low[24], high[24], amps[24];
    const hp_picture_subject *s = b->subject;
    if (b->groups == 0)
        hp_flow_bold(flow, "No wiring has a verdict: the simulation gave none.");
    snprintf(text, sizeof text,
             "Grey band: what the parts promise at this throttle: %s to %s rev/min at up to %s A.",
             hp_picture_short(speed->band_low, low, sizeof low),
             hp_picture_short(speed->band_high, high, sizeof high),
             hp_picture_short(current->band_high, amps, sizeof amps));
    hp_flow_paragraph(flow, text);
    bool reached = false, rough_fast = false, rough_low = false;
    for (int k = 0; k < b->groups; k++) {
        const group *g = &b->group[k];
        bool rough = g->verdict == HP_VERDICT_ROUGH;
        reached =
            reached || (g->verdict == HP_VERDICT_CORRECT && g->current_high <= current->band_high);
        rough_fast = rough_fast || (rough && g->speed_high >= speed->band_low);
        rough_low = rough_low || (rough && !(g->current_low > current->band_high));
    }
    if (reached && rough_fast && !rough_low)
        hp_flow_bold(flow, "Speed alone does not tell correct from rough. The current does: no "
                           "rough wiring keeps to its band.");
    hp_fault_words(s->drive, s->labels, fault, sizeof fault);
    if (fault[0]) {
        snprintf(text, sizeof text, "Faulty: %s.", fault);
        hp_flow_bold(flow, text);
    }
    if (s->drive->stand.clutch)
        hp_flow_paragraph(flow,
                          "Behind the one-way clutch a rotor that runs backward does not turn "
                          "the wheel: its bar is empty.");
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const bars *b = data;
    measure speed = {"Wheel speed, rev/min", true, (1.0 - LABEL_SHARE) * b->label_speed,
                     (1.0 + LABEL_SHARE) * b->label_speed};
    measure current = {"Battery current, A", false, 0.0, EXCESS_PROMISED * b->label_current};
    double top = hp_picture_heading(canvas, look, b->title, subtitle);
    bool wall = look->shape == HP_SHAPE_WALL;
    double row = 2.75 * look->small, words = 4.5 * hp_look_line(look->body);
    if (wall && b->groups > 0)
        row = fmin(2.0 * row,
                   (look->height - look->margin - top - words - 4.0 * look->small) / b->groups);
    double height = panel_height(look, b, row);
    hp_room room = hp_look_room(look, top, 2.0 * height + look->gap, 0.5);
    hp_box first = {room.plot.left, top, room.plot.right, top + height};
    hp_box second = {room.plot.left, top + height + look->gap, room.plot.right, room.plot.bottom};
    if (wall) {
        second = (hp_box){room.words.left, top, room.words.right, top + height};
        room.words.left = room.plot.left;
        room.words.top = top + height + 0.5 * look->gap;
    }
    draw_panel(canvas, look, b, first, row, &speed);
    draw_panel(canvas, look, b, second, row, &current);
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, b, &speed, &current);
    return hp_picture_end(look, &flow);
}

static hp_result draw_bars(const hp_picture_subject *subject, const hp_picture_target *to,
                           hp_error *err)
{
    bars b = {.subject = subject};
    const char *machine = subject->labels->machine;
    make_groups(&b, subject->survey);
    make_label(&b, subject->drive);
    snprintf(b.title, sizeof b.title, "Speed and current of each kind%s%s", machine[0] ? ": " : "",
             machine);
    return hp_picture_put(to, b.title, draw, &b, err);
}

const hp_picture hp_picture_bars = {
    .name = "bars",
    .question = "Which speed and which current does each kind of wiring show?",
    .makers = HP_MAKER_SURVEY,
    .needs = HP_NEEDS_SURVEY,
    .draw = draw_bars,
};
