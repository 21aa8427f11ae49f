/* Numbers as a scenario may spell them: see the header. */
#include "record/scenario/scenario_number.h"

#include "hubphase/base/text.h"

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
    bool pointed = memchr(text, '.', (size_t)(rest - text)) != NULL;
    if (rest[0] == ',' && rest[1 + strspn(rest + 1, DIGITS)] == '\0' && rest[1] && !pointed)
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

bool hp_number_fits(double number, const hp_limits *limits)
{
    bool enough = limits->above ? number > limits->low : number >= limits->low;
    return enough && number <= limits->high && (!limits->whole || number == floor(number));
}

/* Whether a text is a number that may stand here. */
static bool may_stand(const char *text, const hp_limits *limits)
{
    double number;
    return hp_number_read(text, &number) == HP_NUMBER_FINE && hp_number_fits(number, limits);
}

/* "1.215,5" as "1215.5": of two kinds of separators the last is the decimal one. Empty: there are
 * no two. Returns out. */
static char *without_groups(const char *text, char *out, size_t size)
{
    const char *point = strrchr(text, '.'), *comma = strrchr(text, ',');
    size_t length = 0;
    out[0] = '\0';
    if (!point || !comma)
        return out;
    const char *last = point > comma ? point : comma;
    if (strchr(text, *last) != last)
        return out;
    for (const char *c = text; *c && length + 1 < size; c++)
        if (c == last || !strchr(".,", *c))
            out[length++] = c == last ? '.' : *c;
    out[length] = '\0';
    return out;
}

/* Of a number with a unit behind it. */
static void hint_of_unit(const char *text, const hp_limits *limits, char *out, size_t size)
{
    char digits[64];
    size_t length = number_length(text);
    const char *unit = limits->unit, *behind = text + length + strspn(text + length, " \t");
    snprintf(digits, sizeof digits, "%.*s", length < 60 ? (int)length : 60, text);
    bool alone = may_stand(digits, limits);
    /* "210 mohm" is not 210 of the ohms that are wanted. */
    if (unit[0] && strcmp(behind, unit) != 0)
        snprintf(out, size, ": give it in %s, and write the number alone", unit);
    else if (alone)
        snprintf(out, size, ": write %s alone, %s", digits,
                 unit[0] ? "without the unit" : "it has no unit");
    else
        snprintf(out, size, ": %s", unit[0] ? "without the unit" : "it has no unit");
}

char *hp_number_hint(hp_number_fault fault, const char *text, const hp_limits *limits, char *out,
                     size_t size)
{
    char better[64];
    out[0] = '\0';
    switch (fault) {
    case HP_NUMBER_COMMA:
        hp_number_typed(text, "", better, sizeof better);
        if (may_stand(better, limits))
            snprintf(out, size, ": write %s, with a decimal point", better);
        break;
    case HP_NUMBER_UNIT: hint_of_unit(text, limits, out, size); break;
    case HP_NUMBER_GROUPED:
        without_groups(text, better, sizeof better);
        if (may_stand(better, limits))
            snprintf(out, size, ": write %s, without gaps", better);
        else
            snprintf(out, size, ": write the digits without gaps");
        break;
    case HP_NUMBER_BASE: snprintf(out, size, ": write it in decimal"); break;
    case HP_NUMBER_NAN:
    case HP_NUMBER_INFINITE: snprintf(out, size, ": it must be finite"); break;
    case HP_NUMBER_FINE:
    case HP_NUMBER_WORD: break;
    }
    return out;
}

char *hp_number_list_hint(const char *text, const hp_limits *limits, char *out, size_t size)
{
    static const char between[] = " \t;/";
    char number[64];
    int count = 0;
    bool fit = true;
    double read;
    hp_phrase p = hp_phrase_begin(out, size);
    for (text += strspn(text, between); *text; text += strspn(text, between)) {
        size_t length = strcspn(text, between), unit = strlen(limits->unit), digits = length;
        if (unit && length >= unit && strncmp(text + length - unit, limits->unit, unit) == 0)
            digits -= unit;
        snprintf(number, sizeof number, "%.*s", digits < 60 ? (int)digits : 60, text);
        text += length;
        if (digits == 0) /* the unit by itself */
            continue;
        if (hp_number_read(number, &read) != HP_NUMBER_FINE)
            return hp_phrase_begin(out, size).out;
        fit = fit && hp_number_fits(read, limits);
        hp_phrase_add(&p, "%s%s", count++ ? ", " : ": put commas between them: ", number);
    }
    p = count > 1 && fit && !p.cut ? p : hp_phrase_begin(out, size);
    if (count > 1 && !p.used)
        hp_phrase_add(&p, ": put commas between them");
    return out;
}

/* Other spellings of units than the one that is asked for. */
static bool is_unit(const char *text, const char *unit)
{
    static const char *const same[][2] = {
        {"ohm", "ohms"},      {"ohm", "\xCE\xA9"}, {"ohm", "\xE2\x84\xA6"}, {"rev/min", "rpm"},
        {"rev/min", "1/min"}, {"V", "volt"},       {"V", "volts"},          {"A", "amp"},
        {"A", "amps"},        {"%", "per cent"},
    };
    for (size_t k = 0; k < sizeof same / sizeof same[0]; k++)
        if (strcmp(unit, same[k][0]) == 0 && strcasecmp(text, same[k][1]) == 0)
            return true;
    return unit[0] && strcasecmp(text, unit) == 0;
}

char *hp_number_typed(const char *text, const char *unit, char *out, size_t size)
{
    char typed[64];
    double number;
    snprintf(out, size, "%s", text);
    text += strspn(text, " ");
    size_t length = strlen(text);
    while (length > 0 && text[length - 1] == ' ')
        length--;
    if (length >= sizeof typed)
        return out;
    snprintf(typed, sizeof typed, "%.*s", (int)length, text);
    char *comma = strchr(typed, ',');
    if (comma && !strchr(typed, '.'))
        *comma = '.';
    size_t digits = number_length(typed);
    if (digits > 0 && is_unit(typed + digits + strspn(typed + digits, " "), unit))
        typed[digits] = '\0';
    if (hp_number_read(typed, &number) == HP_NUMBER_FINE)
        snprintf(out, size, "%s", typed);
    return out;
}
