/* One file of a part of a spread, read: for joining, and to go on with one that was stopped. */
#ifndef HUBPHASE_SRC_RECORD_SPREAD_PART_READ_H
#define HUBPHASE_SRC_RECORD_SPREAD_PART_READ_H

#include "record/spread/part_text.h"

/* What files are held against: what this spread's own part would say. */
typedef struct hp_part_basis {
    const hp_spread_options *options; /* borrowed */
    char *basis;                      /* owned */
    char *keys;                       /* owned */
} hp_part_basis;

/* HP_FAIL_MEMORY; to be freed all the same. */
hp_result hp_part_basis_make(hp_part_basis *own, const hp_scenario *scenario,
                             const hp_spread_options *options, hp_error *err);
void hp_part_basis_free(hp_part_basis *own);

/* A file while it is read. */
typedef struct hp_part_file {
    const char *path; /* borrowed */
    char *text;       /* owned */
    const char *at;   /* what comes next */
    const char *end;  /* the last line's beginning */
    bool begins;      /* its heading is a part's, whatever follows */
    bool unfinished;  /* it was stopped before its last motor */
    hp_part part;     /* which it is */
} hp_part_file;

/* Reads a file up to its first cell. HP_FAIL_INPUT names it where it cannot be read, is no part, is
 * damaged, or is of another version or spread (begins and unfinished say what its heading says all
 * the same); HP_FAIL_MEMORY. To be closed in any case. */
hp_result hp_part_open(hp_part_file *file, const char *path, const hp_part_basis *own,
                       hp_error *err);
/* Its motors, behind those that the table has; `motors` of them, or fewer of one unfinished. */
hp_result hp_part_take_motors(hp_part_file *file, int motors, hp_spread_table *table,
                              hp_error *err);
void hp_part_close(hp_part_file *file);

/* HP_FAIL_INPUT: the file's name and what is wrong with it. */
hp_result hp_part_refuse(const hp_part_file *file, hp_error *err, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
