/*
 * The check at full throttle: what stands of the runs made at it, wheel lifted.
 *
 * Neither the hand nor the kind of PWM can be out there, so such a run counts more than any gentle
 * one: what it showed stands until another run at full throttle says otherwise of that very thing,
 * or a part is mended that may have been its cause.
 */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_FULL_CHECK_H
#define HUBPHASE_SRC_DECIDE_ADVISE_FULL_CHECK_H

#include "decide/advise/nuisance.h"
#include "decide/reading/reading.h"
#include "hubphase/decide/advice.h"
#include "hubphase/model/ride_controls.h"

/* Has every run made by pedals that ask for this share, 0..1; 0: there is a throttle, and the plan
 * stays as it is. */
void hp_plan_drive_by(hp_plan_params *plan, double assist);
/* Whether its pedals alone drive the machine; NULL: no. */
bool hp_plan_by_pedals(const hp_plan_params *plan);
/* The most that this machine can be asked for, 0..1; NULL: 1. */
double hp_plan_full(const hp_plan_params *plan);
/* Whether a trial at this throttle asks for all of it. Of a machine that pedals drive every trial
 * does, so that one behind a limit is none. */
bool hp_plan_asks_all(const hp_plan_params *plan, const hp_trial *trial, double throttle);

typedef struct hp_full_check {
    const hp_plan_params *plan;     /* borrowed; NULL: a machine with a throttle */
    const hp_entry *entry;          /* the log, in order; borrowed */
    int from, to;                   /* entries from..to-1 of it */
    int number;                     /* the wiring; 0: what is joined has no trial */
    const hp_members *members;      /* tell a trial's throttle by its signal; NULL: as it is said */
    hp_band current_a, wheel_rad_s; /* of a right wiring; high 0: not known */
    double most_a;                  /* hp_draw_most of that current */
    /* Judges runs that are no trials; NULL: they only take a current back, by the band alone. */
    void (*judge)(const void *user, const hp_entry *entry, hp_draw *draw, hp_pace *pace);
    const void *user;
} hp_full_check;

/* [A] What no right wiring draws at full throttle, wheel lifted: the trials' and the no-load run's
 * one limit. The 90 % band alone is none: one right machine in twenty lies above it, and a band
 * that a coast-down made narrow tells of the drag of one day. So three times what is expected at
 * least (HP_CURRENT_SMALL). Between band and limit a run neither fails nor takes an earlier one
 * back. */
double hp_draw_most(double expected_a, hp_band current_a);
hp_pace hp_pace_judge(double wheel_rad_s, hp_band band_rad_s);
hp_draw hp_draw_judge(double battery_a, double most_a, hp_band current_a);

void hp_full_check_find(const hp_full_check *check, hp_failed_check *failed);

/* What a trial at full throttle is held against, in the plan as in the list of steps. */
typedef struct hp_full_limits {
    hp_band current_a, wheel_rad_s; /* of a right wiring; high 0: not known */
    double most_a;
} hp_full_limits;

/* Whether the figures of a run at full throttle are a check of what it draws: a wheel that turns
 * freely can still be wired wrong, so its speed alone is one only where no ammeter is at hand. */
bool hp_full_run_told(const hp_plan_params *plan, double battery_a, double wheel_rad_s);

/* Whether nothing at hand reads any figure of a run. */
bool hp_plan_is_unmetered(const hp_plan_params *plan);
/* Of the newest trial its number, where that is of this wiring, on the battery alone, at no less
 * than this throttle, smooth forward, and somebody said that nothing grew warm and nothing cut out:
 * as far as a run can be told without a meter. 0: it is no such run, or a part was mended since. */
int hp_felt_run(const hp_entry *entry, int entries, int number, double throttle);

/* Whether the newest run of this wiring whose starts were counted, at whatever throttle, missed
 * some, and nothing was mended since that may have been the cause: a run at full throttle that
 * counts none does not make up for it. */
bool hp_last_count_missed(const hp_entry *entry, int entries, int number);

/* Whether a run failed for this sign and for nothing else. */
bool hp_failed_only(const hp_failed_check *failed, hp_check_sign sign);
/* Which other position of the speed switch, from 1, gives this speed at full grip; 0: none.
 * `full_rad_s`: what the chosen position ought to give. */
int hp_slower_step(double wheel_rad_s, hp_band full_rad_s, const hp_speed_params *speed);
/* The same of a run that failed for being slow and for nothing else. */
int hp_failed_check_step(const hp_failed_check *failed, hp_band full_rad_s,
                         const hp_speed_params *speed);

/* The wiring that was joined when entry `place` was made: that of the trial before it, where it ran
 * forward and nothing was mended since; 0: the log does not say. */
int hp_joined_at(const hp_entry *entry, int place);
/* The same of a run that is no trial; one made before any trial is of the wiring that was logged
 * next, where that ran well. */
int hp_run_wiring(const hp_entry *entry, int entries, int place);

/* chosen: a speed this far beyond its band is no right wiring's. */
#define HP_FAR_SPEED 1.25

#endif
