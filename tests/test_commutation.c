/* Commutation tables: those in print are true, and every way of spoiling one is seen. */
#include "field_limits.h"

#include "hubphase/model/controller.h"
#include "model/commutation.h"

/* A table in print: codes and what they drive, letters as printed. */
typedef struct printed_row {
    const char *code;
    const char *pair; /* high, low */
} printed_row;

typedef struct printed_table {
    const char *name;
    printed_row row[HP_SECTOR_COUNT];
} printed_table;

static const printed_table printed[] = {
    /* Electronics Stack Exchange 557599, 2021 (read): a working hub motor of 28 pole pairs; code
     * Hc Hb Ha. Question and answer drive it in opposite senses. */
    {"557599 question",
     {{"001", "AC"}, {"010", "BA"}, {"011", "BC"}, {"100", "CB"}, {"101", "AB"}, {"110", "CA"}}},
    {"557599 answer",
     {{"101", "BA"}, {"001", "CA"}, {"011", "CB"}, {"010", "AB"}, {"110", "AC"}, {"100", "BC"}}},
    /* Commutator-IC datasheet MC33035, code SA SB SC (60 and 120 degree phasing: read; rows:
     * memory). */
    {"MC33035 120 degrees",
     {{"100", "AC"}, {"110", "BC"}, {"010", "BA"}, {"011", "CA"}, {"001", "CB"}, {"101", "AB"}}},
    {"MC33035 60 degrees",
     {{"100", "AC"}, {"110", "BC"}, {"111", "BA"}, {"011", "CA"}, {"001", "CB"}, {"000", "AB"}}},
};
#define PRINTED ((int)(sizeof printed / sizeof printed[0]))

static int code_of(const char *text)
{
    return hp_code(text[0] - '0', text[1] - '0', text[2] - '0');
}

static hp_commutation_table table_of(const printed_table *source)
{
    hp_commutation_table table = hp_commutation_table_empty();
    for (int k = 0; k < HP_SECTOR_COUNT; k++)
        table.row[code_of(source->row[k].code)] =
            (hp_commutation_row){source->row[k].pair[0] - 'A', source->row[k].pair[1] - 'A'};
    return table;
}

/* The printed ones and our own two. */
enum { TABLES = PRINTED + 2 };
static hp_commutation_table any_table(int index)
{
    if (index < PRINTED)
        return table_of(&printed[index]);
    return index == PRINTED ? hp_commutation_table_120() : hp_commutation_table_60();
}

static void printed_and_own_tables_are_accepted(void **state)
{
    (void)state;
    for (int k = 0; k < TABLES; k++) {
        hp_commutation_table table = any_table(k);
        check_accepted(hp_commutation_table_check(&table, &refusal));
    }
}

/* The question's and the answer's tables are each other's opposite (read). */
static void opposite_tables_drive_each_pair_the_other_way(void **state)
{
    (void)state;
    hp_commutation_table question = table_of(&printed[0]), answer = table_of(&printed[1]);
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        check_int(question.row[code].high, answer.row[code].low);
        check_int(question.row[code].low, answer.row[code].high);
    }
}

/* The published 60-degree ring repeats the 120-degree one's outputs row for row. */
static void both_phasings_have_the_same_outputs_round_the_ring(void **state)
{
    (void)state;
    for (int k = 0; k < HP_SECTOR_COUNT; k++)
        assert_string_equal(printed[2].row[k].pair, printed[3].row[k].pair);
}

/* Our 60-degree table is the usual one seen through an inverted middle sensor. */
static void inverting_the_middle_input_turns_one_own_table_into_the_other(void **state)
{
    (void)state;
    hp_commutation_table usual = hp_commutation_table_120(), sixty = hp_commutation_table_60();
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        check_int(sixty.row[code ^ 2].high, usual.row[code].high);
        check_int(sixty.row[code ^ 2].low, usual.row[code].low);
    }
    check_int(usual.row[0].high, -1);
    check_int(usual.row[7].high, -1);
    check_int(sixty.row[2].high, -1);
    check_int(sixty.row[5].high, -1);
}

/* A true table uses each pair once and six codes, so that no one row can change by itself. */
static const char *reason_for(int high, int low)
{
    if (high < -1 || high > 2 || low < -1 || low > 2)
        return "names an output that does not exist";
    if ((high < 0) != (low < 0))
        return "drives one output only";
    if (high < 0)
        return "5 codes are driven, must be 6";
    if (high == low)
        return "against itself";
    return "drive the same pair";
}

static void every_change_of_one_row_is_refused_with_its_reason(void **state)
{
    (void)state;
    int refused = 0;
    for (int k = 0; k < TABLES; k++) {
        for (int code = 0; code < HP_CODE_COUNT; code++) {
            for (int high = -2; high <= HP_PHASE_COUNT; high++) {
                for (int low = -2; low <= HP_PHASE_COUNT; low++) {
                    hp_commutation_table table = any_table(k);
                    hp_commutation_row *row = &table.row[code], was = *row;
                    if (high == was.high && low == was.low)
                        continue;
                    *row = (hp_commutation_row){high, low};
                    check_refused(hp_commutation_table_check(&table, &refusal),
                                  reason_for(high, low));
                    check_int(hp_commutation_table_check(&table, NULL), HP_FAIL_INPUT);
                    refused++;
                }
            }
        }
    }
    check_int(refused, TABLES * HP_CODE_COUNT * (6 * 6 - 1));
}

static const char *const code_name[HP_CODE_COUNT] = {"000", "001", "010", "011",
                                                     "100", "101", "110", "111"};

/* The refusal of one changed row names that row. */
static void the_changed_row_is_named(void **state)
{
    (void)state;
    for (int k = 0; k < TABLES; k++) {
        for (int code = 0; code < HP_CODE_COUNT; code++) {
            for (int kind = 0; kind < 4; kind++) {
                hp_commutation_table table = any_table(k);
                hp_commutation_row *row = &table.row[code];
                const hp_commutation_row spoilt[] = {
                    {HP_U, HP_U},
                    {HP_W, -1},
                    {HP_V, HP_PHASE_COUNT},
                    row->high < 0 ? (hp_commutation_row){HP_U, HP_V}
                                  : (hp_commutation_row){row->low, row->high},
                };
                *row = spoilt[kind];
                check_refused(hp_commutation_table_check(&table, &refusal), code_name[code]);
            }
        }
    }
}

/* Swapping two rows keeps the pairs but breaks the walk round the ring. */
static void every_swap_of_two_rows_is_refused(void **state)
{
    (void)state;
    for (int k = 0; k < TABLES; k++) {
        for (int a = 0; a < HP_CODE_COUNT; a++) {
            for (int b = a + 1; b < HP_CODE_COUNT; b++) {
                hp_commutation_table table = any_table(k);
                hp_commutation_row first = table.row[a];
                if (first.high < 0 && table.row[b].high < 0)
                    continue;
                table.row[a] = table.row[b];
                table.row[b] = first;
                hp_error refusal = hp_error_none();
                check_int(hp_commutation_table_check(&table, &refusal), HP_FAIL_INPUT);
                check_true(strstr(refusal.text, code_name[a]) || strstr(refusal.text, code_name[b]),
                           "%s with %s swapped: %s", code_name[a], code_name[b], refusal.text);
            }
        }
    }
}

static void idle_codes_must_be_inverse_to_each_other(void **state)
{
    (void)state;
    /* 010 011 111 101 100 110: neighbours differ in one bit, but the first sensor is high for four
     * sectors of six, which no sensor half a turn wide can be. */
    static const int ring[HP_SECTOR_COUNT] = {2, 3, 7, 5, 4, 6};
    static const hp_commutation_row pair[HP_SECTOR_COUNT] = {
        {HP_V, HP_W}, {HP_V, HP_U}, {HP_W, HP_U}, {HP_W, HP_V}, {HP_U, HP_V}, {HP_U, HP_W}};
    hp_commutation_table table = hp_commutation_table_empty();
    for (int k = 0; k < HP_SECTOR_COUNT; k++)
        table.row[ring[k]] = pair[k];
    check_refused(hp_commutation_table_check(&table, &refusal), "its inverse");
}

/* Places the six pairs on the driven codes in all ways, counts the tables accepted. */
static int count_true(hp_commutation_table *table, const int driven[HP_SECTOR_COUNT], int placed,
                      unsigned used)
{
    static const hp_commutation_row pair[HP_SECTOR_COUNT] = {
        {HP_U, HP_V}, {HP_U, HP_W}, {HP_V, HP_W}, {HP_V, HP_U}, {HP_W, HP_U}, {HP_W, HP_V}};
    if (placed == HP_SECTOR_COUNT)
        return hp_commutation_table_check(table, NULL) == HP_OK;
    int count = 0;
    for (unsigned k = 0; k < HP_SECTOR_COUNT; k++) {
        if (used & 1u << k)
            continue;
        table->row[driven[placed]] = pair[k];
        count += count_true(table, driven, placed + 1, used | 1u << k);
    }
    return count;
}

/* Of all 28 * 720 placements of six pairs on six codes, 48 are true: 4 pairs of idle codes that are
 * inverse to each other, 6 rotations, 2 senses (derived). */
static void exactly_forty_eight_tables_are_true(void **state)
{
    (void)state;
    int count = 0;
    for (int a = 0; a < HP_CODE_COUNT; a++) {
        for (int b = a + 1; b < HP_CODE_COUNT; b++) {
            hp_commutation_table table = hp_commutation_table_empty();
            int driven[HP_SECTOR_COUNT], n = 0;
            for (int code = 0; code < HP_CODE_COUNT; code++)
                if (code != a && code != b)
                    driven[n++] = code;
            int here = count_true(&table, driven, 0, 0u);
            check_int(here, a + b == HP_CODE_COUNT - 1 ? 12 : 0);
            count += here;
        }
    }
    check_int(count, 48);
    hp_commutation_table empty = hp_commutation_table_empty();
    check_refused(hp_commutation_table_check(&empty, &refusal), "0 codes are driven");
}

/* Starts at the smallest driven code; the field steps 60 degrees forward each time. */
static void ring_turns_the_field_forward(void **state)
{
    (void)state;
    for (int k = 0; k < TABLES; k++) {
        hp_commutation_table table = any_table(k);
        int ring[HP_SECTOR_COUNT];
        hp_commutation_ring(&table, ring);
        for (int code = 0; code < ring[0]; code++)
            check_int(table.row[code].high, -1);
        for (int n = 0; n < HP_SECTOR_COUNT; n++) {
            int next = ring[(n + 1) % HP_SECTOR_COUNT];
            check_int(__builtin_popcount((unsigned)(ring[n] ^ next)), 1);
            const hp_commutation_row *a = &table.row[ring[n]], *b = &table.row[next];
            double step = hp_field_angle(b->high, b->low) - hp_field_angle(a->high, a->low);
            check_close(hp_angle_wrap(step), 60.0 * HP_DEG, 1e-14, "rounding");
        }
    }
}

/* Current into one lead and out of another: axis vectors subtract, 30 degrees from either axis. */
static void field_stands_between_the_axes(void **state)
{
    (void)state;
    static const struct {
        int high, low;
        double degrees;
    } field[] = {{HP_U, HP_W, 30.0},  {HP_V, HP_W, 90.0},  {HP_V, HP_U, 150.0},
                 {HP_W, HP_U, 210.0}, {HP_W, HP_V, 270.0}, {HP_U, HP_V, 330.0}};
    for (int k = 0; k < 6; k++)
        check_close(hp_field_angle(field[k].high, field[k].low), field[k].degrees * HP_DEG, 1e-14,
                    "rounding");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_and_own_tables_are_accepted),
        cmocka_unit_test(opposite_tables_drive_each_pair_the_other_way),
        cmocka_unit_test(both_phasings_have_the_same_outputs_round_the_ring),
        cmocka_unit_test(inverting_the_middle_input_turns_one_own_table_into_the_other),
        cmocka_unit_test(every_change_of_one_row_is_refused_with_its_reason),
        cmocka_unit_test(the_changed_row_is_named),
        cmocka_unit_test(every_swap_of_two_rows_is_refused),
        cmocka_unit_test(idle_codes_must_be_inverse_to_each_other),
        cmocka_unit_test(exactly_forty_eight_tables_are_true),
        cmocka_unit_test(ring_turns_the_field_forward),
        cmocka_unit_test(field_stands_between_the_axes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
