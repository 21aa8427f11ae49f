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

/* For each table just one relation makes the wiring right. */
static hp_hypothesis right_with(int number, int table)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_hypothesis h = {.relation = 0, .table = table, .inverted = -1, .fault = {HP_FAULT_NONE, 0}};
    while (!hp_wiring_is_right(h.relation, table, &wiring))
        h.relation++;
    return h;
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
        return weigh_words(person, trial,
                           hp_wiring_is_right(h->relation, h->table, &trial->wiring));
    return hp_weigh_reading(table, person, entry, h, 0, NULL);
}

/* Whether an entry of a log tells of the parts as they are. */
static bool counts(const hp_entry *entry, int entries, int place)
{
    for (int later = place + 1; later < entries; later++)
        if (hp_entry_outdated(&entry[place], &entry[later]))
            return false;
    return !entry[place].reading->needs_motor;
}

/* Weight of each table, given that the wiring works. */
static void weigh_tables(int number, const hp_likelihood *likelihood, const hp_person *person,
                         const hp_prior_params *prior, const hp_entry *entry, int entries,
                         double weight[HP_TABLE_COUNT])
{
    for (int t = 0; t < HP_TABLE_COUNT; t++) {
        hp_hypothesis h = right_with(number, t);
        weight[t] = hp_prior_of(prior, &h);
    }
    for (int k = 0; k < entries; k++) {
        double own[HP_TABLE_COUNT], largest = 0.0;
        if (!counts(entry, entries, k))
            continue;
        for (int t = 0; t < HP_TABLE_COUNT; t++) {
            hp_hypothesis h = right_with(number, t);
            own[t] = weigh(likelihood, person, &entry[k], &h);
            largest = fmax(largest, own[t]);
        }
        /* As in the belief: any entry may be worthless. */
        for (int t = 0; t < HP_TABLE_COUNT && largest > 0.0; t++)
            weight[t] *= person->wrong_entry + (1.0 - person->wrong_entry) * own[t] / largest;
    }
}

/* The two beside `number` that are right with it under a table. */
static void pair_of(int number, int table, int pair[2])
{
    int right[3], found = 0;
    hp_right_wirings(right_with(number, table).relation, table, right);
    for (int k = 0; k < 3; k++)
        if (right[k] != number)
            pair[found++] = right[k];
}

static hp_equals choose(int number, const double weight[HP_TABLE_COUNT])
{
    double all = 0.0;
    hp_equals best = {.probability = -1.0};
    for (int t = 0; t < HP_TABLE_COUNT; t++)
        all += weight[t];
    for (int t = 0; t < HP_TABLE_COUNT; t++) {
        hp_equals set = {.table = t};
        pair_of(number, t, set.number);
        for (int k = 0; k < HP_TABLE_COUNT; k++) {
            int other[2];
            pair_of(number, k, other);
            bool same = other[0] == set.number[0] && other[1] == set.number[1];
            set.probability += same && all > 0.0 ? weight[k] / all : 0.0;
            set.table = same && weight[k] > weight[set.table] ? k : set.table;
        }
        if (set.probability > best.probability)
            best = set;
    }
    return best;
}

hp_equals hp_equals_find(int number, const hp_drive *drive, const hp_person *person,
                         const hp_prior_params *prior, const hp_entry *entry, int entries)
{
    double weight[HP_TABLE_COUNT];
    assert(number >= 1 && number <= HP_WIRING_COUNT);
    /* Of a likelihood table these readings look at the machine only. */
    hp_likelihood likelihood;
    memset(&likelihood, 0, sizeof likelihood);
    likelihood.nominal = *drive;
    weigh_tables(number, &likelihood, person, prior, entry, entries, weight);
    return choose(number, weight);
}
