/* The JSON contract of a spread, docs/json.md: fields, types, order, null, same bytes. */
#include "check.h"
#include "spread_sample.h"

#include "hubphase/report/tables.h"

#include <jansson.h>

static char *write_json(const report_sample *sample, const hp_spread *spread)
{
    char *text = NULL;
    size_t size = 0;
    hp_error err = hp_error_none();
    SAMPLE_CAPTURE(
        text, size, out,
        assert_int_equal(hp_spread_json_write(&sample->subject, spread, out, &err), HP_OK));
    return text;
}

typedef struct fixture {
    report_sample sample;
    hp_spread spread;
    json_t *root; /* owned */
} fixture;

static int set_up(void **state)
{
    json_error_t trouble;
    fixture *f = calloc(1, sizeof *f);
    assert_non_null(f);
    report_sample_init(&f->sample);
    spread_sample_init(&f->spread);
    char *text = write_json(&f->sample, &f->spread);
    f->root = json_loads(text, JSON_REJECT_DUPLICATES, &trouble);
    if (!f->root)
        fail_msg("line %d: %s", trouble.line, trouble.text);
    free(text);
    *state = f;
    return 0;
}

static int tear_down(void **state)
{
    fixture *f = *state;
    json_decref(f->root);
    report_sample_free(&f->sample);
    free(f);
    return 0;
}

/* The names of an object's fields, in their order, are these. */
static void check_fields(json_t *object, const char *const *name, size_t count)
{
    size_t at = 0;
    const char *key;
    json_t *value;
    assert_true(json_is_object(object));
    json_object_foreach(object, key, value)
    {
        check_true(at < count, "%s is one too many", key);
        assert_string_equal(key, name[at++]);
    }
    check_int((long long)at, (long long)count);
}

#define CHECK_FIELDS(object, ...)                                                                  \
    do {                                                                                           \
        static const char *const names[] = {__VA_ARGS__};                                          \
        check_fields(object, names, sizeof names / sizeof names[0]);                               \
    } while (0)

static json_t *wiring_of(const fixture *f, int number)
{
    return json_array_get(json_object_get(f->root, "wirings"), (size_t)number - 1);
}

static void fields_are_the_contract_in_order(void **state)
{
    const fixture *f = *state;
    CHECK_FIELDS(f->root, "scenario", "parameters", "ensemble", "wirings", "groups");
    CHECK_FIELDS(json_object_get(f->root, "ensemble"), "motors", "motors_wanted", "starts", "seed",
                 "varied");
    check_int((long long)json_array_size(json_object_get(f->root, "wirings")), HP_WIRING_COUNT);
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        json_t *w = wiring_of(f, n);
        CHECK_FIELDS(w, "number", "sensors", "phases", "sensor_axes", "phase_axes", "verdict",
                     "direction", "kind", "shares", "direction_shares", "kind_shares", "figures",
                     "nearest_threshold", "nearest_kind_threshold");
        CHECK_FIELDS(json_object_get(w, "shares"), "correct", "reverse", "rough", "stalled",
                     "undecided");
        CHECK_FIELDS(json_object_get(w, "direction_shares"), "none", "forward", "backward", "both");
        CHECK_FIELDS(json_object_get(w, "kind_shares"), "early", "late");
        CHECK_FIELDS(json_object_get(w, "figures"), "speed_rpm", "wheel_speed_rpm", "speed_ratio",
                     "battery_current_a", "phase_rms_a", "phase_peak_a", "torque_ripple",
                     "current_excess", "starts_percent", "log_margin", "idle_current_percent",
                     "waste");
        CHECK_FIELDS(json_object_get(json_object_get(w, "figures"), "speed_rpm"), "p5", "p50",
                     "p95", "drivers");
        check_int(json_integer_value(json_object_get(w, "number")), n);
    }
    json_t *group = json_array_get(json_object_get(f->root, "groups"), 0);
    CHECK_FIELDS(group, "numbers", "verdict", "direction", "kind", "shares", "direction_shares",
                 "kind_shares", "figures", "nearest_threshold", "nearest_kind_threshold");
    check_int((long long)json_array_size(json_object_get(group, "numbers")), 3);
}

/* Nine significant digits are written. */
#define check_nine(value, expected) check_relative(value, expected, 5e-9, "nine digits are written")

static double figure_of(json_t *wiring, const char *figure, const char *part)
{
    json_t *entry = json_object_get(json_object_get(wiring, "figures"), figure);
    return json_real_value(json_object_get(entry, part));
}

static void values_come_back_in_peoples_units(void **state)
{
    const fixture *f = *state;
    json_t *ensemble = json_object_get(f->root, "ensemble");
    json_t *w = wiring_of(f, 15);
    check_int(json_integer_value(json_object_get(ensemble, "motors")), SPREAD_MOTORS);
    check_int(json_integer_value(json_object_get(ensemble, "motors_wanted")), SPREAD_WANTED);
    json_t *friction = json_object_get(json_object_get(ensemble, "varied"), "friction");
    check_nine(json_real_value(json_object_get(friction, "half_width")), 60.0);
    assert_string_equal(json_string_value(json_object_get(friction, "unit")), "percent");
    json_t *together = json_object_get(json_object_get(ensemble, "varied"), "sensors_together");
    check_nine(json_real_value(json_object_get(together, "half_width")), 5.0);
    assert_string_equal(json_string_value(json_object_get(together, "unit")), "deg");
    /* Factors 1.00 to 1.19 over twenty motors: the middle is 1.095. */
    check_nine(figure_of(w, "speed_rpm", "p50"), -215.0 * 1.095);
    check_nine(figure_of(w, "speed_rpm", "p5"), -215.0 * (1.19 - 0.19 * 0.05));
    check_nine(figure_of(w, "battery_current_a", "p95"), 3.75 * (1.0 + 0.19 * 0.95));
    check_nine(figure_of(w, "starts_percent", "p50"), 100.0);
    assert_string_equal(json_string_value(json_object_get(w, "verdict")), "reverse");
    assert_true(json_is_null(json_object_get(w, "kind")));
    json_t *nearest = json_object_get(w, "nearest_threshold");
    assert_string_equal(json_string_value(json_object_get(nearest, "threshold")), "excess");
    check_nine(json_real_value(json_object_get(nearest, "log_ratio")), 0.5);
    check_int(json_integer_value(json_object_get(nearest, "wiring")), 15);
    check_int(json_integer_value(json_object_get(nearest, "motor")), 0);
    json_t *doubted = wiring_of(f, SPREAD_DOUBTED);
    json_t *shares = json_object_get(doubted, "shares");
    check_nine(json_real_value(json_object_get(shares, "rough")), 0.75);
    check_nine(json_real_value(json_object_get(shares, "stalled")), 0.25);
}

static void drivers_are_named_with_their_sign(void **state)
{
    const fixture *f = *state;
    json_t *entry = json_object_get(json_object_get(wiring_of(f, 1), "figures"), "phase_peak_a");
    json_t *driver = json_array_get(json_object_get(entry, "drivers"), 0);
    CHECK_FIELDS(driver, "quantity", "rank_correlation");
    assert_string_equal(json_string_value(json_object_get(driver, "quantity")), "resistance");
    check_nine(json_real_value(json_object_get(driver, "rank_correlation")), 1.0);
}

static void what_has_no_number_is_null(void **state)
{
    const fixture *f = *state;
    json_t *undecided = json_object_get(wiring_of(f, SAMPLE_UNDECIDED), "figures");
    json_t *stalled = json_object_get(wiring_of(f, 2), "figures");
    assert_true(json_is_null(json_object_get(json_object_get(undecided, "speed_rpm"), "p50")));
    assert_true(json_is_null(json_object_get(json_object_get(stalled, "current_excess"), "p5")));
    assert_true(json_is_null(json_object_get(wiring_of(f, SAMPLE_UNDECIDED), "nearest_threshold")));
    assert_true(json_is_null(json_object_get(wiring_of(f, 2), "nearest_kind_threshold")));
}

static void the_same_spread_gives_the_same_bytes(void **state)
{
    const fixture *f = *state;
    char *first = write_json(&f->sample, &f->spread), *second = write_json(&f->sample, &f->spread);
    assert_string_equal(first, second);
    assert_null(strstr(first, "-0.0"));
    free(first);
    free(second);
}

/* Allocations of the tree fail one after another: the error comes back and nothing is written. */
static long allocations_left;

static void *failing_malloc(size_t size)
{
    return allocations_left-- > 0 ? malloc(size) : NULL;
}

static void failed_allocations_are_told(void **state)
{
    const fixture *f = *state;
    hp_result result = HP_FAIL_MEMORY;
    long k = 0;
    json_set_alloc_funcs(failing_malloc, free);
    /* The tree has tens of thousands of parts, all made by the same few calls: early ones one by
     * one, then with growing steps. */
    for (; result != HP_OK && k < 1000000; k += 1 + k / 50) {
        char *text = NULL;
        size_t size = 0;
        hp_error err = hp_error_none();
        allocations_left = k;
        SAMPLE_CAPTURE(text, size, out,
                       result = hp_spread_json_write(&f->sample.subject, &f->spread, out, &err));
        if (result == HP_FAIL_MEMORY)
            check_int((long long)size, 0);
        else if (result != HP_OK)
            check_int(result, HP_FAIL_IO);
        check_int(err.code, result);
        free(text);
    }
    json_set_alloc_funcs(malloc, free);
    check_int(result, HP_OK);
    check_true(k > 1000, "only %ld allocations were tried", k);
}

static void a_full_disk_is_told(void **state)
{
    const fixture *f = *state;
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    check_int(hp_spread_json_write(&f->sample.subject, &f->spread, full, NULL), HP_FAIL_IO);
    fclose(full);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(fields_are_the_contract_in_order, set_up, tear_down),
        cmocka_unit_test_setup_teardown(values_come_back_in_peoples_units, set_up, tear_down),
        cmocka_unit_test_setup_teardown(drivers_are_named_with_their_sign, set_up, tear_down),
        cmocka_unit_test_setup_teardown(what_has_no_number_is_null, set_up, tear_down),
        cmocka_unit_test_setup_teardown(the_same_spread_gives_the_same_bytes, set_up, tear_down),
        cmocka_unit_test_setup_teardown(failed_allocations_are_told, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_full_disk_is_told, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
