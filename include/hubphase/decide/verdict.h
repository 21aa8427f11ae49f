/*
 * Verdict on a wiring from the figures of its runs. Nothing here sees a permutation.
 */
#ifndef HUBPHASE_DECIDE_VERDICT_H
#define HUBPHASE_DECIDE_VERDICT_H

#include "hubphase/base/api.h"
#include "hubphase/sim/figures.h"

#include <stdbool.h>

HP_API_BEGIN

typedef enum hp_verdict {
    HP_VERDICT_CORRECT, /* starts from every rest angle, runs forward, steadily, at small excess */
    HP_VERDICT_REVERSE, /* the same backward */
    HP_VERDICT_ROUGH,   /* turns, but not so */
    HP_VERDICT_STALLED, /* no net turn */
    HP_VERDICT_UNDECIDED, /* a run failed, there was none, it was measured too soon, the supply gave
                             way, or friction is nil */
    HP_VERDICT_COUNT
} hp_verdict;

typedef enum hp_direction {
    HP_DIRECTION_NONE,
    HP_DIRECTION_FORWARD,
    HP_DIRECTION_BACKWARD,
    HP_DIRECTION_BOTH, /* turns one way from some rest angles and the other way from others */
    HP_DIRECTION_COUNT
} hp_direction;

/* How the field of a rough wiring stands that draws too much, told from its speed; NONE where speed
 * does not tell. */
typedef enum hp_rough_kind {
    HP_KIND_NONE,
    HP_KIND_EARLY,
    HP_KIND_LATE,
    HP_KIND_COUNT
} hp_rough_kind;

/* Why each threshold stands where it does: docs/verdicts.md. */
typedef struct hp_thresholds {
    double turn_min;     /* [rad electrical] a run turns when its last part makes at least this */
    double excess_max;   /* smooth: battery power over friction power at most this */
    double speed_sd_max; /* smooth: speed sd over mean speed at most this */
    double apparent_max; /* smooth: phase current times speed at most so many times that of the best
                            wiring of the same machine that turns the same way */
    double early_min; /* rough: speed at the duty asked over smooth speed at least this is early */
    double late_max;  /* ... at most this is late */
} hp_thresholds;

hp_thresholds hp_thresholds_default(void);

typedef struct hp_judgement {
    hp_verdict verdict;
    hp_direction direction;
    hp_rough_kind kind;
    int starts; /* rest angles from which it turned */
    int starts_tried;
    hp_figures mean;  /* mean of the runs that turned, or of all where none did; extremes (peaks,
                         min, max, balance error) are extremes over those runs; counters are sums */
    double excess;    /* of the mean figures; INFINITY where friction took nothing */
    double ripple;    /* likewise */
    double outdone;   /* phase current times speed over that of the best wiring that turns the same
                         way; 0 where they were not compared */
    char reason[200]; /* one line in plain words: which figure decided */
} hp_judgement;

/* Judges `count` runs of one wiring. smooth_speed [rad/s, rotor, > 0] is the speed a smooth wiring
 * would reach at the throttle's duty, measured on such a wiring or computed from the label; 0 when
 * unknown. */
hp_judgement hp_verdict_judge(const hp_figures *run, int count, double smooth_speed,
                              const hp_thresholds *thresholds);

/* How a rough wiring's field stands, from its speed at the duty that the throttle asks for
 * (hp_figures_speed_asked; the sign does not matter); NONE where the smooth speed is not known or
 * the speed does not tell. */
hp_rough_kind hp_verdict_kind(hp_direction direction, double speed, double smooth_speed,
                              const hp_thresholds *thresholds);

/* Compares the wirings of one machine: of those judged correct (and of those judged reverse), one
 * that takes far more phase current times speed than the best becomes rough; its kind is left to be
 * told. The order does not matter. */
void hp_verdict_compare(hp_judgement *judgement, int count, const hp_thresholds *thresholds);

const char *hp_verdict_name(hp_verdict verdict);       /* "correct" ... */
const char *hp_direction_name(hp_direction direction); /* "forward", "backward", "both", "none" */
const char *hp_rough_kind_name(hp_rough_kind kind);    /* "early", "late", "" */

HP_API_END

#endif
