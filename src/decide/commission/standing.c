/*
 * What stands of a step: see the header.
 *
 * A look at a part may be noted bit by bit: "the covers are torqued now" does not take back that
 * water was found inside. So a later entry is laid over the earlier one, field by field, until one
 * says that there is no such part. A run is measured as a whole: its kind has values that must be
 * there, and its last entry stands alone.
 *
 * What a run showed is of the wiring and the parts that it was made with: once another one was
 * joined, or one mended, or the wheel did not turn any more, it is open again.
 */
#include "decide/commission/standing.h"

#include "decide/advise/full_check.h"
#include "decide/commission/doubt.h"
#include "decide/reading/control_values.h"
#include "decide/reading/reading.h"

#include <math.h>
#include <string.h>

static bool is_whole(const hp_reading *reading)
{
    for (const hp_field *field = reading->fields; field->name; field++)
        if (field->required)
            return true;
    return false;
}

/* Copies what is said; of a plug all volts together, since they were read together. */
static void lay_over(const hp_field *field, const unsigned char *from, unsigned char *to)
{
    const void *at = from + field->offset;
    const hp_plug_volts *plug = at;
    size_t size = 0;
    switch (field->type) {
    case HP_FIELD_NUMBER: size = isnan(*(const double *)at) ? 0 : sizeof(double); break;
    case HP_FIELD_WHOLE:
    case HP_FIELD_CHOICE: size = *(const int *)at == 0 ? 0 : sizeof(int); break;
    case HP_FIELD_TELL: size = *(const hp_tell *)at == HP_TELL_UNSAID ? 0 : sizeof(hp_tell); break;
    case HP_FIELD_PIN_VOLTS:
    case HP_FIELD_MINUS_PIN: size = plug->pins == 0 && plug->minus == 0 ? 0 : sizeof *plug; break;
    default: break; /* no field of a look */
    }
    memcpy(to + field->offset, at, size);
}

static void assess(const hp_assess_case *given, hp_commission_step *step)
{
    step->code = 0;
    step->finding = HP_FINDING_NOTED;
    if (step->reading->assess)
        step->finding = step->reading->assess(given, step->said.values, &step->code);
}

/* Nothing is good, and nothing only noted, of which a figure cannot be. */
static void doubt(const hp_assess_case *given, hp_commission_step *step)
{
    if (hp_doubt_find(given, step->reading, &step->doubt) && step->finding != HP_FINDING_STOP)
        step->finding = HP_FINDING_LOOK;
}

/* The wiring that was logged last, however it ran; 0: none. */
static int joined_now(const hp_assess_case *given)
{
    const hp_entry *last = hp_assess_last_trial(given);
    return last ? hp_wiring_number(&hp_entry_trial(last)->wiring) : 0;
}

/* Whether this is a trial in which the wiring did not turn the wheel forward. */
static bool ran_no_more(const hp_entry *entry, int number)
{
    const hp_trial *t = hp_entry_trial(entry);
    return t && !entry->typical && hp_wiring_number(&t->wiring) == number &&
           t->motion != HP_MOVED_FORWARD && t->motion != HP_MOVED_UNSAID;
}

/* Takes back a step whose last entry was a run of another wiring, or of before something was put
 * right, or of before the same wiring ran no more. */
static void open_again(const hp_assess_case *given, int place, hp_commission_step *step)
{
    int number = hp_run_wiring(given->entry, given->entries, place), now = joined_now(given);
    bool mended = false;
    int failed = 0;
    for (int k = place + 1; k < given->entries; k++) {
        mended = mended || hp_entry_renews(&given->entry[k]) != HP_RENEWS_NOTHING;
        if (number > 0 && ran_no_more(&given->entry[k], number))
            failed = given->entry[k].number;
    }
    if (!step->reading->full_run || (!mended && !failed && (number == 0 || number == now)))
        return;
    step->other = step->entry->number;
    step->other_wiring = mended || number == now ? 0 : number;
    step->other_failed = mended || number != now ? 0 : failed;
    step->joined = now;
    step->entry = NULL;
    step->finding = HP_FINDING_NONE;
    step->code = 0;
    step->doubt.entry = NULL;
}

/* What the entries from `from` on say together; returns the place of the last, -1: there is none.
 */
static int gather(const hp_assess_case *given, int from, hp_commission_step *step)
{
    bool whole = is_whole(step->reading);
    int place = -1;
    for (int k = from; k < given->entries; k++) {
        const hp_entry *entry = &given->entry[k];
        if (entry->reading != step->reading)
            continue;
        /* What is only noted says nothing that a later entry must take back. */
        if (whole || !step->entry || step->finding == HP_FINDING_NOTED) {
            step->said = *entry;
        } else {
            if (step->reading->gives_way)
                step->reading->gives_way(step->said.values, entry->values);
            for (const hp_field *field = step->reading->fields; field->name; field++)
                lay_over(field, entry->values, step->said.values);
            step->said.number = entry->number;
            step->said.typical = entry->typical;
        }
        step->entry = &step->said;
        place = k;
        assess(given, step);
    }
    return place;
}

/* Whether the machine has no such part, and another controller gives it none. */
static bool stays_absent(const hp_commission_step *step, const hp_entry *mend)
{
    return hp_entry_changes_controller(mend) &&
           step->reading->of_controller == HP_CONTROLLER_ANSWERS &&
           step->stage == HP_STAGE_CONTROLS && step->code == HP_STEP_NOT_FITTED;
}

/* What another controller answered is open again, and so is what is of another part that was
 * mended. What was to be mended stays until it was measured again, where that needs no power: the
 * new one may be as the old. A stop of a step that takes power would forbid its own measuring. */
static int forget_mended(const hp_assess_case *given, int place, hp_commission_step *step)
{
    int from = hp_reopened_at(given->entry, given->entries, step->reading) + 1;
    bool stays =
        hp_finding_wants_mending(step->finding) && !(step->reading->powers & HP_POWER_LEADS);
    if (from == 0 || stays || stays_absent(step, &given->entry[from - 1]))
        return place;
    hp_commission_step fresh = {.reading = step->reading,
                                .stage = step->stage,
                                .other = step->entry->number,
                                .joined = joined_now(given)};
    place = gather(given, from, &fresh);
    if (place >= 0)
        fresh.other = fresh.joined = 0;
    *step = fresh;
    if (place >= 0)
        step->entry = &step->said;
    return place;
}

void hp_standing_assess(const hp_assess_case *given, hp_commission_step *step)
{
    int place = gather(given, 0, step);
    if (place >= 0)
        place = forget_mended(given, place, step);
    if (place < 0)
        return;
    doubt(given, step);
    open_again(given, place, step);
}
