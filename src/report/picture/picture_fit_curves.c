/*
 * The machine under load: speed, currents, power and efficiency against torque at the wheel, and
 * over the speed what the road asks on the level and on the hill. Where they cross, it runs.
 */
#include "model/road.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/words/drive_words.h"
#include "report/words/fit_words.h"

#include <math.h>
#include <stdio.h>

typedef enum panel { SPEED, CURRENT, POWER, EFFICIENCY, PANELS } panel;

static const char *const panel_title[PANELS] = {"Speed, km/h", "Battery and phase current, A",
                                                "Power at the wheel, W", "Efficiency, %"};

/* Every line of the picture; told apart without colour. */
typedef enum line {
    LINE_FULL,
    LINE_MIDDLE,
    LINE_EMPTY,
    LINE_DC,
    LINE_PHASE,
    LINE_LEVEL,
    LINE_HILL,
    LINE_COUNT
} line;

static const hp_curve_style style[LINE_COUNT] = {
    [LINE_FULL] = {HP_INK_GREEN, HP_DASH_SOLID, 4.0},
    [LINE_MIDDLE] = {HP_INK_BLUE, HP_DASH_LONG, 4.0},
    [LINE_EMPTY] = {HP_INK_ORANGE, HP_DASH_SHORT, 4.0},
    [LINE_DC] = {HP_INK_GREY, HP_DASH_MIXED, 2.0},
    [LINE_PHASE] = {HP_INK_PURPLE, HP_DASH_MIXED, 4.0},
    [LINE_LEVEL] = {HP_INK_BLACK, HP_DASH_SOLID, 2.0},
    [LINE_HILL] = {HP_INK_VERMILION, HP_DASH_SOLID, 2.5},
};

#define ROAD_POINTS 61
/* chosen: the share of its limit at which a current is held there. */
#define LIMIT_REACHED 0.95

typedef struct curves {
    const hp_fit *fit;
    const hp_vehicle *vehicle;
    double battery_limit_a; /* of the controller; 0: none */
    char title[200];
    double torque_max;   /* [N m] of the scale */
    double most[PANELS]; /* of each scale */
    double speed_most;   /* [m/s] */
} curves;

static double km_h(const hp_vehicle *vehicle, double wheel_rad_s)
{
    return 3.6 * wheel_rad_s * vehicle->wheel_m / HP_TWO_PI;
}

/* What a panel shows of a point. */
static double value_of(const curves *c, panel which, const hp_fit_point *p)
{
    switch (which) {
    case SPEED: return km_h(c->vehicle, p->wheel_rad_s);
    case CURRENT: return p->battery_a;
    case POWER: return p->wheel_w;
    default: return p->battery_w > 0.0 ? 100.0 * p->wheel_w / p->battery_w : 0.0;
    }
}

static void put_charge(const hp_canvas *canvas, const hp_axes *axes, const curves *c, panel which,
                       hp_fit_charge charge)
{
    double x[HP_FIT_POINTS], y[HP_FIT_POINTS];
    size_t count = 0;
    for (int k = 0; k < HP_FIT_POINTS && c->fit->curve[charge].point[k].runs; k++, count++) {
        x[count] = c->fit->curve[charge].point[k].torque_nm;
        y[count] = value_of(c, which, &c->fit->curve[charge].point[k]);
    }
    hp_curve_put(canvas, axes, x, y, count, style[LINE_FULL + (line)charge]);
}

/* The textbook's line and the phase current, half charged. */
static void put_beside(const hp_canvas *canvas, const hp_axes *axes, const curves *c, panel which)
{
    const hp_fit_curve *curve = &c->fit->curve[HP_FIT_CHARGE_MIDDLE];
    double x[HP_FIT_POINTS], y[HP_FIT_POINTS];
    size_t count = 0;
    for (int k = 0; k < HP_FIT_POINTS; k++) {
        bool dc = which == SPEED && isfinite(curve->dc_rad_s[k]);
        if (!dc && !(which == CURRENT && curve->point[k].runs))
            continue;
        x[count] = curve->point[k].torque_nm;
        y[count++] = dc ? km_h(c->vehicle, curve->dc_rad_s[k]) : curve->point[k].phase_rms_a;
    }
    hp_curve_put(canvas, axes, x, y, count, style[which == SPEED ? LINE_DC : LINE_PHASE]);
}

/* Torque that the road asks, at every speed. */
static void put_road(const hp_canvas *canvas, const hp_axes *axes, const curves *c, double slope,
                     line which)
{
    double x[ROAD_POINTS], y[ROAD_POINTS], r = c->vehicle->wheel_m / HP_TWO_PI;
    for (int k = 0; k < ROAD_POINTS; k++) {
        double speed = c->speed_most * k / (ROAD_POINTS - 1);
        x[k] = r * hp_road_force_at(&c->vehicle->road, speed, slope).total;
        y[k] = 3.6 * speed;
    }
    hp_curve_put(canvas, axes, x, y, ROAD_POINTS, style[which]);
}

static void put_panel(const hp_canvas *canvas, const hp_look *look, const curves *c, panel which,
                      hp_box box, bool last)
{
    double line_height = hp_look_line(look->small);
    hp_type label = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_axes axes = {.box = {box.left + 4.0 * look->small, box.top + 1.8 * line_height,
                            box.right - look->small, box.bottom},
                    .x_max = c->torque_max,
                    .y_max = c->most[which]};
    hp_pen_text_cut(canvas, box.left, box.top + 1.2 * line_height, box.right - box.left, label,
                    panel_title[which]);
    hp_axes_draw_y(canvas, look, &axes);
    if (which == SPEED) {
        put_road(canvas, &axes, c, 0.0, LINE_LEVEL);
        put_road(canvas, &axes, c, c->vehicle->hill, LINE_HILL);
    }
    if (which == SPEED || which == CURRENT)
        put_beside(canvas, &axes, c, which);
    for (int k = HP_FIT_CHARGE_COUNT - 1; k >= 0; k--)
        put_charge(canvas, &axes, c, which, (hp_fit_charge)k);
    if (!last)
        return;
    double y = hp_axes_draw_x(canvas, look, &axes) + 0.5 * line_height;
    label.align = HP_ALIGN_RIGHT;
    hp_pen_text_cut(canvas, axes.box.right, y, axes.box.right - axes.box.left, label,
                    "Torque at the wheel, N m");
}

static void put_meeting(hp_flow *flow, const char *where, const hp_fit_meeting at[])
{
    char text[160], full[32], empty[32];
    if (!at[HP_FIT_CHARGE_FULL].meets)
        snprintf(text, sizeof text, "%s: not even with a full battery.", where);
    else
        snprintf(text, sizeof text, "%s: %s km/h with a full battery, %s with an empty one.", where,
                 hp_fit_number(3.6 * at[HP_FIT_CHARGE_FULL].speed, full, sizeof full),
                 hp_fit_number(3.6 * at[HP_FIT_CHARGE_EMPTY].speed, empty, sizeof empty));
    hp_flow_bold(flow, text);
}

/* What bends the curves: a limit that draws less of the battery than its own is the phases'. */
static const char *kinks(const curves *c)
{
    bool battery = false, phase = false;
    for (int n = 0; n < HP_FIT_CHARGE_COUNT; n++)
        for (int k = 0; k < HP_FIT_POINTS && c->fit->curve[n].point[k].runs; k++) {
            const hp_fit_point *p = &c->fit->curve[n].point[k];
            bool held =
                c->battery_limit_a > 0.0 && p->battery_a > LIMIT_REACHED * c->battery_limit_a;
            battery = battery || (p->limited && held);
            phase = phase || (p->limited && !held);
        }
    return battery && phase
               ? " The curves have two kinks: at the first the controller limits the battery's "
                 "current, at the last the current of the phases."
           : battery ? " The kink is where the controller limits the battery's current."
           : phase   ? " The kink is where the controller limits the current of the phases."
                     : "";
}

static void put_words(hp_flow *flow, const curves *c)
{
    char hill[80], text[240], volts[32];
    /* The controller may end before the battery does. */
    bool cut = c->fit->curve[HP_FIT_CHARGE_EMPTY].emf_v > c->vehicle->pack.empty_v;
    const char *const charge[HP_FIT_CHARGE_COUNT] = {"battery full", "battery half charged",
                                                     cut ? "at the cut-out" : "battery empty"};
    snprintf(hill, sizeof hill, "Up %g %%", 100.0 * c->vehicle->hill);
    put_meeting(flow, "On the level", c->fit->level);
    put_meeting(flow, hill, c->fit->hill);
    hp_flow_space(flow, 0.4 * flow->look->body);
    for (int k = 0; k < HP_FIT_CHARGE_COUNT; k++) {
        snprintf(text, sizeof text, "%s, %s V", charge[k],
                 hp_fit_number(c->fit->curve[k].emf_v, volts, sizeof volts));
        hp_curve_row(flow, style[LINE_FULL + (line)k], text);
    }
    hp_curve_row(flow, style[LINE_PHASE], "phase current, half charged");
    hp_curve_row(flow, style[LINE_DC], "d.c. line, no limits");
    hp_curve_row(flow, style[LINE_LEVEL], "what the level road asks");
    snprintf(text, sizeof text, "what a hill of %g %% asks", 100.0 * c->vehicle->hill);
    hp_curve_row(flow, style[LINE_HILL], text);
    hp_flow_space(flow, 0.4 * flow->look->body);
    snprintf(text, sizeof text,
             "Where a curve of the machine crosses a line of the road, it runs steadily.%s",
             kinks(c));
    hp_flow_paragraph(flow, text);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const curves *c = data;
    char asked[HP_ASKED_WORDS], text[100];
    snprintf(text, sizeof text, "The correct wiring at %s, simulated under load.",
             hp_full_words(c->fit->full, asked, sizeof asked));
    double top = hp_picture_heading(canvas, look, c->title, text);
    double axis = 2.6 * hp_look_line(look->small);
    hp_room room = hp_look_room(look, top, look->shape == HP_SHAPE_PHONE ? 1150.0 : 760.0, 0.6);
    /* The speed is what people look for: twice as high as the others. */
    double unit = (room.plot.bottom - axis - room.plot.top) / (PANELS + 1.0);
    double y = room.plot.top;
    for (int k = 0; k < PANELS; k++) {
        double height = k == SPEED ? 2.0 * unit : unit;
        hp_box box = {room.plot.left, y, room.plot.right, y + height};
        put_panel(canvas, look, c, (panel)k, box, k == PANELS - 1);
        y += height;
    }
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, c);
    return hp_picture_end(look, &flow);
}

/* Scales hold every curve. */
static void put_scales(curves *c)
{
    for (int n = 0; n < HP_FIT_CHARGE_COUNT; n++)
        for (int k = 0; k < HP_FIT_POINTS && c->fit->curve[n].point[k].runs; k++) {
            const hp_fit_point *p = &c->fit->curve[n].point[k];
            c->torque_max = fmax(c->torque_max, p->torque_nm);
            for (int which = 0; which < PANELS; which++)
                c->most[which] = fmax(c->most[which], value_of(c, (panel)which, p));
            c->most[CURRENT] = fmax(c->most[CURRENT], p->phase_rms_a);
        }
    c->most[EFFICIENCY] = 100.0;
    for (int which = 0; which < PANELS; which++) {
        double low = 0.0;
        if (which != EFFICIENCY)
            hp_range_round(&low, &c->most[which]);
    }
    c->torque_max = fmax(c->torque_max, 1.0);
    c->speed_most = c->most[SPEED] / 3.6;
}

static hp_result draw_curves(const hp_picture_subject *subject, const hp_picture_target *to,
                             hp_error *err)
{
    curves c = {.fit = subject->fit,
                .vehicle = subject->vehicle,
                .battery_limit_a = subject->drive->controller.battery_limit_a};
    const char *machine = subject->labels->machine;
    snprintf(c.title, sizeof c.title, "Machine and road%s%s", machine[0] ? ": " : "", machine);
    put_scales(&c);
    return hp_picture_put(to, c.title, draw, &c, err);
}

const hp_picture hp_picture_fit_curves = {
    .name = "fit-curves",
    .question = "How fast does it go, on the level and up the hill, and what does it draw?",
    .makers = HP_MAKER_FIT,
    .needs = HP_NEEDS_FIT,
    .draw = draw_curves,
};
