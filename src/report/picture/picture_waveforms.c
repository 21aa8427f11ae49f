/*
 * Waveforms of one run: phase currents, back-EMF, torque, speed, sensor codes over time.
 *
 * All wirings of a machine are drawn on the same scales, which begin at zero: those of the survey's
 * largest figures. So a small current looks small beside a large one. A current too small to be
 * seen so is drawn a second time, enlarged, and the picture says how many times.
 */
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"
#include "report/picture/waves.h"
#include "report/words/fault_words.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define SMALL_SHARE 0.2 /* of the scale: a curve below this is drawn enlarged too */
#define CODES_TOLD  24
#define STANDS      0.1 /* [rad electrical] turns by less: it stands */

/* What stands in a picture, in order down, with its share of the height. */
typedef struct panel {
    hp_wave_kind kind;
    bool enlarged;
    double height; /* relative */
} panel;

#define PANELS_MAX 5

typedef struct waveforms {
    const hp_picture_subject *subject;
    hp_waves waves;                                 /* owned */
    double low[HP_WAVE_COUNT], high[HP_WAVE_COUNT]; /* scales */
    double own; /* [A] largest magnitude of this run's current */
    panel panel[PANELS_MAX];
    int panels;
    bool backwards; /* it turns so */
    int smooth;     /* number of the smooth wiring whose band stands behind; 0: none */
    char title[200];
    char subtitle[HP_FAULT_WORDS + 200];
} waveforms;

/* ---- scales ---------------------------------------------------------------------------------- */

/* The widest of the survey's figures, so that all wirings of a machine share a scale. */
static void take_survey(waveforms *w, const hp_survey *survey)
{
    /* The mirror image of a wiring runs as fast the other way: speeds are drawn one way only. */
    double way = w->backwards ? -1.0 : 1.0;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        const hp_figures *f = &survey->judgement[n].mean;
        if (survey->judgement[n].verdict == HP_VERDICT_UNDECIDED)
            continue;
        hp_range_take(f->phase_peak, &w->low[HP_WAVE_CURRENT], &w->high[HP_WAVE_CURRENT]);
        hp_range_take(f->torque_min, &w->low[HP_WAVE_TORQUE], &w->high[HP_WAVE_TORQUE]);
        hp_range_take(f->torque_max, &w->low[HP_WAVE_TORQUE], &w->high[HP_WAVE_TORQUE]);
        hp_range_take(way * fabs(f->speed) / HP_RPM, &w->low[HP_WAVE_SPEED],
                      &w->high[HP_WAVE_SPEED]);
        hp_range_take(w->subject->drive->motor.ke * fabs(f->speed), &w->low[HP_WAVE_BACKEMF],
                      &w->high[HP_WAVE_BACKEMF]);
    }
}

static void make_symmetric(double *low, double *high)
{
    double most = fmax(fabs(*low), fabs(*high));
    *low = -most;
    *high = most;
}

static void make_scales(waveforms *w)
{
    for (int k = 0; k < HP_WAVE_COUNT; k++) {
        w->low[k] = 0.0;
        w->high[k] = 0.0;
    }
    hp_wave_range(w->waves.trace, HP_WAVE_CURRENT, &w->low[HP_WAVE_CURRENT],
                  &w->high[HP_WAVE_CURRENT]);
    w->own = fmax(-w->low[HP_WAVE_CURRENT], w->high[HP_WAVE_CURRENT]);
    if (w->subject->survey)
        take_survey(w, w->subject->survey);
    for (int k = 0; k < HP_WAVE_COUNT; k++)
        hp_wave_range(w->waves.trace, (hp_wave_kind)k, &w->low[k], &w->high[k]);
    make_symmetric(&w->low[HP_WAVE_CURRENT], &w->high[HP_WAVE_CURRENT]);
    make_symmetric(&w->low[HP_WAVE_BACKEMF], &w->high[HP_WAVE_BACKEMF]);
    for (int k = 0; k < HP_WAVE_COUNT; k++)
        hp_range_round(&w->low[k], &w->high[k]);
}

static void choose_panels(waveforms *w)
{
    bool small = w->own > 0.0 && w->own < SMALL_SHARE * w->high[HP_WAVE_CURRENT];
    w->panel[w->panels++] = (panel){HP_WAVE_CURRENT, false, 1.25};
    if (small)
        w->panel[w->panels++] = (panel){HP_WAVE_CURRENT, true, 0.9};
    w->panel[w->panels++] = (panel){HP_WAVE_TORQUE, false, 1.0};
    w->panel[w->panels++] = (panel){HP_WAVE_SPEED, false, 0.8};
    w->panel[w->panels++] = (panel){HP_WAVE_BACKEMF, false, 0.9};
}

/* ---- panels ---------------------------------------------------------------------------------- */

/* What the smooth wiring does, as a band behind: its peak current, its torque, its speed. */
static void draw_band(const hp_canvas *canvas, const waveforms *w, const hp_axes *axes,
                      hp_wave_kind kind)
{
    const hp_figures *f;
    double low, high;
    if (!w->smooth || kind == HP_WAVE_BACKEMF)
        return;
    f = &w->subject->survey->judgement[w->smooth - 1].mean;
    if (kind == HP_WAVE_CURRENT) {
        low = -f->phase_peak;
        high = f->phase_peak;
    } else if (kind == HP_WAVE_TORQUE) {
        low = f->torque_min;
        high = f->torque_max;
    } else {
        low = (f->speed - f->speed_sd) / HP_RPM;
        high = (f->speed + f->speed_sd) / HP_RPM;
    }
    if (!isfinite(low) || !isfinite(high) || high < axes->y_min || low > axes->y_max)
        return;
    double top = hp_axes_y(axes, fmin(high, axes->y_max));
    double bottom = hp_axes_y(axes, fmax(low, axes->y_min));
    double thin = fmax(0.0, 4.0 - (bottom - top)); /* so that the thinnest is seen */
    hp_box box = {axes->box.left, top - 0.5 * thin, axes->box.right, bottom + 0.5 * thin};
    hp_pen_fill(canvas, box, HP_INK_PALE_GREEN);
    hp_pen_line(canvas, box.left, box.top, box.right, box.top, HP_INK_GREEN, 1.0);
    hp_pen_line(canvas, box.left, box.bottom, box.right, box.bottom, HP_INK_GREEN, 1.0);
}

static void draw_panel(const hp_canvas *canvas, const hp_look *look, waveforms *w, hp_box box,
                       const panel *p)
{
    char title[120], times[24];
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    double line = hp_look_line(look->small);
    hp_axes axes = {.box = {box.left + 4.0 * look->small, box.top + line, box.right, box.bottom},
                    .x_max = w->waves.until,
                    .y_min = w->low[p->kind],
                    .y_max = w->high[p->kind]};
    if (p->enlarged) {
        double full = axes.y_max;
        axes.y_min = -w->own;
        axes.y_max = w->own;
        hp_range_round(&axes.y_min, &axes.y_max);
        snprintf(title, sizeof title, "The same current, enlarged %s times",
                 hp_picture_short(full / axes.y_max, times, sizeof times));
    } else {
        snprintf(title, sizeof title, "%s", hp_wave_title(p->kind));
    }
    hp_pen_text_cut(canvas, box.left, box.top + 0.42 * line, box.right - box.left, bold, title);
    draw_band(canvas, w, &axes, p->kind);
    hp_axes_draw_y(canvas, look, &axes);
    hp_wave_draw(canvas, &w->waves, &axes, p->kind, w->subject->labels);
}

/* ---- codes ----------------------------------------------------------------------------------- */

static int bit_of(int code, int input)
{
    return code >> (2 - input) & 1;
}

/* One stretch of a code: a bar in the track of each input that is 1, with its figure in it. */
static void draw_code(const hp_canvas *canvas, const hp_look *look, const hp_axes *axes, double x0,
                      double x1, double track, int code)
{
    double from = hp_axes_x(axes, x0), to = hp_axes_x(axes, x1);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int bit = bit_of(code, j);
        double top = axes->box.top + j * track;
        hp_box bar = {from, top + 2.0, to, top + track - 2.0};
        hp_type type =
            hp_look_small(look, bit ? HP_INK_WHITE : HP_INK_BLACK, HP_ALIGN_CENTRE, false);
        if (bit)
            hp_pen_fill(canvas, bar, HP_INK_DARK);
        if (to - from >= 0.8 * look->small)
            hp_pen_text(canvas, 0.5 * (from + to), top + 0.5 * track, type, bit ? "1" : "0");
    }
    hp_pen_line(canvas, to, axes->box.top, to, axes->box.bottom, HP_INK_RULE, 1.0);
}

/* Where the code that sample k shows ends. */
static size_t code_end(const hp_trace *trace, size_t k)
{
    size_t end = k + 1;
    while (end + 1 < trace->count && trace->sample[end].code == trace->sample[k].code)
        end++;
    return end;
}

/* The three inputs as tracks; returns the y below the time's numbers. */
static double draw_codes(const hp_canvas *canvas, const hp_look *look, const waveforms *w,
                         hp_box box)
{
    char text[64];
    const hp_trace *trace = w->waves.trace;
    double line = hp_look_line(look->small), track = 1.3 * look->small;
    double top = box.top + line;
    hp_axes axes = {
        .box = {box.left + 4.0 * look->small, top, box.right, top + HP_PHASE_COUNT * track},
        .x_max = w->waves.until,
        .y_max = 1.0};
    hp_type bold = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, true);
    hp_type side = hp_look_small(look, HP_INK_DARK, HP_ALIGN_RIGHT, false);
    hp_pen_text_cut(canvas, box.left, box.top + 0.42 * line, box.right - box.left, bold,
                    "Code of the Hall sensors at inputs U, V, W");
    for (size_t k = 0, end; k + 1 < trace->count; k = end) {
        end = code_end(trace, k);
        draw_code(canvas, look, &axes, w->waves.time[k], w->waves.time[end], track,
                  trace->sample[k].code);
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[2] = {hp_phase_letter(j), '\0'};
        double y = top + (j + 0.5) * track;
        hp_pen_text(canvas, axes.box.left - 0.5 * look->small, y, side, name);
        hp_pen_line(canvas, axes.box.left, top + j * track, axes.box.right, top + j * track,
                    HP_INK_GREY, 1.0);
    }
    hp_pen_frame(canvas, axes.box, HP_INK_DARK, 1.2);
    double y = hp_axes_draw_x(canvas, look, &axes) + 0.3 * line;
    snprintf(text, sizeof text, "Time, %s", w->waves.unit);
    hp_pen_text(canvas, axes.box.right, y, hp_look_small(look, HP_INK_BLACK, HP_ALIGN_RIGHT, true),
                text);
    return y + 0.6 * line;
}

static double codes_height(const hp_look *look)
{
    return 3.9 * look->small + 1.8 * look->small + 2.2 * hp_look_line(look->small);
}

/* The codes in order, where some stretch is too short for its figures. */
static void put_codes(hp_flow *flow, const waveforms *w, double width)
{
    char text[CODES_TOLD * 6 + 80];
    const hp_trace *trace = w->waves.trace;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "Codes in order:");
    bool narrow = false;
    int told = 0;
    for (size_t k = 0, end; k + 1 < trace->count; k = end) {
        int code = trace->sample[k].code;
        end = code_end(trace, k);
        double share = (w->waves.time[end] - w->waves.time[k]) / w->waves.until;
        /* What the edge of the picture cuts stands in full beside it, a turn away. */
        bool inside = k > 0 && end + 1 < trace->count;
        narrow = narrow || (inside && share * width < 0.8 * flow->look->small);
        if (told++ < CODES_TOLD)
            hp_phrase_add(&p, " %d%d%d", bit_of(code, 0), bit_of(code, 1), bit_of(code, 2));
    }
    if (told > CODES_TOLD)
        hp_phrase_add(&p, " and %d more", told - CODES_TOLD);
    if (narrow)
        hp_flow_paragraph(flow, text);
}

/* ---- the picture ----------------------------------------------------------------------------- */

static void put_words(hp_flow *flow, const waveforms *w, double width)
{
    char text[240];
    const hp_trace *trace = w->waves.trace;
    const hp_judgement *judged = w->subject->judgement;
    double turned = fabs(trace->sample[trace->count - 1].theta - trace->sample[0].theta);
    if (judged && judged->starts > 0 && turned < STANDS)
        hp_flow_bold(flow, "It does not turn in this run: it starts from some positions only.");
    put_codes(flow, w, width);
    if (w->smooth) {
        hp_verdict verdict = w->subject->survey->judgement[w->smooth - 1].verdict;
        snprintf(text, sizeof text,
                 "Shaded band: what wiring %d (%s) does. All wirings of this machine are drawn on "
                 "the same scales.",
                 w->smooth, hp_verdict_name(verdict));
        hp_flow_paragraph(flow, text);
    }
    hp_flow_paragraph(flow,
                      "Current counts into the motor. Back-EMF is the voltage that the turning "
                      "rotor makes in each phase. Torque pulls forward above zero. A dark bar "
                      "in the code is a 1.");
}

static double words_height(const hp_look *look, const waveforms *w, double width)
{
    hp_flow flow = hp_flow_begin(NULL, look, (hp_box){0.0, 0.0, width, INFINITY});
    put_words(&flow, w, width - 4.0 * look->small);
    return flow.y;
}

/* Panels one below another into a box, with the codes below them. */
static double draw_stack(const hp_canvas *canvas, const hp_look *look, waveforms *w, hp_box box,
                         int from, int to, double gap)
{
    double sum = 0.0, y = box.top;
    for (int k = from; k < to; k++)
        sum += w->panel[k].height;
    double room = box.bottom - box.top - (to - from) * gap;
    for (int k = from; k < to; k++) {
        double height = room * w->panel[k].height / sum;
        hp_box place = {box.left, y, box.right, y + height};
        draw_panel(canvas, look, w, place, &w->panel[k]);
        y += height + gap;
    }
    return y;
}

/* On the wall: two columns, currents at the left with the codes, the rest at the right. */
static double draw_wall(const hp_canvas *canvas, const hp_look *look, waveforms *w, double top)
{
    hp_room room = hp_look_room(look, top, 0.0, 0.5);
    double codes = codes_height(look), gap = 0.6 * look->small, words = 150.0;
    int left = w->panel[1].enlarged ? 2 : 1;
    hp_box stack = {room.plot.left, top, room.plot.right, room.plot.bottom - codes};
    double y = draw_stack(canvas, look, w, stack, 0, left, gap);
    hp_box below = {stack.left, y, stack.right, room.plot.bottom};
    draw_codes(canvas, look, w, below);
    hp_box other = {room.words.left, top, room.words.right, room.plot.bottom - words};
    room.words.top = draw_stack(canvas, look, w, other, left, w->panels, gap) + 0.3 * look->small;
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, w, room.plot.right - room.plot.left - 4.0 * look->small);
    return hp_picture_end(look, &flow);
}

static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    waveforms w = *(const waveforms *)data;
    double top = hp_picture_heading(canvas, look, w.title, w.subtitle);
    double line = hp_look_line(look->small), gap = 0.6 * look->small;
    hp_wave_legend(canvas, look, look->margin, top + 0.5 * line, look->width - 2.0 * look->margin,
                   w.subject->labels);
    top += 1.3 * line;
    if (look->shape == HP_SHAPE_WALL)
        return draw_wall(canvas, look, &w, top);
    double unit = look->shape == HP_SHAPE_PHONE ? 190.0 : 160.0;
    double sum = 0.0;
    for (int k = 0; k < w.panels; k++)
        sum += w.panel[k].height;
    double width = look->width - 2.0 * look->margin;
    if (look->height > 0.0) { /* panels give way to the words */
        double words = words_height(look, &w, width);
        double left = look->height - 1.1 * look->margin - top - codes_height(look) - words;
        unit = fmin(unit, (left - 0.4 * look->gap - w.panels * gap) / sum);
    }
    hp_room room = hp_look_room(look, top, sum * unit + w.panels * gap, 1.0);
    double y = draw_stack(canvas, look, &w, room.plot, 0, w.panels, gap);
    hp_box codes = {room.plot.left, y, room.plot.right, y + codes_height(look)};
    room.words.top = draw_codes(canvas, look, &w, codes) + 0.4 * look->gap;
    hp_flow flow = hp_flow_begin(canvas, look, room.words);
    put_words(&flow, &w, room.plot.right - room.plot.left - 4.0 * look->small);
    return hp_picture_end(look, &flow);
}

static void put_titles(waveforms *w)
{
    static const char *const edges[HP_PWM_KIND_COUNT] = {
        "averaged duty", "PWM edges, complementary", "PWM edges, one-sided"};
    const hp_picture_subject *s = w->subject;
    const hp_controller_params *controller = &s->drive->controller;
    const char *machine = s->labels->machine;
    char verdict[60] = "", degrees[16], fault[HP_FAULT_WORDS];
    if (s->judgement)
        hp_verdict_words(s->judgement, verdict, sizeof verdict);
    snprintf(w->title, sizeof w->title, "Waveforms of wiring %d%s%s", s->number,
             verdict[0] ? ": " : "", verdict);
    hp_fault_words(s->drive, s->labels, fault, sizeof fault);
    hp_phrase p = hp_phrase_begin(w->subtitle, sizeof w->subtitle);
    hp_phrase_add(&p, "%s%sThrottle %.4g %%, %s.", machine, machine[0] ? ". " : "",
                  100.0 * controller->throttle, edges[controller->pwm]);
    if (isfinite(s->start_angle))
        hp_phrase_add(&p, " Start position %s.",
                      hp_picture_degrees(s->start_angle, degrees, sizeof degrees));
    if (fault[0])
        hp_phrase_add(&p, " Fault: %s.", fault);
}

/* The band is that of the wiring that runs smoothly the same way, where there is one. */
static void choose_smooth(waveforms *w)
{
    const hp_picture_subject *s = w->subject;
    w->backwards = s->judgement ? s->judgement->direction == HP_DIRECTION_BACKWARD
                                : s->trace->sample[s->trace->count - 1].speed < 0.0;
    if (!s->survey)
        return;
    w->smooth = hp_picture_example(s->survey, HP_EXAMPLE_SMOOTH);
    for (int n = 1; n <= HP_WIRING_COUNT && w->backwards; n++) {
        if (s->survey->judgement[n - 1].verdict == HP_VERDICT_REVERSE) {
            w->smooth = n;
            return;
        }
    }
}

static hp_result draw_waveforms(const hp_picture_subject *subject, const hp_picture_target *to,
                                hp_error *err)
{
    waveforms w = {.subject = subject};
    hp_result result = hp_waves_make(&w.waves, subject->trace, err);
    if (result != HP_OK)
        return result;
    choose_smooth(&w);
    put_titles(&w);
    make_scales(&w);
    choose_panels(&w);
    result = hp_picture_put(to, w.title, draw, &w, err);
    hp_waves_free(&w.waves);
    return result;
}

const hp_picture hp_picture_waveforms = {
    .name = "waveforms",
    .question = "What do current, torque, speed and Hall codes of this wiring look like?",
    .makers = HP_MAKER_SPIN,
    .needs = HP_NEEDS_TRACE,
    .draw = draw_waveforms,
};
