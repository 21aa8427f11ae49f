/*
 * The wiring sheet as one HTML file that needs nothing else: no script, no picture beside it,
 * nothing fetched. Made to be read on a telephone and printed on A4.
 */
#ifndef HUBPHASE_SRC_REPORT_SHEET_SHEET_HTML_H
#define HUBPHASE_SRC_REPORT_SHEET_SHEET_HTML_H

#include "report/sheet/wiring_sheet.h"

#include <stdio.h>

/* HP_FAIL_IO when the stream did not take everything; HP_FAIL_LIBRARY, HP_FAIL_MEMORY when a
 * picture could not be drawn. */
hp_result hp_sheet_html_write(const hp_wiring_sheet *sheet, FILE *out, hp_error *err);

#endif
