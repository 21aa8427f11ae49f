/* Rows of runs: when a state lies on the path of an earlier run, and that runs which end there show
 * what they show alone. */
#include "check.h"

#include "decide/advise/behaviour.h"
#include "decide/advise/sight.h"
#include "decide/judge/ensemble.h"
#include "hubphase/decide/spread.h"
#include "sim/path.h"
#include "sim/row.h"

#include <stdlib.h>
#include <string.h>

/* ---- states on a path ------------------------------------------------------------------------ */

typedef struct bench {
    hp_drive drive;
    hp_machine machine;
    hp_paths *paths;
    double time, y[HP_STATE_COUNT];
    bool settled;
} bench;

static void set_up(bench *b)
{
    hp_wiring wiring = hp_wiring_from_number(1);
    hp_run_options options = hp_run_options_default();
    memset(b, 0, sizeof *b);
    b->settled = true;
    b->drive = hp_drive_default();
    hp_machine_start(&b->machine, &b->drive, &wiring, &options, b->y);
    b->paths = malloc(sizeof *b->paths);
    assert_non_null(b->paths);
    hp_paths_clear(b->paths);
}

/* A state of a machine that gains speed along a straight line; `off` more current than on it. */
static bool take(bench *b, double speed, double off)
{
    b->y[HP_Y_SPEED] = speed;
    b->y[HP_Y_DUTY] = 0.35;
    b->y[HP_Y_CURRENT] = 20.0 - speed + off;
    b->y[HP_Y_CURRENT + 1] = -20.0 + speed;
    return hp_paths_take(b->paths, &b->machine, b->time, b->y, HP_CALM_AT_TURN);
}

/* A run through the speeds from 2 to 10, that leads to a battery current of 7 A. */
static void first_run(bench *b)
{
    hp_paths_begin(b->paths);
    for (int k = 2; k <= 10; k++)
        check_true(!take(b, k, 0.0), "nothing is known yet");
    hp_figures figures = {.battery_current = 7.0};
    hp_paths_end(b->paths, b->settled, &figures);
    check_int(b->paths->count, 1);
}

static void three_states_between_those_of_before(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    first_run(&b);
    hp_paths_begin(b.paths);
    check_true(!take(&b, 4.3, 0.0) && !take(&b, 5.4, 0.0), "two are not enough");
    check_true(take(&b, 6.6, 0.0), "three are");
    hp_figures figures = {.battery_current = 3.0,
                          .start_angle = 1.5,
                          .seconds = 0.2,
                          .events = 5,
                          .steps = 17,
                          .rhs = 99};
    hp_paths_end(b.paths, true, &figures);
    check_close(figures.battery_current, 7.0, 0.0, "where the other led to");
    check_close(figures.start_angle, 1.5, 0.0, "its own");
    check_close(figures.seconds, 0.2, 0.0, "its own");
    check_int(figures.events, 5);
    check_int(figures.steps, 17);
    check_int(figures.rhs, 99);
    check_int(b.paths->count, 1);
    free(b.paths);
}

static void three_in_a_row(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    first_run(&b);
    hp_paths_begin(b.paths);
    for (int k = 0; k < 3; k++) {
        check_true(!take(&b, 4.3, 0.0) && !take(&b, 5.4, 0.0), "two");
        check_true(!take(&b, 6.6, 1.0), "the third lies elsewhere");
    }
    free(b.paths);
}

/* How often in a row a state is taken until it counts as one of a path; 0: never. */
static int times_until(bench *b, double speed, double off)
{
    hp_paths_begin(b->paths);
    for (int k = 1; k <= 10; k++)
        if (take(b, speed, off))
            return k;
    return 0;
}

static void near_is_a_fifth_of_a_percent(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    first_run(&b);
    /* The largest current is 15 A, and the line is as steep as it is long. */
    check_int(times_until(&b, 5.0, 0.025), 3);
    check_int(times_until(&b, 5.0, 0.06), 0);
    check_int(times_until(&b, 5.0, -0.06), 0);
    /* Beyond the ends of the path nothing is known. */
    check_int(times_until(&b, 1.9, 0.0), 0);
    check_int(times_until(&b, 10.1, 0.0), 0);
    free(b.paths);
}

static void another_mode_or_moment_is_another_state(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    first_run(&b);
    check_int(times_until(&b, 5.0, 0.0), 3);
    bool inside = b.machine.inside[0];
    b.machine.inside[0] = !inside;
    check_int(times_until(&b, 5.0, 0.0), 0);
    b.machine.inside[0] = inside;
    b.machine.joint = !b.machine.joint;
    check_int(times_until(&b, 5.0, 0.0), 0);
    b.machine.joint = !b.machine.joint;
    hp_duty_mode duty_mode = b.machine.duty_mode;
    b.machine.duty_mode = duty_mode == HP_DUTY_HELD ? HP_DUTY_MOVING : HP_DUTY_HELD;
    check_int(times_until(&b, 5.0, 0.0), 0);
    b.machine.duty_mode = duty_mode;
    check_int(times_until(&b, 5.0, 0.0), 3);
    b.machine.cut_out = true;
    check_int(times_until(&b, 5.0, 0.0), 0);
    b.machine.cut_out = false;
    hp_paths_begin(b.paths);
    for (int k = 0; k < 10; k++)
        check_true(!hp_paths_take(b.paths, &b.machine, b.time, b.y, HP_CALM_AT_SWING), "a swing's");
    free(b.paths);
}

/* Angles are the same a whole turn on, and differ where a rotor swings about another place. */
static void angles_within_a_turn(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    hp_figures figures = {.battery_current = 7.0};
    hp_paths_begin(b.paths);
    for (int k = 0; k < 4; k++) {
        b.y[HP_Y_THETA] = 0.001 * (k % 2);
        take(&b, 0.0, 0.0);
    }
    hp_paths_end(b.paths, true, &figures);
    b.y[HP_Y_THETA] = 0.0005 - HP_TWO_PI;
    check_int(times_until(&b, 0.0, 0.0), 3);
    b.y[HP_Y_THETA] = -0.0005;
    check_int(times_until(&b, 0.0, 0.0), 3);
    b.y[HP_Y_THETA] = -0.01;
    check_int(times_until(&b, 0.0, 0.0), 0);
    free(b.paths);
}

/* Three in a row, but not on one path. */
static void each_path_by_itself(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    first_run(&b);
    hp_paths_begin(b.paths);
    for (int k = 2; k <= 10; k++)
        take(&b, k, 2.0);
    hp_figures figures = {.battery_current = 8.0};
    hp_paths_end(b.paths, true, &figures);
    check_int(b.paths->count, 2);
    hp_paths_begin(b.paths);
    for (int k = 0; k < 6; k++)
        check_true(!take(&b, 5.0, k % 2 ? 2.0 : 0.0), "now on the one, now on the other");
    check_int(times_until(&b, 5.0, 2.0), 3);
    check_int(b.paths->followed, 1);
    free(b.paths);
}

/* Where a settled run led to does not depend on when. */
static void a_settled_way_at_any_time(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    first_run(&b);
    b.time = 0.5;
    check_int(times_until(&b, 5.0, 0.0), 3);
    free(b.paths);
}

/* Of a run that never settled only what it did at the same time counts. */
static void an_unsettled_way_depends_on_the_time(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    b.settled = false;
    first_run(&b);
    check_int(times_until(&b, 5.0, 0.0), 3);
    b.time = 0.005;
    check_int(times_until(&b, 5.0, 0.0), 3);
    b.time = 0.05;
    check_int(times_until(&b, 5.0, 0.0), 0);
    b.time = -0.05;
    check_int(times_until(&b, 5.0, 0.0), 0);
    free(b.paths);
}

static void long_paths_are_thinned(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    hp_figures figures = {.battery_current = 7.0};
    hp_paths_begin(b.paths);
    for (int k = 0; k < 5 * HP_PATH_POINTS; k++)
        take(&b, 1.0 + 0.001 * k, 0.0);
    const hp_path *path = &b.paths->path[0];
    check_true(path->count <= HP_PATH_POINTS && path->count >= HP_PATH_POINTS / 2, "%d states",
               path->count);
    for (int k = 1; k + 1 < path->count; k++)
        check_close(path->point[k + 1].y[HP_Y_SPEED] - path->point[k].y[HP_Y_SPEED], 0.008, 1e-9,
                    "every eighth state");
    hp_paths_end(b.paths, true, &figures);
    for (int k = 1; k < 5; k++)
        check_int(times_until(&b, 1.0 + 0.5 * k, 0.0), 3);
    free(b.paths);
}

static void a_run_that_failed_leads_nowhere(void **state)
{
    (void)state;
    bench b;
    set_up(&b);
    hp_figures failed = {.status = HP_FAIL_STEP};
    hp_paths_begin(b.paths);
    for (int k = 2; k <= 10; k++)
        take(&b, k, 0.0);
    hp_paths_end(b.paths, true, &failed);
    check_int(b.paths->count, 0);
    check_int(times_until(&b, 5.0, 0.0), 0);
    free(b.paths);
}

/* ---- rows ------------------------------------------------------------------------------------ */

#define STARTS 8

/* A light rotor behind a clutch. */
static hp_drive clutched_drive(void)
{
    hp_drive d = hp_drive_default();
    d.motor.pole_pairs = 10;
    d.motor.ke = 0.17;
    d.motor.rotor_inertia_kg_m2 = 0.0011;
    d.motor.cogging_nm = 0.02;
    d.stand.gear_ratio = 4.4;
    d.stand.clutch = true;
    d.stand.rotor = (hp_friction){0.11, 0.14, 0.0004};
    d.stand.wheel = (hp_friction){0.06, 0.08, 0.0};
    return d;
}

typedef struct totals {
    int runs, turning, sooner;
    long steps_alone, steps_in_row;
    double apart; /* largest relative difference of a turning run's speed and current */
} totals;

static double relative(double a, double b)
{
    return fabs(a - b) / fmax(fmax(fabs(a), fabs(b)), 1e-9);
}

/* One machine from all starts, alone and in a row. */
static void compare(hp_engine *alone, hp_engine *in_row, const hp_drive *drive,
                    const hp_wiring *wiring, totals *t)
{
    hp_run_options options = hp_run_options_default();
    options.tolerance = 5e-4;
    options.calm_share = 0.002;
    hp_sight_params params = hp_sight_params_of();
    hp_engine_begin_row(in_row);
    for (int k = 0; k < STARTS; k++) {
        hp_figures a, b;
        options.start_angle = hp_rest_angle(k);
        hp_engine_run(alone, drive, wiring, &options, NULL, &a, NULL);
        hp_engine_run_in_row(in_row, drive, wiring, &options, &b, NULL);
        hp_sight sight = hp_sight_of(&a, &params);
        check_int(hp_sight_of(&b, &params), sight);
        check_int(b.cut_out, a.cut_out);
        check_close(b.start_angle, a.start_angle, 0.0, "its own");
        t->runs++;
        t->steps_alone += a.steps;
        t->steps_in_row += b.steps;
        t->sooner += b.seconds < a.seconds;
        if (!hp_sight_turns(sight))
            continue;
        t->turning++;
        t->apart = fmax(t->apart, relative(a.wheel_speed, b.wheel_speed) * (a.window_turns > 0));
        t->apart = fmax(t->apart, relative(a.battery_current, b.battery_current));
    }
}

static void compare_motors(const hp_drive *nominal, totals *t)
{
    hp_engine *alone = hp_engine_create(NULL), *in_row = hp_engine_create(NULL);
    hp_variation_params variation = hp_variation_default();
    const int number[] = {1, 2, 4, 5, 8, 22};
    memset(t, 0, sizeof *t);
    for (int m = 0; m < 3; m++) {
        hp_drive drive = hp_ensemble_draw(nominal, &variation, 7, m, 3);
        for (size_t w = 0; w < sizeof number / sizeof number[0]; w++) {
            hp_wiring wiring = hp_wiring_from_number(number[w]);
            compare(alone, in_row, &drive, &wiring, t);
        }
    }
    hp_engine_free(alone);
    hp_engine_free(in_row);
}

static void a_row_shows_what_single_runs_show(void **state)
{
    (void)state;
    hp_drive drive[] = {hp_drive_default(), clutched_drive()};
    for (int k = 0; k < 2; k++) {
        totals t;
        compare_motors(&drive[k], &t);
        print_message("%d runs, %d turning, %d ended sooner; %.2f of the steps; apart %.1e\n",
                      t.runs, t.turning, t.sooner, (double)t.steps_in_row / (double)t.steps_alone,
                      t.apart);
        check_true(t.apart < 0.002, "figures apart by %g", t.apart);
        check_true(t.sooner > t.turning / 2, "only %d of %d turning runs ended sooner", t.sooner,
                   t.turning);
        check_true((double)t.steps_in_row < 0.7 * (double)t.steps_alone, "%ld of %ld steps",
                   t.steps_in_row, t.steps_alone);
    }
}

/* The first run of a row is the one alone, bit for bit, whatever ran before it. */
static void a_new_row_knows_nothing(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    hp_drive drive = hp_drive_default();
    hp_run_options options = hp_run_options_default();
    hp_wiring right = hp_wiring_from_number(1);
    hp_figures alone, row;
    options.seconds = 0.5;
    options.settle_s = 0.3;
    hp_engine_begin_row(engine);
    hp_engine_run_in_row(engine, &drive, &right, &options, &row, NULL);
    hp_engine_run_in_row(engine, &drive, &right, &options, &row, NULL);
    check_true(row.seconds < 0.3, "the same again ends at once, not after %g s", row.seconds);
    hp_engine_run(engine, &drive, &right, &options, NULL, &alone, NULL);
    hp_engine_begin_row(engine);
    hp_engine_run_in_row(engine, &drive, &right, &options, &row, NULL);
    check_true(memcmp(&alone, &row, sizeof row) == 0, "another run");
    hp_engine_free(engine);
}

/* With real edges the moments of a row say nothing: each runs by itself. */
static void edges_run_alone(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    hp_drive drive = hp_drive_default();
    drive.controller.pwm = HP_PWM_COMPLEMENTARY;
    hp_run_options options = hp_run_options_default();
    hp_wiring right = hp_wiring_from_number(1);
    hp_figures first, second;
    options.seconds = 0.2;
    options.settle_s = 0.1;
    hp_engine_begin_row(engine);
    hp_engine_run_in_row(engine, &drive, &right, &options, &first, NULL);
    hp_engine_run_in_row(engine, &drive, &right, &options, &second, NULL);
    check_true(memcmp(&first, &second, sizeof first) == 0, "another run");
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_states_between_those_of_before),
        cmocka_unit_test(three_in_a_row),
        cmocka_unit_test(near_is_a_fifth_of_a_percent),
        cmocka_unit_test(another_mode_or_moment_is_another_state),
        cmocka_unit_test(angles_within_a_turn),
        cmocka_unit_test(each_path_by_itself),
        cmocka_unit_test(a_settled_way_at_any_time),
        cmocka_unit_test(an_unsettled_way_depends_on_the_time),
        cmocka_unit_test(long_paths_are_thinned),
        cmocka_unit_test(a_run_that_failed_leads_nowhere),
        cmocka_unit_test(a_row_shows_what_single_runs_show),
        cmocka_unit_test(a_new_row_knows_nothing),
        cmocka_unit_test(edges_run_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
