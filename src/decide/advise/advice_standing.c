/* Where things stand after a log: see the header. */
#include "decide/advise/advice_standing.h"

#include "base/rank.h"
#include "decide/advise/hypothesis.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Probabilities nearer to one another are alike, for all that their last bits say. */
#define ALIKE 1e-9

static int by_set(const void *a, const void *b)
{
    const hp_standing_set *x = a, *y = b;
    double p = hp_rounded(x->probability), q = hp_rounded(y->probability);
    if (p != q)
        return p < q ? 1 : -1;
    return x->number[0] != y->number[0] ? x->number[0] - y->number[0] : x->number[1] - y->number[1];
}

static int by_trouble(const void *a, const void *b)
{
    const hp_standing_trouble *x = a, *y = b;
    double p = hp_rounded(x->probability), q = hp_rounded(y->probability);
    if (p != q)
        return p < q ? 1 : -1;
    return x->trouble - y->trouble;
}

static void add_set(hp_standing *s, const int number[3], double probability)
{
    int k = 0;
    while (k < s->sets && memcmp(s->set[k].number, number, sizeof s->set[k].number) != 0)
        k++;
    if (k == HP_STANDING_SETS)
        return;
    if (k == s->sets) {
        memcpy(s->set[k].number, number, sizeof s->set[k].number);
        s->set[s->sets++].probability = 0.0;
    }
    s->set[k].probability += probability;
}

hp_result hp_standing_fill(const hp_belief *b, int stated, hp_standing *s, hp_error *err)
{
    double troubles[HP_TROUBLE_COUNT];
    double *probability = malloc((size_t)b->count * sizeof *probability);
    memset(s, 0, sizeof *s);
    s->stated_table = stated;
    if (!probability)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    hp_belief_hypotheses(b, probability);
    for (int h = 0; h < b->count; h++) {
        int number[3];
        const hp_hypothesis *now = &b->hypothesis[b->now[h]];
        hp_hypothesis_rights(now, number);
        add_set(s, number, probability[h]);
        s->table += now->table == stated ? probability[h] : 0.0;
    }
    free(probability);
    hp_belief_troubles(b, troubles);
    s->sound = troubles[HP_TROUBLE_SOUND];
    for (int k = 1; k < HP_TROUBLE_COUNT; k++)
        s->trouble[s->troubles++] = (hp_standing_trouble){.trouble = k, .probability = troubles[k]};
    qsort(s->set, (size_t)s->sets, sizeof s->set[0], by_set);
    qsort(s->trouble, (size_t)s->troubles, sizeof s->trouble[0], by_trouble);
    return HP_OK;
}

/* ---- course ---------------------------------------------------------------------------------- */

static double entropy_bits(const double *probability, int count)
{
    double bits = 0.0;
    for (int h = 0; h < count; h++)
        if (probability[h] > 0.0)
            bits -= probability[h] * log2(probability[h]);
    return bits;
}

static void find_raised(const double *before, const double *after, int count, int step,
                        hp_standing_course *c)
{
    int best = 0;
    for (int h = 1; h < count; h++)
        if (after[h] - before[h] > after[best] - before[best] + ALIKE)
            best = h;
    c->raised[step] = best;
    for (int h = 0; h < count; h++)
        c->equals[step] +=
            fabs(after[h] - after[best]) <= ALIKE && fabs(before[h] - before[best]) <= ALIKE;
    c->from[step] = before[best];
    c->to[step] = after[best];
}

/* Which three wirings each hypothesis holds for right: the sets, and for each hypothesis its. */
typedef struct sets {
    int number[HP_STANDING_SETS][3];
    int count;
    int *of; /* owned; [h] */
} sets;

static int by_numbers(const void *a, const void *b)
{
    const int *x = a, *y = b;
    return x[0] != y[0] ? x[0] - y[0] : x[1] - y[1];
}

static hp_result find_sets(const hp_belief *b, sets *all, hp_error *err)
{
    all->count = 0;
    all->of = malloc((size_t)b->count * sizeof *all->of);
    if (!all->of)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    for (int pass = 0; pass < 2; pass++) { /* the sets, then which is whose */
        for (int h = 0; h < b->count; h++) {
            int number[3], k = 0;
            hp_hypothesis_rights(&b->hypothesis[h], number);
            while (k < all->count && memcmp(all->number[k], number, sizeof number) != 0)
                k++;
            if (k == all->count && k < HP_STANDING_SETS)
                memcpy(all->number[all->count++], number, sizeof number);
            all->of[h] = k;
        }
        qsort(all->number, (size_t)all->count, sizeof all->number[0], by_numbers);
    }
    return HP_OK;
}

/* chosen: nearer than this to one another, two sets are as likely. */
#define SET_ALIKE 0.01

static bool near(double a, double b)
{
    return fabs(a - b) <= SET_ALIKE * fmax(a, b) + ALIKE;
}

static void move_sets(const double *before, const double *after, const sets *all,
                      hp_standing_move *m)
{
    int best = 0;
    for (int k = 0; k < all->count; k++) {
        if (after[k] - before[k] > after[best] - before[best] + ALIKE)
            best = k;
        if (after[k] > 0.0 && before[k] > 0.0)
            m->set_bits += after[k] * log2(after[k] / before[k]);
    }
    m->set_from = before[best];
    m->set_to = after[best];
    for (int k = 0; k < all->count; k++)
        if (near(after[k], after[best]) && near(before[k], before[best]))
            memcpy(m->set[m->alike++], all->number[k], sizeof m->set[0]);
}

static void move_troubles(const double *before, const double *after, hp_standing_move *m)
{
    double good_from = before[HP_TROUBLE_SOUND], good_to = after[HP_TROUBLE_SOUND];
    int best = HP_TROUBLE_SOUND;
    for (int k = 0; k < HP_TROUBLE_COUNT; k++) {
        bool rose = after[k] >= before[k] * (1.0 - ALIKE) && after[k] > 0.0;
        bool spoke = after[k] * good_from >= HP_WORTH_A_MENTION * before[k] * good_to;
        bool more = best == HP_TROUBLE_SOUND || after[k] > after[best] * (1.0 + ALIKE);
        if (k != HP_TROUBLE_SOUND && rose && spoke && more)
            best = k;
    }
    m->trouble = best;
    m->trouble_from = before[best];
    m->trouble_to = after[best];
    m->sound_from = good_from;
    m->sound_to = good_to;
}

static void find_move(const hp_belief *b, const double *before, const double *after,
                      const sets *all, hp_standing_move *move)
{
    double trouble[2][HP_TROUBLE_COUNT] = {{0.0}}, set[2][HP_STANDING_SETS + 1] = {{0.0}};
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *own = &b->hypothesis[h];
        int which = hp_trouble_of(own);
        trouble[0][which] += before[h];
        trouble[1][which] += after[h];
        set[0][all->of[h]] += before[h];
        set[1][all->of[h]] += after[h];
    }
    move_troubles(trouble[0], trouble[1], move);
    move_sets(set[0], set[1], all, move);
}

/* Picks those that count, sorted by where they end; all[step * count + h]. */
static hp_result pick(const double *all, int count, double least, hp_standing_course *c,
                      hp_error *err)
{
    const double *end = &all[(size_t)(c->steps - 1) * (size_t)count];
    c->index = malloc((size_t)count * sizeof *c->index);
    if (!c->index)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    for (int h = 0; h < count; h++) {
        bool counts = false;
        for (int step = 0; step < c->steps; step++)
            counts = counts || all[step * count + h] >= least;
        if (!counts)
            continue;
        int at = c->count++;
        for (; at > 0 && end[c->index[at - 1]] < end[h] * (1.0 - ALIKE); at--)
            c->index[at] = c->index[at - 1];
        c->index[at] = h;
    }
    c->after = malloc((size_t)(c->count * c->steps + 1) * sizeof *c->after);
    if (!c->after)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    for (int k = 0; k < c->count; k++)
        for (int step = 0; step < c->steps; step++)
            c->after[k * c->steps + step] = all[step * count + c->index[k]];
    return HP_OK;
}

hp_result hp_standing_course_make(const hp_belief *b, double least, hp_standing_course *c,
                                  hp_error *err)
{
    size_t steps = (size_t)b->entries + 1, count = (size_t)b->count;
    memset(c, 0, sizeof *c);
    c->steps = (int)steps;
    double *all = malloc(steps * count * sizeof *all);
    c->doubt = malloc(steps * sizeof *c->doubt);
    c->raised = calloc(steps, sizeof *c->raised);
    c->equals = calloc(steps, sizeof *c->equals);
    c->from = calloc(steps, sizeof *c->from);
    c->to = calloc(steps, sizeof *c->to);
    c->move = calloc(steps, sizeof *c->move);
    sets threes = {.of = NULL};
    hp_result result = HP_OK;
    if (!all || !c->doubt || !c->raised || !c->equals || !c->from || !c->to || !c->move)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a report");
    if (result == HP_OK)
        result = find_sets(b, &threes, err);
    if (result == HP_OK)
        result = hp_belief_course(b, all, err);
    for (int step = 0; result == HP_OK && step < c->steps; step++) {
        const double *now = &all[(size_t)step * count];
        c->doubt[step] = entropy_bits(now, b->count);
        if (step > 0) {
            find_raised(now - count, now, b->count, step, c);
            find_move(b, now - count, now, &threes, &c->move[step]);
        }
    }
    if (result == HP_OK)
        result = pick(all, b->count, least, c, err);
    free(all);
    free(threes.of);
    if (result != HP_OK)
        hp_standing_course_free(c);
    return result;
}

void hp_standing_course_free(hp_standing_course *c)
{
    free(c->index);
    free(c->after);
    free(c->doubt);
    free(c->raised);
    free(c->equals);
    free(c->from);
    free(c->to);
    free(c->move);
    memset(c, 0, sizeof *c);
}
