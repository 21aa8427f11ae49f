/*
 * What people call the parts and leads, and what else hangs on the controller: free text from the
 * scenario, used only to talk to them. Nothing of it is simulated.
 */
#ifndef HUBPHASE_MODEL_LABELS_H
#define HUBPHASE_MODEL_LABELS_H

#include "hubphase/base/result.h"
#include "hubphase/model/wiring.h"

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

/* ---- the rest of the wiring, as the scenario lists it ---------------------------------------- */

#define HP_HARNESS_PARTS 12
#define HP_HARNESS_LEADS 8

typedef struct hp_harness_lead {
    char colour[HP_LABEL_SIZE];   /* colour, number, what is printed beside the pin */
    char function[HP_LABEL_SIZE]; /* what it carries; never empty */
} hp_harness_lead;

/* The controls that commissioning has a step for. */
typedef enum hp_control_part {
    HP_CONTROL_PART_NONE, /* not said, or something else */
    HP_CONTROL_PART_KEY,
    HP_CONTROL_PART_THROTTLE,
    HP_CONTROL_PART_BRAKE,
    HP_CONTROL_PART_PEDAL_SENSOR,
    HP_CONTROL_PART_SPEED_SWITCH,
    HP_CONTROL_PART_DISPLAY,
    HP_CONTROL_PART_LEARN_LEAD,
    HP_CONTROL_PART_COUNT
} hp_control_part;

/* "pedal_sensor", as in files; NULL: it has no name. Static storage. */
const char *hp_control_part_name(hp_control_part control);

typedef struct hp_harness_part {
    hp_control_part control;  /* which control it is */
    char name[HP_LABEL_SIZE]; /* "throttle grip"; never empty */
    char note[200];           /* may be empty */
    hp_harness_lead lead[HP_HARNESS_LEADS];
    int leads; /* 0: it has none of its own, such as a fuse in a lead already named */
} hp_harness_part;

/* Holds its texts itself; {0} is a harness of which nothing is known. */
typedef struct hp_harness {
    hp_harness_part part[HP_HARNESS_PARTS];
    int parts;
} hp_harness;

HP_API_END

#endif
