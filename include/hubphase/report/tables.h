/*
 * Surveys, spreads and runs as text for people, and as JSON and CSV for programs.
 *
 * Text is laid out for a terminal of 80 columns and readable without colour; names from files are
 * made safe for it. The fields of JSON and CSV are a contract: docs/json.md. The same input gives
 * the same bytes. Calls that return a result give HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot
 * be written; a stream that text was printed to says so itself (ferror).
 */
#ifndef HUBPHASE_REPORT_TABLES_H
#define HUBPHASE_REPORT_TABLES_H

#include "hubphase/base/result.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/fit.h"
#include "hubphase/decide/spread.h"
#include "hubphase/decide/what_if.h"
#include "hubphase/record/scenario.h"

#include <stdbool.h>
#include <stdio.h>

HP_API_BEGIN

/* ---- what a report is about, and figures in the units that people read ----------------------- */

/* Table, CSV and JSON all take their numbers from hp_report_row, so they cannot disagree. */

/* All borrowed; the owner is usually a scenario. */
typedef struct hp_report_case {
    const char *file;  /* scenario file as the user named it */
    const char *about; /* what the scenario shows; may be NULL */
    const hp_drive *drive;
    const hp_labels *labels;
    const hp_parameters *parameters;
} hp_report_case;

/* Of a scenario, from which everything is borrowed. */
hp_report_case hp_report_case_of(const hp_scenario *scenario);

/* One wiring's outcome. A number that is not known (an undecided wiring) or has no bound (the
 * excess where friction took nothing) is NAN or INFINITY: JSON shows null, CSV an empty field. */
typedef struct hp_report_row {
    int number;
    hp_wiring wiring;
    hp_verdict verdict;
    hp_direction direction;
    hp_rough_kind kind;
    double speed_rpm;      /* rotor; forward positive */
    double speed_sd_rpm;   /* rotor */
    double torque_mean_nm; /* electromagnetic, on the rotor */
    double torque_rms_nm;  /* about the mean */
    double battery_current_a;
    double phase_peak_a;
    double phase_rms_a;
    double net_turn_deg; /* electrical */
    double current_excess;
    int starts;
    int starts_tried;
    double wheel_speed_rpm;       /* wheel */
    double torque_ripple;         /* rms about the mean over the mean */
    double idle_current;          /* share of the phase current that gives no torque; 0..1 */
    hp_direction rotor_direction; /* differs from `direction` behind a one-way clutch only */
    bool measured;                /* figures there are; false where a run broke off */
    char reason[200];
} hp_report_row;

/* The row of one judged wiring. */
hp_report_row hp_report_row_make(int number, const hp_judgement *judgement);
/* The rows of a survey in the order of the numbers. */
void hp_report_rows_make(const hp_survey *survey, hp_report_row row[HP_WIRING_COUNT]);

/* ---- a survey, or some wirings of it --------------------------------------------------------- */

/* The whole report: parts, table, what to join, rows, cautions. */
void hp_survey_print(const hp_report_case *subject, const hp_survey *survey, const hp_screen *out);

/* Writes the object with `scenario`, `parameters` and `wirings`, one entry a row in the order
 * given, and a newline. The same rows give the same bytes. HP_FAIL_MEMORY, or HP_FAIL_IO when `out`
 * cannot be written. */
hp_result hp_survey_json_write(const hp_report_case *subject, const hp_report_row *row, int count,
                               FILE *out, hp_error *err);

/* A head line and a line for each row. HP_FAIL_IO when `out` cannot be written. */
hp_result hp_survey_csv_write(const hp_report_case *subject, const hp_report_row *row, int count,
                              FILE *out, hp_error *err);

/* ---- a spread -------------------------------------------------------------------------------- */

/* Parts, what was varied, the likeliest verdicts as a table, shares and bands of every wiring, what
 * drives them, cautions. */
void hp_spread_print(const hp_report_case *subject, const hp_spread *spread, const hp_screen *out);

/* Writes the object with `scenario`, `parameters`, `ensemble`, `wirings` and `groups`, and a
 * newline. The same spread gives the same bytes. HP_FAIL_MEMORY, or HP_FAIL_IO when `out` cannot be
 * written. */
hp_result hp_spread_json_write(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                               hp_error *err);

/* A head line and a line for each wiring. HP_FAIL_IO when `out` cannot be written. */
hp_result hp_spread_csv_write(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                              hp_error *err);

/* ---- one wiring, one run --------------------------------------------------------------------- */

/* Why a wiring does what it does: joints, the sectors as a table, what follows, and what the survey
 * of all 36 (NULL: there is none) made of it, against the correct wiring. */
void hp_explain_print(const hp_report_case *subject, const hp_wiring *wiring,
                      const hp_survey *survey, const hp_screen *out);

/* One run: joints, verdict from this one rest angle, figures, power, cautions. */
void hp_spin_print(const hp_report_case *subject, const hp_wiring *wiring,
                   const hp_judgement *judgement, const hp_figures *figures, const hp_screen *out);

/* The waveforms of a run: a head line and a line a sample. HP_FAIL_IO when `out` cannot be
 * written. */
hp_result hp_trace_csv_write(const hp_trace *trace, FILE *out, hp_error *err);

/* ---- the controls ---------------------------------------------------------------------------- */

/* What can be wrong with the controls, one result each: what was reckoned with, each with its
 * finding and what to do, cautions. */
void hp_what_if_print(const hp_report_case *subject, const hp_wiring *wiring,
                      const hp_controls_params *controls, const hp_what_if_result *result,
                      int count, const hp_screen *out);
/* One course, action by action. `about` (may be NULL): it shows this; `stated`: the controls before
 * anything was supposed. */
void hp_course_print(const hp_report_case *subject, const hp_wiring *wiring,
                     const hp_controls_params *stated, const hp_course_run *run,
                     const hp_what_if_result *about, const hp_screen *out);
/* The same as JSON: docs/json.md. `parameters`: those of the controls. */
hp_result hp_what_if_json_write(const hp_report_case *subject, const hp_parameters *parameters,
                                const hp_wiring *wiring, const hp_controls_params *controls,
                                const hp_what_if_result *result, int count, FILE *out,
                                hp_error *err);
hp_result hp_course_json_write(const hp_report_case *subject, const hp_parameters *parameters,
                               const hp_wiring *wiring, const hp_controls_params *stated,
                               const hp_course_run *run, const hp_what_if_result *about, FILE *out,
                               hp_error *err);

/* ---- the fit --------------------------------------------------------------------------------- */

/* Every line with its figures, rule and source; slope by slope. */
void hp_fit_print(const hp_report_case *subject, const hp_vehicle *vehicle, const hp_fit *fit,
                  const hp_screen *out);
/* The same with the machine's curves; `vehicle`: the scenario's fit_parameters. */
hp_result hp_fit_json_write(const hp_report_case *subject, const hp_parameters *vehicle,
                            const hp_fit *fit, FILE *out, hp_error *err);

HP_API_END

#endif
