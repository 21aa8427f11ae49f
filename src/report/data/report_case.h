/*
 * What table, CSV and JSON take from a row, so that they cannot disagree.
 */
#ifndef HUBPHASE_REPORT_DATA_REPORT_CASE_H
#define HUBPHASE_REPORT_DATA_REPORT_CASE_H

#include "hubphase/report/tables.h"

#include <stdbool.h>

/* The numbers of a row with the names that CSV and JSON share, in their order; the counts of starts
 * stand after the first HP_REPORT_FIELDS_FIRST of them. */
typedef struct hp_report_field {
    const char *name;
    double value;
} hp_report_field;

#define HP_REPORT_FIELDS_FIRST 9
#define HP_REPORT_FIELDS       12

/* Fills field[] and returns HP_REPORT_FIELDS. */
int hp_report_row_fields(const hp_report_row *row, hp_report_field field[HP_REPORT_FIELDS]);

/* Whether the wheel turns at another speed than the rotor, so that both must be shown. */
bool hp_report_case_geared(const hp_report_case *subject);

#endif
