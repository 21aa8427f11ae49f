/*
 * The wiring sheet as a PDF of A4 pages, with the same content and the same figures as the HTML.
 */
#ifndef HUBPHASE_SRC_REPORT_SHEET_SHEET_PDF_H
#define HUBPHASE_SRC_REPORT_SHEET_SHEET_PDF_H

#include "report/sheet/wiring_sheet.h"

#include <stddef.h>

/* Draws into memory; *bytes is for the caller to free. Errors as hp_canvas_render. */
hp_result hp_sheet_pdf_render(const hp_wiring_sheet *sheet, char **bytes, size_t *size,
                              hp_error *err);

#endif
