/* Pins of the plug: see field.h. */
#include "hubphase/decide/evidence.h"
#include "model/plug.h"
#include "record/log/field.h"

#include <string.h>

#define EXPECTED_SIZE 480

/* A pin's place or name; a place with a slip in it is neither. */
static bool read_pin_text(const hp_value *value, char pin[HP_PLUG_PIN_SIZE])
{
    if (!hp_value_line(value, pin, HP_PLUG_PIN_SIZE))
        return false;
    if (!hp_pin_place_is_broken(pin))
        return true;
    hp_value_refuse(value,
                    "a place such as \"3 o'clock outer\", \"90 degrees inner\" or \"row 1 column "
                    "2\", or a name without such words",
                    "");
    pin[0] = '\0';
    return false;
}

/* The lead that a member names, each once; -1 with a problem added. */
static int pin_lead(const hp_field_member *m, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                    bool seen[HP_PHASE_COUNT])
{
    char expected[EXPECTED_SIZE];
    int lead = hp_bench_lead_find(label, m->own.name);
    if (lead < 0) {
        hp_phrase phrase = hp_phrase_begin(expected, sizeof expected);
        hp_field_add_leads(label, &phrase);
        hp_field_member_refuse(m, expected);
        return -1;
    }
    if (seen[lead]) {
        hp_field_member_refuse_twice(m);
        return -1;
    }
    seen[lead] = true;
    return lead;
}

static bool read_pins(const hp_field *field, const hp_value *value, const hp_labels *labels,
                      const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                      char (*pin)[HP_PLUG_PIN_SIZE])
{
    void *position = NULL;
    hp_field_member m;
    bool filled = hp_field_check_mapping(field, value, labels), good = filled;
    bool sound, seen[HP_PHASE_COUNT] = {false};
    while (filled && hp_field_member_next(value, &position, &m, &sound)) {
        int lead = sound ? pin_lead(&m, label, seen) : -1;
        if (lead < 0 || !read_pin_text(&m.value, pin[lead]))
            good = false;
    }
    return good;
}

static void put_pins(FILE *out, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                     const char (*pin)[HP_PLUG_PIN_SIZE])
{
    fputc('{', out);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        fputs(k ? ", " : "", out);
        hp_bench_put_scalar(out, label[k], true);
        fputs(": ", out);
        hp_bench_put_scalar(out, pin[k], true);
    }
    fputc('}', out);
}

static bool pins_are_said(const hp_field *field, const void *at)
{
    (void)field;
    return ((const hp_plug_map *)at)->given;
}

static bool read_phase_pins(const hp_field *field, const hp_value *value, const hp_labels *labels,
                            void *at)
{
    hp_plug_map *plug = at;
    plug->given = true;
    return read_pins(field, value, labels, labels->motor_lead, plug->pin + field->first);
}

static void put_phase_pins(FILE *out, const hp_field *field, const void *at,
                           const hp_labels *labels)
{
    put_pins(out, labels->motor_lead, ((const hp_plug_map *)at)->pin + field->first);
}

static void expect_phase_pins(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    hp_phrase_add(phrase, "a pin for each phase lead: ");
    hp_field_add_leads(labels->motor_lead, phrase);
}

const hp_field_kind hp_field_phase_pins = {.read = read_phase_pins,
                                           .said = pins_are_said,
                                           .put = put_phase_pins,
                                           .expected = expect_phase_pins,
                                           .typed = HP_TYPED_BY_NAME};

static bool read_sensor_pins(const hp_field *field, const hp_value *value, const hp_labels *labels,
                             void *at)
{
    hp_plug_map *plug = at;
    plug->given = true;
    return read_pins(field, value, labels, labels->motor_sensor, plug->pin + field->first);
}

static void put_sensor_pins(FILE *out, const hp_field *field, const void *at,
                            const hp_labels *labels)
{
    put_pins(out, labels->motor_sensor, ((const hp_plug_map *)at)->pin + field->first);
}

static void expect_sensor_pins(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    hp_phrase_add(phrase, "a pin for each Hall lead: ");
    hp_field_add_leads(labels->motor_sensor, phrase);
}

const hp_field_kind hp_field_sensor_pins = {.read = read_sensor_pins,
                                            .said = pins_are_said,
                                            .put = put_sensor_pins,
                                            .expected = expect_sensor_pins,
                                            .typed = HP_TYPED_BY_NAME};

static bool read_pin(const hp_field *field, const hp_value *value, const hp_labels *labels,
                     void *at)
{
    hp_plug_map *plug = at;
    (void)labels;
    plug->given = true;
    return read_pin_text(value, plug->pin[field->first]);
}

static void put_pin(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    (void)labels;
    hp_bench_put_scalar(out, ((const hp_plug_map *)at)->pin[field->first], false);
}

static void expect_pin(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase, "a pin's place or name of 1 to %d bytes", HP_PLUG_PIN_SIZE - 1);
}

const hp_field_kind hp_field_pin = {
    .read = read_pin, .said = pins_are_said, .put = put_pin, .expected = expect_pin};
