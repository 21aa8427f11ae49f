/* An earlier entry changed, or taken out: see bench_talk.h. */
#include "app/bench_talk.h"

#include "app/ask_form.h"
#include "hubphase/report/case_words.h"

#include <stdlib.h>

/* Goes through an entry's answers and puts them in its place. False: the work ends. */
static bool change_answers(hp_talk *b, int number)
{
    /* A copy: the log may be read again while the questions are asked. */
    hp_bench_entry before = hp_talk_log(b)->entry[number - 1], entry;
    hp_form_context context = {.scenario = &b->session->session.scenario,
                               .plan = hp_case_plan(b->session->bench),
                               .number = number,
                               .before = &before};
    hp_ask_say(&b->ask,
               "Enter alone keeps the answer in the brackets, a single hyphen leaves it out.");
    switch (hp_form_ask(&b->ask, &context, before.entry.reading, &entry)) {
    case HP_ANSWER_GIVEN: return hp_talk_save(b, number, &entry);
    case HP_ANSWER_BACK:
    case HP_ANSWER_UNDO: return true;
    case HP_ANSWER_STOP:
    case HP_ANSWER_END: hp_ask_say(&b->ask, "The entry stays as it was."); return false;
    }
    return false;
}

/* The number of one of the entries, which are listed. */
static hp_answer ask_number(hp_talk *b, int *number)
{
    const hp_bench_log *log = hp_talk_log(b);
    fputc('\n', b->ask.out.file);
    for (int k = 0; k < log->count; k++)
        hp_bench_entry_print(&log->entry[k], &b->session->session.scenario, &b->ask.out);
    for (;;) {
        char *end = NULL;
        hp_answer answer =
            hp_ask_text(&b->ask, "Which entry? Type its number.",
                        "Only its number, such as 1. \"back\" changes nothing.", NULL, NULL);
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        long typed = strtol(b->ask.text, &end, 10);
        if (*end == '\0' && typed >= 1 && typed <= log->count) {
            *number = (int)typed;
            return HP_ANSWER_GIVEN;
        }
        hp_ask_say(&b->ask, "\"%s\" is no entry's number, must be 1 to %d.", b->ask.text,
                   log->count);
    }
}

bool hp_talk_change(hp_talk *b)
{
    static const hp_choice choices[] = {
        {"answers", "answers: go through its questions again; each answer stands there to be kept"},
        {"drop", "drop: take the entry out; its lines stay in the file as comments"},
        {"keep", "keep: leave it as it is"}};
    const hp_bench_log *log = hp_talk_log(b);
    int number = 0, index = 0;
    if (log->count == 0) {
        hp_ask_say(&b->ask, "There is no entry to change.");
        return true;
    }
    hp_answer answer = ask_number(b, &number);
    if (answer == HP_ANSWER_GIVEN) {
        fputc('\n', b->ask.out.file);
        hp_bench_entry_print(&log->entry[number - 1], &b->session->session.scenario, &b->ask.out);
        answer = hp_ask_choice(&b->ask, "What is to be done with it?",
                               "Its time stays. Advice and sheet then go by the changed log.",
                               choices, 3, 2, &index);
    }
    if (answer != HP_ANSWER_GIVEN)
        return answer == HP_ANSWER_BACK || answer == HP_ANSWER_UNDO;
    if (index == 0)
        return change_answers(b, number);
    return index == 1 ? hp_talk_take_out(b, number) : true;
}
