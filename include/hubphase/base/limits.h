/* What a number that people give may be, in the unit that it is given in. */
#ifndef HUBPHASE_BASE_LIMITS_H
#define HUBPHASE_BASE_LIMITS_H

#include "hubphase/base/api.h"

#include <stdbool.h>

HP_API_BEGIN

typedef struct hp_limits {
    const char *unit; /* such as "ohm"; "" for a plain number */
    double low, high;
    bool above; /* low itself is too little */
    bool whole; /* no fractions */
    bool none;  /* a word for nothing is allowed, too: `none` in a scenario, where it gives 0 */
} hp_limits;

HP_API_END

#endif
