/*
 * The runs that a survey is made of, without a verdict.
 */
#ifndef HUBPHASE_SRC_DECIDE_JUDGE_SURVEY_RUNS_H
#define HUBPHASE_SRC_DECIDE_JUDGE_SURVEY_RUNS_H

#include "hubphase/decide/survey.h"

/* Runs every rest angle of `count` wirings into run[count * options->starts], wiring by wiring. A
 * run that breaks off says so in its figures; HP_FAIL_MEMORY, HP_FAIL_CANCELLED. */
hp_result hp_survey_runs(const hp_drive *drive, const hp_survey_options *options,
                         const hp_wiring *wiring, int count, hp_figures *run, hp_error *err);

#endif
