/* The parameters of a run with their origins: see the header. */
#include "record/scenario/parameters.h"

#include "hubphase/base/text.h"
#include "hubphase/record/scenario.h"

#include <stdlib.h>
#include <string.h>

hp_result hp_parameters_add(hp_parameters *list, const hp_parameter *parameter)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? 2 * list->capacity : 64;
        hp_parameter *grown = realloc(list->item, capacity * sizeof *grown);
        if (!grown)
            return HP_FAIL_MEMORY;
        list->item = grown;
        list->capacity = capacity;
    }
    list->item[list->count++] = *parameter;
    return HP_OK;
}

hp_parameter *hp_parameters_find(hp_parameters *list, const char *key)
{
    for (size_t k = 0; k < list->count; k++)
        if (strcmp(list->item[k].key, key) == 0)
            return &list->item[k];
    return NULL;
}

const hp_parameter *hp_scenario_parameter(const hp_scenario *scenario, const char *key)
{
    hp_parameters list[] = {scenario->parameters, scenario->controls_parameters,
                            scenario->fit_parameters}; /* borrowed: looked up only */
    const hp_parameter *found = NULL;
    for (size_t k = 0; !found && k < sizeof list / sizeof list[0]; k++)
        found = hp_parameters_find(&list[k], key);
    return found;
}

bool hp_parameter_is_stated(const hp_parameter *parameter)
{
    return parameter->origin == HP_ORIGIN_FILE || parameter->origin == HP_ORIGIN_OPTION;
}

void hp_parameters_free(hp_parameters *list)
{
    free(list->item);
    memset(list, 0, sizeof *list);
}

const char *hp_origin_name(hp_origin origin)
{
    switch (origin) {
    case HP_ORIGIN_FILE: return "scenario";
    case HP_ORIGIN_DEFAULT: return "default";
    case HP_ORIGIN_DERIVED: return "derived";
    case HP_ORIGIN_OPTION: return "option";
    case HP_ORIGIN_COUNT: break;
    }
    return "unknown";
}

/* Columns of key and value; longer ones push the rest to the right. */
#define KEY_COLUMNS   38
#define VALUE_COLUMNS 12

/* The key's part before the first dot: the section it stands under. */
static size_t section_length(const char *key)
{
    size_t length = strcspn(key, ".");
    return key[length] == '.' ? length : 0;
}

static void print_parameter(const hp_parameter *p, size_t section, const hp_screen *out)
{
    char value[128], origin[64], why[256];
    const char *key = p->key + section + (section > 0);
    if (p->line > 0)
        snprintf(origin, sizeof origin, "%s line %d", hp_origin_name(p->origin), p->line);
    else
        snprintf(origin, sizeof origin, "%s", hp_origin_name(p->origin));
    hp_text_clean(p->value, value, sizeof value);
    hp_text_clean(p->why, why, sizeof why);
    int wide = hp_text_columns(value);
    if (KEY_COLUMNS + (wide > VALUE_COLUMNS ? wide : VALUE_COLUMNS) + 1 + (int)strlen(origin) >
            out->columns ||
        (int)strlen(key) > KEY_COLUMNS - 3) {
        char text[360];
        snprintf(text, sizeof text, "%s: %s (%s)", key, value, origin);
        hp_text_fill(out, "", 2, text);
    } else {
        fprintf(out->file, "  %-*s ", KEY_COLUMNS - 3, key);
        hp_text_pad(out->file, value, VALUE_COLUMNS);
        fprintf(out->file, " %s\n", origin);
    }
    if (why[0])
        hp_text_fill(out, "", 6, why);
}

void hp_parameters_print(const hp_parameters *list, const hp_screen *out)
{
    const char *before = "";
    size_t before_length = 0;
    for (size_t k = 0; k < list->count; k++) {
        const hp_parameter *p = &list->item[k];
        size_t section = section_length(p->key);
        if (section != before_length || strncmp(p->key, before, section) != 0)
            fprintf(out->file, "%s%.*s\n", k == 0 ? "" : "\n", (int)section, p->key);
        print_parameter(p, section, out);
        before = p->key;
        before_length = section;
    }
}

void hp_parameters_note_option(hp_parameters *list, const char *key, double value,
                               const char *option)
{
    hp_parameter *parameter = hp_parameters_find(list, key);
    if (!parameter)
        return;
    snprintf(parameter->value, sizeof parameter->value, "%.10g", value);
    parameter->number = value;
    parameter->origin = HP_ORIGIN_OPTION;
    parameter->line = 0;
    snprintf(parameter->why, sizeof parameter->why, "set by %s", option);
}
