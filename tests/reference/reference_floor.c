/*
 * Fast drive of the reference: the run, step by step. Method and parts: reference_fast.h.
 */
#include "reference_fast.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#define SHORT_S 3e-7 /* [s] a step as short as this needs two stages only */
#define TRIES   12   /* approaches to one root before it is taken as it is */

/* One step of h [s], either sign; r->d holds the derivative at its start. */
static void advance(ref_fast *r, double h, double y[X_COUNT])
{
    double k2[X_COUNT], k3[X_COUNT], k4[X_COUNT], z[X_COUNT];
    const double *x = r->x, *k1 = r->d;
    ref_side unused;
    if (fabs(h) <= SHORT_S) {
        for (int k = 0; k < X_COUNT; k++)
            z[k] = x[k] + 0.5 * h * k1[k];
        ref_fast_derive(r, z, k2, &unused);
        for (int k = 0; k < X_COUNT; k++)
            y[k] = x[k] + h * k2[k];
        r->rhs += 2;
        return;
    }
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + 0.5 * h * k1[k];
    ref_fast_derive(r, z, k2, &unused);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + 0.5 * h * k2[k];
    ref_fast_derive(r, z, k3, &unused);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + h * k3[k];
    ref_fast_derive(r, z, k4, &unused);
    for (int k = 0; k < X_COUNT; k++)
        y[k] = x[k] + h / 6.0 * (k1[k] + 2.0 * (k2[k] + k3[k]) + k4[k]);
    r->rhs += 4;
}

static void integrands(const ref_fast *r, const double x[X_COUNT], const ref_side *o,
                       double q[Q_COUNT])
{
    ref_view view = {.bus = o->bus, .battery = o->battery, .torque = o->torque, .shaft = o->shaft};
    ref_rates(&r->plant, &r->mode, &r->meter, x, &view, q);
}

/* Adds the step of h from x (derivative d, integrands r->q) to r->x (derivative r->d). */
static void measure(ref_fast *r, const double x[X_COUNT], const double d[X_COUNT], double h)
{
    double middle[X_COUNT], unused[X_COUNT], q_middle[Q_COUNT], q_end[Q_COUNT];
    ref_side o;
    for (int k = 0; k < X_COUNT; k++)
        middle[k] = 0.5 * (x[k] + r->x[k]) + h / 8.0 * (d[k] - r->d[k]);
    ref_fast_derive(r, middle, unused, &o);
    integrands(r, middle, &o, q_middle);
    integrands(r, r->x, &r->now, q_end);
    for (int k = 0; k < Q_COUNT; k++)
        r->meter.sum[k] += h / 6.0 * (r->q[k] + 4.0 * q_middle[k] + q_end[k]);
    memcpy(r->q, q_end, sizeof r->q);
    ref_meter_extremes(&r->meter, middle, o.torque);
    if (ref_duty_moves(&r->mode) && r->d[X_DUTY] < r->plant.drive->controller.ramp_per_s)
        r->meter.limited = true;
}

static void count_turns(ref_fast *r)
{
    double theta = r->x[X_THETA];
    if (theta >= r->meter.up.next * HP_TWO_PI)
        ref_meter_cross(&r->meter, &r->meter.up, r->t, r->meter.sum);
    if (theta <= r->meter.down.next * HP_TWO_PI)
        ref_meter_cross(&r->meter, &r->meter.down, r->t, r->meter.sum);
}

static void move(ref_fast *r, double h)
{
    double y[X_COUNT], x[X_COUNT], d[X_COUNT];
    advance(r, h, y);
    if (r->metering) {
        if (!r->q_known)
            integrands(r, r->x, &r->now, r->q);
        r->q_known = true;
        ref_meter_extremes(&r->meter, r->x, r->now.torque);
        memcpy(x, r->x, sizeof x);
        memcpy(d, r->d, sizeof d);
    }
    memcpy(r->x, y, sizeof y);
    ref_fast_derive(r, r->x, r->d, &r->now);
    r->t += h;
    r->old_step = h;
    r->steps++;
    r->rhs++;
    if (r->metering)
        measure(r, x, d, h);
    ref_fast_aim(r);
}

/* Figures end when the controller cuts out or the run ends. */
static void close_figures(ref_fast *r)
{
    if (!r->closed)
        ref_meter_finish(r->metering ? &r->meter : NULL, &r->plant, &r->mode, r->options, r->t,
                         r->x, r->figures);
    r->closed = true;
    r->metering = false;
}

static void switch_mode(ref_fast *r)
{
    int code = r->mode.code;
    if (r->metering) {
        ref_meter_extremes(&r->meter, r->x, r->now.torque);
        count_turns(r);
    }
    ref_switch(&r->plant, &r->mode, r->t, r->x, &r->log);
    r->edges += r->metering && r->mode.code != code;
    r->switches++;
    if (r->mode.cut_out)
        close_figures(r);
    int sense = ref_swing_ended(&r->plant, &r->mode, &r->way);
    if (sense != 0 && r->metering)
        ref_meter_swing(&r->meter, sense, r->t, r->meter.sum);
    ref_fast_begin_segment(r);
    /* A guard that rounding leaves on the wrong side although nothing is to be switched. */
    if (r->soonest <= 0.0)
        move(r, 2.0 * AIM_S);
}

/* Steps up to `stop` or to the next event, whichever is first, and switches there. */
static void pursue(ref_fast *r, double step_s, double stop)
{
    for (int tries = 0;;) {
        bool passed = r->soonest <= 0.0;
        bool reached = r->soonest > -2.0 * AIM_S || r->t - r->begun < 2.0 * AIM_S;
        if (passed && (reached || tries >= TRIES)) {
            switch_mode(r);
            return;
        }
        if (!passed && r->t >= stop)
            return;
        double h = r->soonest + AIM_S, left = stop - r->t;
        bool last = !passed && left <= fmin(h, step_s);
        if (last)
            h = left;
        else if (!passed && h > step_s)
            h = fmin(h, left) / ceil(fmin(h, left) / step_s);
        /* Not back to before the segment began: other modes ruled there. */
        if (passed)
            h = fmax(h, r->begun + AIM_S - r->t);
        move(r, h);
        if (last)
            r->t = stop;
        tries += passed;
    }
}

static hp_result run(ref_fast *r, const hp_run_options *options, double step_s)
{
    long most = 1000 + (long)((double)options->max_events * options->seconds);
    while (r->t < options->seconds && r->log.status == HP_OK) {
        if (!r->metering && !r->closed && r->t >= options->settle_s) {
            r->metering = true;
            ref_meter_begin(&r->meter, &r->plant, r->t, r->x);
            ref_fast_begin_segment(r);
        }
        double stop = fmin(options->seconds, ref_next_time(&r->plant, &r->mode));
        if (!r->metering && !r->closed)
            stop = fmin(stop, options->settle_s);
        pursue(r, step_s, stop);
        if (r->t >= ref_next_time(&r->plant, &r->mode))
            switch_mode(r);
        if (!isfinite(r->x[X_SPEED] + r->x[X_IU] + r->x[X_IV] + r->x[X_DUTY]))
            return HP_FAIL_NUMBER;
        if (r->switches > most)
            return HP_FAIL_CHATTER;
        if (r->closed && r->log.trace == NULL)
            break; /* cut out, and nobody watches the coasting */
    }
    return r->log.status;
}

hp_result hp_reference_floor(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_run_options *options, double step_s, hp_trace *trace,
                             hp_figures *figures)
{
    assert(options->demands == 0);
    ref_fast r = {
        .plant = ref_plant_make(drive, wiring),
        .log = {.trace = trace},
        .options = options,
        .figures = figures,
    };
    ref_begin(&r.plant, options, &r.mode, r.x);
    ref_swing_ended(&r.plant, &r.mode, &r.way);
    ref_fast_prepare(&r);
    r.horizon = 4.0 * step_s;
    ref_fast_begin_segment(&r);
    *figures = (hp_figures){0};
    figures->status = run(&r, options, step_s);
    if (figures->status != HP_OK) {
        snprintf(figures->reason, sizeof figures->reason, "the reference broke off at %.9g s", r.t);
        return figures->status;
    }
    close_figures(&r);
    figures->sensor_edges = r.edges;
    figures->events = r.log.events;
    figures->steps = r.steps;
    figures->rhs = r.rhs;
    return HP_OK;
}
