/*
 * How the cost of the engine grows: with electrical speed, real PWM edges, wirings, motors of an
 * ensemble and threads; and what memory it takes.
 *
 * Times of single runs are the thread's processor time, the median of several repeats; those of
 * surveys and ensembles are by the clock on the wall, since threads are what is looked at.
 */
#include "reference_drives.h"

#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/sim/engine.h"

#include <argp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#define REPEATS  5
#define DISTINCT 12 /* wirings 1 to 12 hold one of each kind that relabelling makes equal */

typedef struct settings {
    bool quick;
    bool large;
} settings;

static double clock_ms(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static double peak_mb(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_maxrss / 1024.0;
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *value, int count)
{
    qsort(value, (size_t)count, sizeof value[0], ascending);
    return value[count / 2];
}

static void stop_on(hp_result result, const hp_error *err)
{
    if (result == HP_OK)
        return;
    fprintf(stderr, "hubphase_growth: %s\n", err->text);
    exit(1);
}

/* ---- single runs ----------------------------------------------------------------------------- */

/* One row: the wirings 1 to `count` together, per simulated second and wiring. */
static void print_runs(hp_engine *engine, const char *name, const hp_drive *d, int count,
                       double seconds)
{
    hp_error err = hp_error_none();
    hp_run_options o = hp_run_options_default();
    o.seconds = seconds;
    o.settle_s = 0.6 * seconds;
    o.start_angle = hp_rest_angle(0);
    double ms[REPEATS], events = 0.0, rhs = 0.0, steps = 0.0;
    for (int n = 0; n < REPEATS; n++) {
        double begin = clock_ms(CLOCK_THREAD_CPUTIME_ID);
        events = rhs = steps = 0.0;
        for (int k = 1; k <= count; k++) {
            hp_wiring w = hp_wiring_from_number(k);
            hp_figures f;
            stop_on(hp_engine_run(engine, d, &w, &o, NULL, &f, &err), &err);
            events += (double)f.events;
            rhs += (double)f.rhs;
            steps += (double)f.steps;
        }
        ms[n] = (clock_ms(CLOCK_THREAD_CPUTIME_ID) - begin) / (seconds * count);
    }
    double each = seconds * count;
    printf("%-26s %9.2f %9.0f %9.0f %10.0f %9.2f\n", name, median(ms, REPEATS), events / each,
           steps / each, rhs / each, 1e6 * median(ms, REPEATS) * each / rhs);
}

static void print_head(const char *title)
{
    printf("%-26s %9s %9s %9s %10s %9s\n%-26s %9s %9s %9s %10s %9s\n", title, "ms a", "events",
           "steps", "slopes", "ns a", "", "second", "a second", "a second", "a second", "slope");
}

static void grow_with_speed(hp_engine *engine, double seconds)
{
    char name[64];
    print_head("smooth wiring, throttle");
    for (double throttle = 0.1; throttle < 1.1; throttle *= 1.7782794100389228) {
        hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
        d.controller.throttle = throttle;
        d.controller.ramp_per_s = 20.0;
        double hz = hp_drive_ideal_speed(&d) * d.motor.pole_pairs / HP_TWO_PI;
        snprintf(name, sizeof name, "%.2f (%.0f Hz electrical)", throttle, hz);
        print_runs(engine, name, &d, 1, seconds);
    }
    printf("\n");
}

static void grow_with_pwm(hp_engine *engine, double seconds)
{
    static const char *const kind[] = {"averaged", "complementary", "one-sided"};
    char name[64];
    print_head("12 wirings, PWM");
    for (int k = HP_PWM_AVERAGED; k <= HP_PWM_ONE_SIDED; k++)
        for (double hz = 8000.0; hz < 40000.0; hz *= 2.0) {
            hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
            d.controller.pwm = (hp_pwm_kind)k;
            d.controller.pwm_hz = hz;
            snprintf(name, sizeof name, "%s, %.0f kHz", kind[k], 1e-3 * hz);
            if (k == HP_PWM_AVERAGED)
                snprintf(name, sizeof name, "%s", kind[k]);
            print_runs(engine, name, &d, DISTINCT, k == HP_PWM_AVERAGED ? seconds : 0.2 * seconds);
            if (k == HP_PWM_AVERAGED)
                break;
        }
    printf("\n");
}

static void grow_with_wirings(hp_engine *engine, double seconds)
{
    static const int count[] = {1, 6, 12, 36};
    char name[64];
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    print_head("wirings together");
    for (size_t k = 0; k < sizeof count / sizeof count[0]; k++) {
        snprintf(name, sizeof name, "%d", count[k]);
        print_runs(engine, name, &d, count[k], seconds);
    }
    printf("\n");
}

/* ---- ensembles ------------------------------------------------------------------------------- */

/* Seconds by the clock on the wall; *processor_s: what all threads together took. */
static double spread_s(const hp_drive *d, int motors, int starts, int jobs, double *processor_s)
{
    hp_error err = hp_error_none();
    hp_spread_options o = hp_spread_options_default();
    hp_spread *spread = malloc(sizeof *spread);
    if (!spread)
        stop_on(hp_error_set(&err, HP_FAIL_MEMORY, "no memory"), &err);
    o.plan.motors = motors;
    o.survey.starts = starts;
    o.survey.jobs = jobs;
    double begin = clock_ms(CLOCK_MONOTONIC), used = clock_ms(CLOCK_PROCESS_CPUTIME_ID);
    stop_on(hp_spread_run(d, &o, spread, &err), &err);
    free(spread);
    *processor_s = 1e-3 * (clock_ms(CLOCK_PROCESS_CPUTIME_ID) - used);
    return 1e-3 * (clock_ms(CLOCK_MONOTONIC) - begin);
}

static double survey_s(const hp_drive *d, int jobs)
{
    hp_error err = hp_error_none();
    hp_survey_options o = hp_survey_options_default();
    hp_survey survey;
    o.jobs = jobs;
    double begin = clock_ms(CLOCK_MONOTONIC);
    stop_on(hp_survey_run(d, &o, &survey, &err), &err);
    hp_survey_free(&survey);
    return 1e-3 * (clock_ms(CLOCK_MONOTONIC) - begin);
}

static void grow_with_motors(const settings *s)
{
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    printf("ensemble of 36 wirings from 2 start positions, 2 threads, runs ending when settled\n");
    printf("%8s %10s %12s %16s %12s\n", "motors", "seconds", "processor s", "ms a wiring",
           "peak MB");
    for (int motors = 1; motors <= (s->quick ? 2 : 64); motors *= s->quick ? 2 : 4) {
        double used, seconds = spread_s(&d, motors, 2, 2, &used);
        printf("%8d %10.2f %12.2f %16.2f %12.1f\n", motors, seconds, used,
               1e3 * used / (36.0 * motors), peak_mb());
    }
    printf("\n");
}

static void grow_with_threads(const settings *s)
{
    int repeats = s->quick ? 1 : REPEATS, motors = s->quick ? 1 : 12;
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    double one[REPEATS], two[REPEATS], used_one[REPEATS], used_two[REPEATS], survey_one[REPEATS],
        survey_two[REPEATS];
    /* By turns, so that a machine that slows down does so for both. */
    for (int n = 0; n < repeats; n++) {
        one[n] = spread_s(&d, motors, 2, 1, &used_one[n]);
        two[n] = spread_s(&d, motors, 2, 2, &used_two[n]);
        survey_one[n] = s->quick ? 1.0 : survey_s(&d, 1);
        survey_two[n] = s->quick ? 1.0 : survey_s(&d, 2);
    }
    double a = median(one, repeats), b = median(two, repeats);
    printf("ensemble of %d motors: 1 thread %.2f s, 2 threads %.2f s: threads ratio %.2f\n", motors,
           a, b, a / b);
    a = median(used_one, repeats);
    b = median(used_two, repeats);
    printf(
        "    processor time of all threads: %.2f s and %.2f s; on two idle cores: attainable ratio "
        "%.2f\n",
        a, b, 2.0 * a / b);
    a = median(survey_one, repeats);
    b = median(survey_two, repeats);
    if (!s->quick)
        printf("default survey: 1 thread %.2f s, 2 threads %.2f s: survey ratio %.2f\n", a, b,
               a / b);
    printf("\n");
}

static void run_large(void)
{
    hp_drive d = hp_reference_drive_make(HP_DRIVE_DIRECT);
    double used, seconds = spread_s(&d, 100, 12, 2, &used);
    printf("36 wirings x 12 start positions x 100 motors, 2 threads: large ensemble %.1f s, "
           "processor time of both %.1f s, peak %.1f MB\n",
           seconds, used, peak_mb());
}

/* ---- options --------------------------------------------------------------------------------- */

static error_t parse(int key, char *text, struct argp_state *state)
{
    settings *s = state->input;
    (void)text;
    switch (key) {
    case 'q': s->quick = true; break;
    case 'l': s->large = true; break;
    default: return ARGP_ERR_UNKNOWN;
    }
    return 0;
}

int main(int argc, char **argv)
{
    static const struct argp_option options[] = {
        {"quick", 'q', NULL, 0, "a few short runs, to see that it works", 0},
        {"large", 'l', NULL, 0, "also the large ensemble, which takes a minute", 0},
        {0},
    };
    static const struct argp argp = {options, parse, NULL, "Show how the cost grows.",
                                     NULL,    NULL,  NULL};
    settings s = {0};
    argp_parse(&argp, argc, argv, 0, NULL, &s);
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    if (!engine)
        stop_on(HP_FAIL_MEMORY, &err);
    double seconds = s.quick ? 0.02 : 1.0;
    grow_with_speed(engine, seconds);
    grow_with_pwm(engine, seconds);
    grow_with_wirings(engine, seconds);
    hp_engine_free(engine);
    grow_with_motors(&s);
    grow_with_threads(&s);
    if (s.large)
        run_large();
    return 0;
}
