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
    hp_spread_cell *cell;       /* owned; [(motor - begin) * HP_WIRING_COUNT + number - 1] */
    int begin;                  /* the ensemble's motor that comes first; 0 unless it is a part */
    int of;                     /* motors that it has room for */
    int motors;                 /* whole motors at its beginning */
    int first[HP_WIRING_COUNT]; /* [number - 1] the wiring whose runs stand for this one's */
} hp_spread_table;

static inline hp_spread_cell *hp_spread_cell_at(const hp_spread_table *table, int motor, int number)
{
    return &table->cell[(size_t)(motor - table->begin) * HP_WIRING_COUNT + (size_t)number - 1];
}

/* An empty table for the motors begin .. begin + motors - 1, whose `motors` is 0 as yet. Its cells
 * are undecided. HP_FAIL_MEMORY. */
hp_result hp_spread_table_make(hp_spread_table *table, const hp_drive *nominal, int begin,
                               int motors, hp_error *err);
void hp_spread_table_free(hp_spread_table *table);

/* What a spread with these options is refused for. */
hp_result hp_spread_check(const hp_drive *nominal, const hp_spread_options *options, hp_error *err);

/* Surveys the motors of the table that come after those that are whole, `motors` of them at most.
 * When the work was stopped fewer are whole in the end, with HP_FAIL_CANCELLED; it may go on. */
hp_result hp_spread_fill(const hp_drive *nominal, const hp_spread_options *options, int motors,
                         hp_spread_table *table, hp_error *err);

/* Makes a spread of the table's whole motors. */
hp_result hp_spread_from_table(const hp_spread_options *options, const hp_spread_table *table,
                               hp_spread *spread, hp_error *err);

/* Sums up the table's whole motors into `spread`, whose plan is set. */
hp_result hp_spread_summarise(const hp_spread_table *table, hp_spread *spread, hp_error *err);

#endif
