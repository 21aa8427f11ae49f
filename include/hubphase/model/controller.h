/*
 * The controller: throttle, ramp, limits, cut-outs; and the bridge that applies the duty.
 *
 * Duty rises by at most `ramp_per_s` towards throttle * speed cap. Two limiters pull it down:
 * d(duty)/dt = min(ramp, gain * margin), margin = 1 - max(i_battery_filtered / battery limit,
 * i_phase_filtered / phase limit); the phase current measured is half the sum of the three
 * magnitudes, which equals the largest of them. Limiting battery current alone lets phase current
 * exceed it by about 1 / duty.
 */
#ifndef HUBPHASE_MODEL_CONTROLLER_H
#define HUBPHASE_MODEL_CONTROLLER_H

#include "hubphase/base/result.h"
#include "hubphase/model/wiring.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- commutation table: sensor code to driven pair of outputs -------------------------------- */

/* A code is three bits, U V W as the controller's inputs see them, read as a binary number with U
 * first: code 100 is 4. A row drives one output high and another low, or is off. */

#define HP_CODE_COUNT   8
#define HP_SECTOR_COUNT 6

typedef struct hp_commutation_row {
    int high; /* hp_phase of the output driven high, or -1: all outputs off */
    int low;  /* hp_phase of the output driven low, or -1 */
} hp_commutation_row;

typedef struct hp_commutation_table {
    hp_commutation_row row[HP_CODE_COUNT]; /* indexed by code */
} hp_commutation_table;

/* Code from three bits (each 0 or 1). */
static inline int hp_code(int u, int v, int w)
{
    return 4 * u + 2 * v + w;
}

/* The usual table for 120-degree sensors; it leads the rotor by 60 to 120 degrees:
 * 100 V>W, 110 V>U, 010 W>U, 011 W>V, 001 U>V, 101 U>W (high > low). 000 and 111 are off. */
hp_commutation_table hp_commutation_table_120(void);
/* The same outputs for 60-degree sensors (input V inverted): 100 becomes 110 and so on. */
hp_commutation_table hp_commutation_table_60(void);
/* All rows off. */
hp_commutation_table hp_commutation_table_empty(void);

/* Whether this is a true six-step table: exactly six codes driven, no pair twice, no output against
 * itself, the codes form a ring in which neighbours differ in one bit, and going round the ring the
 * pairs step by 60 degrees all in one sense. HP_FAIL_INPUT names the first row that breaks it. */
hp_result hp_commutation_table_check(const hp_commutation_table *table, hp_error *err);

/* ---- throttle, limits, bridge ---------------------------------------------------------------- */

typedef enum hp_pwm_kind {
    HP_PWM_AVERAGED,      /* a driven high leg sits at duty * bus voltage */
    HP_PWM_COMPLEMENTARY, /* real edges: high leg switches between bus and ground */
    HP_PWM_ONE_SIDED,     /* real edges: high leg switches off, its diode freewheels */
    HP_PWM_KIND_COUNT
} hp_pwm_kind;

typedef struct hp_controller_params {
    hp_commutation_table table;
    double throttle;   /* 0..1 of full travel */
    double speed_cap;  /* duty cap of the chosen speed step; 0 < cap <= 1 */
    double ramp_per_s; /* [1/s] duty per second; > 0, or 0: no ramp, full duty at once; <= 1e6 */
    double battery_limit_a; /* on the filtered battery current; 0: no limit; <= 1e4 */
    double phase_limit_a;   /* on the filtered phase current; 0: no limit; <= 1e4 */
    double filter_s;        /* time constant of both current filters; 1e-5..10 */
    double limiter_per_s;   /* [1/s] gain of the limiters; 1e-3..1e4 */
    double stall_cutout_s;  /* all legs off so long after a sensor edge; 0: never; <= 3600 */
    double undervoltage_v;  /* all legs off below this filtered bus voltage; 0: never; <= 200 */
    hp_pwm_kind pwm;
    double pwm_hz;                /* 100..1e6; real edges only */
    double switch_resistance_ohm; /* one switch, on; 0..100 */
    double diode_drop_v;          /* one antiparallel diode; 0..5 */
} hp_controller_params;

hp_controller_params hp_controller_params_default(void);
hp_result hp_controller_params_check(const hp_controller_params *controller, hp_error *err);

HP_API_END

#endif
