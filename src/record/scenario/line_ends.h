/*
 * How the lines of a text end: in LF, CR LF or CR alone, as the reader of scenarios and logs counts
 * them. Who adds lines to a text ends them as its own.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_LINE_ENDS_H
#define HUBPHASE_SRC_RECORD_SCENARIO_LINE_ENDS_H

#include <stddef.h>
#include <stdio.h>

/* Bytes of the line's end that stands at `at`; 0: none does. */
size_t hp_line_end_at(const char *at);

/* What the first line of a text ends in; a line feed where it has but one. */
const char *hp_line_end_of(const char *text);

/* Writes `lines`, which end in line feeds, with the ends that `text` has. */
void hp_line_ends_put(FILE *out, const char *text, const char *lines);

#endif
