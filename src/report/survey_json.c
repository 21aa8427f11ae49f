/*
 * JSON of a survey: see the header.
 *
 * The tree is built first and dumped in one go, so that a failed allocation writes nothing. Every
 * setter notes a failure in the builder instead of returning it: the tree is looked at once, at the
 * end.
 */
#include "hubphase/report/survey_json.h"

#include "hubphase/report/text.h"

#include <jansson.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

/* Significant digits: more than any run's tolerance gives, few enough to read. */
#define DIGITS 9

typedef struct builder {
    bool failed; /* an allocation failed somewhere */
} builder;

/* Takes over `value`; jansson refuses a NULL object or value, which stand for failed allocations.
 */
static void set(builder *b, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0)
        b->failed = true;
}

static void append(builder *b, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0)
        b->failed = true;
}

/* Text as it is; a file name need not be UTF-8, and then its odd bytes become '?'. */
static json_t *text(const char *value)
{
    json_t *string = json_string(value);
    if (string)
        return string;
    char clean[1024];
    return json_string(hp_text_clean(value, clean, sizeof clean));
}

/* JSON has neither infinity nor NaN. */
static json_t *number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

static json_t *scenario_object(builder *b, const hp_report_case *subject)
{
    json_t *object = json_object();
    set(b, object, "file", text(subject->file));
    set(b, object, "machine", text(subject->labels->machine));
    set(b, object, "motor", text(subject->labels->motor));
    set(b, object, "controller", text(subject->labels->controller));
    set(b, object, "about", subject->about ? text(subject->about) : json_null());
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
    return text(parameter->value);
}

static json_t *parameters_object(builder *b, const hp_parameters *list)
{
    json_t *object = json_object();
    for (size_t k = 0; k < list->count; k++) {
        const hp_parameter *parameter = &list->item[k];
        json_t *entry = json_object();
        set(b, entry, "value", parameter_value(parameter));
        set(b, entry, "from", text(hp_origin_name(parameter->origin)));
        set(b, entry, "line", parameter->line > 0 ? json_integer(parameter->line) : json_null());
        set(b, entry, "why", text(parameter->why));
        set(b, object, parameter->key, entry);
    }
    return object;
}

static json_t *labels_array(builder *b, const char label[][HP_LABEL_SIZE],
                            const int order[HP_PHASE_COUNT])
{
    json_t *array = json_array();
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        append(b, array, text(label[order[j]]));
    return array;
}

static json_t *axes(const int order[HP_PHASE_COUNT])
{
    const char letters[] = {hp_phase_letter(order[0]), hp_phase_letter(order[1]),
                            hp_phase_letter(order[2]), '\0'};
    return json_string(letters);
}

static json_t *wiring_object(builder *b, const hp_labels *labels, const hp_report_row *row)
{
    hp_report_field field[HP_REPORT_FIELDS];
    int count = hp_report_row_fields(row, field);
    json_t *object = json_object();
    set(b, object, "number", json_integer(row->number));
    set(b, object, "sensors", labels_array(b, labels->motor_sensor, row->wiring.sensor));
    set(b, object, "phases", labels_array(b, labels->motor_lead, row->wiring.phase));
    set(b, object, "verdict", text(hp_verdict_name(row->verdict)));
    set(b, object, "direction", text(hp_direction_name(row->direction)));
    set(b, object, "kind",
        row->kind == HP_KIND_NONE ? json_null() : text(hp_rough_kind_name(row->kind)));
    for (int k = 0; k < HP_REPORT_FIELDS_FIRST; k++)
        set(b, object, field[k].name, number(field[k].value));
    set(b, object, "starts", json_integer(row->starts));
    set(b, object, "starts_tried", json_integer(row->starts_tried));
    set(b, object, "sensor_axes", axes(row->wiring.sensor));
    set(b, object, "phase_axes", axes(row->wiring.phase));
    for (int k = HP_REPORT_FIELDS_FIRST; k < count; k++)
        set(b, object, field[k].name, number(field[k].value));
    set(b, object, "reason", text(row->reason));
    return object;
}

hp_result hp_survey_json_write(const hp_report_case *subject, const hp_report_row *row, int count,
                               FILE *out, hp_error *err)
{
    builder b = {.failed = false};
    json_t *root = json_object();
    json_t *wirings = json_array();
    for (int k = 0; k < count; k++)
        append(&b, wirings, wiring_object(&b, subject->labels, &row[k]));
    set(&b, root, "scenario", scenario_object(&b, subject));
    set(&b, root, "parameters", parameters_object(&b, subject->parameters));
    set(&b, root, "wirings", wirings);
    hp_result result = HP_OK;
    if (b.failed)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for the JSON text");
    else if (json_dumpf(root, out, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS)) != 0 ||
             fputc('\n', out) == EOF)
        result = hp_error_set(err, HP_FAIL_IO, "the JSON text could not be written");
    json_decref(root);
    return result;
}
