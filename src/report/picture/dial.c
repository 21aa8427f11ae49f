/* A dial of lead angles: see the header. */
#include "report/picture/dial.h"

#include <math.h>

/* Neither is the colour of a verdict; one is dark and one is light, for those who see no colour. */
const hp_ink hp_dial_forward = HP_INK_BLACK;
const hp_ink hp_dial_backward = HP_INK_PURPLE;

void hp_dial_ground(const hp_canvas *canvas, const hp_dial *dial)
{
    double x = dial->x, y = dial->y, r = dial->outer;
    double stroke = fmax(1.0, 0.006 * r);
    for (int sense = -1; sense <= 1; sense += 2)
        hp_pen_ring(canvas, x, y, 0.0, r, sense * 60.0 * HP_DEG, sense * 120.0 * HP_DEG,
                    HP_INK_PALE);
    hp_pen_line(canvas, x - r, y, x + r, y, HP_INK_GREY, stroke);
    hp_pen_arc(canvas, x, y, r, 0.0, HP_TWO_PI, HP_INK_GREY, stroke);
}

double hp_dial_key(const hp_canvas *canvas, const hp_look *look, double x, double y, bool open)
{
    static const char *const word[] = {"pulls forward", "pulls backward", "zone of full pull",
                                       "no current: a lead is open"};
    const hp_ink ink[] = {hp_dial_forward, hp_dial_backward, HP_INK_PALE, HP_INK_WHITE};
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double line = hp_look_line(look->small), half = 0.36 * look->small;
    for (int k = 0; k < (open ? 4 : 3); k++, y += line) {
        double middle = y + 0.5 * line;
        hp_box box = {x, middle - half, x + 1.8 * look->small, middle + half};
        hp_pen_fill(canvas, box, ink[k]);
        hp_pen_frame(canvas, box, HP_INK_GREY, 1.0);
        hp_pen_text(canvas, x + 2.2 * look->small, middle, type, word[k]);
    }
    return y;
}

static double arc_step(const hp_dial *dial, int count)
{
    return (dial->outer - dial->inner) / count;
}

double hp_dial_radius(const hp_dial *dial, int sector, int count)
{
    return dial->inner + (sector + 0.5) * arc_step(dial, count);
}

/* One piece that does not cross the level line. */
static void draw_piece(const hp_canvas *canvas, const hp_dial *dial, double radius, double half,
                       double from, double to, bool open)
{
    bool forward = sin(0.5 * (from + to)) > 0.0;
    hp_pen_ring(canvas, dial->x, dial->y, radius - half, radius + half, from, to,
                open      ? HP_INK_GREY
                : forward ? hp_dial_forward
                          : hp_dial_backward);
    double inside = half - fmax(1.0, 0.2 * half);
    if (open)
        hp_pen_ring(canvas, dial->x, dial->y, radius - inside, radius + inside, from, to,
                    HP_INK_WHITE);
}

void hp_dial_arcs(const hp_canvas *canvas, const hp_dial *dial, const hp_lead_sector *sector,
                  int count)
{
    double half = 0.5 * (arc_step(dial, count) - dial->gap);
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        double radius = hp_dial_radius(dial, k, count);
        if (s->high < 0)
            continue;
        /* The pull changes its sense where the lead passes a multiple of 180 degrees. */
        for (double end, at = s->lead_from; at > s->lead_to + 1e-9; at = end) {
            double level = HP_PI * (ceil(at / HP_PI - 1e-9) - 1.0);
            end = fmax(level, s->lead_to);
            draw_piece(canvas, dial, radius, half, at, end, s->open);
        }
    }
}
