/* Order statistics: see the header. */
#include "base/rank.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* 2^-30 is about 1e-9. */
#define ROUNDED_BITS 30

static int compare_values(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

double hp_rounded(double value)
{
    int exponent;
    double fraction = frexp(value, &exponent);
    return isfinite(value) ? ldexp(rint(ldexp(fraction, ROUNDED_BITS)), exponent - ROUNDED_BITS)
                           : value;
}

void hp_sort(double *value, size_t count)
{
    if (count > 1)
        qsort(value, count, sizeof *value, compare_values);
}

double hp_quantile(const double *sorted, size_t count, double share)
{
    assert(share >= 0.0 && share <= 1.0);
    if (count == 0)
        return NAN;
    double place = share * (double)(count - 1);
    size_t below = (size_t)place;
    double part = place - (double)below;
    /* Between equal neighbours nothing is computed: two infinities have no difference. */
    if (part == 0.0 || sorted[below] == sorted[below + 1])
        return sorted[below];
    return sorted[below] + part * (sorted[below + 1] - sorted[below]);
}

/* By value, then by place, so that the order is the same on every system. */
static int compare_ranked(const void *a, const void *b)
{
    const hp_ranked *left = a, *right = b;
    if (left->value != right->value)
        return left->value < right->value ? -1 : 1;
    return (left->index > right->index) - (left->index < right->index);
}

void hp_rank(const double *value, size_t count, hp_ranked *scratch, double *rank)
{
    for (size_t k = 0; k < count; k++)
        scratch[k] = (hp_ranked){.value = value[k], .index = k};
    if (count > 1)
        qsort(scratch, count, sizeof *scratch, compare_ranked);
    for (size_t first = 0, next; first < count; first = next) {
        next = first + 1;
        while (next < count && scratch[next].value == scratch[first].value)
            next++;
        double shared = 0.5 * (double)(first + 1 + next);
        for (size_t k = first; k < next; k++)
            rank[scratch[k].index] = shared;
    }
}

double hp_correlation(const double *a, const double *b, size_t count)
{
    double mean_a = 0.0, mean_b = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;
    if (count < 2)
        return NAN;
    /* Counted from the first value, a row that does not vary gives exact zeros. */
    for (size_t k = 0; k < count; k++) {
        mean_a += (a[k] - a[0]) / (double)count;
        mean_b += (b[k] - b[0]) / (double)count;
    }
    for (size_t k = 0; k < count; k++) {
        double from_a = a[k] - a[0] - mean_a, from_b = b[k] - b[0] - mean_b;
        aa += from_a * from_a;
        bb += from_b * from_b;
        ab += from_a * from_b;
    }
    if (!(aa > 0.0 && bb > 0.0))
        return NAN;
    /* Rounding must not lead past the bounds. */
    return fmin(fmax(ab / sqrt(aa * bb), -1.0), 1.0);
}
