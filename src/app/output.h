/*
 * Files that the program writes, and the names that they must not take.
 *
 * A file appears under its name only when it is whole (base/files.h). "-" is the standard output.
 */
#ifndef HUBPHASE_SRC_APP_OUTPUT_H
#define HUBPHASE_SRC_APP_OUTPUT_H

#include "hubphase/base/files.h"
#include "hubphase/base/result.h"

#include <stdio.h>

typedef struct hp_output {
    char path[1024]; /* as the user named it */
    FILE *file;      /* to write to; NULL after the end */
    hp_file whole;
} hp_output;

/* The names that a command reads or writes. Zeroed: none. */
#define HP_OUTPUT_NAMES_MAX 16
#define HP_OUTPUT_NAME_SIZE 1280

typedef struct hp_output_names {
    int count;
    struct {
        char path[HP_OUTPUT_NAME_SIZE];
        const char *what; /* "the bench log itself"; borrowed */
    } item[HP_OUTPUT_NAMES_MAX];
} hp_output_names;

/* Notes an input of the command, which may not be there yet; `what` ends "it is ...". */
void hp_output_names_keep(hp_output_names *names, const char *path, const char *what);
/* Notes an output. HP_FAIL_IO when the name leads to a file that is noted already, through
 * whatever links and spellings; "-" when the standard output is an input's file. */
hp_result hp_output_names_claim(hp_output_names *names, const char *path, hp_error *err);

/* Opens `path` for writing. */
hp_result hp_output_open(hp_output *output, const char *path, hp_error *err);
/* Closes and renames. On failure nothing is left behind. */
hp_result hp_output_commit(hp_output *output, hp_error *err);
/* Commits when `written` is HP_OK, else discards and puts the file's name before the error. */
hp_result hp_output_finish(hp_output *output, hp_result written, hp_error *err);
/* All of it, for bytes that are there. */
hp_result hp_output_put(const char *path, const char *bytes, size_t size, hp_error *err);
/* Closes and removes the temporary file. Safe on a zeroed or committed one. */
void hp_output_discard(hp_output *output);

/* Makes a folder unless it is there, and says whether it did; HP_FAIL_IO when it cannot be made or
 * written into. */
hp_result hp_output_folder(const char *path, bool *made, hp_error *err);

#endif
