/*
 * The map of a spread: in each square the likeliest verdict and a bar of the shares.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

#define WALL_SHARE 0.66

typedef struct map {
    const hp_picture_subject *subject;
    char title[160];
    char subtitle[200];
} map;

/* "all", "87 %", "<1 %"; never rounded up to all. */
static char *share_text(double share, char *out, size_t size)
{
    if (share >= 1.0)
        snprintf(out, size, "all");
    else if (share > 0.0 && share < 0.01)
        snprintf(out, size, "<1 %%");
    else
        snprintf(out, size, "%.0f %%", fmin(100.0 * share, 99.0));
    return out;
}

/* Shares side by side; slanted lines and thin rules keep neighbours apart without colour. */
static void draw_bar(const hp_canvas *canvas, hp_box box, const hp_spread_summary *s)
{
    double left = box.left, width = box.right - box.left;
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        hp_box part = {left, box.top, left + s->share[v] * width, box.bottom};
        left = part.right;
        if (s->share[v] <= 0.0)
            continue;
        hp_pen_fill(canvas, part, hp_verdict_ink((hp_verdict)v));
        if (v == HP_VERDICT_STALLED)
            hp_pen_hatch(canvas, part, HP_INK_BLACK, 6.0);
        if (left < box.right - 0.5)
            hp_pen_line(canvas, left, box.top, left, box.bottom, HP_INK_BLACK, 1.0);
    }
    hp_pen_frame(canvas, box, HP_INK_DARK, 1.0);
}

/* The commoner of early and late, and its share, "40 %"; both empty where there is neither. */
static const char *kind_text(const hp_spread_summary *s, char *share, size_t size)
{
    bool early = s->share_kind[HP_KIND_EARLY] >= s->share_kind[HP_KIND_LATE];
    double most = s->share_kind[early ? HP_KIND_EARLY : HP_KIND_LATE];
    share[0] = '\0';
    if (!(most > 0.0))
        return "";
    share_text(most, share, size);
    return early ? "early" : "late";
}

/* The one line of a low square, whose number stands in its head: kind, and share of the verdict. */
static void draw_low_line(const hp_canvas *canvas, const hp_look *look, hp_box box, double y,
                          const hp_spread_summary *s)
{
    char text[40], unused[40];
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    if (s->verdict == HP_VERDICT_ROUGH)
        hp_pen_text(canvas, box.left + 3.0, y, type, kind_text(s, unused, sizeof unused));
    type.align = HP_ALIGN_RIGHT;
    hp_pen_text(canvas, box.right - 3.0, y, type,
                share_text(s->share[s->verdict], text, sizeof text));
}

static void draw_cell(const hp_canvas *canvas, const hp_look *look, hp_box cell, int number,
                      const hp_spread_summary *s)
{
    char text[40];
    double bar_height = 0.55 * look->small, pad = 3.0;
    hp_box box = {cell.left + 1.0, cell.top + 1.0, cell.right - 1.0, cell.bottom - 1.0};
    hp_box band = {box.left, box.top, box.right, box.top + 1.28 * look->small};
    hp_box bar = {box.left + pad, box.bottom - bar_height - pad, box.right - pad, box.bottom - pad};
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type figure = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_RIGHT, false);
    double width = box.right - box.left - 2.0 * pad;
    hp_pen_fill(canvas, box, hp_verdict_tint(s->verdict));
    if (s->verdict == HP_VERDICT_STALLED)
        hp_pen_hatch(canvas, box, HP_INK_PALE_VERMILION, 9.0);
    bool low = look->shape == HP_SHAPE_WALL;
    if (low)
        hp_verdict_band(canvas, look, band, number, s->verdict, s->direction);
    else
        hp_verdict_badge(canvas, band, look->small, s->verdict, s->direction);
    hp_pen_frame(canvas, box, hp_verdict_ink(s->verdict), 1.5);
    if (s->verdict == HP_VERDICT_CORRECT)
        hp_pen_frame(canvas, box, HP_INK_BLACK, 0.2 * look->small);

    if (low) {
        draw_low_line(canvas, look, box, 0.5 * (band.bottom + bar.top), s);
        draw_bar(canvas, bar, s);
        return;
    }
    /* Number and share, kind and its share in a line each, or one below the other where the square
     * is narrow. */
    char share[40];
    const char *kind = s->verdict == HP_VERDICT_ROUGH ? kind_text(s, share, sizeof share) : "";
    share_text(s->share[s->verdict], text, sizeof text);
    bool narrow = width < hp_pen_text_width(figure, "early 100 %");
    char name[16];
    snprintf(name, sizeof name, "%d", number);
    double taken = hp_pen_text_width(bold, name) + 0.5 * look->small;
    bool apart = taken + hp_pen_text_width(figure, text) > width;
    double line = (bar.top - band.bottom) / (narrow ? 3.0 + apart : 2.0);
    double y = band.bottom + 0.5 * line;
    hp_pen_text(canvas, box.left + pad, y, bold, name);
    hp_pen_text_cut(canvas, box.right - pad, y + apart * line, width, figure, text);
    if (kind[0]) {
        hp_type left = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
        double row = y + (1.0 + (narrow && apart)) * line;
        hp_pen_text(canvas, box.left + pad, row, left, kind);
        hp_pen_text_cut(canvas, box.right - pad, row + narrow * line, width, figure, share);
    }
    draw_bar(canvas, bar, s);
}

static void put_words(hp_flow *flow, const map *map)
{
    static const char *const meaning[HP_VERDICT_COUNT] = {
        "likeliest: runs smoothly forward", "likeliest: smoothly backward",
        "likeliest: turns, but jerks or heats", "likeliest: does not turn", "no verdict"};
    int count[HP_VERDICT_COUNT] = {0};
    bool wall = flow->look->shape == HP_SHAPE_WALL;
    const hp_spread *spread = map->subject->spread;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        count[spread->wiring[n].verdict]++;
    hp_flow_verdicts(flow, count, meaning);
    hp_flow_paragraph(flow, "In each square: the likeliest verdict, the number of the wiring, the "
                            "share of the motors with this verdict, and a bar of all shares. One "
                            "colour alone: no motor tried gave another verdict.");
    hp_flow_paragraph(flow,
                      wall ? "A rough wiring shows by an arrow which way it most often turns "
                             "(right: forward), and whether its field is mostly too early or too "
                             "late."
                           : "A rough wiring shows by an arrow which way it most often turns "
                             "(right: forward), and how often its field is too early or too late.");
    if (wall)
        return; /* the rest is at its foot */
    hp_flow_grid_note(flow, map->subject->labels);
    hp_flow_cautions(flow);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const map *map = data;
    double top = hp_picture_heading(canvas, look, map->title, map->subtitle);
    hp_room room = hp_grid_room(canvas, look, top, WALL_SHARE, map->subject->labels, true);
    bool wall = look->shape == HP_SHAPE_WALL;
    hp_grid grid = hp_grid_make(look, map->subject->labels, room.plot.left, room.plot.right, top,
                                wall ? room.plot.bottom : (double)INFINITY, 6.0 * look->small);
    hp_grid_heads(canvas, &grid, map->subject->labels);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        draw_cell(canvas, look, hp_grid_cell(&grid, n), n, &map->subject->spread->wiring[n - 1]);
    if (!wall)
        room.words.top = hp_grid_bottom(&grid) + 0.6 * look->gap;
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, map);
    return hp_picture_end(look, &flow);
}

static hp_result draw_spread_map(const hp_picture_subject *subject, const hp_picture_target *to,
                                 hp_error *err)
{
    map map = {.subject = subject};
    const hp_spread *spread = subject->spread;
    const char *machine = subject->labels->machine;
    snprintf(map.title, sizeof map.title, "How sure is each verdict%s%s", machine[0] ? ": " : "",
             machine);
    snprintf(map.subtitle, sizeof map.subtitle,
             "%d motor%s like the one described, from %d start position%s each.", spread->motors,
             spread->motors == 1 ? "" : "s", spread->starts, spread->starts == 1 ? "" : "s");
    return hp_picture_put(to, map.title, draw, &map, err);
}

const hp_picture hp_picture_spread_map = {
    .name = "spread-map",
    .question = "How sure is each verdict when the parts are not known exactly?",
    .makers = HP_MAKER_SPREAD,
    .needs = HP_NEEDS_SPREAD,
    .draw = draw_spread_map,
};
