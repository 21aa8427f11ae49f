/* The survey's text: what stands in the table, in the rows, in which order, and how wide. */
#include "check.h"

#include "report_sample.h"

#include "hubphase/base/text.h"
#include "report/words/table_text.h"

static char *print_survey(const report_sample *sample, bool colour)
{
    char *text = NULL;
    size_t size = 0;
    SAMPLE_SHOWN(text, size, screen, HP_TEXT_COLUMNS, colour,
                 hp_survey_print(&sample->subject, &sample->survey, &screen));
    return text;
}

/* The line that begins with `start`, cut out of `text`; empty when there is none. */
static void find_line(const char *text, const char *start, char line[256])
{
    line[0] = '\0';
    for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
        if (strncmp(at, start, strlen(start)) != 0)
            continue;
        snprintf(line, 256, "%.*s", (int)strcspn(at, "\n"), at);
        return;
    }
}

/* Rows hold their verdicts as words in the order of the numbers; undecided is a sign. */
static void table_has_a_word_for_each_wiring(void **state)
{
    (void)state;
    report_sample sample;
    char line[256];
    report_sample_init(&sample);
    char *text = print_survey(&sample, false);
    static const char *const row[] = {
        " 1  yellow green  blue    correct  stalled  stalled  ?        rough    stalled",
        " 7  yellow blue   green   stalled  reverse  rough    stalled  stalled  rough",
        "13  green  yellow blue    stalled  rough    reverse  stalled  stalled  rough",
        "19  green  blue   yellow  rough    stalled  stalled  correct  rough    stalled",
        "25  blue   yellow green   rough    stalled  stalled  rough    correct  stalled",
        "31  blue   green  yellow  stalled  rough    rough    stalled  stalled  reverse"};
    for (int r = 0; r < HP_ORDER_COUNT; r++) {
        char start[8];
        snprintf(start, sizeof start, "%2d  ", 1 + 6 * r);
        find_line(text, start, line);
        assert_string_equal(line, row[r]);
    }
    free(text);
    report_sample_free(&sample);
}

/* Every line fits a terminal of 80 columns, with the longest labels a scenario may give too. */
static void lines_fit_eighty_columns(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    sample.drive.stand.gear_ratio = 5.0;
    sample.drive.stand.clutch = true;
    for (int kind = 0; kind < 2; kind++) {
        char *text = print_survey(&sample, false);
        for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
            char line[400];
            snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
            if (hp_text_columns(line) >= 80)
                fail_msg("%d columns: %s", hp_text_columns(line), line);
        }
        free(text);
        /* Longer than the table has room for, and alike where they would be cut. */
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            snprintf(sample.labels.motor_lead[k], HP_LABEL_SIZE, "thick lead %c", "abc"[k]);
            snprintf(sample.labels.motor_sensor[k], HP_LABEL_SIZE, "thin lead %c", "abc"[k]);
            snprintf(sample.labels.controller_input[k], HP_LABEL_SIZE, "pin of plug %c", "abc"[k]);
        }
    }
    report_sample_free(&sample);
}

/* Labels that would look alike once cut give way to the letters of the axes. */
static void labels_that_look_alike_become_letters(void **state)
{
    (void)state;
    report_sample sample;
    char line[256];
    report_sample_init(&sample);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        snprintf(sample.labels.motor_sensor[k], HP_LABEL_SIZE, "yellow %c", "abc"[k]);
    char *text = print_survey(&sample, false);
    find_line(text, "13  ", line);
    check_text_contains(line, "13  V      U      W ");
    free(text);
    report_sample_free(&sample);
}

/* Smooth wirings first, forward before backward, each by the names of its leads; of the stalled
 * ones one sentence. */
static void rows_stand_smooth_first(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *text = print_survey(&sample, false);
    static const int expected[] = {1, 22, 29, 8, 15, 36, 9, 33, 12, 14, 18, 32, 5, 19, 23, 25, 28};
    size_t found = 0;
    const char *at = strstr(text, " no.  ");
    assert_non_null(at);
    for (at = strchr(at, '\n') + 1; strncmp(at, "stalled ", 8) != 0; at = strchr(at, '\n') + 1) {
        if (*at != ' ')
            continue;
        assert_true(found < sizeof expected / sizeof expected[0]);
        check_int(atoi(at), expected[found++]);
    }
    check_int((long long)found, (long long)(sizeof expected / sizeof expected[0]));
    check_text_contains(at, "18 wirings make no net turn, battery ");
    free(text);
    report_sample_free(&sample);
}

/* What a text says, without where its lines end: words that a line end broke would differ. */
static void join_lines(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++) {
        char c = *from == '\n' ? ' ' : *from;
        if (c != ' ' || (to > text && to[-1] != ' '))
            *to++ = c;
    }
    *to = '\0';
}

/* A stalled wiring may turn from a few start positions all the same. */
static void some_stalled_ones_turn_from_few_places(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    for (int turning = 0; turning < 3; turning++) {
        char *text = print_survey(&sample, false);
        join_lines(text);
        check_true((strstr(text, "from a few start positions") != NULL) == (turning > 0), "%s",
                   text);
        if (turning > 0)
            check_text_contains(text, turning == 1
                                          ? "A; 1 of them turns from a few start positions"
                                          : "A; 2 of them turn from a few start positions");
        free(text);
        for (int k = 0, changed = 0; k < HP_WIRING_COUNT && changed == 0; k++) {
            hp_judgement *j = &sample.survey.judgement[k];
            if (j->verdict == HP_VERDICT_STALLED && j->starts == 0)
                j->starts = changed = 1;
        }
    }
    report_sample_free(&sample);
}

/* Speed, direction, battery current, ripple, excess and starts stand above the wirings that show
 * the same ones; a wiring has its leads by name, sensors first. */
static void row_holds_the_figures(void **state)
{
    (void)state;
    report_sample sample;
    char line[256];
    report_sample_init(&sample);
    char *text = print_survey(&sample, false);
    assert_non_null(
        strstr(text, "\nreverse       215.0 backward    3.75   0.25   16.0   7 of 7\n"));
    find_line(text, "  15  ", line);
    assert_string_equal(line, "  15  green  yellow blue   green  yellow blue");
    find_line(text, "4 undecided", line);
    assert_string_equal(line, "4 undecided: run from 17.0 deg: step collapse");
    check_text_contains(text, "Correct: 1, 22 and 29. Reverse: 8, 15 and 36.");
    free(text);
    report_sample_free(&sample);
}

/* Where the smooth wirings have no verdict, that is told, and no lead or Hall sensor is suspected.
 */
static void without_a_verdict_nothing_is_suspected(void **state)
{
    (void)state;
    report_sample sample;
    char line[256];
    report_sample_init(&sample);
    sample.survey.judgement[SAMPLE_UNDECIDED - 1].verdict = HP_VERDICT_ROUGH;
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        if (sample.survey.judgement[k].verdict <= HP_VERDICT_REVERSE)
            sample.survey.judgement[k].verdict = HP_VERDICT_ROUGH;
    char *text = print_survey(&sample, false);
    check_text_contains(text, "Suspect an open phase lead");
    assert_null(strstr(text, "no verdict"));
    free(text);
    static const int open[] = {36, 29, 22, 8, 1};
    for (size_t k = 0; k < sizeof open / sizeof open[0]; k++) {
        hp_judgement *j = &sample.survey.judgement[open[k] - 1];
        j->verdict = HP_VERDICT_UNDECIDED;
        snprintf(j->reason, sizeof j->reason, "no friction");
    }
    text = print_survey(&sample, false);
    check_text_contains(text, "5 have no verdict");
    check_text_contains(text, "Wiring 1: no friction.");
    assert_null(strstr(text, "Suspect"));
    find_line(text, "1, 8", line);
    assert_string_equal(line, "1, 8, 22, 29, 36 undecided: no friction");
    free(text);
    report_sample_free(&sample);
}

static char *print_at(const report_sample *sample, int columns)
{
    char *text = NULL;
    size_t size = 0;
    SAMPLE_SHOWN(text, size, screen, columns, false,
                 hp_survey_print(&sample->subject, &sample->survey, &screen));
    return text;
}

/* From 50 columns on every line fits, and each number, name and sentence is whole on every width.
 */
static void every_width_fits_and_breaks_no_word(void **state)
{
    (void)state;
    static const char *const whole[] = {
        "backward",
        "yellow",
        "green",
        "Reverse: 8, 15 and 36.",
        "18 wirings make no net turn",
        "Torque ripple: rms of the torque about its mean, over the mean."};
    report_sample sample;
    report_sample_init(&sample);
    for (int columns = HP_TEXT_COLUMNS_LEAST; columns <= HP_TEXT_COLUMNS_MOST; columns++) {
        char *text = print_at(&sample, columns);
        for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
            char line[400];
            snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
            check_true(hp_text_columns(line) <= columns, "%d columns: %s", columns, line);
        }
        join_lines(text);
        for (size_t k = 0; k < sizeof whole / sizeof whole[0]; k++)
            check_text_contains(text, whole[k]);
        free(text);
    }
    report_sample_free(&sample);
}

/* A name is never cut: a wide screen has it whole in the table, a narrow one beside the row. */
static void long_names_stay_whole_where_they_fit(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    snprintf(sample.labels.motor_lead[HP_V], HP_LABEL_SIZE, "green and red");
    snprintf(sample.labels.motor_sensor[HP_V], HP_LABEL_SIZE, "thin lime");
    char *wide = print_at(&sample, HP_TEXT_COLUMNS_MOST);
    char *usual = print_at(&sample, HP_TEXT_COLUMNS), *narrow = print_at(&sample, 60);
    assert_non_null(strstr(wide, "yellow        yellow        green and red green and red"));
    assert_non_null(strstr(wide, "\n13  thin lime"));
    assert_non_null(strstr(usual, "  U        U        V        V        W        W\n"));
    assert_null(strstr(usual, "green an "));
    assert_non_null(strstr(narrow, "\n13 thin lime, yellow, blue\n"));
    free(wide);
    free(usual);
    free(narrow);
    report_sample_free(&sample);
}

/* Where the names are only names the result says so, and no wiring is told to be joined. */
static void names_that_are_only_names_join_nothing(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *known = print_survey(&sample, false);
    check_text_contains(known, "\nWiring 1\n");
    assert_null(strstr(known, "only names"));
    sample.labels.axes_known = false;
    char *text = print_survey(&sample, false);
    const char *result = strstr(text, "\nResult ");
    assert_non_null(result);
    check_text_contains(result, "names of the leads are only names");
    assert_null(strstr(text, "\nWiring 1\n"));
    free(known);
    free(text);
    report_sample_free(&sample);
}

/* A figure that nobody stated bears a mark; what the scenario, an option or a derivation gave none.
 */
static void figures_that_nobody_stated_are_marked(void **state)
{
    (void)state;
    hp_parameter item[] = {{.key = "motor.pole_pairs", .origin = HP_ORIGIN_DERIVED},
                           {.key = "supply.battery_v", .origin = HP_ORIGIN_FILE},
                           {.key = "controller.throttle_percent", .origin = HP_ORIGIN_OPTION},
                           {.key = "supply.resistance_mohm", .origin = HP_ORIGIN_DEFAULT}};
    const hp_parameters list = {.item = item, .count = 4, .capacity = 4};
    report_sample sample;
    report_sample_init(&sample);
    sample.subject.parameters = &list;
    char *text = print_survey(&sample, false);
    check_text_contains(text, "* ohm\n");
    check_text_contains(text, "not stated in the scenario");
    const char *marked = strchr(text, '*');
    check_text_contains(marked, "* ohm");
    assert_ptr_equal(strstr(marked, "* ohm"), marked);
    item[3].origin = HP_ORIGIN_FILE;
    free(text);
    text = print_survey(&sample, false);
    assert_null(strchr(text, '*'));
    free(text);
    report_sample_free(&sample);
}

/* Where both sides bear the same names, the wiring that joins them by name is pointed out. */
static void namesakes_are_pointed_out(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *text = print_survey(&sample, false);
    assert_null(strstr(text, "Colour to colour"));
    free(text);
    static const char *const output[] = {"blue", "green", "yellow"};
    static const char *const input[] = {"yellow", "blue", "green"};
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        snprintf(sample.labels.controller_output[j], HP_LABEL_SIZE, "%s", output[j]);
        snprintf(sample.labels.controller_input[j], HP_LABEL_SIZE, "%s", input[j]);
    }
    text = print_survey(&sample, false);
    check_text_contains(text, "Colour to colour is wiring 12: rough, late.");
    free(text);
    report_sample_free(&sample);
}

/* Without colour there is no escape character; with it the same words remain. */
static void colour_adds_nothing_but_colour(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *plain = print_survey(&sample, false), *coloured = print_survey(&sample, true);
    assert_null(strchr(plain, '\033'));
    assert_non_null(strchr(coloured, '\033'));
    char *to = coloured;
    for (const char *from = coloured; *from;) {
        if (*from == '\033')
            from += strcspn(from, "m") + 1;
        else
            *to++ = *from++;
    }
    *to = '\0';
    assert_string_equal(coloured, plain);
    free(plain);
    free(coloured);
    report_sample_free(&sample);
}

/* The cautions close the report. */
static void cautions_stand_at_the_end(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *text = print_survey(&sample, false);
    const char *cautions = strstr(text, "\nCautions ");
    assert_non_null(cautions);
    assert_null(strstr(cautions, "\n\n"));
    check_text_contains(cautions, "Battery off");
    free(text);
    report_sample_free(&sample);
}

/* A label must not drive the reader's terminal. */
static void control_characters_in_labels_are_replaced(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    snprintf(sample.labels.motor_lead[0], HP_LABEL_SIZE, "\033[31mred\nX");
    snprintf(sample.labels.machine, sizeof sample.labels.machine, "a\302\233b\xff");
    snprintf(sample.survey.judgement[3].reason, 40, "bad\033[2J");
    char *text = print_survey(&sample, false);
    assert_null(strchr(text, '\033'));
    assert_null(strstr(text, "\302\233"));
    check_text_contains(text, "a?b?");
    free(text);
    report_sample_free(&sample);
}

/* UTF-8 by RFC 3629: over-long forms, surrogates and values past 10FFFF are not characters. */
static void broken_utf8_is_replaced_byte_by_byte(void **state)
{
    (void)state;
    char out[64];
    static const struct {
        const char *in, *out;
    } pair[] = {{"gr\303\274n", "gr\303\274n"},
                {"\300\257", "??"},
                {"\355\240\200", "???"},
                {"\364\220\200\200", "????"},
                {"\360\237\224\247", "\360\237\224\247"},
                {"\303", "?"},
                {"a\342\202", "a??"}};
    for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++)
        assert_string_equal(hp_text_clean(pair[k].in, out, sizeof out), pair[k].out);
    assert_string_equal(hp_text_clean("gr\303\274n", out, 4), "gr");
    check_int(hp_text_columns("gr\303\274n"), 4);
    check_int(hp_text_columns("e\314\201"), 1);
    check_int(hp_text_columns("\351\273\204"), 2);
    assert_string_equal(hp_text_clip("\351\273\204\351\273\204", 3, out, sizeof out),
                        "\351\273\204");
}

/* Paragraphs break between words only; the lines after the first are indented. */
static void text_fills_lines(void **state)
{
    (void)state;
    char words[400] = "", *text = NULL;
    size_t size = 0;
    for (int k = 0; k < 30; k++)
        strcat(words, k % 2 ? "tenletters " : "four ");
    SAMPLE_SHOWN(text, size, screen, HP_TEXT_COLUMNS, false,
                 hp_text_fill(&screen, "Title", 8, words));
    int lines = 0, found = 0;
    for (const char *at = text; *at; at += strcspn(at, "\n") + 1, lines++) {
        assert_true(strcspn(at, "\n") <= HP_TEXT_COLUMNS);
        assert_int_equal(strncmp(at, lines ? "        " : "Title   ", 8), 0);
        assert_true(at[8] == 't' || at[8] == 'f');
    }
    for (const char *at = text; (at = strstr(at, "four")) != NULL; at++)
        found++;
    check_int(found, 15);
    check_int(lines, 4);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_has_a_word_for_each_wiring),
        cmocka_unit_test(lines_fit_eighty_columns),
        cmocka_unit_test(labels_that_look_alike_become_letters),
        cmocka_unit_test(rows_stand_smooth_first),
        cmocka_unit_test(some_stalled_ones_turn_from_few_places),
        cmocka_unit_test(row_holds_the_figures),
        cmocka_unit_test(without_a_verdict_nothing_is_suspected),
        cmocka_unit_test(every_width_fits_and_breaks_no_word),
        cmocka_unit_test(long_names_stay_whole_where_they_fit),
        cmocka_unit_test(names_that_are_only_names_join_nothing),
        cmocka_unit_test(figures_that_nobody_stated_are_marked),
        cmocka_unit_test(namesakes_are_pointed_out),
        cmocka_unit_test(colour_adds_nothing_but_colour),
        cmocka_unit_test(cautions_stand_at_the_end),
        cmocka_unit_test(control_characters_in_labels_are_replaced),
        cmocka_unit_test(broken_utf8_is_replaced_byte_by_byte),
        cmocka_unit_test(text_fills_lines),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
