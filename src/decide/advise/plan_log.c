/* What a log says to the plan, before any arithmetic: which trials ran well, and what was looked at
 * often enough. */
#include "decide/advise/plan_parts.h"

#include <math.h>

static int count_from(const hp_belief *b, int first, const hp_reading *kind)
{
    int count = 0;
    for (int k = first; k < b->entries; k++)
        count += b->entry[k].reading == kind;
    return count;
}

int hp_plan_count(const hp_belief *b, const hp_reading *kind)
{
    return count_from(b, 0, kind);
}

int hp_plan_count_of_controller(const hp_belief *b, const hp_reading *kind)
{
    int first = b->entries;
    while (first > 0 && hp_entry_renews(&b->entry[first - 1]) < HP_RENEWS_EXCHANGED)
        first--;
    return count_from(b, first, kind);
}

/* The newest trial before entry `end`, of any wiring (0) or of one; NULL: none. */
const hp_trial *hp_plan_last_trial(const hp_belief *b, int end, int number)
{
    for (int k = end - 1; k >= 0; k--) {
        const hp_trial *trial = hp_entry_trial(&b->entry[k]);
        if (trial && (number == 0 || hp_wiring_number(&trial->wiring) == number))
            return trial;
    }
    return NULL;
}

/* The wiring joined last, by the log; 0: none. */
int hp_plan_present(const hp_belief *b)
{
    const hp_trial *trial = hp_plan_last_trial(b, b->entries, 0);
    return trial ? hp_wiring_number(&trial->wiring) : 0;
}

bool hp_plan_fresh_controller(const hp_belief *b)
{
    for (int k = b->entries - 1; k >= 0; k--) {
        if (hp_entry_trial(&b->entry[k]))
            return false;
        if (hp_entry_changes_controller(&b->entry[k]))
            return true;
    }
    return false;
}

/* The first entry that tells of the parts as they are: after the last mend. */
int hp_plan_since_mend(const hp_belief *b)
{
    int first = b->entries;
    while (first > 0 && !hp_belief_changes(b, first - 1))
        first--;
    return first;
}

/* Whether a wiring has run forward below a limit. */
static bool left_its_limit(const hp_belief *b, int number)
{
    for (int k = hp_plan_since_mend(b); k < b->entries; k++) {
        const hp_trial *t = hp_entry_trial(&b->entry[k]);
        if (t && hp_wiring_number(&t->wiring) == number && t->motion == HP_MOVED_FORWARD &&
            t->limit_reached == HP_TELL_NO)
            return true;
    }
    return false;
}

/* Forward, and not roughly, unless it once left a limit: a drive by a sine growls on a motor that
 * is made for six steps, and so does a bearing. */
static bool ran_forward(const hp_belief *b, const hp_trial *t)
{
    return t && t->motion == HP_MOVED_FORWARD &&
           (t->feel != HP_FEEL_ROUGH || left_its_limit(b, hp_wiring_number(&t->wiring)));
}

/* ... and off its limit. */
static bool ran_well(const hp_belief *b, const hp_trial *t)
{
    return ran_forward(b, t) && t->limit_reached != HP_TELL_YES;
}

bool hp_plan_ran_forward(const hp_belief *b, int number)
{
    return ran_forward(b, hp_plan_last_trial(b, b->entries, number));
}

bool hp_plan_ran_well(const hp_belief *b, int number)
{
    return ran_well(b, hp_plan_last_trial(b, b->entries, number));
}

/* What shows that a wiring draws little: GOES_ON where nothing does. */
hp_why hp_plan_current_shown(const hp_belief *b, int number)
{
    hp_why why = HP_WHY_GOES_ON;
    for (int k = hp_plan_since_mend(b); k < b->entries; k++) {
        const hp_trial *t = hp_entry_trial(&b->entry[k]);
        /* What cuts out never ran up, and draws little for that. */
        if (!ran_well(b, t) || t->cut_out == HP_TELL_YES || hp_wiring_number(&t->wiring) != number)
            continue;
        if (t->limit_reached == HP_TELL_NO && why == HP_WHY_GOES_ON)
            why = HP_WHY_LIMIT;
        if (!isnan(t->battery_a) && t->limit_reached != HP_TELL_YES)
            why = HP_WHY_CURRENT;
    }
    return why;
}

/* Whether two looks at one wiring said the same, within what meters show: a third for the same
 * reason would say it again. */
static bool figures_same(double a, double b, double relative, double zero)
{
    if (isnan(a) || isnan(b))
        return isnan(a) && isnan(b);
    return fabs(a - b) <= 3.0 * hypot(relative * fmax(a, b), zero);
}

/* A limit that was not reached takes no part. */
static bool fed_alike(const hp_trial *a, const hp_trial *b)
{
    return (hp_trial_is_free(a) && hp_trial_is_free(b)) ||
           (a->feed == b->feed && a->limit_reached == b->limit_reached);
}

static bool said_same(const hp_person *p, const hp_trial *a, const hp_trial *b)
{
    /* What a limit holds back has no figures of its own. */
    bool held = a->limit_reached == HP_TELL_YES && b->limit_reached == HP_TELL_YES;
    if (a->motion != b->motion || a->feel != b->feel || !fed_alike(a, b))
        return false;
    return held ||
           (figures_same(a->battery_a, b->battery_a, p->current_relative, p->current_zero_a) &&
            figures_same(a->wheel_rad_s, b->wheel_rad_s, p->speed_relative, 0.0));
}

bool hp_plan_looked_enough(const hp_belief *b, int number)
{
    const hp_trial *newest = NULL;
    for (int k = b->entries - 1; k >= 0; k--) {
        const hp_trial *t = hp_entry_trial(&b->entry[k]);
        if (hp_belief_changes(b, k))
            return false;
        if (!t || hp_wiring_number(&t->wiring) != number)
            continue;
        if (newest)
            return said_same(b->person, newest, t);
        newest = t;
    }
    return false;
}

/* Entries of a kind since the newest trial. */
int hp_plan_count_since_trial(const hp_belief *b, const hp_reading *kind)
{
    int first = b->entries;
    while (first > 0 && !hp_entry_trial(&b->entry[first - 1]))
        first--;
    return count_from(b, first, kind);
}

int hp_plan_count_since_mend(const hp_belief *b, const hp_reading *kind)
{
    return count_from(b, hp_plan_since_mend(b), kind);
}

int hp_plan_count_since_drive(const hp_belief *b, const hp_reading *kind)
{
    int first = b->entries, mended = hp_plan_since_mend(b);
    while (first > mended && hp_belief_drives(b, &b->entry[first - 1], first - 1) != HP_TELL_YES)
        first--;
    return count_from(b, first, kind);
}

/* Powered trials of the parts as they are. */
int hp_plan_trials_since_mend(const hp_belief *b)
{
    int count = 0;
    for (int k = hp_plan_since_mend(b); k < b->entries; k++)
        count += hp_entry_trial(&b->entry[k]) != NULL;
    return count;
}
