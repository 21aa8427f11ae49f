/*
 * The one way in which this program writes a file.
 *
 * A file appears under its name only when it is whole: it is written under a temporary name in the
 * same folder, which takes the file's name in one step at the end. So a failure leaves nothing half
 * written and an older file of the name stays. A link stays a link: the file that it leads to is
 * replaced. A file that is replaced keeps its mode, and owner and group as far as the system lets
 * us; one that may not be written is not replaced. Devices and pipes are written straight, since
 * renaming would replace them. A hard link keeps the old bytes.
 *
 * Temporaries are called .unfinished-PROCESS.NUMBER-NAME and are locked (flock) by the program that
 * writes them; whoever writes in the folder next removes those that nobody holds any more.
 *
 *     hp_file file;
 *     int cause = hp_file_open(&file, path, false);
 *     ... write to file.file ...
 *     cause = hp_file_commit(&file);
 *
 * Calls that can fail return 0 or the cause: a number of errno (EISDIR for a folder, ENOENT for an
 * empty name), which hp_file_cause puts into words.
 */
#ifndef HUBPHASE_BASE_FILES_H
#define HUBPHASE_BASE_FILES_H

#include "hubphase/base/result.h"

#include <stdbool.h>
#include <stdio.h>
#include <sys/types.h>

HP_API_BEGIN

#define HP_FILE_PATH_SIZE 4096
#define HP_FILE_NAME_SIZE 256

typedef struct hp_file {
    FILE *file; /* owned; between begin and the end */
    bool durable;
    /* Where the name leads. */
    char path[HP_FILE_PATH_SIZE]; /* links at its end followed */
    const char *name;             /* in its folder; points into path */
    int folder;                   /* owned descriptor; -1: none */
    bool there;                   /* something has the name */
    bool plain;                   /* ... and it is a file, no device and no pipe */
    bool dangling;                /* the name given is a link to a file that is not there */
    mode_t mode;                  /* of what is there, as are these */
    uid_t owner;
    gid_t group;
    dev_t device;
    ino_t inode;
    bool taken; /* by commit: the new file has the name, whatever failed after that */
    /* While it is written. */
    int hold; /* owned descriptor that keeps the temporary's lock; -1: none */
    char temporary[HP_FILE_NAME_SIZE]; /* name in the folder; empty: written straight */
} hp_file;

/* Opens for writing. `durable`: on the disk before it takes its name, and the name after that. */
int hp_file_open(hp_file *file, const char *path, bool durable);
/* Flushes, closes, takes the name. On failure nothing is left behind. */
int hp_file_commit(hp_file *file);
/* Closes and removes the temporary. Safe on a zeroed, a committed, and a failed one. */
void hp_file_discard(hp_file *file);

/* The steps of hp_file_open, for who has to do something between them, such as lock the folder. */
int hp_file_find(hp_file *file, const char *path); /* nothing is opened but the folder */
int hp_file_look(hp_file *file);                   /* at the file found, once more */
int hp_file_begin(hp_file *file, bool durable);

/* The cause in words, without a full stop. */
const char *hp_file_cause(int cause);

/* Whether two names lead to one plain file, or would when it is made: through links, hard links,
 * other spellings. False for devices and pipes, which may be written to twice. */
bool hp_file_same(const char *a, const char *b);
/* The same for a name and an open file. */
bool hp_file_is_open_as(const char *path, int descriptor);

HP_API_END

#endif
