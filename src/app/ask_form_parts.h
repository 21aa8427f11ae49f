/*
 * The parts of a form: questions by kind of entry (ask_form_questions.c), how each is asked
 * (ask_form_values.c).
 */
#ifndef HUBPHASE_SRC_APP_ASK_FORM_PARTS_H
#define HUBPHASE_SRC_APP_ASK_FORM_PARTS_H

#include "app/ask_form.h"
#include "record/log/bench_log_keys.h"

/* Everything that an answer can change. */
typedef struct hp_form_state {
    hp_bench_entry entry;
    bool all_joined;  /* all pairs have continuity */
    bool pins_wanted; /* the plug's pins are to be written down */
} hp_form_state;

typedef struct hp_form {
    hp_ask *ask;
    const hp_form_context *context;
    hp_form_state state;
} hp_form;

typedef struct hp_question hp_question;

struct hp_question {
    hp_entry_kind kind;
    /* Asks and takes the answer into form->state. */
    hp_answer (*ask)(hp_form *form, const hp_question *question);
    const char *key;  /* of bench_log_keys, or NULL */
    int which;        /* pair, lead or code */
    const char *text; /* the question; %s: the name of pair, lead or code */
    const char *help;
    const char *fallback;     /* as for hp_ask_text; NULL: an answer is wanted */
    const char *shown;        /* how the default is shown */
    const hp_choice *choices; /* of words, in the order of the key's */
    bool (*wanted)(const hp_form_state *state);
};

/* All questions, those of one kind together and in order; ended by a row without `ask`. */
extern const hp_question hp_form_questions[];

/* A value typed for the key. */
hp_answer hp_form_value(hp_form *form, const hp_question *question);
/* Throttle, with the plan's as the default. */
hp_answer hp_form_throttle(hp_form *form, const hp_question *question);
/* One of the key's words. */
hp_answer hp_form_words(hp_form *form, const hp_question *question);
hp_answer hp_form_motion(hp_form *form, const hp_question *question);
/* Yes or no; a fallback lets it be left out. */
hp_answer hp_form_tell(hp_form *form, const hp_question *question);
/* Current flowed or not: the opposite of what the log notes. */
hp_answer hp_form_current(hp_form *form, const hp_question *question);
/* Number of one pair, or "open" where the key allows it. */
hp_answer hp_form_pair(hp_form *form, const hp_question *question);
hp_answer hp_form_continuity_all(hp_form *form, const hp_question *question);
hp_answer hp_form_continuity(hp_form *form, const hp_question *question);
hp_answer hp_form_pins_gate(hp_form *form, const hp_question *question);
hp_answer hp_form_pin(hp_form *form, const hp_question *question);
hp_answer hp_form_lead(hp_form *form, const hp_question *question);
hp_answer hp_form_code(hp_form *form, const hp_question *question);
hp_answer hp_form_row(hp_form *form, const hp_question *question);
hp_answer hp_form_wiring(hp_form *form, const hp_question *question);
hp_answer hp_form_starts_tried(hp_form *form, const hp_question *question);
hp_answer hp_form_starts(hp_form *form, const hp_question *question);
hp_answer hp_form_part(hp_form *form, const hp_question *question);
hp_answer hp_form_part_lead(hp_form *form, const hp_question *question);

/* Whether the motion of a trial means that wheel or rotor turned. */
bool hp_form_turned(const hp_form_state *state);

#endif
