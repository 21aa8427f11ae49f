/* Margin of a verdict: see the header. */
#include "hubphase/decide/margin.h"

#include <math.h>
#include <stddef.h>

static const hp_margin nowhere = {HP_THRESHOLD_NONE, INFINITY};

/* Signed distance above a limit; a figure of zero is infinitely far below. */
static double above(double value, double limit)
{
    if (value <= 0.0)
        return -(double)INFINITY;
    return limit > 0.0 ? log(value / limit) : (double)INFINITY;
}

/* How far each figure of a run stands on the wrong side of what a smooth run needs; negative on the
 * right side. */
typedef struct faults {
    double excess;
    double steady;
    double turn;  /* of the rotor */
    double still; /* of rotor and wheel */
} faults;

static faults faults_of(const hp_figures *run, const hp_thresholds *limits)
{
    return (faults){
        .excess = above(hp_figures_waste(run), limits->waste_max),
        .steady = above(run->speed_sd, limits->speed_sd_max * fabs(run->speed)),
        .turn = -above(fabs(run->window_turn), limits->turn_min),
        .still = -above(fmax(fabs(run->window_turn), fabs(run->wheel_turn)), limits->turn_min),
    };
}

static void take_nearer(hp_margin *margin, hp_threshold threshold, double distance)
{
    if (distance < margin->log_ratio) /* rounding may leave a figure just past its own threshold */
        *margin = (hp_margin){threshold, fmax(distance, 0.0)};
}

static void take_farther(hp_margin *margin, hp_threshold threshold, double distance)
{
    if (distance > margin->log_ratio)
        *margin = (hp_margin){threshold, distance};
}

static hp_margin margin_of_smooth(const hp_figures *run, int count, const hp_thresholds *limits)
{
    hp_margin nearest = nowhere;
    for (int k = 0; k < count; k++) {
        faults f = faults_of(&run[k], limits);
        take_nearer(&nearest, HP_THRESHOLD_EXCESS, -f.excess);
        take_nearer(&nearest, HP_THRESHOLD_STEADY, -f.steady);
        take_nearer(&nearest, HP_THRESHOLD_TURN, -f.turn);
    }
    return nearest;
}

/* The way to smooth: every fault of every run must go. None leads back from a cut-out. */
static hp_margin way_to_smooth(const hp_figures *run, int count, const hp_thresholds *limits)
{
    hp_margin farthest = {HP_THRESHOLD_NONE, -(double)INFINITY};
    for (int k = 0; k < count; k++) {
        if (run[k].cut_out)
            return nowhere;
        faults f = faults_of(&run[k], limits);
        take_farther(&farthest, HP_THRESHOLD_EXCESS, f.excess);
        take_farther(&farthest, HP_THRESHOLD_STEADY, f.steady);
        take_farther(&farthest, HP_THRESHOLD_TURN, f.turn);
    }
    return farthest.log_ratio < (double)INFINITY ? farthest : nowhere;
}

/* The way to stalled: every run must cease to turn. */
static hp_margin way_to_stalled(const hp_figures *run, int count, const hp_thresholds *limits)
{
    hp_margin farthest = {HP_THRESHOLD_NONE, 0.0};
    for (int k = 0; k < count; k++)
        take_farther(&farthest, HP_THRESHOLD_TURN, -faults_of(&run[k], limits).still);
    return farthest;
}

hp_margin hp_margin_of(const hp_figures *run, int count, const hp_judgement *judgement,
                       const hp_thresholds *limits)
{
    hp_margin margin = nowhere;
    switch (judgement->verdict) {
    case HP_VERDICT_CORRECT:
    case HP_VERDICT_REVERSE: return margin_of_smooth(run, count, limits);
    case HP_VERDICT_ROUGH: {
        if (judgement->outdone > limits->apparent_max)
            return (hp_margin){HP_THRESHOLD_OUTDONE,
                               log(judgement->outdone / limits->apparent_max)};
        hp_margin stalled = way_to_stalled(run, count, limits);
        /* Turning both ways is no matter of a threshold. */
        if (judgement->direction != HP_DIRECTION_BOTH)
            margin = way_to_smooth(run, count, limits);
        take_nearer(&margin, stalled.threshold, stalled.log_ratio);
        return margin;
    }
    case HP_VERDICT_STALLED:
        for (int k = 0; k < count; k++)
            take_nearer(&margin, HP_THRESHOLD_TURN, faults_of(&run[k], limits).still);
        return margin;
    case HP_VERDICT_UNDECIDED:
    case HP_VERDICT_COUNT: break;
    }
    return nowhere;
}

hp_margin hp_margin_of_kind(const hp_figures *mean, const hp_thresholds *limits)
{
    hp_margin nearest = nowhere;
    if (!(mean->torque_able > 0.0) || hp_figures_alternation(mean) > limits->alternation_max)
        return nowhere;
    double ahead = fabs(mean->lead_mean);
    take_nearer(&nearest, HP_THRESHOLD_EARLY, fabs(above(ahead, limits->early_min)));
    take_nearer(&nearest, HP_THRESHOLD_LATE, fabs(above(ahead, limits->late_max)));
    return nearest;
}

const char *hp_threshold_name(hp_threshold threshold)
{
    switch (threshold) {
    case HP_THRESHOLD_TURN: return "turn";
    case HP_THRESHOLD_EXCESS: return "excess";
    case HP_THRESHOLD_STEADY: return "steadiness";
    case HP_THRESHOLD_OUTDONE: return "comparison";
    case HP_THRESHOLD_EARLY: return "early";
    case HP_THRESHOLD_LATE: return "late";
    case HP_THRESHOLD_NONE:
    case HP_THRESHOLD_COUNT: break;
    }
    return "none";
}
