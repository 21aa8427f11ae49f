/* What the pictures have in common: see the header. */
#include "report/picture/picture_parts.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TITLE_LEAST   0.8 /* of a title's letters: smaller, it takes two lines instead */
#define BADGE_PAD     1.5
#define HEADING_BYTES 512

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

/* A verdict's word for a place of this width; a mark where even that does not fit. */
static const char *badge_word(hp_type type, hp_verdict verdict, double width)
{
    const char *word = hp_verdict_name(verdict);
    bool fits = hp_pen_text_width(type, word) <= width;
    return fits || verdict != HP_VERDICT_UNDECIDED ? word : "?";
}

void hp_verdict_badge(const hp_canvas *canvas, hp_box box, double size, hp_verdict verdict,
                      hp_direction direction)
{
    double y = 0.5 * (box.top + box.bottom), half = 0.33 * size, room = 2.0 * half;
    hp_type type = {size, hp_verdict_text_ink(verdict), HP_ALIGN_CENTRE, true};
    double width = box.right - box.left - 2.0 * BADGE_PAD;
    const char *word = badge_word(type, verdict, width);
    double spare = width - hp_pen_text_width(type, word);
    bool forward = direction == HP_DIRECTION_FORWARD || direction == HP_DIRECTION_BOTH;
    bool backward = direction == HP_DIRECTION_BACKWARD || direction == HP_DIRECTION_BOTH;
    if (verdict != HP_VERDICT_ROUGH || spare < (forward + backward) * room)
        forward = backward = false;
    double left = box.left + BADGE_PAD + (backward ? room : 0.0);
    double right = box.right - BADGE_PAD - (forward ? room : 0.0);
    hp_pen_fill(canvas, box, hp_verdict_ink(verdict));
    hp_pen_text(canvas, 0.5 * (left + right), y, type, word);
    if (backward)
        draw_triangle(canvas, box.left + 1.4 * half, y, -1, half, type.ink);
    if (forward)
        draw_triangle(canvas, box.right - 1.4 * half, y, 1, half, type.ink);
}

void hp_verdict_band(const hp_canvas *canvas, const hp_look *look, hp_box band, int number,
                     hp_verdict verdict, hp_direction direction)
{
    char text[16];
    hp_type type = {look->small, hp_verdict_text_ink(verdict), HP_ALIGN_LEFT, true};
    snprintf(text, sizeof text, "%d", number);
    hp_box rest = band;
    rest.left += BADGE_PAD + hp_pen_text_width(type, text);
    hp_pen_fill(canvas, band, hp_verdict_ink(verdict));
    hp_verdict_badge(canvas, rest, look->small, verdict, direction);
    hp_pen_text(canvas, band.left + BADGE_PAD, 0.5 * (band.top + band.bottom), type, text);
}

char *hp_verdict_words(const hp_judgement *judgement, char *out, size_t size)
{
    const char *kind = hp_rough_kind_name(judgement->kind);
    snprintf(out, size, "%s%s%s", hp_verdict_name(judgement->verdict), kind[0] ? ", too " : "",
             kind);
    return out;
}

void hp_tick_draw(const hp_canvas *canvas, double x, double y, double size, hp_ink ink)
{
    double half = 0.5 * size, width = 0.2 * size;
    double bend_x = x - 0.3 * half, bend_y = y + 0.75 * half;
    hp_pen_line(canvas, x - half, y + 0.1 * half, bend_x, bend_y, ink, width);
    hp_pen_line(canvas, bend_x, bend_y, x + half, y - 0.8 * half, ink, width);
    hp_pen_disc(canvas, bend_x, bend_y, 0.5 * width, ink);
}

/* A title a little too long for one line is made smaller rather than left with one word over. */
static double title_size(const hp_look *look, double width, const char *title)
{
    hp_type type = {look->title, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    while (type.size > TITLE_LEAST * look->title && hp_pen_text_width(type, title) > width)
        type.size -= 1.0;
    return hp_pen_text_width(type, title) > width ? fmax(0.7 * look->title, look->body) : type.size;
}

double hp_picture_heading(const hp_canvas *canvas, const hp_look *look, const char *title,
                          const char *subtitle)
{
    double width = look->width - 2.0 * look->margin;
    hp_type big = {title_size(look, width, title), HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type plain = hp_look_body(look, HP_INK_DARK, HP_ALIGN_LEFT, false);
    char head[HEADING_BYTES], line[HEADING_BYTES];
    /* A wall is low: its headings take one line, beside each other where they fit, and two at most.
     */
    bool wall = look->shape == HP_SHAPE_WALL;
    double top = 0.7 * look->margin, y;
    if (wall) {
        title = hp_pen_cut(big, width, title, head, sizeof head);
        subtitle = hp_pen_cut(plain, 1.85 * width, subtitle, line, sizeof line);
        double beside = hp_pen_text_width(big, title) + look->gap;
        if (beside + hp_pen_text_width(plain, subtitle) <= width) {
            y = hp_pen_paragraph(canvas, look->margin, top, width, big, title);
            hp_pen_text(canvas, look->margin + beside, y - 0.55 * hp_look_line(big.size) + 5.0,
                        plain, subtitle);
            return y + 10.0;
        }
    }
    y = hp_pen_paragraph(canvas, look->margin, top, width, big, title);
    if (subtitle[0])
        y = hp_pen_paragraph(canvas, look->margin, y + 2.0, width, plain, subtitle);
    return y + 10.0;
}

double hp_picture_end(const hp_look *look, const hp_flow *flow)
{
    return flow->full ? (double)INFINITY : flow->y + 0.5 * look->margin;
}

void hp_flow_missing(hp_flow *flow, const bool has[HP_EXAMPLE_COUNT])
{
    char text[200];
    int missing = 0, told = 0;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++)
        missing += k != HP_EXAMPLE_OTHER && !has[k];
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++) {
        if (k == HP_EXAMPLE_OTHER || has[k])
            continue;
        told++;
        hp_phrase_add(&p, "%s%s",
                      told == 1         ? "This machine has no wiring that is "
                      : told == missing ? " or "
                                        : ", ",
                      k == HP_EXAMPLE_OPPOSED ? hp_verdict_name(HP_VERDICT_STALLED)
                                              : hp_example_name((hp_example_kind)k));
    }
    if (missing > 0) {
        hp_phrase_add(&p, ".");
        hp_flow_paragraph(flow, text);
    }
    if (has[HP_EXAMPLE_OTHER])
        hp_flow_paragraph(flow, "Other: rough, but neither too early nor too late.");
}

/* How sure the advice is of the wiring that it names; "" where its card says more. */
static const char *advised_words(hp_advice_kind kind)
{
    static const char to_try[] = "To be tried: it is not proven yet.";
    static const char likeliest[] = "The likeliest so far: it is not proven yet.";
    static const char *const words[HP_ADVICE_COUNT] = {
        [HP_ADVICE_READ] = likeliest,   [HP_ADVICE_TRY] = to_try,
        [HP_ADVICE_LOOK] = to_try,      [HP_ADVICE_LEARN] = likeliest,
        [HP_ADVICE_DONE] = "",          [HP_ADVICE_REPAIR] = likeliest,
        [HP_ADVICE_DANGER] = likeliest, [HP_ADVICE_GIVE_UP] = likeliest,
        [HP_ADVICE_PROBABLY] = "",
    };
    return words[kind];
}

void hp_flow_only_names(hp_flow *flow, const hp_picture_subject *subject)
{
    const hp_advice *advice = subject->advice;
    if (subject->labels->axes_known)
        return;
    if (!advice || advice->number == 0 || advice->number != subject->number)
        hp_flow_bold(flow, "Which lead is which is not known yet: do not join by this picture. The "
                           "bench finds out, step by step.");
    else if (advised_words(advice->kind)[0])
        hp_flow_bold(flow, advised_words(advice->kind));
}

void hp_flow_cautions(hp_flow *flow)
{
    static const char heading[] = "Cautions";
    const hp_look *look = flow->look;
    hp_type bold = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type plain = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    /* On the wall the heading stands beside them: a foot is wide and low. */
    bool beside = look->shape == HP_SHAPE_WALL;
    double pad = (beside ? 0.3 : 0.5) * look->body, line = hp_look_line(bold.size);
    double indent = beside ? hp_pen_text_width(bold, heading) + pad : 0.0;
    double width = flow->width - 2.0 * pad - indent, above = beside ? 0.0 : line;
    double text = hp_pen_paragraph_height(width, plain, hp_cautions_text());
    double height = 2.0 * pad + above + text;
    if (!hp_flow_fits(flow, height))
        return;
    double left = flow->left, top = flow->y;
    hp_box box = {left, top, left + flow->width, top + height};
    hp_pen_frame(flow->canvas, box, HP_INK_BLACK, 2.0);
    hp_pen_text(flow->canvas, left + pad, top + pad + 0.5 * line, bold, heading);
    hp_pen_paragraph(flow->canvas, left + pad + indent, top + pad + above, width, plain,
                     hp_cautions_text());
    flow->y += height + 0.4 * look->body;
}

static double draw_foot(const hp_canvas *canvas, const hp_look *look, const hp_labels *labels,
                        bool cautions, double top)
{
    hp_box box = {look->margin, top, look->width - look->margin, INFINITY};
    hp_flow flow = hp_flow_begin(canvas, look, box);
    hp_flow_grid_note(&flow, labels);
    if (cautions)
        hp_flow_cautions(&flow);
    return flow.y;
}

hp_room hp_grid_room(const hp_canvas *canvas, const hp_look *look, double top, double share,
                     const hp_labels *labels, bool cautions)
{
    hp_room room = hp_look_room(look, top, 0.0, share);
    if (look->shape != HP_SHAPE_WALL)
        return room;
    double height = draw_foot(NULL, look, labels, cautions, 0.0);
    double foot = look->height - 0.4 * look->margin - height;
    draw_foot(canvas, look, labels, cautions, foot);
    room.plot.bottom = room.words.bottom = foot - 0.3 * look->gap;
    return room;
}

void hp_flow_verdicts(hp_flow *flow, const int count[HP_VERDICT_COUNT],
                      const char *const meaning[HP_VERDICT_COUNT])
{
    const hp_look *look = flow->look;
    hp_type plain = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    hp_type number = hp_look_body(look, HP_INK_BLACK, HP_ALIGN_RIGHT, true);
    hp_type word = number;
    double figures = 1.6 * look->body, row = 1.5 * look->body, gap = 0.4 * look->body;
    double badge = 0.0;
    for (int v = 0; v < HP_VERDICT_COUNT; v++)
        if (count[v] > 0 || look->shape != HP_SHAPE_WALL)
            badge = fmax(badge, hp_pen_text_width(word, hp_verdict_name((hp_verdict)v)) + gap);
    double left = flow->left + figures + gap, text = left + badge + gap;
    double width = flow->left + flow->width - text;
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        char amount[16];
        double height = fmax(row, hp_pen_paragraph_height(width, plain, meaning[v]));
        if (count[v] == 0 || !hp_flow_fits(flow, height))
            continue;
        hp_box box = {left, flow->y, left + badge, flow->y + row - 2.0};
        snprintf(amount, sizeof amount, "%d", count[v]);
        hp_pen_text(flow->canvas, flow->left + figures, flow->y + 0.5 * row, number, amount);
        hp_verdict_badge(flow->canvas, box, look->body, (hp_verdict)v, HP_DIRECTION_NONE);
        hp_pen_paragraph(flow->canvas, text, flow->y + 0.5 * (row - hp_look_line(plain.size)),
                         width, plain, meaning[v]);
        flow->y += height + 0.2 * look->body;
    }
    flow->y += 0.3 * look->body;
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
        snprintf(out, size, "no limit");
    else if (magnitude < 0.005)
        snprintf(out, size, "0");
    else
        snprintf(out, size, "%s%.*f", value < 0.0 ? "\u2212" : "",
                 magnitude < 0.995  ? 2
                 : magnitude < 9.95 ? 1
                                    : 0,
                 magnitude);
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
        hp_pen_cut(type, width, hp_picture_label(label[k], k), cut[k], sizeof cut[k]);
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
        strcmp(hp_pen_cut(type, width, out, fitted, sizeof fitted), out) != 0)
        snprintf(out, size, "%c + / %c \u2212", hp_phase_letter(high), hp_phase_letter(low));
    return out;
}

/* Height of a line of the heads, closer where every unit counts. */
static double head_line(const hp_look *look)
{
    return look->shape == HP_SHAPE_WALL ? 1.2 * look->small : hp_look_line(look->small);
}

/* Left of the cells: a letter and the longest name, not touching the first cell. */
static double stub_width(const hp_look *look, const hp_labels *labels)
{
    const double least = 4.7, most = 5.2;
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double width = least * look->small;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double name = hp_pen_text_width(type, hp_picture_label(labels->motor_sensor[k], k));
        width = fmax(width, 1.55 * look->small + name);
    }
    return fmin(width, most * look->small);
}

hp_grid hp_grid_make(const hp_look *look, const hp_labels *labels, double left, double right,
                     double top, double bottom, double cell_height)
{
    double line = head_line(look);
    hp_grid grid = {.look = look, .left = left, .right = right, .top = top};
    grid.stub = stub_width(look, labels);
    /* On the wall the two titles of the heads stand among the words. */
    grid.head = (look->shape == HP_SHAPE_WALL ? 3.0 : 5.0) * line + 6.0;
    grid.cell_w = (right - left - grid.stub) / HP_ORDER_COUNT;
    grid.cell_h = isfinite(bottom) ? (bottom - top - grid.head) / HP_ORDER_COUNT : cell_height;
    return grid;
}

hp_box hp_grid_cell(const hp_grid *grid, int number)
{
    double left = grid->left + grid->stub + hp_wiring_column(number) * grid->cell_w;
    double top = grid->top + grid->head + hp_wiring_row(number) * grid->cell_h;
    return (hp_box){left, top, left + grid->cell_w, top + grid->cell_h};
}

double hp_grid_bottom(const hp_grid *grid)
{
    return hp_grid_cell(grid, HP_WIRING_COUNT).bottom;
}

/* One line of the column heads: an output of the controller and, for each order, its motor lead. */
static void draw_head_line(const hp_canvas *canvas, const hp_grid *grid, double y,
                           const hp_labels *labels, int output)
{
    char name[HP_LABEL_SIZE + 16];
    hp_type side = hp_look_small(grid->look, HP_INK_GREY, HP_ALIGN_LEFT, false);
    hp_type type = hp_look_small(grid->look, HP_INK_BLACK, HP_ALIGN_CENTRE, false);
    snprintf(name, sizeof name, "out %c", hp_phase_letter(output));
    hp_pen_text(canvas, grid->left, y, side, name);
    for (int c = 0; c < HP_ORDER_COUNT; c++) {
        int order[HP_PHASE_COUNT];
        hp_order_get(c, order);
        hp_box cell = hp_grid_cell(grid, c + 1);
        double width = grid->cell_w - 4.0;
        hp_pen_text_cut(canvas, 0.5 * (cell.left + cell.right), y, width, type,
                        hp_picture_label_fit(labels->motor_lead, order[output], type, width));
    }
}

/* Left of one row: the three inputs of the controller and the Hall lead at each. */
static void draw_row_head(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels,
                          int row)
{
    int order[HP_PHASE_COUNT];
    hp_order_get(row, order);
    hp_box cell = hp_grid_cell(grid, 1 + HP_ORDER_COUNT * row);
    hp_type side = hp_look_small(grid->look, HP_INK_GREY, HP_ALIGN_LEFT, false);
    hp_type type = hp_look_small(grid->look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double line = fmin(hp_look_line(grid->look->small), grid->cell_h / HP_PHASE_COUNT);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char letter[2] = {hp_phase_letter(j), '\0'};
        double y = 0.5 * (cell.top + cell.bottom) + (j - 1) * line;
        double apart = 1.08 * grid->look->small, width = grid->stub - apart - 1.0;
        const char *name = hp_picture_label_fit(labels->motor_sensor, order[j], type, width);
        /* A little further from the letter where the name leaves room for that. */
        apart += fmin(0.2 * grid->look->small, fmax(0.0, width - hp_pen_text_width(type, name)));
        hp_pen_text(canvas, grid->left, y, side, letter);
        hp_pen_text_cut(canvas, grid->left + apart, y, width, type, name);
    }
}

/* "U is blue, V is yellow, W is green", for those that have a name of their own. */
static void put_names(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[HP_LABEL_SIZE + 16];
        hp_lead_name(j, label[j], name, sizeof name);
        if (name[1])
            hp_phrase_add(&p, "%s%c is %s", p.used ? ", " : "", hp_phase_letter(j), label[j]);
    }
}

void hp_flow_grid_note(hp_flow *flow, const hp_labels *labels)
{
    char outputs[4 * HP_LABEL_SIZE], inputs[4 * HP_LABEL_SIZE];
    char text[2 * sizeof outputs + 240];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    put_names(labels->controller_output, outputs, sizeof outputs);
    put_names(labels->controller_input, inputs, sizeof inputs);
    if (flow->look->shape == HP_SHAPE_WALL)
        hp_phrase_add(&p, "Across: motor phase leads at the controller's outputs. Down: motor Hall "
                          "leads at the controller's inputs. ");
    if (outputs[0] || inputs[0])
        hp_phrase_add(&p, "On the controller:%s%s%s%s%s.", outputs[0] ? " output " : "", outputs,
                      outputs[0] && inputs[0] ? ";" : "", inputs[0] ? " input " : "", inputs);
    if (flow->look->shape == HP_SHAPE_WALL) {
        char cut[sizeof text];
        hp_type type = hp_look_body(flow->look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
        hp_flow_paragraph(flow, hp_pen_cut(type, 1.85 * flow->width, text, cut, sizeof cut));
        return;
    }
    hp_flow_paragraph(flow, text);
}

void hp_grid_heads(const hp_canvas *canvas, const hp_grid *grid, const hp_labels *labels)
{
    hp_box first = hp_grid_cell(grid, 1), last = hp_grid_cell(grid, HP_WIRING_COUNT);
    hp_type bold = hp_look_small(grid->look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double line = head_line(grid->look), y = grid->top + 0.5 * line;
    double width = grid->right - grid->left;
    bool titles = grid->look->shape != HP_SHAPE_WALL;
    if (titles) {
        hp_pen_text_cut(canvas, grid->left, y, width, bold,
                        "MOTOR PHASE LEADS at the controller's outputs");
        y += line;
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        draw_head_line(canvas, grid, y + j * line, labels, j);
    if (titles)
        hp_pen_text_cut(canvas, grid->left, y + 3.0 * line, width, bold,
                        "MOTOR HALL LEADS at the controller's inputs");
    for (int r = 0; r < HP_ORDER_COUNT; r++) {
        double rule = first.top + r * grid->cell_h;
        draw_row_head(canvas, grid, labels, r);
        hp_pen_line(canvas, grid->left, rule, last.right, rule, HP_INK_RULE, 1.0);
    }
}
