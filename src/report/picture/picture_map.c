/*
 * The map: all 36 wirings, Hall orders down, phase orders across, each with its verdict, wheel
 * speed and battery current.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/words/fault_words.h"

#include <math.h>
#include <stdio.h>

#define WALL_SHARE 0.66 /* of the width, for the grid */
#define PAD        3.0  /* [units] inside a square */
#define NO_CURRENT 0.05 /* [A] a meter shows nothing below. Chosen */
/* A rough wiring draws so many times what the smooth one draws: enough to be told from it by any
 * meter (docs/verdicts.md: usually ten times and more). */
#define PLAIN 2.0

typedef struct map {
    const hp_picture_subject *subject;
    char title[200];
    char subtitle[160];
    bool starts; /* some wiring starts from some positions only */
} map;

static bool starts_from_some(const hp_judgement *j)
{
    return j->starts > 0 && j->starts < j->starts_tried;
}

static void count_verdicts(const hp_survey *survey, int count[HP_VERDICT_COUNT])
{
    for (int v = 0; v < HP_VERDICT_COUNT; v++)
        count[v] = 0;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        count[survey->judgement[n].verdict]++;
}

/* ---- a square -------------------------------------------------------------------------------- */

/* One line of a square: a word at the left, one at the right. */
static void draw_line(const hp_canvas *canvas, hp_box box, double y, hp_type type, const char *left,
                      bool bold, const char *right)
{
    hp_type side = type;
    double width = box.right - box.left - 2.0 * PAD;
    side.bold = bold;
    hp_pen_text(canvas, box.left + PAD, y, side, left);
    type.align = HP_ALIGN_RIGHT;
    double taken = left[0] ? hp_pen_text_width(side, left) + PAD : 0.0;
    hp_pen_text_cut(canvas, box.right - PAD, y, width - taken, type, right);
}

/* Two lines of a low square, whose number stands in its head: kind and wheel speed; starts where
 * they are fewer than all and battery current. */
static void draw_low_body(const hp_canvas *canvas, const hp_look *look, hp_box body,
                          const hp_judgement *j, const char *starts, const char *speed,
                          const char *amps)
{
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double line = (body.bottom - body.top) / 2.0, y = body.top + 0.5 * line;
    draw_line(canvas, body, y, type, hp_rough_kind_name(j->kind), false, speed);
    draw_line(canvas, body, y + line, type, starts, false, amps);
    if (j->verdict == HP_VERDICT_CORRECT)
        hp_tick_draw(canvas, body.left + PAD + 0.6 * look->small, body.top + line,
                     0.9 * look->small, HP_INK_BLACK);
}

/* Number and kind; starts where they are fewer than all; wheel speed; battery current. */
static void draw_body(const hp_canvas *canvas, const hp_look *look, const map *map, hp_box body,
                      int number, const hp_judgement *j)
{
    char text[24], speed[24], starts[24] = "", amps[40];
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    bool low = look->shape == HP_SHAPE_WALL;
    double line = (body.bottom - body.top) / (map->starts ? 4.0 : 3.0), y = body.top + 0.5 * line;
    snprintf(text, sizeof text, "%d", number);
    if (!low)
        draw_line(canvas, body, y, type, text, true, hp_rough_kind_name(j->kind));
    if (j->verdict == HP_VERDICT_UNDECIDED)
        return;
    if (starts_from_some(j))
        snprintf(starts, sizeof starts, "%d/%d", j->starts, j->starts_tried);
    hp_picture_short(j->verdict == HP_VERDICT_STALLED ? 0.0 : j->mean.wheel_speed / HP_RPM, speed,
                     sizeof speed);
    if (j->verdict == HP_VERDICT_STALLED)
        snprintf(speed, sizeof speed, "0");
    hp_picture_short(j->mean.battery_current, text, sizeof text);
    snprintf(amps, sizeof amps, "%s A", text);
    if (low) {
        draw_low_body(canvas, look, body, j, starts, speed, amps);
        return;
    }
    if (map->starts)
        draw_line(canvas, body, y += line, type, "", false, starts);
    draw_line(canvas, body, y += line, type, "", false, speed);
    draw_line(canvas, body, y += line, type, "", false, amps);
    if (j->verdict == HP_VERDICT_CORRECT)
        hp_tick_draw(canvas, body.left + PAD + 0.6 * look->small, y - line, 0.9 * look->small,
                     HP_INK_BLACK);
}

static void draw_cell(const hp_canvas *canvas, const hp_look *look, const map *map, hp_box cell,
                      int number)
{
    const hp_judgement *j = &map->subject->survey->judgement[number - 1];
    hp_box box = {cell.left + 1.0, cell.top + 1.0, cell.right - 1.0, cell.bottom - 1.0};
    hp_box band = {box.left, box.top, box.right, box.top + 1.28 * look->small};
    hp_box body = {box.left, band.bottom + 1.0, box.right, box.bottom - 0.12 * look->small};
    hp_pen_fill(canvas, box, hp_verdict_tint(j->verdict));
    if (j->verdict == HP_VERDICT_STALLED)
        hp_pen_hatch(canvas, box, HP_INK_PALE_VERMILION, 9.0);
    if (look->shape == HP_SHAPE_WALL)
        hp_verdict_band(canvas, look, band, number, j->verdict, j->direction);
    else
        hp_verdict_badge(canvas, band, look->small, j->verdict, j->direction);
    hp_pen_frame(canvas, box, hp_verdict_ink(j->verdict), 1.5);
    if (j->verdict == HP_VERDICT_CORRECT) {
        hp_box heavy = {box.left + 1.0, box.top + 1.0, box.right - 1.0, box.bottom - 1.0};
        hp_pen_frame(canvas, heavy, HP_INK_BLACK, 0.18 * look->small);
    }
    draw_body(canvas, look, map, body, number, j);
}

/* ---- words ----------------------------------------------------------------------------------- */

/* Lowest and highest battery current of the wirings with one of two verdicts. */
static void current_range(const hp_survey *survey, hp_verdict one, hp_verdict other, double *low,
                          double *high)
{
    *low = INFINITY;
    *high = -(double)INFINITY;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &survey->judgement[n];
        if ((j->verdict != one && j->verdict != other) || !isfinite(j->mean.battery_current))
            continue;
        *low = fmin(*low, j->mean.battery_current);
        *high = fmax(*high, j->mean.battery_current);
    }
}

/* What nothing correct means, from what is faulty. */
static void put_none(hp_flow *flow, const hp_picture_subject *subject)
{
    char fault[HP_FAULT_WORDS], text[HP_FAULT_WORDS + 120];
    hp_fault_words(subject->drive, subject->labels, fault, sizeof fault);
    if (fault[0])
        snprintf(text, sizeof text,
                 "No wiring is correct, because a part is faulty: %s. Mend it first.", fault);
    else if (hp_codes_missing(subject->drive))
        snprintf(text, sizeof text,
                 "No wiring is correct: the Hall sensors give codes that the "
                 "controller's table lacks. They do not fit one another.");
    else
        snprintf(text, sizeof text, "No wiring is correct at this throttle.");
    hp_flow_bold(flow, text);
}

/* Whether the current tells rough from correct here, and by how much. */
static void put_current(hp_flow *flow, const hp_survey *survey)
{
    double least, most, rough_least, rough_most;
    char low[16], high[16], text[200];
    current_range(survey, HP_VERDICT_CORRECT, HP_VERDICT_REVERSE, &least, &most);
    current_range(survey, HP_VERDICT_ROUGH, HP_VERDICT_ROUGH, &rough_least, &rough_most);
    if (!(most > 0.0) || !(rough_most >= rough_least))
        return;
    if (rough_least < PLAIN * most) {
        hp_flow_paragraph(flow, "Some rough wirings draw hardly more than a smooth one. Count the "
                                "starts too.");
        return;
    }
    hp_picture_short(rough_least / most, low, sizeof low);
    hp_picture_short(rough_most / most, high, sizeof high);
    snprintf(text, sizeof text,
             "A rough wheel may turn as fast as a correct one. Its current gives it away: %s to %s "
             "times as much.",
             low, high);
    hp_flow_bold(flow, text);
}

/* What the stalled ones do: with an open lead some or all of them draw nothing and stay cold. */
static const char *stalled_words(const hp_survey *survey)
{
    int cold = 0, hot = 0;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &survey->judgement[n];
        if (j->verdict == HP_VERDICT_STALLED && j->mean.battery_current < NO_CURRENT)
            cold++;
        else if (j->verdict == HP_VERDICT_STALLED)
            hot++;
    }
    return hot == 0   ? "does not turn: no current flows"
           : cold > 0 ? "does not turn, and may grow hot"
                      : "does not turn, and grows hot";
}

static void put_words(hp_flow *flow, const map *map)
{
    const hp_picture_subject *s = map->subject;
    int count[HP_VERDICT_COUNT];
    const char *const meaning[HP_VERDICT_COUNT] = {
        s->labels->axes_known ? "runs smoothly forward: use one of these" : "runs smoothly forward",
        s->drive->stand.clutch
            ? "rotor runs smoothly backward: the hub hums, the wheel does not turn"
            : "runs smoothly, but backward",
        "turns, but jerks, heats or may not start",
        stalled_words(s->survey),
        "no verdict",
    };
    count_verdicts(s->survey, count);
    hp_flow_verdicts(flow, count, meaning);
    if (count[HP_VERDICT_CORRECT] == 0)
        put_none(flow, s);
    hp_flow_only_names(flow, s);
    put_current(flow, s->survey);
    hp_flow_paragraph(flow, map->starts
                                ? "In each square: number; early or late (its field stands too "
                                  "early or too late); starts, where it starts from some positions "
                                  "only; wheel speed, rev/min; battery current. Arrow: the way it "
                                  "turns (right: forward)."
                                : "In each square: number; early or late (its field stands too "
                                  "early or too late); wheel speed, rev/min; battery current. "
                                  "Arrow: the way it turns (right: forward).");
    if (flow->look->shape == HP_SHAPE_WALL)
        return; /* the rest is at its foot */
    hp_flow_grid_note(flow, s->labels);
    hp_flow_cautions(flow);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const map *map = data;
    double top = hp_picture_heading(canvas, look, map->title, map->subtitle);
    hp_room room = hp_grid_room(canvas, look, top, WALL_SHARE, map->subject->labels, true);
    bool wall = look->shape == HP_SHAPE_WALL;
    double lines = map->starts ? 4.0 : 3.0;
    hp_grid grid = hp_grid_make(look, map->subject->labels, room.plot.left, room.plot.right, top,
                                wall ? room.plot.bottom : (double)INFINITY,
                                (1.6 + 1.18 * lines) * look->small);
    hp_grid_heads(canvas, &grid, map->subject->labels);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        draw_cell(canvas, look, map, hp_grid_cell(&grid, n), n);
    if (!wall)
        room.words.top = hp_grid_bottom(&grid) + 0.6 * look->gap;
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, map);
    return hp_picture_end(look, &flow);
}

static hp_result draw_map(const hp_picture_subject *subject, const hp_picture_target *to,
                          hp_error *err)
{
    map map = {.subject = subject};
    const char *machine = subject->labels->machine;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        map.starts = map.starts || starts_from_some(&subject->survey->judgement[n]);
    snprintf(map.title, sizeof map.title, "All 36 wirings%s%s", machine[0] ? ": " : "", machine);
    snprintf(map.subtitle, sizeof map.subtitle,
             "Simulated on a lifted wheel, each from %d start position%s.", subject->survey->starts,
             subject->survey->starts == 1 ? "" : "s");
    return hp_picture_put(to, map.title, draw, &map, err);
}

const hp_picture hp_picture_map = {
    .name = "map",
    .question = "Which of the 36 wirings are correct, and what do the others do?",
    .makers = HP_MAKER_SURVEY,
    .needs = HP_NEEDS_SURVEY,
    .draw = draw_map,
};
