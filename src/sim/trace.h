/*
 * Recording into a trace.
 */
#ifndef HUBPHASE_SIM_TRACE_H
#define HUBPHASE_SIM_TRACE_H

#include "hubphase/sim/engine.h"

#include <stddef.h>

/* Reserves room so that recording does not allocate; HP_FAIL_MEMORY when it cannot. */
hp_result hp_trace_reserve(hp_trace *trace, size_t samples, size_t events, hp_error *err);
hp_result hp_trace_add_sample(hp_trace *trace, const hp_sample *sample);
hp_result hp_trace_add_response(hp_trace *trace, const hp_response *response);
hp_result hp_trace_add_event(hp_trace *trace, double time, hp_event_kind kind, int which);

#endif
