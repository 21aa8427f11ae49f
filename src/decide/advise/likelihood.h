/*
 * Likelihood table: what every case shows, over an ensemble of plausible motors.
 *
 * Each case of decide/advise/behaviour.h is simulated with each motor of an ensemble, at each
 * throttle level, from several rest angles. Kept of every (level, case, motor): how often each
 * sight was seen, how often the controller cut out, and the mean wheel speed and battery current.
 * Numbers are kept on a fine grid, so that a table read back from its text is the same table, byte
 * for byte.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_LIKELIHOOD_H
#define HUBPHASE_SRC_DECIDE_ADVISE_LIKELIHOOD_H

#include "decide/advise/behaviour.h"
#include "decide/advise/sight.h"
#include "hubphase/decide/spread.h"
#include "sim/pool.h"

#include <stdint.h>
#include <stdio.h>

#define HP_LEVEL_MAX 4
/* Most rest angles of a case and motor: a count is one hex digit. */
#define HP_LIKELIHOOD_STARTS 15
#define HP_LIKELIHOOD_MOTORS 256

typedef struct hp_likelihood_options {
    hp_variation_params variation;
    uint64_t seed;
    int motors;                 /* 1..HP_LIKELIHOOD_MOTORS */
    int starts;                 /* rest angles; 1..HP_LIKELIHOOD_STARTS */
    int levels;                 /* 1..HP_LEVEL_MAX */
    double level[HP_LEVEL_MAX]; /* throttle over the nominal drive's throttle; > 0 */
    hp_run_options run;         /* start_angle is set by the build */
    int jobs;                   /* threads; 0: one a processor; no part of the content */
    hp_progress progress;       /* may be NULL; likewise */
    void *user;
} hp_likelihood_options;

/* 24 motors, 8 rest angles, nominal throttle and 0.4 of it. */
hp_likelihood_options hp_likelihood_options_default(void);

typedef struct hp_record {
    uint8_t sight[HP_SIGHT_COUNT]; /* runs that showed it */
    uint8_t cut_out;               /* runs that the controller ended */
    /* Logarithms on a grid, see hp_grid_value; 0: no such run. */
    uint16_t wheel_speed;      /* [rad/s] magnitude, over runs that turned the wheel */
    uint16_t current_turning;  /* [A] battery, over runs that turned wheel or rotor */
    uint16_t current_standing; /* [A] battery, over the others */
} hp_record;

typedef struct hp_likelihood {
    hp_likelihood_options options;
    hp_drive nominal;
    hp_behaviour_map map;
    hp_drive *motor;   /* owned; [motors] the ensemble, sound, textbook table */
    hp_record *record; /* owned; [(level * cases + case) * motors + motor] */
    char *basis;       /* owned; text of everything that the table was computed from */
} hp_likelihood;

/* Value of a grid number and back: e^(0.001 (n - 32768)); n = 0 stands for none, NAN. */
double hp_grid_value(uint16_t number);
uint16_t hp_grid_number(double value);

/* Simulates everything. The same bytes for any number of jobs. HP_FAIL_INPUT for a bad drive or
 * options, HP_FAIL_CANCELLED when progress stopped it. Free with hp_likelihood_free. */
hp_result hp_likelihood_build(const hp_drive *nominal, const hp_likelihood_options *options,
                              hp_likelihood *likelihood, hp_error *err);
void hp_likelihood_free(hp_likelihood *likelihood);

/* Simulates one record afresh; the table's own is not touched. */
hp_record hp_likelihood_simulate(const hp_likelihood *likelihood, hp_engine *engine, int level,
                                 int behaviour, int motor);

const hp_record *hp_likelihood_record(const hp_likelihood *likelihood, int level, int behaviour,
                                      int motor);
/* The level nearest to a throttle 0..1, on a logarithmic scale. */
int hp_likelihood_level(const hp_likelihood *likelihood, double throttle);

/* ---- as text --------------------------------------------------------------------------------- */

/* Text of everything that decides the content, the drive's own faults left out; owned by the
 * caller. NULL when memory fails. */
char *hp_likelihood_basis(const hp_drive *nominal, const hp_likelihood_options *options);

/* Writes the table, ended by a check sum. HP_FAIL_IO when the stream fails. */
hp_result hp_likelihood_write(const hp_likelihood *likelihood, FILE *out, hp_error *err);

/* Reads what hp_likelihood_write wrote. HP_FAIL_INPUT when the text is damaged or is a table of
 * something else than this drive and these options: never trusted, the caller builds afresh. */
hp_result hp_likelihood_read(const char *text, size_t size, const hp_drive *nominal,
                             const hp_likelihood_options *options, hp_likelihood *likelihood,
                             hp_error *err);

/* The table of hp_drive_default() with default options, as text; part of the library. */
extern const char hp_likelihood_default_text[];

#endif
