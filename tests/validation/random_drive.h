/*
 * Random machines over the ranges that hub motors span, and scenario files that describe them.
 */
#ifndef HUBPHASE_TESTS_RANDOM_DRIVE_H
#define HUBPHASE_TESTS_RANDOM_DRIVE_H

#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"

#include <stdint.h>
#include <stdio.h>

/* A machine, and how it is started and joined. */
typedef struct random_case {
    uint64_t seed;
    hp_drive drive; /* passes hp_drive_check */
    int wiring;     /* 1..36 */
    double angle;   /* [rad electrical] rest angle */
} random_case;

/* The machine of this seed: direct drive or geared, sound or, one in ten, with a fault. */
random_case random_case_make(uint64_t seed);

/* Writes a scenario from which the program reads the same drive, to rounding. The head comment says
 * how to run the case. */
void random_case_write(const random_case *c, const hp_run_options *options, const char *why,
                       FILE *file);

#endif
