/* What ends the work: a wiring that is right, a part that is broken, or nothing more to be had. */
#include "decide/advise/plan_parts.h"

#include <math.h>

/* Differences smaller than this are rounding. */
#define SLACK 1e-6

const hp_reading *hp_plan_proof(int trouble)
{
    int misfit;
    hp_fault fault;
    hp_trouble_get(trouble, &misfit, &fault);
    /* What an input hears shows at the controller, and at no Hall sensor. */
    bool input = fault.kind == HP_FAULT_NONE && misfit >= HP_MISFIT_INPUT;
    for (int k = 0; hp_readings[k]; k++)
        if (input ? hp_readings[k]->by_table : hp_readings[k]->proves & HP_PROVES(fault.kind))
            return hp_readings[k];
    return NULL;
}

static bool is_fault(int trouble, hp_fault_kind kind)
{
    int inverted;
    hp_fault fault = {HP_FAULT_NONE, 0};
    if (trouble > 0)
        hp_trouble_get(trouble, &inverted, &fault);
    return fault.kind == kind;
}

static bool is_misfit(int trouble)
{
    int misfit;
    hp_fault fault;
    hp_trouble_get(trouble, &misfit, &fault);
    return misfit >= 0;
}

/* The same, where it can be taken here; NULL: it cannot. */
static const hp_reading *proof_here(const hp_planner *p, int trouble)
{
    const hp_reading *proof = hp_plan_proof(trouble);
    if (trouble <= 0 || !proof)
        return NULL;
    return p->params.allowed & hp_allow(proof) ? proof : NULL;
}

void hp_plan_set_wiring(hp_advice *advice, int number)
{
    advice->number = number;
    if (number > 0)
        advice->wiring = hp_wiring_from_number(number);
}

/* Of equally likely wirings the one that moves least. */
static int likeliest_wiring(const hp_planner *p, const double *probability, int present)
{
    int best = 1;
    for (int n = 2; n <= HP_WIRING_COUNT; n++) {
        double more = probability[n] - probability[best];
        if (more > 1e-3 || (more > -1e-3 && hp_plan_trial_cost(p, present, n) <
                                                hp_plan_trial_cost(p, present, best) - SLACK))
            best = n;
    }
    return best;
}

/* chosen: a reading that makes a fault this many times less likely than the best explanation shows
 * that it is not there. */
#define CONTRADICTED 0.02

/* Whether a later reading of the same kind takes an entry's place. */
static bool read_again(const hp_belief *b, int entry)
{
    for (int k = entry + 1; k < b->entries; k++)
        if (b->entry[k].reading == b->entry[entry].reading)
            return true;
    return false;
}

/* Whether a reading that would show a trouble says that it is not there. */
static bool contradicted(const hp_belief *b, int part)
{
    for (int k = hp_plan_since_mend(b); k < b->entries; k++) {
        const hp_reading *reading = b->entry[k].reading;
        const hp_weights *w = &b->entry_weight[k];
        double with = 0.0;
        bool was = false; /* it may have been there by then */
        if (!w->row || (!reading->proves && !reading->shows_faults))
            continue;
        if (read_again(b, k))
            continue;
        for (int h = 0; h < b->count; h++) {
            const hp_hypothesis *now = &b->hypothesis[b->entry_now[k * b->count + h]];
            if (hp_part_of(hp_trouble_of(now)) != part)
                continue;
            was = true;
            for (int m = 0; m < w->width; m++)
                with = fmax(with, hp_weight_of(w, h, m));
        }
        if (was && with < CONTRADICTED)
            return true;
    }
    return false;
}

/* What is likeliest to be broken of what no reading contradicts: *trouble (-1: nothing), and the
 * probability that it is, whatever else is. */
double hp_plan_likeliest_trouble(const hp_belief *b, int *trouble)
{
    double probability[HP_TROUBLE_COUNT], part[HP_PART_COUNT] = {0};
    int which = 0;
    hp_belief_troubles(b, probability);
    for (int k = 0; k < HP_TROUBLE_COUNT; k++)
        part[hp_part_of(k)] += probability[k];
    for (int k = 1; k < HP_PART_COUNT; k++)
        if (part[k] > 0.01 && contradicted(b, k))
            part[k] = 0.0;
    double broken = hp_part_likeliest(part, &which);
    *trouble = -1;
    for (int k = 1; k < HP_TROUBLE_COUNT; k++)
        if (hp_part_of(k) == which && (*trouble < 0 || probability[k] > probability[*trouble]))
            *trouble = k;
    return broken;
}

void hp_plan_give_up(const hp_planner *p, hp_advice *advice, double broken, const double *right,
                     int present, hp_why why)
{
    advice->kind = HP_ADVICE_GIVE_UP;
    advice->why = is_fault(advice->trouble, HP_FAULT_UNLISTED) ? HP_WHY_UNLISTED : why;
    advice->certainty = broken;
    advice->proof = proof_here(p, advice->trouble);
    hp_plan_set_wiring(advice, likeliest_wiring(p, right, present));
}

/* An end at which nothing is broken: the likeliest wiring is named. */
static void stop_with(const hp_planner *p, hp_why why, const double *right, int present,
                      hp_advice *advice)
{
    int number = likeliest_wiring(p, right, present);
    advice->kind = HP_ADVICE_GIVE_UP;
    advice->why = why;
    advice->trouble = 0;
    advice->certainty = right[number];
    hp_plan_set_wiring(advice, number);
}

bool hp_advice_ends_riding(const hp_advice *advice)
{
    return advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY ||
           (advice->kind == HP_ADVICE_GIVE_UP && advice->why == HP_WHY_UNSENSED);
}

void hp_plan_end_unsensed(const hp_planner *p, const double *right, int present, hp_advice *advice)
{
    stop_with(p, HP_WHY_UNSENSED, right, present, advice);
}

void hp_plan_end_unpowered(const hp_planner *p, const double *right, int present, hp_advice *advice)
{
    stop_with(p, HP_WHY_UNPOWERED, right, present, advice);
}

/* chosen: at the end of all trials a wiring that ran well is worth naming from here on. */
#define PROBABLE 0.5

/* chosen: nobody who can only look and listen gets much further than this. Of one word in ten that
 * is wrong, a first one that spoke against the wiring leaves 0.898 after two that speak for it;
 * what is left to do when they err costs less than to go on (tests/test_plan_optimum.c). */
#define WORDS_ENOUGH 0.85

static void end_with(hp_advice *advice, hp_advice_kind kind, hp_why why, int number,
                     const double *right)
{
    advice->kind = kind;
    advice->why = why;
    advice->certainty = right[number];
    hp_plan_set_wiring(advice, number);
}

/* Whether the joined wiring ends the work; true when it does. */
static bool end_well(const hp_planner *p, const hp_belief *b, int present, const double *right,
                     hp_advice *advice)
{
    if (present == 0 || !hp_plan_ran_well(b, present))
        return false;
    hp_why why = hp_plan_current_shown(b, present);
    bool enough = hp_plan_looked_enough(b, present);
    /* Two looks that agree, with a current to them, are all that there is to see: a third would say
     * the same, and another wiring less. Words alone never make it as sure. */
    double sure =
        enough && why != HP_WHY_GOES_ON ? fmin(p->params.sure, HP_TWO_LOOKS) : p->params.sure;
    if (right[present] < sure) {
        bool words = why == HP_WHY_GOES_ON && enough && right[present] >= WORDS_ENOUGH;
        if (words)
            end_with(advice, HP_ADVICE_PROBABLY, HP_WHY_WORDS_ALONE, present, right);
        return words;
    }
    if (hp_plan_far_out(p, b, advice)) {
        if (enough)
            end_with(advice, HP_ADVICE_PROBABLY, HP_WHY_SAME_FIGURES, present, right);
        return enough;
    }
    if (why != HP_WHY_GOES_ON) {
        end_with(advice, HP_ADVICE_DONE, why, present, right);
        return true;
    }
    if (hp_planner_knows_current(p) && !enough)
        return false;
    end_with(advice, HP_ADVICE_PROBABLY, HP_WHY_WORDS_ALONE, present, right);
    return true;
}

bool hp_plan_end_in_doubt(const hp_belief *b, int present, const double *right, hp_advice *advice)
{
    if (present == 0 || !hp_plan_ran_forward(b, present) || !hp_plan_looked_enough(b, present))
        return false;
    /* At its limit a wrong wiring can look the same. */
    bool held = hp_trial_is_held(hp_plan_last_trial(b, b->entries, present));
    if (right[present] < (held ? HP_TWO_LOOKS : WORDS_ENOUGH))
        return false;
    bool shown = hp_plan_current_shown(b, present) != HP_WHY_GOES_ON;
    end_with(advice, HP_ADVICE_PROBABLY,
             held    ? HP_WHY_HELD
             : shown ? HP_WHY_LOOKED_ENOUGH
                     : HP_WHY_WORDS_ALONE,
             present, right);
    return true;
}

/* The advice's trouble comes before any wiring. */
static void end_for_repair(const hp_planner *p, const hp_belief *b, int present, hp_why why,
                           double certainty, hp_advice *advice)
{
    double mended[HP_WIRING_COUNT + 1];
    hp_belief_wirings_mended(b, mended);
    advice->kind = HP_ADVICE_REPAIR;
    advice->why = why;
    advice->certainty = certainty;
    advice->proof = proof_here(p, advice->trouble);
    hp_plan_set_wiring(advice, likeliest_wiring(p, mended, present));
}

/* Whether the log ends the work when it does. */
bool hp_plan_end(const hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    double right[HP_WIRING_COUNT + 1];
    hp_belief_wirings(b, right);
    double broken = hp_plan_likeliest_trouble(b, &advice->trouble);
    int cut_outs = hp_plan_cut_outs(b);
    /* Every run was cut out, whatever was joined. */
    if (cut_outs >= HP_PLAN_CUT_OUTS) {
        if (hp_plan_settle_end(p, b, advice))
            return true;
        advice->trouble = hp_trouble_index(-1, (hp_fault){HP_FAULT_CUTTING_OUT, 0});
        /* ... and that was not imagined each time. */
        end_for_repair(p, b, present, HP_WHY_CUTS_OUT, 1.0 - pow(HP_CUT_OUT_IMAGINED, cut_outs),
                       advice);
        return true;
    }
    if (end_well(p, b, present, right, advice))
        return true;
    bool all_tried = hp_plan_trials_since_mend(b) >= p->params.trials_max;
    bool broken_now = broken >= p->params.sure_broken && advice->trouble > 0;
    /* A lead that makes contact now and then can pass for most broken parts. It lets a rotor
     * stumble or stand; it lets none turn behind a wheel that stays, and no controller draw nothing
     * time after time. */
    bool slips = broken_now && (is_fault(advice->trouble, HP_FAULT_CLUTCH) ||
                                is_fault(advice->trouble, HP_FAULT_SILENT));
    /* A Hall lead is wrong for one controller and right for another: it is asked first. */
    if (broken_now && is_misfit(advice->trouble) && hp_plan_probe(p, b, advice))
        return true;
    if ((all_tried || broken_now) && !slips && hp_plan_settle_end(p, b, advice))
        return true;
    if (broken_now) {
        if (is_fault(advice->trouble, HP_FAULT_UNLISTED))
            hp_plan_give_up(p, advice, broken, right, present, HP_WHY_UNLISTED);
        else
            end_for_repair(p, b, present, HP_WHY_PART, broken, advice);
        return true;
    }
    if (!all_tried)
        return false;
    if (present > 0 && hp_plan_ran_well(b, present) && right[present] >= PROBABLE)
        end_with(advice, HP_ADVICE_PROBABLY, HP_WHY_TRIALS, present, right);
    else
        hp_plan_give_up(p, advice, broken, right, present, HP_WHY_TRIALS);
    return true;
}
