/*
 * What the scenario says is faulty in the machine, in the leads' names.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_FAULT_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_FAULT_WORDS_H

#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"

#include <stdbool.h>
#include <stddef.h>

#define HP_FAULT_WORDS 480

/* "the blue phase lead is open; the Hall sensor on the green lead is stuck at 1"; empty where every
 * part is good. Returns out. */
char *hp_fault_words(const hp_drive *drive, const hp_labels *labels, char *out, size_t size);

/* Whether the sensors, all good, show codes that the controller's table lacks, as 60-degree sensors
 * do to a table for 120-degree ones. */
bool hp_codes_missing(const hp_drive *drive);

#endif
