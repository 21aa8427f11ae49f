/*
 * Conservation: the power balance of the circuit at any state, and along every run.
 *
 * figures.balance_error compares the energy drawn from the battery with what winding, switches,
 * diodes and friction took and what inductances and bodies hold, at every whole turn and
 * checkpoint. At the default tolerance, 1e-7, it must stay below 1e-6 for every wiring of sound
 * drives. Faults and extras are run at 1e-8: a light rotor that hardly draws any power, in a motor
 * with one lead, turns for hundreds of steps whose errors all have one sign, and at 1e-7 ends at
 * 1e-5.
 */
#include "runs.h"

#include "base/random.h"
#include "model/circuit.h"
#include "reference_drives.h"

#define BALANCE 1e-6

static void check_all(hp_engine *engine, const hp_drive *d, int step, double seconds,
                      double tolerance, const char *what)
{
    double worst = 0.0;
    int at = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number += step) {
        hp_run_options o = run_for(seconds, hp_rest_angle(number));
        o.tolerance = tolerance;
        double error = run_wiring(engine, d, number, &o, NULL).balance_error;
        if (error > worst)
            worst = error, at = number;
    }
    check_true(worst > 0.0, "%s: a balance that is never checked", what);
    check_true(worst <= BALANCE, "%s, wiring %d: the balance is off by %g", what, at, worst);
}

static void energy_balances_for_every_wiring_of_unlike_drives(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_drive_default();
    const double usual = hp_run_options_default().tolerance;
    check_all(engine, &d, 1, 0.6, usual, "default");
    for (int which = 0; which < HP_DRIVE_COUNT; which++) {
        d = hp_reference_drive_make((hp_reference_drive)which);
        check_all(engine, &d, 1, 0.6, usual, hp_reference_drive_name((hp_reference_drive)which));
    }
    hp_engine_free(engine);
}

/* A change to a drive, and what to call it. */
typedef struct variant {
    const char *name;
    void (*apply)(hp_drive *d);
} variant;

static void stuck(hp_drive *d)
{
    d->sensors.fault[HP_V] = HP_SENSOR_STUCK_HIGH;
}
static void inverted(hp_drive *d)
{
    d->sensors.fault[HP_W] = HP_SENSOR_INVERTED;
}
static void open_lead(hp_drive *d)
{
    d->motor.lead_open[HP_U] = true;
}
static void cogging(hp_drive *d)
{
    d->motor.cogging_nm = 1.5;
    d->motor.cogging_order = 4;
    d->motor.cogging_phase_rad = 0.7;
}
static void series(hp_drive *d)
{
    hp_backemf shape = hp_backemf_sinusoidal();
    shape.kind = HP_BACKEMF_FOURIER;
    shape.harmonics = 7;
    shape.sine[3] = -0.15;
    shape.sine[5] = 0.06;
    shape.cosine[7] = 0.03;
    hp_backemf_normalise(&shape);
    d->motor.backemf = shape;
}
static void complementary(hp_drive *d)
{
    d->controller.pwm = HP_PWM_COMPLEMENTARY;
    d->controller.pwm_hz = 8000.0;
}
static void one_sided(hp_drive *d)
{
    d->controller.pwm = HP_PWM_ONE_SIDED;
    d->controller.pwm_hz = 8000.0;
}
static void smoothed(hp_drive *d)
{
    d->stand.smooth_rad_s = 0.1;
}
static void full_throttle(hp_drive *d)
{
    d->controller.throttle = 1.0;
    d->controller.ramp_per_s = 0.0;
    d->controller.battery_limit_a = d->controller.phase_limit_a = 0.0;
}
static void loaded(hp_drive *d)
{
    d->stand.load_nm = 1.0;
}
static void misplaced(hp_drive *d)
{
    d->sensors.placement_rad[HP_U] = 9.0 * HP_DEG;
    d->sensors.placement_rad[HP_V] = -7.0 * HP_DEG;
}

static void energy_balances_with_faults_and_extras(void **state)
{
    (void)state;
    static const variant variants[] = {
        {"stuck sensor", stuck},          {"inverted sensor", inverted},
        {"open lead", open_lead},         {"cogging", cogging},
        {"Fourier series", series},       {"complementary edges", complementary},
        {"one-sided edges", one_sided},   {"smoothed friction", smoothed},
        {"full throttle", full_throttle}, {"load", loaded},
        {"misplaced sensors", misplaced},
    };
    hp_engine *engine = make_engine();
    for (size_t k = 0; k < sizeof variants / sizeof variants[0]; k++) {
        for (int which = 0; which < HP_DRIVE_COUNT; which++) {
            hp_drive d = hp_reference_drive_make((hp_reference_drive)which);
            char name[80];
            snprintf(name, sizeof name, "%s, %s", variants[k].name,
                     hp_reference_drive_name((hp_reference_drive)which));
            variants[k].apply(&d);
            check_all(engine, &d, 7, 0.4, 1e-8, name);
        }
    }
    hp_engine_free(engine);
}

/* sum v_X i_X into the motor = copper in the winding + sum e_X i_X + L d/dt sum i_X^2 / 2, at any
 * currents, legs and back-EMFs; and the battery gives what motor, switches and diodes take. */
static void power_balances_at_any_state_of_the_circuit(void **state)
{
    (void)state;
    static const hp_leg kinds[] = {HP_LEG_HIGH, HP_LEG_LOW, HP_LEG_UPPER, HP_LEG_LOWER,
                                   HP_LEG_FLOAT};
    hp_random random = hp_random_init(20240229, 0);
    for (int round = 0; round < 20000; round++) {
        hp_circuit_params p = {.emf_v = hp_random_between(&random, 12.0, 72.0),
                               .battery_ohm = hp_random_between(&random, 0.0, 0.3),
                               .winding_ohm = hp_random_between(&random, 0.01, 0.5),
                               .switch_ohm = hp_random_between(&random, 0.0, 0.02),
                               .inductance_h = hp_random_between(&random, 1e-5, 1e-3),
                               .diode_drop_v = hp_random_between(&random, 0.0, 1.2)};
        hp_leg leg[HP_PHASE_COUNT];
        double i[HP_PHASE_COUNT], e[HP_PHASE_COUNT], duty = hp_random_unit(&random);
        int carrying = 0;
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            leg[k] = kinds[hp_random_below(&random, k < 2 ? 4 : 5)];
            i[k] = leg[k] == HP_LEG_FLOAT ? 0.0 : hp_random_between(&random, -60.0, 60.0);
            e[k] = hp_random_between(&random, -50.0, 50.0);
            carrying += leg[k] != HP_LEG_FLOAT;
        }
        double sum = (i[0] + i[1] + i[2]) / carrying;
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            if (leg[k] != HP_LEG_FLOAT)
                i[k] -= sum;
        hp_circuit c;
        hp_circuit_solve(&p, leg, i, e, duty, &c);
        double in = 0.0, mechanical = 0.0, stored = 0.0, ohms = 0.0, slopes = 0.0;
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            in += c.terminal[k] * i[k];
            mechanical += e[k] * i[k];
            stored += p.inductance_h * i[k] * c.slope[k];
            ohms += p.winding_ohm * i[k] * i[k];
            slopes += c.slope[k];
        }
        check_close(in, ohms + mechanical + stored, 1e-9 * (1.0 + fabs(in) + ohms), "rounding");
        check_close(slopes, 0.0, 1e-6, "rounding of slopes of 1e6 A/s");
        check_close(c.bus_voltage * c.battery_current,
                    c.copper_power + c.diode_power + mechanical + stored,
                    1e-9 * (1.0 + c.copper_power + fabs(mechanical) + fabs(stored)), "rounding");
    }
}

/* First and last sample at which the speed begins to go one way after the other, of the direction
 * in which they lie further apart. */
static void find_swings(const hp_trace *trace, size_t *from, size_t *to)
{
    size_t first[2] = {0, 0}, last[2] = {0, 0};
    double moved = 0.0;
    for (size_t k = 0; k < trace->count; k++) {
        double speed = trace->sample[k].speed;
        int forward = speed > 0.0;
        if (speed * moved < 0.0) {
            first[forward] = first[forward] > 0 ? first[forward] : k;
            last[forward] = k;
        }
        moved = speed != 0.0 ? speed : moved;
    }
    int longer = last[1] - first[1] > last[0] - first[0];
    *from = first[longer];
    *to = last[longer];
}

/* The books, kept a second time from a trace: battery energy by Simpson's rule over fine samples,
 * against the figures' means. */
static void figures_agree_with_sums_over_a_fine_trace(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_drive d = hp_reference_drive_make(HP_DRIVE_SINE);
    hp_run_options o = run_for(0.5, 0.3);
    o.tolerance = 1e-10;
    const int wirings[] = {1, 4, 5, 2};
    for (size_t n = 0; n < sizeof wirings / sizeof wirings[0]; n++) {
        hp_figures f = run_wiring(engine, &d, wirings[n], &o, NULL);
        /* The window's ends are not in the figures: find whole turns in the trace itself. */
        hp_trace trace = hp_trace_init(o.settle_s, o.seconds, 2e-6);
        run_wiring(engine, &d, wirings[n], &o, &trace);
        size_t from = 0, to = trace.count - 1;
        if (f.window_turns > 0) {
            double first = floor(trace.sample[0].theta / HP_TWO_PI);
            bool forward = f.speed > 0.0;
            double begin = HP_TWO_PI * (forward ? first + 1.0 : first);
            double end = begin + HP_TWO_PI * (forward ? f.window_turns : -f.window_turns);
            while ((trace.sample[from].theta < begin) == forward)
                from++;
            while ((trace.sample[to].theta > end) == forward)
                to--;
        }
        if (f.window_swings > 0)
            find_swings(&trace, &from, &to);
        double energy = 0.0, charge = 0.0, torque = 0.0, peak = 0.0;
        for (size_t k = from; k <= to; k++) {
            const hp_sample *s = &trace.sample[k];
            double weight = k == from || k == to ? 0.5 : 1.0;
            energy += weight * s->bus_voltage * s->battery_current;
            charge += weight * s->battery_current;
            torque += weight * s->torque;
        }
        for (size_t k = 0; k < trace.count; k++)
            for (int x = 0; x < HP_PHASE_COUNT; x++)
                peak = fmax(peak, fabs(trace.sample[k].current[x]));
        double count = (double)(to - from);
        const char *reason = "the window's ends fall between samples of 2 us, one turn is 0.03 s";
        check_relative(energy / count, f.battery_power, 1e-3, reason);
        check_relative(charge / count, f.battery_current, 1e-3, reason);
        check_close(torque / count, f.torque_mean, 1e-3 * (f.torque_rms + fabs(f.torque_mean)),
                    reason);
        check_close(count * 2e-6, f.window_s, 1e-5, "samples of 2 us");
        check_relative(f.phase_peak, peak, 0.01,
                       "the engine looks for peaks at its step ends, about 80 a turn");
        check_true(f.phase_peak <= peak * (1.0 + 1e-3), "a peak that nobody saw: %g over %g",
                   f.phase_peak, peak);
        hp_trace_free(&trace);
    }
    hp_engine_free(engine);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(energy_balances_for_every_wiring_of_unlike_drives),
        cmocka_unit_test(energy_balances_with_faults_and_extras),
        cmocka_unit_test(power_balances_at_any_state_of_the_circuit),
        cmocka_unit_test(figures_agree_with_sums_over_a_fine_trace),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
