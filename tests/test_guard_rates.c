/*
 * Rates of the guards and of the torque, against differences over time: at what runs of random
 * machines come to, each mode that they come to.
 */
#include "match.h"

#include "sim/run_clock.h"
#include "validation/random_drive.h"

#include <stdlib.h>

#define MACHINES 600
/* Half the span of a central difference [s]. Its own error is of the order of a rate times the
 * square of this over a time constant's; rounding of a guard of 100 V gives 1e-7 V/s. */
#define HALF_S 1e-7
#define SAME   1e-5

/* Guards and torque a little later, along the slope. */
static void ahead(const hp_machine *m, const double *y, const double *slope, double seconds,
                  double guard[HP_GUARD_COUNT], double *torque)
{
    double then[HP_STATE_COUNT];
    hp_instant instant;
    for (int k = 0; k < HP_STATE_COUNT; k++)
        then[k] = y[k] + seconds * slope[k];
    hp_machine_instant(m, then, &instant);
    hp_machine_guards(m, then, &instant, guard);
    *torque = instant.torque;
}

/* Against differences; false where a guard has a kink here: its two sides differ. */
static bool check_rate(double rate, double before, double here, double after, double size,
                       const char *what, int which, uint64_t seed)
{
    double left = (here - before) / HALF_S, right = (after - here) / HALF_S;
    double scale = fabs(left) + fabs(right) + size;
    if (fabs(left - right) > 1e-3 * scale)
        return false;
    double difference = 0.5 * (left + right);
    check_true(fabs(rate - difference) <= SAME * scale, "machine %llu: rate of %s %d is %g, not %g",
               (unsigned long long)seed, what, which, rate, difference);
    return fabs(rate) > size;
}

static void rates_are_those_of_differences(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    int moving[HP_GUARD_COUNT] = {0}, torques = 0;
    for (uint64_t seed = 1; seed <= MACHINES; seed++) {
        random_case c = random_case_make(seed);
        hp_run_options o = hp_run_options_default();
        hp_wiring w = hp_wiring_from_number(c.wiring);
        hp_figures f;
        c.drive.controller.pwm = (hp_pwm_kind)(seed % HP_PWM_KIND_COUNT);
        /* Some run down on their own, all leads off. */
        bool off = seed % 5 == 0;
        c.drive.controller.undervoltage_v = (off ? 2.0 : 0.2) * c.drive.supply.emf_v;
        o.start_speed = off ? 0.4 * c.drive.supply.emf_v / c.drive.motor.ke : 0.0;
        o.start_angle = c.angle;
        o.seconds = 0.003 + 0.0005 * (double)(seed % 97);
        o.settle_s = 0.5 * o.seconds;
        o.tolerance = 1e-6;
        if (hp_engine_run(engine, &c.drive, &w, &o, NULL, &f, NULL) != HP_OK)
            continue;
        const hp_machine *m = &engine->machine;
        const double *y = hp_vector_data(engine->state);
        double slope[HP_STATE_COUNT], guard[3][HP_GUARD_COUNT], torque[3], rate[HP_GUARD_COUNT];
        double torque_rate;
        hp_instant now;
        hp_machine_instant(m, y, &now);
        hp_machine_slope(m, y, &now, slope);
        for (int k = 0; k < 3; k++)
            ahead(m, y, slope, (k - 1) * HALF_S, guard[k], &torque[k]);
        hp_machine_guard_rates(m, y, &now, slope, rate, &torque_rate);
        for (int k = 0; k < HP_GUARD_COUNT; k++)
            moving[k] +=
                check_rate(rate[k], guard[0][k], guard[1][k], guard[2][k], 1.0, "guard", k, seed);
        torques += check_rate(torque_rate, torque[0], torque[1], torque[2], 1.0, "torque", 0, seed);
    }
    hp_engine_free(engine);
    for (int k = 0; k < HP_GUARD_COUNT; k++)
        check_true(moving[k] >= 5, "guard %d moved in %d machines only", k, moving[k]);
    check_true(torques > MACHINES / 2, "the torque changed in %d machines only", torques);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rates_are_those_of_differences),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
