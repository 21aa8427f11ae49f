/*
 * The final check: what a wiring wrongly called smooth would show on an ammeter and by its speed.
 *
 * Somebody without meters says "forward, smooth" until the advice is done. The bands that come with
 * it must hold what sound motors of the ensemble do in the right wiring, and not what they do in a
 * rough one that turns forward. With a file name as argument the figures are written there for
 * docs/advisor.md.
 */
#include "check.h"

#include "decide/advise/hypothesis.h"
#include "decide/advise/plan.h"
#include "decide/reading/reading_list.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

/* The advice at the end of such a log. */
static hp_advice done_at(const hp_likelihood *table, int level)
{
    hp_error err = hp_error_none();
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_plain();
    hp_plan_params params = hp_plan_params_default();
    params.allowed = 0;
    params.ammeter = params.tachometer = false;
    params.first_power = HP_FIRST_POWER_NONE;
    params.throttle = table->nominal.controller.throttle * table->options.level[level];
    hp_planner *planner = hp_planner_create(table, &person, &params, &err);
    check_true(planner != NULL, "%s", err.text);
    hp_belief belief;
    assert_int_equal(hp_belief_create(table, &person, &prior, &belief, &err), HP_OK);
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.throttle = params.throttle;
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    e.trial.starts = e.trial.starts_tried = params.starts;
    hp_advice advice = {.kind = HP_ADVICE_TRY};
    for (int k = 0; k < 6 && advice.kind != HP_ADVICE_PROBABLY; k++) {
        assert_int_equal(hp_belief_add(&belief, &e, &err), HP_OK);
        assert_int_equal(hp_plan_next(planner, &belief, false, &advice, &err), HP_OK);
    }
    check_int(advice.kind, HP_ADVICE_PROBABLY);
    hp_belief_free(&belief);
    hp_planner_free(planner);
    return advice;
}

/* How many motors' records stand outside which band. */
typedef struct outside {
    int count, current, speed, either;
    double least_a, most_a; /* currents met */
} outside;

static FILE *rows; /* may be NULL */

static bool beyond(hp_band band, double value)
{
    return value < band.low || value > band.high;
}

static void look_at(outside *o, const hp_advice *done, const hp_record *r)
{
    double amps = hp_grid_value(r->current_turning);
    o->least_a = o->count == 0 ? amps : fmin(o->least_a, amps);
    o->most_a = fmax(o->most_a, amps);
    bool current = beyond(done->current_a, amps);
    bool speed = beyond(done->wheel_rad_s, hp_grid_value(r->wheel_speed));
    o->count++;
    o->current += current;
    o->speed += speed;
    o->either += current || speed;
}

/* All motors in a wiring that turns the wheel forward at least now and then, roughly or smoothly.
 */
static void look_at_wiring(outside *o, const hp_likelihood *table, int level, hp_fault fault,
                           int number, bool smooth, const hp_advice *done)
{
    hp_behaviour b = {hp_wiring_from_number(number), -1, fault};
    int raw = hp_behaviour_raw(&b);
    for (int m = 0; m < table->options.motors; m++) {
        const hp_record *r = hp_likelihood_record(table, level, table->map.index[raw], m);
        int backward = table->map.mirrored[raw] ? 2 : 0;
        int smoothly = r->sight[HP_SIGHT_FORWARD_SMOOTH + backward];
        int roughly = r->sight[HP_SIGHT_FORWARD_ROUGH + backward];
        if (smooth ? smoothly > 0 : roughly > 0 && smoothly == 0)
            look_at(o, done, r);
    }
}

static int likeliest(const hp_record *r)
{
    int best = 0;
    for (int s = 1; s < HP_SIGHT_COUNT; s++)
        if (r->sight[s] > r->sight[best])
            best = s;
    return best;
}

static double share(int part, const outside *o)
{
    return (double)part / o->count;
}

static void put(const char *what, double throttle, const hp_advice *done, const outside *o)
{
    char row[256];
    snprintf(
        row, sizeof row,
        "| %g | up to %.2f A, %.1f to %.1f rad/s | %s | %d | %.2f to %.2f A | %.1f %% | %.1f %% "
        "| %.1f %% |\n",
        throttle, done->current_a.high, done->wheel_rad_s.low, done->wheel_rad_s.high, what,
        o->count, o->least_a, o->most_a, 100.0 * share(o->current, o), 100.0 * share(o->speed, o),
        100.0 * share(o->either, o));
    print_message("%s", row);
    if (rows)
        fputs(row, rows);
}

static void a_false_smooth_falls_outside_the_bands(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    for (int level = 0; level < table.options.levels; level++) {
        hp_advice done = done_at(&table, level);
        outside right = {0}, rough = {0}, broken = {0}, imitating = {0};
        hp_fault none = {HP_FAULT_NONE, 0};
        /* The last that is simulated and shows in a run; those after it are reckoned. */
        int last = hp_fault_index((hp_fault){HP_FAULT_LEAD_OPEN, HP_PHASE_COUNT - 1});
        look_at_wiring(&right, &table, level, none, 1, true, &done);
        for (int n = 1; n <= HP_WIRING_COUNT; n++) {
            look_at_wiring(&rough, &table, level, none, n, false, &done);
            for (int f = 1; f <= last; f++) {
                hp_fault fault = hp_fault_from_index(f);
                look_at_wiring(&broken, &table, level, fault, n, false, &done);
                look_at_wiring(&imitating, &table, level, fault, n, true, &done);
            }
        }
        double throttle = table.nominal.controller.throttle * table.options.level[level];
        put("right", throttle, &done, &right);
        put("rough", throttle, &done, &rough);
        put("rough, one part broken", throttle, &done, &broken);
        /* An open phase lead can make an opposed wiring run as the right one does, from some rest
         * angles: no band shows that, the rest angles do. */
        put("as the correct one at times, one part broken", throttle, &done, &imitating);
        /* Bands from five to ninety-five percent of the motors, widened for the meter. */
        check_true(share(right.either, &right) < 0.2, "%d of %d right ones outside", right.either,
                   right.count);
        /* Three wirings of each of two kinds, early and late, turn forward. */
        check_true(rough.count >= 6 * table.options.motors / 2, "%d rough records", rough.count);
        check_int(rough.current, rough.count);
        check_true(rough.least_a > 2.0 * done.current_a.high, "a rough one draws %g A",
                   rough.least_a);
    }
    hp_likelihood_free(&table);
}

/* At full throttle the bands are drawn out from those of the levels; here each motor is simulated
 * there afresh. */
static void the_final_check_at_full_throttle_tells_them_too(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    hp_advice done = done_at(&table, 0);
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    assert_non_null(engine);
    done.current_a = done.full_current_a;
    done.wheel_rad_s = done.full_wheel_rad_s;
    hp_likelihood full = table; /* the same with another throttle; owns nothing */
    full.options.level[0] = 1.0 / table.nominal.controller.throttle;
    outside right = {0}, rough = {0};
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        hp_behaviour b = {hp_wiring_from_number(n), -1, {HP_FAULT_NONE, 0}};
        int raw = hp_behaviour_raw(&b), at = table.map.index[raw];
        const hp_record *gentle = hp_likelihood_record(&table, 0, at, 0);
        if (table.map.mirrored[raw] || !hp_sight_turns((hp_sight)likeliest(gentle)))
            continue;
        for (int m = 0; m < table.options.motors; m++) {
            hp_record r = hp_likelihood_simulate(&full, engine, 0, at, m);
            int sight = likeliest(&r);
            /* Backward is the mirror image of forward. */
            if (sight == HP_SIGHT_FORWARD_SMOOTH)
                look_at(&right, &done, &r);
            else if (sight == HP_SIGHT_FORWARD_ROUGH || sight == HP_SIGHT_BACKWARD_ROUGH)
                look_at(&rough, &done, &r);
        }
    }
    put("right", 1.0, &done, &right);
    put("rough", 1.0, &done, &rough);
    check_true(right.count >= table.options.motors, "%d right records", right.count);
    check_true(share(right.either, &right) < 0.2, "%d of %d right ones outside", right.either,
               right.count);
    check_true(rough.count >= 2 * table.options.motors, "%d rough records", rough.count);
    check_int(rough.current, rough.count);
    check_true(rough.least_a > 4.0 * done.current_a.high, "a rough one draws %g A", rough.least_a);
    hp_engine_free(engine);
    hp_likelihood_free(&table);
}

int main(int argc, char **argv)
{
    if (argc > 1) {
        rows = fopen(argv[1], "w");
        if (!rows) {
            perror(argv[1]);
            return 1;
        }
        fputs("| throttle | bands | what turns forward | records | currents | outside the band of "
              "current | of speed | of either |\n|---|---|---|---|---|---|---|---|\n",
              rows);
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_false_smooth_falls_outside_the_bands),
        cmocka_unit_test(the_final_check_at_full_throttle_tells_them_too),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    if (rows && fclose(rows) != 0)
        return 1;
    return failed;
}
