/*
 * How the figures of wirings spread over an ensemble of motors, class by class, and what the
 * verdict makes of them. Prints the tables of docs/verdicts.md.
 *
 *   verdict_spread [--seed N] [--motors N] [--faulty N] [--starts N] [--jobs N]
 *
 * The class of a wiring follows from its permutations (runs.h) and is known to this program alone:
 * it is the oracle that the verdict, which sees figures only, is held against. Wirings that differ
 * by renaming the controller's inputs and outputs together run alike to the last byte
 * (test_engine_symmetry), so 12 of the 36 are run for each motor.
 */
#include "runs.h"
#include "verdict_spread_draw.h"

#include "hubphase/decide/verdict.h"
#include "sim/pool.h"

#include <stdlib.h>

#define DISTINCT   12
#define STARTS_MAX 16

typedef enum spread_class { SMOOTH, EARLY, LATE, OPPOSED, SPREAD_CLASS_COUNT } spread_class;
static const char *const class_name[SPREAD_CLASS_COUNT] = {"smooth", "early", "late", "opposed"};

typedef struct wiring_result {
    spread_class class;
    hp_judgement judgement;
    hp_figures run[STARTS_MAX];
} wiring_result;

typedef struct motor_result {
    hp_drive drive;
    double friction_share;
    double speed_angle; /* electrical speed, smooth and unloaded, times L / R [rad] */
    double smooth_speed;
    const char *fault; /* NULL: sound */
    wiring_result wiring[DISTINCT];
} motor_result;

typedef struct plan {
    uint64_t seed;
    int starts;
    int motors, faulty; /* sound ones, and of each fault */
    int number[DISTINCT];
    motor_result *result;
} plan;

static spread_class spread_class_of(int number)
{
    switch (class_of(number)) {
    case CLASS_SMOOTH: return SMOOTH;
    case CLASS_OPPOSED: return OPPOSED;
    case CLASS_OFF_BY_120: break;
    }
    /* Sensor U goes with lead V: the field stands 120 degrees on, which is early for a wiring that
     * runs backward, an even one, and late for the mirror image of it. */
    hp_wiring w = hp_wiring_from_number(number);
    bool plus = false;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        plus = plus || (w.sensor[k] == HP_U && w.phase[k] == HP_V);
    return plus == is_even(w.sensor) ? EARLY : LATE;
}

/* ---- runs ------------------------------------------------------------------------------------ */

static void run_motor(void *user, hp_engine *engine, int task)
{
    const plan *p = user;
    motor_result *m = &p->result[task];
    hp_thresholds limits = hp_thresholds_default();
    m->drive = draw_drive(p->seed, task, &m->friction_share);
    if (task >= p->motors) {
        hp_random random = hp_random_init(p->seed + 1, (uint64_t)task);
        m->fault = put_fault(&random, &m->drive, (task - p->motors) % FAULT_COUNT);
    }
    m->speed_angle = hp_drive_ideal_speed(&m->drive) * m->drive.motor.pole_pairs *
                     m->drive.motor.inductance_h / m->drive.motor.resistance_ohm;
    double sum = 0.0;
    int smooth = 0;
    hp_judgement first[DISTINCT];
    for (int w = 0; w < DISTINCT; w++) {
        wiring_result *r = &m->wiring[w];
        hp_wiring wiring = hp_wiring_from_number(p->number[w]);
        r->class = spread_class_of(p->number[w]);
        for (int k = 0; k < p->starts; k++) {
            hp_run_options o = hp_run_options_default();
            o.start_angle = hp_rest_angle(k);
            hp_engine_run(engine, &m->drive, &wiring, &o, NULL, &r->run[k], NULL);
        }
        first[w] = hp_verdict_judge(r->run, p->starts, 0.0, &limits);
    }
    hp_verdict_compare(first, DISTINCT, &limits);
    for (int w = 0; w < DISTINCT; w++)
        if (first[w].verdict == HP_VERDICT_CORRECT || first[w].verdict == HP_VERDICT_REVERSE)
            sum += fabs(first[w].mean.speed), smooth++;
    /* As a survey does: the smooth wirings' speed, else the label's. */
    m->smooth_speed = smooth > 0 ? sum / smooth : hp_drive_ideal_speed(&m->drive);
    hp_judgement judgement[DISTINCT];
    for (int w = 0; w < DISTINCT; w++)
        judgement[w] = hp_verdict_judge(m->wiring[w].run, p->starts, m->smooth_speed, &limits);
    hp_verdict_compare(judgement, DISTINCT, &limits);
    for (int w = 0; w < DISTINCT; w++) {
        hp_judgement *j = &judgement[w];
        if (j->outdone > limits.apparent_max)
            j->kind = hp_verdict_kind(j->direction, hp_figures_speed_asked(&j->mean),
                                      m->smooth_speed, &limits);
        m->wiring[w].judgement = *j;
    }
}

/* ---- quantiles ------------------------------------------------------------------------------- */

typedef struct list {
    double *value;
    size_t count;
} list;

static void add(list *l, double value)
{
    l->value[l->count++] = value;
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double quantile(const list *l, double share)
{
    return l->value[(size_t)(share * (double)(l->count - 1) + 0.5)];
}

static void print_quantiles(const char *name, list *l)
{
    static const double share[] = {0.0, 0.01, 0.05, 0.5, 0.95, 0.99, 1.0};
    printf("  %-8s", name);
    if (l->count == 0) {
        printf("  none\n");
        return;
    }
    qsort(l->value, l->count, sizeof l->value[0], compare);
    for (size_t k = 0; k < sizeof share / sizeof share[0]; k++)
        printf(" %8.3g", quantile(l, share[k]));
    printf(" %7zu\n", l->count);
}

/* One figure of a run, NAN where it has none. */
typedef double (*figure)(const motor_result *m, const wiring_result *w, const hp_figures *f);

static bool turns(const hp_figures *f)
{
    return fabs(f->window_turn) >= hp_thresholds_default().turn_min;
}

static double excess_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? hp_figures_excess(f) : (double)NAN;
}
static double ripple_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? hp_figures_ripple(f) : (double)NAN;
}
static double unsteadiness_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? f->speed_sd / fabs(f->speed) : (double)NAN;
}
static double turn_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return fabs(f->window_turn) / HP_DEG;
}
static double plain_ratio_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)w;
    return turns(f) ? fabs(f->speed) / m->smooth_speed : (double)NAN;
}
static double ratio_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)w;
    return turns(f) ? hp_figures_speed_asked(f) / m->smooth_speed : (double)NAN;
}
static double starts_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m;
    return f == w->run ? (double)w->judgement.starts / w->judgement.starts_tried : (double)NAN;
}

static void print_figure(const plan *p, const char *title, figure of)
{
    printf("%s\n", title);
    printf("  %-8s %8s %8s %8s %8s %8s %8s %8s %7s\n", "", "least", "1 %", "5 %", "median", "95 %",
           "99 %", "largest", "count");
    list l = {.value = calloc((size_t)(p->motors * DISTINCT * p->starts), sizeof(double))};
    for (spread_class c = SMOOTH; l.value && c < SPREAD_CLASS_COUNT; c++) {
        l.count = 0;
        for (int m = 0; m < p->motors; m++)
            for (int w = 0; w < DISTINCT; w++)
                for (int k = 0; k < p->starts; k++) {
                    const motor_result *motor = &p->result[m];
                    const wiring_result *r = &motor->wiring[w];
                    double value = of(motor, r, &r->run[k]);
                    if (r->class == c && !isnan(value))
                        add(&l, value);
                }
        print_quantiles(class_name[c], &l);
    }
    free(l.value);
    printf("\n");
}

/* ---- verdicts -------------------------------------------------------------------------------- */

/* Verdicts of the sound motors (fault NULL) or of those with one fault, class by class. */
static void print_verdicts(const plan *p, const char *fault)
{
    int count[SPREAD_CLASS_COUNT][HP_VERDICT_COUNT] = {{0}},
        total = p->motors + p->faulty * FAULT_COUNT;
    for (int m = 0; m < total; m++) {
        const char *own = p->result[m].fault;
        if ((own == NULL) != (fault == NULL) || (own && strcmp(own, fault) != 0))
            continue;
        for (int w = 0; w < DISTINCT; w++)
            count[p->result[m].wiring[w].class][p->result[m].wiring[w].judgement.verdict]++;
    }
    printf("Verdicts on wirings, %s\n  %-8s", fault ? fault : "sound motors", "");
    for (int v = 0; v < HP_VERDICT_COUNT; v++)
        printf(" %10s", hp_verdict_name((hp_verdict)v));
    printf("\n");
    for (spread_class c = SMOOTH; c < SPREAD_CLASS_COUNT; c++) {
        printf("  %-8s", class_name[c]);
        for (int v = 0; v < HP_VERDICT_COUNT; v++)
            printf(" %10d", count[c][v]);
        printf("\n");
    }
    printf("\n");
}

/* A quantity that early and late are told by, in bins. */
typedef double (*quantity)(const motor_result *m);

static double speed_angle_of(const motor_result *m)
{
    return m->speed_angle;
}
static double throttle_of(const motor_result *m)
{
    return m->drive.controller.throttle;
}

static void print_kinds(const plan *p, const char *title, quantity of, const double *edge,
                        size_t edges)
{
    printf("%s\n  %-14s  %-24s  %-24s\n  %-14s  %7s %8s %7s  %7s %8s %7s\n", title, "",
           "early wirings, told", "late wirings, told", "", "early", "nothing", "late", "early",
           "nothing", "late");
    for (size_t bin = 0; bin + 1 < edges; bin++) {
        int told[2][HP_KIND_COUNT] = {{0}};
        for (int m = 0; m < p->motors; m++) {
            double x = of(&p->result[m]);
            if (!(x >= edge[bin] && x < edge[bin + 1]))
                continue;
            for (int w = 0; w < DISTINCT; w++) {
                const wiring_result *r = &p->result[m].wiring[w];
                if ((r->class == EARLY || r->class == LATE) &&
                    r->judgement.verdict == HP_VERDICT_ROUGH)
                    told[r->class == LATE][r->judgement.kind]++;
            }
        }
        printf("  %5.2f to %5.2f  %8d %8d %7d  %7d %8d %7d\n", edge[bin], edge[bin + 1],
               told[0][HP_KIND_EARLY], told[0][HP_KIND_NONE], told[0][HP_KIND_LATE],
               told[1][HP_KIND_EARLY], told[1][HP_KIND_NONE], told[1][HP_KIND_LATE]);
    }
    printf("\n");
}

/* Within a motor, of two rough wirings that turn the same way the early one should be faster. */
static void print_pairs(const plan *p)
{
    int pairs = 0, right = 0;
    for (int m = 0; m < p->motors; m++)
        for (int a = 0; a < DISTINCT; a++)
            for (int b = 0; b < DISTINCT; b++) {
                const wiring_result *early = &p->result[m].wiring[a];
                const wiring_result *late = &p->result[m].wiring[b];
                if (early->class != EARLY || late->class != LATE || early->judgement.starts == 0 ||
                    late->judgement.direction != early->judgement.direction)
                    continue;
                pairs++;
                right += hp_figures_speed_asked(&early->judgement.mean) >
                         hp_figures_speed_asked(&late->judgement.mean);
            }
    printf(
        "Of the two rough wirings of a motor that turn the same way the early one is the faster: "
        "%d of %d\n\n",
        right, pairs);
}

/* Wirings that the verdict gets wrong, with what makes their motors special. */
static void print_misses(const plan *p)
{
    printf("Misses among sound motors\n");
    for (int m = 0; m < p->motors; m++)
        for (int w = 0; w < DISTINCT; w++) {
            const motor_result *motor = &p->result[m];
            const wiring_result *r = &motor->wiring[w];
            hp_verdict v = r->judgement.verdict;
            bool smooth = v == HP_VERDICT_CORRECT || v == HP_VERDICT_REVERSE;
            bool right = r->class == SMOOTH    ? smooth
                         : r->class == OPPOSED ? v == HP_VERDICT_STALLED
                                               : v == HP_VERDICT_ROUGH || v == HP_VERDICT_STALLED;
            if (right)
                continue;
            const double *place = motor->drive.sensors.placement_rad;
            printf("  motor %d, %s, judged %s: excess %.2f, outdone %.2f, ripple %.2f, friction "
                   "%.0f %% of stall "
                   "torque, speed x L / R %.2f, sensors %+.0f %+.0f %+.0f deg\n",
                   m, class_name[r->class], hp_verdict_name(v), r->judgement.excess,
                   r->judgement.outdone, r->judgement.ripple, 100.0 * motor->friction_share,
                   motor->speed_angle, place[0] / HP_DEG, place[1] / HP_DEG, place[2] / HP_DEG);
        }
    printf("\n");
}

/* ---- program --------------------------------------------------------------------------------- */

static int number_option(int argc, char **argv, const char *name, int usual)
{
    for (int k = 1; k + 1 < argc; k += 2)
        if (strcmp(argv[k], name) == 0)
            return atoi(argv[k + 1]);
    return usual;
}

static int show_progress(void *user, int done, int total)
{
    (void)user;
    fprintf(stderr, "\r%d of %d motors%s", done, total, done == total ? "\n" : "");
    return 0;
}

static void print_all(const plan *p)
{
    static const char *const faults[FAULT_COUNT] = {"sensor stuck high", "sensor stuck low",
                                                    "sensor inverted", "open lead", "no supply"};
    static const double angle[] = {0.0, 0.1, 0.2, 0.4, 0.8, 1.6, 10.0};
    static const double throttle[] = {0.1, 0.2, 0.35, 0.5, 0.7, 1.0};
    printf("seed %llu, %d sound motors, %d of each fault, %d rest angles, 12 of 36 wirings\n\n",
           (unsigned long long)p->seed, p->motors, p->faulty, p->starts);
    print_figure(p, "Current excess of runs that turn", excess_of);
    print_figure(p, "Torque ripple of runs that turn", ripple_of);
    print_figure(p, "Speed's standard deviation over speed, runs that turn", unsteadiness_of);
    print_figure(p, "Turn in the last part of a run [deg electrical]", turn_of);
    print_figure(p, "Share of rest angles from which a wiring turns", starts_of);
    print_figure(p, "Speed over the smooth speed, as it is", plain_ratio_of);
    print_figure(p, "Speed over the smooth speed, scaled to the duty asked", ratio_of);
    print_verdicts(p, NULL);
    print_kinds(p, "Early and late by electrical speed x L / R [rad]", speed_angle_of, angle,
                sizeof angle / sizeof angle[0]);
    print_kinds(p, "Early and late by throttle", throttle_of, throttle,
                sizeof throttle / sizeof throttle[0]);
    print_pairs(p);
    print_misses(p);
    for (int k = 0; p->faulty > 0 && k < FAULT_COUNT; k++)
        print_verdicts(p, faults[k]);
}

int main(int argc, char **argv)
{
    plan p = {.seed = (uint64_t)number_option(argc, argv, "--seed", 1),
              .motors = number_option(argc, argv, "--motors", 200),
              .faulty = number_option(argc, argv, "--faulty", 40),
              .starts = number_option(argc, argv, "--starts", 5)};
    int jobs = number_option(argc, argv, "--jobs", 0), count = 0;
    if (p.starts < 1 || p.starts > STARTS_MAX || p.motors < 1 || p.faulty < 0 || jobs < 0) {
        fprintf(stderr,
                "usage: verdict_spread [--seed N] [--motors 1..] [--faulty 0..] "
                "[--starts 1..%d] [--jobs N]\n",
                STARTS_MAX);
        return 2;
    }
    for (int number = 1; number <= HP_WIRING_COUNT; number++)
        if (hp_wiring_from_number(number).sensor[HP_U] == HP_U)
            p.number[count++] = number;
    int total = p.motors + p.faulty * FAULT_COUNT;
    p.result = calloc((size_t)total, sizeof *p.result);
    hp_error err = hp_error_none();
    if (!p.result || hp_pool_run(total, jobs, run_motor, &p, show_progress, NULL, &err) != HP_OK) {
        fprintf(stderr, "verdict_spread: %s\n", p.result ? err.text : "no memory");
        free(p.result);
        return 1;
    }
    print_all(&p);
    free(p.result);
    return 0;
}
