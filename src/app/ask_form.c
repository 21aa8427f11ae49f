/*
 * A form: the questions for one entry, asked in order; see the header.
 *
 * What an answer changed is kept with a copy of the state before it, so that "back" undoes exactly
 * that answer.
 */
#include "app/ask_form_parts.h"

#include "hubphase/base/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#define STEPS_MAX 24 /* questions of one form: pins has the most, 15 */

/* One answered question. */
typedef struct step {
    const hp_question *question;
    hp_form_state before;
} step;

/* From the first question to the last; the steps stay for going back. */
static hp_answer ask_values(hp_form *form, const hp_question *question, step *steps, int *count)
{
    /* Coming back from behind the last question: to the last that was asked. */
    if (*count > 0) {
        *count -= 1;
        form->state = steps[*count].before;
        question = steps[*count].question;
    }
    while (question->text) {
        if (!hp_form_wants(&form->given, &form->state, question)) {
            question++;
            continue;
        }
        assert(*count < STEPS_MAX);
        hp_form_state before = form->state;
        hp_answer answer = hp_form_put(form, question);
        if (answer == HP_ANSWER_GIVEN) {
            steps[(*count)++] = (step){question, before};
            question++;
            continue;
        }
        if ((answer != HP_ANSWER_BACK && answer != HP_ANSWER_UNDO) || *count == 0)
            return answer;
        *count -= 1;
        form->state = steps[*count].before;
        question = steps[*count].question;
    }
    return HP_ANSWER_GIVEN;
}

static void say_misfit(void *user, const char *text)
{
    const hp_form *form = user;
    hp_ask_say(form->ask, "This does not fit together: %s.", text);
}

/* The checks that the reader will make; says what does not fit together. */
static bool is_sound(hp_form *form)
{
    return hp_bench_entry_fits(&form->state.entry, form->given.labels, "the entry.", say_misfit,
                               form);
}

#define NO_NOTE "-" /* typed where a note stands already */

static hp_answer ask_note(hp_form *form)
{
    const hp_bench_entry *before = form->context->before;
    bool old = before && before->note[0];
    const char *fallback = old ? before->note : "", *shown = old ? NULL : "Enter: none";
    const char *help = old ? "Anything worth remembering, in your own words, on one line. A single "
                             "hyphen: no note."
                           : "Anything worth remembering, in your own words, on one line.";
    hp_answer answer = hp_ask_text(form->ask, "A note?", help, fallback, shown);
    while (answer == HP_ANSWER_GIVEN && strlen(form->ask->text) >= HP_BENCH_NOTE_SIZE) {
        hp_ask_say(form->ask, "No: that is too long for a note, must be at most %d bytes.",
                   HP_BENCH_NOTE_SIZE - 1);
        answer = hp_ask_text(form->ask, "A note?", help, fallback, shown);
    }
    if (answer == HP_ANSWER_GIVEN)
        snprintf(form->state.entry.note, HP_BENCH_NOTE_SIZE, "%.*s", HP_BENCH_NOTE_SIZE - 1,
                 old && strcmp(form->ask->text, NO_NOTE) == 0 ? "" : form->ask->text);
    return answer;
}

/* The time of a new entry is now; a changed one keeps its own. */
static void set_time(hp_form *form)
{
    hp_bench_entry *entry = &form->state.entry;
    if (form->context->before)
        snprintf(entry->time, sizeof entry->time, "%s", form->context->before->time);
    else
        hp_bench_log_now(entry->time, sizeof entry->time);
    entry->entry.number = form->context->number;
}

static hp_answer confirm(hp_form *form)
{
    static const hp_choice choices[] = {{"save", "save it"}, {"back", "go back and change it"}};
    int index = 0;
    hp_bench_entry *entry = &form->state.entry;
    set_time(form);
    fputs("\nThis is what I have:\n", form->ask->out.file);
    hp_bench_entry_print(entry, form->context->scenario, &form->ask->out);
    hp_answer answer = hp_ask_choice(form->ask, "Is that right?", "Nothing is written yet.",
                                     choices, 2, 0, &index);
    return answer == HP_ANSWER_GIVEN && index == 1 ? HP_ANSWER_BACK : answer;
}

/* Note and confirmation. The end of the input, not of patience, leaves what was given complete. */
static hp_answer ask_last(hp_form *form)
{
    for (;;) {
        hp_answer answer = ask_note(form);
        if (answer == HP_ANSWER_END) {
            set_time(form);
            return HP_ANSWER_GIVEN;
        }
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        answer = confirm(form);
        if (answer == HP_ANSWER_END)
            return HP_ANSWER_GIVEN;
        if (answer != HP_ANSWER_BACK && answer != HP_ANSWER_UNDO)
            return answer;
    }
}

hp_answer hp_form_ask(hp_ask *ask, const hp_form_context *context, const hp_reading *kind,
                      hp_bench_entry *entry)
{
    const hp_question *questions = hp_questions_of(kind);
    hp_form form = {.ask = ask,
                    .context = context,
                    .given = {.drive = &context->scenario->drive,
                              .labels = &context->scenario->labels,
                              .plan = context->plan,
                              .advice = context->advice}};
    if (!questions) {
        hp_ask_say(ask, "There are no questions for %s yet: `hubphase log' takes it.",
                   hp_reading_title(kind));
        return HP_ANSWER_BACK;
    }
    step *steps = calloc(STEPS_MAX, sizeof *steps);
    int count = 0;
    hp_answer answer = HP_ANSWER_END;
    form.state = hp_form_begin(kind);
    while (steps) {
        answer = ask_values(&form, questions, steps, &count);
        if (answer != HP_ANSWER_GIVEN)
            break;
        if (context->before)
            hp_form_keep(&form.given, context->before, &form.state.entry);
        if (hp_bench_says_nothing(&form.state.entry.entry)) {
            hp_ask_say(ask, "Nothing was noted, so nothing is saved.");
            answer = HP_ANSWER_BACK;
            break;
        }
        if (!is_sound(&form))
            continue; /* the last question again */
        answer = ask_last(&form);
        if (answer != HP_ANSWER_BACK && answer != HP_ANSWER_UNDO)
            break;
    }
    free(steps);
    *entry = form.state.entry;
    return answer == HP_ANSWER_UNDO ? HP_ANSWER_BACK : answer;
}
