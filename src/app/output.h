/*
 * Files that the program writes.
 *
 * A file appears under its name only when it is whole (base/whole_file.h). "-" is the standard
 * output.
 */
#ifndef HUBPHASE_SRC_APP_OUTPUT_H
#define HUBPHASE_SRC_APP_OUTPUT_H

#include "base/whole_file.h"
#include "hubphase/base/result.h"

#include <stdio.h>

typedef struct hp_output {
    char path[1024]; /* as the user named it */
    FILE *file;      /* to write to; NULL after the end */
    hp_whole_file whole;
} hp_output;

/* Opens `path` for writing. */
hp_result hp_output_open(hp_output *output, const char *path, hp_error *err);
/* Closes and renames. On failure nothing is left behind. */
hp_result hp_output_commit(hp_output *output, hp_error *err);
/* Commits when `written` is HP_OK, else discards and puts the file's name before the error. */
hp_result hp_output_finish(hp_output *output, hp_result written, hp_error *err);
/* Closes and removes the temporary file. Safe on a zeroed or committed one. */
void hp_output_discard(hp_output *output);

/* Makes a folder unless it is there; HP_FAIL_IO when it cannot be made or written into. */
hp_result hp_output_folder(const char *path, hp_error *err);
/* Finds out before the work whether hp_output_folder will succeed; leaves nothing behind. */
hp_result hp_output_folder_try(const char *path, hp_error *err);

#endif
