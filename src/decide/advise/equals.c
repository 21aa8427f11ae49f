/* The equals of a wiring that works: see the header. */
#include "decide/advise/equals.h"

#include "decide/advise/hypothesis.h"
#include "decide/reading/reading.h"
#include "decide/reading/weigh.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* One way in which the wiring can work: a table, and what the hub's sensors were at the start of
 * the log; the relation follows. */
typedef struct way {
    int table;
    int inverted; /* -1, or the lead */
} way;

#define WAYS (HP_TABLE_COUNT * (1 + HP_PHASE_COUNT))

static way way_at(int index)
{
    return (way){index % HP_TABLE_COUNT, index / HP_TABLE_COUNT - 1};
}

/* For each table just one relation makes the wiring right. */
static hp_hypothesis right_with(int number, way w)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_hypothesis h = {
        .relation = 0, .table = w.table, .inverted = w.inverted, .fault = {HP_FAULT_NONE, 0}};
    while (!hp_wiring_is_right(h.relation, h.table, &wiring))
        h.relation++;
    return h;
}

/* What that has become before entry `place` of a log. */
static hp_hypothesis become(hp_hypothesis h, const hp_entry *entry, int place)
{
    for (int k = 0; k < place; k++)
        if (entry[k].reading->change)
            entry[k].reading->change(hp_entry_said(&entry[k]), &h);
    return h;
}

static bool is_right(const hp_hypothesis *h, int number)
{
    int right[3], rights = hp_hypothesis_rights(h, right);
    for (int k = 0; k < rights; k++)
        if (right[k] == number)
            return hp_hypothesis_misfit(h) < 0;
    return false;
}

/* Probability of what was said of a wiring that is right, or of any other: an upper bound there. A
 * wrong one seldom looks like a right one; how it fails is left out, as that needs a simulation. */
static double weigh_words(const hp_person *person, const hp_trial *trial, bool right)
{
    bool forward = trial->motion == HP_MOVED_FORWARD, unsaid = trial->motion == HP_MOVED_UNSAID;
    bool uneven = trial->feel == HP_FEEL_ROUGH || trial->feel == HP_FEEL_NOISY;
    if (unsaid && !uneven)
        return 1.0;
    if (!right)
        return forward && !uneven
                   ? person->rough_as_smooth + person->wrong_direction + person->wrong_wiring
                   : 1.0;
    double said = 1.0;
    if (trial->motion == HP_MOVED_BACKWARD)
        said *= person->wrong_direction;
    else if (!forward && !unsaid)
        said *= person->missed_motion;
    if (uneven)
        said *= person->smooth_as_rough;
    return said + person->wrong_wiring;
}

static double weigh(const hp_likelihood *table, const hp_person *person, const hp_entry *entry,
                    const hp_hypothesis *h)
{
    const hp_trial *trial = hp_entry_trial(entry);
    if (trial)
        return weigh_words(person, trial, is_right(h, hp_wiring_number(&trial->wiring)));
    return hp_weigh_reading(table, person, entry, h, 0, NULL);
}

/* Whether a mend put no fault right, as an inverter does not: what a reading says of the hub before
 * it is as true, and `become` tells what the hub is since. */
static bool keeps_parts(const hp_entry *mend)
{
    for (int k = 0; k < HP_FAULT_COUNT; k++) {
        hp_hypothesis h = {0, 0, -1, hp_fault_from_index(k)};
        if (mend->reading->change)
            mend->reading->change(hp_entry_said(mend), &h);
        if (hp_fault_index(h.fault) != k)
            return false;
    }
    return hp_entry_renews(mend) == HP_RENEWS_PARTS;
}

/* Whether an entry of a log tells of the parts as they are. */
static bool counts(const hp_entry *entry, int entries, int place)
{
    bool trial = hp_entry_trial(&entry[place]) != NULL;
    for (int later = place + 1; later < entries; later++)
        if (hp_entry_outdated(&entry[place], &entry[later]) &&
            (trial || !keeps_parts(&entry[later])))
            return false;
    return !entry[place].reading->needs_motor;
}

/* Weight of each way, given that the wiring works now. */
static void weigh_ways(int number, const hp_likelihood *likelihood, const hp_person *person,
                       const hp_prior_params *prior, const hp_entry *entry, int entries,
                       double weight[WAYS])
{
    for (int w = 0; w < WAYS; w++) {
        hp_hypothesis h = right_with(number, way_at(w)), now = become(h, entry, entries);
        weight[w] = is_right(&now, number) ? hp_prior_of(prior, &h) : 0.0;
    }
    for (int k = 0; k < entries; k++) {
        double own[WAYS] = {0.0}, largest = 0.0;
        /* Without Hall sensors every wiring of the right phases runs alike. */
        bool alike = hp_entry_trial(&entry[k]) && hp_run_unsensed(entry, entries, k) == HP_TELL_YES;
        if (alike || !counts(entry, entries, k))
            continue;
        for (int w = 0; w < WAYS; w++) {
            hp_hypothesis then = become(right_with(number, way_at(w)), entry, k);
            own[w] = weight[w] > 0.0 ? weigh(likelihood, person, &entry[k], &then) : 0.0;
            largest = fmax(largest, own[w]);
        }
        /* As in the belief: any entry may be worthless. */
        for (int w = 0; w < WAYS && largest > 0.0; w++)
            weight[w] *= person->wrong_entry + (1.0 - person->wrong_entry) * own[w] / largest;
    }
}

/* The two beside `number` that are right with it in a way; 0: none is. */
static void pair_of(int number, way w, const hp_entry *entry, int entries, int pair[2])
{
    int right[3], found = 0;
    hp_hypothesis now = become(right_with(number, w), entry, entries);
    int rights = hp_hypothesis_rights(&now, right);
    pair[0] = pair[1] = 0;
    for (int k = 0; k < rights && found < 2; k++)
        if (right[k] != number)
            pair[found++] = right[k];
}

static hp_equals choose(int number, const double weight[WAYS], const hp_entry *entry, int entries)
{
    int pair[WAYS][2];
    double all = 0.0;
    hp_equals best = {.probability = -1.0};
    for (int w = 0; w < WAYS; w++) {
        pair_of(number, way_at(w), entry, entries, pair[w]);
        all += weight[w];
    }
    for (int w = 0; w < WAYS; w++) {
        double most = weight[w];
        hp_equals set = {.number = {pair[w][0], pair[w][1]}, .table = way_at(w).table};
        if (weight[w] <= 0.0)
            continue;
        for (int k = 0; k < WAYS; k++) {
            bool same = pair[k][0] == pair[w][0] && pair[k][1] == pair[w][1];
            set.probability += same ? weight[k] / all : 0.0;
            set.table = same && weight[k] > most ? way_at(k).table : set.table;
            most = same ? fmax(most, weight[k]) : most;
        }
        if (set.probability > best.probability)
            best = set;
    }
    return best.probability < 0.0 ? (hp_equals){.probability = 0.0} : best;
}

hp_equals hp_equals_find(int number, const hp_drive *drive, const hp_person *person,
                         const hp_prior_params *prior, const hp_entry *entry, int entries)
{
    double weight[WAYS];
    const hp_prior_params heeding = hp_prior_heeding(prior, entry, entries);
    assert(number >= 1 && number <= HP_WIRING_COUNT);
    /* Of a likelihood table these readings look at the machine only. */
    hp_likelihood likelihood;
    memset(&likelihood, 0, sizeof likelihood);
    likelihood.nominal = *drive;
    weigh_ways(number, &likelihood, person, &heeding, entry, entries, weight);
    return choose(number, weight, entry, entries);
}
