/* Belief: see the header. Slips are looked for in belief_slips.c. */
#include "decide/advise/belief_weigh.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int trouble_of(const hp_hypothesis *h)
{
    return hp_trouble_index(h->inverted, h->fault);
}

/* ---- life ------------------------------------------------------------------------------------ */

/* Visits every hypothesis with a prior; fills the arrays when they are there. Returns the number.
 */
static int enumerate(const hp_prior_params *prior, hp_hypothesis *out, double *probability)
{
    int count = 0;
    for (int t = 0; t < HP_TABLE_COUNT; t++)
        for (int i = -1; i < HP_PHASE_COUNT; i++)
            for (int f = 0; f < HP_FAULT_COUNT; f++)
                for (int r = 0; r < HP_RELATION_COUNT; r++) {
                    hp_hypothesis h = {r, t, i, hp_fault_from_index(f)};
                    double p = hp_prior_of(prior, &h);
                    if (p <= 0.0)
                        continue;
                    if (out) {
                        out[count] = h;
                        probability[count] = p;
                    }
                    count++;
                }
    return count;
}

static int find(const hp_belief *b, const hp_hypothesis *h)
{
    for (int k = 0; k < b->count; k++) {
        const hp_hypothesis *c = &b->hypothesis[k];
        if (c->relation == h->relation && c->table == h->table && c->inverted == h->inverted &&
            hp_fault_index(c->fault) == hp_fault_index(h->fault))
            return k;
    }
    return -1;
}

static void fill_behaviours(hp_belief *b)
{
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        hp_wiring wiring = hp_wiring_from_number(n);
        for (int k = 0; k < b->count; k++) {
            hp_behaviour behaviour = hp_behaviour_of(&b->hypothesis[k], &wiring);
            int raw = hp_behaviour_raw(&behaviour);
            assert(b->table->map.index[raw] >= 0);
            b->behaviour[k * HP_WIRING_COUNT + n - 1] =
                (short)(2 * b->table->map.index[raw] + b->table->map.mirrored[raw]);
        }
    }
}

static void start(hp_belief *b)
{
    double sum = 0.0;
    for (int k = 0; k < b->count; k++)
        sum += b->prior[k];
    for (int k = 0; k < b->count; k++) {
        b->prior[k] /= sum;
        b->now[k] = k;
        for (int m = 0; m < b->motors; m++)
            b->weight[k * b->motors + m] = b->prior[k] / b->motors;
    }
}

hp_result hp_belief_create(const hp_likelihood *table, const hp_person *person,
                           const hp_prior_params *prior, hp_belief *belief, hp_error *err)
{
    memset(belief, 0, sizeof *belief);
    hp_prior_params own = *prior;
    own.has_clutch = prior->has_clutch && table->map.clutch;
    hp_result result = hp_person_check(person, err);
    if (result != HP_OK)
        return result;
    belief->table = table;
    belief->person = person;
    belief->motors = table->options.motors;
    belief->count = enumerate(&own, NULL, NULL);
    size_t count = (size_t)belief->count, motors = (size_t)belief->motors;
    belief->hypothesis = malloc((count + 1) * sizeof *belief->hypothesis);
    belief->prior = malloc((count + 1) * sizeof *belief->prior);
    belief->weight = malloc((count * motors + 1) * sizeof *belief->weight);
    belief->now = malloc((count + 1) * sizeof *belief->now);
    belief->behaviour = malloc((count + 1) * HP_WIRING_COUNT * sizeof *belief->behaviour);
    belief->scratch = malloc(2 * (size_t)table->map.count * motors * sizeof *belief->scratch);
    if (!belief->hypothesis || !belief->prior || !belief->weight || !belief->now ||
        !belief->behaviour || !belief->scratch) {
        hp_belief_free(belief);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
    }
    enumerate(&own, belief->hypothesis, belief->prior);
    if (belief->count == 0) {
        hp_belief_free(belief);
        return hp_error_set(err, HP_FAIL_INPUT, "the prior leaves nothing possible");
    }
    fill_behaviours(belief);
    start(belief);
    return HP_OK;
}

void hp_belief_free(hp_belief *b)
{
    if (!b)
        return;
    for (int k = 0; k < b->entries; k++)
        free(b->entry_weight[k]);
    free(b->entry_weight);
    free(b->entry_now);
    free(b->entry);
    free(b->hypothesis);
    free(b->prior);
    free(b->weight);
    free(b->now);
    free(b->behaviour);
    free(b->scratch);
    memset(b, 0, sizeof *b);
}

static void *duplicate(const void *data, size_t size)
{
    void *copy = malloc(size > 0 ? size : 1);
    if (copy && size > 0)
        memcpy(copy, data, size);
    return copy;
}

/* The arrays that grow with the entries. */
static bool copy_entries(const hp_belief *b, hp_belief *copy, size_t weights)
{
    size_t entries = (size_t)b->entries;
    copy->entries = 0;
    copy->capacity = b->entries;
    copy->entry = duplicate(b->entry, entries * sizeof *b->entry);
    copy->entry_now = duplicate(b->entry_now, entries * (size_t)b->count * sizeof *b->entry_now);
    copy->entry_weight = malloc((entries + 1) * sizeof *copy->entry_weight);
    if (!copy->entry || !copy->entry_now || !copy->entry_weight)
        return false;
    for (; copy->entries < b->entries; copy->entries++) {
        const double *weight = b->entry_weight[copy->entries];
        double *own = weight ? duplicate(weight, weights) : NULL;
        if (weight && !own)
            return false;
        copy->entry_weight[copy->entries] = own;
    }
    return true;
}

hp_result hp_belief_copy(const hp_belief *b, hp_belief *copy, hp_error *err)
{
    size_t count = (size_t)b->count, weights = count * (size_t)b->motors * sizeof *b->weight;
    *copy = *b;
    copy->hypothesis = duplicate(b->hypothesis, count * sizeof *b->hypothesis);
    copy->weight = duplicate(b->weight, weights);
    copy->prior = duplicate(b->prior, count * sizeof *b->prior);
    copy->now = duplicate(b->now, count * sizeof *b->now);
    copy->behaviour = duplicate(b->behaviour, count * HP_WIRING_COUNT * sizeof *b->behaviour);
    copy->scratch =
        malloc(2 * (size_t)b->table->map.count * (size_t)b->motors * sizeof *copy->scratch);
    bool whole = copy_entries(b, copy, weights);
    if (!whole || !copy->hypothesis || !copy->weight || !copy->prior || !copy->now ||
        !copy->behaviour || !copy->scratch) {
        hp_belief_free(copy);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
    }
    return HP_OK;
}

/* ---- weights of one entry -------------------------------------------------------------------- */

/* Earlier trials of the same wiring at the same level, on the same parts: entries before `place`
 * and after the last mend. Returns their number. */
static int earlier_trials(const hp_belief *b, const hp_trial *trial, int place,
                          const hp_trial *earlier[HP_EARLIER_MAX])
{
    int count = 0, level = hp_likelihood_level(b->table, trial->throttle);
    int number = hp_wiring_number(&trial->wiring);
    for (int k = place - 1; k >= 0 && count < HP_EARLIER_MAX; k--) {
        const hp_entry *e = &b->entry[k];
        if (e->reading->change)
            break;
        if (e->reading == &hp_reading_trial && hp_wiring_number(&e->trial.wiring) == number &&
            hp_likelihood_level(b->table, e->trial.throttle) == level)
            earlier[count++] = &e->trial;
    }
    return count;
}

#define KIND_COUNT (4 * HP_FAULT_COUNT)

/* Hypotheses of one kind have their faults on the same axes; the 36 wirings then show the same 36
 * cases in another order, so that their mean over any wiring is the same. */
static int kind_of(const hp_hypothesis *h)
{
    hp_wiring any = hp_wiring_from_number(1);
    hp_behaviour b = hp_behaviour_of(h, &any);
    return (b.inverted + 1) * HP_FAULT_COUNT + hp_fault_index(b.fault);
}

/* Mean weight over all wirings, for each motor. */
static void mean_weight(const hp_belief *b, int hypothesis, double *mean)
{
    const short *behaviour = &b->behaviour[hypothesis * HP_WIRING_COUNT];
    for (int m = 0; m < b->motors; m++)
        mean[m] = 0.0;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        for (int m = 0; m < b->motors; m++)
            mean[m] += b->scratch[behaviour[n] * b->motors + m] / HP_WIRING_COUNT;
}

/* A trial: the wiring written down, or by mistake any of the 36. */
static void weigh_trial(const hp_belief *b, const hp_person *person, const hp_trial *trial,
                        int place, const int *now, double *out)
{
    int motors = b->motors, number = hp_wiring_number(&trial->wiring);
    const hp_trial *earlier[HP_EARLIER_MAX];
    int count = earlier_trials(b, trial, place, earlier);
    hp_weigh_trial(b->table, person, trial, earlier, count, b->scratch);
    double mixed = person->wrong_wiring, mean[KIND_COUNT][HP_LIKELIHOOD_MOTORS];
    bool known[KIND_COUNT] = {false};
    for (int h = 0; h < b->count; h++) {
        const double *own =
            &b->scratch[b->behaviour[now[h] * HP_WIRING_COUNT + number - 1] * motors];
        int kind = kind_of(&b->hypothesis[now[h]]);
        if (!known[kind])
            mean_weight(b, now[h], mean[kind]);
        known[kind] = true;
        for (int m = 0; m < motors; m++)
            out[h * motors + m] = (1.0 - mixed) * own[m] + mixed * mean[kind][m];
    }
}

/* Readings that depend on the motor look at nothing of a hypothesis but its fault:
 * rows of the same fault are the same. */
static void weigh_reading(const hp_belief *b, const hp_person *person, const hp_entry *entry,
                          const int *now, double *out)
{
    int motors = b->motors;
    bool each = entry->reading->needs_motor;
    const double *same[HP_FAULT_COUNT] = {NULL};
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *hypothesis = &b->hypothesis[now[h]];
        double *row = &out[h * motors], weight = 0.0;
        const double **known = &same[hp_fault_index(hypothesis->fault)];
        if (each && *known) {
            memcpy(row, *known, (size_t)motors * sizeof *row);
            continue;
        }
        for (int m = 0; m < motors; m++) {
            if (m == 0 || each)
                weight = hp_weigh_reading(b->table, person, entry, hypothesis, m);
            row[m] = weight;
        }
        *known = row;
    }
}

double hp_belief_weigh(const hp_belief *b, const hp_person *person, const hp_entry *entry,
                       int place, const int *now, double *out)
{
    int size = b->count * b->motors;
    if (entry->reading == &hp_reading_trial)
        weigh_trial(b, person, &entry->trial, place, now, out);
    else
        weigh_reading(b, person, entry, now, out);
    double largest = 0.0;
    for (int k = 0; k < size; k++)
        largest = fmax(largest, out[k]);
    /* A worthless entry could have been this one anyhow. Numbers far off everything can underflow;
     * then the entry says nothing. */
    double worthless = person->wrong_entry;
    for (int k = 0; k < size; k++)
        out[k] = largest > 0.0 ? worthless + (1.0 - worthless) * out[k] / largest : 1.0;
    return largest > 0.0 ? log(largest) : 0.0;
}

/* ---- taking entries in ----------------------------------------------------------------------- */

static hp_result reserve(hp_belief *b, hp_error *err)
{
    if (b->entries < b->capacity)
        return HP_OK;
    int capacity = b->capacity ? 2 * b->capacity : 16;
    size_t size = (size_t)capacity;
    hp_entry *entry = realloc(b->entry, size * sizeof *entry);
    if (entry)
        b->entry = entry;
    double **weight = realloc(b->entry_weight, size * sizeof *weight);
    if (weight)
        b->entry_weight = weight;
    int *now = realloc(b->entry_now, size * (size_t)b->count * sizeof *now);
    if (now)
        b->entry_now = now;
    if (!entry || !weight || !now)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    b->capacity = capacity;
    return HP_OK;
}

/* What each hypothesis becomes by an entry, such as a mend. */
static void change(hp_belief *b, const hp_entry *entry)
{
    for (int k = 0; k < b->count; k++) {
        hp_hypothesis h = b->hypothesis[b->now[k]];
        entry->reading->change(entry->values, &h);
        int found = find(b, &h);
        if (found >= 0)
            b->now[k] = found;
    }
}

static bool says_something(const hp_reading *reading)
{
    return reading->weigh || reading == &hp_reading_trial;
}

/* Multiplies the weights in and makes them add up to one again. */
static void update(hp_belief *b, const double *weight, double scale)
{
    int size = b->count * b->motors;
    double sum = 0.0;
    for (int k = 0; k < size; k++) {
        b->weight[k] *= weight[k];
        sum += b->weight[k];
    }
    for (int k = 0; k < size; k++)
        b->weight[k] /= sum;
    b->log_evidence += scale + log(sum);
}

hp_result hp_belief_add(hp_belief *b, const hp_entry *entry, hp_error *err)
{
    hp_result result = hp_entry_check(entry, err);
    if (result == HP_OK)
        result = reserve(b, err);
    if (result != HP_OK)
        return result;
    double *weight = NULL;
    if (says_something(entry->reading)) {
        weight = malloc((size_t)(b->count * b->motors) * sizeof *weight);
        if (!weight)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
        double scale = hp_belief_weigh(b, b->person, entry, b->entries, b->now, weight);
        update(b, weight, scale);
    }
    b->entry[b->entries] = *entry;
    b->entry_weight[b->entries] = weight;
    memcpy(&b->entry_now[b->entries * b->count], b->now, (size_t)b->count * sizeof *b->now);
    b->entries++;
    if (entry->reading->change)
        change(b, entry);
    return HP_OK;
}

/* ---- sums ------------------------------------------------------------------------------------ */

static double hypothesis_weight(const hp_belief *b, int h)
{
    double sum = 0.0;
    for (int m = 0; m < b->motors; m++)
        sum += b->weight[h * b->motors + m];
    return sum;
}

void hp_belief_hypotheses(const hp_belief *b, double *probability)
{
    for (int h = 0; h < b->count; h++)
        probability[h] = hypothesis_weight(b, h);
}

void hp_belief_troubles(const hp_belief *b, double probability[HP_TROUBLE_COUNT])
{
    memset(probability, 0, HP_TROUBLE_COUNT * sizeof *probability);
    for (int h = 0; h < b->count; h++)
        probability[trouble_of(&b->hypothesis[b->now[h]])] += hypothesis_weight(b, h);
}

static void add_wirings(const hp_belief *b, bool only_sound, double *probability)
{
    double pair[HP_RELATION_COUNT][HP_TABLE_COUNT] = {0};
    memset(probability, 0, (HP_WIRING_COUNT + 1) * sizeof *probability);
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *now = &b->hypothesis[b->now[h]];
        if (!only_sound || trouble_of(now) == HP_TROUBLE_SOUND)
            pair[now->relation][now->table] += hypothesis_weight(b, h);
    }
    for (int r = 0; r < HP_RELATION_COUNT; r++)
        for (int t = 0; t < HP_TABLE_COUNT; t++) {
            int number[3];
            if (pair[r][t] <= 0.0)
                continue;
            hp_right_wirings(r, t, number);
            for (int k = 0; k < 3; k++)
                probability[number[k]] += pair[r][t];
        }
}

void hp_belief_wirings(const hp_belief *b, double probability[HP_WIRING_COUNT + 1])
{
    add_wirings(b, true, probability);
}

void hp_belief_wirings_mended(const hp_belief *b, double probability[HP_WIRING_COUNT + 1])
{
    add_wirings(b, false, probability);
}

void hp_belief_tables(const hp_belief *b, double probability[HP_TABLE_COUNT])
{
    memset(probability, 0, HP_TABLE_COUNT * sizeof *probability);
    for (int h = 0; h < b->count; h++)
        probability[b->hypothesis[h].table] += hypothesis_weight(b, h);
}

void hp_belief_motors(const hp_belief *b, double *weight)
{
    for (int m = 0; m < b->motors; m++) {
        weight[m] = 0.0;
        for (int h = 0; h < b->count; h++)
            weight[m] += b->weight[h * b->motors + m];
    }
}

void hp_belief_after(const hp_belief *b, int entries, double *probability)
{
    assert(entries >= 0 && entries <= b->entries);
    double sum = 0.0;
    for (int h = 0; h < b->count; h++) {
        probability[h] = 0.0;
        for (int m = 0; m < b->motors; m++) {
            double w = b->prior[h] / b->motors;
            for (int k = 0; k < entries; k++)
                if (b->entry_weight[k])
                    w *= b->entry_weight[k][h * b->motors + m];
            probability[h] += w;
        }
        sum += probability[h];
    }
    for (int h = 0; h < b->count && sum > 0.0; h++)
        probability[h] /= sum;
}
