/*
 * Fields and lines of CSV by RFC 4180: a field with a comma, a quote or a line break stands in
 * quotes, a quote inside is doubled, lines end with CR LF.
 *
 * A text that begins with =, +, -, @, a tab or CR gets an apostrophe in front: a spreadsheet that
 * opens the file would run it as a formula (common practice). Numbers stay as they are.
 */
#ifndef HUBPHASE_SRC_REPORT_DATA_CSV_H
#define HUBPHASE_SRC_REPORT_DATA_CSV_H

#include <stdio.h>

/* A line being written. Start with hp_csv_line, add fields, finish with hp_csv_end. */
typedef struct hp_csv {
    FILE *out;  /* borrowed */
    int fields; /* written so far on this line */
} hp_csv;

hp_csv hp_csv_line(FILE *out);
void hp_csv_text(hp_csv *csv, const char *text);
void hp_csv_integer(hp_csv *csv, long value);
/* Nine significant digits; NaN and infinity give an empty field. */
void hp_csv_number(hp_csv *csv, double value);
void hp_csv_end(hp_csv *csv);

#endif
