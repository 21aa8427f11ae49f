/*
 * Verdict on a wiring from figures alone. See the header; the thresholds' reasons and the ensemble
 * they were read from stand in docs/verdicts.md.
 */
#include "hubphase/decide/verdict.h"

#include "hubphase/model/phase.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

hp_thresholds hp_thresholds_default(void)
{
    return (hp_thresholds){
        .turn_min = HP_TWO_PI,
        .excess_max = 1.6,
        .speed_sd_max = 0.25,
        .apparent_max = 2.0,
        .early_min = 1.20,
        .late_max = 1.00,
    };
}

static bool turned(const hp_figures *run, const hp_thresholds *limits)
{
    return fabs(run->window_turn) >= limits->turn_min;
}

static bool is_smooth(const hp_figures *f, const hp_thresholds *limits)
{
    return !f->cut_out && hp_figures_excess(f) <= limits->excess_max &&
           f->speed_sd <= limits->speed_sd_max * fabs(f->speed);
}

/* Smooth but for power that goes into speeding up: what winding and diodes lose is small, and yet
 * the battery gives too much. Measured later such a run might be smooth. Figures that do not state
 * the losses (no current flows without any) are taken as steady. */
static bool is_speeding_up(const hp_figures *f, const hp_thresholds *limits)
{
    double lost = f->copper_power + f->diode_power;
    return turned(f, limits) && hp_figures_excess(f) > limits->excess_max && lost > 0.0 &&
           f->friction_power + lost <= limits->excess_max * f->friction_power;
}

/* Means of the quantities that are means, extremes of those that are extremes, sums of counters. */
static void add_run(hp_figures *sum, const hp_figures *run, int first)
{
    if (first) {
        *sum = *run;
        return;
    }
    sum->seconds += run->seconds;
    sum->window_s += run->window_s;
    sum->window_turns += run->window_turns;
    sum->window_swings += run->window_swings;
    sum->net_turn += run->net_turn;
    sum->window_turn += run->window_turn;
    sum->swing += run->swing;
    sum->speed += run->speed;
    sum->speed_sd += run->speed_sd;
    sum->wheel_speed += run->wheel_speed;
    sum->torque_mean += run->torque_mean;
    sum->torque_rms += run->torque_rms;
    sum->battery_current += run->battery_current;
    sum->battery_power += run->battery_power;
    sum->friction_power += run->friction_power;
    sum->copper_power += run->copper_power;
    sum->diode_power += run->diode_power;
    sum->phase_rms += run->phase_rms;
    sum->bus_voltage += run->bus_voltage;
    sum->duty += run->duty;
    sum->duty_asked += run->duty_asked;
    sum->torque_min = fmin(sum->torque_min, run->torque_min);
    sum->torque_max = fmax(sum->torque_max, run->torque_max);
    sum->phase_peak = fmax(sum->phase_peak, run->phase_peak);
    sum->balance_error = fmax(sum->balance_error, run->balance_error);
    sum->cut_out = sum->cut_out || run->cut_out;
    sum->cut_out_voltage = sum->cut_out_voltage || run->cut_out_voltage;
    sum->limited = sum->limited || run->limited;
    sum->at_rest = sum->at_rest && run->at_rest;
    sum->sensor_edges += run->sensor_edges;
    sum->events += run->events;
    sum->steps += run->steps;
    sum->rhs += run->rhs;
}

static void divide(hp_figures *sum, int count)
{
    double n = count;
    double *means[] = {
        &sum->seconds,        &sum->window_s,     &sum->net_turn,        &sum->window_turn,
        &sum->swing,          &sum->speed,        &sum->speed_sd,        &sum->wheel_speed,
        &sum->torque_mean,    &sum->torque_rms,   &sum->battery_current, &sum->battery_power,
        &sum->friction_power, &sum->copper_power, &sum->diode_power,     &sum->phase_rms,
        &sum->bus_voltage,    &sum->duty,         &sum->duty_asked};
    for (size_t k = 0; k < sizeof means / sizeof means[0]; k++)
        *means[k] /= n;
}

/* Mean over the runs that turned, or over all where none did. */
static void average(hp_judgement *j, const hp_figures *run, int count, const hp_thresholds *limits)
{
    int used = 0;
    double lead_x = 0.0, lead_y = 0.0;
    for (int k = 0; k < count; k++) {
        if (j->starts > 0 && !turned(&run[k], limits))
            continue;
        add_run(&j->mean, &run[k], used++ == 0);
        lead_x += cos(run[k].lead_mean);
        lead_y += sin(run[k].lead_mean);
    }
    divide(&j->mean, used);
    j->mean.lead_mean = atan2(lead_y, lead_x); /* a mean of directions */
    j->excess = hp_figures_excess(&j->mean);
    j->ripple = hp_figures_ripple(&j->mean);
}

static hp_direction direction_of(const hp_figures *run, int count, const hp_thresholds *limits)
{
    bool forward = false, backward = false;
    for (int k = 0; k < count; k++) {
        if (!turned(&run[k], limits))
            continue;
        forward = forward || run[k].window_turn > 0.0;
        backward = backward || run[k].window_turn < 0.0;
    }
    if (forward && backward)
        return HP_DIRECTION_BOTH;
    return forward ? HP_DIRECTION_FORWARD : backward ? HP_DIRECTION_BACKWARD : HP_DIRECTION_NONE;
}

/* Speed against the smooth speed tells, outside a band where it does not. */
hp_rough_kind hp_verdict_kind(hp_direction direction, double speed, double smooth_speed,
                              const hp_thresholds *limits)
{
    if (smooth_speed <= 0.0 || direction == HP_DIRECTION_BOTH)
        return HP_KIND_NONE;
    double ratio = fabs(speed) / smooth_speed;
    if (ratio >= limits->early_min)
        return HP_KIND_EARLY;
    return ratio <= limits->late_max ? HP_KIND_LATE : HP_KIND_NONE;
}

static void give_reason(hp_judgement *j, const hp_thresholds *limits)
{
    char *text = j->reason;
    size_t size = sizeof j->reason;
    if (j->verdict == HP_VERDICT_STALLED)
        snprintf(text, size, "no net turn from any of %d rest angles", j->starts_tried);
    else if (j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE)
        snprintf(text, size, "starts %d of %d, current excess %.2f (limit %.2f)", j->starts,
                 j->starts_tried, j->excess, limits->excess_max);
    else if (j->direction == HP_DIRECTION_BOTH)
        snprintf(text, size, "turns one way from some rest angles and the other way from others");
    else if (j->excess > limits->excess_max)
        snprintf(text, size, "current excess %.3g (limit %.2f), starts %d of %d", j->excess,
                 limits->excess_max, j->starts, j->starts_tried);
    else if (j->starts < j->starts_tried)
        snprintf(text, size, "dead from %d of %d rest angles", j->starts_tried - j->starts,
                 j->starts_tried);
    else
        snprintf(text, size, "one of its starts runs unsteadily or draws too much");
}

hp_judgement hp_verdict_judge(const hp_figures *run, int count, double smooth_speed,
                              const hp_thresholds *limits)
{
    hp_judgement j;
    memset(&j, 0, sizeof j);
    j.starts_tried = count;
    j.verdict = HP_VERDICT_UNDECIDED;
    if (count < 1) {
        snprintf(j.reason, sizeof j.reason, "no run");
        return j;
    }
    for (int k = 0; k < count; k++) {
        if (run[k].status != HP_OK) {
            snprintf(j.reason, sizeof j.reason, "run from %.1f deg: %s: %s",
                     run[k].start_angle / HP_DEG, hp_result_name(run[k].status), run[k].reason);
            return j;
        }
    }
    bool all_smooth = true, supply_failed = false, too_soon = false;
    for (int k = 0; k < count; k++) {
        bool turns = turned(&run[k], limits);
        j.starts += turns;
        all_smooth = all_smooth && turns && is_smooth(&run[k], limits);
        supply_failed = supply_failed || (turns && run[k].cut_out_voltage);
        too_soon = too_soon || is_speeding_up(&run[k], limits);
    }
    average(&j, run, count, limits);
    j.direction = direction_of(run, count, limits);
    if (supply_failed) {
        snprintf(j.reason, sizeof j.reason,
                 "the controller cut out on low battery voltage while the motor turned");
        return j;
    }
    if (j.starts > 0 && j.mean.friction_power < 0.0) {
        snprintf(j.reason, sizeof j.reason,
                 "the load drives the wheel instead of braking it, so current excess says nothing: "
                 "state a load against the way it turns, or none");
        return j;
    }
    if (j.starts > 0 && !(j.mean.friction_power > 0.0)) {
        snprintf(j.reason, sizeof j.reason,
                 "friction takes no power, so current excess has no bound: state a friction");
        return j;
    }
    if (too_soon) {
        snprintf(j.reason, sizeof j.reason,
                 "still speeding up when it was measured: a longer settling time would tell");
        return j;
    }
    if (j.starts == 0)
        j.verdict = HP_VERDICT_STALLED;
    else if (!all_smooth || j.direction == HP_DIRECTION_BOTH)
        j.verdict = HP_VERDICT_ROUGH;
    else
        j.verdict = j.direction == HP_DIRECTION_FORWARD ? HP_VERDICT_CORRECT : HP_VERDICT_REVERSE;
    /* A wiring that only fails to start everywhere has a field that stands neither early nor late.
     */
    if (j.verdict == HP_VERDICT_ROUGH && j.excess > limits->excess_max)
        j.kind =
            hp_verdict_kind(j.direction, hp_figures_speed_asked(&j.mean), smooth_speed, limits);
    give_reason(&j, limits);
    return j;
}

static double apparent(const hp_judgement *j)
{
    return j->mean.phase_rms * fabs(j->mean.speed);
}

/* The best of the wirings with this verdict; NULL: none. */
static const hp_judgement *best_of(const hp_judgement *judgement, int count, hp_verdict verdict)
{
    const hp_judgement *best = NULL;
    for (int k = 0; k < count; k++)
        if (judgement[k].verdict == verdict && (!best || apparent(&judgement[k]) < apparent(best)))
            best = &judgement[k];
    return best;
}

static void be_outdone(hp_judgement *j, const hp_figures *best)
{
    j->verdict = HP_VERDICT_ROUGH;
    snprintf(j->reason, sizeof j->reason,
             "another wiring turns the same way better: this one takes %.3g times its phase "
             "current at %.3g times its speed",
             j->mean.phase_rms / best->phase_rms, j->mean.speed / best->speed);
}

static void compare_those(hp_judgement *judgement, int count, hp_verdict verdict,
                          const hp_thresholds *limits)
{
    const hp_judgement *found = best_of(judgement, count, verdict);
    if (!found || !(apparent(found) > 0.0))
        return;
    const hp_figures best = found->mean;
    double least = apparent(found);
    for (int k = 0; k < count; k++) {
        if (judgement[k].verdict != verdict)
            continue;
        judgement[k].outdone = apparent(&judgement[k]) / least;
        if (judgement[k].outdone > limits->apparent_max)
            be_outdone(&judgement[k], &best);
    }
}

void hp_verdict_compare(hp_judgement *judgement, int count, const hp_thresholds *limits)
{
    compare_those(judgement, count, HP_VERDICT_CORRECT, limits);
    compare_those(judgement, count, HP_VERDICT_REVERSE, limits);
}

const char *hp_verdict_name(hp_verdict verdict)
{
    switch (verdict) {
    case HP_VERDICT_CORRECT: return "correct";
    case HP_VERDICT_REVERSE: return "reverse";
    case HP_VERDICT_ROUGH: return "rough";
    case HP_VERDICT_STALLED: return "stalled";
    case HP_VERDICT_UNDECIDED:
    case HP_VERDICT_COUNT: break;
    }
    return "undecided";
}

const char *hp_direction_name(hp_direction direction)
{
    switch (direction) {
    case HP_DIRECTION_FORWARD: return "forward";
    case HP_DIRECTION_BACKWARD: return "backward";
    case HP_DIRECTION_BOTH: return "both";
    case HP_DIRECTION_NONE:
    case HP_DIRECTION_COUNT: break;
    }
    return "none";
}

const char *hp_rough_kind_name(hp_rough_kind kind)
{
    switch (kind) {
    case HP_KIND_EARLY: return "early";
    case HP_KIND_LATE: return "late";
    case HP_KIND_NONE:
    case HP_KIND_COUNT: break;
    }
    return "";
}
