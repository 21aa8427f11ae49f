/* Text put together piece by piece: see the header. */
#include "hubphase/base/text.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

hp_phrase hp_phrase_begin(char *out, size_t size)
{
    assert(size > 0);
    out[0] = '\0';
    return (hp_phrase){.out = out, .size = size};
}

hp_phrase hp_phrase_resume(char *out, size_t size)
{
    size_t used = strlen(out);
    assert(used < size);
    return (hp_phrase){.out = out, .size = size, .used = used};
}

/* A cut in the middle of a character would leave bytes that are no text. */
static void cut_whole(char *text)
{
    char *at = text;
    unsigned character;
    while (*at) {
        int length = hp_text_character(at, &character);
        if (length == 0) {
            *at = '\0';
            return;
        }
        at += length;
    }
}

void hp_phrase_add_list(hp_phrase *phrase, const char *format, va_list args)
{
    size_t room = phrase->size - phrase->used;
    int length = vsnprintf(phrase->out + phrase->used, room, format, args);
    if (length > 0 && (size_t)length >= room) {
        phrase->cut = true;
        cut_whole(phrase->out);
    }
    phrase->used += strlen(phrase->out + phrase->used);
}

void hp_phrase_add(hp_phrase *phrase, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    hp_phrase_add_list(phrase, format, args);
    va_end(args);
}

void hp_phrase_comma(hp_phrase *phrase)
{
    if (phrase->used > 0)
        hp_phrase_add(phrase, ", ");
}
