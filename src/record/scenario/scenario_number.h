/*
 * Numbers as a scenario may spell them: 36, 0.21, -5, 1.5e-3. Nothing else, whatever the locale. An
 * answer to a question may be spelled as a meter or a hand does it: 0,21 or 36 V.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_NUMBER_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_NUMBER_H

#include "hubphase/decide/readings.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum hp_number_fault {
    HP_NUMBER_FINE,
    HP_NUMBER_COMMA,    /* 0,21 */
    HP_NUMBER_UNIT,     /* 36 V */
    HP_NUMBER_GROUPED,  /* 1 000 or 1_000 or 1,000,000 */
    HP_NUMBER_BASE,     /* 0x17 */
    HP_NUMBER_NAN,      /* .nan */
    HP_NUMBER_INFINITE, /* .inf, or 1e999 */
    HP_NUMBER_WORD      /* anything else */
} hp_number_fault;

/* Reads the whole text. The value is set only when the fault is HP_NUMBER_FINE. */
hp_number_fault hp_number_read(const char *text, double *value);

bool hp_number_fits(double number, const hp_limits *limits);

/* What to do about a fault, such as ": write 0.21, with a decimal point"; may be empty. What it
 * says to write is within the limits. Returns out. */
char *hp_number_hint(hp_number_fault fault, const char *text, const hp_limits *limits, char *out,
                     size_t size);

/* The same of an entry of a list, such as "50 75 100": ": put commas between them: 50, 75, 100";
 * without the numbers where they may not all stand there. Empty where it is not several. */
char *hp_number_list_hint(const char *text, const hp_limits *limits, char *out, size_t size);

/* An answer as a scenario would spell it: with a point for a comma, without the unit that was asked
 * for. Where that makes no number the text stays as it is. Returns out. */
char *hp_number_typed(const char *text, const char *unit, char *out, size_t size);

#endif
