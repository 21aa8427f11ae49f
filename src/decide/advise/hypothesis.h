/*
 * What may be true of a motor and a controller that nobody has labelled.
 *
 * Leads and pins are known by their own marks only; what is hidden:
 *
 * - relation: on which axis each of the motor's sensor leads and phase leads sits. Turning all axes
 *   together by 120 degrees changes nothing, so 36 cases make 12 relations.
 * - table: which of the 12 true six-step tables the controller follows, counted in the same way, or
 *   one of them with an input inverted: a controller made for 60-degree sensors. Usually the
 *   scenario states it.
 * - inverted: which motor sensor lead gives the opposite level of that of a 120-degree set: a motor
 *   with 60-degree sensors; -1 when none does.
 * - fault: one broken part, or none.
 *
 * A wiring then behaves as some *effective* wiring of the textbook motor and table, and it is right
 * when that one is an even order on both sides, the same on both (smooth and forward), and the
 * inverted lead, where there is one, goes to the inverting input.
 */
#ifndef HUBPHASE_DECIDE_ADVISE_HYPOTHESIS_H
#define HUBPHASE_DECIDE_ADVISE_HYPOTHESIS_H

#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/model/controller.h"

#include <stdbool.h>

#define HP_RELATION_COUNT 12

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
    int table;    /* 0..HP_TABLE_COUNT - 1 */
    int inverted; /* -1, or motor sensor lead 0..2 by its mark */
    hp_fault fault;
} hp_hypothesis;

/* Whether an order of three goes round as U, V, W do, wherever it starts. */
bool hp_order_is_even(const int order[HP_PHASE_COUNT]);

/* Axis of each motor sensor lead and of each phase lead in a relation. */
void hp_relation_axes(int relation, int sensor_axis[HP_PHASE_COUNT], int lead_axis[HP_PHASE_COUNT]);
/* The relation in which leads sit on these axes; both are permutations (asserted). */
int hp_relation_index(const int sensor_axis[HP_PHASE_COUNT], const int lead_axis[HP_PHASE_COUNT]);

/* The usual input and output of the textbook table that each marked one stands for. Which input is
 * inverted makes no difference here, nor to the three below. */
void hp_table_places(int table, int input_place[HP_PHASE_COUNT], int output_place[HP_PHASE_COUNT]);
/* The commutation table with this index. */
hp_commutation_table hp_table_get(int table);

/* The textbook wiring as which this one behaves. */
hp_wiring hp_wiring_effective(int relation, int table, const hp_wiring *wiring);
/* Whether it runs smoothly forward once nothing is broken and no sensor inverted. */
bool hp_wiring_is_right(int relation, int table, const hp_wiring *wiring);
/* The three right wirings (numbers), ascending, if all three sensors read as the table expects. */
void hp_right_wirings(int relation, int table, int number[3]);

/* What does not fit: -1 nothing, 0..2 a Hall lead that the controller hears the wrong way round,
 * whatever input it goes to; HP_MISFIT_INPUT + 0..2 an input that hears every lead so. */
#define HP_MISFIT_INPUT 3
#define HP_MISFITS      7 /* none, three leads, three inputs */
int hp_hypothesis_misfit(const hp_hypothesis *hypothesis);
/* The right wirings once faults and misfits are mended, ascending; where a hub with 60-degree
 * sensors has a controller made for them there is one, and the others are 0. Returns their number.
 */
int hp_hypothesis_rights(const hp_hypothesis *hypothesis, int number[3]);

/* ---- trouble: what is wrong with the parts, apart from how they are joined ------------------- */

#define HP_TROUBLE_COUNT (HP_MISFITS * HP_FAULT_COUNT)
#define HP_TROUBLE_SOUND 0

/* Index of what is wrong with the parts, leads by their marks: misfit (-1: none) and fault. A stuck
 * sensor hides its own inversion. */
int hp_trouble_index(int misfit, hp_fault fault);
int hp_trouble_of(const hp_hypothesis *hypothesis);
/* The misfit (-1: none) and the fault of an index. */
void hp_trouble_get(int trouble, int *misfit, hp_fault *fault);

/* What a log leaves of what the scenario says: of a controller in the place of the one that it
 * states nothing is known. */
hp_prior_params hp_prior_heeding(const hp_prior_params *prior, const hp_entry *entry, int entries);

/* Probability of one combination before any evidence; 0 below the floor. The relations are alike.
 */
double hp_prior_of(const hp_prior_params *prior, const hp_hypothesis *hypothesis);

/* ---- what sensors show ----------------------------------------------------------------------- */

/* What the sensor leads show at an electrical angle under a hypothesis, by marks. */
int hp_marked_code(const hp_hypothesis *hypothesis, double theta);
/* The codes that follow one another when the rotor turns forward, each once, starting anywhere;
 * returns their number 1..6. A rotor that the wheel does not turn shows one. */
int hp_marked_ring(const hp_hypothesis *hypothesis, int code[HP_SECTOR_COUNT]);

#endif
