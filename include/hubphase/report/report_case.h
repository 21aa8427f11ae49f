/*
 * What a report is about, and one wiring's figures in the units that people read.
 *
 * Table, CSV and JSON all take their numbers from hp_report_row, so they cannot disagree.
 */
#ifndef HUBPHASE_REPORT_REPORT_CASE_H
#define HUBPHASE_REPORT_REPORT_CASE_H

#include "hubphase/base/api.h"
#include "hubphase/decide/survey.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/model/wiring.h"
#include "hubphase/record/scenario.h"

HP_API_BEGIN

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

/* The numbers of a row with the names that CSV and JSON share, in their order; the counts of starts
 * stand after the first HP_REPORT_FIELDS_FIRST of them. */
typedef struct hp_report_field {
    const char *name;
    double value;
} hp_report_field;

#define HP_REPORT_FIELDS_FIRST 9
#define HP_REPORT_FIELDS       12

/* Fills field[] and returns HP_REPORT_FIELDS. */
int hp_report_row_fields(const hp_report_row *row, hp_report_field field[HP_REPORT_FIELDS]);

/* Whether the wheel turns at another speed than the rotor, so that both must be shown. */
bool hp_report_case_geared(const hp_report_case *subject);

HP_API_END

#endif
