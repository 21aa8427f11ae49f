/*
 * What a run costs: the engine against the floor, in one run of this program.
 *
 * The floor is the reference's fast drive: hand-written Runge-Kutta steps aimed at events, about
 * the least a C loop can do for the same circuit. Both are held to a very fine brute run; the
 * floor's step is then the longest at which it is as accurate as the engine, so that the ratio of
 * times is at equal error.
 *
 * Error of a run: the largest difference of a figure (turn, speed, torque, currents, powers) from
 * the fine run's, each over its own size. Times are the thread's processor time, the least of
 * several repeats.
 */
#include "reference.h"
#include "reference_drives.h"

#include <argp.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define LADDER     13 /* steps of the floor that are tried, each shorter by the square root of 2 */
#define LONGEST_S  2e-3 /* the first of them */
#define REPEATS    5
#define DISTINCT   12 /* wirings 1 to 12 hold one of each kind that relabelling makes equal */
#define TOLERANCES 5

typedef struct settings {
    hp_reference_drive drive;
    bool every_drive;
    double seconds;
    double tolerance;
    bool quick;
} settings;

typedef struct cost {
    double ms; /* per simulated second */
    double error;
    hp_figures figures;
} cost;

static double now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static double relative(double value, double expected, double size)
{
    return fabs(value - expected) / (fabs(expected) + size);
}

/* Sizes: below them a figure no longer matters. Torque goes by its ripple. */
static double error_of(const hp_figures *f, const hp_figures *exact)
{
    double torque = fabs(exact->torque_mean) + exact->torque_rms;
    double e = relative(f->net_turn, exact->net_turn, 1.0);
    e = fmax(e, relative(f->speed, exact->speed, 1.0));
    e = fmax(e, fabs(f->torque_mean - exact->torque_mean) / torque);
    e = fmax(e, fabs(f->torque_rms - exact->torque_rms) / torque);
    e = fmax(e, relative(f->battery_current, exact->battery_current, 0.1));
    e = fmax(e, relative(f->battery_power, exact->battery_power, 1.0));
    e = fmax(e, relative(f->phase_rms, exact->phase_rms, 0.1));
    return fmax(e, relative(f->friction_power, exact->friction_power, 1.0));
}

static void stop_on(hp_result result, const char *who, int wiring)
{
    if (result == HP_OK)
        return;
    fprintf(stderr, "hubphase_bench: %s, wiring %d: %s\n", who, wiring, hp_result_name(result));
    exit(1);
}

/* Engine with this tolerance, or the floor with this step when `engine` is NULL. */
static cost run_once(hp_engine *engine, const hp_drive *d, int wiring, const hp_run_options *o,
                     double setting)
{
    hp_wiring w = hp_wiring_from_number(wiring);
    hp_run_options own = *o;
    cost c = {0};
    double begin = now_ms();
    if (engine) {
        own.tolerance = setting;
        stop_on(hp_engine_run(engine, d, &w, &own, NULL, &c.figures, NULL), "engine", wiring);
    } else {
        stop_on(hp_reference_floor(d, &w, &own, setting, NULL, &c.figures), "floor", wiring);
    }
    c.ms = (now_ms() - begin) / o->seconds;
    return c;
}

static cost measure(hp_engine *engine, const hp_drive *d, int wiring, const hp_run_options *o,
                    double setting, const hp_figures *exact)
{
    cost best = run_once(engine, d, wiring, o, setting);
    for (int k = 1; k < REPEATS; k++)
        best.ms = fmin(best.ms, run_once(engine, d, wiring, o, setting).ms);
    best.error = error_of(&best.figures, exact);
    return best;
}

static hp_figures fine_run(const hp_drive *d, int wiring, const hp_run_options *o)
{
    hp_wiring w = hp_wiring_from_number(wiring);
    hp_figures f;
    double step = d->controller.pwm == HP_PWM_AVERAGED ? 4e-6 : 2e-6;
    stop_on(hp_reference_brute(d, &w, o, step, NULL, &f), "fine run", wiring);
    return f;
}

/* The floor at the longest step from which on down it is at least as accurate as wanted: one lucky
 * long step does not count. */
static cost floor_at(const cost ladder[LADDER], double error)
{
    int k = LADDER - 1;
    while (k > 0 && ladder[k - 1].error <= error)
        k--;
    return ladder[k];
}

static double ladder_step(int k)
{
    return LONGEST_S * pow(2.0, -0.5 * k);
}

/* A row for each wiring; returns the ratio of all engine time to all floor time. */
static double print_wirings(hp_engine *engine, const hp_drive *d, const hp_run_options *o,
                            double tolerance, const int *wiring, int count)
{
    double engine_ms = 0.0, floor_ms = 0.0;
    printf("%7s  %9s %8s %8s %8s %7s | %8s %8s %7s | %6s\n", "wiring", "engine", "error", "events",
           "rhs per", "steps", "floor", "error", "rhs per", "ratio");
    printf("%7s  %9s %8s %8s %8s %7s | %8s %8s %7s |\n", "", "ms/s", "", "per s", "event", "per ev",
           "ms/s", "", "event");
    for (int k = 0; k < count; k++) {
        hp_figures exact = fine_run(d, wiring[k], o);
        cost e = measure(engine, d, wiring[k], o, tolerance, &exact), ladder[LADDER];
        for (int j = 0; j < LADDER; j++)
            ladder[j] = measure(NULL, d, wiring[k], o, ladder_step(j), &exact);
        cost f = floor_at(ladder, e.error);
        double events = fmax(1.0, (double)e.figures.events);
        printf("%7d  %9.3f %8.1e %8.0f %8.1f %7.1f | %8.3f %8.1e %7.1f | %6.1f%s\n", wiring[k],
               e.ms, e.error, events / o->seconds, (double)e.figures.rhs / events,
               (double)e.figures.steps / events, f.ms, f.error, (double)f.figures.rhs / events,
               e.ms / f.ms, f.error > e.error ? " (floor less accurate)" : "");
        engine_ms += e.ms;
        floor_ms += f.ms;
    }
    printf("%7s  %9.3f %35s | %8.3f %16s | %6.1f\n\n", "mean", engine_ms / count, "",
           floor_ms / count, "", engine_ms / floor_ms);
    return engine_ms / floor_ms;
}

/* Root mean square error and mean time over the distinct wirings for one setting. */
static cost mean_cost(hp_engine *engine, const hp_drive *d, const hp_run_options *o, double setting,
                      const hp_figures exact[DISTINCT])
{
    cost mean = {0};
    for (int k = 0; k < DISTINCT; k++) {
        cost c = measure(engine, d, k + 1, o, setting, &exact[k]);
        mean.ms += c.ms / DISTINCT;
        mean.error += c.error * c.error / DISTINCT;
    }
    mean.error = sqrt(mean.error);
    return mean;
}

/* Floor time at an error between two steps of the ladder, straight in logarithms. */
static double time_at(const cost ladder[LADDER], double error)
{
    for (int k = 1; k < LADDER; k++) {
        if (ladder[k].error > error)
            continue;
        double span = log(ladder[k].error / ladder[k - 1].error);
        double part = span < 0.0 ? fmax(0.0, log(error / ladder[k - 1].error) / span) : 1.0;
        return ladder[k - 1].ms * pow(ladder[k].ms / ladder[k - 1].ms, part);
    }
    return ladder[LADDER - 1].ms;
}

/* Cost against error for both, over a range of settings. */
static void print_precision(hp_engine *engine, const hp_drive *d, const hp_run_options *o)
{
    static const double tolerance[TOLERANCES] = {1e-5, 1e-6, 1e-7, 1e-8, 1e-9};
    hp_figures exact[DISTINCT];
    cost ladder[LADDER];
    for (int k = 0; k < DISTINCT; k++)
        exact[k] = fine_run(d, k + 1, o);
    printf("cost against error, rms over wirings 1 to 12\n%12s %9s %9s\n", "floor step", "error",
           "ms/s");
    for (int j = 0; j < LADDER; j++) {
        ladder[j] = mean_cost(NULL, d, o, ladder_step(j), exact);
        printf("%9.0f us %9.1e %9.3f\n", ladder_step(j) * 1e6, ladder[j].error, ladder[j].ms);
    }
    printf("%12s %9s %9s %9s\n", "tolerance", "error", "ms/s", "ratio");
    for (int k = 0; k < TOLERANCES; k++) {
        cost e = mean_cost(engine, d, o, tolerance[k], exact);
        printf("%12.0e %9.1e %9.3f %9.1f\n", tolerance[k], e.error, e.ms,
               e.ms / time_at(ladder, e.error));
    }
    printf("\n");
}

static void bench_drive(hp_engine *engine, hp_reference_drive which, const settings *s)
{
    static const int pwm_wiring[] = {1, 2, 4, 5};
    static const char *const pwm_name[] = {"averaged", "complementary", "one-sided"};
    int wiring[HP_WIRING_COUNT];
    int count = s->quick ? 2 : s->every_drive ? DISTINCT : HP_WIRING_COUNT;
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        wiring[k] = k + 1;
    hp_drive d = hp_reference_drive_make(which);
    hp_run_options o = hp_run_options_default();
    o.start_angle = hp_rest_angle(0);
    o.seconds = s->seconds;
    o.settle_s = 0.6 * s->seconds;
    printf("drive %s, %s, %g s, tolerance %g\n", hp_reference_drive_name(which), pwm_name[0],
           o.seconds, s->tolerance);
    print_wirings(engine, &d, &o, s->tolerance, wiring, count);
    if (!s->quick)
        print_precision(engine, &d, &o);
    o.seconds *= 0.2;
    o.settle_s *= 0.2;
    for (int pwm = HP_PWM_COMPLEMENTARY; pwm <= HP_PWM_ONE_SIDED; pwm++) {
        d.controller.pwm = (hp_pwm_kind)pwm;
        printf("drive %s, real PWM, %s, %g Hz, %g s, tolerance %g\n",
               hp_reference_drive_name(which), pwm_name[pwm], d.controller.pwm_hz, o.seconds,
               s->tolerance);
        print_wirings(engine, &d, &o, s->tolerance, pwm_wiring, s->quick ? 1 : 4);
    }
}

/* --- options --- */

static double number(const char *text, double low, double high, struct argp_state *state)
{
    char *end;
    double value = strtod(text, &end);
    if (*text == '\0' || *end != '\0' || !(value >= low && value <= high))
        argp_error(state, "%s is not a number from %g to %g", text, low, high);
    return value;
}

static error_t parse(int key, char *text, struct argp_state *state)
{
    settings *s = state->input;
    switch (key) {
    case 'q': s->quick = true; break;
    case 's': s->seconds = number(text, 0.01, 100.0, state); break;
    case 't': s->tolerance = number(text, 1e-12, 1e-2, state); break;
    case 'd':
        s->every_drive = strcmp(text, "all") == 0;
        for (int k = 0; k < HP_DRIVE_COUNT && !s->every_drive; k++)
            if (strcmp(text, hp_reference_drive_name((hp_reference_drive)k)) == 0) {
                s->drive = (hp_reference_drive)k;
                return 0;
            }
        if (!s->every_drive)
            argp_error(state, "%s is not a drive: direct, geared, sine or all", text);
        break;
    default: return ARGP_ERR_UNKNOWN;
    }
    return 0;
}

int main(int argc, char **argv)
{
    static const struct argp_option options[] = {
        {"drive", 'd', "NAME", 0, "direct (default), geared, sine, or all", 0},
        {"seconds", 's', "S", 0, "simulated seconds a run, default 1; a fifth of it with PWM", 0},
        {"tolerance", 't', "TOL", 0, "tolerance of the engine, default its own", 0},
        {"quick", 'q', NULL, 0, "a few short runs, to see that it works", 0},
        {0},
    };
    static const struct argp argp = {
        options, parse, NULL, "Time the engine against a bare hand-written loop at equal error.",
        NULL,    NULL,  NULL};
    settings s = {.seconds = 1.0, .tolerance = hp_run_options_default().tolerance};
    argp_parse(&argp, argc, argv, 0, NULL, &s);
    if (s.quick)
        s.seconds = 0.1;
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    if (!engine) {
        fprintf(stderr, "hubphase_bench: %s\n", err.text);
        return 1;
    }
    for (int k = 0; k < HP_DRIVE_COUNT; k++)
        if (s.every_drive || k == (int)s.drive)
            bench_drive(engine, (hp_reference_drive)k, &s);
    hp_engine_free(engine);
    return 0;
}
