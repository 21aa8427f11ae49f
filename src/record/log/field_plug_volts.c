/* Volts of a control's pins, and the pin that beeps: see field.h. */
#include "decide/reading/plug_volts.h"
#include "record/log/field.h"
#include "record/scenario/scenario_number.h"

#include <math.h>
#include <string.h>

#define SEPARATORS " ,;/"

/* A pin's colour or place; -1 with a problem added. */
static int named_pin(const hp_value *value, const char *name, hp_plug_volts *plug)
{
    char clean[2 * HP_YAML_NAME], shown[4 * HP_PIN_NAME];
    size_t length = strlen(name);
    bool fits = length > 0 && length < HP_PIN_NAME &&
                strcmp(hp_text_clean(name, clean, sizeof clean), name) == 0 &&
                strcmp(name, "none") != 0;
    if (!fits) {
        hp_problems_add(value->problems, value->key,
                        "%s is named \"%s\", must be a colour or a place of 1 to %d letters",
                        value->path,
                        hp_text_clip(hp_text_clean(name, clean, sizeof clean), HP_PIN_NAME, shown,
                                     sizeof shown),
                        HP_PIN_NAME - 1);
        return -1;
    }
    int pin = hp_plug_volts_pin(plug, name);
    if (pin < 0)
        hp_problems_add(value->problems, value->key,
                        "%s has more than %d pins, must have at most "
                        "so many: note one control at a time",
                        value->path, HP_PINS_MOST);
    return pin;
}

/* How many volts a pin has at most. */
static int most_of(const hp_field *field)
{
    return field->first > 0 ? field->first : 1;
}

static bool add_volts(const hp_field *field, double volts, int pin, hp_plug_volts *plug)
{
    if (!(volts >= field->limits.low && volts <= field->limits.high))
        return false;
    if (field->first == 0)
        plug->off[pin] = volts;
    else
        plug->at[plug->states[pin]++][pin] = volts;
    return true;
}

/* "5.02/5.01", "5.02 5.01" */
static bool read_text(const hp_field *field, const hp_value *value, int pin, hp_plug_volts *plug)
{
    char text[160], number[32];
    int count = 0;
    if (!hp_yaml_text(value->node, text, sizeof text))
        return false;
    for (const char *at = text + strspn(text, SEPARATORS); *at; at += strspn(at, SEPARATORS)) {
        size_t length = strcspn(at, SEPARATORS);
        double volts;
        if (length >= sizeof number || count++ == most_of(field))
            return false;
        snprintf(number, sizeof number, "%.*s", (int)length, at);
        if (hp_number_read(number, &volts) != HP_NUMBER_FINE || !add_volts(field, volts, pin, plug))
            return false;
        at += length;
    }
    return count > 0;
}

static bool read_list(const hp_field *field, const hp_value *value, int pin, hp_plug_volts *plug)
{
    void *position = NULL;
    struct fy_node *node;
    int count = 0;
    while ((node = fy_node_sequence_iterate(value->node, &position)) != NULL) {
        double volts = 0.0;
        char text[32];
        bool good = count++ < most_of(field) && hp_yaml_kind_of(node) == HP_YAML_TEXT &&
                    hp_yaml_text(node, text, sizeof text) &&
                    hp_number_read(text, &volts) == HP_NUMBER_FINE;
        if (!good || !add_volts(field, volts, pin, plug))
            return false;
    }
    return count > 0;
}

static bool read_pin_volts(const hp_field *field, const hp_field_member *m, const hp_labels *labels,
                           hp_plug_volts *plug)
{
    int pin = named_pin(&m->value, m->own.name, plug);
    if (pin < 0)
        return false;
    if (field->first == 0 ? !isnan(plug->off[pin]) : plug->states[pin] > 0)
        return hp_field_member_refuse_twice(m);
    bool list = hp_yaml_kind_of(m->value.node) == HP_YAML_LIST;
    bool text = hp_yaml_kind_of(m->value.node) == HP_YAML_TEXT;
    return (list && read_list(field, &m->value, pin, plug)) ||
           (text && read_text(field, &m->value, pin, plug)) ||
           hp_field_refuse(field, &m->value, labels);
}

static bool read_volts(const hp_field *field, const hp_value *value, const hp_labels *labels,
                       void *at)
{
    void *position = NULL;
    hp_field_member m;
    bool filled = hp_field_check_mapping(field, value, labels), good = filled, sound;
    while (filled && hp_field_member_next(value, &position, &m, &sound))
        good = sound && read_pin_volts(field, &m, labels, at) && good;
    return good;
}

static bool has_volts(const hp_field *field, const hp_plug_volts *plug, int pin)
{
    return field->first == 0 ? !isnan(plug->off[pin]) : plug->states[pin] > 0;
}

static bool volts_are_said(const hp_field *field, const void *at)
{
    const hp_plug_volts *plug = at;
    for (int pin = 0; pin < plug->pins; pin++)
        if (has_volts(field, plug, pin))
            return true;
    return false;
}

static void put_volts(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const hp_plug_volts *plug = at;
    bool first = true;
    (void)labels;
    fputc('{', out);
    for (int pin = 0; pin < plug->pins; pin++) {
        if (!has_volts(field, plug, pin))
            continue;
        fputs(first ? "" : ", ", out);
        first = false;
        hp_bench_put_scalar(out, plug->name[pin], true);
        fputs(": ", out);
        if (field->first == 0) {
            hp_field_put_number(out, plug->off[pin]);
            continue;
        }
        for (int s = 0; s < plug->states[pin]; s++) {
            fputs(s ? ", " : "[", out);
            hp_field_put_number(out, plug->at[s][pin]);
        }
        fputc(']', out);
    }
    fputc('}', out);
}

static void expect_volts(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)labels;
    if (field->first == 0)
        hp_phrase_add(phrase,
                      "a pin's colour or place with one reading from %g to %g V, such as "
                      "red: 5.02",
                      field->limits.low, field->limits.high);
    else
        hp_phrase_add(phrase,
                      "a pin's colour or place with two%s readings from %g to %g V, such as "
                      "red: 5.02/5.01",
                      field->first > 2 ? " to four" : "", field->limits.low, field->limits.high);
}

const hp_field_kind hp_field_pin_volts = {.read = read_volts,
                                          .said = volts_are_said,
                                          .put = put_volts,
                                          .expected = expect_volts,
                                          .typed = HP_TYPED_BY_NAME};

/* ---- the pin that beeps ---------------------------------------------------------------------- */

static bool read_minus(const hp_field *field, const hp_value *value, const hp_labels *labels,
                       void *at)
{
    hp_plug_volts *plug = at;
    char name[HP_YAML_NAME];
    bool text = hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
                hp_yaml_text(value->node, name, sizeof name);
    if (!text)
        return hp_field_refuse(field, value, labels);
    if (strcmp(name, "none") == 0) {
        plug->minus = -1;
        return true;
    }
    int pin = named_pin(value, name, plug);
    plug->minus = pin + 1;
    return pin >= 0;
}

static bool minus_is_said(const hp_field *field, const void *at)
{
    (void)field;
    return ((const hp_plug_volts *)at)->minus != 0;
}

static void put_minus(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const hp_plug_volts *plug = at;
    (void)field;
    (void)labels;
    hp_bench_put_scalar(out, plug->minus > 0 ? plug->name[plug->minus - 1] : "none", false);
}

static void expect_minus(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase, "the colour or place of one of its pins, or none");
}

const hp_field_kind hp_field_minus_pin = {
    .read = read_minus, .said = minus_is_said, .put = put_minus, .expected = expect_minus};
