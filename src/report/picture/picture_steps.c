/* The six steps of the table: see the header. */
#include "hubphase/report/pictures.h"

#include "model/lead.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

#define PANEL_WIDTH  (0.5 * (HP_PICTURE_WIDTH - 2.0 * HP_PICTURE_MARGIN))
#define PANEL_HEIGHT 360.0
#define RING         98.0 /* [units] radius of the stator */
#define COIL         23.0

typedef struct steps {
    const hp_labels *labels;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count;
    char title[200];
} steps;

static const char subtitle[] = "Rotor turning forward (anticlockwise here). Angles are electrical.";

static const char *const caption[] = {
    "Each panel: the controller reads the code of its sensor inputs U, V, W (dark: 1), looks it up "
    "in "
    "its table, and drives one motor lead high (+) and one low (\u2212). That pair makes a field "
    "(thick blue arrow). The rotor (grey needle, in the middle of its grey sector) is pulled "
    "towards "
    "it.",
    "A field about 90\u00b0 ahead pulls best. It stands still while the rotor turns through the "
    "sector; then the code changes and another pair is driven.",
};
#define CAPTION_COUNT 2

/* Angles are drawn from the top, so that lead U stands at twelve o'clock. */
static double shown(double angle)
{
    return angle + 0.5 * HP_PI;
}

/* The three leads on the stator: + and - where driven, empty where not. */
static void draw_coils(const hp_canvas *canvas, double x, double y, const hp_lead_sector *s)
{
    for (int lead = 0; lead < HP_PHASE_COUNT; lead++) {
        double angle = shown(hp_phase_axis(lead));
        double cx = x + RING * cos(angle), cy = y - RING * sin(angle);
        bool high = lead == s->high, low = lead == s->low;
        hp_type type = {HP_PICTURE_BODY, high || low ? HP_INK_WHITE : HP_INK_DARK, HP_ALIGN_CENTRE,
                        true};
        char text[8];
        snprintf(text, sizeof text, "%c%s", hp_phase_letter(lead),
                 high  ? "+"
                 : low ? "\u2212"
                       : "");
        hp_pen_disc(canvas, cx, cy, COIL, high || low ? HP_INK_BLACK : HP_INK_GREY);
        if (!high && !low)
            hp_pen_disc(canvas, cx, cy, COIL - 2.0, HP_INK_WHITE);
        hp_pen_text(canvas, cx, cy, type, text);
    }
}

static void draw_rotor(const hp_canvas *canvas, double x, double y, const hp_lead_sector *s)
{
    double r = RING - COIL - 6.0, middle = shown(0.5 * (s->from + s->to));
    double nx = -sin(middle), ny = -cos(middle), half = 8.0;
    hp_pen_ring(canvas, x, y, 0.0, r, shown(s->from), shown(s->to), HP_INK_RULE);
    double tip = r - 4.0, tail = 0.45 * r;
    double xs[] = {x + tip * cos(middle), x + half * nx, x - tail * cos(middle), x - half * nx};
    double ys[] = {y - tip * sin(middle), y + half * ny, y + tail * sin(middle), y - half * ny};
    hp_pen_polygon(canvas, xs, ys, 4, HP_INK_DARK);
    hp_pen_disc(canvas, x, y, 4.0, HP_INK_WHITE);
}

static void draw_field(const hp_canvas *canvas, double x, double y, const hp_lead_sector *s)
{
    double angle = shown(s->field), r = RING - COIL - 8.0;
    if (s->high < 0)
        return;
    hp_pen_arrow(canvas, x, y, x + r * cos(angle), y - r * sin(angle), HP_INK_BLUE, 7.0);
}

/* Three inputs as discs: dark for 1, empty for 0, the digit inside. */
static void draw_code(const hp_canvas *canvas, double x, double y, int code)
{
    hp_type name = {HP_PICTURE_SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};
    hp_pen_text(canvas, x, y, name, "code");
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int bit = code >> (2 - j) & 1;
        double cx = x + 68.0 + 30.0 * j;
        hp_type type = {HP_PICTURE_SMALL, bit ? HP_INK_WHITE : HP_INK_BLACK, HP_ALIGN_CENTRE, true};
        hp_pen_disc(canvas, cx, y, 13.0, HP_INK_DARK);
        if (!bit)
            hp_pen_disc(canvas, cx, y, 11.0, HP_INK_WHITE);
        hp_pen_text(canvas, cx, y, type, bit ? "1" : "0");
    }
}

static void draw_panel(const hp_canvas *canvas, double left, double top, const steps *steps, int k)
{
    const hp_lead_sector *s = &steps->sector[k];
    char text[2 * HP_LABEL_SIZE + 32], range[40];
    double x = left + 0.5 * PANEL_WIDTH, y = top + 40.0 + RING + COIL;
    hp_box box = {left + 3.0, top + 3.0, left + PANEL_WIDTH - 3.0, top + PANEL_HEIGHT - 3.0};
    hp_type bold = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type plain = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    double width = box.right - box.left - 24.0, to = hp_angle_wrap(s->to);
    hp_pen_frame(canvas, box, HP_INK_RULE, 1.5);
    snprintf(text, sizeof text, "%d. Rotor at %s", k + 1,
             hp_picture_degrees_range(s->from, to < 1e-9 ? HP_TWO_PI : to, range, sizeof range));
    hp_pen_text_fit(canvas, box.left + 12.0, top + 22.0, width, bold, text);
    hp_pen_arc(canvas, x, y, RING, 0.0, HP_TWO_PI, HP_INK_GREY, 3.0);
    draw_rotor(canvas, x, y, s);
    draw_field(canvas, x, y, s);
    draw_coils(canvas, x, y, s);
    double below = y + RING + COIL + 8.0;
    draw_code(canvas, box.left + 12.0, below + 10.0, s->code);
    if (s->high < 0)
        snprintf(text, sizeof text, "all leads off");
    else
        hp_picture_pair(steps->labels, s->high, s->low, plain, width, text, sizeof text);
    hp_pen_text_fit(canvas, box.left + 12.0, below + 42.0, width, plain, text);
}

static double rows(const steps *steps)
{
    return (double)((steps->count + 1) / 2);
}

static void paint(const hp_canvas *canvas, const void *data)
{
    const steps *steps = data;
    double top = hp_picture_heading(canvas, steps->title, subtitle);
    for (int k = 0; k < steps->count; k++)
        draw_panel(canvas, HP_PICTURE_MARGIN + (k % 2) * PANEL_WIDTH,
                   top + (double)(k / 2) * PANEL_HEIGHT, steps, k);
    hp_picture_caption(canvas, top + rows(steps) * PANEL_HEIGHT + 8.0, caption, CAPTION_COUNT);
}

hp_result hp_picture_steps_draw(const char *path, hp_picture_format format, const hp_drive *drive,
                                const hp_wiring *wiring, const hp_labels *labels, hp_error *err)
{
    steps steps = {.labels = labels};
    steps.count = hp_lead_sectors(&drive->controller.table, &drive->sensors, &drive->motor.backemf,
                                  wiring, steps.sector);
    snprintf(steps.title, sizeof steps.title, "The steps of the table, wiring %d",
             hp_wiring_number(wiring));
    double y = hp_picture_heading_height(steps.title, subtitle) + rows(&steps) * PANEL_HEIGHT + 8.0;
    hp_paper page = {.width = HP_PICTURE_WIDTH,
                     .height = hp_picture_caption(NULL, y, caption, CAPTION_COUNT) + 8.0,
                     .title = steps.title};
    return hp_canvas_draw(path, format, &page, paint, &steps, err);
}
