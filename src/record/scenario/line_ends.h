/*
 * How the lines of a text end: in LF, CR LF or CR alone, as the reader of scenarios and logs counts
 * them. Who adds lines to a text ends them as its own.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_LINE_ENDS_H
#define HUBPHASE_SRC_RECORD_SCENARIO_LINE_ENDS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Bytes of the line's end that stands at `at`; 0: none does. */
size_t hp_line_end_at(const char *at);

/* What the first line of a text ends in; a line feed where it has but one. */
const char *hp_line_end_of(const char *text);

/* Writes `lines`, which end in line feeds, with the ends that `text` has. */
void hp_line_ends_put(FILE *out, const char *text, const char *lines);

/* Lines on their way into a text, from a writer who ends them in line feeds. */
typedef struct hp_lines {
    FILE *file; /* to write them to */
    char *bytes;
    size_t size;
} hp_lines;

/* False: no memory, and nothing to finish. */
bool hp_lines_begin(hp_lines *lines);
/* Writes them with the ends that `text` has, and frees them. False: no memory. */
bool hp_lines_finish(hp_lines *lines, FILE *out, const char *text);

#endif
