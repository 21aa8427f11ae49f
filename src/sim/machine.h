/*
 * The machine between two events: constants of a run, the discrete mode, right-hand side and
 * guards.
 *
 * Invariant: between events the mode is fixed and the right-hand side is smooth; every change of
 * mode is announced by a guard passing from positive to negative, or is a known time. The engine
 * integrates, this file knows what an event means.
 */
#ifndef HUBPHASE_SRC_SIM_MACHINE_H
#define HUBPHASE_SRC_SIM_MACHINE_H

#include "hubphase/model/drive.h"
#include "hubphase/sim/engine.h"
#include "model/circuit.h"
#include "sim/vector.h"

/* Guards, all positive while the mode holds. */
enum hp_guard {
    HP_GUARD_FORWARD,  /* next boundary of angle ahead */
    HP_GUARD_BACKWARD, /* and behind */
    HP_GUARD_LEAD,     /* three: diode current or float voltage of a lead */
    HP_GUARD_PAIR = HP_GUARD_LEAD + HP_PHASE_COUNT, /* two floats begin to conduct together */
    HP_GUARD_ROTOR, /* stick/slip of the rotor, or of rotor and wheel as one */
    HP_GUARD_WHEEL, /* stick/slip of the wheel alone */
    HP_GUARD_CLUTCH,
    HP_GUARD_DUTY,
    HP_GUARD_VOLTAGE, /* under-voltage cut-out */
    HP_GUARD_COUNT
};

typedef enum hp_body_motion { HP_MOTION_STICK, HP_MOTION_SLIP } hp_body_motion;
typedef enum hp_duty_mode {
    HP_DUTY_HELD,
    HP_DUTY_MOVING,
    HP_DUTY_FLOOR,
    HP_DUTY_OFF,
    HP_DUTY_FALLING, /* from above what is asked for, by the ramp */
    HP_DUTY_MODE_COUNT
} hp_duty_mode;

#define HP_CORNER_MAX 12

typedef struct hp_machine {
    /* Constants of the run */
    const hp_drive *drive;
    hp_wiring wiring;
    hp_circuit_params circuit;
    double ke, pole_pairs;
    double inertia_joint, inertia_rotor, inertia_wheel;
    hp_friction friction_joint;
    double gear;
    double per_gear, per_inertia_joint, per_inertia_rotor, per_inertia_wheel; /* reciprocals */
    double per_filter;                                                        /* [1/s] */
    double duty_target;
    double ramp;          /* INFINITY: none */
    double battery_share; /* 1 / battery limit, 0: none */
    double phase_share;
    double corner[HP_CORNER_MAX]; /* [rad] ascending in [0, 2 pi) */
    int corner_count;

    /* Mode */
    bool inside[HP_PHASE_COUNT]; /* sensors */
    int code;                    /* as the controller sees it */
    int command[HP_PHASE_COUNT]; /* per motor lead: +1, -1, 0 */
    hp_leg leg[HP_PHASE_COUNT];
    hp_circuit_law law; /* of these legs */
    int segment;        /* the rotor lies between corner[segment] and the next */
    double shape_base[HP_PHASE_COUNT], shape_slope[HP_PHASE_COUNT]; /* trapezoid in this segment */
    double shape_origin; /* [rad] the angle that shape_base belongs to */
    bool joint;          /* rotor and wheel turn as one */
    hp_body_motion rotor_motion, wheel_motion;
    double rotor_sign, wheel_sign; /* direction of slip, +1 or -1 */
    hp_duty_mode duty_mode;
    bool pwm_high; /* real edges: the high part of the period */
    bool cut_out, cut_out_voltage;
    bool coasting; /* the controls ask for nothing: every leg is off until they do */
    double bound_forward, bound_backward; /* [rad] next boundaries of angle */
    long turns;                           /* whole turns taken out of HP_Y_THETA */
    double last_edge;                     /* [s] when the code changed last */
} hp_machine;

/* What the circuit and mechanics do at one state. */
typedef struct hp_instant {
    double shape[HP_PHASE_COUNT]; /* of the back-EMF */
    double backemf[HP_PHASE_COUNT];
    hp_circuit circuit;
    double torque;       /* electromagnetic */
    double rotor_torque; /* with cogging */
    double rotor_slope;  /* dw/dt */
    double wheel_slope;
    double through; /* torque the rotor hands to the wheel, at rotor speed; joint only */
    double friction_power;
    double duty_slope;
    double phase_current; /* half the sum of magnitudes */
} hp_instant;

/* Sets constants and the mode at time 0, and the state y. */
void hp_machine_start(hp_machine *machine, const hp_drive *drive, const hp_wiring *wiring,
                      const hp_run_options *options, double y[HP_STATE_COUNT]);
void hp_machine_instant(const hp_machine *machine, const double y[HP_STATE_COUNT],
                        hp_instant *instant);
/* Right-hand side and guards at a state whose instant is known. */
void hp_machine_slope(const hp_machine *machine, const double y[HP_STATE_COUNT],
                      const hp_instant *instant, double slope[HP_STATE_COUNT]);
void hp_machine_guards(const hp_machine *machine, const double y[HP_STATE_COUNT],
                       const hp_instant *instant, double guard[HP_GUARD_COUNT]);

/* Rates along the trajectory [1/s], at a state whose instant and slope are known: of the guards,
 * and of the electromagnetic torque. */
void hp_machine_guard_rates(const hp_machine *machine, const double y[HP_STATE_COUNT],
                            const hp_instant *instant, const double slope[HP_STATE_COUNT],
                            double rate[HP_GUARD_COUNT], double *torque_rate);

/* Applies the guards that fired (fired[k] != 0) at time t: adjusts mode and y, and reports events
 * to the trace when it keeps them. Returns the number of events, or -1 when the trace has no
 * memory. */
int hp_machine_fire(hp_machine *machine, double t, const int fired[HP_GUARD_COUNT],
                    double y[HP_STATE_COUNT], hp_trace *trace);

/* Known-time events; `before` is the instant of y. */
void hp_machine_set_pwm(hp_machine *machine, bool high, double y[HP_STATE_COUNT],
                        const hp_instant *before);
void hp_machine_cut_out(hp_machine *machine, double y[HP_STATE_COUNT]);
/* From time t on the controls ask for this duty; 0: every leg off. False when that changes nothing.
 */
bool hp_machine_follow(hp_machine *machine, double t, double duty, double y[HP_STATE_COUNT]);

/* Energy stored in inductances and bodies, and the cogging potential [J]. */
double hp_machine_energy(const hp_machine *machine, const double y[HP_STATE_COUNT]);

#endif
