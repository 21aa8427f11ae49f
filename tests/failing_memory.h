/*
 * Allocations that fail: `armed` makes the one after `countdown` others return NULL.
 *
 * The linker puts these functions in front of those of the C library for our own code (the tests
 * whose name ends in _memory). Include it once in a program.
 */
#ifndef HUBPHASE_TESTS_FAILING_MEMORY_H
#define HUBPHASE_TESTS_FAILING_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);

static bool armed;
static long countdown; /* allocations before the one that fails */

static bool fails(void)
{
    return armed && countdown-- == 0;
}

void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *block, size_t size)
{
    return fails() ? NULL : __real_realloc(block, size);
}

#endif
