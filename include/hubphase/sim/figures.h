/*
 * Figures of one run: what a person with good instruments would note down.
 *
 * All are measured from the trace by the engine as it integrates; nothing here knows the wiring.
 * Means are taken over the window, inside the last part of the run: whole electrical turns when the
 * rotor makes at least one there; else whole swings to and fro, from one reversal of the speed to
 * another in the same direction, when it still shivers at the end; else all of that last part.
 */
#ifndef HUBPHASE_SIM_FIGURES_H
#define HUBPHASE_SIM_FIGURES_H

#include "hubphase/base/result.h"

#include <stdbool.h>

HP_API_BEGIN

typedef struct hp_figures {
    hp_result status;   /* HP_OK, or why the run broke off: the figures then are not to be used */
    char reason[160];   /* text of that failure, else "" */
    double start_angle; /* [rad electrical] rest angle the run began at */
    double seconds;     /* simulated time */
    double window_s;    /* length of the window; > 0 */
    int window_turns;   /* whole electrical turns in the window; 0: none */
    int window_swings;  /* whole swings to and fro in it; 0: none, both: a plain time window */
    double part_s;      /* [s] length of the last part, over which turns are counted; of a run that
                           ended early as if it had gone on */
    double net_turn;    /* [rad electrical] from the first instant to the last; signed */
    double window_turn; /* [rad electrical] net, inside the last part of the run; signed */
    double wheel_turn;  /* [rad electrical] net turn of the wheel there, as the rotor would have
                           turned  with the clutch engaged; signed */
    double swing;       /* [rad electrical] largest minus smallest angle in the last part */
    double speed;       /* [rad/s] mean rotor speed; signed, forward positive */
    double speed_sd;    /* [rad/s] standard deviation over time */
    double wheel_speed; /* [rad/s] mean wheel speed, at the wheel */
    double torque_mean; /* [N m] electromagnetic, on the rotor */
    double torque_rms;  /* [N m] about the mean */
    double torque_able; /* [N m] the most mean torque that phase currents of this rms can give */
    double torque_min;  /* [N m] */
    double torque_max;  /* [N m] */
    double battery_current; /* [A] mean */
    double battery_power;   /* [W] mean of bus voltage times battery current */
    double friction_power;  /* [W] mean mechanical power that friction and load take; >= 0 */
    double copper_power;    /* [W] mean loss in winding and switches */
    double diode_power;     /* [W] mean loss in diodes */
    double phase_peak;      /* [A] largest magnitude of any lead */
    double phase_rms;       /* [A] of the lead that carries most */
    double bus_voltage;     /* [V] mean */
    double duty;            /* mean */
    double duty_asked;      /* by the throttle; above `duty` where ramp or limiter hold it down */
    double lead_mean;       /* [rad electrical] direction of the mean field in the rotor's frame */
    long sensor_edges;      /* edges of the controller's code in the last part */
    bool cut_out;           /* the controller switched off: stall or under-voltage */
    bool cut_out_voltage;   /* ... it was the under-voltage one */
    bool limited;           /* a current limiter held the duty below the throttle's */
    bool ran_away;          /* the load drove the rotor to speeds that no motor makes: the run ended
                               there */
    bool at_rest;           /* the rotor stuck when the run ended */
    /* Largest magnitude over the whole run of the power-balance error, relative to the energy that
     * has passed through (see hp_engine_run). */
    double balance_error;
    /* Work done */
    long events; /* mode switches */
    long steps;  /* accepted integrator steps */
    long rhs;    /* right-hand sides */
} hp_figures;

/* Current excess: electrical power drawn over the mechanical power made of it, which friction and
 * load take and, while the motor still gains speed, its inertia; >= 1 for a running motor up to
 * rounding, large for a rough one; INFINITY where friction took nothing, or the load drove. */
double hp_figures_excess(const hp_figures *figures);
/* Idle current: the share, by rms, of the phase current that gives no torque of either sense. 0:
 * all of it stands where torque is made; 1: none does, or no current flowed. Torque that changes
 * its sense counts as torque, so a smooth motor that turns free and whose current swings to and fro
 * keeps a small share. */
double hp_figures_idle(const hp_figures *figures);
/* Waste: current excess times the square of the idle share; what the verdict draws its line
 * through. */
double hp_figures_waste(const hp_figures *figures);
/* Torque ripple, rms about the mean, over the most torque that the current could give: above one
 * half where the torque changes its sense as the rotor moves. 0 where no current flowed. */
double hp_figures_alternation(const hp_figures *figures);
/* Torque ripple: rms about the mean over |mean|; INFINITY where the mean is zero. */
double hp_figures_ripple(const hp_figures *figures);

HP_API_END

#endif
