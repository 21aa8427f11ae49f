/* The waveforms of a run as CSV: see the header. */
#include "hubphase/report/tables.h"

#include "report/data/csv.h"

static const char *const head[] = {
    "time_s",
    "angle_electrical_deg",
    "rotor_speed_rpm",
    "wheel_speed_rpm",
    "current_u_a",
    "current_v_a",
    "current_w_a",
    "backemf_u_v",
    "backemf_v_v",
    "backemf_w_v",
    "terminal_u_v",
    "terminal_v_v",
    "terminal_w_v",
    "torque_nm",
    "duty",
    "bus_voltage_v",
    "battery_current_a",
    "code",
    "drive_u",
    "drive_v",
    "drive_w",
};

static void write_three(hp_csv *csv, const double value[HP_PHASE_COUNT])
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_csv_number(csv, value[k]);
}

static void write_sample(const hp_sample *sample, FILE *out)
{
    const char code[] = {(char)('0' + ((sample->code >> 2) & 1)),
                         (char)('0' + ((sample->code >> 1) & 1)), (char)('0' + (sample->code & 1)),
                         '\0'};
    hp_csv csv = hp_csv_line(out);
    hp_csv_number(&csv, sample->time);
    hp_csv_number(&csv, sample->theta / HP_DEG);
    hp_csv_number(&csv, sample->speed / HP_RPM);
    hp_csv_number(&csv, sample->wheel_speed / HP_RPM);
    write_three(&csv, sample->current);
    write_three(&csv, sample->backemf);
    write_three(&csv, sample->terminal);
    hp_csv_number(&csv, sample->torque);
    hp_csv_number(&csv, sample->duty);
    hp_csv_number(&csv, sample->bus_voltage);
    hp_csv_number(&csv, sample->battery_current);
    hp_csv_text(&csv, code);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_csv_integer(&csv, sample->drive[k]);
    hp_csv_end(&csv);
}

hp_result hp_trace_csv_write(const hp_trace *trace, FILE *out, hp_error *err)
{
    hp_csv csv = hp_csv_line(out);
    for (size_t k = 0; k < sizeof head / sizeof head[0]; k++)
        hp_csv_text(&csv, head[k]);
    hp_csv_end(&csv);
    for (size_t k = 0; k < trace->count; k++)
        write_sample(&trace->sample[k], out);
    if (ferror(out))
        return hp_error_set(err, HP_FAIL_IO, "the CSV text could not be written");
    return HP_OK;
}
