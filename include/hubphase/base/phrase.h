/*
 * Phrases: text put together piece by piece into a caller's buffer.
 *
 * What does not fit is cut at the end of a character, so that a phrase is always whole UTF-8.
 */
#ifndef HUBPHASE_BASE_PHRASE_H
#define HUBPHASE_BASE_PHRASE_H

#include "hubphase/base/api.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

HP_API_BEGIN

typedef struct hp_phrase {
    char *out; /* borrowed; always terminated */
    size_t size;
    size_t used; /* bytes so far */
    bool cut;    /* something did not fit */
} hp_phrase;

/* An empty phrase in out[size]; size > 0 (asserted). */
hp_phrase hp_phrase_begin(char *out, size_t size);
/* A phrase that goes on behind the text in out[size]. */
hp_phrase hp_phrase_resume(char *out, size_t size);
void hp_phrase_add(hp_phrase *phrase, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void hp_phrase_add_list(hp_phrase *phrase, const char *format, va_list args)
    __attribute__((format(printf, 2, 0)));
/* Adds ", " unless the phrase is empty. */
void hp_phrase_comma(hp_phrase *phrase);

HP_API_END

#endif
