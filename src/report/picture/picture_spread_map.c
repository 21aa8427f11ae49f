/* The map of a spread: see the header. */
#include "hubphase/report/pictures.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

#define CELL_HEIGHT 104.0 /* [units] */
#define BAND        30.0  /* ... of which the likeliest verdict takes this */
#define BAR         16.0  /* ... and the bar of shares this */
#define BODY_LINE   25.0
#define LEGEND_LINE 36.0
#define LEGEND_WORD 130.0

typedef struct map {
    const hp_spread *spread;
    const hp_labels *labels;
    char title[160];
    char subtitle[200];
} map;

static const char *const caption[] = {
    "In each square: the likeliest verdict, the number of the wiring, the share of the motors with "
    "this verdict, and a bar of all shares. A rough wiring shows by an arrow which way it most "
    "often turns (right: forward), and below the share how often its speed tells an early or a "
    "late field.",
    "Where a bar has one colour, no motor tried gave another verdict.",
};
#define CAPTION_COUNT 2

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

/* "40 % late": the commoner of the two. */
static void kind_text(const hp_spread_summary *s, char *out, size_t size)
{
    char share[16];
    bool early = s->share_kind[HP_KIND_EARLY] >= s->share_kind[HP_KIND_LATE];
    double most = s->share_kind[early ? HP_KIND_EARLY : HP_KIND_LATE];
    out[0] = '\0';
    if (most > 0.0)
        snprintf(out, size, "%s %s", share_text(most, share, sizeof share),
                 early ? "early" : "late");
}

static void draw_cell(const hp_canvas *canvas, hp_box cell, const hp_spread_summary *s)
{
    char text[40];
    hp_box box = {cell.left + 1.5, cell.top + 1.5, cell.right - 1.5, cell.bottom - 1.5};
    hp_box band = {box.left, box.top, box.right, box.top + BAND};
    hp_box bar = {box.left + 5.0, box.bottom - BAR - 5.0, box.right - 5.0, box.bottom - 5.0};
    hp_type bold = {HP_PICTURE_SMALL, HP_INK_DARK, HP_ALIGN_LEFT, true};
    hp_type figure = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_RIGHT, false};
    hp_type small = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_RIGHT, false};
    double width = box.right - box.left - 12.0;
    hp_pen_fill(canvas, box, hp_verdict_tint(s->verdict));
    hp_verdict_badge(canvas, band, HP_PICTURE_BODY, s->verdict, s->direction);
    hp_pen_frame(canvas, box, hp_verdict_ink(s->verdict), 1.5);

    double y = band.bottom + 0.6 * BODY_LINE;
    snprintf(text, sizeof text, "%d", s->number[0]);
    hp_pen_text(canvas, box.left + 6.0, y, bold, text);
    hp_pen_text(canvas, box.right - 6.0, y, figure,
                share_text(s->share[s->verdict], text, sizeof text));
    kind_text(s, text, sizeof text);
    hp_pen_text_fit(canvas, box.right - 6.0, y + 0.92 * BODY_LINE, width, small, text);
    draw_bar(canvas, bar, s);
}

/* Words with their colours and how many wirings most often show them; returns the y below. canvas
 * NULL: not drawn. */
static double draw_legend(const hp_canvas *canvas, double y, const hp_spread *spread)
{
    hp_type plain = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    double words = HP_PICTURE_MARGIN + LEGEND_WORD + 12.0;
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        int likeliest = 0, always = 0;
        double most = 0.0;
        for (int k = 0; k < HP_WIRING_COUNT; k++) {
            likeliest += spread->wiring[k].verdict == (hp_verdict)v;
            always += spread->wiring[k].share[v] == 1.0;
            most = fmax(most, spread->wiring[k].share[v]);
        }
        if (most == 0.0)
            continue;
        if (canvas) {
            char text[120];
            hp_box box = {HP_PICTURE_MARGIN, y, HP_PICTURE_MARGIN + LEGEND_WORD, y + BAND};
            hp_verdict_badge(canvas, box, HP_PICTURE_BODY, (hp_verdict)v, HP_DIRECTION_NONE);
            snprintf(text, sizeof text, "likeliest for %d wirings, with all motors for %d",
                     likeliest, always);
            hp_pen_text_fit(canvas, words, y + 0.5 * BAND,
                            HP_PICTURE_WIDTH - HP_PICTURE_MARGIN - words, plain, text);
        }
        y += LEGEND_LINE;
    }
    return y + 6.0;
}

/* All below the grid; returns the page's height. */
static double draw_foot(const hp_canvas *canvas, double y, const map *map)
{
    y = draw_legend(canvas, y + 16.0, map->spread);
    y = hp_picture_caption(canvas, y, caption, CAPTION_COUNT);
    return hp_picture_cautions(canvas, y + 4.0) + 8.0;
}

static void paint(const hp_canvas *canvas, const void *data)
{
    const map *map = data;
    hp_grid grid = hp_grid_make(hp_picture_heading(canvas, map->title, map->subtitle), CELL_HEIGHT);
    hp_grid_heads(canvas, &grid, map->labels);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        draw_cell(canvas, hp_grid_cell(&grid, n), &map->spread->wiring[n - 1]);
    draw_foot(canvas, hp_grid_bottom(&grid), map);
}

hp_result hp_picture_spread_map_draw(const char *path, hp_picture_format format,
                                     const hp_spread *spread, const hp_labels *labels,
                                     hp_error *err)
{
    map map = {.spread = spread, .labels = labels};
    snprintf(map.title, sizeof map.title, "How sure is each verdict%s%s",
             labels->machine[0] ? ": " : "", labels->machine);
    snprintf(map.subtitle, sizeof map.subtitle,
             "%d motor%s like the one described, from %d rest angle%s each.", spread->motors,
             spread->motors == 1 ? "" : "s", spread->starts, spread->starts == 1 ? "" : "s");
    hp_grid grid = hp_grid_make(hp_picture_heading_height(map.title, map.subtitle), CELL_HEIGHT);
    hp_paper page = {.width = HP_PICTURE_WIDTH,
                     .height = draw_foot(NULL, hp_grid_bottom(&grid), &map),
                     .title = map.title};
    return hp_canvas_draw(path, format, &page, paint, &map, err);
}
