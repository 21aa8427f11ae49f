/*
 * The wiring sheet as a PDF: see the header.
 *
 * One routine flows all blocks down the pages. It runs once without a canvas to count the pages,
 * then once for each page, drawing only what falls on it. A block that does not fit begins the next
 * page.
 */
#include "report/sheet/sheet_pdf.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "report/picture/lead_colour.h"
#include "report/picture/pen.h"
#include "report/picture/picture_parts.h"
#include "report/picture/picture_sheet.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* [units] a quarter of a millimetre each */
#define MARGIN 44.0
#define LEFT   MARGIN
#define WIDTH  (HP_PICTURE_A4_WIDTH - 2.0 * MARGIN)
#define RIGHT  (LEFT + WIDTH)
#define BOTTOM (HP_PICTURE_A4_HEIGHT - MARGIN - 16.0)
#define BODY   13.5
#define SMALL  12.8 /* 9.07 points: none is smaller */
#define LINE   1.3  /* of a paragraph, as the pen sets it */
#define GAP    5.0

static const hp_type body = {BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
static const hp_type strong = {BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
static const hp_type small = {SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};

typedef struct flow {
    const hp_canvas *canvas; /* NULL: nothing is drawn, pages are counted */
    int page;                /* that `y` is on */
    double y;
} flow;

/* Makes room for a block; returns the canvas when the block is to be drawn now. */
static const hp_canvas *room(flow *f, double height)
{
    if (f->y + height > BOTTOM && f->y > MARGIN) {
        f->page++;
        f->y = MARGIN;
    }
    return f->canvas && f->canvas->number == f->page ? f->canvas : NULL;
}

/* A paragraph longer than the pen takes in one piece goes in pieces cut at blanks. */
#define PIECE 480

static double put_text(const hp_canvas *canvas, double x, double y, double width, hp_type type,
                       const char *text)
{
    char piece[PIECE + 1];
    while (*text) {
        size_t length = strlen(text);
        if (length > PIECE) {
            length = PIECE;
            while (length > 1 && text[length] != ' ')
                length--;
            if (length <= 1)
                length = PIECE;
        }
        memcpy(piece, text, length);
        piece[length] = '\0';
        y = hp_pen_paragraph(canvas, x, y, width, type, piece);
        text += length;
    }
    return y;
}

static void paragraph(flow *f, hp_type type, const char *text)
{
    double height = put_text(NULL, 0.0, 0.0, WIDTH, type, text);
    const hp_canvas *canvas = room(f, height);
    put_text(canvas, LEFT, f->y, WIDTH, type, text);
    f->y += height + GAP;
}

static void heading(flow *f, const char *text, double follows)
{
    hp_type type = {17.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    const hp_canvas *canvas = room(f, 36.0 + follows);
    f->y += f->y > MARGIN ? 8.0 : 0.0;
    if (canvas) {
        hp_pen_text(canvas, LEFT, f->y + 10.0, type, text);
        hp_pen_line(canvas, LEFT, f->y + 22.0, RIGHT, f->y + 22.0, HP_INK_BLACK, 1.5);
    }
    f->y += 28.0;
}

/* ---- rows of a table ------------------------------------------------------------------------- */

typedef struct column {
    double x, width;
    hp_type type;
    const char *text;
    bool blank; /* a line to fill in by hand */
} column;

static void put_row(flow *f, const column *c, int count, double least)
{
    double height = least;
    for (int k = 0; k < count; k++)
        height = fmax(height, put_text(NULL, 0.0, 0.0, c[k].width, c[k].type, c[k].text));
    const hp_canvas *canvas = room(f, height + 3.0);
    for (int k = 0; canvas && k < count; k++) {
        put_text(canvas, c[k].x, f->y, c[k].width, c[k].type, c[k].text);
        if (c[k].blank)
            hp_pen_dots(canvas, c[k].x, c[k].x + c[k].width - 8.0, f->y + LINE * BODY);
    }
    if (canvas)
        hp_pen_line(canvas, LEFT, f->y + height + 1.5, RIGHT, f->y + height + 1.5, HP_INK_RULE,
                    0.8);
    f->y += height + 3.0;
}

static void put_list(flow *f, const hp_sheet_list *list, const char *title, const char *note)
{
    heading(f, title, 90.0);
    paragraph(f, small, note);
    for (int k = 0; k < list->count; k++) {
        const hp_sheet_line *line = &list->line[k];
        bool blank = !line->value[0];
        column c[3] = {{LEFT, 236.0, body, line->what, false},
                       {LEFT + 244.0, 392.0, body, line->value, blank},
                       {LEFT + 642.0, WIDTH - 642.0, small, line->from, false}};
        put_row(f, c, 3, LINE * BODY + (blank ? 1.0 : 0.0));
    }
}

/* ---- first page ------------------------------------------------------------------------------ */

static void pair(flow *f, const char *name, const char *value)
{
    bool blank = !value || !value[0];
    double height =
        fmax(LINE * BODY, put_text(NULL, 0.0, 0.0, WIDTH - 110.0, body, blank ? "" : value));
    const hp_canvas *canvas = room(f, height + 3.0);
    if (canvas) {
        hp_type dark = {BODY, HP_INK_DARK, HP_ALIGN_LEFT, false};
        put_text(canvas, LEFT, f->y, 106.0, dark, name);
        put_text(canvas, LEFT + 110.0, f->y, WIDTH - 110.0, body, blank ? "" : value);
        if (blank)
            hp_pen_dots(canvas, LEFT + 110.0, LEFT + 380.0, f->y + LINE * BODY);
    }
    f->y += height + 2.0;
}

static void boxed(flow *f, const char *title, const char *text)
{
    double inner = WIDTH - 20.0, height = put_text(NULL, 0.0, 0.0, inner, body, text);
    double whole = height + LINE * BODY + 14.0;
    const hp_canvas *canvas = room(f, whole);
    if (canvas) {
        hp_pen_frame(canvas, (hp_box){LEFT, f->y, RIGHT, f->y + whole}, HP_INK_BLACK, 1.6);
        put_text(canvas, LEFT + 10.0, f->y + 6.0, inner, strong, title);
        put_text(canvas, LEFT + 10.0, f->y + 6.0 + LINE * BODY, inner, body, text);
    }
    f->y += whole + GAP;
}

/* A paragraph behind a bar; of several the bars join. */
static void barred(flow *f, hp_type type, const char *text)
{
    double x = LEFT + 16.0, height = put_text(NULL, 0.0, 0.0, RIGHT - x, type, text) + GAP;
    const hp_canvas *canvas = room(f, height);
    if (canvas)
        hp_pen_line(canvas, LEFT + 4.0, f->y, LEFT + 4.0, f->y + height, HP_INK_VERMILION, 8.0);
    put_text(canvas, x, f->y + 0.5 * GAP, RIGHT - x, type, text);
    f->y += height;
}

/* What forbids to ride, before anything else. */
static void put_stops(flow *f, const hp_wiring_sheet *sheet)
{
    hp_type title = {17.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    if (sheet->stops.count == 0)
        return;
    barred(f, title, hp_sheet_stops_title);
    for (int k = 0; k < sheet->stops.count; k++) {
        const hp_sheet_line *line = &sheet->stops.line[k];
        char text[sizeof *line + 16];
        snprintf(text, sizeof text, "%s (%s): %s", line->what, line->from, line->value);
        barred(f, strong, text);
    }
    f->y += 2.0 * GAP;
}

static void put_top(flow *f, const hp_wiring_sheet *sheet)
{
    hp_type title = {26.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    paragraph(f, title, sheet->title);
    put_stops(f, sheet);
    pair(f, "Motor", sheet->source.labels->motor);
    pair(f, "Controller", sheet->source.labels->controller);
    pair(f, "Date", sheet->source.date);
    f->y += GAP;
    paragraph(f, strong, sheet->standing);
    boxed(f, "Cautions", hp_cautions_text());
}

/* Two panels side by side. */
static void put_panels(flow *f, const hp_wiring_sheet *sheet, int from, int until)
{
    for (int k = from; k < until; k += 2) {
        double height = hp_picture_sheet_height(sheet, k);
        if (k + 1 < until)
            height = fmax(height, hp_picture_sheet_height(sheet, k + 1));
        const hp_canvas *canvas = room(f, height);
        for (int n = k; canvas && n < until && n < k + 2; n++)
            hp_picture_sheet_paint(canvas, n == k ? LEFT - 8.0 : RIGHT - HP_SHEET_PANEL + 8.0, f->y,
                                   sheet, n);
        f->y += height + GAP;
    }
}

static const char *joined(const hp_wiring_sheet *sheet, int wiring, bool phases, int lead)
{
    const hp_labels *labels = sheet->source.labels;
    if (!sheet->wiring[wiring].number)
        return "";
    hp_wiring w = hp_wiring_from_number(sheet->wiring[wiring].number);
    int motor = phases ? w.phase[lead] : w.sensor[lead];
    return hp_picture_label(phases ? labels->motor_lead[motor] : labels->motor_sensor[motor],
                            motor);
}

#define JOIN_X(n) (LEFT + 220.0 + 174.0 * (n))
#define JOIN_W    168.0

static void put_join_head(flow *f, const hp_wiring_sheet *sheet)
{
    char text[HP_SHEET_WIRINGS][40];
    column c[1 + HP_SHEET_WIRINGS] = {{LEFT, 212.0, strong, "controller", false}};
    for (int n = 0; n < HP_SHEET_WIRINGS; n++) {
        hp_sheet_wiring_title(sheet, n, text[n], sizeof text[n]);
        c[1 + n] = (column){JOIN_X(n), JOIN_W, strong, text[n], false};
    }
    put_row(f, c, 1 + HP_SHEET_WIRINGS, 0.0);
}

static void put_joins(flow *f, const hp_wiring_sheet *sheet)
{
    const hp_labels *labels = sheet->source.labels;
    paragraph(f, strong, "Motor lead at each lead of the controller");
    put_join_head(f, sheet);
    for (int k = 0; k < 2 * HP_PHASE_COUNT; k++) {
        bool phases = k < HP_PHASE_COUNT;
        int lead = k % HP_PHASE_COUNT;
        char name[HP_LABEL_SIZE + 32];
        column c[1 + HP_SHEET_WIRINGS];
        c[0] = (column){
            LEFT, 212.0, body,
            hp_sheet_lead(phases ? labels->controller_output[lead] : labels->controller_input[lead],
                          phases ? "output" : "input", lead, name, sizeof name),
            false};
        for (int n = 0; n < HP_SHEET_WIRINGS; n++)
            c[1 + n] = (column){JOIN_X(n), JOIN_W, body, joined(sheet, n, phases, lead),
                                !sheet->wiring[n].number};
        put_row(f, c, 1 + HP_SHEET_WIRINGS, LINE * BODY + 2.0);
    }
    column said[1 + HP_SHEET_WIRINGS] = {{LEFT, 212.0, body, "by the log", false}};
    for (int n = 0; n < HP_SHEET_WIRINGS; n++)
        said[1 + n] = (column){JOIN_X(n), JOIN_W, small, sheet->wiring[n].said, false};
    put_row(f, said, 1 + HP_SHEET_WIRINGS, 0.0);
    paragraph(f, small, hp_sheet_equals_note(sheet));
}

/* ---- the rest -------------------------------------------------------------------------------- */

#define SWATCH 22.0 /* a lead's piece and the gap behind it */

/* The leads of a part, each in its colour with its name, as many in a line as it holds; returns the
 * y below. */
static double put_leads(const hp_canvas *canvas, double left, double y, double width,
                        const hp_harness_part *part)
{
    double x = left, line = LINE * BODY;
    for (int k = 0; k < part->leads; k++) {
        char text[2 * HP_LABEL_SIZE + 4];
        const hp_harness_lead *lead = &part->lead[k];
        snprintf(text, sizeof text, "%s%s%s", lead->colour, lead->colour[0] ? ": " : "",
                 lead->function);
        double wide = SWATCH + hp_pen_text_width(body, text);
        if (x > left && x + wide > left + width) {
            x = left;
            y += line;
        }
        hp_lead_line_wide(canvas, x, y + 0.5 * line, x + SWATCH - 5.0, y + 0.5 * line, lead->colour,
                          4.0);
        double end = put_text(canvas, x + SWATCH, y, left + width - x - SWATCH, body, text);
        x += wide + 12.0;
        if (end > y + 1.5 * line) { /* it took more than a line */
            x = left;
            y = end;
        }
    }
    return x > left ? y + line : y;
}

static void put_part(flow *f, const hp_harness_part *part)
{
    double x = LEFT + 138.0, width = 296.0;
    double height = put_leads(NULL, x, 0.0, width, part);
    column c[2] = {{LEFT, 130.0, strong, part->name, false},
                   {LEFT + 442.0, WIDTH - 442.0, body, part->note, false}};
    for (int k = 0; k < 2; k++)
        height = fmax(height, put_text(NULL, 0.0, 0.0, c[k].width, c[k].type, c[k].text));
    put_leads(room(f, height + 3.0), x, f->y, width, part);
    put_row(f, c, 2, height);
}

static void put_harness(flow *f, const hp_wiring_sheet *sheet)
{
    const hp_harness *harness = sheet->source.harness;
    heading(f, "The rest of the harness", 40.0);
    if (harness->parts == 0) {
        paragraph(f, small, "The scenario lists none of it. To fill in by hand:");
        for (const char *const *name = hp_sheet_usual_parts; *name; name++) {
            column c[2] = {{LEFT, 150.0, body, *name, false},
                           {LEFT + 158.0, WIDTH - 158.0, body, "", true}};
            put_row(f, c, 2, LINE * BODY + 3.0);
        }
        return;
    }
    for (int k = 0; k < harness->parts; k++)
        put_part(f, &harness->part[k]);
}

static void put_signature(flow *f)
{
    const hp_canvas *canvas = room(f, 56.0);
    f->y += 28.0;
    if (canvas) {
        hp_pen_dots(canvas, LEFT, LEFT + 240.0, f->y);
        hp_pen_dots(canvas, LEFT + 280.0, RIGHT, f->y);
        put_text(canvas, LEFT, f->y + 4.0, 240.0, small, "Date");
        put_text(canvas, LEFT + 280.0, f->y + 4.0, 300.0, small, "Name and signature");
    }
    f->y += 30.0;
}

/* A plug, and beside it pins with names once more in words, since their picture cuts long ones, and
 * what the log remarks on them. */
static void put_plug(flow *f, const hp_wiring_sheet *sheet, int k)
{
    char words[2400];
    int panel = HP_SHEET_PLUGS + k;
    const char *note = sheet->source.plug[k].note ? sheet->source.plug[k].note : "";
    double x = LEFT + HP_SHEET_PANEL + 20.0, width = RIGHT - x, top = 52.0;
    words[0] = '\0';
    if (sheet->source.plug[k].pins)
        hp_picture_sheet_words(sheet, panel, words, sizeof words);
    double height = top + put_text(NULL, 0.0, 0.0, width, small, words) + GAP +
                    put_text(NULL, 0.0, 0.0, width, body, note);
    height = fmax(height, hp_picture_sheet_height(sheet, panel));
    const hp_canvas *canvas = room(f, height);
    if (canvas) {
        hp_picture_sheet_paint(canvas, LEFT - 8.0, f->y, sheet, panel);
        double y = put_text(canvas, x, f->y + top, width, small, words);
        put_text(canvas, x, y + GAP, width, body, note);
    }
    f->y += height + GAP;
}

#define VIEW_W (HP_SHEET_PANEL - 16.0)

/* A plug with places: the halves, and beside them the table, the pins with names, the remark. Draws
 * on a canvas; returns the height. */
static double draw_placed(const hp_canvas *canvas, double top, const hp_sheet_plug *plug)
{
    char words[2400] = "";
    double x = LEFT + HP_SHEET_PANEL, width = RIGHT - x;
    hp_phrase p = hp_phrase_begin(words, sizeof words);
    for (int n = 0; n < plug->pins; n++)
        hp_phrase_add(&p, "%spin %s: %s", n ? ", " : "", plug->pin[n].place, plug->pin[n].lead);
    double left = hp_plug_halves_put(canvas, LEFT, top, BODY, VIEW_W, &plug->view);
    double y = top + hp_plug_table_put(canvas, x, top, BODY, width, &plug->view) + GAP;
    y = put_text(canvas, x, y, width, body, words) + GAP;
    y = put_text(canvas, x, y, width, body, plug->note ? plug->note : "");
    return fmax(left, y - top);
}

static void put_placed_plug(flow *f, const hp_sheet_plug *plug)
{
    double height = draw_placed(NULL, 0.0, plug);
    const hp_canvas *canvas = room(f, height);
    if (canvas)
        draw_placed(canvas, f->y, plug);
    f->y += height + GAP;
}

/* What a plug takes, for its heading to stay with it. */
static double plug_height(const hp_wiring_sheet *sheet, int k)
{
    const hp_sheet_plug *plug = &sheet->source.plug[k];
    return plug->view.pins ? draw_placed(NULL, 0.0, plug)
                           : hp_picture_sheet_height(sheet, HP_SHEET_PLUGS + k);
}

static int flow_all(const hp_canvas *canvas, const hp_wiring_sheet *sheet)
{
    flow f = {.canvas = canvas, .y = MARGIN};
    put_top(&f, sheet);
    heading(&f, "Which lead goes where", hp_picture_sheet_height(sheet, HP_SHEET_PHASES));
    put_panels(&f, sheet, HP_SHEET_PHASES, HP_SHEET_PLUGS);
    put_joins(&f, sheet);
    if (sheet->source.plugs) {
        heading(&f, "Plugs", plug_height(sheet, 0));
        for (int k = 0; k < sheet->source.plugs; k++)
            if (sheet->source.plug[k].view.pins)
                put_placed_plug(&f, &sheet->source.plug[k]);
            else
                put_plug(&f, sheet, k);
    }
    put_list(&f, &sheet->readings, "Readings of the good parts, as found", hp_sheet_readings_note);
    put_list(&f, &sheet->settings, "Settings", hp_sheet_settings_note);
    if (sheet->figures.count > 0)
        put_list(&f, &sheet->figures, "Figures of this machine", hp_sheet_figures_note);
    if (sheet->steps.count > 0)
        put_list(&f, &sheet->steps, "Commissioning", hp_sheet_steps_note);
    put_harness(&f, sheet);
    put_signature(&f);
    return f.page + 1;
}

typedef struct job {
    const hp_wiring_sheet *sheet;
    int pages;
} job;

static void paint(const hp_canvas *canvas, const void *data)
{
    const job *j = data;
    char foot[300];
    hp_type grey = {SMALL, HP_INK_GREY, HP_ALIGN_LEFT, false};
    flow_all(canvas, j->sheet);
    snprintf(foot, sizeof foot, "%s, page %d of %d", j->sheet->title, canvas->number + 1, j->pages);
    hp_pen_text_fit(canvas, LEFT, HP_PICTURE_A4_HEIGHT - MARGIN + 8.0, WIDTH, grey, foot);
}

hp_result hp_sheet_pdf_render(const hp_wiring_sheet *sheet, char **bytes, size_t *size,
                              hp_error *err)
{
    job j = {.sheet = sheet, .pages = flow_all(NULL, sheet)};
    hp_paper page = {.width = HP_PICTURE_A4_WIDTH,
                     .height = HP_PICTURE_A4_HEIGHT,
                     .title = sheet->title,
                     .count = j.pages};
    return hp_canvas_render(HP_PICTURE_PDF, &page, paint, &j, bytes, size, err);
}
