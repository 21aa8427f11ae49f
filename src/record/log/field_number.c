/* Values that are a number: see field.h. */
#include "record/log/field.h"

#include <math.h>
#include <string.h>

static bool read_number(const hp_field *field, const hp_value *value, const hp_labels *labels,
                        void *at)
{
    double number = 0.0;
    (void)labels;
    if (!hp_value_number(value, &field->limits, &number))
        return false;
    number *= field->factor;
    memcpy(at, &number, sizeof number);
    return true;
}

static bool number_is_said(const hp_field *field, const void *at)
{
    double number;
    (void)field;
    memcpy(&number, at, sizeof number);
    return !isnan(number);
}

void hp_field_put_number(FILE *out, double number)
{
    fprintf(out, "%.10g", number);
}

static void put_number(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    double number;
    (void)labels;
    memcpy(&number, at, sizeof number);
    hp_field_put_number(out, number / field->factor);
}

static void expect_number(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)labels;
    hp_field_add_number(&field->limits, phrase);
}

const hp_field_kind hp_field_number = {
    .read = read_number, .said = number_is_said, .put = put_number, .expected = expect_number};

/* ---- whole numbers --------------------------------------------------------------------------- */

static bool read_whole(const hp_field *field, const hp_value *value, const hp_labels *labels,
                       void *at)
{
    double number = 0.0;
    (void)labels;
    if (!hp_value_number(value, &field->limits, &number))
        return false;
    int whole = (int)number;
    memcpy(at, &whole, sizeof whole);
    return true;
}

static bool whole_is_said(const hp_field *field, const void *at)
{
    int whole;
    (void)field;
    memcpy(&whole, at, sizeof whole);
    return whole > 0;
}

static void put_whole(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    int whole;
    (void)field;
    (void)labels;
    memcpy(&whole, at, sizeof whole);
    fprintf(out, "%d", whole);
}

const hp_field_kind hp_field_whole = {
    .read = read_whole, .said = whole_is_said, .put = put_whole, .expected = expect_number};
