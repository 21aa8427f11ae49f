/*
 * A spread as JSON. The fields are a contract: docs/json.md.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_SPREAD_JSON_H
#define HUBPHASE_SRC_REPORT_DATA_SPREAD_JSON_H

#include "hubphase/decide/spread.h"
#include "report/data/report_case.h"

#include <stdio.h>

/* Writes the object with `scenario`, `parameters`, `ensemble`, `wirings` and `groups`, and a
 * newline. The same spread gives the same bytes. HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot be
 * written. */
hp_result hp_spread_json_write(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                               hp_error *err);

#endif
