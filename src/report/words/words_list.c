/* The kinds of entries that have words: see words.h. */
#include "report/words/words.h"

const hp_words *const hp_words_list[] = {
    &hp_words_pins,      &hp_words_supply,
    &hp_words_hand_turn, &hp_words_winding,
    &hp_words_spin,      &hp_words_park,
    &hp_words_probe,     &hp_words_controls,
    &hp_words_drag,      &hp_words_contacts,
    &hp_words_trial,     &hp_words_learn,
    &hp_words_mend,      NULL,
};
