/* Scenario, log and table to belief and planner: see the header. */
#include "record/case/case_parts.h"

#include "decide/advise/full_check.h"
#include "decide/advise/planner.h"
#include "decide/commission/fit_machine.h"
#include "decide/reading/reading.h"
#include "record/case/likelihood_store.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

hp_case_options hp_case_options_default(void)
{
    return (hp_case_options){.log = NULL};
}

static hp_result check_scenario(const hp_scenario *scenario, hp_error *err)
{
    if (!(scenario->drive.controller.throttle > 0.0))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s: controller.throttle_percent is 0, must be above 0 for an advice",
                            scenario->path);
    return HP_OK;
}

/* One that was read before: nobody changes it under the hands of who holds it. */
static hp_result copy_log(hp_case *c, const hp_bench_log *from, hp_error *err)
{
    size_t count = (size_t)from->count;
    c->log = *from;
    c->log.entry = calloc(count + 1, sizeof *c->log.entry);
    if (!c->log.entry) {
        memset(&c->log, 0, sizeof c->log);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a log");
    }
    if (count > 0)
        memcpy(c->log.entry, from->entry, count * sizeof *from->entry);
    return HP_OK;
}

static hp_result load_log(hp_case *c, const char *chosen, hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    FILE *diagnostics = c->options.diagnostics;
    const hp_screen screen = {.file = diagnostics, .columns = c->options.columns};
    hp_result result = hp_bench_log_path_of(c->scenario, chosen, path, sizeof path, err);
    if (result != HP_OK)
        return result;
    return c->log_text ? hp_bench_log_read(c->log_text, strlen(c->log_text), path, c->scenario,
                                           &c->log, diagnostics, err)
                       : hp_bench_log_load_on(path, c->scenario, &c->log,
                                              diagnostics ? &screen : NULL, err);
}

static bool is_same_plan(const hp_plan_params *a, const hp_plan_params *b)
{
    return a->allowed == b->allowed && a->powered == b->powered && a->learns == b->learns &&
           a->assist == b->assist;
}

static hp_result heed_steps(void *user, const hp_belief *belief, hp_advice *advice, hp_error *err);

/* A planner that does without what the log leaves out. */
static hp_result take_plan(hp_case *c, hp_error *err)
{
    const hp_bench_settings *bench = &c->scenario->bench;
    const hp_assess_case *given = &hp_commission_case_list(c->commissioning)->given;
    hp_plan_params plan = bench->plan;
    hp_plan_heed(&plan, given->entry, given->entries);
    hp_plan_drive_by(&plan, given->plan->assist);
    if (c->planner && is_same_plan(&plan, &c->plan))
        return HP_OK;
    hp_planner_free(c->planner);
    c->plan = plan;
    c->planner = hp_planner_create(&c->table, &bench->person, &c->plan, err);
    if (!c->planner)
        return err ? err->code : HP_FAIL_MEMORY;
    hp_planner_heed(c->planner, (hp_plan_beside){heed_steps, c});
    return HP_OK;
}

hp_result hp_case_believe(const hp_likelihood *table, const hp_person *person,
                          const hp_prior_params *prior, const hp_bench_log *log, hp_belief *belief,
                          hp_error *err)
{
    hp_prior_params heeding = *prior;
    for (int k = 0; k < log->count; k++)
        heeding = hp_prior_heeding(&heeding, &log->entry[k].entry, 1);
    hp_result result = hp_belief_create(table, person, &heeding, belief, err);
    for (int k = 0; result == HP_OK && k < log->count; k++)
        result = hp_belief_add(belief, &log->entry[k].entry, err);
    return result == HP_OK ? hp_belief_doubt_mends(belief, &heeding, err) : result;
}

/* The belief after all entries of the log. */
static hp_result take_log(hp_case *c, hp_error *err)
{
    const hp_bench_settings *bench = &c->scenario->bench;
    hp_result result =
        hp_case_believe(&c->table, &bench->person, &bench->prior, &c->log, &c->belief, err);
    hp_commission_case_free(c->commissioning);
    c->commissioning = NULL;
    if (result == HP_OK) {
        c->commissioning = hp_commission_case_create(c->scenario, &c->log, err);
        result = c->commissioning ? HP_OK : HP_FAIL_MEMORY;
    }
    if (result == HP_OK)
        result = take_plan(c, err);
    return result == HP_OK ? hp_belief_ask_most(&c->belief, hp_plan_full(&c->plan), err) : result;
}

static hp_result keep_text(hp_case *c, const char *text, hp_error *err)
{
    char *copy = text ? strdup(text) : NULL;
    if (text && !copy)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a case");
    free(c->log_text);
    c->log_text = copy;
    return HP_OK;
}

/* `number`: what the entries are called, of `count` of them; else by their places. */
static hp_result reload(hp_case *c, const int *number, int count, hp_error *err)
{
    char path[HP_BENCH_PATH_SIZE];
    snprintf(path, sizeof path, "%s", c->log.path);
    hp_belief_free(&c->belief);
    hp_bench_log_free(&c->log);
    hp_result result = load_log(c, path, err);
    /* Where the log is, is known after a failure too. */
    if (result != HP_OK)
        snprintf(c->log.path, sizeof c->log.path, "%s", path);
    for (int k = 0; result == HP_OK && k < count && k < c->log.count; k++)
        c->log.entry[k].entry.number = number[k];
    return result == HP_OK ? take_log(c, err) : result;
}

hp_result hp_case_reload(hp_case *c, hp_error *err)
{
    return reload(c, NULL, 0, err);
}

hp_result hp_case_reload_numbered(hp_case *c, const char *text, const int *number, int count,
                                  hp_error *err)
{
    hp_result result = keep_text(c, text, err);
    return result == HP_OK ? reload(c, number, count, err) : result;
}

hp_result hp_case_reload_text(hp_case *c, const char *text, hp_error *err)
{
    return hp_case_reload_numbered(c, text, NULL, 0, err);
}

/* The log first: a mistake in it costs no waiting. */
static hp_result fill(hp_case *c, hp_error *err)
{
    hp_result result = keep_text(c, c->options.log_text, err);
    if (result == HP_OK)
        result = c->options.log_read ? copy_log(c, c->options.log_read, err)
                                     : load_log(c, c->options.log, err);
    if (result == HP_OK)
        result = check_scenario(c->scenario, err);
    if (result == HP_OK)
        result = hp_likelihood_store_get(c->scenario, &c->options, &c->table, &c->origin, err);
    return result == HP_OK ? take_log(c, err) : result;
}

hp_case *hp_case_create(const hp_scenario *scenario, const hp_case_options *options, hp_error *err)
{
    hp_case *c = calloc(1, sizeof *c);
    if (!c) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a case");
        return NULL;
    }
    c->scenario = scenario;
    c->options = *options;
    if (fill(c, err) != HP_OK) {
        hp_case_free(c);
        return NULL;
    }
    /* Copied, or not wanted any more. */
    c->options.log = NULL;
    c->options.log_text = NULL;
    c->options.log_read = NULL;
    c->options.cache = NULL;
    c->options.table = NULL;
    return c;
}

void hp_case_free(hp_case *c)
{
    if (!c)
        return;
    hp_planner_free(c->planner);
    hp_commission_case_free(c->commissioning);
    hp_belief_free(&c->belief);
    hp_likelihood_free(&c->table);
    hp_bench_log_free(&c->log);
    free(c->log_text);
    free(c);
}

const hp_scenario *hp_case_scenario(const hp_case *c)
{
    return c->scenario;
}

const hp_bench_log *hp_case_log(const hp_case *c)
{
    return &c->log;
}

const hp_plan_params *hp_case_plan(const hp_case *c)
{
    return &c->plan;
}

hp_table_origin hp_case_table(const hp_case *c)
{
    return c->origin;
}

hp_result hp_case_table_write(const hp_case *c, FILE *out, hp_error *err)
{
    return hp_likelihood_write(&c->table, out, err);
}

hp_result hp_case_table_key(const hp_scenario *scenario, char *out, hp_error *err)
{
    return hp_likelihood_store_name(scenario, out, err);
}

const hp_commission_case *hp_case_commissioning(const hp_case *c)
{
    return c->commissioning;
}

/* A belief that the plan looks at, and where the steps of commissioning stand with its entries. */
typedef struct moment {
    const hp_case *c;
    const hp_belief *belief;
    const hp_commission *list;
} moment;

/* Once the machine's own drag and speed are known, they say better than any ensemble what a run at
 * full throttle ought to show. */
void hp_case_use_own(const hp_case *c, const hp_commission *list, hp_advice *advice)
{
    const hp_own_figure *figure = list->own.figure;
    bool ends = advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY;
    const hp_fit_choice all = {.without = NULL};
    hp_machine_fit fit;
    /* What drags, or is wired wrong, drew as much while those were taken: they excuse no check. */
    if (!ends || advice->why == HP_WHY_CHECK_FAILED || !figure[HP_OWN_SPEED_PER_V].known ||
        !figure[HP_OWN_NO_LOAD_A].known)
        return;
    hp_machine_fit_make(&list->given, &all, &fit);
    hp_no_load_told told = hp_machine_no_load(&fit, c->scenario->drive.supply.emf_v);
    advice->full_current_a = told.battery_90;
    advice->full_wheel_rad_s = told.rad_90;
    advice->full_from = HP_BANDS_MACHINE;
    advice->full_most_a = hp_draw_most(told.battery_a, told.battery_90);
}

/* chosen: a wiring less likely than not is not the right one because its wheel ran. */
#define PROBABLE 0.5

/* The wiring joined, by a trial that ran well and a no-load run that says the same; 0: there are no
 * two such runs, or other readings speak against it. */
static int borne_out(const moment *m, double *right)
{
    const hp_commission *list = m->list;
    double probability[HP_WIRING_COUNT + 1];
    int present = hp_plan_present(m->belief);
    if (!(list->bears_out || (list->doubted && list->wired)) || present == 0)
        return 0;
    hp_belief_wirings(m->belief, probability);
    *right = probability[present];
    return *right >= PROBABLE ? present : 0;
}

/* The no-load run that has the last word on a wiring, where it was as it ought to be; NULL: there
 * is none. */
static const hp_entry *expected_run(const hp_commission *list, int number)
{
    for (int k = list->given.entries - 1; k >= 0; k--) {
        const hp_entry *entry = &list->given.entry[k];
        int code = 0;
        if (hp_entry_trial(entry))
            return NULL;
        if (!entry->reading->full_run)
            continue;
        bool good =
            !entry->typical && hp_joined_at(list->given.entry, k) == number &&
            entry->reading->assess(&list->given, hp_entry_said(entry), &code) == HP_FINDING_GOOD;
        return good ? entry : NULL;
    }
    return NULL;
}

/* Whether such a run (NULL: none) says what the wiring draws, as far as it can be read here. */
static bool tells_draw(const hp_commission *list, const hp_entry *entry)
{
    hp_full_run run;
    if (!entry)
        return false;
    entry->reading->full_run(hp_entry_said(entry), &run);
    return hp_full_run_told(list->given.plan, run.battery_a, run.wheel_rad_s);
}

/* Whether a no-load run that was as it ought to be stands, and the newest trial ran as well: what
 * was mended since, or ran no more, has opened its step again. */
static bool run_stands(const hp_commission *list)
{
    bool stands = false;
    for (int k = 0; k < list->steps; k++) {
        const hp_commission_step *step = &list->step[k];
        stands = stands || (step->reading->full_run && step->entry && !step->entry->typical &&
                            step->finding == HP_FINDING_GOOD);
    }
    return stands && list->bears_out && list->odd_entry == 0 && list->growl_entry == 0 &&
           !list->trial_failed;
}

/* Who went through the steps has a wheel that runs on what is joined: nothing is left to be looked
 * for. Without a trial the wiring's number is not known. */
static void use_run(const moment *m, hp_advice *advice)
{
    const hp_commission *list = m->list;
    bool searches = advice->kind == HP_ADVICE_READ || advice->kind == HP_ADVICE_TRY ||
                    advice->kind == HP_ADVICE_LOOK || advice->kind == HP_ADVICE_LEARN;
    bool some_way = !list->wired && list->way_unsaid;
    double right = 0.0;
    /* Without its sensors no run says which of them it was, once the wiring has its number. */
    bool told = m->belief->unsensed && hp_plan_present(m->belief) > 0;
    if (!searches || list->failed.stands || told)
        return;
    int number = borne_out(m, &right);
    if (!(list->ran || some_way || number > 0))
        return;
    *advice = (hp_advice){.kind = HP_ADVICE_PROBABLY,
                          .why = some_way                         ? HP_WHY_RAN_SOME_WAY
                                 : number > 0 && !list->bears_out ? HP_WHY_RUN_DOUBTED
                                                                  : HP_WHY_RAN,
                          .lead = -1,
                          .unsensed = advice->unsensed,
                          .current_a = advice->current_a,
                          .wheel_rad_s = advice->wheel_rad_s,
                          .full_current_a = list->full_current_a,
                          .full_wheel_rad_s = list->full_wheel_rad_s,
                          .full_from = HP_BANDS_PARTS,
                          .full_most_a = list->full_most_a,
                          .contradiction = advice->contradiction};
    /* A smooth wheel that nobody saw turn is as likely one of the reverse wirings'. */
    double forward = 1.0 - m->belief->person->wrong_direction;
    advice->certainty = some_way ? 0.5 : fmax(right, forward);
    advice->number = number;
    if (number > 0)
        advice->wiring = hp_wiring_from_number(number);
    /* A trial and a no-load run that agree, with its current: two looks, as for the plan. */
    if (number > 0 && right >= HP_TWO_LOOKS && list->odd_entry == 0 &&
        tells_draw(list, expected_run(list, number))) {
        advice->kind = HP_ADVICE_DONE;
        advice->why = HP_WHY_CURRENT;
        advice->checked = true;
    }
}

/* A no-load run is the final check, too, also one that was made with a borrowed meter. */
static void use_check(const moment *m, hp_advice *advice)
{
    const hp_commission *list = m->list;
    bool right = advice->kind == HP_ADVICE_DONE || advice->why == HP_WHY_UNMETERED;
    if (!right || advice->checked ||
        hp_last_count_missed(m->belief->entry, m->belief->entries, advice->number))
        return;
    const hp_entry *run = expected_run(list, advice->number);
    advice->checked =
        tells_draw(list, run) || (run_stands(list) && hp_plan_present(m->belief) == advice->number);
    if (run && !advice->checked)
        advice->unread = run->number;
    if (!advice->checked || advice->why != HP_WHY_UNMETERED)
        return;
    advice->kind = HP_ADVICE_DONE;
    advice->why = HP_WHY_CURRENT;
    advice->felt = 0;
}

/* What the steps of commissioning say of the runs at full throttle: by the volts, the drag and the
 * idle draw that were read, and of runs that are no trials. */
static void use_steps(const moment *m, hp_advice *advice)
{
    const hp_commission *list = m->list;
    use_run(m, advice);
    use_check(m, advice);
    /* Its last run at full throttle is in doubt: the check is to be made again. */
    if (advice->kind == HP_ADVICE_DONE && list->doubted)
        advice->checked = false;
    if (!list->failed.stands || advice->failed.stands)
        return;
    advice->failed = list->failed;
    advice->full_current_a = list->full_current_a;
    advice->full_wheel_rad_s = list->full_wheel_rad_s;
    advice->full_from = HP_BANDS_PARTS;
    advice->full_most_a = list->full_most_a;
    hp_plan_fail_check(advice, hp_plan_present(m->belief));
}

/* Whether the reading that does not fit is to be taken once more: not what was asked for by a sign
 * in the log, which says what it found, nor what said so twice. */
static bool worth_again(const hp_case *c, const hp_commission *list)
{
    const hp_reading *reading = list->contrary->reading;
    return !list->contrary_again && reading->demand == 0 && hp_reading_is_advised(reading) &&
           (c->plan.allowed & hp_allow(reading));
}

/* No wiring is called correct beside a reading, made since the last run, that no wheel that runs
 * well gives. It is taken once more; if it stays, or cannot be taken, one more run is what tells,
 * and nobody is asked a third time. */
static void heed_contrary(const moment *m, hp_advice *advice)
{
    const hp_commission *list = m->list;
    if (advice->kind != HP_ADVICE_DONE || !list->contrary)
        return;
    if (worth_again(m->c, list)) {
        hp_plan_ask_instead(advice, list->contrary->reading);
        return;
    }
    advice->checked = false;
    advice->kind = HP_ADVICE_PROBABLY;
    advice->why = HP_WHY_CONTRARY;
}

/* Why the wheel stands still was read already: no reckoning, no other reading and no mend comes
 * before that. */
static void heed_held(const moment *m, hp_advice *advice)
{
    const hp_entry *held = m->list->held.entry;
    if (!held || advice->kind == HP_ADVICE_DANGER || advice->kind == HP_ADVICE_DONE ||
        advice->kind == HP_ADVICE_PROBABLY || !(m->c->plan.allowed & hp_allow(held->reading)))
        return;
    hp_plan_ask_instead(advice, held->reading);
}

static void heed_moment(const moment *m, hp_advice *advice)
{
    use_steps(m, advice);
    heed_contrary(m, advice);
    heed_held(m, advice);
    hp_case_use_own(m->c, m->list, advice);
}

/* Of a belief that is still to come the steps stand as its entries have them. */
static hp_result heed_steps(void *user, const hp_belief *belief, hp_advice *advice, hp_error *err)
{
    const hp_case *c = user;
    moment m = {c, belief, hp_commission_case_list(c->commissioning)};
    if (belief == &c->belief) {
        heed_moment(&m, advice);
        return HP_OK;
    }
    hp_assess_case given = m.list->given;
    hp_commission *ahead = malloc(sizeof *ahead);
    if (!ahead)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for the steps ahead");
    given.entry = belief->entry;
    given.entries = belief->entries;
    hp_commission_make(&given, ahead);
    m.list = ahead;
    heed_moment(&m, advice);
    free(ahead);
    return HP_OK;
}

hp_result hp_case_advise(hp_case *c, bool thorough, hp_advice *advice, hp_error *err)
{
    const hp_commission *list = hp_commission_case_list(c->commissioning);
    hp_planner_hold_against(c->planner, &(hp_full_limits){.current_a = list->full_current_a,
                                                          .wheel_rad_s = list->full_wheel_rad_s,
                                                          .most_a = list->full_most_a});
    return hp_plan_next(c->planner, &c->belief, thorough, advice, err);
}

hp_result hp_case_next(hp_case *c, hp_advice *advice, hp_error *err)
{
    return hp_case_advise(c, true, advice, err);
}

int hp_case_showings(hp_case *c, const hp_advice *advice, double least,
                     hp_showing showing[HP_SHOWING_MAX])
{
    return hp_plan_showings(c->planner, &c->belief, advice, least, showing);
}
