/* `hubphase log FILE KIND`: one more entry in the bench log, from options. */
#include "app/command_table.h"

#include "app/session.h"
#include "hubphase/base/text.h"
#include "hubphase/record/bench_log.h"

#include <stdlib.h>
#include <string.h>

enum { KEY_LOG = HP_KEY_OWN, KEY_TIME, KEY_NOTE, KEY_FIGURES, KEY_UNDO, KEY_QUIET, KEY_FIELDS };

#define GIVEN_MAX   64
#define OPTIONS_MAX (HP_READINGS_MAX * (HP_FIELDS_MAX + 1) + 8)
#define NAME_SIZE   40
#define LIST_SIZE   600

/* One option of an entry as it was given. */
typedef struct given {
    const hp_reading *reading; /* the first kind that has it */
    const hp_field *field;
    const char *text; /* borrowed from argv */
} given;

typedef struct choices {
    const char *file;
    const char *log;        /* NULL: beside the scenario */
    const hp_reading *kind; /* NULL: none */
    const char *time;       /* NULL: now */
    const char *note;       /* NULL: none */
    bool typical;
    bool figures; /* they were told */
    bool undo;
    bool quiet;
    given given[GIVEN_MAX];
    int count;
} choices;

/* ---- options from the kinds of entries ------------------------------------------------------- */

/* Field number `index` of all kinds in order; false behind the last. */
static bool nth_field(int index, given *found)
{
    for (int k = 0; hp_readings[k]; k++)
        for (const hp_field *field = hp_fields_of(hp_readings[k]); field->name; field++)
            if (index-- == 0) {
                *found = (given){.reading = hp_readings[k], .field = field};
                return true;
            }
    return false;
}

/* Whether an earlier field has this name: an option means the same for every kind. */
static bool is_known(int index, const char *name)
{
    given earlier;
    for (int k = 0; k < index && nth_field(k, &earlier); k++)
        if (strcmp(earlier.field->name, name) == 0)
            return true;
    return false;
}

static const struct argp_option general[] = {
    {"time", KEY_TIME, "TIME", 0, "When it was, such as 2026-11-25T10:40:00+01:00 (default: now)",
     1},
    {"note", KEY_NOTE, "TEXT", 0, "A free note", 1},
    {"figures", KEY_FIGURES, "HOW", 0,
     "measured (when not given), or typical: they stand for what was seen, and the wiring sheet "
     "leaves them out",
     1},
    {"log", KEY_LOG, "LOG", 0, "The bench log (default: x.bench.yaml beside x.yaml)", 1},
    {"undo", KEY_UNDO, NULL, 0,
     "Take the last entry back; its lines are kept in the file as comments", 1},
    {"quiet", KEY_QUIET, NULL, 0, "Do not print what was added", 1},
};

/* argp wants the rows to last as long as it works. */
typedef struct option_table {
    struct argp_option row[OPTIONS_MAX];
    char name[OPTIONS_MAX][NAME_SIZE];
    char title[HP_READINGS_MAX][NAME_SIZE];
} option_table;

static void fill_options(option_table *t)
{
    int used = 0;
    memset(t, 0, sizeof *t);
    for (size_t k = 0; k < sizeof general / sizeof general[0]; k++)
        t->row[used++] = general[k];
    given g;
    const hp_reading *last = NULL;
    for (int k = 0; nth_field(k, &g) && used < OPTIONS_MAX - 2; k++) {
        int index = hp_reading_index(g.reading), group = 2 + index;
        if (g.reading != last) {
            snprintf(t->title[index], NAME_SIZE, "Of %s:", hp_reading_name(g.reading));
            t->row[used++] = (struct argp_option){.doc = t->title[index], .group = group};
        }
        last = g.reading;
        if (is_known(k, g.field->name))
            continue;
        hp_field_option(g.field, t->name[k], NAME_SIZE);
        t->row[used++] = (struct argp_option){.name = t->name[k],
                                              .key = KEY_FIELDS + k,
                                              .arg = g.field->argument,
                                              .doc = g.field->help,
                                              .group = group};
    }
}

/* ---- the command line ------------------------------------------------------------------------ */

/* "pins, sensor_supply or mend"; `last` stands before the last. */
static char *list_kinds(const char *last, char *out, size_t size)
{
    hp_phrase phrase = hp_phrase_begin(out, size);
    for (int k = 0; hp_readings[k]; k++)
        hp_phrase_add(&phrase, "%s%s",
                      k == 0               ? ""
                      : hp_readings[k + 1] ? ", "
                                           : last,
                      hp_reading_name(hp_readings[k]));
    return out;
}

static void take_kind(struct argp_state *state, const char *text, choices *choice)
{
    char list[LIST_SIZE];
    if (choice->kind)
        hp_option_refuse(state, "one KIND is expected, but there is \"%s\" after \"%s\"%s", text,
                         hp_reading_name(choice->kind),
                         strchr(text, '=') ? ": no blank behind a comma" : "");
    choice->kind = hp_reading_find(text);
    if (choice->kind)
        return;
    const hp_reading *nearest = hp_reading_nearest(text);
    if (nearest)
        hp_option_refuse(state, "\"%s\" is no kind of entry, did you mean %s?", text,
                         hp_reading_name(nearest));
    else
        hp_option_refuse(state, "\"%s\" is no kind of entry, must be one of %s", text,
                         list_kinds(", ", list, sizeof list));
}

static void take_figures(struct argp_state *state, const char *text, choices *choice)
{
    choice->figures = true;
    choice->typical = strcmp(text, hp_bench_figures_words[1]) == 0;
    if (!choice->typical && strcmp(text, hp_bench_figures_words[0]) != 0)
        hp_option_refuse(state, "--figures is \"%s\", must be %s or %s", text,
                         hp_bench_figures_words[0], hp_bench_figures_words[1]);
}

/* What cannot stand in a line of text would garble the log. */
static void check_text(const struct argp_state *state, const char *text, const char *option)
{
    size_t size = strlen(text) + 1;
    char *clean = malloc(size);
    bool same = clean && strcmp(hp_text_clean(text, clean, size), text) == 0;
    free(clean);
    if (!same)
        hp_option_refuse(
            state, "%s must be a text in one line, in UTF-8, without control characters", option);
}

static void check_given(struct argp_state *state, const choices *choice)
{
    for (int k = 0; k < choice->count; k++) {
        char name[NAME_SIZE], option[NAME_SIZE + 2];
        const given *g = &choice->given[k];
        hp_field_option(g->field, name, sizeof name);
        snprintf(option, sizeof option, "--%s", name);
        check_text(state, g->text, option);
        if (!hp_field_find(choice->kind, g->field->name))
            hp_option_refuse(state, "%s belongs to %s, not to %s", option,
                             hp_reading_name(g->reading), hp_reading_name(choice->kind));
    }
}

/* Whether something is told that only a new entry can take. */
static bool tells_values(const choices *choice)
{
    return choice->count > 0 || choice->time || choice->note || choice->figures;
}

static void check_line(struct argp_state *state, const choices *choice)
{
    if (!choice->file)
        hp_option_refuse(state, "the scenario FILE is missing");
    if (choice->undo && (choice->kind || tells_values(choice)))
        hp_option_refuse(state,
                         "--undo takes the last entry back, it goes with no KIND and no values");
    if (!choice->kind && tells_values(choice))
        hp_option_refuse(state, "the KIND of entry is missing, such as trial");
    if (choice->time && !hp_bench_log_time_check(choice->time))
        hp_option_refuse(state,
                         "--time is \"%s\", must be a time with its offset from UTC such as "
                         "2026-11-25T10:40:00+01:00",
                         choice->time);
    if (choice->note) {
        check_text(state, choice->note, "--note");
        if (strlen(choice->note) >= HP_BENCH_NOTE_SIZE)
            hp_option_refuse(state, "--note has %zu bytes, must have at most %d",
                             strlen(choice->note), HP_BENCH_NOTE_SIZE - 1);
    }
    check_given(state, choice);
}

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case KEY_LOG: hp_option_take_log(state, arg, &choice->log); return 0;
    case KEY_TIME: choice->time = arg; return 0;
    case KEY_NOTE: choice->note = arg; return 0;
    case KEY_FIGURES: take_figures(state, arg, choice); return 0;
    case KEY_UNDO: choice->undo = true; return 0;
    case KEY_QUIET: choice->quiet = true; return 0;
    case ARGP_KEY_ARG:
        if (!choice->file)
            choice->file = arg;
        else
            take_kind(state, arg, choice);
        return 0;
    case ARGP_KEY_END: check_line(state, choice); return 0;
    default:
        if (key < KEY_FIELDS || key >= KEY_FIELDS + OPTIONS_MAX)
            return ARGP_ERR_UNKNOWN;
        if (choice->count == GIVEN_MAX)
            hp_option_refuse(state, "there are more than %d values, must be fewer", GIVEN_MAX);
        if (!nth_field(key - KEY_FIELDS, &choice->given[choice->count]))
            return ARGP_ERR_UNKNOWN;
        choice->given[choice->count++].text = arg;
        return 0;
    }
}

static const char doc[] =
    "Add an entry to the bench log of scenario FILE: what was measured, or a wiring that was "
    "tried. KIND is %s. Without a KIND the log is printed."
    "\vLeads go by the scenario's colours or by U V W, pairs of phase leads by two of them, such "
    "as "
    "yellow-green or U-V; an option with an equals sign is given once for each pair, lead or code, "
    "or for several with commas between. "
    "The log is a file for people: docs/benchlog.md. `hubphase bench' asks for the same things one "
    "by one.";

/* ---- from options to an entry ---------------------------------------------------------------- */

static void say_mistake(void *user, const char *text)
{
    const char *command = user;
    hp_terminal_line(stderr, "%s: %s", command, text);
}

static hp_exit make_entry(const char *command, const choices *choice, const hp_scenario *scenario,
                          hp_bench_entry *entry)
{
    hp_typed_value value[GIVEN_MAX];
    hp_error err = hp_error_none();
    for (int k = 0; k < choice->count; k++)
        value[k] = (hp_typed_value){choice->given[k].field, choice->given[k].text};
    hp_result result = hp_bench_entry_type(choice->kind, value, choice->count, scenario,
                                           say_mistake, (char *)command, entry, &err);
    if (result != HP_OK)
        return result == HP_FAIL_INPUT ? HP_EXIT_USAGE : hp_session_fail(command, &err);
    entry->entry.typical = choice->typical;
    snprintf(entry->note, sizeof entry->note, "%s", choice->note ? choice->note : "");
    if (choice->time)
        snprintf(entry->time, sizeof entry->time, "%s", choice->time);
    else
        hp_bench_log_now(entry->time, sizeof entry->time);
    return HP_EXIT_FINE;
}

/* ---- what is done ---------------------------------------------------------------------------- */

static hp_exit list(const char *command, const char *path, const hp_scenario *scenario)
{
    hp_bench_log log;
    hp_error err = hp_error_none();
    const hp_screen problems = hp_terminal_diagnostics();
    hp_result result = hp_bench_log_load_on(path, scenario, &log, &problems, &err);
    if (result != HP_OK) {
        hp_exit status = hp_session_fail(command, &err);
        return result == HP_FAIL_IO ? HP_EXIT_INPUT : status;
    }
    const hp_screen screen = hp_terminal_screen(stdout);
    if (log.count == 0)
        hp_terminal_line(stdout, "%s has no entry yet.", path);
    for (int k = 0; k < log.count; k++)
        hp_bench_entry_print(&log.entry[k], scenario, &screen);
    hp_bench_log_free(&log);
    return HP_EXIT_FINE;
}

static hp_exit add(const char *command, const char *path, const choices *choice,
                   const hp_scenario *scenario)
{
    hp_bench_entry entry;
    hp_error err = hp_error_none();
    hp_exit status = make_entry(command, choice, scenario, &entry);
    if (status != HP_EXIT_FINE)
        return status;
    if (hp_bench_log_append(path, scenario, &entry, stderr, &err) != HP_OK)
        return hp_session_fail(command, &err);
    if (choice->quiet)
        return HP_EXIT_FINE;
    const hp_screen screen = hp_terminal_screen(stdout);
    hp_terminal_line(stdout, "Added to %s:", path);
    hp_bench_entry_print(&entry, scenario, &screen);
    return hp_session_printed(command, entry.entry.number, "saved in", path);
}

static hp_exit undo(const char *command, const char *path, const choices *choice,
                    const hp_scenario *scenario)
{
    hp_bench_entry taken;
    hp_error err = hp_error_none();
    if (hp_bench_log_undo(path, scenario, &taken, stderr, &err) != HP_OK)
        return hp_session_fail(command, &err);
    if (choice->quiet)
        return HP_EXIT_FINE;
    const hp_screen screen = hp_terminal_screen(stdout);
    hp_terminal_line(stdout, "Taken back; its lines are kept in %s as comments:", path);
    hp_bench_entry_print(&taken, scenario, &screen);
    return hp_session_printed(command, taken.entry.number, "taken back in", path);
}

hp_exit hp_command_log(int argc, char **argv)
{
    choices choice = {.kind = NULL};
    char kinds[LIST_SIZE], text[sizeof doc + LIST_SIZE];
    option_table table;
    hp_session session;
    hp_run_choice run = hp_run_choice_default();
    char path[HP_BENCH_PATH_SIZE];
    hp_error err = hp_error_none();
    fill_options(&table);
    snprintf(text, sizeof text, doc, list_kinds(" or ", kinds, sizeof kinds));
    const struct argp argp = {table.row, parse, "FILE [KIND]", text, NULL, NULL, NULL};
    hp_options_parse(&argp, 0, argc, argv, &choice);
    hp_exit status = hp_session_open(&session, argv[0], choice.file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    const hp_scenario *scenario = &session.scenario;
    if (hp_bench_log_path_of(scenario, choice.log, path, sizeof path, &err) != HP_OK)
        status = hp_session_fail(argv[0], &err);
    else if (choice.undo)
        status = undo(argv[0], path, &choice, scenario);
    else if (!choice.kind)
        status = list(argv[0], path, scenario);
    else
        status = add(argv[0], path, &choice, scenario);
    hp_session_close(&session);
    return status;
}
