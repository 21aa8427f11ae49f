/* Lead of the field over the rotor, one wiring: declared in picture_lead.h. */
#include "report/picture/dial.h"
#include "report/picture/picture_lead.h"
#include "report/picture/picture_parts.h"
#include "report/words/explain.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define DIAL_RADIUS 220.0 /* [units] */
#define DIAL_HEIGHT (2.0 * DIAL_RADIUS + 80.0)
#define KEY_HEIGHT  44.0
#define ROW         30.0
#define COLUMNS     5

typedef struct one {
    const hp_labels *labels;
    const hp_judgement *judgement; /* may be NULL */
    const char *fault;             /* what the arcs do not show; may be NULL */
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count;
    char title[200];
    char joints[20 * HP_LABEL_SIZE];
} one;

static const double column[COLUMNS] = {38.0, 140.0, 250.0, 425.0, 628.0}; /* centres */
static const double column_width[COLUMNS] = {50.0, 150.0, 66.0, 260.0, 150.0};

/* What the arcs say, by how the pull behaves over the turn. */
static const char *pull_words(hp_pull pull)
{
    switch (pull) {
    case HP_PULL_STEADY:
        return "All arcs keep to the grey zone: the pull has one sense and never fades. Smooth.";
    case HP_PULL_FADING:
        return "The pull has one sense, but it fades or fails in every sector. Rough: much of the "
               "current makes heat, and not torque.";
    case HP_PULL_CHANGING:
        return "The pull changes its sense as the rotor turns. The rotor is held, shuffles or "
               "shivers about a place where it rests.";
    default: return "No pair of leads is ever driven: the controller's table lacks these codes.";
    }
}

/* Number of the arc, at its forward end, on a white disc. */
static void draw_numbers(const hp_canvas *canvas, const hp_dial *dial, const one *one)
{
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, true};
    for (int k = 0; k < one->count; k++) {
        const hp_lead_sector *s = &one->sector[k];
        char text[16];
        if (s->high < 0)
            continue;
        double middle = 0.5 * (s->lead_from + s->lead_to);
        double radius = hp_dial_radius(dial, k, one->count);
        double x = dial->x + radius * cos(middle), y = dial->y - radius * sin(middle);
        snprintf(text, sizeof text, "%d", k + 1);
        hp_pen_disc(canvas, x, y, 11.0, HP_INK_WHITE);
        hp_pen_text(canvas, x, y, type, text);
    }
}

static void draw_scale(const hp_canvas *canvas, const hp_dial *dial)
{
    for (int degrees = -150; degrees <= 180; degrees += 30) {
        double angle = degrees * HP_DEG, r = dial->outer;
        char text[16];
        hp_align align = fabs(cos(angle)) < 0.1 ? HP_ALIGN_CENTRE
                         : cos(angle) > 0.0     ? HP_ALIGN_LEFT
                                                : HP_ALIGN_RIGHT;
        hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, align, degrees % 90 == 0};
        hp_pen_line(canvas, dial->x + r * cos(angle), dial->y - r * sin(angle),
                    dial->x + (r + 7.0) * cos(angle), dial->y - (r + 7.0) * sin(angle), HP_INK_GREY,
                    2.0);
        hp_picture_degrees(angle, text, sizeof text);
        hp_pen_text(canvas, dial->x + (r + 14.0) * cos(angle), dial->y - (r + 18.0) * sin(angle),
                    type, text);
    }
}

static void draw_dial(const hp_canvas *canvas, double top, const one *one)
{
    hp_dial dial = {.x = 0.5 * HP_PICTURE_WIDTH,
                    .y = top + 0.5 * DIAL_HEIGHT,
                    .inner = 62.0,
                    .outer = DIAL_RADIUS,
                    .gap = 5.0};
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_dial_ground(canvas, &dial);
    hp_pen_arrow(canvas, dial.x - 40.0, dial.y, dial.x + 48.0, dial.y, HP_INK_DARK, 6.0);
    hp_pen_text(canvas, dial.x - 30.0, dial.y + 18.0, type, "rotor");
    hp_dial_arcs(canvas, &dial, one->sector, one->count);
    draw_numbers(canvas, &dial, one);
    draw_scale(canvas, &dial);
    hp_dial_key(canvas, HP_PICTURE_MARGIN, dial.y + 0.5 * DIAL_HEIGHT + 14.0, 226.0, 0.0);
}

static void draw_row(const hp_canvas *canvas, double y, const one *one, int k)
{
    const hp_lead_sector *s = &one->sector[k];
    char text[COLUMNS][2 * HP_LABEL_SIZE + 16];
    double to = hp_angle_wrap(s->to);
    hp_type type = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, false};
    snprintf(text[0], sizeof text[0], "%d", k + 1);
    hp_picture_degrees_range(s->from, to < 1e-9 ? HP_TWO_PI : to, text[1], sizeof text[1]);
    snprintf(text[2], sizeof text[2], "%d%d%d", s->code >> 2 & 1, s->code >> 1 & 1, s->code & 1);
    if (s->high < 0) {
        snprintf(text[3], sizeof text[3], "nothing driven");
        text[4][0] = '\0';
    } else {
        hp_picture_pair(one->labels, s->high, s->low, type, column_width[3], text[3],
                        sizeof text[3]);
        hp_picture_degrees_range(s->lead_from, s->lead_to, text[4], sizeof text[4]);
    }
    for (int c = 0; c < COLUMNS; c++)
        hp_pen_text_fit(canvas, column[c], y, column_width[c], type, text[c]);
}

static double draw_table(const hp_canvas *canvas, double y, const one *one)
{
    static const char *const head[COLUMNS] = {"arc", "rotor at", "code", "motor leads driven",
                                              "field ahead"};
    hp_type bold = {HP_PICTURE_SMALL, HP_INK_BLACK, HP_ALIGN_CENTRE, true};
    if (canvas) {
        for (int c = 0; c < COLUMNS; c++)
            hp_pen_text_fit(canvas, column[c], y + 0.5 * ROW, column_width[c], bold, head[c]);
        hp_pen_line(canvas, HP_PICTURE_MARGIN, y + ROW, HP_PICTURE_WIDTH - HP_PICTURE_MARGIN,
                    y + ROW, HP_INK_GREY, 1.0);
        for (int k = 0; k < one->count; k++)
            draw_row(canvas, y + (k + 1.5) * ROW, one, k);
    }
    return y + (one->count + 1) * ROW + 12.0;
}

static double draw_foot(const hp_canvas *canvas, double y, const one *one)
{
    hp_pull_sum sum = hp_pull_sum_make(one->sector, one->count);
    const char *const words[] = {pull_words(sum.pull)};
    y = draw_table(canvas, y, one);
    y = hp_picture_caption(canvas, y, words, 1);
    if (one->fault)
        y = hp_picture_caption(canvas, y, &one->fault, 1);
    if (one->judgement) {
        char text[300];
        const char *const verdict[] = {text};
        snprintf(text, sizeof text, "The simulation's verdict: %s; %s.",
                 hp_verdict_name(one->judgement->verdict), one->judgement->reason);
        y = hp_picture_caption(canvas, y, verdict, 1);
    }
    return y + 8.0;
}

static void paint(const hp_canvas *canvas, const void *data)
{
    const one *one = data;
    double y = hp_picture_heading(canvas, one->title, one->joints);
    draw_dial(canvas, y, one);
    draw_foot(canvas, y + DIAL_HEIGHT + KEY_HEIGHT, one);
}

/* "U (blue) to yellow, ...": controller side to motor side. */
static void put_joints(const char side[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const char motor[HP_PHASE_COUNT][HP_LABEL_SIZE],
                       const int to[HP_PHASE_COUNT], char *out, size_t size)
{
    size_t used = 0;
    for (int j = 0; j < HP_PHASE_COUNT && used < size; j++) {
        char name[HP_LABEL_SIZE + 16];
        used += (size_t)snprintf(out + used, size - used, "%s%s to %s", j ? ", " : "",
                                 hp_lead_name(j, side[j], name, sizeof name),
                                 hp_picture_label(motor[to[j]], to[j]));
    }
}

static void describe_joints(const hp_wiring *w, const hp_labels *labels, char *text, size_t size)
{
    char sensors[8 * HP_LABEL_SIZE], phases[8 * HP_LABEL_SIZE];
    put_joints(labels->controller_input, labels->motor_sensor, w->sensor, sensors, sizeof sensors);
    put_joints(labels->controller_output, labels->motor_lead, w->phase, phases, sizeof phases);
    snprintf(text, size, "Controller to motor. Sensor leads: %s. Phase leads: %s.", sensors,
             phases);
}

/* Everything that the picture shows, and the page that it needs; the page's title is one's. */
static hp_paper prepare(one *one, const hp_drive *drive, const hp_wiring *wiring)
{
    one->count = hp_lead_sectors(&drive->controller.table, &drive->sensors, &drive->motor.backemf,
                                 wiring, one->sector);
    one->fault = hp_open_lead_note(&drive->motor);
    snprintf(one->title, sizeof one->title, "Where the field stands in wiring %d",
             hp_wiring_number(wiring));
    describe_joints(wiring, one->labels, one->joints, sizeof one->joints);
    double y = hp_picture_heading_height(one->title, one->joints) + DIAL_HEIGHT + KEY_HEIGHT;
    return (hp_paper){
        .width = HP_PICTURE_WIDTH, .height = draw_foot(NULL, y, one), .title = one->title};
}

hp_result hp_picture_lead_wiring_draw(const char *path, hp_picture_format format,
                                      const hp_drive *drive, const hp_wiring *wiring,
                                      const hp_judgement *judgement, const hp_labels *labels,
                                      hp_error *err)
{
    one one = {.labels = labels, .judgement = judgement};
    hp_paper page = prepare(&one, drive, wiring);
    return hp_canvas_draw(path, format, &page, paint, &one, err);
}

hp_result hp_picture_lead_wiring_render(const hp_drive *drive, const hp_wiring *wiring,
                                        const hp_judgement *judgement, const hp_labels *labels,
                                        char **svg, size_t *size, hp_error *err)
{
    one one = {.labels = labels, .judgement = judgement};
    hp_paper page = prepare(&one, drive, wiring);
    return hp_canvas_render(HP_PICTURE_SVG, &page, paint, &one, svg, size, err);
}
