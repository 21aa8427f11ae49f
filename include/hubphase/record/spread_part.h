/*
 * A spread in parts: each worked out by itself, on whatever machine, and kept in a file; joined
 * they give the spread that one run would have given, to the last bit.
 *
 * Part k of n surveys the motors motors * (k - 1) / n up to motors * k / n of the ensemble. A file
 * holds what hp_spread keeps of each, the scenario's figures, the version of the library, and a
 * check sum.
 */
#ifndef HUBPHASE_RECORD_SPREAD_PART_H
#define HUBPHASE_RECORD_SPREAD_PART_H

#include "hubphase/base/result.h"
#include "hubphase/decide/spread.h"
#include "hubphase/record/scenario.h"

#include <stdio.h>

HP_API_BEGIN

typedef struct hp_part {
    int number; /* 1..of */
    int of;     /* 1..the plan's motors */
} hp_part;

/* HP_FAIL_INPUT naming the number that is out of range. */
hp_result hp_part_check(const hp_part *part, const hp_spread_plan *plan, hp_error *err);
/* Of the ensemble, the first motor of a part and how many it has. */
void hp_part_motors(const hp_part *part, const hp_spread_plan *plan, int *begin, int *motors);

/* Surveys the motors of one part and writes them. The drive and the list of parameters come from
 * the scenario, all else from the options. *done says how many motors it has in the end: fewer than
 * hp_part_motors has when it was stopped. Such a part is written as unfinished, which no one joins;
 * with its path as `earlier` the same call goes on from there, and a whole part has the same bytes
 * however often it was stopped; from a whole one nothing is surveyed again. `earlier` (may be NULL)
 * may be any file or none: only a part counts. HP_FAIL_INPUT when it is one, but damaged or of
 * another spread or part; HP_FAIL_CANCELLED when not one motor is done: nothing is written. */
hp_result hp_part_write(const hp_scenario *scenario, const hp_spread_options *options,
                        const hp_part *part, const char *earlier, FILE *out, int *done,
                        hp_error *err);

/* Joins all parts of a spread, in any order. HP_FAIL_INPUT names the file that is damaged, was
 * written of another scenario, with other options or by another version, or stands there twice, and
 * the parts that are missing. The same bytes in `spread` as from hp_spread_run. */
hp_result hp_parts_join(const hp_scenario *scenario, const hp_spread_options *options,
                        const char *const *path, int paths, hp_spread *spread, hp_error *err);

HP_API_END

#endif
