/*
 * A survey as CSV: a head line and a line for each wiring. Columns: docs/json.md.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_SURVEY_CSV_H
#define HUBPHASE_SRC_REPORT_DATA_SURVEY_CSV_H

#include "hubphase/base/result.h"
#include "report/data/report_case.h"

#include <stdio.h>

/* HP_FAIL_IO when `out` cannot be written. */
hp_result hp_survey_csv_write(const hp_report_case *subject, const hp_report_row *row, int count,
                              FILE *out, hp_error *err);

#endif
