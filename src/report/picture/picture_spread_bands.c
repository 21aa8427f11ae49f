/* Bands of a spread for each likeliest outcome: see the header. */
#include "hubphase/report/pictures.h"
#include "report/data/spread_columns.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

#define ROW          32.0 /* [units] height of a group's row */
#define TITLE_LINE   34.0
#define RULER        34.0 /* below the rows, for the scale's numbers */
#define PANEL_GAP    16.0
#define BADGE        112.0
#define ROW_TEXT     84.0 /* beside the badge: kind and number of wirings */
#define EDGE         26.0 /* past the scale, for what has no bound */
#define DECADES_MAX  7
#define TICKS_WANTED 6.0

typedef struct panel {
    hp_spread_figure figure;
    bool logarithmic;
    bool turning_only; /* figures that mean nothing where nothing turns */
} panel;

static const panel panels[] = {
    {HP_SPREAD_SPEED, false, true},     {HP_SPREAD_BATTERY_CURRENT, true, false},
    {HP_SPREAD_PHASE_RMS, true, false}, {HP_SPREAD_RIPPLE, true, true},
    {HP_SPREAD_EXCESS, true, true},
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
} scale;

static const char *const caption[] = {
    "Each bar reaches from the value below which 5 % of the motors lie to the one below which 95 "
    "% "
    "lie; the disc is the middle. Wirings with the same likeliest outcome are taken together; "
    "their "
    "numbers stand in the report. An arrow: no bound there.",
    "Where the bars of two outcomes are far apart, the figure tells them apart although the parts "
    "are not known exactly. The dashed line is the boundary of the verdict.",
};
#define CAPTION_COUNT 2

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

static double panel_height(const hp_spread *spread, const panel *p)
{
    int rows = count_rows(spread, p);
    return rows > 0 ? TITLE_LINE + rows * ROW + RULER + PANEL_GAP : 0.0;
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

/* Distance between ticks of a linear scale: 1, 2 or 5 times a power of ten. */
static double tick_step(double range)
{
    double raw = range / TICKS_WANTED, power = pow(10.0, floor(log10(raw)));
    double lead = raw / power;
    return power * (lead <= 1.0 ? 1.0 : lead <= 2.0 ? 2.0 : lead <= 5.0 ? 5.0 : 10.0);
}

static scale make_scale(const hp_spread *spread, const panel *p)
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
                   .left = HP_PICTURE_MARGIN + BADGE + ROW_TEXT,
                   .right = HP_PICTURE_WIDTH - HP_PICTURE_MARGIN - EDGE};
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

static void draw_tick(const hp_canvas *canvas, const scale *s, double value, double top,
                      double bottom)
{
    char text[24];
    double x = place(s, value);
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, false};
    double size = fabs(value);
    hp_pen_line(canvas, x, top, x, bottom, HP_INK_RULE, 1.0);
    if (size >= 1e5 || (size > 0.0 && size < 1e-3))
        snprintf(text, sizeof text, "1e%.0f", log10(size));
    else
        snprintf(text, sizeof text, "%s%g", value < 0.0 ? "\u2212" : "", size);
    hp_pen_text(canvas, x, bottom + 16.0, type, text);
}

static void draw_scale(const hp_canvas *canvas, const scale *s, double top, double bottom)
{
    if (s->logarithmic) {
        for (double power = s->low; power <= s->high; power += 1.0) {
            for (int m = 2; m < 10 && power < s->high; m++) {
                double x = place(s, m * pow(10.0, power));
                hp_pen_line(canvas, x, bottom, x, bottom - 5.0, HP_INK_GREY, 1.0);
            }
            draw_tick(canvas, s, pow(10.0, power), top, bottom);
        }
    } else {
        double step = tick_step(s->high - s->low);
        for (double k = ceil(s->low / step); k * step <= s->high; k += 1.0)
            draw_tick(canvas, s, k * step, top, bottom);
    }
    hp_box frame = {s->left, top, s->right, bottom};
    hp_pen_frame(canvas, frame, HP_INK_DARK, 1.5);
}

/* ---- rows ------------------------------------------------------------------------------------ */

static void draw_row_head(const hp_canvas *canvas, double y, const hp_spread_summary *group)
{
    char text[40];
    hp_box box = {HP_PICTURE_MARGIN, y + 3.0, HP_PICTURE_MARGIN + BADGE, y + ROW - 3.0};
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    const char *kind = hp_rough_kind_name(group->kind);
    snprintf(text, sizeof text, "%s%s\u00d7%d", kind, kind[0] ? " " : "", group->wirings);
    hp_verdict_badge(canvas, box, HP_PICTURE_SMALL, group->verdict, group->direction);
    hp_pen_text_fit(canvas, box.right + 8.0, y + 0.5 * ROW, ROW_TEXT - 14.0, type, text);
}

static void draw_row(const hp_canvas *canvas, const scale *s, double y,
                     const hp_spread_summary *group, hp_spread_figure figure)
{
    hp_spread_band band = hp_spread_column_band(group, figure);
    hp_ink ink = hp_verdict_ink(group->verdict);
    double middle = y + 0.5 * ROW;
    draw_row_head(canvas, y, group);
    if (isnan(band.middle))
        return;
    double left = place(s, band.low), right = place(s, band.high);
    hp_box bar = {left - 1.0, middle - 6.0, right + 1.0, middle + 6.0};
    hp_pen_fill(canvas, bar, ink);
    hp_pen_frame(canvas, bar, HP_INK_BLACK, 1.0);
    if (is_beyond(s, band.high))
        hp_pen_arrow(canvas, s->right, middle, s->right + EDGE - 4.0, middle, HP_INK_BLACK, 2.0);
    double x = is_beyond(s, band.middle) ? s->right : place(s, band.middle);
    hp_pen_disc(canvas, x, middle, 8.0, HP_INK_BLACK);
    hp_pen_disc(canvas, x, middle, 5.5, HP_INK_WHITE);
}

/* The boundary that the verdict uses, where it is on this figure. */
static void draw_boundary(const hp_canvas *canvas, const scale *s, const panel *p, double limit,
                          double top, double bottom)
{
    if (p->figure != HP_SPREAD_EXCESS || !(log10(limit) > s->low && log10(limit) < s->high))
        return;
    hp_axes axes = {{s->left, top, s->right, bottom}, s->low, s->high, 0.0, 1.0};
    double xs[] = {log10(limit), log10(limit)}, ys[] = {0.0, 1.0};
    hp_pen_curve(canvas, &axes, xs, ys, 2, HP_INK_BLACK, 2.5, HP_DASH_LONG);
}

static double draw_panel(const hp_canvas *canvas, double y, const hp_spread *spread, const panel *p)
{
    int rows = count_rows(spread, p);
    if (rows == 0)
        return y;
    scale s = make_scale(spread, p);
    double top = y + TITLE_LINE, bottom = top + rows * ROW, row = top;
    hp_type title = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    char words[80];
    snprintf(words, sizeof words, "%s", hp_spread_column_words(p->figure));
    if (words[0] >= 'a' && words[0] <= 'z')
        words[0] = (char)(words[0] - 'a' + 'A');
    hp_pen_text(canvas, HP_PICTURE_MARGIN, y + 0.5 * TITLE_LINE, title, words);
    draw_scale(canvas, &s, top, bottom);
    draw_boundary(canvas, &s, p, spread->thresholds.excess_max, top, bottom);
    for (int g = 0; g < spread->groups; g++) {
        if (!is_shown(&spread->group[g], p))
            continue;
        draw_row(canvas, &s, row, &spread->group[g], p->figure);
        row += ROW;
    }
    return y + panel_height(spread, p);
}

static void paint(const hp_canvas *canvas, const void *data)
{
    const bands *b = data;
    double y = hp_picture_heading(canvas, b->title, b->subtitle);
    for (int k = 0; k < PANEL_COUNT; k++)
        y = draw_panel(canvas, y, b->spread, &panels[k]);
    hp_picture_caption(canvas, y, caption, CAPTION_COUNT);
}

hp_result hp_picture_spread_bands_draw(const char *path, hp_picture_format format,
                                       const hp_spread *spread, const hp_labels *labels,
                                       hp_error *err)
{
    bands b = {.spread = spread};
    snprintf(b.title, sizeof b.title, "How far the figures spread%s%s",
             labels->machine[0] ? ": " : "", labels->machine);
    snprintf(b.subtitle, sizeof b.subtitle,
             "%d motor%s like the one described, from %d rest angle%s each.", spread->motors,
             spread->motors == 1 ? "" : "s", spread->starts, spread->starts == 1 ? "" : "s");
    double height = hp_picture_heading_height(b.title, b.subtitle);
    for (int k = 0; k < PANEL_COUNT; k++)
        height += panel_height(spread, &panels[k]);
    height = hp_picture_caption(NULL, height, caption, CAPTION_COUNT) + 8.0;
    hp_paper page = {.width = HP_PICTURE_WIDTH, .height = height, .title = b.title};
    return hp_canvas_draw(path, format, &page, paint, &b, err);
}
