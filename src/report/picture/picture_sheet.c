/* Pictures for the wiring sheet: see the header. */
#include "report/picture/picture_sheet.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/record/case.h"
#include "model/plug.h"
#include "report/picture/joints_board.h"
#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define HEAD    52.0 /* [units] a plug's title and what is said of it */
#define LETTERS 16.0
#define SMALL   14.0 /* on paper 84 mm wide 9.5 points: none is smaller */

/* Plugs. */
#define PIN_W      112.0
#define PIN_H      58.0
#define PIN_DISC   18.0
#define PLUG_HEAD  30.0 /* its title */
#define NAMED_HEAD 22.0 /* the words above pins with names */
#define VIEW_W     (HP_SHEET_PANEL - 16.0)

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
    join j = {.title = phases ? "Phase leads (thick)" : "Hall leads (thin)",
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

typedef struct boards {
    hp_board phases, halls, power;
} boards;

static boards boards_of(const hp_wiring_sheet *sheet)
{
    const hp_labels *labels = sheet->source.labels;
    hp_wiring wiring = {0};
    bool known = sheet->wiring[0].number > 0;
    boards b = {hp_board_begin("MOTOR"), hp_board_begin("MOTOR"),
                hp_power_board("BATTERY", hp_fuse_note, false)};
    if (known)
        wiring = hp_wiring_from_number(sheet->wiring[0].number);
    hp_joints_add_phases(&b.phases, labels, known ? &wiring : NULL);
    hp_joints_add_halls(&b.halls, labels, known ? &wiring : NULL);
    if (sheet->source.work && !hp_commission_case_scenario(sheet->source.work)->vehicle.fuse.fitted)
        hp_power_board_without_fuse(&b.power);
    b.phases.short_leads = b.halls.short_leads = b.power.short_leads = true;
    return b;
}

/* Phase leads with the battery below them, or Hall leads; letters of the panel's size. */
static double draw_joints(const hp_canvas *canvas, double left, double top,
                          const hp_wiring_sheet *sheet, int panel)
{
    hp_look look = *hp_look_of(HP_SHAPE_A4);
    double x = left + 2.0, width = HP_SHEET_PANEL - 4.0;
    boards b = boards_of(sheet);
    look.small = look.body = SMALL;
    if (panel == HP_SHEET_SENSORS)
        return hp_board_draw(canvas, &look, x, top, width, &b.halls);
    top = hp_board_draw(canvas, &look, x, top, width, &b.phases);
    return hp_board_draw(canvas, &look, x, top, width, &b.power);
}

double hp_picture_sheet_row(const hp_canvas *canvas, double left, double top, double width,
                            double letters, const hp_wiring_sheet *sheet)
{
    hp_look look = *hp_look_of(HP_SHAPE_A4);
    boards b = boards_of(sheet);
    const hp_board *board[] = {&b.phases, &b.halls, &b.power};
    double least[3], spare = width - 2.0 * letters, low = top;
    look.small = look.body = letters;
    for (int k = 0; k < 3; k++)
        spare -= least[k] = hp_board_least(&look, board[k]);
    if (spare < 0.0)
        return 0.0;
    for (int k = 0; k < 3; k++) {
        double wide = least[k] + spare / 3.0;
        low = fmax(low, hp_board_draw(canvas, &look, left, top, wide, board[k]));
        left += wide + letters;
    }
    return low - top;
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

/* The pins that have names only; y is the top of the words above them. */
static void paint_named_pins(const hp_canvas *canvas, double left, double top,
                             const hp_sheet_plug *plug)
{
    int rows, columns;
    hp_type side = {SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};
    plug_size(plug, &rows, &columns);
    double width = fmin(PIN_W, (HP_SHEET_PANEL - 24.0) / columns);
    hp_box box = {left + 8.0, top + NAMED_HEAD, left + 16.0 + columns * width,
                  top + NAMED_HEAD + 12.0 + rows * PIN_H};
    hp_pen_text(canvas, left + 8.0, top + 10.0, side,
                "pins by their names; the shape is not known");
    hp_pen_frame(canvas, box, HP_INK_BLACK, 2.0);
    for (int k = 0; k < plug->pins; k++) {
        const hp_sheet_pin *pin = &plug->pin[k];
        draw_pin(canvas, box.left + 4.0 + (pin->column + 0.5) * width,
                 box.top + 22.0 + pin->row * PIN_H, width, pin);
    }
}

/* The pins with places, then those with names. */
static void paint_plug(const hp_canvas *canvas, double left, double top, const hp_sheet_plug *plug)
{
    char title[HP_LABEL_SIZE + 16];
    hp_type bold = {LETTERS + 2.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    snprintf(title, sizeof title, "Plug: %s", plug->name);
    hp_pen_text_fit(canvas, left + 8.0, top + 16.0, HP_SHEET_PANEL - 16.0, bold, title);
    double y = top + PLUG_HEAD;
    if (plug->view.pins) {
        hp_plug_view_paint(canvas, left + 8.0, y, SMALL, VIEW_W, &plug->view);
        y += hp_plug_view_height(&plug->view, SMALL, VIEW_W) + 8.0;
    }
    if (plug->pins)
        paint_named_pins(canvas, left, y, plug);
}

static double plug_height(const hp_sheet_plug *plug)
{
    int rows, columns;
    double height = PLUG_HEAD;
    plug_size(plug, &rows, &columns);
    if (plug->view.pins)
        height += hp_plug_view_height(&plug->view, SMALL, VIEW_W) + 8.0;
    if (plug->pins)
        height += NAMED_HEAD + rows * PIN_H + 24.0;
    return height;
}

/* ---- panels ---------------------------------------------------------------------------------- */

double hp_picture_sheet_height(const hp_wiring_sheet *sheet, int panel)
{
    if (panel < HP_SHEET_PLUGS)
        return draw_joints(NULL, 0.0, 0.0, sheet, panel);
    return plug_height(&sheet->source.plug[panel - HP_SHEET_PLUGS]);
}

static void join_words(const join *j, int panel, char *out, size_t size)
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
    hp_phrase_add(&p, panel == HP_SHEET_SENSORS
                          ? "; Hall plus to supply plus, Hall minus to supply minus."
                          : ". Battery red, plus, through a fuse; black, minus.");
}

char *hp_picture_sheet_words(const hp_wiring_sheet *sheet, int panel, char *out, size_t size)
{
    if (panel < HP_SHEET_PLUGS) {
        join j = join_of(sheet, panel);
        join_words(&j, panel, out, size);
        return out;
    }
    const hp_sheet_plug *plug = &sheet->source.plug[panel - HP_SHEET_PLUGS];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "Plug %s:", plug->name);
    for (int k = 0; k < plug->view.pins; k++) {
        char motor[HP_PLACE_WORDS], controller[HP_PLACE_WORDS];
        const hp_plug_pin *pin = &plug->view.pin[k];
        hp_phrase_add(&p, "%s %s at %s in the motor's half, %s in the controller's", k ? ";" : "",
                      pin->lead, hp_pin_place_words(&pin->face[HP_HALF_MOTOR], motor),
                      hp_pin_place_words(&pin->face[HP_HALF_CONTROLLER], controller));
    }
    for (int k = 0; k < plug->pins; k++)
        hp_phrase_add(&p, "%s pin %s: %s", k || plug->view.pins ? "," : "", plug->pin[k].place,
                      plug->pin[k].lead[0] ? plug->pin[k].lead : "not noted");
    return out;
}

void hp_picture_sheet_paint(const hp_canvas *canvas, double left, double top,
                            const hp_wiring_sheet *sheet, int panel)
{
    if (panel < HP_SHEET_PLUGS)
        draw_joints(canvas, left, top, sheet, panel);
    else
        paint_plug(canvas, left, top, &sheet->source.plug[panel - HP_SHEET_PLUGS]);
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
                     .title = hp_picture_sheet_words(sheet, panel, words, sizeof words),
                     .inset = true};
    return hp_canvas_render(HP_PICTURE_SVG, &page, paint_alone, &a, bytes, size, err);
}
