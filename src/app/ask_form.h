/*
 * The questions for one entry of the bench log, in plain words, one at a time.
 */
#ifndef HUBPHASE_SRC_APP_ASK_FORM_H
#define HUBPHASE_SRC_APP_ASK_FORM_H

#include "app/ask.h"
#include "hubphase/record/bench_log.h"

/* Where defaults come from; borrowed. */
typedef struct hp_form_context {
    const hp_scenario *scenario;
    const hp_plan_params *plan;
    const hp_advice *advice;      /* what was advised; taken up only where the entry fits it */
    int number;                   /* that the entry will have in the log */
    const hp_bench_entry *before; /* whose place it takes: its time stays, its note is offered; or
                                     NULL */
} hp_form_context;

/* Asks for an entry of this kind, by the questions that its words have for it.
 * HP_ANSWER_GIVEN: it is complete, checked and confirmed, its time is now. HP_ANSWER_BACK: the
 * person went back before the first question, or left every question out, which was said. "undo" is
 * "back" here: what is saved already is none of its business. Input that ends after the last value
 * counts as a confirmation. */
hp_answer hp_form_ask(hp_ask *ask, const hp_form_context *context, const hp_reading *kind,
                      hp_bench_entry *entry);

#endif
