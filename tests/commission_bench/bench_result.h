/*
 * What a bench found: printed, and as a section of docs/validation.md
 * (tests/validation/results.py).
 */
#ifndef HUBPHASE_TESTS_BENCH_RESULT_H
#define HUBPHASE_TESTS_BENCH_RESULT_H

#include <jansson.h>
#include <stdio.h>

#define BENCH_CELL 64

typedef struct bench_result {
    FILE *file; /* NULL: printed only */
    json_t *table;
    int failures;
} bench_result;

/* `path` NULL: printed only. */
bench_result bench_result_begin(const char *path);
void bench_note(bench_result *r, const char *text);
/* A count that may be `most` at most. */
void bench_count(bench_result *r, const char *name, int count, int most, const char *reason);
void bench_table_begin(bench_result *r, const char *title, int columns, const char *const column[]);
void bench_table_row(bench_result *r, int columns, char cell[][BENCH_CELL]);
/* Writes it all; how many counts were too many. */
int bench_result_end(bench_result *r);

/* Where the share of hits among cases lies in 95 of 100 (E. B. Wilson, 1927; from memory). */
void bench_wilson(int hits, int cases, double *low, double *high);

#endif
