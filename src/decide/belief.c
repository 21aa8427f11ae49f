/*
 * Belief: see the header.
 *
 * Slips. Let L be the weight of an entry under this person and S its weight under one who never
 * slips. L = c S + (slips), where c is the probability that this person does not slip at all; so
 * c = min L / S over everything that may be true, and c S / L is the probability, given the truth,
 * that this entry was no slip.
 */
#include "hubphase/decide/belief.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- troubles -------------------------------------------------------------------------------- */

int hp_trouble_index(int inverted, hp_fault fault)
{
    bool stuck = fault.kind == HP_FAULT_SENSOR_HIGH || fault.kind == HP_FAULT_SENSOR_LOW;
    if (stuck && fault.which == inverted)
        inverted = -1;
    return (inverted + 1) * HP_FAULT_COUNT + hp_fault_index(fault);
}

void hp_trouble_get(int trouble, int *inverted, hp_fault *fault)
{
    assert(trouble >= 0 && trouble < HP_TROUBLE_COUNT);
    *inverted = trouble / HP_FAULT_COUNT - 1;
    *fault = hp_fault_from_index(trouble % HP_FAULT_COUNT);
}

int hp_part_of(int trouble)
{
    int inverted;
    hp_fault fault;
    hp_trouble_get(trouble, &inverted, &fault);
    int part = 8 * (inverted + 1);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW: return part + 1 + fault.which;
    case HP_FAULT_LEAD_OPEN: return part + 4 + fault.which;
    case HP_FAULT_CLUTCH: return part + 7;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    return part;
}

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
        if (e->kind == HP_ENTRY_MEND)
            break;
        if (e->kind == HP_ENTRY_TRIAL && hp_wiring_number(&e->trial.wiring) == number &&
            hp_likelihood_level(b->table, e->trial.throttle) == level)
            earlier[count++] = &e->trial;
    }
    return count;
}

/* A trial: the wiring written down, or by mistake any of the 36. */
static void weigh_trial(const hp_belief *b, const hp_person *person, const hp_trial *trial,
                        int place, const int *now, double *out)
{
    int motors = b->motors, number = hp_wiring_number(&trial->wiring);
    const hp_trial *earlier[HP_EARLIER_MAX];
    int count = earlier_trials(b, trial, place, earlier);
    hp_weigh_trial(b->table, person, trial, earlier, count, b->scratch);
    double mixed = person->wrong_wiring;
    for (int h = 0; h < b->count; h++) {
        const short *behaviour = &b->behaviour[now[h] * HP_WIRING_COUNT];
        const double *own = &b->scratch[behaviour[number - 1] * motors];
        for (int m = 0; m < motors; m++)
            out[h * motors + m] = (1.0 - mixed) * own[m];
        for (int n = 0; n < HP_WIRING_COUNT; n++) {
            const double *other = &b->scratch[behaviour[n] * motors];
            for (int m = 0; m < motors; m++)
                out[h * motors + m] += mixed / HP_WIRING_COUNT * other[m];
        }
    }
}

static void weigh_reading(const hp_belief *b, const hp_person *person, const hp_entry *entry,
                          const int *now, double *out)
{
    int motors = b->motors;
    bool each = hp_reading_needs_motor(entry->kind);
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *hypothesis = &b->hypothesis[now[h]];
        double weight = 0.0;
        for (int m = 0; m < motors; m++) {
            if (m == 0 || each)
                weight = hp_weigh_reading(b->table, person, entry, hypothesis, m);
            out[h * motors + m] = weight;
        }
    }
}

/* Weights of an entry that stands (or will stand) at `place`, the largest made one; returns the
 * logarithm of what they were divided by. */
static double weigh(const hp_belief *b, const hp_person *person, const hp_entry *entry, int place,
                    const int *now, double *out)
{
    int size = b->count * b->motors;
    if (entry->kind == HP_ENTRY_TRIAL)
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

static void mend(hp_belief *b, const hp_mend *what)
{
    for (int k = 0; k < b->count; k++) {
        hp_hypothesis h = b->hypothesis[b->now[k]];
        if (what->fault.kind != HP_FAULT_NONE &&
            hp_fault_index(h.fault) == hp_fault_index(what->fault))
            h.fault = (hp_fault){HP_FAULT_NONE, 0};
        if (what->inversion)
            h.inverted = -1;
        int found = find(b, &h);
        if (found >= 0)
            b->now[k] = found;
    }
}

static bool says_something(hp_entry_kind kind)
{
    return kind != HP_ENTRY_SUPPLY && kind != HP_ENTRY_MEND;
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
    if (says_something(entry->kind)) {
        weight = malloc((size_t)(b->count * b->motors) * sizeof *weight);
        if (!weight)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
        double scale = weigh(b, b->person, entry, b->entries, b->now, weight);
        update(b, weight, scale);
    }
    b->entry[b->entries] = *entry;
    b->entry_weight[b->entries] = weight;
    memcpy(&b->entry_now[b->entries * b->count], b->now, (size_t)b->count * sizeof *b->now);
    b->entries++;
    if (entry->kind == HP_ENTRY_MEND)
        mend(b, &entry->mend);
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
    memset(probability, 0, (HP_WIRING_COUNT + 1) * sizeof *probability);
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *now = &b->hypothesis[b->now[h]];
        if (only_sound && trouble_of(now) != HP_TROUBLE_SOUND)
            continue;
        int number[3];
        hp_right_wirings(now->relation, now->table, number);
        for (int k = 0; k < 3; k++)
            probability[number[k]] += hypothesis_weight(b, h);
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

/* ---- contradictions -------------------------------------------------------------------------- */

/* Fills kept[h, m]: probability, given the truth, that this entry was no slip. */
static void no_slip_share(const hp_belief *b, int entry, const hp_person *sharp, double *kept)
{
    int size = b->count * b->motors;
    const double *weight = b->entry_weight[entry];
    weigh(b, sharp, &b->entry[entry], entry, &b->entry_now[entry * b->count], kept);
    double c = INFINITY;
    for (int k = 0; k < size; k++)
        if (kept[k] > 1e-12)
            c = fmin(c, weight[k] / kept[k]);
    for (int k = 0; k < size; k++)
        kept[k] = fmin(1.0, c * kept[k] / weight[k]);
}

/* How far two entries exclude each other: their joint probability with no slip, over the product of
 * the single ones. */
static double agreement(const hp_belief *b, const double *one, const double *two)
{
    double joint = 0.0, first = 0.0, second = 0.0;
    for (int h = 0; h < b->count; h++) {
        for (int m = 0; m < b->motors; m++) {
            int k = h * b->motors + m;
            double p = b->prior[h] / b->motors;
            joint += p * one[k] * two[k];
            first += p * one[k];
            second += p * two[k];
        }
    }
    return first > 0.0 && second > 0.0 ? joint / (first * second) : 1.0;
}

/* The entry that stands worst beside `slipped` when nobody slips, if any stands badly. */
static hp_result find_other(const hp_belief *b, const hp_person *sharp, hp_contradiction *c,
                            double *one, double *two)
{
    /* chosen: together a hundred times less likely than apart. */
    double worst = 0.01;
    c->other = -1;
    weigh(b, sharp, &b->entry[c->slipped], c->slipped, &b->entry_now[c->slipped * b->count], one);
    for (int k = 0; k < b->entries; k++) {
        if (k == c->slipped || !b->entry_weight[k])
            continue;
        weigh(b, sharp, &b->entry[k], k, &b->entry_now[k * b->count], two);
        double agree = agreement(b, one, two);
        if (agree < worst) {
            worst = agree;
            c->other = k;
        }
    }
    return HP_OK;
}

/* This person without slips. What is a matter of words or of attention (noisy for rough, still for
 * a shiver, a cut-out not noticed) is no slip to be named. */
static hp_person unslipping(const hp_person *person)
{
    hp_person sharp = *person, none = hp_person_sharp();
    sharp.wrong_entry = none.wrong_entry;
    sharp.wrong_direction = none.wrong_direction;
    sharp.rough_as_smooth = none.rough_as_smooth;
    sharp.smooth_as_rough = none.smooth_as_rough;
    sharp.missed_motion = none.missed_motion;
    sharp.miscounted = none.miscounted;
    sharp.wrong_wiring = none.wrong_wiring;
    sharp.code_misread = none.code_misread;
    sharp.turned_back = none.turned_back;
    sharp.code_skipped = none.code_skipped;
    sharp.wrong_lead = none.wrong_lead;
    sharp.pair_misread = none.pair_misread;
    sharp.row_misread = none.row_misread;
    sharp.value_misread = none.value_misread;
    return sharp;
}

hp_result hp_belief_contradiction(const hp_belief *b, hp_contradiction *c, double *slip,
                                  hp_error *err)
{
    memset(c, 0, sizeof *c);
    c->slipped = c->other = -1;
    int size = b->count * b->motors;
    hp_person sharp = unslipping(b->person);
    double *kept = malloc((size_t)size * sizeof *kept);
    double *all = malloc((size_t)size * sizeof *all);
    if (!kept || !all) {
        free(kept);
        free(all);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to look for slips");
    }
    for (int k = 0; k < size; k++)
        all[k] = 1.0;
    for (int e = 0; e < b->entries; e++) {
        double probability = 0.0;
        if (b->entry_weight[e]) {
            no_slip_share(b, e, &sharp, kept);
            probability = 1.0;
            for (int k = 0; k < size; k++) {
                probability -= b->weight[k] * kept[k];
                all[k] *= kept[k];
            }
        }
        if (slip)
            slip[e] = probability;
        if (probability > c->probability) {
            c->probability = probability;
            c->slipped = e;
        }
    }
    for (int k = 0; k < size; k++)
        c->no_slip += b->weight[k] * all[k];
    /* chosen: one in ten; slips of a few percent an entry make that much only when something jars.
     */
    c->found = c->slipped >= 0 && c->no_slip < 0.1;
    if (c->found)
        find_other(b, &sharp, c, kept, all);
    free(kept);
    free(all);
    return HP_OK;
}
