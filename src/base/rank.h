/*
 * Order statistics: quantiles, ranks, and the correlation of ranks.
 *
 * Values may be infinite; NaN must be left out by the caller.
 */
#ifndef HUBPHASE_SRC_BASE_RANK_H
#define HUBPHASE_SRC_BASE_RANK_H

#include <stddef.h>

/* A value and where it came from, while values are put into order. */
typedef struct hp_ranked {
    double value;
    size_t index;
} hp_ranked;

/* The value without its last bits, to nine figures or so. Numbers that are worked out on another
 * machine may differ in those; who sorts by what this returns puts them in one order everywhere. */
double hp_rounded(double value);

/* Sorts values into increasing order. */
void hp_sort(double *value, size_t count);

/* Quantile `share` (0..1) of increasing values: linear between the two neighbours, so that share 0
 * is the least and share 1 the largest (type 7 of Hyndman & Fan, The American Statistician
 * 50(4):361-365, 1996; from memory). NAN when there is none. */
double hp_quantile(const double *sorted, size_t count, double share);

/* Ranks 1 .. count into rank[]; equal values share the mean of their ranks. scratch holds `count`
 * entries. */
void hp_rank(const double *value, size_t count, hp_ranked *scratch, double *rank);

/* Pearson's correlation of two rows of numbers; of ranks it is Spearman's rank correlation
 * (C. Spearman, American Journal of Psychology 15(1):72-101, 1904; from memory). NAN where either
 * row does not vary or there are fewer than two. */
double hp_correlation(const double *a, const double *b, size_t count);

#endif
