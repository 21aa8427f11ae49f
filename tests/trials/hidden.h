/*
 * A hidden motor, controller and person: what the advice is tried against.
 *
 * What the wheel does is simulated afresh by the ODE for a motor drawn at random, from random rest
 * angles; the likelihood tables are not looked at. The person is simulated here in their own words
 * and not by the model that the advice uses, though both speak of the same slips.
 */
#ifndef HUBPHASE_TESTS_TRIALS_HIDDEN_H
#define HUBPHASE_TESTS_TRIALS_HIDDEN_H

#include "base/random.h"
#include "decide/advise/hypothesis.h"
#include "decide/advise/plan.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/sim/engine.h"

typedef struct hidden_person {
    double slip;     /* probability that one word, number or code said is wrong */
    bool ammeter;    /* reads battery current */
    bool tachometer; /* reads wheel speed */
    double throttle; /* throttle used, whatever is advised; 0: as advised */
} hidden_person;

typedef struct hidden {
    hp_drive drive; /* specimen, faults not yet in it */
    hp_hypothesis truth;
    hidden_person person;
    hp_random random;
    hp_engine *engine; /* borrowed */
    hp_run_options run;
    int joined;  /* wiring as really joined; 0: none */
    int written; /* ... as the person believes */
} hidden;

/* Draws a specimen around `nominal`; the truth has the relations in turn, so that each is met
 * equally often, the table as stated, and inverted and fault as given. `scatter`: how far the
 * specimen may be off nominal, in the widths that the likelihood table's own ensemble has. */
hidden hidden_draw(const hp_drive *nominal, double scatter, uint64_t seed, uint64_t index,
                   int inverted, hp_fault fault, const hidden_person *person, hp_engine *engine);

/* Does what is advised (READ, TRY, LOOK) and says what was seen. */
hp_entry hidden_do(hidden *hidden, const hp_advice *advice, const hp_plan_params *params);

#endif
