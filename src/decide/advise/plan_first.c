/* What comes before any reckoning: dangers, the readings that keep the next steps safe, and the
 * questions that settle what a figure or a standing wheel is made of. */
#include "decide/advise/plan_parts.h"

/* The newest that stands. */
static const hp_danger *danger_of(const hp_planner *p, const hp_belief *b)
{
    const hp_danger *danger = NULL;
    for (int k = b->entries - 1; k >= 0 && !danger; k--)
        danger = hp_danger_standing(b->entry, b->entries, k, &p->params, p->person);
    return danger;
}

void hp_plan_advise_reading(hp_advice *advice, const hp_reading *reading)
{
    advice->kind = HP_ADVICE_READ;
    advice->reading = reading;
    advice->lead = -1;
}

void hp_plan_ask_instead(hp_advice *advice, const hp_reading *reading)
{
    const hp_advice was = *advice;
    *advice = (hp_advice){.kind = HP_ADVICE_READ,
                          .reading = reading,
                          .lead = -1,
                          .current_a = was.current_a,
                          .wheel_rad_s = was.wheel_rad_s,
                          .full_current_a = was.full_current_a,
                          .full_wheel_rad_s = was.full_wheel_rad_s,
                          .full_from = was.full_from,
                          .full_most_a = was.full_most_a,
                          .failed = was.failed,
                          .unsensed = was.unsensed,
                          .contradiction = was.contradiction,
                          .in_vain = was.in_vain,
                          .another = was.another};
}

/* Whether it was taken of the parts that are there now, from entry `from` on. What cannot be is
 * asked for once more, and then left to the belief. */
static bool was_taken(const hp_belief *b, const hp_reading *reading, int from)
{
    int impossible = 0;
    bool taken = false;
    for (int k = from; k < b->entries; k++) {
        if (b->entry[k].reading != reading)
            continue;
        taken = !reading->cannot_be || !reading->cannot_be(hp_entry_said(&b->entry[k]));
        impossible += !taken;
    }
    return taken || impossible > 1;
}

/* Whether what is joined ran well with the parts that are there now. */
static bool ran_since(const hp_belief *b, int from)
{
    for (int k = b->entries - 1; k >= from; k--)
        if (hp_entry_trial(&b->entry[k]))
            return hp_plan_ran_well(b, 0);
    return false;
}

/* What the controller learnt by itself is right as it is joined: no reckoning with the table of
 * before says more. A run of it is weighed for what it drew, as any other. */
static bool end_learnt(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    int number = 0, at = hp_learnt_at(b->entry, b->entries, &number);
    if (at < 0)
        return false;
    hp_why shown = number > 0 && !hp_plan_far_out(p, b, advice) ? hp_plan_current_shown(b, number)
                                                                : HP_WHY_GOES_ON;
    /* "It worked" is one look: forward, and smooth; a trial is another. */
    double wrong = 1.0 - (1.0 - p->person->wrong_direction) * (1.0 - p->person->rough_as_smooth);
    advice->kind = shown != HP_WHY_GOES_ON ? HP_ADVICE_DONE : HP_ADVICE_PROBABLY;
    advice->why = shown != HP_WHY_GOES_ON ? shown : HP_WHY_LEARNT;
    advice->certainty = 1.0 - (number > 0 ? wrong * wrong : wrong);
    advice->learnt = b->entry[at].number;
    hp_plan_set_wiring(advice, number);
    return true;
}

/* What a mend has made of a reading that the wirings are told by is seen before anything else: true
 * when it is asked for. */
static bool advise_reopened(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        int mend = hp_reopened_at(b->entry, b->entries, reading);
        if (mend < 0 || reading->first || !reading->weigh || reading->demand ||
            !(p->params.allowed & hp_allow(reading)) || hp_plan_trials_since_mend(b) > 0 ||
            was_taken(b, reading, mend + 1))
            continue;
        hp_plan_advise_reading(advice, reading);
        return true;
    }
    return false;
}

/* What comes before any arithmetic; true when it decides. */
bool hp_plan_first(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    advice->danger = danger_of(p, b);
    if (advice->danger) {
        advice->kind = HP_ADVICE_DANGER;
        return true;
    }
    /* Safe and quick, and they keep the next steps safe: who has a wheel that runs is past them. */
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        int from = hp_reopened_at(b->entry, b->entries, reading) + 1;
        if (reading->first && (p->params.allowed & hp_allow(reading)) &&
            !was_taken(b, reading, from) && !ran_since(b, from)) {
            hp_plan_advise_reading(advice, reading);
            return true;
        }
    }
    if (advise_reopened(p, b, advice))
        return true;
    const hp_reading *learn = hp_reading_advised_as(HP_ADVICE_LEARN);
    if (p->params.powered && p->params.learns && learn && hp_plan_count(b, learn) == 0) {
        advice->kind = HP_ADVICE_LEARN;
        return true;
    }
    return end_learnt(p, b, advice);
}

/* chosen: how likely a silent controller is before it is looked into. */
#define SILENT_WORTH 0.25

/* chosen: ... and a contact that fails now and then, or something that is not listed. */
#define LOOSE_WORTH         0.1
#define LOOSE_WORTH_AT_REST 0.05 /* ... while no wiring is joined: nothing has to run for it */
#define UNLISTED_WORTH      0.3
/* chosen: who tugged every lead twice has found what can be felt. */
#define TUGS_MOST 2

/* Whether leads may be tugged at once more: something that a loose one shows in was looked at, and
 * nobody tugged since. */
static bool may_tug(const hp_belief *b, const hp_reading *reading)
{
    int k = b->entries - 1;
    bool shows = false;
    for (; k >= 0 && !shows && b->entry[k].reading != reading; k--)
        shows = hp_entry_trial(&b->entry[k]) ||
                (hp_plan_present(b) == 0 && b->entry[k].reading->looks != HP_LOOKS_NONE);
    return shows && hp_plan_count(b, reading) < TUGS_MOST;
}

static double chance_of(const double *troubles, hp_fault_kind kind)
{
    return troubles[hp_trouble_index(-1, (hp_fault){kind, 0})];
}

/* Whether the log gives this reason to ask for a reading that answers to it. */
static bool is_asked_for(const hp_planner *p, const hp_belief *b, const hp_reading *reading,
                         hp_demand reason, const hp_advice *advice)
{
    double troubles[HP_TROUBLE_COUNT];
    int present = hp_plan_present(b);
    hp_belief_troubles(b, troubles);
    switch (reason) {
    case HP_DEMAND_CUT_OUTS:
        return hp_plan_cut_outs(b) > 0 && hp_plan_count_since_mend(b, reading) == 0;
    case HP_DEMAND_UNSTEADY:
        return may_tug(b, reading) &&
               (hp_plan_unsteady(b, p->params.lowest_step) ||
                chance_of(troubles, HP_FAULT_LOOSE) >=
                    (present > 0 ? LOOSE_WORTH : LOOSE_WORTH_AT_REST) ||
                (present > 0 && chance_of(troubles, HP_FAULT_UNLISTED) >= UNLISTED_WORTH));
    case HP_DEMAND_SILENCE:
        return chance_of(troubles, HP_FAULT_SILENT) >= SILENT_WORTH &&
               hp_plan_count_since_trial(b, reading) == 0;
    case HP_DEMAND_FIGURES:
        return present > 0 && hp_plan_ran_well(b, present) && hp_plan_far_out(p, b, advice) &&
               hp_plan_looked_enough(b, present) && hp_plan_count(b, reading) == 0;
    case HP_DEMAND_RUNS: return false; /* of an end: hp_plan_heed_plug */
    case HP_DEMAND_END: return present > 0 && may_tug(b, reading) && hp_plan_count(b, reading) == 0;
    }
    return false;
}

/* Asks for the first reading that answers to this reason, where there is the reason. */
static bool ask(const hp_planner *p, const hp_belief *b, hp_demand reason, hp_advice *advice)
{
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        if ((reading->demand & reason) && (p->params.allowed & hp_allow(reading)) &&
            is_asked_for(p, b, reading, reason, advice)) {
            hp_plan_advise_reading(advice, reading);
            return true;
        }
    }
    return false;
}

/* The reading that shows whether the controller drives its outputs, where it can be taken here. */
static const hp_reading *outputs_here(const hp_planner *p)
{
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k]->by_table && (p->params.allowed & hp_allow(hp_readings[k])))
            return hp_readings[k];
    return NULL;
}

/* Whether what holds the controller off was gone through since it last drove. */
static bool went_through(const hp_belief *b)
{
    for (int k = 0; hp_readings[k]; k++)
        if ((hp_readings[k]->demand & HP_DEMAND_SILENCE) &&
            hp_plan_count_since_drive(b, hp_readings[k]) > 0)
            return true;
    return false;
}

/* Nothing turns: what holds the controller off is gone through. Still nothing: whether it drives
 * its outputs at all tells a dead one, and that is the last that can be asked. */
static bool ask_silent(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    const hp_reading *outputs = went_through(b) ? outputs_here(p) : NULL;
    bool read = outputs && hp_plan_count_since_drive(b, outputs) > 0;
    if (read || !ask(p, b, HP_DEMAND_SILENCE, advice))
        return false;
    if (outputs) {
        hp_plan_advise_reading(advice, outputs);
        advice->why = HP_WHY_BEFORE_END;
    }
    return true;
}

bool hp_plan_settle_end(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    if (!ask(p, b, HP_DEMAND_END, advice))
        return false;
    advice->why = HP_WHY_BEFORE_END;
    return true;
}

/* Questions that settle what a figure or a standing wheel is made of; true when one is asked. */
bool hp_plan_settle(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    static const hp_demand reasons[] = {HP_DEMAND_CUT_OUTS, HP_DEMAND_UNSTEADY, HP_DEMAND_SILENCE,
                                        HP_DEMAND_FIGURES};
    for (size_t k = 0; k < sizeof reasons / sizeof reasons[0]; k++)
        if (reasons[k] == HP_DEMAND_SILENCE ? ask_silent(p, b, advice)
                                            : ask(p, b, reasons[k], advice))
            return true;
    return false;
}
