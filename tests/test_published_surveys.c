/*
 * A survey of all 36 wirings under each six-step table in print: the split into 3 correct, 3
 * reverse, 12 rough and 18 stalled does not depend on whose table the controller has.
 *
 * A true table differs from the usual one by its sense and by a shift of whole steps. The orders of
 * the leads make up for an even shift, an odd one turns every pair round, and so does the other
 * sense: each is a renaming among the 36. Each table is accepted as a true one, every spoiled
 * variant refused; the reasons are read in tests/test_commutation.
 *
 * Each row also goes to docs/validation.md, through tests/validation/record.h.
 */
#include "runs.h"

#include "hubphase/decide/survey.h"
#include "model/sensors.h"
#include "validation/record.h"
#include "validation/validation_cases.h"

static const record_source exchange = {"Electronics Stack Exchange 557599, 2021", "read"};
static const record_source mc33035 = {"datasheet MC33035, commutation table", "memory"};
static const record_source an885 = {
    "P. Yedamale, AN885, Brushless DC (BLDC) Motor Fundamentals, clockwise table", "memory"};
static const record_source phasing = {"datasheet MC33035, 60 and 120 degree phasing", "read"};
static const record_source spoiled = {
    "what makes a table a true one: include/hubphase/model/controller.h", "derived"};
static const record_source own = {"the usual table, by the parity rule", "derived"};

typedef struct printed_row {
    const char *code, *pair;
} printed_row;

typedef struct printed_table {
    const char *name;
    const record_source *source;
    bool sixty; /* made for sensors at 60 degrees */
    printed_row row[HP_SECTOR_COUNT];
} printed_table;

static const printed_table printed[] = {
    {"usual table",
     &own,
     false,
     {{"100", "BC"}, {"110", "BA"}, {"010", "CA"}, {"011", "CB"}, {"001", "AB"}, {"101", "AC"}}},
    {"table of the question",
     &exchange,
     false,
     {{"001", "AC"}, {"010", "BA"}, {"011", "BC"}, {"100", "CB"}, {"101", "AB"}, {"110", "CA"}}},
    {"table of the answer",
     &exchange,
     false,
     {{"101", "BA"}, {"001", "CA"}, {"011", "CB"}, {"010", "AB"}, {"110", "AC"}, {"100", "BC"}}},
    {"120-degree table",
     &mc33035,
     false,
     {{"100", "AC"}, {"110", "BC"}, {"010", "BA"}, {"011", "CA"}, {"001", "CB"}, {"101", "AB"}}},
    {"60-degree table",
     &mc33035,
     true,
     {{"100", "AC"}, {"110", "BC"}, {"111", "BA"}, {"011", "CA"}, {"001", "CB"}, {"000", "AB"}}},
    {"60-degree clockwise table",
     &an885,
     true,
     {{"001", "AC"}, {"000", "AB"}, {"100", "CB"}, {"110", "CA"}, {"111", "BA"}, {"011", "BC"}}},
};
#define PRINTED ((int)(sizeof printed / sizeof printed[0]))

static hp_commutation_table table_of(const printed_table *source)
{
    hp_commutation_table table = hp_commutation_table_empty();
    for (int k = 0; k < HP_SECTOR_COUNT; k++) {
        const char *code = source->row[k].code, *pair = source->row[k].pair;
        table.row[hp_code(code[0] - '0', code[1] - '0', code[2] - '0')] =
            (hp_commutation_row){pair[0] - 'A', pair[1] - 'A'};
    }
    return table;
}

/* An ideal motor in the bare bench: nothing out of place, friction sticks. */
static hp_drive ideal_motor(const printed_table *table)
{
    hp_drive d = validation_case_drive(CASE_BENCH_TRAPEZOID);
    d.motor.backemf = hp_backemf_trapezoidal(120.0 * HP_DEG);
    d.motor.cogging_nm = 0.0;
    d.stand.smooth_rad_s = 0.0;
    d.stand.rotor = (hp_friction){0.1, 0.1, 0.006};
    d.sensors.spacing_60 = table->sixty;
    d.controller.table = table_of(table);
    return d;
}

typedef struct tally {
    int verdict[HP_VERDICT_COUNT];
} tally;

/* Tallies of the wirings whose sensor order has the middle motor sensor at the middle input, and of
 * all. */
static void survey(const printed_table *table, tally *middle, tally *all)
{
    hp_drive d = ideal_motor(table);
    hp_survey_options options = hp_survey_options_default();
    options.run.seconds = 0.5;
    options.run.settle_s = 0.3;
    options.run.tolerance = 1e-6;
    options.starts = 3;
    options.jobs = 2;
    hp_survey result;
    hp_error err = hp_error_none();
    check_true(hp_survey_run(&d, &options, &result, &err) == HP_OK, "%s", err.text);
    memset(middle, 0, sizeof *middle);
    memset(all, 0, sizeof *all);
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_verdict verdict = result.judgement[number - 1].verdict;
        all->verdict[verdict]++;
        if (hp_wiring_from_number(number).sensor[HP_V] == HP_V)
            middle->verdict[verdict]++;
    }
    hp_survey_free(&result);
}

static void check_split(const char *name, const tally *found, const int expected[4],
                        const char *reason, record_source source)
{
    static const char *const verdict[] = {"correct", "reverse", "rough", "stalled"};
    for (int k = 0; k < 4; k++) {
        char text[160];
        snprintf(text, sizeof text, "%s: wirings %s", name, verdict[k]);
        check_recorded(text, "", found->verdict[k], expected[k], 0.0, reason, source);
    }
}

static void split_under_each_table(void **state)
{
    (void)state;
    static const int of_36[4] = {3, 3, 12, 18}, of_12[4] = {1, 1, 4, 6};
    for (int k = 0; k < PRINTED; k++) {
        hp_commutation_table table = table_of(&printed[k]);
        check_int(hp_commutation_table_check(&table, NULL), HP_OK);
        tally middle, all;
        survey(&printed[k], &middle, &all);
        if (!printed[k].sixty) {
            check_split(printed[k].name, &all, of_36, "a count", *printed[k].source);
            continue;
        }
        /* At 60 degrees the middle sensor is not like the others: at another input it shows codes
         * that the table lacks. */
        char name[128];
        snprintf(name, sizeof name, "%s, 60-degree sensors, the middle one at the middle input",
                 printed[k].name);
        check_split(name, &middle, of_12, "a count", *printed[k].source);
        int smooth = all.verdict[HP_VERDICT_CORRECT] + all.verdict[HP_VERDICT_REVERSE] -
                     middle.verdict[HP_VERDICT_CORRECT] - middle.verdict[HP_VERDICT_REVERSE];
        snprintf(name, sizeof name,
                 "%s, 60-degree sensors, other inputs: wirings correct or reverse",
                 printed[k].name);
        check_recorded(name, "", smooth, 0.0, 0.0, "a count", own);
    }
}

/* Every change of one row, to a pair or to something that is none, and every exchange of two. */
static void spoil(const hp_commutation_table *true_one, int *tried, int *refused)
{
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        hp_commutation_row was = true_one->row[code];
        for (int high = -2; high <= HP_PHASE_COUNT; high++) {
            for (int low = -2; low <= HP_PHASE_COUNT; low++) {
                hp_commutation_table table = *true_one;
                if (high == was.high && low == was.low)
                    continue;
                table.row[code] = (hp_commutation_row){high, low};
                ++*tried;
                *refused += hp_commutation_table_check(&table, NULL) == HP_FAIL_INPUT;
            }
        }
        for (int other = code + 1; other < HP_CODE_COUNT; other++) {
            hp_commutation_table table = *true_one;
            hp_commutation_row there = table.row[other];
            if (there.high == was.high && there.low == was.low)
                continue;
            table.row[code] = there;
            table.row[other] = was;
            ++*tried;
            *refused += hp_commutation_table_check(&table, NULL) == HP_FAIL_INPUT;
        }
    }
}

static void true_ones_are_accepted_spoiled_ones_refused(void **state)
{
    (void)state;
    for (int k = 0; k < PRINTED; k++) {
        hp_commutation_table table = table_of(&printed[k]);
        char name[128];
        snprintf(name, sizeof name, "%s: accepted", printed[k].name);
        check_recorded(name, "", hp_commutation_table_check(&table, NULL) == HP_OK, 1.0, 0.0,
                       "yes or no", *printed[k].source);
        int tried = 0, refused = 0;
        spoil(&table, &tried, &refused);
        snprintf(name, sizeof name, "%s: spoiled variants refused", printed[k].name);
        check_recorded(name, "", refused, tried, 0.0, "every one", spoiled);
    }
}

/* The codes of one electrical turn in steps of a degree. */
static void codes_go_round(void **state)
{
    (void)state;
    for (int sixty = 0; sixty < 2; sixty++) {
        hp_sensors_params sensors = hp_sensors_params_default();
        sensors.spacing_60 = sixty;
        int changes = 0, visited[HP_CODE_COUNT] = {0}, last = -1;
        for (int degree = 0; degree <= 360; degree++) {
            int bit[HP_PHASE_COUNT];
            for (int j = 0; j < HP_PHASE_COUNT; j++)
                bit[j] = hp_sensor_output(&sensors, j,
                                          hp_sensor_inside(&sensors, j, (degree + 0.5) * HP_DEG));
            int code = hp_code(bit[0], bit[1], bit[2]);
            changes += last >= 0 && code != last;
            visited[code] = 1;
            last = code;
        }
        int codes = 0;
        for (int code = 0; code < HP_CODE_COUNT; code++)
            codes += visited[code];
        char name[128];
        snprintf(name, sizeof name, "sensors at %d degrees: code changes a turn", sixty ? 60 : 120);
        check_recorded(name, "", changes, 6.0, 0.0, "a count", phasing);
        snprintf(name, sizeof name, "sensors at %d degrees: codes visited", sixty ? 60 : 120);
        check_recorded(name, "", codes, 6.0, 0.0, "a count", phasing);
        snprintf(name, sizeof name, "sensors at %d degrees: of them 000 and 111", sixty ? 60 : 120);
        check_recorded(name, "", visited[0] + visited[7], sixty ? 2.0 : 0.0, 0.0, "a count",
                       phasing);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(true_ones_are_accepted_spoiled_ones_refused),
        cmocka_unit_test(codes_go_round),
        cmocka_unit_test(split_under_each_table),
    };
    record_section("published_tables");
    return cmocka_run_group_tests(tests, NULL, NULL);
}
