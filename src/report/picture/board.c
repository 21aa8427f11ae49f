/* A board of leads: see the header. */
#include "report/picture/board.h"

#include "report/picture/lead_colour.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Shares of the width: names of the part's leads, the leads, what they go to. */
#define NAME_SHARE 0.28
#define LINE_SHARE 0.22

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

static void draw_row(const hp_canvas *canvas, const hp_look *look, const columns *c, double y,
                     const hp_board_row *row)
{
    double pad = 0.4 * look->small, width = (row->thick ? 0.42 : 0.24) * look->small;
    double from = c->name_end + pad, to = row->free ? c->line_end - 2.5 * look->small : c->line_end;
    double middle = row->joint ? 0.5 * (from + to) : to;
    hp_type name = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_RIGHT, true);
    hp_type place = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, row->joint);
    hp_pen_text_cut(canvas, c->name_end - pad, y, c->name_end - c->left - 2.0 * pad, name,
                    row->left);
    hp_lead_line_wide(canvas, from, y, middle, y, row->left, width);
    if (row->joint) {
        hp_lead_line_wide(canvas, middle, y, to, y, row->right, width);
        hp_pen_disc(canvas, middle, y, 0.34 * look->small, HP_INK_BLACK);
    } else {
        hp_pen_disc(canvas, to, y, 0.26 * look->small, HP_INK_BLACK);
        if (row->free)
            hp_pen_disc(canvas, to, y, 0.16 * look->small, HP_INK_WHITE);
    }
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

double hp_board_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                     double width, const hp_board *board)
{
    columns c = {.left = left,
                 .name_end = left + NAME_SHARE * width,
                 .line_end = left + (NAME_SHARE + LINE_SHARE) * width,
                 .right = left + width};
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
