/* The weights of one entry over all that may be true: see the header. */
#include "decide/advise/belief_weigh.h"

#include "decide/advise/full_check.h"
#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Speed goes with the volts: told for those of the ensemble. */
static double at_stated_volts(const hp_belief *b, const hp_full_run *run)
{
    return run->volts > 0.0 ? run->wheel_rad_s * b->table->nominal.supply.emf_v / run->volts
                            : run->wheel_rad_s;
}

bool hp_belief_run(const hp_belief *b, const hp_entry *entry, int place, hp_trial *run)
{
    const hp_trial *trial = hp_entry_trial(entry);
    int joined = !trial && entry->reading->full_run ? hp_joined_at(b->entry, place) : 0;
    if (trial)
        *run = *trial;
    if (trial || joined == 0)
        return trial != NULL;
    hp_full_run full;
    hp_entry as_trial = hp_entry_make(&hp_reading_trial, entry->number);
    entry->reading->full_run(hp_entry_said(entry), &full);
    *run = as_trial.trial;
    run->wiring = hp_wiring_from_number(joined);
    run->throttle = b->members.most;
    run->motion = full.motion;
    run->battery_a = full.battery_a;
    run->wheel_rad_s = at_stated_volts(b, &full);
    return true;
}

/* Earlier looks at the same thing on the same parts: entries before `place` and after the last
 * mend, the newest first. Returns their number. */
static int earlier_trials(const hp_belief *b, const hp_trial *trial, int place,
                          hp_trial earlier[HP_EARLIER_MAX], const hp_trial *which[HP_EARLIER_MAX])
{
    int count = 0;
    for (int k = place - 1; k >= 0 && count < HP_EARLIER_MAX; k--) {
        if (hp_belief_changes(b, k))
            break;
        if (hp_belief_run(b, &b->entry[k], k, &earlier[count]) &&
            hp_trials_alike(&b->members, trial, &earlier[count])) {
            which[count] = &earlier[count];
            count++;
        }
    }
    return count;
}

/* ---- rows ------------------------------------------------------------------------------------ */

/* Rows of `width` values for each hypothesis that may have one of its own. */
static hp_result reserve(const hp_belief *b, int width, int rows, hp_weights *w, hp_error *err)
{
    *w = (hp_weights){.width = width};
    w->row = malloc((size_t)(b->count + 1) * sizeof *w->row);
    w->value = malloc((size_t)(rows * width + 1) * sizeof *w->value);
    if (w->row && w->value)
        return HP_OK;
    hp_weights_free(w);
    return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
}

/* ---- trials ---------------------------------------------------------------------------------- */

#define KIND_COUNT (8 * HP_FAULT_COUNT)

/* Hypotheses of one kind have their faults on the same axes, and an inverting input or none; the 36
 * wirings then show the same 36 cases in another order, so that their mean over any wiring is the
 * same. */
static int kind_of(const hp_hypothesis *h)
{
    hp_wiring any = hp_wiring_from_number(1);
    hp_hypothesis motor = *h;
    motor.table %= HP_TABLES_120;
    hp_behaviour b = hp_behaviour_of(&motor, &any);
    hp_fault fault = hp_fault_is_simulated(h->fault) ? b.fault : h->fault;
    int sixty = hp_table_inverts(h->table) >= 0 ? 4 : 0;
    return (sixty + b.inverted + 1) * HP_FAULT_COUNT + hp_fault_index(fault);
}

/* The row without Hall sensors, of a controller that runs so; else the one with them. */
static int unsensed_row(const hp_belief *b, int place, int hypothesis, int number)
{
    if (!b->entry_circumstance[place].unsensed)
        return b->behaviour[hypothesis * HP_WIRING_COUNT + number - 1];
    hp_wiring wiring = hp_wiring_from_number(number);
    return hp_belief_row(b, &b->hypothesis[hypothesis], &wiring, true);
}

/* Nobody knows whether a run of such a controller was with the sensors or without: it is as likely
 * as the likelier of the two makes it. What stood or ran roughly was with them. */
static double either_way(const hp_belief *b, const double *weight, int row, int unsensed,
                         int member)
{
    int members = b->members.count;
    return fmax(weight[row * members + member], weight[unsensed * members + member]);
}

/* Mean weight over all wirings, for each member. */
static void mean_weight(const hp_belief *b, int place, int hypothesis, double *mean)
{
    const short *behaviour = &b->behaviour[hypothesis * HP_WIRING_COUNT];
    int members = b->members.count;
    for (int m = 0; m < members; m++)
        mean[m] = 0.0;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        int unsensed = unsensed_row(b, place, hypothesis, n + 1);
        for (int m = 0; m < members; m++)
            mean[m] += either_way(b, b->scratch, behaviour[n], unsensed, m) / HP_WIRING_COUNT;
    }
}

/* chosen: of ten runs that something cuts out five do not start at all. */
#define CUT_AT_ONCE 0.5

/* It ran as it does until something cut it out, or did not start; `own`, `silent`: without what was
 * said of a cut-out. */
static void weigh_cutting(const hp_belief *b, const hp_person *person, const hp_trial *trial,
                          const double *own, const double *silent, double *out)
{
    double missed = person->cut_out_missed;
    double noticed = trial->cut_out == HP_TELL_UNSAID || trial->limit_reached == HP_TELL_YES ? 1.0
                     : trial->cut_out == HP_TELL_YES ? 1.0 - missed
                                                     : missed;
    for (int m = 0; m < b->members.count; m++)
        out[m] = noticed * ((1.0 - CUT_AT_ONCE) * own[m] + CUT_AT_ONCE * silent[m]);
}

/* chosen: how often a trial of several starts passes without the contact failing. */
#define LOOSE_PASSES 0.3

/* Now and then it runs as it does, else as with one lead open or one sensor dead, any of them. */
static void weigh_loose(const hp_belief *b, const hp_hypothesis *h, const hp_wiring *wiring,
                        const double *own, double *out)
{
    static const hp_fault_kind kind[] = {HP_FAULT_LEAD_OPEN, HP_FAULT_SENSOR_HIGH};
    int members = b->members.count;
    const hp_behaviour_map *map = &b->table->map;
    for (int m = 0; m < members; m++)
        out[m] = LOOSE_PASSES * own[m];
    for (int k = 0; k < 2 * HP_PHASE_COUNT; k++) {
        hp_hypothesis broken = *h;
        broken.fault = (hp_fault){kind[k / HP_PHASE_COUNT], k % HP_PHASE_COUNT};
        hp_behaviour behaviour = hp_behaviour_of(&broken, wiring);
        int raw = hp_behaviour_raw(&behaviour);
        const double *row = &b->scratch[(2 * map->index[raw] + map->mirrored[raw]) * members];
        for (int m = 0; m < members; m++)
            out[m] += (1.0 - LOOSE_PASSES) / (2 * HP_PHASE_COUNT) * row[m];
    }
}

/* What decides a row: the case, and what is mixed into it. */
typedef struct trial_key {
    int behaviour;
    int unsensed; /* the same where the controller needs its Hall sensors */
    int kind;
    int relation;   /* of a loose lead, whose other cases are not told by its own; else 0 */
    int stands_for; /* a hypothesis that has it */
} trial_key;

static int find_key(const trial_key *key, int count, const trial_key *wanted)
{
    for (int k = 0; k < count; k++)
        if (key[k].behaviour == wanted->behaviour && key[k].unsensed == wanted->unsensed &&
            key[k].kind == wanted->kind && key[k].relation == wanted->relation)
            return k;
    return -1;
}

/* Finds the rows that a trial needs: row[h], and for each a hypothesis that stands for it. Returns
 * their number. */
static int find_rows(const hp_belief *b, int place, int number, const int *now, trial_key *key,
                     int *row)
{
    int keys = 0;
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *hypothesis = &b->hypothesis[now[h]];
        bool loose = hypothesis->fault.kind == HP_FAULT_LOOSE;
        trial_key own = {.behaviour = b->behaviour[now[h] * HP_WIRING_COUNT + number - 1],
                         .unsensed = unsensed_row(b, place, now[h], number),
                         .kind = kind_of(hypothesis),
                         .relation = loose ? 1 + now[h] : 0,
                         .stands_for = now[h]};
        int found = find_key(key, keys, &own);
        if (found < 0) {
            found = keys;
            key[keys++] = own;
        }
        row[h] = found;
    }
    return keys;
}

/* What a trial weighs, with the Hall sensors or, of a controller that runs so, without. */
static void either_row(const hp_belief *b, const double *weight, const trial_key *key, double *out)
{
    for (int m = 0; m < b->members.count; m++)
        out[m] = either_way(b, weight, key->behaviour, key->unsensed, m);
}

/* One row, any wiring mixed in. own: of the members, to work in. */
static void fill_row(const hp_belief *b, const hp_person *person, const hp_trial *trial,
                     const trial_key *key, const double *uncut, const double *any, double *own,
                     double *out)
{
    const hp_hypothesis *hypothesis = &b->hypothesis[key->stands_for];
    int members = b->members.count;
    bool cutting = hypothesis->fault.kind == HP_FAULT_CUTTING_OUT;
    either_row(b, cutting ? uncut : b->scratch, key, own);
    if (hypothesis->fault.kind == HP_FAULT_LOOSE)
        weigh_loose(b, hypothesis, &trial->wiring, own, out);
    else if (cutting)
        weigh_cutting(b, person, trial, own,
                      &uncut[(2 * b->table->map.count + HP_RECKONED_SILENT) * members], out);
    else
        memcpy(out, own, (size_t)members * sizeof *out);
    for (int m = 0; m < members; m++)
        out[m] = (1.0 - person->wrong_wiring) * out[m] + person->wrong_wiring * any[m];
}

/* A trial: the wiring written down, or by mistake any of the 36. */
static hp_result weigh_trial(const hp_belief *b, const hp_person *person, const hp_trial *trial,
                             int place, const int *now, hp_weights *w, hp_error *err)
{
    int members = b->members.count, number = hp_wiring_number(&trial->wiring);
    hp_trial before[HP_EARLIER_MAX];
    const hp_trial *earlier[HP_EARLIER_MAX];
    int count = earlier_trials(b, trial, place, before, earlier);
    trial_key *key = malloc((size_t)(b->count + 1) * sizeof *key);
    double *mean = malloc((size_t)KIND_COUNT * (size_t)members * sizeof *mean);
    size_t rows = (size_t)hp_weigh_rows(b->table) * (size_t)members;
    double *uncut = malloc(rows * sizeof *uncut);
    double *own = malloc((size_t)members * sizeof *own);
    *w = (hp_weights){.width = members};
    w->row = malloc((size_t)(b->count + 1) * sizeof *w->row);
    if (key && w->row)
        w->rows = find_rows(b, place, number, now, key, w->row);
    w->value = malloc((size_t)(w->rows * members + 1) * sizeof *w->value);
    if (!key || !mean || !uncut || !own || !w->row || !w->value) {
        free(key);
        free(mean);
        free(uncut);
        free(own);
        hp_weights_free(w);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    }
    bool known[KIND_COUNT] = {false};
    hp_weigh_trial(&b->members, person, trial, earlier, count, b->scratch);
    bool starved = hp_trial_is_held(trial);
    if (trial->cut_out == HP_TELL_UNSAID || starved) {
        memcpy(uncut, b->scratch, rows * sizeof *uncut);
    } else {
        const hp_trial until = hp_trial_until_cut(trial);
        hp_weigh_trial(&b->members, person, &until, earlier, count, uncut);
    }
    for (int k = 0; k < w->rows; k++) {
        double *any = &mean[key[k].kind * members];
        if (!known[key[k].kind])
            mean_weight(b, place, key[k].stands_for, any);
        known[key[k].kind] = true;
        fill_row(b, person, trial, &key[k], uncut, any, own, &w->value[k * members]);
    }
    free(key);
    free(mean);
    free(uncut);
    free(own);
    return HP_OK;
}

/* ---- readings -------------------------------------------------------------------------------- */

/* Something else: the reading as likely as it was before anything was known. */
static void weigh_unlisted(const hp_belief *b, const int *now, hp_weights *w)
{
    int row = -1;
    double sum = 0.0;
    for (int h = 0; h < b->count; h++)
        if (b->hypothesis[now[h]].fault.kind == HP_FAULT_UNLISTED)
            row = w->row[h];
        else
            sum += b->prior[h];
    if (row < 0)
        return;
    double *out = &w->value[row * w->width];
    memset(out, 0, (size_t)w->width * sizeof *out);
    for (int h = 0; h < b->count; h++) {
        if (b->hypothesis[now[h]].fault.kind == HP_FAULT_UNLISTED)
            continue;
        const double *own = &w->value[w->row[h] * w->width];
        for (int m = 0; m < w->width; m++)
            out[m] += b->prior[h] / sum * own[m];
    }
}

/* Some lead makes contact only now and then: which one it can be, the entries before tell. */
static double weigh_loose_reading(const hp_belief *b, const hp_person *person,
                                  const hp_entry *entry, int place, const hp_hypothesis *h)
{
    double sum = 0.0, all = 0.0;
    for (int lead = 0; lead < HP_LOOSE_LEADS; lead++) {
        double share = 1.0;
        for (int k = place - 1; k >= 0; k--)
            if (hp_weighs_loose(&b->entry[k], h))
                share *= hp_weigh_loose(b->table, b->person, &b->entry[k], h, lead);
        all += share;
        sum += share * hp_weigh_loose(b->table, person, entry, h, lead);
    }
    return all > 0.0 ? sum / all : 0.0;
}

/* Weights of one hypothesis with each member; a motor's benches are alike to most readings. */
static void weigh_members(const hp_belief *b, const hp_person *person, const hp_entry *entry,
                          int place, const hp_hypothesis *hypothesis, int width, double *row)
{
    int benches = b->members.benches;
    if (hp_weighs_loose(entry, hypothesis)) {
        for (int m = 0; m < width; m++)
            row[m] = weigh_loose_reading(b, person, entry, place, hypothesis);
        return;
    }
    for (int m = 0; m < width; m++) {
        const hp_nuisance n = hp_member_nuisance(&b->members, m);
        if (m % benches > 0 && !entry->reading->needs_bench)
            row[m] = row[m - 1];
        else
            row[m] = hp_weigh_reading(b->table, person, entry, hypothesis, m / benches, &n);
    }
}

/* Readings that depend on the motor look at nothing of a hypothesis but its fault: rows of the same
 * fault are the same. */
static hp_result weigh_reading(const hp_belief *b, const hp_person *person, const hp_entry *entry,
                               int place, const int *now, hp_weights *w, hp_error *err)
{
    bool each = entry->reading->needs_motor;
    int width = each ? b->members.count : 1, same[HP_FAULT_COUNT], unlisted = -1;
    hp_result result = reserve(b, width, each ? HP_FAULT_COUNT : b->count, w, err);
    if (result != HP_OK)
        return result;
    for (int k = 0; k < HP_FAULT_COUNT; k++)
        same[k] = -1;
    for (int h = 0; h < b->count; h++) {
        const hp_hypothesis *hypothesis = &b->hypothesis[now[h]];
        int *known = hypothesis->fault.kind == HP_FAULT_UNLISTED ? &unlisted
                     : each ? &same[hp_fault_index(hypothesis->fault)]
                            : NULL;
        if (known && *known >= 0) {
            w->row[h] = *known;
            continue;
        }
        w->row[h] = w->rows++;
        if (known)
            *known = w->row[h];
        weigh_members(b, person, entry, place, hypothesis, width, &w->value[w->row[h] * width]);
    }
    weigh_unlisted(b, now, w);
    return HP_OK;
}

/* A controller that drove before, and is held off from here on. */
static void weigh_beginning(const hp_belief *b, int place, const int *now, hp_weights *w)
{
    double begins = b->entry_circumstance[place].begins;
    for (int h = 0; begins < 1.0 && h < b->count; h++) {
        bool first = b->hypothesis[now[h]].fault.kind == HP_FAULT_SILENT;
        for (int k = 0; k < h && first; k++)
            first = w->row[k] != w->row[h];
        for (int m = 0; m < w->width && first; m++)
            w->value[w->row[h] * w->width + m] *= begins;
    }
}

hp_result hp_belief_weigh(const hp_belief *b, const hp_person *person, const hp_entry *entry,
                          int place, const int *now, hp_weights *w, hp_error *err)
{
    hp_trial run;
    hp_result result = hp_belief_run(b, entry, place, &run)
                           ? weigh_trial(b, person, &run, place, now, w, err)
                           : weigh_reading(b, person, entry, place, now, w, err);
    if (result != HP_OK)
        return result;
    weigh_beginning(b, place, now, w);
    int size = w->rows * w->width;
    double largest = 0.0;
    for (int k = 0; k < size; k++)
        largest = fmax(largest, w->value[k]);
    /* A worthless entry could have been this one anyhow. Numbers far off everything can underflow;
     * then the entry says nothing. */
    double worthless = person->wrong_entry;
    for (int k = 0; k < size; k++)
        w->value[k] = largest > 0.0 ? worthless + (1.0 - worthless) * w->value[k] / largest : 1.0;
    w->scale = largest > 0.0 ? log(largest) : 0.0;
    return HP_OK;
}
