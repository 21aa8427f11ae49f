/* Curves of a run over time: see the header. */
#include "report/picture/waves.h"

#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"
#include "report/picture/plot_axes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BINS 1200

/* One quantity of a sample. */
typedef double (*quantity)(const hp_sample *sample, int phase);

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

static const struct {
    const char *title;
    quantity get;
    int curves;
} kinds[HP_WAVE_COUNT] = {
    [HP_WAVE_CURRENT] = {"Phase current, A", current_of, HP_PHASE_COUNT},
    [HP_WAVE_BACKEMF] = {"Back-EMF of each phase, V", backemf_of, HP_PHASE_COUNT},
    [HP_WAVE_TORQUE] = {"Torque on the rotor, N m", torque_of, 1},
    [HP_WAVE_SPEED] = {"Rotor speed, rev/min", speed_of, 1},
};

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
static void fill_time(hp_waves *w)
{
    double from = w->trace->sample[0].time, until = w->trace->sample[w->trace->count - 1].time;
    double ms = until - from < 10.0 ? 1000.0 : 1.0;
    w->unit = ms > 1.0 ? "ms" : "s";
    w->until = ms * (until - from);
    for (size_t k = 0; k < w->trace->count; k++)
        w->time[k] = ms * (w->trace->sample[k].time - from);
}

hp_result hp_waves_make(hp_waves *waves, const hp_trace *trace, hp_error *err)
{
    memset(waves, 0, sizeof *waves);
    hp_result result = check_trace(trace, err);
    if (result != HP_OK)
        return result;
    size_t samples = trace->count * sizeof(double), thinned = 2 * BINS * sizeof(double);
    *waves = (hp_waves){.trace = trace,
                        .time = malloc(samples),
                        .value = malloc(samples),
                        .thin_x = malloc(thinned),
                        .thin_y = malloc(thinned)};
    if (!waves->time || !waves->value || !waves->thin_x || !waves->thin_y) {
        hp_waves_free(waves);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a picture of %zu samples",
                            trace->count);
    }
    fill_time(waves);
    return HP_OK;
}

void hp_waves_free(hp_waves *waves)
{
    free(waves->time);
    free(waves->value);
    free(waves->thin_x);
    free(waves->thin_y);
    memset(waves, 0, sizeof *waves);
}

const char *hp_wave_title(hp_wave_kind kind)
{
    return kinds[kind].title;
}

void hp_wave_range(const hp_trace *trace, hp_wave_kind kind, double *low, double *high)
{
    for (size_t k = 0; k < trace->count; k++)
        for (int p = 0; p < kinds[kind].curves; p++)
            hp_range_take(kinds[kind].get(&trace->sample[k], p), low, high);
}

/* Thins value over time into thin_x, thin_y; returns the number of points. A value that is not
 * finite passes as a gap. */
static size_t thin(hp_waves *w)
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

void hp_wave_draw(const hp_canvas *canvas, hp_waves *waves, const hp_axes *axes, hp_wave_kind kind,
                  const hp_labels *labels)
{
    if (!canvas)
        return;
    for (int p = 0; p < kinds[kind].curves; p++) {
        for (size_t k = 0; k < waves->trace->count; k++)
            waves->value[k] = kinds[kind].get(&waves->trace->sample[k], p);
        size_t count = thin(waves);
        if (kinds[kind].curves > 1)
            hp_lead_curve(canvas, axes, waves->thin_x, waves->thin_y, count, p,
                          labels->motor_lead[p]);
        else
            hp_pen_curve(canvas, axes, waves->thin_x, waves->thin_y, count, HP_INK_BLACK, 2.5,
                         HP_DASH_SOLID);
    }
}

double hp_wave_legend(const hp_canvas *canvas, const hp_look *look, double x, double y,
                      double width, const hp_labels *labels)
{
    hp_type type = hp_look_small(look, HP_INK_BLACK, HP_ALIGN_LEFT, false);
    double sample = 3.0 * look->small, gap = 0.4 * look->small;
    double each = width / HP_PHASE_COUNT, room = each - sample - 3.0 * gap;
    for (int p = 0; p < HP_PHASE_COUNT; p++) {
        char name[2 * HP_LABEL_SIZE];
        hp_pen_cut(type, room, hp_picture_label_fit(labels->motor_lead, p, type, room), name,
                   sizeof name);
        hp_lead_sample(canvas, x, y, sample, p, labels->motor_lead[p]);
        hp_pen_text(canvas, x + sample + gap, y, type, name);
        x += sample + 3.0 * gap + hp_pen_text_width(type, name);
    }
    return x;
}
