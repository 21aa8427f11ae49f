/*
 * The machine's mechanical and electrical figures, from all readings of a log at once.
 *
 * One small model of d.c. quantities with few unknowns; each reading adds a line to it, what the
 * scenario states is only where the unknowns are looked for. Of each kind of entry the last one
 * counts. With
 *
 *   k   volts between the two leads that drive, per rad/s of the wheel (mean over a sector), also
 *       torque at the wheel per ampere through them
 *   R   ohms between two leads at 20 C,   Rt = R + two switches
 *   a, b  drag on the wheel: a + b w, of all that turns with it
 *   J   moment of inertia about the axle of all that turns with it
 *   Rs, E  battery with its leads
 *
 * the lines are
 *   no-load run   i = (a + b w) / k,  k w = d U - Rt i,  I = d i + idle   (d: full duty)
 *   at half       I = ((a + b w) w + Rt i^2 + Ps) / U + idle              (whatever the duty is;
 *                                                       Ps: the controller's own switching)
 *   coast-down    w(t) = (w0 + a/b) exp(-b t / J) - a/b
 *   volts at two currents   U = E - Rs I
 *   winding, heating's first volts   R (1 + alpha (T - 20))
 *   a gentle trial   as at half, with the stated volts: only where something is foretold
 * Meters are off by a scale that all their readings share, an unknown too, and by a little more
 * each. Behind a one-way clutch only the wheel coasts: it then has a drag of its own.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_FIT_MACHINE_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_FIT_MACHINE_H

#include "decide/commission/fit_least.h"
#include "decide/reading/running.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/commission.h"

/* Logarithms where they are above 0 by nature. */
typedef enum hp_unknown {
    HP_UNKNOWN_LN_K,
    HP_UNKNOWN_LN_OHM, /* R */
    HP_UNKNOWN_LN_FRICTION,
    HP_UNKNOWN_LN_VISCOUS,
    HP_UNKNOWN_LN_INERTIA,
    HP_UNKNOWN_IDLE_A,
    HP_UNKNOWN_LN_SUPPLY_OHM,
    HP_UNKNOWN_EMF,
    HP_UNKNOWN_LN_COAST_FRICTION, /* of the wheel alone, behind a clutch */
    HP_UNKNOWN_LN_COAST_VISCOUS,
    HP_UNKNOWN_LN_COAST_FROM, /* speed at which the clock started */
    HP_UNKNOWN_SPEED_SCALE,
    HP_UNKNOWN_AMMETER_SCALE,
    HP_UNKNOWN_AMMETER_ZERO,
    HP_UNKNOWN_VOLTMETER_SCALE,
    HP_UNKNOWN_SUPPLY_SCALE, /* of the bench supply's ammeter */
    HP_UNKNOWN_EDGES_W,      /* what the controller's own switching takes at part duty */
    HP_UNKNOWN_COUNT
} hp_unknown;

/* How far meters may be off: standard deviations. Those that the scenario states (bench.meters)
 * come from there. */
typedef struct hp_meters {
    double speed_alike, speed_each; /* over the value */
    double ampere_alike, ampere_each;
    double ampere_zero, ampere_digit; /* [A] */
    double volt_alike, volt_each;
    double volt_digit; /* [V] */
    double supply_ampere_alike;
    double clock_s;        /* [s] a moment on a film beside a running clock */
    double kelvin;         /* [K] of a winding taken as warm as the room */
    double kelvin_guessed; /* of one that nobody said the temperature of: 20 C is taken */
    double inertia;        /* over the value: weighed and reckoned */
} hp_meters;

hp_meters hp_meters_of(const hp_person *person);

#define HP_TRIED_MOST 4

typedef struct hp_machine_fit {
    const hp_assess_case *given; /* borrowed */
    hp_meters meter;
    /* Readings that are there; NULL: none, or left out. */
    const hp_entry *winding, *no_load, *coast, *idle, *drag, *sag, *heating;
    const hp_trial *tried[HP_TRIED_MOST]; /* borrowed, newest first */
    int tried_count;
    double cap;        /* duty at full throttle */
    double duty;       /* ... and of the most that this machine can be asked for */
    double switch_ohm; /* two of them */
    double gear;
    bool clutch;
    hp_least least;
} hp_machine_fit;

/* All zero: all readings, which alone decide. */
typedef struct hp_fit_choice {
    const hp_reading *without; /* leaves this kind out; NULL: none */
    bool trusts;               /* back-EMF and winding are as the scenario says, drag about so: for
                                  what is to be held against it */
    bool same_meters;  /* the scales of the meters are those of the fit that this one is held
                          against: they cancel */
    double inertia_sd; /* of its logarithm, whatever was stated or weighed; 0: the usual */
} hp_fit_choice;

void hp_machine_fit_make(const hp_assess_case *given, const hp_fit_choice *choice,
                         hp_machine_fit *fit);
/* What the readings but those of a no-load run say, beside the scenario: gentle trials of what is
 * joined, too, where they narrow what a run at full throttle may draw. They never widen it: what
 * drags, or is wired wrong, drew as much in them. */
void hp_machine_fit_foretell(const hp_assess_case *given, hp_machine_fit *fit);
/* Steady battery current and wheel speed at full throttle with these volts at the controller, and
 * 90 of 100 cases round them; what a meter would show. */
typedef struct hp_no_load_told {
    double battery_a, rad_s;
    hp_band battery_90, rad_90;
} hp_no_load_told;
hp_no_load_told hp_machine_no_load(const hp_machine_fit *fit, double volts);
/* The same at part throttle, whatever its duty is: battery current at this speed. */
typedef struct hp_part_told {
    double battery_a;
    hp_band battery_90;
} hp_part_told;
hp_part_told hp_machine_part(const hp_machine_fit *fit, double volts, double rad_s);

#endif
