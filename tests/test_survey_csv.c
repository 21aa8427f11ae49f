/* CSV of a survey and of a trace, read back by a reader of RFC 4180 written here. */
#include "check.h"

#include "report_sample.h"

#include "hubphase/report/tables.h"

#define FIELDS_MAX 40
#define FIELD_SIZE 256

/* Reads one line into field[]; returns their number, 0 at the end. Fails on what RFC 4180 forbids.
 */
static int read_line(const char **at, char field[FIELDS_MAX][FIELD_SIZE])
{
    int count = 0;
    const char *s = *at;
    if (!*s)
        return 0;
    for (;;) {
        size_t used = 0;
        bool quoted = *s == '"';
        s += quoted;
        while (quoted ? !(s[0] == '"' && s[1] != '"') : (*s && *s != ',' && *s != '\r')) {
            assert_true(*s != '\0' && used + 1 < FIELD_SIZE);
            if (!quoted)
                assert_true(*s != '"' && *s != '\n');
            s += quoted && s[0] == '"';
            field[count][used++] = *s++;
        }
        s += quoted;
        field[count++][used] = '\0';
        if (*s != ',')
            break;
        s++;
        assert_true(count < FIELDS_MAX);
    }
    assert_true(s[0] == '\r' && s[1] == '\n');
    *at = s + 2;
    return count;
}

static char *write_survey(const report_sample *sample)
{
    char *text = NULL;
    size_t size = 0;
    hp_report_row row[HP_WIRING_COUNT];
    hp_report_rows_make(&sample->survey, row);
    SAMPLE_CAPTURE(
        text, size, out,
        assert_int_equal(hp_survey_csv_write(&sample->subject, row, HP_WIRING_COUNT, out, NULL),
                         HP_OK));
    return text;
}

static void survey_has_a_line_a_wiring(void **state)
{
    (void)state;
    static char head[FIELDS_MAX][FIELD_SIZE], field[FIELDS_MAX][FIELD_SIZE];
    report_sample sample;
    report_sample_init(&sample);
    char *text = write_survey(&sample);
    const char *at = text;
    int columns = read_line(&at, head), lines = 0;
    static const char *const expected[] = {
        "number",       "sensor_u",        "sensor_v",       "sensor_w",       "phase_u",
        "phase_v",      "phase_w",         "verdict",        "direction",      "kind",
        "speed_rpm",    "speed_sd_rpm",    "torque_mean_nm", "torque_rms_nm",  "battery_current_a",
        "phase_peak_a", "phase_rms_a",     "net_turn_deg",   "current_excess", "starts",
        "starts_tried", "wheel_speed_rpm", "torque_ripple",  "idle_current",   "reason"};
    check_int(columns, (long long)(sizeof expected / sizeof expected[0]));
    for (int k = 0; k < columns; k++)
        assert_string_equal(head[k], expected[k]);
    while (read_line(&at, field) == columns) {
        check_int(atoi(field[0]), ++lines);
        if (lines == 9) {
            assert_string_equal(field[2], "blue");
            assert_string_equal(field[7], "rough");
            assert_string_equal(field[9], "early");
            check_close(atof(field[10]), 209.0, 1e-6, "nine digits are written");
            assert_string_equal(field[19], "5");
            assert_string_equal(field[24], "made up, \"number\" 9");
        }
        if (lines == 2)
            assert_string_equal(field[18], "");
        if (lines == SAMPLE_UNDECIDED)
            for (int k = 10; k < 19; k++)
                assert_string_equal(field[k], "");
    }
    check_int(lines, HP_WIRING_COUNT);
    assert_string_equal(at, "");
    free(text);
    report_sample_free(&sample);
}

static void odd_labels_survive_quoting(void **state)
{
    (void)state;
    static char field[FIELDS_MAX][FIELD_SIZE];
    report_sample sample;
    report_sample_init(&sample);
    snprintf(sample.labels.motor_lead[HP_U], HP_LABEL_SIZE, "red, \"thick\"");
    snprintf(sample.labels.motor_lead[HP_V], HP_LABEL_SIZE, "two\r\nlines");
    snprintf(sample.labels.motor_sensor[HP_W], HP_LABEL_SIZE, "\"");
    char *text = write_survey(&sample);
    const char *at = text;
    read_line(&at, field);
    read_line(&at, field);
    assert_string_equal(field[4], "red, \"thick\"");
    assert_string_equal(field[5], "two\r\nlines");
    assert_string_equal(field[3], "\"");
    free(text);
    report_sample_free(&sample);
}

/* A spreadsheet would run them; a number with a minus it would not. */
static void no_label_passes_for_a_formula(void **state)
{
    (void)state;
    static char field[FIELDS_MAX][FIELD_SIZE];
    static const char *const label[] = {"=1+1", "+red", "-red", "@red", "\tred", "\rred"};
    for (int k = 0; k < 6; k++) {
        char guarded[HP_LABEL_SIZE + 1];
        report_sample sample;
        report_sample_init(&sample);
        snprintf(sample.labels.motor_lead[HP_U], HP_LABEL_SIZE, "%s", label[k]);
        snprintf(sample.labels.motor_lead[HP_V], HP_LABEL_SIZE, "%s, \"b\"", label[k]);
        snprintf(sample.labels.motor_lead[HP_W], HP_LABEL_SIZE, "a%s", label[k]);
        char *text = write_survey(&sample);
        const char *at = text;
        read_line(&at, field);
        read_line(&at, field);
        snprintf(guarded, sizeof guarded, "'%s", label[k]);
        assert_string_equal(field[4], guarded);
        snprintf(guarded, sizeof guarded, "'%s, \"b\"", label[k]);
        assert_string_equal(field[5], guarded);
        check_int(field[6][0], 'a');
        free(text);
        report_sample_free(&sample);
    }
}

static void trace_has_a_line_a_sample(void **state)
{
    (void)state;
    static char head[FIELDS_MAX][FIELD_SIZE], field[FIELDS_MAX][FIELD_SIZE];
    hp_sample sample[2];
    memset(sample, 0, sizeof sample);
    sample[1] = (hp_sample){.time = 0.25,
                            .theta = 450.0 * HP_DEG,
                            .speed = 100.0 * HP_RPM,
                            .wheel_speed = 20.0 * HP_RPM,
                            .current = {1.5, -1.5, -0.0},
                            .backemf = {2.0, 3.0, 4.0},
                            .terminal = {5.0, 6.0, 7.0},
                            .torque = 0.75,
                            .duty = 0.5,
                            .bus_voltage = 36.0,
                            .battery_current = 0.8,
                            .code = 5,
                            .drive = {1, -1, 0}};
    hp_trace trace = hp_trace_init(0.0, 1.0, 0.25);
    trace.sample = sample;
    trace.count = 2;
    char *text = NULL;
    size_t size = 0;
    SAMPLE_CAPTURE(text, size, out, assert_int_equal(hp_trace_csv_write(&trace, out, NULL), HP_OK));
    static const char *const expected[] = {"0.25", "450", "100", "20",  "1.5", "-1.5", "0",
                                           "2",    "3",   "4",   "5",   "6",   "7",    "0.75",
                                           "0.5",  "36",  "0.8", "101", "1",   "-1",   "0"};
    const char *at = text;
    int columns = read_line(&at, head);
    check_int(columns, (long long)(sizeof expected / sizeof expected[0]));
    assert_string_equal(head[0], "time_s");
    assert_string_equal(head[17], "code");
    check_int(read_line(&at, field), columns);
    check_int(read_line(&at, field), columns);
    for (int k = 0; k < columns; k++)
        assert_string_equal(field[k], expected[k]);
    assert_string_equal(at, "");
    free(text);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    report_sample sample;
    hp_report_row row[HP_WIRING_COUNT];
    hp_error err = hp_error_none();
    report_sample_init(&sample);
    hp_report_rows_make(&sample.survey, row);
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    setvbuf(full, NULL, _IONBF, 0);
    assert_int_equal(hp_survey_csv_write(&sample.subject, row, HP_WIRING_COUNT, full, &err),
                     HP_FAIL_IO);
    fclose(full);
    report_sample_free(&sample);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(survey_has_a_line_a_wiring),
        cmocka_unit_test(odd_labels_survive_quoting),
        cmocka_unit_test(no_label_passes_for_a_formula),
        cmocka_unit_test(trace_has_a_line_a_sample),
        cmocka_unit_test(a_full_disk_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
