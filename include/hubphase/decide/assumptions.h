/*
 * What the advice reckons with before anything is measured: how likely things are, how the person
 * at the bench slips, what each step costs, and where the work ends.
 */
#ifndef HUBPHASE_DECIDE_ASSUMPTIONS_H
#define HUBPHASE_DECIDE_ASSUMPTIONS_H

#include "hubphase/base/result.h"
#include "hubphase/decide/readings.h"
#include "hubphase/model/controller.h"
#include "hubphase/model/vehicle.h"

#include <stdbool.h>

HP_API_BEGIN

/* ---- how likely things are ------------------------------------------------------------------- */

/* Twelve true six-step tables for 120-degree sensors, and each of them with one of its three inputs
 * inverted: the tables for 60-degree sensors. */
#define HP_TABLES_120  12
#define HP_TABLE_COUNT (4 * HP_TABLES_120)

/* Index of a table, those for 120 degrees first; -1 when it is none of them. */
int hp_table_index(const hp_commutation_table *table);
/* The input that a table of that index hears the wrong way round; -1: none, it is one for 120
 * degrees. */
int hp_table_inverts(int table);

/* How often a hub with 60-degree sensors has a controller made for them, where nothing says which
 * table the controller has. Chosen: an old set comes as one, by common practice, but half of such
 * hubs are salvaged alone. */
#define HP_MATCHED_UNSTATED 0.6

/* How far a bench may differ from what is said of it: hidden, and learnt from the log. All 0 (and
 * friction_most 1): nothing is hidden but the motor. */
typedef struct hp_nuisance_params {
    double duty_sd;         /* logarithm of the true duty over the one said, for the whole log */
    double hand_sd;         /* the same, from one trial to the next */
    double one_sided;       /* probability that the current may pause within a PWM period */
    double sine;            /* probability that the controller drives by a sine */
    double idle_most_a;     /* [A] the most that lamps, displays and regulators draw */
    double friction_most;   /* the most that brakes and seals make of the friction stated; >= 1 */
    double throttle_rest_v; /* [V] signal lead of the throttle at rest ... */
    double throttle_full_v; /* ... and full; NAN: not known */
} hp_nuisance_params;

/* How likely things are before anything is measured. */
typedef struct hp_prior_params {
    double table_stated; /* the stated table is the true one; the rest shares what is left */
    int table;           /* index of the stated table, or -1: unknown, all alike */
    double inverted;     /* the hub has 60-degree sensors, all three leads together */
    double matched;      /* ... and the controller is made for them, though none says so */
    double odd_table;    /* a hub with 120-degree sensors has a controller for 60 degrees */
    double sensor_fault; /* some sensor stuck, all six cases together */
    double lead_open;    /* some phase lead open */
    double clutch;       /* clutch slips; only when there is one */
    bool has_clutch;     /* the hub has a one-way clutch */
    double silent;       /* the controller drives nothing as it is joined */
    double cutting_out;  /* controller or battery protection cuts out again and again */
    double loose;        /* some lead makes contact now and then */
    double unlisted;     /* something else that no hypothesis names */
    hp_nuisance_params nuisance;
    double floor; /* combinations less likely than this are left out */
} hp_prior_params;

hp_prior_params hp_prior_default(void);
/* The world of the simulated ensemble alone: no nuisances, and no fault that is not simulated. */
hp_prior_params hp_prior_plain(void);

/* ---- the person at the bench ----------------------------------------------------------------- */

/* Every entry of the log is what a person says they saw. This says how that can differ from what
 * there was to see. Each slip is independent of the others, given the truth. Nothing said can
 * therefore rule anything out for good, and a log that contradicts itself still has a best
 * explanation. */

typedef struct hp_person {
    double
        wrong_entry; /* probability that a whole entry is worthless: another motor, another day */
    /* ---- trials: probabilities ---- */
    double wrong_direction; /* says backward for forward, or the other way round */
    double rough_as_smooth; /* calls a rough run smooth */
    double smooth_as_rough; /* calls a smooth run rough */
    double noisy;           /* says "noisy" instead of what they would else say, on a rough run; a
                               quarter of it on a smooth one */
    double missed_motion;   /* says it did not turn although it did, or the other way round */
    double shiver_as_still; /* overlooks a shiver */
    double still_as_shiver; /* takes a jerk at switching on for a shiver */
    double miscounted;      /* counts the starts wrong */
    double wrong_wiring;    /* joined the leads otherwise than written down */
    double cut_out_missed;  /* says no cut-out for one, or the other way round */
    /* ---- readings: probabilities ---- */
    double code_misread; /* one sensor code read or written down wrong */
    double turned_back;  /* turned the wheel the other way than written down */
    double code_skipped; /* turned past a code without noticing */
    double wrong_lead;   /* parked on another lead than written down */
    double pair_misread; /* says open for closed or the other way round, of one pair */
    double row_misread;  /* one row of a probed table wrong */
    /* ---- meters ---- */
    double value_misread;    /* probability that a number is worthless: wrong range, wrong digit */
    double current_relative; /* standard deviation over value: battery current */
    double current_zero_a;   /* [A] standard deviation of its zero */
    double speed_relative;   /* wheel speed */
    double volt_relative;
    double ohm_relative;
    double ohm_zero; /* [ohm] leads and contacts that were not subtracted */
} hp_person;

/* Somebody careful who works with dirty hands; every number is a chosen one, reasons in the source.
 */
hp_person hp_person_default(void);
/* Somebody who never slips and whose meters are good: slips of one in a million, so that a
 * contradictory log still has an explanation. */
hp_person hp_person_sharp(void);
/* Every probability of a slip set to the same value; meters as the default's. */
hp_person hp_person_slipping(double probability);

/* HP_FAIL_INPUT naming the field when a probability is outside 0..0.5 or an error not above 0. */
hp_result hp_person_check(const hp_person *person, hp_error *err);

/* ---- what steps cost, and where the work ends ------------------------------------------------ */

/* Costs in minutes of a careful person's time; a risk is the minutes one would spend to avoid it.
 */
typedef struct hp_costs {
    double trial;      /* making safe, switching on, several rest angles, switching off */
    double look;       /* the same wiring again, nothing moved */
    double phase_lead; /* one phase lead moved */
    double sensor_pin; /* one sensor pin moved: fiddlier */
    double reading[HP_READINGS_MAX]; /* [hp_reading_index] */
    double learn;                    /* the controller's own learning */
    double risk_rough;               /* of a trial that turns out rough */
    double risk_stalled;             /* of one that stalls: full current in a standing winding */
    double bit;                      /* one bit of doubt left about which part is broken */
} hp_costs;

/* chosen: reasons in the source; those of readings stand in their descriptors. */
hp_costs hp_costs_default(void);

/* The bit of a reading in hp_plan_params.allowed; none for one that is not listed. */
unsigned hp_allow(const hp_reading *reading);
/* All readings that can be advised. */
unsigned hp_allow_readings(void);

/* What can limit the current of a first trial. */
typedef enum hp_first_power {
    HP_FIRST_POWER_ANY, /* a bench supply, else a lamp */
    HP_FIRST_POWER_BENCH_SUPPLY,
    HP_FIRST_POWER_LAMP,
    HP_FIRST_POWER_NONE, /* the battery and its fuse alone */
    HP_FIRST_POWER_COUNT
} hp_first_power;

typedef struct hp_plan_params {
    hp_costs costs;
    unsigned allowed; /* hp_allow of the readings that can be taken here */
    bool ammeter;     /* battery current can be read in a trial */
    bool tachometer;  /* wheel speed can be read in a trial */
    hp_first_power first_power;
    hp_cell cell;     /* of the battery that power comes from: each sort has its cautions */
    bool unfused;     /* that battery has no fuse, as the scenario says */
    bool regenerates; /* the controller brakes with the motor, into the battery */
    bool powered;     /* a wiring can be tried under power here */
    bool learns;      /* the controller has a lead for learning the wiring by itself */
    int starts;       /* rest angles to try a wiring from; 1..10 */
    double throttle;  /* 0..1, for trials; 0: the drive's */
    double rest_v;    /* [V] on the throttle's signal lead at rest; 0: the scenario does not say */
    double assist;    /* 0..1, what the pedals of a machine without a throttle ask for, and all that
                         it can be asked for; 0: it has a throttle */
    double lowest_step;  /* throttle that the lowest speed step gives at full grip; 0: no steps */
    double sure;         /* certainty at which a wiring is called right */
    double sure_broken;  /* certainty at which a part is called broken */
    double sensor_v_max; /* [V] more than this kills the sensors */
    double sensor_own_v; /* [V] from here on what their supply shows is the battery's own, which
                            they bear only while it is low; 0: the battery never gives so little */
    double sensor_v_min; /* [V] less than this does not work the sensors */
    int trials_max;      /* powered trials after which the plan gives up */
} hp_plan_params;

/* [V] More than this at the sensor supply stops everything: what sensors bear, or below it what the
 * battery itself gives. */
double hp_plan_sensor_stop_v(const hp_plan_params *plan);

hp_plan_params hp_plan_params_default(void);
/* Takes out of the plan what cannot be done here: a reading, trials under power, or learning.
 * False: nothing goes on without it. */
bool hp_plan_leave_out(hp_plan_params *params, const hp_reading *kind);
/* Leaves out what the entries of a log say cannot be done here, unless they say since that it can.
 */
void hp_plan_heed(hp_plan_params *params, const hp_entry *entry, int count);
hp_result hp_plan_params_check(const hp_plan_params *params, hp_error *err);

HP_API_END

#endif
