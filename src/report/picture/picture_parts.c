/* What the figures have in common: see the header. */
#include "report/picture/picture_parts.h"

#include "report/words/cautions.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TITLE_SIZE    30.0
#define TITLE_LEAST   24.0
#define SUBTITLE_SIZE 20.0

/* The grid. */
#define STUB        104.0 /* [units] left of the cells */
#define HEAD_LINE   24.0
#define HEAD_HEIGHT (5.0 * HEAD_LINE + 10.0)

/* Green, blue, orange, vermilion; what is not known has no colour. */
hp_ink hp_verdict_ink(hp_verdict verdict)
{
    static const hp_ink ink[HP_VERDICT_COUNT] = {HP_INK_GREEN, HP_INK_BLUE, HP_INK_ORANGE,
                                                 HP_INK_VERMILION, HP_INK_GREY};
    return ink[verdict];
}

hp_ink hp_verdict_text_ink(hp_verdict verdict)
{
    static const hp_ink ink[HP_VERDICT_COUNT] = {HP_INK_BLACK, HP_INK_WHITE, HP_INK_BLACK,
                                                 HP_INK_BLACK, HP_INK_WHITE};
    return ink[verdict];
}

hp_ink hp_verdict_tint(hp_verdict verdict)
{
    static const hp_ink ink[HP_VERDICT_COUNT] = {HP_INK_PALE_GREEN, HP_INK_PALE_BLUE,
                                                 HP_INK_PALE_ORANGE, HP_INK_WHITE, HP_INK_PALE};
    return ink[verdict];
}

/* Triangle pointing right (+1) or left (-1), its middle at x, y. */
static void draw_triangle(const hp_canvas *canvas, double x, double y, int sense, double half,
                          hp_ink ink)
{
    double xs[] = {x - 0.7 * sense * half, x - 0.7 * sense * half, x + 0.9 * sense * half};
    double ys[] = {y - half, y + half, y};
    hp_pen_polygon(canvas, xs, ys, 3, ink);
}

void hp_verdict_badge(const hp_canvas *canvas, hp_box box, double size, hp_verdict verdict,
                      hp_direction direction)
{
    double y = 0.5 * (box.top + box.bottom), half = 0.33 * size, room = 2.0 * half;
    bool rough = verdict == HP_VERDICT_ROUGH;
    bool forward = rough && (direction == HP_DIRECTION_FORWARD || direction == HP_DIRECTION_BOTH);
    bool backward = rough && (direction == HP_DIRECTION_BACKWARD || direction == HP_DIRECTION_BOTH);
    double left = box.left + 4.0 + (backward ? room : 0.0);
    double right = box.right - 4.0 - (forward ? room : 0.0);
    hp_type type = {size, hp_verdict_text_ink(verdict), HP_ALIGN_CENTRE, true};
    hp_pen_fill(canvas, box, hp_verdict_ink(verdict));
    /* Never cut: a verdict's word is always written out. */
    const char *word = hp_verdict_name(verdict);
    double wanted = hp_pen_text_width(type, word);
    if (wanted > right - left)
        type.size = floor(type.size * (right - left) / wanted);
    hp_pen_text(canvas, 0.5 * (left + right), y, type, word);
    if (backward)
        draw_triangle(canvas, box.left + 1.4 * half, y, -1, half, type.ink);
    if (forward)
        draw_triangle(canvas, box.right - 1.4 * half, y, 1, half, type.ink);
}

static double inner_width(void)
{
    return HP_PICTURE_WIDTH - 2.0 * HP_PICTURE_MARGIN;
}

/* A title a little too long for one line is made smaller rather than left with one word over. */
static double title_size(const char *title)
{
    hp_type type = {TITLE_SIZE, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    while (type.size > TITLE_LEAST && hp_pen_text_width(type, title) > inner_width())
        type.size -= 1.0;
    return hp_pen_text_width(type, title) > inner_width() ? TITLE_SIZE : type.size;
}

static double heading(const hp_canvas *canvas, const char *title, const char *subtitle)
{
    hp_type big = {title_size(title), HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type plain = {SUBTITLE_SIZE, HP_INK_DARK, HP_ALIGN_LEFT, false};
    double y = hp_pen_paragraph(canvas, HP_PICTURE_MARGIN, 14.0, inner_width(), big, title);
    if (subtitle[0])
        y = hp_pen_paragraph(canvas, HP_PICTURE_MARGIN, y + 2.0, inner_width(), plain, subtitle);
    return y + 10.0;
}

double hp_picture_heading(const hp_canvas *canvas, const char *title, const char *subtitle)
{
    return heading(canvas, title, subtitle);
}

double hp_picture_heading_height(const char *title, const char *subtitle)
{
    return heading(NULL, title, subtitle);
}

double hp_picture_caption(const hp_canvas *canvas, double y, const char *const *paragraph,
                          int count)
{
    hp_type type = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    for (int k = 0; k < count; k++)
        y = hp_pen_paragraph(canvas, HP_PICTURE_MARGIN, y, inner_width(), type, paragraph[k]) + 8.0;
    return y;
}

double hp_picture_cautions(const hp_canvas *canvas, double y)
{
    hp_type bold = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type plain = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    double pad = 12.0, left = HP_PICTURE_MARGIN + pad, width = inner_width() - 2.0 * pad;
    double text = y + pad + 1.3 * bold.size;
    double end = text + hp_pen_paragraph_height(width, plain, hp_cautions_text());
    if (canvas) {
        hp_box box = {HP_PICTURE_MARGIN, y, HP_PICTURE_WIDTH - HP_PICTURE_MARGIN, end + pad};
        hp_pen_frame(canvas, box, HP_INK_BLACK, 2.0);
        hp_pen_text(canvas, left, y + pad + 0.65 * bold.size, bold, "Cautions");
        hp_pen_paragraph(canvas, left, text, width, plain, hp_cautions_text());
    }
    return end + pad + 10.0;
}

char *hp_picture_times(double ratio, char *out, size_t size)
{
    char number[16];
    if (isfinite(ratio) && fabs(ratio) >= 99.5)
        snprintf(out, size, ">99\u00d7");
    else if (isfinite(ratio))
        snprintf(out, size, "%s\u00d7", hp_picture_short(ratio, number, sizeof number));
    else
        hp_picture_short(ratio, out, size);
    return out;
}

char *hp_picture_short(double value, char *out, size_t size)
{
    double magnitude = fabs(value);
    if (isnan(value))
        snprintf(out, size, "?");
    else if (isinf(value))
        snprintf(out, size, "no bound");
    else if (magnitude < 0.005)
        snprintf(out, size, "0.00");
    else
        snprintf(out, size, "%.*f", magnitude < 0.995 ? 2 : magnitude < 9.95 ? 1 : 0, value);
    return out;
}

char *hp_picture_degrees(double angle, char *out, size_t size)
{
    double degrees = round(angle / HP_DEG);
    snprintf(out, size, "%s%.0f\u00b0", degrees < 0.0 ? "\u2212" : "", fabs(degrees));
    return out;
}

char *hp_picture_degrees_range(double from, double to, char *out, size_t size)
{
    char a[16], b[16];
    snprintf(out, size, "%s to %s", hp_picture_degrees(from, a, sizeof a),
             hp_picture_degrees(to, b, sizeof b));
    return out;
}

const char *hp_picture_label(const char *label, int phase)
{
    static const char *const letter[HP_PHASE_COUNT] = {"U", "V", "W"};
    return label[0] ? label : letter[phase];
}

const char *hp_picture_label_fit(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead,
                                 hp_type type, double width)
{
    char cut[HP_PHASE_COUNT][2 * HP_LABEL_SIZE];
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        hp_type own = type;
        hp_pen_fit(&own, width, hp_picture_label(label[k], k), cut[k], sizeof cut[k]);
        for (int j = 0; j < k; j++)
            if (strcmp(cut[j], cut[k]) == 0)
                return hp_picture_label("", lead);
    }
    return hp_picture_label(label[lead], lead);
}

char *hp_picture_pair(const hp_labels *labels, int high, int low, hp_type type, double width,
                      char *out, size_t size)
{
    char fitted[3 * HP_LABEL_SIZE];
    snprintf(out, size, "%s + / %s \u2212", hp_picture_label(labels->motor_lead[high], high),
             hp_picture_label(labels->motor_lead[low], low));
    if (strlen(out) >= sizeof fitted ||
        strcmp(hp_pen_fit(&type, width, out, fitted, sizeof fitted), out) != 0)
        snprintf(out, size, "%c + / %c \u2212", hp_phase_letter(high), hp_phase_letter(low));
    return out;
}

hp_grid hp_grid_make(double top, double cell_height)
{
    double width = inner_width() - STUB;
    return (hp_grid){.top = top, .cell_w = width / HP_ORDER_COUNT, .cell_h = cell_height};
}

hp_box hp_grid_cell(const hp_grid *grid, int number)
{
    double left = HP_PICTURE_MARGIN + STUB + hp_wiring_column(number) * grid->cell_w;
    double top = grid->top + HEAD_HEIGHT + hp_wiring_row(number) * grid->cell_h;
    return (hp_box){left, top, left + grid->cell_w, top + grid->cell_h};
}

double hp_grid_bottom(const hp_grid *grid)
{
    return hp_grid_cell(grid, HP_WIRING_COUNT).bottom;
}

/* One line of the column heads: an output of the controller and, for each order, its motor lead. */
static void draw_head_line(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels,
                           int output)
{
    char name[HP_LABEL_SIZE + 16];
    double y = grid->top + (output + 1.5) * HEAD_LINE;
    hp_type side = {HP_PICTURE_SMALL, HP_INK_GREY, HP_ALIGN_LEFT, false};
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, false};
    hp_lead_name(output, labels->controller_output[output], name, sizeof name);
    if (!name[1])
        snprintf(name, sizeof name, "output %c", hp_phase_letter(output));
    hp_pen_text_fit(canvas, HP_PICTURE_MARGIN, y, STUB - 6.0, side, name);
    for (int c = 0; c < HP_ORDER_COUNT; c++) {
        int order[HP_PHASE_COUNT];
        hp_order_get(c, order);
        hp_box cell = hp_grid_cell(grid, c + 1);
        double width = grid->cell_w - 6.0;
        hp_pen_text_fit(canvas, 0.5 * (cell.left + cell.right), y, width, type,
                        hp_picture_label_fit(labels->motor_lead, order[output], type, width));
    }
}

/* Left of one row: the three inputs of the controller and the motor sensor at each. */
static void draw_row_head(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels,
                          int row)
{
    int order[HP_PHASE_COUNT];
    hp_order_get(row, order);
    hp_box cell = hp_grid_cell(grid, 1 + HP_ORDER_COUNT * row);
    hp_type side = {HP_PICTURE_SMALL, HP_INK_GREY, HP_ALIGN_LEFT, false};
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char letter[2] = {hp_phase_letter(j), '\0'};
        double y = 0.5 * (cell.top + cell.bottom) + (j - 1) * HEAD_LINE;
        hp_pen_text(canvas, HP_PICTURE_MARGIN, y, side, letter);
        hp_pen_text_fit(canvas, HP_PICTURE_MARGIN + 26.0, y, STUB - 32.0, type,
                        hp_picture_label_fit(labels->motor_sensor, order[j], type, STUB - 32.0));
    }
}

/* "U is blue, V is yellow, W is green", for those that have a name of their own. */
static void put_names(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[HP_LABEL_SIZE + 16];
        hp_lead_name(j, label[j], name, sizeof name);
        if (name[1] && used < size)
            used += (size_t)snprintf(out + used, size - used, "%s%c is %s", used ? ", " : "",
                                     hp_phase_letter(j), label[j]);
    }
}

double hp_grid_note(const hp_canvas *canvas, double y, const hp_labels *labels)
{
    char outputs[4 * HP_LABEL_SIZE], inputs[4 * HP_LABEL_SIZE];
    char text[2 * sizeof outputs + 80];
    const char *const paragraph[] = {text};
    put_names(labels->controller_output, outputs, sizeof outputs);
    put_names(labels->controller_input, inputs, sizeof inputs);
    if (!outputs[0] && !inputs[0])
        return y;
    snprintf(text, sizeof text, "On the controller:%s%s%s%s%s.", outputs[0] ? " output " : "",
             outputs, outputs[0] && inputs[0] ? ";" : "", inputs[0] ? " input " : "", inputs);
    return hp_picture_caption(canvas, y, paragraph, 1);
}

void hp_grid_heads(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels)
{
    hp_box first = hp_grid_cell(grid, 1), last = hp_grid_cell(grid, HP_WIRING_COUNT);
    hp_type bold = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_pen_text(canvas, first.left, grid->top + 0.5 * HEAD_LINE, bold,
                "MOTOR PHASE LEADS at the controller's outputs");
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        draw_head_line(canvas, grid, labels, j);
    hp_pen_text_fit(canvas, HP_PICTURE_MARGIN, grid->top + 4.5 * HEAD_LINE, 600.0, bold,
                    "MOTOR SENSOR LEADS at the controller's inputs");
    for (int r = 0; r < HP_ORDER_COUNT; r++) {
        double y = first.top + r * grid->cell_h;
        draw_row_head(canvas, grid, labels, r);
        hp_pen_line(canvas, HP_PICTURE_MARGIN, y, last.right, y, HP_INK_RULE, 1.0);
    }
}
