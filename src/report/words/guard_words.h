/*
 * What power would harm and nobody has looked for: told at the very action that brings the power,
 * and at the end of commissioning.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_GUARD_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_GUARD_WORDS_H

#include "report/words/card.h"

/* On the card of an entry in which the motor gets power: in its reason, and at the action that
 * joins it, a caution and how one finds out. Before hp_card_take_care; `kind` may be NULL. */
void hp_card_say_unguarded(const hp_card_context *context, const hp_reading *kind, hp_card *words);
/* "nobody has measured the Hall supply (entry 2 was before the mend of entry 25), nobody has ...",
 * of those that are left out, or of those that are not. False, nothing added: there is none. */
bool hp_unguarded_words(const hp_commission *list, bool left_out, hp_phrase *phrase);

#endif
