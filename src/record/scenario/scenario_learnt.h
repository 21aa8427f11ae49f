/*
 * What a scenario was before its figures were learnt from a bench log: the section learnt_from,
 * which `hubphase commission --write` adds.
 *
 *     learnt_from:
 *       log: barrow.bench.yaml
 *       entries: 22
 *       before:
 *         motor.resistance_between_leads_ohm: 0.25
 *         controls.throttle.rest_v: not_stated
 *
 * The readings of that log are held against what stood there before, so that none counts twice.
 */
#ifndef HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LEARNT_H
#define HUBPHASE_SRC_RECORD_SCENARIO_SCENARIO_LEARNT_H

#include "record/scenario/scenario_load.h"
#include "record/scenario/scenario_read.h"

#define HP_LEARNT_KEYS       64
#define HP_LEARNT_NOT_STATED "not_stated"

/* The keys that were stated otherwise; each `text` points into its own `room`. */
typedef struct hp_before {
    hp_scenario_change key[HP_LEARNT_KEYS];
    char room[HP_LEARNT_KEYS][96];
    int count;
} hp_before;

/* Reads learnt_from.before; adds what is wrong in it. */
void hp_learnt_read(hp_reader *reader, hp_before *before);

#endif
