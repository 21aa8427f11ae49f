/*
 * What the log proves of a wiring, for its sheet: see sheet_lists.h.
 *
 * A trial speaks for the wiring when it ran smoothly forward, unless that very run was one at full
 * throttle as no right wiring makes it. A later no-load run that was good takes that back; then it
 * is this run that speaks for the wiring, not the trial. Neither proves it alone: a wrong wiring
 * can feel smooth, and all that was read counts. So it is correct where the advice ends with it.
 */
#include "decide/advise/full_check.h"
#include "decide/reading/reading.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card.h"

/* ---- trials ---------------------------------------------------------------------------------- */

/* Smooth, forward, from every rest angle that was tried. */
static bool ran_smoothly(const hp_trial *trial)
{
    return trial->motion == HP_MOVED_FORWARD && trial->feel == HP_FEEL_SMOOTH &&
           trial->cut_out != HP_TELL_YES &&
           (trial->starts_tried == 0 || trial->starts == trial->starts_tried);
}

static bool fails_bands(const hp_sheet_source *source, int place, hp_band current_a, double most_a,
                        hp_band wheel_rad_s)
{
    hp_failed_check failed;
    const hp_full_check check = {
        .plan = source->steps ? source->steps->plan : NULL,
        .entry = source->entry,
        .from = place,
        .to = place + 1,
        .number = hp_wiring_number(&hp_entry_trial(&source->entry[place])->wiring),
        .current_a = current_a,
        .most_a = most_a,
        .wheel_rad_s = wheel_rad_s};
    hp_full_check_find(&check, &failed);
    return failed.stands;
}

bool hp_sheet_trial_failed(const hp_sheet_source *source, const hp_entry *trial)
{
    const hp_advice *advice = source->advice;
    const hp_commission *list = source->steps ? source->steps->commission : NULL;
    int place = (int)(trial - source->entry);
    /* The bands of the advice may be those that were learnt since; what it finds failed it says
     * itself. */
    return (advice && !list &&
            fails_bands(source, place, advice->full_current_a, advice->full_most_a,
                        advice->full_wheel_rad_s)) ||
           (list && fails_bands(source, place, list->full_current_a, list->full_most_a,
                                list->full_wheel_rad_s));
}

const hp_entry *hp_sheet_last_trial(const hp_sheet_source *source, int number)
{
    for (int k = source->entries - 1; k >= 0; k--) {
        const hp_trial *trial = hp_entry_trial(&source->entry[k]);
        if (trial && hp_wiring_number(&trial->wiring) == number)
            return &source->entry[k];
    }
    return NULL;
}

/* `good`: those that failed at full throttle do not count. */
static const hp_entry *smooth_trial(const hp_sheet_source *source, int number, bool good)
{
    for (int k = source->entries - 1; k >= 0; k--) {
        const hp_trial *trial = hp_entry_trial(&source->entry[k]);
        if (trial && ran_smoothly(trial) &&
            (number == 0 || hp_wiring_number(&trial->wiring) == number) &&
            !(good && hp_sheet_trial_failed(source, &source->entry[k])))
            return &source->entry[k];
    }
    return NULL;
}

const hp_entry *hp_sheet_working_trial(const hp_sheet_source *source, int number)
{
    return smooth_trial(source, number, true);
}

/* ---- no-load runs ---------------------------------------------------------------------------- */

const hp_entry *hp_sheet_good_run(const hp_sheet_source *source, int *number)
{
    const hp_commission *list = source->steps ? source->steps->commission : NULL;
    const hp_entry *run = !list || !list->wired ? NULL
                          : list->ran_joined    ? list->ran_joined
                                                : list->ran;
    *number = 0;
    for (int k = 0; run && k < source->entries; k++) {
        if (source->entry[k].number != run->number)
            continue;
        *number = hp_joined_at(source->entry, k);
        return &source->entry[k];
    }
    return NULL;
}

hp_sheet_end hp_sheet_end_of(const hp_sheet_source *source, int number)
{
    const hp_advice *advice = source->advice;
    if (!advice || advice->number != number || advice->failed.stands)
        return HP_SHEET_OPEN;
    return advice->kind == HP_ADVICE_DONE       ? HP_SHEET_CORRECT
           : advice->kind == HP_ADVICE_PROBABLY ? HP_SHEET_PROBABLE
                                                : HP_SHEET_OPEN;
}

bool hp_sheet_check_is_open(const hp_sheet_source *source, int number)
{
    return number > 0 && source->advice && !source->advice->checked &&
           (hp_sheet_end_of(source, number) == HP_SHEET_CORRECT ||
            hp_sheet_is_unmetered(source, number));
}

bool hp_sheet_is_unmetered(const hp_sheet_source *source, int number)
{
    return hp_sheet_end_of(source, number) == HP_SHEET_PROBABLE &&
           (source->advice->why == HP_WHY_UNMETERED || source->advice->felt > 0);
}

int hp_sheet_joined(const hp_sheet_source *source)
{
    for (int k = source->entries - 1; k >= 0; k--) {
        const hp_trial *trial = hp_entry_trial(&source->entry[k]);
        if (trial)
            return hp_wiring_number(&trial->wiring);
    }
    return 0;
}

int hp_sheet_log_wiring(const hp_sheet_source *source)
{
    int number = 0;
    const hp_entry *trial = smooth_trial(source, 0, false);
    if (!hp_sheet_good_run(source, &number) || number == 0)
        number = trial ? hp_wiring_number(&trial->trial.wiring) : 0;
    return number;
}
