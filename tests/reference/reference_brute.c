/*
 * Brute drive of the reference: classical Runge-Kutta, fixed fine steps, halved where a mode ends
 * or the back-EMF has a corner.
 */
#include "model/backemf.h"
#include "reference_parts.h"
#include "sim/trace.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define EVENT_FRACTION 1048576.0 /* an event is known to this part of a step */
#define CORNERS_MAX    (4 * HP_PHASE_COUNT)

typedef struct brute {
    ref_plant plant;
    ref_mode mode;
    ref_meter meter;
    ref_log log;
    const hp_run_options *options;
    hp_trace *trace;
    bool metering;
    bool closed; /* the controller has cut out: figures are ready */
    hp_figures *figures;
    double t;
    double x[X_COUNT];
    double settle;
    long samples; /* taken or passed over */
    long edges;
    int next_demand; /* of a course, from 0 */
    int way;         /* sense in which the rotor moved last; 0: not yet */
    long steps;
    long rhs;
    int corners;
    double corner[CORNERS_MAX];     /* [rad] in [0, 2 pi), distinct */
    double corner_low, corner_high; /* [rad] unwrapped, on either side of the rotor */
} brute;

/* One step. `middle` is the state half way, third order (the method's own continuous extension). */
static void rk4(brute *b, const double x[X_COUNT], double h, double y[X_COUNT],
                double middle[X_COUNT])
{
    double k1[X_COUNT], k2[X_COUNT], k3[X_COUNT], k4[X_COUNT], z[X_COUNT];
    ref_derivative(&b->plant, &b->mode, x, k1);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + 0.5 * h * k1[k];
    ref_derivative(&b->plant, &b->mode, z, k2);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + 0.5 * h * k2[k];
    ref_derivative(&b->plant, &b->mode, z, k3);
    for (int k = 0; k < X_COUNT; k++)
        z[k] = x[k] + h * k3[k];
    ref_derivative(&b->plant, &b->mode, z, k4);
    for (int k = 0; k < X_COUNT; k++) {
        y[k] = x[k] + h / 6.0 * (k1[k] + 2.0 * (k2[k] + k3[k]) + k4[k]);
        middle[k] = x[k] + h / 24.0 * (5.0 * k1[k] + 4.0 * (k2[k] + k3[k]) - k4[k]);
    }
    b->rhs += 4;
}

static double sample_time(const brute *b)
{
    return b->trace->from + (double)b->samples * b->trace->interval;
}

static bool wants_samples(const brute *b)
{
    return b->trace != NULL && b->trace->interval > 0.0 && sample_time(b) <= b->trace->until;
}

static hp_result take_sample(brute *b)
{
    ref_view view = ref_look(&b->plant, &b->mode, b->x);
    hp_sample s = {
        .time = b->t,
        .theta = b->x[X_THETA],
        .speed = b->x[X_SPEED],
        .wheel_speed = b->x[X_WHEEL],
        .torque = view.torque,
        .duty = b->x[X_DUTY],
        .bus_voltage = view.bus,
        .battery_current = view.battery,
        .code = b->mode.code,
    };
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        s.current[k] = b->x[k];
        s.backemf[k] = view.backemf[k];
        s.terminal[k] = view.terminal[k];
        s.drive[k] = b->mode.command[k];
    }
    b->samples++;
    return hp_trace_add_sample(b->trace, &s);
}

/* Distinct corner angles of the three phases' back-EMF in a turn. */
static void find_corners(brute *b)
{
    double own[4];
    int count = hp_backemf_corners(&b->plant.drive->motor.backemf, own);
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++)
        for (int k = 0; k < count; k++) {
            double angle = hp_angle_wrap(own[k] + hp_phase_axis(phase));
            bool known = false;
            for (int j = 0; j < b->corners; j++)
                known = known || fabs(hp_angle_wrap_signed(angle - b->corner[j])) < 1e-9;
            if (!known)
                b->corner[b->corners++] = angle;
        }
}

/* The corners on either side of the rotor: a step must not run across one, where the slope of the
 * back-EMF jumps, or it is of second order only. */
static void bound_corners(brute *b)
{
    double theta = b->x[X_THETA];
    b->corner_low = -INFINITY;
    b->corner_high = INFINITY;
    for (int k = 0; k < b->corners; k++) {
        double turn = HP_TWO_PI * floor((theta - b->corner[k]) / HP_TWO_PI);
        b->corner_low = fmax(b->corner_low, b->corner[k] + turn);
        b->corner_high = fmin(b->corner_high, b->corner[k] + turn + HP_TWO_PI);
    }
}

static bool corner_passed(const brute *b, double theta)
{
    return theta < b->corner_low || theta > b->corner_high;
}

static bool has_ended(const brute *b, const double y[X_COUNT])
{
    return corner_passed(b, y[X_THETA]) || ref_mode_ended(&b->plant, &b->mode, y);
}

/* Keeps the integrals at a whole turn crossed inside the step, integrands taken as linear. */
static void cross_turn(brute *b, ref_turns *turns, const double y[X_COUNT], double h,
                       const double q0[Q_COUNT], const double q1[Q_COUNT])
{
    double angle = turns->next * HP_TWO_PI;
    bool up = turns == &b->meter.up;
    if (up ? y[X_THETA] < angle : y[X_THETA] > angle)
        return;
    double part = (angle - b->x[X_THETA]) / (y[X_THETA] - b->x[X_THETA]);
    double sum[Q_COUNT];
    for (int k = 0; k < Q_COUNT; k++)
        sum[k] = b->meter.sum[k] + h * part * (q0[k] + 0.5 * part * (q1[k] - q0[k]));
    ref_meter_cross(&b->meter, turns, b->t + part * h, sum);
}

/* Friction that does not stick has no event where the rotor turns round: integrands as linear. */
static void cross_rest(brute *b, const double y[X_COUNT], double h, const double q0[Q_COUNT],
                       const double q1[Q_COUNT])
{
    double from = b->x[X_SPEED], to = y[X_SPEED];
    double part = from * b->way > 0.0 ? from / (from - to) : 0.0, sum[Q_COUNT];
    for (int k = 0; k < Q_COUNT; k++)
        sum[k] = b->meter.sum[k] + h * part * (q0[k] + 0.5 * part * (q1[k] - q0[k]));
    ref_meter_swing(&b->meter, to > 0.0 ? 1 : -1, b->t + part * h, sum);
}

/* Keeps the sense of motion of such a rotor: slower than the law's own speed it only creeps. */
static void follow_way(brute *b, double speed)
{
    if (speed * b->way < 0.0)
        b->way = 0;
    if (fabs(speed) > b->plant.smooth)
        b->way = speed > 0.0 ? 1 : -1;
}

/* Adds a step to the integrals by Simpson's rule. */
static void measure(brute *b, const double middle[X_COUNT], const double y[X_COUNT], double h)
{
    double q0[Q_COUNT], half[Q_COUNT], q1[Q_COUNT];
    ref_view before = ref_look(&b->plant, &b->mode, b->x);
    ref_view midway = ref_look(&b->plant, &b->mode, middle);
    ref_view after = ref_look(&b->plant, &b->mode, y);
    ref_rates(&b->plant, &b->mode, &b->meter, b->x, &before, q0);
    ref_rates(&b->plant, &b->mode, &b->meter, middle, &midway, half);
    ref_rates(&b->plant, &b->mode, &b->meter, y, &after, q1);
    cross_turn(b, &b->meter.up, y, h, q0, q1);
    cross_turn(b, &b->meter.down, y, h, q0, q1);
    if (b->plant.smooth > 0.0 && y[X_SPEED] * b->way < 0.0)
        cross_rest(b, y, h, q0, q1);
    for (int k = 0; k < Q_COUNT; k++)
        b->meter.sum[k] += h / 6.0 * (q0[k] + 4.0 * half[k] + q1[k]);
    ref_meter_extremes(&b->meter, b->x, before.torque);
    ref_meter_extremes(&b->meter, y, after.torque);
    const hp_controller_params *controller = &b->plant.drive->controller;
    if (y[X_DUTY] < b->plant.target && !b->mode.cut_out &&
        ref_duty_rate(&b->plant, y) < controller->ramp_per_s)
        b->meter.limited = true;
}

/* Figures end when the controller cuts out or the run ends. */
static void close_figures(brute *b)
{
    if (!b->closed)
        ref_meter_finish(b->metering ? &b->meter : NULL, &b->plant, &b->mode, b->options, b->t,
                         b->x, b->figures);
    b->closed = true;
    b->metering = false;
}

static void switch_mode(brute *b)
{
    int code = b->mode.code;
    if (corner_passed(b, b->x[X_THETA])) {
        bound_corners(b);
        ref_log_event(&b->log, b->t, HP_EVENT_CORNER, 0);
    }
    ref_switch(&b->plant, &b->mode, b->t, b->x, &b->log);
    b->edges += b->metering && b->mode.code != code;
    if (b->mode.cut_out)
        close_figures(b);
    int sense = ref_swing_ended(&b->plant, &b->mode, &b->way);
    if (sense != 0 && b->metering)
        ref_meter_swing(&b->meter, sense, b->t, b->meter.sum);
}

/* One step that ends at `until` at the latest. *failed is the earliest time known to lie beyond the
 * mode's end; while it is known, steps halve the distance to it. */
static void step(brute *b, double step_s, double until, double *failed)
{
    double y[X_COUNT], middle[X_COUNT];
    double h = fmin(step_s, until - b->t);
    bool landing = h == until - b->t;
    double finest = step_s / EVENT_FRACTION;
    double gap = *failed - b->t;
    if (gap < 2.0 * h) {
        h = gap > finest ? 0.5 * gap : gap;
        landing = false;
    }
    rk4(b, b->x, h, y, middle);
    bool ended = has_ended(b, y);
    while (ended && h > finest) {
        *failed = b->t + h;
        h *= 0.5;
        landing = false;
        rk4(b, b->x, h, y, middle);
        ended = has_ended(b, y);
    }
    if (b->metering)
        measure(b, middle, y, h);
    b->t = landing ? until : b->t + h;
    if (b->plant.smooth > 0.0)
        follow_way(b, y[X_SPEED]);
    memcpy(b->x, y, sizeof y);
    b->steps++;
    if (ended)
        switch_mode(b);
    if (ended || b->t >= *failed)
        *failed = INFINITY;
}

static double demand_time(const brute *b)
{
    return b->next_demand < b->options->demands ? b->options->demand[b->next_demand].time
                                                : (double)INFINITY;
}

static void follow_course(brute *b)
{
    for (; b->t >= demand_time(b); b->next_demand++) {
        double duty = b->options->demand[b->next_demand].duty;
        ref_follow(&b->plant, &b->mode, b->t, b->x, duty, &b->log);
    }
}

/* Earliest time that a step must not pass. */
static double next_stop(const brute *b)
{
    double stop = fmin(b->options->seconds, ref_next_time(&b->plant, &b->mode));
    if (!b->metering && !b->closed)
        stop = fmin(stop, b->settle);
    stop = fmin(stop, demand_time(b));
    return wants_samples(b) ? fmin(stop, sample_time(b)) : stop;
}

static hp_result run(brute *b, double step_s)
{
    double failed = INFINITY;
    while (b->t < b->options->seconds && b->log.status == HP_OK) {
        if (!b->metering && !b->closed && b->t >= b->settle) {
            b->metering = true;
            ref_meter_begin(&b->meter, &b->plant, b->t, b->x);
        }
        while (wants_samples(b) && b->t >= sample_time(b)) {
            hp_result result = take_sample(b);
            if (result != HP_OK)
                return result;
        }
        step(b, step_s, next_stop(b), &failed);
        if (b->t >= ref_next_time(&b->plant, &b->mode))
            switch_mode(b);
        if (b->t >= demand_time(b)) {
            follow_course(b);
            failed = INFINITY;
        }
        if (!isfinite(b->x[X_SPEED] + b->x[X_IU] + b->x[X_IV] + b->x[X_DUTY]))
            return HP_FAIL_NUMBER;
        if (b->closed && b->trace == NULL)
            break; /* cut out, and nobody watches the coasting */
    }
    while (wants_samples(b) && b->t >= sample_time(b) && b->log.status == HP_OK)
        b->log.status = take_sample(b);
    return b->log.status;
}

hp_result hp_reference_brute(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_run_options *options, double step_s, hp_trace *trace,
                             hp_figures *figures)
{
    brute b = {
        .plant = ref_plant_make(drive, wiring),
        .log = {.trace = trace},
        .options = options,
        .trace = trace,
        .settle = options->settle_s,
        .figures = figures,
    };
    ref_begin(&b.plant, options, &b.mode, b.x);
    follow_course(&b);
    ref_swing_ended(&b.plant, &b.mode, &b.way);
    find_corners(&b);
    bound_corners(&b);
    *figures = (hp_figures){0};
    figures->status = run(&b, step_s);
    if (figures->status != HP_OK) {
        snprintf(figures->reason, sizeof figures->reason, "the reference broke off at %.9g s", b.t);
        return figures->status;
    }
    close_figures(&b);
    figures->sensor_edges = b.edges;
    figures->events = b.log.events;
    figures->steps = b.steps;
    figures->rhs = b.rhs;
    return HP_OK;
}
