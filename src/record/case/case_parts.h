/*
 * What a case is made of, for the layers below that put it into words.
 */
#ifndef HUBPHASE_SRC_RECORD_CASE_CASE_PARTS_H
#define HUBPHASE_SRC_RECORD_CASE_CASE_PARTS_H

#include "decide/advise/plan.h"
#include "hubphase/record/case.h"
#include "hubphase/record/practice_case.h"

/* Holds pointers into itself: never copied. */
struct hp_case {
    const hp_scenario *scenario; /* borrowed */
    hp_case_options options;     /* its texts are of no use after hp_case_create */
    char *log_text;              /* owned; NULL: the log is a file */
    hp_bench_log log;            /* owned; as it was read */
    hp_likelihood table;         /* owned */
    hp_table_origin origin;
    hp_belief belief;                  /* owned; all entries of the log */
    hp_plan_params plan;               /* the scenario's, without what the log leaves out */
    hp_planner *planner;               /* owned; of that plan */
    hp_commission_case *commissioning; /* owned; of the same scenario and log */
};

/* The belief after all entries of a log, mends that did not help found out. Free it in any case. */
hp_result hp_case_believe(const hp_likelihood *table, const hp_person *person,
                          const hp_prior_params *prior, const hp_bench_log *log, hp_belief *belief,
                          hp_error *err);

/* The advice, with what the steps of commissioning say of it. */
hp_result hp_case_advise(hp_case *c, bool thorough, hp_advice *advice, hp_error *err);

/* As hp_case_reload_text, of a log whose entries are called by these numbers, which ascend, and not
 * by their places: some were taken out. */
hp_result hp_case_reload_numbered(hp_case *c, const char *text, const int *number, int count,
                                  hp_error *err);

/* Puts what the machine's own figures, by the steps as they stand in `list`, foretell in place of
 * an end's bands at full throttle. */
void hp_case_use_own(const hp_case *c, const hp_commission *list, hp_advice *advice);

/* What is left by what the level of practice says (practice_case.c), of the log that its bench
 * holds; borrowed until it holds another. The advice knows nothing of it. */
const hp_belief *hp_practice_case_counted(const hp_practice_case *c);

#endif
