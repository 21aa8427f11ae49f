/* Summary of a spread: a table made by hand, with outcomes, bands and drivers that are known. */
#include "check.h"

#include "decide/judge/ensemble.h"
#include "decide/judge/spread_table.h"

#include <stdlib.h>

#define MOTORS 200

typedef struct fixture {
    hp_spread_table table;
    hp_spread spread;
} fixture;

/* Every wiring stalled with figures of its motor's number, every quantity varying. */
static fixture *make_fixture(int motors)
{
    fixture *f = calloc(1, sizeof *f);
    assert_non_null(f);
    f->spread.plan = hp_spread_plan_default();
    f->spread.plan.motors = motors;
    f->table.motors = motors;
    f->table.cell = calloc((size_t)motors * HP_WIRING_COUNT, sizeof *f->table.cell);
    assert_non_null(f->table.cell);
    for (int motor = 0; motor < motors; motor++) {
        for (int number = 1; number <= HP_WIRING_COUNT; number++) {
            hp_spread_cell *cell = hp_spread_cell_at(&f->table, motor, number);
            cell->verdict = HP_VERDICT_STALLED;
            cell->threshold = HP_THRESHOLD_TURN;
            cell->kind_log_ratio = INFINITY;
            for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
                cell->figure[k] = motor;
        }
    }
    return f;
}

static void free_fixture(fixture *f)
{
    free(f->table.cell);
    free(f);
}

static void sum_up(fixture *f)
{
    hp_error err = hp_error_none();
    hp_result result = hp_spread_summarise(&f->table, &f->spread, &err);
    check_true(result == HP_OK, "%s", err.text);
}

static double unit_of(const fixture *f, int quantity, int motor)
{
    return hp_ensemble_unit(f->spread.plan.seed, quantity, motor, f->spread.plan.motors);
}

static void bands_are_quantiles_of_the_motors(void **state)
{
    (void)state;
    fixture *f = make_fixture(101);
    sum_up(f);
    hp_spread_band band = f->spread.wiring[6].band[HP_SPREAD_BATTERY_CURRENT];
    check_close(band.low, 5.0, 0.0, "exact");
    check_close(band.middle, 50.0, 0.0, "exact");
    check_close(band.high, 95.0, 0.0, "exact");
    check_int(f->spread.groups, 1);
    check_int(f->spread.group[0].wirings, HP_WIRING_COUNT);
    check_close(f->spread.group[0].band[HP_SPREAD_SPEED].middle, 50.0, 0.0, "36 alike");
    free_fixture(f);
}

/* Laws that are monotone and bent, and figures that nothing drives. The speed's two shares have the
 * deviations 0.49 and 0.58, so correlations near 0.65 and -0.76, less what the two quantities have
 * in common by chance: up to 3 / sqrt(199). */
static void drivers_are_found_with_their_signs(void **state)
{
    (void)state;
    fixture *f = make_fixture(MOTORS);
    for (int motor = 0; motor < MOTORS; motor++) {
        double friction = unit_of(f, HP_VARY_FRICTION, motor), ke = unit_of(f, HP_VARY_KE, motor);
        hp_spread_cell *cell = hp_spread_cell_at(&f->table, motor, 9);
        cell->figure[HP_SPREAD_EXCESS] = 1.0 / (friction * friction + 1e-3);
        cell->figure[HP_SPREAD_SPEED] = exp(friction) - 2.0 * ke;
        cell->figure[HP_SPREAD_RIPPLE] = 7.0;
        cell->figure[HP_SPREAD_PHASE_RMS] = unit_of(f, 1000, motor);
    }
    sum_up(f);
    const hp_spread_summary *s = &f->spread.wiring[8];
    check_int(s->driver[HP_SPREAD_EXCESS][0].quantity, HP_VARY_FRICTION);
    check_close(s->driver[HP_SPREAD_EXCESS][0].rank_correlation, -1.0, 1e-14, "rounding");
    check_int(s->driver[HP_SPREAD_SPEED][0].quantity, HP_VARY_KE);
    check_true(s->driver[HP_SPREAD_SPEED][0].rank_correlation < -0.5, "sign or strength");
    check_int(s->driver[HP_SPREAD_SPEED][1].quantity, HP_VARY_FRICTION);
    check_true(s->driver[HP_SPREAD_SPEED][1].rank_correlation > 0.3, "sign or strength");
    check_int(s->driver[HP_SPREAD_RIPPLE][0].quantity, -1);
    check_int(s->driver[HP_SPREAD_PHASE_RMS][0].quantity, -1);
    free_fixture(f);
}

static void what_has_no_width_drives_nothing(void **state)
{
    (void)state;
    fixture *f = make_fixture(MOTORS);
    f->spread.plan.variation.friction_ratio = 0.0;
    for (int motor = 0; motor < MOTORS; motor++)
        hp_spread_cell_at(&f->table, motor, 9)->figure[HP_SPREAD_EXCESS] =
            unit_of(f, HP_VARY_FRICTION, motor);
    sum_up(f);
    check_int(f->spread.varies[HP_VARY_FRICTION], 0);
    check_int(f->spread.varies[HP_SPREAD_REST], 1);
    check_true(f->spread.wiring[8].driver[HP_SPREAD_EXCESS][0].quantity != HP_VARY_FRICTION,
               "friction has no width");
    free_fixture(f);
}

/* Under no correlation a rank correlation's square has the mean 1 / (n - 1); so the level of noise
 * is held against columns that nothing drives. */
static void noise_is_not_taken_for_a_driver(void **state)
{
    (void)state;
    fixture *f = make_fixture(MOTORS);
    int named = 0, columns = 0;
    for (int motor = 0; motor < MOTORS; motor++)
        for (int number = 1; number <= HP_WIRING_COUNT; number++)
            for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
                hp_spread_cell_at(&f->table, motor, number)->figure[k] =
                    unit_of(f, 1000 + 100 * number + k, motor);
    sum_up(f);
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        for (int fig = 0; fig < HP_SPREAD_FIGURE_COUNT; fig++, columns++)
            named += f->spread.wiring[k].driver[fig][0].quantity >= 0;
    /* Chance of one beyond three standard errors is 0.0027 each, of twenty quantities 0.053; 360
     * columns: 19 expected, standard deviation 4.3. */
    check_true(named <= 32, "%d of %d columns of noise got a driver", named, columns);
    free_fixture(f);
}

static void undecided_motors_count_in_shares_only(void **state)
{
    (void)state;
    fixture *f = make_fixture(100);
    for (int motor = 0; motor < 30; motor++) {
        hp_spread_cell *cell = hp_spread_cell_at(&f->table, motor, 2);
        cell->verdict = HP_VERDICT_UNDECIDED;
        for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
            cell->figure[k] = 0.0;
    }
    for (int motor = 0; motor < 100; motor++)
        hp_spread_cell_at(&f->table, motor, 3)->verdict = HP_VERDICT_UNDECIDED;
    sum_up(f);
    const hp_spread_summary *part = &f->spread.wiring[1], *all = &f->spread.wiring[2];
    check_close(part->share[HP_VERDICT_UNDECIDED], 0.3, 0.0, "exact");
    check_int(part->verdict, HP_VERDICT_STALLED);
    check_close(part->band[HP_SPREAD_SPEED].middle, 64.5, 0.0, "middle of 30 to 99");
    check_int(part->nearest.motor, 30);
    check_int(all->verdict, HP_VERDICT_UNDECIDED);
    check_true(isnan(all->band[HP_SPREAD_SPEED].middle), "a speed from nowhere");
    check_int(all->nearest.margin.threshold, HP_THRESHOLD_NONE);
    check_int(all->nearest.number, 0);
    check_int(all->driver[HP_SPREAD_SPEED][0].quantity, -1);
    check_int(f->spread.groups, 2);
    check_int(f->spread.group[1].number[0], 3);
    free_fixture(f);
}

static void figures_without_bound_keep_their_place(void **state)
{
    (void)state;
    fixture *f = make_fixture(101);
    for (int motor = 60; motor < 101; motor++)
        hp_spread_cell_at(&f->table, motor, 1)->figure[HP_SPREAD_EXCESS] = INFINITY;
    sum_up(f);
    hp_spread_band band = f->spread.wiring[0].band[HP_SPREAD_EXCESS];
    check_close(band.middle, 50.0, 0.0, "exact");
    check_true(isinf(band.high), "%g", band.high);
    free_fixture(f);
}

static void likely_outcomes_make_groups_in_order(void **state)
{
    (void)state;
    fixture *f = make_fixture(10);
    for (int motor = 0; motor < 10; motor++) {
        hp_spread_cell *smooth = hp_spread_cell_at(&f->table, motor, 30);
        hp_spread_cell *late = hp_spread_cell_at(&f->table, motor, 5);
        hp_spread_cell *early = hp_spread_cell_at(&f->table, motor, 7);
        smooth->verdict = HP_VERDICT_CORRECT;
        smooth->direction = HP_DIRECTION_FORWARD;
        /* Late in six of ten, rough without a kind in four. */
        late->verdict = early->verdict = HP_VERDICT_ROUGH;
        late->direction = early->direction = HP_DIRECTION_BACKWARD;
        late->kind = motor < 6 ? HP_KIND_LATE : HP_KIND_NONE;
        late->kind_log_ratio = 0.5 + 0.1 * abs(motor - 4);
        late->kind_threshold = HP_THRESHOLD_LATE;
        early->kind = HP_KIND_EARLY;
    }
    sum_up(f);
    const hp_spread *s = &f->spread;
    check_int(s->groups, 4);
    check_int(s->group[0].number[0], 30);
    check_int(s->group[1].kind, HP_KIND_EARLY);
    check_int(s->group[2].kind, HP_KIND_LATE);
    check_close(s->group[2].share_kind[HP_KIND_LATE], 0.6, 0.0, "exact");
    check_int(s->group[2].nearest_kind.motor, 4);
    check_int(s->group[2].nearest_kind.margin.threshold, HP_THRESHOLD_LATE);
    check_close(s->group[2].nearest_kind.margin.log_ratio, 0.5, 0.0, "exact");
    check_int(s->group[3].wirings, 33);
    free_fixture(f);
}

/* Three wirings that are one machine give a group the bands of that machine. */
static void alike_wirings_count_once_in_a_group(void **state)
{
    (void)state;
    fixture *f = make_fixture(10);
    static const int alike[] = {1, 22, 29};
    for (int k = 0; k < 3; k++) {
        f->spread.first[alike[k] - 1] = 1;
        for (int motor = 0; motor < 10; motor++)
            hp_spread_cell_at(&f->table, motor, alike[k])->verdict = HP_VERDICT_CORRECT;
    }
    sum_up(f);
    check_int(f->spread.group[0].wirings, 3);
    assert_memory_equal(f->spread.group[0].band, f->spread.wiring[21].band,
                        sizeof f->spread.group[0].band);
    check_close(f->spread.wiring[21].band[HP_SPREAD_SPEED].low, 0.45, 1e-15, "one rounding");
    check_close(f->spread.group[0].share[HP_VERDICT_CORRECT], 1.0, 0.0, "exact");
    free_fixture(f);
}

static void a_single_motor_has_no_drivers(void **state)
{
    (void)state;
    fixture *f = make_fixture(1);
    sum_up(f);
    check_int(f->spread.motors, 1);
    check_close(f->spread.wiring[0].share[HP_VERDICT_STALLED], 1.0, 0.0, "exact");
    check_int(f->spread.group[0].driver[HP_SPREAD_SPEED][0].quantity, -1);
    free_fixture(f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bands_are_quantiles_of_the_motors),
        cmocka_unit_test(drivers_are_found_with_their_signs),
        cmocka_unit_test(what_has_no_width_drives_nothing),
        cmocka_unit_test(noise_is_not_taken_for_a_driver),
        cmocka_unit_test(undecided_motors_count_in_shares_only),
        cmocka_unit_test(figures_without_bound_keep_their_place),
        cmocka_unit_test(likely_outcomes_make_groups_in_order),
        cmocka_unit_test(alike_wirings_count_once_in_a_group),
        cmocka_unit_test(a_single_motor_has_no_drivers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
