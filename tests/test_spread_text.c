/* The spread's text: how wide, which rows in which order, what is said of a stop. */
#include "check.h"
#include "spread_sample.h"

#include "hubphase/base/text.h"
#include "hubphase/report/tables.h"

static char *print_spread(const report_sample *sample, const hp_spread *spread, bool colour)
{
    char *text = NULL;
    size_t size = 0;
    SAMPLE_SHOWN(text, size, screen, HP_TEXT_COLUMNS, colour,
                 hp_spread_print(&sample->subject, spread, &screen));
    return text;
}

static void lines_fit_eighty_columns(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    sample.drive.stand.gear_ratio = 5.0;
    sample.drive.stand.clutch = true;
    /* Figures as wide as they come. */
    for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
        spread.wiring[0].band[k] = (hp_spread_band){-1e300, 99999.4, INFINITY};
    char *text = print_spread(&sample, &spread, false);
    for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
        char line[400];
        snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
        if (hp_text_columns(line) >= 80)
            fail_msg("%d columns: %s", hp_text_columns(line), line);
    }
    free(text);
    report_sample_free(&sample);
}

static void rows_say_shares_in_the_order_of_the_groups(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    char *text = print_spread(&sample, &spread, false);
    const char *correct = strstr(
        text, "  1 UVW UVW     100       -       -       -       -     -     -  1.65 excess\n");
    const char *doubted = strstr(
        text, " 14 VUW UWV       -       -      75      25       -     -    75  1.65 excess\n");
    const char *undecided =
        strstr(text, "  4 UVW VWU       -       -       -       -     100     -     -  none\n");
    assert_non_null(correct);
    assert_non_null(doubted);
    assert_non_null(undecided);
    assert_true(correct < doubted && doubted < undecided);
    check_text_contains(text, "rough late, forward: wirings 12, 14, 18, 32\n");
    check_text_contains(text, "correct: wirings 1, 22, 29\n");
    check_text_contains(text, "position of the sensor carrier 5 deg");
    check_text_contains(text, "Cautions");
    free(text);
    report_sample_free(&sample);
}

static void a_stopped_spread_says_so(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    char *text = print_spread(&sample, &spread, false);
    check_text_contains(text, "Stopped     after the first 20 of them");
    free(text);
    spread.plan.motors = spread.motors;
    text = print_spread(&sample, &spread, false);
    check_true(strstr(text, "Stopped") == NULL, "it was not stopped");
    free(text);
    report_sample_free(&sample);
}

static void colour_changes_no_letter(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    char *plain = print_spread(&sample, &spread, false),
         *bright = print_spread(&sample, &spread, true);
    char *to = bright;
    for (const char *from = bright; *from;) {
        if (*from == '\033')
            from = strchr(from, 'm') + 1;
        else
            *to++ = *from++;
    }
    *to = '\0';
    assert_string_equal(plain, bright);
    free(plain);
    free(bright);
    report_sample_free(&sample);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_fit_eighty_columns),
        cmocka_unit_test(rows_say_shares_in_the_order_of_the_groups),
        cmocka_unit_test(a_stopped_spread_says_so),
        cmocka_unit_test(colour_changes_no_letter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
