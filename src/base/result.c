/* Version, result codes, error text: see the header. */
#include "hubphase/base/result.h"

#include <stdio.h>
#include <string.h>

const char *hp_version(void)
{
    return HP_VERSION;
}

const char *hp_result_name(hp_result code)
{
    switch (code) {
    case HP_OK: return "ok";
    case HP_FAIL_INPUT: return "bad input";
    case HP_FAIL_MEMORY: return "out of memory";
    case HP_FAIL_IO: return "file trouble";
    case HP_FAIL_STEP: return "step collapse";
    case HP_FAIL_NUMBER: return "not a number";
    case HP_FAIL_CHATTER: return "event chatter";
    case HP_FAIL_LIBRARY: return "library failure";
    case HP_FAIL_CANCELLED: return "cancelled";
    case HP_FAIL_ABSENT: return "not built in";
    case HP_FAIL_SLOW: return "too slow";
    }
    return "unknown result";
}

hp_error hp_error_none(void)
{
    return (hp_error){.code = HP_OK, .text = ""};
}

/* Marks a text that did not fit, so that nobody takes the cut for the end. */
static void mark_cut(char *text, int needed)
{
    if (needed >= HP_ERROR_TEXT_SIZE)
        memcpy(text + HP_ERROR_TEXT_SIZE - 4, "...", 4);
}

hp_result hp_error_set(hp_error *err, hp_result code, const char *format, ...)
{
    if (!err)
        return code;
    err->code = code;
    va_list args;
    va_start(args, format);
    int needed = vsnprintf(err->text, sizeof err->text, format, args);
    va_end(args);
    mark_cut(err->text, needed);
    return code;
}

hp_result hp_error_context(hp_error *err, hp_result code, const char *format, ...)
{
    if (!err)
        return code;
    /* What failed without a word of why has failed all the same. */
    if (err->code == HP_OK)
        err->code = code;
    char cause[HP_ERROR_TEXT_SIZE];
    memcpy(cause, err->text, sizeof cause);
    va_list args;
    va_start(args, format);
    int used = vsnprintf(err->text, sizeof err->text, format, args);
    va_end(args);
    if (used < 0 || used >= HP_ERROR_TEXT_SIZE) {
        mark_cut(err->text, used < 0 ? 0 : used);
        return err->code;
    }
    if (cause[0] == '\0')
        return err->code;
    size_t room = sizeof err->text - (size_t)used;
    mark_cut(err->text, used + snprintf(err->text + used, room, ": %s", cause));
    return err->code;
}
