/* The list of steps of commissioning: see the header. */
#include "hubphase/decide/commission.h"

#include "decide/commission/own.h"
#include "decide/commission/standing.h"
#include "decide/reading/reading.h"

#include <string.h>

hp_stage hp_reading_stage(const hp_reading *reading)
{
    return reading->stage;
}

const char *hp_stage_name(hp_stage stage)
{
    static const char *const name[HP_STAGE_COUNT] = {"wiring", "hub", "controls", "stand", "road"};
    return name[stage];
}

const char *hp_finding_name(hp_finding finding)
{
    static const char *const name[HP_FINDING_COUNT] = {"open", "noted", "good", "look", "stop"};
    return name[finding];
}

const char *hp_commission_why_name(hp_commission_why why)
{
    static const char *const name[HP_COMMISSION_WHY_COUNT] = {"goes_on", "stopped", "wiring",
                                                              "look",    "ready",   "left_out"};
    return name[why];
}

const hp_entry *hp_assess_last(const hp_assess_case *given, const hp_reading *reading)
{
    for (int k = given->entries - 1; k >= 0; k--)
        if (given->entry[k].reading == reading)
            return &given->entry[k];
    return NULL;
}

/* ---- whether a wiring runs --------------------------------------------------------------------
 */

static bool runs(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD && t->feel == HP_FEEL_SMOOTH &&
           t->cut_out != HP_TELL_YES && t->limit_reached != HP_TELL_YES;
}

/* The last word of the log on it. */
static bool is_wired(const hp_assess_case *given)
{
    for (int k = given->entries - 1; k >= 0; k--) {
        const hp_entry *entry = &given->entry[k];
        const hp_trial *trial = hp_entry_trial(entry);
        if (trial)
            return runs(trial);
        if (entry->reading->ends_right && entry->reading->ends_right(hp_entry_said(entry)))
            return true;
    }
    return false;
}

/* ---- the list ---------------------------------------------------------------------------------
 */

static bool comes_before(const hp_reading *a, const hp_reading *b)
{
    return a->stage != b->stage ? a->stage < b->stage : a->order < b->order;
}

/* All kinds with a stage, in order; of one place the one listed first. */
static void list_steps(hp_commission *list)
{
    for (int k = 0; hp_readings[k] && list->steps < HP_COMMISSION_STEPS; k++) {
        const hp_reading *reading = hp_readings[k];
        int at = list->steps;
        if (reading->stage == HP_STAGE_WIRING)
            continue;
        for (; at > 0 && comes_before(reading, list->step[at - 1].reading); at--)
            list->step[at] = list->step[at - 1];
        list->step[at] = (hp_commission_step){.reading = reading, .stage = reading->stage};
        list->steps++;
    }
}

/* Whether the log says that a step cannot be done here, later than its own last entry. */
static bool is_left_out(const hp_assess_case *given, const hp_reading *reading)
{
    for (int k = given->entries - 1; k >= 0 && given->entry[k].reading != reading; k--) {
        const hp_reading *kind = given->entry[k].reading;
        if (kind->leaves_out && kind->leaves_out(hp_entry_said(&given->entry[k])) == reading)
            return true;
    }
    return false;
}

static void assess(const hp_commission *list, hp_commission_step *step)
{
    const hp_reading *reading = step->reading;
    hp_standing_assess(&list->given, step);
    step->concerns = step->entry || !reading->concerns || reading->concerns(&list->given);
    step->possible = list->wired || !reading->needs_run;
    step->left_out = is_left_out(&list->given, reading);
}

static void set_next(hp_commission *list)
{
    bool look = false, waits = false, left = false;
    list->next = -1;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        look = look || step->finding == HP_FINDING_LOOK;
        left = left || (step->left_out && step->concerns);
        if (step->finding == HP_FINDING_STOP) {
            list->next = k;
            list->why = HP_COMMISSION_STOPPED;
            return;
        }
        if (!step->concerns || step->left_out || step->finding != HP_FINDING_NONE)
            continue;
        waits = waits || !step->possible;
        if (list->next < 0 && step->possible)
            list->next = k;
    }
    /* Steps that are done say nothing for a wheel that, by the log's last word, does not run. */
    list->why = list->next >= 0         ? HP_COMMISSION_GOES_ON
                : waits || !list->wired ? HP_COMMISSION_WIRING
                : look                  ? HP_COMMISSION_LOOK
                : left                  ? HP_COMMISSION_LEFT
                                        : HP_COMMISSION_READY;
}

void hp_commission_make(const hp_assess_case *given, hp_commission *list)
{
    memset(list, 0, sizeof *list);
    list->given = *given;
    list->given.own = NULL;
    list->wired = is_wired(given);
    hp_own_learn(&list->given, &list->own);
    list->given.own = &list->own;
    list_steps(list);
    for (int k = 0; k < list->steps; k++)
        assess(list, &list->step[k]);
    set_next(list);
}

const hp_commission_step *hp_commission_step_of(const hp_commission *list,
                                                const hp_reading *reading)
{
    for (int k = 0; k < list->steps; k++)
        if (list->step[k].reading == reading)
            return &list->step[k];
    return NULL;
}

int hp_commission_count(const hp_commission *list, int *done)
{
    int count = 0;
    *done = 0;
    for (int k = 0; k < list->steps; k++) {
        count += list->step[k].concerns;
        *done += list->step[k].entry != NULL;
    }
    return count;
}
