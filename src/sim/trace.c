/* Trace: see the header. */
#include "sim/trace.h"

#include "hubphase/sim/engine.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

hp_trace hp_trace_init(double from, double until, double interval)
{
    hp_trace trace;
    memset(&trace, 0, sizeof trace);
    trace.from = from;
    trace.until = until;
    trace.interval = interval;
    return trace;
}

/* Grows an array of `size`-byte items so that it holds at least `wanted`. */
static hp_result grow(void **items, size_t *capacity, size_t wanted, size_t size)
{
    if (wanted <= *capacity)
        return HP_OK;
    if (wanted > SIZE_MAX / 2 / size)
        return HP_FAIL_MEMORY;
    size_t target = *capacity ? *capacity : 256;
    while (target < wanted)
        target *= 2;
    void *grown = realloc(*items, target * size);
    if (!grown)
        return HP_FAIL_MEMORY;
    *items = grown;
    *capacity = target;
    return HP_OK;
}

hp_result hp_trace_reserve(hp_trace *trace, size_t samples, size_t events, hp_error *err)
{
    if (grow((void **)&trace->sample, &trace->capacity, samples, sizeof *trace->sample) != HP_OK ||
        grow((void **)&trace->event, &trace->event_capacity, events, sizeof *trace->event) != HP_OK)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a trace of %zu samples", samples);
    return HP_OK;
}

hp_result hp_trace_add_sample(hp_trace *trace, const hp_sample *sample)
{
    if (grow((void **)&trace->sample, &trace->capacity, trace->count + 1, sizeof *trace->sample) !=
        HP_OK)
        return HP_FAIL_MEMORY;
    trace->sample[trace->count++] = *sample;
    return HP_OK;
}

hp_result hp_trace_add_event(hp_trace *trace, double time, hp_event_kind kind, int which)
{
    if (grow((void **)&trace->event, &trace->event_capacity, trace->event_count + 1,
             sizeof *trace->event) != HP_OK)
        return HP_FAIL_MEMORY;
    trace->event[trace->event_count++] = (hp_event){.time = time, .kind = kind, .which = which};
    return HP_OK;
}

hp_result hp_trace_add_response(hp_trace *trace, const hp_response *response)
{
    if (grow((void **)&trace->response, &trace->response_capacity, trace->response_count + 1,
             sizeof *trace->response) != HP_OK)
        return HP_FAIL_MEMORY;
    trace->response[trace->response_count++] = *response;
    return HP_OK;
}

const char *hp_event_name(hp_event_kind kind)
{
    switch (kind) {
    case HP_EVENT_SENSOR: return "sensor";
    case HP_EVENT_CORNER: return "corner";
    case HP_EVENT_DIODE: return "diode";
    case HP_EVENT_STICK: return "stick";
    case HP_EVENT_SLIP: return "slip";
    case HP_EVENT_CLUTCH: return "clutch";
    case HP_EVENT_DUTY: return "duty";
    case HP_EVENT_PWM: return "pwm";
    case HP_EVENT_CUTOUT: return "cutout";
    case HP_EVENT_DEMAND: return "demand";
    case HP_EVENT_KIND_COUNT: break;
    }
    return "unknown";
}

void hp_trace_free(hp_trace *trace)
{
    free(trace->sample);
    free(trace->event);
    free(trace->response);
    memset(trace, 0, sizeof *trace);
}
