/* Looking up kinds of entries and their fields: see the header. */
#include "decide/reading/reading.h"

#include <string.h>

const char *hp_reading_title(const hp_reading *reading)
{
    return reading->title;
}

const char *hp_reading_name(const hp_reading *reading)
{
    return reading->name;
}

int hp_reading_index(const hp_reading *reading)
{
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k] == reading)
            return k;
    return -1;
}

int hp_readings_count(void)
{
    int count = 0;
    while (hp_readings[count])
        count++;
    return count;
}

/* Whether a name is meant by what was typed. */
static bool is_named(const char *own, const char *typed)
{
    size_t k = 0;
    while (own[k] && (own[k] == typed[k] || (own[k] == '_' && typed[k] && strchr("- ", typed[k]))))
        k++;
    return !own[k] && !typed[k];
}

const hp_reading *hp_reading_find(const char *name)
{
    for (int k = 0; hp_readings[k]; k++)
        if (is_named(hp_readings[k]->name, name))
            return hp_readings[k];
    return NULL;
}

const hp_reading *hp_reading_advised_as(hp_advice_kind advice)
{
    for (int k = 0; hp_readings[k]; k++)
        if (hp_readings[k]->advised_as == advice)
            return hp_readings[k];
    return NULL;
}

bool hp_reading_is_advised(const hp_reading *reading)
{
    return reading->minutes > 0.0 && reading->typical;
}

const hp_field *hp_fields_of(const hp_reading *reading)
{
    return reading->fields;
}

int hp_fields_count(const hp_reading *reading)
{
    int count = 0;
    while (reading->fields[count].name)
        count++;
    return count;
}

const hp_field *hp_field_find(const hp_reading *reading, const char *name)
{
    for (const hp_field *field = reading->fields; field->name; field++)
        if (strcmp(field->name, name) == 0)
            return field;
    return NULL;
}
