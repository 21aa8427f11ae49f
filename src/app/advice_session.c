/* Scenario and log to belief and planner: see the header. */
#include "app/advice_session.h"

#include <string.h>

/* After the keys of options.c, before those of the commands. */
enum { KEY_LOG = HP_KEY_FIRST + 0x80, KEY_JOBS, KEY_QUIET };

#define JOBS_MAX 256 /* as in options.c */

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
    case KEY_JOBS: choice->jobs = hp_option_integer(state, "--jobs", arg, 1, JOBS_MAX); return 0;
    case KEY_QUIET: choice->quiet = true; return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

const struct argp hp_advice_argp = {options, parse, NULL, NULL, NULL, NULL, NULL};

/* The advice knows tables for 120-degree sensors: others have no place among its cases. */
static hp_result check_scenario(const hp_scenario *scenario, hp_error *err)
{
    if (scenario->bench.table_known && scenario->bench.prior.table < 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s: controller.table is not one for 120-degree sensors, must be one "
                            "for an advice; write `table_known: no` under bench if it is only a "
                            "guess",
                            scenario->path);
    if (!(scenario->drive.controller.throttle > 0.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s: controller.throttle_percent is 0, must be above 0 for an advice",
                            scenario->path);
    return HP_OK;
}

static hp_result load_log(hp_advice_session *s, const char *chosen, hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    const hp_scenario *scenario = &s->session.scenario;
    hp_result result = hp_bench_log_path(scenario->path, chosen, path, sizeof path, err);
    return result == HP_OK ? hp_bench_log_load(path, scenario, &s->log, stderr, err) : result;
}

/* The belief after all entries of the log. */
static hp_result take_log(hp_advice_session *s, hp_error *err)
{
    const hp_bench_settings *bench = &s->session.scenario.bench;
    hp_result result = hp_belief_create(&s->table, &bench->person, &bench->prior, &s->belief, err);
    for (int k = 0; result == HP_OK && k < s->log.count; k++)
        result = hp_belief_add(&s->belief, &s->log.entry[k].entry, err);
    return result;
}

hp_result hp_advice_session_reload(hp_advice_session *s, hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    snprintf(path, sizeof path, "%s", s->log.path);
    hp_belief_free(&s->belief);
    hp_bench_log_free(&s->log);
    hp_result result = load_log(s, path, err);
    return result == HP_OK ? take_log(s, err) : result;
}

static hp_result prepare(hp_advice_session *s, const hp_advice_choice *choice, hp_error *err)
{
    const hp_scenario *scenario = &s->session.scenario;
    hp_table_choice table_choice = {
        .command = s->session.command, .jobs = choice->jobs, .quiet = choice->quiet};
    hp_result result = check_scenario(scenario, err);
    if (result == HP_OK)
        result = hp_advice_table_get(scenario, &table_choice, &s->table, &s->origin, err);
    if (result == HP_OK)
        result = take_log(s, err);
    if (result != HP_OK)
        return result;
    s->planner = hp_planner_create(&s->table, &scenario->bench.person, &scenario->bench.plan, err);
    return s->planner ? HP_OK : err->code;
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
    /* The log first: a mistake in it costs no waiting. */
    bool logged = load_log(s, choice->log, &err) == HP_OK;
    if (logged)
        hp_session_keep_log(&s->session, s->log.path);
    if (logged && prepare(s, choice, &err) == HP_OK)
        return HP_EXIT_FINE;
    status = hp_session_fail(command, &err);
    hp_advice_session_close(s);
    return !logged && err.code == HP_FAIL_IO ? HP_EXIT_INPUT : status;
}

void hp_advice_session_close(hp_advice_session *s)
{
    hp_planner_free(s->planner);
    hp_belief_free(&s->belief);
    hp_likelihood_free(&s->table);
    hp_bench_log_free(&s->log);
    hp_session_close(&s->session);
    memset(s, 0, sizeof *s);
}

hp_card_context hp_advice_session_context(const hp_advice_session *s)
{
    return (hp_card_context){.drive = &s->session.scenario.drive,
                             .labels = &s->session.scenario.labels,
                             .plan = hp_planner_params(s->planner),
                             .present = hp_card_present(&s->belief)};
}
