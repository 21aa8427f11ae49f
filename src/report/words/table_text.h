/*
 * A survey as text for a terminal of 80 columns, readable without colour.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_TABLE_TEXT_H
#define HUBPHASE_SRC_REPORT_WORDS_TABLE_TEXT_H

#include "hubphase/base/text.h"
#include "hubphase/report/tables.h"

#include <stdbool.h>
#include <stdio.h>

/* The 6 x 6 table of verdicts: sensor orders down, phase orders across, one word or sign a cell.
 * colour: the words in the colours of the pictures (256-colour escape sequences). */
void hp_table_print(const hp_report_case *subject, const hp_report_row row[HP_WIRING_COUNT],
                    const hp_screen *out);

/* A line for each wiring that turns, smooth ones first; then what the columns mean. Undecided
 * wirings are listed below with their reasons. `count` rows in any order, at most HP_WIRING_COUNT.
 */
void hp_rows_print(const hp_report_case *subject, const hp_report_row *row, int count,
                   const hp_screen *out);

#endif
