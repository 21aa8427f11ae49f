/* A board of leads: see the header. */
#include "report/picture/board.h"

#include "report/picture/lead_colour.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Shares of the width: names of the part's leads, the leads, what they go to. Names that need more
 * get it from the leads. */
#define NAME_SHARE 0.28
#define LINE_SHARE 0.22
#define LINE_LEAST 0.14

hp_board hp_board_begin(const char *part)
{
    hp_board board;
    memset(&board, 0, sizeof board);
    snprintf(board.part, sizeof board.part, "%s", part);
    return board;
}

void hp_board_group_add(hp_board *board, const char *title, const char *note)
{
    assert(board->groups < HP_BOARD_GROUPS);
    hp_board_group *g = &board->group[board->groups++];
    snprintf(g->title, sizeof g->title, "%s", title);
    snprintf(g->note, sizeof g->note, "%s", note);
}

hp_board_row *hp_board_add(hp_board *board, const char *left, const char *right)
{
    assert(board->rows < HP_BOARD_ROWS && board->groups > 0);
    hp_board_row *row = &board->row[board->rows++];
    snprintf(row->left, sizeof row->left, "%s", left);
    snprintf(row->right, sizeof row->right, "%s", right);
    board->group[board->groups - 1].rows++;
    return row;
}

/* Where the pieces of a board stand across. */
typedef struct columns {
    double left, name_end, line_end, right;
} columns;

static double row_height(const hp_look *look)
{
    return 1.6 * look->small;
}

/* Two jaws that bite the end of a lead from the right. */
static void draw_clip(const hp_canvas *canvas, double x, double y, double size, hp_ink ink)
{
    for (int side = -1; side <= 1; side += 2) {
        double xs[] = {x - 0.35 * size, x + 0.15 * size, x + 0.9 * size, x + 0.9 * size};
        double ys[] = {y + side * 0.22 * size, y + side * 0.42 * size, y + side * 0.16 * size, y};
        hp_pen_polygon(canvas, xs, ys, 4, ink);
    }
}

static void draw_tip(const hp_canvas *canvas, double x, double y, double size, hp_ink ink)
{
    double xs[] = {x - 0.1 * size, x + 0.6 * size, x + 1.1 * size, x + 1.1 * size, x + 0.6 * size};
    double ys[] = {y, y - 0.1 * size, y - 0.26 * size, y + 0.26 * size, y + 0.1 * size};
    hp_pen_polygon(canvas, xs, ys, 5, ink);
}

/* The end at the middle of the row, and the supply's or meter's own lead from there to its box. */
static void draw_end(const hp_canvas *canvas, const hp_look *look, double x, double to, double y,
                     hp_board_end end)
{
    bool red = end == HP_END_RED_CLIP || end == HP_END_RED_TIP;
    double size = look->small;
    hp_lead_line_wide(canvas, x + 0.8 * size, y, to, y, red ? "red" : "black", 0.2 * size);
    if (end == HP_END_RED_CLIP || end == HP_END_BLACK_CLIP)
        draw_clip(canvas, x, y, size, red ? HP_INK_VERMILION : HP_INK_BLACK);
    else
        draw_tip(canvas, x, y, size, red ? HP_INK_VERMILION : HP_INK_BLACK);
}

/* IEC 60617: a fuse is a box with the lead through it, a meter a ring with what it reads. */
static void draw_fuse(const hp_canvas *canvas, double x, double y, double size)
{
    hp_box box = {x - 0.9 * size, y - 0.38 * size, x + 0.9 * size, y + 0.38 * size};
    hp_pen_fill(canvas, box, HP_INK_WHITE);
    hp_pen_line(canvas, box.left, y, box.right, y, HP_INK_BLACK, 2.0);
    hp_pen_frame(canvas, box, HP_INK_BLACK, 2.0);
}

static void draw_ammeter(const hp_canvas *canvas, const hp_look *look, double x, double y)
{
    hp_pen_disc(canvas, x, y, 0.74 * look->small, HP_INK_BLACK);
    hp_pen_disc(canvas, x, y, 0.74 * look->small - 2.0, HP_INK_WHITE);
    hp_pen_text(canvas, x, y, hp_look_small(look, HP_INK_BLACK, HP_ALIGN_CENTRE, true), "A");
}

/* The lead of a row with all that is in its way, from one x to another. */
static void draw_lead(const hp_canvas *canvas, const hp_look *look, double from, double to,
                      double y, const hp_board_row *row)
{
    double width = (row->thick ? 0.42 : 0.24) * look->small, middle = 0.5 * (from + to);
    bool joined = row->end == HP_END_JOINED;
    double end = row->joint || !joined ? middle : to;
    hp_lead_line_wide(canvas, from, y, end, y, row->left, width);
    if (row->joint) {
        hp_lead_line_wide(canvas, middle, y, to, y, row->right, width);
        hp_pen_disc(canvas, middle, y, 0.34 * look->small, HP_INK_BLACK);
    } else if (row->end == HP_END_FREE || joined) {
        hp_pen_disc(canvas, end, y, 0.26 * look->small, HP_INK_BLACK);
        if (!joined)
            hp_pen_disc(canvas, end, y, 0.16 * look->small, HP_INK_WHITE);
    } else {
        draw_end(canvas, look, middle, to, y, row->end);
    }
    if (row->fuse)
        draw_fuse(canvas, from + 0.3 * (to - from), y, look->small);
    if (row->ammeter)
        draw_ammeter(canvas, look, from + 0.74 * (to - from), y);
}

static void draw_row(const hp_canvas *canvas, const hp_look *look, const columns *c, double y,
                     const hp_board_row *row)
{
    double pad = 0.4 * look->small;
    hp_type name = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_RIGHT, true);
    hp_type place = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, row->joint);
    hp_pen_text_cut(canvas, c->name_end - pad, y, c->name_end - c->left - 2.0 * pad, name,
                    row->left);
    draw_lead(canvas, look, c->name_end + pad, c->line_end, y, row);
    hp_pen_text_cut(canvas, c->line_end + 2.0 * pad, y, c->right - c->line_end - 3.0 * pad, place,
                    row->right);
}

/* Title and note of a group over its rows; returns the y below them. */
static double draw_group(const hp_canvas *canvas, const hp_look *look, const columns *c, double y,
                         const hp_board_group *g, const hp_board_row *row)
{
    double pad = 0.4 * look->small, width = c->right - c->line_end - 2.0 * pad;
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type note = hp_look_small(look, HP_INK_DARK, HP_ALIGN_LEFT, false);
    double top = y, x = c->line_end + 2.0 * pad;
    y = hp_pen_paragraph(canvas, x, y + 0.5 * pad, width - pad, bold, g->title);
    if (g->note[0])
        y = hp_pen_paragraph(canvas, x, y, width - pad, note, g->note);
    for (int k = 0; k < g->rows; k++, y += row_height(look))
        draw_row(canvas, look, c, y + 0.5 * row_height(look), &row[k]);
    y += 0.5 * pad;
    hp_box box = {c->line_end + 0.2 * pad, top, c->right, y};
    hp_pen_frame(canvas, box, HP_INK_DARK, 2.0);
    return y + pad;
}

#define PAD        0.4 /* [of the letters] */
#define SHORT_LEAD 2.6 /* the same: a fuse, and some of the lead on either side */

/* What the part's names take, air included. */
static double name_need(const hp_look *look, const hp_board *board)
{
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double need = hp_pen_text_width(bold, board->part);
    for (int k = 0; k < board->rows; k++)
        need = fmax(need, hp_pen_text_width(bold, board->row[k].left));
    return need + 2.2 * PAD * look->small;
}

static columns make_columns(const hp_look *look, double left, double width, const hp_board *board)
{
    double need = name_need(look, board), name = NAME_SHARE, line = LINE_SHARE;
    if (board->short_leads) {
        line = SHORT_LEAD * look->small / width;
        name = fmin(need / width, 0.5 - line);
    } else if (need > name * width) {
        name = fmin(need / width, NAME_SHARE + LINE_SHARE - LINE_LEAST);
        line = NAME_SHARE + LINE_SHARE - name;
    }
    return (columns){.left = left,
                     .name_end = left + name * width,
                     .line_end = left + (name + line) * width,
                     .right = left + width};
}

/* The longest word of a text. */
static double word_width(hp_type type, const char *text)
{
    char word[HP_BOARD_TEXT];
    double most = 0.0;
    for (text += strspn(text, " "); *text; text += strspn(text, " ")) {
        size_t bytes = strcspn(text, " ");
        snprintf(word, sizeof word, "%.*s", (int)bytes, text);
        most = fmax(most, hp_pen_text_width(type, word));
        text += bytes;
    }
    return most;
}

double hp_board_least(const hp_look *look, const hp_board *board)
{
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double place = 0.0;
    for (int k = 0; k < board->groups; k++)
        place = fmax(place, word_width(bold, board->group[k].title));
    for (int k = 0; k < board->rows; k++) {
        hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, board->row[k].joint);
        place = fmax(place, hp_pen_text_width(type, board->row[k].right));
    }
    place += (SHORT_LEAD + 3.2 * PAD) * look->small;
    /* The names have half of it at most, leads included. */
    return fmax(name_need(look, board) + place,
                2.0 * (name_need(look, board) + SHORT_LEAD * look->small));
}

bool hp_board_fits(const hp_look *look, double width, const hp_board *board)
{
    columns c = make_columns(look, 0.0, width, board);
    double pad = 0.4 * look->small;
    double name = c.name_end - 2.0 * pad, place = c.right - c.line_end - 3.0 * pad;
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    if (word_width(bold, board->part) > name)
        return false;
    for (int k = 0; k < board->groups; k++)
        if (word_width(bold, board->group[k].title) > place)
            return false;
    for (int k = 0; k < board->rows; k++) {
        const hp_board_row *row = &board->row[k];
        hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, row->joint);
        if (hp_pen_text_width(bold, row->left) > name ||
            hp_pen_text_width(type, row->right) > place)
            return false;
    }
    return true;
}

double hp_board_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                     double width, const hp_board *board)
{
    columns c = make_columns(look, left, width, board);
    double pad = 0.4 * look->small, top = y;
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double first = hp_pen_paragraph(canvas, left + pad, y + 0.5 * pad,
                                    c.name_end - left - 1.5 * pad, bold, board->part);
    const hp_board_row *row = board->row;
    for (int k = 0; k < board->groups; k++) {
        const hp_board_group *g = &board->group[k];
        /* The part's own name stands above its first lead. */
        hp_type note = hp_look_small(look, HP_INK_DARK, HP_ALIGN_LEFT, false);
        if (k == 0) {
            double inner = c.right - c.line_end - 3.0 * pad;
            double head = hp_pen_paragraph_height(inner, bold, g->title) +
                          (g->note[0] ? hp_pen_paragraph_height(inner, note, g->note) : 0.0);
            y = fmax(y, first - head - 0.5 * pad);
        }
        y = draw_group(canvas, look, &c, y, g, row);
        row += g->rows;
    }
    hp_box box = {left, top, c.name_end, y - pad};
    hp_pen_frame(canvas, box, HP_INK_DARK, 2.0);
    return y + 0.4 * look->small;
}
