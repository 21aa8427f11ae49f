/*
 * Spread over an ensemble: see the header.
 *
 * One task is one wiring of one motor from all its rest angles: it judges at once and keeps a cell.
 * Wirings that make the same machine share one.
 * Tasks are handed out motor by motor, so that a spread that is stopped has whole motors from the
 * beginning of the ensemble, and which ones does not depend on how fast a thread was.
 */
#include "hubphase/decide/spread.h"

#include "decide/judge/alike.h"
#include "decide/judge/ensemble.h"
#include "decide/judge/margin.h"
#include "decide/judge/spread_table.h"
#include "sim/pool.h"

#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

hp_spread_plan hp_spread_plan_default(void)
{
    return (hp_spread_plan){
        .variation = hp_variation_default(),
        .rest_rad = HP_PI, /* any */
        .seed = 1,
        .motors = 100, /* chosen: a share is then good to some 5 in 100 */
    };
}

hp_spread_options hp_spread_options_default(void)
{
    hp_spread_options options = {.survey = hp_survey_options_default(),
                                 .plan = hp_spread_plan_default()};
    options.survey.run.calm_share = HP_SPREAD_CALM_SHARE;
    return options;
}

hp_result hp_spread_plan_check(const hp_spread_plan *plan, hp_error *err)
{
    if (plan->motors < 1 || plan->motors > HP_SPREAD_MOTORS_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "spread.motors is %d, must be 1 to %d",
                            plan->motors, HP_SPREAD_MOTORS_MAX);
    if (!(plan->rest_rad >= 0.0 && plan->rest_rad <= HP_PI * (1.0 + 1e-12)))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "spread.rest_angle_deg has the half width %g, must be 0 to 180",
                            plan->rest_rad / HP_DEG);
    hp_result result = hp_variation_check(&plan->variation, err);
    return result == HP_OK ? HP_OK : hp_error_context(err, result, "spread");
}

hp_drive hp_spread_motor(const hp_drive *nominal, const hp_spread_plan *plan, int motor,
                         double *rest)
{
    double unit = hp_ensemble_unit(plan->seed, HP_SPREAD_REST, motor, plan->motors);
    *rest = (2.0 * unit - 1.0) * plan->rest_rad;
    return hp_ensemble_draw(nominal, &plan->variation, plan->seed, motor, plan->motors);
}

/* ---- runs ------------------------------------------------------------------------------------ */

/* What the tasks share; each writes its own cell. */
typedef struct batch {
    const hp_drive *nominal;
    const hp_spread_options *options;
    hp_spread_table *table;
    int first;                /* the ensemble's motor that is surveyed first */
    int motors;               /* to be surveyed */
    int run[HP_WIRING_COUNT]; /* numbers that are run, ascending */
    int runs;
    pthread_mutex_t lock; /* guards what follows, and calls of progress */
    int done;             /* runs of the engine, all motors of the table */
    bool stopped;
} batch;

static void choose_wirings(batch *b)
{
    for (int number = 1; number <= HP_WIRING_COUNT; number++)
        if (b->table->first[number - 1] == number)
            b->run[b->runs++] = number;
}

static void keep(hp_spread_cell *cell, const hp_figures *run, const hp_judgement *j,
                 const hp_thresholds *limits)
{
    hp_margin margin = hp_margin_of(run, j->starts_tried, j, limits);
    const hp_figures *mean = &j->mean;
    cell->verdict = (unsigned char)j->verdict;
    cell->direction = (unsigned char)j->direction;
    cell->threshold = (unsigned char)margin.threshold;
    cell->rotor_direction = (unsigned char)j->rotor_direction;
    cell->kind = (unsigned char)j->kind;
    cell->lead = mean->lead_mean;
    cell->alternation = hp_figures_alternation(mean);
    cell->figure[HP_SPREAD_SPEED] = mean->speed;
    cell->figure[HP_SPREAD_WHEEL_SPEED] = mean->wheel_speed;
    cell->figure[HP_SPREAD_BATTERY_CURRENT] = mean->battery_current;
    cell->figure[HP_SPREAD_PHASE_RMS] = mean->phase_rms;
    cell->figure[HP_SPREAD_PHASE_PEAK] = mean->phase_peak;
    cell->figure[HP_SPREAD_RIPPLE] = j->ripple;
    cell->figure[HP_SPREAD_EXCESS] = j->excess;
    cell->figure[HP_SPREAD_IDLE] = hp_figures_idle(mean);
    cell->figure[HP_SPREAD_WASTE] = hp_figures_waste(mean);
    cell->figure[HP_SPREAD_STARTS] = (double)j->starts / j->starts_tried;
    cell->figure[HP_SPREAD_MARGIN] = margin.log_ratio;
}

/* Counts a run and asks whether to go on. */
static bool go_on(batch *b)
{
    const hp_spread_options *o = b->options;
    int total = b->table->of * b->runs * o->survey.starts;
    pthread_mutex_lock(&b->lock);
    b->done++;
    if (!b->stopped && o->survey.progress &&
        o->survey.progress(o->survey.user, b->done, total) != 0)
        b->stopped = true;
    bool stopped = b->stopped;
    pthread_mutex_unlock(&b->lock);
    return !stopped;
}

/* Fits hp_progress: tells the crew. */
static int is_stopped(void *user, int done, int total)
{
    batch *b = user;
    (void)done;
    (void)total;
    pthread_mutex_lock(&b->lock);
    bool stopped = b->stopped;
    pthread_mutex_unlock(&b->lock);
    return stopped;
}

/* A task that is stopped amid its runs leaves its cell not done. */
static void run_task(void *user, hp_engine *engine, int task)
{
    batch *b = user;
    const hp_spread_options *o = b->options;
    int motor = b->first + task / b->runs, number = b->run[task % b->runs];
    double rest = 0.0;
    hp_drive drive = hp_spread_motor(b->nominal, &o->plan, motor, &rest);
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_run_options options = o->survey.run;
    hp_spread_cell *cell = hp_spread_cell_at(b->table, motor, number);
    hp_figures *run = calloc((size_t)o->survey.starts, sizeof *run);
    int k = 0;
    for (bool wanted = true; run && wanted && k < o->survey.starts;) {
        options.start_angle = hp_angle_wrap(hp_rest_angle(k) + rest);
        hp_engine_run(engine, &drive, &wiring, &options, NULL, &run[k], NULL);
        wanted = go_on(b);
        if (run[k].status == HP_FAIL_CANCELLED)
            break;
        k++;
    }
    if (!run)
        hp_engine_starve(engine);
    if (run && k == o->survey.starts) {
        hp_judgement judgement = hp_verdict_judge(run, o->survey.starts, &o->survey.thresholds);
        keep(cell, run, &judgement, &o->survey.thresholds);
    }
    cell->done = run && k == o->survey.starts;
    free(run);
}

/* ---- after the runs -------------------------------------------------------------------------- */

/* How many, from the first on, have a cell of each wiring; lends cells to the wirings that were not
 * run. */
static int complete_motors(const batch *b)
{
    const hp_spread_table *table = b->table;
    for (int k = 0; k < b->motors; k++) {
        for (int number = 1; number <= HP_WIRING_COUNT; number++) {
            hp_spread_cell *cell = hp_spread_cell_at(table, b->first + k, number);
            if (table->first[number - 1] != number)
                *cell = *hp_spread_cell_at(table, b->first + k, table->first[number - 1]);
            if (!cell->done)
                return k;
        }
    }
    return b->motors;
}

/* As hp_survey_run has it: mean speed of the wirings judged smooth, else what the label promises.
 */
static double smooth_speed_of(const hp_spread_table *table, int motor, const hp_drive *drive)
{
    double sum = 0.0;
    int count = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        const hp_spread_cell *cell = hp_spread_cell_at(table, motor, number);
        if (cell->verdict != HP_VERDICT_CORRECT && cell->verdict != HP_VERDICT_REVERSE)
            continue;
        sum += fabs(cell->figure[HP_SPREAD_SPEED]);
        count++;
    }
    return count > 0 ? sum / count : hp_drive_ideal_speed(drive);
}

/* As much of a judgement as comparing and telling the kind need. */
static hp_judgement judgement_of(const hp_spread_cell *cell)
{
    hp_judgement j;
    memset(&j, 0, sizeof j);
    j.verdict = (hp_verdict)cell->verdict;
    j.direction = (hp_direction)cell->direction;
    j.rotor_direction = (hp_direction)cell->rotor_direction;
    j.kind = (hp_rough_kind)cell->kind;
    j.mean.speed = cell->figure[HP_SPREAD_SPEED];
    j.mean.phase_rms = cell->figure[HP_SPREAD_PHASE_RMS];
    j.mean.lead_mean = cell->lead;
    j.mean.torque_able = 1.0;
    j.mean.torque_rms = cell->alternation;
    return j;
}

static void take_comparison(hp_spread_cell *cell, const hp_judgement *j,
                            const hp_thresholds *limits)
{
    hp_margin kind = {HP_THRESHOLD_NONE, INFINITY};
    if (cell->verdict != HP_VERDICT_ROUGH && j->verdict == HP_VERDICT_ROUGH) {
        hp_margin margin = hp_margin_of(NULL, 0, j, limits);
        cell->figure[HP_SPREAD_MARGIN] = margin.log_ratio;
        cell->threshold = (unsigned char)margin.threshold;
    }
    cell->verdict = (unsigned char)j->verdict;
    cell->kind = (unsigned char)j->kind;
    if (j->verdict == HP_VERDICT_ROUGH && j->rotor_direction != HP_DIRECTION_BOTH &&
        j->rotor_direction != HP_DIRECTION_NONE)
        kind = hp_margin_of_kind(&j->mean, limits);
    cell->kind_threshold = (unsigned char)kind.threshold;
    cell->kind_log_ratio = kind.log_ratio;
}

/* A motor's wirings are compared with one another, and their speeds with its own smooth ones, so
 * these wait for all of them. */
static void compare_wirings(const batch *b, int motor)
{
    const hp_thresholds *limits = &b->options->survey.thresholds;
    hp_judgement judgement[HP_WIRING_COUNT];
    double rest = 0.0;
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        judgement[k] = judgement_of(hp_spread_cell_at(b->table, motor, k + 1));
    hp_verdict_compare(judgement, HP_WIRING_COUNT, limits);
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        take_comparison(hp_spread_cell_at(b->table, motor, k + 1), &judgement[k], limits);
    hp_drive drive = hp_spread_motor(b->nominal, &b->options->plan, motor, &rest);
    double smooth = smooth_speed_of(b->table, motor, &drive);
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        double *figure = hp_spread_cell_at(b->table, motor, k + 1)->figure;
        figure[HP_SPREAD_SPEED_RATIO] =
            smooth > 0.0 ? fabs(figure[HP_SPREAD_SPEED]) / smooth : (double)INFINITY;
    }
}

hp_result hp_spread_check(const hp_drive *nominal, const hp_spread_options *options, hp_error *err)
{
    hp_result result = hp_survey_options_check(&options->survey, err);
    if (result == HP_OK)
        result = hp_spread_plan_check(&options->plan, err);
    return result == HP_OK ? hp_drive_check(nominal, err) : result;
}

hp_result hp_spread_table_make(hp_spread_table *table, const hp_drive *nominal, int begin,
                               int motors, hp_error *err)
{
    size_t cells = (size_t)motors * HP_WIRING_COUNT;
    *table =
        (hp_spread_table){.cell = calloc(cells, sizeof *table->cell), .begin = begin, .of = motors};
    if (!table->cell)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a spread of %d motors", motors);
    for (size_t k = 0; k < cells; k++)
        table->cell[k].verdict = HP_VERDICT_UNDECIDED;
    hp_alike_numbers(&nominal->controller.table, table->first);
    return HP_OK;
}

void hp_spread_table_free(hp_spread_table *table)
{
    free(table->cell);
    table->cell = NULL;
}

hp_result hp_spread_fill(const hp_drive *nominal, const hp_spread_options *options, int motors,
                         hp_spread_table *table, hp_error *err)
{
    int left = table->of - table->motors;
    batch b = {.nominal = nominal,
               .options = options,
               .table = table,
               .first = table->begin + table->motors,
               .motors = motors < left ? motors : left,
               .lock = PTHREAD_MUTEX_INITIALIZER};
    choose_wirings(&b);
    b.done = table->motors * b.runs * options->survey.starts;
    hp_result result =
        hp_pool_run(b.motors * b.runs, options->survey.jobs, run_task, &b, is_stopped, &b, err);
    pthread_mutex_destroy(&b.lock);
    int whole = complete_motors(&b);
    for (int k = 0; k < whole; k++)
        compare_wirings(&b, b.first + k);
    table->motors += whole;
    return result;
}

hp_result hp_spread_from_table(const hp_spread_options *options, const hp_spread_table *table,
                               hp_spread *spread, hp_error *err)
{
    memset(spread, 0, sizeof *spread);
    spread->plan = options->plan;
    spread->thresholds = options->survey.thresholds;
    memcpy(spread->first, table->first, sizeof spread->first);
    spread->starts = options->survey.starts;
    return hp_spread_summarise(table, spread, err);
}

/* ---- by and by ------------------------------------------------------------------------------- */

struct hp_spread_work {
    hp_drive nominal;
    hp_spread_options options;
    hp_spread_table table;
};

hp_spread_work *hp_spread_work_create(const hp_drive *nominal, const hp_spread_options *options,
                                      hp_error *err)
{
    if (hp_spread_check(nominal, options, err) != HP_OK)
        return NULL;
    hp_spread_work *work = malloc(sizeof *work);
    if (!work) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a spread");
        return NULL;
    }
    *work = (hp_spread_work){.nominal = *nominal, .options = *options};
    if (hp_spread_table_make(&work->table, nominal, 0, options->plan.motors, err) == HP_OK)
        return work;
    free(work);
    return NULL;
}

hp_result hp_spread_work_run(hp_spread_work *work, int motors, hp_error *err)
{
    return hp_spread_fill(&work->nominal, &work->options, motors, &work->table, err);
}

int hp_spread_work_motors(const hp_spread_work *work)
{
    return work->table.motors;
}

hp_result hp_spread_work_sum(const hp_spread_work *work, hp_spread *spread, hp_error *err)
{
    if (work->table.motors == 0)
        return hp_error_set(err, HP_FAIL_INPUT, "no motor of this spread is done yet");
    return hp_spread_from_table(&work->options, &work->table, spread, err);
}

void hp_spread_work_free(hp_spread_work *work)
{
    if (!work)
        return;
    hp_spread_table_free(&work->table);
    free(work);
}

hp_result hp_spread_run(const hp_drive *nominal, const hp_spread_options *options,
                        hp_spread *spread, hp_error *err)
{
    hp_error cause = hp_error_none();
    memset(spread, 0, sizeof *spread);
    hp_spread_work *work = hp_spread_work_create(nominal, options, &cause);
    hp_result result = work ? hp_spread_work_run(work, options->plan.motors, &cause) : cause.code;
    if (result == HP_FAIL_CANCELLED && hp_spread_work_motors(work) > 0)
        result = HP_OK;
    if (result == HP_OK)
        result = hp_spread_work_sum(work, spread, &cause);
    if (result != HP_OK && err)
        *err = cause;
    hp_spread_work_free(work);
    return result;
}

/* ---- names ----------------------------------------------------------------------------------- */

const char *hp_spread_figure_name(hp_spread_figure figure)
{
    static const char *const name[HP_SPREAD_FIGURE_COUNT] = {
        "speed",       "wheel_speed", "speed_ratio",   "battery_current",
        "phase_rms",   "phase_peak",  "torque_ripple", "current_excess",
        "start_share", "log_margin",  "idle_current",  "waste"};
    return figure >= 0 && figure < HP_SPREAD_FIGURE_COUNT ? name[figure] : "unknown";
}

static const struct {
    const char *name, *words;
} quantity_text[HP_SPREAD_QUANTITIES] = {
    [HP_VARY_RESISTANCE] = {"resistance", "winding resistance"},
    [HP_VARY_INDUCTANCE] = {"inductance", "winding inductance"},
    [HP_VARY_KE] = {"backemf", "back-EMF constant"},
    [HP_VARY_FLAT] = {"flat_width", "back-EMF flat"},
    [HP_VARY_FRICTION] = {"friction", "friction"},
    [HP_VARY_BREAKAWAY] = {"breakaway", "breakaway"},
    [HP_VARY_VISCOUS] = {"viscous", "viscous friction"},
    [HP_VARY_INERTIA] = {"inertia", "inertia"},
    [HP_VARY_COMMON] = {"sensors_together", "position of the sensor carrier"},
    [HP_VARY_SENSOR_U] = {"sensor_u", "position of Hall sensor U"},
    [HP_VARY_SENSOR_V] = {"sensor_v", "position of Hall sensor V"},
    [HP_VARY_SENSOR_W] = {"sensor_w", "position of Hall sensor W"},
    [HP_VARY_HYSTERESIS] = {"hysteresis", "Hall hysteresis"},
    [HP_VARY_COGGING] = {"cogging", "cogging"},
    [HP_VARY_COGGING_PHASE] = {"cogging_phase", "cogging phase"},
    [HP_VARY_BATTERY] = {"battery", "battery voltage"},
    [HP_VARY_BATTERY_OHM] = {"battery_resistance", "battery resistance"},
    [HP_VARY_WINDING] = {"winding_temperature", "winding temperature"},
    [HP_VARY_LIMIT] = {"current_limits", "current limits"},
    [HP_SPREAD_REST] = {"rest_angle", "start position"},
};

const char *hp_spread_quantity_name(int quantity)
{
    return quantity >= 0 && quantity < HP_SPREAD_QUANTITIES ? quantity_text[quantity].name : "none";
}

const char *hp_spread_quantity_words(int quantity)
{
    return quantity >= 0 && quantity < HP_SPREAD_QUANTITIES ? quantity_text[quantity].words
                                                            : "nothing";
}
