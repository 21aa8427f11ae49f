/* The kinds of entries: see reading.h. The order is that of menus and help texts; no output beside
 * them depends on it. */
#include "decide/reading/reading.h"

const hp_reading *const hp_readings[] = {
    &hp_reading_pins,      &hp_reading_supply,
    &hp_reading_hand_turn, &hp_reading_winding,
    &hp_reading_spin,      &hp_reading_park,
    &hp_reading_probe,     &hp_reading_controls,
    &hp_reading_drag,      &hp_reading_contacts,
    &hp_reading_trial,     &hp_reading_learn,
    &hp_reading_mend,      NULL,
};
