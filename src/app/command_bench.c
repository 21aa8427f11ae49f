/* `hubphase bench FILE`: at the bench, one step and one question at a time. */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/ask_form.h"
#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"

#include <string.h>

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
    "the last entry of the log, \"help\" explains, \"stop\" ends."
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
    for (int k = 0; k < HP_TEXT_COLUMNS; k++)
        fputc('-', b->ask.out);
    fputc('\n', b->ask.out);
}

static hp_result show_step(bench *b, hp_error *err)
{
    hp_case *c = b->session->bench;
    hp_result result = hp_case_next(c, &b->advice, err);
    if (result != HP_OK)
        return result;
    fputc('\n', b->ask.out);
    rule(b);
    hp_step_print(c, &b->advice, hp_terminal_colour(b->ask.out), b->ask.out);
    rule(b);
    b->shown = true;
    return HP_OK;
}

/* ---- the log --------------------------------------------------------------------------------- */

static void say_error(const bench *b, const hp_error *err)
{
    fflush(b->ask.out);
    hp_terminal_line(stderr, "%s: %s", b->session->session.command, err->text);
}

static hp_result reload(bench *b)
{
    hp_error err = hp_error_none();
    b->shown = false;
    hp_result result = hp_case_reload(b->session->bench, &err);
    if (result != HP_OK)
        b->status = hp_session_fail(b->session->session.command, &err);
    return result;
}

/* Saves; asks what to do when that fails. False: the work has to end. */
static bool save(bench *b, hp_bench_entry *entry)
{
    static const hp_choice choices[] = {{"again", "again: I have put it right, try again"},
                                        {"leave", "leave: throw this entry away"}};
    const char *path = log_of(b)->path;
    for (;;) {
        hp_error err = hp_error_none();
        int index = 0;
        if (hp_bench_log_append(path, &b->session->session.scenario, entry, stderr, &err) ==
            HP_OK) {
            hp_ask_say(&b->ask, "Saved as entry %d in %s.", entry->entry.number, path);
            return reload(b) == HP_OK;
        }
        say_error(b, &err);
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

static bool take_back(bench *b)
{
    hp_bench_entry taken;
    hp_error err = hp_error_none();
    if (log_of(b)->count == 0) {
        hp_ask_say(&b->ask, "There is no entry to take back.");
        return true;
    }
    if (hp_bench_log_undo(log_of(b)->path, &b->session->session.scenario, &taken, stderr, &err) !=
        HP_OK) {
        say_error(b, &err);
        return true;
    }
    hp_ask_say(&b->ask, "Taken back; it stays in the file as a comment:");
    hp_bench_entry_print(&taken, &b->session->session.scenario, b->ask.out);
    return reload(b) == HP_OK;
}

/* ---- the conversation ------------------------------------------------------------------------ */

/* Asks for an entry and saves it. False: the work ends. */
static bool take_entry(bench *b, const hp_reading *kind, bool advised)
{
    hp_bench_entry entry;
    hp_form_context context = {.scenario = &b->session->session.scenario,
                               .plan = &b->session->session.scenario.bench.plan,
                               .advice = advised ? &b->advice : NULL,
                               .number = log_of(b)->count + 1};
    switch (hp_form_ask(&b->ask, &context, kind, &entry)) {
    case HP_ANSWER_GIVEN: return save(b, &entry);
    case HP_ANSWER_BACK:
    case HP_ANSWER_UNDO: return true;
    case HP_ANSWER_STOP:
    case HP_ANSWER_END: hp_ask_say(&b->ask, "The entry begun is dropped."); return false;
    }
    return false;
}

/* How-to and cautions of a kind of entry that was not advised. */
static void show_other(const bench *b, const hp_reading *kind)
{
    fputc('\n', b->ask.out);
    rule(b);
    hp_how_to_print(b->session->bench, kind, hp_terminal_colour(b->ask.out), b->ask.out);
    rule(b);
}

/* All kinds by the words that the log has for them. */
static int list_kinds(hp_choice *choices, char (*text)[KIND_TEXT])
{
    int count = 0;
    for (; hp_readings[count]; count++) {
        const char *name = hp_reading_name(hp_readings[count]);
        const char *menu = hp_reading_menu(hp_readings[count]);
        snprintf(text[count], KIND_TEXT, "%s%s%s", name, menu ? ": " : "", menu ? menu : "");
        choices[count] = (hp_choice){name, text[count]};
    }
    return count;
}

static bool take_other(bench *b)
{
    hp_choice choices[HP_READINGS_MAX];
    char text[HP_READINGS_MAX][KIND_TEXT];
    int index = 0, count = list_kinds(choices, text);
    hp_answer answer =
        hp_ask_choice(&b->ask, "What do you want to write down?", "", choices, count, -1, &index);
    if (answer == HP_ANSWER_GIVEN) {
        const hp_reading *kind = hp_readings[index];
        bool advised = kind == hp_advice_entry(&b->advice);
        if (!advised)
            show_other(b, kind);
        return take_entry(b, kind, advised);
    }
    if (answer == HP_ANSWER_UNDO)
        return take_back(b);
    return answer == HP_ANSWER_BACK;
}

enum { MENU_DONE, MENU_OTHER, MENU_AGAIN, MENU_UNDO, MENU_STOP, MENU_COUNT };

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
        [HP_ADVICE_DANGER] = "done: it is put right, write down the new reading",
        [HP_ADVICE_GIVE_UP] = "done: write something down",
    };
    const hp_choice choices[MENU_COUNT] = {
        {"done", done[b->advice.kind]},
        {"other", "other: write down something else"},
        {"again", "again: show this step once more"},
        {"undo", "undo: take the last entry back"},
        {"stop", "stop: end for now, everything is saved"},
    };
    bool ends = b->advice.kind == HP_ADVICE_DONE || b->advice.kind == HP_ADVICE_GIVE_UP;
    int index = 0;
    const hp_reading *kind = hp_advice_entry(&b->advice);
    hp_answer answer =
        hp_ask_choice(&b->ask, "What now?", "Do the step first; the questions come then.", choices,
                      MENU_COUNT, ends ? MENU_STOP : MENU_DONE, &index);
    if (answer == HP_ANSWER_BACK)
        return true;
    if (answer == HP_ANSWER_GIVEN && index == MENU_AGAIN) {
        b->shown = false;
        return true;
    }
    if (answer == HP_ANSWER_UNDO || (answer == HP_ANSWER_GIVEN && index == MENU_UNDO))
        return take_back(b);
    if (answer != HP_ANSWER_GIVEN || index == MENU_STOP)
        return false;
    if (index == MENU_OTHER || !kind)
        return take_other(b);
    return take_entry(b, kind, true);
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
    else
        hp_ask_say(&b->ask, "%d entr%s in %s. The same command goes on from there.", count,
                   count == 1 ? "y is" : "ies are", log_of(b)->path);
}

static hp_exit work(hp_advice_session *session)
{
    bench b = {.session = session, .ask = hp_ask_begin(stdin, stdout), .status = HP_EXIT_FINE};
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

int hp_command_bench(int argc, char **argv)
{
    hp_advice_choice choice = hp_advice_choice_default();
    hp_advice_session session;
    hp_options_parse(&argp, argc, argv, &choice);
    hp_exit status = hp_advice_session_open(&session, argv[0], &choice);
    if (status != HP_EXIT_FINE)
        return status;
    status = work(&session);
    hp_advice_session_close(&session);
    return status;
}
