/*
 * The writer of files where there are none: in the place of base/files.c. Every call fails, and
 * leaves nothing to clean up.
 */
#include "hubphase/base/files.h"

#include <errno.h>
#include <string.h>

int hp_file_open(hp_file *file, const char *path, bool durable)
{
    (void)path;
    (void)durable;
    memset(file, 0, sizeof *file);
    return ENOTSUP;
}

int hp_file_commit(hp_file *file)
{
    (void)file;
    return ENOTSUP;
}

void hp_file_discard(hp_file *file)
{
    (void)file;
}

int hp_file_find(hp_file *file, const char *path)
{
    return hp_file_open(file, path, false);
}

int hp_file_look(hp_file *file)
{
    (void)file;
    return ENOTSUP;
}

int hp_file_begin(hp_file *file, bool durable)
{
    (void)file;
    (void)durable;
    return ENOTSUP;
}

const char *hp_file_cause(int cause)
{
    return strerror(cause);
}

bool hp_file_same(const char *a, const char *b)
{
    (void)a;
    (void)b;
    return false;
}

bool hp_file_is_open_as(const char *path, int descriptor)
{
    (void)path;
    (void)descriptor;
    return false;
}

/* Of sys/file.h, which the C library for WebAssembly lacks. */
int flock(int descriptor, int operation);

int flock(int descriptor, int operation)
{
    (void)descriptor;
    (void)operation;
    errno = ENOTSUP;
    return -1;
}
