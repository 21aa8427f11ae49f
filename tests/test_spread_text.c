/* The spread's text: how wide, which rows in which order, what is said of a stop. */
#include "check.h"
#include "spread_sample.h"

#include "hubphase/base/text.h"
#include "hubphase/report/tables.h"

#define NARROW HP_TEXT_COLUMNS_LEAST

static char *print_wide(const report_sample *sample, const hp_spread *spread, int columns,
                        bool colour)
{
    char *text = NULL;
    size_t size = 0;
    SAMPLE_SHOWN(text, size, screen, columns, colour,
                 hp_spread_print(&sample->subject, spread, &screen));
    return text;
}

static char *print_spread(const report_sample *sample, const hp_spread *spread, bool colour)
{
    return print_wide(sample, spread, HP_TEXT_COLUMNS, colour);
}

/* The same with each run of blanks and line breaks as one blank: lines break anywhere. */
static char *print_as_prose(const report_sample *sample, const hp_spread *spread, int columns)
{
    char *text = print_wide(sample, spread, columns, false), *to = text;
    for (const char *from = text; *from; from++)
        if (*from != '\n' && *from != ' ')
            *to++ = *from;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return text;
}

static void check_width(const char *text, int columns)
{
    for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
        char line[400];
        snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
        if (hp_text_columns(line) >= columns)
            fail_msg("%d columns: %s", hp_text_columns(line), line);
    }
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
    check_width(text, 80);
    free(text);
    report_sample_free(&sample);
}

/* A phone's terminal: the tables become sentences that say the same. */
static void a_narrow_screen_gets_sentences_that_say_the_same(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    sample.drive.stand.gear_ratio = 5.0;
    sample.drive.stand.clutch = true;
    spread.wiring[7].nearest.margin =
        (hp_margin){.threshold = HP_THRESHOLD_TURN, .log_ratio = log(2000.0)};
    spread.wiring[8].nearest.margin.log_ratio = log(123.4);
    spread.wiring[13].share[HP_VERDICT_STALLED] = 0.004;
    char *text = print_wide(&sample, &spread, NARROW, false);
    check_width(text, NARROW + 1);
    check_true(strstr(text, "share of the motors, %") == NULL, "a table is left");
    free(text);
    text = print_as_prose(&sample, &spread, NARROW);
    check_text_contains(text, " 1 correct 100 %; nearest 1.65 excess ");
    check_text_contains(text, " 4 undecided 100 % ");
    check_text_contains(text, " 8 reverse 100 %; nearest >1000 turn ");
    check_text_contains(text, "; nearest 123 excess ");
    check_text_contains(text, " 14 rough 75 %, stalled <1 %, late 75 %; nearest 1.65 excess ");
    /* 201 rev/min, 0.25 A and an excess of 2 with the first of twenty motors, 1 % more with each
     * further one: 0.95, 9.5 and 18.05 % above it. */
    check_text_contains(text, " 1 rotor 202.9, 220.1, 237.3 rev/min; battery 0.25, 0.27, 0.30 A; "
                              "current excess 2.02, 2.19, 2.36 ");
    check_text_contains(text, "At 5, 50 and 95 % of the motors");
    check_text_contains(text, "correct: wirings 1, 22, 29 ");
    check_text_contains(text, "wheel speed, rev/min: ");
    check_true(strstr(text, " 2 rotor") == NULL, "wiring 2 turns with no motor");
    free(text);
    report_sample_free(&sample);
}

/* What orders the motors is named behind its figure, on a wide screen and on a narrow one. */
static void what_drives_a_figure_is_named_with_its_sense(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    spread.group[0].driver[HP_SPREAD_BATTERY_CURRENT][0] =
        (hp_spread_driver){HP_VARY_FRICTION, 0.83};
    spread.group[0].driver[HP_SPREAD_BATTERY_CURRENT][1] = (hp_spread_driver){HP_VARY_KE, -0.41};
    spread.group[0].driver[HP_SPREAD_BATTERY_CURRENT][2] =
        (hp_spread_driver){HP_VARY_RESISTANCE, 0.2};
    for (int columns = NARROW; columns <= HP_TEXT_COLUMNS; columns += HP_TEXT_COLUMNS - NARROW) {
        char *text = print_as_prose(&sample, &spread, columns), both[200];
        snprintf(both, sizeof both, "+%s 0.83, -%s 0.41 ",
                 hp_spread_quantity_words(HP_VARY_FRICTION), hp_spread_quantity_words(HP_VARY_KE));
        check_text_contains(text, both);
        check_true(strstr(text, "0.20 ") == NULL, "a third is shown at %d columns", columns);
        free(text);
    }
    report_sample_free(&sample);
}

/* Figures at the ends of what a table's column can show. */
static void odd_shares_and_figures_keep_to_what_they_mean(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    hp_spread_summary *odd = &spread.wiring[SPREAD_DOUBTED - 1];
    odd->share[HP_VERDICT_STALLED] = 0.004;
    odd->share[HP_VERDICT_ROUGH] = 0.9996;
    odd->share_kind[HP_KIND_LATE] = 0.997;
    odd->nearest.margin.log_ratio = log(2000.0);
    odd->band[HP_SPREAD_SPEED] = (hp_spread_band){NAN, -1e-9, 1e7 * HP_RPM};
    odd->band[HP_SPREAD_BATTERY_CURRENT] = (hp_spread_band){-1234.0, 12.34, 123456.0};
    spread.wiring[0].nearest.margin.log_ratio = log(12.34);
    spread.wiring[21].nearest.margin.log_ratio = log(123.4);
    char *text = print_spread(&sample, &spread, false);
    check_text_contains(text, " 14 VUW UWV       -       -    99.9    <0.5       -     -  99.7  "
                              ">1000 excess\n");
    check_text_contains(text, " 14 VUW UWV       ?    0.00  >99999  -1234   12.3 >99999 ");
    check_text_contains(text, "  1 UVW UVW     100       -       -       -       -     -     -  "
                              "12.3 excess\n");
    check_text_contains(text, "-  123 excess\n");
    free(text);
    report_sample_free(&sample);
}

/* One motor, one start position, nothing that varies. */
static void one_motor_is_told_as_one(void **state)
{
    (void)state;
    report_sample sample;
    hp_spread spread;
    report_sample_init(&sample);
    spread_sample_init(&spread);
    spread.plan.motors = spread.motors = spread.starts = 1;
    memset(spread.varies, 0, sizeof spread.varies);
    char *text = print_as_prose(&sample, &spread, HP_TEXT_COLUMNS);
    check_text_contains(text, "Ensemble 1 motor like the one described, seed 1; each wiring of "
                              "each from 1 start position of the rotor Varied by nothing ");
    check_text_contains(text, "With so few motors no driver can stand out from chance.");
    free(text);
    spread.plan.motors = spread.motors = 11; /* more than 3 x 3 + 1 */
    text = print_as_prose(&sample, &spread, HP_TEXT_COLUMNS);
    check_true(strstr(text, "With so few motors") == NULL, "11 motors are no longer few");
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
        cmocka_unit_test(a_narrow_screen_gets_sentences_that_say_the_same),
        cmocka_unit_test(what_drives_a_figure_is_named_with_its_sense),
        cmocka_unit_test(odd_shares_and_figures_keep_to_what_they_mean),
        cmocka_unit_test(one_motor_is_told_as_one),
        cmocka_unit_test(rows_say_shares_in_the_order_of_the_groups),
        cmocka_unit_test(a_stopped_spread_says_so),
        cmocka_unit_test(colour_changes_no_letter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
