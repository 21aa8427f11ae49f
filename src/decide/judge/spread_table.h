/*
 * What a spread keeps of every wiring of every motor until it is summed up.
 */
#ifndef HUBPHASE_SRC_DECIDE_JUDGE_SPREAD_TABLE_H
#define HUBPHASE_SRC_DECIDE_JUDGE_SPREAD_TABLE_H

#include "hubphase/decide/spread.h"

/* One wiring of one motor. */
typedef struct hp_spread_cell {
    double figure[HP_SPREAD_FIGURE_COUNT]; /* meaningless where undecided */
    double kind_log_ratio;
    double lead;        /* [rad electrical] field ahead of the rotor */
    double alternation; /* hp_figures_alternation; with `lead` it tells the kind */
    unsigned char verdict;
    unsigned char direction;
    unsigned char rotor_direction;
    unsigned char kind;
    unsigned char threshold; /* hp_threshold of the margin */
    unsigned char kind_threshold;
    unsigned char done;
} hp_spread_cell;

typedef struct hp_spread_table {
    hp_spread_cell *cell; /* owned; [motor * HP_WIRING_COUNT + number - 1] */
    int motors;           /* whole motors at its beginning */
} hp_spread_table;

static inline hp_spread_cell *hp_spread_cell_at(const hp_spread_table *table, int motor, int number)
{
    return &table->cell[(size_t)motor * HP_WIRING_COUNT + (size_t)number - 1];
}

/* Sums up the table's whole motors into `spread`, whose plan is set. */
hp_result hp_spread_summarise(const hp_spread_table *table, hp_spread *spread, hp_error *err);

#endif
