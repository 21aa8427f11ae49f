/*
 * Verdict on a wiring from the figures of its runs, and how far it stands from another. Nothing
 * here sees a permutation.
 */
#ifndef HUBPHASE_DECIDE_VERDICT_H
#define HUBPHASE_DECIDE_VERDICT_H

#include "hubphase/base/result.h"
#include "hubphase/sim/figures.h"

#include <stdbool.h>

HP_API_BEGIN

typedef enum hp_verdict {
    HP_VERDICT_CORRECT, /* starts from every rest angle, runs forward, steadily, at small excess */
    HP_VERDICT_REVERSE, /* the same backward */
    HP_VERDICT_ROUGH,   /* turns, but not so */
    HP_VERDICT_STALLED, /* no net turn, from nearly every rest angle at least */
    HP_VERDICT_UNDECIDED, /* a run failed, there was none, the supply gave way, friction is nil, or
                             the load drove the wheel */
    HP_VERDICT_COUNT
} hp_verdict;

typedef enum hp_direction {
    HP_DIRECTION_NONE,
    HP_DIRECTION_FORWARD,
    HP_DIRECTION_BACKWARD,
    HP_DIRECTION_BOTH, /* turns one way from some rest angles and the other way from others */
    HP_DIRECTION_COUNT
} hp_direction;

/* How the field of a rough wiring stands, told from the direction of the simulated currents; NONE
 * where they do not tell. */
typedef enum hp_rough_kind {
    HP_KIND_NONE,
    HP_KIND_EARLY,
    HP_KIND_LATE,
    HP_KIND_COUNT
} hp_rough_kind;

/* Why each threshold stands where it does: docs/verdicts.md. */
typedef struct hp_thresholds {
    double turn_min; /* [rad electrical] a run turns when its last part makes at least this ... */
    double turn_rate_min; /* [rad/s electrical] ... and, if that part is long, so much a second */
    double starts_min;    /* stalled: turns from less than this share of the rest angles, or none */
    double waste_max;     /* smooth: current excess times the idle share squared at most this */
    double speed_sd_max;  /* smooth: speed sd over mean speed at most this */
    double apparent_max; /* smooth: phase current times speed at most so many times that of the best
                            wiring that turns the same way */
    double late_max;  /* [rad electrical] rough: field ahead of the rotor by at most this is late */
    double early_min; /* ... by at least this is early */
    double alternation_max; /* ... and neither where the torque alternates more than this */
} hp_thresholds;

hp_thresholds hp_thresholds_default(void);

typedef struct hp_judgement {
    hp_verdict verdict;
    hp_direction direction;       /* of the wheel where it turns, else of the rotor */
    hp_direction rotor_direction; /* differs behind a one-way clutch only */
    hp_rough_kind kind;
    int starts; /* rest angles from which it turned */
    int starts_tried;
    bool measured;       /* the figures below were measured; false where a run broke off */
    hp_result broke_off; /* what it broke off with; HP_OK: none did */
    hp_figures mean;     /* mean of the runs that turned, of a stalled one of those that did not;
                            extremes (peaks, min, max, balance error) are extremes over those runs;
                            counters are sums */
    double excess;    /* of the mean figures; INFINITY where friction took nothing, or it braked */
    double ripple;    /* likewise */
    double outdone;   /* phase current times speed over that of the best wiring that turns the same
                         way; 0 where they were not compared */
    char reason[200]; /* one line in plain words: which figure decided */
} hp_judgement;

/* Judges `count` runs of one wiring by themselves. Of the wirings of one machine that pass,
 * hp_verdict_compare has the last word. */
hp_judgement hp_verdict_judge(const hp_figures *run, int count, const hp_thresholds *thresholds);

/* Compares the wirings of one machine: of those judged correct (and of those judged reverse), one
 * that takes far more current times speed than the best is rough, and of a wiring that is rough for
 * its starts alone it tells the kind. The order does not matter. */
void hp_verdict_compare(hp_judgement *judgement, int count, const hp_thresholds *thresholds);

/* The most current excess at which a wiring with this idle share is smooth. */
double hp_verdict_excess_limit(double idle, const hp_thresholds *thresholds);

/* The net turn [rad electrical] from which rotor or wheel of this run turns. */
double hp_verdict_turn_least(const hp_figures *figures, const hp_thresholds *thresholds);

/* Whether rotor or wheel of this run turns. */
bool hp_verdict_turned(const hp_figures *figures, const hp_thresholds *thresholds);

/* Whether so many of the rest angles are too few for a wiring that turns. */
bool hp_verdict_few_starts(int starts, int tried, const hp_thresholds *thresholds);

/* Phase current times rotor speed [A rad/s]: what hp_verdict_compare compares. */
double hp_verdict_apparent(const hp_figures *figures);

const char *hp_verdict_name(hp_verdict verdict);       /* "correct" ... */
const char *hp_direction_name(hp_direction direction); /* "forward", "backward", "both", "none" */
const char *hp_rough_kind_name(hp_rough_kind kind);    /* "early", "late", "" */

/* ---- margin: how far the figures of a wiring stand from another verdict ---------------------- */

/* Each threshold of a verdict is a ratio, so distance is the magnitude of the logarithm of figure
 * over threshold: 0.69 means a factor of two. The margin is the least distance by which figures
 * would have to move for the verdict to change. */

typedef enum hp_threshold {
    HP_THRESHOLD_NONE,    /* nothing measured leads to another verdict */
    HP_THRESHOLD_TURN,    /* thresholds.turn_min, turn_rate_min */
    HP_THRESHOLD_STARTS,  /* thresholds.starts_min */
    HP_THRESHOLD_EXCESS,  /* thresholds.waste_max */
    HP_THRESHOLD_STEADY,  /* thresholds.speed_sd_max */
    HP_THRESHOLD_OUTDONE, /* thresholds.apparent_max */
    HP_THRESHOLD_EARLY,   /* thresholds.early_min */
    HP_THRESHOLD_LATE,    /* thresholds.late_max */
    HP_THRESHOLD_COUNT
} hp_threshold;

typedef struct hp_margin {
    hp_threshold threshold; /* the one that decides */
    double log_ratio;       /* >= 0; INFINITY with HP_THRESHOLD_NONE */
} hp_margin;

const char *hp_threshold_name(hp_threshold threshold); /* "turn", "excess" ...; "none" */

HP_API_END

#endif
