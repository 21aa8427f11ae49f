/*
 * Lead of the field over the rotor: a dial for each of the 36 wirings.
 *
 * Geometry alone, from table, sensors and joints. The verdicts beside it come from the simulation
 * and are drawn as given; without a survey they are left out.
 */
#include "report/picture/dial.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/words/explain.h"
#include "report/words/fault_words.h"

#include <math.h>
#include <stdio.h>

#define WALL_SHARE 0.61

typedef struct lead {
    const hp_picture_subject *subject;
    char title[200];
    bool gaps; /* some code drives nothing */
    bool open; /* some lead is open */
} lead;

static const char subtitle[] = "How far the field stands ahead of the rotor in each step of its "
                               "turn: one arc a step.";

static int sectors_of(const hp_drive *drive, int number, hp_lead_sector *sector)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    return hp_drive_sectors(drive, &wiring, sector);
}

static void draw_cell(const hp_canvas *canvas, const hp_look *look, const lead *lead, hp_box cell,
                      int number)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    const hp_survey *survey = lead->subject->survey;
    int count = sectors_of(lead->subject->drive, number, sector);
    hp_box box = {cell.left + 1.0, cell.top + 1.0, cell.right - 1.0, cell.bottom - 1.0};
    double band = survey ? 1.25 * look->small : 0.0;
    /* The number stands beside the dial, or above it where the square is narrow. */
    double high = box.bottom - box.top - band, wide = box.right - box.left;
    bool beside = wide >= high + 1.4 * look->small;
    double radius = fmin(0.5 * (high - (beside ? 0.0 : 1.1 * look->small)) - 3.0, 0.5 * wide - 3.0);
    hp_dial dial = {.x = beside ? box.right - 4.0 - radius : 0.5 * (box.left + box.right),
                    .y = box.bottom - 3.0 - radius,
                    .inner = 0.25 * radius,
                    .outer = radius,
                    .gap = 0.03 * radius};
    hp_type small = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    char text[16];
    hp_ink ink = HP_INK_GREY;
    bool correct = false;
    if (survey) {
        const hp_judgement *j = &survey->judgement[number - 1];
        hp_box top = {box.left, box.top, box.right, box.top + band};
        ink = hp_verdict_ink(j->verdict);
        correct = j->verdict == HP_VERDICT_CORRECT;
        hp_verdict_badge(canvas, top, look->small, j->verdict, j->direction);
    }
    hp_pen_frame(canvas, box, ink, 1.5);
    if (correct)
        hp_pen_frame(canvas, box, HP_INK_BLACK, 0.2 * look->small);
    hp_dial_ground(canvas, &dial);
    hp_dial_arcs(canvas, &dial, sector, count);
    snprintf(text, sizeof text, "%d", number);
    hp_pen_text(canvas, box.left + 0.3 * look->small, box.top + band + 0.6 * look->small, small,
                text);
}

/* The dial's scale at the left, what the inks mean at the right or, in a narrow flow, below. */
static void put_key(hp_flow *flow, const lead *lead)
{
    const hp_look *look = flow->look;
    double line = hp_look_line(look->small), r = 2.6 * look->small;
    double dial_height = 2.0 * r + 2.2 * line, rows = (lead->open ? 4.0 : 3.0) * line;
    double side = 5.6 * look->small, wide = 2.0 * (r + side);
    bool beside = flow->width >= wide + 11.0 * look->small;
    double height = beside ? fmax(dial_height, rows) : dial_height + rows;
    if (!hp_flow_fits(flow, height))
        return;
    hp_dial dial = {.x = flow->left + side + r, .y = flow->y + line + r, .outer = r};
    double x = dial.x, y = dial.y;
    hp_type left = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    hp_type right = left, middle = left;
    right.align = HP_ALIGN_RIGHT;
    middle.align = HP_ALIGN_CENTRE;
    hp_dial_ground(flow->canvas, &dial);
    hp_pen_text(flow->canvas, x, y - r - 0.6 * line, middle, "90\u00b0 ahead: best");
    hp_pen_text(flow->canvas, x, y + r + 0.6 * line, middle, "90\u00b0 behind");
    hp_pen_text(flow->canvas, x + r + 6.0, y - 0.3 * line, left, "0\u00b0");
    hp_pen_text(flow->canvas, x + r + 6.0, y + 0.5 * line, left, "no pull");
    hp_pen_text(flow->canvas, x - r - 6.0, y - 0.3 * line, right, "180\u00b0");
    hp_pen_text(flow->canvas, x - r - 6.0, y + 0.5 * line, right, "no pull");
    hp_pen_arrow(flow->canvas, x, y, x + 0.75 * r, y, HP_INK_DARK, 3.0);
    hp_pen_text(flow->canvas, x - 0.1 * r, y - 0.55 * line, middle, "rotor");
    double key_y = beside ? y - 0.5 * rows : flow->y + dial_height;
    hp_dial_key(flow->canvas, look, beside ? flow->left + wide : flow->left, key_y, lead->open);
    flow->y += height + 0.4 * look->body;
}

/* Arcs above and below: such a rotor stalls, or shuffles, which behind a clutch moves the wheel. */
static void put_changing(hp_flow *flow, const lead *lead)
{
    const hp_picture_subject *s = lead->subject;
    int rough = 0, stalled = 0;
    for (int n = 1; s->survey && n <= HP_WIRING_COUNT; n++) {
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count = sectors_of(s->drive, n, sector);
        if (hp_pull_sum_make(sector, count).pull != HP_PULL_CHANGING)
            continue;
        rough += s->survey->judgement[n - 1].verdict == HP_VERDICT_ROUGH;
        stalled += s->survey->judgement[n - 1].verdict == HP_VERDICT_STALLED;
    }
    if (rough == 0)
        hp_flow_paragraph(flow, "Stalled: arcs above and below. The pull changes sides, and the "
                                "rotor shuffles to a place where it rests.");
    else
        hp_flow_paragraph(flow, stalled > 0 ? "Stalled or rough: arcs above and below. The pull "
                                              "changes sides, and the rotor shuffles to and fro."
                                            : "Also rough: arcs above and below. The pull changes "
                                              "sides, and the rotor shuffles to and fro.");
}

static void put_words(hp_flow *flow, const lead *lead)
{
    char fault[HP_FAULT_WORDS], text[HP_FAULT_WORDS + 240];
    const hp_picture_subject *s = lead->subject;
    hp_fault_words(s->drive, s->labels, fault, sizeof fault);
    put_key(flow, lead);
    if (fault[0]) {
        snprintf(text, sizeof text, "Faulty: %s.%s", fault,
                 lead->open ? " Empty arcs carry no current until it is mended; the other arcs "
                              "alone turn the rotor."
                            : "");
        hp_flow_bold(flow, text);
    }
    if (lead->gaps)
        hp_flow_paragraph(flow, "Fewer than six arcs: for the missing ones the controller's table "
                                "lacks the code, and nothing is driven there.");
    /* What the shapes mean holds for good parts only. */
    if (fault[0] || lead->gaps) {
        hp_flow_paragraph(flow, "With good parts all six arcs of a correct wiring lie in the grey "
                                "zone above, 60\u00b0 to 120\u00b0 ahead.");
    } else {
        hp_flow_paragraph(flow,
                          "Correct: all arcs lie in the grey zone above, 60\u00b0 to 120\u00b0 "
                          "ahead. Reverse: in the one below.");
        hp_flow_paragraph(flow, "Rough: all arcs on one side, but beside the zone. The pull drops "
                                "to nothing once a step.");
        put_changing(flow, lead);
    }
    if (flow->look->shape != HP_SHAPE_WALL)
        hp_flow_grid_note(flow, s->labels);
    if (s->survey)
        hp_flow_paragraph(flow, "Arcs follow from table, sensors and joints. The words are the "
                                "simulation's verdicts, which never look at those.");
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const lead *lead = data;
    double top = hp_picture_heading(canvas, look, lead->title, subtitle);
    hp_room room = hp_grid_room(canvas, look, top, WALL_SHARE, lead->subject->labels, false);
    bool wall = look->shape == HP_SHAPE_WALL;
    double cell = (lead->subject->survey ? 1.3 : 0.2) * look->small + 5.2 * look->small;
    hp_grid grid = hp_grid_make(look, lead->subject->labels, room.plot.left, room.plot.right, top,
                                wall ? room.plot.bottom : (double)INFINITY, cell);
    hp_grid_heads(canvas, &grid, lead->subject->labels);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        draw_cell(canvas, look, lead, hp_grid_cell(&grid, n), n);
    if (!wall)
        room.words.top = hp_grid_bottom(&grid) + 0.6 * look->gap;
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, lead);
    return hp_picture_end(look, &flow);
}

static hp_result draw_lead_angles(const hp_picture_subject *subject, const hp_picture_target *to,
                                  hp_error *err)
{
    lead lead = {.subject = subject, .gaps = hp_codes_missing(subject->drive)};
    const char *machine = subject->labels->machine;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        lead.open = lead.open || subject->drive->motor.lead_open[k];
    snprintf(lead.title, sizeof lead.title, "Where the field stands%s%s", machine[0] ? ": " : "",
             machine);
    return hp_picture_put(to, lead.title, draw, &lead, err);
}

const hp_picture hp_picture_lead_angles = {
    .name = "lead-angles",
    .question = "Where does the field stand in each wiring, and why is it rough or stalled?",
    .makers = HP_MAKER_SURVEY,
    .draw = draw_lead_angles,
};
