/*
 * Looking for slips in the log: see decide/advise/belief.h.
 *
 * Let L be the weight of an entry under this person and S its weight under one who never
 * slips. L = c S + (slips), where c is the probability that this person does not slip at all; so
 * c = min L / S over everything that may be true, and c S / L is the probability, given the truth,
 * that this entry was no slip.
 */
#include "decide/advise/belief_weigh.h"
#include "hubphase/decide/assumptions.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Makes of the weights under somebody sharp the probability, given the truth, that this entry was
 * no slip. Both have the same rows. */
static void no_slip_share(const hp_weights *weights, hp_weights *sharp)
{
    int size = sharp->rows * sharp->width;
    double c = INFINITY;
    for (int k = 0; k < size; k++)
        if (sharp->value[k] > 1e-12)
            c = fmin(c, weights->value[k] / sharp->value[k]);
    for (int k = 0; k < size; k++)
        sharp->value[k] = fmin(1.0, c * sharp->value[k] / weights->value[k]);
}

static hp_result weigh_sharp(const hp_belief *b, int entry, const hp_person *sharp, hp_weights *w,
                             hp_error *err)
{
    return hp_belief_weigh(b, sharp, &b->entry[entry], entry, &b->entry_now[entry * b->count], w,
                           err);
}

/* How far two entries exclude each other: their joint probability with no slip, over the product of
 * the single ones. */
static double agreement(const hp_belief *b, const hp_weights *one, const hp_weights *two)
{
    double joint = 0.0, first = 0.0, second = 0.0;
    for (int h = 0; h < b->count; h++) {
        double p = b->prior[h] / b->members.count;
        for (int m = 0; m < b->members.count; m++) {
            double x = hp_weight_of(one, h, m), y = hp_weight_of(two, h, m);
            joint += p * x * y;
            first += p * x;
            second += p * y;
        }
    }
    return first > 0.0 && second > 0.0 ? joint / (first * second) : 1.0;
}

/* The entry that stands worst beside `slipped` when nobody slips, if any stands badly. */
static hp_result find_other(const hp_belief *b, const hp_person *sharp, hp_contradiction *c,
                            hp_error *err)
{
    /* chosen: together a hundred times less likely than apart. */
    double worst = 0.01;
    hp_weights one;
    c->other = -1;
    hp_result result = weigh_sharp(b, c->slipped, sharp, &one, err);
    if (result != HP_OK)
        return result;
    for (int k = 0; result == HP_OK && k < b->entries; k++) {
        hp_weights two;
        if (k == c->slipped || !b->entry_weight[k].row)
            continue;
        result = weigh_sharp(b, k, sharp, &two, err);
        if (result != HP_OK)
            break;
        double agree = agreement(b, &one, &two);
        if (agree < worst) {
            worst = agree;
            c->other = k;
        }
        hp_weights_free(&two);
    }
    hp_weights_free(&one);
    return result;
}

hp_person hp_person_noting_right(const hp_person *person)
{
    hp_person sharp = *person, none = hp_person_sharp();
    sharp.wrong_entry = none.wrong_entry;
    sharp.wrong_direction = none.wrong_direction;
    sharp.wrong_wiring = none.wrong_wiring;
    sharp.code_misread = none.code_misread;
    sharp.turned_back = none.turned_back;
    sharp.code_skipped = none.code_skipped;
    sharp.wrong_lead = none.wrong_lead;
    sharp.pair_misread = none.pair_misread;
    sharp.row_misread = none.row_misread;
    return sharp;
}

/* This person without slips. What is a matter of words or of attention (noisy for rough, still for
 * a shiver, a cut-out not noticed) is no slip to be named. */
static hp_person unslipping(const hp_person *person)
{
    hp_person sharp = hp_person_noting_right(person), none = hp_person_sharp();
    sharp.rough_as_smooth = none.rough_as_smooth;
    sharp.smooth_as_rough = none.smooth_as_rough;
    sharp.missed_motion = none.missed_motion;
    sharp.miscounted = none.miscounted;
    sharp.value_misread = none.value_misread;
    return sharp;
}

/* The probability, given the truth, that nothing so far was a slip: for each hypothesis, and once
 * an entry tells members apart for each of them. That is as large as the belief itself. */
typedef struct clean {
    double *value; /* owned; [h * width + m] */
    int width;     /* members, or 1 */
} clean;

/* Makes room for this width, 1 at first; what there is holds for all members. */
static bool widen(clean *all, int count, int width)
{
    double *value = malloc((size_t)count * (size_t)width * sizeof *value);
    for (int k = 0; value && k < count * width; k++)
        value[k] = all->value ? all->value[k / width] : 1.0;
    if (!value)
        return false;
    free(all->value);
    *all = (clean){value, width};
    return true;
}

/* Probability that an entry was no slip; `all` takes it in. */
static hp_result look_for_slip(const hp_belief *b, int entry, const hp_person *sharp, clean *all,
                               double *no_slip, hp_error *err)
{
    hp_weights kept;
    int members = b->members.count;
    hp_result result = weigh_sharp(b, entry, sharp, &kept, err);
    if (result != HP_OK)
        return result;
    no_slip_share(&b->entry_weight[entry], &kept);
    if (kept.width > all->width && !widen(all, b->count, members))
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory to look for slips");
    *no_slip = 0.0;
    for (int h = 0; result == HP_OK && h < b->count; h++) {
        for (int m = 0; m < members; m++)
            *no_slip += b->weight[h * members + m] * hp_weight_of(&kept, h, m);
        for (int m = 0; m < all->width; m++)
            all->value[h * all->width + m] *= hp_weight_of(&kept, h, m);
    }
    hp_weights_free(&kept);
    return result;
}

/* Probability that nothing was a slip. */
static double sum_up(const hp_belief *b, const clean *all)
{
    double sum = 0.0;
    int members = b->members.count;
    for (int h = 0; h < b->count; h++)
        for (int m = 0; m < members; m++)
            sum +=
                b->weight[h * members + m] * all->value[h * all->width + (all->width > 1 ? m : 0)];
    return sum;
}

/* Whether a lead that made contact only now and then was found and mended behind an entry that such
 * a lead shows in: no slip is needed for what it says. */
static bool is_explained(const hp_belief *b, int entry)
{
    hp_trial run;
    bool shows = b->entry[entry].reading->looks != HP_LOOKS_NONE ||
                 hp_belief_run(b, &b->entry[entry], entry, &run);
    for (int k = entry + 1; shows && k < b->entries; k++) {
        hp_hypothesis loose = {.inverted = -1, .fault = {HP_FAULT_LOOSE, 0}};
        if (!b->entry[k].reading->change || b->entry_mending[k] == HP_MENDING_IN_VAIN)
            continue;
        b->entry[k].reading->change(b->entry[k].values, &loose);
        if (loose.fault.kind != HP_FAULT_LOOSE)
            return true;
    }
    return false;
}

/* What drew too much and grew warm was read by a meter and felt by a hand. */
static bool is_felt(const hp_entry *entry)
{
    const hp_trial *trial = hp_entry_trial(entry);
    return trial && trial->warm == HP_TELL_YES && !isnan(trial->battery_a);
}

hp_result hp_belief_contradiction(const hp_belief *b, hp_contradiction *c, double *slip,
                                  hp_error *err)
{
    memset(c, 0, sizeof *c);
    c->slipped = c->other = -1;
    hp_person sharp = unslipping(b->person);
    clean all = {.value = NULL};
    if (!widen(&all, b->count, 1))
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to look for slips");
    hp_result result = HP_OK;
    for (int e = 0; result == HP_OK && e < b->entries; e++) {
        double no_slip = 1.0;
        if (b->entry_weight[e].row && !is_explained(b, e) && !is_felt(&b->entry[e]))
            result = look_for_slip(b, e, &sharp, &all, &no_slip, err);
        if (slip)
            slip[e] = 1.0 - no_slip;
        if (1.0 - no_slip > c->probability) {
            c->probability = 1.0 - no_slip;
            c->slipped = e;
        }
    }
    c->no_slip = sum_up(b, &all);
    /* chosen: one in ten; slips of a few percent an entry make that much only when something jars.
     */
    c->found = c->slipped >= 0 && c->no_slip < 0.1;
    if (result == HP_OK && c->found)
        result = find_other(b, &sharp, c, err);
    free(all.value);
    return result;
}
