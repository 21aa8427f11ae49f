/*
 * A survey, or one wiring of it, as JSON. The fields are a contract: docs/json.md.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_SURVEY_JSON_H
#define HUBPHASE_SRC_REPORT_DATA_SURVEY_JSON_H

#include "hubphase/base/result.h"
#include "report/data/report_case.h"

#include <stdio.h>

/* Writes the object with `scenario`, `parameters` and `wirings`, one entry a row in the order
 * given, and a newline. The same rows give the same bytes. HP_FAIL_MEMORY, or HP_FAIL_IO when `out`
 * cannot be written. */
hp_result hp_survey_json_write(const hp_report_case *subject, const hp_report_row *row, int count,
                               FILE *out, hp_error *err);

#endif
