/* How a question is put on a terminal and its answer taken: see ask_form_parts.h. */
#include "app/ask_form_parts.h"

#include <string.h>

/* The default's index for hp_ask_choice. */
static int usual_index(const hp_form_question *put)
{
    if (put->required)
        return -1;
    for (int k = 0; k < put->choices; k++)
        if (strcmp(put->choice[k].word, put->fallback) == 0)
            return k;
    return put->choices; /* may be left out */
}

/* A choice that was left out leaves the entry alone. */
static hp_answer ask_choice(hp_form *form, const hp_question *q, const hp_form_question *put)
{
    char why[HP_FORM_WHY];
    int index = 0;
    hp_answer answer = hp_ask_choice(form->ask, put->text, q->help, put->choice, put->choices,
                                     usual_index(put), &index);
    if (answer == HP_ANSWER_GIVEN && index >= 0)
        hp_form_take(&form->given, &form->state, q, put->choice[index].word, why, sizeof why);
    return answer;
}

/* Asks until the answer reads as the field wants it. */
static hp_answer ask_typed(hp_form *form, const hp_question *q, const hp_form_question *put)
{
    char why[HP_FORM_WHY];
    for (;;) {
        hp_answer answer = hp_ask_text(form->ask, put->text, q->help,
                                       put->required ? NULL : put->fallback, put->shown);
        if (answer != HP_ANSWER_GIVEN ||
            hp_form_take(&form->given, &form->state, q, form->ask->text, why, sizeof why))
            return answer;
        hp_ask_say(form->ask, "No: %s.", why);
    }
}

hp_answer hp_form_put(hp_form *form, const hp_question *question)
{
    hp_form_question put;
    hp_form_question_make(&form->given, &form->state, question, &put);
    return put.choices > 0 ? ask_choice(form, question, &put) : ask_typed(form, question, &put);
}
