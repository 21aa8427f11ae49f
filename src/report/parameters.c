/* The parameters of a run with their origins: see the header. */
#include "hubphase/report/parameters.h"

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

void hp_parameters_print(const hp_parameters *list, FILE *out)
{
    size_t key_width = 3, value_width = 5;
    for (size_t k = 0; k < list->count; k++) {
        size_t key = strlen(list->item[k].key), value = strlen(list->item[k].value);
        key_width = key > key_width ? key : key_width;
        value_width = value > value_width ? value : value_width;
    }
    fprintf(out, "%-*s  %-*s  %-8s  %s\n", (int)key_width, "key", (int)value_width, "value", "from",
            "why");
    for (size_t k = 0; k < list->count; k++) {
        const hp_parameter *p = &list->item[k];
        fprintf(out, "%-*s  %-*s  %-8s  %s\n", (int)key_width, p->key, (int)value_width, p->value,
                hp_origin_name(p->origin), p->why);
    }
}
