/* Evidence: see the header. */
#include "hubphase/decide/evidence.h"

#include "decide/reading/reading.h"

#include <assert.h>
#include <math.h>
#include <string.h>

hp_entry hp_entry_make(const hp_reading *reading, int number)
{
    hp_entry entry;
    assert(reading->size <= sizeof entry.values);
    memset(&entry, 0, sizeof entry);
    entry.reading = reading;
    entry.number = number;
    if (reading->make)
        reading->make(entry.values);
    return entry;
}

/* Whether an entry makes another hypothesis of some. */
static bool changes(const hp_entry *entry)
{
    for (int k = 0; k < HP_FAULT_COUNT && entry->reading->change; k++) {
        const hp_hypothesis before = {0, 0, k % HP_PHASE_COUNT, hp_fault_from_index(k)};
        hp_hypothesis after = before;
        entry->reading->change(entry->values, &after);
        if (after.inverted != before.inverted || hp_fault_index(after.fault) != k)
            return true;
    }
    return false;
}

hp_renewal hp_entry_renews(const hp_entry *entry)
{
    if (entry->reading->renews)
        return entry->reading->renews(entry->values);
    return changes(entry) ? HP_RENEWS_TRIALS : HP_RENEWS_NOTHING;
}

int hp_learnt_at(const hp_entry *entry, int count, int *number)
{
    int at = -1;
    bool ran = true;
    *number = 0;
    for (int k = 0; k < count; k++) {
        const hp_trial *t = hp_entry_trial(&entry[k]);
        int tried = t ? hp_wiring_number(&t->wiring) : 0;
        if (entry[k].reading->ends_right) {
            at = entry[k].reading->ends_right(hp_entry_said(&entry[k])) ? k : -1;
            *number = 0;
            ran = true;
        }
        if (hp_entry_renews(&entry[k]) >= HP_RENEWS_TABLE || (t && *number > 0 && tried != *number))
            at = -1;
        if (t && at >= 0) {
            *number = tried;
            ran = t->motion == HP_MOVED_FORWARD && t->feel != HP_FEEL_ROUGH;
        }
    }
    return ran ? at : -1;
}

/* Whether it is a run at full throttle that went on. */
static bool ran_on(const hp_entry *entry)
{
    hp_full_run run;
    if (!entry->reading->full_run || entry->typical)
        return false;
    entry->reading->full_run(hp_entry_said(entry), &run);
    return run.motion == HP_MOVED_FORWARD;
}

int hp_warned_at(const hp_entry *entry, int count, int *runs)
{
    int at = -1;
    bool on = false;
    *runs = 0;
    for (int k = count - 1; k >= 0 && hp_entry_renews(&entry[k]) == HP_RENEWS_NOTHING; k--) {
        const hp_trial *trial = hp_entry_trial(&entry[k]);
        on = on || ran_on(&entry[k]);
        if (!trial)
            continue;
        bool warns = hp_trial_warns(trial) && (trial->warm == HP_TELL_YES || !on);
        if (!warns || (at >= 0 && hp_wiring_number(&trial->wiring) !=
                                      hp_wiring_number(&hp_entry_trial(&entry[at])->wiring)))
            break;
        at = at >= 0 ? at : k;
        ++*runs;
    }
    return at;
}

bool hp_entry_changes_controller(const hp_entry *entry)
{
    return hp_entry_renews(entry) >= HP_RENEWS_CONTROLLER;
}

static bool opens_again(const hp_entry *entry, const hp_reading *step)
{
    const hp_reading *kind = entry->reading;
    return (step->of_controller && hp_entry_changes_controller(entry)) ||
           (kind->reopens && kind->reopens(hp_entry_said(entry), step));
}

int hp_reopened_at(const hp_entry *entry, int count, const hp_reading *step)
{
    for (int k = count - 1; k >= 0; k--)
        if (opens_again(&entry[k], step))
            return k;
    return -1;
}

bool hp_entry_outdated(const hp_entry *entry, const hp_entry *later)
{
    hp_renewal least = hp_entry_trial(entry)      ? HP_RENEWS_TRIALS
                       : entry->reading->by_table ? HP_RENEWS_TABLE
                                                  : HP_RENEWS_PARTS;
    return hp_entry_renews(later) >= least || opens_again(later, entry->reading);
}

hp_result hp_entry_check(const hp_entry *entry, hp_error *err)
{
    const hp_reading *reading = entry->reading;
    hp_result result = reading->check ? reading->check(entry->values, err) : HP_OK;
    return result == HP_OK
               ? HP_OK
               : hp_error_context(err, result, "entry %d (%s)", entry->number, reading->title);
}

/* A pair that was seen to be open was seen, whatever the figures of the others are. */
static void forget_pairs(const hp_field *field, void *at)
{
    double *number = at;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (!(field->limits.none && isinf(number[k])))
            number[k] = NAN;
}

hp_entry hp_entry_as_found(const hp_entry *entry)
{
    hp_entry found = *entry;
    if (!entry->typical)
        return found;
    for (const hp_field *field = entry->reading->fields; field->name; field++) {
        void *at = found.values + field->offset;
        if (!field->figure)
            continue;
        if (field->type == HP_FIELD_PAIRS)
            forget_pairs(field, at);
        else if (field->type == HP_FIELD_NUMBER)
            *(double *)at = NAN;
        else if (field->type == HP_FIELD_WHOLE)
            *(int *)at = 0;
    }
    return found;
}

void hp_entry_mark_typical(hp_entry *entry)
{
    entry->typical = true;
    hp_entry found = hp_entry_as_found(entry);
    entry->typical = memcmp(found.values, entry->values, sizeof found.values) != 0;
}
