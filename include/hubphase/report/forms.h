/*
 * Forms: how the questions for one entry of the bench log are put and their answers taken, by the
 * type of the field that each is about. Whoever asks them - a terminal line by line, a page all at
 * once - takes text, answers and limits from here, so that both ask the same.
 *
 *     hp_form_state state = hp_form_begin(kind);
 *     for (const hp_question *q = hp_questions_of(kind); q->text; q++)
 *         if (hp_form_wants(&given, &state, q)) {
 *             hp_form_question_make(&given, &state, q, &put);
 *             ... put.text is shown, an answer given ...
 *             hp_form_take(&given, &state, q, answer, why, sizeof why);
 *         }
 */
#ifndef HUBPHASE_REPORT_FORMS_H
#define HUBPHASE_REPORT_FORMS_H

#include "hubphase/base/result.h"
#include "hubphase/record/bench_log.h"
#include "hubphase/report/case_words.h"

#include <stdbool.h>
#include <stddef.h>

HP_API_BEGIN

/* Everything that an answer can change; may be copied, to take an answer back. */
typedef struct hp_form_state {
    hp_bench_entry entry;
    bool closed; /* the last gate was closed: nothing is asked until the next */
} hp_form_state;

/* Nothing answered yet. */
hp_form_state hp_form_begin(const hp_reading *kind);

/* Whether a question of the entry's kind is to be asked, by what was answered so far. */
bool hp_form_wants(const hp_question_case *given, const hp_form_state *state,
                   const hp_question *question);

#define HP_FORM_CHOICES 32 /* left_out has a word for each step */
#define HP_FORM_TEXT    400
#define HP_FORM_ANSWER  240 /* room for any answer that an entry gives */
#define HP_FORM_KEY     80
#define HP_FORM_WHY     720

/* A question as it is put. */
typedef struct hp_form_question {
    const hp_field *field;             /* that it is about; NULL: a gate */
    char text[HP_FORM_TEXT];           /* the question, with the name of pair, pin or code */
    bool required;                     /* an answer is wanted; else what stands next counts */
    char fallback[64];                 /* "": nothing, it is left out */
    const char *shown;                 /* how that is shown where it is typed; NULL: as it is */
    hp_limits limits;                  /* of a number, as the answers so far leave them */
    int choices;                       /* 0: the answer is typed */
    hp_choice choice[HP_FORM_CHOICES]; /* borrowed from words, labels and this list */
} hp_form_question;

void hp_form_question_make(const hp_question_case *given, const hp_form_state *state,
                           const hp_question *question, hp_form_question *put);

/* Takes an answer into the state: the word of a choice, or what was typed; "" where it is left out.
 * False, the state as it was, when it is none; why[size] then says what was expected, without a
 * full stop. */
bool hp_form_take(const hp_question_case *given, hp_form_state *state, const hp_question *question,
                  const char *answer, char *why, size_t size);

/* The answer that an entry gives to a question, as it would be given to hp_form_take; "": none.
 * Returns out[HP_FORM_ANSWER]. */
char *hp_form_said(const hp_question_case *given, const hp_bench_entry *entry,
                   const hp_question *question, char *out);

/* What an entry that is changed says and no question of its form asks for, neither by its own
 * answers nor by those that took their place in `entry`: taken over where it fits those, so that a
 * change loses nothing that nobody was asked. */
void hp_form_keep(const hp_question_case *given, const hp_bench_entry *before,
                  hp_bench_entry *entry);

/* Whether an entry leaves a question out that its own answers lead to. */
bool hp_form_left_out(const hp_question_case *given, const hp_bench_entry *entry,
                      const hp_question *question);

/* What a question is called among those of its kind: its field, "battery_a", with pair, code or
 * lead behind a dot where it asks for one of several: "resistance_ohm.U-V". Returns
 * out[HP_FORM_KEY]. */
char *hp_form_key(const hp_reading *kind, const hp_question *question, char *out);

/* Said where an answer is wanted and none was given. */
extern const char hp_form_wanted[];

HP_API_END

#endif
