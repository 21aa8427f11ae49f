/*
 * What every public header begins with: C linkage, visibility, version; result codes, error text.
 *
 * What a public header declares between HP_API_BEGIN and HP_API_END can be called from C and C++
 * and is seen from outside the shared library; every other symbol of the library is hidden there.
 *
 * Every call that can fail returns an hp_result and takes a nullable hp_error last. The first
 * failure sets the text; callers on the way up add context in front and never overwrite the cause.
 * Mistakes of the program itself are asserted, mistakes in data come back through here.
 */
#ifndef HUBPHASE_BASE_RESULT_H
#define HUBPHASE_BASE_RESULT_H

#include <stdarg.h>

/* Semantic versioning (semver.org, 2.0.0): while the first number is 0, any change of the second
 * may break users. */
#define HP_VERSION_MAJOR 0
#define HP_VERSION_MINOR 1
#define HP_VERSION_PATCH 0

#define HP_VERSION_TEXT(number)  #number
#define HP_VERSION_JOIN(a, b, c) HP_VERSION_TEXT(a) "." HP_VERSION_TEXT(b) "." HP_VERSION_TEXT(c)
/* "0.1.0": of the headers that a program was compiled with. */
#define HP_VERSION HP_VERSION_JOIN(HP_VERSION_MAJOR, HP_VERSION_MINOR, HP_VERSION_PATCH)

#ifdef __cplusplus
#define HP_API_BEGIN                                                                               \
    extern "C" {                                                                                   \
    _Pragma("GCC visibility push(default)")
#define HP_API_END                                                                                 \
    _Pragma("GCC visibility pop")                                                                  \
    }
#else
#define HP_API_BEGIN _Pragma("GCC visibility push(default)")
#define HP_API_END   _Pragma("GCC visibility pop")
#endif

HP_API_BEGIN

/* "0.1.0": of the library that a program runs with; static storage. */
const char *hp_version(void);

typedef enum hp_result {
    HP_OK = 0,
    HP_FAIL_INPUT = -1,     /* a value is missing, out of range or contradicts another */
    HP_FAIL_MEMORY = -2,    /* an allocation failed */
    HP_FAIL_IO = -3,        /* a file could not be read or written */
    HP_FAIL_STEP = -4,      /* the integrator's step collapsed */
    HP_FAIL_NUMBER = -5,    /* a state became infinite or not a number */
    HP_FAIL_CHATTER = -6,   /* more events than the cap allows */
    HP_FAIL_LIBRARY = -7,   /* a library that we call failed */
    HP_FAIL_CANCELLED = -8, /* the caller asked to stop */
    HP_FAIL_ABSENT = -9,    /* this build is without what it takes */
    HP_FAIL_SLOW = -10      /* a run takes more steps than it may */
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

/* Puts "context: " in front of the text and returns err->code, or `code` where err is NULL or says
 * nothing yet: it then becomes the error's. */
hp_result hp_error_context(hp_error *err, hp_result code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

HP_API_END

#endif
