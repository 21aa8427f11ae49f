/* What a report is about: see the header. */
#include "report/data/report_case.h"

#include "hubphase/report/tables.h"

#include <math.h>
#include <string.h>

/* Rounding can leave a negative zero, which would print as "-0". */
static double plain_zero(double value)
{
    return value == 0.0 ? 0.0 : value;
}

/* Figures of runs that broke off are not to be used. */
static void forget_figures(hp_report_row *row)
{
    row->speed_rpm = row->speed_sd_rpm = NAN;
    row->torque_mean_nm = row->torque_rms_nm = NAN;
    row->battery_current_a = row->phase_peak_a = row->phase_rms_a = NAN;
    row->net_turn_deg = row->current_excess = NAN;
    row->wheel_speed_rpm = row->torque_ripple = row->idle_current = NAN;
}

hp_report_case hp_report_case_of(const hp_scenario *scenario)
{
    return (hp_report_case){.file = scenario->path,
                            .about = scenario->about,
                            .drive = &scenario->drive,
                            .labels = &scenario->labels,
                            .parameters = &scenario->parameters};
}

hp_report_row hp_report_row_make(int number, const hp_judgement *judgement)
{
    const hp_figures *mean = &judgement->mean;
    hp_report_row row = {
        .number = number,
        .wiring = hp_wiring_from_number(number),
        .verdict = judgement->verdict,
        .direction = judgement->direction,
        .kind = judgement->kind,
        .speed_rpm = plain_zero(mean->speed / HP_RPM),
        .speed_sd_rpm = mean->speed_sd / HP_RPM,
        .torque_mean_nm = plain_zero(mean->torque_mean),
        .torque_rms_nm = mean->torque_rms,
        .battery_current_a = plain_zero(mean->battery_current),
        .phase_peak_a = mean->phase_peak,
        .phase_rms_a = mean->phase_rms,
        .net_turn_deg = plain_zero(mean->net_turn / HP_DEG),
        .current_excess = judgement->excess,
        .starts = judgement->starts,
        .starts_tried = judgement->starts_tried,
        .wheel_speed_rpm = plain_zero(mean->wheel_speed / HP_RPM),
        .torque_ripple = judgement->ripple,
        .idle_current = hp_figures_idle(mean),
        .rotor_direction = judgement->rotor_direction,
        .measured = judgement->measured,
    };
    memcpy(row.reason, judgement->reason, sizeof row.reason);
    row.reason[sizeof row.reason - 1] = '\0';
    if (!row.measured)
        forget_figures(&row);
    return row;
}

void hp_report_rows_make(const hp_survey *survey, hp_report_row row[HP_WIRING_COUNT])
{
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        row[k] = hp_report_row_make(k + 1, &survey->judgement[k]);
}

int hp_report_row_fields(const hp_report_row *row, hp_report_field field[HP_REPORT_FIELDS])
{
    const hp_report_field all[HP_REPORT_FIELDS] = {
        {"speed_rpm", row->speed_rpm},
        {"speed_sd_rpm", row->speed_sd_rpm},
        {"torque_mean_nm", row->torque_mean_nm},
        {"torque_rms_nm", row->torque_rms_nm},
        {"battery_current_a", row->battery_current_a},
        {"phase_peak_a", row->phase_peak_a},
        {"phase_rms_a", row->phase_rms_a},
        {"net_turn_deg", row->net_turn_deg},
        {"current_excess", row->current_excess},
        {"wheel_speed_rpm", row->wheel_speed_rpm},
        {"torque_ripple", row->torque_ripple},
        {"idle_current", row->idle_current},
    };
    memcpy(field, all, sizeof all);
    return HP_REPORT_FIELDS;
}

bool hp_report_case_geared(const hp_report_case *subject)
{
    return subject->drive->stand.clutch || subject->drive->stand.gear_ratio != 1.0;
}
