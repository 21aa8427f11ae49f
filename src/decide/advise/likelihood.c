/*
 * Likelihood table: see the header; as text: likelihood_text.c.
 *
 * Rest angles go on from one motor to the next along the golden-section sequence, so that a case's
 * pooled runs cover the turn finely although each motor sees only a few angles.
 */
#include "decide/advise/likelihood_parts.h"
#include "decide/judge/ensemble.h"
#include "hubphase/decide/evidence.h"

#include "sim/row.h"

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
    /* chosen: of 26 880 runs one sees something else than at 1e-4, and currents of 99 in 100 are
     * within 0.1 %. */
    options.run.tolerance = 5e-4;
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
    hp_sight_params sight = hp_sight_params_of();
    sight.wheel_free = b.fault.kind == HP_FAULT_CLUTCH;

    hp_record record = {0};
    tally sum = {0};
    hp_run_options options = l->options.run;
    hp_engine_begin_row(engine);
    for (int k = 0; k < l->options.starts; k++) {
        hp_figures figures;
        options.start_angle = hp_rest_angle(motor * l->options.starts + k);
        hp_engine_run_in_row(engine, &drive, &b.wiring, &options, &figures, NULL);
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

hp_drive hp_likelihood_sound(const hp_drive *nominal)
{
    hp_behaviour sound = {.wiring = hp_wiring_from_number(1), .inverted = -1};
    hp_drive drive = hp_behaviour_drive(nominal, &sound);
    /* With both switches of a leg driven, the mean voltage is the duty's whatever the current does.
     * One-sided edges let the current pause: what that does to speed and current is reckoned
     * (nuisance.h), at a hundredth of the work. */
    drive.controller.pwm = HP_PWM_AVERAGED;
    return drive;
}

int hp_likelihood_count(const hp_likelihood *l)
{
    return l->options.levels * l->map.count * l->options.motors;
}

hp_result hp_likelihood_prepare(const hp_drive *nominal, const hp_likelihood_options *options,
                                hp_likelihood *l, hp_error *err)
{
    memset(l, 0, sizeof *l);
    hp_result result = check(nominal, options, err);
    if (result != HP_OK)
        return result;
    l->options = *options;
    l->nominal = hp_likelihood_sound(nominal);
    l->map = hp_behaviour_map_of(&l->nominal);
    l->basis = hp_likelihood_basis(nominal, options);
    l->motor = calloc((size_t)options->motors, sizeof *l->motor);
    l->record = calloc((size_t)hp_likelihood_count(l), sizeof *l->record);
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
    hp_result result = hp_likelihood_prepare(nominal, options, likelihood, err);
    if (result != HP_OK)
        return result;
    result = hp_pool_run(hp_likelihood_count(likelihood), options->jobs, record_task, likelihood,
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
