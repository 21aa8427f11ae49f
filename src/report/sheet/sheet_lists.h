/*
 * The two lists of a wiring sheet: readings and settings.
 */
#ifndef HUBPHASE_SRC_REPORT_SHEET_SHEET_LISTS_H
#define HUBPHASE_SRC_REPORT_SHEET_SHEET_LISTS_H

#include "report/sheet/wiring_sheet.h"

/* Readings of the healthy parts as found, from the log; what the scenario states stands beside. */
void hp_sheet_fill_readings(hp_wiring_sheet *sheet);
/* Settings that the scenario states or the log read off the controller. */
void hp_sheet_fill_settings(hp_wiring_sheet *sheet);

/* The last trial of this wiring (0: of any) that ran smoothly forward; NULL when there is none. */
const hp_entry *hp_sheet_working_trial(const hp_sheet_source *source, int number);

/* Adds a line; its value and origin are still empty. NULL when the list is full. */
hp_sheet_line *hp_sheet_add(hp_sheet_list *list, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
