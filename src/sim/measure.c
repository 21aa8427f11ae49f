/* Measuring while a run goes on: see the header. */
#include "sim/measure.h"

#include "base/elementary.h"
#include "base/sine.h"
#include "model/backemf.h"

#include <math.h>
#include <string.h>

/* A limiter holds the duty when a current is this near to its limit, as a share of it. */
#define LIMITED_MARGIN 0.02
/* A last part cut short to less than this share of the time before it is filled up from there. */
#define PART_SHARE_MIN 0.1
/* A rotor whose last swing ended more than this many mean swings ago has come to rest. */
#define SWINGS_AGO_MAX 2.0
/* A peak foreseen inside a step is looked at if it goes beyond the highest so far by this share. */
#define EXTREME_SHARE 1e-6

static double unwrapped(const hp_machine *m, const double *y)
{
    return y[HP_Y_THETA] + HP_TWO_PI * (double)m->turns;
}

static hp_snapshot snapshot(const hp_machine *m, double t, const double *y)
{
    hp_snapshot s = {.time = t, .angle = unwrapped(m, y)};
    memcpy(s.y, y, sizeof s.y);
    return s;
}

/* Energy in minus energy out and stored, relative to what the drive began with and all that has
 * passed through. */
static void check_balance(hp_measure *measure, const hp_machine *m, const double *y)
{
    double stored = hp_machine_energy(m, y) - measure->energy_begin;
    double lost = y[HP_Q_COPPER] + y[HP_Q_DIODE] + y[HP_Q_FRICTION];
    double through = fabs(measure->energy_begin) + fabs(y[HP_Q_BUS]) + fabs(stored) + fabs(lost);
    double error = fabs(y[HP_Q_BUS] - stored - lost);
    /* The first microjoules are rounding of the stored energy, not a balance. */
    if (through > 1e-3)
        measure->balance_error = fmax(measure->balance_error, error / through);
}

static void clear_extremes(hp_measure *measure)
{
    measure->torque_min = measure->angle_min = INFINITY;
    measure->torque_max = measure->angle_max = -INFINITY;
    measure->current_peak = 0.0;
    measure->field_x = measure->field_y = 0.0;
    measure->has_field = false;
    measure->edges = 0;
}

void hp_measure_start(hp_measure *measure, const hp_machine *m, const hp_run_options *options,
                      const double *y)
{
    const double t = 0.0;
    memset(measure, 0, sizeof *measure);
    measure->settle_s = options->settle_s;
    measure->seconds = options->seconds;
    measure->begin = snapshot(m, t, y);
    measure->energy_begin = hp_machine_energy(m, y);
    clear_extremes(measure);
    hp_measure_checkpoint(measure, m, t, y);
}

/* Neither is a NaN: not fmin and fmax, which would be calls. */
static void widen(double *low, double *high, double value)
{
    *low = value < *low ? value : *low;
    *high = value > *high ? value : *high;
}

static void take_extremes(hp_measure *measure, const hp_machine *m, const double *y, double torque)
{
    widen(&measure->torque_min, &measure->torque_max, torque);
    widen(&measure->angle_min, &measure->angle_max, unwrapped(m, y));
    double least = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        widen(&least, &measure->current_peak, fabs(y[HP_Y_CURRENT + k]));
}

/* A quantity at the two ends of a step. */
typedef struct course {
    double from, from_rate, to, to_rate;
} course;

static bool turns(const course *c)
{
    return (c->from_rate > 0.0) != (c->to_rate > 0.0);
}

/* Looks at the state where a quantity that turns inside the step goes beyond low or high, if the
 * cubic through its ends says that it does, before `until`. */
static void look_beyond(hp_measure *measure, const hp_machine *m, hp_step *step, double until,
                        const course *c, double low, double high)
{
    double begin = step->begin->guards.time, length = step->end->guards.time - begin, least = 0.0;
    double sign = c->from_rate > 0.0 ? -1.0 : 1.0, limit = sign > 0.0 ? low : -high;
    double s = hp_dip_turn(sign * c->from, sign * c->from_rate, sign * c->to, sign * c->to_rate,
                           length, &least);
    if (!(begin + s * length < until && least < limit - EXTREME_SHARE * fabs(limit)))
        return;
    double y[HP_STATE_COUNT];
    hp_instant then;
    hp_step_state(step, m, begin + s * length, y);
    hp_machine_instant(m, y, &then);
    take_extremes(measure, m, y, then.torque);
}

void hp_measure_inside(hp_measure *measure, const hp_machine *m, hp_step *step, double until)
{
    const hp_step_end *a = step->begin, *b = step->end;
    for (int k = HP_Y_CURRENT; k < HP_Y_CURRENT + HP_PHASE_COUNT; k++) {
        course current = {a->y[k], a->slope[k], b->y[k], b->slope[k]};
        if (turns(&current))
            look_beyond(measure, m, step, until, &current, -measure->current_peak,
                        measure->current_peak);
    }
    course torque = {a->guards.torque, a->guards.torque_rate, b->guards.torque,
                     b->guards.torque_rate};
    if (turns(&torque))
        look_beyond(measure, m, step, until, &torque, measure->torque_min, measure->torque_max);
    course angle = {a->y[HP_Y_THETA], a->slope[HP_Y_THETA], b->y[HP_Y_THETA], b->slope[HP_Y_THETA]};
    double before = HP_TWO_PI * (double)m->turns;
    if (turns(&angle))
        look_beyond(measure, m, step, until, &angle, measure->angle_min - before,
                    measure->angle_max - before);
}

void hp_measure_point(hp_measure *measure, const hp_machine *m, double t, const double *y,
                      const hp_instant *now)
{
    take_extremes(measure, m, y, now->torque);

    /* The field of the three currents in fixed axes, then seen from the rotor. */
    const double *i = &y[HP_Y_CURRENT];
    double along = i[HP_U] - 0.5 * (i[HP_V] + i[HP_W]);
    double across = 0.86602540378443864676 * (i[HP_V] - i[HP_W]);
    double c = hp_cosine(y[HP_Y_THETA]), s = hp_sine(y[HP_Y_THETA]);
    double x = along * c + across * s, z = across * c - along * s;
    if (measure->has_field) {
        double half = 0.5 * (t - measure->field_time);
        measure->field_x += half * (x + measure->field_x_last);
        measure->field_y += half * (z + measure->field_y_last);
    }
    measure->has_field = true;
    measure->field_time = t;
    measure->field_x_last = x;
    measure->field_y_last = z;
    /* Not while the duty only rises more slowly because a current comes near its limit. */
    double held = LIMITED_MARGIN * m->drive->controller.limiter_per_s;
    if (m->duty_mode == HP_DUTY_FLOOR ||
        (m->duty_mode == HP_DUTY_MOVING && now->duty_slope < fmin(m->ramp, held)))
        measure->limited = true;
}

void hp_measure_turn(hp_measure *measure, const hp_machine *m, double t, const double *y)
{
    check_balance(measure, m, y);
    if (!measure->has_part)
        return;
    if (!measure->has_turn)
        measure->first_turn = snapshot(m, t, y);
    measure->last_turn = snapshot(m, t, y);
    measure->has_turn = true;
}

void hp_measure_swing(hp_measure *measure, const hp_machine *m, double t, const double *y,
                      int sense)
{
    if (!measure->has_part)
        return;
    hp_swings *swings = &measure->swings[sense > 0];
    if (swings->count++ == 0)
        swings->first = snapshot(m, t, y);
    swings->last = snapshot(m, t, y);
}

/* The last part's extremes, field and swing begin at its first instant. */
static void begin_extremes(hp_measure *measure, const hp_machine *m, double t, const double *y)
{
    hp_instant now;
    clear_extremes(measure);
    hp_machine_instant(m, y, &now);
    hp_measure_point(measure, m, t, y, &now);
}

void hp_measure_checkpoint(hp_measure *measure, const hp_machine *m, double t, const double *y)
{
    check_balance(measure, m, y);
    measure->checkpoint[measure->checkpoint_count++ % HP_CHECKPOINT_COUNT] = snapshot(m, t, y);
    if (!measure->has_part && t >= measure->settle_s) {
        measure->part = snapshot(m, t, y);
        measure->has_part = true;
        begin_extremes(measure, m, t, y);
    }
}

void hp_measure_begin_part(hp_measure *measure, const hp_machine *m, double t, double until,
                           const double *y)
{
    measure->settle_s = t;
    measure->seconds = until;
    measure->part = snapshot(m, t, y);
    measure->has_part = true;
    measure->has_turn = false;
    measure->swings[0].count = measure->swings[1].count = 0;
    begin_extremes(measure, m, t, y);
}

/* The latest checkpoint at least `span` before t, or the oldest kept. */
static const hp_snapshot *checkpoint_before(const hp_measure *measure, double t, double span)
{
    int kept = measure->checkpoint_count < HP_CHECKPOINT_COUNT ? measure->checkpoint_count
                                                               : HP_CHECKPOINT_COUNT;
    const hp_snapshot *best = NULL;
    for (int k = 1; k <= kept; k++) {
        best = &measure->checkpoint[(measure->checkpoint_count - k) % HP_CHECKPOINT_COUNT];
        if (best->time <= t - span)
            break;
    }
    return best;
}

/* sqrt of the variance over time from integral of x, of x^2, and the duration. */
static double deviation(double sum, double squares, double duration)
{
    double mean = sum / duration;
    return sqrt(fmax(0.0, squares / duration - mean * mean));
}

static void fill_means(const hp_machine *m, const hp_snapshot *a, const hp_snapshot *b,
                       hp_figures *f)
{
    double span = b->time - a->time, q[HP_STATE_COUNT];
    for (int k = 0; k < HP_STATE_COUNT; k++)
        q[k] = b->y[k] - a->y[k];
    f->window_s = span;
    f->speed = q[HP_Q_SPEED] / span;
    f->speed_sd = deviation(q[HP_Q_SPEED], q[HP_Q_SPEED_SQUARE], span);
    f->wheel_speed = q[HP_Q_WHEEL] / span;
    f->torque_mean = q[HP_Q_TORQUE] / span;
    f->torque_rms = deviation(q[HP_Q_TORQUE], q[HP_Q_TORQUE_SQUARE], span);
    f->battery_current = q[HP_Q_CHARGE] / span;
    f->battery_power = q[HP_Q_BUS] / span;
    f->friction_power = q[HP_Q_FRICTION] / span;
    f->copper_power = q[HP_Q_COPPER] / span;
    f->diode_power = q[HP_Q_DIODE] / span;
    f->bus_voltage = q[HP_Q_VOLTAGE] / span;
    f->duty = q[HP_Q_DUTY] / span;
    f->phase_rms = 0.0;
    double squares = 0.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        double square = fmax(0.0, q[HP_Q_CURRENT_SQUARE + k] / span);
        f->phase_rms = fmax(f->phase_rms, sqrt(square));
        squares += square;
    }
    f->torque_able = m->ke * hp_backemf_pair_rms(&m->drive->motor.backemf) * sqrt(squares);
}

static double span_of(const hp_swings *swings)
{
    return swings->count > 1 ? swings->last.time - swings->first.time : 0.0;
}

/* The longer of the two rows of swings, if the rotor shivers still; NULL: it does not. */
static const hp_swings *swings_at(const hp_measure *measure, double t)
{
    const hp_swings *back = &measure->swings[0], *swings = &measure->swings[1];
    if (span_of(back) > span_of(swings))
        swings = back;
    double gone = t - swings->last.time;
    return swings->count > 1 && gone * (swings->count - 1) <= SWINGS_AGO_MAX * span_of(swings)
               ? swings
               : NULL;
}

void hp_measure_end(hp_measure *measure, const hp_machine *m, double t, const double *y,
                    hp_figures *f)
{
    hp_snapshot end = snapshot(m, t, y);
    check_balance(measure, m, y);

    /* The last part: from settle_s, or for an early cut-out as long a stretch before it as the
     * checkpoints give. */
    const hp_snapshot *part = &measure->part;
    bool short_part =
        t < measure->seconds && t - measure->settle_s < PART_SHARE_MIN * measure->settle_s;
    if (!measure->has_part || short_part)
        part = checkpoint_before(measure, t, 0.25 * measure->settle_s);
    const hp_snapshot *from = part, *to = &end;
    const hp_swings *swings = swings_at(measure, t);
    double turned = measure->last_turn.angle - measure->first_turn.angle;
    if (measure->has_turn && fabs(turned) > HP_PI) {
        from = &measure->first_turn;
        to = &measure->last_turn;
        f->window_turns = (int)lround(fabs(turned) / HP_TWO_PI);
    } else if (swings) {
        from = &swings->first;
        to = &swings->last;
        f->window_swings = swings->count - 1;
    }
    if (to->time > from->time)
        fill_means(m, from, to, f);

    f->duty_asked = m->duty_target;
    f->net_turn = end.angle - measure->begin.angle;
    f->part_s = end.time - part->time;
    f->window_turn = end.angle - part->angle;
    f->wheel_turn = m->gear * m->pole_pairs * (end.y[HP_Q_WHEEL] - part->y[HP_Q_WHEEL]);
    f->swing =
        measure->angle_max > measure->angle_min ? measure->angle_max - measure->angle_min : 0.0;
    f->torque_min = measure->torque_min;
    f->torque_max = measure->torque_max;
    f->phase_peak = measure->current_peak;
    f->lead_mean = hp_direction_of(measure->field_y, measure->field_x);
    f->sensor_edges = measure->edges;
    f->cut_out = m->cut_out;
    f->cut_out_voltage = m->cut_out_voltage;
    f->limited = measure->limited;
    f->at_rest = m->rotor_motion == HP_MOTION_STICK;
    f->balance_error = measure->balance_error;
    f->seconds = t;
}
