/* Which lead goes where: see the header. */
#include "report/picture/joints_board.h"

#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

const char hp_fuse_note[] = "A fuse close to the battery, in the plus lead.";

/* The controller's own end: its name, or output U where it has none. */
static void end_name(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what, int k,
                     char *out, size_t size)
{
    char letter[2] = {hp_phase_letter(k), '\0'};
    if (label[k][0] && !(label[k][0] == letter[0] && !label[k][1]))
        snprintf(out, size, "%s (%s %s)", label[k], what, letter);
    else
        snprintf(out, size, "%s %s", what, letter);
}

static void add_joints(hp_board *board, const char motor[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const char controller[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what,
                       const int *to, bool thick)
{
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char end[HP_BOARD_TEXT];
        end_name(controller, what, j, end, sizeof end);
        hp_board_row *row =
            hp_board_add(board, to ? hp_picture_label(motor[to[j]], to[j]) : "........", end);
        row->thick = thick;
        row->joint = true;
    }
}

void hp_joints_add_phases(hp_board *board, const hp_labels *labels, const hp_wiring *wiring)
{
    hp_board_group_add(board, "CONTROLLER: phase outputs", "");
    add_joints(board, labels->motor_lead, labels->controller_output, "output",
               wiring ? wiring->phase : NULL, true);
}

void hp_joints_add_halls(hp_board *board, const hp_labels *labels, const hp_wiring *wiring)
{
    hp_board_group_add(board, "CONTROLLER: Hall plug", "");
    add_joints(board, labels->motor_sensor, labels->controller_input, "input",
               wiring ? wiring->sensor : NULL, false);
    hp_board_add(board, "Hall plus", "supply plus (+)")->joint = true;
    hp_board_add(board, "Hall minus", "supply minus (\u2212)")->joint = true;
}

hp_board hp_joints_board(const hp_labels *labels, const hp_wiring *wiring)
{
    hp_board board = hp_board_begin("MOTOR");
    hp_joints_add_phases(&board, labels, wiring);
    hp_joints_add_halls(&board, labels, wiring);
    return board;
}

hp_board hp_power_board(const char *source, const char *note, bool ammeter)
{
    hp_board board = hp_board_begin(source);
    hp_board_group_add(&board, "CONTROLLER: thick pair", note);
    hp_board_row *plus =
        hp_board_add(&board, "red (+)", ammeter ? "plus (+): fuse, meter" : "plus (+): fuse");
    plus->thick = plus->fuse = true;
    plus->ammeter = ammeter;
    hp_board_add(&board, "black (\u2212)", "minus (\u2212)")->thick = true;
    return board;
}

void hp_power_board_without_fuse(hp_board *board)
{
    board->row[0].fuse = false;
    snprintf(board->row[0].right, sizeof board->row[0].right, "plus (+): NO FUSE");
}

double hp_harness_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                       double width, const hp_harness *harness)
{
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type plain = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double row = (look->body > look->small ? 1.4 : 1.2) * look->small, line = 2.2 * look->small,
           gap = 0.5 * look->small;
    for (int p = 0; p < harness->parts; p++) {
        const hp_harness_part *part = &harness->part[p];
        hp_pen_text_cut(canvas, left, y + 0.5 * row, width, bold, part->name);
        y += row;
        for (int k = 0; k < part->leads; k++, y += row) {
            char text[2 * HP_LABEL_SIZE + 4];
            const hp_harness_lead *lead = &part->lead[k];
            double middle = y + 0.5 * row;
            snprintf(text, sizeof text, "%s%s%s", lead->colour, lead->colour[0] ? ": " : "",
                     lead->function);
            hp_lead_line_wide(canvas, left + gap, middle, left + gap + line, middle, lead->colour,
                              0.26 * look->small);
            hp_pen_text_cut(canvas, left + line + 2.0 * gap, middle, width - line - 2.0 * gap,
                            plain, text);
        }
        if (part->leads == 0 && part->note[0])
            y = hp_pen_paragraph(canvas, left + gap, y, width - gap, plain, part->note);
        y += 0.3 * row;
    }
    return y;
}

double hp_joints_panel_draw(const hp_canvas *canvas, const hp_look *look, double left, double y,
                            double width, const hp_labels *labels, const hp_wiring *wiring,
                            const hp_harness *harness)
{
    hp_board joints = hp_joints_board(labels, wiring);
    hp_board power = hp_power_board("BATTERY", hp_fuse_note, false);
    y = hp_board_draw(canvas, look, left, y, width, &joints);
    y = hp_board_draw(canvas, look, left, y, width, &power);
    return harness ? hp_harness_draw(canvas, look, left, y, width, harness) : y;
}
