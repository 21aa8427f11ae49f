/* The work sheet: eight wirings to predict, and to check. See handout.h. */
#include "report/handout/handout_draw.h"
#include "report/handout/handout_page.h"

#include <stdio.h>

/* [units from the left edge] columns of the table */
#define OUTPUTS 40.0
#define INPUTS  248.0
#define LEAD    68.0 /* of one lead */
#define PREDICT 446.0
#define TICK    104.0
#define SEEN    662.0
#define ROW     74.0

static double column(double offset)
{
    return HP_HANDOUT_LEFT + offset;
}

static void put_leads(const hp_canvas *canvas, double y, const hp_labels *labels, int number)
{
    hp_wiring w = hp_wiring_from_number(number);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        hp_handout_lead(canvas, column(OUTPUTS + LEAD * j), y, LEAD - 10.0, labels->motor_lead,
                        w.phase[j]);
        hp_handout_lead(canvas, column(INPUTS + LEAD * j), y, LEAD - 10.0, labels->motor_sensor,
                        w.sensor[j]);
    }
}

/* A terminal's letter, and below it its own name, which has the whole width. */
static void put_terminal(const hp_canvas *canvas, double x, double y,
                         const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int terminal)
{
    hp_type plain = hp_handout_small(HP_ALIGN_LEFT, false);
    char letter[2] = {hp_phase_letter(terminal), '\0'};
    hp_pen_text(canvas, x, y, hp_handout_small(HP_ALIGN_LEFT, true), letter);
    if (label[terminal][0])
        hp_pen_text_cut(canvas, x, y + 16.0, LEAD - 8.0, plain, label[terminal]);
}

static double put_table_head(const hp_canvas *canvas, double y, const hp_labels *labels,
                             bool clutch)
{
    hp_type bold = hp_handout_small(HP_ALIGN_LEFT, true);
    hp_type plain = hp_handout_small(HP_ALIGN_LEFT, false);
    hp_pen_text(canvas, column(OUTPUTS), y + 9.0, bold, "Phase lead at output");
    hp_pen_text(canvas, column(INPUTS), y + 9.0, bold, "Hall lead at input");
    hp_pen_text(canvas, column(PREDICT), y + 9.0, bold,
                clutch ? "The motor will" : "The wheel will");
    hp_pen_text(canvas, column(SEEN), y + 9.0, bold, "It did");
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        put_terminal(canvas, column(OUTPUTS + LEAD * j), y + 25.0, labels->controller_output, j);
        put_terminal(canvas, column(INPUTS + LEAD * j), y + 25.0, labels->controller_input, j);
    }
    hp_pen_text(canvas, column(PREDICT), y + 27.0, plain, "tick one");
    hp_pen_text(canvas, column(SEEN), y + 27.0, plain, "and drew");
    hp_pen_line(canvas, column(0.0), y + 51.0, HP_HANDOUT_RIGHT, y + 51.0, HP_INK_BLACK, 1.5);
    return y + 53.0;
}

static void rule(const hp_canvas *canvas, double y)
{
    hp_pen_line(canvas, column(0.0), y, HP_HANDOUT_RIGHT, y, HP_INK_RULE, 1.0);
}

static double put_given(const hp_canvas *canvas, double y, const hp_labels *labels, int number)
{
    char name[40];
    snprintf(name, sizeof name, "wiring %d, correct:", number);
    put_leads(canvas, y + 0.5 * ROW, labels, number);
    hp_pen_text(canvas, column(PREDICT), y + 0.5 * ROW - 9.0, hp_handout_small(HP_ALIGN_LEFT, true),
                name);
    hp_pen_text(canvas, column(PREDICT), y + 0.5 * ROW + 9.0,
                hp_handout_small(HP_ALIGN_LEFT, false), "forward, smooth, few amperes");
    hp_pen_line(canvas, column(0.0), y + ROW, HP_HANDOUT_RIGHT, y + ROW, HP_INK_BLACK, 1.5);
    return y + ROW + 1.0;
}

static double put_row(const hp_canvas *canvas, double y, int k, const hp_labels *labels, int number)
{
    static const char *const will[] = {"run forward", "run backward", "run rough", "not turn"};
    char name[24];
    hp_type large = {22.0, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    double middle = y + 0.5 * ROW;
    snprintf(name, sizeof name, "%d", k + 1);
    hp_pen_text(canvas, column(6.0), middle, large, name);
    /* By which the wall calls it. */
    snprintf(name, sizeof name, "wiring %d", number);
    hp_pen_text(canvas, column(0.0), y + ROW - 10.0, hp_handout_small(HP_ALIGN_LEFT, false), name);
    put_leads(canvas, middle, labels, number);
    for (int n = 0; n < 4; n++)
        hp_handout_tick(canvas, column(PREDICT + TICK * (n % 2)), middle + (n < 2 ? -13.0 : 13.0),
                        will[n]);
    hp_pen_dots(canvas, column(SEEN), HP_HANDOUT_RIGHT, middle - 4.0);
    hp_pen_dots(canvas, column(SEEN), HP_HANDOUT_RIGHT - 20.0, middle + 24.0);
    hp_pen_text(canvas, HP_HANDOUT_RIGHT, middle + 20.0, hp_handout_small(HP_ALIGN_RIGHT, false),
                "A");
    rule(canvas, y + ROW);
    return y + ROW;
}

static double put_after(const hp_canvas *canvas, double y)
{
    y = hp_handout_say(canvas, y + 8.0, hp_handout_body(false),
                       "Now check: the leader joins each of them on the wall, by the wiring's "
                       "number (scene 6). Write what it did "
                       "and what it drew. Which guess was furthest out, and what had you thought?");
    for (int k = 1; k <= 3; k++)
        hp_pen_dots(canvas, column(0.0), HP_HANDOUT_RIGHT, y + 26.0 * k);
    return y + 84.0;
}

static void paint(const hp_canvas *canvas, const hp_handout_job *job)
{
    int number[HP_HANDOUT_WIRINGS];
    const hp_handout_source *source = job->source;
    const hp_labels *labels = source->subject.labels;
    int given = hp_handout_given(source);
    bool clutch = source->subject.drive->stand.clutch;
    hp_handout_draw_wirings(source->survey, given, source->seed, job->group, number);
    double y = hp_handout_head(canvas, job, true);
    y = hp_handout_say(
        canvas, y, hp_handout_body(false),
        "Each line says which of the motor's leads is joined to each output and input of the "
        "controller. The first line is correct. Eight others follow. For each, before anybody "
        "shows you: what will it do? Help: count the leads that sit elsewhere than in the "
        "correct line, first at the outputs, then at the inputs: none, two or all three?");
    if (!labels->axes_known)
        y = hp_handout_say(canvas, y, hp_handout_body(false),
                           "On this machine nobody has measured yet which lead sits where. The "
                           "sheet takes them in the order in which they were listed.");
    if (clutch)
        y = hp_handout_say(canvas, y, hp_handout_body(false),
                           "This hub has a one-way clutch: where the motor runs backward, it turns "
                           "inside the hub and the wheel stands. Say what the motor does.");
    y = put_table_head(canvas, y, labels, clutch);
    y = put_given(canvas, y, labels, given);
    for (int k = 0; k < HP_HANDOUT_WIRINGS && number[k]; k++)
        y = put_row(canvas, y, k, labels, number[k]);
    put_after(canvas, y);
}

const hp_handout hp_handout_worksheet = {
    .name = "work-sheet", .title = "What will it do?", .by_group = true, .paint = paint};
