/*
 * A second simulator of the stand, for the hidden bench alone.
 *
 * Written from the equations of the model and not from the library's sources: nothing of hubphase
 * is included here, neither header nor code. Fixed-step Runge-Kutta of the fourth order; a step in
 * which something switches is cut there. It also has what the library's engine has not: a supply
 * that limits its current and takes none back, a filament lamp, a sine-driven controller, a
 * controller that drives nothing or cuts out, leads that make contact now and then.
 *
 * U, V, W are 0, 1, 2 throughout; angles are electrical, in radians; SI units.
 */
#ifndef HUBPHASE_TESTS_BENCH_WORLD_H
#define HUBPHASE_TESTS_BENCH_WORLD_H

#include <stdbool.h>

typedef enum world_pwm { WORLD_AVERAGED, WORLD_ONE_SIDED } world_pwm;

typedef enum world_feed {
    WORLD_BATTERY,      /* EMF behind a resistance */
    WORLD_BENCH_SUPPLY, /* the same up to a current limit; nothing flows back */
    WORLD_LAMP          /* a filament in the plus lead, a diode across it for what flows back */
} world_feed;

typedef struct world_friction {
    double coulomb, breakaway, viscous; /* N m, N m, N m s/rad */
} world_friction;

/* One machine with its controller and supply. Axes are true ones: which marked lead sits on which
 * axis is a matter of world_joined. */
typedef struct world_machine {
    int pole_pairs;
    double resistance, inductance, ke; /* a phase; ke over rotor speed */
    bool sinusoidal;                   /* else a trapezoid with this flat */
    double flat;
    double rotor_inertia, wheel_inertia, gear_ratio;
    bool clutch;
    world_friction rotor, wheel;
    double cogging, cogging_phase;
    int cogging_order;
    double placement[3], hysteresis; /* of the sensors */
    int stuck[3];                    /* -1: sound, else the figure that sensor always shows */
    int inverted;                    /* 1 + axis of the sensor of the opposite level; 0: none */
    bool open[3];                    /* motor lead of this axis makes no contact */
    /* Controller: code (three bits, inputs U V W) to outputs high and low, -1: all off. */
    int high[8], low[8];
    double duty, ramp, battery_limit, phase_limit, filter, limiter, stall_cutout;
    double switch_ohm, diode_drop, pwm_hz;
    world_pwm pwm;
    bool sine;        /* sine-driven; `pwm` is then of no matter */
    bool silent;      /* drives nothing */
    double cut_after; /* switches off so long after the start [s]; 0: never */
    double trip_a;    /* the pack's protection: off above this battery current; 0: none */
    /* Supply */
    world_feed feed;
    double emf, emf_ohm, limit_a, bus_farad;
    double brownout_v; /* the controller's logic goes out below this bus; 0: never */
    double lamp_watt, lamp_volt;
    double idle_a; /* lamp, display: through the meter, not through the controller */
} world_machine;

/* Which axis is joined to which place of the controller: input j hears the sensor of axis
 * sensor[j], output j feeds the lead of axis phase[j]. */
typedef struct world_joined {
    int sensor[3], phase[3];
} world_joined;

/* What happened from one rest angle. The window is the last part of the run. */
typedef struct world_run {
    double seconds, window;
    double net_turn, window_turn, swing;   /* of the rotor */
    double speed, wheel_speed, wheel_turn; /* means over the window; all that the wheel turned */
    double meter_a;                        /* battery current with all that hangs on the meter */
    double torque_rms, felt_rms;           /* about the mean; as a hand feels it */
    double phase_rms;                      /* all three leads */
    double limited;    /* share of the window in which the supply was at its limit */
    double lamp_share; /* the lamp's power at the end over its rated one */
    double bus_max;
    bool cut_out, at_rest;
    int brown_outs; /* the controller's logic went out for want of volts, and came back */
} world_run;

/* From rest at `angle`, for at most so many seconds, of which the last `window` is measured; ends
 * sooner once two windows are alike when `calm` says so. */
world_run world_spin(const world_machine *machine, const world_joined *joined, double angle,
                     double seconds, double window, bool calm);

/* The sensor code at an angle, by axis, hysteresis ignored: bit 2 for U. */
int world_code(const world_machine *machine, double angle);

/* By statics alone: whether the current field leads the rotor by 60 to 120 degrees at every angle,
 * sensors and winding sound and in their places. */
bool world_right(const world_machine *machine, const world_joined *joined);

#endif
