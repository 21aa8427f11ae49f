/*
 * A spread summed up from a table made by hand: the sample survey's outcomes for twenty motors,
 * figures that differ a little from motor to motor, one wiring that stalls in a quarter of them,
 * one that is undecided.
 */
#ifndef HUBPHASE_TESTS_SPREAD_SAMPLE_H
#define HUBPHASE_TESTS_SPREAD_SAMPLE_H

#include "report_sample.h"

#include "decide/judge/ensemble.h"
#include "decide/judge/spread_table.h"

#define SPREAD_MOTORS  20
#define SPREAD_WANTED  50
#define SPREAD_DOUBTED 14 /* rough, but stalled with every fourth motor */

static inline void spread_sample_cell(hp_spread_cell *cell, int number, int motor)
{
    hp_judgement j = sample_judgement(number);
    double factor = 1.0 + 0.01 * motor;
    cell->verdict = (unsigned char)j.verdict;
    cell->direction = (unsigned char)j.direction;
    cell->kind = (unsigned char)j.kind;
    cell->threshold = HP_THRESHOLD_EXCESS;
    cell->kind_threshold = j.kind == HP_KIND_NONE ? HP_THRESHOLD_NONE : HP_THRESHOLD_LATE;
    cell->kind_log_ratio = j.kind == HP_KIND_NONE ? (double)INFINITY : 0.25 * factor;
    cell->figure[HP_SPREAD_SPEED] = factor * j.mean.speed;
    cell->figure[HP_SPREAD_WHEEL_SPEED] = factor * j.mean.wheel_speed;
    cell->figure[HP_SPREAD_SPEED_RATIO] = fabs(j.mean.speed) / 20.0;
    cell->figure[HP_SPREAD_BATTERY_CURRENT] = factor * j.mean.battery_current;
    cell->figure[HP_SPREAD_PHASE_RMS] = factor * j.mean.phase_rms;
    cell->figure[HP_SPREAD_PHASE_PEAK] = factor * j.mean.phase_peak;
    cell->figure[HP_SPREAD_RIPPLE] = factor * j.ripple;
    cell->figure[HP_SPREAD_EXCESS] = factor * j.excess;
    cell->figure[HP_SPREAD_STARTS] = (double)j.starts / j.starts_tried;
    cell->figure[HP_SPREAD_MARGIN] = 0.5 * factor;
    if (number == SPREAD_DOUBTED && motor % 4 == 0) {
        cell->verdict = HP_VERDICT_STALLED;
        cell->direction = HP_DIRECTION_NONE;
        cell->kind = HP_KIND_NONE;
        cell->figure[HP_SPREAD_SPEED] = 0.0;
        cell->figure[HP_SPREAD_EXCESS] = INFINITY;
    }
}

/* Battery currents follow the resistance of the ensemble, so that there is a driver to show. */
static inline void spread_sample_init(hp_spread *spread)
{
    hp_spread_table table = {.motors = SPREAD_MOTORS};
    table.cell = calloc((size_t)SPREAD_MOTORS * HP_WIRING_COUNT, sizeof *table.cell);
    memset(spread, 0, sizeof *spread);
    if (!table.cell)
        abort();
    spread->plan = hp_spread_plan_default();
    spread->plan.motors = SPREAD_WANTED;
    spread->thresholds = hp_thresholds_default();
    spread->starts = 7;
    for (int motor = 0; motor < SPREAD_MOTORS; motor++) {
        for (int number = 1; number <= HP_WIRING_COUNT; number++) {
            hp_spread_cell *cell = hp_spread_cell_at(&table, motor, number);
            spread_sample_cell(cell, number, motor);
            cell->figure[HP_SPREAD_PHASE_PEAK] =
                20.0 + hp_ensemble_unit(1, HP_VARY_RESISTANCE, motor, SPREAD_WANTED);
        }
    }
    if (hp_spread_summarise(&table, spread, NULL) != HP_OK)
        abort();
    free(table.cell);
}

#endif
