/* What was mended: see field.h. */
#include "decide/reading/mend_parts.h"
#include "hubphase/decide/evidence.h"
#include "record/log/field.h"

static bool read_part(const hp_field *field, const hp_value *value, const hp_labels *labels,
                      void *at)
{
    hp_mend *mend = at;
    int index;
    (void)labels;
    if (!hp_value_choice(value, field->words, &index))
        return false;
    mend->fault.kind = hp_mend_parts[index].fault;
    mend->what = hp_mend_parts[index].what;
    return true;
}

static void put_part(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    (void)field;
    (void)labels;
    fputs(hp_mend_part_of(at)->word, out);
}

static void expect_part(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)labels;
    hp_field_add_words(field->words, phrase);
}

const hp_field_kind hp_field_part = {.read = read_part, .put = put_part, .expected = expect_part};

/* ---- its lead -------------------------------------------------------------------------------- */

static bool read_inverter(const hp_value *value, const hp_labels *labels, hp_mend *mend)
{
    int lead;
    if (!hp_field_read_lead(value, labels->motor_sensor, "sensor", &lead))
        return false;
    mend->inverter = lead + 1;
    return true;
}

static bool read_part_lead(const hp_field *field, const hp_value *value, const hp_labels *labels,
                           void *at)
{
    hp_mend *mend = at;
    (void)field;
    switch (mend->fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW:
        return hp_field_read_lead(value, labels->motor_sensor, "sensor", &mend->fault.which);
    case HP_FAULT_LEAD_OPEN:
        return hp_field_read_lead(value, labels->motor_lead, "phase", &mend->fault.which);
    default:
        if (mend->what == HP_MENDED_INVERSION)
            return read_inverter(value, labels, mend);
        if (!hp_mend_part_of(mend))
            return false; /* the part's own problem says enough */
        hp_problems_add(value->problems, value->key,
                        "%s is given, but this part has no lead: leave it out", value->path);
        return false;
    }
}

static bool part_lead_is_said(const hp_field *field, const void *at)
{
    (void)field;
    return hp_mend_has_lead(at) || ((const hp_mend *)at)->inverter > 0;
}

static void put_part_lead(FILE *out, const hp_field *field, const void *at, const hp_labels *labels)
{
    const hp_mend *mend = at;
    (void)field;
    int sensor = mend->inverter > 0 ? mend->inverter - 1 : mend->fault.which;
    hp_bench_put_scalar(out,
                        mend->fault.kind == HP_FAULT_LEAD_OPEN
                            ? labels->motor_lead[mend->fault.which]
                            : labels->motor_sensor[sensor],
                        false);
}

static void expect_part_lead(const hp_field *field, const hp_labels *labels, hp_phrase *phrase)
{
    (void)field;
    (void)labels;
    hp_phrase_add(phrase, "the lead of the mended part");
}

const hp_field_kind hp_field_part_lead = {.read = read_part_lead,
                                          .said = part_lead_is_said,
                                          .put = put_part_lead,
                                          .expected = expect_part_lead};
