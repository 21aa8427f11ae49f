/*
 * To be preloaded: the FAIL_AT-th allocation that libfyaml asks for gets nothing, as when memory
 * runs out inside it. Every other caller, and every other allocation, gets what it asks for.
 */
#include <dlfcn.h>
#include <errno.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

void *malloc(size_t size);
void *calloc(size_t count, size_t size);
void *realloc(void *block, size_t size);

/* The C library's own, under the names by which it lets others stand in for them (glibc). */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);

static bool fails(void *caller)
{
    static long left = -2;
    Dl_info info;
    if (left == -2)
        left = getenv("FAIL_AT") ? strtol(getenv("FAIL_AT"), NULL, 10) : -1;
    if (left < 0 || !dladdr(caller, &info) || !info.dli_fname || !strstr(info.dli_fname, "fyaml"))
        return false;
    if (left-- > 0)
        return false;
    errno = ENOMEM;
    return true;
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
