/*
 * How the questions of a form are put on a terminal: hubphase/report/forms.h.
 */
#ifndef HUBPHASE_SRC_APP_ASK_FORM_PARTS_H
#define HUBPHASE_SRC_APP_ASK_FORM_PARTS_H

#include "app/ask_form.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/report/case_words.h"
#include "hubphase/report/forms.h"

typedef struct hp_form {
    hp_ask *ask;
    const hp_form_context *context;
    hp_question_case given;
    hp_form_state state;
} hp_form;

/* Puts a question and takes the answer into form->state. */
hp_answer hp_form_put(hp_form *form, const hp_question *question);

#endif
