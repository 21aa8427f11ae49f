/*
 * A spread as text for a terminal of 80 columns, readable without colour.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_SPREAD_TEXT_H
#define HUBPHASE_SRC_REPORT_WORDS_SPREAD_TEXT_H

#include "hubphase/decide/spread.h"
#include "report/data/report_case.h"

#include <stdbool.h>
#include <stdio.h>

/* Parts, what was varied, the likeliest verdicts as a table, shares and bands of every wiring, what
 * drives them, cautions. */
void hp_spread_print(const hp_report_case *subject, const hp_spread *spread, bool colour,
                     FILE *out);

#endif
