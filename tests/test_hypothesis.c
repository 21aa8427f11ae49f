/* Hypotheses: counts, classes, tables, prior. */
#include "check.h"

#include "decide/advise/hypothesis.h"
#include "hubphase/decide/assumptions.h"

static void relations_partition_the_wirings(void **state)
{
    (void)state;
    int seen[HP_WIRING_COUNT + 1] = {0};
    for (int r = 0; r < HP_RELATION_COUNT; r++) {
        int number[3];
        hp_right_wirings(r, 0, number);
        for (int k = 0; k < 3; k++)
            seen[number[k]]++;
    }
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        check_int(seen[n], 1);
}

static void relation_index_undoes_axes_and_ignores_a_common_turn(void **state)
{
    (void)state;
    for (int r = 0; r < HP_RELATION_COUNT; r++) {
        int a[3], b[3];
        hp_relation_axes(r, a, b);
        for (int turn = 0; turn < 3; turn++) {
            check_int(hp_relation_index(a, b), r);
            for (int k = 0; k < 3; k++) {
                a[k] = (a[k] + 1) % 3;
                b[k] = (b[k] + 1) % 3;
            }
        }
    }
}

static void twelve_true_tables(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    for (int t = 0; t < HP_TABLE_COUNT; t++) {
        hp_commutation_table table = hp_table_get(t);
        check_true(hp_commutation_table_check(&table, &err) == HP_OK, "table %d: %s", t, err.text);
        check_int(hp_table_index(&table), t);
    }
    hp_commutation_table usual = hp_commutation_table_120();
    check_int(hp_table_index(&usual), 0);
    hp_commutation_table sixty = hp_commutation_table_60();
    check_int(hp_table_index(&sixty), -1);
    usual.row[4].high = HP_U;
    check_int(hp_table_index(&usual), -1);
}

/* The two tables of one motor in sources.md are each other's opposite: question and answer 557599,
 * Electronics Stack Exchange, 2021 (read). Codes there are Hc Hb Ha. */
static void published_tables_are_found_and_opposed(void **state)
{
    (void)state;
    static const int rows[6][5] = {
        /* code, question high low, answer high low (A B C are 0 1 2) */
        {1, 0, 2, 2, 0}, {2, 1, 0, 0, 1}, {3, 1, 2, 2, 1},
        {4, 2, 1, 1, 2}, {5, 0, 1, 1, 0}, {6, 2, 0, 0, 2},
    };
    hp_commutation_table question = hp_commutation_table_empty(), answer = question;
    for (int k = 0; k < 6; k++) {
        int c = rows[k][0];
        int code = hp_code(c & 1, c >> 1 & 1, c >> 2 & 1);
        question.row[code] = (hp_commutation_row){rows[k][1], rows[k][2]};
        answer.row[code] = (hp_commutation_row){rows[k][3], rows[k][4]};
    }
    int q = hp_table_index(&question), a = hp_table_index(&answer);
    check_true(q >= 0 && a >= 0 && q != a, "indices %d and %d", q, a);
}

/* With the stated table the right wirings are like orders; with any table there are three, and a
 * table whose outputs turn against its inputs needs a set that no relation has under the stated
 * one. */
static void tables_make_twenty_four_sets(void **state)
{
    (void)state;
    int sets = 0, first[64][3];
    for (int t = 0; t < HP_TABLE_COUNT; t++) {
        for (int r = 0; r < HP_RELATION_COUNT; r++) {
            int number[3], k = 0;
            hp_right_wirings(r, t, number);
            while (k < sets && memcmp(first[k], number, sizeof number) != 0)
                k++;
            if (k == sets)
                memcpy(first[sets++], number, sizeof number);
        }
    }
    check_int(sets, 24);
}

/* The three right wirings as they are built are those among the 36 that prove right. */
static void right_wirings_are_those_that_prove_right(void **state)
{
    (void)state;
    for (int t = 0; t < HP_TABLE_COUNT; t++)
        for (int r = 0; r < HP_RELATION_COUNT; r++) {
            int number[3], count = 0;
            hp_right_wirings(r, t, number);
            for (int n = 1; n <= HP_WIRING_COUNT; n++) {
                hp_wiring wiring = hp_wiring_from_number(n);
                if (!hp_wiring_is_right(r, t, &wiring))
                    continue;
                check_true(count < 3 && number[count] == n, "relation %d, table %d, wiring %d", r,
                           t, n);
                count++;
            }
            check_int(count, 3);
        }
}

static void effective_wiring_of_the_textbook_is_itself(void **state)
{
    (void)state;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        hp_wiring wiring = hp_wiring_from_number(n);
        hp_wiring effective = hp_wiring_effective(0, 0, &wiring);
        check_int(hp_wiring_number(&effective), n);
    }
}

static void fault_indices_go_round(void **state)
{
    (void)state;
    for (int k = 0; k < HP_FAULT_COUNT; k++)
        check_int(hp_fault_index(hp_fault_from_index(k)), k);
}

static double prior_sum(const hp_prior_params *prior, int *kept)
{
    double sum = 0.0;
    *kept = 0;
    for (int t = 0; t < HP_TABLE_COUNT; t++)
        for (int r = 0; r < HP_RELATION_COUNT; r++)
            for (int i = -1; i < 3; i++)
                for (int f = 0; f < HP_FAULT_COUNT; f++) {
                    hp_hypothesis h = {r, t, i, hp_fault_from_index(f)};
                    double p = hp_prior_of(prior, &h);
                    sum += p;
                    *kept += p > 0.0;
                }
    return sum;
}

static void prior_adds_up(void **state)
{
    (void)state;
    int kept = 0;
    hp_prior_params prior = hp_prior_default();
    prior.floor = 0.0;
    prior.has_clutch = true;
    check_close(prior_sum(&prior, &kept), 1.0, 1e-12, "rounding of 6912 terms");
    check_int(kept, 12 * 12 * (4 * 11 + 4));
    /* With the table certain, the hypotheses counted by hand: 12 x (4 x 11 + 4). */
    prior.table_stated = 1.0;
    check_close(prior_sum(&prior, &kept), 1.0, 1e-12, "rounding");
    check_int(kept, 576);
    prior = hp_prior_default();
    /* Each combination left out weighs less than the floor. */
    double left_out = 1.0 - prior_sum(&prior, &kept);
    double bound = (12 * 12 * 4 * 11 - kept) * prior.floor;
    check_true(left_out >= 0.0 && left_out <= bound, "%g left out, at most %g", left_out, bound);
    check_true(left_out < 0.005, "%g left out, more than one case in 200", left_out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(relations_partition_the_wirings),
        cmocka_unit_test(relation_index_undoes_axes_and_ignores_a_common_turn),
        cmocka_unit_test(twelve_true_tables),
        cmocka_unit_test(published_tables_are_found_and_opposed),
        cmocka_unit_test(tables_make_twenty_four_sets),
        cmocka_unit_test(right_wirings_are_those_that_prove_right),
        cmocka_unit_test(effective_wiring_of_the_textbook_is_itself),
        cmocka_unit_test(fault_indices_go_round),
        cmocka_unit_test(prior_adds_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
