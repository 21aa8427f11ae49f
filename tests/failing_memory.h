/*
 * Allocations that fail: `armed` makes the one after `countdown` others return NULL.
 *
 * The linker puts these functions in front of those of the C library for our own code (the tests
 * whose name ends in _memory). Include it once in a program.
 *
 * A stream in memory is one of our own here, since that of the C library keeps the real functions:
 * opening it and taking a block of bytes are allocations like any other. jansson takes our
 * functions too once fail_in_json was called; libfyaml, Cairo and PLplot keep theirs.
 */
#ifndef HUBPHASE_TESTS_FAILING_MEMORY_H
#define HUBPHASE_TESTS_FAILING_MEMORY_H

#include "check.h"

#include "hubphase/base/result.h"

#include <errno.h>
#include <jansson.h>
#include <stdbool.h>
#include <stdlib.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
FILE *__wrap_open_memstream(char **text, size_t *size);

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

/* ---- streams in memory ----------------------------------------------------------------------- */

/* What a stream has taken; the caller's variables are set when it is flushed, as with the real one.
 */
typedef struct memory_stream {
    char **text;
    size_t *size;
} memory_stream;

static ssize_t memory_stream_write(void *cookie, const char *bytes, size_t count)
{
    memory_stream *s = cookie;
    char *grown = fails() ? NULL : __real_realloc(*s->text, *s->size + count + 1);
    if (!grown) {
        errno = ENOMEM;
        return 0;
    }
    memcpy(grown + *s->size, bytes, count);
    *s->text = grown;
    *s->size += count;
    grown[*s->size] = '\0';
    return (ssize_t)count;
}

static int memory_stream_close(void *cookie)
{
    free(cookie);
    return 0;
}

FILE *__wrap_open_memstream(char **text, size_t *size)
{
    static const cookie_io_functions_t functions = {.write = memory_stream_write,
                                                    .close = memory_stream_close};
    memory_stream *s = fails() ? NULL : __real_malloc(sizeof *s);
    char *empty = s ? __real_calloc(1, 1) : NULL;
    FILE *stream = empty ? fopencookie(s, "w", functions) : NULL;
    if (!stream) {
        free(empty);
        free(s);
        return NULL;
    }
    *s = (memory_stream){text, size};
    *text = empty;
    *size = 0;
    return stream;
}

/* ---- streams that only remember -------------------------------------------------------------- */

/* What the work of a test wrote, as a sum (FNV-1a) over its bytes. */
static bool written;
static uint64_t written_sum;

static inline ssize_t sum_write(void *cookie, const char *bytes, size_t count)
{
    (void)cookie;
    for (size_t k = 0; k < count; k++)
        written_sum = (written_sum ^ (unsigned char)bytes[k]) * 0x100000001b3u;
    return (ssize_t)count;
}

/* A stream for the output of the work; costs no allocation that is counted. */
static inline FILE *open_sum(void)
{
    static const cookie_io_functions_t functions = {.write = sum_write};
    FILE *stream = fopencookie(NULL, "w", functions);
    assert_non_null(stream);
    written = true;
    return stream;
}

/* ---- every failure --------------------------------------------------------------------------- */

/* For the tests of code that makes JSON. */
static inline void fail_in_json(void)
{
    json_set_alloc_funcs(__wrap_malloc, free);
}

/* Does the work again and again, with one allocation after the other failing, until none does; then
 * the work has ended well. A failure is told, unless the work did without: then it has written the
 * same bytes as ever. `work` begins from the same state each time and leaves nothing behind when it
 * fails; `check` (may be NULL) looks whether what it was given is unharmed. Returns how many
 * allocations there are. */
static inline long fail_every_allocation(hp_result (*work)(void *user, hp_error *err),
                                         void (*check)(void *user, bool failed), void *user)
{
    uint64_t failed_sum[2] = {0, 0}; /* least and most of the sums that failures wrote */
    bool did_without = false;
    for (long k = 0;; k++) {
        hp_error err = hp_error_none();
        written = false;
        written_sum = 0xcbf29ce484222325u;
        countdown = k;
        armed = true;
        hp_result result = work(user, &err);
        armed = false;
        bool failed = countdown < 0;
        if (failed && result == HP_OK && written) {
            failed_sum[0] =
                did_without && failed_sum[0] < written_sum ? failed_sum[0] : written_sum;
            failed_sum[1] =
                did_without && failed_sum[1] > written_sum ? failed_sum[1] : written_sum;
            did_without = true;
        } else if (failed) {
            check_true(result == HP_FAIL_MEMORY, "allocation %ld of them failed: %d, \"%s\"", k,
                       (int)result, err.text);
            check_int(err.code, HP_FAIL_MEMORY);
            check_text_contains(err.text, "memory");
        } else {
            check_true(result == HP_OK, "without a failure: %d, \"%s\"", (int)result, err.text);
        }
        if (check)
            check(user, failed);
        if (failed)
            continue;
        if (did_without)
            check_true(failed_sum[0] == written_sum && failed_sum[1] == written_sum,
                       "an allocation failed, and other bytes were written without a word");
        return k;
    }
}

#endif
