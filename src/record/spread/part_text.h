/*
 * What the writer and the reader of a part of a spread share.
 *
 *     hubphase spread part 1
 *     version 0.1.0 TABLE            of the library, and the check sum of its likelihood table,
 *                                    which is built anew whenever what is simulated changes
 *     motor 23 0.095 ...             the basis: everything that the cells follow from, exactly
 *     ...
 *       motor.pole_pairs 23          the scenario's keys, to say in what a foreign part differs
 *       ...
 *     part 2 of 4
 *     020000...                      one line a cell, of each motor the wirings that are run
 *     sum CHECKSUM                   of all above
 */
#ifndef HUBPHASE_SRC_RECORD_SPREAD_PART_TEXT_H
#define HUBPHASE_SRC_RECORD_SPREAD_PART_TEXT_H

#include "decide/judge/spread_table.h"
#include "hubphase/record/spread_part.h"

#define HP_PART_HEADING    "hubphase spread part 1\n"
#define HP_PART_UNFINISHED "hubphase spread unfinished part 1\n" /* there are motors to come */
#define HP_PART_INDENT     "  "

/* "version ...\n" into out[size]; returned. */
char *hp_part_version(char *out, size_t size);
void hp_part_put_basis(FILE *out, const hp_scenario *scenario, const hp_spread_options *options);
void hp_part_put_keys(FILE *out, const hp_scenario *scenario);

/* Bytes that stand first in a cell, two digits each, then doubles, sixteen digits of their bits. */
enum { HP_PART_BYTES = 6, HP_PART_DOUBLES = HP_SPREAD_FIGURE_COUNT + 1 };
#define HP_PART_CELL_DIGITS (2 * HP_PART_BYTES + 16 * HP_PART_DOUBLES)

#endif
