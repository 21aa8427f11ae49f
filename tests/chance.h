/* What chance allows in a count of cases. */
#ifndef HUBPHASE_TESTS_CHANCE_H
#define HUBPHASE_TESTS_CHANCE_H

#include <math.h>

/* Most of `cases` that chance allows when each fails with this probability: the count that is
 * passed one time in a thousand, by the binomial law. */
static inline int most_by_chance(double probability, int cases)
{
    double term = pow(1.0 - probability, cases), sum = term;
    int count = 0;
    while (sum < 0.999 && count < cases) {
        count++;
        term *= probability / (1.0 - probability) * (cases - count + 1) / count;
        sum += term;
    }
    return count;
}

#endif
