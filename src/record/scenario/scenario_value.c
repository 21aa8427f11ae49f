/* Single values of a scenario: see the header. */
#include "record/scenario/scenario_value.h"

#include "hubphase/base/text.h"
#include "record/scenario/scenario_number.h"

#include <string.h>

/* Bytes of a value that a message quotes. */
#define QUOTED 48

hp_place hp_value_place(const hp_value *value)
{
    if (value->nowhere)
        return (hp_place){0, 0, 1};
    hp_place place = hp_yaml_place(value->node);
    return place.line > 0 ? place : value->key;
}

/* " is \"36 V\"" or " is a list" or " has no value". */
static void describe(const hp_value *value, char *out, size_t size)
{
    char text[QUOTED];
    switch (hp_yaml_kind_of(value->node)) {
    case HP_YAML_NOTHING: snprintf(out, size, " has no value"); return;
    case HP_YAML_LIST: snprintf(out, size, " is a list"); return;
    case HP_YAML_MAPPING: snprintf(out, size, " is a mapping"); return;
    case HP_YAML_TEXT: break;
    }
    double number;
    bool whole = hp_yaml_text(value->node, text, sizeof text);
    if (whole && hp_number_read(text, &number) == HP_NUMBER_FINE && !hp_yaml_is_quoted(value->node))
        snprintf(out, size, " is %s", text);
    else
        snprintf(out, size, " is \"%s%s\"", text, whole ? "" : "...");
}

void hp_value_refuse(const hp_value *value, const char *expected, const char *hint)
{
    char what[2 * QUOTED];
    describe(value, what, sizeof what);
    hp_problems_add_key(value->problems, hp_value_place(value), value->path, "%s%s, must be %s%s",
                        value->path, what, expected, hint);
}

static char *limits_text(const hp_limits *limits, char *out, size_t size)
{
    const char *kind = limits->whole ? "a whole number" : "a number";
    const char *none = limits->none ? ", or none" : "";
    const char *open = limits->unit[0] ? " (" : "", *close = limits->unit[0] ? ")" : "";
    if (limits->low == limits->high)
        snprintf(out, size, "%.12g", limits->low);
    else if (limits->above)
        snprintf(out, size, "%s above %.12g and at most %.12g%s%s%s%s", kind, limits->low,
                 limits->high, open, limits->unit, close, none);
    else
        snprintf(out, size, "%s from %.12g to %.12g%s%s%s%s", kind, limits->low, limits->high, open,
                 limits->unit, close, none);
    return out;
}

static bool is_number(const char *text)
{
    double number;
    return hp_number_read(text, &number) == HP_NUMBER_FINE;
}

static bool is_word(const char *text)
{
    return text[0] != '\0' &&
           text[strspn(text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")] == '\0';
}

/* True when the value is a plain text, which goes into out; else a problem is added: of quotes only
 * where what stands in them `fits`, since a form quotes what its user never did. */
static bool plain_text(const hp_value *value, const char *expected, bool (*fits)(const char *),
                       char *out, size_t size)
{
    if (hp_yaml_kind_of(value->node) != HP_YAML_TEXT) {
        hp_value_refuse(value, expected, "");
        return false;
    }
    bool whole = hp_yaml_text(value->node, out, size), quoted = hp_yaml_is_quoted(value->node);
    if (!whole || quoted) {
        hp_value_refuse(value, expected, whole && fits(out) ? ": without quotes" : "");
        return false;
    }
    return true;
}

bool hp_value_number(const hp_value *value, const hp_limits *limits, double *number)
{
    char text[64], expected[160], hint[160];
    limits_text(limits, expected, sizeof expected);
    if (value->listed && hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
        hp_yaml_text(value->node, text, sizeof text) &&
        hp_number_list_hint(text, limits, hint, sizeof hint)[0]) {
        hp_value_refuse(value, expected, hint);
        return false;
    }
    if (!plain_text(value, expected, is_number, text, sizeof text))
        return false;
    if (limits->none && strcmp(text, "none") == 0) {
        *number = 0.0;
        return true;
    }
    double read = 0.0;
    hp_number_fault fault = hp_number_read(text, &read);
    if (fault != HP_NUMBER_FINE) {
        hp_value_refuse(value, expected, hp_number_hint(fault, text, limits, hint, sizeof hint));
        return false;
    }
    if (!hp_number_fits(read, limits)) {
        hp_value_refuse(value, expected,
                        limits->none && read == 0.0 ? ": write none to switch it off" : "");
        return false;
    }
    *number = read;
    return true;
}

bool hp_value_flag(const hp_value *value, bool *flag)
{
    static const char *const words[] = {"true", "True", "TRUE", "yes",   "Yes",   "YES",
                                        "on",   "On",   "ON",   "false", "False", "FALSE",
                                        "no",   "No",   "NO",   "off",   "Off",   "OFF"};
    static const size_t count = sizeof words / sizeof words[0];
    char text[16];
    if (!plain_text(value, "yes or no", is_word, text, sizeof text))
        return false;
    for (size_t k = 0; k < count; k++)
        if (strcmp(text, words[k]) == 0) {
            *flag = k < count / 2;
            return true;
        }
    hp_value_refuse(value, "yes or no", "");
    return false;
}

bool hp_value_choice(const hp_value *value, const char *const *words, int *index)
{
    char text[64], expected[400];
    hp_phrase p = hp_phrase_begin(expected, sizeof expected);
    for (int k = 0; words[k]; k++)
        hp_phrase_add(&p, "%s%s", k == 0 ? "" : words[k + 1] ? ", " : " or ", words[k]);
    if (hp_yaml_kind_of(value->node) != HP_YAML_TEXT ||
        !hp_yaml_text(value->node, text, sizeof text)) {
        hp_value_refuse(value, expected, "");
        return false;
    }
    for (int k = 0; words[k]; k++)
        if (strcmp(text, words[k]) == 0) {
            *index = k;
            return true;
        }
    hp_value_refuse(value, expected, "");
    return false;
}

/* Escapes in quoted YAML can spell characters that the file itself may not hold. */
static bool is_clean(const char *text, bool several_lines)
{
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        bool break_allowed = several_lines && c == '\n';
        bool c1 = c == 0xC2 && (unsigned char)text[1] < 0xA0;
        if ((c < 0x20 && !break_allowed) || c == 0x7F || c1)
            return false;
    }
    return true;
}

static bool read_text(const hp_value *value, bool several_lines, char *out, size_t size)
{
    char expected[120];
    snprintf(expected, sizeof expected, "%s of 1 to %zu bytes",
             several_lines ? "a text" : "a text in one line", size - 1);
    if (hp_yaml_kind_of(value->node) != HP_YAML_TEXT) {
        hp_value_refuse(value, expected, "");
        return false;
    }
    bool whole = hp_yaml_text(value->node, out, size);
    if (!whole || out[0] == '\0') {
        hp_value_refuse(value, expected, "");
        return false;
    }
    if (!is_clean(out, several_lines)) {
        hp_value_refuse(value, expected, ": without control characters");
        return false;
    }
    return true;
}

bool hp_value_line(const hp_value *value, char *out, size_t size)
{
    return read_text(value, false, out, size);
}

bool hp_value_text(const hp_value *value, char *out, size_t size)
{
    return read_text(value, true, out, size);
}
