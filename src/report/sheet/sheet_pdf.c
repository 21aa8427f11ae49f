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
#define MARGIN 32.0
#define LEFT   MARGIN
#define WIDTH  (HP_PICTURE_A4_WIDTH - 2.0 * MARGIN)
#define RIGHT  (LEFT + WIDTH)
#define BOTTOM (HP_PICTURE_A4_HEIGHT - MARGIN - 10.0)
#define BODY   13.5
#define SMALL  12.8 /* 9.07 points: none is smaller */
#define LINE   1.3  /* of a paragraph, as the pen sets it */
#define GAP    5.0
#define RULE   1.2 /* below a row: the line and its air */
#define AIR    0.6 /* taken from a row above its letters, and below: the rule parts it, too */

static const hp_type body = {BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
static const hp_type named = {SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, true};
static const hp_type strong = {BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
static const hp_type small = {SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};
static const hp_type listed = {SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, false};

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

/* What is said of a list, close to it. */
static void note_of(flow *f, const char *text)
{
    paragraph(f, small, text);
    f->y -= 0.5 * GAP;
}

static void heading(flow *f, const char *text, double follows)
{
    hp_type type = {16.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    const hp_canvas *canvas = room(f, 28.0 + follows);
    f->y += f->y > MARGIN ? 4.0 : 0.0;
    if (canvas) {
        hp_pen_text(canvas, LEFT, f->y + 9.0, type, text);
        hp_pen_line(canvas, LEFT, f->y + 18.5, RIGHT, f->y + 18.5, HP_INK_BLACK, 1.5);
    }
    f->y += 21.0;
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
    height -= 2.0 * AIR;
    const hp_canvas *canvas = room(f, height + RULE);
    for (int k = 0; canvas && k < count; k++) {
        put_text(canvas, c[k].x, f->y - AIR, c[k].width, c[k].type, c[k].text);
        if (c[k].blank)
            hp_pen_dots(canvas, c[k].x, c[k].x + c[k].width - 8.0,
                        f->y - AIR + LINE * c[k].type.size);
    }
    if (canvas)
        hp_pen_line(canvas, LEFT, f->y + height + 0.5 * RULE, RIGHT, f->y + height + 0.5 * RULE,
                    HP_INK_RULE, 0.8);
    f->y += height + RULE;
}

/* ---- lists ----------------------------------------------------------------------------------- */

#define BETWEEN   10.0 /* two columns */
#define HALF      (0.5 * (WIDTH - 2.0 * BETWEEN))
#define BLANK     60.0 /* the least that a hand writes a figure on */
#define WHAT_MOST (0.5 * WIDTH)

static bool is_short(const hp_sheet_line *line)
{
    double value = line->value[0] ? hp_pen_text_width(listed, line->value) : BLANK;
    return hp_pen_text_width(listed, line->what) + value + hp_pen_text_width(small, line->from) +
               2.0 * BETWEEN <=
           HALF;
}

/* How many lines of a list stand in the row that begins with this one. */
static int lines_of_row(const hp_sheet_list *list, int k)
{
    return k + 1 < list->count && is_short(&list->line[k]) && is_short(&list->line[k + 1]) ? 2 : 1;
}

/* A line in half of the width: what it is, its value behind that, at the right where it is from. */
static void fill_half(const hp_sheet_line *line, double x, column c[3])
{
    double what = hp_pen_text_width(listed, line->what) + BETWEEN;
    double from = hp_pen_text_width(small, line->from) + 1.0;
    c[0] = (column){x, what, listed, line->what, false};
    c[1] = (column){x + what, HALF - what - from, listed, line->value, !line->value[0]};
    c[2] = (column){x + HALF - from, from + 1.0, small, line->from, false};
}

static double from_width(const hp_sheet_list *list)
{
    double from = 0.0;
    for (int k = 0; k < list->count; k++)
        from = fmax(from, hp_pen_text_width(small, list->line[k].from) + 1.0);
    return fmin(from, 0.25 * WIDTH);
}

/* A line in the whole width: what it is takes so much, where it is from so much. */
static void fill_whole(const hp_sheet_line *line, double what, double from, column c[3])
{
    c[0] = (column){LEFT, what, listed, line->what, false};
    c[1] = (column){LEFT + what + BETWEEN, WIDTH - what - from - 2.0 * BETWEEN, listed, line->value,
                    !line->value[0]};
    c[2] = (column){RIGHT - from, from + 1.0, small, line->from, false};
}

/* The width of the names with which the list takes least room. */
static double what_width(const hp_sheet_list *list, double from)
{
    double best = WHAT_MOST, least = INFINITY;
    for (int k = 0; k < list->count; k++) {
        double what = hp_pen_text_width(listed, list->line[k].what) + 1.0, whole = 0.0;
        if (what > WHAT_MOST)
            continue;
        for (int n = 0, lines; n < list->count; n += lines) {
            column c[3];
            if ((lines = lines_of_row(list, n)) == 2)
                continue;
            fill_whole(&list->line[n], what, from, c);
            whole += fmax(put_text(NULL, 0.0, 0.0, c[0].width, listed, c[0].text),
                          put_text(NULL, 0.0, 0.0, c[1].width, listed, c[1].text));
        }
        if (whole < least || (whole == least && what > best)) {
            least = whole;
            best = what;
        }
    }
    return best;
}

/* Two short lines beside each other, every other one by itself. */
static void put_list(flow *f, const hp_sheet_list *list, const char *title, const char *note)
{
    double from = from_width(list), what = what_width(list, from);
    heading(f, title, 72.0);
    note_of(f, note);
    for (int k = 0; k < list->count; k++) {
        column c[6];
        bool two = lines_of_row(list, k) == 2;
        bool blank = !list->line[k].value[0] || (two && !list->line[k + 1].value[0]);
        if (two) {
            fill_half(&list->line[k], LEFT, c);
            fill_half(&list->line[++k], RIGHT - HALF, c + 3);
        } else
            fill_whole(&list->line[k], what, from, c);
        put_row(f, c, two ? 6 : 3, LINE * SMALL + (blank ? 1.0 : 0.0));
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
    hp_type title = {23.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    paragraph(f, title, sheet->title);
    put_stops(f, sheet);
    pair(f, "Motor", sheet->source.labels->motor);
    pair(f, "Controller", sheet->source.labels->controller);
    pair(f, "Date", sheet->source.date);
    f->y += GAP;
    paragraph(f, strong, sheet->standing);
    boxed(f, "Cautions", hp_cautions_text());
}

/* What joins what, as pictures: in one row where the names have room, else two panels. */
static void put_panels(flow *f, const hp_wiring_sheet *sheet)
{
    double row = hp_picture_sheet_row(NULL, LEFT, 0.0, WIDTH, SMALL, sheet);
    double height = row > 0.0 ? row
                              : fmax(hp_picture_sheet_height(sheet, HP_SHEET_PHASES),
                                     hp_picture_sheet_height(sheet, HP_SHEET_SENSORS));
    f->y += 0.5 * GAP;
    const hp_canvas *canvas = room(f, height);
    if (canvas && row > 0.0)
        hp_picture_sheet_row(canvas, LEFT, f->y, WIDTH, SMALL, sheet);
    else if (canvas) {
        hp_picture_sheet_paint(canvas, LEFT - 8.0, f->y, sheet, HP_SHEET_PHASES);
        hp_picture_sheet_paint(canvas, RIGHT - HP_SHEET_PANEL + 8.0, f->y, sheet, HP_SHEET_SENSORS);
    }
    f->y += height + GAP;
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

static const char *lead_text(const hp_harness_lead *lead, char text[2 * HP_LABEL_SIZE + 4])
{
    snprintf(text, 2 * HP_LABEL_SIZE + 4, "%s%s%s", lead->colour, lead->colour[0] ? ": " : "",
             lead->function);
    return text;
}

/* The leads of a part, each in its colour with its name, as many in a line as it holds; returns the
 * y below. */
static double put_leads(const hp_canvas *canvas, double left, double y, double width,
                        const hp_harness_part *part)
{
    double x = left, line = LINE * SMALL;
    for (int k = 0; k < part->leads; k++) {
        char text[2 * HP_LABEL_SIZE + 4];
        const hp_harness_lead *lead = &part->lead[k];
        lead_text(lead, text);
        double wide = SWATCH + hp_pen_text_width(listed, text);
        if (x > left && x + wide > left + width) {
            x = left;
            y += line;
        }
        hp_lead_line_wide(canvas, x, y + 0.5 * line, x + SWATCH - 5.0, y + 0.5 * line, lead->colour,
                          4.0);
        double end = put_text(canvas, x + SWATCH, y, left + width - x - SWATCH, listed, text);
        x += wide + 12.0;
        if (end > y + 1.5 * line) { /* it took more than a line */
            x = left;
            y = end;
        }
    }
    return x > left ? y + line : y;
}

#define PART  130.0 /* a part's name */
#define LEADS 340.0 /* its leads, at most */

/* The note has the room that the leads leave. */
static void put_part(flow *f, const hp_harness_part *part)
{
    double x = LEFT + PART + 8.0, leads = 0.0;
    for (int k = 0; k < part->leads; k++) {
        char text[2 * HP_LABEL_SIZE + 4];
        leads += SWATCH + 12.0 + hp_pen_text_width(listed, lead_text(&part->lead[k], text));
    }
    double behind = fmin(leads, LEADS + 12.0);
    leads = fmax(behind - 12.0, 0.0) + 0.5; /* rounding */
    double height = put_leads(NULL, x, 0.0, leads, part) - 2.0 * AIR;
    column c[2] = {{LEFT, PART, named, part->name, false},
                   {x + behind, RIGHT - x - behind, listed, part->note, false}};
    for (int k = 0; k < 2; k++)
        height =
            fmax(height, put_text(NULL, 0.0, 0.0, c[k].width, c[k].type, c[k].text) - 2.0 * AIR);
    const hp_canvas *canvas = room(f, height + RULE);
    put_leads(canvas, x, f->y - AIR, leads, part);
    put_row(f, c, 2, height + 2.0 * AIR);
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
    const hp_canvas *canvas = room(f, 48.0);
    f->y += 26.0;
    if (canvas) {
        hp_pen_dots(canvas, LEFT, LEFT + 240.0, f->y);
        hp_pen_dots(canvas, LEFT + 280.0, RIGHT, f->y);
        put_text(canvas, LEFT, f->y + 4.0, 240.0, small, "Date");
        put_text(canvas, LEFT + 280.0, f->y + 4.0, 300.0, small, "Name and signature");
    }
    f->y += 22.0;
}

/* A plug, and beside it pins with names once more in words, since their picture cuts long ones, and
 * what the log remarks on them. Draws on a canvas; returns the height. */
static double draw_named(const hp_canvas *canvas, double top, const hp_wiring_sheet *sheet, int k)
{
    char words[2400] = "";
    int panel = HP_SHEET_PLUGS + k;
    const char *note = sheet->source.plug[k].note ? sheet->source.plug[k].note : "";
    double x = LEFT + HP_SHEET_PANEL + 20.0, width = RIGHT - x;
    if (sheet->source.plug[k].pins)
        hp_picture_sheet_words(sheet, panel, words, sizeof words);
    if (canvas)
        hp_picture_sheet_paint(canvas, LEFT - 8.0, top, sheet, panel);
    double y = put_text(canvas, x, top + 52.0, width, small, words) + GAP;
    y = put_text(canvas, x, y, width, body, note);
    return fmax(y - top, hp_picture_sheet_height(sheet, panel));
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
    double left = hp_plug_halves_put(canvas, LEFT, top, SMALL, VIEW_W, &plug->view);
    double y = top + hp_plug_table_put(canvas, x, top, SMALL, width, &plug->view) + GAP;
    y = put_text(canvas, x, y, width, body, words) + GAP;
    y = put_text(canvas, x, y, width, body, plug->note ? plug->note : "");
    return fmax(left, y - top);
}

static double draw_plug(const hp_canvas *canvas, double top, const hp_wiring_sheet *sheet, int k)
{
    const hp_sheet_plug *plug = &sheet->source.plug[k];
    return plug->view.pins ? draw_placed(canvas, top, plug) : draw_named(canvas, top, sheet, k);
}

static void put_plugs(flow *f, const hp_wiring_sheet *sheet)
{
    heading(f, "Plugs", draw_plug(NULL, 0.0, sheet, 0)); /* it stays with the first one */
    for (int k = 0; k < sheet->source.plugs; k++) {
        double height = draw_plug(NULL, 0.0, sheet, k);
        const hp_canvas *canvas = room(f, height);
        if (canvas)
            draw_plug(canvas, f->y, sheet, k);
        f->y += height + GAP;
    }
}

static int flow_all(const hp_canvas *canvas, const hp_wiring_sheet *sheet)
{
    flow f = {.canvas = canvas, .y = MARGIN};
    put_top(&f, sheet);
    heading(&f, "Which lead goes where", hp_picture_sheet_height(sheet, HP_SHEET_PHASES));
    put_panels(&f, sheet);
    put_joins(&f, sheet);
    if (sheet->source.plugs)
        put_plugs(&f, sheet);
    put_list(&f, &sheet->readings, "Readings of the good parts, as found", hp_sheet_readings_note);
    put_list(&f, &sheet->settings, "Settings", hp_sheet_settings_note);
    if (sheet->figures.count > 0)
        put_list(&f, &sheet->figures, "Figures of this machine", hp_sheet_figures_note);
    if (sheet->mends.count > 0)
        put_list(&f, &sheet->mends, "Found and mended", hp_sheet_mends_note);
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
