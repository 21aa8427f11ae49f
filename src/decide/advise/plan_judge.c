/*
 * Judging actions: what each costs, and what is then still to be paid in the mean over what it may
 * show. See planner.h.
 */
#include "decide/advise/plan_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Symbols less likely than this are not looked into; their share is judged as if nothing was
 * learnt.
 */
#define SYMBOL_SHARE 0.002
/* The same reading is advised at most so often. */
#define READING_REPEATS 3

void hp_outlook_fill(hp_outlook *o, hp_planner *p, const hp_belief *b, int present)
{
    memset(o, 0, sizeof *o);
    o->planner = p;
    o->belief = b;
    o->present = present;
    o->probability = p->posterior;
    hp_belief_hypotheses(b, o->probability);
    o->motors = p->table->options.motors;
    hp_belief_by_motor(b, p->by_motor);
    o->by_motor = p->by_motor;
    for (int h = 0; h < b->count; h++)
        o->group[p->group[b->now[h]]] += o->probability[h];
    hp_planner_stand(p, b, o->probability);
    hp_rest_prepare(&o->rest, p, b, present, o->group);
    o->stay = hp_rest_cost(&o->rest, o->group, 0);
}

/* Whether the log has a trial of this wiring. */
static bool was_tried(const hp_belief *b, int number)
{
    for (int k = 0; k < b->entries; k++) {
        const hp_trial *trial = hp_entry_trial(&b->entry[k]);
        if (trial && hp_wiring_number(&trial->wiring) == number)
            return true;
    }
    return false;
}

/* A wiring tried before shows its numbers and counts again; new are only the person's words. So
 * manners that differ in speed or in the count of starts are put together. */
static void merge_manners(double group[HP_SYMBOLS][HP_GROUP_COUNT])
{
    for (int motion = 0; motion < HP_SYMBOL_BOTH; motion += HP_MANNERS) {
        for (int manner = HP_MANNER_SMOOTH_SOME; manner < HP_MANNERS; manner++) {
            int into = manner == HP_MANNER_SMOOTH_SOME ? HP_MANNER_SMOOTH
                       : manner > HP_MANNER_ROUGH_SLOW ? HP_MANNER_ROUGH_SLOW
                                                       : manner;
            if (into == manner)
                continue;
            for (int g = 0; g < HP_GROUP_COUNT; g++) {
                group[motion + into][g] += group[motion + manner][g];
                group[motion + manner][g] = 0.0;
            }
        }
    }
}

void hp_outlook_trial(const hp_outlook *o, int number, double group[HP_SYMBOLS][HP_GROUP_COUNT])
{
    const hp_belief *b = o->belief;
    int motors = o->motors;
    double sum[HP_GROUP_COUNT][HP_SYMBOLS] = {0}; /* the innermost loop runs along memory */
    for (int h = 0; h < b->count; h++) {
        if (o->probability[h] < 1e-7)
            continue;
        int now = b->now[h], g = o->planner->group[now];
        int at = b->behaviour[now * HP_WIRING_COUNT + number - 1];
        for (int m = 0; m < motors; m++) {
            double weight = o->by_motor[h * motors + m];
            if (weight < 1e-8)
                continue;
            const double *symbol = &o->planner->symbol[(at * motors + m) * HP_SYMBOLS];
            for (int s = 0; s < HP_SYMBOLS; s++)
                sum[g][s] += weight * symbol[s];
        }
    }
    for (int s = 0; s < HP_SYMBOLS; s++)
        for (int g = 0; g < HP_GROUP_COUNT; g++)
            group[s][g] = sum[g][s];
    if (was_tried(b, number))
        merge_manners(group);
}

double hp_group_sum(const double group[HP_GROUP_COUNT])
{
    double sum = 0.0;
    for (int k = 0; k < HP_GROUP_COUNT; k++)
        sum += group[k];
    return sum;
}

/* An action's price and what is then still to be paid, both in the mean. */
typedef struct judged {
    double cost;
    double rest;
} judged;

static judged judge_trial(const hp_outlook *o, int number)
{
    hp_planner *p = o->planner;
    double group[HP_SYMBOLS][HP_GROUP_COUNT], seen = 0.0;
    hp_rest r;
    hp_outlook_trial(o, number, group);
    hp_rest_prepare(&r, p, o->belief, number, o->group);
    judged j = {hp_plan_trial_cost(p, o->present, number), 0.0};
    for (int s = 0; s < HP_SYMBOLS; s++) {
        double probability = hp_group_sum(group[s]);
        j.cost += probability * hp_plan_risk(&p->params.costs, s);
        if (probability < SYMBOL_SHARE)
            continue;
        int tried = s == HP_SYMBOL_FORWARD + HP_MANNER_SMOOTH ? number : 0;
        seen += probability;
        j.rest += probability * hp_rest_cost(&r, group[s], tried);
    }
    j.rest += fmax(0.0, 1.0 - seen) * o->stay;
    return j;
}

static judged judge_reading(const hp_outlook *o, const hp_plan_reading *t)
{
    hp_planner *p = o->planner;
    const hp_belief *b = o->belief;
    double seen = 0.0;
    judged j = {t->cost, 0.0};
    for (int e = 0; e < t->count; e++) {
        double group[HP_GROUP_COUNT] = {0};
        for (int h = 0; h < b->count; h++)
            group[p->group[b->now[h]]] +=
                o->probability[h] * t->probability[e * p->count + b->now[h]];
        double probability = hp_group_sum(group);
        if (probability < SYMBOL_SHARE)
            continue;
        seen += probability;
        j.rest += probability * hp_rest_cost(&o->rest, group, 0);
    }
    j.rest += fmax(0.0, 1.0 - seen) * o->stay;
    return j;
}

static bool is_of(const hp_entry *e, const hp_plan_reading *t)
{
    return e->reading == t->reading && (t->lead < 0 || t->reading->lead(e->values) == t->lead);
}

/* Whether a reading of the parts as they are is there often enough, or said the same twice: a third
 * time it would say it again. */
static bool read_enough(const hp_belief *b, const hp_plan_reading *t)
{
    const hp_entry *newest = NULL;
    int times = 0;
    for (int k = b->entries - 1; k >= 0 && !hp_belief_changes(b, k); k--) {
        const hp_entry *e = &b->entry[k];
        if (!is_of(e, t))
            continue;
        if (newest && times == 1 && memcmp(newest->values, e->values, t->reading->size) == 0)
            return true;
        newest = newest ? newest : e;
        times++;
    }
    return times >= READING_REPEATS;
}

/* Wirings worth judging: one of each kind, unless a broken part makes equals differ. */
static int list_kinds(const hp_outlook *o, int number[HP_WIRING_COUNT + 1])
{
    double broken = 0.0;
    for (int k = HP_SET_COUNT; k < HP_GROUP_COUNT; k++)
        broken += o->group[k];
    /* chosen: below one in twenty the choice of a wiring is not worth fitting to a broken part. */
    if (broken > 0.05) {
        for (int n = 1; n <= HP_WIRING_COUNT; n++)
            number[n - 1] = n;
        return HP_WIRING_COUNT;
    }
    memcpy(number, o->rest.wiring, (size_t)o->rest.wirings * sizeof *number);
    int count = o->rest.wirings;
    for (int k = 0; k < count; k++)
        if (number[k] == o->present)
            return count;
    if (o->present > 0)
        number[count++] = o->present;
    return count;
}

/* chosen: equals for all that is likely, while nobody has asked the controller for its table. */
#define EQUAL_SHARE 0.9

/* Whether wherever `number` would be right, `other` would be, too. */
static bool are_equals(const hp_outlook *o, int number, int other)
{
    double with = 0.0, both = 0.0;
    for (int k = 0; k < HP_SET_COUNT; k++) {
        if (o->group[k] <= 0.0 || !hp_set_is_right(o->planner, k, number))
            continue;
        with += o->group[k];
        both += hp_set_is_right(o->planner, k, other) ? o->group[k] : 0.0;
    }
    return both > EQUAL_SHARE * with && with > 0.0;
}

/* An equal of this wiring that ran forward when it was seen last; 0: none. Moving leads from it
 * tells nothing that another look at it does not. */
static int equal_that_ran(const hp_outlook *o, int number)
{
    for (int other = 1; other <= HP_WIRING_COUNT; other++)
        if (other != number && was_tried(o->belief, other) &&
            hp_plan_ran_forward(o->belief, other) && are_equals(o, number, other))
            return other;
    return 0;
}

static int add_once(int number, int *list, int count)
{
    for (int k = 0; k < count; k++)
        if (list[k] == number)
            return count;
    list[count] = number;
    return count + 1;
}

/* Whether some wiring ran forward when it was seen last. */
static bool one_ran(const hp_belief *b)
{
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (was_tried(b, n) && hp_plan_ran_forward(b, n))
            return true;
    return false;
}

/* Whether another look at the wiring joined may tell something: not when it said the same twice,
 * nor when it hardly can be correct and stood, or another ran that can. */
static bool is_worth_a_look(const hp_outlook *o)
{
    const hp_trial *last = hp_plan_last_trial(o->belief, o->belief->entries, o->present);
    bool stood = last && (last->motion == HP_MOVED_STILL || last->motion == HP_MOVED_SHIVER);
    double correct = 0.0, all = 0.0;
    for (int k = 0; k < HP_GROUP_COUNT; k++) {
        all += o->group[k];
        if (k < HP_SET_COUNT && hp_set_is_right(o->planner, k, o->present))
            correct += o->group[k];
    }
    bool hardly = correct < HP_HARDLY_CORRECT * all;
    return !(hardly && (stood || one_ran(o->belief))) &&
           !hp_plan_looked_enough(o->belief, o->present);
}

/* chosen: readings make a wiring worth trying from here on, where no run tells it from others. */
#define PROBABLE 0.5

/* Wirings that may be advised. In the place of an equal of one that ran stands that one: what the
 * two would tell is not lost with the equal. */
static int list_candidates(const hp_outlook *o, int number[HP_WIRING_COUNT])
{
    double right[HP_WIRING_COUNT + 1] = {0.0};
    bool runs_any = o->belief->unsensed && one_ran(o->belief);
    if (runs_any)
        hp_belief_wirings(o->belief, right);
    int kind[HP_WIRING_COUNT + 1], kinds = list_kinds(o, kind), count = 0;
    for (int k = 0; k < kinds; k++) {
        int ran = kind[k] == o->present ? 0 : equal_that_ran(o, kind[k]);
        int listed = ran > 0 ? ran : kind[k];
        /* Without its Hall sensors it runs with the Hall leads in any order: tried is what readings
         * say. */
        if (runs_any && right[listed] < PROBABLE)
            continue;
        if (listed != o->present || is_worth_a_look(o))
            count = add_once(listed, number, count);
    }
    return count;
}

/* Differences smaller than this are rounding: the first stays. */
#define SLACK 1e-6
/* chosen: an action worth less than this share of the best one's worth is passed over, however
 * little it and the rest are said to cost. */
#define WORTH_SHARE 0.5

/* One action with its judgement. */
typedef struct option {
    int reading; /* index, -1: a trial */
    int number;  /* wiring of a trial */
    judged judged;
} option;

#define OPTIONS_MAX (HP_PLAN_READINGS_MAX + HP_WIRING_COUNT)

static int list_options(const hp_outlook *o, option list[OPTIONS_MAX])
{
    hp_planner *p = o->planner;
    int count = 0, candidate[HP_WIRING_COUNT];
    for (int k = 0; k < p->reading_count; k++)
        if (!read_enough(o->belief, &p->reading[k]))
            list[count++] = (option){k, 0, judge_reading(o, &p->reading[k])};
    int wirings = p->params.powered ? list_candidates(o, candidate) : 0;
    for (int k = 0; k < wirings; k++)
        list[count++] = (option){-1, candidate[k], judge_trial(o, candidate[k])};
    return count;
}

/* What an action saves of the rest, over its price. With an exact J the best action saves just what
 * it costs, and only the best does (Bellman's equation). */
static double worth(const hp_outlook *o, judged j)
{
    return (o->stay - j.rest) / j.cost;
}

/* The least sum of price and rest decides, among the actions that bring one on. Without that
 * condition an estimate of the rest that is too small makes the cheapest action look best even when
 * it teaches nothing, for ever. */
bool hp_outlook_choose(const hp_outlook *o, hp_advice *advice, double *worth_of_best)
{
    option list[OPTIONS_MAX];
    int count = list_options(o, list), best = -1;
    double most = -INFINITY;
    for (int k = 0; k < count; k++)
        most = fmax(most, worth(o, list[k].judged));
    for (int k = 0; k < count; k++) {
        const judged *j = &list[k].judged;
        if (worth(o, *j) < (most > 0.0 ? WORTH_SHARE * most : most) - SLACK)
            continue;
        if (best < 0 || j->cost + j->rest < list[best].judged.cost + list[best].judged.rest - SLACK)
            best = k;
    }
    *worth_of_best = most;
    if (best < 0)
        return false;
    const option *chosen = &list[best];
    advice->expected_cost = chosen->judged.cost + chosen->judged.rest;
    if (chosen->reading >= 0) {
        advice->kind = HP_ADVICE_READ;
        advice->reading = o->planner->reading[chosen->reading].reading;
        advice->lead = o->planner->reading[chosen->reading].lead;
    } else {
        advice->kind = chosen->number == o->present ? HP_ADVICE_LOOK : HP_ADVICE_TRY;
        advice->number = chosen->number;
    }
    return true;
}
