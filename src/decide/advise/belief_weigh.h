/* The weights of one entry over all that may be true; shared by the sources of the belief. */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_BELIEF_WEIGH_H
#define HUBPHASE_SRC_DECIDE_ADVISE_BELIEF_WEIGH_H

#include "decide/advise/belief.h"
#include "hubphase/decide/assumptions.h"

/* The trial that an entry at `place` is, or that it notes by another name: a run at full throttle
 * of the wiring that was joined. False: it is none, or the log does not say of which wiring. */
bool hp_belief_run(const hp_belief *belief, const hp_entry *entry, int place, hp_trial *run);

/* Row of hp_weigh_trial for what a wiring does under a hypothesis, with the Hall sensors or, where
 * the controller runs without them, without. */
short hp_belief_row(const hp_belief *belief, const hp_hypothesis *hypothesis,
                    const hp_wiring *wiring, bool unsensed);

/* Works out the weights, under this person, of an entry that stands (or will stand) at `place`, the
 * largest made one; now[h]: what h had become by then. Free with hp_weights_free. */
hp_result hp_belief_weigh(const hp_belief *belief, const hp_person *person, const hp_entry *entry,
                          int place, const int *now, hp_weights *weights, hp_error *err);

/* This person, who notes what was there: what is a matter of words, of attention or of meters stays
 * as it is. */
hp_person hp_person_noting_right(const hp_person *person);

#endif
