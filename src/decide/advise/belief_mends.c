/*
 * Mends that did not help. An entry that says that a part was mended is taken at its word, until
 * what is read behind it fits far better that all is as it was: a new sensor on the torn lead of
 * the old one, an inverter in the wrong lead, a controller that drives as little as the one before.
 */
#include "decide/advise/belief.h"
#include "decide/reading/reading_list.h"

#include <math.h>
#include <stdlib.h>

/* chosen: of ten mends one does not help, and of twenty controllers from a drawer one drives
 * nothing. */
static const double probability[HP_MENDING_COUNT] = {
    [HP_MENDING_HELPED] = 0.85, [HP_MENDING_IN_VAIN] = 0.10, [HP_MENDING_ANOTHER] = 0.05};

/* chosen: each costs the weighing of the log again. Older ones stay as they are. */
#define MENDS_DOUBTED 3

static bool may_be(const hp_entry *mend, hp_mending mending)
{
    return mending != HP_MENDING_ANOTHER || hp_entry_renews(mend) >= HP_RENEWS_CONTROLLER;
}

/* Adds the entries from `from` on; `first`: what came of the first of them. */
static hp_result add_rest(const hp_belief *b, int from, hp_mending first, hp_belief *other,
                          hp_error *err)
{
    hp_result result = HP_OK;
    for (int k = from; result == HP_OK && k < b->entries; k++)
        result =
            hp_belief_add_as(other, &b->entry[k], k == from ? first : b->entry_mending[k], err);
    return result;
}

/* The belief before that entry. */
static hp_result before(const hp_belief *b, const hp_prior_params *prior, int place,
                        hp_belief *belief, hp_error *err)
{
    hp_result result = hp_belief_create(b->table, b->person, prior, belief, err);
    for (int k = 0; result == HP_OK && k < place; k++)
        result = hp_belief_add_as(belief, &b->entry[k], b->entry_mending[k], err);
    return result;
}

static double evidence(const hp_belief *b, int place)
{
    return b->log_evidence + log(probability[b->entry_mending[place]]);
}

static hp_result doubt(hp_belief *b, const hp_prior_params *prior, int place, hp_error *err)
{
    hp_belief begun;
    hp_result result = before(b, prior, place, &begun, err);
    for (int k = 0; result == HP_OK && k < HP_MENDING_COUNT; k++) {
        hp_belief other;
        if (k == (int)b->entry_mending[place] || !may_be(&b->entry[place], (hp_mending)k))
            continue;
        result = hp_belief_copy(&begun, &other, err);
        if (result == HP_OK)
            result = add_rest(b, place, (hp_mending)k, &other, err);
        if (result == HP_OK && evidence(&other, place) > evidence(b, place)) {
            hp_belief kept = *b;
            *b = other;
            other = kept;
        }
        hp_belief_free(&other);
    }
    hp_belief_free(&begun);
    return result;
}

hp_result hp_belief_doubt_mends(hp_belief *b, const hp_prior_params *prior, hp_error *err)
{
    hp_result result = HP_OK;
    int doubted = 0;
    /* The last entry has nothing behind it. */
    for (int k = b->entries - 2; result == HP_OK && k >= 0 && doubted < MENDS_DOUBTED; k--)
        if (hp_entry_renews(&b->entry[k]) != HP_RENEWS_NOTHING) {
            result = doubt(b, prior, k, err);
            doubted++;
        }
    return result;
}

int hp_belief_vain_mend(const hp_belief *b, bool *another)
{
    int k = b->entries - 1;
    while (k >= 0 && hp_entry_renews(&b->entry[k]) == HP_RENEWS_NOTHING)
        k--;
    *another = k >= 0 && b->entry_mending[k] == HP_MENDING_ANOTHER;
    return k >= 0 && b->entry_mending[k] != HP_MENDING_HELPED ? b->entry[k].number : 0;
}
