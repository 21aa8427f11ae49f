/* Belief: see the header. Slips are looked for in belief_slips.c. */
#include "decide/advise/belief_weigh.h"
#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

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

short hp_belief_row(const hp_belief *b, const hp_hypothesis *h, const hp_wiring *wiring,
                    bool unsensed)
{
    const hp_behaviour_map *map = &b->table->map;
    if (h->fault.kind == HP_FAULT_SILENT)
        return (short)(2 * map->count + HP_RECKONED_SILENT);
    if (h->fault.kind == HP_FAULT_UNLISTED)
        return (short)(2 * map->count + HP_RECKONED_ANYTHING);
    hp_behaviour behaviour =
        unsensed ? hp_behaviour_unsensed(h, wiring) : hp_behaviour_of(h, wiring);
    int raw = hp_behaviour_raw(&behaviour);
    assert(map->index[raw] >= 0);
    return (short)(2 * map->index[raw] + map->mirrored[raw]);
}

static void fill_behaviours(hp_belief *b)
{
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        hp_wiring wiring = hp_wiring_from_number(n);
        for (int k = 0; k < b->count; k++) {
            b->behaviour[k * HP_WIRING_COUNT + n - 1] =
                hp_belief_row(b, &b->hypothesis[k], &wiring, false);
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
        for (int m = 0; m < b->members.count; m++)
            b->weight[k * b->members.count + m] = b->prior[k] / b->members.count;
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
    result = hp_members_make(table, &prior->nuisance, &belief->members, err);
    if (result != HP_OK)
        return result;
    belief->members.misread = person->value_misread;
    belief->count = enumerate(&own, NULL, NULL);
    size_t count = (size_t)belief->count, members = (size_t)belief->members.count;
    belief->hypothesis = malloc((count + 1) * sizeof *belief->hypothesis);
    belief->prior = malloc((count + 1) * sizeof *belief->prior);
    belief->weight = malloc((count * members + 1) * sizeof *belief->weight);
    belief->now = malloc((count + 1) * sizeof *belief->now);
    belief->behaviour = malloc((count + 1) * HP_WIRING_COUNT * sizeof *belief->behaviour);
    belief->scratch = malloc((size_t)hp_weigh_rows(table) * members * sizeof *belief->scratch);
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

void hp_weights_free(hp_weights *weights)
{
    free(weights->row);
    free(weights->value);
    memset(weights, 0, sizeof *weights);
}

void hp_belief_free(hp_belief *b)
{
    if (!b)
        return;
    for (int k = 0; k < b->entries; k++)
        hp_weights_free(&b->entry_weight[k]);
    hp_members_free(&b->members);
    free(b->entry_weight);
    free(b->entry_now);
    free(b->entry_mending);
    free(b->entry_circumstance);
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

static bool copy_weights(const hp_weights *weights, int count, hp_weights *copy)
{
    *copy = *weights;
    copy->row = NULL;
    copy->value = NULL;
    if (!weights->row)
        return true;
    copy->row = duplicate(weights->row, (size_t)count * sizeof *weights->row);
    copy->value = duplicate(weights->value,
                            (size_t)(weights->rows * weights->width) * sizeof *weights->value);
    if (copy->row && copy->value)
        return true;
    hp_weights_free(copy);
    return false;
}

/* The arrays that grow with the entries. */
static bool copy_entries(const hp_belief *b, hp_belief *copy)
{
    size_t entries = (size_t)b->entries;
    copy->entries = 0;
    copy->capacity = b->entries;
    copy->entry = duplicate(b->entry, entries * sizeof *b->entry);
    copy->entry_now = duplicate(b->entry_now, entries * (size_t)b->count * sizeof *b->entry_now);
    copy->entry_mending = duplicate(b->entry_mending, entries * sizeof *b->entry_mending);
    copy->entry_circumstance =
        duplicate(b->entry_circumstance, entries * sizeof *b->entry_circumstance);
    copy->entry_weight = malloc((entries + 1) * sizeof *copy->entry_weight);
    if (!copy->entry || !copy->entry_now || !copy->entry_weight || !copy->entry_mending ||
        !copy->entry_circumstance)
        return false;
    for (; copy->entries < b->entries; copy->entries++)
        if (!copy_weights(&b->entry_weight[copy->entries], b->count,
                          &copy->entry_weight[copy->entries]))
            return false;
    return true;
}

hp_result hp_belief_copy(const hp_belief *b, hp_belief *copy, hp_error *err)
{
    size_t count = (size_t)b->count, members = (size_t)b->members.count;
    *copy = *b;
    copy->hypothesis = duplicate(b->hypothesis, count * sizeof *b->hypothesis);
    copy->weight = duplicate(b->weight, count * members * sizeof *b->weight);
    copy->prior = duplicate(b->prior, count * sizeof *b->prior);
    copy->now = duplicate(b->now, count * sizeof *b->now);
    copy->behaviour = duplicate(b->behaviour, count * HP_WIRING_COUNT * sizeof *b->behaviour);
    copy->scratch = malloc((size_t)hp_weigh_rows(b->table) * members * sizeof *copy->scratch);
    if (b->members.nuisance)
        copy->members.nuisance =
            duplicate(b->members.nuisance, members * sizeof *b->members.nuisance);
    bool whole = copy_entries(b, copy) && (!b->members.nuisance || copy->members.nuisance);
    if (!whole || !copy->hypothesis || !copy->weight || !copy->prior || !copy->now ||
        !copy->behaviour || !copy->scratch) {
        hp_belief_free(copy);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
    }
    return HP_OK;
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
    hp_weights *weight = realloc(b->entry_weight, size * sizeof *weight);
    if (weight)
        b->entry_weight = weight;
    int *now = realloc(b->entry_now, size * (size_t)b->count * sizeof *now);
    if (now)
        b->entry_now = now;
    hp_mending *mending = realloc(b->entry_mending, size * sizeof *mending);
    if (mending)
        b->entry_mending = mending;
    hp_circumstance *moment = realloc(b->entry_circumstance, size * sizeof *moment);
    if (moment)
        b->entry_circumstance = moment;
    if (!entry || !weight || !now || !mending || !moment)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    b->capacity = capacity;
    return HP_OK;
}

/* What each hypothesis becomes by an entry, such as a mend. */
static void change(hp_belief *b, const hp_entry *entry, hp_mending mending)
{
    for (int k = 0; k < b->count; k++) {
        hp_hypothesis h = b->hypothesis[b->now[k]];
        entry->reading->change(entry->values, &h);
        if (mending == HP_MENDING_ANOTHER && h.fault.kind == HP_FAULT_NONE)
            h.fault = (hp_fault){HP_FAULT_SILENT, 0};
        int found = find(b, &h);
        if (found >= 0)
            b->now[k] = found;
    }
}

static bool says_something(const hp_belief *b, const hp_entry *entry)
{
    hp_trial run;
    return entry->reading->weigh || hp_belief_run(b, entry, b->entries, &run);
}

/* Multiplies the weights in and makes them add up to one again. */
static void update(hp_belief *b, const hp_weights *weights)
{
    int members = b->members.count;
    double sum = 0.0;
    for (int h = 0; h < b->count; h++) {
        double *own = &b->weight[h * members];
        const double *factor = &weights->value[weights->row[h] * weights->width];
        for (int m = 0; m < members; m++) {
            own[m] *= factor[weights->width > 1 ? m : 0];
            sum += own[m];
        }
    }
    for (int k = 0; k < b->count * members; k++)
        b->weight[k] /= sum;
    b->log_evidence += weights->scale + log(sum);
}

/* The belief from its prior and the weights of its entries. */
static void rebuild(hp_belief *b)
{
    int members = b->members.count;
    for (int k = 0; k < b->count; k++)
        for (int m = 0; m < members; m++)
            b->weight[k * members + m] = b->prior[k] / members;
    b->log_evidence = 0.0;
    for (int k = 0; k < b->entries; k++)
        if (b->entry_weight[k].row)
            update(b, &b->entry_weight[k]);
}

/* With another controller nothing that hangs on the controller's table is known any more: what was
 * metered of it, and which wiring ran how. */
static void forget_controller(hp_belief *b)
{
    for (int k = 0; k < b->entries; k++) {
        hp_trial run;
        if (b->entry[k].reading->by_table || hp_belief_run(b, &b->entry[k], k, &run))
            hp_weights_free(&b->entry_weight[k]);
    }
    rebuild(b);
}

/* Weighs anew what weighs anything of the entries from `from` on; `runs`: of them the runs alone.
 */
static hp_result weigh_again(hp_belief *b, int from, bool runs, hp_error *err)
{
    hp_weights *again = calloc((size_t)b->entries + 1, sizeof *again);
    hp_result result = again ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
    for (int k = from; result == HP_OK && k < b->entries; k++) {
        hp_trial trial;
        if (b->entry_weight[k].row && (!runs || hp_belief_run(b, &b->entry[k], k, &trial)))
            result = hp_belief_weigh(b, b->person, &b->entry[k], k, &b->entry_now[k * b->count],
                                     &again[k], err);
    }
    for (int k = 0; again && k < b->entries; k++) {
        if (result == HP_OK && again[k].row) {
            hp_weights_free(&b->entry_weight[k]);
            b->entry_weight[k] = again[k];
        } else {
            hp_weights_free(&again[k]);
        }
    }
    free(again);
    if (result == HP_OK)
        rebuild(b);
    return result;
}

/* The first run whose signal was read: what the volts mean is known only now, and later trials of
 * the same wiring were held against it. */
static int first_by_volts(const hp_belief *b)
{
    int k = 0;
    for (; k < b->entries; k++) {
        hp_trial run;
        if (b->entry_weight[k].row && hp_belief_run(b, &b->entry[k], k, &run) &&
            !isnan(run.signal_v))
            break;
    }
    return k;
}

/* The throttle's volts, once read, tell what the hand gives, and gave before. */
static hp_result learn_throttle(hp_belief *b, const hp_entry *entry, hp_error *err)
{
    double rest_v = b->members.rest_v, full_v = b->members.full_v;
    const hp_reading *reading = entry->reading;
    if (!reading->throttle_volts ||
        !reading->throttle_volts(entry->values, &b->members.rest_v, &b->members.full_v))
        return HP_OK;
    int from = first_by_volts(b);
    hp_result result = from < b->entries ? weigh_again(b, from, true, err) : HP_OK;
    if (result != HP_OK) {
        b->members.rest_v = rest_v;
        b->members.full_v = full_v;
    }
    return result;
}

/* The first entry that the controller that is there now has to do with. */
static int since_controller(const hp_belief *b)
{
    int first = b->entries;
    while (first > 0 && !hp_entry_changes_controller(&b->entry[first - 1]))
        first--;
    return first;
}

static void say_unsensed(hp_belief *b, int from, bool unsensed)
{
    b->unsensed = unsensed;
    for (int k = from; k < b->entries; k++)
        b->entry_circumstance[k].unsensed = unsensed;
}

/* What is said of the Hall plug says what the runs of that controller are worth, those before it,
 * too. What one that was mended or exchanged ran as stays as it was. */
static hp_result learn_plug(hp_belief *b, const hp_entry *entry, hp_error *err)
{
    bool before = b->unsensed;
    int from = since_controller(b);
    b->entry[b->entries] = *entry;
    hp_tell said = hp_log_runs_unsensed(b->entry, b->entries + 1);
    if (hp_entry_changes_controller(entry))
        b->unsensed = false;
    if (said == HP_TELL_UNSAID || before == (said == HP_TELL_YES))
        return HP_OK;
    say_unsensed(b, from, !before);
    hp_result result = weigh_again(b, from, true, err);
    if (result != HP_OK)
        say_unsensed(b, from, before);
    return result;
}

hp_result hp_belief_ask_most(hp_belief *b, double most, hp_error *err)
{
    double before = b->members.most;
    if (most == before)
        return HP_OK;
    b->members.most = most;
    hp_result result = weigh_again(b, 0, true, err);
    if (result != HP_OK)
        b->members.most = before;
    return result;
}

/* ---- held off from some moment on ------------------------------------------------------------ */

/* chosen: what holds a controller off comes this often between two runs, of the times that it is
 * there from the first one on. Between a reading and a run the leads are joined, and it comes as
 * often as ever. */
#define BEGINS_BETWEEN_RUNS 0.1

hp_tell hp_belief_drives(const hp_belief *b, const hp_entry *entry, int place)
{
    hp_trial run;
    if (entry->reading->drives)
        return entry->reading->drives(hp_entry_said(entry));
    if (!hp_belief_run(b, entry, place, &run) || run.motion == HP_MOVED_UNSAID)
        return HP_TELL_UNSAID;
    if (run.motion != HP_MOVED_STILL)
        return HP_TELL_YES;
    return run.limit_reached == HP_TELL_YES ? HP_TELL_UNSAID : HP_TELL_NO;
}

/* What a hypothesis is with this fault instead; itself, where that is none. */
static int with_fault(const hp_belief *b, int h, hp_fault_kind kind)
{
    hp_hypothesis other = b->hypothesis[h];
    other.fault = (hp_fault){kind, 0};
    int found = find(b, &other);
    return found >= 0 ? found : h;
}

/* Whether an entry found and mended what held the controller off. */
static bool lets_drive(const hp_belief *b, int entry)
{
    hp_hypothesis held = {.inverted = -1, .fault = {HP_FAULT_SILENT, 0}};
    if (!b->entry[entry].reading->change || b->entry_mending[entry] == HP_MENDING_IN_VAIN)
        return false;
    b->entry[entry].reading->change(b->entry[entry].values, &held);
    return held.fault.kind != HP_FAULT_SILENT;
}

/* The newest entry that saw the controller drive, with nothing since that stood or let it drive
 * again; -1: none. *first: from where on it drove, by the log. */
static int drove_until(const hp_belief *b, int *first)
{
    int drove = -1, k = b->entries;
    while (k > 0 && !lets_drive(b, k - 1)) {
        hp_tell tell = hp_belief_drives(b, &b->entry[k - 1], k - 1);
        if (tell == HP_TELL_NO)
            break;
        drove = tell == HP_TELL_YES && drove < 0 ? k - 1 : drove;
        k--;
    }
    *first = k;
    return drove;
}

/* Of the entries from `first` on a controller that is held off drove; it is held off from now on.
 */
static void drove_from(hp_belief *b, int first)
{
    for (int h = 0; h < b->count; h++) {
        if (b->hypothesis[h].fault.kind != HP_FAULT_SILENT)
            continue;
        for (int k = first; k < b->entries; k++) {
            int *then = &b->entry_now[k * b->count + h];
            *then = with_fault(b, *then, HP_FAULT_NONE);
        }
        b->now[h] = with_fault(b, b->now[h], HP_FAULT_SILENT);
    }
}

/* That a controller is held off begins at some moment. What saw it drive speaks of its own: where
 * the wheel now stands, what holds it off came in between. */
static hp_result begin_held(hp_belief *b, const hp_entry *entry, hp_error *err)
{
    int first, drove = drove_until(b, &first);
    if (drove < 0 || hp_belief_drives(b, entry, b->entries) != HP_TELL_NO)
        return HP_OK;
    hp_trial run;
    bool ran = hp_belief_run(b, &b->entry[drove], drove, &run);
    size_t count = (size_t)b->count, size = count * (size_t)b->entries * sizeof *b->now;
    int *then = duplicate(b->entry_now, size), *now = duplicate(b->now, count * sizeof *now);
    hp_result result =
        then && now ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
    if (result == HP_OK) {
        b->entry_circumstance[b->entries].begins = ran ? BEGINS_BETWEEN_RUNS : 1.0;
        drove_from(b, first);
        result = weigh_again(b, first, false, err);
        if (result != HP_OK) {
            memcpy(b->entry_now, then, size);
            memcpy(b->now, now, count * sizeof *now);
        }
    }
    free(then);
    free(now);
    return result;
}

hp_result hp_belief_add(hp_belief *b, const hp_entry *entry, hp_error *err)
{
    return hp_belief_add_as(b, entry, HP_MENDING_HELPED, err);
}

hp_result hp_belief_add_as(hp_belief *b, const hp_entry *entry, hp_mending mending, hp_error *err)
{
    hp_weights weights = {.row = NULL};
    hp_result result = hp_entry_check(entry, err);
    if (result == HP_OK)
        result = reserve(b, err);
    if (result == HP_OK)
        result = learn_throttle(b, entry, err);
    if (result == HP_OK)
        result = learn_plug(b, entry, err);
    if (result == HP_OK) {
        b->entry_circumstance[b->entries] =
            (hp_circumstance){.unsensed = b->unsensed, .begins = 1.0};
        result = begin_held(b, entry, err);
    }
    if (result == HP_OK && says_something(b, entry))
        result = hp_belief_weigh(b, b->person, entry, b->entries, b->now, &weights, err);
    if (result != HP_OK)
        return result;
    if (weights.row)
        update(b, &weights);
    if (hp_entry_renews(entry) >= HP_RENEWS_EXCHANGED)
        forget_controller(b);
    b->entry[b->entries] = *entry;
    b->entry_weight[b->entries] = weights;
    b->entry_mending[b->entries] = mending;
    memcpy(&b->entry_now[b->entries * b->count], b->now, (size_t)b->count * sizeof *b->now);
    b->entries++;
    if (entry->reading->change && mending != HP_MENDING_IN_VAIN)
        change(b, entry, mending);
    return HP_OK;
}

bool hp_belief_changes(const hp_belief *b, int entry)
{
    return hp_entry_renews(&b->entry[entry]) != HP_RENEWS_NOTHING &&
           b->entry_mending[entry] != HP_MENDING_IN_VAIN;
}

/* ---- sums ------------------------------------------------------------------------------------ */

static double hypothesis_weight(const hp_belief *b, int h)
{
    double sum = 0.0;
    for (int m = 0; m < b->members.count; m++)
        sum += b->weight[h * b->members.count + m];
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
        probability[hp_trouble_of(&b->hypothesis[b->now[h]])] += hypothesis_weight(b, h);
}

static void add_wirings(const hp_belief *b, bool only_sound, double *probability)
{
    memset(probability, 0, (HP_WIRING_COUNT + 1) * sizeof *probability);
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *now = &b->hypothesis[b->now[h]];
        /* What shows in no motor makes no wiring wrong. */
        bool sound = hp_hypothesis_misfit(now) < 0 &&
                     (now->fault.kind == HP_FAULT_NONE || !hp_fault_is_simulated(now->fault));
        double weight = !only_sound || sound ? hypothesis_weight(b, h) : 0.0;
        int number[3], rights = weight > 0.0 ? hp_hypothesis_rights(now, number) : 0;
        for (int k = 0; k < rights; k++)
            probability[number[k]] += weight;
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

void hp_belief_members(const hp_belief *b, double *weight)
{
    int members = b->members.count;
    memset(weight, 0, (size_t)members * sizeof *weight);
    for (int h = 0; h < b->count; h++)
        for (int m = 0; m < members; m++)
            weight[m] += b->weight[h * members + m];
}

void hp_belief_by_motor(const hp_belief *b, double *weight)
{
    int motors = b->table->options.motors, benches = b->members.benches;
    for (int k = 0; k < b->count * motors; k++) {
        weight[k] = 0.0;
        for (int i = 0; i < benches; i++)
            weight[k] += b->weight[k * benches + i];
    }
}

void hp_belief_motors(const hp_belief *b, double *weight)
{
    int motors = b->table->options.motors, benches = b->members.benches;
    memset(weight, 0, (size_t)motors * sizeof *weight);
    for (int h = 0; h < b->count; h++)
        for (int m = 0; m < b->members.count; m++)
            weight[m / benches] += b->weight[h * b->members.count + m];
}

/* Each hypothesis with its weights over all members summed up, all made to add up to one. */
static void share_out(const hp_belief *b, const double *weight, double *probability)
{
    double sum = 0.0;
    for (int h = 0; h < b->count; h++) {
        probability[h] = 0.0;
        for (int m = 0; m < b->members.count; m++)
            probability[h] += weight[h * b->members.count + m];
        sum += probability[h];
    }
    for (int h = 0; h < b->count && sum > 0.0; h++)
        probability[h] /= sum;
}

hp_result hp_belief_course(const hp_belief *b, double *probability, hp_error *err)
{
    int members = b->members.count;
    double *weight = malloc((size_t)b->count * (size_t)members * sizeof *weight);
    if (!weight)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to go through the entries");
    for (int h = 0; h < b->count; h++)
        for (int m = 0; m < members; m++)
            weight[h * members + m] = b->prior[h] / members;
    share_out(b, weight, probability);
    for (int k = 0; k < b->entries; k++) {
        const hp_weights *entry = &b->entry_weight[k];
        for (int h = 0; entry->row && h < b->count; h++)
            for (int m = 0; m < members; m++)
                weight[h * members + m] *= hp_weight_of(entry, h, m);
        share_out(b, weight, &probability[(size_t)(k + 1) * (size_t)b->count]);
    }
    free(weight);
    return HP_OK;
}
