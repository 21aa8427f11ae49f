/*
 * Records comparisons for docs/validation.md while the tests make them.
 *
 * A row goes to SECTION.jsonl in the folder that HP_VALIDATION_DIR names at build time, in the form
 * that results.py describes, and only then is judged: a failing row is in the file too.
 */
#ifndef HUBPHASE_TESTS_RECORD_H
#define HUBPHASE_TESTS_RECORD_H

#include <stdbool.h>

typedef struct record_source {
    const char *name;   /* author, title, year */
    const char *status; /* run, read, second-hand, memory, derived, common practice */
} record_source;

/* Starts a section anew; its rows follow until the next call. */
void record_section(const char *section);
/* Writes a row; returns whether value lies within the tolerance (absolute) of the reference. */
bool record_row(const char *name, const char *unit, double value, double reference,
                double tolerance, const char *reason, record_source source);

/* Records and asserts. Include check.h first. */
#define check_recorded(name, unit, value, reference, tolerance, reason, source)                    \
    do {                                                                                           \
        double recorded_value = (value), recorded_reference = (reference);                         \
        bool recorded_good = record_row((name), (unit), recorded_value, recorded_reference,        \
                                        (tolerance), (reason), (source));                          \
        check_true(recorded_good, "%s is %.12g, reference %.12g, tolerance %.3g (%s)", (name),     \
                   recorded_value, recorded_reference, (double)(tolerance), (reason));             \
    } while (0)

#endif
