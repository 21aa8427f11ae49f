/* CSV of a spread: a line a wiring, columns as docs/json.md says. */
#include "check.h"
#include "spread_sample.h"

#include "hubphase/report/tables.h"

#define FIELDS_MAX 100

/* Splits one line at its commas (no field of the sample is quoted); returns their number. */
static int split(char *line, char *field[FIELDS_MAX])
{
    int count = 0;
    for (char *at = line; at; count++) {
        check_true(count < FIELDS_MAX, "more than %d fields", FIELDS_MAX);
        field[count] = at;
        at = strchr(at, ',');
        if (at)
            *at++ = '\0';
    }
    return count;
}

static int find(char *const *head, int count, const char *name)
{
    for (int k = 0; k < count; k++)
        if (strcmp(head[k], name) == 0)
            return k;
    fail_msg("there is no column %s", name);
    return -1;
}

static void a_line_a_wiring_with_every_column(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    char *text = NULL, *head[FIELDS_MAX], *field[FIELDS_MAX];
    size_t size = 0;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    SAMPLE_CAPTURE(text, size, out,
                   check_int(hp_spread_csv_write(&sample.subject, &spread, out, NULL), HP_OK));
    char *rest = text, *line = strsep(&rest, "\r");
    int columns = split(line, head), lines = 0;
    check_int(columns, 11 + 5 + 3 + 2 + 5 * HP_SPREAD_FIGURE_COUNT + 6);
    while (rest && rest[0] == '\n' && rest[1]) {
        rest++;
        line = strsep(&rest, "\r");
        check_int(split(line, field), columns);
        check_int(atoi(field[0]), ++lines);
        check_int(atoi(field[find(head, columns, "motors")]), SPREAD_MOTORS);
        if (lines == SPREAD_DOUBTED) {
            assert_string_equal(field[find(head, columns, "verdict")], "rough");
            assert_string_equal(field[find(head, columns, "kind")], "late");
            assert_string_equal(field[find(head, columns, "share_rough")], "0.75");
            assert_string_equal(field[find(head, columns, "share_stalled")], "0.25");
            assert_string_equal(field[find(head, columns, "share_late")], "0.75");
            assert_string_equal(field[find(head, columns, "phase_peak_a_driver")], "resistance");
            assert_string_equal(field[find(head, columns, "phase_peak_a_rank_correlation")], "1");
            assert_string_equal(field[find(head, columns, "current_excess_p95")], "");
            assert_string_equal(field[find(head, columns, "nearest_kind_threshold")], "late");
        }
        if (lines == SAMPLE_UNDECIDED) {
            assert_string_equal(field[find(head, columns, "share_undecided")], "1");
            assert_string_equal(field[find(head, columns, "speed_rpm_p50")], "");
            assert_string_equal(field[find(head, columns, "nearest_threshold")], "");
            assert_string_equal(field[find(head, columns, "nearest_motor")], "");
        }
    }
    check_int(lines, HP_WIRING_COUNT);
    free(text);
    report_sample_free(&sample);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    setvbuf(full, NULL, _IONBF, 0);
    check_int(hp_spread_csv_write(&sample.subject, &spread, full, NULL), HP_FAIL_IO);
    fclose(full);
    report_sample_free(&sample);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_a_wiring_with_every_column),
        cmocka_unit_test(a_full_disk_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
