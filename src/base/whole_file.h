/*
 * A file that appears under its name only when it is whole.
 *
 * It is written under a temporary name in the same folder and renamed at the end, so a failure
 * leaves nothing half written and an older file of the name stays. Devices and pipes are written
 * straight, since renaming would replace them. It is not brought to the disk: it need not outlast a
 * loss of power.
 */
#ifndef HUBPHASE_SRC_BASE_WHOLE_FILE_H
#define HUBPHASE_SRC_BASE_WHOLE_FILE_H

#include <stdio.h>

#define HP_WHOLE_PATH_SIZE 4096

typedef struct hp_whole_file {
    char path[HP_WHOLE_PATH_SIZE];
    char temporary[HP_WHOLE_PATH_SIZE + 64]; /* written to meanwhile; empty: written straight */
    FILE *file;                              /* owned; NULL after the end */
} hp_whole_file;

/* All return 0, or the cause as a value of errno (EISDIR for a folder, ENOENT for an empty name).
 */
int hp_whole_file_open(hp_whole_file *out, const char *path);
/* Flushes, closes, renames. On failure nothing is left behind. */
int hp_whole_file_commit(hp_whole_file *out);
/* Closes and removes the temporary file. Safe on a zeroed or committed one. */
void hp_whole_file_discard(hp_whole_file *out);

#endif
