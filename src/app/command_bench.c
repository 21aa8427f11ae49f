/* `hubphase bench FILE`: at the bench, one step and one question at a time. */
#include "app/command_table.h"

#include "app/bench_talk.h"
#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"

#include <unistd.h>

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

static hp_result show_step(hp_talk *b, hp_error *err)
{
    hp_case *c = b->session->bench;
    hp_result result = hp_case_next(c, &b->advice, err);
    if (result != HP_OK)
        return result;
    fputc('\n', b->ask.out.file);
    hp_talk_rule(b);
    hp_step_print(c, &b->advice, &b->ask.out);
    hp_talk_rule(b);
    b->shown = true;
    return HP_OK;
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
static bool take_step(hp_talk *b)
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
    bool goes_on = hp_advice_ends_riding(&b->advice);
    int index = 0;
    /* What a step of commissioning found forbids the run: that step is measured again, and neither
     * left out nor passed by. */
    const hp_reading *stopped = hp_step_stopped(b->session->bench, &b->advice);
    const hp_reading *kind = stopped ? stopped : hp_advice_entry(&b->advice);
    bool leaves = hp_advice_can_be_left_out(&b->advice) && !stopped;
    if (stopped)
        choices[MENU_DONE].text = done[HP_ADVICE_DANGER];
    else if (b->advice.kind == HP_ADVICE_GIVE_UP && hp_advice_entry(&b->advice))
        choices[MENU_DONE].text = done[HP_ADVICE_DONE];
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
    if (answer == HP_ANSWER_BACK || hp_talk_take_in(b, &on) || !on)
        return on;
    if (answer == HP_ANSWER_GIVEN && index == MENU_AGAIN) {
        b->shown = false;
        return true;
    }
    if (answer == HP_ANSWER_UNDO || (answer == HP_ANSWER_GIVEN && index == MENU_UNDO))
        return hp_talk_take_back(b);
    if (index == MENU_CHANGE)
        return hp_talk_change(b);
    if (index == MENU_MORE)
        return goes_on ? hp_talk_commission(b) : hp_talk_leave_out(b, kind);
    if (index == MENU_OTHER || !kind)
        return hp_talk_take_other(b);
    return stopped ? hp_talk_take_step(b, kind) : hp_talk_take_entry(b, kind, true);
}

static void greet(const hp_talk *b)
{
    int count = hp_talk_log(b)->count;
    hp_ask_say(&b->ask, "Answer by a digit or a word. Enter alone takes what stands in [ ]. Words "
                        "for any time: back, undo, help, stop.");
    if (count == 0)
        hp_ask_say(&b->ask, "There is no entry yet; the first one goes into %s.",
                   hp_talk_log(b)->path);
    else
        hp_ask_say(&b->ask, "The log %s has %d entr%s; we go on from there.", hp_talk_log(b)->path,
                   count, count == 1 ? "y" : "ies");
}

static void part(const hp_talk *b)
{
    int count = hp_talk_log(b)->count;
    if (count == 0)
        hp_ask_say(&b->ask, "Nothing was written down.");
    else if (access(hp_talk_log(b)->path, F_OK) != 0)
        hp_ask_say(&b->ask, "The log %s is not there any more: it had %d entr%s.",
                   hp_talk_log(b)->path, count, count == 1 ? "y" : "ies");
    else
        hp_ask_say(&b->ask, "%d entr%s in %s. The same command goes on from there.", count,
                   count == 1 ? "y is" : "ies are", hp_talk_log(b)->path);
}

static hp_exit work(hp_advice_session *session)
{
    const hp_screen screen = hp_terminal_screen(stdout);
    hp_talk b = {.session = session, .ask = hp_ask_begin(stdin, &screen), .status = HP_EXIT_FINE};
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
