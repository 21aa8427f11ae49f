/* Pictures for the wiring sheet: see the header. */
#include "report/picture/picture_sheet.h"

#include "hubphase/base/phrase.h"
#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define HEAD       52.0 /* [units] title and the words "motor", "controller" */
#define ROW        64.0
#define NAME_ABOVE 15.0 /* of a lead's line */
#define NOTE_BELOW 15.0
#define STUB_LEFT  100.0 /* where a motor lead begins to cross */
#define STUB_RIGHT 164.0 /* where the crossing ends: the joint */
#define LETTERS    16.0
#define SMALL      14.0

/* Plugs. */
#define PIN_W    112.0
#define PIN_H    54.0
#define PIN_DISC 15.0

/* One side of the joins: whose names, and which motor lead is at each of the controller's. */
typedef struct join {
    const char *title, *side;
    const char (*motor)[HP_LABEL_SIZE];
    const char (*controller)[HP_LABEL_SIZE];
    int at[HP_PHASE_COUNT]; /* [of the controller] = motor lead; -1: not known */
} join;

static join join_of(const hp_wiring_sheet *sheet, int panel)
{
    const hp_labels *labels = sheet->source.labels;
    bool phases = panel == HP_SHEET_PHASES;
    join j = {.title = phases ? "Phase leads (thick)" : "Sensor leads (thin)",
              .side = phases ? "output" : "input",
              .motor = phases ? labels->motor_lead : labels->motor_sensor,
              .controller = phases ? labels->controller_output : labels->controller_input,
              .at = {-1, -1, -1}};
    if (sheet->wiring[0].number) {
        hp_wiring wiring = hp_wiring_from_number(sheet->wiring[0].number);
        memcpy(j.at, phases ? wiring.phase : wiring.sensor, sizeof j.at);
    }
    return j;
}

int hp_picture_sheet_count(const hp_wiring_sheet *sheet)
{
    return HP_SHEET_PLUGS + sheet->source.plugs;
}

/* ---- joins ----------------------------------------------------------------------------------- */

static double row_y(double top, int row)
{
    return top + HEAD + (row + 0.55) * ROW;
}

static void draw_heads(const hp_canvas *canvas, double left, double top, const join *j)
{
    hp_type bold = {LETTERS + 2.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type side = {SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};
    hp_pen_text(canvas, left + 8.0, top + 16.0, bold, j->title);
    hp_pen_text(canvas, left + 8.0, top + 40.0, side, "motor");
    side.align = HP_ALIGN_RIGHT;
    hp_pen_text(canvas, left + HP_SHEET_PANEL - 8.0, top + 40.0, side, "controller");
    hp_pen_line(canvas, left + 8.0, top + HEAD, left + HP_SHEET_PANEL - 8.0, top + HEAD,
                HP_INK_RULE, 1.0);
}

static void draw_motor_lead(const hp_canvas *canvas, double left, double top, const join *j,
                            int lead)
{
    double y = row_y(top, lead);
    const char *name = hp_picture_label(j->motor[lead], lead);
    hp_type type = {LETTERS, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_lead_line(canvas, left + 8.0, y, left + STUB_LEFT, y, name);
    hp_pen_text_fit(canvas, left + 8.0, y - NAME_ABOVE, STUB_LEFT - 8.0, type, name);
}

static void draw_controller_lead(const hp_canvas *canvas, double left, double top, const join *j,
                                 int lead)
{
    char text[HP_LABEL_SIZE + 32];
    double y = row_y(top, lead), right = left + HP_SHEET_PANEL - 8.0, from = left + STUB_RIGHT;
    const char *name = hp_picture_label(j->controller[lead], lead);
    hp_type type = {LETTERS, HP_INK_BLACK, HP_ALIGN_RIGHT, true};
    hp_type small = {SMALL, HP_INK_DARK, HP_ALIGN_RIGHT, false};
    hp_lead_line(canvas, from, y, right, y, name);
    hp_sheet_lead(j->controller[lead], j->side, lead, text, sizeof text);
    /* A name that must be cut does not take the output's letter along. */
    if (0.75 * hp_pen_text_width(type, text) > right - from - 4.0)
        snprintf(text, sizeof text, "%s %c: %s", j->side, hp_phase_letter(lead), name);
    hp_pen_text_fit(canvas, right, y - NAME_ABOVE, right - from - 4.0, type, text);
    if (j->at[lead] < 0) {
        hp_pen_text(canvas, right, y + NOTE_BELOW, small, "joins  ........................");
        return;
    }
    snprintf(text, sizeof text, "joins motor's %s",
             hp_picture_label(j->motor[j->at[lead]], j->at[lead]));
    hp_pen_text_fit(canvas, right, y + NOTE_BELOW, right - from - 4.0, small, text);
}

static void paint_joins(const hp_canvas *canvas, double left, double top, const join *j)
{
    draw_heads(canvas, left, top, j);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (j->at[k] >= 0)
            hp_lead_line(canvas, left + STUB_LEFT, row_y(top, j->at[k]), left + STUB_RIGHT,
                         row_y(top, k), hp_picture_label(j->motor[j->at[k]], j->at[k]));
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        draw_motor_lead(canvas, left, top, j, k);
        draw_controller_lead(canvas, left, top, j, k);
        if (j->at[k] >= 0)
            hp_pen_disc(canvas, left + STUB_RIGHT, row_y(top, k), 6.0, HP_INK_BLACK);
    }
}

/* ---- plugs ----------------------------------------------------------------------------------- */

static void plug_size(const hp_sheet_plug *plug, int *rows, int *columns)
{
    *rows = *columns = 1;
    for (int k = 0; k < plug->pins; k++) {
        if (plug->pin[k].row >= *rows)
            *rows = plug->pin[k].row + 1;
        if (plug->pin[k].column >= *columns)
            *columns = plug->pin[k].column + 1;
    }
}

static void draw_pin(const hp_canvas *canvas, double x, double y, double width,
                     const hp_sheet_pin *pin)
{
    hp_type number = {SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, true};
    hp_type name = {SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, false};
    hp_pen_disc(canvas, x, y, PIN_DISC, HP_INK_BLACK);
    hp_pen_disc(canvas, x, y, PIN_DISC - 1.5, HP_INK_WHITE);
    hp_pen_text_fit(canvas, x, y, 2.0 * PIN_DISC - 3.0, number, pin->place);
    if (pin->lead[0])
        hp_lead_line(canvas, x + PIN_DISC, y, x + PIN_DISC + 14.0, y, pin->lead);
    hp_pen_text_fit(canvas, x, y + PIN_DISC + 12.0, width - 4.0, name,
                    pin->lead[0] ? pin->lead : "..........");
}

static void paint_plug(const hp_canvas *canvas, double left, double top, const hp_sheet_plug *plug)
{
    int rows, columns;
    char title[HP_LABEL_SIZE + 16];
    hp_type bold = {LETTERS + 2.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type side = {SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};
    plug_size(plug, &rows, &columns);
    double width = fmin(PIN_W, (HP_SHEET_PANEL - 24.0) / columns);
    hp_box box = {left + 8.0, top + HEAD, left + 16.0 + columns * width,
                  top + HEAD + 12.0 + rows * PIN_H};
    snprintf(title, sizeof title, "Plug: %s", plug->name);
    hp_pen_text_fit(canvas, left + 8.0, top + 16.0, HP_SHEET_PANEL - 16.0, bold, title);
    hp_pen_text(canvas, left + 8.0, top + 40.0, side,
                "pins by their names; the shape is not known");
    hp_pen_frame(canvas, box, HP_INK_BLACK, 2.0);
    for (int k = 0; k < plug->pins; k++) {
        const hp_sheet_pin *pin = &plug->pin[k];
        draw_pin(canvas, box.left + 4.0 + (pin->column + 0.5) * width,
                 box.top + 22.0 + pin->row * PIN_H, width, pin);
    }
}

/* ---- panels ---------------------------------------------------------------------------------- */

double hp_picture_sheet_height(const hp_wiring_sheet *sheet, int panel)
{
    int rows, columns;
    if (panel < HP_SHEET_PLUGS)
        return HEAD + HP_PHASE_COUNT * ROW + 8.0;
    plug_size(&sheet->source.plug[panel - HP_SHEET_PLUGS], &rows, &columns);
    return HEAD + rows * PIN_H + 24.0;
}

static void join_words(const join *j, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s:", j->title);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char name[HP_LABEL_SIZE + 32];
        hp_sheet_lead(j->controller[k], j->side, k, name, sizeof name);
        hp_phrase_add(&p, "%s controller's %s joins %s%s", k ? ";" : "", name,
                      j->at[k] < 0 ? "a lead not known yet" : "motor's ",
                      j->at[k] < 0 ? "" : hp_picture_label(j->motor[j->at[k]], j->at[k]));
    }
}

char *hp_picture_sheet_words(const hp_wiring_sheet *sheet, int panel, char *out, size_t size)
{
    if (panel < HP_SHEET_PLUGS) {
        join j = join_of(sheet, panel);
        join_words(&j, out, size);
        return out;
    }
    const hp_sheet_plug *plug = &sheet->source.plug[panel - HP_SHEET_PLUGS];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "Plug %s:", plug->name);
    for (int k = 0; k < plug->pins; k++)
        hp_phrase_add(&p, "%s pin %s: %s", k ? "," : "", plug->pin[k].place,
                      plug->pin[k].lead[0] ? plug->pin[k].lead : "not noted");
    return out;
}

void hp_picture_sheet_paint(const hp_canvas *canvas, double left, double top,
                            const hp_wiring_sheet *sheet, int panel)
{
    if (panel < HP_SHEET_PLUGS) {
        join j = join_of(sheet, panel);
        paint_joins(canvas, left, top, &j);
    } else {
        paint_plug(canvas, left, top, &sheet->source.plug[panel - HP_SHEET_PLUGS]);
    }
}

typedef struct alone {
    const hp_wiring_sheet *sheet;
    int panel;
} alone;

static void paint_alone(const hp_canvas *canvas, const void *data)
{
    const alone *a = data;
    hp_picture_sheet_paint(canvas, 0.0, 0.0, a->sheet, a->panel);
}

hp_result hp_picture_sheet_svg(const hp_wiring_sheet *sheet, int panel, char **bytes, size_t *size,
                               hp_error *err)
{
    char words[2400];
    alone a = {.sheet = sheet, .panel = panel};
    hp_paper page = {.width = HP_SHEET_PANEL,
                     .height = hp_picture_sheet_height(sheet, panel),
                     .title = hp_picture_sheet_words(sheet, panel, words, sizeof words)};
    return hp_canvas_render(HP_PICTURE_SVG, &page, paint_alone, &a, bytes, size, err);
}
