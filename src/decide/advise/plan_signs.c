/*
 * Signs of what no wiring does, read off the trials as they stand: a wiring that does not do the
 * same twice, and runs that all cut out. They decide what is asked next, and are no probabilities.
 */
#include "decide/advise/plan_parts.h"

#include <math.h>

/* The next trial at or after entry `from`; b->entries: none. */
static int next_trial(const hp_belief *b, int from)
{
    while (from < b->entries && !hp_entry_trial(&b->entry[from]))
        from++;
    return from;
}

static bool turned(const hp_trial *t)
{
    return t->motion != HP_MOVED_STILL && t->motion != HP_MOVED_SHIVER &&
           t->motion != HP_MOVED_UNSAID;
}

/* ---- a lead that makes contact now and then -------------------------------------------------- */

/* chosen: by so much two looks at one wiring never differ when all leads hold; a hand's throttle
 * and the meters take a quarter at most. */
#define CURRENT_APART 1.4
#define SPEED_APART   1.4

static bool apart(double a, double b, double factor, double zero)
{
    return fabs(a - b) > 2.0 * zero && fmax(a, b) > factor * fmin(a, b);
}

/* Whether nothing that is known to differ lets two trials differ. */
static bool same_bench(const hp_trial *a, const hp_trial *b)
{
    return hp_wiring_number(&a->wiring) == hp_wiring_number(&b->wiring) && a->feed == b->feed &&
           a->limit_reached == b->limit_reached &&
           fabs(a->throttle - b->throttle) < 0.1 * a->throttle && turned(a) == turned(b);
}

/* From some places it does not start, though it ran well from the others: what is wired right
 * starts from all. */
static bool misses_a_start(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD && t->feel == HP_FEEL_SMOOTH && t->starts_tried > 0 &&
           t->starts < t->starts_tried && t->limit_reached != HP_TELL_YES;
}

/* It left its limit from some places and stayed at it from others, or nobody looked. */
static bool limit_open(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD && hp_feed_limits(t->feed) &&
           t->limit_reached == HP_TELL_UNSAID;
}

/* chosen: what stays at its limit draws this much of it at least. */
#define LIMIT_DRAWN 0.8

/* Rough, as no wiring that leaves its limit is, and drawing less than its limit, as none that stays
 * there does: it did now this, now that. */
static bool mixes(const hp_trial *t)
{
    return turned(t) && t->feel == HP_FEEL_ROUGH && hp_feed_limits(t->feed) &&
           t->limit_reached == HP_TELL_UNSAID && t->battery_a < LIMIT_DRAWN * t->limit_a;
}

/* chosen: the lowest step is as stated, within what a hand and a meter take. */
#define STEP_WITHIN 0.9

/* Two smooth runs of which the slower drew no more: the speed switch stood in another position. */
static bool switched(const hp_person *p, const hp_trial *a, const hp_trial *b, double lowest_step)
{
    bool smooth = a->feel == HP_FEEL_SMOOTH && b->feel == HP_FEEL_SMOOTH && a->motion == b->motion;
    const hp_trial *slow = a->wheel_rad_s < b->wheel_rad_s ? a : b, *fast = slow == a ? b : a;
    return lowest_step > 0.0 && smooth && slow->wheel_rad_s < fast->wheel_rad_s &&
           slow->wheel_rad_s > STEP_WITHIN * lowest_step * fast->wheel_rad_s &&
           !(slow->battery_a > fast->battery_a + 2.0 * p->current_zero_a);
}

/* One of them grew warm, and ran on evenly: what makes it warm makes it draw more. */
static bool warmed(const hp_trial *a, const hp_trial *b)
{
    const hp_trial *more = a->battery_a > b->battery_a ? a : b;
    return more->warm == HP_TELL_YES && more->motion == HP_MOVED_FORWARD &&
           more->feel == HP_FEEL_SMOOTH && more->starts == more->starts_tried;
}

static bool differ(const hp_person *p, const hp_trial *a, const hp_trial *b, double lowest_step)
{
    return same_bench(a, b) && !switched(p, a, b, lowest_step) &&
           ((limit_open(a) && limit_open(b)) ||
            (apart(a->battery_a, b->battery_a, CURRENT_APART, p->current_zero_a) &&
             !warmed(a, b)) ||
            apart(a->wheel_rad_s, b->wheel_rad_s, SPEED_APART, 0.0));
}

bool hp_plan_unsteady(const hp_belief *b, double lowest_step)
{
    int first = hp_plan_since_mend(b);
    for (int k = first; k < b->entries; k++)
        if (b->entry[k].reading->demand & HP_DEMAND_UNSTEADY)
            first = k + 1;
    for (int k = next_trial(b, first); k < b->entries; k = next_trial(b, k + 1)) {
        const hp_trial *t = &b->entry[k].trial;
        if (misses_a_start(t) || mixes(t))
            return true;
        for (int i = next_trial(b, first); i < k; i = next_trial(b, i + 1))
            if (differ(b->person, &b->entry[i].trial, t, lowest_step))
                return true;
    }
    return false;
}

/* ---- cutting out ----------------------------------------------------------------------------- */

/* A standing motor is cut out for standing, and a supply at its limit starves the controller, or
 * may have where nothing is said of the limit and it ran on until its current was read: none of
 * them says anything. */
int hp_plan_cut_outs(const hp_belief *b)
{
    int cut = 0;
    for (int k = next_trial(b, hp_plan_since_mend(b)); k < b->entries; k = next_trial(b, k + 1)) {
        const hp_trial *t = &b->entry[k].trial;
        bool starved =
            t->limit_reached == HP_TELL_YES ||
            (hp_feed_limits(t->feed) && t->limit_reached == HP_TELL_UNSAID && !isnan(t->battery_a));
        if (!turned(t) || t->starts < t->starts_tried || starved)
            continue;
        if (t->cut_out != HP_TELL_YES)
            return 0;
        cut++;
    }
    return cut;
}
