/*
 * The parts of a scenario in a few lines of plain text.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_PARTS_TEXT_H
#define HUBPHASE_SRC_REPORT_WORDS_PARTS_TEXT_H

#include "hubphase/base/text.h"
#include "hubphase/report/tables.h"

#include <stdio.h>

#define HP_PARTS_INDENT 12 /* columns of the titles at the left */

/* Machine, motor, sensors, controller, supply, wheel, names of the leads; faults are named with the
 * part that has them. */
void hp_parts_print(const hp_report_case *subject, const hp_screen *out);

/* Who is joined to whom in one wiring, a line for each of the six joints. */
void hp_joints_print(const hp_report_case *subject, const hp_wiring *wiring, const hp_screen *out);

/* "U", or "U (yellow)" where the scenario gives the lead another name. Returns out. */
char *hp_lead_name(int phase, const char *label, char *out, size_t size);

#endif
