/* Commissioning, one step after the other: see bench_talk.h. */
#include "app/bench_talk.h"

#include "hubphase/report/case_words.h"

#include <string.h>

/* Why a step cannot be done here; empty where nobody says. */
static hp_answer ask_reason(hp_talk *b, char reason[HP_BENCH_NOTE_SIZE])
{
    for (;;) {
        hp_answer answer =
            hp_ask_text(&b->ask, "Why can it not be done here?",
                        "A few words, on one line, such as: no bench supply. They stand on the "
                        "sheet, where the next person sees that nobody has looked.",
                        "", "Enter: no reason");
        if (answer != HP_ANSWER_GIVEN || strlen(b->ask.text) < HP_BENCH_NOTE_SIZE) {
            snprintf(reason, HP_BENCH_NOTE_SIZE, "%.*s", HP_BENCH_NOTE_SIZE - 1, b->ask.text);
            return answer;
        }
        hp_ask_say(&b->ask, "No: that is too long for a note, must be at most %d bytes.",
                   HP_BENCH_NOTE_SIZE - 1);
    }
}

bool hp_talk_leave_out(hp_talk *b, const hp_reading *step)
{
    char reason[HP_BENCH_NOTE_SIZE];
    hp_error err = hp_error_none();
    hp_bench_entry entry;
    const hp_reading *kind = hp_reading_find("left_out");
    const hp_typed_value value = {hp_field_find(kind, "step"), hp_reading_name(step)};
    hp_answer answer = ask_reason(b, reason);
    if (answer == HP_ANSWER_BACK || answer == HP_ANSWER_UNDO)
        return true;
    if (answer != HP_ANSWER_GIVEN)
        return false;
    hp_result result = hp_bench_entry_type(kind, &value, 1, &b->session->session.scenario, NULL,
                                           NULL, &entry, &err);
    if (result != HP_OK) {
        hp_talk_error(b, &err);
        b->status = HP_EXIT_FAILED;
        return false;
    }
    hp_bench_log_now(entry.time, sizeof entry.time);
    snprintf(entry.note, sizeof entry.note, "%s", reason);
    return hp_talk_save(b, 0, &entry);
}

bool hp_talk_commission(hp_talk *b)
{
    /* What was found is mended, not left out. */
    enum { DONE, OTHER, CANNOT, WIRING, STOP, COUNT };
    static const hp_choice choices[] = {
        {"done", "done: write down what it showed"},
        {"other", "other: take another step of the list"},
        {"cannot", "cannot: it cannot be done here, leave it out"},
        {"wiring", "wiring: back to where the wiring stands"},
        {"stop", "stop: end for now, everything is saved"},
    };
    b->shown = false;
    for (;;) {
        const hp_commission *list = hp_talk_steps(b);
        const hp_reading *kind = list->next >= 0 ? list->step[list->next].reading : NULL;
        char why[HP_COMMISSION_WHY_WORDS];
        int index = 0;
        hp_commission_why_words(list, why, sizeof why);
        if (why[0])
            hp_ask_say(&b->ask, "%s", why);
        if (!kind)
            return true;
        hp_talk_show_step(b, kind);
        bool stopped = list->why == HP_COMMISSION_STOPPED;
        hp_choice offered[COUNT];
        int count = 0, which[COUNT];
        for (int k = 0; k < COUNT; k++)
            if (k != CANNOT || !stopped) {
                which[count] = k;
                offered[count++] = choices[k];
            }
        hp_answer answer = hp_ask_choice(&b->ask, "What now?",
                                         "Do the step first; the questions "
                                         "come then.",
                                         offered, count, 0, &index);
        index = answer == HP_ANSWER_GIVEN ? which[index] : DONE;
        if (answer == HP_ANSWER_STOP || answer == HP_ANSWER_END ||
            (answer == HP_ANSWER_GIVEN && index == STOP))
            return false;
        if (answer == HP_ANSWER_BACK || (answer == HP_ANSWER_GIVEN && index == WIRING))
            return true;
        if (answer == HP_ANSWER_UNDO) {
            if (!hp_talk_take_back(b))
                return false;
            continue;
        }
        if (index == CANNOT) {
            if (!hp_talk_leave_out(b, kind))
                return false;
            continue;
        }
        if (index == OTHER) {
            answer = hp_talk_ask_step(b, &kind);
            if (answer != HP_ANSWER_GIVEN)
                continue;
            hp_talk_show_step(b, kind);
        }
        if (!hp_talk_take_step(b, kind))
            return false;
    }
}
