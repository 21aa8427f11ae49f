/* What a mend leaves to be done: see the header. */
#include "decide/commission/mend_notes.h"

#include "decide/reading/control_values.h"
#include "decide/reading/mend_parts.h"
#include "decide/reading/reading.h"

/* Whether there is a part whose mend opens a step. */
static bool is_of_a_part(const hp_reading *step)
{
    for (const hp_mend_part *part = hp_mend_parts; part->word; part++)
        for (int k = 0; k < HP_MEND_OPENS && part->opens[k]; k++)
            if (part->opens[k] == step)
                return true;
    return false;
}

static bool is_absent(const hp_commission_step *step)
{
    return step->stage == HP_STAGE_CONTROLS && step->code == HP_STEP_NOT_FITTED;
}

void hp_mend_notes_find(hp_commission *list)
{
    const hp_assess_case *given = &list->given;
    const hp_commission_step *sag = hp_commission_step_of(list, &hp_reading_sag);
    for (int k = 0; k < given->entries; k++) {
        const hp_mend *mend = hp_entry_mend(&given->entry[k]);
        if (mend && mend->fault.kind == HP_FAULT_UNLISTED)
            list->unnamed = &given->entry[k];
        if (mend && mend->what == HP_MENDED_BATTERY)
            list->battery = &given->entry[k];
        if (hp_entry_renews(&given->entry[k]) == HP_RENEWS_EXCHANGED)
            list->exchanged = &given->entry[k];
    }
    if (sag && sag->entry && list->battery && sag->entry->number > list->battery->number)
        list->battery = NULL;
    for (int k = 0; k < list->steps && list->unnamed; k++) {
        hp_commission_step *step = &list->step[k];
        step->may_be_old = step->entry && step->entry->number < list->unnamed->number &&
                           is_of_a_part(step->reading) && !is_absent(step);
    }
}
