/* Types of values by their numbers: see the header. */
#include "record/log/field.h"

#include <assert.h>
#include <string.h>

static const hp_field_kind *const kinds[HP_FIELD_TYPE_COUNT] = {
    [HP_FIELD_NUMBER] = &hp_field_number,
    [HP_FIELD_WHOLE] = &hp_field_whole,
    [HP_FIELD_TELL] = &hp_field_tell,
    [HP_FIELD_CHOICE] = &hp_field_choice,
    [HP_FIELD_WAY] = &hp_field_way,
    [HP_FIELD_PAIRS] = &hp_field_pairs,
    [HP_FIELD_CONTINUITY] = &hp_field_continuity,
    [HP_FIELD_CODES] = &hp_field_codes,
    [HP_FIELD_CODE] = &hp_field_code,
    [HP_FIELD_LEAD] = &hp_field_lead,
    [HP_FIELD_WIRING] = &hp_field_wiring,
    [HP_FIELD_ROWS] = &hp_field_rows,
    [HP_FIELD_PHASE_PINS] = &hp_field_phase_pins,
    [HP_FIELD_SENSOR_PINS] = &hp_field_sensor_pins,
    [HP_FIELD_PIN] = &hp_field_pin,
    [HP_FIELD_PART] = &hp_field_part,
    [HP_FIELD_PART_LEAD] = &hp_field_part_lead,
    [HP_FIELD_PIN_VOLTS] = &hp_field_pin_volts,
    [HP_FIELD_MINUS_PIN] = &hp_field_minus_pin,
};

const hp_field_kind *hp_field_kind_of(hp_field_type type)
{
    assert((int)type >= 0 && type < HP_FIELD_TYPE_COUNT && kinds[type]);
    return kinds[type];
}

bool hp_field_read(const hp_field *field, const hp_value *value, const hp_labels *labels,
                   hp_entry *entry)
{
    return hp_field_kind_of(field->type)->read(field, value, labels, entry->values + field->offset);
}

bool hp_field_is_said(const hp_field *field, const hp_entry *entry)
{
    const hp_field_kind *kind = hp_field_kind_of(field->type);
    if (field->said)
        return field->said(entry->values);
    return !kind->said || kind->said(field, entry->values + field->offset);
}

void hp_field_put(FILE *out, const hp_field *field, const hp_entry *entry, const hp_labels *labels)
{
    hp_field_kind_of(field->type)->put(out, field, entry->values + field->offset, labels);
}

char *hp_field_expected(const hp_field *field, const hp_labels *labels, char *out, size_t size)
{
    hp_phrase phrase = hp_phrase_begin(out, size);
    hp_field_kind_of(field->type)->expected(field, labels, &phrase);
    return out;
}

bool hp_field_is_mapping(const hp_field *field, const char *text)
{
    switch (hp_field_kind_of(field->type)->typed) {
    case HP_TYPED_BY_NAME: return true;
    case HP_TYPED_EITHER: return strchr(text, '=') != NULL;
    case HP_TYPED_ALONE: break;
    }
    return false;
}
