/*
 * Nuisances: what an ordinary bench adds to a motor, hidden from everybody and learnt from the log.
 *
 * None of them changes what is simulated: what they do to a figure is reckoned (weigh_trial.c). A
 * *member* of the belief is a motor of the likelihood table's ensemble together with one draw of
 * them, a Latin hypercube of fixed seed.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_NUISANCE_H
#define HUBPHASE_SRC_DECIDE_ADVISE_NUISANCE_H

#include "decide/advise/likelihood.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

typedef struct hp_nuisance {
    double duty;     /* true duty over what the hand says, through the whole log */
    double coasting; /* how much faster than its duty a smooth, free wheel runs: 1, or up to twice
                        where the current may pause (one-sided PWM) */
    bool one_sided;
    double idle_a;   /* battery current that no motor draws */
    double friction; /* times the motor's */
    bool sine;       /* the controller drives by a sine: a wrong wiring may feel smooth */
    bool growls;     /* what runs smoothly feels rough each time: a sine on a motor that is made for
                        six steps, a bearing */
} hp_nuisance;

/* Draws a motor; chosen: with 24 motors fine enough for the width of a kernel. */
#define HP_NUISANCE_DRAWS 16

typedef struct hp_members {
    const hp_likelihood *table; /* borrowed */
    int benches;                /* draws a motor; 1 where there is no nuisance */
    int count;                  /* motors * benches; member m has motor m / benches */
    hp_nuisance *nuisance;      /* owned; [count]; NULL: none */
    double hand;                /* relative error of a hand's throttle from one trial to the next */
    double misread;             /* how often a figure is that was read earlier; NAN: as any */
    double limit_a;             /* for a first trial: hp_members_limit */
    double rest_v, full_v;      /* throttle signal; NAN: not known */
    double most;                /* 0..1, what a run at full throttle is made with */
} hp_members;

hp_result hp_members_make(const hp_likelihood *table, const hp_nuisance_params *params,
                          hp_members *members, hp_error *err);
void hp_members_free(hp_members *members);
/* The ensemble alone: nothing to free. */
hp_members hp_members_plain(const hp_likelihood *table);

/* What a member adds: all nothing where there is no nuisance. */
hp_nuisance hp_member_nuisance(const hp_members *members, int member);

/* From here on a throttle is full. */
#define HP_FULL_THROTTLE 0.999
/* Share of the throttle's travel by the volts of its signal, 0.01 to 1; NAN: not known. */
double hp_members_share(const hp_members *members, double signal_v);
/* The same the other way round: what to set for a share. */
double hp_members_signal(const hp_members *members, double share);
/* The trial with the throttle that its signal tells, where it does: a hand is out by more. */
hp_trial hp_members_true_trial(const hp_members *members, const hp_trial *trial);

/* A figure of a record against the throttle: between the levels by a power law. */
typedef struct hp_figure_law {
    double log_value; /* at exp(log_throttle); NAN: no such run */
    double slope;
    double log_throttle;
} hp_figure_law;

typedef enum hp_figure { HP_FIGURE_SPEED, HP_FIGURE_TURNING_A, HP_FIGURE_STANDING_A } hp_figure;

hp_figure_law hp_figure_law_of(const hp_likelihood *table, int level, int behaviour, int motor,
                               hp_figure figure);
static inline double hp_figure_log(const hp_figure_law *law, double log_throttle)
{
    return law->log_value + law->slope * (log_throttle - law->log_throttle);
}

/* The case of the smooth wiring. */
int hp_smooth_case(const hp_likelihood *table);

/* What a right wiring shows with a member at a throttle said: battery current and wheel speed.
 * False when it does not turn. */
bool hp_member_smooth(const hp_members *members, int member, double throttle, double *battery_a,
                      double *wheel_rad_s);

#endif
