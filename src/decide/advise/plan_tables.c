/* The planner's tables: see planner.h. */
#include "decide/advise/hypothesis.h"
#include "decide/advise/planner.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- symbols of trials ----------------------------------------------------------------------- */

static double normal_below(double x)
{
    return 0.5 * erfc(-x / sqrt(2.0));
}

/* Probability that the reading of a current is small. */
static double small_current(const hp_planner *p, double value, double smooth)
{
    if (isnan(value) || isnan(smooth))
        return 0.5;
    double limit = HP_CURRENT_SMALL * smooth;
    double deviation = hypot(hypot(p->person->current_relative, HP_KERNEL_CURRENT) * value,
                             p->person->current_zero_a);
    double below = normal_below((limit - value) / deviation);
    return below + p->person->value_misread * (0.5 - below);
}

/* Shares of slow, even and fast. */
static void speed_shares(const hp_planner *p, double value, double smooth, double share[3])
{
    share[0] = share[2] = 0.0;
    share[1] = 1.0;
    /* What a limit holds back has no speed of its own. */
    bool limited = p->params.first_power != HP_FIRST_POWER_NONE;
    if (!p->params.tachometer || limited || isnan(value) || isnan(smooth))
        return;
    double deviation = hypot(p->person->speed_relative, HP_KERNEL_SPEED);
    double ratio = log(value / smooth), bad = p->person->value_misread;
    share[0] = normal_below((log(HP_SPEED_EVEN_LOW) - ratio) / deviation);
    share[2] = 1.0 - normal_below((log(HP_SPEED_EVEN_HIGH) - ratio) / deviation);
    share[1] = 1.0 - share[0] - share[2];
    for (int k = 0; k < 3; k++)
        share[k] += bad * (1.0 / 3.0 - share[k]);
}

/* Adds what is said of a turning trial to one motion's manners. */
static void add_manners(const hp_planner *p, double probability, bool smooth, double all,
                        double small, const double speed[3], double *manner)
{
    double said_smooth = hp_said_feel(p->person, smooth, HP_FEEL_SMOOTH), rough = 1.0 - said_smooth;
    double fits_smooth = hp_planner_knows_current(p) ? small : 1.0;
    double fits_rough = hp_planner_knows_current(p) ? 1.0 - small : 1.0;
    manner[HP_MANNER_SMOOTH] += probability * said_smooth * fits_smooth * all;
    manner[HP_MANNER_SMOOTH_SOME] += probability * said_smooth * fits_smooth * (1.0 - all);
    manner[HP_MANNER_ODD] +=
        probability * (said_smooth * (1.0 - fits_smooth) + rough * (1.0 - fits_rough));
    for (int k = 0; k < 3; k++) {
        double share = probability * rough * fits_rough * speed[k];
        manner[HP_MANNER_ROUGH_SLOW + k] += share * all;
        manner[HP_MANNER_SOME_SLOW + k] += share * (1.0 - all);
    }
}

/* What is common to all happenings of one motor's record. */
typedef struct manner_facts {
    double small;
    double speed[3];
} manner_facts;

/* Probability of what happened, with any number of starts, and of all starts said to have turned
 * given that it did. */
typedef struct happening_sum {
    double probability;
    double all;
} happening_sum;

static happening_sum sum_starts(const hp_planner *p, double (*happened)[HP_HAPPENED_COUNT][2],
                                hp_happening happening, int smooth)
{
    int tried = p->params.starts;
    happening_sum sum = {0.0, 0.0};
    for (int starts = 0; starts <= tried; starts++) {
        double probability = happened[starts][happening][smooth];
        sum.probability += probability;
        sum.all += probability *
                   (starts == tried ? 1.0 - p->person->miscounted : p->person->miscounted / tried);
    }
    sum.all = sum.probability > 0.0 ? sum.all / sum.probability : 0.0;
    return sum;
}

static void add_happening(const hp_planner *p, happening_sum sum, const manner_facts *facts,
                          hp_happening happening, bool smooth, double *symbol)
{
    double probability = sum.probability;
    if (probability <= 0.0)
        return;
    static const struct {
        hp_motion said;
        int symbol;
    } turning[] = {{HP_MOVED_FORWARD, HP_SYMBOL_FORWARD},
                   {HP_MOVED_BACKWARD, HP_SYMBOL_BACKWARD},
                   {HP_MOVED_HUM, HP_SYMBOL_HUM}};
    /* A wheel that is said to stay has no speed to read. */
    static const double no_speed[3] = {0.0, 1.0, 0.0};
    for (int k = 0; k < 3; k++)
        add_manners(p, probability * hp_said_motion(p->person, happening, turning[k].said), smooth,
                    sum.all, facts->small,
                    turning[k].said == HP_MOVED_HUM ? no_speed : facts->speed,
                    &symbol[turning[k].symbol]);
    symbol[HP_SYMBOL_BOTH] += probability * hp_said_motion(p->person, happening, HP_MOVED_BOTH);
    symbol[HP_SYMBOL_SHIVER] += probability * hp_said_motion(p->person, happening, HP_MOVED_SHIVER);
    symbol[HP_SYMBOL_STILL] += probability * hp_said_motion(p->person, happening, HP_MOVED_STILL);
}

static void fill_motor(const hp_planner *p, int behaviour, bool mirrored, int motor, double *symbol)
{
    const hp_record *record = hp_likelihood_record(p->table, p->level, behaviour, motor);
    const hp_record *right =
        hp_likelihood_record(p->table, p->level, hp_smooth_case(p->table), motor);
    hp_shares shares = hp_shares_of(p->table, p->level, behaviour, motor);
    if (mirrored)
        shares = hp_shares_mirrored(&shares);
    manner_facts facts = {.small = small_current(p, hp_grid_value(record->current_turning),
                                                 hp_grid_value(right->current_turning))};
    speed_shares(p, hp_grid_value(record->wheel_speed), hp_grid_value(right->wheel_speed),
                 facts.speed);
    double happened[HP_STARTS_MAX + 1][HP_HAPPENED_COUNT][2];
    hp_happenings(&shares, p->params.starts, happened);
    for (int h = 0; h < HP_HAPPENED_COUNT; h++)
        for (int smooth = 0; smooth < 2; smooth++)
            add_happening(p, sum_starts(p, happened, (hp_happening)h, smooth), &facts,
                          (hp_happening)h, smooth, symbol);
}

/* One case with all motors; finds the likeliest symbol. */
static void fill_case(hp_planner *p, int behaviour, bool mirrored)
{
    int motors = p->table->options.motors, at = 2 * behaviour + mirrored, best = 0;
    double sum[HP_SYMBOLS] = {0};
    for (int m = 0; m < motors; m++) {
        double *symbol = &p->symbol[(at * motors + m) * HP_SYMBOLS];
        fill_motor(p, behaviour, mirrored, m, symbol);
        for (int s = 0; s < HP_SYMBOLS; s++)
            sum[s] += symbol[s];
    }
    for (int s = 1; s < HP_SYMBOLS; s++)
        if (sum[s] > sum[best])
            best = s;
    p->sharp[at] = (uint8_t)best;
}

/* What is reckoned and not simulated: it stands; or anything may be seen. */
static void fill_reckoned(hp_planner *p)
{
    int first = 2 * p->table->map.count, motors = p->table->options.motors;
    for (int m = 0; m < motors; m++) {
        double *silent = &p->symbol[((first + HP_RECKONED_SILENT) * motors + m) * HP_SYMBOLS];
        double *anything = &p->symbol[((first + HP_RECKONED_ANYTHING) * motors + m) * HP_SYMBOLS];
        manner_facts facts = {.small = 0.5, .speed = {0.0, 1.0, 0.0}};
        happening_sum sum = {1.0, 1.0};
        add_happening(p, sum, &facts, HP_HAPPENED_STILL, false, silent);
        for (int s = 0; s < HP_SYMBOLS; s++)
            anything[s] = 1.0 / HP_SYMBOLS;
    }
    p->sharp[first + HP_RECKONED_SILENT] = HP_SYMBOL_STILL;
    p->sharp[first + HP_RECKONED_ANYTHING] = HP_SYMBOL_STILL;
}

bool hp_planner_knows_current(const hp_planner *p)
{
    return p->params.ammeter || p->params.first_power != HP_FIRST_POWER_NONE;
}

hp_result hp_planner_fill_symbols(hp_planner *p, hp_error *err)
{
    int cases = p->table->map.count, motors = p->table->options.motors;
    int rows = hp_weigh_rows(p->table);
    p->symbol = calloc((size_t)rows * (size_t)motors * HP_SYMBOLS, sizeof *p->symbol);
    p->sharp = calloc((size_t)rows, sizeof *p->sharp);
    if (!p->symbol || !p->sharp)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
    for (int k = 0; k < cases; k++) {
        fill_case(p, k, false);
        if (p->table->map.mirror)
            fill_case(p, k, true);
    }
    fill_reckoned(p);
    return HP_OK;
}

/* ---- readings -------------------------------------------------------------------------------- */

bool hp_planner_same_entry(const hp_entry *a, const hp_entry *b)
{
    /* They begin as zeros, gaps included (hp_entry_make). */
    /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison) */
    return memcmp(a, b, sizeof *a) == 0;
}

/* Adds an entry unless one like it is there. */
static void add_entry(hp_plan_reading *t, const hp_entry *entry)
{
    for (int k = 0; k < t->count; k++)
        if (hp_planner_same_entry(&t->entry[k], entry))
            return;
    if (t->count < HP_SHOWING_MAX)
        t->entry[t->count++] = *entry;
}

/* What a reading shows under a hypothesis, without slips. */
static hp_entry typical(const hp_planner *p, const hp_plan_reading *t, const hp_hypothesis *h)
{
    hp_entry entry = hp_entry_make(t->reading, 0);
    const hp_reading_case given = {.table = p->table,
                                   .person = p->person,
                                   .plan = &p->params,
                                   .hypothesis = h,
                                   .lead = t->lead};
    t->reading->typical(&given, entry.values);
    return entry;
}

/* Number of what decides a reading: the controller's table and whether it drives, or all but the
 * table. */
static int reading_key(const hp_reading *reading, const hp_hypothesis *h)
{
    if (reading->by_table)
        return h->fault.kind == HP_FAULT_SILENT ? HP_TABLE_COUNT : h->table;
    return (h->relation * 4 + h->inverted + 1) * HP_FAULT_COUNT + hp_fault_index(h->fault);
}

/* Probabilities of the typical entries under one hypothesis, made to add up to one. */
static void weigh_typical(const hp_planner *p, hp_plan_reading *t, int h)
{
    double sum = 0.0;
    for (int k = 0; k < t->count; k++) {
        double w = hp_weigh_reading(p->table, p->person, &t->entry[k], &p->hypothesis[h], 0, NULL);
        t->probability[k * p->count + h] = w;
        sum += w;
    }
    for (int k = 0; k < t->count; k++)
        t->probability[k * p->count + h] /= sum;
}

/* Probabilities of the typical entries under each hypothesis. */
static hp_result fill_reading(hp_planner *p, hp_plan_reading *t, hp_error *err)
{
    int first[HP_RELATION_COUNT * 4 * HP_FAULT_COUNT]; /* hypothesis that a key was met with */
    for (size_t k = 0; k < sizeof first / sizeof first[0]; k++)
        first[k] = -1;
    for (int h = 0; h < p->count; h++) {
        int *known = &first[reading_key(t->reading, &p->hypothesis[h])];
        if (*known >= 0)
            continue;
        *known = h;
        hp_entry entry = typical(p, t, &p->hypothesis[h]);
        add_entry(t, &entry);
    }
    t->probability = malloc((size_t)(t->count * p->count) * sizeof *t->probability);
    if (!t->probability)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
    for (int h = 0; h < p->count; h++) {
        int known = first[reading_key(t->reading, &p->hypothesis[h])];
        if (known == h)
            weigh_typical(p, t, h);
        else
            for (int k = 0; k < t->count; k++)
                t->probability[k * p->count + h] = t->probability[k * p->count + known];
    }
    return HP_OK;
}

/* The reading of the least rank above another (NULL: of the least), among those that tell something
 * of what may be true; NULL when there is none. Of equal ranks the one listed first. */
static const hp_reading *next_by_rank(const hp_reading *last)
{
    const hp_reading *best = NULL;
    int before = last ? hp_reading_index(last) : -1;
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *r = hp_readings[k];
        bool later = !last || r->rank > last->rank || (r->rank == last->rank && k > before);
        if (later && hp_reading_is_advised(r) && r->weigh && !r->demand &&
            (!best || r->rank < best->rank))
            best = r;
    }
    return best;
}

static hp_result fill_place(hp_planner *p, const hp_reading *reading, int lead, hp_error *err)
{
    hp_plan_reading *t = &p->reading[p->reading_count++];
    memset(t, 0, sizeof *t);
    t->reading = reading;
    t->lead = lead;
    t->cost = p->params.costs.reading[hp_reading_index(reading)];
    return fill_reading(p, t, err);
}

static hp_result fill_readings(hp_planner *p, hp_error *err)
{
    hp_result result = HP_OK;
    p->reading_count = 0;
    for (const hp_reading *r = next_by_rank(NULL); r; r = next_by_rank(r)) {
        int places = r->lead ? HP_PHASE_COUNT : 1;
        if (!(p->params.allowed & hp_allow(r)))
            continue;
        assert(p->reading_count + places <= HP_PLAN_READINGS_MAX);
        for (int k = 0; result == HP_OK && k < places; k++)
            result = fill_place(p, r, r->lead ? k : -1, err);
    }
    return result;
}

/* ---- groups ---------------------------------------------------------------------------------- */

/* Sets are found in the order in which hypotheses meet them. */
static int set_of(hp_planner *p, int *sets, int h)
{
    int number[3];
    hp_hypothesis_rights(&p->hypothesis[h], number);
    int k = 0;
    while (k < *sets && memcmp(p->set_wiring[k], number, sizeof number) != 0)
        k++;
    assert(k < HP_SET_COUNT);
    if (k == *sets) {
        memcpy(p->set_wiring[k], number, sizeof number);
        p->set_hypothesis[k] = h;
        (*sets)++;
    }
    return k;
}

static void fill_groups(hp_planner *p)
{
    int sets = 0;
    for (int k = 0; k < HP_SET_COUNT; k++)
        p->set_hypothesis[k] = -1;
    for (int h = 0; h < p->count; h++) {
        /* What shows in no motor is asked about when the log gives a reason, and makes no wiring
         * wrong: here it counts with the sound ones. */
        hp_hypothesis shown = p->hypothesis[h];
        if (!hp_fault_is_simulated(shown.fault))
            shown.fault = (hp_fault){HP_FAULT_NONE, 0};
        int trouble = hp_trouble_of(&shown);
        p->group[h] =
            trouble == HP_TROUBLE_SOUND ? set_of(p, &sets, h) : HP_SET_COUNT + hp_part_of(trouble);
    }
}

void hp_planner_stand(hp_planner *p, const hp_belief *b, const double *probability)
{
    double most[HP_SET_COUNT] = {0.0};
    for (int h = 0; h < b->count; h++) {
        int set = p->group[b->now[h]];
        if (set >= HP_SET_COUNT || p->set_wiring[set][1] > 0 || probability[h] <= most[set])
            continue;
        most[set] = probability[h];
        p->set_hypothesis[set] = b->now[h];
    }
}

static void forget(hp_planner *p)
{
    for (int k = 0; k < p->reading_count; k++)
        free(p->reading[k].probability);
    p->reading_count = 0;
    free(p->hypothesis);
    free(p->group);
    free(p->posterior);
    free(p->by_motor);
    p->by_motor = NULL;
    p->hypothesis = NULL;
    p->group = NULL;
    p->posterior = NULL;
    p->count = 0;
}

static size_t size_of_motors(const hp_planner *p, const hp_belief *b)
{
    return (size_t)(b->count * p->table->options.motors) * sizeof *p->by_motor;
}

hp_result hp_planner_meet(hp_planner *p, const hp_belief *b, hp_error *err)
{
    size_t size = (size_t)b->count * sizeof *b->hypothesis;
    if (p->count == b->count && memcmp(p->hypothesis, b->hypothesis, size) == 0)
        return HP_OK;
    forget(p);
    p->hypothesis = malloc(size);
    p->group = malloc((size_t)b->count * sizeof *p->group);
    p->posterior = malloc((size_t)b->count * sizeof *p->posterior);
    p->by_motor = malloc(size_of_motors(p, b));
    if (!p->hypothesis || !p->group || !p->posterior || !p->by_motor) {
        forget(p);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
    }
    memcpy(p->hypothesis, b->hypothesis, size);
    p->count = b->count;
    fill_groups(p);
    hp_result result = fill_readings(p, err);
    if (result != HP_OK)
        forget(p);
    return result;
}

void hp_planner_moves(int from, int to, int *phase, int *sensor)
{
    *phase = *sensor = 0;
    if (from == 0 || to == 0)
        return;
    hp_wiring a = hp_wiring_from_number(from), b = hp_wiring_from_number(to);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        *phase += a.phase[k] != b.phase[k];
        *sensor += a.sensor[k] != b.sensor[k];
    }
}

void hp_planner_free(hp_planner *planner)
{
    if (!planner)
        return;
    forget(planner);
    free(planner->symbol);
    free(planner->sharp);
    hp_search_free(planner->search);
    free(planner);
}
