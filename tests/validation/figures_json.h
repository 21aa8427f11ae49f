/*
 * Drive, options, figures and samples as JSON, in SI units under the library's own field names.
 */
#ifndef HUBPHASE_TESTS_FIGURES_JSON_H
#define HUBPHASE_TESTS_FIGURES_JSON_H

#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"
#include "hubphase/sim/figures.h"

#include <jansson.h>

/* New references, owned by the caller. */
json_t *drive_to_json(const hp_drive *drive);
json_t *options_to_json(const hp_run_options *options);
json_t *figures_to_json(const hp_figures *figures);
/* Columns: one array a quantity. */
json_t *wave_to_json(const hp_trace *trace);

/* Numbers that are missing become 0. */
hp_figures figures_from_json(const json_t *object);

#endif
