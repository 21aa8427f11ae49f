/*
 * Plan: see the header. What comes before any arithmetic, what ends the work, and the decision
 * between them; the arithmetic itself stands in plan_judge.c and plan_rest.c.
 */
#include "decide/advise/planner.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* chosen: when something is broken and the best action saves less than a twentieth of its price,
 * nothing that would tell is left. */
#define WORTH_MIN 0.05
/* Differences smaller than this are rounding. */
#define SLACK 1e-6

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

/* ---- the log so far -------------------------------------------------------------------------- */

static int count_kind(const hp_belief *b, const hp_reading *kind)
{
    int count = 0;
    for (int k = 0; k < b->entries; k++)
        count += b->entry[k].reading == kind;
    return count;
}

/* The wiring joined last, by the log; 0: none. */
int hp_plan_present(const hp_belief *b)
{
    for (int k = b->entries - 1; k >= 0; k--)
        if (b->entry[k].reading == &hp_reading_trial)
            return hp_wiring_number(&b->entry[k].trial.wiring);
    return 0;
}

/* The newest trial before entry `end`, of any wiring (0) or of one; NULL: none. */
static const hp_trial *last_trial(const hp_belief *b, int end, int number)
{
    for (int k = end - 1; k >= 0; k--)
        if (b->entry[k].reading == &hp_reading_trial &&
            (number == 0 || hp_wiring_number(&b->entry[k].trial.wiring) == number))
            return &b->entry[k].trial;
    return NULL;
}

static bool ran_well(const hp_trial *t)
{
    return t && t->motion == HP_MOVED_FORWARD && t->feel != HP_FEEL_ROUGH;
}

bool hp_plan_ran_well(const hp_belief *b, int number)
{
    return ran_well(last_trial(b, b->entries, number));
}

/* The first entry that tells of the parts as they are: after the last mend. */
static int first_since_mend(const hp_belief *b)
{
    int first = b->entries;
    while (first > 0 && !hp_belief_changes(b, first - 1))
        first--;
    return first;
}

/* What shows that a wiring draws little: GOES_ON where nothing does. */
static hp_why evidence_of_current(const hp_belief *b, int number)
{
    hp_why why = HP_WHY_GOES_ON;
    for (int k = first_since_mend(b); k < b->entries; k++) {
        const hp_trial *t = &b->entry[k].trial;
        if (b->entry[k].reading != &hp_reading_trial || !ran_well(t) ||
            hp_wiring_number(&t->wiring) != number)
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

static bool said_same(const hp_person *p, const hp_trial *a, const hp_trial *b)
{
    return a->motion == b->motion && a->feel == b->feel && a->feed == b->feed &&
           a->limit_reached == b->limit_reached &&
           figures_same(a->battery_a, b->battery_a, p->current_relative, p->current_zero_a) &&
           figures_same(a->wheel_rad_s, b->wheel_rad_s, p->speed_relative, 0.0);
}

bool hp_plan_looked_enough(const hp_belief *b, int number)
{
    const hp_trial *newest = NULL;
    for (int k = b->entries - 1; k >= 0; k--) {
        const hp_entry *e = &b->entry[k];
        if (hp_belief_changes(b, k))
            return false;
        if (e->reading != &hp_reading_trial || hp_wiring_number(&e->trial.wiring) != number)
            continue;
        if (newest)
            return said_same(b->person, newest, &e->trial);
        newest = &e->trial;
    }
    return false;
}

/* Whether learning has the last word: a trial after it, such as the final check, is weighed as any
 * other. */
static bool learnt(const hp_belief *b)
{
    for (int k = b->entries - 1; k >= 0; k--) {
        if (b->entry[k].reading == &hp_reading_trial)
            return false;
        if (b->entry[k].reading == &hp_reading_learn)
            return b->entry[k].learn.worked == HP_TELL_YES;
    }
    return false;
}

/* Far outside the bands that a right wiring should keep. At the gentle throttle rough wirings draw
 * at least four times the band's upper end (tests/test_plan_check.c): twice is the middle between,
 * on a logarithmic scale. Speeds tell less; chosen: a quarter beyond the band. */
#define FAR_CURRENT 2.0
#define FAR_SPEED   1.25

/* Whether the figures read last do not fit a right wiring, by a misreading or because something has
 * come loose: not done before they are read again. */
static bool last_read_far_out(const hp_planner *p, const hp_belief *b, const hp_advice *advice)
{
    const hp_trial *t = last_trial(b, b->entries, 0);
    /* The bands are those of the throttle at which trials are advised, and of a supply that gives
     * what is asked of it. Too little current is never an alarm. */
    if (!t || (hp_feed_limits(t->feed) && t->limit_reached != HP_TELL_NO) ||
        !(fabs(t->throttle - p->params.throttle) < 0.1 * p->params.throttle))
        return false;
    const hp_band *current = &advice->current_a, *speed = &advice->wheel_rad_s;
    return t->battery_a > FAR_CURRENT * current->high || t->wheel_rad_s > FAR_SPEED * speed->high ||
           t->wheel_rad_s < speed->low / FAR_SPEED;
}

/* The latest reading of a kind decides: whoever mended it reads again. */
static const hp_danger *danger_of(const hp_planner *p, const hp_belief *b)
{
    unsigned seen = 0;
    for (int k = b->entries - 1; k >= 0; k--) {
        const hp_entry *e = &b->entry[k];
        if (!e->reading->danger || (seen & hp_allow(e->reading)))
            continue;
        seen |= hp_allow(e->reading);
        const hp_danger *danger = e->reading->danger(e->values, &p->params);
        if (danger)
            return danger;
    }
    return NULL;
}

/* ---- what the advice says beside ------------------------------------------------------------- */

typedef struct weighed {
    double value;
    double weight;
} weighed;

static int by_value(const void *a, const void *b)
{
    double x = ((const weighed *)a)->value, y = ((const weighed *)b)->value;
    return (x > y) - (x < y);
}

/* Band of a figure over the motors, widened by the ensemble's coarseness and the meter. */
static hp_band band_of(weighed *item, int count, double relative, double zero)
{
    qsort(item, (size_t)count, sizeof *item, by_value);
    double sum = 0.0, low = item[0].value, high = item[count - 1].value;
    for (int k = 0; k < count; k++) {
        if (sum < 0.05)
            low = item[k].value;
        sum += item[k].weight;
        if (sum >= 0.95) {
            high = item[k].value;
            break;
        }
    }
    /* 1.64 standard deviations leave five percent on either side. */
    double below = 1.64 * hypot(relative * low, zero), above = 1.64 * hypot(relative * high, zero);
    return (hp_band){fmax(0.0, low - below), high + above};
}

/* Most members of a belief. */
#define MEMBERS_MAX (HP_LIKELIHOOD_MOTORS * HP_NUISANCE_DRAWS)

static void add_bands(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    weighed current[MEMBERS_MAX], speed[MEMBERS_MAX];
    double weight[MEMBERS_MAX];
    int count = 0;
    hp_belief_members(b, weight);
    for (int m = 0; m < b->members.count; m++) {
        double amps, rad_s;
        if (!hp_member_smooth(&b->members, m, p->params.throttle, &amps, &rad_s))
            continue;
        current[count] = (weighed){amps, weight[m]};
        speed[count++] = (weighed){rad_s, weight[m]};
    }
    if (count == 0)
        return;
    advice->current_a =
        band_of(current, count, hypot(HP_KERNEL_CURRENT, p->person->current_relative),
                p->person->current_zero_a);
    advice->wheel_rad_s =
        band_of(speed, count, hypot(HP_KERNEL_SPEED, p->person->speed_relative), 0.0);
}

const hp_reading *hp_plan_proof(int trouble)
{
    int inverted;
    hp_fault fault;
    hp_trouble_get(trouble, &inverted, &fault);
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k]->proves & HP_PROVES(fault.kind))
            return hp_readings[k];
    return &hp_reading_hand_turn;
}

static bool is_fault(int trouble, hp_fault_kind kind)
{
    int inverted;
    hp_fault fault = {HP_FAULT_NONE, 0};
    if (trouble > 0)
        hp_trouble_get(trouble, &inverted, &fault);
    return fault.kind == kind;
}

/* The same, where it can be taken here; NULL: it cannot. */
static const hp_reading *proof_here(const hp_planner *p, int trouble)
{
    const hp_reading *proof = hp_plan_proof(trouble);
    if (trouble <= 0 || is_fault(trouble, HP_FAULT_UNLISTED))
        return NULL;
    return p->params.allowed & hp_allow(proof) ? proof : NULL;
}

static void set_wiring(hp_advice *advice, int number)
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

/* ---- the decision ---------------------------------------------------------------------------- */

static void advise_reading(hp_advice *advice, const hp_reading *reading)
{
    advice->kind = HP_ADVICE_READ;
    advice->reading = reading;
    advice->lead = -1;
}

/* What comes before any arithmetic; true when it decides. */
static bool come_first(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    advice->danger = danger_of(p, b);
    if (advice->danger) {
        advice->kind = HP_ADVICE_DANGER;
        return true;
    }
    /* Safe and quick, and they keep the next steps safe. */
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *reading = hp_readings[k];
        if (reading->first && (p->params.allowed & hp_allow(reading)) &&
            count_kind(b, reading) == 0) {
            advise_reading(advice, reading);
            return true;
        }
    }
    if (p->params.learns && count_kind(b, &hp_reading_learn) == 0) {
        advice->kind = HP_ADVICE_LEARN;
        return true;
    }
    if (learnt(b)) {
        advice->kind = HP_ADVICE_PROBABLY;
        advice->why = HP_WHY_LEARNT;
        /* "It worked" is one look: forward, and smooth. The final check is what makes it sure. */
        advice->certainty = (1.0 - p->person->wrong_direction) * (1.0 - p->person->rough_as_smooth);
        return true;
    }
    return false;
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
    for (int k = first_since_mend(b); k < b->entries; k++) {
        const hp_reading *reading = b->entry[k].reading;
        const hp_weights *w = &b->entry_weight[k];
        double with = 0.0;
        if (reading == &hp_reading_trial || !w->row || (!reading->proves && !reading->shows_faults))
            continue;
        if (read_again(b, k))
            continue;
        for (int h = 0; h < b->count; h++) {
            const hp_hypothesis *now = &b->hypothesis[b->entry_now[k * b->count + h]];
            if (hp_part_of(hp_trouble_index(now->inverted, now->fault)) != part)
                continue;
            for (int m = 0; m < w->width; m++)
                with = fmax(with, hp_weight_of(w, h, m));
        }
        if (with < CONTRADICTED)
            return true;
    }
    return false;
}

/* What is likeliest to be broken of what no reading contradicts: *trouble (-1: nothing), and the
 * probability that it is, whatever else is. */
static double likeliest_trouble(const hp_belief *b, int *trouble)
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

static void give_up(const hp_planner *p, hp_advice *advice, double broken, const double *right,
                    int present, hp_why why)
{
    advice->kind = HP_ADVICE_GIVE_UP;
    advice->why = is_fault(advice->trouble, HP_FAULT_UNLISTED) ? HP_WHY_UNLISTED : why;
    advice->certainty = broken;
    advice->proof = proof_here(p, advice->trouble);
    set_wiring(advice, likeliest_wiring(p, right, present));
}

/* chosen: at the end of all trials a wiring that ran well is worth naming from here on. */
#define PROBABLE 0.5

/* chosen: what two looks that agree are worth at least. */
#define TWO_LOOKS 0.99
/* chosen: nobody who can only look and listen gets much further than this. */
#define WORDS_ENOUGH 0.9

static void end_with(hp_advice *advice, hp_advice_kind kind, hp_why why, int number,
                     const double *right)
{
    advice->kind = kind;
    advice->why = why;
    advice->certainty = right[number];
    set_wiring(advice, number);
}

/* Entries of a kind since the newest trial. */
static int count_since_trial(const hp_belief *b, const hp_reading *kind)
{
    int count = 0;
    for (int k = b->entries - 1; k >= 0 && b->entry[k].reading != &hp_reading_trial; k--)
        count += b->entry[k].reading == kind;
    return count;
}

/* chosen: how likely a silent controller is before it is looked into. */
#define SILENT_WORTH 0.25

/* Questions that settle what a figure or a standing wheel is made of; true when one is asked. */
static bool ask_to_settle(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    double probability[HP_TROUBLE_COUNT];
    int present = hp_plan_present(b);
    bool drag = p->params.allowed & hp_allow(&hp_reading_drag);
    bool controls = p->params.allowed & hp_allow(&hp_reading_controls);
    hp_belief_troubles(b, probability);
    double silent = probability[hp_trouble_index(-1, (hp_fault){HP_FAULT_SILENT, 0})];
    if (controls && silent >= SILENT_WORTH && count_since_trial(b, &hp_reading_controls) == 0) {
        advise_reading(advice, &hp_reading_controls);
        return true;
    }
    if (drag && present > 0 && hp_plan_ran_well(b, present) && last_read_far_out(p, b, advice) &&
        hp_plan_looked_enough(b, present) && count_kind(b, &hp_reading_drag) == 0) {
        advise_reading(advice, &hp_reading_drag);
        return true;
    }
    return false;
}

/* Whether the joined wiring ends the work; true when it does. */
static bool end_well(const hp_planner *p, const hp_belief *b, int present, const double *right,
                     hp_advice *advice)
{
    if (present == 0 || !hp_plan_ran_well(b, present))
        return false;
    hp_why why = evidence_of_current(b, present);
    bool enough = hp_plan_looked_enough(b, present);
    /* Two looks that agree, with a current to them, are all that there is to see: a third would say
     * the same, and another wiring less. Words alone never make it as sure. */
    double sure =
        enough && why != HP_WHY_GOES_ON ? fmin(p->params.sure, TWO_LOOKS) : p->params.sure;
    if (right[present] < sure) {
        bool words = why == HP_WHY_GOES_ON && enough && right[present] >= WORDS_ENOUGH;
        if (words)
            end_with(advice, HP_ADVICE_PROBABLY, HP_WHY_WORDS_ALONE, present, right);
        return words;
    }
    if (last_read_far_out(p, b, advice)) {
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

/* Powered trials of the parts as they are. */
static int trials_since_mend(const hp_belief *b)
{
    int count = 0;
    for (int k = first_since_mend(b); k < b->entries; k++)
        count += b->entry[k].reading == &hp_reading_trial;
    return count;
}

/* Whether the log ends the work; true when it does. */
static bool come_last(const hp_planner *p, const hp_belief *b, int present, hp_advice *advice)
{
    double right[HP_WIRING_COUNT + 1], mended[HP_WIRING_COUNT + 1];
    hp_belief_wirings(b, right);
    hp_belief_wirings_mended(b, mended);
    double broken = likeliest_trouble(b, &advice->trouble);
    bool unlisted = is_fault(advice->trouble, HP_FAULT_UNLISTED);
    if (end_well(p, b, present, right, advice))
        return true;
    if (broken >= p->params.sure_broken && unlisted) {
        give_up(p, advice, broken, right, present, HP_WHY_UNLISTED);
        return true;
    }
    if (broken >= p->params.sure_broken && advice->trouble > 0) {
        advice->kind = HP_ADVICE_REPAIR;
        advice->why = HP_WHY_PART;
        advice->certainty = broken;
        advice->proof = proof_here(p, advice->trouble);
        set_wiring(advice, likeliest_wiring(p, mended, present));
        return true;
    }
    if (trials_since_mend(b) < p->params.trials_max)
        return false;
    if (present > 0 && hp_plan_ran_well(b, present) && right[present] >= PROBABLE)
        end_with(advice, HP_ADVICE_PROBABLY, HP_WHY_TRIALS, present, right);
    else
        give_up(p, advice, broken, right, present, HP_WHY_TRIALS);
    return true;
}

/* A trial is limited until the wiring has shown that it stays below a limit. */
static void limit_trial(const hp_planner *p, const hp_belief *b, hp_advice *advice)
{
    if (p->params.first_power == HP_FIRST_POWER_NONE)
        return;
    for (int k = first_since_mend(b); k < b->entries; k++)
        if (b->entry[k].reading == &hp_reading_trial &&
            b->entry[k].trial.limit_reached == HP_TELL_NO &&
            hp_wiring_number(&b->entry[k].trial.wiring) == advice->number)
            return;
    advice->limited = true;
    advice->limit_a = isnan(b->members.limit_a) ? 0.0 : b->members.limit_a;
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
    if (!found || (worth_of_best < WORTH_MIN && sound < 0.5)) {
        double broken = likeliest_trouble(b, &advice->trouble);
        give_up(p, advice, broken, right, present, HP_WHY_NOTHING_LEFT);
        return;
    }
    advice->expected_trials = hp_rest_sharp(&o.rest, o.group, true);
    if (advice->kind == HP_ADVICE_READ)
        return;
    set_wiring(advice, advice->number);
    advice->certainty = right[advice->number];
    limit_trial(p, b, advice);
    hp_planner_moves(present, advice->number, &advice->moved_phase, &advice->moved_sensor);
}

hp_result hp_plan_next(hp_planner *planner, const hp_belief *belief, bool thorough,
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
    int present = hp_plan_present(belief);
    add_bands(planner, belief, advice);
    if (!come_first(planner, belief, advice) && !ask_to_settle(planner, belief, advice) &&
        !come_last(planner, belief, present, advice))
        advise(planner, belief, present, advice);
    return HP_OK;
}

double hp_lamp_watts(double battery_v, double limit_a)
{
    return battery_v * 1.5 * limit_a;
}

const hp_reading *hp_advice_entry(const hp_advice *advice)
{
    switch (advice->kind) {
    case HP_ADVICE_READ: return advice->reading;
    case HP_ADVICE_TRY:
    case HP_ADVICE_LOOK:
    case HP_ADVICE_PROBABLY:
    case HP_ADVICE_DONE: return &hp_reading_trial;
    case HP_ADVICE_LEARN: return &hp_reading_learn;
    case HP_ADVICE_REPAIR: return &hp_reading_mend;
    case HP_ADVICE_DANGER: return advice->danger->reading;
    case HP_ADVICE_GIVE_UP:
    case HP_ADVICE_COUNT: break;
    }
    return NULL;
}
