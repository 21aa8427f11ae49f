/*
 * To be preloaded: an allocation inside a library gets nothing, as when memory runs out there.
 * Every other caller, and every other allocation, gets what it asks for.
 *
 *   FAIL_IN    part of the library's file name, such as "fyaml"
 *   FAIL_AT    which of its allocations, from 0; not set: none fails
 *   FAIL_NOTE  a file that takes one byte for the one that failed; for each, where none fails
 *
 * Left out is what libraries do when they are loaded, before the program begins.
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void *malloc(size_t size);
void *calloc(size_t count, size_t size);
void *realloc(void *block, size_t size);

/* The C library's own, under the names by which it lets others stand in for them (glibc). */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);

static bool loaded;

/* The first library to be loaded is the last of which this is called. */
__attribute__((constructor)) static void note_loaded(void)
{
    loaded = true;
}

/* Without a stream, which would allocate. */
static void note(void)
{
    const char *name = getenv("FAIL_NOTE");
    int file = name ? open(name, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0666) : -1;
    if (file < 0)
        return;
    ssize_t written = write(file, "x", 1);
    (void)written;
    close(file);
}

static bool fails(const void *caller)
{
    static long left = -2; /* before the one that fails; -1: none does, or it is past */
    static bool counts;
    static __thread bool inside; /* dladdr may allocate */
    const char *library = getenv("FAIL_IN");
    Dl_info info;
    if (!loaded || inside || !library)
        return false;
    inside = true;
    bool theirs =
        dladdr(caller, &info) != 0 && info.dli_fname && strstr(info.dli_fname, library) != NULL;
    inside = false;
    if (!theirs)
        return false;
    if (left == -2) {
        counts = !getenv("FAIL_AT");
        left = counts ? -1 : strtol(getenv("FAIL_AT"), NULL, 10);
    }
    bool now = left == 0;
    left -= left >= 0;
    if (counts || now)
        note();
    if (now)
        errno = ENOMEM;
    return now;
}

void *malloc(size_t size)
{
    return fails(__builtin_return_address(0)) ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return fails(__builtin_return_address(0)) ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size)
{
    return fails(__builtin_return_address(0)) ? NULL : __libc_realloc(block, size);
}
