/*
 * What no single key can tell: values worked out from several keys, equivalent ways to say the same
 * thing held against each other, combinations that cannot be. One function a part of the machine,
 * each once, in the order below, after hp_reader_read.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_SETTLE_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_SETTLE_H

#include "record/scenario/scenario_read.h"

/* Two ways to give the same thing may differ by this much: chosen, what two careful measurements
 * with a hand meter differ by. */
#define HP_WAYS_AGREE 0.05

void hp_settle_motor(hp_reader *reader);      /* pole pairs, resistance, open lead */
void hp_settle_shape(hp_reader *reader);      /* shape of the back-EMF */
void hp_settle_backemf(hp_reader *reader);    /* its size, by one of four ways */
void hp_settle_sensors(hp_reader *reader);    /* spacing, supply */
void hp_settle_controller(hp_reader *reader); /* table, speed steps, cut-off voltage */
void hp_settle_stand(hp_reader *reader);      /* friction, clutch */
void hp_settle_run(hp_reader *reader);        /* times */
void hp_settle_leads(hp_reader *reader);      /* labels that differ */
void hp_settle_harness(hp_reader *reader);    /* list of what else hangs on the controller */
void hp_settle_bench(hp_reader *reader);      /* chances, the person, the plan of the advice */
void hp_settle_controls(hp_reader *reader);   /* grip, lost leads, speed switch */
void hp_settle_vehicle(hp_reader *reader);    /* wheel, pack, leads, axle, heat; the ride */

/* A back-EMF shape as seen between two leads, by the amplitude of one phase. */
typedef struct hp_line_shape {
    double mean; /* over the sector in which the pair is driven, sensors well placed */
    double peak;
    double rms; /* over a turn */
} hp_line_shape;

hp_line_shape hp_line_shape_of(const hp_backemf *backemf);

#endif
