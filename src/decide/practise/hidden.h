/*
 * What a hidden machine is made of, and what a kind's `see` (decide/reading/reading.h) gets of it.
 */
#ifndef HUBPHASE_SRC_DECIDE_PRACTISE_HIDDEN_H
#define HUBPHASE_SRC_DECIDE_PRACTISE_HIDDEN_H

#include "base/random.h"
#include "decide/advise/hypothesis.h"
#include "decide/reading/reading.h"
#include "hubphase/decide/practise.h"

#include <stdbool.h>

#define HP_PRACTICE_GIVEN_MAX 12

struct hp_practice {
    hp_practice_stated stated;
    hp_practice_level level;
    uint64_t seed;
    hp_drive drive; /* as its parts measure, all good; the controller's table as it is */
    int table;      /* index of that table */
    int sensor_axis[HP_PHASE_COUNT], phase_axis[HP_PHASE_COUNT]; /* [mark] */
    hp_practice_fault fault;
    int lead;        /* its mark, of a fault of one lead; of LOOSE too; else -1 */
    bool high;       /* HALL_STUCK: at 1 */
    bool loose_hall; /* LOOSE: a Hall lead */
    hp_found cause;  /* SILENT, CUTTING_OUT */
    double idle_a;   /* what else the meter shows */
    double limit_a;  /* usual limit of a first trial */
    hp_entry given[HP_PRACTICE_GIVEN_MAX];
    int givens;
    int slipped; /* index in given; -1: none */
    hp_entry truth;
};

/* A question at the machine as it stands now. */
struct hp_seen {
    const hp_practice *machine;
    hp_practice_fault fault; /* that is still there */
    hp_drive drive;          /* with it */
    hp_random random;        /* of this question, this time */
};

/* What is still wrong after these entries. */
hp_practice_fault hp_practice_present(const hp_practice *practice, const hp_practice_look *before);
/* The fault as the advice counts it; NONE for what it does not simulate or reckon. */
hp_fault hp_practice_fault_of(const hp_practice *practice);
/* The same of any fault: its kind, and the danger that it is (NULL: none). */
hp_fault_kind hp_practice_fault_kind(hp_practice_fault fault, bool high);
const hp_danger *hp_practice_fault_danger(hp_practice_fault fault);
/* Whether only a hub with a one-way clutch can have it. */
bool hp_practice_fault_needs_clutch(hp_practice_fault fault);

/* How the leads of a wiring by marks sit on axes. */
hp_wiring hp_practice_joined(const hp_practice *practice, const hp_wiring *marked);

/* The look at one question, while nothing shakes. */
hp_seen hp_seen_begin(const hp_practice *practice, const hp_practice_look *before,
                      const hp_entry *question);
/* A run shakes the machine: a loose lead makes contact now, or not. */
void hp_seen_shake(hp_seen *seen);

/* ---- what a `see` needs ---------------------------------------------------------------------- */

/* About 0, of deviation 1; the same bits everywhere, never beyond 6. */
double hp_seen_gauss(hp_seen *seen);
/* A value as a meter shows it: off by its errors, at least 0, in steps of `step`. */
double hp_seen_metered(hp_seen *seen, double value, double relative, double zero, double step);
/* The code of the marked Hall leads with the rotor at an electrical angle. */
int hp_seen_code(const hp_seen *seen, double theta);
/* Whether a pair of marked phase leads (hubphase/decide/evidence.h) has no connection. */
bool hp_seen_pair_open(const hp_seen *seen, int pair);
/* Whether the rotor follows a wheel that is turned backward: a clutch that slips leaves it. */
bool hp_seen_carries(const hp_seen *seen);

/* A trial: practice_trial.c. */
hp_result hp_see_trial(hp_seen *seen, void *values, hp_error *err);
/* Amperes from the battery, and what they are drawn by, of one free run of the stated machine's
 * right wiring; NAN: it does not turn. */
double hp_practice_usual_a(const hp_drive *drive, hp_error *err);

/* The log with a slip in it: practice_given.c. */
hp_result hp_practice_draw_given(hp_practice *practice, hp_random *random, hp_error *err);

#endif
