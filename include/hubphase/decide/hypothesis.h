/*
 * What may be true of a motor and a controller that nobody has labelled.
 *
 * Leads and pins are known by their own marks only; what is hidden:
 *
 * - relation: on which axis each of the motor's sensor leads and phase leads sits. Turning all axes
 *   together by 120 degrees changes nothing, so 36 cases make 12 relations.
 * - table: which of the 12 true six-step tables the controller follows, counted in the same way.
 *   Usually the scenario states it.
 * - inverted: which motor sensor lead gives the opposite level of what the table expects: a motor
 *   with 60-degree sensors on a 120-degree controller; -1 when none does.
 * - fault: one broken part, or none.
 *
 * A wiring then behaves as some *effective* wiring of the textbook motor and table, and it is right
 * when that one is an even order on both sides, the same on both (see model.h on wirings: smooth
 * and forward).
 */
#ifndef HUBPHASE_DECIDE_HYPOTHESIS_H
#define HUBPHASE_DECIDE_HYPOTHESIS_H

#include "hubphase/base/api.h"
#include "hubphase/model/commutation.h"
#include "hubphase/model/wiring.h"

#include <stdbool.h>

HP_API_BEGIN

#define HP_RELATION_COUNT 12
#define HP_TABLE_COUNT    12

typedef enum hp_fault_kind {
    HP_FAULT_NONE,
    HP_FAULT_SENSOR_HIGH, /* sensor lead `which` always reads 1 */
    HP_FAULT_SENSOR_LOW,  /* ... always 0 */
    HP_FAULT_LEAD_OPEN,   /* phase lead `which` is broken */
    HP_FAULT_CLUTCH,      /* one-way clutch slips: the rotor turns, the wheel does not */
    HP_FAULT_SILENT,      /* the controller drives nothing */
    HP_FAULT_CUTTING_OUT, /* controller or battery protection cuts out again and again */
    HP_FAULT_LOOSE,       /* some lead makes contact now and then only */
    HP_FAULT_UNLISTED,    /* something that is none of all this */
    HP_FAULT_KIND_COUNT
} hp_fault_kind;

typedef struct hp_fault {
    hp_fault_kind kind;
    int which; /* 0..2, a motor lead by its mark; 0 where there is nothing to choose */
} hp_fault;

/* None, 3 + 3 sensors, 3 leads, clutch; then those that are reckoned and not simulated. */
#define HP_FAULT_COUNT 15

/* Whether a fault shows in the motor itself, so that it can be simulated. */
static inline bool hp_fault_is_simulated(hp_fault fault)
{
    return fault.kind < HP_FAULT_SILENT;
}

/* Index 0..14 of a fault, and back; 0 is none. */
int hp_fault_index(hp_fault fault);
hp_fault hp_fault_from_index(int index);

typedef struct hp_hypothesis {
    int relation; /* 0..11 */
    int table;    /* 0..11 */
    int inverted; /* -1, or motor sensor lead 0..2 by its mark */
    hp_fault fault;
} hp_hypothesis;

/* Axis of each motor sensor lead and of each phase lead in a relation. */
void hp_relation_axes(int relation, int sensor_axis[HP_PHASE_COUNT], int lead_axis[HP_PHASE_COUNT]);
/* The relation in which leads sit on these axes; both are permutations (asserted). */
int hp_relation_index(const int sensor_axis[HP_PHASE_COUNT], const int lead_axis[HP_PHASE_COUNT]);

/* The usual input and output of the textbook table that each marked one stands for. */
void hp_table_places(int table, int input_place[HP_PHASE_COUNT], int output_place[HP_PHASE_COUNT]);
/* The commutation table with this index. */
hp_commutation_table hp_table_get(int table);
/* Index of a table, or -1 when it is not a true six-step table for 120-degree sensors. */
int hp_table_index(const hp_commutation_table *table);

/* The textbook wiring as which this one behaves. */
hp_wiring hp_wiring_effective(int relation, int table, const hp_wiring *wiring);
/* Whether it runs smoothly forward once nothing is broken and no sensor inverted. */
bool hp_wiring_is_right(int relation, int table, const hp_wiring *wiring);
/* The three right wirings (numbers), ascending. */
void hp_right_wirings(int relation, int table, int number[3]);

/* ---- trouble: what is wrong with the parts, apart from how they are joined ------------------- */

#define HP_TROUBLE_COUNT (4 * HP_FAULT_COUNT)
#define HP_TROUBLE_SOUND 0

/* Index of what is wrong with the parts, leads by their marks: inverted sensor and fault. A stuck
 * sensor hides its own inversion. */
int hp_trouble_index(int inverted, hp_fault fault);
/* The inverted sensor (-1: none) and the fault of an index. */
void hp_trouble_get(int trouble, int *inverted, hp_fault *fault);

/* How far a bench may differ from what is said of it: hidden, and learnt from the log. All 0 (and
 * friction_most 1): nothing is hidden but the motor. */
typedef struct hp_nuisance_params {
    double duty_sd;         /* logarithm of the true duty over the one said, for the whole log */
    double hand_sd;         /* the same, from one trial to the next */
    double one_sided;       /* probability that the current may pause within a PWM period */
    double sine;            /* probability that the controller drives by a sine */
    double idle_most_a;     /* [A] the most that lamps, displays and regulators draw */
    double friction_most;   /* the most that brakes and seals make of the friction stated; >= 1 */
    double throttle_rest_v; /* [V] signal lead of the throttle at rest ... */
    double throttle_full_v; /* ... and full; NAN: not known */
} hp_nuisance_params;

/* How likely things are before anything is measured. */
typedef struct hp_prior_params {
    double table_stated; /* the stated table is the true one; the rest shares what is left */
    int table;           /* index of the stated table, or -1: unknown, all alike */
    double inverted;     /* the motor's sensors do not fit the table, all three leads together */
    double sensor_fault; /* some sensor stuck, all six cases together */
    double lead_open;    /* some phase lead open */
    double clutch;       /* clutch slips; only when there is one */
    bool has_clutch;     /* the hub has a one-way clutch */
    double silent;       /* the controller drives nothing as it is joined */
    double cutting_out;  /* controller or battery protection cuts out again and again */
    double loose;        /* some lead makes contact now and then */
    double unlisted;     /* something else that no hypothesis names */
    hp_nuisance_params nuisance;
    double floor; /* combinations less likely than this are left out */
} hp_prior_params;

hp_prior_params hp_prior_default(void);
/* The world of the simulated ensemble alone: no nuisances, and no fault that is not simulated. */
hp_prior_params hp_prior_plain(void);

/* Probability of one combination before any evidence; 0 below the floor. The relations are alike.
 */
double hp_prior_of(const hp_prior_params *prior, const hp_hypothesis *hypothesis);

HP_API_END

#endif
