/*
 * Waveforms of one run: see the header.
 *
 * A picture is about 600 units wide, a trace may hold many samples more. Each curve is thinned to
 * the least and the greatest value of every bin of half a unit, in their order of time, which looks
 * the same and keeps every spike.
 */
#include "report/picture/picture_waveforms.h"

#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PLOT_LEFT    84.0
#define PLOT_RIGHT   (HP_PICTURE_WIDTH - 34.0) /* half a number stands beyond it */
#define PANEL_GAP    46.0  /* [units] between panels: the next one's title stands there */
#define PANEL_HEIGHT 150.0 /* the three that change fast are higher than the others */
#define SPEED_HEIGHT 110.0
#define TRACK_HEIGHT 30.0 /* one sensor */
#define DIGITS       15.0 /* [units] a code's, so that three turns show theirs */
#define BINS         1200
#define TAGS         3 /* letters on each curve of three */

/* Everything a curve needs, in the units of the picture. */
typedef struct waveforms {
    const hp_trace *trace;
    const hp_labels *labels;
    const char *title;
    double *time;            /* owned; [ms] */
    double *value;           /* owned; the quantity being drawn */
    double *thin_x, *thin_y; /* owned; 2 * BINS each */
    double from, until;      /* [ms] */
    double ms;               /* 1000 or 1, see unit */
    const char *unit;        /* "ms" or "s" */
} waveforms;

static const hp_ink phase_ink[HP_PHASE_COUNT] = {HP_INK_BLUE, HP_INK_VERMILION, HP_INK_GREEN};

static const char *const caption[] = {
    "Letters on the curves name the motor's leads U, V, W. Current counts into the motor. Back-EMF "
    "is "
    "the voltage that the turning rotor makes in each phase. Torque is that of the magnets on the "
    "rotor, forward positive. Sensor code: what the controller's three inputs see; high is 1.",
};

static double current_of(const hp_sample *s, int phase)
{
    return s->current[phase];
}

static double backemf_of(const hp_sample *s, int phase)
{
    return s->backemf[phase];
}

static double torque_of(const hp_sample *s, int phase)
{
    (void)phase;
    return s->torque;
}

static double speed_of(const hp_sample *s, int phase)
{
    (void)phase;
    return s->speed / HP_RPM;
}

typedef double (*quantity)(const hp_sample *sample, int phase);

static void fetch(waveforms *w, quantity get, int phase)
{
    for (size_t k = 0; k < w->trace->count; k++)
        w->value[k] = get(&w->trace->sample[k], phase);
}

/* Least and greatest finite value of a quantity, widened so that a flat curve has room. */
static void find_range(const waveforms *w, quantity get, int phases, hp_axes *axes)
{
    double low = INFINITY, high = -INFINITY;
    for (size_t k = 0; k < w->trace->count; k++) {
        for (int p = 0; p < phases; p++) {
            double v = get(&w->trace->sample[k], p);
            low = isfinite(v) ? fmin(low, v) : low;
            high = isfinite(v) ? fmax(high, v) : high;
        }
    }
    if (!(high >= low))
        low = high = 0.0;
    double room = fmax(0.08 * (high - low), fmax(0.02 * fmax(fabs(low), fabs(high)), 1e-3));
    axes->y_min = low - room;
    axes->y_max = high + room;
}

/* Thins value over time into thin_x, thin_y; returns the number of points. A value that is not
 * finite passes as a gap. */
static size_t thin(waveforms *w)
{
    size_t count = w->trace->count, out = 0;
    if (count <= 2 * BINS) {
        memcpy(w->thin_x, w->time, count * sizeof *w->time);
        memcpy(w->thin_y, w->value, count * sizeof *w->value);
        return count;
    }
    for (int bin = 0; bin < BINS; bin++) {
        size_t first = count * (size_t)bin / BINS, end = count * ((size_t)bin + 1) / BINS;
        size_t low = first, high = first;
        for (size_t k = first; k < end; k++) {
            low = w->value[k] < w->value[low] || isnan(w->value[low]) ? k : low;
            high = w->value[k] > w->value[high] || isnan(w->value[high]) ? k : high;
        }
        size_t earlier = low < high ? low : high, later = low < high ? high : low;
        w->thin_x[out] = w->time[earlier];
        w->thin_y[out++] = w->value[earlier];
        if (later != earlier) {
            w->thin_x[out] = w->time[later];
            w->thin_y[out++] = w->value[later];
        }
    }
    return out;
}

/* Letters on a curve, spread over the width and apart from those of the other phases. */
static void draw_tags(const hp_canvas *canvas, const waveforms *w, const hp_axes *axes, int phase)
{
    hp_type type = {HP_PICTURE_SMALL, phase_ink[phase], HP_ALIGN_CENTRE, true};
    char letter[2] = {hp_phase_letter(phase), '\0'};
    for (int tag = 0; tag < TAGS; tag++) {
        double share = (tag * HP_PHASE_COUNT + phase + 0.5) / (TAGS * HP_PHASE_COUNT);
        size_t k = (size_t)(share * (double)(w->trace->count - 1));
        if (!isfinite(w->value[k]))
            continue;
        double x = hp_axes_x(axes, w->time[k]), y = hp_axes_y(axes, w->value[k]);
        hp_pen_disc(canvas, x, y, 10.0, HP_INK_WHITE);
        hp_pen_text(canvas, x, y, type, letter);
    }
}

/* One panel with its title; returns the y below it. */
static double draw_panel(const hp_canvas *canvas, waveforms *w, double y, double height,
                         const char *title, quantity get, int phases)
{
    hp_axes axes = {
        .box = {PLOT_LEFT, y, PLOT_RIGHT, y + height}, .x_min = w->from, .x_max = w->until};
    hp_type type = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    find_range(w, get, phases, &axes);
    hp_pen_text(canvas, HP_PICTURE_MARGIN, y - 18.0, type, title);
    hp_pen_axes(canvas, &axes, HP_PICTURE_SMALL);
    if (axes.y_min < 0.0 && axes.y_max > 0.0) {
        double zero = hp_axes_y(&axes, 0.0);
        hp_pen_line(canvas, axes.box.left, zero, axes.box.right, zero, HP_INK_GREY, 1.5);
    }
    for (int p = 0; p < phases; p++) {
        fetch(w, get, p);
        size_t count = thin(w);
        hp_pen_curve(canvas, &axes, w->thin_x, w->thin_y, count,
                     phases > 1 ? phase_ink[p] : HP_INK_BLACK, 2.5, HP_DASH_SOLID);
    }
    for (int p = 0; p < phases && phases > 1; p++) {
        fetch(w, get, p);
        draw_tags(canvas, w, &axes, p);
    }
    return y + height + PANEL_GAP;
}

/* Code at sample k as the controller's input sees it. */
static int bit_of(const waveforms *w, size_t k, int input)
{
    return w->trace->sample[k].code >> (2 - input) & 1;
}

/* One input as a track: a bar while it reads 1, a line while it reads 0. */
static void draw_track(const hp_canvas *canvas, const waveforms *w, const hp_axes *axes, int input)
{
    size_t count = w->trace->count;
    double top = axes->box.top + input * TRACK_HEIGHT + 6.0, bottom = top + TRACK_HEIGHT - 10.0;
    for (size_t k = 0; k + 1 < count;) {
        size_t end = k + 1;
        while (end + 1 < count && bit_of(w, end, input) == bit_of(w, k, input))
            end++;
        double x0 = hp_axes_x(axes, w->time[k]), x1 = hp_axes_x(axes, w->time[end]);
        hp_box bar = {x0, top, x1, bottom};
        if (bit_of(w, k, input))
            hp_pen_fill(canvas, bar, HP_INK_DARK);
        else
            hp_pen_line(canvas, x0, bottom, x1, bottom, HP_INK_DARK, 1.5);
        k = end;
    }
}

/* The three inputs and, where there is room, the code in figures. */
static double draw_code(const hp_canvas *canvas, const waveforms *w, double y)
{
    double height = HP_PHASE_COUNT * TRACK_HEIGHT;
    hp_axes axes = {.box = {PLOT_LEFT, y, PLOT_RIGHT, y + height},
                    .x_min = w->from,
                    .x_max = w->until,
                    .y_min = 0.0,
                    .y_max = 1.0};
    hp_type bold = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    hp_type side = {HP_PICTURE_SMALL, HP_INK_DARK, HP_ALIGN_RIGHT, false};
    hp_type digits = {DIGITS, HP_INK_BLACK, HP_ALIGN_CENTRE, false};
    hp_pen_text(canvas, HP_PICTURE_MARGIN, y - 18.0, bold,
                "Sensor code at the controller's inputs: bar = 1");
    hp_pen_frame(canvas, axes.box, HP_INK_DARK, 1.0);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        char name[2] = {hp_phase_letter(j), '\0'};
        hp_pen_text(canvas, PLOT_LEFT - 8.0, y + (j + 0.5) * TRACK_HEIGHT, side, name);
        draw_track(canvas, w, &axes, j);
    }
    for (size_t k = 0, end; k + 1 < w->trace->count; k = end) {
        int code = w->trace->sample[k].code;
        for (end = k + 1; end + 1 < w->trace->count && w->trace->sample[end].code == code;)
            end++;
        double x0 = hp_axes_x(&axes, w->time[k]), x1 = hp_axes_x(&axes, w->time[end]);
        char text[4] = {(char)('0' + (code >> 2 & 1)), (char)('0' + (code >> 1 & 1)),
                        (char)('0' + (code & 1)), '\0'};
        if (x1 - x0 > hp_pen_text_width(digits, text) + 2.0)
            hp_pen_text(canvas, 0.5 * (x0 + x1), y + height + 13.0, digits, text);
    }
    return y + height + 26.0;
}

/* The scale of time below everything. */
static double draw_time(const hp_canvas *canvas, const waveforms *w, double y)
{
    char text[64];
    hp_axes axes = {.box = {PLOT_LEFT, y, PLOT_RIGHT, y + 8.0},
                    .x_min = w->from,
                    .x_max = w->until,
                    .y_min = 0.0,
                    .y_max = 1.0};
    hp_type type = {HP_PICTURE_BODY, HP_INK_BLACK, HP_ALIGN_RIGHT, true};
    hp_pen_ruler(canvas, &axes, HP_PICTURE_SMALL);
    snprintf(text, sizeof text, "Time, %s", w->unit);
    hp_pen_text(canvas, axes.box.right, y + 52.0, type, text);
    return y + 74.0;
}

/* Height of all below the heading, but for the caption. */
static double plots_height(void)
{
    return 28.0 + 3.0 * (PANEL_HEIGHT + PANEL_GAP) + SPEED_HEIGHT + PANEL_GAP +
           HP_PHASE_COUNT * TRACK_HEIGHT + 26.0 + 74.0;
}

static void describe_leads(const hp_labels *labels, char *text, size_t size)
{
    snprintf(text, size, "Motor leads: U %s, V %s, W %s.",
             hp_picture_label(labels->motor_lead[HP_U], HP_U),
             hp_picture_label(labels->motor_lead[HP_V], HP_V),
             hp_picture_label(labels->motor_lead[HP_W], HP_W));
}

static void paint(const hp_canvas *canvas, const void *data)
{
    waveforms w = *(const waveforms *)data;
    char leads[4 * HP_LABEL_SIZE];
    describe_leads(w.labels, leads, sizeof leads);
    double y = hp_picture_heading(canvas, w.title, leads) + 28.0;
    y = draw_panel(canvas, &w, y, PANEL_HEIGHT, "Phase current, A", current_of, HP_PHASE_COUNT);
    y = draw_panel(canvas, &w, y, PANEL_HEIGHT, "Back-EMF of each phase, V", backemf_of,
                   HP_PHASE_COUNT);
    y = draw_panel(canvas, &w, y, PANEL_HEIGHT, "Torque on the rotor, N m", torque_of, 1);
    y = draw_panel(canvas, &w, y, SPEED_HEIGHT, "Rotor speed, rev/min", speed_of, 1);
    y = draw_code(canvas, &w, y);
    y = draw_time(canvas, &w, y);
    hp_picture_caption(canvas, y, caption, 1);
}

static hp_result check_trace(const hp_trace *trace, hp_error *err)
{
    if (trace->count < 2)
        return hp_error_set(err, HP_FAIL_INPUT, "the trace has %zu samples, a picture needs two",
                            trace->count);
    double from = trace->sample[0].time, until = trace->sample[trace->count - 1].time;
    if (!(until > from) || !isfinite(until - from))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "the trace's time goes from %g s to %g s, must advance", from, until);
    return HP_OK;
}

/* Milliseconds for anything shorter than ten seconds: the scale then needs few decimals. */
static void fill_time(waveforms *w)
{
    double from = w->trace->sample[0].time, until = w->trace->sample[w->trace->count - 1].time;
    w->ms = until - from < 10.0 ? 1000.0 : 1.0;
    w->unit = w->ms > 1.0 ? "ms" : "s";
    w->from = w->ms * from;
    w->until = w->ms * until;
    for (size_t k = 0; k < w->trace->count; k++)
        w->time[k] = w->ms * w->trace->sample[k].time;
}

/* Draws into a file, or into memory where path is NULL. */
static hp_result draw(const hp_trace *trace, const hp_labels *labels, const char *title,
                      const char *path, hp_picture_format format, char **bytes, size_t *size,
                      hp_error *err)
{
    char leads[4 * HP_LABEL_SIZE];
    hp_result result = check_trace(trace, err);
    if (result != HP_OK)
        return result;
    size_t samples = trace->count * sizeof(double), thinned = 2 * BINS * sizeof(double);
    waveforms w = {.trace = trace,
                   .labels = labels,
                   .title = title,
                   .time = malloc(samples),
                   .value = malloc(samples),
                   .thin_x = malloc(thinned),
                   .thin_y = malloc(thinned)};
    if (w.time && w.value && w.thin_x && w.thin_y) {
        fill_time(&w);
        describe_leads(labels, leads, sizeof leads);
        double y = hp_picture_heading_height(title, leads) + plots_height();
        hp_paper page = {.width = HP_PICTURE_WIDTH,
                         .height = hp_picture_caption(NULL, y, caption, 1) + 8.0,
                         .title = title};
        result = path ? hp_canvas_draw(path, format, &page, paint, &w, err)
                      : hp_canvas_render(format, &page, paint, &w, bytes, size, err);
    } else {
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a picture of %zu samples",
                              trace->count);
    }
    free(w.time);
    free(w.value);
    free(w.thin_x);
    free(w.thin_y);
    return result;
}

hp_result hp_picture_waveforms_draw(const char *path, hp_picture_format format,
                                    const hp_trace *trace, const hp_labels *labels,
                                    const char *title, hp_error *err)
{
    return draw(trace, labels, title, path, format, NULL, NULL, err);
}

hp_result hp_picture_waveforms_render(const hp_trace *trace, const hp_labels *labels,
                                      const char *title, char **svg, size_t *size, hp_error *err)
{
    return draw(trace, labels, title, NULL, HP_PICTURE_SVG, svg, size, err);
}
