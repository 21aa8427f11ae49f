/*
 * Sums up an ensemble: shares, bands, drivers, nearest thresholds; for each wiring, and for wirings
 * whose likeliest outcome is the same.
 *
 * Drivers are found by rank correlation, which sees anything that rises or falls throughout,
 * however bent, and is not led astray by infinite values. Under no correlation it scatters about
 * zero with the standard error 1 / sqrt(n - 1), n being the motors (textbook); wirings taken
 * together do not count as further motors.
 */
#include "decide/judge/spread_table.h"

#include "base/rank.h"
#include "decide/judge/ensemble.h"

#include <math.h>
#include <stdlib.h>

/* Room for one set of wirings: the cells with a verdict, and columns made from them. */
typedef struct room {
    const hp_spread_cell **cell;
    int *motor;
    double *value;
    hp_ranked *ranked;
    double *quantity_rank;
    double *figure_rank; /* [figure * capacity + k] */
    size_t capacity;
    size_t count;
} room;

static void free_room(room *r)
{
    free(r->cell);
    free(r->motor);
    free(r->value);
    free(r->ranked);
    free(r->quantity_rank);
    free(r->figure_rank);
}

static hp_result make_room(room *r, size_t capacity, hp_error *err)
{
    *r = (room){.capacity = capacity};
    r->cell = calloc(capacity, sizeof *r->cell); /* pointers: NOLINT(bugprone-sizeof-expression) */
    r->motor = calloc(capacity, sizeof *r->motor);
    r->value = calloc(capacity, sizeof *r->value);
    r->ranked = calloc(capacity, sizeof *r->ranked);
    r->quantity_rank = calloc(capacity, sizeof *r->quantity_rank);
    r->figure_rank = calloc(capacity * HP_SPREAD_FIGURE_COUNT, sizeof *r->figure_rank);
    if (r->cell && r->motor && r->value && r->ranked && r->quantity_rank && r->figure_rank)
        return HP_OK;
    free_room(r);
    return hp_error_set(err, HP_FAIL_MEMORY, "no memory to sum up a spread");
}

static int most(const int *count, int kinds)
{
    int best = 0;
    for (int k = 1; k < kinds; k++)
        if (count[k] > count[best])
            best = k;
    return best;
}

/* Whether a wiring brings figures of its own into a set of several. */
static bool is_distinct(const hp_spread *spread, const hp_spread_summary *s, int number)
{
    int first = spread->first[number - 1];
    return s->wirings == 1 || first == 0 || first == number;
}

/* Shares and what is likeliest; collects the decided cells. */
static void count_outcomes(const hp_spread_table *table, const hp_spread *spread,
                           hp_spread_summary *s, room *r)
{
    int verdicts[HP_VERDICT_COUNT] = {0}, directions[HP_DIRECTION_COUNT] = {0};
    int kinds[HP_KIND_COUNT] = {0};
    int by_direction[HP_VERDICT_COUNT][HP_DIRECTION_COUNT] = {{0}};
    int by_kind[HP_VERDICT_COUNT][HP_DIRECTION_COUNT][HP_KIND_COUNT] = {{{0}}};
    r->count = 0;
    for (int motor = 0; motor < table->motors; motor++) {
        for (int k = 0; k < s->wirings; k++) {
            const hp_spread_cell *cell = hp_spread_cell_at(table, motor, s->number[k]);
            verdicts[cell->verdict]++;
            directions[cell->direction]++;
            kinds[cell->kind]++;
            by_direction[cell->verdict][cell->direction]++;
            by_kind[cell->verdict][cell->direction][cell->kind]++;
            if (cell->verdict == HP_VERDICT_UNDECIDED || !is_distinct(spread, s, s->number[k]))
                continue;
            r->cell[r->count] = cell;
            r->motor[r->count++] = motor;
        }
    }
    double all = (double)table->motors * s->wirings;
    for (int k = 0; k < HP_VERDICT_COUNT; k++)
        s->share[k] = verdicts[k] / all;
    for (int k = 0; k < HP_DIRECTION_COUNT; k++)
        s->share_direction[k] = directions[k] / all;
    for (int k = 0; k < HP_KIND_COUNT; k++)
        s->share_kind[k] = kinds[k] / all;
    s->verdict = (hp_verdict)most(verdicts, HP_VERDICT_COUNT);
    s->direction = (hp_direction)most(by_direction[s->verdict], HP_DIRECTION_COUNT);
    s->kind = (hp_rough_kind)most(by_kind[s->verdict][s->direction], HP_KIND_COUNT);
}

static void find_nearest(const hp_spread_table *table, hp_spread_summary *s)
{
    const hp_spread_nearest none = {.margin = {HP_THRESHOLD_NONE, INFINITY}, .motor = -1};
    s->nearest = s->nearest_kind = none;
    for (int motor = 0; motor < table->motors; motor++) {
        for (int k = 0; k < s->wirings; k++) {
            const hp_spread_cell *cell = hp_spread_cell_at(table, motor, s->number[k]);
            double distance = cell->figure[HP_SPREAD_MARGIN];
            if (cell->verdict == HP_VERDICT_UNDECIDED)
                continue;
            if (distance < s->nearest.margin.log_ratio)
                s->nearest = (hp_spread_nearest){
                    {(hp_threshold)cell->threshold, distance}, s->number[k], motor};
            if (cell->kind_log_ratio < s->nearest_kind.margin.log_ratio)
                s->nearest_kind =
                    (hp_spread_nearest){{(hp_threshold)cell->kind_threshold, cell->kind_log_ratio},
                                        s->number[k],
                                        motor};
        }
    }
}

/* Band and ranks of one figure. */
static void take_figure(hp_spread_summary *s, room *r, int figure)
{
    for (size_t k = 0; k < r->count; k++)
        r->value[k] = r->cell[k]->figure[figure];
    hp_rank(r->value, r->count, r->ranked, &r->figure_rank[(size_t)figure * r->capacity]);
    hp_sort(r->value, r->count);
    s->band[figure] = (hp_spread_band){.low = hp_quantile(r->value, r->count, 0.05),
                                       .middle = hp_quantile(r->value, r->count, 0.50),
                                       .high = hp_quantile(r->value, r->count, 0.95)};
}

/* Puts a driver into the list, strongest first; of equal ones the first stays first. */
static void insert_driver(hp_spread_driver list[HP_SPREAD_DRIVERS], hp_spread_driver driver)
{
    for (int k = 0; k < HP_SPREAD_DRIVERS; k++) {
        bool stronger =
            list[k].quantity < 0 || fabs(driver.rank_correlation) > fabs(list[k].rank_correlation);
        if (!stronger)
            continue;
        hp_spread_driver next = list[k];
        list[k] = driver;
        driver = next;
        if (driver.quantity < 0)
            return;
    }
}

static void find_drivers(const hp_spread *spread, hp_spread_summary *s, room *r)
{
    const hp_spread_plan *plan = &spread->plan;
    double noise =
        spread->motors > 1 ? HP_SPREAD_NOISE / sqrt(spread->motors - 1.0) : (double)INFINITY;
    for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++)
        for (int k = 0; k < HP_SPREAD_DRIVERS; k++)
            s->driver[f][k] = (hp_spread_driver){.quantity = -1, .rank_correlation = 0.0};
    for (int q = 0; q < HP_SPREAD_QUANTITIES; q++) {
        if (!spread->varies[q])
            continue;
        for (size_t k = 0; k < r->count; k++)
            r->value[k] = hp_ensemble_unit(plan->seed, q, r->motor[k], plan->motors);
        hp_rank(r->value, r->count, r->ranked, r->quantity_rank);
        for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++) {
            double c = hp_correlation(r->quantity_rank, &r->figure_rank[(size_t)f * r->capacity],
                                      r->count);
            if (fabs(c) > noise)
                insert_driver(s->driver[f], (hp_spread_driver){q, c});
        }
    }
}

/* Sums up the wirings that s->number lists. */
static void sum_up(const hp_spread_table *table, const hp_spread *spread, hp_spread_summary *s,
                   room *r)
{
    count_outcomes(table, spread, s, r);
    find_nearest(table, s);
    for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++)
        take_figure(s, r, f);
    find_drivers(spread, s, r);
}

static int outcome_rank(const hp_spread_summary *s)
{
    static const int kind_rank[HP_KIND_COUNT] = {2, 0, 1};
    return (int)s->verdict * 100 + (int)s->direction * 10 + kind_rank[s->kind];
}

/* Lists the groups by outcome, the wirings of each by number. Returns the size of the largest. */
static int make_groups(hp_spread *spread)
{
    int largest = 0;
    spread->groups = 0;
    for (int rank = 0; rank < HP_VERDICT_COUNT * 100; rank++) {
        hp_spread_summary *group = &spread->group[spread->groups];
        for (int k = 0; k < HP_WIRING_COUNT; k++)
            if (outcome_rank(&spread->wiring[k]) == rank)
                group->number[group->wirings++] = k + 1;
        spread->groups += group->wirings > 0;
        largest = group->wirings > largest ? group->wirings : largest;
        if (spread->groups == HP_WIRING_COUNT)
            break;
    }
    return largest;
}

static void note_what_varies(hp_spread *spread)
{
    for (int q = 0; q < HP_VARY_COUNT; q++)
        spread->varies[q] = hp_vary_width(&spread->plan.variation, (hp_vary)q) > 0.0;
    spread->varies[HP_SPREAD_REST] = spread->plan.rest_rad > 0.0;
}

hp_result hp_spread_summarise(const hp_spread_table *table, hp_spread *spread, hp_error *err)
{
    room r;
    spread->motors = table->motors;
    note_what_varies(spread);
    hp_result result = make_room(&r, (size_t)table->motors, err);
    if (result != HP_OK)
        return result;
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        spread->wiring[k].wirings = 1;
        spread->wiring[k].number[0] = k + 1;
        sum_up(table, spread, &spread->wiring[k], &r);
    }
    free_room(&r);

    int largest = make_groups(spread);
    result = make_room(&r, (size_t)table->motors * (size_t)largest, err);
    if (result != HP_OK)
        return result;
    for (int k = 0; k < spread->groups; k++)
        sum_up(table, spread, &spread->group[k], &r);
    free_room(&r);
    return HP_OK;
}
