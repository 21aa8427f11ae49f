/*
 * What is to be measured again: a reading that does not fit a wheel that runs well, a figure that
 * no such part gives (hubphase/decide/commission.h).
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_AGAIN_WORDS_H
#define HUBPHASE_SRC_REPORT_WORDS_AGAIN_WORDS_H

#include "hubphase/base/text.h"
#include "hubphase/decide/commission.h"
#include "report/words/words.h"

/* ", 2 left out", behind how many steps are done; where none is left out nothing. */
void hp_add_left_out(const hp_commission *list, hp_phrase *phrase);

/* Each adds a sentence or two. */
/* "In entry 5 something grew warm: ...", of a trial that warns. */
void hp_warning_words(const hp_entry *trial, hp_phrase *phrase);
/* What follows from it that the controller learnt what is joined by itself. */
void hp_learnt_words(int entry, hp_phrase *phrase);
/* That nobody read what the wiring draws at full throttle, and what is to be borrowed for it;
 * whether the log holds amperes all the same. `list` may be NULL. */
void hp_unmetered_words(const hp_commission *list, hp_phrase *phrase);
/* That the controller was exchanged, and the scenario may state the one before. */
void hp_exchanged_words(hp_phrase *phrase);
/* "Entry 5 (drag): something rubs: ...", of what comes before the motor runs again. */
void hp_hinders_words(const hp_entry *entry, hp_phrase *phrase);
void hp_held_words(const hp_commission *list, hp_phrase *phrase);
void hp_growl_words(int entry, hp_phrase *phrase);
/* "Entry 3 (hand turn): 20 changes ..., and the scenario states 15: ...": */
void hp_gainsaid_words(const hp_card_context *context, const hp_entry *gainsaid, hp_phrase *p);
/* "This controller runs without Hall sensors: ...", a sentence. */
extern const char hp_unsensed_words[];
/* What stays so until readings say where the Hall leads belong. */
extern const char hp_plug_out_words[];
/* "Nobody has tried whether ...": of an end for which nobody can try it. */
extern const char hp_plug_untried_words[];
/* ... and of one after which it is asked for. */
extern const char hp_plug_owed_words[];
void hp_contrary_words(const hp_entry *contrary, hp_phrase *phrase);
void hp_doubt_words(const hp_doubt *doubt, hp_phrase *phrase);
/* Of a step whose figure is in doubt: beside what else it found. */
void hp_doubt_finding(const hp_doubt *doubt, hp_finding_words *words);

/* "Fit says stop: Battery and controller (...). Put that right before the battery is joined.";
 * nothing where fit says no stop that joining the battery meets. */
void hp_fit_beside_words(const hp_commission *list, hp_phrase *phrase);

#endif
