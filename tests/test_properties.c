/*
 * Properties that hold for every machine, over random ones: power balance, mirror, renaming,
 * scaling with voltage, no event missed, verdicts that do not hang on the tolerance.
 *
 * A failure prints the seed and the path of a scenario file that reproduces the machine.
 *   HP_PROPERTY_MOTORS  how many machines (default 300, 8 under the sanitizers)
 *   HP_PROPERTY_SEED    the first seed (default 1)
 */
#include "match.h"

#include "hubphase/decide/verdict.h"
#include "hubphase/record/scenario.h"
#include "model/backemf.h"
#include "validation/drive_images.h"
#include "validation/random_drive.h"
#include "validation/record.h"

#include <inttypes.h>
#include <stdlib.h>

#define MOTORS HP_DRAWS(300, 8)

/* Runs that are images of each other differ by step errors that an unsteady rotor amplifies: the
 * worst of a thousand pairs is 6e-5 at 1e-9 a step, 7e-6 at 1e-10, 5e-7 at 1e-11. */
#define IMAGE_TOLERANCE 1e-10
#define IMAGE_SAME      2e-5

static const record_source derived = {"equations of the model", "derived"};

static hp_engine *engine;

/* What a property found. */
typedef struct finding {
    bool failed;
    char text[256];
    double worst; /* largest relative difference seen */
} finding;

static void fail_with(finding *f, const char *what, int wiring, double value, double expected)
{
    if (!f->failed)
        snprintf(f->text, sizeof f->text, "wiring %d: %s is %.10g, expected %.10g", wiring, what,
                 value, expected);
    f->failed = true;
}

static void compare(finding *f, const char *what, int wiring, double value, double expected,
                    double size, double share)
{
    double off = fabs(value - expected) / size;
    if (!(off <= share))
        fail_with(f, what, wiring, value, expected);
    if (off > f->worst)
        f->worst = off;
}

static hp_run_options image_options(double angle)
{
    hp_run_options o = hp_run_options_default();
    o.seconds = 0.2;
    o.settle_s = 0.1;
    o.tolerance = IMAGE_TOLERANCE;
    o.max_step_s = 1e-4;
    o.start_angle = angle;
    return o;
}

static hp_figures run(finding *f, const hp_drive *drive, int number, const hp_run_options *o,
                      hp_trace *trace)
{
    hp_figures figures;
    hp_error err = hp_error_none();
    hp_wiring wiring = hp_wiring_from_number(number);
    memset(&figures, 0, sizeof figures);
    hp_result result = hp_drive_check(drive, &err);
    if (result == HP_OK)
        result = hp_engine_run(engine, drive, &wiring, o, trace, &figures, &err);
    if (result != HP_OK && !f->failed) {
        f->failed = true;
        snprintf(f->text, sizeof f->text, "wiring %d: %.200s", number, err.text);
    }
    return figures;
}

/* How an image's motion follows from the original's. */
typedef struct image {
    double sense;  /* of rotation: 1, or -1 in a mirror */
    double factor; /* of voltages; times are divided by it */
    double turned; /* [rad electrical] the image's angle, relative to sense times the original's */
    const int *name; /* phase k of the original is name[k] of the image */
} image;

#define SAMPLES 200

/* Sizes against which differences are judged. */
typedef struct sizes {
    double current, torque, speed;
} sizes;

static sizes sizes_of(const hp_trace *trace)
{
    sizes s = {1e-3, 1e-4, 1e-2};
    for (size_t n = 0; n < trace->count; n++) {
        const hp_sample *x = &trace->sample[n];
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            s.current = fmax(s.current, fabs(x->current[k]));
        s.torque = fmax(s.torque, fabs(x->torque));
        s.speed = fmax(s.speed, fabs(x->speed));
    }
    return s;
}

static void compare_sample(finding *f, int wiring, const hp_sample *b, const hp_sample *a,
                           const image *of, const sizes *size)
{
    double s = of->sense, k = of->factor, share = IMAGE_SAME;
    compare(f, "angle", wiring, b->theta - of->turned, s * a->theta, 1.0, share);
    compare(f, "speed", wiring, b->speed, s * k * a->speed, k * size->speed, share);
    compare(f, "wheel speed", wiring, b->wheel_speed, s * k * a->wheel_speed, k * size->speed,
            share);
    for (int n = 0; n < HP_PHASE_COUNT; n++)
        compare(f, "current", wiring, b->current[of->name[n]], k * a->current[n], k * size->current,
                share);
    compare(f, "torque", wiring, b->torque, s * k * a->torque, k * size->torque, share);
    compare(f, "battery current", wiring, b->battery_current, k * a->battery_current,
            k * size->current, share);
    compare(f, "duty", wiring, b->duty, a->duty, 1.0, share);
}

/* Runs both and compares them at even times all along. */
static void compare_runs(finding *f, const hp_drive *drive, int wiring, double angle,
                         const hp_drive *image_drive, int image_wiring, image of)
{
    hp_run_options o = image_options(angle);
    hp_trace a = hp_trace_init(0.0, o.seconds, o.seconds / SAMPLES);
    run(f, drive, wiring, &o, &a);
    o = image_options(of.sense * angle + of.turned);
    o.seconds /= of.factor;
    o.settle_s /= of.factor;
    hp_trace b = hp_trace_init(0.0, o.seconds, o.seconds / SAMPLES);
    run(f, image_drive, image_wiring, &o, &b);
    sizes size = sizes_of(&a);
    /* An engine's angle starts inside a turn: whole turns between the two are of no matter. */
    if (!f->failed)
        of.turned =
            HP_TWO_PI *
                round((b.sample[0].theta - of.sense * a.sample[0].theta - of.turned) / HP_TWO_PI) +
            of.turned;
    for (size_t n = 0; n < a.count && n < b.count && !f->failed; n++)
        compare_sample(f, wiring, &b.sample[n], &a.sample[n], &of, &size);
    hp_trace_free(&a);
    hp_trace_free(&b);
}

/* ---- properties ------------------------------------------------------------------------------ */

static const int same[HP_PHASE_COUNT] = {HP_U, HP_V, HP_W};
static const int rotation[HP_PHASE_COUNT] = {HP_V, HP_W, HP_U};
static const int exchange[HP_PHASE_COUNT] = {HP_U, HP_W, HP_V};

static void balances_power(const random_case *c, finding *f)
{
    hp_run_options o = image_options(c->angle);
    o.tolerance = hp_run_options_default().tolerance;
    hp_figures figures = run(f, &c->drive, c->wiring, &o, NULL);
    if (!f->failed)
        compare(f, "power balance", c->wiring, figures.balance_error, 0.0, 1.0, 1e-6);
}

static void turns_the_other_way_in_a_mirror(const random_case *c, finding *f)
{
    if (c->drive.stand.clutch)
        return; /* a one-way clutch has no mirror image here */
    hp_drive m = image_mirror(&c->drive);
    compare_runs(f, &c->drive, c->wiring, c->angle, &m, image_rename_wiring(c->wiring, exchange),
                 (image){-1.0, 1.0, 0.0, exchange});
}

static void one_renaming(const random_case *c, int wiring, finding *f)
{
    compare_runs(f, &c->drive, wiring, c->angle, &c->drive,
                 image_rename_controller(wiring, rotation), (image){1.0, 1.0, 0.0, same});
    hp_drive renamed = image_rename_motor(&c->drive, rotation);
    compare_runs(f, &c->drive, wiring, c->angle, &renamed, image_rename_wiring(wiring, rotation),
                 (image){1.0, 1.0, HP_PHASE_STEP, rotation});
}

/* Every tenth machine in all 36 wirings, the others in one. */
static void does_not_mind_names(const random_case *c, finding *f)
{
    if (c->seed % 10 != 0) {
        one_renaming(c, c->wiring, f);
        return;
    }
    for (int number = 1; number <= HP_WIRING_COUNT && !f->failed; number++)
        one_renaming(c, number, f);
}

static void scales_with_voltage(const random_case *c, finding *f)
{
    hp_drive faster = image_scale(&c->drive, 2.0);
    compare_runs(f, &c->drive, c->wiring, c->angle, &faster, c->wiring,
                 (image){1.0, 2.0, 0.0, same});
}

static void misses_no_event(const random_case *c, finding *f)
{
    hp_run_options o = options_for(0.08, c->angle);
    hp_wiring wiring = hp_wiring_from_number(c->wiring);
    pair p = {.engine = events_only(), .brute = events_only()};
    char label[64];
    snprintf(label, sizeof label, "seed %" PRIu64, c->seed);
    hp_result found = hp_engine_run(engine, &c->drive, &wiring, &o, &p.engine, &p.found, NULL);
    hp_result expected = hp_reference_brute(&c->drive, &wiring, &o, STEP_S, &p.brute, &p.expected);
    mismatch m = match(&p, label, c->wiring);
    if (found != HP_OK || expected != HP_OK || m.missed > 0 || m.extra > 0)
        fail_with(f, "number of events missed or extra", c->wiring, m.missed + m.extra, 0.0);
    if (m.worst > f->worst)
        f->worst = m.worst;
    free_pair(&p);
}

#define STARTS 3

static hp_judgement judge(const random_case *c, double tolerance, finding *f)
{
    hp_run_options o = hp_run_options_default();
    hp_thresholds limits = hp_thresholds_default();
    hp_figures figures[STARTS];
    o.seconds = 0.8;
    o.settle_s = 0.5;
    o.tolerance = tolerance;
    for (int k = 0; k < STARTS; k++) {
        o.start_angle = hp_rest_angle(k);
        figures[k] = run(f, &c->drive, c->wiring, &o, NULL);
    }
    return hp_verdict_judge(figures, STARTS, &limits);
}

static void keeps_its_verdict(const random_case *c, finding *f)
{
    double usual = hp_run_options_default().tolerance;
    hp_judgement a = judge(c, usual, f), b = judge(c, 10.0 * usual, f);
    if (!f->failed && (a.verdict != b.verdict || a.direction != b.direction || a.kind != b.kind)) {
        f->failed = true;
        snprintf(f->text, sizeof f->text,
                 "wiring %d: %s %s %s, at ten times the tolerance %s %s %s", c->wiring,
                 hp_verdict_name(a.verdict), hp_direction_name(a.direction),
                 hp_rough_kind_name(a.kind), hp_verdict_name(b.verdict),
                 hp_direction_name(b.direction), hp_rough_kind_name(b.kind));
    }
}

static void close_enough(finding *f, const char *what, double value, double expected)
{
    compare(f, what, 0, value, expected, fabs(expected) + 1e-12, 1e-6);
}

/* The file written for a failing machine describes that machine. */
static void can_be_written_down(const random_case *c, finding *f)
{
    char path[64];
    snprintf(path, sizeof path, "property_%ld.yaml", (long)c->seed);
    hp_run_options o = image_options(c->angle);
    FILE *file = fopen(path, "w");
    if (!file) {
        fail_with(f, "file that can be written", 0, 0.0, 1.0);
        return;
    }
    random_case_write(c, &o, "round trip", file);
    fclose(file);
    hp_scenario s;
    hp_error err = hp_error_none();
    if (hp_scenario_load(path, &s, stderr, &err) != HP_OK) {
        f->failed = true;
        snprintf(f->text, sizeof f->text, "%.250s", err.text);
        return;
    }
    const hp_drive *a = &c->drive, *b = &s.drive;
    close_enough(f, "ke", b->motor.ke, a->motor.ke);
    close_enough(f, "resistance", b->motor.resistance_ohm, a->motor.resistance_ohm);
    close_enough(f, "inductance", b->motor.inductance_h, a->motor.inductance_h);
    close_enough(f, "shape", hp_backemf_value(&b->motor.backemf, 0.3),
                 hp_backemf_value(&a->motor.backemf, 0.3));
    close_enough(f, "inertia", b->stand.wheel_inertia_kg_m2, a->stand.wheel_inertia_kg_m2);
    close_enough(f, "duty", hp_drive_duty(b), hp_drive_duty(a));
    o.tolerance = 1e-7;
    hp_figures x = run(f, a, c->wiring, &o, NULL), y = run(f, b, c->wiring, &o, NULL);
    if (!f->failed)
        compare(f, "net turn of the file", c->wiring, y.net_turn, x.net_turn,
                fabs(x.net_turn) + 1.0, 1e-4);
    hp_scenario_free(&s);
    remove(path);
}

/* ---- over the machines ----------------------------------------------------------------------- */

static long number_from(const char *name, long otherwise)
{
    const char *text = getenv(name);
    return text ? strtol(text, NULL, 10) : otherwise;
}

static void write_case(const random_case *c, const char *property, const finding *f)
{
    char path[256];
    snprintf(path, sizeof path, "failed_%s_%" PRIu64 ".yaml", property, c->seed);
    FILE *file = fopen(path, "w");
    if (file) {
        hp_run_options o = image_options(c->angle);
        random_case_write(c, &o, property, file);
        fclose(file);
    }
    print_error("seed %" PRIu64 ": %s\n  reproduce: %s\n", c->seed, f->text, path);
}

typedef void (*property)(const random_case *c, finding *f);

static void over_machines(property holds, const char *name, const char *what, const char *reason,
                          double tolerance, const char *unit)
{
    long first = number_from("HP_PROPERTY_SEED", 1),
         count = number_from("HP_PROPERTY_MOTORS", MOTORS);
    double worst = 0.0;
    int failures = 0;
    for (long k = 0; k < count; k++) {
        random_case c = random_case_make((uint64_t)(first + k));
        finding f = {.failed = false};
        holds(&c, &f);
        worst = fmax(worst, f.worst);
        if (f.failed) {
            failures++;
            write_case(&c, name, &f);
        }
    }
    char row[160];
    snprintf(row, sizeof row, "%s, %ld machines: failures", what, count);
    bool good = record_row(row, "", failures, 0.0, 0.0, "a count", derived);
    if (tolerance > 0.0) {
        snprintf(row, sizeof row, "%s: worst difference", what);
        good = record_row(row, unit, worst, 0.0, tolerance, reason, derived) && good;
    }
    check_true(good, "%s: %d of %ld failed, worst %.3g", name, failures, count, worst);
}

#define PROPERTY(name, what, reason, tolerance, unit)                                              \
    static void test_##name(void **state)                                                          \
    {                                                                                              \
        (void)state;                                                                               \
        over_machines(name, #name, what, reason, tolerance, unit);                                 \
    }

#define IMAGE_REASON "relative; step errors of 1e-10 that an unsteady rotor amplifies"

PROPERTY(balances_power, "power balance along the run", "aim; relative to what passed through",
         1e-6, "")
PROPERTY(turns_the_other_way_in_a_mirror, "mirror image", IMAGE_REASON, IMAGE_SAME, "")
PROPERTY(does_not_mind_names, "leads renamed", IMAGE_REASON, IMAGE_SAME, "")
PROPERTY(scales_with_voltage, "all voltages doubled and all times halved", IMAGE_REASON, IMAGE_SAME,
         "")
PROPERTY(misses_no_event, "events against a brute run of 10 us steps", "one brute step",
         TIME_TOLERANCE_S, "s")
PROPERTY(keeps_its_verdict, "verdict at ten times the tolerance", "", 0.0, "")
PROPERTY(can_be_written_down, "scenario file of the machine read back", "", 0.0, "")

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_balances_power),
        cmocka_unit_test(test_turns_the_other_way_in_a_mirror),
        cmocka_unit_test(test_does_not_mind_names),
        cmocka_unit_test(test_scales_with_voltage),
        cmocka_unit_test(test_misses_no_event),
        cmocka_unit_test(test_keeps_its_verdict),
        cmocka_unit_test(test_can_be_written_down),
    };
    engine = make_engine();
    record_section("properties");
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    hp_engine_free(engine);
    return failed;
}
