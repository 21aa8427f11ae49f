/*
 * No event is stepped over: the engine's events and figures against the reference's brute runs, for
 * all 36 wirings of three unlike drives.
 */
#include "match.h"

static void events_of_all_36_wirings(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.4, 0.7);
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        const char *label = hp_reference_drive_name((hp_reference_drive)which);
        for (int wiring = 1; wiring <= HP_WIRING_COUNT; wiring++) {
            pair p = run_pair(engine, &d, wiring, &o);
            check_matched(&p, label, wiring);
            check_true(p.brute.event_count > 10, "%s, wiring %d: %zu events", label, wiring,
                       p.brute.event_count);
            /* The default tolerance is 1e-7 a step, and a run makes about 5000 of them. */
            check_figures(&p, 5e-4, label, wiring);
            free_pair(&p);
        }
    }
    hp_engine_free(engine);
}

/* At a fine tolerance what is left is the reference's own error: its steps run across the kinks of
 * the limiters' law, which costs second order, (10 us / 10 ms)^2 = 1e-6 of the filters' scale. */
static void figures_at_a_fine_tolerance(void **state)
{
    (void)state;
    static const int distinct[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.3, 0.7);
    o.tolerance = 1e-9;
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        const char *label = hp_reference_drive_name((hp_reference_drive)which);
        for (int k = 0; k < 12; k++) {
            pair p = run_pair(engine, &d, distinct[k], &o);
            check_matched(&p, label, distinct[k]);
            check_figures(&p, 1e-5, label, distinct[k]);
            free_pair(&p);
        }
    }
    hp_engine_free(engine);
}

static void events_with_real_pwm(void **state)
{
    (void)state;
    static const int wirings[] = {1, 2, 4, 5, 8};
    static const hp_pwm_kind kinds[] = {HP_PWM_COMPLEMENTARY, HP_PWM_ONE_SIDED};
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.08, 0.7);
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
        const char *label = hp_reference_drive_name((hp_reference_drive)which);
        for (int k = 0; k < 10; k++) {
            d.controller.pwm = kinds[k / 5];
            pair p = run_pair(engine, &d, wirings[k % 5], &o);
            check_matched(&p, label, wirings[k % 5]);
            check_figures(&p, 5e-4, label, wirings[k % 5]);
            free_pair(&p);
        }
    }
    hp_engine_free(engine);
}

/* At full duty a real PWM has no edges, until a limiter pulls the duty down. */
static void full_duty_has_no_pwm_edges(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_run_options o = options_for(0.08, 0.7);
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    d.controller.pwm = HP_PWM_COMPLEMENTARY;
    d.controller.throttle = 1.0;
    d.controller.ramp_per_s = 0.0;
    for (int limited = 0; limited < 2; limited++) {
        d.controller.battery_limit_a = limited ? 15.0 : 0.0;
        d.controller.phase_limit_a = limited ? 30.0 : 0.0;
        for (int wiring = 1; wiring <= 12; wiring++) {
            pair p = run_pair(engine, &d, wiring, &o);
            check_matched(&p, "full duty", wiring);
            check_figures(&p, 5e-4, "full duty", wiring);
            bool edges = next_of(&p.engine, HP_EVENT_PWM, 0) < p.engine.event_count;
            check_int(edges, limited);
            free_pair(&p);
        }
    }
    hp_engine_free(engine);
}

/* A guard that dips below zero and rises again within one step of the integrator shows no change of
 * sign at the step's ends. */
static void brief_events(void **state)
{
    (void)state;
    static const struct {
        hp_reference_drive drive;
        int wiring;
        double angle;
        const char *what;
    } brief[] = {
        {HP_DRIVE_GEARED, 1, 0.2, "clutch lets go for 64 us"},
        {HP_DRIVE_SINE, 9, 0.2, "a float touches the rail for 0.5 ms"},
        {HP_DRIVE_GEARED, 2, 5.6, "the wheel comes to rest under a resting rotor"},
    };
    hp_engine *engine = make_engine();
    int missed = 0;
    for (size_t k = 0; k < sizeof brief / sizeof brief[0]; k++) {
        hp_drive d = hp_reference_drive_make(brief[k].drive);
        hp_run_options o = options_for(0.4, brief[k].angle);
        pair p = run_pair(engine, &d, brief[k].wiring, &o);
        mismatch m = match(&p, brief[k].what, brief[k].wiring);
        missed += m.missed;
        check_int(m.extra, 0);
        check_figures(&p, 5e-4, brief[k].what, brief[k].wiring);
        free_pair(&p);
    }
    hp_engine_free(engine);
    check_int(missed, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(events_of_all_36_wirings),
        cmocka_unit_test(figures_at_a_fine_tolerance),
        cmocka_unit_test(events_with_real_pwm),
        cmocka_unit_test(full_duty_has_no_pwm_edges),
        cmocka_unit_test(brief_events),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
