/*
 * Checks of parameters: what a check must refuse, and the limits of every number in a struct.
 */
#ifndef HUBPHASE_TESTS_FIELD_LIMITS_H
#define HUBPHASE_TESTS_FIELD_LIMITS_H

#include "check.h"

#include "hubphase/base/result.h"

#include <stddef.h>

/* The call, which hands `&refusal` on as its hp_error, fails as bad input and says `part`. */
#define check_refused(call, part)                                                                  \
    do {                                                                                           \
        hp_error refusal = hp_error_none();                                                        \
        check_int((call), HP_FAIL_INPUT);                                                          \
        check_int(refusal.code, HP_FAIL_INPUT);                                                    \
        check_text_contains(refusal.text, (part));                                                 \
    } while (0)

/* The call, which hands `&refusal` on as its hp_error, succeeds and leaves the error empty. */
#define check_accepted(call)                                                                       \
    do {                                                                                           \
        hp_error refusal = hp_error_none();                                                        \
        hp_result result = (call);                                                                 \
        check_true(result == HP_OK, "refused: %s", refusal.text);                                  \
        assert_string_equal(refusal.text, "");                                                     \
    } while (0)

/* One double of a parameter struct. */
typedef struct field_limit {
    const char *text; /* how its refusal names it */
    size_t offset;
    double least, most;  /* accepted */
    double below, above; /* refused */
} field_limit;

typedef hp_result (*limit_check)(const void *params, hp_error *err);

/* Puts limits, values beyond them, NaN and both infinities into each field of a good struct. */
static inline void check_field_limits(const void *good, size_t size, limit_check check,
                                      const field_limit *field, size_t count)
{
    _Alignas(16) unsigned char copy[4096];
    check_true(size <= sizeof copy, "%zu bytes", size);
    for (size_t k = 0; k < count; k++) {
        const double accepted[] = {field[k].least, field[k].most};
        const double refused[] = {field[k].below, field[k].above, NAN, INFINITY, -INFINITY};
        double *value = (double *)(void *)(copy + field[k].offset);
        memcpy(copy, good, size);
        for (size_t n = 0; n < sizeof accepted / sizeof accepted[0]; n++) {
            *value = accepted[n];
            check_accepted(check(copy, &refusal));
        }
        for (size_t n = 0; n < sizeof refused / sizeof refused[0]; n++) {
            *value = refused[n];
            check_refused(check(copy, &refusal), field[k].text);
            check_int(check(copy, NULL), HP_FAIL_INPUT);
        }
    }
}

#endif
