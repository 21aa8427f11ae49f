/*
 * Survey: all 36 wirings of a drive, each from several rest angles, in parallel.
 */
#ifndef HUBPHASE_DECIDE_SURVEY_H
#define HUBPHASE_DECIDE_SURVEY_H

#include "hubphase/base/result.h"
#include "hubphase/decide/verdict.h"
#include "hubphase/sim/engine.h"

HP_API_BEGIN

#define HP_SURVEY_STARTS_MAX 1000

typedef struct hp_survey_options {
    hp_run_options run; /* start_angle is set by the survey */
    hp_thresholds thresholds;
    int starts;           /* rest angles a wiring; 1..HP_SURVEY_STARTS_MAX */
    double rest_rad;      /* [rad electrical] by which all rest angles are turned; usually 0 */
    int jobs;             /* threads; >= 1; 0: one a processor */
    hp_progress progress; /* may be NULL; stopping gives HP_FAIL_CANCELLED */
    void *user;           /* borrowed; handed to progress */
} hp_survey_options;

typedef struct hp_survey {
    int starts;                              /* rest angles a wiring */
    double smooth_speed;                     /* [rad/s, rotor] see hp_survey_run */
    hp_judgement judgement[HP_WIRING_COUNT]; /* index number - 1 */
    hp_figures *run;                         /* owned; [ (number - 1) * starts + k ] */
} hp_survey;

/* Share that settled means may still move by before a run ends early, see hp_run_options. Chosen:
 * figures then differ from those of full-length runs by less than this; compared in the tests. */
#define HP_SURVEY_CALM_SHARE 1e-4

/* Runs end as soon as they have settled. */
hp_survey_options hp_survey_options_default(void);
/* HP_FAIL_INPUT naming the field that is out of range. */
hp_result hp_survey_options_check(const hp_survey_options *options, hp_error *err);

/* Runs and judges. A run that fails makes its wiring undecided and the survey goes on; HP_FAIL_*
 * comes back only for bad options, memory, or a cancel. smooth_speed is the mean speed of the
 * wirings judged correct or reverse, or hp_drive_ideal_speed when there is none. The same bytes for
 * any number of jobs. Free with hp_survey_free. */
hp_result hp_survey_run(const hp_drive *drive, const hp_survey_options *options, hp_survey *survey,
                        hp_error *err);
void hp_survey_free(hp_survey *survey);

/* Another one that is the same; HP_FAIL_MEMORY. Free with hp_survey_free. */
hp_result hp_survey_copy(const hp_survey *from, hp_survey *to, hp_error *err);

/* The first run of a wiring (number 1..36) that did what its verdict says: turned, or of a stalled
 * one did not. NULL: none, as where every run broke off. Borrowed. */
const hp_figures *hp_survey_typical_run(const hp_survey *survey, int number,
                                        const hp_thresholds *thresholds);

/* The judgement that hp_survey_run gives of this wiring. Runs this one alone where that is enough;
 * one that passes by itself must be held against the others, so all are run. */
hp_result hp_survey_one(const hp_drive *drive, const hp_wiring *wiring,
                        const hp_survey_options *options, hp_judgement *judgement, hp_error *err);

/* The first wiring that was judged correct; 0: none was. */
int hp_survey_first_correct(const hp_survey *survey);

HP_API_END

#endif
