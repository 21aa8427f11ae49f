/*
 * A finished machine on the stand, hidden from the program that commissions it.
 *
 * Written from the physics and docs/benchlog.md alone: nothing of hubphase is included here,
 * neither header nor code. It is richer than what a fit can take it for: drag has an iron part that
 * follows no straight line, air on the spokes and a level at rest; a pack sags in time; heat has
 * seven places; currents come from the winding's differential equation at a steady speed, with
 * diodes and real PWM edges.
 *
 * U, V, W are 0, 1, 2 throughout; angles are electrical, in radians; SI units.
 */
#ifndef HUBPHASE_TESTS_FINISHED_MACHINE_H
#define HUBPHASE_TESTS_FINISHED_MACHINE_H

#include <stdbool.h>

/* Where heat is kept. The two phases in which the current of a heating test flows, the third; each
 * with its part in the slots and its end turns; then what is round them. */
enum { HEAT_SLOTS_2, HEAT_ENDS_2, HEAT_SLOTS_1, HEAT_ENDS_1, HEAT_CORE, HEAT_AXLE, HEAT_SHELL };
#define HEAT_NODES 7

typedef struct finished_machine {
    /* Winding and magnets */
    int pole_pairs;
    double ohm_20;       /* one phase at 20 degrees C */
    double henry;        /* one phase */
    double ke;           /* one phase, amplitude of the fundamental over the rotor's speed */
    double flatness;     /* 0: a sine; 1: the harmonics of a 120 degree trapezoid */
    double placement[3]; /* of the sensors */
    /* Controller */
    bool one_sided;   /* else complementary, duty averaged */
    double half_duty; /* of the person's "half" throttle */
    double switch_ohm, diode_v, pwm_hz;
    double idle_a, off_a; /* all that is switched on; with the key off */
    double running_w;     /* that the controller takes besides while it switches */
    /* Pack */
    double emf, pack_ohm, lead_ohm;
    double slow_ohm, slow_s; /* a part of the sag comes in time */
    double unloaded_per_s;   /* volts lost a second at ten amperes */
    /* Mechanics */
    bool clutch;
    double gear_ratio, rotor_inertia, wheel_inertia;
    double rotor_coulomb, rotor_viscous, iron, iron_power; /* iron * speed ^ power, at the rotor */
    double wheel_coulomb, wheel_viscous, air;              /* air * speed ^ 2 */
    double breakaway;                                      /* at the wheel, over the friction */
    double braking;                                        /* shorted turns: over rotor speed */
    /* Heat: capacities, and conductances between places and to the air */
    double heat_j_per_k[HEAT_NODES], heat_w_per_k[HEAT_NODES][HEAT_NODES], air_w_per_k[HEAT_NODES];
    double slot_share; /* of a phase's copper that lies in the slots */
    double room_c;
} finished_machine;

/* A steady run with the wheel lifted. */
typedef struct finished_run {
    double wheel_rad_s, battery_a, volts; /* volts at the controller; idle draw in the current */
} finished_run;

/* Torque of the winding and current of the battery at this rotor speed, winding at `ohm`. */
typedef struct finished_currents {
    double torque, battery_a;
} finished_currents;

finished_currents finished_currents_at(const finished_machine *m, double rotor_rad_s, double volts,
                                       double duty);
/* All that drags, over the wheel's speed: driven, and when it coasts (a clutch lets go then). */
double finished_drag(const finished_machine *m, double wheel_rad_s);
double finished_coast_drag(const finished_machine *m, double wheel_rad_s);
double finished_coast_inertia(const finished_machine *m);
/* The settled run with these volts at the controller; `dragging` false: with nothing that drags. */
finished_run finished_run_at(const finished_machine *m, double volts, double duty, bool dragging);
/* The settled run on the pack. */
finished_run finished_run_on_pack(const finished_machine *m, double duty);
/* Speed of the wheel so long after the drive ceased; 0 once it stands. */
double finished_coast(const finished_machine *m, double from_rad_s, double seconds, double *stop_s);
/* Volts at the controller after so long at this current. */
double finished_pack_v(const finished_machine *m, double amperes, double seconds, bool at_leads);

/* The heating test: temperatures, and ohm of the two phases in series. */
typedef struct finished_heat {
    double celsius[HEAT_NODES];
} finished_heat;

finished_heat finished_heat_at_rest(const finished_machine *m);
void finished_heat_on(const finished_machine *m, finished_heat *h, double amperes, double seconds);
double finished_heat_ohm(const finished_machine *m, const finished_heat *h);
/* Of the whole winding: heat capacity, and warmth over the core for each watt when the core is held
 * and all phases are fed alike. */
double finished_copper_j_per_k(const finished_machine *m);
double finished_copper_k_per_w(const finished_machine *m);

#endif
