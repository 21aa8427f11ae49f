/*
 * Exact search: known optima of the 12 relations, brute force on random small problems. With a file
 * name as argument the optima are written there for docs/advisor.md.
 */
#include "check.h"

#include "base/random.h"
#include "decide/advise/hypothesis.h"
#include "decide/advise/search.h"

#include <stdlib.h>

/* The twelve relations, tried by wiring alone; what shows is sharp. */
typedef struct twelve {
    double weight[12];
    uint8_t outcome[HP_WIRING_COUNT * 12];
    double cost[HP_WIRING_COUNT];
    hp_search_problem problem;
} twelve;

/* Theory of model.md: even on both sides runs forward, odd backward, alike is smooth, and the sense
 * of the difference tells early from late; parities that differ stall. */
static uint8_t shown(int relation, int number, bool early_told)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_wiring e = hp_wiring_effective(relation, 0, &wiring);
    bool sensor_even = (e.sensor[1] - e.sensor[0] + 3) % 3 == 1;
    bool phase_even = (e.phase[1] - e.phase[0] + 3) % 3 == 1;
    if (sensor_even != phase_even)
        return 0;
    int difference = (e.phase[0] - e.sensor[0] + 3) % 3;
    if (difference == 0)
        return sensor_even ? HP_SEARCH_GOAL : 1;
    return (uint8_t)(2 + (sensor_even ? 0 : 2) + (early_told && difference == 2));
}

static void make_twelve(twelve *t, bool early_told)
{
    for (int h = 0; h < 12; h++)
        t->weight[h] = 1.0;
    for (int a = 0; a < HP_WIRING_COUNT; a++) {
        t->cost[a] = 1.0;
        for (int h = 0; h < 12; h++)
            t->outcome[a * 12 + h] = shown(h, a + 1, early_told);
    }
    t->problem = (hp_search_problem){.hypotheses = 12,
                                     .actions = HP_WIRING_COUNT,
                                     .places = 1,
                                     .weight = t->weight,
                                     .outcome = t->outcome,
                                     .cost = t->cost};
}

static int worst_of(const hp_search *search, const hp_search_problem *problem)
{
    int worst = 0, step[40];
    for (int h = 0; h < problem->hypotheses; h++) {
        int steps = hp_search_walk(search, problem, 0, h, step, 40);
        check_true(steps > 0, "relation %d is never reached", h);
        worst = steps > worst ? steps : worst;
    }
    return worst;
}

static FILE *rows; /* may be NULL */

static void put_row(const char *plan, double mean, int worst)
{
    print_message("%s: %.3f trials, at worst %d\n", plan, mean, worst);
    if (rows)
        fprintf(rows, "| %s | %.3f | %d |\n", plan, mean, worst);
}

/* Without a plan: the chart of 36 in the order of the numbers, or drawn blindly, none twice. Three
 * of 36 are right, so that the first of them comes after 37/4 draws in the mean and 34 at worst. */
static void without_a_plan_it_takes_long(void **state)
{
    (void)state;
    int sum = 0, worst = 0, number[3];
    for (int r = 0; r < HP_RELATION_COUNT; r++) {
        hp_right_wirings(r, 0, number);
        sum += number[0];
        worst = number[0] > worst ? number[0] : worst;
    }
    put_row("the 36 in the order of their numbers", sum / 12.0, worst);
    put_row("the 36 at random, none twice", 37.0 / 4.0, 34);
    /* One sensor order of each sense with all six phase orders: each relation once. */
    check_int(sum, 12 * 13 / 2);
    check_int(worst, 12);
}

/* 32/12 and 28/12 trials, at worst 4 and 3: counted by hand over the first trial's outcomes. */
static void known_optima_of_trials_alone(void **state)
{
    (void)state;
    hp_search *search = hp_search_create(NULL);
    twelve t;
    double value;
    make_twelve(&t, false);
    assert_int_equal(hp_search_solve(search, &t.problem, 0, &value, NULL, NULL), HP_OK);
    check_close(value, 32.0 / 12.0, 1e-12, "rounding");
    check_int(worst_of(search, &t.problem), 4);
    put_row("exact plan, told: direction, and smooth, rough or stalled", value, 4);
    make_twelve(&t, true);
    assert_int_equal(hp_search_solve(search, &t.problem, 0, &value, NULL, NULL), HP_OK);
    check_close(value, 28.0 / 12.0, 1e-12, "rounding");
    check_int(worst_of(search, &t.problem), 3);
    put_row("exact plan, told also: early or late, by the speed", value, 3);
    hp_search_free(search);
}

/* Brute force: the same recursion without a table and without bounds. */
static double brute(const hp_search_problem *p, uint32_t set, int place)
{
    double best = INFINITY;
    for (int a = 0; a < p->actions; a++) {
        double value = 0.0;
        uint32_t subset[8] = {0};
        for (int h = 0; h < p->hypotheses; h++) {
            if (!(set >> h & 1))
                continue;
            value += p->weight[h] *
                     (p->cost[place * p->actions + a] + p->outcome_cost[a * p->hypotheses + h]);
            int o = p->outcome[a * p->hypotheses + h];
            if (o != HP_SEARCH_GOAL)
                subset[o] |= (uint32_t)1 << h;
        }
        for (int o = 0; o < 8; o++) {
            if (subset[o] == set)
                value = INFINITY;
            else if (subset[o])
                value += brute(p, subset[o], p->next[a] >= 0 ? p->next[a] : place);
        }
        best = fmin(best, value);
    }
    return best;
}

static void agrees_with_brute_force_on_random_problems(void **state)
{
    (void)state;
    hp_search *search = hp_search_create(NULL);
    hp_random random = hp_random_init(20, 1);
    int finite = 0;
    for (int round = 0; round < 800; round++) {
        enum { H = 5, A = 6, P = 3 };
        double weight[H], cost[P * A], outcome_cost[A * H];
        uint8_t outcome[A * H];
        int next[A];
        for (int h = 0; h < H; h++)
            weight[h] = hp_random_between(&random, 0.1, 1.0);
        for (int k = 0; k < P * A; k++)
            cost[k] = hp_random_between(&random, 0.5, 3.0);
        for (int k = 0; k < A * H; k++) {
            uint32_t o = hp_random_below(&random, 5);
            outcome[k] = (uint8_t)(o == 4 ? HP_SEARCH_GOAL : o);
            outcome_cost[k] = hp_random_unit(&random);
        }
        for (int a = 0; a < A; a++)
            next[a] = (int)hp_random_below(&random, P + 1) - 1;
        hp_search_problem p = {H, A, P, weight, outcome, cost, outcome_cost, next};
        double value, total = 0.0;
        assert_int_equal(hp_search_solve(search, &p, round % P, &value, NULL, NULL), HP_OK);
        for (int h = 0; h < H; h++)
            total += weight[h];
        double expected = brute(&p, (1u << H) - 1, round % P) / total;
        if (isfinite(expected)) {
            check_relative(value, expected, 1e-12, "sums in another order");
            finite++;
        } else {
            check_true(isinf(value), "value %g, expected none", value);
        }
    }
    check_true(finite > 100, "only %d problems can be solved", finite);
    hp_search_free(search);
}

/* What two readings give, sharply: the hand turn tells whether the sensors' order
 * is even, parking on a lead tells its sensor. With them cheap, the first powered trial is right.
 */
static void with_readings_the_first_trial_is_right(void **state)
{
    (void)state;
    enum { A = HP_WIRING_COUNT + 4 };
    double weight[12], cost[A];
    uint8_t outcome[A * 12];
    twelve t;
    make_twelve(&t, false);
    memcpy(outcome, t.outcome, sizeof t.outcome);
    for (int h = 0; h < 12; h++) {
        weight[h] = 1.0;
        int sensor_axis[3], lead_axis[3];
        hp_relation_axes(h, sensor_axis, lead_axis);
        outcome[HP_WIRING_COUNT * 12 + h] = (sensor_axis[1] - sensor_axis[0] + 3) % 3 == 1;
        for (int l = 0; l < 3; l++)
            for (int s = 0; s < 3; s++)
                if (sensor_axis[s] == lead_axis[l])
                    outcome[(HP_WIRING_COUNT + 1 + l) * 12 + h] = (uint8_t)s;
    }
    for (int a = 0; a < A; a++)
        cost[a] = a < HP_WIRING_COUNT ? 1.0 : 0.05;
    hp_search_problem p = {12, A, 1, weight, outcome, cost, NULL, NULL};
    hp_search *search = hp_search_create(NULL);
    double value;
    assert_int_equal(hp_search_solve(search, &p, 0, &value, NULL, NULL), HP_OK);
    int step[40];
    for (int h = 0; h < 12; h++) {
        int steps = hp_search_walk(search, &p, 0, h, step, 40), powered = 0;
        for (int k = 0; k < steps; k++)
            powered += step[k] < HP_WIRING_COUNT;
        check_int(powered, 1);
    }
    put_row("exact plan, with a hand turn and two parks first", 1.0, 1);
    /* One hand turn and two parks before the trial. */
    check_close(value, 1.0 + 3 * 0.05, 1e-12, "rounding");
    hp_search_free(search);
}

static void a_goal_out_of_reach_is_infinite(void **state)
{
    (void)state;
    double weight[2] = {1, 1}, cost[1] = {1};
    uint8_t outcome[2] = {0, 0};
    hp_search_problem p = {2, 1, 1, weight, outcome, cost, NULL, NULL};
    hp_search *search = hp_search_create(NULL);
    double value;
    int action;
    assert_int_equal(hp_search_solve(search, &p, 0, &value, &action, NULL), HP_OK);
    check_true(isinf(value), "value %g", value);
    check_int(action, -1);
    hp_search_free(search);
}

int main(int argc, char **argv)
{
    if (argc > 1) {
        rows = fopen(argv[1], "w");
        if (!rows) {
            perror(argv[1]);
            return 1;
        }
        fputs("| plan | powered trials, mean | at worst |\n|---|---|---|\n", rows);
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_a_plan_it_takes_long),
        cmocka_unit_test(known_optima_of_trials_alone),
        cmocka_unit_test(agrees_with_brute_force_on_random_problems),
        cmocka_unit_test(with_readings_the_first_trial_is_right),
        cmocka_unit_test(a_goal_out_of_reach_is_infinite),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    if (rows && fclose(rows) != 0)
        return 1;
    return failed;
}
