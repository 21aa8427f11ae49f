/*
 * Which lead goes where in one wiring, in the leads' own colours.
 */
#include "hubphase/base/text.h"
#include "report/picture/joints_board.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

typedef struct joints {
    const hp_picture_subject *subject;
    hp_wiring wiring;
    char title[200];
    char subtitle[200];
} joints;

static void put_words(hp_flow *flow, const hp_picture_subject *subject)
{
    hp_flow_only_names(flow, subject);
    hp_flow_bold(flow, "Battery off, capacitors discharged, wheel lifted before a lead is moved.");
    hp_flow_paragraph(flow,
                      "The black dot is the joint: left of it the motor's lead, right of it the "
                      "controller's. Thick lines: phase leads; thin ones: Hall leads.");
}

/* Part by part; those for which a page has no room are named, so that nobody takes them for none.
 */
static void put_harness(hp_flow *flow, const hp_harness *harness)
{
    double line = hp_look_line(flow->look->small), all = flow->bottom;
    char text[HP_HARNESS_PARTS * (HP_LABEL_SIZE + 2) + 80];
    hp_phrase left_out = hp_phrase_begin(text, sizeof text);
    hp_flow_bold(flow, "The rest of the harness");
    if (hp_harness_draw(NULL, flow->look, flow->left, flow->y, flow->width, harness) > all)
        flow->bottom -= 2.0 * line; /* for their names */
    for (int k = 0; k < harness->parts; k++) {
        hp_harness one = {.part = {harness->part[k]}, .parts = 1};
        double height = hp_harness_draw(NULL, flow->look, flow->left, 0.0, flow->width, &one);
        if (hp_flow_fits(flow, height))
            flow->y =
                hp_harness_draw(flow->canvas, flow->look, flow->left, flow->y, flow->width, &one);
        else
            hp_phrase_add(&left_out, "%s%s",
                          left_out.used ? ", " : "On the wiring sheet: ", harness->part[k].name);
    }
    if (!left_out.used)
        return;
    hp_type small = hp_look_small(flow->look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_pen_text_cut(flow->canvas, flow->left, flow->y + 0.7 * line, flow->width, small, text);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const joints *j = data;
    const hp_labels *labels = j->subject->labels;
    const hp_harness *harness = j->subject->harness;
    double top = hp_picture_heading(canvas, look, j->title, j->subtitle);
    hp_room room = hp_look_room(look, top, 0.0, 0.6);
    bool wall = look->shape == HP_SHAPE_WALL;
    double width = room.plot.right - room.plot.left;
    double y =
        hp_joints_panel_draw(canvas, look, room.plot.left, top, width, labels, &j->wiring, NULL);
    if (!wall)
        room.words.top = y;
    /* On the wall the words stand below the board, and the harness has the column beside it. */
    if (wall)
        room.plot.top = y;
    hp_flow flow = hp_flow_begin(canvas, look, wall ? room.plot : room.words);
    put_words(&flow, j->subject);
    if (harness && harness->parts > 0) {
        hp_flow beside = hp_flow_begin(canvas, look, room.words);
        put_harness(wall ? &beside : &flow, harness);
        flow.full = flow.full || beside.full;
    }
    return hp_picture_end(look, &flow);
}

static hp_result draw_joints(const hp_picture_subject *subject, const hp_picture_target *to,
                             hp_error *err)
{
    joints j = {.subject = subject, .wiring = hp_wiring_from_number(subject->number)};
    char verdict[60] = "";
    if (subject->judgement)
        hp_verdict_words(subject->judgement, verdict, sizeof verdict);
    snprintf(j.title, sizeof j.title, "Which lead goes where: wiring %d%s%s", subject->number,
             verdict[0] ? ", " : "", verdict);
    snprintf(j.subtitle, sizeof j.subtitle, "%s", subject->labels->machine);
    return hp_picture_put(to, j.title, draw, &j, err);
}

const hp_picture hp_picture_joints = {
    .name = "joints",
    .question = "Which lead do I join to which?",
    .makers = HP_MAKER_EXPLAIN | HP_MAKER_NEXT,
    .needs = HP_NEEDS_NUMBER,
    .draw = draw_joints,
};
