/*
 * How a question is put on a terminal and its answer taken: see ask_form_parts.h.
 *
 * Where an entry is changed, what it says stands in the brackets, so that Enter alone keeps it, and
 * what it left out stays left out. Whatever may be left out can be taken away again.
 */
#include "app/ask_form_parts.h"

#include <string.h>

#define LEAVE_OUT "-" /* typed where an answer stands already */

/* What Enter alone gives. */
typedef struct offer {
    const char *fallback; /* NULL: nothing, an answer is wanted; "": it is left out */
    const char *shown;    /* NULL: as it is */
    bool may_go;          /* an entry that is changed may leave it out */
} offer;

/* What the question itself offers; or what stands in the entry, which goes into said[]. */
static offer offer_of(const hp_form *form, const hp_question *q, const hp_form_question *put,
                      char said[HP_FORM_ANSWER])
{
    const hp_bench_entry *before = form->context->before;
    if (before && hp_form_said(&form->given, before, q, said)[0])
        return (offer){.fallback = said, .may_go = !put->required && put->field};
    if (before && put->field && (!put->required || hp_form_left_out(&form->given, before, q)))
        return (offer){.fallback = "", .shown = "Enter: not noted", .may_go = true};
    if (put->required)
        return (offer){0};
    return (offer){.fallback = put->fallback, .shown = put->shown};
}

/* The default's index for hp_ask_choice. */
static int index_of(const hp_form_question *put, int choices, const offer *o)
{
    if (!o->fallback)
        return -1;
    for (int k = 0; k < put->choices; k++)
        if (strcmp(put->choice[k].word, o->fallback) == 0)
            return k;
    return choices; /* may be left out */
}

/* A choice that was left out leaves the entry alone. */
static hp_answer ask_choice(hp_form *form, const hp_question *q, hp_form_question *put,
                            const offer *o)
{
    char why[HP_FORM_WHY];
    int index = 0, choices = put->choices;
    if (o->may_go && o->fallback[0] && choices < HP_FORM_CHOICES)
        put->choice[choices++] = (hp_choice){LEAVE_OUT, "-: leave it out"};
    hp_answer answer = hp_ask_choice(form->ask, put->text, q->help, put->choice, choices,
                                     index_of(put, choices, o), &index);
    if (answer == HP_ANSWER_GIVEN && index >= 0 && index < put->choices)
        hp_form_take(&form->given, &form->state, q, put->choice[index].word, why, sizeof why);
    return answer;
}

/* Asks until the answer reads as the field wants it. */
static hp_answer ask_typed(hp_form *form, const hp_question *q, const hp_form_question *put,
                           const offer *o)
{
    char why[HP_FORM_WHY];
    for (;;) {
        hp_answer answer = hp_ask_text(form->ask, put->text, q->help, o->fallback, o->shown);
        if (answer != HP_ANSWER_GIVEN || !form->ask->text[0] ||
            (o->may_go && strcmp(form->ask->text, LEAVE_OUT) == 0) ||
            hp_form_take(&form->given, &form->state, q, form->ask->text, why, sizeof why))
            return answer;
        hp_ask_say(form->ask, "No: %s.", why);
    }
}

hp_answer hp_form_put(hp_form *form, const hp_question *question)
{
    char said[HP_FORM_ANSWER];
    hp_form_question put;
    hp_form_question_make(&form->given, &form->state, question, &put);
    const offer o = offer_of(form, question, &put, said);
    return put.choices > 0 ? ask_choice(form, question, &put, &o)
                           : ask_typed(form, question, &put, &o);
}
