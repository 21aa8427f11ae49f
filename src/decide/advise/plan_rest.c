/*
 * The cost of the rest: what is still to be paid, J, of a belief b reached by an action:
 *   nothing, when the wiring just tried is right with enough certainty, or a part broken with
 * enough; else  P(sound) * (S + G) + bit * ( H(sound?) + P(broken) * (1 + H(which part)) ), S the
 * exact cost of the sharp problem over the sets of right wirings that are left, weighted as b
 * weighs them; G the looks that a slipping person needs beyond the one that S counts, until the
 * odds of the likeliest wiring are those of enough certainty; and H entropies in bits.
 */
#include "decide/advise/planner.h"
#include "hubphase/decide/assumptions.h"

#include <math.h>
#include <string.h>

/* Sets less likely than this share of the sound ones are left out of the sharp problem. */
#define SET_SHARE 0.003

bool hp_set_is_right(const hp_planner *p, int set, int number)
{
    const int *right = p->set_wiring[set];
    return right[0] == number || right[1] == number || right[2] == number;
}

double hp_plan_risk(const hp_costs *c, int symbol)
{
    if (symbol >= HP_SYMBOL_SHIVER)
        return c->risk_stalled;
    return symbol == HP_SYMBOL_BOTH || symbol % HP_MANNERS >= HP_MANNER_ROUGH_SLOW ? c->risk_rough
                                                                                   : 0.0;
}

double hp_plan_trial_cost(const hp_planner *p, int present, int number)
{
    const hp_costs *c = &p->params.costs;
    int phase, sensor;
    if (number == present)
        return c->look;
    hp_planner_moves(present, number, &phase, &sensor);
    return c->trial + phase * c->phase_lead + sensor * c->sensor_pin;
}

/* Outcome of a wiring in each kept set, and whether another wiring of the list tells the same. */
static bool add_wiring(hp_rest *r, const hp_belief *b, int number)
{
    hp_planner *p = r->planner;
    int at = r->wirings;
    for (int k = 0; k < r->sets; k++) {
        int set = r->set[k], h = p->set_hypothesis[set];
        uint8_t symbol = p->sharp[b->behaviour[h * HP_WIRING_COUNT + number - 1]];
        r->outcome[at][set] = hp_set_is_right(p, set, number) ? HP_SEARCH_GOAL : symbol;
        r->risk[at][set] = hp_plan_risk(&p->params.costs, symbol);
    }
    r->cost[at] = hp_plan_trial_cost(p, r->present, number);
    r->wiring[at] = number;
    for (int other = 0; other < at; other++) {
        bool same = true;
        for (int k = 0; k < r->sets && same; k++)
            same = r->outcome[other][r->set[k]] == r->outcome[at][r->set[k]];
        if (!same)
            continue;
        /* Of two that tell the same, the one that moves fewer leads. */
        if (r->cost[at] < r->cost[other]) {
            r->cost[other] = r->cost[at];
            r->wiring[other] = number;
        }
        return false;
    }
    r->wirings++;
    return true;
}

static void add_reading(hp_rest *r, const hp_plan_reading *t)
{
    hp_planner *p = r->planner;
    int at = r->actions++;
    for (int k = 0; k < r->sets; k++) {
        int set = r->set[k], h = p->set_hypothesis[set], best = 0;
        for (int e = 1; e < t->count; e++)
            if (t->probability[e * p->count + h] > t->probability[best * p->count + h])
                best = e;
        r->outcome[at][set] = (uint8_t)best;
        r->risk[at][set] = 0.0;
    }
    r->cost[at] = t->cost;
}

/* chosen: more than the sets of three that there are make the exact plan slow, and the likeliest
 * decide it. */
#define SETS_MOST 24
/* chosen: of sets of one wiring each a trial rules out one alone, so that the exact plan meets
 * nearly every subset: 2^12 take no time, 2^24 take minutes. */
#define SETS_ALONE_MOST 12

/* Keeps the likeliest of a list of sets. */
static int keep_likeliest(const double *group, int most, int set[HP_SET_COUNT], int count)
{
    while (count > most) {
        int least = 0;
        for (int k = 1; k < count; k++)
            if (group[set[k]] < group[set[least]])
                least = k;
        memmove(&set[least], &set[least + 1], (size_t)(--count - least) * sizeof *set);
    }
    return count;
}

/* Sets up the sharp problem for the sets that have some weight in group[]. */
void hp_rest_prepare(hp_rest *r, hp_planner *p, const hp_belief *b, int present,
                     const double *group)
{
    double sound = 0.0;
    memset(r, 0, sizeof *r);
    r->planner = p;
    r->present = present;
    for (int k = 0; k < HP_SET_COUNT; k++)
        sound += group[k];
    for (int k = 0; k < HP_SET_COUNT; k++)
        if (p->set_hypothesis[k] >= 0 && group[k] > 0.1 * SET_SHARE * sound)
            r->set[r->sets++] = k;
    bool alone = false;
    for (int k = 0; k < r->sets; k++)
        alone = alone || p->set_wiring[r->set[k]][1] == 0;
    r->sets = keep_likeliest(group, alone ? SETS_ALONE_MOST : SETS_MOST, r->set, r->sets);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        add_wiring(r, b, n);
    r->actions = r->wirings;
    for (int k = 0; k < p->reading_count; k++)
        if (p->reading[k].reading->settles)
            add_reading(r, &p->reading[k]);
}

/* Exact cost of the sharp problem under weights group[set]; 0 when no set has any. */
double hp_rest_sharp(const hp_rest *r, const double *group, bool count_trials)
{
    double weight[HP_SET_COUNT], cost[HP_SEARCH_ACTIONS], sum = 0.0;
    double outcome_cost[HP_SEARCH_ACTIONS * HP_SET_COUNT];
    uint8_t outcome[HP_SEARCH_ACTIONS * HP_SET_COUNT];
    int kept[HP_SET_COUNT], count = 0;
    for (int k = 0; k < r->sets; k++)
        sum += group[r->set[k]];
    for (int k = 0; k < r->sets; k++) {
        if (group[r->set[k]] <= SET_SHARE * sum)
            continue;
        weight[count] = group[r->set[k]];
        kept[count++] = r->set[k];
    }
    if (count == 0)
        return 0.0;
    for (int a = 0; a < r->actions; a++) {
        cost[a] = !count_trials ? r->cost[a] : a < r->wirings ? 1.0 : 1e-6;
        for (int k = 0; k < count; k++) {
            outcome[a * count + k] = r->outcome[a][kept[k]];
            outcome_cost[a * count + k] = count_trials ? 0.0 : r->risk[a][kept[k]];
        }
    }
    hp_search_problem problem = {.hypotheses = count,
                                 .actions = r->actions,
                                 .places = 1,
                                 .weight = weight,
                                 .outcome = outcome,
                                 .cost = cost,
                                 .outcome_cost = outcome_cost};
    double value = 0.0;
    /* Out of memory, the rest is judged by its size alone. */
    if (hp_search_solve(r->planner->search, &problem, 0, &value, NULL, NULL) != HP_OK)
        value = count * r->planner->params.costs.trial;
    return value;
}

static double entropy(const double *p, int count, double total)
{
    double bits = 0.0;
    for (int k = 0; k < count; k++)
        if (p[k] > 0.0 && total > 0.0)
            bits -= p[k] / total * log2(p[k] / total);
    return bits;
}

static double odds_log(double p)
{
    return log(p / (1.0 - p));
}

/* Looks still needed, beyond one, when each that goes well multiplies the odds by those of a person
 * who tells the direction rightly. */
static double more_looks(const hp_planner *p, double likeliest)
{
    double wanted = odds_log(p->params.sure);
    double have = odds_log(fmin(fmax(likeliest, 1e-3), p->params.sure));
    return fmax(0.0, (wanted - have) / -odds_log(p->person->wrong_direction) - 1.0);
}

/* Share of the likeliest right wiring. */
static double likeliest_right(const hp_planner *p, const double *group)
{
    double right[HP_WIRING_COUNT + 1] = {0}, best = 0.0;
    for (int k = 0; k < HP_SET_COUNT; k++)
        for (int i = 0; i < 3; i++)
            right[p->set_wiring[k][i]] += group[k];
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        best = fmax(best, right[n]);
    return best;
}

/* J of a belief given by its groups. `tried`: the wiring just seen to run forward smoothly from
 * every rest angle, 0 when it was not. */
double hp_rest_cost(const hp_rest *r, const double *group, int tried)
{
    const hp_plan_params *params = &r->planner->params;
    double part[2] = {0.0, 0.0}, right = 0.0;
    for (int k = 0; k < HP_SET_COUNT; k++) {
        part[0] += group[k];
        if (tried > 0 && group[k] > 0.0 && hp_set_is_right(r->planner, k, tried))
            right += group[k];
    }
    for (int k = HP_SET_COUNT; k < HP_GROUP_COUNT; k++)
        part[1] += group[k];
    double total = part[0] + part[1], worst = hp_part_likeliest(&group[HP_SET_COUNT], NULL);
    if (total <= 0.0 || right >= params->sure * total || worst >= params->sure_broken * total)
        return 0.0;
    double which = entropy(&group[HP_SET_COUNT], HP_PART_COUNT, part[1]);
    double doubt = entropy(part, 2, total) + part[1] / total * (1.0 + which);
    double looks = more_looks(r->planner, likeliest_right(r->planner, group) / total);
    return part[0] / total * (hp_rest_sharp(r, group, false) + params->costs.look * looks) +
           params->costs.bit * doubt;
}
