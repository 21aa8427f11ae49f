/*
 * A hidden machine and the two logs: see the header.
 *
 * There is one case, and it holds the log of whichever path is looked at: the table of likelihoods
 * is large, a log is short.
 *
 * Beside the case's belief, from which the advice works as at any bench, stands one that takes the
 * level at its word: good parts where it says so, the stated table, and nobody who notes what was
 * not so, unless a slip is what is to be found. What is left is counted, and what a step told is
 * told, by that one: a learner may take the level at its word, too.
 */
#include "hubphase/record/practice_case.h"

#include "decide/advise/belief_weigh.h"
#include "decide/practise/hidden.h"
#include "record/case/case_parts.h"

#include <stdlib.h>
#include <string.h>

/* One side of the evening. */
typedef struct side {
    hp_practice_path path;
    char *log;                             /* owned; text */
    hp_entry asked[HP_PRACTICE_STEPS_MAX]; /* what the machine has shown, in order */
    char *then[HP_PRACTICE_STEPS_MAX];     /* owned; the log right after each step */
    int gone[HP_PRACTICE_STEPS_MAX];       /* how many steps there were when it was taken out */
} side;

struct hp_practice_case {
    const hp_scenario *scenario;   /* borrowed */
    hp_practice *machine;          /* owned */
    hp_case *bench;                /* owned */
    char time[HP_BENCH_TIME_SIZE]; /* of the next entry; empty: now */
    hp_person person;              /* of `counted` */
    hp_prior_params prior;         /* of `counted` */
    hp_belief counted;             /* owned; of the log that the bench holds */
    side side[HP_PRACTICE_WHO];
};

/* ---- what the level says --------------------------------------------------------------------- */

static void take_at_its_word(hp_practice_case *c, hp_practice_level level)
{
    const hp_bench_settings *bench = &c->scenario->bench;
    hp_prior_params *p = &c->prior;
    *p = bench->prior;
    c->person = level == HP_PRACTICE_SLIP ? bench->person : hp_person_noting_right(&bench->person);
    if (p->table >= 0)
        p->table_stated = 1.0;
    if (level == HP_PRACTICE_FAULT)
        return;
    p->inverted = p->sensor_fault = p->lead_open = p->silent = p->cutting_out = p->loose =
        p->unlisted = 0.0;
    p->clutch = level == HP_PRACTICE_CLUTCH ? p->clutch : 0.0;
}

const hp_belief *hp_practice_case_counted(const hp_practice_case *c)
{
    return &c->counted;
}

/* After the log that the bench holds. */
static hp_result count_again(hp_practice_case *c, hp_error *err)
{
    hp_belief_free(&c->counted);
    return hp_case_believe(&c->bench->table, &c->person, &c->prior, &c->bench->log, &c->counted,
                           err);
}

/* Right once what is broken is mended. */
static int count_left(const hp_practice_case *c)
{
    double right[HP_WIRING_COUNT + 1];
    int count = 0;
    hp_belief_wirings_mended(&c->counted, right);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        count += right[n] >= HP_PRACTICE_LEFT;
    return count;
}

/* Whether something is broken that lets no wiring be right. */
static bool is_broken(const hp_practice_case *c)
{
    double right[HP_WIRING_COUNT + 1], good = 0.0;
    hp_belief_wirings(&c->counted, right);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        good += right[n] / 3.0; /* of equals three are right */
    return good <= 1.0 - c->scenario->bench.plan.sure_broken;
}

/* ---- a log ----------------------------------------------------------------------------------- */

/* The log as it was after so many steps, its entries called as on the path; one more is the next.
 */
static hp_result load(hp_practice_case *c, hp_practice_who who, const char *log, int steps,
                      hp_error *err)
{
    const side *s = &c->side[who];
    int number[HP_PRACTICE_STEPS_MAX + 1], count = 0;
    for (int k = 0; k < steps; k++)
        if (s->path.step[k].number > 0 || s->gone[k] > steps)
            number[count++] = k + 1;
    number[count++] = steps + 1;
    hp_result result = hp_case_reload_numbered(c->bench, log, number, count, err);
    return result == HP_OK ? count_again(c, err) : result;
}

static hp_result reload(hp_practice_case *c, hp_practice_who who, hp_error *err)
{
    return load(c, who, c->side[who].log, c->side[who].path.steps, err);
}

hp_result hp_practice_case_show(hp_practice_case *c, hp_practice_who who, hp_error *err)
{
    return reload(c, who, err);
}

hp_result hp_practice_case_show_then(hp_practice_case *c, hp_practice_who who, int index,
                                     hp_error *err)
{
    return load(c, who, c->side[who].then[index], index + 1, err);
}

/* Takes a longer or a shorter log over. On failure the old one stays. */
static hp_result take_log(hp_practice_case *c, hp_practice_who who, char *log, hp_error *err)
{
    char *old = c->side[who].log;
    c->side[who].log = log;
    hp_result result = reload(c, who, err);
    if (result == HP_OK) {
        free(old);
        return HP_OK;
    }
    c->side[who].log = old;
    free(log);
    reload(c, who, NULL);
    return result;
}

static hp_result append(hp_practice_case *c, hp_practice_who who, const hp_entry *shown,
                        hp_bench_entry *entry, hp_error *err)
{
    char *longer = NULL;
    *entry = hp_bench_entry_make(shown->reading);
    entry->entry = *shown;
    if (c->time[0])
        snprintf(entry->time, sizeof entry->time, "%s", c->time);
    else
        hp_bench_log_now(entry->time, sizeof entry->time);
    hp_result result =
        hp_bench_log_append_text(c->side[who].log, c->scenario, entry, &longer, NULL, err);
    return result == HP_OK ? take_log(c, who, longer, err) : result;
}

/* ---- a path ---------------------------------------------------------------------------------- */

/* Adds what was shown. */
static hp_result add_step(hp_practice_case *c, hp_practice_who who, const hp_entry *shown,
                          bool given, hp_error *err)
{
    side *s = &c->side[who];
    const hp_practice_look before = {s->asked, s->path.steps};
    hp_practice_step *step = &s->path.step[s->path.steps];
    memset(step, 0, sizeof *step);
    hp_result result = append(c, who, shown, &step->entry, err);
    if (result != HP_OK)
        return result;
    step->number = step->entry.entry.number = s->path.steps + 1;
    step->given = given;
    step->left = count_left(c);
    step->broken = is_broken(c);
    s->then[s->path.steps] = strdup(s->log);
    if (!s->then[s->path.steps])
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for practice");
    if (!given) {
        step->minutes = hp_practice_minutes(c->machine, &before, shown);
        step->risks = hp_practice_risks(c->machine, &before, shown, step->risk);
        s->path.asked++;
        s->path.trials += hp_entry_trial(shown) != NULL;
    }
    for (int k = 0; k < step->risks; k++) {
        bool danger = step->risk[k].met && step->risk[k].kind == HP_RISK_UNCHECKED;
        s->path.met += step->risk[k].met;
        step->minutes += danger ? HP_PRACTICE_MET_MINUTES : 0.0;
    }
    s->path.minutes += step->minutes;
    s->path.risks += step->risks;
    s->asked[s->path.steps++] = *shown;
    return HP_OK;
}

static hp_result begin(hp_practice_case *c, hp_practice_who who, hp_error *err)
{
    side *s = &c->side[who];
    s->path.step = calloc(HP_PRACTICE_STEPS_MAX, sizeof *s->path.step);
    s->log = hp_bench_log_head_text(c->scenario);
    if (!s->path.step || !s->log)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for practice");
    hp_result result = reload(c, who, err);
    for (int k = 0; k < hp_practice_given(c->machine) && result == HP_OK; k++)
        result = add_step(c, who, hp_practice_given_entry(c->machine, k), true, err);
    return result;
}

static hp_result take(hp_practice_case *c, hp_practice_who who, const hp_entry *question,
                      hp_error *err)
{
    side *s = &c->side[who];
    const hp_practice_look before = {s->asked, s->path.steps};
    hp_entry shown = *question;
    if (s->path.ended)
        return hp_error_set(err, HP_FAIL_INPUT, "this evening has ended");
    if (s->path.steps == HP_PRACTICE_STEPS_MAX)
        return hp_error_set(err, HP_FAIL_INPUT, "the log is full: %d entries",
                            HP_PRACTICE_STEPS_MAX);
    if (!hp_practice_shows(c->machine, question->reading))
        return hp_error_set(err, HP_FAIL_INPUT, "%s cannot be taken on this bench",
                            hp_reading_title(question->reading));
    hp_result result = hp_practice_see(c->machine, &before, &shown, err);
    return result == HP_OK ? add_step(c, who, &shown, false, err) : result;
}

bool hp_practice_case_in_danger(const hp_practice_case *c, hp_practice_who who)
{
    const side *s = &c->side[who];
    const hp_practice_look look = {s->asked, s->path.steps};
    hp_practice_fault there = hp_practice_present(c->machine, &look);
    return there != HP_PRACTICE_NO_FAULT && hp_practice_fault_danger(there);
}

double hp_practice_case_limit(const hp_practice_case *c)
{
    double limit = c->bench->belief.members.limit_a;
    return limit > 0.0 ? limit : 0.0;
}

hp_result hp_practice_case_hint(hp_practice_case *c, hp_advice *advice, hp_error *err)
{
    hp_result result = reload(c, HP_PRACTICE_LEARNER, err);
    if (result == HP_OK)
        result = hp_case_next(c->bench, advice, err);
    if (result == HP_OK)
        c->side[HP_PRACTICE_LEARNER].path.hints++;
    return result;
}

hp_result hp_practice_case_take(hp_practice_case *c, const hp_entry *question, hp_error *err)
{
    return take(c, HP_PRACTICE_LEARNER, question, err);
}

static hp_practice_step *numbered(hp_practice_path *path, int number)
{
    for (int k = 0; k < path->steps; k++)
        if (number > 0 && path->step[k].number == number)
            return &path->step[k];
    return NULL;
}

/* Where it stands in the log, from 1. */
static int place_of(const hp_practice_path *path, const hp_practice_step *step)
{
    int place = 0;
    for (const hp_practice_step *at = path->step; at <= step; at++)
        place += at->number > 0;
    return place;
}

hp_result hp_practice_case_drop(hp_practice_case *c, int number, hp_error *err)
{
    side *s = &c->side[HP_PRACTICE_LEARNER];
    hp_practice_step *gone = numbered(&s->path, number);
    char *shorter = NULL;
    if (s->path.ended)
        return hp_error_set(err, HP_FAIL_INPUT, "this evening has ended");
    if (!gone)
        return hp_error_set(err, HP_FAIL_INPUT, "the log has no entry %d", number);
    hp_result result = hp_bench_log_remove_text(s->log, place_of(&s->path, gone), c->scenario,
                                                c->time[0] ? c->time : NULL, &shorter, NULL, err);
    if (result != HP_OK)
        return result;
    gone->number = 0;
    s->gone[gone - s->path.step] = s->path.steps;
    result = take_log(c, HP_PRACTICE_LEARNER, shorter, err);
    if (result != HP_OK)
        gone->number = number;
    return result;
}

/* ---- the end --------------------------------------------------------------------------------- */

static bool slip_dropped(const hp_practice_case *c, hp_practice_who who)
{
    int slipped = hp_practice_slipped(c->machine);
    return slipped >= 0 && c->side[who].path.step[slipped].number == 0;
}

static void end_path(hp_practice_case *c, hp_practice_who who, const hp_practice_answer *answer)
{
    side *s = &c->side[who];
    const hp_practice_look before = {s->asked, s->path.steps};
    s->path.ended = true;
    s->path.answer = *answer;
    s->path.end = hp_practice_judge(c->machine, &before, slip_dropped(c, who), answer);
}

/* The question that an advice comes to; false: it comes to none. */
static bool advised_question(const hp_practice_case *c, const hp_advice *advice, hp_entry *question)
{
    const hp_reading *kind = hp_advice_entry(advice);
    switch (advice->kind) {
    case HP_ADVICE_READ: *question = hp_practice_ask(kind, advice->lead); return true;
    case HP_ADVICE_LEARN: *question = hp_practice_ask(kind, -1); return true;
    case HP_ADVICE_TRY:
    case HP_ADVICE_LOOK:
        *question = hp_practice_ask_trial(
            c->machine, &advice->wiring,
            advice->limited ? HP_PRACTICE_LIMITED : HP_PRACTICE_BATTERY, advice->limit_a);
        return true;
    case HP_ADVICE_DONE:
    case HP_ADVICE_PROBABLY:
    case HP_ADVICE_REPAIR:
    case HP_ADVICE_DANGER:
    case HP_ADVICE_GIVE_UP:
    case HP_ADVICE_COUNT: break;
    }
    return false;
}

/* Obeys the advice until it ends, on a log of its own. */
static hp_result run_advice(hp_practice_case *c, hp_error *err)
{
    int given[HP_PRACTICE_STEPS_MAX], givens = hp_practice_given(c->machine);
    hp_practice_answer answer = {.claim = HP_CLAIM_NOTHING};
    hp_result result = begin(c, HP_PRACTICE_ADVICE, err);
    for (int k = 0; k < givens; k++)
        given[k] = k; /* it takes none out: it names it */
    while (result == HP_OK) {
        hp_advice advice;
        hp_entry question;
        result = hp_case_next(c->bench, &advice, err);
        if (result == HP_OK)
            answer = hp_practice_advised(c->machine, &advice, given, givens);
        if (result != HP_OK || answer.claim != HP_CLAIM_NOTHING)
            break;
        if (!advised_question(c, &advice, &question) ||
            c->side[HP_PRACTICE_ADVICE].path.steps == HP_PRACTICE_STEPS_MAX)
            break;
        result = take(c, HP_PRACTICE_ADVICE, &question, err);
    }
    if (result == HP_OK)
        end_path(c, HP_PRACTICE_ADVICE, &answer);
    return result;
}

static hp_result check_answer(const hp_practice_case *c, const hp_practice_answer *a, hp_error *err)
{
    int givens = hp_practice_given(c->machine);
    if (a->claim == HP_CLAIM_WIRING && (a->number < 1 || a->number > HP_WIRING_COUNT))
        return hp_error_set(err, HP_FAIL_INPUT, "wiring %d, must be 1 to %d", a->number,
                            HP_WIRING_COUNT);
    if (a->claim == HP_CLAIM_SLIP && givens == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "the log was empty at the start: none of its entries was wrong");
    if (a->claim == HP_CLAIM_SLIP && (a->number < 1 || a->number > givens))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "entry %d, must be 1 to %d, one of those that were "
                            "there at the start",
                            a->number, givens);
    bool of_lead = a->claim == HP_CLAIM_FAULT && hp_practice_fault_side(a->fault) >= 0;
    if (of_lead && (a->lead < 0 || a->lead >= HP_PHASE_COUNT))
        return hp_error_set(err, HP_FAIL_INPUT, "which lead is wrong is missing");
    return HP_OK;
}

hp_result hp_practice_case_end(hp_practice_case *c, const hp_practice_answer *answer, hp_error *err)
{
    hp_practice_answer own = *answer;
    hp_result result = check_answer(c, answer, err);
    if (c->side[HP_PRACTICE_LEARNER].path.ended)
        result = hp_error_set(err, HP_FAIL_INPUT, "this evening has ended");
    if (result != HP_OK)
        return result;
    if (own.claim == HP_CLAIM_SLIP)
        own.number--;
    result = run_advice(c, err);
    if (result == HP_OK)
        end_path(c, HP_PRACTICE_LEARNER, &own);
    return result == HP_OK ? reload(c, HP_PRACTICE_LEARNER, err) : result;
}

/* ---- opening --------------------------------------------------------------------------------- */

static hp_result fill(hp_practice_case *c, hp_practice_level level, uint64_t seed,
                      const hp_case_options *options, hp_error *err)
{
    const hp_bench_settings *bench = &c->scenario->bench;
    const hp_practice_stated stated = {.drive = c->scenario->drive,
                                       .prior = bench->prior,
                                       .person = bench->person,
                                       .plan = bench->plan};
    hp_case_options own = *options;
    char *head = hp_bench_log_head_text(c->scenario);
    if (!head)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for practice");
    own.log = NULL;
    own.log_text = head;
    c->machine = hp_practice_create(&stated, level, seed, err);
    if (c->machine)
        c->bench = hp_case_create(c->scenario, &own, err);
    free(head);
    take_at_its_word(c, level);
    return c->bench ? begin(c, HP_PRACTICE_LEARNER, err) : err->code;
}

hp_practice_case *hp_practice_case_create(const hp_scenario *scenario, hp_practice_level level,
                                          uint64_t seed, const hp_case_options *options,
                                          const char *time, hp_error *err)
{
    hp_error own = hp_error_none();
    hp_practice_case *c = calloc(1, sizeof *c);
    if (!c) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for practice");
        return NULL;
    }
    c->scenario = scenario;
    hp_practice_case_at(c, time);
    if (fill(c, level, seed, options, err ? err : &own) == HP_OK)
        return c;
    hp_practice_case_free(c);
    return NULL;
}

void hp_practice_case_at(hp_practice_case *c, const char *time)
{
    snprintf(c->time, sizeof c->time, "%s", time ? time : "");
}

void hp_practice_case_free(hp_practice_case *c)
{
    if (!c)
        return;
    for (int k = 0; k < HP_PRACTICE_WHO; k++) {
        for (int step = 0; step < HP_PRACTICE_STEPS_MAX; step++)
            free(c->side[k].then[step]);
        free(c->side[k].path.step);
        free(c->side[k].log);
    }
    hp_belief_free(&c->counted);
    hp_case_free(c->bench);
    hp_practice_free(c->machine);
    free(c);
}

const hp_practice *hp_practice_case_machine(const hp_practice_case *c)
{
    return c->machine;
}

const hp_scenario *hp_practice_case_scenario(const hp_practice_case *c)
{
    return c->scenario;
}

hp_case *hp_practice_case_bench(hp_practice_case *c)
{
    return c->bench;
}

const hp_practice_path *hp_practice_case_path(const hp_practice_case *c, hp_practice_who who)
{
    return &c->side[who].path;
}

const char *hp_practice_case_log(const hp_practice_case *c, hp_practice_who who)
{
    return c->side[who].log;
}
