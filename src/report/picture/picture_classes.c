/*
 * All 36 wirings on idle current against current excess, with the boundary between smooth and
 * rough.
 *
 * Both scales are logarithmic, so the boundary, excess times the square of the idle share, is a
 * straight line. An excess without a bound, or far beyond the others, stands at an arrowed edge.
 * Undecided wirings are listed, not drawn. No line runs through a word: each stands on a ground of
 * its own.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define EDGE       44.0 /* [units] strip beyond the scale for excess without a bound */
#define LEAST      1e-3 /* of either scale */
#define MOST       1e5  /* larger values stand at the edge too */
#define IDLE_SHOWN 0.1  /* the scale of the idle share begins here or below */
#define WALL_SHARE 0.62

/* One scale: powers of ten. */
typedef struct scale {
    int low, high; /* exponents at the ends */
    double from;   /* [units] of the page */
    double to;
    bool below; /* some value lies below the scale, and is drawn at its first one */
} scale;

typedef struct classes {
    const hp_look *look;
    const hp_survey *survey;
    const hp_thresholds *thresholds;
    char title[200];
    scale x, y;
} classes;

static const char subtitle[] =
    "Idle current against current excess. Wirings that behave alike share one mark.";

static const char beyond[] = "beyond the scale, or no limit";

static double idle_of(const hp_judgement *j)
{
    return hp_figures_idle(&j->mean);
}

/* The decades that hold all values, within bounds, and `also`. */
static scale make_scale(const hp_survey *survey, bool idle, double also, double from, double to)
{
    double low = also, high = also;
    scale s = {.from = from, .to = to};
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &survey->judgement[n];
        double value = idle ? idle_of(j) : j->excess;
        if (j->verdict == HP_VERDICT_UNDECIDED || !isfinite(value))
            continue;
        s.below = s.below || value < LEAST;
        low = fmin(low, fmax(value, LEAST));
        high = fmax(high, fmin(value, MOST));
    }
    s.low = (int)floor(log10(low) - (idle ? 0.0 : 0.1));
    s.high = idle ? 0 : (int)ceil(log10(high) + 0.1);
    return s;
}

/* Place on the page; beyond the ends: in the strip past the scale's last value, or at its first. */
static double place(const scale *s, double value)
{
    double sense = s->to > s->from ? 1.0 : -1.0;
    double exponent = value > 0.0 ? log10(value) : s->low;
    if (!(exponent <= s->high + 1e-9))
        return s->to + sense * 0.5 * EDGE;
    double share = (fmax(exponent, s->low) - s->low) / (s->high - s->low);
    return s->from + share * (s->to - s->from);
}

/* "0.01"; the scale's first value says so where smaller ones stand there too. */
static void power_text(const scale *s, int exponent, char text[24])
{
    const char *sign = s->below && exponent == s->low ? "\u2264" : "";
    snprintf(text, 24, "%s%.*f", sign, exponent < 0 ? -exponent : 0, pow(10.0, exponent));
}

/* One number of the idle share, in percent; left out where it has no room beside the last one. */
static void draw_share(const hp_canvas *canvas, const classes *c, double share, double *taken)
{
    char text[24];
    hp_type below = hp_look_small(c->look, HP_INK_BLACK, HP_ALIGN_CENTRE, false);
    double x = place(&c->x, share);
    bool first = c->x.below && share < 1.5 * LEAST;
    snprintf(text, sizeof text, "%s%g %%", first ? "\u2264" : "", 100.0 * share);
    hp_pen_line(canvas, x, c->y.from, x, c->y.to, HP_INK_RULE, 1.0);
    double half = 0.5 * hp_pen_text_width(below, text);
    if (x - half < *taken)
        return;
    *taken = x + half + 0.3 * c->look->small;
    hp_pen_text(canvas, x, c->y.from + 0.9 * c->look->small, below, text);
}

static void draw_grid(const hp_canvas *canvas, const classes *c)
{
    static const double within[] = {1.0, 2.0, 5.0};
    double taken = -(double)INFINITY;
    char text[24];
    hp_type beside = hp_look_small(c->look, HP_INK_BLACK, HP_ALIGN_RIGHT, false);
    for (int e = c->x.low; e <= c->x.high; e++)
        for (int k = 0; k < (e < c->x.high ? 3 : 1); k++)
            draw_share(canvas, c, within[k] * pow(10.0, e), &taken);
    for (int e = c->y.low; e <= c->y.high; e++) {
        double y = place(&c->y, pow(10.0, e));
        power_text(&c->y, e, text);
        hp_pen_line(canvas, c->x.from, y, c->x.to, y, HP_INK_RULE, 1.0);
        hp_pen_text(canvas, c->x.from - 8.0, y, beside, text);
    }
    for (int m = 2; m < 10; m++) {
        for (int e = c->x.low; e < c->x.high; e++) {
            double x = place(&c->x, m * pow(10.0, e));
            hp_pen_line(canvas, x, c->y.from, x, c->y.from - 5.0, HP_INK_GREY, 1.0);
        }
        for (int e = c->y.low; e < c->y.high; e++) {
            double y = place(&c->y, m * pow(10.0, e));
            hp_pen_line(canvas, c->x.from, y, c->x.from + 5.0, y, HP_INK_GREY, 1.0);
        }
    }
}

/* Words already on the plot, which the next one must leave clear. */
typedef struct words {
    hp_box box[4 + HP_VERDICT_COUNT];
    int count;
} words;

static hp_box word_box(hp_type type, double x, double y, const char *text)
{
    double half = 0.5 * hp_pen_text_width(type, text) + 4.0;
    return (hp_box){x - half, y - 0.6 * type.size, x + half, y + 0.6 * type.size};
}

/* A word with its middle at x, y on a ground that hides the lines behind it. */
static void put_word(const hp_canvas *canvas, words *w, hp_type type, double x, double y,
                     const char *text, hp_ink ground)
{
    hp_box box = word_box(type, x, y, text);
    type.align = HP_ALIGN_CENTRE;
    w->box[w->count++] = box;
    hp_pen_fill(canvas, box, ground);
    hp_pen_text(canvas, x, y, type, text);
}

/* The strip beyond the scale, with an arrow that says which way the values lie. */
static void draw_edges(const hp_canvas *canvas, const classes *c, words *w)
{
    double left = c->x.from, right = c->x.to, top = c->y.to;
    hp_type small = hp_look_small(c->look, HP_INK_DARK, HP_ALIGN_LEFT, false);
    hp_box above = {left, top - EDGE, right, top};
    hp_pen_fill(canvas, above, HP_INK_PALE);
    hp_pen_arrow(canvas, left + 34.0, top - 6.0, left + 34.0, top - EDGE + 6.0, HP_INK_DARK, 2.0);
    double middle = left + 50.0 + 0.5 * hp_pen_text_width(small, beyond);
    put_word(canvas, w, small, middle, top - 0.5 * EDGE, beyond, HP_INK_PALE);
}

/* Disc, square, triangle, cross: a class can be told without its colour. The square is the largest,
 * so that the disc of the mirrored wirings shows inside it. */
static void draw_mark(const hp_canvas *canvas, double x, double y, hp_verdict verdict)
{
    const double r = 10.0;
    hp_ink ink = hp_verdict_ink(verdict);
    if (verdict == HP_VERDICT_CORRECT) {
        hp_pen_disc(canvas, x, y, 0.8 * r, HP_INK_BLACK);
        hp_pen_disc(canvas, x, y, 0.65 * r, ink);
    } else if (verdict == HP_VERDICT_REVERSE) {
        hp_box box = {x - 1.1 * r, y - 1.1 * r, x + 1.1 * r, y + 1.1 * r};
        hp_pen_frame(canvas, box, ink, 4.0);
    } else if (verdict == HP_VERDICT_ROUGH) {
        double xs[] = {x - 1.1 * r, x + 1.1 * r, x}, ys[] = {y + r, y + r, y - 1.1 * r};
        double xi[] = {x - 0.75 * r, x + 0.75 * r, x},
               yi[] = {y + 0.8 * r, y + 0.8 * r, y - 0.7 * r};
        hp_pen_polygon(canvas, xs, ys, 3, HP_INK_BLACK);
        hp_pen_polygon(canvas, xi, yi, 3, ink);
    } else {
        hp_pen_line(canvas, x - 0.8 * r, y - 0.8 * r, x + 0.8 * r, y + 0.8 * r, ink, 4.0);
        hp_pen_line(canvas, x - 0.8 * r, y + 0.8 * r, x + 0.8 * r, y - 0.8 * r, ink, 4.0);
    }
}

/* Height on the page at which the boundary passes x; may lie beyond the plot. */
static double boundary_at(const classes *c, double x)
{
    double share = (x - c->x.from) / (c->x.to - c->x.from);
    double idle = pow(10.0, c->x.low + share * (c->x.high - c->x.low));
    double exponent = log10(hp_verdict_excess_limit(idle, c->thresholds));
    return c->y.from + (exponent - c->y.low) / (c->y.high - c->y.low) * (c->y.to - c->y.from);
}

/* Where the boundary passes a height of the page. */
static double boundary_x(const classes *c, double y)
{
    double a = boundary_at(c, c->x.from), b = boundary_at(c, c->x.to);
    return c->x.from + (y - a) / (b - a) * (c->x.to - c->x.from);
}

/* Below the boundary. */
static void draw_smooth_ground(const hp_canvas *canvas, const classes *c)
{
    double top = c->y.to, begin = fmax(c->x.from, boundary_x(c, top));
    double xs[] = {c->x.from, c->x.from, begin, c->x.to, c->x.to};
    double from = fmax(top, boundary_at(c, c->x.from));
    double ys[] = {c->y.from, from, fmax(top, boundary_at(c, begin)),
                   fmax(top, boundary_at(c, c->x.to)), c->y.from};
    hp_pen_polygon(canvas, xs, ys, 5, HP_INK_PALE_GREEN);
}

/* Whether a box lies wholly below the boundary, or wholly above. */
static bool is_below(const classes *c, hp_box b)
{
    return b.top > boundary_at(c, b.right);
}

static bool is_above(const classes *c, hp_box b)
{
    return b.bottom < boundary_at(c, b.left);
}

static bool has_mark(const classes *c, hp_box b)
{
    const double r = 11.0;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &c->survey->judgement[n];
        double x = place(&c->x, idle_of(j)), y = place(&c->y, j->excess);
        if (x > b.left - r && x < b.right + r && y > b.top - r && y < b.bottom + r)
            return true;
    }
    return false;
}

/* Says what is above the boundary: at the right, or as far to the left as no mark is in the way. */
static void put_above(const hp_canvas *canvas, const classes *c, words *w, hp_type type, double y)
{
    static const char text[] = "above: rough or stalled";
    double half = 0.5 * hp_pen_text_width(type, text) + 10.0, right = c->x.to - half, x = right;
    hp_box box = word_box(type, x, y, text);
    while (x > c->x.from + half && has_mark(c, box)) {
        x -= 10.0;
        box = word_box(type, x, y, text);
    }
    if (!is_above(c, box) || has_mark(c, box))
        x = right;
    put_word(canvas, w, type, x, y, text, HP_INK_WHITE);
}

static void draw_boundary(const hp_canvas *canvas, const classes *c, words *w)
{
    double gap = 0.9 * c->look->small, begin = fmax(c->x.from, boundary_x(c, c->y.to));
    hp_type type = hp_look_small(c->look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    hp_axes axes = {
        {c->x.from, c->y.to, c->x.to, c->y.from}, c->x.from, c->x.to, 0.0, c->y.from - c->y.to};
    double xs[] = {begin, c->x.to};
    double ys[] = {c->y.from - boundary_at(c, begin), c->y.from - boundary_at(c, c->x.to)};
    hp_pen_curve(canvas, &axes, xs, ys, 2, HP_INK_BLACK, 2.5, HP_DASH_LONG);
    static const char below[] = "below the line: may be smooth";
    put_word(canvas, w, type, c->x.from + 0.5 * hp_pen_text_width(type, below) + 10.0,
             c->y.from - gap, below, HP_INK_PALE_GREEN);
    put_above(canvas, c, w, type, c->y.to + gap);
}

static bool is_clear(const words *w, const classes *c, hp_box b)
{
    if (!is_below(c, b) && !is_above(c, b))
        return false;
    if (b.left < c->x.from || b.right > c->x.to || b.top < c->y.to - EDGE || b.bottom > c->y.from)
        return false;
    for (int k = 0; k < w->count; k++)
        if (b.left < w->box[k].right && b.right > w->box[k].left && b.top < w->box[k].bottom &&
            b.bottom > w->box[k].top)
            return false;
    return true;
}

/* Names a group beside the mark at x, y: at the first place that is clear, from near to far and, of
 * two alike, on the wanted side. */
static void draw_name(const hp_canvas *canvas, const classes *c, words *w, double x, double y,
                      hp_verdict verdict, double side)
{
    static const double away[] = {26.0, 50.0, 74.0, 98.0};
    static const double shift[] = {0.0, -30.0, 30.0, -60.0, 60.0, -90.0, 90.0, -120.0, 120.0};
    hp_type type = hp_look_small(c->look, HP_INK_BLACK, HP_ALIGN_CENTRE, true);
    const char *name = hp_verdict_name(verdict);
    for (size_t a = 0; a < sizeof away / sizeof away[0]; a++) {
        for (size_t s = 0; s < 2 * sizeof shift / sizeof shift[0]; s++) {
            double at_x = x + shift[s / 2], at_y = y + (s % 2 ? -side : side) * away[a];
            hp_box box = word_box(type, at_x, at_y, name);
            if (!is_clear(w, c, box))
                continue;
            hp_ink ground = box.top < c->y.to  ? HP_INK_PALE
                            : is_below(c, box) ? HP_INK_PALE_GREEN
                                               : HP_INK_WHITE;
            put_word(canvas, w, type, at_x, at_y, name, ground);
            return;
        }
    }
}

/* Draws one verdict's marks and names the group at its highest (side -1) or lowest (+1) mark. */
static void draw_group(const hp_canvas *canvas, const classes *c, words *w, hp_verdict verdict,
                       double side)
{
    double best_x = 0.0, best_y = NAN;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &c->survey->judgement[n];
        if (j->verdict != verdict)
            continue;
        double x = place(&c->x, idle_of(j)), y = place(&c->y, j->excess);
        draw_mark(canvas, x, y, verdict);
        if (isnan(best_y) || side * y > side * best_y) {
            best_x = x;
            best_y = y;
        }
    }
    if (!isnan(best_y))
        draw_name(canvas, c, w, best_x, best_y, verdict, side);
}

/* The numbers of the wirings with this verdict, "1, 22, 29"; empty when there is none. */
static void list_numbers(const hp_survey *survey, hp_verdict verdict, char *text, size_t size)
{
    hp_phrase p = hp_phrase_begin(text, size);
    for (int n = 1; n <= HP_WIRING_COUNT && p.used + 8 < size; n++)
        if (survey->judgement[n - 1].verdict == verdict)
            hp_phrase_add(&p, "%s%d", p.used ? ", " : "", n);
}

/* Mark, word and numbers of each class. */
static void put_legend(hp_flow *flow, const hp_survey *survey)
{
    const hp_look *look = flow->look;
    hp_type plain = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double row = 1.5 * look->small, left = flow->left + 2.0 * look->small;
    double badge = 6.2 * look->small, list = left + badge + 0.5 * look->small;
    double width = flow->left + flow->width - list;
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        char numbers[200];
        list_numbers(survey, (hp_verdict)v, numbers, sizeof numbers);
        double height = fmax(row, hp_pen_paragraph_height(width, plain, numbers));
        if (!numbers[0] || !hp_flow_fits(flow, height))
            continue;
        hp_box box = {left, flow->y, left + badge, flow->y + row - 2.0};
        hp_verdict_badge(flow->canvas, box, look->small, (hp_verdict)v, HP_DIRECTION_NONE);
        if (v != HP_VERDICT_UNDECIDED)
            draw_mark(flow->canvas, flow->left + 0.8 * look->small, flow->y + 0.5 * row,
                      (hp_verdict)v);
        hp_pen_paragraph(flow->canvas, list, flow->y + 0.5 * (row - hp_look_line(look->small)),
                         width, plain, numbers);
        flow->y += height + 0.3 * look->small;
    }
    flow->y += 0.3 * look->small;
}

/* Rough wirings that lie below the line, and what else made them so. */
static void put_below(hp_flow *flow, const classes *c)
{
    char text[400];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "Rough, though below the line:");
    int count = 0, partly = 0;
    const hp_judgement *first = NULL;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &c->survey->judgement[n - 1];
        if (j->verdict != HP_VERDICT_ROUGH ||
            !(j->excess <= hp_verdict_excess_limit(idle_of(j), c->thresholds)))
            continue;
        if (p.used + 8 < sizeof text)
            hp_phrase_add(&p, "%s %d", count ? "," : "", n);
        count++;
        partly += j->starts < j->starts_tried;
        first = first ? first : j;
    }
    if (!first)
        return;
    if (partly == count)
        hp_phrase_add(&p, ". %s: from some start positions %s %s not start.",
                      count > 1 ? "They draw little once they turn"
                                : "It draws little once it turns",
                      count > 1 ? "they" : "it", count > 1 ? "do" : "does");
    else
        hp_phrase_add(&p, ". Why: %s.", first->reason);
    hp_flow_bold(flow, text);
}

static void put_words(hp_flow *flow, const classes *c)
{
    put_legend(flow, c->survey);
    put_below(flow, c);
    hp_flow_paragraph(flow,
                      "Current excess is the power that the battery gives over the power that "
                      "moves the machine. Close to 1: hardly any is wasted. Idle current is the "
                      "share of the phase current that gives no torque either way.");
    char line[400];
    snprintf(line, sizeof line,
             "The dashed line is the boundary that the verdict uses: excess times the square of "
             "the idle share is %.3g. A wiring below it is smooth if it also starts from every "
             "position, turns steadily, and no other turns the same way with less phase current "
             "times speed.",
             c->thresholds->waste_max);
    hp_flow_paragraph(flow, line);
}

static void draw_plot(const hp_canvas *canvas, const classes *c)
{
    words w = {.count = 0};
    hp_box frame = {c->x.from, c->y.to, c->x.to, c->y.from};
    draw_smooth_ground(canvas, c);
    draw_edges(canvas, c, &w);
    draw_grid(canvas, c);
    hp_pen_frame(canvas, frame, HP_INK_DARK, 1.5);
    draw_boundary(canvas, c, &w);
    draw_group(canvas, c, &w, HP_VERDICT_STALLED, 1.0);
    draw_group(canvas, c, &w, HP_VERDICT_ROUGH, 1.0);
    draw_group(canvas, c, &w, HP_VERDICT_REVERSE, 1.0);
    draw_group(canvas, c, &w, HP_VERDICT_CORRECT, -1.0);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    classes c = *(const classes *)data;
    double top = hp_picture_heading(canvas, look, c.title, subtitle);
    double line = hp_look_line(look->small);
    hp_type label = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_room room = hp_look_room(look, top, 560.0, WALL_SHARE);
    c.look = look;
    c.x = make_scale(c.survey, true, IDLE_SHOWN, room.plot.left + 4.8 * look->small,
                     room.plot.right - 1.6 * look->small);
    c.y = make_scale(c.survey, false, c.thresholds->waste_max, room.plot.bottom - 2.5 * line,
                     top + line + EDGE);
    hp_pen_text(canvas, room.plot.left, top + 0.4 * line, label, "Current excess (no unit)");
    draw_plot(canvas, &c);
    label.align = HP_ALIGN_RIGHT;
    hp_pen_text(canvas, c.x.to, c.y.from + 1.9 * line, label,
                "Idle current (share of phase current)");
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, &c);
    return hp_picture_end(look, &flow);
}

static hp_result draw_classes(const hp_picture_subject *subject, const hp_picture_target *to,
                              hp_error *err)
{
    classes c = {.survey = subject->survey, .thresholds = &subject->thresholds};
    const char *machine = subject->labels->machine;
    snprintf(c.title, sizeof c.title, "Smooth or rough%s%s", machine[0] ? ": " : "", machine);
    return hp_picture_put(to, c.title, draw, &c, err);
}

const hp_picture hp_picture_classes = {
    .name = "classes",
    .question = "Which figure divides smooth from rough, and where does each wiring lie?",
    .makers = HP_MAKER_SURVEY,
    .needs = HP_NEEDS_SURVEY,
    .draw = draw_classes,
};
