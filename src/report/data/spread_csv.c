/* A spread as CSV: see the header. */
#include "hubphase/report/tables.h"

#include "report/data/csv.h"
#include "report/data/spread_columns.h"

#include <stdio.h>

static void write_head(FILE *out)
{
    static const char *const first[] = {"number",    "sensor_u", "sensor_v", "sensor_w",
                                        "phase_u",   "phase_v",  "phase_w",  "verdict",
                                        "direction", "kind",     "motors"};
    static const char *const parts[] = {"p5", "p50", "p95", "driver", "rank_correlation"};
    char name[80];
    hp_csv csv = hp_csv_line(out);
    for (size_t k = 0; k < sizeof first / sizeof first[0]; k++)
        hp_csv_text(&csv, first[k]);
    for (int k = 0; k < HP_VERDICT_COUNT; k++) {
        snprintf(name, sizeof name, "share_%s", hp_verdict_name((hp_verdict)k));
        hp_csv_text(&csv, name);
    }
    for (int k = 1; k < HP_DIRECTION_COUNT; k++) {
        snprintf(name, sizeof name, "share_%s", hp_direction_name((hp_direction)k));
        hp_csv_text(&csv, name);
    }
    hp_csv_text(&csv, "share_early");
    hp_csv_text(&csv, "share_late");
    for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++) {
        for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) {
            snprintf(name, sizeof name, "%s_%s", hp_spread_column_name((hp_spread_figure)f),
                     parts[k]);
            hp_csv_text(&csv, name);
        }
    }
    hp_csv_text(&csv, "nearest_threshold");
    hp_csv_text(&csv, "nearest_log_ratio");
    hp_csv_text(&csv, "nearest_motor");
    hp_csv_text(&csv, "nearest_kind_threshold");
    hp_csv_text(&csv, "nearest_kind_log_ratio");
    hp_csv_text(&csv, "nearest_kind_motor");
    hp_csv_end(&csv);
}

static void write_figure(hp_csv *csv, const hp_spread_summary *s, hp_spread_figure figure)
{
    hp_spread_band band = hp_spread_column_band(s, figure);
    hp_spread_driver driver = s->driver[figure][0];
    hp_csv_number(csv, band.low);
    hp_csv_number(csv, band.middle);
    hp_csv_number(csv, band.high);
    hp_csv_text(csv, driver.quantity >= 0 ? hp_spread_quantity_name(driver.quantity) : "");
    hp_csv_number(csv, driver.quantity >= 0 ? driver.rank_correlation : (double)NAN);
}

static void write_nearest(hp_csv *csv, const hp_spread_nearest *nearest)
{
    bool none = nearest->margin.threshold == HP_THRESHOLD_NONE;
    hp_csv_text(csv, none ? "" : hp_threshold_name(nearest->margin.threshold));
    hp_csv_number(csv, nearest->margin.log_ratio);
    if (none)
        hp_csv_text(csv, "");
    else
        hp_csv_integer(csv, nearest->motor);
}

static void write_row(const hp_labels *labels, const hp_spread *spread, const hp_spread_summary *s,
                      FILE *out)
{
    hp_wiring wiring = hp_wiring_from_number(s->number[0]);
    hp_csv csv = hp_csv_line(out);
    hp_csv_integer(&csv, s->number[0]);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_csv_text(&csv, labels->motor_sensor[wiring.sensor[j]]);
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        hp_csv_text(&csv, labels->motor_lead[wiring.phase[j]]);
    hp_csv_text(&csv, hp_verdict_name(s->verdict));
    hp_csv_text(&csv, hp_direction_name(s->direction));
    hp_csv_text(&csv, hp_rough_kind_name(s->kind));
    hp_csv_integer(&csv, spread->motors);
    for (int k = 0; k < HP_VERDICT_COUNT; k++)
        hp_csv_number(&csv, s->share[k]);
    for (int k = 1; k < HP_DIRECTION_COUNT; k++)
        hp_csv_number(&csv, s->share_direction[k]);
    hp_csv_number(&csv, s->share_kind[HP_KIND_EARLY]);
    hp_csv_number(&csv, s->share_kind[HP_KIND_LATE]);
    for (int f = 0; f < HP_SPREAD_FIGURE_COUNT; f++)
        write_figure(&csv, s, (hp_spread_figure)f);
    write_nearest(&csv, &s->nearest);
    write_nearest(&csv, &s->nearest_kind);
    hp_csv_end(&csv);
}

hp_result hp_spread_csv_write(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                              hp_error *err)
{
    write_head(out);
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        write_row(subject->labels, spread, &spread->wiring[k], out);
    if (ferror(out))
        return hp_error_set(err, HP_FAIL_IO, "the CSV text could not be written");
    return HP_OK;
}
