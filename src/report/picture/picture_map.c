/* The map of all 36 wirings: see the header. */
#include "hubphase/report/pictures.h"

#include "report/picture/picture_parts.h"

#include <stdio.h>

#define CELL_HEIGHT 110.0 /* [units] */
#define BAND        30.0  /* ... of which the verdict takes this */
#define BODY_LINE   25.0
#define LEGEND_LINE 36.0
#define LEGEND_WORD 130.0 /* [units] width of a word in the legend */

typedef struct map {
    const hp_survey *survey;
    const hp_labels *labels;
    char title[160];
    char subtitle[160];
} map;

static const char *const meaning[HP_VERDICT_COUNT] = {
    "runs smoothly forward: use one of these",
    "runs smoothly backward",
    "turns, but jerks, heats or may not start",
    "does not turn, and grows hot",
    "the simulation gave no answer",
};

static const char *const caption[] = {
    "In each square: the verdict, the number of the wiring, the torque ripple as a multiple of the "
    "mean torque, the battery current.",
    "A rough wiring shows by an arrow which way it turns (right: forward). Early or late: where "
    "its "
    "field stands, if the speed tells. 3/12: it starts from 3 of 12 rest angles only.",
    "A rough wheel may turn freely and even faster than a smooth one. The current gives it away.",
};
#define CAPTION_COUNT 3

static int count_verdicts(const hp_survey *survey, hp_verdict verdict)
{
    int count = 0;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        count += survey->judgement[n].verdict == verdict;
    return count;
}

/* Beside the number: early or late, else "3/12" where it does not start from every rest angle. */
static void put_remark(const hp_judgement *judgement, char *text, size_t size)
{
    text[0] = '\0';
    if (judgement->kind != HP_KIND_NONE)
        snprintf(text, size, "%s", hp_rough_kind_name(judgement->kind));
    else if (judgement->starts > 0 && judgement->starts < judgement->starts_tried)
        snprintf(text, size, "%d/%d", judgement->starts, judgement->starts_tried);
}

static void draw_cell(const hp_canvas *canvas, hp_box cell, int number,
                      const hp_judgement *judgement)
{
    char text[32], amps[16];
    hp_box box = {cell.left + 1.5, cell.top + 1.5, cell.right - 1.5, cell.bottom - 1.5};
    hp_box band = {box.left, box.top, box.right, box.top + BAND};
    hp_type bold = {HP_PICTURE_SMALL, HP_INK_DARK, HP_ALIGN_LEFT, true};
    hp_type right = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_RIGHT, false};
    double width = box.right - box.left - 12.0;
    hp_pen_fill(canvas, box, hp_verdict_tint(judgement->verdict));
    if (judgement->verdict == HP_VERDICT_STALLED)
        hp_pen_hatch(canvas, box, HP_INK_PALE_VERMILION, 9.0);
    hp_verdict_badge(canvas, band, HP_PICTURE_BODY, judgement->verdict, judgement->direction);
    hp_pen_frame(canvas, box, hp_verdict_ink(judgement->verdict), 1.5);

    double y = band.bottom + 0.6 * BODY_LINE;
    snprintf(text, sizeof text, "%d", number);
    hp_pen_text(canvas, box.left + 6.0, y, bold, text);
    put_remark(judgement, text, sizeof text);
    hp_pen_text_fit(canvas, box.right - 6.0, y, 0.62 * width, right, text);
    if (judgement->verdict == HP_VERDICT_UNDECIDED)
        return;
    hp_type figure = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_RIGHT, false};
    hp_pen_text_fit(canvas, box.right - 6.0, y + BODY_LINE, width, figure,
                    hp_picture_times(judgement->ripple, text, sizeof text));
    snprintf(text, sizeof text, "%s A",
             hp_picture_short(judgement->mean.battery_current, amps, sizeof amps));
    hp_pen_text_fit(canvas, box.right - 6.0, y + 2.0 * BODY_LINE, width, figure, text);
}

/* Words with their colours, counts and meanings; returns the y below. canvas NULL: not drawn. */
static double draw_legend(const hp_canvas *canvas, double y, const hp_survey *survey)
{
    hp_type plain = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    hp_type count_type = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_RIGHT, true};
    double words = HP_PICTURE_MARGIN + 44.0 + LEGEND_WORD + 12.0;
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        int count = count_verdicts(survey, (hp_verdict)v);
        if (count == 0 && v == HP_VERDICT_UNDECIDED)
            continue;
        if (canvas) {
            char text[16];
            hp_box box = {HP_PICTURE_MARGIN + 44.0, y, HP_PICTURE_MARGIN + 44.0 + LEGEND_WORD,
                          y + BAND};
            snprintf(text, sizeof text, "%d", count);
            hp_pen_text(canvas, HP_PICTURE_MARGIN + 34.0, y + 0.5 * BAND, count_type, text);
            hp_verdict_badge(canvas, box, HP_PICTURE_BODY, (hp_verdict)v, HP_DIRECTION_NONE);
            hp_pen_text_fit(canvas, words, y + 0.5 * BAND,
                            HP_PICTURE_WIDTH - HP_PICTURE_MARGIN - words, plain, meaning[v]);
        }
        y += LEGEND_LINE;
    }
    return y + 6.0;
}

/* All below the grid; returns the page's height. */
static double draw_foot(const hp_canvas *canvas, double y, const map *map)
{
    y = hp_grid_note(canvas, y + 10.0, map->labels);
    y = draw_legend(canvas, y + 8.0, map->survey);
    y = hp_picture_caption(canvas, y, caption, CAPTION_COUNT);
    return hp_picture_cautions(canvas, y + 4.0) + 8.0;
}

static void paint(const hp_canvas *canvas, const void *data)
{
    const map *map = data;
    hp_grid grid = hp_grid_make(hp_picture_heading(canvas, map->title, map->subtitle), CELL_HEIGHT);
    hp_grid_heads(canvas, &grid, map->labels);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        draw_cell(canvas, hp_grid_cell(&grid, n), n, &map->survey->judgement[n - 1]);
    draw_foot(canvas, hp_grid_bottom(&grid), map);
}

hp_result hp_picture_map_draw(const char *path, hp_picture_format format, const hp_survey *survey,
                              const hp_labels *labels, hp_error *err)
{
    map map = {.survey = survey, .labels = labels};
    const char *machine = labels->machine;
    snprintf(map.title, sizeof map.title, "All 36 wirings%s%s", machine[0] ? ": " : "", machine);
    snprintf(map.subtitle, sizeof map.subtitle,
             "Simulated on a lifted wheel, each from %d rest angles of the rotor.", survey->starts);
    hp_grid grid = hp_grid_make(hp_picture_heading_height(map.title, map.subtitle), CELL_HEIGHT);
    hp_paper page = {.width = HP_PICTURE_WIDTH,
                     .height = draw_foot(NULL, hp_grid_bottom(&grid), &map),
                     .title = map.title};
    return hp_canvas_draw(path, format, &page, paint, &map, err);
}
