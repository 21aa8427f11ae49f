/* Margin of a verdict: see the header. */
#include "decide/judge/margin.h"

#include "base/elementary.h"
#include "hubphase/decide/verdict.h"

#include <math.h>
#include <stddef.h>

static const hp_margin nowhere = {HP_THRESHOLD_NONE, INFINITY};

/* Signed distance above a limit; a figure of zero is infinitely far below. */
static double above(double value, double limit)
{
    if (value <= 0.0)
        return -(double)INFINITY;
    return limit > 0.0 ? hp_logarithm(value / limit) : (double)INFINITY;
}

/* How far each figure of a run stands on the wrong side of what a smooth run needs; negative on the
 * right side. */
typedef struct faults {
    double excess;
    double steady;
    double turn;  /* of the rotor */
    double still; /* of rotor or wheel */
    double begun; /* likewise, and of a rotor that turned before it came to a stand */
} faults;

static faults faults_of(const hp_figures *run, const hp_thresholds *limits)
{
    double least = hp_verdict_turn_least(run, limits);
    double still = -above(fmax(fabs(run->window_turn), fabs(run->wheel_turn)), least);
    return (faults){
        .excess = above(hp_figures_waste(run), limits->waste_max),
        .steady = above(run->speed_sd, limits->speed_sd_max * fabs(run->speed)),
        .turn = -above(fabs(run->window_turn), least),
        .still = still,
        .begun = fmin(still, -above(fabs(run->net_turn), limits->turn_min)),
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

/* Between stalled and rough: as far as the run that tips the scales, of those sorted by their turn
 * the last of as many as are enough for a wiring that turns. */
static void take_turn(hp_margin *margin, const hp_figures *run, int count, const hp_judgement *j,
                      const hp_thresholds *limits)
{
    bool stalled = j->verdict == HP_VERDICT_STALLED;
    int enough = 1;
    while (hp_verdict_few_starts(enough, count, limits))
        enough++;
    for (int k = 0; k < count; k++) {
        int before = 0, beside = 0;
        faults own = faults_of(&run[k], limits);
        double short_of = stalled ? own.begun : own.still;
        for (int n = 0; n < count; n++) {
            faults other = faults_of(&run[n], limits);
            double others = stalled ? other.begun : other.still;
            before += others < short_of;
            beside += others == short_of;
        }
        if (before < enough && before + beside >= enough)
            take_nearer(margin, HP_THRESHOLD_TURN, stalled ? short_of : -short_of);
    }
}

/* Where one start more or less would tip the scales, the verdict stands on the line; else as far
 * from it as the share of starts. */
static void take_starts(hp_margin *margin, const hp_judgement *j, const hp_thresholds *limits)
{
    bool few = hp_verdict_few_starts(j->starts, j->starts_tried, limits);
    double share = (double)j->starts / j->starts_tried;
    if (j->starts == 0 || j->starts == j->starts_tried)
        return; /* they agree */
    bool tips = hp_verdict_few_starts(j->starts + (few ? 1 : -1), j->starts_tried, limits) != few;
    take_nearer(margin, HP_THRESHOLD_STARTS, tips ? 0.0 : fabs(above(share, limits->starts_min)));
}

hp_margin hp_margin_of(const hp_figures *run, int count, const hp_judgement *judgement,
                       const hp_thresholds *limits)
{
    hp_margin margin = nowhere;
    switch (judgement->verdict) {
    case HP_VERDICT_CORRECT:
    case HP_VERDICT_REVERSE: return margin_of_smooth(run, count, limits);
    case HP_VERDICT_ROUGH:
        if (judgement->outdone > limits->apparent_max)
            return (hp_margin){HP_THRESHOLD_OUTDONE,
                               hp_logarithm(judgement->outdone / limits->apparent_max)};
        /* Turning both ways is no matter of a threshold. */
        if (judgement->direction != HP_DIRECTION_BOTH)
            margin = way_to_smooth(run, count, limits);
        take_turn(&margin, run, count, judgement, limits);
        take_starts(&margin, judgement, limits);
        return margin;
    case HP_VERDICT_STALLED:
        take_turn(&margin, run, count, judgement, limits);
        take_starts(&margin, judgement, limits);
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
    case HP_THRESHOLD_STARTS: return "starts";
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
