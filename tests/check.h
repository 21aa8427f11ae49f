/*
 * Assertions that cmocka 1.1.5 lacks: doubles with value, tolerance and the tolerance's reason.
 * Include in place of cmocka.h.
 */
#ifndef HUBPHASE_TESTS_CHECK_H
#define HUBPHASE_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

/* How many draws: `all` of them, or `watched` ones where the sanitizers watch, or lines are counted
 * (tests/coverage.sh). They look at code, which the first draws run through, and make a run ten
 * times slower; what all draws say is held by the optimised build. */
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || defined(HP_FEW_DRAWS)
#define HP_DRAWS(all, watched) (watched)
#else
#define HP_DRAWS(all, watched) (all)
#endif

/* Ends a test there that is about figures alone, of code that its neighbours run. */
#define HP_FIGURES_ALONE()                                                                         \
    do {                                                                                           \
        if (HP_DRAWS(0, 1))                                                                        \
            skip();                                                                                \
    } while (0)

static inline void check_close_at(const char *what, double value, double expected, double tolerance,
                                  const char *reason, const char *file, int line)
{
    /* Written so that a NaN fails. */
    if (fabs(value - expected) <= tolerance)
        return;
    print_error("%s is %.15g, expected %.15g: off by %.3g, tolerance %.3g (%s)\n", what, value,
                expected, value - expected, tolerance, reason);
    _fail(file, line);
}

/* |value - expected| <= tolerance, absolute; reason: where the tolerance comes from. */
#define check_close(value, expected, tolerance, reason)                                            \
    check_close_at(#value, (value), (expected), (tolerance), (reason), __FILE__, __LINE__)

/* The same with a tolerance relative to |expected|. */
#define check_relative(value, expected, tolerance, reason)                                         \
    check_close_at(#value, (value), (expected), (tolerance)*fabs(expected), (reason), __FILE__,    \
                   __LINE__)

static inline void check_int_at(const char *what, long long value, long long expected,
                                const char *file, int line)
{
    if (value == expected)
        return;
    print_error("%s is %lld, expected %lld\n", what, value, expected);
    _fail(file, line);
}

/* Integers printed in decimal. */
#define check_int(value, expected) check_int_at(#value, (value), (expected), __FILE__, __LINE__)

/* The condition with a printf-style account of what was found. */
#define check_true(condition, ...)                                                                 \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            print_error("not true: %s: ", #condition);                                             \
            print_error(__VA_ARGS__);                                                              \
            print_error("\n");                                                                     \
            _fail(__FILE__, __LINE__);                                                             \
        }                                                                                          \
    } while (0)

#define check_text_contains(text, part)                                                            \
    check_true(strstr((text), (part)) != NULL, "\"%s\" is not in \"%s\"", (part), (text))

#endif
