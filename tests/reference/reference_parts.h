/*
 * Internals that the two ways to drive the reference share: constants of a run, state, mode, meter.
 *
 * Equations (theta electrical, w rotor speed, p pole pairs, phases X = U, V, W):
 *   dtheta/dt = p w
 *   conducting lead:  L di_X/dt = v_X - R i_X - e_X - v_n,   other leads: i_X = 0
 *   star point:       v_n = mean over conducting leads of (v_X - R i_X - e_X), since sum i_X = 0
 *   high leg:         v_X = g V_bus - R_s i_X, g = duty (averaged) or 1 (real edges)
 *   low leg:          v_X = -R_s i_X
 *   diodes:           v_X = V_bus + V_d (upper, i_X < 0), v_X = -V_d (lower, i_X > 0)
 *   battery:          i_b = g i_high + sum of i_X on upper diodes,  V_bus = E - R_b i_b
 *   back-EMF, torque: e_X = ke w f(theta - axis_X),  T_e = ke sum f(theta - axis_X) i_X
 *   filters:          tau di_bf/dt = i_b - i_bf,  tau di_pf/dt = sum |i_X| / 2 - i_pf
 */
#ifndef HUBPHASE_TESTS_REFERENCE_PARTS_H
#define HUBPHASE_TESTS_REFERENCE_PARTS_H

#include "reference.h"

#include <stdbool.h>

/* The state vector. Three currents are kept although two would do: their sum stays zero. */
enum {
    X_IU,
    X_IV,
    X_IW,
    X_SPEED,          /* [rad/s] rotor */
    X_THETA,          /* [rad electrical] unwrapped */
    X_WHEEL,          /* [rad/s] wheel */
    X_DUTY,           /* 0..1 */
    X_BATTERY_FILTER, /* [A] */
    X_PHASE_FILTER,   /* [A] */
    X_COUNT
};

/* What fixes a lead's terminal voltage. */
typedef enum ref_path {
    PATH_FLOAT, /* leg off, no current */
    PATH_HIGH,
    PATH_LOW,
    PATH_UPPER, /* leg off, upper diode conducts, current out of the motor */
    PATH_LOWER, /* leg off, lower diode conducts, current into the motor */
    PATH_OPEN   /* motor lead broken */
} ref_path;

typedef enum ref_duty_mode { DUTY_FREE, DUTY_AT_TARGET, DUTY_AT_ZERO } ref_duty_mode;

/* Friction of one body. */
typedef struct ref_friction {
    double coulomb;   /* [N m] */
    double breakaway; /* [N m] */
    double viscous;   /* [N m s/rad] */
} ref_friction;

/* Everything that stays the same during a run. */
typedef struct ref_plant {
    const hp_drive *drive; /* borrowed */
    hp_wiring wiring;
    double resistance; /* [ohm] phase, at the winding's temperature */
    double inductance; /* [H] phase */
    double ke;
    double pole_pairs;
    double switch_ohm;
    double diode_v;
    double emf;
    double battery_ohm;
    double filter_s;
    double target; /* duty asked for: the throttle's, or the latest demand of a course */
    double ratio;  /* gear */
    double load;   /* [N m] on the wheel, against forward */
    double smooth; /* [rad/s] 0: true sticking */
    bool clutch;
    double rotor_inertia;
    double wheel_inertia;
    double joint_inertia; /* rotor and wheel as one, at rotor speed */
    ref_friction rotor;
    ref_friction wheel;
    bool real_pwm;
    double pwm_period; /* [s] */
} ref_plant;

/* Everything that changes at events only. */
typedef struct ref_mode {
    bool inside[HP_PHASE_COUNT]; /* sensor flags */
    int code;                    /* as the controller sees it */
    int command[HP_PHASE_COUNT]; /* per motor lead: +1 high, -1 low, 0 off */
    ref_path path[HP_PHASE_COUNT];
    bool linked;      /* rotor and wheel turn as one */
    bool rotor_stuck; /* for linked bodies: both */
    bool wheel_stuck; /* separate bodies only */
    int rotor_way;    /* sense of motion for the Coulomb term: -1, 0 (unused), +1 */
    int wheel_way;
    ref_duty_mode duty;
    bool falling; /* free: by the ramp, to a target below */
    bool idle;    /* a course asks for nothing: nothing is commanded */
    bool cut_out;
    bool cut_out_voltage;
    double last_edge; /* [s] */
    bool pwm_on;
    double pwm_next;  /* [s] next edge; INFINITY without real edges */
    double pwm_start; /* [s] start of the next period */
    long periods;     /* PWM periods begun */
} ref_mode;

/* Quantities derived from state and mode. */
typedef struct ref_view {
    double shape[HP_PHASE_COUNT];    /* f(theta - axis) */
    double backemf[HP_PHASE_COUNT];  /* [V] */
    double terminal[HP_PHASE_COUNT]; /* [V]; NAN where nothing fixes it */
    double star;                     /* [V] star point; NAN where nothing fixes it */
    int conducting;                  /* leads whose voltage is fixed */
    double bus;                      /* [V] */
    double battery;                  /* [A] */
    double torque;                   /* [N m] T_e */
    double shaft;                    /* [N m] T_e + T_cog */
} ref_view;

/* Where events go, and how many there were. */
typedef struct ref_log {
    hp_trace *trace; /* borrowed, may be NULL */
    long events;
    hp_result status;
} ref_log;

/* --- circuit and controller (reference_circuit.c) --- */
ref_plant ref_plant_make(const hp_drive *drive, const hp_wiring *wiring);
double ref_shape(const hp_backemf *shape, double x);
ref_view ref_look(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT]);
void ref_derivative(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                    double d[X_COUNT]);
/* How far sensor flag `phase` is from toggling [rad]; negative: it should have toggled. */
double ref_sensor_margin(const ref_plant *plant, const ref_mode *mode, int phase, double theta);
/* Rate that the limiters allow the duty [1/s]; INFINITY without one. */
double ref_limiter_rate(const ref_plant *plant, const double x[X_COUNT]);
/* Rate that the controller wants of the duty [1/s]. */
double ref_duty_rate(const ref_plant *plant, const double x[X_COUNT]);
static inline bool ref_duty_moves(const ref_mode *mode)
{
    return mode->duty == DUTY_FREE && !mode->cut_out;
}
/* Sum of volts by which a floating lead is outside the rails; <= 0: it floats on. With no lead
 * fixed, the pair of floating leads is looked at and *pair set to the lower one, else to -1. */
double ref_float_excess(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                        int *lead, int *pair);

/* --- modes (reference_mode.c) --- */
void ref_begin(const ref_plant *plant, const hp_run_options *options, ref_mode *mode,
               double x[X_COUNT]);
/* Whether the mode has ended at this state. Known times are not looked at. */
bool ref_mode_ended(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT]);
/* Next known time at which the mode changes: PWM edge or stall cut-out. */
double ref_next_time(const ref_plant *plant, const ref_mode *mode);
/* Brings the mode into agreement with state and time; counts and records what changed. */
void ref_switch(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT], ref_log *log);
/* From t on a course asks for this duty. */
void ref_follow(ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT], double duty,
                ref_log *log);

/* --- motion (reference_motion.c) --- */
double ref_friction_torque(const ref_plant *plant, const ref_friction *friction, double speed,
                           int way);
/* The rotor's torque [N m] between which it sticks at rest, alone or linked with the wheel. */
void ref_hold_range(const ref_plant *plant, bool linked, double *low, double *high);
/* Torque through the clutch at the wheel [N m] while rotor and wheel turn as one. */
double ref_clutch_torque(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                         double shaft);
void ref_accelerate(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                    double shaft, double d[X_COUNT]);
bool ref_motion_ended(const ref_plant *plant, const ref_mode *mode, const double x[X_COUNT],
                      double shaft);
void ref_motion_begin(const ref_plant *plant, ref_mode *mode, double x[X_COUNT], double shaft);
void ref_motion_switch(const ref_plant *plant, ref_mode *mode, double t, double x[X_COUNT],
                       double shaft, ref_log *log);

void ref_log_event(ref_log *log, double t, hp_event_kind kind, int which);

/* --- meter (reference_meter.c) --- */
enum {
    Q_SPEED,
    Q_SPEED_SQUARE, /* about the speed at the start of the last part */
    Q_WHEEL,
    Q_TORQUE,
    Q_TORQUE_SQUARE,
    Q_BATTERY,
    Q_BATTERY_POWER,
    Q_FRICTION,
    Q_COPPER,
    Q_DIODE,
    Q_SQUARE_U,
    Q_SQUARE_V,
    Q_SQUARE_W,
    Q_BUS,
    Q_DUTY,
    Q_FIELD_RE,
    Q_FIELD_IM,
    Q_SHAFT_POWER, /* T_e w */
    Q_COG_POWER,   /* T_cog w */
    Q_COUNT
};

/* Extremes since some instant. */
typedef struct ref_extremes {
    double torque_min;
    double torque_max;
    double peak;
} ref_extremes;

/* Whole electrical turns in one sense of rotation. */
typedef struct ref_turns {
    bool begun;
    double next; /* [turns] the multiple that comes next */
    int count;
    double first_time, last_time;
    double first[Q_COUNT], last[Q_COUNT];
} ref_turns;

/* Swings to and fro: moments at which the speed reverses in one direction. */
typedef struct ref_swings {
    int seen;
    double first_time, last_time;
    double first[Q_COUNT], last[Q_COUNT];
} ref_swings;

typedef struct ref_meter {
    double speed_origin; /* [rad/s] for Q_SPEED_SQUARE */
    double begin_time;
    double begin_theta;
    double theta_min, theta_max;
    double begin_magnetic, begin_kinetic; /* [J] */
    double sum[Q_COUNT];
    ref_extremes run;
    ref_turns up, down;
    ref_swings swings[2]; /* to backward, to forward */
    long edges_before;    /* sensor edges up to the start of the last part */
    bool limited;
} ref_meter;

void ref_meter_begin(ref_meter *meter, const ref_plant *plant, double t, const double x[X_COUNT]);
/* The integrands at a state. */
void ref_rates(const ref_plant *plant, const ref_mode *mode, const ref_meter *meter,
               const double x[X_COUNT], const ref_view *view, double q[Q_COUNT]);
/* Widens the extremes. */
void ref_meter_extremes(ref_meter *meter, const double x[X_COUNT], double torque);
/* A whole multiple of a turn was crossed at time t in this sense; `sum` at that instant. */
void ref_meter_cross(ref_meter *meter, ref_turns *turns, double t, const double sum[Q_COUNT]);
/* The rotor begins to move in this sense, having moved in the other. */
void ref_meter_swing(ref_meter *meter, int sense, double t, const double sum[Q_COUNT]);
/* The sense in which a rotor that moved last in the sense *way now begins to move the other way, 0:
 * it does not; keeps *way. For the law that sticks, after the mode was switched. */
int ref_swing_ended(const ref_plant *plant, const ref_mode *mode, int *way);
/* Starts counting at the first multiple after theta. */
void ref_meter_aim(ref_meter *meter, double theta);
/* Fills the figures at the end of the measurement; `meter` NULL: the last part never began, and
 * what is measured over it stays as it was. */
void ref_meter_finish(const ref_meter *meter, const ref_plant *plant, const ref_mode *mode,
                      const hp_run_options *options, double t, const double x[X_COUNT],
                      hp_figures *figures);

#endif
