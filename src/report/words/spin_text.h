/*
 * One run of one wiring as text: what it did, where the energy went, what the program did for it.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_SPIN_TEXT_H
#define HUBPHASE_SRC_REPORT_WORDS_SPIN_TEXT_H

#include "report/data/report_case.h"

#include <stdio.h>

/* Joints, verdict from this one rest angle, figures, power, cautions. */
void hp_spin_print(const hp_report_case *subject, const hp_wiring *wiring,
                   const hp_judgement *judgement, const hp_figures *figures, FILE *out);

#endif
