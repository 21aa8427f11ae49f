/*
 * The log that a learner is given where a slip is to be found: the safe readings, each phase lead
 * parked, and the right wiring run; one of them says something else than there was to see.
 *
 * Who only looks at the others can tell: three parks give three partners, the hand turn their
 * order, and the wiring that ran must fit both.
 */
#include "decide/practise/hidden.h"

#include <assert.h>

static hp_result add(hp_practice *p, hp_entry question, hp_error *err)
{
    const hp_practice_look before = {p->given, p->givens};
    assert(p->givens < HP_PRACTICE_GIVEN_MAX);
    hp_result result = hp_practice_see(p, &before, &question, err);
    question.number = p->givens + 1;
    if (result == HP_OK)
        p->given[p->givens++] = question;
    return result;
}

/* Every reading that can be advised for its own sake, dearest last: a probe of the controller and
 * volts at a known speed are no part of an ordinary evening. */
static bool is_usual(const hp_reading *kind)
{
    return hp_reading_is_advised(kind) && kind->demand == 0 && !kind->by_table &&
           !(kind->proves & HP_PROVES(HP_FAULT_CLUTCH));
}

static hp_result add_readings(hp_practice *p, bool first, hp_error *err)
{
    hp_result result = HP_OK;
    for (int k = 0; hp_readings[k] && result == HP_OK; k++) {
        const hp_reading *kind = hp_readings[k];
        int times = hp_reading_is_by_lead(kind) ? HP_PHASE_COUNT : 1;
        if (!is_usual(kind) || kind->first != first || !hp_practice_shows(p, kind))
            continue;
        for (int lead = 0; lead < times && result == HP_OK; lead++)
            result = add(p, hp_practice_ask(kind, times > 1 ? lead : -1), err);
    }
    return result;
}

hp_result hp_practice_draw_given(hp_practice *p, hp_random *random, hp_error *err)
{
    const hp_practice_look none = {NULL, 0};
    int right[3], may[HP_PRACTICE_GIVEN_MAX], count = 0;
    hp_right_wirings(hp_relation_index(p->sensor_axis, p->phase_axis), p->table, right);
    const hp_wiring wiring = hp_wiring_from_number(right[hp_random_below(random, 3)]);
    hp_result result = add_readings(p, true, err);
    if (result == HP_OK)
        result = add_readings(p, false, err);
    if (result == HP_OK)
        result = add(p, hp_practice_ask_trial(p, &wiring, HP_PRACTICE_LIMITED, 0.0), err);
    if (result != HP_OK)
        return result;
    for (int k = 0; k < p->givens; k++)
        if (p->given[k].reading->slip)
            may[count++] = k;
    p->slipped = may[hp_random_below(random, (uint32_t)count)];
    p->truth = p->given[p->slipped];
    hp_entry *wrong = &p->given[p->slipped];
    hp_seen seen = hp_seen_begin(p, &none, wrong);
    seen.random = *random;
    wrong->reading->slip(&seen, hp_entry_values(wrong));
    return hp_entry_check(wrong, err);
}
