/*
 * Heat along the ride: winding with its band, hub, and the limit over the way; below, how the way
 * rises.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/words/drive_words.h"
#include "report/words/fit_words.h"

#include <math.h>
#include <stdio.h>

typedef enum line { LINE_WINDING, LINE_BAND, LINE_HUB, LINE_LIMIT, LINE_WAY, LINE_COUNT } line;

static const hp_curve_style style[LINE_COUNT] = {
    [LINE_WINDING] = {HP_INK_VERMILION, HP_DASH_SOLID, 4.5},
    [LINE_BAND] = {HP_INK_VERMILION, HP_DASH_SHORT, 2.5},
    [LINE_HUB] = {HP_INK_BLUE, HP_DASH_LONG, 4.0},
    [LINE_LIMIT] = {HP_INK_BLACK, HP_DASH_MIXED, 2.5},
    [LINE_WAY] = {HP_INK_BLACK, HP_DASH_SOLID, 3.0},
};

typedef struct heat {
    const hp_fit *fit;
    const hp_vehicle *vehicle;
    char title[200];
    double km[HP_FIT_COURSE], height_m[HP_FIT_COURSE];
    double low_m, high_m; /* of the way */
    double coldest_c, hottest_c;
} heat;

static void put_temperatures(const hp_canvas *canvas, const hp_look *look, const heat *h,
                             hp_box box)
{
    const hp_fit_course *c = &h->fit->course;
    double line_height = hp_look_line(look->small), limit = h->vehicle->ratings.winding_most_c;
    hp_type label = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_axes axes = {.box = {box.left + 4.0 * look->small, box.top + 1.8 * line_height,
                            box.right - look->small, box.bottom},
                    .x_max = h->km[c->count - 1],
                    .y_min = h->coldest_c,
                    .y_max = h->hottest_c};
    size_t count = (size_t)c->count;
    const double ends[] = {0.0, h->km[c->count - 1]}, limits[] = {limit, limit};
    hp_pen_text_cut(canvas, box.left, box.top + 1.2 * line_height, box.right - box.left, label,
                    "Temperature, C");
    hp_axes_draw_y(canvas, look, &axes);
    hp_curve_put(canvas, &axes, ends, limits, 2, style[LINE_LIMIT]);
    hp_curve_put(canvas, &axes, h->km, c->hub_c, count, style[LINE_HUB]);
    hp_curve_put(canvas, &axes, h->km, c->low_c, count, style[LINE_BAND]);
    hp_curve_put(canvas, &axes, h->km, c->high_c, count, style[LINE_BAND]);
    hp_curve_put(canvas, &axes, h->km, c->copper_c, count, style[LINE_WINDING]);
}

static void put_way(const hp_canvas *canvas, const hp_look *look, const heat *h, hp_box box)
{
    int count = h->fit->course.count;
    double line_height = hp_look_line(look->small);
    hp_type label = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_axes axes = {.box = {box.left + 4.0 * look->small, box.top + 1.8 * line_height,
                            box.right - look->small, box.bottom},
                    .x_max = h->km[count - 1],
                    .y_min = h->low_m,
                    .y_max = h->high_m};
    hp_pen_text_cut(canvas, box.left, box.top + 1.2 * line_height, box.right - box.left, label,
                    "Height of the way, m");
    hp_axes_draw_y(canvas, look, &axes);
    hp_curve_put(canvas, &axes, h->km, h->height_m, (size_t)count, style[LINE_WAY]);
    double y = hp_axes_draw_x(canvas, look, &axes) + 0.5 * line_height;
    label.align = HP_ALIGN_RIGHT;
    hp_pen_text_cut(canvas, axes.box.right, y, axes.box.right - axes.box.left, label, "Way, km");
}

/* Where the winding is hottest, and how long the ride takes: two things. */
static void put_hottest(hp_flow *flow, const heat *h)
{
    const hp_fit_course *c = &h->fit->course;
    char text[200], hottest[32], low[32], high[32], way[32], minutes[32];
    int at = 0;
    for (int k = 1; k < c->count; k++)
        if (c->copper_c[k] > c->copper_c[at])
            at = k;
    snprintf(text, sizeof text, "Hottest: %s C (%s to %s), at %s km.",
             hp_fit_number(c->hottest_c, hottest, sizeof hottest),
             hp_fit_number(c->hottest_low_c, low, sizeof low),
             hp_fit_number(c->hottest_high_c, high, sizeof high),
             hp_fit_number(1e-3 * c->metres[at], way, sizeof way));
    hp_flow_bold(flow, text);
    snprintf(text, sizeof text, "The ride takes %s min.",
             hp_fit_number(c->seconds / 60.0, minutes, sizeof minutes));
    hp_flow_bold(flow, text);
}

static void put_words(hp_flow *flow, const heat *h)
{
    const hp_fit_course *c = &h->fit->course;
    char text[240], asked[HP_ASKED_WORDS];
    put_hottest(flow, h);
    if (c->stuck) {
        snprintf(text, sizeof text, "Stretch %d is too steep: the ride ends before it.", c->stuck);
        hp_flow_bold(flow, text);
    }
    hp_flow_space(flow, 0.4 * flow->look->body);
    hp_curve_row(flow, style[LINE_WINDING], "winding");
    hp_curve_row(flow, style[LINE_BAND], "winding: where it may lie");
    hp_curve_row(flow, style[LINE_HUB], "hub: iron, axle, shell");
    hp_curve_row(flow, style[LINE_LIMIT], "hottest it may be");
    hp_flow_space(flow, 0.4 * flow->look->body);
    snprintf(text, sizeof text,
             "From cold, %s, battery half charged; where the road pushes, %s. The winding follows "
             "the hill at once, the hub much later.",
             hp_full_words(h->fit->full, asked, sizeof asked),
             h->fit->full < 1.0 ? "the pedals stand still" : "the throttle is let go");
    hp_flow_paragraph(flow, text);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const heat *h = data;
    double top =
        hp_picture_heading(canvas, look, h->title, "Simulated losses, two bodies and air.");
    double axis = 2.6 * hp_look_line(look->small);
    hp_room room = hp_look_room(look, top, look->shape == HP_SHAPE_PHONE ? 760.0 : 700.0, 0.62);
    double unit = (room.plot.bottom - axis - room.plot.top) / 3.0;
    hp_box upper = {room.plot.left, room.plot.top, room.plot.right, room.plot.top + 2.0 * unit};
    hp_box lower = {room.plot.left, upper.bottom, room.plot.right, upper.bottom + unit};
    put_temperatures(canvas, look, h, upper);
    put_way(canvas, look, h, lower);
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, h);
    return hp_picture_end(look, &flow);
}

static void put_course(heat *h)
{
    const hp_fit_course *c = &h->fit->course;
    h->coldest_c = fmin(0.0, h->vehicle->heat.air_c);
    h->hottest_c = h->vehicle->ratings.winding_most_c;
    for (int k = 0; k < c->count; k++) {
        double slope = 0.01 * c->percent[k], way = k ? c->metres[k] - c->metres[k - 1] : 0.0;
        h->km[k] = 1e-3 * c->metres[k];
        h->height_m[k] = k ? h->height_m[k - 1] + way * slope / sqrt(1.0 + slope * slope) : 0.0;
        hp_range_take(h->height_m[k], &h->low_m, &h->high_m);
        h->hottest_c = fmax(h->hottest_c, fmin(c->high_c[k], 300.0));
    }
    hp_range_round(&h->low_m, &h->high_m);
    hp_range_round(&h->coldest_c, &h->hottest_c);
    if (c->count == 1)
        h->km[0] = 1.0; /* a ride that ends where it begins still has a scale */
}

static hp_result draw_heat(const hp_picture_subject *subject, const hp_picture_target *to,
                           hp_error *err)
{
    heat h = {.fit = subject->fit, .vehicle = subject->vehicle};
    const char *machine = subject->labels->machine;
    snprintf(h.title, sizeof h.title, "Heat along the ride%s%s", machine[0] ? ": " : "", machine);
    put_course(&h);
    return hp_picture_put(to, h.title, draw, &h, err);
}

const hp_picture hp_picture_fit_heat = {
    .name = "fit-heat",
    .question = "How hot does the winding get along the ride?",
    .makers = HP_MAKER_FIT,
    .needs = HP_NEEDS_FIT,
    .draw = draw_heat,
};
