/*
 * What people call the parts and leads: free text from the scenario, used only to talk to them.
 */
#ifndef HUBPHASE_MODEL_LABELS_H
#define HUBPHASE_MODEL_LABELS_H

#include "hubphase/base/api.h"
#include "hubphase/model/phase.h"

#include <stdbool.h>

HP_API_BEGIN

#define HP_LABEL_SIZE 64 /* bytes, UTF-8, terminated */

typedef struct hp_labels {
    char machine[128]; /* "Allotment barrow" */
    char motor[128];
    char controller[128];
    char motor_lead[HP_PHASE_COUNT][HP_LABEL_SIZE];        /* phase lead on axis U, V, W */
    char motor_sensor[HP_PHASE_COUNT][HP_LABEL_SIZE];      /* sensor lead on axis U, V, W */
    char controller_output[HP_PHASE_COUNT][HP_LABEL_SIZE]; /* output U, V, W of the table */
    char controller_input[HP_PHASE_COUNT][HP_LABEL_SIZE];  /* input U, V, W of the table */
    bool axes_known; /* each lead is known to sit on its axis; else the names are only names */
} hp_labels;

/* Names empty; leads "U", "V", "W" on every side, on their axes. */
hp_labels hp_labels_default(void);

HP_API_END

#endif
