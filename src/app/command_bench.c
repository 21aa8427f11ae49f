/* `hubphase bench FILE`: at the bench, one step and one question at a time. */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/ask_form.h"
#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define KIND_TEXT 160

static error_t parse(int key, char *arg, struct argp_state *state)
{
    hp_advice_choice *choice = state->input;
    switch (key) {
    case ARGP_KEY_INIT: state->child_inputs[0] = choice; return 0;
    case ARGP_KEY_ARG: hp_option_take_file(state, arg, &choice->file); return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "the scenario FILE is missing"); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const struct argp_child children[] = {{&hp_advice_argp, 0, NULL, 0}, {0}};

static const char doc[] =
    "Go through the work at the bench on the machine of scenario FILE: what to do next, how, what "
    "to watch out for; then short questions about what it showed. Answer by a digit or a word; "
    "Enter alone takes what stands in square brackets. \"back\" takes the last answer back, "
    "\"undo\" "
    "the last entry of the log, \"help\" explains, \"stop\" ends. \"change\" among the choices "
    "changes any earlier entry, or takes it out."
    "\vEach finished entry is written into the bench log at once. Whenever the work is broken off, "
    "the next call goes on from there. Answers may come through a pipe, one a line.";

static const struct argp argp = {NULL, parse, "FILE", doc, children, NULL, NULL};

typedef struct bench {
    hp_advice_session *session;
    hp_ask ask;
    hp_advice advice;
    bool shown; /* the step in hand was printed: nothing has changed since */
    hp_exit status;
} bench;

static const hp_bench_log *log_of(const bench *b)
{
    return hp_case_log(b->session->bench);
}

/* ---- the step -------------------------------------------------------------------------------- */

/* Sets a step off from the questions. */
static void rule(const bench *b)
{
    for (int k = 0; k < b->ask.out.columns; k++)
        fputc('-', b->ask.out.file);
    fputc('\n', b->ask.out.file);
}

static hp_result show_step(bench *b, hp_error *err)
{
    hp_case *c = b->session->bench;
    hp_result result = hp_case_next(c, &b->advice, err);
    if (result != HP_OK)
        return result;
    fputc('\n', b->ask.out.file);
    rule(b);
    hp_step_print(c, &b->advice, &b->ask.out);
    rule(b);
    b->shown = true;
    return HP_OK;
}

/* ---- the log --------------------------------------------------------------------------------- */

static void say_error(const bench *b, const hp_error *err)
{
    (void)fflush(b->ask.out.file);
    hp_terminal_line(stderr, "%s: %s", b->session->session.command, err->text);
}

/* Reads the log again; asks what to do while it cannot be read. False: the work has to end. */
static bool reload(bench *b)
{
    static const hp_choice choices[] = {{"again", "again: it is mended, read it again"},
                                        {"stop", "stop: end for now"}};
    for (;;) {
        hp_error err = hp_error_none();
        int index = 0;
        b->shown = false;
        if (hp_case_reload(b->session->bench, &err) == HP_OK)
            return true;
        say_error(b, &err);
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

/* Takes in a log that somebody else changed. False: it was not changed, or *on is false and the
 * work ends. */
static bool take_in(bench *b, bool *on)
{
    if (!hp_bench_log_changed(log_of(b)))
        return false;
    hp_ask_say(&b->ask,
               "The log %s was changed meanwhile, by hand or by another program. It is "
               "read again.",
               log_of(b)->path);
    *on = reload(b);
    if (!*on)
        return false;
    int count = log_of(b)->count;
    hp_ask_say(&b->ask, "It has %d entr%s now; here is where that leads.", count,
               count == 1 ? "y" : "ies");
    return true;
}

/* A change is made and said to be made. False: the work has to end. */
static bool made(bench *b, int number, const char *how)
{
    b->status = hp_session_printed(b->session->session.command, number, how, log_of(b)->path);
    return b->status == HP_EXIT_FINE && reload(b);
}

/* Writes an entry into the log: at the end, or in the place of entry `number`. */
static hp_result write_entry(bench *b, int number, hp_bench_entry *entry, hp_error *err)
{
    const hp_scenario *scenario = &b->session->session.scenario;
    const hp_bench_log *log = log_of(b);
    return number ? hp_bench_log_replace(log, number, scenario, entry, stderr, err)
                  : hp_bench_log_append(log->path, scenario, entry, stderr, err);
}

/* Saves a new entry, or with a number a changed one; asks what to do when that fails. False: the
 * work has to end. */
static bool save(bench *b, int number, hp_bench_entry *entry)
{
    static const hp_choice choices[] = {{"again", "again: it is mended, try again"},
                                        {"leave", "leave: throw this entry away"}};
    const char *path = log_of(b)->path;
    for (;;) {
        hp_error err = hp_error_none();
        int index = 0;
        bool others = hp_bench_log_changed(log_of(b));
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
        say_error(b, &err);
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

/* Takes an entry out. False: the work has to end. */
static bool take_out(bench *b, int number)
{
    const hp_scenario *scenario = &b->session->session.scenario;
    const hp_bench_log *log = log_of(b);
    hp_error err = hp_error_none();
    bool others = hp_bench_log_changed(log);
    if (hp_bench_log_remove(log, number, scenario, stderr, &err) != HP_OK) {
        say_error(b, &err);
        if (!others)
            return true;
        hp_ask_say(&b->ask, "Look which entry it is now.");
        return reload(b);
    }
    hp_ask_say(&b->ask, "Taken back; it stays in the file as a comment:");
    hp_bench_entry_print(&log->entry[number - 1], scenario, &b->ask.out);
    return made(b, number, "taken back in");
}

static bool take_back(bench *b)
{
    if (log_of(b)->count > 0)
        return take_out(b, log_of(b)->count);
    hp_ask_say(&b->ask, "There is no entry to take back.");
    return true;
}

/* ---- the conversation ------------------------------------------------------------------------ */

/* Asks for an entry and saves it. False: the work ends. */
static bool take_entry(bench *b, const hp_reading *kind, bool advised)
{
    hp_bench_entry entry;
    hp_form_context context = {.scenario = &b->session->session.scenario,
                               .plan = hp_case_plan(b->session->bench),
                               .advice = advised ? &b->advice : NULL,
                               .number = log_of(b)->count + 1};
    switch (hp_form_ask(&b->ask, &context, kind, &entry)) {
    case HP_ANSWER_GIVEN: return save(b, 0, &entry);
    case HP_ANSWER_BACK:
    case HP_ANSWER_UNDO: return true;
    case HP_ANSWER_STOP:
    case HP_ANSWER_END: hp_ask_say(&b->ask, "The entry begun is dropped."); return false;
    }
    return false;
}

/* Goes through an entry's answers and puts them in its place. False: the work ends. */
static bool change_answers(bench *b, int number)
{
    /* A copy: the log may be read again while the questions are asked. */
    hp_bench_entry before = log_of(b)->entry[number - 1], entry;
    hp_form_context context = {.scenario = &b->session->session.scenario,
                               .plan = hp_case_plan(b->session->bench),
                               .number = number,
                               .before = &before};
    hp_ask_say(&b->ask,
               "Enter alone keeps the answer in the brackets, a single hyphen leaves it out.");
    switch (hp_form_ask(&b->ask, &context, before.entry.reading, &entry)) {
    case HP_ANSWER_GIVEN: return save(b, number, &entry);
    case HP_ANSWER_BACK:
    case HP_ANSWER_UNDO: return true;
    case HP_ANSWER_STOP:
    case HP_ANSWER_END: hp_ask_say(&b->ask, "The entry stays as it was."); return false;
    }
    return false;
}

/* The number of one of the entries, which are listed. */
static hp_answer ask_number(bench *b, int *number)
{
    const hp_bench_log *log = log_of(b);
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

/* Changes any entry, or takes it out. False: the work ends. */
static bool change(bench *b)
{
    static const hp_choice choices[] = {
        {"answers", "answers: go through its questions again; each answer stands there to be kept"},
        {"drop", "drop: take the entry out; its lines stay in the file as comments"},
        {"keep", "keep: leave it as it is"}};
    const hp_bench_log *log = log_of(b);
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
    return index == 1 ? take_out(b, number) : true;
}

/* How-to and cautions of a kind of entry that was not advised. */
static void show_other(const bench *b, const hp_reading *kind)
{
    fputc('\n', b->ask.out.file);
    rule(b);
    hp_how_to_print(b->session->bench, kind, &b->ask.out);
    rule(b);
}

/* Kinds by the words that the log has for them: those that find the wiring, or the steps of
 * commissioning. */
static int list_kinds(bool steps, const hp_reading **kind, hp_choice *choices,
                      char (*text)[KIND_TEXT])
{
    int count = 0;
    for (int k = 0; hp_readings[k]; k++) {
        const char *name = hp_reading_name(hp_readings[k]);
        const char *menu = hp_reading_menu(hp_readings[k]);
        if ((hp_reading_stage(hp_readings[k]) != HP_STAGE_WIRING) != steps)
            continue;
        snprintf(text[count], KIND_TEXT, "%s%s%s", name, menu ? ": " : "", menu ? menu : "");
        choices[count] = (hp_choice){name, text[count]};
        kind[count++] = hp_readings[k];
    }
    return count;
}

static const hp_commission *list_of(const bench *b)
{
    return hp_commission_case_list(hp_case_commissioning(b->session->bench));
}

/* Which step of commissioning; the next one where it is not said. */
static hp_answer ask_commission_step(bench *b, const hp_reading **kind)
{
    const hp_reading *listed[HP_READINGS_MAX];
    hp_choice choices[HP_READINGS_MAX];
    char text[HP_READINGS_MAX][KIND_TEXT];
    const hp_commission *list = list_of(b);
    int index = 0, next = -1, count = list_kinds(true, listed, choices, text);
    for (int k = 0; k < count && list->next >= 0; k++)
        if (listed[k] == list->step[list->next].reading)
            next = k;
    hp_answer answer = hp_ask_choice(&b->ask, "Which step?", "", choices, count, next, &index);
    if (answer == HP_ANSWER_GIVEN)
        *kind = listed[index];
    return answer;
}

/* Which kind; steps of commissioning go by their names, too. *kind NULL: their list is wanted. */
static hp_answer ask_kind(bench *b, const hp_reading **kind)
{
    const hp_reading *listed[HP_READINGS_MAX + 1] = {NULL};
    hp_choice choices[HP_READINGS_MAX + 1];
    char text[HP_READINGS_MAX][KIND_TEXT];
    int index = 0, count = list_kinds(false, listed, choices, text), all = count;
    if (count < hp_readings_count()) {
        listed[count] = NULL;
        choices[count++] =
            (hp_choice){"step", "step: a step of commissioning, once a wiring runs; or its name"};
        all = count + list_kinds(true, listed + count, choices + count, text + count - 1);
    }
    hp_answer answer = hp_ask_choice_or_more(&b->ask, "What do you want to write down?", "",
                                             choices, count, all, -1, &index);
    if (answer == HP_ANSWER_GIVEN)
        *kind = listed[index];
    return answer;
}

static void show_commission_step(const bench *b, const hp_reading *kind)
{
    fputc('\n', b->ask.out.file);
    rule(b);
    hp_commission_step_print(hp_case_commissioning(b->session->bench), kind, &b->ask.out);
    rule(b);
}

/* Asks for a step's entry and says what it found. False: the work ends. */
static bool take_commission_step(bench *b, const hp_reading *kind)
{
    int before = log_of(b)->count;
    if (!take_entry(b, kind, false))
        return false;
    if (log_of(b)->count > before)
        hp_commission_finding_print(hp_case_commissioning(b->session->bench), kind, &b->ask.out);
    return true;
}

static bool take_other(bench *b)
{
    const hp_reading *kind = NULL;
    hp_answer answer = ask_kind(b, &kind);
    if (answer == HP_ANSWER_GIVEN && !kind)
        answer = ask_commission_step(b, &kind);
    if (answer == HP_ANSWER_GIVEN) {
        if (hp_reading_stage(kind) != HP_STAGE_WIRING) {
            show_commission_step(b, kind);
            return take_commission_step(b, kind);
        }
        bool advised = kind == hp_advice_entry(&b->advice);
        if (!advised)
            show_other(b, kind);
        return take_entry(b, kind, advised);
    }
    if (answer == HP_ANSWER_UNDO)
        return take_back(b);
    return answer == HP_ANSWER_BACK;
}

/* ---- after the wiring ------------------------------------------------------------------------ */

/* Why a step cannot be done here; empty where nobody says. */
static hp_answer ask_reason(bench *b, char reason[HP_BENCH_NOTE_SIZE])
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

/* Notes that a step cannot be done here. False: the work ends. */
static bool leave_out(bench *b, const hp_reading *step)
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
        say_error(b, &err);
        b->status = HP_EXIT_FAILED;
        return false;
    }
    hp_bench_log_now(entry.time, sizeof entry.time);
    snprintf(entry.note, sizeof entry.note, "%s", reason);
    return save(b, 0, &entry);
}

/* One step of commissioning after the other. False: the work ends. */
static bool commission(bench *b)
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
        const hp_commission *list = list_of(b);
        const hp_reading *kind = list->next >= 0 ? list->step[list->next].reading : NULL;
        char why[HP_COMMISSION_WHY_WORDS];
        int index = 0;
        hp_commission_why_words(list, why, sizeof why);
        if (why[0])
            hp_ask_say(&b->ask, "%s", why);
        if (!kind)
            return true;
        show_commission_step(b, kind);
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
            if (!take_back(b))
                return false;
            continue;
        }
        if (index == CANNOT) {
            if (!leave_out(b, kind))
                return false;
            continue;
        }
        if (index == OTHER) {
            answer = ask_commission_step(b, &kind);
            if (answer != HP_ANSWER_GIVEN)
                continue;
            show_commission_step(b, kind);
        }
        if (!take_commission_step(b, kind))
            return false;
    }
}

enum {
    MENU_DONE,
    MENU_OTHER,
    MENU_AGAIN,
    MENU_UNDO,
    MENU_CHANGE,
    MENU_STOP,
    MENU_MORE, /* at an end: commissioning; else, where it can be done without: leave it out */
    MENU_COUNT
};

/* What to do with the step that was shown. False: the work ends. */
static bool take_step(bench *b)
{
    static const char *const done[HP_ADVICE_COUNT] = {
        [HP_ADVICE_READ] = "done: write down what it showed",
        [HP_ADVICE_TRY] = "done: write down what it showed",
        [HP_ADVICE_LOOK] = "done: write down what it showed",
        [HP_ADVICE_LEARN] = "done: write down how it ended",
        [HP_ADVICE_DONE] = "done: write the final check down as a trial",
        [HP_ADVICE_REPAIR] = "done: it is mended, write that down",
        [HP_ADVICE_DANGER] = "done: it is mended, write down the new reading",
        [HP_ADVICE_GIVE_UP] = "done: write something down",
        [HP_ADVICE_PROBABLY] = "done: write the check down as a trial",
    };
    static const hp_choice steps = {"steps", "steps: go on with commissioning, step by step"};
    static const hp_choice cannot = {"cannot", "cannot: it cannot be done here, leave it out"};
    hp_choice choices[MENU_COUNT] = {
        {"done", done[b->advice.kind]},
        {"other", "other: write down something else"},
        {"again", "again: show this step once more"},
        {"undo", "undo: take the last entry back"},
        {"change", "change: change an earlier entry, or take it out"},
        {"stop", "stop: end for now, everything is saved"},
    };
    bool ends = b->advice.kind == HP_ADVICE_DONE || b->advice.kind == HP_ADVICE_GIVE_UP ||
                b->advice.kind == HP_ADVICE_PROBABLY;
    bool goes_on = b->advice.kind == HP_ADVICE_DONE || b->advice.kind == HP_ADVICE_PROBABLY;
    int index = 0;
    /* What a step of commissioning found forbids the run: that step is measured again, and neither
     * left out nor passed by. */
    const hp_reading *stopped = hp_step_stopped(b->session->bench, &b->advice);
    const hp_reading *kind = stopped ? stopped : hp_advice_entry(&b->advice);
    bool leaves = hp_advice_can_be_left_out(&b->advice) && !stopped;
    if (stopped)
        choices[MENU_DONE].text = done[HP_ADVICE_DANGER];
    ends = ends && !stopped;
    choices[MENU_MORE] = goes_on ? steps : cannot;
    hp_answer answer = hp_ask_choice(&b->ask, "What now?",
                                     "Do the step first; the questions come "
                                     "then.",
                                     choices, goes_on || leaves ? MENU_COUNT : MENU_MORE,
                                     ends ? MENU_STOP : MENU_DONE, &index);
    bool on = true;
    if (answer == HP_ANSWER_STOP || answer == HP_ANSWER_END ||
        (answer == HP_ANSWER_GIVEN && index == MENU_STOP))
        return false;
    /* The step shown may be the wrong one by now. */
    if (answer == HP_ANSWER_BACK || take_in(b, &on) || !on)
        return on;
    if (answer == HP_ANSWER_GIVEN && index == MENU_AGAIN) {
        b->shown = false;
        return true;
    }
    if (answer == HP_ANSWER_UNDO || (answer == HP_ANSWER_GIVEN && index == MENU_UNDO))
        return take_back(b);
    if (index == MENU_CHANGE)
        return change(b);
    if (index == MENU_MORE)
        return goes_on ? commission(b) : leave_out(b, kind);
    if (index == MENU_OTHER || !kind)
        return take_other(b);
    return stopped ? take_commission_step(b, kind) : take_entry(b, kind, true);
}

static void greet(const bench *b)
{
    int count = log_of(b)->count;
    hp_ask_say(&b->ask, "Answer by a digit or a word. Enter alone takes what stands in [ ]. Words "
                        "for any time: back, undo, help, stop.");
    if (count == 0)
        hp_ask_say(&b->ask, "There is no entry yet; the first one goes into %s.", log_of(b)->path);
    else
        hp_ask_say(&b->ask, "The log %s has %d entr%s; we go on from there.", log_of(b)->path,
                   count, count == 1 ? "y" : "ies");
}

static void part(const bench *b)
{
    int count = log_of(b)->count;
    if (count == 0)
        hp_ask_say(&b->ask, "Nothing was written down.");
    else if (access(log_of(b)->path, F_OK) != 0)
        hp_ask_say(&b->ask, "The log %s is not there any more: it had %d entr%s.", log_of(b)->path,
                   count, count == 1 ? "y" : "ies");
    else
        hp_ask_say(&b->ask, "%d entr%s in %s. The same command goes on from there.", count,
                   count == 1 ? "y is" : "ies are", log_of(b)->path);
}

static hp_exit work(hp_advice_session *session)
{
    const hp_screen screen = hp_terminal_screen(stdout);
    bench b = {.session = session, .ask = hp_ask_begin(stdin, &screen), .status = HP_EXIT_FINE};
    hp_error err = hp_error_none();
    bool on = true;
    greet(&b);
    while (on) {
        hp_result result = b.shown ? HP_OK : show_step(&b, &err);
        if (result != HP_OK)
            b.status = hp_session_fail(session->session.command, &err);
        on = result == HP_OK && take_step(&b);
    }
    if (b.status == HP_EXIT_FINE)
        part(&b);
    if (b.status == HP_EXIT_FINE && b.ask.interrupted)
        b.status = HP_EXIT_CANCELLED;
    hp_ask_end(&b.ask);
    return b.status;
}

hp_exit hp_command_bench(int argc, char **argv)
{
    hp_advice_choice choice = hp_advice_choice_default();
    hp_advice_session session;
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status = hp_advice_session_open(&session, argv[0], &choice);
    if (status != HP_EXIT_FINE)
        return status;
    status = work(&session);
    hp_advice_session_close(&session);
    return status;
}
