/* What the conversation at the bench writes into the log, and reads again: see bench_talk.h. */
#include "app/bench_talk.h"

#include "app/session.h"
#include "app/terminal.h"

const hp_bench_log *hp_talk_log(const hp_talk *b)
{
    return hp_case_log(b->session->bench);
}

void hp_talk_error(const hp_talk *b, const hp_error *err)
{
    (void)fflush(b->ask.out.file);
    hp_terminal_line(stderr, "%s: %s", b->session->session.command, err->text);
}

/* Reads the log again; asks what to do while it cannot be read. False: the work has to end. */
static bool reload(hp_talk *b)
{
    static const hp_choice choices[] = {{"again", "again: it is mended, read it again"},
                                        {"stop", "stop: end for now"}};
    for (;;) {
        hp_error err = hp_error_none();
        int index = 0;
        b->shown = false;
        if (hp_case_reload(b->session->bench, &err) == HP_OK)
            return true;
        hp_talk_error(b, &err);
        b->status =
            err.code == HP_FAIL_INPUT || err.code == HP_FAIL_IO ? HP_EXIT_INPUT : HP_EXIT_FAILED;
        if (b->status == HP_EXIT_FAILED)
            return false; /* no memory: the session is gone */
        hp_answer answer = hp_ask_choice(&b->ask, "The log cannot be read any more. What now?",
                                         "It was changed by hand or by another program. What was "
                                         "said above is wrong in it.",
                                         choices, 2, 0, &index);
        if (answer == HP_ANSWER_END || answer == HP_ANSWER_STOP || index == 1)
            return false;
        b->status = HP_EXIT_FINE;
    }
}

bool hp_talk_take_in(hp_talk *b, bool *on)
{
    if (!hp_bench_log_changed(hp_talk_log(b)))
        return false;
    hp_ask_say(&b->ask,
               "The log %s was changed meanwhile, by hand or by another program. It is "
               "read again.",
               hp_talk_log(b)->path);
    *on = reload(b);
    if (!*on)
        return false;
    int count = hp_talk_log(b)->count;
    hp_ask_say(&b->ask, "It has %d entr%s now; here is where that leads.", count,
               count == 1 ? "y" : "ies");
    return true;
}

/* A change is made and said to be made. False: the work has to end. */
static bool made(hp_talk *b, int number, const char *how)
{
    b->status = hp_session_printed(b->session->session.command, number, how, hp_talk_log(b)->path);
    return b->status == HP_EXIT_FINE && reload(b);
}

/* Writes an entry into the log: at the end, or in the place of entry `number`. */
static hp_result write_entry(hp_talk *b, int number, hp_bench_entry *entry, hp_error *err)
{
    const hp_scenario *scenario = &b->session->session.scenario;
    const hp_bench_log *log = hp_talk_log(b);
    return number ? hp_bench_log_replace(log, number, scenario, entry, stderr, err)
                  : hp_bench_log_append(log->path, scenario, entry, stderr, err);
}

bool hp_talk_save(hp_talk *b, int number, hp_bench_entry *entry)
{
    static const hp_choice choices[] = {{"again", "again: it is mended, try again"},
                                        {"leave", "leave: throw this entry away"}};
    const char *path = hp_talk_log(b)->path;
    for (;;) {
        hp_error err = hp_error_none();
        int index = 0;
        bool others = hp_bench_log_changed(hp_talk_log(b));
        if (write_entry(b, number, entry, &err) == HP_OK) {
            if (number)
                hp_ask_say(&b->ask,
                           "Entry %d in %s is changed; its old lines stay in the file as comments.",
                           number, path);
            else
                hp_ask_say(&b->ask, "Saved as entry %d in %s.", entry->entry.number, path);
            if (others)
                hp_ask_say(&b->ask, "The log was changed meanwhile, by hand or by another program. "
                                    "It is read again.");
            return made(b, entry->entry.number, number ? "changed in" : "saved in");
        }
        hp_talk_error(b, &err);
        if (number && others) {
            hp_ask_say(&b->ask, "Look which entry it is now, and change it again.");
            return reload(b);
        }
        b->status = err.code == HP_FAIL_IO ? HP_EXIT_OUTPUT : HP_EXIT_INPUT;
        hp_answer answer = hp_ask_choice(&b->ask, "The entry is not saved. What now?",
                                         "A full disk, a stick pulled out, a log edited by hand.",
                                         choices, 2, 0, &index);
        if (answer == HP_ANSWER_END || answer == HP_ANSWER_STOP)
            return false;
        b->status = HP_EXIT_FINE;
        if (answer != HP_ANSWER_GIVEN || index == 1)
            return true;
    }
}

bool hp_talk_take_out(hp_talk *b, int number)
{
    const hp_scenario *scenario = &b->session->session.scenario;
    const hp_bench_log *log = hp_talk_log(b);
    hp_error err = hp_error_none();
    bool others = hp_bench_log_changed(log);
    if (hp_bench_log_remove(log, number, scenario, stderr, &err) != HP_OK) {
        hp_talk_error(b, &err);
        if (!others)
            return true;
        hp_ask_say(&b->ask, "Look which entry it is now.");
        return reload(b);
    }
    hp_ask_say(&b->ask, "Taken back; it stays in the file as a comment:");
    hp_bench_entry_print(&log->entry[number - 1], scenario, &b->ask.out);
    return made(b, number, "taken back in");
}

bool hp_talk_take_back(hp_talk *b)
{
    if (hp_talk_log(b)->count > 0)
        return hp_talk_take_out(b, hp_talk_log(b)->count);
    hp_ask_say(&b->ask, "There is no entry to take back.");
    return true;
}
