/*
 * The rest of the wiring: what hangs on the controller besides the motor, as the scenario lists it.
 * Free text, used only to talk to people; nothing of it is simulated.
 */
#ifndef HUBPHASE_MODEL_HARNESS_H
#define HUBPHASE_MODEL_HARNESS_H

#include "hubphase/base/api.h"
#include "hubphase/model/labels.h"

HP_API_BEGIN

#define HP_HARNESS_PARTS 12
#define HP_HARNESS_LEADS 8

typedef struct hp_harness_lead {
    char colour[HP_LABEL_SIZE];   /* colour, number, what is printed beside the pin */
    char function[HP_LABEL_SIZE]; /* what it carries; never empty */
} hp_harness_lead;

typedef struct hp_harness_part {
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
