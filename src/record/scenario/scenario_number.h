/*
 * Numbers as a scenario may spell them: 36, 0.21, -5, 1.5e-3. Nothing else, whatever the locale.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_NUMBER_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_NUMBER_H

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

/* What to do about a fault, such as ": write 0.21, with a decimal point"; may be empty. `unit` is
 * the unit that the key spells, or "". Returns out. */
char *hp_number_hint(hp_number_fault fault, const char *text, const char *unit, char *out,
                     size_t size);

#endif
