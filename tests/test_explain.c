/*
 * The explanation's arithmetic and words. Oracle: six-step drive with ideal sensors and a
 * sinusoidal motor (derived here, exact): lead 60 to 120 degrees for a smooth wiring, mean torque
 * 3/pi of the peak; 120 degrees out: 0 to 60 or 120 to 180, mean 3/(2 pi); against the rotor: mean
 * 0.
 */
#include "check.h"

#include "report_sample.h"

#include "report/words/explain.h"

#define SINUSOID_PEAK 0.86602540378443864676 /* sqrt(3)/2: pair of leads of a sinusoidal motor */

static hp_pull_sum sum_of(int number, hp_lead_sector sector[HP_LEAD_SECTOR_MAX], int *count)
{
    hp_commutation_table table = hp_commutation_table_120();
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf backemf = hp_backemf_sinusoidal();
    hp_wiring wiring = hp_wiring_from_number(number);
    *count = hp_lead_sectors(&table, &sensors, &backemf, &wiring, sector);
    for (int k = 0; k < *count; k++) {
        sector[k].torque_mean /= SINUSOID_PEAK;
        sector[k].torque_min /= SINUSOID_PEAK;
        sector[k].torque_max /= SINUSOID_PEAK;
    }
    return hp_pull_sum_make(sector, *count);
}

/* Relative error of the midpoint rule for a cosine: h^2 / 24 with h = 60 degrees / 240. */
#define MIDPOINT "midpoint rule over 240 points a sector: 7.9e-7"

static void the_36_pulls_follow_theory(void **state)
{
    (void)state;
    static const int odd[HP_ORDER_COUNT] = {0, 1, 1, 0, 0, 1};
    int found[HP_PULL_COUNT] = {0};
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count;
        hp_pull_sum sum = sum_of(n, sector, &count);
        int row = hp_wiring_row(n), column = hp_wiring_column(n);
        double sense = odd[row] ? -1.0 : 1.0;
        check_int(count, 6);
        found[sum.pull]++;
        if (row == column) {
            check_int(sum.pull, HP_PULL_STEADY);
            check_close(sum.mean, sense * 3.0 / HP_PI, 8e-7, MIDPOINT);
            check_close(sum.lead_middle, sense * HP_PI / 2.0, 1e-9, "closed form");
            check_int(sum.rests, 0);
        } else if (odd[row] == odd[column]) {
            check_int(sum.pull, HP_PULL_FADING);
            check_close(sum.mean, -sense * 1.5 / HP_PI, 8e-7, MIDPOINT);
        } else {
            check_int(sum.pull, HP_PULL_CHANGING);
            check_close(sum.mean, 0.0, 1e-9, "closed form");
            check_true(sum.rests > 0, "wiring %d has no rest", n);
        }
    }
    check_int(found[HP_PULL_STEADY], 6);
    check_int(found[HP_PULL_FADING], 12);
    check_int(found[HP_PULL_CHANGING], 18);
}

/* At a rest angle the pull just behind is forward and the pull just before is backward. */
static void rests_hold_the_rotor(void **state)
{
    (void)state;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count;
        hp_pull_sum sum = sum_of(n, sector, &count);
        for (int r = 0; r < sum.rests; r++) {
            for (int side = -1; side <= 1; side += 2) {
                double theta = hp_angle_wrap(sum.rest[r] + side * 1.0 * HP_DEG);
                double pull = 0.0;
                for (int k = 0; k < count; k++) {
                    double into = hp_angle_wrap(theta - sector[k].from);
                    if (into < sector[k].to - sector[k].from)
                        pull = sin(sector[k].lead_from - into);
                }
                check_true(pull * side < 0.0, "wiring %d, rest %.3f deg, side %d: pull %g", n,
                           sum.rest[r] / HP_DEG, side, pull);
            }
        }
    }
}

static char *explain_wide(const report_sample *sample, int number, const hp_survey *survey,
                          int columns)
{
    char *text = NULL;
    size_t size = 0;
    hp_wiring wiring = hp_wiring_from_number(number);
    SAMPLE_SHOWN(text, size, screen, columns, false,
                 hp_explain_print(&sample->subject, &wiring, survey, &screen));
    return text;
}

static char *explain(const report_sample *sample, int number, const hp_survey *survey)
{
    return explain_wide(sample, number, survey, HP_TEXT_COLUMNS);
}

/* Lines are filled, so a phrase may be broken anywhere: each run of blanks and breaks as one. */
static char *as_prose(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++)
        if (*from != '\n' && *from != ' ')
            *to++ = *from;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return text;
}

static void words_fit_the_pull(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    static const struct {
        int number;
        const char *words;
    } expected[] = {{1, "runs smoothly forward"},
                    {8, "runs smoothly backward"},
                    {4, "backward on the whole"},
                    {9, "forward on the whole"},
                    {2, "stops or shivers"}};
    for (size_t k = 0; k < sizeof expected / sizeof expected[0]; k++) {
        char *text = as_prose(explain(&sample, expected[k].number, NULL));
        check_text_contains(text, expected[k].words);
        assert_null(strstr(text, "Simulated"));
        free(text);
    }
    report_sample_free(&sample);
}

/* Of the two ways of being 120 degrees out, one is late, the other early. */
static void late_and_early_are_told_apart(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    int late = 0, early = 0;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        char *text = explain(&sample, n, NULL);
        late += strstr(text, "30 degrees ahead") != NULL;
        early += strstr(text, "150 degrees ahead") != NULL;
        free(text);
    }
    check_int(late, 6);
    check_int(early, 6);
    report_sample_free(&sample);
}

static void sectors_name_leads_and_angles(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    sample.drive.motor.backemf = hp_backemf_sinusoidal();
    char *text = explain(&sample, 1, NULL);
    check_text_contains(text,
                        " 30 to  90  110   V (green) > U (yellow)   150   120 to   60  +0.95");
    check_text_contains(text, "+0.95 +0.87 +1.00");
    free(text);
    report_sample_free(&sample);
}

static void simulation_stands_beside(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    char *text = explain(&sample, 9, &sample.survey);
    check_text_contains(text, "Simulated   rough, early, forward: made up");
    check_text_contains(text, "Rotor at 209.0");
    free(text);
    text = explain(&sample, SAMPLE_UNDECIDED, &sample.survey);
    check_text_contains(text, "Simulated   undecided: run from 17.0 deg");
    free(text);
    report_sample_free(&sample);
}

/* What the simulation made of it outweighs what the pull alone would lead to. */
static void the_simulation_has_the_last_word(void **state)
{
    (void)state;
    static const struct {
        int number; /* 1 steady, 2 changing, 9 fading forward, too late */
        hp_judgement judgement;
        const char *says, *says_not;
    } row[] = {
        {1, {.verdict = HP_VERDICT_ROUGH}, "runs rough all the same", "runs smoothly"},
        {1, {.verdict = HP_VERDICT_ROUGH}, "lies elsewhere", "too"},
        {1, {.verdict = HP_VERDICT_ROUGH, .kind = HP_KIND_LATE}, "is too late.", "elsewhere"},
        {1, {.verdict = HP_VERDICT_ROUGH, .kind = HP_KIND_EARLY}, "is too early.", "elsewhere"},
        {1, {.verdict = HP_VERDICT_STALLED}, "does not turn all the same", "runs smoothly"},
        {1, {.verdict = HP_VERDICT_REVERSE}, "runs smoothly backward", "smoothly forward"},
        {1, {.verdict = HP_VERDICT_UNDECIDED}, "never fades.", "runs"},
        {2,
         {.verdict = HP_VERDICT_ROUGH, .rotor_direction = HP_DIRECTION_FORWARD},
         "it turns, but rough",
         "pumps"},
        {2, {.verdict = HP_VERDICT_ROUGH}, "pumps the wheel forward", "it turns"},
        {2,
         {.verdict = HP_VERDICT_STALLED, .starts = 1},
         "From most start positions the rotor",
         "it turns"},
        {2, {.verdict = HP_VERDICT_STALLED}, "The rotor stops or shivers", "most start"},
        {2, {.verdict = HP_VERDICT_UNDECIDED}, "degrees.", "shivers"},
        {2, {.verdict = HP_VERDICT_CORRECT}, "runs smoothly all the same", "shivers"},
        {9,
         {.verdict = HP_VERDICT_ROUGH,
          .kind = HP_KIND_LATE,
          .rotor_direction = HP_DIRECTION_FORWARD},
         ": it is too late. ",
         "other way"},
        {9,
         {.verdict = HP_VERDICT_ROUGH,
          .kind = HP_KIND_EARLY,
          .rotor_direction = HP_DIRECTION_BACKWARD},
         "rotor turns the other way all the same, and rough",
         "it is too"},
        {9,
         {.verdict = HP_VERDICT_ROUGH, .rotor_direction = HP_DIRECTION_FORWARD},
         "runs rough",
         "it is too"},
        {9,
         {.verdict = HP_VERDICT_STALLED, .starts = 1},
         "does not turn from most start positions",
         "rough"},
        {9, {.verdict = HP_VERDICT_STALLED}, "the motor does not turn.", "most start"},
        {9, {.verdict = HP_VERDICT_UNDECIDED}, "Such a field draws much more current.", "rough"},
        {9, {.verdict = HP_VERDICT_CORRECT}, "it runs smoothly all the same", "it is too"},
    };
    report_sample sample;
    report_sample_init(&sample);
    const hp_survey whole = sample.survey;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        char text[HP_EXPLAIN_WORDS];
        hp_wiring wiring = hp_wiring_from_number(row[k].number);
        sample.survey = whole;
        sample.survey.judgement[row[k].number - 1] = row[k].judgement;
        hp_explain_sentences(&sample.subject, &wiring, &sample.survey, text, sizeof text);
        check_text_contains(text, row[k].says);
        check_true(strstr(text, row[k].says_not) == NULL, "row %zu: %s", k, text);
    }
    report_sample_free(&sample);
}

/* Against the sample's correct wiring 1: 0.25 A, 0.125 N m, 40.2 rev/min of the wheel. */
static void figures_are_told_against_the_correct_wiring(void **state)
{
    (void)state;
    static const struct {
        int number;
        hp_judgement judgement;
        const char *says, *says_not;
    } row[] = {
        {9,
         {.verdict = HP_VERDICT_ROUGH, .mean.battery_current = 5.0},
         "5.00 A from the battery, 20 times the 0.25 A of the correct wiring",
         "heat"},
        {9,
         {.verdict = HP_VERDICT_ROUGH, .mean.battery_current = 0.5},
         "2.0 times the 0.25 A",
         "heat"},
        {9,
         {.verdict = HP_VERDICT_ROUGH, .mean.battery_current = -0.5},
         "-0.50 A",
         "A of the correct"},
        {9,
         {.verdict = HP_VERDICT_ROUGH, .mean.torque_rms = 1.25},
         "1.2 N m to either side, 10 times as hard as in the correct wiring",
         "lies"},
        {9, {.verdict = HP_VERDICT_ROUGH, .mean.torque_rms = 0.24}, "either side.", "as hard"},
        {9,
         {.verdict = HP_VERDICT_ROUGH,
          .direction = HP_DIRECTION_FORWARD,
          .mean.wheel_speed = 80.4 * HP_RPM},
         "forward at 80.4 rev/min, 2.00 times the speed",
         "as fast"},
        {9,
         {.verdict = HP_VERDICT_ROUGH,
          .direction = HP_DIRECTION_BACKWARD,
          .mean.wheel_speed = -41.0 * HP_RPM},
         "backward at 41.0 rev/min, as fast as",
         "times the speed"},
        {9,
         {.verdict = HP_VERDICT_ROUGH, .direction = HP_DIRECTION_BOTH},
         "one way or the other",
         "rev/min"},
        {9,
         {.verdict = HP_VERDICT_ROUGH,
          .mean = {.battery_power = 100.0,
                   .copper_power = 70.0,
                   .diode_power = 5.0,
                   .limited = true,
                   .duty = 0.1,
                   .duty_asked = 0.35}},
         "75 % of its 100 W only heats winding and controller, and a current limit already holds "
         "it to 10 % throttle.",
         "lies"},
        {9,
         {.verdict = HP_VERDICT_ROUGH,
          .mean = {.battery_power = 100.0,
                   .copper_power = 70.0,
                   .limited = true,
                   .duty = 0.345,
                   .duty_asked = 0.35}},
         "70 % of its 100 W only heats winding and controller.",
         "limit"},
        {2,
         {.verdict = HP_VERDICT_STALLED, .starts_tried = 7},
         "the wheel does not move",
         "to and fro"},
        {2,
         {.verdict = HP_VERDICT_STALLED, .starts_tried = 7, .mean.swing = 46.0 * HP_DEG},
         "the wheel moves to and fro through 2.0 degrees, and turned on by hand it catches again: "
         "at 46 places in one turn, 7.8 degrees of the wheel apart.",
         "does not move"},
        {2,
         {.verdict = HP_VERDICT_STALLED, .starts = 1, .starts_tried = 7},
         "From most start positions the rotor stops or shivers there: ",
         "to and fro"},
        {8,
         {.verdict = HP_VERDICT_REVERSE, .excess = 1.05},
         "1.05 times the power that it needs",
         "times the 0"},
        {8,
         {.verdict = HP_VERDICT_REVERSE, .excess = (double)INFINITY},
         "0.00 A from the battery.",
         "inf"},
    };
    report_sample sample;
    report_sample_init(&sample);
    const hp_survey whole = sample.survey;
    sample.drive.motor.pole_pairs = 23;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        char text[HP_EXPLAIN_WORDS];
        hp_wiring wiring = hp_wiring_from_number(row[k].number);
        sample.survey = whole;
        hp_judgement *j = &sample.survey.judgement[row[k].number - 1];
        *j = row[k].judgement;
        j->measured = true;
        hp_explain_sentences(&sample.subject, &wiring, &sample.survey, text, sizeof text);
        check_text_contains(text, row[k].says);
        check_true(strstr(text, row[k].says_not) == NULL, "row %zu: %s", k, text);
    }
    report_sample_free(&sample);
}

/* The wheel of a geared hub moves less than its rotor, and is held at more places. */
static void a_geared_wheel_is_told_in_its_own_degrees(void **state)
{
    (void)state;
    char text[HP_EXPLAIN_WORDS];
    report_sample sample;
    report_sample_init(&sample);
    hp_wiring wiring = hp_wiring_from_number(2);
    sample.drive.motor.pole_pairs = 23;
    sample.drive.stand.gear_ratio = 5.0;
    sample.survey.judgement[1].mean.swing = 46.0 * HP_DEG;
    hp_explain_sentences(&sample.subject, &wiring, &sample.survey, text, sizeof text);
    check_text_contains(text, "the wheel moves to and fro through 0.4 degrees, and turned on by "
                              "hand it catches again: at 230 places in one turn, 1.6 degrees");
    report_sample_free(&sample);
}

/* The pull is an ampere's, and says nothing of where none flows. */
static void an_open_lead_is_told_wherever_the_sentences_stand(void **state)
{
    (void)state;
    report_sample sample;
    char text[HP_EXPLAIN_WORDS];
    report_sample_init(&sample);
    hp_wiring wiring = hp_wiring_from_number(1);
    hp_explain_sentences(&sample.subject, &wiring, &sample.survey, text, sizeof text);
    assert_null(strstr(text, "phase lead is open"));
    sample.drive.motor.lead_open[1] = true;
    hp_explain_sentences(&sample.subject, &wiring, &sample.survey, text, sizeof text);
    check_text_contains(text,
                        "The green phase lead is open: over 240 of 360 electrical degrees the "
                        "current would have to flow through it, so none flows and nothing "
                        "pulls. What remains pulls forward.");
    /* Where a lead is open the cause lies there, and not elsewhere. */
    sample.survey.judgement[0].verdict = HP_VERDICT_STALLED;
    hp_explain_sentences(&sample.subject, &wiring, &sample.survey, text, sizeof text);
    assert_null(strstr(text, "elsewhere"));
    assert_null(strstr(text, "every step"));
    sample.drive.motor.lead_open[0] = true;
    hp_explain_sentences(&sample.subject, &wiring, NULL, text, sizeof text);
    assert_string_equal(text,
                        "The yellow and green phase leads are open: over 360 of 360 electrical "
                        "degrees the current would have to flow through them, so none flows and "
                        "nothing pulls. The motor gets no current.");
    report_sample_free(&sample);
}

/* 60-degree sensors on a 120-degree table, and a table that lacks codes. */
static void missing_codes_are_told(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    sample.drive.sensors.spacing_60 = true;
    char *text = explain(&sample, 1, NULL);
    check_text_contains(text, "none: the table lacks this code");
    free(text);
    sample.drive.controller.table = hp_commutation_table_empty();
    text = explain(&sample, 1, NULL);
    check_text_contains(text, "no pair at any angle");
    free(text);
    report_sample_free(&sample);
}

/* Where the table of sectors does not fit, each sector is a sentence with the same numbers. */
static void a_narrow_screen_gets_sentences_that_say_the_same(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    sample.drive.motor.backemf = hp_backemf_sinusoidal();
    char *text = explain_wide(&sample, 1, NULL, HP_TEXT_COLUMNS_LEAST);
    for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n')
        check_true(strcspn(at, "\n") <= HP_TEXT_COLUMNS_LEAST, "%.*s", (int)strcspn(at, "\n"), at);
    as_prose(text);
    check_text_contains(text, "rotor 30 to 90, code 110: V (green) > U (yellow); field at 150, 120 "
                              "to 60 ahead; torque +0.95 (+0.87 to +1.00) ");
    check_text_contains(text, "rotor 330 to 30, ");
    check_text_contains(text, "sum over the turn: torque +0.95 (+0.87 to +1.00) ");
    free(text);
    sample.drive.sensors.spacing_60 = true;
    text = as_prose(explain_wide(&sample, 1, NULL, HP_TEXT_COLUMNS_LEAST));
    check_text_contains(text, "none driven, the table lacks this code ");
    free(text);
    report_sample_free(&sample);
}

/* What turns, and which way: the wheel, and the rotor where it does something else. */
static void wheel_and_rotor_are_told_apart(void **state)
{
    (void)state;
    static const struct {
        hp_judgement judgement;
        const char *says;
    } row[] = {
        {{.direction = HP_DIRECTION_FORWARD, .rotor_direction = HP_DIRECTION_FORWARD},
         "Simulated rough, forward: "},
        {{.direction = HP_DIRECTION_BOTH, .rotor_direction = HP_DIRECTION_BOTH},
         "Simulated rough, both ways: "},
        {{.direction = HP_DIRECTION_FORWARD, .rotor_direction = HP_DIRECTION_NONE},
         "Simulated rough, the wheel forward, the rotor to and fro: "},
        {{.direction = HP_DIRECTION_FORWARD, .rotor_direction = HP_DIRECTION_BOTH},
         "Simulated rough, the wheel forward, the rotor both ways: "},
        {{.direction = HP_DIRECTION_BOTH, .rotor_direction = HP_DIRECTION_BACKWARD},
         "Simulated rough, the wheel both ways, the rotor backward: "},
        {{.direction = HP_DIRECTION_FORWARD,
          .rotor_direction = HP_DIRECTION_BACKWARD,
          .measured = true,
          .mean = {.speed = -120.0 * HP_RPM, .wheel_speed = 24.0 * HP_RPM, .battery_current = 1.5}},
         " Rotor at 120.0 rev/min, 1.50 A from the battery, wheel at 24.0 rev/min at 35 % "
         "throttle."},
    };
    report_sample sample;
    report_sample_init(&sample);
    sample.drive.controller.throttle = 0.35;
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        hp_judgement *j = &sample.survey.judgement[8];
        *j = row[k].judgement;
        j->verdict = HP_VERDICT_ROUGH;
        snprintf(j->reason, sizeof j->reason, "made up");
        char *text = as_prose(explain(&sample, 9, &sample.survey));
        check_text_contains(text, row[k].says);
        free(text);
    }
    report_sample_free(&sample);
}

/* A lead that carries nothing, whichever it is: the four steps of its own, at every width. */
static void an_open_lead_takes_the_current_out_of_its_steps(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    for (int lead = -1; lead < HP_PHASE_COUNT; lead++) {
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            sample.drive.motor.lead_open[k] = k == lead;
        for (int wide = 0; wide < 2; wide++) {
            char *text = as_prose(
                explain_wide(&sample, 1, NULL, wide ? HP_TEXT_COLUMNS : HP_TEXT_COLUMNS_LEAST));
            int empty = 0;
            for (const char *at = text; (at = strstr(at, "open: no current")) != NULL; at++)
                empty++;
            check_int(empty, lead >= 0 ? 4 : 0);
            check_int(strstr(text, "phase lead is open: over 240 of 360") != NULL, lead >= 0);
            free(text);
        }
    }
    report_sample_free(&sample);
}

static void one_pole_pair_passes_its_angles_once(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    for (int pairs = 1; pairs <= 2; pairs++) {
        sample.drive.motor.pole_pairs = pairs;
        char *text = as_prose(explain(&sample, 1, NULL));
        check_text_contains(text, pairs == 1 ? "360 of them 1 time in one turn"
                                             : "360 of them 2 times in one turn");
        free(text);
    }
    report_sample_free(&sample);
}

static void lines_fit_eighty_columns(void **state)
{
    (void)state;
    report_sample sample;
    report_sample_init(&sample);
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        if (n == 20) /* too long for the table: letters take its place */
            snprintf(sample.labels.motor_lead[HP_V], HP_LABEL_SIZE, "the thick green one");
        char *text = explain(&sample, n, &sample.survey);
        for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n')
            if (strcspn(at, "\n") >= 80)
                fail_msg("%.*s", (int)strcspn(at, "\n"), at);
        free(text);
    }
    report_sample_free(&sample);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_36_pulls_follow_theory),
        cmocka_unit_test(rests_hold_the_rotor),
        cmocka_unit_test(words_fit_the_pull),
        cmocka_unit_test(late_and_early_are_told_apart),
        cmocka_unit_test(sectors_name_leads_and_angles),
        cmocka_unit_test(simulation_stands_beside),
        cmocka_unit_test(the_simulation_has_the_last_word),
        cmocka_unit_test(figures_are_told_against_the_correct_wiring),
        cmocka_unit_test(a_geared_wheel_is_told_in_its_own_degrees),
        cmocka_unit_test(an_open_lead_is_told_wherever_the_sentences_stand),
        cmocka_unit_test(missing_codes_are_told),
        cmocka_unit_test(a_narrow_screen_gets_sentences_that_say_the_same),
        cmocka_unit_test(wheel_and_rotor_are_told_apart),
        cmocka_unit_test(an_open_lead_takes_the_current_out_of_its_steps),
        cmocka_unit_test(one_pole_pair_passes_its_angles_once),
        cmocka_unit_test(lines_fit_eighty_columns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
