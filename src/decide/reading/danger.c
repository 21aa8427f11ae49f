/*
 * Dangers: which of those that a log's entries show still stand.
 *
 * What would do damage is put right before anything else, and whoever put it right measures that
 * very thing again. So a danger stands until a later entry speaks of it, of whatever kind: one that
 * holds other values takes nothing back.
 */
#include "decide/reading/reading.h"

#include <stddef.h>

/* What an entry says of a danger. */
static hp_tell tells(const hp_entry *entry, const hp_danger *danger, const hp_plan_params *plan,
                     const hp_person *person)
{
    const hp_danger *const *own = entry->reading->speaks_of;
    for (int k = 0; own && own[k]; k++)
        if (own[k] == danger)
            return entry->reading->danger(hp_entry_said(entry), danger, plan, person);
    return HP_TELL_UNSAID;
}

double hp_rest_v_at(const hp_plan_params *plan, const hp_entry *entry, int place)
{
    double rest_v = plan->rest_v, full_v;
    for (int k = place - 1; k >= 0; k--)
        if (entry[k].reading->throttle_volts &&
            hp_reopened_at(entry, place, entry[k].reading) < k &&
            entry[k].reading->throttle_volts(hp_entry_said(&entry[k]), &rest_v, &full_v))
            break;
    return rest_v;
}

static hp_plan_params as_read(const hp_plan_params *plan, const hp_entry *entry, int place)
{
    hp_plan_params read = *plan;
    read.rest_v = hp_rest_v_at(plan, entry, place);
    return read;
}

const hp_danger *hp_danger_standing(const hp_entry *entry, int entries, int place,
                                    const hp_plan_params *plan, const hp_person *person)
{
    const hp_danger *const *own = entry[place].reading->speaks_of;
    for (int k = 0; own && own[k]; k++) {
        hp_plan_params then = as_read(plan, entry, place);
        bool stands = tells(&entry[place], own[k], &then, person) == HP_TELL_YES;
        for (int later = place + 1; stands && later < entries; later++) {
            then = as_read(plan, entry, later);
            stands = tells(&entry[later], own[k], &then, person) == HP_TELL_UNSAID;
        }
        if (stands)
            return own[k];
    }
    return NULL;
}

bool hp_dangers_told(const hp_entry *entry, int from, int count, const hp_reading *reading,
                     const hp_plan_params *plan, const hp_person *person)
{
    for (int k = 0; reading->speaks_of && reading->speaks_of[k]; k++) {
        bool told = false;
        for (int e = from; e < count && !told; e++)
            told = tells(&entry[e], reading->speaks_of[k], plan, person) != HP_TELL_UNSAID;
        if (!told)
            return false;
    }
    return true;
}

const hp_danger *hp_entry_danger(const hp_entry *entry, const hp_plan_params *plan,
                                 const hp_person *person)
{
    return hp_danger_standing(entry, 1, 0, plan, person);
}
