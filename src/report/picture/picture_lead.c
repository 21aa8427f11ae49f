/* Lead of the field over the rotor, all 36 wirings: see the header. */
#include "report/picture/picture_lead.h"

#include "report/picture/dial.h"
#include "report/picture/picture_parts.h"
#include "report/words/explain.h"

#include <math.h>
#include <stdio.h>

#define CELL_HEIGHT 134.0 /* [units] with a verdict */
#define BARE_HEIGHT 108.0 /* ... without */
#define BAND        26.0
#define SMALL_DIAL  40.0
#define KEY_DIAL    62.0
#define KEY_HEIGHT  200.0

typedef struct lead {
    const hp_drive *drive;
    const hp_survey *survey; /* may be NULL */
    const hp_labels *labels;
    char title[200];
} lead;

static const char subtitle[] = "How far the field stands ahead of the rotor in each sector of its "
                               "turn: one arc a sector.";

static const char *const caption[] = {
    "Smooth: all arcs lie on one another in the grey zone, 60\u00b0 to 120\u00b0 ahead (above) or "
    "behind (below). The pull never fades.",
    "Rough: all arcs on one side of the level line, but beside the zone. The pull fades to nothing "
    "once in every sector.",
    "Locked: arcs above and below. The pull changes its sense, and the rotor shuffles to a place "
    "where it rests.",
    "The arcs follow from the controller's table, the sensors and the joints alone.",
};
#define CAPTION_COUNT 4
static const char verdicts_note[] =
    "The words are the verdicts of the simulation, which never looks at the joints.";

static void draw_cell(const hp_canvas *canvas, const lead *lead, hp_box cell, int number)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    hp_wiring wiring = hp_wiring_from_number(number);
    int count = hp_lead_sectors(&lead->drive->controller.table, &lead->drive->sensors,
                                &lead->drive->motor.backemf, &wiring, sector);
    hp_box box = {cell.left + 1.5, cell.top + 1.5, cell.right - 1.5, cell.bottom - 1.5};
    hp_dial dial = {.x = 0.5 * (box.left + box.right),
                    .y = box.bottom - 5.0 - SMALL_DIAL,
                    .inner = 10.0,
                    .outer = SMALL_DIAL,
                    .gap = 1.2};
    hp_type small = {HP_PICTURE_SMALL, HP_INK_DARK, HP_ALIGN_LEFT, true};
    char text[16];
    hp_ink ink = HP_INK_GREY;
    if (lead->survey) {
        const hp_judgement *judgement = &lead->survey->judgement[number - 1];
        hp_box band = {box.left, box.top, box.right, box.top + BAND};
        ink = hp_verdict_ink(judgement->verdict);
        hp_verdict_badge(canvas, band, HP_PICTURE_SMALL, judgement->verdict, judgement->direction);
    }
    hp_pen_frame(canvas, box, ink, 1.5);
    hp_dial_ground(canvas, &dial);
    hp_dial_arcs(canvas, &dial, sector, count);
    snprintf(text, sizeof text, "%d", number);
    hp_pen_text(canvas, box.left + 4.0, dial.y - SMALL_DIAL - 6.0, small, text);
}

/* The dial's scale and what the two inks mean, at `top`. */
static void draw_key(const hp_canvas *canvas, double top)
{
    hp_dial dial = {.x = 210.0, .y = top + 0.5 * KEY_HEIGHT, .outer = KEY_DIAL};
    double r = dial.outer, x = dial.x, y = dial.y;
    hp_type left = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    hp_type right = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_RIGHT, false};
    hp_type middle = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, false};
    hp_dial_ground(canvas, &dial);
    hp_pen_text(canvas, x, y - r - 14.0, middle, "90\u00b0 ahead: best");
    hp_pen_text(canvas, x, y + r + 14.0, middle, "90\u00b0 behind");
    hp_pen_text(canvas, x + r + 8.0, y, left, "0\u00b0 no pull");
    hp_pen_text(canvas, x - r - 8.0, y, right, "180\u00b0 no pull");
    hp_pen_arrow(canvas, x, y, x + 0.75 * r, y, HP_INK_DARK, 3.0);
    hp_pen_text(canvas, x - 24.0, y - 12.0, middle, "rotor");
    hp_dial_key(canvas, 430.0, y - 36.0, 0.0, 36.0);
}

static double draw_foot(const hp_canvas *canvas, double y, const lead *lead)
{
    const char *const note[] = {verdicts_note};
    const char *fault = hp_open_lead_note(&lead->drive->motor);
    y = hp_grid_note(canvas, y + 10.0, lead->labels);
    if (canvas)
        draw_key(canvas, y);
    y = hp_picture_caption(canvas, y + KEY_HEIGHT + 10.0, caption, CAPTION_COUNT);
    if (fault)
        y = hp_picture_caption(canvas, y, &fault, 1);
    if (lead->survey)
        y = hp_picture_caption(canvas, y, note, 1);
    return y + 8.0;
}

static void paint(const hp_canvas *canvas, const void *data)
{
    const lead *lead = data;
    hp_grid grid = hp_grid_make(hp_picture_heading(canvas, lead->title, subtitle),
                                lead->survey ? CELL_HEIGHT : BARE_HEIGHT);
    hp_grid_heads(canvas, &grid, lead->labels);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        draw_cell(canvas, lead, hp_grid_cell(&grid, n), n);
    draw_foot(canvas, hp_grid_bottom(&grid), lead);
}

hp_result hp_picture_lead_draw(const char *path, hp_picture_format format, const hp_drive *drive,
                               const hp_survey *survey, const hp_labels *labels, hp_error *err)
{
    lead lead = {.drive = drive, .survey = survey, .labels = labels};
    snprintf(lead.title, sizeof lead.title, "Where the field stands%s%s",
             labels->machine[0] ? ": " : "", labels->machine);
    hp_grid grid = hp_grid_make(hp_picture_heading_height(lead.title, subtitle),
                                survey ? CELL_HEIGHT : BARE_HEIGHT);
    hp_paper page = {.width = HP_PICTURE_WIDTH,
                     .height = draw_foot(NULL, hp_grid_bottom(&grid), &lead),
                     .title = lead.title};
    return hp_canvas_draw(path, format, &page, paint, &lead, err);
}
