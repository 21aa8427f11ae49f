/*
 * A hidden machine: drawn from seed and level, and what of it is still broken after a log.
 *
 * Everything is drawn before anything is asked, each matter from a stream of its own, so that no
 * question can change what another one shows.
 */
#include "hubphase/decide/practise.h"

#include "decide/advise/likelihood_parts.h"
#include "decide/judge/ensemble.h"
#include "decide/practise/hidden.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Streams of one seed. */
enum { STREAM_LEADS = 1, STREAM_FAULT, STREAM_BENCH, STREAM_GIVEN, STREAMS = 16 };

static const char *const level_names[HP_PRACTICE_LEVELS] = {"sound", "fault", "slip", "clutch"};

const char *hp_practice_level_name(hp_practice_level level)
{
    return level < HP_PRACTICE_LEVELS ? level_names[level] : "none";
}

int hp_practice_level_find(const char *name)
{
    for (int k = 0; k < HP_PRACTICE_LEVELS; k++)
        if (strcmp(level_names[k], name) == 0)
            return k;
    return -1;
}

hp_practice_level hp_practice_level_of(const hp_practice *practice)
{
    return practice->level;
}

uint64_t hp_practice_seed(const hp_practice *practice)
{
    return practice->seed;
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* chosen: a display and a lamp; many benches have nothing, few as much. */
#define IDLE_MOST_A 0.3
/* chosen: of hubs that stand in a workshop for their clutch, every third has one that slips. */
#define CLUTCHES_SLIP 3

static void draw_leads(hp_practice *p)
{
    /* Who has found a seed's leads at one level must not know them at the next. */
    uint64_t stream = STREAM_LEADS + STREAMS * (uint64_t)p->level;
    hp_random random = hp_random_init(p->seed, stream);
    hp_order_get((int)hp_random_below(&random, HP_ORDER_COUNT), p->sensor_axis);
    hp_order_get((int)hp_random_below(&random, HP_ORDER_COUNT), p->phase_axis);
    /* A table that nobody knows may be any of the twelve. */
    int any = (int)hp_random_below(&random, HP_TABLES_120);
    p->table = p->stated.prior.table >= 0 ? p->stated.prior.table : any;
    p->drive.controller.table = hp_table_get(p->table);
}

bool hp_practice_may_fail(const hp_practice *practice, hp_practice_fault fault)
{
    return practice->stated.drive.stand.clutch || !hp_practice_fault_needs_clutch(fault);
}

/* Of what may be broken here, each as often; a danger, which the first readings find, half so. */
static hp_practice_fault any_fault(const hp_practice *p, hp_random *random)
{
    int may[2 * HP_PRACTICE_FAULTS], count = 0;
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++) {
        hp_practice_fault fault = (hp_practice_fault)k;
        if (!hp_practice_may_fail(p, fault))
            continue;
        may[count++] = k;
        if (!hp_practice_fault_danger(fault))
            may[count++] = k;
    }
    return (hp_practice_fault)may[hp_random_below(random, (uint32_t)count)];
}

static void draw_fault(hp_practice *p)
{
    static const hp_found silent[] = {HP_FOUND_THROTTLE, HP_FOUND_BRAKE, HP_FOUND_PEDAL};
    hp_random random = hp_random_init(p->seed, STREAM_FAULT);
    hp_practice_fault any = any_fault(p, &random);
    int lead = (int)hp_random_below(&random, HP_PHASE_COUNT);
    bool one = hp_random_below(&random, 2) == 1;
    bool slips = hp_random_below(&random, CLUTCHES_SLIP) == 0;
    hp_found cause = silent[hp_random_below(&random, 3)];
    p->fault = HP_PRACTICE_NO_FAULT;
    if (p->level == HP_PRACTICE_FAULT)
        p->fault = any;
    if (p->level == HP_PRACTICE_CLUTCH && slips)
        p->fault = HP_PRACTICE_CLUTCH_SLIPS;
    bool of_lead = hp_practice_fault_side(p->fault) >= 0 || p->fault == HP_PRACTICE_LOOSE;
    p->lead = of_lead ? lead : -1;
    p->high = one;
    p->loose_hall = one;
    p->cause = p->fault == HP_PRACTICE_SILENT        ? cause
               : p->fault == HP_PRACTICE_CUTTING_OUT ? HP_FOUND_PROTECTION
                                                     : HP_FOUND_NOTHING;
}

static void draw_bench(hp_practice *p)
{
    const hp_variation_params usual = hp_variation_default();
    hp_random random = hp_random_init(p->seed, STREAM_BENCH);
    double unit = hp_random_unit(&random);
    p->idle_a = IDLE_MOST_A * unit * unit * unit;
    p->drive = hp_ensemble_draw(&p->drive, &usual, hp_random_bits(&random), 0, 1);
}

/* chosen: three times what the right wiring draws with what else is on; as a knob can be set. */
static hp_result usual_limit(hp_practice *p, hp_error *err)
{
    double amperes = hp_practice_usual_a(&p->stated.drive, err);
    if (isnan(amperes))
        return err && err->code != HP_OK ? err->code : HP_FAIL_INPUT;
    p->limit_a = fmin(20.0, fmax(1.0, 0.5 * ceil(2.0 * 3.0 * (amperes + 0.5 * IDLE_MOST_A))));
    return HP_OK;
}

static hp_result check(const hp_practice_stated *stated, hp_practice_level level, hp_error *err)
{
    if (level == HP_PRACTICE_CLUTCH && !stated->drive.stand.clutch)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "this machine has no one-way clutch (stand.clutch), and level clutch "
                            "is about one: choose another machine, or another level");
    if (!stated->plan.powered)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "bench.powered is no, must be yes for practice: nothing could be "
                            "tried");
    if (!(stated->drive.controller.throttle > 0.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "controller.throttle_percent is 0, must be above 0 for practice");
    return hp_drive_check(&stated->drive, err);
}

hp_practice *hp_practice_create(const hp_practice_stated *stated, hp_practice_level level,
                                uint64_t seed, hp_error *err)
{
    hp_error own = hp_error_none();
    if (!err)
        err = &own;
    if (check(stated, level, err) != HP_OK)
        return NULL;
    hp_practice *p = calloc(1, sizeof *p);
    if (!p) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a practice machine");
        return NULL;
    }
    p->stated = *stated;
    p->stated.drive = hp_likelihood_sound(&stated->drive);
    if (!(p->stated.plan.throttle > 0.0))
        p->stated.plan.throttle = stated->drive.controller.throttle;
    p->level = level;
    p->seed = seed;
    p->slipped = -1;
    p->drive = p->stated.drive;
    draw_leads(p);
    draw_fault(p);
    draw_bench(p);
    hp_result result = usual_limit(p, err);
    if (result == HP_OK && level == HP_PRACTICE_SLIP) {
        hp_random random = hp_random_init(seed, STREAM_GIVEN);
        result = hp_practice_draw_given(p, &random, err);
    }
    if (result == HP_OK)
        return p;
    hp_practice_free(p);
    return NULL;
}

void hp_practice_free(hp_practice *practice)
{
    free(practice);
}

/* ---- what is still wrong --------------------------------------------------------------------- */

hp_fault hp_practice_fault_of(const hp_practice *p)
{
    hp_fault_kind kind = hp_practice_fault_kind(p->fault, p->high);
    bool of_lead = hp_practice_fault_side(p->fault) >= 0;
    return (hp_fault){kind, of_lead && kind != HP_FAULT_NONE ? p->lead : 0};
}

/* A danger is put right once a reading says so, or once it was met. */
static bool danger_gone(const hp_practice *p, const hp_practice_look *before,
                        const hp_danger *danger)
{
    for (int k = 0; k < before->entries; k++) {
        const hp_entry *e = &before->entry[k];
        if (hp_entry_danger(e, &p->stated.plan, &p->stated.person) == danger ||
            (e->reading->powers & danger->reading->guards))
            return true;
    }
    return false;
}

hp_practice_fault hp_practice_present(const hp_practice *p, const hp_practice_look *before)
{
    const hp_danger *danger = hp_practice_fault_danger(p->fault);
    if (p->fault == HP_PRACTICE_NO_FAULT)
        return p->fault;
    if (danger)
        return danger_gone(p, before, danger) ? HP_PRACTICE_NO_FAULT : p->fault;
    hp_hypothesis now = {.inverted = p->fault == HP_PRACTICE_HALL_INVERTED ? p->lead : -1,
                         .fault = hp_practice_fault_of(p)};
    for (int k = 0; k < before->entries; k++)
        if (before->entry[k].reading->change)
            before->entry[k].reading->change(before->entry[k].values, &now);
    bool there =
        p->fault == HP_PRACTICE_HALL_INVERTED ? now.inverted >= 0 : now.fault.kind != HP_FAULT_NONE;
    return there ? p->fault : HP_PRACTICE_NO_FAULT;
}

hp_wiring hp_practice_joined(const hp_practice *p, const hp_wiring *marked)
{
    hp_wiring joined;
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        joined.sensor[j] = p->sensor_axis[marked->sensor[j]];
        joined.phase[j] = p->phase_axis[marked->phase[j]];
    }
    return joined;
}

int hp_practice_given(const hp_practice *practice)
{
    return practice->givens;
}

const hp_entry *hp_practice_given_entry(const hp_practice *practice, int index)
{
    return index >= 0 && index < practice->givens ? &practice->given[index] : NULL;
}

int hp_practice_slipped(const hp_practice *practice)
{
    return practice->slipped;
}

const hp_entry *hp_practice_true_entry(const hp_practice *practice)
{
    return practice->slipped >= 0 ? &practice->truth : NULL;
}
