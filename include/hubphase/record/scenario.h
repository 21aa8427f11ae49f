/*
 * Scenario files: YAML in a person's units to a drive, labels and run options.
 *
 * Keys, units, ranges and defaults: docs/scenario.md.
 */
#ifndef HUBPHASE_RECORD_SCENARIO_H
#define HUBPHASE_RECORD_SCENARIO_H

#include "hubphase/base/result.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/fit.h"
#include "hubphase/decide/spread.h"
#include "hubphase/decide/what_if.h"
#include "hubphase/model/course.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/ride_controls.h"
#include "hubphase/model/vehicle.h"
#include "hubphase/sim/engine.h"

#include <stddef.h>
#include <stdio.h>

HP_API_BEGIN

/* ---- parameters: what a run was made with, each with where it came from ---------------------- */

typedef enum hp_origin {
    HP_ORIGIN_FILE,    /* stated in the scenario */
    HP_ORIGIN_DEFAULT, /* a default; `why` says where that comes from */
    HP_ORIGIN_DERIVED, /* worked out from other entries; `why` says how */
    HP_ORIGIN_OPTION,  /* set on the command line */
    HP_ORIGIN_COUNT
} hp_origin;

typedef struct hp_parameter {
    char key[96];   /* scenario key path, unit included: "motor.resistance_between_leads_ohm" */
    char value[96]; /* as it would be written in the scenario */
    double number;  /* its numeric value, NAN where it is text */
    hp_origin origin;
    int line;      /* line in the scenario, 0 when not from there */
    char why[192]; /* source or reason; may be empty for HP_ORIGIN_FILE */
} hp_parameter;

/* A list in the order of the scenario documentation; owns its array. Zero-initialise before use. */
typedef struct hp_parameters {
    hp_parameter *item;
    size_t count;
    size_t capacity;
} hp_parameters;

/* The entry with this key, or NULL; borrowed. */
hp_parameter *hp_parameters_find(hp_parameters *list, const char *key);
/* Notes that an option, such as "--starts", set the entry with this key; none: nothing is noted. */
void hp_parameters_note_option(hp_parameters *list, const char *key, double value,
                               const char *option);
const char *hp_origin_name(hp_origin origin); /* "scenario", "default", "derived", "option" */

/* Prints the list section by section: key, value, where it comes from and why, in 80 columns. */
void hp_parameters_print(const hp_parameters *list, const hp_screen *out);

/* ---- scenario -------------------------------------------------------------------------------- */

#define HP_SCENARIO_BYTES_MAX (1 << 20) /* larger files are refused before they are read */
#define HP_SCENARIO_DEPTH_MAX 16        /* deeper nesting is refused */

/* What the advice is reckoned with. */
typedef struct hp_bench_settings {
    hp_prior_params prior; /* table -1: not known, or not one for 120-degree sensors */
    bool table_known;      /* the controller's table is to be believed */
    hp_person person;
    hp_plan_params plan;
} hp_bench_settings;

/* What a scenario's figures were learnt from: the section learnt_from. */
typedef struct hp_learnt {
    char log[1024];     /* bench log, as stated; empty: nothing was learnt */
    char scenario[128]; /* what that log calls its scenario; empty: not stated */
    int entries;        /* of the log, that the figures come from */
    char print[20];     /* what these entries hold, in short; empty: not stated */
} hp_learnt;

typedef struct hp_scenario {
    char path[1024]; /* as given */
    char *about;     /* owned; what this scenario shows; may be NULL */
    hp_drive drive;  /* checked */
    hp_labels labels;
    hp_harness harness;          /* what else hangs on the controller; parts 0: nothing said */
    hp_controls_params controls; /* the section controls, and the speed steps */
    hp_run_options run;          /* seconds, settle_s, tolerance */
    int starts;                  /* rest angles a wiring */
    hp_spread_plan spread;       /* what is uncertain */
    hp_bench_settings bench;     /* the section bench */
    hp_vehicle vehicle;          /* checked; what only the fit reckons with */
    hp_parameters parameters;    /* every key with its value and origin ... */
    hp_parameters controls_parameters; /* ... and those that only the controls reckon with */
    hp_parameters fit_parameters;      /* ... and those that only the fit reckons with */
    hp_learnt learnt;
    struct hp_scenario *base; /* owned; the same before its figures were learnt; NULL: none were */
} hp_scenario;

/* Reads and checks a scenario. On trouble every problem found is written to `diagnostics` (one
 * block each: file:line:column, key, value, what was expected, the source line and a caret), the
 * scenario is left empty, and HP_FAIL_INPUT, HP_FAIL_IO or HP_FAIL_MEMORY comes back with a summary
 * in err. diagnostics may be NULL. Free with hp_scenario_free, which is safe on a zeroed one. */
hp_result hp_scenario_load(const char *path, hp_scenario *scenario, FILE *diagnostics,
                           hp_error *err);
/* The same with problems filled to the columns of a screen; 0 columns: not filled. */
hp_result hp_scenario_load_on(const char *path, hp_scenario *scenario, const hp_screen *diagnostics,
                              hp_error *err);
/* The same from `size` bytes in memory; `name` stands for the file's in messages and for its place:
 * the bench log of "barrow.yaml" is "barrow.bench.yaml". */
hp_result hp_scenario_read(const char *text, size_t size, const char *name, hp_scenario *scenario,
                           FILE *diagnostics, hp_error *err);
void hp_scenario_free(hp_scenario *scenario);

/* How its 36 wirings are surveyed: runs and start positions as the scenario states them, each run
 * ended as soon as it has settled. */
hp_survey_options hp_scenario_survey_options(const hp_scenario *scenario);
/* ... and an ensemble of motors like its own, each of whose runs ends as a spread has them end. */
hp_spread_options hp_scenario_spread_options(const hp_scenario *scenario);

/* What the fit of its parts is reckoned from; borrows of the scenario. */
hp_fit_given hp_scenario_fit_given(const hp_scenario *scenario);

/* Another throttle [%], 0 to 100, than the scenario's, as this option gives it ("--throttle"):
 * noted in its parameters, and for trials too unless the file gives them their own. */
void hp_scenario_take_throttle(hp_scenario *scenario, double percent, const char *option);

/* Whether a run of it may well take more steps than it may: reckoned, without simulating one. */
bool hp_scenario_is_slow(const hp_scenario *scenario);
/* Of a scenario whose runs take more steps than they may (HP_FAIL_SLOW): one line for each of its
 * numbers that make it so, with file, line, value, and what would do. */
void hp_scenario_tell_slow(const hp_scenario *scenario, FILE *out);

/* Reads a wiring as a person writes it: a number 1..36, or "S S S / P P P": the motor's sensor
 * leads joined to controller inputs U V W in that order, then the motor's phase leads joined to
 * controller outputs U V W, by label or by axis letter, separated by commas or blanks.
 * HP_FAIL_INPUT says what was wrong and lists the labels. */
hp_result hp_wiring_parse(const char *text, const hp_labels *labels, hp_wiring *wiring,
                          hp_error *err);

/* Adds the actions of a text to a course, in the order of time: "grip=50@0.3 brake=pulled@2", each
 * WHAT=VALUE@SECONDS, separated by blanks or commas. WHAT: key (on, off), grip (percent), brake
 * (pulled, released), pedals (turns a minute, backward below 0), speed (step), off and on (an
 * hp_control_lead_name). HP_FAIL_INPUT names the action and what was expected. */
hp_result hp_course_parse(const char *text, const hp_controls_params *controls, hp_course *course,
                          hp_error *err);
/* A course by itself, on these controls; `seconds` 0: four more than its last action. It must hold
 * an action before its end. */
hp_result hp_course_plan_parse(const char *text, const hp_controls_params *controls, double seconds,
                               hp_what_if_plan *plan, hp_error *err);

HP_API_END

#endif
