/* A survey as CSV: see the header. */
#include "hubphase/report/tables.h"

#include "report/data/csv.h"
#include "report/data/report_case.h"

static void write_head(FILE *out)
{
    static const char *const first[] = {"number",  "sensor_u", "sensor_v", "sensor_w",  "phase_u",
                                        "phase_v", "phase_w",  "verdict",  "direction", "kind"};
    hp_report_row none = {.number = 1};
    hp_report_field field[HP_REPORT_FIELDS];
    int count = hp_report_row_fields(&none, field);
    hp_csv csv = hp_csv_line(out);
    for (size_t k = 0; k < sizeof first / sizeof first[0]; k++)
        hp_csv_text(&csv, first[k]);
    for (int k = 0; k < count; k++) {
        if (k == HP_REPORT_FIELDS_FIRST) {
            hp_csv_text(&csv, "starts");
            hp_csv_text(&csv, "starts_tried");
        }
        hp_csv_text(&csv, field[k].name);
    }
    hp_csv_text(&csv, "reason");
    hp_csv_end(&csv);
}

static void write_row(const hp_labels *labels, const hp_report_row *row, FILE *out)
{
    hp_report_field field[HP_REPORT_FIELDS];
    int count = hp_report_row_fields(row, field);
    hp_csv csv = hp_csv_line(out);
    hp_csv_integer(&csv, row->number);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_csv_text(&csv, labels->motor_sensor[row->wiring.sensor[j]]);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_csv_text(&csv, labels->motor_lead[row->wiring.phase[j]]);
    hp_csv_text(&csv, hp_verdict_name(row->verdict));
    hp_csv_text(&csv, hp_direction_name(row->direction));
    hp_csv_text(&csv, hp_rough_kind_name(row->kind));
    for (int k = 0; k < count; k++) {
        if (k == HP_REPORT_FIELDS_FIRST) {
            hp_csv_integer(&csv, row->starts);
            hp_csv_integer(&csv, row->starts_tried);
        }
        hp_csv_number(&csv, field[k].value);
    }
    hp_csv_text(&csv, row->reason);
    hp_csv_end(&csv);
}

hp_result hp_survey_csv_write(const hp_report_case *subject, const hp_report_row *row, int count,
                              FILE *out, hp_error *err)
{
    write_head(out);
    for (int k = 0; k < count; k++)
        write_row(subject->labels, &row[k], out);
    if (ferror(out))
        return hp_error_set(err, HP_FAIL_IO, "the CSV text could not be written");
    return HP_OK;
}
