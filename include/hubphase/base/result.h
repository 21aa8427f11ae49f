/*
 * Result codes and error text.
 *
 * Every call that can fail returns an hp_result and takes a nullable hp_error last. The first
 * failure sets the text; callers on the way up add context in front and never overwrite the cause.
 * Mistakes of the program itself are asserted, mistakes in data come back through here.
 */
#ifndef HUBPHASE_BASE_RESULT_H
#define HUBPHASE_BASE_RESULT_H

#include "hubphase/base/api.h"

#include <stdarg.h>

HP_API_BEGIN

typedef enum hp_result {
    HP_OK = 0,
    HP_FAIL_INPUT = -1,    /* a value is missing, out of range or contradicts another */
    HP_FAIL_MEMORY = -2,   /* an allocation failed */
    HP_FAIL_IO = -3,       /* a file could not be read or written */
    HP_FAIL_STEP = -4,     /* the integrator's step collapsed */
    HP_FAIL_NUMBER = -5,   /* a state became infinite or not a number */
    HP_FAIL_CHATTER = -6,  /* more events than the cap allows */
    HP_FAIL_LIBRARY = -7,  /* a library that we call failed */
    HP_FAIL_CANCELLED = -8 /* the caller asked to stop */
} hp_result;

#define HP_ERROR_TEXT_SIZE 1024

typedef struct hp_error {
    hp_result code;
    char text[HP_ERROR_TEXT_SIZE]; /* one line, no newline, always terminated; cut with "..." */
} hp_error;

/* Short name of a code, such as "bad input"; static storage. Any int is safe to pass. */
const char *hp_result_name(hp_result code);

/* An empty error: HP_OK and no text. */
hp_error hp_error_none(void);

/* Sets code and text (printf style) and returns the code, so that a caller can
 * `return hp_error_set(err, HP_FAIL_INPUT, "...")`. err may be NULL. */
hp_result hp_error_set(hp_error *err, hp_result code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Puts "context: " in front of the text and returns err->code (or `code` when err is NULL). */
hp_result hp_error_context(hp_error *err, hp_result code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

HP_API_END

#endif
