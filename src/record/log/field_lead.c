/* A lead, and a wiring of all leads: see field.h. */
#include "hubphase/record/scenario.h"
#include "record/log/field.h"

#include <string.h>

#define EXPECTED_SIZE 480
#define WIRING_SIZE   640

bool hp_field_read_lead(const hp_value *value, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE],
                        const char *what, int *lead)
{
    char text[HP_LABEL_SIZE], expected[EXPECTED_SIZE];
    bool good = hp_yaml_kind_of(value->node) == HP_YAML_TEXT &&
                hp_yaml_text(value->node, text, sizeof text);
    *lead = good ? hp_bench_lead_find(label, text) : -1;
    if (*lead >= 0)
        return true;
    hp_phrase phrase = hp_phrase_begin(expected, sizeof expected);
    hp_phrase_add(&phrase, "one of this motor's %s leads: ", what);
    hp_field_add_leads(label, &phrase);
    hp_value_refuse(value, expected, "");
    return false;
}

static bool read_lead(const hp_field *field, const hp_value *value, const hp_labels *labels,
                      void *at)
{
    (void)field;
    return hp_field_read_lead(value, labels->motor_lead, "phase", at);
}

static void put_lead(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    (void)field;
    hp_bench_put_scalar(out, labels->motor_lead[*(const int *)at], false);
}

static void expect_lead(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    hp_field_add_leads(labels->motor_lead, phrase);
}

const hp_field_kind hp_field_lead = {.read = read_lead, .put = put_lead, .expected = expect_lead};

/* ---- wirings --------------------------------------------------------------------------------- */

static bool read_wiring(const hp_field *field, const hp_value *value, const hp_labels *labels,
                        void *at)
{
    hp_wiring *wiring = at;
    char text[WIRING_SIZE];
    hp_error err = hp_error_none();
    if (hp_yaml_kind_of(value->node) != HP_YAML_TEXT ||
        !hp_yaml_text(value->node, text, sizeof text))
        return hp_field_refuse(field, value, labels);
    if (hp_wiring_parse(text, labels, wiring, &err) == HP_OK)
        return true;
    hp_problems_add(value->problems, hp_value_place(value), "%s: %s", value->path, err.text);
    return false;
}

/* By leads, unless labels are so odd that they would not be read back: then by number. */
static void put_wiring(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const hp_wiring *wiring = at;
    (void)field;
    char text[7 * HP_LABEL_SIZE];
    hp_wiring back;
    const char(*sensor)[HP_LABEL_SIZE] = labels->motor_sensor;
    const char(*phase)[HP_LABEL_SIZE] = labels->motor_lead;
    snprintf(text, sizeof text, "%s, %s, %s / %s, %s, %s", sensor[wiring->sensor[0]],
             sensor[wiring->sensor[1]], sensor[wiring->sensor[2]], phase[wiring->phase[0]],
             phase[wiring->phase[1]], phase[wiring->phase[2]]);
    if (hp_wiring_parse(text, labels, &back, NULL) == HP_OK &&
        hp_wiring_number(&back) == hp_wiring_number(wiring))
        hp_bench_put_scalar(out, text, false);
    else
        fprintf(out, "%d", hp_wiring_number(wiring));
}

static void expect_wiring(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase,
                  "a number from 1 to %d, or three Hall leads, a slash and three phase leads",
                  HP_WIRING_COUNT);
}

const hp_field_kind hp_field_wiring = {
    .read = read_wiring, .put = put_wiring, .expected = expect_wiring};
