/*
 * Which lead goes where in one wiring, in the leads' own colours.
 */
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

static void put_words(hp_flow *flow, const joints *j)
{
    (void)j;
    hp_flow_bold(flow, "Battery off, capacitors discharged, wheel lifted before a lead is moved.");
    hp_flow_paragraph(flow,
                      "The black dot is the joint: left of it the motor's lead, right of it the "
                      "controller's. Thick lines: phase leads; thin ones: Hall leads.");
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
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, j);
    if (!harness || harness->parts == 0)
        return hp_picture_end(look, &flow);
    hp_flow_bold(&flow, "The rest of the harness");
    /* Part by part, as many as the page holds. */
    for (int k = 0; k < harness->parts; k++) {
        hp_harness one = {.part = {harness->part[k]}, .parts = 1};
        double height = hp_harness_draw(NULL, look, flow.left, 0.0, flow.width, &one);
        if (hp_flow_fits(&flow, height))
            flow.y = hp_harness_draw(canvas, look, flow.left, flow.y, flow.width, &one);
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
