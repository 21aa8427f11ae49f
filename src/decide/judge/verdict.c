/*
 * Verdict on a wiring from figures alone. See the header; the thresholds' reasons and the ensemble
 * they were read from stand in docs/verdicts.md.
 */
#include "hubphase/decide/verdict.h"

#include "base/elementary.h"
#include "base/sine.h"
#include "hubphase/model/wiring.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

hp_thresholds hp_thresholds_default(void)
{
    return (hp_thresholds){
        .turn_min = HP_TWO_PI,
        .turn_rate_min = HP_TWO_PI / 0.8, /* the same over the usual last part */
        .starts_min = 0.25,
        .waste_max = 1.2,
        .speed_sd_max = 0.35,
        .apparent_max = 1.1,
        .late_max = 60.0 * HP_DEG,
        .early_min = 120.0 * HP_DEG,
        .alternation_max = 0.54,
    };
}

double hp_verdict_turn_least(const hp_figures *figures, const hp_thresholds *limits)
{
    return fmax(limits->turn_min, limits->turn_rate_min * figures->part_s);
}

bool hp_verdict_few_starts(int starts, int tried, const hp_thresholds *limits)
{
    return starts == 0 || starts < limits->starts_min * tried;
}

static bool rotor_turned(const hp_figures *run, const hp_thresholds *limits)
{
    return fabs(run->window_turn) >= hp_verdict_turn_least(run, limits);
}

/* What people see turn; behind a one-way clutch a rotor that only shuffles may pump the wheel on.
 */
static bool wheel_turned(const hp_figures *run, const hp_thresholds *limits)
{
    return fabs(run->wheel_turn) >= hp_verdict_turn_least(run, limits);
}

bool hp_verdict_turned(const hp_figures *run, const hp_thresholds *limits)
{
    return rotor_turned(run, limits) || wheel_turned(run, limits);
}

static bool is_smooth(const hp_figures *f, const hp_thresholds *limits)
{
    return rotor_turned(f, limits) && !f->cut_out && hp_figures_waste(f) <= limits->waste_max &&
           f->speed_sd <= limits->speed_sd_max * fabs(f->speed);
}

double hp_verdict_excess_limit(double idle, const hp_thresholds *limits)
{
    return idle > 0.0 ? limits->waste_max / (idle * idle) : (double)INFINITY;
}

double hp_verdict_apparent(const hp_figures *figures)
{
    return figures->phase_rms * fabs(figures->speed);
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
    sum->part_s += run->part_s;
    sum->window_turns += run->window_turns;
    sum->window_swings += run->window_swings;
    sum->net_turn += run->net_turn;
    sum->window_turn += run->window_turn;
    sum->wheel_turn += run->wheel_turn;
    sum->swing += run->swing;
    sum->speed += run->speed;
    sum->speed_sd += run->speed_sd;
    sum->wheel_speed += run->wheel_speed;
    sum->torque_mean += run->torque_mean;
    sum->torque_rms += run->torque_rms;
    sum->torque_able += run->torque_able;
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
    sum->ran_away = sum->ran_away || run->ran_away;
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
        &sum->wheel_turn,      &sum->seconds,       &sum->window_s,       &sum->net_turn,
        &sum->window_turn,     &sum->swing,         &sum->speed,          &sum->speed_sd,
        &sum->wheel_speed,     &sum->torque_mean,   &sum->torque_rms,     &sum->torque_able,
        &sum->battery_current, &sum->battery_power, &sum->friction_power, &sum->copper_power,
        &sum->diode_power,     &sum->phase_rms,     &sum->bus_voltage,    &sum->duty,
        &sum->duty_asked,      &sum->part_s};
    for (size_t k = 0; k < sizeof means / sizeof means[0]; k++)
        *means[k] /= n;
}

/* Mean over the runs that turned, or of a stalled one over those that did not. */
static void average(hp_judgement *j, const hp_figures *run, int count, const hp_thresholds *limits)
{
    bool turning = !hp_verdict_few_starts(j->starts, count, limits);
    int used = 0;
    double lead_x = 0.0, lead_y = 0.0;
    for (int k = 0; k < count; k++) {
        if (hp_verdict_turned(&run[k], limits) != turning)
            continue;
        add_run(&j->mean, &run[k], used++ == 0);
        lead_x += hp_cosine(run[k].lead_mean);
        lead_y += hp_sine(run[k].lead_mean);
    }
    divide(&j->mean, used);
    j->mean.lead_mean = hp_direction_of(lead_y, lead_x); /* a mean of directions */
    j->excess = hp_figures_excess(&j->mean);
    j->ripple = hp_figures_ripple(&j->mean);
}

static hp_direction direction_from(bool forward, bool backward)
{
    if (forward && backward)
        return HP_DIRECTION_BOTH;
    return forward ? HP_DIRECTION_FORWARD : backward ? HP_DIRECTION_BACKWARD : HP_DIRECTION_NONE;
}

static void find_directions(hp_judgement *j, const hp_figures *run, int count,
                            const hp_thresholds *limits)
{
    bool forward = false, backward = false, rotor_forward = false, rotor_backward = false;
    for (int k = 0; k < count; k++) {
        bool rotor = rotor_turned(&run[k], limits), wheel = wheel_turned(&run[k], limits);
        double seen = wheel ? run[k].wheel_turn : rotor ? run[k].window_turn : 0.0;
        rotor_forward = rotor_forward || (rotor && run[k].window_turn > 0.0);
        rotor_backward = rotor_backward || (rotor && run[k].window_turn < 0.0);
        forward = forward || seen > 0.0;
        backward = backward || seen < 0.0;
    }
    j->direction = direction_from(forward, backward);
    j->rotor_direction = direction_from(rotor_forward, rotor_backward);
}

/* Where the field stands ahead of the rotor, in the sense in which the rotor turns. */
static hp_rough_kind kind_of(const hp_judgement *j, const hp_thresholds *limits)
{
    if (j->rotor_direction != HP_DIRECTION_FORWARD && j->rotor_direction != HP_DIRECTION_BACKWARD)
        return HP_KIND_NONE;
    if (hp_figures_alternation(&j->mean) > limits->alternation_max)
        return HP_KIND_NONE;
    /* The sense only mirrors the angle, and behind by 180 degrees is ahead by 180. */
    double ahead = fabs(j->mean.lead_mean);
    if (ahead >= limits->early_min)
        return HP_KIND_EARLY;
    return ahead <= limits->late_max ? HP_KIND_LATE : HP_KIND_NONE;
}

static void give_reason(hp_judgement *j, int pumped, const hp_thresholds *limits)
{
    char *text = j->reason;
    size_t size = sizeof j->reason;
    double limit = hp_verdict_excess_limit(hp_figures_idle(&j->mean), limits);
    bool wasteful = hp_figures_waste(&j->mean) > limits->waste_max;
    if (j->verdict == HP_VERDICT_STALLED && j->starts > 0)
        snprintf(text, size, "no net turn from %d of %d start positions, though it turns from %d",
                 j->starts_tried - j->starts, j->starts_tried, j->starts);
    else if (j->verdict == HP_VERDICT_STALLED)
        snprintf(text, size, "no net turn from any of %d start positions", j->starts_tried);
    else if (j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE)
        snprintf(text, size, "starts %d of %d, takes %.2f times the power it needs (limit %.3g)",
                 j->starts, j->starts_tried, j->excess, limit);
    else if (pumped > 0)
        snprintf(
            text, size,
            "the rotor shuffles from %d of %d start positions and pumps the wheel forward through "
            "the clutch",
            pumped, j->starts_tried);
    else if (j->direction == HP_DIRECTION_BOTH)
        snprintf(text, size,
                 "turns one way from some start positions and the other way from others");
    else if (wasteful && isinf(j->excess))
        snprintf(text, size, "on average the motor brakes the wheel, starts %d of %d", j->starts,
                 j->starts_tried);
    else if (wasteful)
        snprintf(text, size, "takes %.3g times the power it needs (limit %.3g), starts %d of %d",
                 j->excess, limit, j->starts, j->starts_tried);
    else if (j->starts < j->starts_tried)
        snprintf(text, size, "does not start from %d of %d start positions",
                 j->starts_tried - j->starts, j->starts_tried);
    else
        snprintf(text, size, "one of its starts runs unsteadily or draws too much");
}

/* Why there can be no verdict although every run was measured; NULL: there can. */
static const char *why_undecided(const hp_judgement *j, const hp_figures *run, int count,
                                 const hp_thresholds *limits)
{
    bool supply_failed = false, ran_away = false;
    for (int k = 0; k < count; k++) {
        supply_failed =
            supply_failed || (hp_verdict_turned(&run[k], limits) && run[k].cut_out_voltage);
        ran_away = ran_away || run[k].ran_away;
    }
    if (supply_failed)
        return "the controller cut out on low battery voltage while the motor turned";
    if (ran_away)
        return "the load drives the wheel faster than any motor could: it runs away";
    if (hp_verdict_few_starts(j->starts, count, limits) || j->mean.friction_power > 0.0)
        return NULL;
    if (j->mean.friction_power < 0.0)
        return "the load drives the wheel instead of braking it, so the power it takes says "
               "nothing: "
               "state a load against the way it turns, or none";
    return "friction takes no power, so nothing says how much it needs: state a friction";
}

/* Whether every run broke off or not, and of those that did the first's reason. */
static bool all_measured(hp_judgement *j, const hp_figures *run, int count)
{
    if (count < 1)
        snprintf(j->reason, sizeof j->reason, "no run");
    for (int k = 0; k < count; k++) {
        if (run[k].status == HP_OK)
            continue;
        snprintf(j->reason, sizeof j->reason, "run from %.1f deg: %s: %s",
                 run[k].start_angle / HP_DEG, hp_result_name(run[k].status), run[k].reason);
        j->broke_off = run[k].status;
        return false;
    }
    return count > 0;
}

hp_judgement hp_verdict_judge(const hp_figures *run, int count, const hp_thresholds *limits)
{
    hp_judgement j;
    memset(&j, 0, sizeof j);
    j.starts_tried = count;
    j.verdict = HP_VERDICT_UNDECIDED;
    j.measured = all_measured(&j, run, count);
    if (!j.measured)
        return j;
    bool all_smooth = true;
    int pumped = 0;
    for (int k = 0; k < count; k++) {
        j.starts += hp_verdict_turned(&run[k], limits);
        pumped += wheel_turned(&run[k], limits) && !rotor_turned(&run[k], limits);
        all_smooth = all_smooth && is_smooth(&run[k], limits);
    }
    average(&j, run, count, limits);
    find_directions(&j, run, count, limits);
    const char *undecided = why_undecided(&j, run, count, limits);
    if (undecided) {
        snprintf(j.reason, sizeof j.reason, "%s", undecided);
        return j;
    }
    if (hp_verdict_few_starts(j.starts, count, limits))
        j.verdict = HP_VERDICT_STALLED;
    else if (!all_smooth || j.direction == HP_DIRECTION_BOTH)
        j.verdict = HP_VERDICT_ROUGH;
    else
        j.verdict = j.direction == HP_DIRECTION_FORWARD ? HP_VERDICT_CORRECT : HP_VERDICT_REVERSE;
    /* A wiring that only fails to start everywhere has a field that stands neither early nor late.
     */
    if (j.verdict == HP_VERDICT_ROUGH && hp_figures_waste(&j.mean) > limits->waste_max)
        j.kind = kind_of(&j, limits);
    give_reason(&j, pumped, limits);
    return j;
}

/* The best of the wirings with this verdict: least phase current times speed; NULL: none. */
static const hp_judgement *best_of(const hp_judgement *judgement, int count, hp_verdict verdict)
{
    const hp_judgement *best = NULL;
    for (int k = 0; k < count; k++) {
        const hp_judgement *j = &judgement[k];
        if (j->verdict == verdict &&
            (!best || hp_verdict_apparent(&j->mean) < hp_verdict_apparent(&best->mean)))
            best = j;
    }
    return best;
}

static void be_outdone(hp_judgement *j, const hp_figures *best, const hp_thresholds *limits)
{
    j->verdict = HP_VERDICT_ROUGH;
    j->kind = kind_of(j, limits);
    snprintf(j->reason, sizeof j->reason,
             "another wiring turns the same way better: this one takes %.3g times its phase "
             "current at %.3g times its speed",
             j->mean.phase_rms / best->phase_rms, j->mean.speed / best->speed);
}

/* One that is rough for its starts alone, yet turns the same way as the best and far worse, has a
 * field that stands elsewhere as well. */
static bool is_kind_open(const hp_judgement *j, hp_direction way, const hp_thresholds *limits)
{
    return j->verdict == HP_VERDICT_ROUGH && j->kind == HP_KIND_NONE && j->direction == way &&
           j->rotor_direction == way && hp_figures_waste(&j->mean) <= limits->waste_max;
}

void hp_verdict_compare(hp_judgement *judgement, int count, const hp_thresholds *limits)
{
    for (hp_verdict v = HP_VERDICT_CORRECT; v <= HP_VERDICT_REVERSE; v++) {
        const hp_judgement *found = best_of(judgement, count, v);
        if (!found)
            continue;
        const hp_figures best = found->mean;
        double least = hp_verdict_apparent(&best);
        hp_direction way = v == HP_VERDICT_CORRECT ? HP_DIRECTION_FORWARD : HP_DIRECTION_BACKWARD;
        for (int k = 0; k < count; k++) {
            hp_judgement *j = &judgement[k];
            double times = hp_verdict_apparent(&j->mean) / least;
            if (is_kind_open(j, way, limits) && times > limits->apparent_max)
                j->kind = kind_of(j, limits);
            if (j->verdict != v || !(least > 0.0))
                continue;
            j->outdone = times;
            if (j->outdone > limits->apparent_max)
                be_outdone(j, &best, limits);
        }
    }
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
