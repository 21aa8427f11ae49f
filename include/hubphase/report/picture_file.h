/*
 * A file that appears under its name only when it is whole.
 */
#ifndef HUBPHASE_REPORT_PICTURE_FILE_H
#define HUBPHASE_REPORT_PICTURE_FILE_H

#include "hubphase/base/result.h"

#include <stddef.h>
#include <stdio.h>

typedef struct hp_picture_file {
    const char *path;     /* borrowed, as the caller named it */
    char temporary[4096]; /* written meanwhile, in the same folder; empty for a device or pipe */
    FILE *file;           /* owned; NULL after the end */
} hp_picture_file;

/* Finds out whether the file can be written, before any work is done for it. */
hp_result hp_picture_file_open(hp_picture_file *out, const char *path, hp_error *err);
/* Writes, closes, renames. On failure nothing is left behind and an older file stays. */
hp_result hp_picture_file_commit(hp_picture_file *out, const char *bytes, size_t size,
                                 hp_error *err);
/* Closes and removes the temporary file. Safe on a zeroed or committed one. */
void hp_picture_file_discard(hp_picture_file *out);

#endif
