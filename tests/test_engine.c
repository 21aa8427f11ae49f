/*
 * The engine as a machine: same bytes for the same input, failing runs that say why and leave it
 * usable, figures that converge as the tolerance falls, options refused.
 */
#include "field_limits.h"
#include "runs.h"

#include "model/drive_rate.h"
#include "reference_drives.h"

static void same_input_gives_same_bytes_whatever_ran_before(void **state)
{
    (void)state;
    hp_engine *used = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_GEARED), other = bare_drive(), absurd = d;
    absurd.stand.wheel_inertia_kg_m2 = 1e-12;
    hp_run_options o = run_for(0.3, 0.4), loose = run_for(0.1, 5.0);
    loose.tolerance = 1e-3;
    for (int number = 1; number <= HP_WIRING_COUNT; number += 4) {
        hp_engine *fresh = make_engine();
        hp_figures first, again;
        run_into(fresh, &d, number, &o, NULL, &first);
        hp_engine_free(fresh);
        /* Something else, something that breaks off, then the same once more. */
        run_wiring(used, &other, 4, &loose, NULL);
        hp_wiring w = hp_wiring_from_number(number);
        hp_engine_run(used, &absurd, &w, &o, NULL, &again, NULL);
        run_into(used, &d, number, &o, NULL, &again);
        check_int(memcmp(&first, &again, sizeof first), 0);
    }
    hp_engine_free(used);
}

/* Looking on does not change what is seen. */
static void a_trace_leaves_the_figures_alone(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_SINE);
    hp_run_options o = run_for(0.3, 0.4);
    for (int number = 1; number <= 6; number++) {
        hp_figures bare, traced;
        run_into(engine, &d, number, &o, NULL, &bare);
        hp_trace trace = full_trace(o.seconds, 1e-4);
        run_into(engine, &d, number, &o, &trace, &traced);
        traced.rhs = bare.rhs; /* samples between steps cost some */
        check_int(memcmp(&bare, &traced, sizeof bare), 0);
        check_int((long long)trace.count, 3001);
        hp_trace_free(&trace);
    }
    hp_engine_free(engine);
}

/* Largest error of some figures at three tolerances around this one, against a run at 1e-12: one
 * alone may be right by luck. */
static double error_around(hp_engine *engine, const hp_drive *d, int number, double tolerance,
                           const hp_figures *exact)
{
    double error = 0.0;
    for (int k = -1; k <= 1; k++) {
        hp_run_options o = run_for(0.5, 0.4);
        o.tolerance = tolerance * pow(10.0, k);
        hp_figures f = run_wiring(engine, d, number, &o, NULL);
        error = fmax(error, fabs(f.net_turn - exact->net_turn) / (1.0 + fabs(exact->net_turn)));
        error = fmax(error, fabs(f.battery_power / exact->battery_power - 1.0));
        error = fmax(error, fabs(f.copper_power / exact->copper_power - 1.0));
    }
    return error;
}

static void figures_converge_as_the_tolerance_falls(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    const int wirings[] = {1, 2, 4, 5}; /* smooth, opposed, early, late */
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        for (size_t k = 0; k < sizeof wirings / sizeof wirings[0]; k++) {
            hp_run_options o = run_for(0.5, 0.4);
            o.tolerance = 1e-12;
            hp_figures exact = run_wiring(engine, &d, wirings[k], &o, NULL);
            double coarse = error_around(engine, &d, wirings[k], 1e-4, &exact);
            double usual = error_around(engine, &d, wirings[k], 1e-7, &exact);
            double fine = error_around(engine, &d, wirings[k], 1e-10, &exact);
            print_message("%s, wiring %d: errors %.1e at 1e-4, %.1e at 1e-7, %.1e at 1e-10\n",
                          hp_reference_drive_name((hp_reference_drive)which), wirings[k], coarse,
                          usual, fine);
            /* A thousandth of the tolerance buys at least a factor of five; in proportion it would
             * buy a thousand, but an unsteady rotor amplifies by what moment its edges come at. */
            check_true(usual < 0.2 * coarse, "%g after %g", usual, coarse);
            check_true(fine < 0.2 * usual, "%g after %g", fine, usual);
            check_true(usual < 1e-3, "%g around the default tolerance", usual);
        }
    }
    hp_engine_free(engine);
}

static void rest_angles_cover_turn_and_sector(void **state)
{
    (void)state;
    for (int count = 6; count <= 40; count++) {
        int sixths[6] = {0}, inside[4] = {0};
        for (int k = 0; k < count; k++) {
            double angle = hp_rest_angle(k);
            check_true(angle >= 0.0 && angle < HP_TWO_PI, "angle %d is %g", k, angle);
            sixths[(int)(angle / (HP_TWO_PI / 6.0))]++;
            double within = fmod(angle / HP_DEG + 30.0, 60.0);
            inside[(int)(within / 15.0)]++;
            check_true(k >= 12 || (within > 1.0 && within < 59.0),
                       "angle %d stands %g degrees inside its sector", k, within);
        }
        for (int s = 0; s < 6; s++)
            check_true(count < 8 || sixths[s] > 0, "%d angles leave sixth %d empty", count, s);
        for (int q = 0; q < 4; q++)
            check_true(count < 8 || inside[q] > 0, "%d angles leave quarter %d of a sector empty",
                       count, q);
    }
}

/* A run that must break off, in words; also one of a drive that a check would have refused. */
static void check_breaks_off(hp_engine *engine, const hp_drive *d, const hp_run_options *o,
                             int number, const char *part)
{
    hp_figures f;
    hp_error err = hp_error_none();
    hp_wiring w = hp_wiring_from_number(number);
    check_accepted(hp_run_options_check(o, &refusal));
    hp_result result = hp_engine_run(engine, d, &w, o, NULL, &f, &err);
    check_true(result == HP_FAIL_STEP || result == HP_FAIL_NUMBER || result == HP_FAIL_CHATTER ||
                   result == HP_FAIL_SLOW,
               "result %d: %s", result, err.text);
    check_int(f.status, result);
    check_int(err.code, result);
    check_text_contains(f.reason, part);
    check_text_contains(err.text, part);
    check_true(f.steps < 200000, "%ld steps until it was noticed", f.steps);
}

static void absurd_drives_break_off_soon_and_say_why(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive sound = hp_reference_drive_make(HP_DRIVE_DIRECT), d;
    hp_run_options o = run_for(0.5, 0.4);
    for (int number = 1; number <= 4; number++) {
        d = sound;
        d.motor.inductance_h = 1e-12;
        check_breaks_off(engine, &d, &o, number, "more steps than a run may take");
        d = sound;
        d.stand.wheel_inertia_kg_m2 = 1e-9;
        d.stand.rotor.viscous_nm_s_rad = 100.0;
        check_breaks_off(engine, &d, &o, number, "step");
        d = sound;
        d.stand.wheel_inertia_kg_m2 = 1e-12;
        check_breaks_off(engine, &d, &o, number, "step");
        hp_run_options racing = o;
        racing.start_speed = 1e5;
        check_breaks_off(engine, &sound, &racing, number, "events follow each other");
        hp_run_options strict = o;
        strict.max_events = 1;
        racing = strict;
        racing.start_speed = 1000.0;
        check_breaks_off(engine, &sound, &racing, number, "events follow each other");
    }
    /* The engine has taken no harm. */
    check_true(run_wiring(engine, &sound, 1, &o, NULL).net_turn > HP_TWO_PI, "a sound run");
    hp_engine_free(engine);
}

/* What would take millions of steps a second is refused at once, with the figure that does it. */
static void drives_too_fast_to_follow_are_refused(void **state)
{
    (void)state;
    hp_drive sound = hp_reference_drive_make(HP_DRIVE_GEARED), d = sound;
    d.motor.inductance_h = 1e-12;
    check_refused(hp_drive_check(&d, &refusal), "motor.inductance_h");
    d = sound;
    d.motor.rotor_inertia_kg_m2 = 1e-9;
    d.stand.rotor.viscous_nm_s_rad = 100.0;
    check_refused(hp_drive_check(&d, &refusal), "stand.rotor.viscous_nm_s_per_rad");
    d = sound;
    d.stand.smooth_rad_s = 1e-7;
    check_refused(hp_drive_check(&d, &refusal), "stand.smooth_friction_rad_s");
    /* The rates themselves: on either side of the bound. */
    d = sound;
    d.motor.inductance_h *= hp_drive_current_rate(&d) / HP_RATE_MAX * (1.0 + 1e-9);
    check_accepted(hp_drive_check(&d, &refusal));
    d.motor.inductance_h *= 1.0 - 1e-8;
    check_refused(hp_drive_check(&d, &refusal), "motor.inductance_h");
    d = sound;
    d.motor.rotor_inertia_kg_m2 = 1e-6;
    d.stand.rotor.viscous_nm_s_rad = d.motor.rotor_inertia_kg_m2 * HP_RATE_MAX * (1.0 - 1e-9);
    check_relative(hp_drive_friction_rate(&d), HP_RATE_MAX, 1e-8, "the rotor by itself");
    check_accepted(hp_drive_check(&d, &refusal));
    d.stand.rotor.viscous_nm_s_rad *= 1.0 + 1e-8;
    check_refused(hp_drive_check(&d, &refusal), "stand.rotor");
}

/* Far from any motor, yet well posed: these must come to an end, and to a sound one. */
static void extreme_drives_run_to_their_end(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive sound = hp_reference_drive_make(HP_DRIVE_DIRECT);
    for (int number = 1; number <= 4; number++) {
        hp_run_options o = run_for(0.3, 0.4);
        hp_drive d = sound;
        d.motor.inductance_h = 1.0;
        run_wiring(engine, &d, number, &o, NULL);
        d = sound;
        d.stand.wheel_inertia_kg_m2 = 1000.0;
        check_close(run_wiring(engine, &d, number, &o, NULL).net_turn, 0.0, 0.1, "hardly moves");
        d = sound;
        d.motor.ke = 1e-9;
        check_close(run_wiring(engine, &d, number, &o, NULL).net_turn, 0.0, 0.0, "no torque");
        d = hp_reference_drive_make(HP_DRIVE_GEARED);
        d.stand.wheel_inertia_kg_m2 = 1000.0;
        d.stand.gear_ratio = 100.0;
        run_wiring(engine, &d, number, &o, NULL);
        hp_run_options strict = o, brief = o, bounded = o;
        strict.tolerance = 1e-12;
        brief.settle_s = 1e-9;
        bounded.max_step_s = 1e-5;
        check_true(run_wiring(engine, &sound, number, &strict, NULL).balance_error < 1e-10,
                   "a strict run balances");
        check_true(run_wiring(engine, &sound, number, &brief, NULL).window_s > 0.1,
                   "nearly all of it, but for the first and last part of a turn");
        check_true(run_wiring(engine, &sound, number, &bounded, NULL).steps >= 30000,
                   "no step above 10 us");
    }
    hp_engine_free(engine);
}

/* An open lead leaves the rotor to its cogging, which holds it at 30 degrees, a corner of the
 * back-EMF: it creeps there for ever without a sticking friction, and the steps must not shrink
 * with the way left. */
static void a_rotor_creeps_to_rest_at_a_boundary(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    d.supply = (hp_supply_params){.emf_v = 123.541, .resistance_ohm = 0.0426};
    d.motor.pole_pairs = 52;
    d.motor.resistance_ohm = 0.0582;
    d.motor.inductance_h = 0.2055e-3;
    d.motor.ke = 0.4622;
    d.motor.rotor_inertia_kg_m2 = 0.000856867;
    d.motor.lead_open[HP_V] = true;
    d.sensors.placement_rad[HP_U] = -4.87 * HP_DEG;
    d.sensors.placement_rad[HP_V] = 6.99 * HP_DEG;
    d.sensors.placement_rad[HP_W] = -6.8 * HP_DEG;
    d.controller.throttle = 0.843;
    d.controller.stall_cutout_s = 0.0;
    d.stand.gear_ratio = 4.13379;
    d.stand.clutch = true;
    d.stand.wheel_inertia_kg_m2 = 0.127838;
    d.stand.rotor = (hp_friction){0.07733, 0.11, 0.01511};
    d.stand.wheel = (hp_friction){0.1232, 0.176, 0.08628};
    d.stand.smooth_rad_s = 0.212194;
    for (int number = 1; number <= 12; number++) {
        hp_figures f;
        hp_wiring w = hp_wiring_from_number(number);
        hp_run_options o = run_for(2.0, hp_rest_angle(0));
        check_int(hp_engine_run(engine, &d, &w, &o, NULL, &f, NULL), HP_OK);
        check_true(f.steps < 20000, "wiring %d: %ld steps", number, f.steps);
        check_true(f.balance_error < 1e-5, "wiring %d balances to %g", number, f.balance_error);
    }
    hp_engine_free(engine);
}

/* Without hysteresis a sensor at the very edge answers to any movement. No crash, and either a fine
 * run or one that says chatter. */
static void sensors_without_hysteresis_do_no_harm(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        d.sensors.hysteresis_rad = 0.0;
        for (int number = 1; number <= HP_WIRING_COUNT; number++) {
            /* From an edge of the ideal sensors, too. */
            hp_run_options o = run_for(0.3, number % 2 ? 30.0 * HP_DEG : hp_rest_angle(number));
            hp_figures f;
            hp_wiring w = hp_wiring_from_number(number);
            hp_result result = hp_engine_run(engine, &d, &w, &o, NULL, &f, NULL);
            check_true(result == HP_OK || result == HP_FAIL_CHATTER, "wiring %d: %s", number,
                       f.reason);
            check_true(result != HP_OK || f.balance_error < 1e-5, "wiring %d balances to %g",
                       number, f.balance_error);
        }
    }
    hp_engine_free(engine);
}

static hp_result check_options(const void *options, hp_error *err)
{
    return hp_run_options_check(options, err);
}

typedef struct patience {
    int asked, left;
} patience;

static int runs_out(void *user)
{
    patience *p = user;
    p->asked++;
    return p->left-- <= 0;
}

static void a_run_can_be_stopped_and_the_engine_goes_on(void **state)
{
    (void)state;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    hp_wiring w = hp_wiring_from_number(1);
    hp_run_options o = hp_run_options_default();
    hp_engine *engine = hp_engine_create(NULL);
    assert_non_null(engine);
    hp_figures whole, stopped, again;
    hp_error err = hp_error_none();
    check_int(hp_engine_run(engine, &d, &w, &o, NULL, &whole, NULL), HP_OK);
    patience p = {.left = 2};
    o.stop = runs_out;
    o.stop_user = &p;
    check_int(hp_engine_run(engine, &d, &w, &o, NULL, &stopped, &err), HP_FAIL_CANCELLED);
    check_int(stopped.status, HP_FAIL_CANCELLED);
    check_text_contains(err.text, "stopped at ");
    check_int(p.asked, 3);
    check_true(stopped.steps < whole.steps, "%ld of %ld", stopped.steps, whole.steps);
    /* Asked and left alone, nothing shows. */
    p = (patience){.left = 1000000};
    check_int(hp_engine_run(engine, &d, &w, &o, NULL, &again, NULL), HP_OK);
    check_true(p.asked > 2, "%d", p.asked);
    check_true(memcmp(&again, &whole, sizeof whole) == 0, "figures differ");
    hp_engine_free(engine);
}

static void options_out_of_range_are_refused(void **state)
{
    (void)state;
    hp_run_options good = hp_run_options_default();
    check_accepted(hp_run_options_check(&good, &refusal));
    const field_limit limit[] = {
        {"run.seconds", offsetof(hp_run_options, seconds), 1.3, 3600.0, 0.0, 3601.0},
        {"run.settle_seconds", offsetof(hp_run_options, settle_s), 0.0, 1.99, -1.0, 2.0},
        {"run.start_speed", offsetof(hp_run_options, start_speed), -1e5, 1e5, -1.1e5, 1.1e5},
        {"run.start_duty", offsetof(hp_run_options, start_duty), 0.0, 1.0, -0.1, 1.1},
        {"run.tolerance", offsetof(hp_run_options, tolerance), 1e-12, 1e-2, 9e-13, 2e-2},
        {"run.max_step_s", offsetof(hp_run_options, max_step_s), 1e-8, 10.0, 9e-9, -1.0},
        {"run.start_angle", offsetof(hp_run_options, start_angle), -100.0, 1e9, (double)NAN,
         (double)INFINITY},
    };
    check_field_limits(&good, sizeof good, check_options, limit, sizeof limit / sizeof limit[0]);
    hp_run_options o = good;
    o.max_events = 0;
    check_refused(hp_run_options_check(&o, &refusal), "run.max_events is 0");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_input_gives_same_bytes_whatever_ran_before),
        cmocka_unit_test(a_trace_leaves_the_figures_alone),
        cmocka_unit_test(figures_converge_as_the_tolerance_falls),
        cmocka_unit_test(rest_angles_cover_turn_and_sector),
        cmocka_unit_test(absurd_drives_break_off_soon_and_say_why),
        cmocka_unit_test(drives_too_fast_to_follow_are_refused),
        cmocka_unit_test(extreme_drives_run_to_their_end),
        cmocka_unit_test(a_rotor_creeps_to_rest_at_a_boundary),
        cmocka_unit_test(sensors_without_hysteresis_do_no_harm),
        cmocka_unit_test(a_run_can_be_stopped_and_the_engine_goes_on),
        cmocka_unit_test(options_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
