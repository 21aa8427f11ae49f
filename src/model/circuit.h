/*
 * The circuit at one instant: battery, bridge legs, star winding.
 *
 * A conducting lead X sits at v_X and obeys v_X - v_star = R i_X + L di_X/dt + e_X. The currents
 * add up to zero, so v_star is the mean of v_X - R i_X - e_X over the conducting leads. A floating
 * lead carries nothing and its terminal shows v_star + e_X. Currents count into the motor.
 */
#ifndef HUBPHASE_SRC_MODEL_CIRCUIT_H
#define HUBPHASE_SRC_MODEL_CIRCUIT_H

#include "hubphase/model/drive.h"
#include "hubphase/model/wiring.h"

#include <stdbool.h>

/* What a motor lead is joined to at this instant. */
typedef enum hp_leg {
    HP_LEG_BROKEN, /* the lead is open: no current, whatever its voltage */
    HP_LEG_HIGH,   /* upper switch: duty * bus voltage (duty 1 while a real PWM edge is high) */
    HP_LEG_LOW,    /* lower switch: battery minus */
    HP_LEG_FLOAT,  /* both switches off, no diode conducts */
    HP_LEG_UPPER,  /* upper diode: bus voltage plus its drop; current < 0 */
    HP_LEG_LOWER   /* lower diode: minus its drop; current > 0 */
} hp_leg;

/* Hysteresis of the diodes: a float begins to conduct this far outside the rails, a diode lets go
 * this far past zero current. Both are far below anything a figure shows; they keep a guard from
 * standing exactly at zero when the integrator restarts. */
#define HP_DIODE_VOLT_SLACK 1e-6
#define HP_DIODE_AMP_SLACK  1e-7

/* Constants of a run. */
typedef struct hp_circuit_params {
    double emf_v; /* battery */
    double battery_ohm;
    double winding_ohm; /* one phase, at temperature */
    double switch_ohm;
    double inductance_h; /* one phase */
    double diode_drop_v;
} hp_circuit_params;

typedef struct hp_circuit {
    double terminal[HP_PHASE_COUNT]; /* [V] lead against battery minus; a float's as seen */
    double slope[HP_PHASE_COUNT];    /* [A/s] di/dt */
    double star;                     /* [V] star point; NAN when no lead conducts */
    double bus_voltage;              /* [V] */
    double battery_current;          /* [A] duty * i_high plus what the upper diodes return */
    double copper_power;             /* [W] in winding and switches */
    double diode_power;              /* [W] in the diodes; >= 0 */
} hp_circuit;

/* The circuit's coefficients for given legs; they hold as long as no leg changes. The terminal of a
 * lead that conducts stands at (share_duty * duty + share_whole) of the bus voltage, plus drop_v,
 * less what its switch takes. */
typedef struct hp_circuit_law {
    bool conducts[HP_PHASE_COUNT];
    double share_duty[HP_PHASE_COUNT];
    double share_whole[HP_PHASE_COUNT];
    double drop_v[HP_PHASE_COUNT];
    double switch_ohm[HP_PHASE_COUNT];
    double per_count; /* 1 / number of leads that conduct; NAN when none does */
    double emf_v, battery_ohm, winding_ohm;
    double per_henry;
} hp_circuit_law;

hp_circuit_params hp_circuit_params_of(const hp_drive *drive);
hp_circuit_law hp_circuit_law_of(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT]);

/* Solves the circuit for given currents [A], back-EMFs [V] and duty 0..1. Currents of floating and
 * broken leads must be zero. */
void hp_circuit_apply(const hp_circuit_law *law, const double current[HP_PHASE_COUNT],
                      const double backemf[HP_PHASE_COUNT], double duty, hp_circuit *circuit);
/* How fast the voltages of a circuit change. */
typedef struct hp_circuit_rates {
    double bus_voltage;              /* [V/s] */
    double terminal[HP_PHASE_COUNT]; /* [V/s] of floating leads; of the others not filled */
} hp_circuit_rates;

/* Rates of what hp_circuit_apply gave, from those of currents [A/s], back-EMFs [V/s] and duty. */
void hp_circuit_rates_of(const hp_circuit_law *law, const hp_circuit *circuit,
                         const double current[HP_PHASE_COUNT],
                         const double current_rate[HP_PHASE_COUNT],
                         const double backemf_rate[HP_PHASE_COUNT], double duty, double duty_rate,
                         hp_circuit_rates *rates);
/* Both in one. */
void hp_circuit_solve(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                      const double current[HP_PHASE_COUNT], const double backemf[HP_PHASE_COUNT],
                      double duty, hp_circuit *circuit);

/* Finds how the undriven leads conduct. On entry leg[] holds HIGH, LOW and BROKEN where that is
 * given and anything else (FLOAT, UPPER, LOWER) for a lead whose switches are both off. An off lead
 * with current conducts through the diode that carries it; for one without, the state is sought in
 * which every float lies within the rails and every diode's current grows in its own direction.
 * Currents below 10 HP_DIODE_AMP_SLACK in off leads are put to zero, and the others made to add up.
 * Returns false when no consistent state was found (all such leads then float). */
bool hp_circuit_settle(const hp_circuit_params *params, hp_leg leg[HP_PHASE_COUNT],
                       double current[HP_PHASE_COUNT], const double backemf[HP_PHASE_COUNT],
                       double duty);
/* The same, and the law of the legs found. */
bool hp_circuit_settle_law(const hp_circuit_params *params, hp_leg leg[HP_PHASE_COUNT],
                           double current[HP_PHASE_COUNT], const double backemf[HP_PHASE_COUNT],
                           double duty, hp_circuit_law *law);

/* Signed distance to the next change of one lead, positive while its state holds: for a float the
 * smaller distance to the rails (in the pair sense below when nothing conducts), for a diode its
 * current; 1 for leads that cannot change by themselves. */
double hp_circuit_guard(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                        const double current[HP_PHASE_COUNT], const hp_circuit *circuit, int lead);

/* Its rate [1/s]. */
double hp_circuit_guard_rate(const hp_leg leg[HP_PHASE_COUNT],
                             const double current_rate[HP_PHASE_COUNT], const hp_circuit *circuit,
                             const hp_circuit_rates *rates, int lead);

/* With nothing conducting: how far the largest difference of back-EMF between two unbroken off
 * leads stays below bus voltage plus two drops [V]; 1 when some lead conducts. */
double hp_circuit_pair_guard(const hp_circuit_params *params, const hp_leg leg[HP_PHASE_COUNT],
                             const double backemf[HP_PHASE_COUNT], const hp_circuit *circuit);
/* Its rate [V/s]. */
double hp_circuit_pair_guard_rate(const hp_leg leg[HP_PHASE_COUNT],
                                  const double backemf[HP_PHASE_COUNT],
                                  const double backemf_rate[HP_PHASE_COUNT],
                                  const hp_circuit *circuit, const hp_circuit_rates *rates);

#endif
