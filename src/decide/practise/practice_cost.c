/* What a question costs, and what it risks: see the header. */
#include "decide/advise/nuisance.h"
#include "decide/practise/hidden.h"

#include <math.h>

/* The newest trial; NULL: nothing was joined yet. */
static const hp_trial *joined_now(const hp_practice_look *before)
{
    const hp_trial *now = NULL;
    for (int k = 0; k < before->entries; k++)
        if (hp_entry_trial(&before->entry[k]))
            now = hp_entry_trial(&before->entry[k]);
    return now;
}

double hp_practice_minutes(const hp_practice *p, const hp_practice_look *before,
                           const hp_entry *question)
{
    const hp_costs *costs = &p->stated.plan.costs;
    const hp_trial *t = hp_entry_trial(question), *now = joined_now(before);
    if (hp_reading_is_advised(question->reading))
        return costs->reading[hp_reading_index(question->reading)];
    if (!t)
        return question->reading->advised_as == HP_ADVICE_LEARN ? costs->learn : 0.0;
    int phase = 0, sensor = 0;
    for (int j = 0; now && j < HP_PHASE_COUNT; j++) {
        phase += t->wiring.phase[j] != now->wiring.phase[j];
        sensor += t->wiring.sensor[j] != now->wiring.sensor[j];
    }
    if (now && phase + sensor == 0)
        return costs->look;
    return costs->trial + phase * costs->phase_lead + sensor * costs->sensor_pin;
}

/* ---- risks ----------------------------------------------------------------------------------- */

static bool was_taken(const hp_practice_look *before, const hp_reading *kind)
{
    for (int k = 0; k < before->entries; k++)
        if (before->entry[k].reading == kind)
            return true;
    return false;
}

/* Whether what a check guards had power before: then it is known by now what comes of it. */
static bool had_power(const hp_practice_look *before, const hp_reading *check)
{
    for (int k = 0; k < before->entries; k++)
        if (before->entry[k].reading->powers & check->guards)
            return true;
    return false;
}

static bool is_there(const hp_practice *p, const hp_practice_look *before, const hp_reading *check)
{
    const hp_danger *danger = hp_practice_fault_danger(hp_practice_present(p, before));
    return danger && danger->reading == check;
}

/* Whether this wiring was seen to run, gently, smoothly and forward; or at all behind a limit. */
static bool ran(const hp_practice_look *before, const hp_wiring *wiring, bool well)
{
    for (int k = 0; k < before->entries; k++) {
        const hp_trial *t = hp_entry_trial(&before->entry[k]);
        if (!t || hp_wiring_number(&t->wiring) != hp_wiring_number(wiring))
            continue;
        if (well ? t->motion == HP_MOVED_FORWARD && t->feel == HP_FEEL_SMOOTH &&
                       t->throttle < HP_FULL_THROTTLE
                 : hp_trial_is_free(t) && t->feel == HP_FEEL_SMOOTH)
            return true;
    }
    return false;
}

/* Current that nothing held, in a wheel that does not run as it should. */
static bool is_harsh(const hp_practice *p, const hp_trial *t)
{
    bool smooth = t->feel == HP_FEEL_SMOOTH &&
                  (t->motion == HP_MOVED_FORWARD || t->motion == HP_MOVED_BACKWARD);
    return t->warm == HP_TELL_YES || (!smooth && t->battery_a > p->limit_a);
}

int hp_practice_risks(const hp_practice *p, const hp_practice_look *before, const hp_entry *shown,
                      hp_practice_risk risk[HP_PRACTICE_RISKS])
{
    const hp_trial *t = hp_entry_trial(shown);
    int count = 0;
    for (int k = 0; hp_readings[k] && count < HP_PRACTICE_RISKS - 2; k++) {
        const hp_reading *check = hp_readings[k];
        if ((check->guards & shown->reading->powers) && hp_practice_shows(p, check) &&
            !was_taken(before, check) && !had_power(before, check))
            risk[count++] =
                (hp_practice_risk){HP_RISK_UNCHECKED, check, is_there(p, before, check)};
    }
    if (t && t->throttle >= HP_FULL_THROTTLE && !ran(before, &t->wiring, true))
        risk[count++] = (hp_practice_risk){HP_RISK_FULL, NULL, is_harsh(p, t)};
    else if (t && !hp_feed_limits(t->feed) && hp_practice_has_limit(p) &&
             !ran(before, &t->wiring, false))
        risk[count++] = (hp_practice_risk){HP_RISK_UNLIMITED, NULL, is_harsh(p, t)};
    return count;
}
