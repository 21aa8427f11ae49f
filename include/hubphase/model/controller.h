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

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/model/commutation.h"

#include <stdbool.h>

HP_API_BEGIN

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
