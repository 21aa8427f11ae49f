/* Scenario and log to belief and planner: see the header. */
#include "app/advice_session.h"

#include <stdlib.h>
#include <string.h>

/* After the keys of options.c, before those of the commands. */
enum { KEY_LOG = HP_KEY_FIRST + 0x80, KEY_JOBS, KEY_QUIET };

#define CACHE      "hubphase"
#define CACHE_SIZE 1000

hp_advice_choice hp_advice_choice_default(void)
{
    return (hp_advice_choice){.file = NULL};
}

static const struct argp_option options[] = {
    {"log", KEY_LOG, "LOG", 0, "The bench log (default: x.bench.yaml beside x.yaml)", 0},
    {"jobs", KEY_JOBS, "N", 0,
     "Threads for what is simulated once for a scenario (default: one a processor)", 0},
    {"quiet", KEY_QUIET, NULL, 0, "No progress bar, no remarks", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    hp_advice_choice *choice = state->input;
    switch (key) {
    case KEY_LOG: hp_option_take_log(state, arg, &choice->log); return 0;
    case KEY_JOBS: choice->jobs = hp_option_integer(state, "--jobs", arg, 1, HP_JOBS_MAX); return 0;
    case KEY_QUIET: choice->quiet = true; return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_advice_argp = {options, parse, NULL, NULL, NULL, NULL, NULL};

/* The user's folder for tables (XDG Base Directory Specification). A relative $XDG_CACHE_HOME does
 * not count, as the specification says. */
static hp_result find_cache(char *out, size_t size, hp_error *err)
{
    const char *xdg = getenv("XDG_CACHE_HOME"), *home = getenv("HOME");
    int length = -1;
    if (xdg && xdg[0] == '/')
        length = snprintf(out, size, "%s/" CACHE, xdg);
    else if (home && home[0] == '/')
        length = snprintf(out, size, "%s/.cache/" CACHE, home);
    else
        return hp_error_set(err, HP_FAIL_IO, "neither XDG_CACHE_HOME nor HOME names a folder");
    return length < 0 || (size_t)length >= size
               ? hp_error_set(err, HP_FAIL_IO, "the name of the cache folder is too long")
               : HP_OK;
}

/* Who waits for the case. */
typedef struct listener {
    const hp_session *session;
    bool warned;
    hp_bar bar;
    bool quiet;
} listener;

/* Remarks are made where something is going to be simulated. */
static void remark(void *user, const char *text)
{
    listener *l = user;
    hp_bar_end(&l->bar);
    if (!l->quiet)
        hp_terminal_line(stderr, "%s: %s", l->session->command, text);
    if (!l->warned)
        hp_session_warn_slow(l->session);
    l->warned = true;
}

/* Who waits, where tables are kept, and what of it the options of a case tell. */
typedef struct opening {
    listener listener;
    char cache[CACHE_SIZE];
    hp_error no_cache;
    hp_case_options options;
} opening;

/* The options point into the opening: it stays where it is. */
static void begin_opening(opening *o, const hp_session *session, const hp_advice_choice *choice)
{
    o->listener =
        (listener){.session = session, .bar = hp_bar_begin(choice->quiet), .quiet = choice->quiet};
    o->no_cache = hp_error_none();
    o->options = hp_case_options_default();
    o->options.log = choice->log;
    o->options.log_read = choice->log_read;
    o->options.cache =
        find_cache(o->cache, sizeof o->cache, &o->no_cache) == HP_OK ? o->cache : NULL;
    o->options.jobs = choice->jobs;
    o->options.progress = hp_bar_step;
    o->options.progress_user = &o->listener.bar;
    o->options.remark = remark;
    o->options.remark_user = &o->listener;
    o->options.diagnostics = stderr;
    o->options.columns = hp_terminal_diagnostics().columns;
}

static void end_opening(opening *o, const hp_case *c)
{
    hp_bar_end(&o->listener.bar);
    if (c && hp_case_table(c) == HP_TABLE_BUILT && !o->options.cache && !o->listener.quiet)
        hp_terminal_line(stderr, "%s: %s; this is simulated again the next time",
                         o->listener.session->command, o->no_cache.text);
}

hp_case *hp_advice_case_open(const hp_session *session, const hp_advice_choice *choice,
                             hp_error *err)
{
    opening o;
    begin_opening(&o, session, choice);
    hp_case *c = hp_case_create(&session->scenario, &o.options, err);
    end_opening(&o, c);
    return c;
}

hp_practice_case *hp_advice_practice_open(const hp_session *session, const hp_advice_choice *choice,
                                          hp_practice_level level, uint64_t seed, hp_error *err)
{
    opening o;
    begin_opening(&o, session, choice);
    hp_practice_case *c =
        hp_practice_case_create(&session->scenario, level, seed, &o.options, NULL, err);
    end_opening(&o, c ? hp_practice_case_bench(c) : NULL);
    return c;
}

hp_exit hp_advice_session_open(hp_advice_session *s, const char *command,
                               const hp_advice_choice *choice)
{
    hp_error err = hp_error_none();
    hp_run_choice run = hp_run_choice_default();
    run.jobs = choice->jobs;
    run.quiet = choice->quiet;
    memset(s, 0, sizeof *s);
    hp_exit status = hp_session_open(&s->session, command, choice->file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    s->bench = hp_advice_case_open(&s->session, choice, &err);
    if (s->bench) {
        hp_session_keep_log(&s->session, hp_case_log(s->bench)->path);
        return HP_EXIT_FINE;
    }
    status = hp_session_fail(command, &err);
    hp_advice_session_close(s);
    /* Nothing is read but the log. */
    return err.code == HP_FAIL_IO ? HP_EXIT_INPUT : status;
}

void hp_advice_session_close(hp_advice_session *s)
{
    hp_case_free(s->bench);
    hp_session_close(&s->session);
    memset(s, 0, sizeof *s);
}
