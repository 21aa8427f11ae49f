/*
 * A course of the controls: what is asked for and what duty comes of it, torque and wheel speed
 * over time, with every action marked.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/words/ride_text.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define SAMPLES (HP_COURSE_SAMPLES + 1)
#define STEPS   (2 * HP_DEMANDS_MAX + 2)
#define EVEN_S  3.0 /* so long at least after every action */

typedef enum panel { PANEL_DUTY, PANEL_TORQUE, PANEL_SPEED, PANEL_COUNT } panel;

static const char *const panel_title[PANEL_COUNT] = {"Asked for (dotted) and duty, %",
                                                     "Torque, N m", "Wheel speed, rev/min"};

typedef struct course_picture {
    const hp_picture_subject *subject;
    const hp_course_run *run;
    double time[SAMPLES], value[PANEL_COUNT][SAMPLES];
    size_t samples;
    double step_time[STEPS], step_value[STEPS]; /* what is asked for */
    size_t steps;
    double low[PANEL_COUNT], high[PANEL_COUNT];
    double until; /* [s] shown */
    int focus;    /* index of the moment that it is about; -1: none */
    char title[HP_RIDE_WORDS];
    char subtitle[HP_RIDE_WORDS + 300];
} course_picture;

/* ---- values ---------------------------------------------------------------------------------- */

static void take_samples(course_picture *c)
{
    const hp_trace *trace = &c->run->trace;
    for (size_t k = 0; k < trace->count && k < SAMPLES; k++) {
        const hp_sample *s = &trace->sample[k];
        if (s->time > c->until)
            break;
        c->samples = k + 1;
        c->time[k] = s->time;
        c->value[PANEL_DUTY][k] = 100.0 * s->duty;
        c->value[PANEL_TORQUE][k] = s->torque;
        c->value[PANEL_SPEED][k] = s->wheel_speed / HP_RPM;
    }
    for (int p = 0; p < PANEL_COUNT; p++) {
        for (size_t k = 0; k < c->samples; k++)
            hp_range_take(c->value[p][k], &c->low[p], &c->high[p]);
        if (p == PANEL_DUTY)
            hp_range_take(100.0, &c->low[p], &c->high[p]);
        hp_range_round(&c->low[p], &c->high[p]);
        /* Nothing is what the picture is about: it stands clear of the frame. */
        c->low[p] = fmin(c->low[p], -0.04 * c->high[p]);
    }
}

static void take_steps(course_picture *c)
{
    double asked = 0.0;
    for (int k = 0; k <= c->run->demands; k++) {
        double t = k < c->run->demands ? c->run->demand[k].time : c->until;
        if (t > c->until)
            continue;
        if (k > 0) {
            c->step_time[c->steps] = t;
            c->step_value[c->steps++] = asked;
        }
        asked = k < c->run->demands ? 100.0 * c->run->demand[k].duty : asked;
        c->step_time[c->steps] = t;
        c->step_value[c->steps++] = asked;
    }
}

/* A wheel that stands, or turns evenly, need not be shown for long. */
static double end_shown(const hp_course_run *run)
{
    double until = 0.0;
    for (int k = 0; k < run->moments; k++) {
        const hp_moment *m = &run->moment[k];
        bool coasts = m->no_torque_s < (double)INFINITY && m->standstill_s == (double)INFINITY;
        double own = m->standstill_s < (double)INFINITY ? m->standstill_s : coasts ? INFINITY : 0.0;
        until = fmax(until, m->action.time + fmax(own, EVEN_S) + 0.2 * EVEN_S);
    }
    return fmin(until, run->seconds);
}

/* ---- drawing --------------------------------------------------------------------------------- */

static hp_ink moment_ink(const course_picture *c, int k)
{
    return k == c->focus ? HP_INK_VERMILION : HP_INK_DARK;
}

/* Lines of all moments through a panel. */
static void draw_moments(const hp_canvas *canvas, const course_picture *c, const hp_axes *axes)
{
    for (int k = 0; k < c->run->moments; k++) {
        double x = hp_axes_x(axes, c->run->moment[k].action.time);
        hp_pen_line(canvas, x, axes->box.top, x, axes->box.bottom, moment_ink(c, k),
                    k == c->focus ? 3.0 : 1.5);
    }
}

/* Their numbers above the first panel, pushed apart where they come too close. */
static void draw_numbers(const hp_canvas *canvas, const hp_look *look, const course_picture *c,
                         const hp_axes *axes)
{
    double radius = 0.72 * look->small, y = axes->box.top - radius - 5.0, last = -INFINITY;
    hp_type type = hp_look_small(look, HP_INK_WHITE, HP_ALIGN_CENTRE, true);
    for (int k = 0; k < c->run->moments; k++) {
        char number[12];
        double x = hp_axes_x(axes, c->run->moment[k].action.time);
        double place = fmax(x, last + 2.0 * radius + 2.0);
        last = place;
        snprintf(number, sizeof number, "%d", k + 1);
        hp_pen_line(canvas, x, axes->box.top, place, y, moment_ink(c, k), 1.5);
        hp_pen_disc(canvas, place, y, radius, moment_ink(c, k));
        hp_pen_text(canvas, place, y, type, number);
    }
}

static hp_axes panel_axes(const hp_look *look, const course_picture *c, hp_box box, panel p)
{
    double line = hp_look_line(look->small);
    double head = p == PANEL_DUTY ? 2.6 * line : line; /* numbers stand over the first */
    return (hp_axes){.box = {box.left + 4.0 * look->small, box.top + head,
                             box.right - 0.5 * look->small, box.bottom},
                     .x_max = c->until,
                     .y_min = c->low[p],
                     .y_max = c->high[p]};
}

static void draw_panel(const hp_canvas *canvas, const hp_look *look, const course_picture *c,
                       hp_box box, panel p)
{
    double line = hp_look_line(look->small);
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_axes axes = panel_axes(look, c, box, p);
    hp_pen_text_cut(canvas, box.left, box.top + 0.42 * line, box.right - box.left, bold,
                    panel_title[p]);
    hp_axes_draw_y(canvas, look, &axes);
    draw_moments(canvas, c, &axes);
    hp_pen_curve(canvas, &axes, c->time, c->value[p], c->samples,
                 p == PANEL_TORQUE ? HP_INK_DARK : HP_INK_BLUE, p == PANEL_TORQUE ? 1.5 : 3.0,
                 HP_DASH_SOLID);
    if (p == PANEL_DUTY) {
        hp_pen_curve(canvas, &axes, c->step_time, c->step_value, c->steps, HP_INK_BLACK, 2.5,
                     HP_DASH_SHORT);
        draw_numbers(canvas, look, c, &axes);
    }
    if (p + 1 < PANEL_COUNT)
        return;
    double y = hp_axes_draw_x(canvas, look, &axes) + 0.3 * line;
    hp_type right = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_RIGHT, true);
    hp_pen_text(canvas, axes.box.right, y, right, "Time, s");
}

static void draw_panels(const hp_canvas *canvas, const hp_look *look, const course_picture *c,
                        hp_box box)
{
    double line = hp_look_line(look->small), gap = 0.5 * look->small;
    double foot = 1.8 * look->small + line; /* time below the last */
    double height = (box.bottom - box.top - foot - 1.6 * line - 2.0 * gap) / PANEL_COUNT;
    double y = box.top;
    for (panel p = 0; p < PANEL_COUNT; p++) {
        double own = height + (p == PANEL_DUTY ? 1.6 * line : 0.0);
        draw_panel(canvas, look, c, (hp_box){box.left, y, box.right, y + own}, p);
        y += own + gap;
    }
}

/* ---- words ----------------------------------------------------------------------------------- */

static void put_words(hp_flow *flow, const course_picture *c)
{
    char action[120], words[HP_RIDE_WORDS], text[2 * HP_RIDE_WORDS + 20];
    for (int k = 0; k < c->run->moments; k++) {
        const hp_moment *m = &c->run->moment[k];
        snprintf(text, sizeof text, "%d. At %.4g s %s: %s.", k + 1, m->action.time,
                 hp_action_words(&m->action, &c->run->controls, action, sizeof action),
                 hp_moment_words(m, words, sizeof words));
        if (k == c->focus)
            hp_flow_bold(flow, text);
        else
            hp_flow_paragraph(flow, text);
    }
    if (c->subject->what_if) {
        char finding[2 * HP_RIDE_WORDS];
        hp_what_if_conclusion(c->subject->what_if, finding, sizeof finding);
        snprintf(text, sizeof text, "Finding: %s", finding);
        hp_flow_paragraph(flow, text);
    }
    hp_flow_paragraph(flow, "Simulated, wheel lifted. Dotted: the duty that the controls ask for. "
                            "Where it falls to nothing every switch of the bridge opens, and the "
                            "wheel coasts. Try each on the machine itself before it is ridden.");
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const course_picture *c = data;
    double top = hp_picture_heading(canvas, look, c->title, c->subtitle);
    double height = look->shape == HP_SHAPE_PHONE ? 780.0 : 700.0;
    hp_room room = hp_look_room(look, top, height, 0.58);
    draw_panels(canvas, look, c, room.plot);
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, c);
    return hp_picture_end(look, &flow);
}

static hp_result draw_course(const hp_picture_subject *subject, const hp_picture_target *to,
                             hp_error *err)
{
    course_picture c = {.subject = subject, .run = subject->course, .focus = -1};
    const char *machine = subject->labels->machine;
    c.until = end_shown(c.run);
    take_samples(&c);
    take_steps(&c);
    char note[HP_RIDE_WORDS] = "";
    if (subject->what_if) {
        hp_what_if_shown_title(subject->what_if, subject->controls, c.title, sizeof c.title);
        hp_what_if_shown_note(subject->what_if, note, sizeof note);
        c.focus = hp_what_if_plan_make(subject->what_if->what, subject->controls).focus;
    } else {
        snprintf(c.title, sizeof c.title, "What the controls make it do");
    }
    snprintf(c.subtitle, sizeof c.subtitle, "%s%sWiring %d.%s%s", machine, machine[0] ? ". " : "",
             subject->number, note[0] ? " " : "", note);
    return hp_picture_put(to, c.title, draw, &c, err);
}

const hp_picture hp_picture_course = {
    .name = "course",
    .question = "What does the motor do when a control is used, or fails?",
    .makers = HP_MAKER_CONTROLS,
    .needs = HP_NEEDS_COURSE | HP_NEEDS_NUMBER,
    .draw = draw_course,
};
