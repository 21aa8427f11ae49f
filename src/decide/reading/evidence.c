/* Evidence: see the header. */
#include "hubphase/decide/evidence.h"

#include "decide/advise/full_check.h"
#include "decide/reading/reading.h"
#include "decide/reading/running.h"

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

/* Whether it turns the level of a Hall lead round, by which another order becomes the right one. */
static bool turns_round(const hp_entry *entry)
{
    for (int lead = -1; lead < HP_PHASE_COUNT && entry->reading->change; lead++) {
        hp_hypothesis after = {.inverted = lead};
        entry->reading->change(entry->values, &after);
        if (after.inverted != lead)
            return true;
    }
    return false;
}

int hp_learnt_at(const hp_entry *entry, int count, int *number)
{
    int at = -1, joined = 0; /* the wiring of the newest trial */
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
        bool other_table = hp_entry_renews(&entry[k]) >= HP_RENEWS_TABLE;
        joined = other_table ? 0 : joined;
        if (other_table || turns_round(&entry[k]) || (t && joined > 0 && tried != joined))
            at = -1;
        joined = t ? tried : joined;
        if (t && at >= 0) {
            *number = tried;
            ran = t->motion == HP_MOVED_FORWARD && t->feel != HP_FEEL_ROUGH;
        }
    }
    return ran && hp_log_runs_unsensed(entry, count) != HP_TELL_YES ? at : -1;
}

bool hp_entry_cures(const hp_entry *entry, hp_check_sign sign)
{
    if (entry->reading->cures)
        return entry->reading->cures(hp_entry_said(entry), sign);
    return changes(entry);
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

/* What entry `place` says of a warning sign of this wiring. */
static hp_tell tells(const hp_entry *entry, int place, int number, hp_check_sign sign)
{
    const hp_trial *t = hp_entry_trial(&entry[place]);
    if (hp_entry_cures(&entry[place], sign))
        return HP_TELL_NO;
    if (sign == HP_CHECK_CUT_OUT && ran_on(&entry[place])) {
        int joined = hp_joined_at(entry, place);
        return joined == 0 || joined == number ? HP_TELL_NO : HP_TELL_UNSAID;
    }
    if (!t || hp_wiring_number(&t->wiring) != number)
        return HP_TELL_UNSAID;
    if (sign == HP_CHECK_WARM)
        return t->warm;
    /* Behind a limit that holds it a right wiring may go off and on. */
    return t->limit_reached == HP_TELL_YES ? HP_TELL_UNSAID : t->cut_out;
}

static int newest_wiring(const hp_entry *entry, int count)
{
    const hp_trial *t = NULL;
    for (int k = count - 1; k >= 0 && !t; k--)
        t = hp_entry_trial(&entry[k]);
    return t ? hp_wiring_number(&t->wiring) : 0;
}

int hp_warned_at(const hp_entry *entry, int count, int *runs)
{
    static const hp_check_sign sign[] = {HP_CHECK_WARM, HP_CHECK_CUT_OUT};
    enum { SIGNS = sizeof sign / sizeof sign[0] };
    int at = -1, answered = 0, number = newest_wiring(entry, count);
    bool ended[SIGNS] = {false};
    *runs = 0;
    for (int k = count - 1; k >= 0 && answered < SIGNS; k--) {
        bool warns = false;
        for (int s = 0; s < SIGNS; s++) {
            hp_tell tell = ended[s] ? HP_TELL_UNSAID : tells(entry, k, number, sign[s]);
            ended[s] = ended[s] || tell == HP_TELL_NO;
            answered += tell == HP_TELL_NO;
            warns = warns || tell == HP_TELL_YES;
        }
        at = warns && at < 0 ? k : at;
        *runs += warns;
    }
    return at;
}

bool hp_entry_changes_controller(const hp_entry *entry)
{
    return hp_entry_renews(entry) >= HP_RENEWS_CONTROLLER;
}

hp_tell hp_entry_runs_unsensed(const hp_entry *entry)
{
    const hp_reading *kind = entry->reading;
    return kind->runs_unsensed ? kind->runs_unsensed(hp_entry_said(entry)) : HP_TELL_UNSAID;
}

/* Whether the newest run before entry `place` went forward, of the parts as they were then. */
static bool ran_before(const hp_entry *entry, int place)
{
    for (int k = place - 1; k >= 0 && hp_entry_renews(&entry[k]) == HP_RENEWS_NOTHING; k--) {
        const hp_trial *t = hp_entry_trial(&entry[k]);
        if (t)
            return t->motion == HP_MOVED_FORWARD && t->feel != HP_FEEL_ROUGH;
        if (ran_on(&entry[k]))
            return true;
    }
    return false;
}

/* A wheel that turns says so whenever it is seen. One that does not turn says nothing of the plug
 * but after a run that went forward with it in. */
static hp_tell says_unsensed(const hp_entry *entry, int place)
{
    hp_tell said = hp_entry_runs_unsensed(&entry[place]);
    return said == HP_TELL_NO && !ran_before(entry, place) ? HP_TELL_UNSAID : said;
}

hp_tell hp_log_runs_unsensed(const hp_entry *entry, int count)
{
    hp_tell said = HP_TELL_UNSAID;
    for (int k = count - 1; k >= 0 && !hp_entry_changes_controller(&entry[k]); k--)
        if ((said = says_unsensed(entry, k)) != HP_TELL_UNSAID)
            break;
    return said;
}

/* What the log's readings at the hub say of where the Hall leads belong. */
typedef struct hall_places {
    bool parked[HP_PHASE_COUNT], ordered;
} hall_places;

static bool parks(const hp_reading *kind)
{
    return kind->settles && kind->lead;
}

static hall_places places_told(const hp_entry *entry, int count)
{
    hall_places told = {.ordered = false};
    for (int k = count - 1; k >= 0 && hp_entry_renews(&entry[k]) != HP_RENEWS_PARTS; k--) {
        const hp_reading *kind = entry[k].reading;
        if (entry[k].typical)
            continue;
        if (parks(kind))
            told.parked[kind->lead(hp_entry_said(&entry[k]))] = true;
        told.ordered =
            told.ordered || (kind->orders_hall && kind->orders_hall(hp_entry_said(&entry[k])));
    }
    return told;
}

bool hp_log_places_hall(const hp_entry *entry, int count)
{
    const hall_places told = places_told(entry, count);
    return told.parked[0] + told.parked[1] + told.parked[2] + told.ordered > 1;
}

bool hp_hall_can_be_placed(const hp_entry *entry, int count, const hp_plan_params *plan)
{
    const bool ordered = places_told(entry, count).ordered;
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *kind = hp_readings[k];
        if ((parks(kind) || (kind->orders_hall && !ordered)) && (plan->allowed & hp_allow(kind)) &&
            !hp_left_out_by(entry, count, kind))
            return true;
    }
    return false;
}

hp_tell hp_run_unsensed(const hp_entry *entry, int count, int place)
{
    int end = place;
    while (end < count && !hp_entry_changes_controller(&entry[end]))
        end++;
    return hp_log_runs_unsensed(entry, end);
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
    /* What is known of the hub stays, whatever becomes of the controller. */
    bool of_hub =
        least == HP_RENEWS_PARTS && entry->reading->of_controller == HP_CONTROLLER_NOTHING;
    return (hp_entry_renews(later) >= least && !(of_hub && hp_entry_changes_controller(later))) ||
           opens_again(later, entry->reading);
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
