/* `hubphase practise [FILE]`: a hidden machine plays the bench. */
#include "app/command_table.h"

#include "app/advice_session.h"
#include "app/ask.h"
#include "hubphase/report/case_words.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { KEY_LEVEL = HP_KEY_OWN, KEY_SEED, KEY_JOBS, KEY_QUIET };

/* Seeds that are drawn when none is given: short enough to be called across a room. */
#define SEEDS_DRAWN 10000
#define LOG_ENDING  ".bench.yaml"
#define NAME_SIZE   1024

typedef struct choices {
    hp_advice_choice advice;
    const char *output;       /* the log; NULL: it is not kept */
    char scenario[NAME_SIZE]; /* written beside it; empty: FILE is one */
    hp_practice_level level;
    int seed; /* 0: drawn */
} choices;

static const struct argp_option options[] = {
    {"level", KEY_LEVEL, "NAME", 0,
     "What is hidden: sound (every part is good; when not given), fault (one is faulty), slip (an "
     "entry of a log that was begun is wrong), clutch (a geared hub whose clutch may slip)",
     0},
    {"seed", KEY_SEED, "N", 0,
     "Which machine: the same number gives the same machine, for a class or for two teams "
     "(default: one is drawn, and said)",
     0},
    {"output", 'o', "LOG", 0,
     "Keep the log in LOG as it grows; without FILE its name ends in .bench.yaml, and the "
     "machine's scenario is written beside it",
     0},
    {"jobs", KEY_JOBS, "N", 0,
     "Threads for what is simulated once for a scenario (default: one a processor)", 0},
    {"quiet", KEY_QUIET, NULL, 0, "No progress bar, no remarks", 0},
    {0}};

static void take_level(const struct argp_state *state, const char *arg, choices *choice)
{
    int level = hp_practice_level_find(arg);
    if (level < 0)
        hp_option_refuse(state, "--level is \"%s\", must be sound, fault, slip or clutch", arg);
    choice->level = (hp_practice_level)level;
}

/* Names the scenario beside the log, where no FILE is one. */
static void check_output(const struct argp_state *state, choices *choice)
{
    const char *log = choice->output;
    if (!log || choice->advice.file)
        return;
    size_t length = strlen(log), ending = strlen(LOG_ENDING);
    if (length <= ending || length >= NAME_SIZE || strcmp(log + length - ending, LOG_ENDING) != 0)
        hp_option_refuse(state,
                         "--output is \"%s\", must end in %s where no scenario FILE is given, so "
                         "that the machine's scenario can stand beside it",
                         log, LOG_ENDING);
    snprintf(choice->scenario, NAME_SIZE, "%.*s.yaml", (int)(length - ending), log);
}

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case KEY_LEVEL: take_level(state, arg, choice); return 0;
    case KEY_SEED:
        choice->seed = hp_option_integer(state, "--seed", arg, 1, HP_PRACTICE_SEED_MAX);
        return 0;
    case KEY_JOBS:
        choice->advice.jobs = hp_option_integer(state, "--jobs", arg, 1, HP_JOBS_MAX);
        return 0;
    case KEY_QUIET: choice->advice.quiet = true; return 0;
    case 'o': choice->output = arg; return 0;
    case ARGP_KEY_ARG: hp_option_take_file(state, arg, &choice->advice.file); return 0;
    case ARGP_KEY_END: check_output(state, choice); return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const char doc[] =
    "Practise on a hidden machine, drawn for the parts of scenario FILE or of a practice bench of "
    "our own: choose readings and trials, see what a person would see there, and say at the end "
    "which wiring is correct, which part is faulty or which entry is wrong. Then your steps stand "
    "beside those of the advice on the same machine, with what each told, minutes, runs under "
    "power and risks."
    "\vAnswer by a digit, a word or the beginning of one; answers may come through a pipe, one a "
    "line. Two teams on one seed have the same machine, whatever they ask in which order. Nothing "
    "here is live; at a real bench every caution of `hubphase bench' holds.";

static const struct argp argp = {options, parse, "[FILE]", doc, NULL, NULL, NULL};

typedef struct practice {
    hp_session session;
    hp_practice_case *c; /* owned */
    const choices *choice;
    hp_ask ask;
    bool seen_menu;
    hp_exit status;
} practice;

static const hp_practice_path *path_of(const practice *p)
{
    return hp_practice_case_path(p->c, HP_PRACTICE_LEARNER);
}

static void say_error(const practice *p, const hp_error *err)
{
    (void)fflush(p->ask.out.file);
    hp_terminal_line(stderr, "%s: %s", p->session.command, err->text);
}

/* ---- the log that is kept -------------------------------------------------------------------- */

static hp_result write_text(const char *path, const char *text, hp_error *err)
{
    hp_output output;
    hp_result result = hp_output_open(&output, path, err);
    if (result != HP_OK)
        return result;
    fputs(text, output.file);
    return hp_output_finish(&output, HP_OK, err);
}

/* As far as it is; nothing said so far is lost, whatever ends the program. */
static void keep_log(practice *p)
{
    hp_error err = hp_error_none();
    if (!p->choice->output ||
        write_text(p->choice->output, hp_practice_case_log(p->c, HP_PRACTICE_LEARNER), &err) ==
            HP_OK)
        return;
    say_error(p, &err);
    p->status = HP_EXIT_OUTPUT;
}

static bool is_there(const char *path)
{
    return access(path, F_OK) == 0 || errno != ENOENT;
}

/* Refuses names that are taken, and writes the scenario where there is none. */
static hp_result begin_log(const practice *p, hp_error *err)
{
    const char *log = p->choice->output, *scenario = p->choice->scenario;
    hp_result result = HP_OK;
    if (!log)
        return HP_OK;
    for (int k = 0; k < 2 && result == HP_OK; k++) {
        const char *name = k == 0 ? log : scenario;
        if (name[0] && is_there(name))
            result = hp_error_set(err, HP_FAIL_IO, "%s is there already: give another name", name);
    }
    if (result == HP_OK && scenario[0])
        result = write_text(scenario, hp_practice_scenario_text(p->choice->level), err);
    return result;
}

/* ---- choices --------------------------------------------------------------------------------- */

/* What a line of the main menu does. */
typedef enum act { ACT_ASK, ACT_LOG, ACT_DROP, ACT_HINT, ACT_ANSWER } act;

typedef struct menu {
    hp_choice choice[HP_READINGS_MAX + 8];
    char text[HP_READINGS_MAX + 8][160];
    const hp_reading *kind[HP_READINGS_MAX + 8];
    act act[HP_READINGS_MAX + 8];
    int count;
} menu;

static void add_line(menu *m, act what, const hp_reading *kind, const char *word, const char *text)
{
    snprintf(m->text[m->count], sizeof m->text[0], "%s%s%s", word, text ? ": " : "",
             text ? text : "");
    m->choice[m->count] = (hp_choice){word, m->text[m->count]};
    m->kind[m->count] = kind;
    m->act[m->count++] = what;
}

/* The same lines at any time: who learned a number, or has a file ready, gets what it stood for. */
static void make_menu(const practice *p, menu *m)
{
    m->count = 0;
    for (int k = 0; hp_readings[k]; k++)
        if (hp_practice_shows(hp_practice_case_machine(p->c), hp_readings[k]))
            add_line(m, ACT_ASK, hp_readings[k], hp_reading_name(hp_readings[k]),
                     hp_reading_menu(hp_readings[k]));
    add_line(m, ACT_LOG, NULL, "log", "read the log again");
    add_line(m, ACT_DROP, NULL, "drop", "take an entry out of the log");
    add_line(m, ACT_HINT, NULL, "hint", "hear what the advice would do now");
    add_line(m, ACT_ANSWER, NULL, "answer", "say what you have found, and end");
}

/* One of three leads by its name. */
static hp_answer ask_lead(practice *p, const char *question,
                          const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int *lead)
{
    hp_choice choices[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        choices[k] = (hp_choice){label[k], label[k]};
    return hp_ask_choice(&p->ask, question, "", choices, HP_PHASE_COUNT, -1, lead);
}

static hp_answer ask_wiring(practice *p, const char *question, hp_wiring *wiring)
{
    for (;;) {
        hp_error err = hp_error_none();
        hp_answer answer = hp_ask_text(&p->ask, question,
                                       "Its number 1 to 36, or the Hall leads at inputs 1, 2, 3, a "
                                       "stroke, the phase leads at outputs A, B, C: as the log "
                                       "has them.",
                                       NULL, NULL);
        if (answer != HP_ANSWER_GIVEN ||
            hp_wiring_parse(p->ask.text, &p->session.scenario.labels, wiring, &err) == HP_OK)
            return answer;
        hp_ask_say(&p->ask, "No: %s.", err.text);
    }
}

static hp_answer ask_feed(practice *p, hp_practice_feed *feed)
{
    hp_choice choices[HP_PRACTICE_FEEDS];
    hp_practice_feed may[HP_PRACTICE_FEEDS];
    char text[HP_PRACTICE_FEEDS][HP_PRACTICE_WORDS + 16], words[HP_PRACTICE_WORDS];
    int count = 0, index = 0;
    for (int k = 0; k < HP_PRACTICE_FEEDS; k++) {
        hp_practice_feed one = (hp_practice_feed)k;
        if (!hp_practice_may_feed(hp_practice_case_machine(p->c), one))
            continue;
        snprintf(text[count], sizeof text[count], "%s: %s", hp_practice_feed_name(one),
                 hp_practice_feed_words(p->c, one, words));
        choices[count] = (hp_choice){hp_practice_feed_name(one), text[count]};
        may[count++] = one;
    }
    hp_answer answer = hp_ask_choice(&p->ask, "What feeds it?", "", choices, count, 0, &index);
    if (answer == HP_ANSWER_GIVEN)
        *feed = may[index];
    return answer;
}

/* ---- steps ----------------------------------------------------------------------------------- */

static void tell_step(practice *p)
{
    char words[HP_PRACTICE_WORDS], title[24];
    const hp_practice_path *path = path_of(p);
    const hp_practice_step *step = &path->step[path->steps - 1];
    fputc('\n', p->ask.out.file);
    snprintf(title, sizeof title, "%3d", step->number);
    hp_text_fill(&p->ask.out, title, 5, hp_practice_step_words(p->c, step, words));
    for (int k = 0; k < step->risks; k++) {
        hp_practice_risk_words(p->c, step, k, words);
        hp_text_fill(&p->ask.out, "  !", 5, words);
    }
    hp_text_fill(&p->ask.out, "", 5, hp_practice_told_last(p->c, words));
    char left[HP_PRACTICE_WORDS];
    snprintf(words, sizeof words, "%.1200s %.0f minute%s so far, %d run%s under power.",
             hp_practice_left_words(step, left), path->minutes,
             lround(path->minutes) == 1 ? "" : "s", path->trials, path->trials == 1 ? "" : "s");
    hp_text_fill(&p->ask.out, "", 5, words);
}

/* False: the work has to end. */
static bool take(practice *p, const hp_entry *question)
{
    hp_error err = hp_error_none();
    if (hp_practice_case_take(p->c, question, &err) == HP_OK) {
        tell_step(p);
        keep_log(p);
        return p->status == HP_EXIT_FINE;
    }
    if (err.code == HP_FAIL_INPUT) {
        hp_ask_say(&p->ask, "%s.", err.text);
        return true;
    }
    p->status = hp_session_fail(p->session.command, &err);
    return false;
}

/* Answers that leave a question without an answer: false ends. */
static bool goes_on(hp_answer answer)
{
    return answer != HP_ANSWER_STOP && answer != HP_ANSWER_END;
}

static bool take_kind(practice *p, const hp_reading *kind)
{
    const hp_practice *machine = hp_practice_case_machine(p->c);
    hp_practice_feed feed = HP_PRACTICE_BATTERY;
    hp_wiring wiring;
    int lead = -1;
    if (hp_practice_is_trial(kind)) {
        hp_answer answer = ask_wiring(p, "Which wiring?", &wiring);
        if (answer == HP_ANSWER_GIVEN)
            answer = ask_feed(p, &feed);
        if (answer != HP_ANSWER_GIVEN)
            return goes_on(answer);
        const hp_entry question =
            hp_practice_ask_trial(machine, &wiring, feed, hp_practice_case_limit(p->c));
        return take(p, &question);
    }
    if (hp_reading_is_by_lead(kind)) {
        hp_answer answer =
            ask_lead(p, "Which phase lead?", p->session.scenario.labels.motor_lead, &lead);
        if (answer != HP_ANSWER_GIVEN)
            return goes_on(answer);
    }
    const hp_entry question = hp_practice_ask(kind, lead);
    return take(p, &question);
}

static bool is_empty(practice *p)
{
    bool empty = hp_case_log(hp_practice_case_bench(p->c))->count == 0;
    if (empty)
        hp_ask_say(&p->ask, "The log is empty.");
    return empty;
}

/* With what was taken out of it. */
static void show_log(practice *p)
{
    if (path_of(p)->steps == 0 && is_empty(p))
        return;
    fputc('\n', p->ask.out.file);
    hp_practice_path_print(p->c, HP_PRACTICE_LEARNER, &p->ask.out);
}

/* The number of an entry of the log; `given`: of one that was there, taken out or not. */
static hp_answer ask_number(practice *p, const char *question, int given, int *number)
{
    const hp_practice_path *path = path_of(p);
    int most = given > 0 ? given : path->steps;
    for (;;) {
        char *end = NULL;
        hp_answer answer =
            hp_ask_text(&p->ask, question, "Only its number, such as 1.", NULL, NULL);
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        long typed = strtol(p->ask.text, &end, 10);
        bool is_one = *end == '\0' && typed >= 1 && typed <= most;
        if (is_one && (given > 0 || path->step[typed - 1].number > 0)) {
            *number = (int)typed;
            return HP_ANSWER_GIVEN;
        }
        if (is_one)
            hp_ask_say(&p->ask, "Entry %ld is taken out already.", typed);
        else
            hp_ask_say(&p->ask, "\"%s\" is no entry's number, must be 1 to %d.", p->ask.text, most);
    }
}

static bool drop(practice *p)
{
    hp_error err = hp_error_none();
    int number = 0;
    if (is_empty(p))
        return true;
    show_log(p);
    hp_answer answer = ask_number(p, "Which entry is to go?", 0, &number);
    if (answer != HP_ANSWER_GIVEN)
        return goes_on(answer);
    if (hp_practice_case_drop(p->c, number, &err) != HP_OK) {
        p->status = hp_session_fail(p->session.command, &err);
        return false;
    }
    hp_ask_say(&p->ask, "Entry %d is taken out; the others keep their numbers.", number);
    keep_log(p);
    return p->status == HP_EXIT_FINE;
}

static bool hint(practice *p)
{
    hp_error err = hp_error_none();
    hp_advice advice;
    if (hp_practice_case_hint(p->c, &advice, &err) != HP_OK) {
        p->status = hp_session_fail(p->session.command, &err);
        return false;
    }
    fputc('\n', p->ask.out.file);
    hp_hint_print(hp_practice_case_bench(p->c), &advice, &p->ask.out);
    return true;
}

/* ---- the end --------------------------------------------------------------------------------- */

static hp_answer ask_fault(practice *p, hp_practice_answer *said)
{
    const hp_labels *labels = &p->session.scenario.labels;
    hp_choice choices[HP_PRACTICE_FAULTS];
    char text[HP_PRACTICE_FAULTS][HP_PRACTICE_WORDS + 32], words[HP_PRACTICE_WORDS];
    hp_practice_fault may[HP_PRACTICE_FAULTS];
    int count = 0, index = 0;
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++) {
        hp_practice_fault fault = (hp_practice_fault)k;
        if (!hp_practice_may_fail(hp_practice_case_machine(p->c), fault))
            continue;
        snprintf(text[count], sizeof text[count], "%s: %s", hp_practice_fault_name(fault),
                 hp_practice_fault_words(labels, fault, -1, words));
        choices[count] = (hp_choice){hp_practice_fault_name(fault), text[count]};
        may[count++] = fault;
    }
    hp_answer answer =
        hp_ask_choice(&p->ask, "What is the matter?", "", choices, count, -1, &index);
    if (answer != HP_ANSWER_GIVEN)
        return answer;
    said->fault = may[index];
    int side = hp_practice_fault_side(said->fault);
    if (side < 0)
        return answer;
    return ask_lead(p, side == HP_PLUG_PHASE_U ? "Which phase lead?" : "Which Hall lead?",
                    side == HP_PLUG_PHASE_U ? labels->motor_lead : labels->motor_sensor,
                    &said->lead);
}

static hp_answer ask_answer(practice *p, hp_practice_answer *said)
{
    static const hp_choice all[] = {
        {"wiring", "wiring: this wiring is correct"},
        {"fault", "fault: this is the matter with the machine"},
        {"nothing", "nothing: you have not found it, and want to see"},
        {"entry", "entry: this entry of the log that was there is wrong"},
    };
    static const hp_practice_claim claim[] = {HP_CLAIM_WIRING, HP_CLAIM_FAULT, HP_CLAIM_NOTHING,
                                              HP_CLAIM_SLIP};
    int given = hp_practice_given(hp_practice_case_machine(p->c)), index = 0;
    hp_wiring wiring;
    hp_answer answer =
        hp_ask_choice(&p->ask, "What have you found?", "", all, given > 0 ? 4 : 3, -1, &index);
    if (answer != HP_ANSWER_GIVEN)
        return answer;
    said->claim = claim[index];
    if (said->claim == HP_CLAIM_FAULT)
        return ask_fault(p, said);
    if (said->claim == HP_CLAIM_SLIP)
        return ask_number(p, "Which entry is wrong?", given, &said->number);
    if (said->claim == HP_CLAIM_WIRING) {
        answer = ask_wiring(p, "Which wiring is correct?", &wiring);
        said->number = hp_wiring_number(&wiring);
    }
    return answer;
}

/* False: the work ends. */
static bool end_with_answer(practice *p)
{
    hp_error err = hp_error_none();
    hp_practice_answer said = {.claim = HP_CLAIM_NOTHING, .lead = -1};
    hp_answer answer = ask_answer(p, &said);
    if (answer != HP_ANSWER_GIVEN)
        return goes_on(answer);
    hp_result result = hp_practice_case_end(p->c, &said, &err);
    if (result == HP_OK) {
        fputc('\n', p->ask.out.file);
        result = hp_practice_print(p->c, &p->ask.out, &err);
    }
    if (result != HP_OK)
        p->status = hp_session_fail(p->session.command, &err);
    return false;
}

/* One choice of the main menu. False: the work ends. */
static bool act_once(practice *p)
{
    menu m;
    int index = 0;
    make_menu(p, &m);
    hp_answer answer = p->seen_menu ? hp_ask_menu(&p->ask, "What now?", m.choice, m.count, &index)
                                    : hp_ask_choice(&p->ask, "What will you do?", "", m.choice,
                                                    m.count, -1, &index);
    p->seen_menu = true;
    if (answer == HP_ANSWER_BACK || answer == HP_ANSWER_UNDO) {
        hp_ask_say(&p->ask, "What was measured is measured; \"drop\" takes an entry out of the "
                            "log.");
        return true;
    }
    if (answer != HP_ANSWER_GIVEN)
        return false;
    switch (m.act[index]) {
    case ACT_ASK: return take_kind(p, m.kind[index]);
    case ACT_LOG: show_log(p); return true;
    case ACT_DROP: return drop(p);
    case ACT_HINT: return hint(p);
    case ACT_ANSWER: return end_with_answer(p);
    }
    return true;
}

/* ---- begin and end --------------------------------------------------------------------------- */

static void greet(practice *p)
{
    const hp_practice *machine = hp_practice_case_machine(p->c);
    hp_practice_level level = hp_practice_level_of(machine);
    char words[HP_PRACTICE_WORDS];
    hp_ask_say(&p->ask, "%s. Level %s, seed %llu.", p->session.scenario.labels.machine,
               hp_practice_level_name(level), (unsigned long long)hp_practice_seed(machine));
    hp_ask_say(&p->ask, "%s %s", hp_practice_level_words(level),
               hp_practice_code_words(&p->session.scenario.labels, words));
    hp_ask_say(&p->ask, "%s", hp_practice_counts_words(p->c, words));
    hp_ask_say(&p->ask, "Nothing here is live. At a real bench: battery off, wheel lifted, first "
                        "power through a limit; local rules and licensed people come first.");
    if (path_of(p)->steps > 0) {
        fputc('\n', p->ask.out.file);
        hp_ask_say(&p->ask, "The log as it was left:");
        hp_practice_path_print(p->c, HP_PRACTICE_LEARNER, &p->ask.out);
    }
}

static void part(practice *p)
{
    const hp_practice *machine = hp_practice_case_machine(p->c);
    const hp_practice_path *path = path_of(p);
    if (!path->ended && path->asked > 0) {
        hp_ask_say(&p->ask, "Your steps so far, %.0f minutes:", path->minutes);
        hp_practice_path_print(p->c, HP_PRACTICE_LEARNER, &p->ask.out);
    }
    if (p->choice->output && path->steps > 0)
        hp_ask_say(&p->ask, "The log is in %s.", p->choice->output);
    fputc('\n', p->ask.out.file);
    hp_ask_say(&p->ask, "The same machine again: --level %s --seed %llu.",
               hp_practice_level_name(hp_practice_level_of(machine)),
               (unsigned long long)hp_practice_seed(machine));
}

static hp_exit work(practice *p)
{
    const hp_screen screen = hp_terminal_screen(stdout);
    p->ask = hp_ask_begin(stdin, &screen);
    p->ask.words = "Answer by a digit, a word, or the beginning of one. Words for any time: "
                   "\"back\" leaves a question, \"help\" explains, \"stop\" ends.";
    greet(p);
    keep_log(p);
    while (p->status == HP_EXIT_FINE && act_once(p))
        ;
    if (p->status == HP_EXIT_FINE)
        part(p);
    if (p->status == HP_EXIT_FINE && p->ask.interrupted)
        p->status = HP_EXIT_CANCELLED;
    hp_ask_end(&p->ask);
    return p->status;
}

/* The scenario FILE, or the machine that comes with the program. */
static hp_exit open_session(practice *p, const char *command)
{
    const char *file = p->choice->advice.file;
    hp_run_choice run = hp_run_choice_default();
    hp_error err = hp_error_none();
    run.quiet = p->choice->advice.quiet;
    if (file)
        return hp_session_open(&p->session, command, file, &run);
    const char *text = hp_practice_scenario_text(p->choice->level);
    p->session.command = command;
    p->session.choice = run;
    hp_result result =
        hp_scenario_read(text, strlen(text), hp_practice_scenario_name(p->choice->level),
                         &p->session.scenario, stderr, &err);
    return result == HP_OK ? HP_EXIT_FINE : hp_session_fail(command, &err);
}

static hp_exit run_command(practice *p)
{
    hp_error err = hp_error_none();
    hp_result result = begin_log(p, &err);
    if (result == HP_OK) {
        p->c = hp_advice_practice_open(&p->session, &p->choice->advice, p->choice->level,
                                       (uint64_t)p->choice->seed, &err);
        result = p->c ? HP_OK : err.code;
    }
    return result == HP_OK ? work(p) : hp_session_fail(p->session.command, &err);
}

hp_exit hp_command_practise(int argc, char **argv)
{
    choices choice = {.advice = hp_advice_choice_default(), .level = HP_PRACTICE_SOUND};
    practice p = {.choice = &choice, .status = HP_EXIT_FINE};
    hp_options_parse(&argp, 0, argc, argv, &choice);
    if (choice.seed == 0)
        choice.seed = 1 + (int)((unsigned long)time(NULL) * 2654435761UL % SEEDS_DRAWN);
    hp_exit status = open_session(&p, argv[0]);
    if (status != HP_EXIT_FINE)
        return status;
    hp_terminal_be_patient(); /* the path so far is told at the end */
    status = run_command(&p);
    hp_practice_case_free(p.c);
    hp_session_close(&p.session);
    return status;
}
