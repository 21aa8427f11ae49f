/*
 * Likelihood table: see the header.
 *
 * Rest angles go on from one motor to the next along the golden-section sequence, so that a case's
 * pooled runs cover the turn finely although each motor sees only a few angles.
 */
#include "hubphase/decide/likelihood.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define GRID_STEP   0.001
#define GRID_MIDDLE 32768.0

hp_likelihood_options hp_likelihood_options_default(void)
{
    hp_likelihood_options options = {
        .variation = hp_variation_default(),
        .seed = 1,
        .motors = 24, /* chosen: the build stays under a minute on two cores */
        .starts = 8,
        .levels = 2,
        /* chosen: the gentle throttle of the scenario, and a timid one at which early and late
         * overlap. */
        .level = {1.0, 0.4},
        .run = hp_run_options_default(),
    };
    /* chosen: figures agree with those at 1e-7 within 0.1 %, at a third of the time. */
    options.run.tolerance = 1e-4;
    options.run.calm_share = 0.002;
    return options;
}

double hp_grid_value(uint16_t number)
{
    return number == 0 ? (double)NAN : exp(GRID_STEP * (number - GRID_MIDDLE));
}

uint16_t hp_grid_number(double value)
{
    if (!(value > 0.0))
        return (uint16_t)(isnan(value) ? 0 : 1);
    double number = GRID_MIDDLE + log(value) / GRID_STEP;
    return (uint16_t)lround(fmin(fmax(number, 1.0), 65535.0));
}

/* ---- building -------------------------------------------------------------------------------- */

/* Sums over the runs of one record. */
typedef struct tally {
    double wheel_speed, turning, standing;
    int wheel_count, turning_count, standing_count;
} tally;

static void add_run(hp_record *record, tally *sum, const hp_figures *f, hp_sight sight)
{
    if (sight == HP_SIGHT_NONE)
        return;
    record->sight[sight]++;
    record->cut_out = (uint8_t)(record->cut_out + f->cut_out);
    if (!hp_sight_turns(sight)) {
        sum->standing += f->battery_current;
        sum->standing_count++;
        return;
    }
    sum->turning += f->battery_current;
    sum->turning_count++;
    if (sight < HP_SIGHT_HUM_SMOOTH) {
        sum->wheel_speed += fabs(f->wheel_speed);
        sum->wheel_count++;
    }
}

static uint16_t grid_mean(double sum, int count)
{
    return count > 0 ? hp_grid_number(fmax(0.0, sum / count)) : 0;
}

hp_record hp_likelihood_simulate(const hp_likelihood *l, hp_engine *engine, int level,
                                 int behaviour, int motor)
{
    hp_behaviour b = hp_behaviour_from_raw(l->map.raw[behaviour]);
    hp_drive drive = hp_behaviour_drive(&l->motor[motor], &b);
    drive.controller.throttle = fmin(1.0, drive.controller.throttle * l->options.level[level]);
    hp_sight_params sight = hp_sight_params_of(&drive);
    sight.wheel_free = b.fault.kind == HP_FAULT_CLUTCH;

    hp_record record = {0};
    tally sum = {0};
    hp_run_options options = l->options.run;
    for (int k = 0; k < l->options.starts; k++) {
        hp_figures figures;
        options.start_angle = hp_rest_angle(motor * l->options.starts + k);
        hp_engine_run(engine, &drive, &b.wiring, &options, NULL, &figures, NULL);
        add_run(&record, &sum, &figures, hp_sight_of(&figures, &sight));
    }
    record.wheel_speed = grid_mean(sum.wheel_speed, sum.wheel_count);
    record.current_turning = grid_mean(sum.turning, sum.turning_count);
    record.current_standing = grid_mean(sum.standing, sum.standing_count);
    return record;
}

static void record_task(void *user, hp_engine *engine, int task)
{
    hp_likelihood *l = user;
    int motors = l->options.motors, cases = l->map.count;
    l->record[task] = hp_likelihood_simulate(l, engine, task / motors / cases,
                                             task / motors % cases, task % motors);
}

static hp_result check(const hp_drive *nominal, const hp_likelihood_options *o, hp_error *err)
{
    if (o->motors < 1 || o->motors > HP_LIKELIHOOD_MOTORS)
        return hp_error_set(err, HP_FAIL_INPUT, "ensemble.motors is %d, must be 1 to %d", o->motors,
                            HP_LIKELIHOOD_MOTORS);
    if (o->starts < 1 || o->starts > HP_LIKELIHOOD_STARTS)
        return hp_error_set(err, HP_FAIL_INPUT, "ensemble.starts is %d, must be 1 to %d", o->starts,
                            HP_LIKELIHOOD_STARTS);
    if (o->levels < 1 || o->levels > HP_LEVEL_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "ensemble.levels is %d, must be 1 to %d", o->levels,
                            HP_LEVEL_MAX);
    for (int k = 0; k < o->levels; k++)
        if (!(o->level[k] > 0.0 && o->level[k] <= 100.0))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "ensemble.level %d is %g, must be above 0 and at most 100", k,
                                o->level[k]);
    hp_result result = hp_run_options_check(&o->run, err);
    if (result == HP_OK)
        result = hp_variation_check(&o->variation, err);
    return result == HP_OK ? hp_drive_check(nominal, err) : result;
}

/* The drive with nothing broken and the textbook's table and sensors. */
static hp_drive sound_drive(const hp_drive *nominal)
{
    hp_behaviour sound = {.wiring = hp_wiring_from_number(1), .inverted = -1};
    return hp_behaviour_drive(nominal, &sound);
}

static int record_count(const hp_likelihood *l)
{
    return l->options.levels * l->map.count * l->options.motors;
}

/* Everything but the records' content. */
static hp_result prepare(const hp_drive *nominal, const hp_likelihood_options *options,
                         hp_likelihood *l, hp_error *err)
{
    memset(l, 0, sizeof *l);
    hp_result result = check(nominal, options, err);
    if (result != HP_OK)
        return result;
    l->options = *options;
    l->nominal = sound_drive(nominal);
    l->map = hp_behaviour_map_of(&l->nominal);
    l->basis = hp_likelihood_basis(nominal, options);
    l->motor = calloc((size_t)options->motors, sizeof *l->motor);
    l->record = calloc((size_t)record_count(l), sizeof *l->record);
    if (!l->basis || !l->motor || !l->record) {
        hp_likelihood_free(l);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    }
    for (int k = 0; k < options->motors; k++)
        l->motor[k] =
            hp_ensemble_draw(&l->nominal, &options->variation, options->seed, k, options->motors);
    return HP_OK;
}

hp_result hp_likelihood_build(const hp_drive *nominal, const hp_likelihood_options *options,
                              hp_likelihood *likelihood, hp_error *err)
{
    hp_result result = prepare(nominal, options, likelihood, err);
    if (result != HP_OK)
        return result;
    result = hp_pool_run(record_count(likelihood), options->jobs, record_task, likelihood,
                         options->progress, options->user, err);
    if (result != HP_OK)
        hp_likelihood_free(likelihood);
    return result;
}

void hp_likelihood_free(hp_likelihood *likelihood)
{
    if (!likelihood)
        return;
    free(likelihood->motor);
    free(likelihood->record);
    free(likelihood->basis);
    memset(likelihood, 0, sizeof *likelihood);
}

const hp_record *hp_likelihood_record(const hp_likelihood *l, int level, int behaviour, int motor)
{
    assert(level >= 0 && level < l->options.levels && behaviour >= 0 && behaviour < l->map.count);
    return &l->record[(level * l->map.count + behaviour) * l->options.motors + motor];
}

int hp_likelihood_level(const hp_likelihood *l, double throttle)
{
    int best = 0;
    double distance = INFINITY;
    for (int k = 0; k < l->options.levels; k++) {
        double level = l->options.level[k] * l->nominal.controller.throttle;
        double d = fabs(log(fmax(throttle, 1e-6) / fmax(level, 1e-6)));
        if (d < distance) {
            distance = d;
            best = k;
        }
    }
    return best;
}

/* ---- text ------------------------------------------------------------------------------------ */

static void put_numbers(FILE *out, const char *name, const double *value, int count)
{
    fprintf(out, "%s", name);
    for (int k = 0; k < count; k++)
        fprintf(out, " %.17g", value[k]);
    fputc('\n', out);
}

static void put(FILE *out, const char *name, double value)
{
    put_numbers(out, name, &value, 1);
}

static void put_friction(FILE *out, const char *name, const hp_friction *f)
{
    double value[] = {f->coulomb_nm, f->breakaway_nm, f->viscous_nm_s_rad};
    put_numbers(out, name, value, 3);
}

static void put_motor(FILE *out, const hp_motor_params *m)
{
    double value[] = {m->pole_pairs,    m->resistance_ohm,   m->inductance_h,        m->ke,
                      m->winding_c,     m->copper_per_k,     m->rotor_inertia_kg_m2, m->cogging_nm,
                      m->cogging_order, m->cogging_phase_rad};
    put_numbers(out, "motor", value, (int)(sizeof value / sizeof value[0]));
    const hp_backemf *b = &m->backemf;
    put(out, "backemf", (double)b->kind);
    if (b->kind == HP_BACKEMF_TRAPEZOIDAL)
        put(out, "flat", b->flat_rad);
    if (b->kind == HP_BACKEMF_FOURIER) {
        put_numbers(out, "cosine", &b->cosine[1], b->harmonics);
        put_numbers(out, "sine", &b->sine[1], b->harmonics);
        put(out, "scale", b->scale);
    }
}

static void put_drive(FILE *out, const hp_drive *d)
{
    put_motor(out, &d->motor);
    put_numbers(out, "placement", d->sensors.placement_rad, HP_PHASE_COUNT);
    put(out, "hysteresis", d->sensors.hysteresis_rad);
    const hp_controller_params *c = &d->controller;
    double controller[] = {c->throttle,
                           c->speed_cap,
                           c->ramp_per_s,
                           c->battery_limit_a,
                           c->phase_limit_a,
                           c->filter_s,
                           c->limiter_per_s,
                           c->stall_cutout_s,
                           c->undervoltage_v,
                           c->pwm_hz,
                           c->switch_resistance_ohm,
                           c->diode_drop_v,
                           (double)c->pwm};
    put_numbers(out, "controller", controller, (int)(sizeof controller / sizeof controller[0]));
    double supply[] = {d->supply.emf_v, d->supply.resistance_ohm};
    put_numbers(out, "supply", supply, 2);
    double stand[] = {d->stand.wheel_inertia_kg_m2, d->stand.gear_ratio, (double)d->stand.clutch,
                      d->stand.load_nm, d->stand.smooth_rad_s};
    put_numbers(out, "stand", stand, (int)(sizeof stand / sizeof stand[0]));
    put_friction(out, "rotor", &d->stand.rotor);
    put_friction(out, "wheel", &d->stand.wheel);
}

static void put_options(FILE *out, const hp_likelihood_options *o)
{
    const hp_variation_params *v = &o->variation;
    double variation[] = {v->resistance_ratio,  v->inductance_ratio, v->ke_ratio,
                          v->flat_rad,          v->friction_ratio,   v->breakaway_ratio,
                          v->viscous_ratio,     v->inertia_ratio,    v->common_rad,
                          v->individual_rad,    v->hysteresis_ratio, v->cogging_ratio,
                          v->cogging_phase_rad, v->battery_ratio,    v->battery_ohm_ratio,
                          v->winding_k,         v->limit_ratio};
    put_numbers(out, "variation", variation, (int)(sizeof variation / sizeof variation[0]));
    fprintf(out, "seed %llu\nmotors %d\nstarts %d\n", (unsigned long long)o->seed, o->motors,
            o->starts);
    put_numbers(out, "levels", o->level, o->levels);
    double run[] = {
        o->run.seconds,   o->run.settle_s,   o->run.start_speed,        o->run.start_duty,
        o->run.tolerance, o->run.max_step_s, (double)o->run.max_events, o->run.calm_share};
    put_numbers(out, "run", run, (int)(sizeof run / sizeof run[0]));
}

char *hp_likelihood_basis(const hp_drive *nominal, const hp_likelihood_options *options)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return NULL;
    hp_drive sound = sound_drive(nominal);
    put_drive(out, &sound);
    put_options(out, options);
    bool failed = ferror(out) != 0;
    if (fclose(out) != 0 || failed) {
        free(text);
        return NULL;
    }
    return text;
}

/* Fowler, Noll & Vo, FNV-1a, 64 bits (from memory). */
static uint64_t fnv(const char *data, size_t size)
{
    uint64_t hash = 0xcbf29ce484222325u;
    for (size_t k = 0; k < size; k++)
        hash = (hash ^ (unsigned char)data[k]) * 0x100000001b3u;
    return hash;
}

uint64_t hp_likelihood_key(const char *basis)
{
    return fnv(basis, strlen(basis));
}

/* Digits of one record: eight counts and the cut-outs, one each; three grid numbers, four each. */
#define RECORD_DIGITS (HP_SIGHT_COUNT + 1 + 3 * 4)
#define HEADING       "hubphase likelihood 1\n"

static void put_record(FILE *out, const hp_record *r)
{
    for (int k = 0; k < HP_SIGHT_COUNT; k++)
        fprintf(out, "%x", (unsigned)r->sight[k]);
    fprintf(out, "%x%04x%04x%04x", (unsigned)r->cut_out, (unsigned)r->wheel_speed,
            (unsigned)r->current_turning, (unsigned)r->current_standing);
}

static void put_body(FILE *out, const hp_likelihood *l)
{
    fprintf(out, "%s%s", HEADING, l->basis);
    fprintf(out, "cases %d\n", l->map.count);
    for (int k = 0; k < record_count(l); k++) {
        put_record(out, &l->record[k]);
        if ((k + 1) % l->options.motors == 0)
            fputc('\n', out);
    }
}

hp_result hp_likelihood_write(const hp_likelihood *likelihood, FILE *out, hp_error *err)
{
    char *text = NULL;
    size_t size = 0;
    FILE *body = open_memstream(&text, &size);
    if (!body)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    put_body(body, likelihood);
    bool failed = ferror(body) != 0;
    if (fclose(body) != 0 || failed) {
        free(text);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a likelihood table");
    }
    fwrite(text, 1, size, out);
    fprintf(out, "sum %016llx\n", (unsigned long long)fnv(text, size));
    free(text);
    if (ferror(out))
        return hp_error_set(err, HP_FAIL_IO, "a likelihood table could not be written");
    return HP_OK;
}

/* Value of `digits` hexadecimal digits at *at, which moves on; -1 when one is not such a digit. */
static long take_hex(const char **at, int digits)
{
    long value = 0;
    for (int k = 0; k < digits; k++) {
        char c = *(*at)++;
        int digit = c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
        if (digit < 0)
            return -1;
        value = 16 * value + digit;
    }
    return value;
}

static bool take_record(const char **at, int starts, hp_record *r)
{
    long sum = 0, number[3];
    for (int k = 0; k < HP_SIGHT_COUNT; k++) {
        long count = take_hex(at, 1);
        if (count < 0)
            return false;
        r->sight[k] = (uint8_t)count;
        sum += count;
    }
    long cut_out = take_hex(at, 1);
    for (int k = 0; k < 3; k++)
        number[k] = take_hex(at, 4);
    if (sum > starts || cut_out < 0 || cut_out > sum || number[0] < 0 || number[1] < 0 ||
        number[2] < 0)
        return false;
    r->cut_out = (uint8_t)cut_out;
    r->wheel_speed = (uint16_t)number[0];
    r->current_turning = (uint16_t)number[1];
    r->current_standing = (uint16_t)number[2];
    return true;
}

/* Moves past `expected` when the text goes on with it. */
static bool take_text(const char **at, const char *end, const char *expected)
{
    size_t size = strlen(expected);
    if ((size_t)(end - *at) < size || memcmp(*at, expected, size) != 0)
        return false;
    *at += size;
    return true;
}

static bool take_records(const char **at, const char *end, hp_likelihood *l)
{
    int motors = l->options.motors;
    size_t needed = (size_t)(record_count(l) / motors) * (size_t)(motors * RECORD_DIGITS + 1);
    if ((size_t)(end - *at) < needed)
        return false;
    for (int k = 0; k < record_count(l); k++) {
        if (!take_record(at, l->options.starts, &l->record[k]))
            return false;
        if ((k + 1) % motors == 0 && *(*at)++ != '\n')
            return false;
    }
    return true;
}

/* NULL when all is well, else what is wrong. */
static const char *take_all(const char *text, size_t size, hp_likelihood *l)
{
    const char *at = text, *end = text + size;
    char line[64];
    if (!take_text(&at, end, HEADING))
        return "it does not begin as one";
    if (!take_text(&at, end, l->basis))
        return "it was computed from something else";
    snprintf(line, sizeof line, "cases %d\n", l->map.count);
    if (!take_text(&at, end, line) || !take_records(&at, end, l))
        return "a record is damaged";
    snprintf(line, sizeof line, "sum %016llx\n",
             (unsigned long long)fnv(text, (size_t)(at - text)));
    if (!take_text(&at, end, line) || at != end)
        return "its check sum is wrong";
    return NULL;
}

hp_result hp_likelihood_read(const char *text, size_t size, const hp_drive *nominal,
                             const hp_likelihood_options *options, hp_likelihood *likelihood,
                             hp_error *err)
{
    hp_result result = prepare(nominal, options, likelihood, err);
    if (result != HP_OK)
        return result;
    const char *wrong = take_all(text, size, likelihood);
    if (wrong) {
        hp_likelihood_free(likelihood);
        return hp_error_set(err, HP_FAIL_INPUT, "not a likelihood table to be used: %s", wrong);
    }
    return HP_OK;
}
