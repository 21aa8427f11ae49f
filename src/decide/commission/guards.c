/*
 * What keeps power from doing harm and is not in the log: see the header.
 *
 * A reading counts where each danger that it is taken for was spoken of, by itself or by another
 * kind, since the last mend of a part whose answer it is. That somebody cannot take it takes
 * nothing of the danger away.
 */
#include "decide/commission/guards.h"

#include "decide/reading/reading.h"
#include "decide/reading/running.h"

#include <assert.h>

/* Whether a wheel ran well among entries from..: the motor got its power, and bore it. */
static bool ran_since(const hp_assess_case *given, int from)
{
    for (int k = from; k < given->entries; k++) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *trial = hp_entry_trial(entry);
        if (trial && trial->motion == HP_MOVED_FORWARD && trial->feel == HP_FEEL_SMOOTH)
            return true;
        if (entry->reading->ends_right && entry->reading->ends_right(hp_entry_said(entry)))
            return true;
    }
    return false;
}

void hp_guards_find(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        int mended = hp_reopened_at(given->entry, given->entries, reading);
        if (!reading->guards || hp_dangers_told(given->entry, mended + 1, given->entries, reading,
                                                given->plan, given->person))
            continue;
        assert(list->unguarded_count < HP_UNGUARDED_MOST);
        hp_unguarded *found = &list->unguarded[list->unguarded_count++];
        const hp_entry *last = hp_assess_last(given, reading);
        *found = (hp_unguarded){.reading = reading};
        if (last && mended >= 0 && last - given->entry < mended) {
            found->other = last->number;
            found->mend = given->entry[mended].number;
        }
        found->left_out = hp_left_out_by(given->entry, given->entries, reading);
        found->ran = ran_since(given, mended + 1);
    }
}
