/*
 * Fit: whether these parts go together, and what the machine will do on the road.
 *
 * Reckoned before buying or riding, from parts as the scenario states them: each line is one rule
 * with its figures and one of four states. Speeds and currents are those of the simulated machine
 * in its correct wiring, loaded at the wheel; nothing is taken from a d.c. formula. Lines and
 * figures are data; their words stand in report.
 */
#ifndef HUBPHASE_DECIDE_FIT_H
#define HUBPHASE_DECIDE_FIT_H

#include "hubphase/base/result.h"
#include "hubphase/decide/survey.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/vehicle.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- lines ----------------------------------------------------------------------------------- */

typedef enum hp_fit_state {
    HP_FIT_OK,
    HP_FIT_LOOK,    /* mend it, or think about it, before the ride */
    HP_FIT_STOP,    /* do not join or ride these parts so */
    HP_FIT_UNKNOWN, /* something that the rule needs is not stated: see `missing` */
    HP_FIT_STATE_COUNT
} hp_fit_state;

/* The rules, in the order in which they are told. */
typedef enum hp_fit_rule_id {
    HP_FIT_CONTROLLER_VOLTS,
    HP_FIT_CUT_OFF,
    HP_FIT_SENSOR_SUPPLY,
    HP_FIT_PACK_CURRENT,
    HP_FIT_FUSE_RATING,
    HP_FIT_FUSE_BREAKING,
    HP_FIT_BATTERY_CONNECTOR,
    HP_FIT_BATTERY_LEADS,
    HP_FIT_PHASE_CURRENT,
    HP_FIT_PHASE_CONNECTOR,
    HP_FIT_PHASE_LEADS,
    HP_FIT_LEVEL,
    HP_FIT_HILL,
    HP_FIT_RANGE,
    HP_FIT_RIDE_HEAT,
    HP_FIT_HILL_HEAT,
    HP_FIT_STALL_HEAT,
    HP_FIT_AXLE,
    HP_FIT_MOUNTING,
    HP_FIT_DOWNHILL,
    HP_FIT_MOTOR_BRAKING,
    HP_FIT_LAW,
    HP_FIT_RULE_COUNT
} hp_fit_rule_id;

/* What a rule may lack, as a set. */
enum {
    HP_FIT_LACKS_CONTROLLER_V = 1 << 0,
    HP_FIT_LACKS_SENSOR_V = 1 << 1,
    HP_FIT_LACKS_PACK_LIMIT = 1 << 2,
    HP_FIT_LACKS_FUSE = 1 << 3,
    HP_FIT_LACKS_FUSE_BREAKING = 1 << 4,
    HP_FIT_LACKS_FUSE_V = 1 << 5,
    HP_FIT_LACKS_BATTERY_PLUG = 1 << 6,
    HP_FIT_LACKS_BATTERY_LEAD = 1 << 7,
    HP_FIT_LACKS_PHASE_PLUG = 1 << 8,
    HP_FIT_LACKS_PHASE_LEAD = 1 << 9,
    HP_FIT_LACKS_CAPACITY = 1 << 10,
    HP_FIT_LACKS_AXLE = 1 << 11,
    HP_FIT_LACKS_FLATS = 1 << 12,
    HP_FIT_LACKS_ENGAGED = 1 << 13,
    HP_FIT_LACKS_CORRECT = 1 << 14, /* no wiring of these parts is correct */
    HP_FIT_LACKS_SOUND = 1 << 15,   /* ... and a sensor or lead is stated to be broken */
    HP_FIT_LACKS_BITS = 16          /* how many there are */
};

/* What a figure is; words, unit and name in JSON stand in report. */
typedef enum hp_fit_what {
    HP_FIT_FULL_V,
    HP_FIT_EMPTY_V,
    HP_FIT_MOST_V,
    HP_FIT_CUT_OFF_V,
    HP_FIT_SUPPLY_V,
    HP_FIT_LEAST_V,
    HP_FIT_HIGHEST_V,
    HP_FIT_BATTERY_A,
    HP_FIT_PACK_A,
    HP_FIT_FUSE_A,
    HP_FIT_AMPACITY_A,
    HP_FIT_SHORT_A,
    HP_FIT_BREAKING_A,
    HP_FIT_FUSE_V,
    HP_FIT_PLUG_A,
    HP_FIT_DROP_V,
    HP_FIT_DROP_PERCENT,
    HP_FIT_LOSS_W,
    HP_FIT_WARMING_K,
    HP_FIT_PHASE_A,
    HP_FIT_PHASE_MOST_A,
    HP_FIT_DUTY_PERCENT,
    HP_FIT_OVER_DUTY_A,
    HP_FIT_STEP_PERCENT, /* duty of the speed step, where it is not all */
    HP_FIT_SPEED_FULL,
    HP_FIT_SPEED_EMPTY,
    HP_FIT_WHEEL_W,
    HP_FIT_EFFICIENCY,
    HP_FIT_STEEPEST,
    HP_FIT_RANGE_FULL_KM,
    HP_FIT_RANGE_CRUISE_KM,
    HP_FIT_CRUISE_SPEED,
    HP_FIT_WH_PER_KM,
    HP_FIT_HOTTEST_C,
    HP_FIT_LIMIT_C,
    HP_FIT_HILL_MIN,
    HP_FIT_LIMIT_MIN,
    HP_FIT_LASTING_SLOPE,
    HP_FIT_STALL_S,
    HP_FIT_CUTOUT_S,
    HP_FIT_TORQUE_NM,
    HP_FIT_PRESSURE_MPA,
    HP_FIT_ALLOWED_MPA,
    HP_FIT_COASTING,
    HP_FIT_PUSHING_SPEED,
    HP_FIT_CHARGE_A,
    HP_FIT_CHARGE_MOST_A,
    HP_FIT_RAISED_V,
    HP_FIT_WHAT_COUNT
} hp_fit_what;

/* In SI, temperatures in C, angles as rise over way; percentages as shares. low = high: no band is
 * known. INFINITY: never, or without limit. */
typedef struct hp_fit_figure {
    hp_fit_what what;
    double value, low, high;
} hp_fit_figure;

#define HP_FIT_FIGURES 6

typedef struct hp_fit_line {
    hp_fit_rule_id rule;
    hp_fit_state state;
    unsigned missing; /* set of HP_FIT_LACKS_..., when unknown */
    int code;         /* which of the rule's findings it is, for its words; 0: as it should be */
    hp_fit_figure figure[HP_FIT_FIGURES];
    int figures;
} hp_fit_line;

/* ---- the machine under load ------------------------------------------------------------------ */

/* One steady running at full throttle, or at `throttle`. */
typedef struct hp_fit_point {
    bool runs;        /* the wheel turns forward against this load */
    double torque_nm; /* at the wheel, against it */
    double wheel_rad_s;
    double battery_a, battery_w;
    double wheel_w;     /* into the load */
    double phase_rms_a; /* of the lead that carries most */
    double phase_peak_a;
    double duty;
    double copper_w; /* in the winding, as if at 20 C */
    double hub_w;    /* friction, and what counts as such */
    bool limited;    /* a current limiter holds the duty down */
} hp_fit_point;

typedef enum hp_fit_charge {
    HP_FIT_CHARGE_FULL,
    HP_FIT_CHARGE_MIDDLE,
    HP_FIT_CHARGE_EMPTY,
    HP_FIT_CHARGE_COUNT
} hp_fit_charge;

#define HP_FIT_POINTS 24
#define HP_FIT_SLOPES 11

typedef struct hp_fit_curve {
    double emf_v;
    hp_fit_point point[HP_FIT_POINTS]; /* torque rising from 0 */
    double dc_rad_s[HP_FIT_POINTS];    /* the d.c. line beside them, without limits; NAN below 0 */
} hp_fit_curve;

/* Where machine and road meet. */
typedef struct hp_fit_meeting {
    bool meets;
    double slope;       /* rise over way */
    double speed;       /* [m/s]; 0 where it does not climb */
    double slow, quick; /* [m/s] band from what is unsure of the road */
    hp_fit_point point;
    double limit_s; /* until the winding is as hot as it may be, from cold; INFINITY: never */
    double limit_low_s, limit_high_s;
} hp_fit_meeting;

/* Temperatures along the ride, at the end of each stretch and between. */
#define HP_FIT_COURSE 129

typedef struct hp_fit_course {
    int count;
    double metres[HP_FIT_COURSE];
    double copper_c[HP_FIT_COURSE], hub_c[HP_FIT_COURSE];
    double low_c[HP_FIT_COURSE], high_c[HP_FIT_COURSE]; /* band of the copper's */
    double percent[HP_FIT_COURSE];                      /* slope there */
    double hottest_c, hottest_low_c, hottest_high_c;
    double seconds;
    int stuck; /* number of the stretch that it does not climb, where the course ends; 0: none */
} hp_fit_course;

/* What a survey of these parts says, and what follows. */
typedef struct hp_fit {
    bool pack_guessed;    /* as it was given */
    double full;          /* throttle that counts as full: 1, or what the pedals ask for */
    int correct, reverse; /* wirings; 0: there is none. The reverse one is the correct one's mirror
                             image that moves the fewest leads */
    int moved;            /* leads that differ between them */
    double stalled_phase_a, stalled_battery_a; /* at full throttle, once the limiters hold */
    double torque_most_nm; /* at the wheel, that the stalled current gives at its best angle */
    hp_fit_curve curve[HP_FIT_CHARGE_COUNT];
    hp_fit_meeting level[HP_FIT_CHARGE_COUNT];
    hp_fit_meeting hill[HP_FIT_CHARGE_COUNT];
    hp_fit_meeting slope[HP_FIT_SLOPES]; /* 0, 2, 4 ... percent, charge in the middle */
    double steepest;                     /* that it climbs at all, charge in the middle */
    double lasting_slope;                /* steepest that never makes it too hot */
    bool cruises;                        /* it makes the cruising speed on the level */
    hp_fit_point cruise;
    double cruise_throttle;
    hp_fit_course course;
    hp_fit_line line[HP_FIT_RULE_COUNT];
} hp_fit;

typedef struct hp_fit_given {
    const hp_drive *drive;                /* borrowed; checked */
    const hp_vehicle *vehicle;            /* borrowed; checked */
    hp_survey_options survey;             /* also its jobs and progress */
    double sensor_least_v, sensor_most_v; /* supply on which the Hall sensors work */
    bool pack_guessed; /* how many cells it has, and so its full volts, was guessed from the
                          battery's volts */
    double full;       /* throttle that this machine can be asked for; 0: all, as 1 */
} hp_fit_given;

/* Surveys the parts, loads the correct wiring, reckons every line. Without a correct wiring the
 * lines that need one are unknown. HP_FAIL_* comes back for bad options, memory, a cancel. The same
 * bytes for any number of jobs. */
hp_result hp_fit_run(const hp_fit_given *given, hp_fit *fit, hp_error *err);

/* The lines that need no run, by what is stated alone: what needs a wiring is unknown. */
hp_result hp_fit_stated(const hp_fit_given *given, hp_fit *fit, hp_error *err);

/* The worst state of all lines; unknown counts as look. */
hp_fit_state hp_fit_worst(const hp_fit *fit);
const char *hp_fit_state_name(hp_fit_state state); /* "ok", "look", "stop", "not known" */

HP_API_END

#endif
