/*
 * How the figures of wirings spread over an ensemble of motors, class by class, and what the
 * verdict makes of them. Prints the tables of docs/verdicts.md.
 *
 *   verdict_spread [--wide 1] [--one-sided 1] [--seed N] [--motors N] [--faulty N] [--hold N]
 *                  [--starts N] [--jobs N]
 *
 * --wide 1 draws over the wide ranges; --one-sided 1 gives every controller one-sided edges, and
 * runs of 0.8 s with a quick ramp, since they take long; --hold N judges the first N motors again,
 * each time with one thing changed (VARIATIONS), and counts the verdicts that change.
 *
 * The class of a wiring follows from its permutations (runs.h) and is known to this program alone:
 * it is the oracle that the verdict, which sees figures only, is held against. Wirings that differ
 * by renaming the controller's inputs and outputs together run alike to the last byte
 * (test_engine_symmetry), so 12 of the 36 are run for each motor.
 */
#include "runs.h"
#include "verdict_spread_draw.h"

#include "decide/judge/margin.h"
#include "hubphase/decide/survey.h"
#include "sim/pool.h"

#include <stdlib.h>
#include <string.h>

#define DISTINCT    12
#define STARTS_MAX  24
#define HOLD_STARTS 7 /* as a survey has */
/* [log ratio] A verdict farther from every line than this must hold. */
#define AWAY log(1.5)

typedef enum spread_class { SMOOTH, EARLY, LATE, OPPOSED, SPREAD_CLASS_COUNT } spread_class;
static const char *const class_name[SPREAD_CLASS_COUNT] = {"smooth", "early", "late", "opposed"};

#define VARIATIONS 27
static const char *const variation_name[VARIATIONS + 1] = {
    "as it is",
    "5 s",
    "10 s",
    "24 rest angles",
    "tolerance x 10",
    "tolerance / 10",
    "resistance + 20 %",
    "resistance - 20 %",
    "inductance + 20 %",
    "inductance - 20 %",
    "ke + 20 %",
    "ke - 20 %",
    "battery volts + 20 %",
    "battery volts - 20 %",
    "battery resistance + 20 %",
    "battery resistance - 20 %",
    "friction + 20 %",
    "friction - 20 %",
    "cogging + 20 %",
    "cogging - 20 %",
    "inertia + 20 %",
    "inertia - 20 %",
    "throttle + 20 %",
    "throttle - 20 %",
    "limits + 20 %",
    "limits - 20 %",
    "sensor placement + 20 %",
    "sensor placement - 20 %",
};

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
    const char *fault;                           /* NULL: sound */
    hp_judgement held[VARIATIONS + 1][DISTINCT]; /* [0]: nothing changed */
    hp_margin held_margin[DISTINCT];
    wiring_result wiring[DISTINCT];
} motor_result;

typedef struct plan {
    uint64_t seed;
    bool wide, one_sided;
    int starts;
    int motors, faulty; /* sound ones, and of each fault */
    int held;           /* motors judged again with one thing changed */
    int number[DISTINCT];
    motor_result *result;
} plan;

static bool passes(const hp_judgement *j)
{
    return j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
}

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

/* Runs and judges all wirings of a motor, as a survey does. */
static void judge_motor(const plan *p, hp_engine *engine, const hp_drive *drive,
                        const hp_run_options *options, int starts, hp_figures *run,
                        hp_judgement judgement[DISTINCT])
{
    hp_thresholds limits = hp_thresholds_default();
    for (int w = 0; w < DISTINCT; w++) {
        hp_wiring wiring = hp_wiring_from_number(p->number[w]);
        hp_figures *own = &run[w * starts];
        for (int k = 0; k < starts; k++) {
            hp_run_options o = *options;
            o.start_angle = hp_rest_angle(k);
            hp_engine_run(engine, drive, &wiring, &o, NULL, &own[k], NULL);
        }
        judgement[w] = hp_verdict_judge(own, starts, &limits);
    }
    hp_verdict_compare(judgement, DISTINCT, &limits);
}

static void scale_friction(hp_friction *f, double factor)
{
    f->coulomb_nm *= factor;
    f->breakaway_nm *= factor;
    f->viscous_nm_s_rad *= factor;
}

static void vary(int variation, hp_drive *d, hp_run_options *o, int *starts)
{
    double x = variation % 2 == 0 ? 1.2 : 0.8;
    switch (variation) {
    case 1:
    case 2:
        o->settle_s *= (variation == 1 ? 5.0 : 10.0) / o->seconds;
        o->seconds = variation == 1 ? 5.0 : 10.0;
        break;
    case 3: *starts = STARTS_MAX; break;
    case 4: o->tolerance *= 10.0; break;
    case 5: o->tolerance /= 10.0; break;
    case 6:
    case 7: d->motor.resistance_ohm *= x; break;
    case 8:
    case 9: d->motor.inductance_h *= x; break;
    case 10:
    case 11: d->motor.ke *= x; break;
    case 12:
    case 13: d->supply.emf_v *= x; break;
    case 14:
    case 15: d->supply.resistance_ohm *= x; break;
    case 16:
    case 17:
        scale_friction(&d->stand.rotor, x);
        scale_friction(&d->stand.wheel, x);
        break;
    case 18:
    case 19: d->motor.cogging_nm *= x; break;
    case 20:
    case 21:
        d->motor.rotor_inertia_kg_m2 *= x;
        d->stand.wheel_inertia_kg_m2 *= x;
        break;
    case 22:
    case 23: d->controller.throttle = fmin(1.0, x * d->controller.throttle); break;
    case 24:
    case 25:
        d->controller.battery_limit_a *= x;
        d->controller.phase_limit_a *= x;
        break;
    case 26:
    case 27:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            d->sensors.placement_rad[k] *= x;
        break;
    default: break;
    }
}

static void hold_motor(const plan *p, hp_engine *engine, motor_result *m)
{
    hp_figures run[DISTINCT * STARTS_MAX];
    hp_thresholds limits = hp_thresholds_default();
    for (int v = 0; v <= VARIATIONS; v++) {
        hp_drive drive = m->drive;
        hp_run_options options = hp_survey_options_default().run;
        int starts = HOLD_STARTS;
        vary(v, &drive, &options, &starts);
        judge_motor(p, engine, &drive, &options, starts, run, m->held[v]);
        for (int w = 0; v == 0 && w < DISTINCT; w++)
            m->held_margin[w] = hp_margin_of(&run[w * starts], starts, &m->held[0][w], &limits);
    }
}

static double speed_angle(const hp_drive *d)
{
    return hp_drive_ideal_speed(d) * d->motor.pole_pairs * d->motor.inductance_h /
           d->motor.resistance_ohm;
}

/* One-sided edges, and a run no longer than they need. */
static void take_edges(hp_drive *d, hp_run_options *o)
{
    d->controller.pwm = HP_PWM_ONE_SIDED;
    d->controller.pwm_hz = 8e3;
    d->controller.ramp_per_s = fmax(d->controller.ramp_per_s, 8.0);
    o->seconds = 0.8;
    o->settle_s = 0.5;
}

static void run_motor(void *user, hp_engine *engine, int task)
{
    const plan *p = user;
    motor_result *m = &p->result[task];
    hp_run_options options = hp_survey_options_default().run;
    hp_figures run[DISTINCT * STARTS_MAX];
    hp_judgement judgement[DISTINCT];
    m->drive = p->wide ? draw_wide(p->seed, task, &m->friction_share)
                       : draw_drive(p->seed, task, &m->friction_share);
    if (task >= p->motors) {
        hp_random random = hp_random_init(p->seed + 1, (uint64_t)task);
        m->fault = put_fault(&random, &m->drive, (task - p->motors) % FAULT_COUNT);
    }
    if (p->one_sided)
        take_edges(&m->drive, &options);
    m->speed_angle = speed_angle(&m->drive);
    judge_motor(p, engine, &m->drive, &options, p->starts, run, judgement);
    double sum = 0.0;
    int smooth = 0;
    for (int w = 0; w < DISTINCT; w++) {
        wiring_result *r = &m->wiring[w];
        r->class = spread_class_of(p->number[w]);
        r->judgement = judgement[w];
        memcpy(r->run, &run[w * p->starts], (size_t)p->starts * sizeof run[0]);
        if (passes(&judgement[w]))
            sum += fabs(judgement[w].mean.speed), smooth++;
    }
    /* As a survey does: the smooth wirings' speed, else the label's. */
    m->smooth_speed = smooth > 0 ? sum / smooth : hp_drive_ideal_speed(&m->drive);
    if (task < p->held)
        hold_motor(p, engine, m);
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
static double idle_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? hp_figures_idle(f) : (double)NAN;
}
static double waste_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? hp_figures_waste(f) : (double)NAN;
}
static double alternation_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? hp_figures_alternation(f) : (double)NAN;
}
static double ahead_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m, (void)w;
    return turns(f) ? fabs(f->lead_mean) / HP_DEG : (double)NAN;
}
/* Of wirings that pass by themselves: what the comparison goes by. */
static double outdone_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)m;
    return f == w->run && w->judgement.outdone > 0.0 ? w->judgement.outdone : (double)NAN;
}
static double plain_ratio_of(const motor_result *m, const wiring_result *w, const hp_figures *f)
{
    (void)w;
    return turns(f) ? fabs(f->speed) / m->smooth_speed : (double)NAN;
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
                right += fabs(early->judgement.mean.speed) > fabs(late->judgement.mean.speed);
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
            bool right = r->class == SMOOTH    ? passes(&r->judgement)
                         : r->class == OPPOSED ? v == HP_VERDICT_STALLED || v == HP_VERDICT_ROUGH
                                               : v == HP_VERDICT_ROUGH || v == HP_VERDICT_STALLED;
            if (right)
                continue;
            const double *place = motor->drive.sensors.placement_rad;
            printf(
                "  motor %d, %s, judged %s: excess %.2f, idle %.2f, outdone %.2f, unsteady %.2f, "
                "friction %.0f %% of stall torque, speed x L / R %.2f, throttle %.0f %%, "
                "sensors %+.0f %+.0f %+.0f deg; %s\n",
                m, class_name[r->class], hp_verdict_name(v), r->judgement.excess,
                hp_figures_idle(&r->judgement.mean), r->judgement.outdone,
                r->judgement.mean.speed_sd / fabs(r->judgement.mean.speed),
                100.0 * motor->friction_share, motor->speed_angle,
                100.0 * motor->drive.controller.throttle, place[0] / HP_DEG, place[1] / HP_DEG,
                place[2] / HP_DEG, r->judgement.reason);
        }
    printf("\n");
}

static void print_judged(const hp_judgement *j)
{
    printf("%s %d of %d", hp_verdict_name(j->verdict), j->starts, j->starts_tried);
    if (j->verdict == HP_VERDICT_ROUGH)
        printf(" %s %s", hp_direction_name(j->direction),
               j->kind == HP_KIND_NONE ? "no kind" : hp_rough_kind_name(j->kind));
    printf(" (waste %.3g, field %.0f deg, alternation %.2f)", hp_figures_waste(&j->mean),
           fabs(j->mean.lead_mean) / HP_DEG, hp_figures_alternation(&j->mean));
}

/* A change that crossed between right and wrong, that no line near it had announced, or of the
 * direction or kind of a rough wiring. */
static void print_change(const plan *p, int v, int m, int w)
{
    const hp_margin *margin = &p->result[m].held_margin[w];
    printf("    motor %d, wiring %d, %s: ", m, p->number[w],
           class_name[p->result[m].wiring[w].class]);
    print_judged(&p->result[m].held[0][w]);
    printf("; now ");
    print_judged(&p->result[m].held[v][w]);
    printf("; nearest line %s, factor %.3g\n", hp_threshold_name(margin->threshold),
           exp(margin->log_ratio));
}

/* Which verdicts of the held motors change with one thing changed. */
static void print_held(const plan *p)
{
    printf("Verdicts changed, of %d wirings; away: farther than a factor %.2g from every line\n"
           "  %-26s %13s %7s %5s %8s %6s %6s\n",
           p->held * DISTINCT, exp(AWAY), "", "right<->wrong", "stalled", "undec.", "direction",
           "kind", "away");
    for (int v = 1; v <= VARIATIONS; v++) {
        int crossed = 0, stalled = 0, undecided = 0, turned = 0, kind = 0, away = 0;
        for (int m = 0; m < p->held; m++)
            for (int w = 0; w < DISTINCT; w++) {
                const hp_judgement *a = &p->result[m].held[0][w], *b = &p->result[m].held[v][w];
                bool both_rough = a->verdict == HP_VERDICT_ROUGH && b->verdict == HP_VERDICT_ROUGH;
                bool other_kind = both_rough && a->kind != b->kind;
                bool other_way = both_rough && a->direction != b->direction;
                kind += other_kind;
                turned += other_way;
                if (other_kind || other_way)
                    print_change(p, v, m, w);
                if (a->verdict == b->verdict)
                    continue;
                crossed += passes(a) != passes(b);
                bool vague =
                    a->verdict == HP_VERDICT_UNDECIDED || b->verdict == HP_VERDICT_UNDECIDED;
                undecided += vague;
                stalled += !vague &&
                           (a->verdict == HP_VERDICT_STALLED || b->verdict == HP_VERDICT_STALLED);
                bool far = p->result[m].held_margin[w].log_ratio > AWAY;
                away += far;
                if (far || passes(a) != passes(b))
                    print_change(p, v, m, w);
            }
        printf("  %-26s %13d %7d %5d %8d %6d %6d\n", variation_name[v], crossed, stalled, undecided,
               turned, kind, away);
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
    static const double angle[] = {0.0, 0.1, 0.2, 0.4, 0.8, 1.6, 1000.0};
    static const double throttle[] = {0.1, 0.2, 0.35, 0.5, 0.7, 0.999, 1.001};
    printf("seed %llu, %d sound motors, %d of each fault, %d rest angles, 12 of 36 wirings\n\n",
           (unsigned long long)p->seed, p->motors, p->faulty, p->starts);
    print_figure(p, "Current excess of runs that turn", excess_of);
    print_figure(p, "Torque ripple of runs that turn", ripple_of);
    print_figure(p, "Speed's standard deviation over speed, runs that turn", unsteadiness_of);
    print_figure(p, "Turn in the last part of a run [deg electrical]", turn_of);
    print_figure(p, "Share of rest angles from which a wiring turns", starts_of);
    print_figure(p, "Idle share of the current, runs that turn", idle_of);
    print_figure(p, "Waste (excess times idle share squared), runs that turn", waste_of);
    print_figure(p, "Torque ripple over the torque that the current could give", alternation_of);
    print_figure(p, "Field ahead of the rotor [deg], either sense", ahead_of);
    print_figure(p, "Phase current times speed over the best's, wirings that pass by themselves",
                 outdone_of);
    print_figure(p, "Speed over the smooth speed", plain_ratio_of);
    print_verdicts(p, NULL);
    print_kinds(p, "Early and late by electrical speed x L / R [rad]", speed_angle_of, angle,
                sizeof angle / sizeof angle[0]);
    print_kinds(p, "Early and late by throttle", throttle_of, throttle,
                sizeof throttle / sizeof throttle[0]);
    print_pairs(p);
    print_misses(p);
    if (p->held > 0)
        print_held(p);
    for (int k = 0; p->faulty > 0 && k < FAULT_COUNT; k++)
        print_verdicts(p, faults[k]);
}

int main(int argc, char **argv)
{
    plan p = {.seed = (uint64_t)number_option(argc, argv, "--seed", 1),
              .wide = number_option(argc, argv, "--wide", 0) != 0,
              .one_sided = number_option(argc, argv, "--one-sided", 0) != 0,
              .held = number_option(argc, argv, "--hold", 0),
              .motors = number_option(argc, argv, "--motors", 200),
              .faulty = number_option(argc, argv, "--faulty", 40),
              .starts = number_option(argc, argv, "--starts", 5)};
    int jobs = number_option(argc, argv, "--jobs", 0), count = 0;
    if (p.starts < 1 || p.starts > STARTS_MAX || p.motors < 1 || p.faulty < 0 || jobs < 0 ||
        p.held < 0 || p.held > p.motors) {
        fprintf(stderr,
                "usage: verdict_spread [--wide 0|1] [--one-sided 0|1] [--seed N] [--motors 1..] "
                "[--faulty 0..] "
                "[--hold 0..motors] [--starts 1..%d] [--jobs N]\n",
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
