/*
 * Plan: see the header. Here stands the order of decisions; what comes before any arithmetic is in
 * plan_first.c, what ends the work in plan_end.c, the arithmetic in plan_judge.c and plan_rest.c.
 */
#include "decide/advise/plan_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* chosen: when something is broken, or no wiring can be tried, and the best action saves less than
 * a twentieth of its price, nothing that would tell is left. */
#define WORTH_MIN 0.05

/* ---- life ------------------------------------------------------------------------------------ */

hp_planner *hp_planner_create(const hp_likelihood *table, const hp_person *person,
                              const hp_plan_params *params, hp_error *err)
{
    if (hp_plan_params_check(params, err) != HP_OK || hp_person_check(person, err) != HP_OK)
        return NULL;
    hp_planner *p = calloc(1, sizeof *p);
    if (!p) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
        return NULL;
    }
    p->table = table;
    p->person = person;
    p->params = *params;
    if (p->params.throttle == 0.0)
        p->params.throttle = table->nominal.controller.throttle;
    p->level = hp_likelihood_level(table, p->params.throttle);
    p->search = hp_search_create(err);
    if (!p->search || hp_planner_fill_symbols(p, err) != HP_OK) {
        hp_planner_free(p);
        return NULL;
    }
    return p;
}

const hp_plan_params *hp_planner_params(const hp_planner *planner)
{
    return &planner->params;
}

void hp_planner_hold_against(hp_planner *planner, const hp_full_limits *limits)
{
    planner->limits = *limits;
}

void hp_planner_heed(hp_planner *planner, hp_plan_beside beside)
{
    planner->beside = beside;
}

/* A trial is limited until the wiring has run forward, not rough, and left its limit: a wheel that
 * stood still behind one has shown nothing. */
static void limit_trial(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    if (p->params.first_power == HP_FIRST_POWER_NONE)
        return;
    for (int k = hp_plan_since_mend(b); k < b->entries; k++) {
        const hp_trial *t = hp_entry_trial(&b->entry[k]);
        if (t && t->limit_reached == HP_TELL_NO && t->motion == HP_MOVED_FORWARD &&
            t->feel != HP_FEEL_ROUGH && hp_wiring_number(&t->wiring) == advice->number)
            return;
    }
    advice->limited = true;
    advice->limit_a = isnan(b->members.limit_a) ? 0.0 : b->members.limit_a;
}

/* chosen: so sure of the controller's table that its probe is not worth the time. */
#define TABLE_KNOWN 0.95

bool hp_plan_probe(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    double table[HP_TABLE_COUNT], most = 0.0;
    hp_belief_tables(b, table);
    for (int k = 0; k < HP_TABLE_COUNT; k++)
        most = fmax(most, table[k]);
    for (int k = 0; hp_readings[k] && most < TABLE_KNOWN; k++) {
        const hp_reading *reading = hp_readings[k];
        if (!reading->by_table || !hp_reading_is_advised(reading) ||
            !(p->params.allowed & hp_allow(reading)) || hp_plan_count_of_controller(b, reading) > 1)
            continue;
        hp_plan_advise_reading(advice, reading);
        return true;
    }
    return false;
}

/* A guess about the controller's table is settled before the first power, where it can be: true
 * when the reading that does is advised in place of a trial. */
static bool probe_first(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    return advice->kind != HP_ADVICE_READ && hp_plan_present(b) == 0 && hp_plan_probe(p, b, advice);
}

/* How the wiring that is to be run is run. */
static void set_trial(const hp_planner *p, const hp_belief *b, int present, const double *right,
                      hp_advice *advice)
{
    advice->certainty = right[advice->number];
    limit_trial(p, b, advice);
    double signal = hp_members_signal(&b->members, p->params.throttle);
    advice->signal_v = isnan(signal) ? 0.0 : signal;
    hp_planner_moves(present, advice->number, &advice->moved_phase, &advice->moved_sensor);
}

/* Nothing is ridden that last ran otherwise than forward: the wiring that ran forward last is
 * joined again, or the one that the end names. */
static void run_forward_again(const hp_planner *p, const hp_belief *b, int present,
                              const double *right, hp_advice *advice)
{
    int number = advice->number;
    for (int k = b->entries - 1; k >= hp_plan_since_mend(b); k--) {
        const hp_trial *t = hp_entry_trial(&b->entry[k]);
        if (t && hp_plan_ran_forward(b, hp_wiring_number(&t->wiring))) {
            number = hp_wiring_number(&t->wiring);
            break;
        }
    }
    advice->kind = HP_ADVICE_TRY;
    advice->why = HP_WHY_UNSENSED;
    hp_plan_set_wiring(advice, number);
    set_trial(p, b, present, right, advice);
}

static void advise(hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    double right[HP_WIRING_COUNT + 1];
    hp_outlook o;
    hp_outlook_fill(&o, p, b, present);
    hp_belief_wirings(b, right);
    double worth_of_best, sound = 0.0;
    bool found = hp_outlook_choose(&o, advice, &worth_of_best);
    for (int k = 0; k < HP_SET_COUNT; k++)
        sound += o.group[k];
    bool nothing = !found || worth_of_best < WORTH_MIN;
    bool hardly =
        !found || (advice->kind == HP_ADVICE_TRY && right[advice->number] < HP_HARDLY_CORRECT);
    if (hardly && hp_plan_end_in_doubt(b, present, right, advice))
        return;
    if (!p->params.powered && nothing) {
        hp_plan_end_unpowered(p, right, present, advice);
        return;
    }
    /* What runs without its Hall sensors runs the same whatever is done to them. */
    if (nothing && b->unsensed && sound >= 0.5) {
        hp_plan_end_unsensed(p, right, present, advice);
        if (present == 0 || !hp_plan_ran_forward(b, present))
            run_forward_again(p, b, present, right, advice);
        return;
    }
    if (!found || (worth_of_best < WORTH_MIN && sound < 0.5)) {
        double broken = hp_plan_likeliest_trouble(b, &advice->trouble);
        if (hp_plan_settle_end(p, b, advice))
            return;
        hp_plan_give_up(p, advice, broken, right, present, HP_WHY_NOTHING_LEFT);
        return;
    }
    if (probe_first(p, b, advice))
        return;
    advice->expected_trials = hp_rest_sharp(&o.rest, o.group, true);
    if (advice->kind == HP_ADVICE_READ) {
        advice->certainty = present > 0 && hp_plan_ran_well(b, present) ? right[present] : 0.0;
        return;
    }
    hp_plan_set_wiring(advice, advice->number);
    set_trial(p, b, present, right, advice);
}

/* What grew warm or cut out in a gentle run is found before that wiring gets full throttle: it runs
 * gently once more, behind its limit. At full throttle the check itself says so. */
static void heed_warning(const hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    bool ends = hp_advice_ends_riding(advice);
    double right[HP_WIRING_COUNT + 1];
    int runs;
    if (!ends || hp_warned_at(b->entry, b->entries, &runs) < 0 ||
        advice->why == HP_WHY_CHECK_FAILED || advice->why == HP_WHY_TRIALS ||
        advice->number != present)
        return;
    hp_belief_wirings(b, right);
    advice->kind = HP_ADVICE_LOOK;
    advice->why = HP_WHY_GOES_ON;
    hp_plan_set_wiring(advice, present);
    set_trial(p, b, present, right, advice);
}

/* By the belief alone. */
static hp_result plan(hp_planner *planner, const hp_belief *belief, bool thorough,
                      hp_advice *advice, hp_error *err)
{
    memset(advice, 0, sizeof *advice);
    advice->lead = -1;
    advice->contradiction.slipped = advice->contradiction.other = -1;
    hp_result result = hp_planner_meet(planner, belief, err);
    if (result != HP_OK)
        return result;
    if (thorough)
        result = hp_belief_contradiction(belief, &advice->contradiction, NULL, err);
    if (result != HP_OK)
        return result;
    advice->in_vain = hp_belief_vain_mend(belief, &advice->another);
    advice->unsensed = hp_log_runs_unsensed(belief->entry, belief->entries);
    int present = hp_plan_present(belief);
    hp_plan_bands(planner, belief, advice);
    if (!hp_plan_first(planner, belief, advice) && !hp_plan_settle(planner, belief, advice) &&
        !hp_plan_end(planner, belief, present, advice))
        advise(planner, belief, present, advice);
    hp_plan_heed_check(planner, belief, present, advice);
    heed_warning(planner, belief, present, advice);
    /* All six leads were off: they are joined again, and checked, before another run. */
    advice->fresh_controller = advice->kind == HP_ADVICE_LOOK && hp_plan_fresh_controller(belief);
    if (advice->fresh_controller)
        advice->kind = HP_ADVICE_TRY;
    if (hp_advice_ends_riding(advice))
        hp_plan_final_check(planner, belief, advice);
    return HP_OK;
}

hp_result hp_plan_next(hp_planner *planner, const hp_belief *belief, bool thorough,
                       hp_advice *advice, hp_error *err)
{
    const hp_plan_beside *beside = &planner->beside;
    hp_result result = plan(planner, belief, thorough, advice, err);
    if (result == HP_OK && beside->heed)
        result = beside->heed(beside->user, belief, advice, err);
    return result == HP_OK ? hp_plan_heed_plug(planner, belief, advice, err) : result;
}

double hp_lamp_watts(double battery_v, double limit_a)
{
    return battery_v * 1.5 * limit_a;
}

const char *hp_why_name(hp_why why)
{
    static const char *const name[HP_WHY_COUNT] = {
        "goes_on",     "current",       "limit",        "unmetered", "words_alone", "same_figures",
        "held",        "looked_enough", "check_failed", "learnt",    "ran",         "ran_some_way",
        "run_doubted", "contrary",      "part",         "cuts_out",  "trials",      "nothing_left",
        "unlisted",    "unsensed",      "unpowered",    "before_end"};
    return name[why];
}

const hp_reading *hp_advice_entry(const hp_advice *advice)
{
    switch (advice->kind) {
    case HP_ADVICE_READ: return advice->reading;
    case HP_ADVICE_TRY:
    case HP_ADVICE_LOOK:
    case HP_ADVICE_PROBABLY:
    case HP_ADVICE_DONE: return hp_reading_advised_as(HP_ADVICE_TRY);
    case HP_ADVICE_LEARN:
    case HP_ADVICE_REPAIR: return hp_reading_advised_as(advice->kind);
    case HP_ADVICE_DANGER: return advice->danger->reading;
    case HP_ADVICE_GIVE_UP:
        return hp_advice_ends_riding(advice) && !advice->checked
                   ? hp_reading_advised_as(HP_ADVICE_TRY)
                   : NULL;
    case HP_ADVICE_COUNT: break;
    }
    return NULL;
}
