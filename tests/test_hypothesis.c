/* Hypotheses: counts, classes, tables, prior. */
#include "check.h"

#include "decide/advise/hypothesis.h"
#include "decide/reading/reading_list.h"
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
    for (int t = 0; t < HP_TABLES_120; t++) {
        hp_commutation_table table = hp_table_get(t);
        check_true(hp_commutation_table_check(&table, &err) == HP_OK, "table %d: %s", t, err.text);
        check_int(hp_table_index(&table), t);
    }
    hp_commutation_table usual = hp_commutation_table_120();
    check_int(hp_table_index(&usual), 0);
    hp_commutation_table sixty = hp_commutation_table_60();
    check_int(hp_table_index(&sixty), HP_TABLES_120 * (1 + HP_V));
    for (int t = 0; t < HP_TABLE_COUNT; t++) {
        hp_commutation_table table = hp_table_get(t);
        check_true(hp_commutation_table_check(&table, &err) == HP_OK, "table %d: %s", t, err.text);
        check_int(hp_table_index(&table), t);
        check_int(hp_table_inverts(t) >= 0, table.row[0].high >= 0);
    }
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
    for (int t = 0; t < HP_TABLES_120; t++) {
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
    for (int t = 0; t < HP_TABLES_120; t++)
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
    check_close(prior_sum(&prior, &kept), 1.0, 1e-11, "rounding of 31104 terms");
    /* What is reckoned goes with parts that fit: all but the 60-degree tables on a 120-degree hub,
     * and the other way round. */
    int all = 12 * 12 * (4 * 11 + 4) + 36 * 12 * (4 * 11 + 3 * 4);
    check_int(kept, all);
    /* Nothing stated, and a table for 60 degrees stated. */
    for (int table = -1; table < HP_TABLE_COUNT; table++) {
        prior.table = table;
        check_close(prior_sum(&prior, &kept), 1.0, 1e-11, "rounding");
    }
    prior.table = 0;
    /* With the table certain, the hypotheses counted by hand: 12 x (4 x 11 + 4), and the three
     * tables that differ by an inverted input, on a hub with 60-degree sensors. */
    prior.table_stated = 1.0;
    check_close(prior_sum(&prior, &kept), 1.0, 1e-12, "rounding");
    check_int(kept, 576 + 3 * 12 * 3 * (11 + 4));
    prior = hp_prior_default();
    /* Each combination left out weighs less than the floor. */
    double left_out = 1.0 - prior_sum(&prior, &kept);
    double bound = (all - kept) * prior.floor;
    check_true(left_out >= 0.0 && left_out <= bound, "%g left out, at most %g", left_out, bound);
    check_true(left_out < 0.006, "%g left out, more than six cases in 1000", left_out);
}

/* A hub with 60-degree sensors and a controller made for them: one wiring of the 36, that which is
 * right for the table and brings the inverted lead to the inverting input. */
static void a_matched_set_has_one_right_wiring(void **state)
{
    (void)state;
    bool seen[HP_WIRING_COUNT + 1] = {false};
    for (int t = HP_TABLES_120; t < HP_TABLE_COUNT; t++)
        for (int r = 0; r < HP_RELATION_COUNT; r++)
            for (int lead = -1; lead < 3; lead++) {
                int right[3], base[3], input = hp_table_inverts(t);
                hp_hypothesis h = {r, t, lead, {HP_FAULT_NONE, 0}};
                check_int(hp_hypothesis_rights(&h, right), lead < 0 ? 3 : 1);
                check_int(hp_hypothesis_misfit(&h), lead < 0 ? HP_MISFIT_INPUT + input : -1);
                hp_right_wirings(r, t % HP_TABLES_120, base);
                check_true(right[0] == base[0] || right[0] == base[1] || right[0] == base[2], "%d",
                           right[0]);
                if (lead < 0)
                    continue;
                check_int(right[1], 0);
                check_int(hp_wiring_from_number(right[0]).sensor[input], lead);
                seen[right[0]] = true;
            }
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        check_true(seen[n], "wiring %d", n);
    hp_hypothesis plain = {3, 5, 2, {HP_FAULT_NONE, 0}};
    check_int(hp_hypothesis_misfit(&plain), 2);
    plain.inverted = -1;
    check_int(hp_hypothesis_misfit(&plain), -1);
}

/* An old set comes as one: where nothing says which table there is, a hub with 60-degree sensors
 * makes a controller for them likely; where a table for 120 degrees is stated, it does not. */
static void the_hub_makes_its_controller_likely(void **state)
{
    (void)state;
    for (int stated = -1; stated <= HP_TABLES_120; stated += HP_TABLES_120 + 1) {
        hp_prior_params prior = hp_prior_default();
        prior.floor = 0.0;
        prior.table = stated;
        prior.matched = stated < 0 ? HP_MATCHED_UNSTATED : prior.matched;
        double sixty[2] = {0.0}, all[2] = {0.0};
        for (int t = 0; t < HP_TABLE_COUNT; t++)
            for (int k = -1; k < 3; k++) {
                hp_hypothesis h = {0, t, k, {HP_FAULT_NONE, 0}};
                all[k >= 0] += hp_prior_of(&prior, &h);
                sixty[k >= 0] += t >= HP_TABLES_120 ? hp_prior_of(&prior, &h) : 0.0;
            }
        check_close(sixty[1] / all[1], stated < 0 ? 0.6 : 1.0, 1e-9, "given a 60-degree hub");
        check_close(sixty[0] / all[0], stated < 0 ? 0.01 : 0.98, 1e-9, "given a 120-degree hub");
    }
}

/* Another controller than the one that the scenario states: nothing says which table it has. */
static void another_controller_is_not_the_stated_one(void **state)
{
    (void)state;
    hp_prior_params prior = hp_prior_default();
    hp_entry mend = hp_entry_make(&hp_reading_mend, 1);
    mend.mend.fault = (hp_fault){HP_FAULT_SILENT, 0};
    check_int(hp_prior_heeding(&prior, &mend, 1).table, 0);
    mend.mend = (hp_mend){.what = HP_MENDED_CONTROLLER};
    check_int(hp_prior_heeding(&prior, &mend, 0).table, 0);
    check_int(hp_prior_heeding(&prior, &mend, 1).table, -1);
    check_close(hp_prior_heeding(&prior, &mend, 1).matched, 0.6, 1e-12, "as nobody's");
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
        cmocka_unit_test(a_matched_set_has_one_right_wiring),
        cmocka_unit_test(the_hub_makes_its_controller_likely),
        cmocka_unit_test(another_controller_is_not_the_stated_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
