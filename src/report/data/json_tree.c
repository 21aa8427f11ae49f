/* Building a JSON tree: see the header. */
#include "report/data/json_tree.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Significant digits: more than any run's tolerance gives, few enough to read. */
#define DIGITS 9

void hp_json_set(hp_json *json, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0)
        json->failed = true;
}

void hp_json_append(hp_json *json, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0)
        json->failed = true;
}

/* Whether JSON can hold the text as it is. */
static bool is_text(const char *value)
{
    unsigned character;
    int length = 1;
    for (; *value && length > 0; value += length)
        length = hp_text_character(value, &character);
    return length > 0;
}

json_t *hp_json_text(const char *value)
{
    if (is_text(value))
        return json_string(value);
    char clean[1024];
    return json_string(hp_text_clean(value, clean, sizeof clean));
}

json_t *hp_json_number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

json_t *hp_json_scenario(hp_json *json, const hp_report_case *subject)
{
    json_t *object = json_object();
    hp_json_set(json, object, "file", hp_json_text(subject->file));
    hp_json_set(json, object, "machine", hp_json_text(subject->labels->machine));
    hp_json_set(json, object, "motor", hp_json_text(subject->labels->motor));
    hp_json_set(json, object, "controller", hp_json_text(subject->labels->controller));
    hp_json_set(json, object, "about", subject->about ? hp_json_text(subject->about) : json_null());
    return object;
}

static json_t *parameter_value(const hp_parameter *parameter)
{
    if (isfinite(parameter->number))
        return json_real(parameter->number);
    if (strcmp(parameter->value, "true") == 0)
        return json_true();
    if (strcmp(parameter->value, "false") == 0)
        return json_false();
    return hp_json_text(parameter->value);
}

json_t *hp_json_parameters(hp_json *json, const hp_parameters *list)
{
    json_t *object = json_object();
    for (size_t k = 0; k < list->count; k++) {
        const hp_parameter *parameter = &list->item[k];
        json_t *entry = json_object();
        hp_json_set(json, entry, "value", parameter_value(parameter));
        hp_json_set(json, entry, "from", hp_json_text(hp_origin_name(parameter->origin)));
        hp_json_set(json, entry, "line",
                    parameter->line > 0 ? json_integer(parameter->line) : json_null());
        hp_json_set(json, entry, "why", hp_json_text(parameter->why));
        hp_json_set(json, object, parameter->key, entry);
    }
    return object;
}

static json_t *labels_array(hp_json *json, const char label[][HP_LABEL_SIZE],
                            const int order[HP_PHASE_COUNT])
{
    json_t *array = json_array();
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_json_append(json, array, hp_json_text(label[order[j]]));
    return array;
}

void hp_json_set_leads(hp_json *json, json_t *object, const hp_labels *labels,
                       const hp_wiring *wiring)
{
    hp_json_set(json, object, "sensors", labels_array(json, labels->motor_sensor, wiring->sensor));
    hp_json_set(json, object, "phases", labels_array(json, labels->motor_lead, wiring->phase));
}

static json_t *axes(const int order[HP_PHASE_COUNT])
{
    const char letters[] = {hp_phase_letter(order[0]), hp_phase_letter(order[1]),
                            hp_phase_letter(order[2]), '\0'};
    return json_string(letters);
}

void hp_json_set_axes(hp_json *json, json_t *object, const hp_wiring *wiring)
{
    hp_json_set(json, object, "sensor_axes", axes(wiring->sensor));
    hp_json_set(json, object, "phase_axes", axes(wiring->phase));
}

/* A text that grows. */
typedef struct growing {
    char *text;
    size_t size, room;
    bool failed;
} growing;

static int take_bytes(const char *bytes, size_t size, void *user)
{
    growing *g = user;
    if (g->size + size + 1 > g->room) {
        size_t room = 2 * (g->size + size + 1);
        char *grown = realloc(g->text, room);
        g->failed = g->failed || !grown;
        if (!grown)
            return -1;
        g->text = grown;
        g->room = room;
    }
    memcpy(g->text + g->size, bytes, size);
    g->size += size;
    g->text[g->size] = '\0';
    return 0;
}

/* jansson 2.14 goes on when the name of a key found no memory, so json_dumps may give less than
 * there is; here a failure is remembered. Free g->text in any case. */
static bool dump(const json_t *root, size_t flags, growing *g)
{
    *g = (growing){.text = NULL};
    return root && json_dump_callback(root, take_bytes, g, flags) == 0 && !g->failed;
}

char *hp_json_compact(const json_t *root)
{
    growing g;
    if (dump(root, JSON_COMPACT, &g))
        return g.text;
    free(g.text);
    return NULL;
}

hp_result hp_json_finish(const hp_json *json, json_t *root, FILE *out, hp_error *err)
{
    growing g = {.text = NULL};
    hp_result result = HP_OK;
    if (json->failed || !dump(root, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS), &g))
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for the JSON text");
    else if (fwrite(g.text, 1, g.size, out) != g.size || fputc('\n', out) == EOF)
        result = hp_error_set(err, HP_FAIL_IO, "the JSON text could not be written");
    free(g.text);
    json_decref(root);
    return result;
}
