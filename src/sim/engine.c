/*
 * The event-driven simulation over SUNDIALS.
 *
 * Method: ARKODE's ERKStep with the Cash-Karp 5(4) pair (Cash & Karp, ACM Trans. Math. Softw.
 * 16(3):201-222, 1990) goes step by step; src/sim/step locates where in a step a guard of
 * src/sim/machine passes from positive to negative; there the machine changes mode, the integrator
 * is reset to the state left and right of the event, and its last good step is handed back. Known
 * times (PWM edges, stall deadline, checkpoints, the end) are stop times; an edge at which nothing
 * else happens needs no reset. Samples between steps come from the step's interpolant.
 *
 * ARKODE's own root finder is not used: it takes the interpolant anew, with a right-hand side, at
 * every guess, and knows nothing of the guards' rates. Its interpolant serves only to hand over the
 * end of a step at a stop time, for which degree 1 does.
 */
#include "hubphase/sim/engine.h"

#include "base/elementary.h"
#include "base/memory.h"
#include "sim/pool.h"
#include "sim/row.h"
#include "sim/run_clock.h"
#include "sim/step_length.h"
#include "sim/step_rate.h"
#include "sim/trace.h"

#include <arkode/arkode_erkstep.h>
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Guards that stay negative after an event are fired again at most so often. */
#define REFIRE_MAX 20
/* Steps and events that may come at once: a stiff or chattering run shows within milliseconds of
 * real time. */
#define STEPS_AT_ONCE  100000.0
#define EVENTS_AT_ONCE 20000.0
/* With real edges each may bring so many events of diodes with it. */
#define EVENTS_AN_EDGE 2.0
/* A rotor has run away at so many times the speed at which one phase's back-EMF equals the battery,
 * after so many turns. Chosen: an early field weakens the motor to three of these at most. */
#define RUNAWAY_SPEED 20.0
#define RUNAWAY_TURNS 100
/* Events that may belong to one electrical turn: sensor edges, corners of the back-EMF, hand-overs
 * from switch to diode and back, some of them more than once. */
#define EVENTS_A_TURN 100.0
/* Checkpoints come at least this share of the run apart. */
#define CHECKPOINT_SHARE (1.0 / 4096.0)

/* The step that the error allows, for an estimate of fourth order; as ARKODE's own I-controller,
 * but for a safety factor that keeps the steps refused rare, and no more than so many times the
 * last. */
#define STEP_SAFETY    0.9
#define STEP_GROWTH    25.0
#define STEP_ERROR_MIN 1e-10
/* What SUNDIALS may want for an integrator, its vectors apart: several times the 2 KiB measured. */
#define INTEGRATOR_BYTES 16384

/* ---- callbacks of the integrator ------------------------------------------------------------- */

static int slope_callback(realtype t, N_Vector y, N_Vector slope, void *user)
{
    (void)t;
    hp_engine *engine = user;
    engine->rhs++;
    const double *yd = hp_vector_data(y);
    hp_machine_slope(&engine->machine, yd, hp_engine_instant(engine, yd), hp_vector_data(slope));
    return 0;
}

/* Error weights 1 / (tol (|y| + floor)): the floors are the sizes below which each quantity no
 * longer matters: 1 A, 1 rad/s, 1 rad, full duty. */
static int weight_callback(N_Vector y, N_Vector weight, void *user)
{
    hp_engine *engine = user;
    const double *yd = hp_vector_data(y);
    double *wd = hp_vector_data(weight);
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        wd[k] = 1.0 / (engine->tolerance * (fabs(yd[k]) + 1.0));
    for (int k = HP_STATE_DYNAMIC; k < HP_STATE_COUNT; k++)
        wd[k] = 0.0;
    return 0;
}

/* Step control, for the pair's fourth-order estimate: the step wanted next also after one that a
 * known time or an event cut short, of which the integrator itself would only remember the length.
 */
static int adapt_callback(N_Vector y, realtype t, realtype h, realtype h2, realtype h3,
                          realtype error, realtype e2, realtype e3, int q, int p, realtype *next,
                          void *user)
{
    (void)y, (void)t, (void)h2, (void)h3, (void)e2, (void)e3, (void)q, (void)p;
    hp_engine *e = user;
    double factor = hp_inverse_fifth_root(fmax(error, STEP_ERROR_MIN));
    *next = h * factor; /* the integrator itself takes off for safety, and bounds it */
    e->step_bounded = STEP_SAFETY * factor > STEP_GROWTH;
    e->step_wanted = h * fmin(STEP_SAFETY * factor, STEP_GROWTH);
    return 0;
}

/* See below: it is about what a step brings. */
static int end_callback(realtype t, N_Vector y, void *user);

/* The library reports through return codes; its printed warnings are not for the user. */
static void quiet_handler(int code, const char *module, const char *function, char *message,
                          void *user)
{
    (void)code, (void)module, (void)function, (void)message, (void)user;
}

/* ---- life ------------------------------------------------------------------------------------ */

/* Makes the engine's integrator, in place of the one it has; the state vector holds the start. */
static bool make_integrator(hp_engine *e)
{
    if (e->arkode)
        ERKStepFree(&e->arkode);
    if (!hp_memory_is_there(INTEGRATOR_BYTES))
        return false;
    e->arkode = ERKStepCreate(slope_callback, 0.0, e->state, e->context);
    if (!e->arkode)
        return false;
    return ERKStepSetErrHandlerFn(e->arkode, quiet_handler, NULL) == ARK_SUCCESS &&
           ERKStepSetUserData(e->arkode, e) == ARK_SUCCESS &&
           ERKStepSetTableNum(e->arkode, ARKODE_CASH_KARP_6_4_5) == ARK_SUCCESS &&
           ERKStepWFtolerances(e->arkode, weight_callback) == ARK_SUCCESS &&
           ERKStepSetAdaptivityFn(e->arkode, adapt_callback, e) == ARK_SUCCESS &&
           ERKStepSetSafetyFactor(e->arkode, STEP_SAFETY) == ARK_SUCCESS &&
           ERKStepSetMaxGrowth(e->arkode, STEP_GROWTH) == ARK_SUCCESS &&
           ERKStepSetInterpolantDegree(e->arkode, 1) == ARK_SUCCESS &&
           ERKStepSetPostprocessStepFn(e->arkode, end_callback) == ARK_SUCCESS &&
           ERKStepSetMaxNumSteps(e->arkode, -1) == ARK_SUCCESS;
}

hp_engine *hp_engine_create(hp_error *err)
{
    hp_engine *e = calloc(1, sizeof *e);
    if (!e || SUNContext_Create(NULL, &e->context) != 0 ||
        !hp_vector_stock_fill(&e->vectors, e->context) ||
        !(e->state = hp_vector_take(&e->vectors)) || !make_integrator(e)) {
        hp_engine_free(e);
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for an integrator");
        return NULL;
    }
    return e;
}

void hp_engine_free(hp_engine *engine)
{
    if (!engine)
        return;
    if (engine->arkode)
        ERKStepFree(&engine->arkode);
    if (engine->state)
        N_VDestroy(engine->state);
    hp_vector_stock_free(&engine->vectors);
    if (engine->context)
        SUNContext_Free(&engine->context);
    free(engine);
}

/* ---- samples --------------------------------------------------------------------------------- */

static hp_result take_sample(hp_run *r, double t, const double *y)
{
    hp_instant now;
    hp_machine_instant(r->m, y, &now);
    hp_sample s = {
        .time = t,
        .theta = y[HP_Y_THETA] + HP_TWO_PI * (double)r->m->turns,
        .speed = y[HP_Y_SPEED],
        .wheel_speed = y[HP_Y_WHEEL],
        .torque = now.torque,
        .duty = y[HP_Y_DUTY],
        .bus_voltage = now.circuit.bus_voltage,
        .battery_current = now.circuit.battery_current,
        .code = r->m->code,
    };
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        s.current[k] = y[HP_Y_CURRENT + k];
        s.backemf[k] = now.backemf[k];
        s.terminal[k] = now.circuit.terminal[k];
        s.drive[k] = r->m->command[k];
    }
    return hp_trace_add_sample(r->trace, &s);
}

/* Samples due up to the state just reached; between steps the interpolant gives them. */
static hp_result take_due_samples(hp_run *r)
{
    if (!r->trace)
        return HP_OK;
    if (r->trace->interval <= 0.0)
        return r->t >= r->trace->from && r->t <= r->trace->until ? take_sample(r, r->t, r->y)
                                                                 : HP_OK;
    double y[HP_STATE_COUNT];
    hp_result result = HP_OK;
    while (result == HP_OK && r->next_sample <= r->t && r->next_sample <= r->trace->until) {
        if (r->next_sample < r->t) {
            hp_step_state(&r->engine->step, r->m, r->next_sample, y);
            result = take_sample(r, r->next_sample, y);
        } else {
            result = take_sample(r, r->t, r->y);
        }
        r->sample_index++;
        r->next_sample = r->trace->from + (double)r->sample_index * r->trace->interval;
    }
    return result;
}

/* ---- events ---------------------------------------------------------------------------------- */

static void measure_point(hp_run *r)
{
    if (r->measuring)
        hp_measure_point(&r->engine->measure, r->m, r->t, r->y, hp_engine_instant(r->engine, r->y));
}

/* Fires what the root finder reports, then anything that this leaves negative. */
static hp_result fire(hp_run *r, int *fired)
{
    double guard[HP_GUARD_COUNT];
    for (int round = 0; round < REFIRE_MAX; round++) {
        r->firings++;
        long turns = r->m->turns;
        int code = r->m->code;
        bool cut_before = r->m->cut_out;
        if (fired[HP_GUARD_VOLTAGE])
            hp_run_close_figures(r);
        int count = hp_machine_fire(r->m, r->t, fired, r->y, r->trace);
        if (count < 0)
            return HP_FAIL_MEMORY;
        r->events += count;
        if (r->m->cut_out && !cut_before) {
            r->figures->cut_out = true;
            r->figures->cut_out_voltage = r->m->cut_out_voltage;
            r->next_pwm = INFINITY;
        }
        if (r->measuring && r->m->code != code)
            r->engine->measure.edges++;
        if (r->measuring && r->m->turns != turns) {
            hp_measure_turn(&r->engine->measure, r->m, r->t, r->y);
            hp_run_note_path(r, r->t, r->y, HP_CALM_AT_TURN);
            hp_run_look_for_calm(r, r->t, r->y, HP_CALM_AT_TURN);
        }
        r->engine->instant_valid = false;
        hp_machine_guards(r->m, r->y, hp_engine_instant(r->engine, r->y), guard);
        bool again = false;
        for (int k = 0; k < HP_GUARD_COUNT; k++) {
            fired[k] = guard[k] < 0.0;
            again = again || fired[k];
        }
        if (!again)
            return HP_OK;
    }
    return HP_FAIL_CHATTER;
}

/* ---- the run --------------------------------------------------------------------------------- */

void hp_engine_starve(hp_engine *engine)
{
    engine->starved = true;
}

static hp_result fail(hp_run *r, hp_result code, hp_error *err, const char *what)
{
    if (code == HP_FAIL_MEMORY)
        hp_engine_starve(r->engine);
    r->figures->status = code;
    snprintf(r->figures->reason, sizeof r->figures->reason, "%s at %.6f s", what, r->t);
    return hp_error_set(err, code, "%s at %.6f s", what, r->t);
}

static bool is_finite(const double *y)
{
    double sum = 0.0;
    for (int k = 0; k < HP_STATE_COUNT; k++)
        sum += y[k];
    return isfinite(sum);
}

/* ---- steps and edges ------------------------------------------------------------------------- */

/* Another mode begins at this state. */
static void enter_mode(hp_run *r)
{
    hp_step_restart(&r->engine->step, r->m, r->t, r->y, hp_engine_instant(r->engine, r->y));
    r->first_step = hp_step_length_first(r);
}

static bool restart(hp_run *r)
{
    void *ark = r->engine->arkode;
    return ERKStepReset(ark, r->t, r->engine->state) == ARK_SUCCESS &&
           ERKStepSetInitStep(ark, r->first_step) == ARK_SUCCESS;
}

/* A new integrator rather than a reset one: step control and interpolant keep something of the run
 * before, and the bytes of a run must not depend on it. With real edges the next step may be a
 * little longer than the last: the integrator, left alone, would rather repeat it. */
static hp_result begin(hp_run *r, hp_error *err)
{
    hp_engine *e = r->engine;
    enter_mode(r);
    if (!make_integrator(e))
        return fail(r, HP_FAIL_MEMORY, err, "no memory for an integrator");
    bool set = ERKStepSetMaxStep(e->arkode, r->options->max_step_s) == ARK_SUCCESS &&
               ERKStepSetInitStep(e->arkode, r->first_step) == ARK_SUCCESS &&
               (r->m->drive->controller.pwm == HP_PWM_AVERAGED ||
                ERKStepSetFixedStepBounds(e->arkode, 1.0, 1.0) == ARK_SUCCESS);
    return set ? HP_OK : fail(r, HP_FAIL_LIBRARY, err, "the integrator refused to start");
}

/* A step has ended at r->t and r->y: looks for an event in it. */
static void take_step(hp_run *r)
{
    hp_step *step = &r->engine->step;
    hp_step_take(step, r->m, r->t, r->y, hp_engine_instant(r->engine, r->y));
    r->found = hp_step_find_event(step, r->m, &r->event_time, r->event_y, r->fired);
    r->taken = true;
}

/* Measures the step that was taken, up to r->t. */
static hp_result watch_step(hp_run *r)
{
    if (r->measuring)
        hp_measure_inside(&r->engine->measure, r->m, &r->engine->step, r->t);
    measure_point(r);
    hp_run_note_crossing(r);
    return take_due_samples(r);
}

/* What the step just taken brings: an event inside it, else the known times that have come. */
static hp_result close_step(hp_run *r, bool cut)
{
    r->switched = r->found;
    r->demanded = false;
    if (r->found) {
        r->t = r->event_time;
        memcpy(r->y, r->event_y, sizeof r->event_y);
    }
    hp_step_length_keep(r, cut || r->found);
    hp_result result = watch_step(r);
    if (result == HP_OK && r->found)
        result = fire(r, r->fired);
    if (r->options->demands > 0)
        hp_run_note_response(r);
    if (result == HP_OK && r->t >= hp_run_next_stop(r))
        result = hp_run_pass_known_times(r, &r->switched);
    r->engine->instant_valid = r->engine->instant_valid && !r->switched;
    if (result == HP_OK && r->switched)
        hp_run_note_sense(r);
    return result;
}

static bool is_watched(const hp_run *r)
{
    return r->measuring || r->trace;
}

/* Whether the integrator can go on into the mode just entered with the step that it would take
 * itself; if so, says where that has to end. */
static bool goes_on(hp_run *r)
{
    double stop = hp_step_length_aim(r), length = hp_lesser(stop - r->t, r->step_hint);
    if (r->first_step < length || r->engine->step_wanted < length ||
        hp_is_come(r->t, hp_run_next_stop(r)))
        return false;
    r->stop = stop;
    return ERKStepSetStopTime(r->engine->arkode, stop) == ARK_SUCCESS;
}

/* The integrator asks between the end of a step and the slope there. A PWM edge is passed here, if
 * nothing else happened in the step: what follows is the other mode's slope, and the restart that
 * every other event takes is saved. */
static int end_callback(realtype t, N_Vector y, void *user)
{
    (void)y;
    hp_run *r = ((hp_engine *)user)->run;
    if (!hp_is_come(t, r->next_pwm) || !is_finite(r->y))
        return 0;
    r->t = r->next_pwm;
    take_step(r);
    if (r->found)
        return 0;
    r->passed = true;
    r->result = close_step(r, true);
    if (r->result == HP_OK && r->switched && is_watched(r)) {
        enter_mode(r);
        /* What the controls change, the duty itself, is no mere edge. */
        r->aimed = !r->demanded && goes_on(r);
    }
    return 0;
}

/* One step of the integrator, to the next known time or step end; *cut says whether it was cut
 * short. */
static hp_result advance(hp_run *r, bool *cut, hp_error *err)
{
    void *ark = r->engine->arkode;
    double reached = r->t;
    bool whole = false;
    *cut = true;
    r->taken = r->passed = false;
    if (!r->aimed) {
        /* A known time nearer than rounding has come. */
        if (hp_is_come(r->t, hp_run_next_stop(r))) {
            r->t = hp_run_next_stop(r);
            return HP_OK;
        }
        r->stop = hp_step_length_aim(r);
        /* A first step that reaches there needs no stop time, which costs an interpolant. */
        whole = r->first_step >= r->stop - r->t;
        if ((whole ? ERKStepSetInitStep(ark, r->stop - r->t) : ERKStepSetStopTime(ark, r->stop)) !=
            ARK_SUCCESS)
            return fail(r, HP_FAIL_LIBRARY, err, "the integrator refused a stop time");
    }
    r->aimed = false;
    r->first_step = 0.0;
    int flag = ERKStepEvolve(ark, r->stop, r->engine->state, &reached, ARK_ONE_STEP);
    if (flag < 0) {
        r->t = reached;
        return fail(r, flag == ARK_MEM_FAIL ? HP_FAIL_MEMORY : HP_FAIL_STEP, err,
                    "the step collapsed");
    }
    r->steps++;
    if (r->taken)
        return HP_OK;
    *cut = flag == ARK_TSTOP_RETURN || (whole && hp_is_come(reached, r->stop));
    r->t = *cut ? r->stop : reached;
    if (!is_finite(r->y))
        return fail(r, HP_FAIL_NUMBER, err, "a state is not a finite number");
    return HP_OK;
}

/* [1/s] Of the PWM; 0 where the duty is averaged. */
static double edge_rate(const hp_run *r)
{
    const hp_controller_params *c = &r->m->drive->controller;
    return c->pwm == HP_PWM_AVERAGED ? 0.0 : 2.0 * c->pwm_hz;
}

static bool is_chatter(const hp_run *r)
{
    double rate = (double)r->options->max_events + EVENTS_AN_EDGE * edge_rate(r);
    return (double)r->firings > EVENTS_AT_ONCE + rate * r->t;
}

/* Steps that were asked for do not count against the rate. */
static bool is_slow(const hp_run *r)
{
    double bound = r->options->max_step_s, rate = HP_STEPS_PER_SECOND + 2.0 * edge_rate(r);
    if (bound > 0.0)
        rate += 2.0 / bound;
    return (double)r->steps > fmin((double)r->options->max_steps, STEPS_AT_ONCE + rate * r->t);
}

/* A thousand steps take a few milliseconds. */
static bool is_stopped(const hp_run *r)
{
    const hp_run_options *o = r->options;
    return o->stop && r->steps % 1024 == 0 && o->stop(o->stop_user) != 0;
}

/* Faster than any motor makes itself, or than events can be followed that come with the turning;
 * one that was started so fast has not run away. */
static bool has_run_away(const hp_run *r)
{
    double turns = fabs((double)r->m->turns), speed = fabs(r->y[HP_Y_SPEED]);
    if (turns <= RUNAWAY_TURNS || speed <= 2.0 * fabs(r->options->start_speed))
        return false;
    return speed > r->speed_max ||
           (is_chatter(r) && (double)r->firings <= EVENTS_AT_ONCE + EVENTS_A_TURN * turns);
}

static hp_result loop(hp_run *r, hp_error *err)
{
    while (r->t < r->end) {
        bool cut;
        if (is_stopped(r))
            return fail(r, HP_FAIL_CANCELLED, err, "stopped");
        hp_result result = advance(r, &cut, err);
        if (result != HP_OK)
            return result;
        if (!r->taken)
            take_step(r);
        if (!r->passed)
            r->result = close_step(r, cut);
        if (r->result == HP_FAIL_MEMORY)
            return fail(r, r->result, err, "no memory for the trace");
        if (r->result == HP_OK && r->measuring && has_run_away(r)) {
            r->figures->ran_away = true;
            return HP_OK;
        }
        if (r->result != HP_OK || is_chatter(r))
            return fail(r, HP_FAIL_CHATTER, err, "events follow each other without end");
        if (is_slow(r))
            return fail(r, HP_FAIL_SLOW, err, "more steps than a run may take");
        if (!r->switched || r->aimed)
            continue;
        if (!is_watched(r))
            return HP_OK; /* cut out, and nobody watches the coasting */
        if (!r->passed)
            enter_mode(r);
        if (!restart(r))
            return fail(r, HP_FAIL_LIBRARY, err, "the integrator refused to restart");
    }
    return HP_OK;
}

/* What a calm run would have shown had it gone on: it turns on as it did, the wheel too, and where
 * no sensor's edge came any more the controller gives up. */
static void complete(hp_run *r)
{
    hp_figures *f = r->figures;
    double seconds = r->options->seconds, turn = r->m->pole_pairs * f->speed;
    if (f->sensor_edges == 0 && hp_run_stall_deadline(r) <= seconds)
        f->cut_out = true;
    if (f->cut_out)
        return;
    f->part_s = seconds - r->options->settle_s;
    /* Pumped by a rotor that only shivers, too. */
    f->wheel_turn = r->m->gear * r->m->pole_pairs * f->wheel_speed * f->part_s;
    if (f->window_turns == 0)
        return;
    f->net_turn += turn * (seconds - r->t);
    f->window_turn = turn * f->part_s;
}

static hp_result run(hp_engine *engine, const hp_drive *drive, const hp_wiring *wiring,
                     const hp_run_options *options, hp_trace *trace, hp_paths *paths,
                     hp_figures *figures, hp_error *err)
{
    assert(engine && hp_wiring_number(wiring) != 0);
    memset(figures, 0, sizeof *figures);
    figures->start_angle = options->start_angle;
    hp_run r = {
        .engine = engine,
        .m = &engine->machine,
        .options = options,
        .trace = trace,
        .figures = figures,
        .y = hp_vector_data(engine->state),
        .checkpoint_gap = fmax(0.125 * options->settle_s, CHECKPOINT_SHARE * options->seconds),
        .next_pwm = INFINITY,
        .speed_max = RUNAWAY_SPEED * drive->supply.emf_v / drive->motor.ke,
        .end = options->seconds,
        .next_look = options->calm_share > 0.0 && !trace && options->demands == 0
                         ? HP_CALM_BLOCK_S
                         : (double)INFINITY,
        .swing_end = INFINITY,
        .measuring = true,
        .next_sample = trace ? trace->from : 0.0,
        .step_hint = 1e-6,
        .paths = paths,
    };
    hp_run_set_checkpoint(&r);
    engine->run = &r;
    engine->tolerance = options->tolerance;
    engine->rhs = 0;
    engine->instant_valid = false;
    hp_step_start(&engine->step);
    hp_machine_start(r.m, drive, wiring, options, r.y);
    hp_measure_start(&engine->measure, r.m, options, r.y);
    hp_calm_start(&engine->calm, r.m, options->calm_share, r.y);
    hp_result result = HP_OK;
    while (result == HP_OK && r.next_demand < options->demands &&
           options->demand[r.next_demand].time <= 0.0)
        result = hp_run_follow_course(&r, &(bool){false});
    if (drive->controller.pwm != HP_PWM_AVERAGED && !r.m->coasting)
        hp_run_step_pwm(&r, true);

    if (result != HP_OK)
        result = fail(&r, result, err, "no memory for the trace");
    else
        result = begin(&r, err);
    hp_run_note_sense(&r);
    if (result == HP_OK && take_due_samples(&r) != HP_OK)
        result = fail(&r, HP_FAIL_MEMORY, err, "no memory for the trace");
    if (result == HP_OK)
        result = loop(&r, err);
    if (result == HP_OK)
        hp_run_close_figures(&r);
    if (result == HP_OK && hp_run_end_response(&r) != HP_OK)
        result = fail(&r, HP_FAIL_MEMORY, err, "no memory for the trace");
    bool settled = result == HP_OK && r.end < options->seconds;
    if (settled && !(paths && paths->followed >= 0))
        complete(&r);
    engine->run = NULL;
    figures->start_angle = options->start_angle;
    figures->status = result;
    figures->events = r.events;
    figures->steps = r.steps;
    figures->rhs = engine->rhs + engine->step.rhs;
    /* A run that comes to rest ends with the stall cut-out, if in time. */
    if (paths)
        hp_paths_end(paths, settled && figures->sensor_edges > 0, figures);
    return result;
}

hp_result hp_engine_run(hp_engine *engine, const hp_drive *drive, const hp_wiring *wiring,
                        const hp_run_options *options, hp_trace *trace, hp_figures *figures,
                        hp_error *err)
{
    return run(engine, drive, wiring, options, trace, NULL, figures, err);
}

void hp_engine_begin_row(hp_engine *engine)
{
    hp_paths_clear(&engine->paths);
}

hp_result hp_engine_run_in_row(hp_engine *engine, const hp_drive *drive, const hp_wiring *wiring,
                               const hp_run_options *options, hp_figures *figures, hp_error *err)
{
    bool repeats = drive->controller.pwm == HP_PWM_AVERAGED && options->demands == 0;
    hp_paths *paths = repeats ? &engine->paths : NULL;
    if (paths)
        hp_paths_begin(paths);
    return run(engine, drive, wiring, options, NULL, paths, figures, err);
}
