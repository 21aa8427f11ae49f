/*
 * A plug with both its halves: see the header.
 *
 * Pins are numbered discs in the colours of their leads; what each number is stands in a table
 * below, so that no name has to fit between pins. One routine places everything from top to bottom;
 * without a canvas it only measures.
 */
#include "report/picture/picture_plug.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "model/plug.h"
#include "report/picture/lead_colour.h"
#include "report/picture/look.h"
#include "report/picture/pen.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LETTERS                                                                                    \
    14.0 /* all that follows is for letters of this size, and goes up and down with them */
#define GAP        8.0
#define DISC       13.0 /* of a pin, where there is room */
#define RIM        18.0 /* from the outer ring of pins to the rim */
#define INNER      0.54 /* radius of the inner ring over that of the outer */
#define KEY        9.0  /* half width of the key mark */
#define CELL       34.0 /* of a square plug, where there is room */
#define ACROSS     5    /* columns; a wider plug has its halves one below the other */
#define RADIUS     62.0 /* of the outer ring */
#define LEAD_SHARE 0.26 /* of the table: the lead; the rest is for its two places */
#define LINES_MOST 1.7  /* lines of a name at most */
#define ONE_LINE   0.95
#define KEY_HIGH   12.0 /* of the key mark */
#define NUMBER_W   20.0 /* of the table's first column */

static const char *const half_title[HP_HALF_COUNT] = {"", "motor's half", "controller's half"};

/* ---- what is shown --------------------------------------------------------------------------- */

char *hp_plug_lead_words(const hp_labels *labels, int lead, char *out, size_t size)
{
    if (lead >= HP_PLUG_SUPPLY_PLUS)
        snprintf(out, size, "Hall %s", lead == HP_PLUG_SUPPLY_PLUS ? "plus" : "minus");
    else if (lead >= HP_PLUG_SENSOR_U)
        snprintf(out, size, "Hall %s", labels->motor_sensor[lead - HP_PLUG_SENSOR_U]);
    else
        snprintf(out, size, "phase %s", labels->motor_lead[lead]);
    return out;
}

bool hp_plug_view_make(const hp_plug_map *plug, const hp_labels *labels, hp_plug_view *view)
{
    memset(view, 0, sizeof *view);
    if (!plug->given || plug->half == HP_HALF_UNSAID)
        return false;
    hp_plug_half seen = (hp_plug_half)plug->half;
    hp_plug_half other = seen == HP_HALF_MOTOR ? HP_HALF_CONTROLLER : HP_HALF_MOTOR;
    int columns = hp_plug_columns(plug);
    for (int k = 0; k < HP_PLUG_LEAD_COUNT; k++) {
        hp_pin_place place = hp_pin_place_read(plug->pin[k]);
        if (place.kind == HP_PLACE_NONE)
            continue;
        hp_plug_pin *pin = &view->pin[view->pins++];
        hp_plug_lead_words(labels, k, pin->lead, sizeof pin->lead);
        pin->face[seen] = place;
        pin->face[other] = hp_pin_place_mirror(&place, columns);
        view->round = view->round || place.kind == HP_PLACE_ROUND;
        if (place.kind == HP_PLACE_GRID) {
            view->columns = columns;
            view->rows = place.row > view->rows ? place.row : view->rows;
        }
    }
    return view->pins > 0;
}

/* ---- a pin ----------------------------------------------------------------------------------- */

static void draw_pin(double u, const hp_canvas *canvas, double x, double y, double radius,
                     int number, const char *lead)
{
    const char *tint[2];
    char text[16];
    hp_type type = {fmin(u * LETTERS, 1.2 * radius), HP_INK_BLACK, HP_ALIGN_CENTRE, true};
    hp_pen_disc(canvas, x, y, radius, HP_INK_BLACK);
    hp_ink ink = HP_INK_WHITE;
    if (number && hp_lead_tints(lead, tint) > 0) {
        hp_pen_mix(canvas, HP_INK_LEAD, tint[0]);
        ink = HP_INK_LEAD;
    }
    hp_pen_disc(canvas, x, y, radius - 1.5, ink);
    hp_pen_disc(canvas, x, y, 0.66 * radius, HP_INK_WHITE);
    snprintf(text, sizeof text, "%d", number);
    if (number)
        hp_pen_text(canvas, x, y, type, text);
}

static void draw_key(double u, const hp_canvas *canvas, double x, double y)
{
    const double px[] = {x - u * KEY, x + u * KEY, x}, py[] = {y, y, y + KEY_HIGH * u};
    hp_pen_polygon(canvas, px, py, 3, HP_INK_BLACK);
}

/* ---- a round plug ---------------------------------------------------------------------------- */

static double ring_radius(double u, hp_ring ring)
{
    return ring == HP_RING_CENTRE ? 0.0 : ring == HP_RING_INNER ? INNER * u * RADIUS : u * RADIUS;
}

/* From the middle of the plug, y down. */
static void round_offset(double u, const hp_pin_place *place, double *x, double *y)
{
    double angle = place->angle_deg * HP_DEG, radius = ring_radius(u, place->ring);
    *x = radius * sin(angle);
    *y = -radius * cos(angle);
}

/* Discs that do not touch one another. */
static double round_disc(double u, const hp_plug_view *view, hp_plug_half half)
{
    double disc = u * DISC;
    for (int k = 0; k < view->pins; k++)
        for (int j = 0; j < k; j++) {
            const hp_pin_place *a = &view->pin[k].face[half], *b = &view->pin[j].face[half];
            double ax, ay, bx, by;
            if (a->kind != HP_PLACE_ROUND || b->kind != HP_PLACE_ROUND)
                continue;
            round_offset(u, a, &ax, &ay);
            round_offset(u, b, &bx, &by);
            disc = fmin(disc, 0.46 * hypot(ax - bx, ay - by));
        }
    return disc;
}

static void draw_round(double u, const hp_canvas *canvas, double x, double y,
                       const hp_plug_view *view, hp_plug_half half)
{
    double rim = u * RADIUS + u * RIM, disc = round_disc(u, view, half);
    hp_pen_arc(canvas, x, y, rim, 0.0, HP_TWO_PI, HP_INK_BLACK, 2.0);
    draw_key(u, canvas, x, y - rim - KEY_HIGH * u);
    for (int k = 0; k < view->pins; k++) {
        double dx, dy;
        const hp_pin_place *place = &view->pin[k].face[half];
        if (place->kind != HP_PLACE_ROUND)
            continue;
        round_offset(u, place, &dx, &dy);
        draw_pin(u, canvas, x + dx, y + dy, disc, k + 1, view->pin[k].lead);
    }
}

/* ---- a square plug --------------------------------------------------------------------------- */

static double cell_size(double u, const hp_plug_view *view, double width)
{
    return fmin(u * CELL, (width - 2.0 * u * GAP) / view->columns);
}

static int pin_at(const hp_plug_view *view, hp_plug_half half, int row, int column)
{
    for (int k = 0; k < view->pins; k++) {
        const hp_pin_place *place = &view->pin[k].face[half];
        if (place->kind == HP_PLACE_GRID && place->row == row && place->column == column)
            return k;
    }
    return -1;
}

static void draw_grid(double u, const hp_canvas *canvas, double x, double top, double width,
                      const hp_plug_view *view, hp_plug_half half)
{
    double cell = cell_size(u, view, width), left = x - 0.5 * cell * view->columns;
    hp_pen_frame(canvas,
                 (hp_box){left - 3.0, top, left + cell * view->columns + 3.0,
                          top + KEY_HIGH * u + cell * view->rows + 3.0},
                 HP_INK_BLACK, 2.0);
    draw_key(u, canvas, x, top);
    for (int row = 1; row <= view->rows; row++)
        for (int column = 1; column <= view->columns; column++) {
            int k = pin_at(view, half, row, column);
            draw_pin(u, canvas, left + (column - 0.5) * cell,
                     top + KEY_HIGH * u + (row - 0.5) * cell, fmin(u * DISC, 0.42 * cell), k + 1,
                     k < 0 ? "" : view->pin[k].lead);
        }
}

/* ---- both halves ----------------------------------------------------------------------------- */

/* Draws the halves of one housing side by side, or one below the other; returns the y below. */
static double put_halves(double u, const hp_canvas *canvas, double left, double top, double width,
                         const hp_plug_view *view, bool round)
{
    bool beside = round || view->columns <= ACROSS;
    double own = beside ? 0.5 * width : width;
    double height = round ? u * (2.0 * (RADIUS + RIM) + KEY_HIGH + 4.0)
                          : KEY_HIGH * u + cell_size(u, view, own) * view->rows + 6.0;
    hp_type type = {u * LETTERS, HP_INK_BLACK, HP_ALIGN_CENTRE, true};
    double y = top;
    for (int half = HP_HALF_MOTOR; half < HP_HALF_COUNT; half++) {
        bool right = beside && half == HP_HALF_CONTROLLER;
        double x = left + (right ? 1.5 : 0.5) * own, at = right ? top : y;
        if (canvas) {
            hp_pen_text(canvas, x, at + 0.6 * u * LETTERS, type, half_title[half]);
            if (round)
                draw_round(u, canvas, x, at + 1.6 * u * LETTERS + u * (KEY_HIGH + RADIUS + RIM),
                           view, (hp_plug_half)half);
            else
                draw_grid(u, canvas, x, at + 1.6 * u * LETTERS, own, view, (hp_plug_half)half);
        }
        y = at + 1.6 * u * LETTERS + height + u * GAP;
    }
    return y;
}

/* ---- the table below ------------------------------------------------------------------------- */

/* Three cells and a number; returns the y below the highest. */
static double put_row(double u, double lines, const hp_canvas *canvas, double left, double y,
                      double width, bool head, const char *number, const char *const cell[3])
{
    hp_type type = {u * LETTERS, HP_INK_BLACK, HP_ALIGN_LEFT, head};
    double whole = width - u * NUMBER_W, x = left + u * NUMBER_W, below = y + 1.3 * u * LETTERS;
    const double share[3] = {LEAD_SHARE, 0.5 * (1.0 - LEAD_SHARE), 0.5 * (1.0 - LEAD_SHARE)};
    if (number[0] && canvas)
        hp_pen_paragraph(canvas, left, y, u * NUMBER_W, type, number);
    for (int k = 0; k < 3; k++) {
        char text[2 * HP_LABEL_SIZE];
        double own = share[k] * whole;
        below = fmax(below,
                     hp_pen_paragraph(canvas, x, y, own - u * GAP, type,
                                      hp_pen_cut(type, lines * own, cell[k], text, sizeof text)));
        x += own;
    }
    if (canvas)
        hp_pen_line(canvas, left, below + 1.0, left + width, below + 1.0, HP_INK_RULE, 0.8);
    return below + 3.0;
}

static double put_table(double u, double lines, const hp_canvas *canvas, double left, double y,
                        double width, const hp_plug_view *view)
{
    const char *const head[3] = {"lead", half_title[HP_HALF_MOTOR], half_title[HP_HALF_CONTROLLER]};
    y = put_row(u, lines, canvas, left, y, width, true, "", head);
    for (int k = 0; k < view->pins; k++) {
        char number[16], motor[HP_PLACE_WORDS], controller[HP_PLACE_WORDS];
        const hp_plug_pin *pin = &view->pin[k];
        const char *const cell[3] = {
            pin->lead, hp_pin_place_words(&pin->face[HP_HALF_MOTOR], motor),
            hp_pin_place_words(&pin->face[HP_HALF_CONTROLLER], controller)};
        snprintf(number, sizeof number, "%d", k + 1);
        y = put_row(u, lines, canvas, left, y, width, false, number, cell);
    }
    return y;
}

/* ---- all ------------------------------------------------------------------------------------- */

static double put_words(double u, const hp_canvas *canvas, double left, double y, double width)
{
    hp_type type = {u * LETTERS, HP_INK_DARK, HP_ALIGN_LEFT, false};
    return hp_pen_paragraph(canvas, left, y, width, type,
                            "Each half as you look into its face, key mark at the top: the one is "
                            "the mirror image of the other.") +
           u * GAP;
}

static double put_housings(double u, const hp_canvas *canvas, double left, double y, double width,
                           const hp_plug_view *view)
{
    if (view->round)
        y = put_halves(u, canvas, left, y, width, view, true);
    if (view->columns)
        y = put_halves(u, canvas, left, y, width, view, false);
    return y;
}

static double put_all(double u, const hp_canvas *canvas, double left, double top, double width,
                      const hp_plug_view *view)
{
    double y = put_words(u, canvas, left, top, width);
    y = put_housings(u, canvas, left, y, width, view);
    return put_table(u, LINES_MOST, canvas, left, y, width, view);
}

double hp_plug_view_height(const hp_plug_view *view, double letters, double width)
{
    return put_all(letters / LETTERS, NULL, 0.0, 0.0, width, view);
}

void hp_plug_view_paint(const hp_canvas *canvas, double left, double top, double letters,
                        double width, const hp_plug_view *view)
{
    put_all(letters / LETTERS, canvas, left, top, width, view);
}

double hp_plug_halves_put(const hp_canvas *canvas, double left, double top, double letters,
                          double width, const hp_plug_view *view)
{
    double u = letters / LETTERS, y = put_words(u, canvas, left, top, width);
    return put_housings(u, canvas, left, y, width, view) - top;
}

double hp_plug_table_put(const hp_canvas *canvas, double left, double top, double letters,
                         double width, const hp_plug_view *view)
{
    return put_table(letters / LETTERS, LINES_MOST, canvas, left, top, width, view) - top;
}

/* ---- alone ----------------------------------------------------------------------------------- */

#define ALONE_LEAST 34.0 /* width over letters: no line of the table is broken */
#define ALONE_MOST  46.0
#define LARGER      1.7 /* times the smallest letters of the shape, where the page has an end */

/* Halves as large as the box holds, the smallest letters of the shape at least. */
static void put_large_halves(const hp_canvas *canvas, const hp_look *look, hp_box box,
                             const hp_plug_view *view)
{
    double width = box.right - box.left, across = 2.0 * (2.0 * (RADIUS + RIM) + GAP);
    double u = look->small / LETTERS, most = LARGER * u;
    if (view->round)
        most = fmin(most, width / across);
    while (u < most && put_housings(1.05 * u, NULL, box.left, box.top, width, view) < box.bottom)
        u *= 1.05;
    put_housings(u, canvas, box.left, box.top, width, view);
}

/* On a page with an end as large as it holds. */
static double letters_alone(const hp_look *look, double top, double width, const hp_plug_view *view)
{
    bool ends = look->height > 0.0;
    double most = ends ? LARGER * look->small : look->body;
    double letters = fmax(look->small, fmin(most, width / ALONE_LEAST));
    while (ends && letters > look->small &&
           top + hp_plug_view_height(view, letters, width) > look->height - look->margin)
        letters = fmax(look->small, 0.95 * letters);
    return letters;
}

static double draw_alone(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const hp_picture_subject *subject = data;
    hp_plug_view view;
    hp_plug_view_make(subject->plug, subject->labels, &view);
    double top = hp_picture_heading(canvas, look, "Where each lead sits in its plug",
                                    subject->labels->machine);
    double width = look->width - 2.0 * look->margin, left = look->margin;
    if (look->shape == HP_SHAPE_WALL) { /* the table beside the halves */
        double u = look->small / LETTERS, own = 0.5 * (width - look->gap),
               x = left + own + look->gap;
        put_large_halves(canvas, look, (hp_box){left, top, left + own, look->height - look->margin},
                         &view);
        put_table(u, ONE_LINE, canvas, x, put_words(u, canvas, x, top, own), own, &view);
        return look->height;
    }
    double letters = letters_alone(look, top, width, &view);
    width = fmin(width, ALONE_MOST * letters);
    hp_plug_view_paint(canvas, left, top, letters, width, &view);
    return top + hp_plug_view_height(&view, letters, width) + look->margin;
}

static hp_result draw_plug(const hp_picture_subject *subject, const hp_picture_target *to,
                           hp_error *err)
{
    return hp_picture_put(to, "Where each lead sits in its plug", draw_alone, subject, err);
}

const hp_picture hp_picture_plug = {
    .name = "plug",
    .question = "Which pin is which, in either half of the plug?",
    .makers = HP_MAKER_NEXT,
    .needs = HP_NEEDS_PLUG,
    .draw = draw_plug,
};
