/*
 * Exact search: see the header. The table is an open-addressing hash of (set, place); a stamp tells
 * this problem's entries from those of earlier ones, so that starting afresh costs nothing.
 *
 * Whatever is done first, each hypothesis must still come to the goal, and that takes at least the
 * cheapest action that is its goal. This bound leaves out most actions before what comes after them
 * is solved, and none that is better.
 */
#include "decide/advise/search.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

typedef struct slot {
    uint32_t set;
    int32_t place;
    uint32_t stamp; /* of the problem that it belongs to */
    int32_t action;
    double value;
} slot;

/* One action of the problem, laid out for sets. */
typedef struct move {
    int outcomes;                        /* other than the goal */
    uint32_t mask[HP_SEARCH_HYPOTHESES]; /* [outcome] hypotheses that show it */
    uint32_t goal;
    double paid[HP_SEARCH_HYPOTHESES]; /* weight times outcome cost */
} move;

struct hp_search {
    slot *table;
    size_t size; /* a power of two */
    size_t used; /* slots of this problem */
    uint32_t stamp;
    bool failed; /* no memory */
    const hp_search_problem *problem;
    move move[HP_SEARCH_ACTIONS];
    int live[HP_SEARCH_ACTIONS]; /* actions that can be worth taking, ascending */
    int lives;
    double finish[HP_SEARCH_HYPOTHESES]; /* weight times cost of the cheapest goal */
};

hp_search *hp_search_create(hp_error *err)
{
    hp_search *search = calloc(1, sizeof *search);
    if (search) {
        search->size = 4096;
        search->table = calloc(search->size, sizeof *search->table);
    }
    if (!search || !search->table) {
        free(search);
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a search");
        return NULL;
    }
    return search;
}

void hp_search_free(hp_search *search)
{
    if (!search)
        return;
    free(search->table);
    free(search);
}

static size_t place_of(const slot *table, size_t size, uint32_t stamp, uint32_t set, int place)
{
    uint64_t mix = ((uint64_t)set << 16 ^ (uint64_t)place) * 0x9e3779b97f4a7c15u;
    size_t at = (size_t)(mix >> 20) & (size - 1);
    while (table[at].stamp == stamp && (table[at].set != set || table[at].place != place))
        at = (at + 1) & (size - 1);
    return at;
}

static bool grow(hp_search *search)
{
    size_t size = 2 * search->size;
    slot *table = calloc(size, sizeof *table);
    if (!table)
        return false;
    for (size_t k = 0; k < search->size; k++) {
        const slot *old = &search->table[k];
        if (old->stamp == search->stamp)
            table[place_of(table, size, search->stamp, old->set, old->place)] = *old;
    }
    free(search->table);
    search->table = table;
    search->size = size;
    return true;
}

static void keep(hp_search *search, uint32_t set, int place, double value, int action)
{
    if (2 * (search->used + 1) > search->size && !grow(search)) {
        search->failed = true;
        return;
    }
    size_t at = place_of(search->table, search->size, search->stamp, set, place);
    search->table[at] = (slot){set, place, search->stamp, action, value};
    search->used++;
}

static int lowest(uint32_t set)
{
    return __builtin_ctz(set);
}

static double weight_of(const hp_search_problem *p, uint32_t set)
{
    double weight = 0.0;
    for (; set; set &= set - 1)
        weight += p->weight[lowest(set)];
    return weight;
}

static void lay_out(move *m, const hp_search_problem *p, int action)
{
    signed char place[64];
    m->outcomes = 0;
    m->goal = 0;
    memset(place, -1, sizeof place);
    for (int h = 0; h < p->hypotheses; h++) {
        int k = action * p->hypotheses + h, outcome = p->outcome[k];
        m->paid[h] = p->outcome_cost ? p->weight[h] * p->outcome_cost[k] : 0.0;
        if (outcome == HP_SEARCH_GOAL) {
            m->goal |= (uint32_t)1 << h;
            continue;
        }
        assert(outcome < 64);
        if (place[outcome] < 0) {
            place[outcome] = (signed char)m->outcomes;
            m->mask[m->outcomes++] = 0;
        }
        m->mask[place[outcome]] |= (uint32_t)1 << h;
    }
}

/* Whether one action splits every set as another does, leads to the same place and costs no more.
 */
static bool replaces(const hp_search_problem *p, const move *m, int one, int other)
{
    const move *a = &m[one], *b = &m[other];
    if (a->goal != b->goal || a->outcomes != b->outcomes ||
        memcmp(a->mask, b->mask, (size_t)a->outcomes * sizeof a->mask[0]) != 0 ||
        (p->next && p->next[one] != p->next[other]))
        return false;
    for (int k = 0; k < p->places; k++)
        if (p->cost[k * p->actions + one] > p->cost[k * p->actions + other])
            return false;
    for (int h = 0; h < p->hypotheses; h++)
        if (a->paid[h] > b->paid[h])
            return false;
    return true;
}

/* Leaves out actions that another replaces, and those that never show but one thing. */
static void find_live(hp_search *search)
{
    const hp_search_problem *p = search->problem;
    search->lives = 0;
    for (int a = 0; a < p->actions; a++) {
        const move *m = &search->move[a];
        bool live = m->goal || m->outcomes > 1;
        for (int k = 0; k < search->lives && live; k++)
            live = !replaces(p, search->move, search->live[k], a);
        if (live)
            search->live[search->lives++] = a;
    }
}

static void lay_out_all(hp_search *search)
{
    const hp_search_problem *p = search->problem;
    for (int h = 0; h < p->hypotheses; h++)
        search->finish[h] = INFINITY;
    for (int a = 0; a < p->actions; a++) {
        double cost = INFINITY;
        lay_out(&search->move[a], p, a);
        for (int k = 0; k < p->places; k++)
            cost = fmin(cost, p->cost[k * p->actions + a]);
        for (uint32_t goal = search->move[a].goal; goal; goal &= goal - 1) {
            int h = lowest(goal);
            search->finish[h] =
                fmin(search->finish[h], p->weight[h] * cost + search->move[a].paid[h]);
        }
    }
}

static double solve(hp_search *search, uint32_t set, int place);

/* What is paid when `action` is taken now. *left: at least so much is paid after it. */
static double paid_now(const hp_search *search, uint32_t set, int place, int action, double weight,
                       double *left)
{
    const hp_search_problem *p = search->problem;
    const move *m = &search->move[action];
    double value = weight * p->cost[place * p->actions + action];
    *left = 0.0;
    for (; set; set &= set - 1) {
        int h = lowest(set);
        value += m->paid[h];
        *left += m->goal >> h & 1 ? 0.0 : search->finish[h];
    }
    return value;
}

static double finish_of(const hp_search *search, uint32_t set)
{
    double sum = 0.0;
    for (; set; set &= set - 1)
        sum += search->finish[lowest(set)];
    return sum;
}

static bool teaches(const move *m, uint32_t set)
{
    for (int o = 0; o < m->outcomes; o++)
        if ((m->mask[o] & set) == set)
            return false;
    return true;
}

/* Cost of taking `action` now and going on well; INFINITY when it teaches nothing, or once it
 * cannot be less than `limit`. */
static double value_of(hp_search *search, uint32_t set, int place, int action, double weight,
                       double limit)
{
    const hp_search_problem *p = search->problem;
    const move *m = &search->move[action];
    double left, value = paid_now(search, set, place, action, weight, &left);
    /* A hair less, for rounding. */
    const double hair = 1.0 - 1e-12;
    if (value + left * hair >= limit || !teaches(m, set))
        return INFINITY;
    int there = p->next && p->next[action] >= 0 ? p->next[action] : place;
    for (int o = 0; o < m->outcomes; o++) {
        uint32_t subset = m->mask[o] & set;
        if (!subset)
            continue;
        value += solve(search, subset, there);
        left -= finish_of(search, subset);
        if (value + fmax(0.0, left) * hair >= limit)
            return INFINITY;
    }
    return value;
}

static double solve(hp_search *search, uint32_t set, int place)
{
    size_t at = place_of(search->table, search->size, search->stamp, set, place);
    if (search->table[at].stamp == search->stamp)
        return search->table[at].value;
    double best = INFINITY, weight = weight_of(search->problem, set);
    int action = -1;
    for (int k = 0; k < search->lives && !search->failed; k++) {
        int a = search->live[k];
        double value = value_of(search, set, place, a, weight, best);
        if (value < best) {
            best = value;
            action = a;
        }
    }
    keep(search, set, place, best, action);
    return best;
}

static uint32_t full_set(const hp_search_problem *problem)
{
    return problem->hypotheses == 32 ? UINT32_MAX : ((uint32_t)1 << problem->hypotheses) - 1;
}

hp_result hp_search_solve(hp_search *search, const hp_search_problem *problem, int place,
                          double *value, int *action, hp_error *err)
{
    assert(problem->hypotheses >= 1 && problem->hypotheses <= HP_SEARCH_HYPOTHESES);
    assert(problem->actions >= 1 && problem->actions <= HP_SEARCH_ACTIONS);
    assert(place >= 0 && place < problem->places);
    search->problem = problem;
    search->used = 0;
    search->failed = false;
    if (++search->stamp == 0) {
        memset(search->table, 0, search->size * sizeof *search->table);
        search->stamp = 1;
    }
    lay_out_all(search);
    find_live(search);
    double total = solve(search, full_set(problem), place), weight = 0.0;
    if (search->failed)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a search");
    for (int h = 0; h < problem->hypotheses; h++)
        weight += problem->weight[h];
    *value = total / weight;
    if (action)
        *action = hp_search_action(search, full_set(problem), place);
    return HP_OK;
}

int hp_search_action(const hp_search *search, uint32_t set, int place)
{
    size_t at = place_of(search->table, search->size, search->stamp, set, place);
    return search->table[at].stamp == search->stamp ? search->table[at].action : -1;
}

int hp_search_walk(const hp_search *search, const hp_search_problem *problem, int place,
                   int hypothesis, int *step, int limit)
{
    uint32_t set = full_set(problem);
    for (int count = 0; count < limit;) {
        int action = hp_search_action(search, set, place);
        if (action < 0)
            return -1;
        step[count++] = action;
        const uint8_t *outcome = &problem->outcome[action * problem->hypotheses];
        if (outcome[hypothesis] == HP_SEARCH_GOAL)
            return count;
        uint32_t left = 0;
        for (int h = 0; h < problem->hypotheses; h++)
            if ((set >> h & 1) && outcome[h] == outcome[hypothesis])
                left |= (uint32_t)1 << h;
        set = left;
        if (problem->next && problem->next[action] >= 0)
            place = problem->next[action];
    }
    return -1;
}
