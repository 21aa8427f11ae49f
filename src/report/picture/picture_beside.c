/*
 * Smooth beside rough: current, torque and speed of one wiring of each kind on one scale.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/picture/waves.h"
#include "report/words/fault_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const hp_wave_kind rows[] = {HP_WAVE_CURRENT, HP_WAVE_TORQUE, HP_WAVE_SPEED};
#define ROWS (int)(sizeof rows / sizeof rows[0])

typedef struct column {
    hp_example_kind kind;
    const hp_example *example;
    hp_waves waves; /* owned */
} column;

typedef struct beside {
    const hp_picture_subject *subject;
    column column[HP_EXAMPLE_COUNT];
    int columns;
    double low[HP_WAVE_COUNT], high[HP_WAVE_COUNT]; /* scales, for all columns */
    double longest;                                 /* time shown, for all columns */
    char title[200];
    char subtitle[HP_FAULT_WORDS + 200];
    bool faulty; /* a part: what a run shows depends on the start position */
} beside;

/* Above a column: its verdict, what kind it is, its number. */
static void draw_head(const hp_canvas *canvas, const hp_look *look, const column *c, hp_box box)
{
    char text[40];
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    double line = hp_look_line(look->small), x = 0.5 * (box.left + box.right);
    hp_box badge = {box.left, box.top, box.right, box.top + line};
    hp_verdict_badge(canvas, badge, look->small, c->example->judgement.verdict, HP_DIRECTION_NONE);
    hp_pen_text_cut(canvas, x, box.top + 1.55 * line, box.right - box.left, type,
                    hp_example_name(c->kind));
    type.bold = false;
    snprintf(text, sizeof text, "wiring %d", c->example->number);
    hp_pen_text_cut(canvas, x, box.top + 2.5 * line, box.right - box.left, type, text);
}

/* Below a column: what a person measures. */
static void draw_foot(const hp_canvas *canvas, const hp_look *look, const column *c, hp_box box)
{
    char text[40], number[24];
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    const hp_figures *f = &c->example->judgement.mean;
    double line = hp_look_line(look->small), x = 0.5 * (box.left + box.right);
    snprintf(text, sizeof text, "%s A",
             hp_picture_short(f->battery_current, number, sizeof number));
    hp_pen_text_cut(canvas, x, box.top + 0.6 * line, box.right - box.left, type, text);
}

static void draw_column(const hp_canvas *canvas, const hp_look *look, const beside *b, int k,
                        hp_box box, double head, double row, double title)
{
    column c = b->column[k];
    hp_box top = {box.left, box.top, box.right, box.top + head};
    draw_head(canvas, look, &c, top);
    for (int r = 0; r < ROWS; r++) {
        double y = box.top + head + r * (row + title) + title;
        hp_axes axes = {.box = {box.left, y, box.right, y + row},
                        .x_max = b->longest,
                        .y_min = b->low[rows[r]],
                        .y_max = b->high[rows[r]]};
        if (k == 0)
            hp_axes_draw_y(canvas, look, &axes);
        else
            hp_axes_draw_frame(canvas, &axes);
        hp_wave_draw(canvas, &c.waves, &axes, rows[r], b->subject->labels);
    }
    hp_box foot = {box.left, box.top + head + ROWS * (row + title), box.right, box.bottom};
    draw_foot(canvas, look, &c, foot);
}

static void put_words(hp_flow *flow, const beside *b)
{
    char text[240], number[24];
    const column *first = &b->column[0];
    double most = 0.0;
    for (int k = 1; k < b->columns; k++)
        if (b->column[k].kind != HP_EXAMPLE_OPPOSED)
            most = fmax(most, b->column[k].example->judgement.mean.battery_current);
    double least = first->example->judgement.mean.battery_current;
    if (first->kind == HP_EXAMPLE_SMOOTH && least > 0.0 && most > 2.0 * least) {
        snprintf(text, sizeof text,
                 "A rough wheel may run as fast as a smooth one, but it draws up to %s times the "
                 "battery current: much current, little torque.",
                 hp_picture_short(most / least, number, sizeof number));
        hp_flow_bold(flow, text);
    }
    snprintf(text, sizeof text,
             "Every column has the same scales and shows %.3g %s. The figure below is the battery "
             "current%s.",
             b->longest, first->waves.unit,
             b->faulty ? ", on average over the start positions" : "");
    hp_flow_paragraph(flow, text);
    bool has[HP_EXAMPLE_COUNT];
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++)
        has[k] = b->subject->example[k].number > 0;
    hp_flow_missing(flow, has);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const beside *b = data;
    double top = hp_picture_heading(canvas, look, b->title, b->subtitle);
    double line = hp_look_line(look->small), head = 3.2 * line, title = 1.5 * line;
    bool wall = look->shape == HP_SHAPE_WALL;
    hp_wave_legend(canvas, look, look->margin, top + 0.5 * line, look->width - 2.0 * look->margin,
                   b->subject->labels);
    top += 1.4 * line;
    double row = look->shape == HP_SHAPE_PHONE ? 210.0 : 200.0;
    hp_room room = hp_look_room(look, top, head + ROWS * (row + title) + 1.3 * line, 0.74);
    if (wall)
        row = (room.plot.bottom - top - head - 1.3 * line) / ROWS - title;
    double axis = 4.0 * look->small, gap = 0.5 * look->small;
    double width = (room.plot.right - room.plot.left - axis + gap) / b->columns - gap;
    for (int r = 0; r < ROWS; r++) {
        double y = top + head + r * (row + title) + 0.6 * title;
        hp_pen_text_cut(canvas, room.plot.left, y, room.plot.right - room.plot.left,
                        hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true),
                        hp_wave_title(rows[r]));
    }
    for (int k = 0; k < b->columns; k++) {
        double left = room.plot.left + axis + k * (width + gap);
        hp_box box = {left, top, left + width, room.plot.bottom};
        draw_column(canvas, look, b, k, box, head, row, title);
    }
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, b);
    return hp_picture_end(look, &flow);
}

/* A column for every kind that was run, and the scales that hold them all. */
static hp_result prepare(beside *b, hp_error *err)
{
    for (int k = 0; k < HP_WAVE_COUNT; k++)
        b->low[k] = b->high[k] = 0.0;
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++) {
        const hp_example *example = &b->subject->example[k];
        if (!example->number || example->trace.count == 0)
            continue;
        column *c = &b->column[b->columns];
        *c = (column){.kind = (hp_example_kind)k, .example = example};
        hp_result result = hp_waves_make(&c->waves, &example->trace, err);
        if (result != HP_OK)
            return result;
        b->columns++;
        b->longest = fmax(b->longest, c->waves.until);
        for (int r = 0; r < ROWS; r++)
            hp_wave_range(&example->trace, rows[r], &b->low[rows[r]], &b->high[rows[r]]);
    }
    if (b->columns == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "no wiring was run that could be shown beside others");
    double most = fmax(-b->low[HP_WAVE_CURRENT], b->high[HP_WAVE_CURRENT]);
    b->low[HP_WAVE_CURRENT] = -most;
    b->high[HP_WAVE_CURRENT] = most;
    for (int r = 0; r < ROWS; r++)
        hp_range_round(&b->low[rows[r]], &b->high[rows[r]]);
    return HP_OK;
}

static hp_result draw_beside(const hp_picture_subject *subject, const hp_picture_target *to,
                             hp_error *err)
{
    beside b = {.subject = subject};
    char fault[HP_FAULT_WORDS];
    const char *machine = subject->labels->machine;
    hp_fault_words(subject->drive, subject->labels, fault, sizeof fault);
    snprintf(b.title, sizeof b.title, "Smooth beside rough, on one scale");
    snprintf(b.subtitle, sizeof b.subtitle, "%s%sThrottle %.4g %%.%s%s%s", machine,
             machine[0] ? ". " : "", 100.0 * subject->drive->controller.throttle,
             fault[0] ? " Fault: " : "", fault, fault[0] ? "." : "");
    b.faulty = fault[0] != '\0';
    hp_result result = prepare(&b, err);
    if (result == HP_OK)
        result = hp_picture_put(to, b.title, draw, &b, err);
    for (int k = 0; k < b.columns; k++)
        hp_waves_free(&b.column[k].waves);
    return result;
}

const hp_picture hp_picture_beside = {
    .name = "beside",
    .question = "How does a rough wiring look beside a smooth one?",
    .makers = HP_MAKER_SPIN,
    .needs = HP_NEEDS_EXAMPLES,
    .draw = draw_beside,
};
