/*
 * Bands of a spread: a panel for each figure, in it a line from 5 to 95 % of the motors for each
 * group of wirings, with a mark at the middle; scales of currents, ripple and excess are
 * logarithmic.
 */
#include "report/data/spread_columns.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"

#include <math.h>
#include <stdio.h>

#define EDGE         26.0 /* [units] past the scale, for what has no bound */
#define DECADES_MAX  7
#define WALL_COLUMNS 3

typedef struct panel {
    hp_spread_figure figure;
    bool logarithmic;
    bool turning_only; /* figures that mean nothing where nothing turns */
} panel;

static const panel panels[] = {
    {HP_SPREAD_SPEED, false, true},     {HP_SPREAD_BATTERY_CURRENT, true, false},
    {HP_SPREAD_PHASE_RMS, true, false}, {HP_SPREAD_RIPPLE, true, true},
    {HP_SPREAD_WASTE, true, true},
};
#define PANEL_COUNT (int)(sizeof panels / sizeof panels[0])

typedef struct bands {
    const hp_spread *spread;
    char title[160];
    char subtitle[200];
} bands;

/* A scale across the page; logarithmic ones count in powers of ten. */
typedef struct scale {
    bool logarithmic;
    double low, high; /* at the ends; powers when logarithmic */
    double left, right;
    const hp_look *look;
} scale;

static bool is_shown(const hp_spread_summary *group, const panel *p)
{
    return group->verdict != HP_VERDICT_UNDECIDED &&
           !(p->turning_only && group->verdict == HP_VERDICT_STALLED);
}

static int count_rows(const hp_spread *spread, const panel *p)
{
    int rows = 0;
    for (int g = 0; g < spread->groups; g++)
        rows += is_shown(&spread->group[g], p);
    return rows;
}

/* Sizes follow the letters. */
static double row_height(const hp_look *look)
{
    return 1.55 * look->small;
}

static double badge_width(const hp_look *look)
{
    return (look->shape == HP_SHAPE_WALL ? 5.0 : 5.6) * look->small;
}

/* Beside the badge: kind and number of wirings. */
static double side_width(const hp_look *look)
{
    return 4.9 * look->small;
}

/* Rows are drawn this much closer where a page has an end and they would pass it. */
static double panel_height(const hp_look *look, const hp_spread *spread, const panel *p)
{
    int rows = count_rows(spread, p);
    return rows > 0 ? 1.5 * look->small + rows * row_height(look) + 2.3 * look->small : 0.0;
}

/* ---- scales ---------------------------------------------------------------------------------- */

static void widen(double value, bool logarithmic, double *low, double *high)
{
    if (!isfinite(value) || (logarithmic && value <= 0.0))
        return;
    double place = logarithmic ? log10(value) : value;
    *low = fmin(*low, place);
    *high = fmax(*high, place);
}

static scale make_scale(const hp_look *look, const hp_spread *spread, const panel *p, double left,
                        double right)
{
    double low = INFINITY, high = -(double)INFINITY;
    for (int g = 0; g < spread->groups; g++) {
        if (!is_shown(&spread->group[g], p))
            continue;
        hp_spread_band band = hp_spread_column_band(&spread->group[g], p->figure);
        widen(band.low, p->logarithmic, &low, &high);
        widen(band.middle, p->logarithmic, &low, &high);
        widen(band.high, p->logarithmic, &low, &high);
    }
    if (!(low <= high))
        low = high = 0.0;
    if (p->logarithmic) {
        low = floor(low + 1e-9);
        high = fmin(fmax(ceil(high - 1e-9), low + 1.0), low + DECADES_MAX);
    } else {
        double room = fmax(0.04 * (high - low), fmax(0.05 * fabs(high), 1e-3));
        low -= room;
        high += room;
    }
    return (scale){.logarithmic = p->logarithmic,
                   .low = low,
                   .high = high,
                   .left = left + badge_width(look) + side_width(look),
                   .right = right - EDGE,
                   .look = look};
}

/* Place on the page, held within the scale. */
static double place(const scale *s, double value)
{
    double at = value;
    if (s->logarithmic)
        at = value > 0.0 ? log10(value) : -(double)INFINITY;
    at = fmin(fmax(at, s->low), s->high);
    return s->left + (at - s->low) / (s->high - s->low) * (s->right - s->left);
}

static bool is_beyond(const scale *s, double value)
{
    return (s->logarithmic ? log10(value) : value) > s->high;
}

static void tick_text(double value, char text[24])
{
    double size = fabs(value);
    if (size >= 1e5 || (size > 0.0 && size < 1e-3))
        snprintf(text, 24, "1e%.0f", log10(size));
    else
        snprintf(text, 24, "%s%g", value < 0.0 ? "\u2212" : "", size);
}

/* *taken: how far numbers reach so far. */
static void draw_tick(const hp_canvas *canvas, const scale *s, double value, double top,
                      double bottom, double *taken)
{
    char text[24];
    double x = place(s, value);
    hp_type type = hp_look_small(s->look, HP_INK_BLACK, HP_ALIGN_CENTRE, false);
    tick_text(value, text);
    hp_pen_line(canvas, x, top, x, bottom, HP_INK_RULE, 1.0);
    /* A number that has no room beside the last one is left out. */
    double half = 0.5 * hp_pen_text_width(type, text);
    if (x - half < *taken)
        return;
    *taken = x + half + 0.3 * s->look->small;
    hp_pen_text(canvas, x, bottom + 0.9 * s->look->small, type, text);
}

static void draw_scale(const hp_canvas *canvas, const scale *s, double top, double bottom)
{
    double taken = -(double)INFINITY;
    if (s->logarithmic) {
        for (double power = s->low; power <= s->high; power += 1.0) {
            for (int m = 2; m < 10 && power < s->high; m++) {
                double x = place(s, m * pow(10.0, power));
                hp_pen_line(canvas, x, bottom, x, bottom - 5.0, HP_INK_GREY, 1.0);
            }
            draw_tick(canvas, s, pow(10.0, power), top, bottom, &taken);
        }
    } else {
        double wanted =
            (s->right - s->left) / ((s->look->shape == HP_SHAPE_WALL ? 3.5 : 5.0) * s->look->small);
        double step = hp_tick_step(s->high - s->low, wanted);
        for (double k = ceil(s->low / step); k * step <= s->high; k += 1.0)
            draw_tick(canvas, s, k * step, top, bottom, &taken);
    }
    hp_box frame = {s->left, top, s->right, bottom};
    hp_pen_frame(canvas, frame, HP_INK_DARK, 1.5);
}

/* ---- rows ------------------------------------------------------------------------------------ */

static void draw_row_head(const hp_canvas *canvas, const scale *s, double y,
                          const hp_spread_summary *group)
{
    char text[40];
    const hp_look *look = s->look;
    double row = row_height(look), left = s->left - side_width(look) - badge_width(look);
    hp_box box = {left, y + 2.0, left + badge_width(look), y + row - 2.0};
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    const char *kind = hp_rough_kind_name(group->kind);
    snprintf(text, sizeof text, "%s%s\u00d7%d", kind, kind[0] ? " " : "", group->wirings);
    hp_verdict_badge(canvas, box, look->small, group->verdict, group->direction);
    hp_pen_text_cut(canvas, box.right + 6.0, y + 0.5 * row, side_width(look) - 10.0, type, text);
}

static void draw_row(const hp_canvas *canvas, const scale *s, double y,
                     const hp_spread_summary *group, hp_spread_figure figure)
{
    hp_spread_band band = hp_spread_column_band(group, figure);
    hp_ink ink = hp_verdict_ink(group->verdict);
    double middle = y + 0.5 * row_height(s->look);
    draw_row_head(canvas, s, y, group);
    if (isnan(band.middle))
        return;
    double left = place(s, band.low), right = place(s, band.high);
    hp_box bar = {left - 1.0, middle - 6.0, right + 1.0, middle + 6.0};
    hp_pen_fill(canvas, bar, ink);
    hp_pen_frame(canvas, bar, HP_INK_BLACK, 1.0);
    if (is_beyond(s, band.high))
        hp_pen_arrow(canvas, s->right, middle, s->right + EDGE - 4.0, middle, HP_INK_BLACK, 2.0);
    double x = is_beyond(s, band.middle) ? s->right : place(s, band.middle);
    /* The wall's scales are short: a large disc would hide its bar. */
    double radius = s->look->shape == HP_SHAPE_WALL ? 4.5 : 8.0;
    hp_pen_disc(canvas, x, middle, radius, HP_INK_BLACK);
    hp_pen_disc(canvas, x, middle, radius - 2.5, HP_INK_WHITE);
}

/* The boundary that the verdict uses, where it is on this figure. */
static void draw_boundary(const hp_canvas *canvas, const scale *s, const panel *p, double limit,
                          double top, double bottom)
{
    if (p->figure != HP_SPREAD_WASTE || !(log10(limit) > s->low && log10(limit) < s->high))
        return;
    hp_axes axes = {{s->left, top, s->right, bottom}, s->low, s->high, 0.0, 1.0};
    double xs[] = {log10(limit), log10(limit)}, ys[] = {0.0, 1.0};
    hp_pen_curve(canvas, &axes, xs, ys, 2, HP_INK_BLACK, 2.5, HP_DASH_LONG);
}

/* Draws one panel, or measures it; returns the y below. */
static double draw_panel(const hp_canvas *canvas, const hp_look *look, hp_box box,
                         const hp_spread *spread, const panel *p)
{
    int rows = count_rows(spread, p);
    if (rows == 0)
        return box.top;
    scale s = make_scale(look, spread, p, box.left, box.right);
    double top = box.top + 1.5 * look->small, bottom = top + rows * row_height(look), row = top;
    hp_type title = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    char words[80];
    snprintf(words, sizeof words, "%s", hp_spread_column_words(p->figure));
    if (words[0] >= 'a' && words[0] <= 'z')
        words[0] = (char)(words[0] - 'a' + 'A');
    hp_pen_text(canvas, box.left, box.top + 0.7 * look->small, title, words);
    draw_scale(canvas, &s, top, bottom);
    draw_boundary(canvas, &s, p, spread->thresholds.waste_max, top, bottom);
    for (int g = 0; g < spread->groups; g++) {
        if (!is_shown(&spread->group[g], p))
            continue;
        draw_row(canvas, &s, row, &spread->group[g], p->figure);
        row += row_height(look);
    }
    return box.top + panel_height(look, spread, p);
}

static void put_words(hp_flow *flow)
{
    hp_flow_paragraph(flow, "Each bar: from the value below which 5 % of the motors lie to the one "
                            "below which 95 % lie; disc: the middle. Bars far apart: this figure "
                            "tells them apart although the parts are not known exactly.");
    hp_flow_paragraph(flow,
                      "Waste: current excess times the square of the idle current's share. Dashed "
                      "line: the limit that the verdict uses. Arrow: it goes on without limit.");
}

/* Panels one below another; on the wall in three columns, then the words. */
static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const bands *b = data;
    double top = hp_picture_heading(canvas, look, b->title, b->subtitle);
    bool wall = look->shape == HP_SHAPE_WALL;
    double gap = 0.5 * look->gap, all = look->width - 2.0 * look->margin;
    double width = wall ? (all - (WALL_COLUMNS - 1) * gap) / WALL_COLUMNS : all;
    double end = look->height > 0.0 ? look->height - 0.5 * look->margin : (double)INFINITY;
    hp_box box = {look->margin, top, look->margin + width, end};
    for (int k = 0; k < PANEL_COUNT; k++) {
        double height = panel_height(look, b->spread, &panels[k]);
        if (wall && box.top > top && box.top + height > end)
            box = (hp_box){box.right + gap, top, box.right + gap + width, end};
        box.top = draw_panel(canvas, look, box, b->spread, &panels[k]);
    }
    hp_flow flow = hp_flow_begin(canvas, look, box);
    put_words(&flow);
    return hp_picture_end(look, &flow);
}

static hp_result draw_spread_bands(const hp_picture_subject *subject, const hp_picture_target *to,
                                   hp_error *err)
{
    const hp_spread *spread = subject->spread;
    bands b = {.spread = spread};
    const char *machine = subject->labels->machine;
    snprintf(b.title, sizeof b.title, "How far the figures spread%s%s", machine[0] ? ": " : "",
             machine);
    snprintf(b.subtitle, sizeof b.subtitle,
             "%d motor%s like the one described, from %d start position%s each.", spread->motors,
             spread->motors == 1 ? "" : "s", spread->starts, spread->starts == 1 ? "" : "s");
    return hp_picture_put(to, b.title, draw, &b, err);
}

const hp_picture hp_picture_spread_bands = {
    .name = "spread-bands",
    .question = "Which figure still tells smooth from rough when the parts are not known exactly?",
    .makers = HP_MAKER_SPREAD,
    .needs = HP_NEEDS_SPREAD,
    .draw = draw_spread_bands,
};
