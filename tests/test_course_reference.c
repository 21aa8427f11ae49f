/*
 * Courses of the controls, the engine against the independent simulator of tests/reference:
 * current, speed, duty at every sample, and the moment of standstill.
 */
#include "runs.h"

#include "reference.h"
#include "reference_drives.h"

static const hp_control_demand course[] = {
    {.time = 0.0, .duty = 0.0},    {.time = 0.05, .duty = 0.5}, {.time = 0.45, .duty = 0.25},
    {.time = 0.6007, .duty = 0.0}, {.time = 0.7, .duty = 0.4},  {.time = 0.85, .duty = 0.0},
};

/* Both runs of one drive. `share` of the most: an edge that is a tenth of a microsecond apart shows
 * so in a sample that falls right behind it. */
static void check_alike(const char *what, const hp_drive *d, int number, double seconds,
                        double step, double share)
{
    hp_engine *engine = make_engine();
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_run_options o = run_for(seconds, 0.7);
    o.tolerance = 1e-9;
    o.demand = course;
    o.demands = (int)(sizeof course / sizeof course[0]);
    hp_trace ours = full_trace(seconds, 1.234e-3), theirs = full_trace(seconds, 1.234e-3);
    hp_figures f;
    run_wiring(engine, d, number, &o, &ours);
    check_int(hp_reference_brute(d, &wiring, &o, step, &theirs, &f), HP_OK);
    size_t count = ours.count < theirs.count ? ours.count : theirs.count;
    check_true((double)count > 0.99 * seconds / 1.234e-3, "%s: %zu samples", what, count);
    double most_current = 0.0, most_speed = 0.0, current = 0.0, speed = 0.0, duty = 0.0;
    double wheel = 0.0;
    for (size_t k = 0; k < count; k++) {
        const hp_sample *a = &ours.sample[k], *b = &theirs.sample[k];
        for (int p = 0; p < HP_PHASE_COUNT; p++) {
            current = fmax(current, fabs(a->current[p] - b->current[p]));
            most_current = fmax(most_current, fabs(b->current[p]));
        }
        speed = fmax(speed, fabs(a->speed - b->speed));
        wheel = fmax(wheel, fabs(a->wheel_speed - b->wheel_speed));
        most_speed = fmax(most_speed, fabs(b->speed));
        duty = fmax(duty, fabs(a->duty - b->duty));
    }
    check_true(most_current > 1.5 && most_speed > 4.0, "%s: %g A, %g rad/s", what, most_current,
               most_speed);
    check_true(current < share * most_current, "%s: current off by %g of %g A", what, current,
               most_current);
    check_true(speed < share * most_speed && wheel < share * most_speed,
               "%s: speed off by %g and %g of %g rad/s", what, speed, wheel, most_speed);
    check_true(duty < share, "%s: duty off by %g", what, duty);
    hp_event rest = first_event(&theirs, HP_EVENT_STICK, -1);
    if (rest.time > 0.9)
        check_close(first_event(&ours, HP_EVENT_STICK, -1).time, rest.time, 1e-3,
                    "the step's share");
    hp_trace_free(&ours);
    hp_trace_free(&theirs);
    hp_engine_free(engine);
}

static void averaged_courses_agree(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    d.controller.ramp_per_s = 2.0;
    check_alike("smooth", &d, 1, 3.0, 5e-6, 1e-4);
    d.controller.ramp_per_s = 0.0;
    check_alike("no ramp", &d, 1, 1.2, 5e-6, 1e-4);
    d.controller.ramp_per_s = 2.0;
    d.controller.phase_limit_a = 2.5;
    check_alike("limited", &d, 1, 1.2, 5e-6, 1e-3);
    d.motor.backemf.kind = HP_BACKEMF_SINUSOIDAL;
    check_alike("sinusoidal", &d, 1, 1.2, 5e-6, 1e-3);
}

static void a_geared_hub_with_a_clutch_agrees(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    d.motor.rotor_inertia_kg_m2 = 0.002;
    d.stand.gear_ratio = 5.0;
    d.stand.clutch = true;
    d.stand.rotor = (hp_friction){0.05, 0.07, 0.0005};
    d.stand.wheel = (hp_friction){0.1, 0.15, 0.001};
    d.motor.ke /= 5.0;
    check_alike("clutch", &d, 1, 1.2, 5e-6, 1e-4);
}

static void courses_with_every_edge_agree(void **state)
{
    (void)state;
    hp_drive d = hp_drive_default();
    d.controller.ramp_per_s = 2.0;
    d.controller.pwm = HP_PWM_COMPLEMENTARY;
    d.controller.pwm_hz = 4000.0;
    check_alike("complementary", &d, 1, 1.0, 2e-6, 1e-3);
    d.controller.pwm = HP_PWM_ONE_SIDED;
    check_alike("one-sided", &d, 1, 1.0, 2e-6, 1e-3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(averaged_courses_agree),
        cmocka_unit_test(a_geared_hub_with_a_clutch_agrees),
        cmocka_unit_test(courses_with_every_edge_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
