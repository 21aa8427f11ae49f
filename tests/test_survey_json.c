/* The JSON contract of docs/json.md: fields, types, order, null, same bytes. */
#include "check.h"

#include "report_sample.h"

#include "hubphase/report/tables.h"

#include <jansson.h>

/* The contract in its order. `any`: a number or null. */
static const struct {
    const char *name;
    char
        type; /* i integer, s string, n number or null, k string or null, l list of three strings */
} contract[] = {
    {"number", 'i'},
    {"sensors", 'l'},
    {"phases", 'l'},
    {"verdict", 's'},
    {"direction", 's'},
    {"kind", 'k'},
    {"speed_rpm", 'n'},
    {"speed_sd_rpm", 'n'},
    {"torque_mean_nm", 'n'},
    {"torque_rms_nm", 'n'},
    {"battery_current_a", 'n'},
    {"phase_peak_a", 'n'},
    {"phase_rms_a", 'n'},
    {"net_turn_deg", 'n'},
    {"current_excess", 'n'},
    {"starts", 'i'},
    {"starts_tried", 'i'},
    {"sensor_axes", 's'},
    {"phase_axes", 's'},
    {"wheel_speed_rpm", 'n'},
    {"torque_ripple", 'n'},
    {"idle_current", 'n'},
    {"reason", 's'},
};

#define CONTRACT_COUNT (sizeof contract / sizeof contract[0])

static char *write_json(const report_sample *sample)
{
    char *text = NULL;
    size_t size = 0;
    hp_report_row row[HP_WIRING_COUNT];
    hp_error err = hp_error_none();
    hp_report_rows_make(&sample->survey, row);
    SAMPLE_CAPTURE(
        text, size, out,
        assert_int_equal(hp_survey_json_write(&sample->subject, row, HP_WIRING_COUNT, out, &err),
                         HP_OK));
    return text;
}

static json_t *read_back(const report_sample *sample)
{
    json_error_t trouble;
    char *text = write_json(sample);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &trouble);
    if (!root)
        fail_msg("line %d: %s", trouble.line, trouble.text);
    free(text);
    return root;
}

static void check_type(const char *name, char type, const json_t *value)
{
    bool fits = type == 'i'   ? json_is_integer(value)
                : type == 's' ? json_is_string(value)
                : type == 'n' ? json_is_real(value) || json_is_null(value)
                : type == 'k' ? json_is_string(value) || json_is_null(value)
                              : json_is_array(value) && json_array_size(value) == 3 &&
                                    json_is_string(json_array_get(value, 0));
    check_true(fits, "%s is of another type", name);
}

static void fields_are_the_contract_in_order(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    json_t *root = read_back(&sample);
    json_t *wirings = json_object_get(root, "wirings");
    check_int((long long)json_object_size(root), 3);
    assert_true(json_is_object(json_object_get(root, "scenario")));
    assert_true(json_is_object(json_object_get(root, "parameters")));
    check_int((long long)json_array_size(wirings), HP_WIRING_COUNT);
    for (size_t k = 0; k < json_array_size(wirings); k++) {
        json_t *wiring = json_array_get(wirings, k);
        const char *name;
        json_t *value;
        size_t at = 0;
        json_object_foreach(wiring, name, value)
        {
            assert_true(at < CONTRACT_COUNT);
            assert_string_equal(name, contract[at].name);
            check_type(name, contract[at].type, value);
            at++;
        }
        check_int((long long)at, (long long)CONTRACT_COUNT);
        check_int(json_integer_value(json_object_get(wiring, "number")), (long long)k + 1);
    }
    json_decref(root);
    report_sample_free(&sample);
}

static double number_of(json_t *root, int number, const char *name)
{
    json_t *wiring = json_array_get(json_object_get(root, "wirings"), (size_t)(number - 1));
    return json_real_value(json_object_get(wiring, name));
}

static const char *text_of(json_t *root, int number, const char *name)
{
    json_t *wiring = json_array_get(json_object_get(root, "wirings"), (size_t)(number - 1));
    return json_string_value(json_object_get(wiring, name));
}

/* Nine significant digits are written: values come back to half a unit of the ninth. */
#define check_nine(value, expected) check_relative(value, expected, 5e-9, "nine digits are written")

static void values_come_back_in_peoples_units(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    json_t *root = read_back(&sample);
    check_nine(number_of(root, 15, "speed_rpm"), -215.0);
    check_nine(number_of(root, 15, "wheel_speed_rpm"), -43.0);
    /* 215 rev/min for 2 s at 23 pole pairs. */
    check_nine(number_of(root, 15, "net_turn_deg"), -215.0 / 60.0 * 2.0 * 23.0 * 360.0);
    check_nine(number_of(root, 15, "battery_current_a"), 3.75);
    check_nine(number_of(root, 15, "torque_rms_nm"), 0.125);
    check_nine(number_of(root, 15, "current_excess"), 16.0);
    check_nine(number_of(root, 15, "idle_current"), sqrt(0.32));
    assert_string_equal(text_of(root, 15, "verdict"), "reverse");
    assert_string_equal(text_of(root, 15, "direction"), "backward");
    assert_null(text_of(root, 15, "kind"));
    assert_string_equal(text_of(root, 9, "kind"), "early");
    assert_string_equal(text_of(root, 9, "sensor_axes"), "UWV");
    assert_string_equal(text_of(root, 9, "phase_axes"), "VUW");
    assert_string_equal(text_of(root, 9, "reason"), "made up, \"number\" 9");
    json_t *wiring = json_array_get(json_object_get(root, "wirings"), 8);
    json_t *sensors = json_object_get(wiring, "sensors");
    assert_string_equal(json_string_value(json_array_get(sensors, 1)), "blue");
    json_decref(root);
    report_sample_free(&sample);
}

static void what_has_no_number_is_null(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    json_t *root = read_back(&sample);
    json_t *wirings = json_object_get(root, "wirings");
    json_t *stalled = json_array_get(wirings, 1);
    json_t *undecided = json_array_get(wirings, SAMPLE_UNDECIDED - 1);
    assert_true(json_is_null(json_object_get(stalled, "current_excess")));
    assert_true(json_is_real(json_object_get(stalled, "speed_rpm")));
    for (size_t k = 0; k < CONTRACT_COUNT; k++)
        if (contract[k].type == 'n')
            assert_true(json_is_null(json_object_get(undecided, contract[k].name)));
    json_decref(root);
    report_sample_free(&sample);
}

static void parameters_keep_type_and_origin(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    json_t *root = read_back(&sample);
    json_t *parameters = json_object_get(root, "parameters");
    json_t *pairs = json_object_get(parameters, "motor.pole_pairs");
    check_close(json_number_value(json_object_get(pairs, "value")), 23.0, 0.0, "a small integer");
    assert_string_equal(json_string_value(json_object_get(pairs, "from")), "scenario");
    check_int(json_integer_value(json_object_get(pairs, "line")), 7);
    json_t *shape = json_object_get(parameters, "motor.backemf");
    assert_string_equal(json_string_value(json_object_get(shape, "value")), "trapezoidal");
    assert_true(json_is_null(json_object_get(shape, "line")));
    assert_true(
        json_is_false(json_object_get(json_object_get(parameters, "stand.clutch"), "value")));
    json_decref(root);
    report_sample_free(&sample);
}

static void same_rows_give_the_same_bytes(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *first = write_json(&sample), *second = write_json(&sample);
    assert_string_equal(first, second);
    assert_null(strstr(first, "-0.0"));
    free(first);
    free(second);
    report_sample_free(&sample);
}

/* Every allocation of the tree fails once: the error comes back, nothing is written, nothing leaks
 * (the sanitizers look after that). */
static long allocations_left;

static void *failing_malloc(size_t size)
{
    return allocations_left-- > 0 ? malloc(size) : NULL;
}

static void every_failed_allocation_is_told(void **state)
{
    (void)state;
    report_sample sample;
    hp_report_row row[HP_WIRING_COUNT];
    report_sample_init(&sample);
    hp_report_rows_make(&sample.survey, row);
    hp_result result = HP_FAIL_MEMORY;
    long k = 0;
    json_set_alloc_funcs(failing_malloc, free);
    for (; result != HP_OK && k < 20000; k++) {
        char *text = NULL;
        size_t size = 0;
        hp_error err = hp_error_none();
        allocations_left = k;
        SAMPLE_CAPTURE(text, size, out,
                       result = hp_survey_json_write(&sample.subject, row, 2, out, &err));
        if (result == HP_FAIL_MEMORY)
            check_int((long long)size, 0);
        else if (result != HP_OK)
            assert_int_equal(result, HP_FAIL_IO);
        assert_int_equal(err.code, result);
        free(text);
    }
    json_set_alloc_funcs(malloc, free);
    assert_int_equal(result, HP_OK);
    check_true(k > 50, "only %ld allocations were tried", k);
    report_sample_free(&sample);
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
    assert_int_equal(hp_survey_json_write(&sample.subject, row, HP_WIRING_COUNT, full, &err),
                     HP_FAIL_IO);
    fclose(full);
    report_sample_free(&sample);
}

/* A file name need not be UTF-8. */
static void an_odd_file_name_is_written(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    sample.subject.file = "b\xffrrow.yaml";
    json_t *root = read_back(&sample);
    assert_string_equal(
        json_string_value(json_object_get(json_object_get(root, "scenario"), "file")),
        "b?rrow.yaml");
    json_decref(root);
    report_sample_free(&sample);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_are_the_contract_in_order),
        cmocka_unit_test(values_come_back_in_peoples_units),
        cmocka_unit_test(what_has_no_number_is_null),
        cmocka_unit_test(parameters_keep_type_and_origin),
        cmocka_unit_test(same_rows_give_the_same_bytes),
        cmocka_unit_test(every_failed_allocation_is_told),
        cmocka_unit_test(a_full_disk_is_told),
        cmocka_unit_test(an_odd_file_name_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
