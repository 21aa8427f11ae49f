/*
 * Looking for slips in the log: see decide/advise/belief.h.
 *
 * Let L be the weight of an entry under this person and S its weight under one who never
 * slips. L = c S + (slips), where c is the probability that this person does not slip at all; so
 * c = min L / S over everything that may be true, and c S / L is the probability, given the truth,
 * that this entry was no slip.
 */
#include "decide/advise/belief_weigh.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Fills kept[h, m]: probability, given the truth, that this entry was no slip. */
static void no_slip_share(const hp_belief *b, int entry, const hp_person *sharp, double *kept)
{
    int size = b->count * b->motors;
    const double *weight = b->entry_weight[entry];
    hp_belief_weigh(b, sharp, &b->entry[entry], entry, &b->entry_now[entry * b->count], kept);
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
    hp_belief_weigh(b, sharp, &b->entry[c->slipped], c->slipped,
                    &b->entry_now[c->slipped * b->count], one);
    for (int k = 0; k < b->entries; k++) {
        if (k == c->slipped || !b->entry_weight[k])
            continue;
        hp_belief_weigh(b, sharp, &b->entry[k], k, &b->entry_now[k * b->count], two);
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
