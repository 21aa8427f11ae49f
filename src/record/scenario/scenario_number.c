/* Numbers as a scenario may spell them: see the header. */
#include "record/scenario/scenario_number.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define DIGITS "0123456789"

/* Length of [sign] digits [. digits] [exponent] at the start of the text; 0 when there is none. */
static size_t number_length(const char *text)
{
    const char *s = text + (text[0] == '+' || text[0] == '-');
    size_t whole = strspn(s, DIGITS), part = 0;
    s += whole;
    if (s[0] == '.') {
        part = strspn(s + 1, DIGITS);
        s += 1 + part;
    }
    if (whole + part == 0)
        return 0;
    if (s[0] == 'e' || s[0] == 'E') {
        const char *digits = s + 1 + (s[1] == '+' || s[1] == '-');
        size_t exponent = strspn(digits, DIGITS);
        if (exponent > 0)
            s = digits + exponent;
    }
    return (size_t)(s - text);
}

static bool is_word(const char *text, const char *word)
{
    const char *s = text + (text[0] == '+' || text[0] == '-');
    s += s[0] == '.';
    return strcasecmp(s, word) == 0;
}

/* Whether digits, and nothing but digits and more such groups, follow. */
static bool is_grouped(const char *rest)
{
    while (*rest) {
        size_t digits = strspn(rest + 1, DIGITS);
        if (!strchr(" _',.", rest[0]) || digits == 0)
            return false;
        rest += 1 + digits;
    }
    return true;
}

/* What follows a proper number. */
static hp_number_fault fault_of_rest(const char *text, const char *rest)
{
    if (text[0] == '0' && strchr("xXoObB", rest[0]) && rest[1])
        return HP_NUMBER_BASE;
    if (rest[0] == ',' && rest[1 + strspn(rest + 1, DIGITS)] == '\0' && rest[1])
        return HP_NUMBER_COMMA;
    if (is_grouped(rest))
        return HP_NUMBER_GROUPED;
    rest += strspn(rest, " ");
    bool letter = (unsigned char)rest[0] >= 0x80 || rest[0] == '%' ||
                  strspn(rest, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ") > 0;
    return letter ? HP_NUMBER_UNIT : HP_NUMBER_WORD;
}

hp_number_fault hp_number_read(const char *text, double *value)
{
    if (is_word(text, "nan"))
        return HP_NUMBER_NAN;
    if (is_word(text, "inf") || is_word(text, "infinity"))
        return HP_NUMBER_INFINITE;
    size_t length = number_length(text);
    if (length == 0)
        return HP_NUMBER_WORD;
    if (text[length])
        return fault_of_rest(text, text + length);
    /* A locale with a decimal comma would stop at the point: then it is a word, never half a
     * number. */
    char *end = NULL;
    double number = strtod(text, &end);
    if (*end)
        return HP_NUMBER_WORD;
    if (!isfinite(number))
        return HP_NUMBER_INFINITE;
    *value = number;
    return HP_NUMBER_FINE;
}

char *hp_number_hint(hp_number_fault fault, const char *text, const char *unit, char *out,
                     size_t size)
{
    size_t length = number_length(text);
    int digits = length < 60 ? (int)length : 60;
    switch (fault) {
    case HP_NUMBER_COMMA:
        snprintf(out, size, ": write %.*s.%s, with a decimal point", digits, text,
                 text + length + 1);
        break;
    case HP_NUMBER_UNIT:
        /* "210 mohm" is not 210 of the ohms that are wanted. */
        if (unit[0] && strcmp(text + length + strspn(text + length, " \t"), unit) != 0)
            snprintf(out, size, ": give it in %s, and write the number alone", unit);
        else if (unit[0])
            snprintf(out, size, ": write %.*s alone, without the unit", digits, text);
        else
            snprintf(out, size, ": write %.*s alone, it has no unit", digits, text);
        break;
    case HP_NUMBER_GROUPED: snprintf(out, size, ": write the digits without gaps"); break;
    case HP_NUMBER_BASE: snprintf(out, size, ": write it in decimal"); break;
    case HP_NUMBER_NAN:
    case HP_NUMBER_INFINITE: snprintf(out, size, ": it must be finite"); break;
    case HP_NUMBER_FINE:
    case HP_NUMBER_WORD: out[0] = '\0'; break;
    }
    return out;
}
