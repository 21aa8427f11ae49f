/*
 * Spread: how the verdicts and figures of all 36 wirings spread over an ensemble of motors.
 *
 * Every motor of the ensemble is surveyed and judged as one would be by hp_survey_run; of each
 * wiring only a handful of figures is kept, so that memory does not grow with the number of runs of
 * a motor.
 */
#ifndef HUBPHASE_DECIDE_SPREAD_H
#define HUBPHASE_DECIDE_SPREAD_H

#include "hubphase/base/result.h"
#include "hubphase/decide/survey.h"

#include <stdint.h>

HP_API_BEGIN

/* ---- what varies: plausible motors around a nominal one -------------------------------------- */

/* Half widths. A ratio r >= 0 varies its quantity by a factor between 1 / (1 + r) and 1 + r, evenly
 * in the logarithm, so that a quantity that is zero stays zero. An angle or temperature varies
 * evenly within +- its half width. Zero keeps the nominal value. */
typedef struct hp_variation_params {
    double resistance_ratio; /* winding, one phase */
    double inductance_ratio;
    double ke_ratio;          /* back-EMF constant */
    double flat_rad;          /* [rad electrical] width of a trapezoid's flat */
    double friction_ratio;    /* Coulomb and breakaway together, rotor and wheel */
    double breakaway_ratio;   /* what breakaway has above Coulomb */
    double viscous_ratio;     /* rotor and wheel */
    double inertia_ratio;     /* rotor and wheel */
    double common_rad;        /* [rad electrical] displacement of the sensor carrier */
    double individual_rad;    /* [rad electrical] displacement of each sensor on it */
    double hysteresis_ratio;  /* sensors */
    double cogging_ratio;     /* amplitude */
    double cogging_phase_rad; /* [rad] */
    double battery_ratio;     /* EMF */
    double battery_ohm_ratio; /* internal resistance */
    double winding_k;         /* [K] copper temperature */
    double limit_ratio;       /* battery-current and phase-current limits */
} hp_variation_params;

/* An unknown specimen of a known kind; every width is a chosen one, reasons in the source. */
hp_variation_params hp_variation_default(void);
/* All widths zero: every draw is the nominal drive. */
hp_variation_params hp_variation_none(void);
/* HP_FAIL_INPUT naming the field when a width is negative, too wide or not finite. */
hp_result hp_variation_check(const hp_variation_params *variation, hp_error *err);

/* What varies, one dimension of the hypercube each. The order is part of what a seed means: a new
 * one goes at the end. */
typedef enum hp_vary {
    HP_VARY_RESISTANCE,
    HP_VARY_INDUCTANCE,
    HP_VARY_KE,
    HP_VARY_FLAT,
    HP_VARY_FRICTION,
    HP_VARY_BREAKAWAY,
    HP_VARY_VISCOUS,
    HP_VARY_INERTIA,
    HP_VARY_COMMON,
    HP_VARY_SENSOR_U,
    HP_VARY_SENSOR_V,
    HP_VARY_SENSOR_W,
    HP_VARY_HYSTERESIS,
    HP_VARY_COGGING,
    HP_VARY_COGGING_PHASE,
    HP_VARY_BATTERY,
    HP_VARY_BATTERY_OHM,
    HP_VARY_WINDING,
    HP_VARY_LIMIT,
    HP_VARY_COUNT
} hp_vary;

/* ---- the spread ------------------------------------------------------------------------------ */

#define HP_SPREAD_MOTORS_MAX 10000
#define HP_SPREAD_SEED_MAX   1000000000 /* of scenarios and options */
#define HP_SPREAD_DRIVERS    3          /* strongest ones named for a figure */

/* What is uncertain, and how many motors stand for it. */
typedef struct hp_spread_plan {
    hp_variation_params variation;
    double rest_rad; /* [rad electrical] half width by which the rest angles of one motor are turned
                        together; 0..pi */
    uint64_t seed;
    int motors; /* 1..HP_SPREAD_MOTORS_MAX */
} hp_spread_plan;

/* The usual variation, any rest angle, seed 1, 100 motors. */
hp_spread_plan hp_spread_plan_default(void);
hp_result hp_spread_plan_check(const hp_spread_plan *plan, hp_error *err);

/* Quantities that vary: the dimensions of the ensemble and, after them, the rest angle. */
#define HP_SPREAD_REST       HP_VARY_COUNT
#define HP_SPREAD_QUANTITIES (HP_VARY_COUNT + 1)

/* The figures of a wiring that are followed; each is a mean over the rest angles from which it
 * turned, or over all where it turned from none, as in hp_judgement. */
typedef enum hp_spread_figure {
    HP_SPREAD_SPEED,           /* [rad/s] rotor; signed, forward positive */
    HP_SPREAD_WHEEL_SPEED,     /* [rad/s] wheel; signed */
    HP_SPREAD_SPEED_RATIO,     /* magnitude of the speed over that of the motor's smooth wirings */
    HP_SPREAD_BATTERY_CURRENT, /* [A] */
    HP_SPREAD_PHASE_RMS,       /* [A] */
    HP_SPREAD_PHASE_PEAK,      /* [A] largest of all runs */
    HP_SPREAD_RIPPLE,          /* torque: rms about the mean over the mean */
    HP_SPREAD_EXCESS,          /* battery power over friction power */
    HP_SPREAD_STARTS,          /* share of the rest angles from which it turned */
    HP_SPREAD_MARGIN,          /* log ratio, see hp_margin */
    HP_SPREAD_IDLE,            /* share of the phase current that gives no torque */
    HP_SPREAD_WASTE,           /* excess times that share squared */
    HP_SPREAD_FIGURE_COUNT
} hp_spread_figure;

/* 5, 50 and 95 % of the motors lie at or below; INFINITY where a figure has no bound, NAN where no
 * motor gave one. */
typedef struct hp_spread_band {
    double low, middle, high;
} hp_spread_band;

/* A quantity that a figure rises (+) or falls (-) with. */
typedef struct hp_spread_driver {
    int quantity; /* 0 .. HP_SPREAD_QUANTITIES - 1; -1: no further one stands out */
    double rank_correlation;
} hp_spread_driver;

/* Where the ensemble comes nearest to a threshold. */
typedef struct hp_spread_nearest {
    hp_margin margin;
    int number; /* wiring; 0 when there is none */
    int motor;  /* index in the ensemble */
} hp_spread_nearest;

/* One wiring, or several taken together; a share is of all motors times wirings. */
typedef struct hp_spread_summary {
    int wirings;
    int number[HP_WIRING_COUNT]; /* their numbers, ascending */
    /* What is likeliest; the direction among those of that verdict, the kind among those of that
     * verdict and direction. */
    hp_verdict verdict;
    hp_direction direction;
    hp_rough_kind kind;
    double share[HP_VERDICT_COUNT];
    double share_direction[HP_DIRECTION_COUNT];
    double share_kind[HP_KIND_COUNT]; /* NONE: everything but early and late */
    hp_spread_band band[HP_SPREAD_FIGURE_COUNT];
    /* Strongest first; only those beyond HP_SPREAD_NOISE standard errors of no correlation. */
    hp_spread_driver driver[HP_SPREAD_FIGURE_COUNT][HP_SPREAD_DRIVERS];
    hp_spread_nearest nearest;      /* to another verdict */
    hp_spread_nearest nearest_kind; /* of rough ones: to another kind */
} hp_spread_summary;

/* Chosen: among some twenty quantities that do not matter, one in twenty figures names one. */
#define HP_SPREAD_NOISE 3.0

typedef struct hp_spread {
    hp_spread_plan plan; /* as asked for */
    hp_thresholds thresholds;
    int starts;
    int motors;                        /* whole motors taken in: index 0 .. motors - 1 */
    bool varies[HP_SPREAD_QUANTITIES]; /* quantities with a width above zero */
    /* The wiring whose runs stand for this one's, see alike.h; it counts once in a group's bands
     * and drivers. 0: its own. */
    int first[HP_WIRING_COUNT];
    hp_spread_summary wiring[HP_WIRING_COUNT];
    /* Wirings whose likeliest outcome is the same, taken together; in the order of verdict,
     * direction, early, late, neither. */
    int groups;
    hp_spread_summary group[HP_WIRING_COUNT];
} hp_spread;

typedef struct hp_spread_options {
    /* Of each motor's survey; start_angle is set by the spread. progress counts the runs of all
     * motors; stopping ends the ensemble. */
    hp_survey_options survey;
    hp_spread_plan plan;
} hp_spread_options;

/* Share that settled means may still move by before a run ends early, see hp_run_options. Chosen:
 * far below the spread of any figure; full-length runs and early ends are compared in the tests. */
#define HP_SPREAD_CALM_SHARE 0.01

/* Runs end as soon as they have settled. */
hp_spread_options hp_spread_options_default(void);

/* Runs, judges and sums up. Stopped by `progress`, it sums up the motors whose 36 wirings were done
 * by then and gives HP_OK with spread->motors below the plan's; HP_FAIL_CANCELLED when there is not
 * one. A run that fails makes its wiring of its motor undecided, but one without memory ends all
 * with HP_FAIL_MEMORY. The same bytes for any number of jobs. In parts: record/spread_part.h.
 * Nothing in `spread` needs freeing. */
hp_result hp_spread_run(const hp_drive *nominal, const hp_spread_options *options,
                        hp_spread *spread, hp_error *err);

/* The same by and by: so many motors at a time, summed up whenever some are whole; what is done
 * stays done when `progress` stops it. Of all motors it is hp_spread_run's spread, to the last bit,
 * however they were taken. */
typedef struct hp_spread_work hp_spread_work;

/* NULL when drive or options are refused, or without memory: err says why. Both are copied. Free
 * with hp_spread_work_free; NULL is fine. */
hp_spread_work *hp_spread_work_create(const hp_drive *nominal, const hp_spread_options *options,
                                      hp_error *err);
/* Surveys `motors` more, or as many as are left. HP_FAIL_CANCELLED: stopped by `progress`, whole
 * motors are kept; HP_FAIL_MEMORY as hp_spread_run. */
hp_result hp_spread_work_run(hp_spread_work *work, int motors, hp_error *err);
/* Whole motors so far. */
int hp_spread_work_motors(const hp_spread_work *work);
/* Sums these up; HP_FAIL_INPUT when there is none. */
hp_result hp_spread_work_sum(const hp_spread_work *work, hp_spread *spread, hp_error *err);
void hp_spread_work_free(hp_spread_work *work);

/* The survey of one motor of the ensemble, so that any outcome can be looked at by itself: sets the
 * drive and the angle by which its rest angles are turned [rad]. */
hp_drive hp_spread_motor(const hp_drive *nominal, const hp_spread_plan *plan, int motor,
                         double *rest);

/* "battery_current", ...: the names that JSON and CSV build on. */
const char *hp_spread_figure_name(hp_spread_figure figure);
/* "resistance", "place_common", ...; and in words: "winding resistance". */
const char *hp_spread_quantity_name(int quantity);
const char *hp_spread_quantity_words(int quantity);

HP_API_END

#endif
