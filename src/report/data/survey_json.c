/* JSON of a survey: see the header. */
#include "hubphase/report/tables.h"

#include "report/data/json_tree.h"
#include "report/data/report_case.h"

static json_t *wiring_object(hp_json *b, const hp_labels *labels, const hp_report_row *row)
{
    hp_report_field field[HP_REPORT_FIELDS];
    int count = hp_report_row_fields(row, field);
    json_t *object = json_object();
    hp_json_set(b, object, "number", json_integer(row->number));
    hp_json_set_leads(b, object, labels, &row->wiring);
    hp_json_set(b, object, "verdict", hp_json_text(hp_verdict_name(row->verdict)));
    hp_json_set(b, object, "direction", hp_json_text(hp_direction_name(row->direction)));
    hp_json_set(b, object, "kind",
                row->kind == HP_KIND_NONE ? json_null()
                                          : hp_json_text(hp_rough_kind_name(row->kind)));
    for (int k = 0; k < HP_REPORT_FIELDS_FIRST; k++)
        hp_json_set(b, object, field[k].name, hp_json_number(field[k].value));
    hp_json_set(b, object, "starts", json_integer(row->starts));
    hp_json_set(b, object, "starts_tried", json_integer(row->starts_tried));
    hp_json_set_axes(b, object, &row->wiring);
    for (int k = HP_REPORT_FIELDS_FIRST; k < count; k++)
        hp_json_set(b, object, field[k].name, hp_json_number(field[k].value));
    hp_json_set(b, object, "reason", hp_json_text(row->reason));
    return object;
}

hp_result hp_survey_json_write(const hp_report_case *subject, const hp_report_row *row, int count,
                               FILE *out, hp_error *err)
{
    hp_json b = {.failed = false};
    json_t *root = json_object();
    json_t *wirings = json_array();
    for (int k = 0; k < count; k++)
        hp_json_append(&b, wirings, wiring_object(&b, subject->labels, &row[k]));
    hp_json_set(&b, root, "scenario", hp_json_scenario(&b, subject));
    hp_json_set(&b, root, "parameters", hp_json_parameters(&b, subject->parameters));
    hp_json_set(&b, root, "wirings", wirings);
    return hp_json_finish(&b, root, out, err);
}
