/*
 * The waveforms of a run as CSV: a head line and a line a sample. Columns: docs/json.md.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_TRACE_CSV_H
#define HUBPHASE_SRC_REPORT_DATA_TRACE_CSV_H

#include "hubphase/base/result.h"
#include "hubphase/sim/trace.h"

#include <stdio.h>

/* HP_FAIL_IO when `out` cannot be written. */
hp_result hp_trace_csv_write(const hp_trace *trace, FILE *out, hp_error *err);

#endif
